"""A drop test over many sticks, each one blow: a step down after a crack, a step up after none.

The estimate of Dixon and Mood is from memory: no text of it was read.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import isclose, isfinite

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record

LEAST_RATIO = 0.3  # below it the spread is not to be trusted; memory


@record
class UpAndDown:
    """Height that cracks one stick in two, and the spread of such heights. The method is from memory."""

    mean: float  # [m]
    sd: float | None  # None where the series is too short or the steps too coarse for it [m]
    counted: int  # outcomes of the rarer kind
    of_failures: bool  # whether those are the cracks
    ratio: float  # (N B - A^2) / N^2, more than LEAST_RATIO for a spread [1]


def estimate(lowest_m: float, step_m: float, counts: Sequence[int], of_failures: bool) -> UpAndDown:
    """The estimate of Dixon and Mood from the rarer outcome, counted level by level.

        mean = h_0 + d (A / N -+ 1/2),  minus for failures;  s = 1.62 d ((N B - A^2) / N^2 + 0.029)
        N = sum of n_i,  A = sum of i n_i,  B = sum of i^2 n_i,  i from 0 at h_0

    Args:
        lowest_m: height of the first count [m].
        step_m: from level to level [m].
        counts: how often the rarer outcome was met at each level, lowest first.
        of_failures: whether the counts are of cracks.
    Returns:
        Mean, and the spread where the ratio is above 0.3.
    Raises:
        Missing: nothing was counted.
        OutOfRange: a height or step of zero or less, or a count below zero.
    Valid for:
        heights that are spread by a normal law, with steps of half to twice that spread.
    Source:
        Dixon and Mood: memory, no text read.
    """
    if not (lowest_m > 0 and step_m > 0 and isfinite(lowest_m + step_m)):
        raise OutOfRange("height", (lowest_m, step_m), "a height and a step above zero are wanted")
    if any(count < 0 for count in counts):
        raise OutOfRange("count", min(counts), "zero and more is wanted")
    total = sum(counts)
    if not total:
        raise Missing("count", "at least one crack and one blow without are wanted")
    first = sum(level * count for level, count in enumerate(counts))
    second = sum(level * level * count for level, count in enumerate(counts))
    ratio = (total * second - first * first) / total**2
    middle = lowest_m + step_m * (first / total + (-0.5 if of_failures else 0.5))
    spread = 1.62 * step_m * (ratio + 0.029) if ratio > LEAST_RATIO else None
    return UpAndDown(middle, spread, total, of_failures, ratio)


def of_series(blows: Sequence[tuple[float, bool]], step_m: float) -> UpAndDown:
    """The same from the blows as they came: height, and whether the stick cracked.

    Args:
        blows: one a stick, in the order they were struck.
        step_m: from level to level [m].
    Returns:
        As `estimate`; of as many cracks as blows without, the cracks are counted.
    Raises:
        Missing: no blow, or all of one outcome.
        OutOfRange: a blow that is not one step below after a crack, or one above after none; else as
            `estimate`.
    Source:
        as `estimate`.
    """
    for number, ((height, cracked), (following, _)) in enumerate(pairwise(blows), 2):
        wanted = height - step_m if cracked else height + step_m
        if not isclose(following, wanted, rel_tol=1e-6, abs_tol=1e-6 * step_m):
            way = "below, after a crack" if cracked else "above, after none"
            raise OutOfRange("height", following, f"blow {number} belongs one step {way}")
    failures = 2 * sum(cracked for _, cracked in blows) <= len(blows)
    heights = [height for height, cracked in blows if cracked == failures]
    if not heights or len(heights) == len(blows):
        raise Missing("blows", "at least one crack and one blow without are wanted")
    lowest = min(heights)
    levels = [round((height - lowest) / step_m) for height in heights]
    return estimate(lowest, step_m, [levels.count(level) for level in range(max(levels) + 1)], failures)
