"""Pairs of load and deflection as they were read while a coupon was bent, and what they show.

The straight part of the readings is the longest run, begun before a tenth of the greatest load, whose
straight line misses none of its points by more than 2 percent of the run's greatest load. The line need not
pass through zero, and a run need not begin with the first reading: slack at the supports does not count.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import fsum, isfinite

from bench.core.breaking import above_zero, over_volume
from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record

STRAIGHT, SLACK, LEAST_POINTS = 0.02, 0.10, 3  # our rule for the straight part
MOST_READINGS = 200  # nobody reads more off one coupon, and the search goes with their cube
FAILED = 0.5  # below this share of the greatest load the coupon has failed: our rule
NOISE = 1e-9  # 7 in over 1/2 in is 14, whatever a float makes of it


@record
class Reading:
    """One pair as read while loading."""

    load_n: float
    deflection_m: float  # of the middle


@record
class Straight:
    """The proportional part: load = slope x deflection + load_at_zero."""

    slope: float  # [N/m]
    load_at_zero: float  # [N]
    first: int  # place of its first reading, from 0
    count: int  # of readings in it
    limit_n: float  # load of its last reading

    @property
    def ended(self) -> int:
        """Place behind its last reading, from 0."""
        return self.first + self.count


def check(readings: Sequence[Reading]) -> None:
    """Refuse readings that no test gives.

    Args:
        readings: in the order they were taken.
    Raises:
        Missing: no reading at all.
        OutOfRange: too few or too many, a load below zero, a deflection that falls, or a load after failure.
    Source:
        our rules.
    """
    if not readings:
        raise Missing("readings", f"{LEAST_POINTS} pairs of load and deflection or more are wanted")
    if not LEAST_POINTS <= len(readings) <= MOST_READINGS:
        wanted = f"{LEAST_POINTS} to {MOST_READINGS} pairs of load and deflection are wanted"
        raise OutOfRange("readings", len(readings), wanted)
    for number, reading in enumerate(readings, 1):
        if not (reading.load_n >= 0 and isfinite(reading.load_n)):
            raise OutOfRange("load", reading.load_n, f"reading {number}: zero and more is wanted")
        if not isfinite(reading.deflection_m):
            raise OutOfRange("deflection", reading.deflection_m, f"reading {number}: a number is wanted")
    for number, (before, after) in enumerate(pairwise(readings), 2):
        if after.deflection_m < before.deflection_m:
            why = f"reading {number} is less than the one before: a coupon under load does not straighten"
            raise OutOfRange("deflection", after.deflection_m, why)
    peak = greatest(readings)
    above_zero("load", readings[peak].load_n)
    gone = next((n for n in range(peak, len(readings)) if readings[n].load_n == 0), len(readings))
    for number in range(gone + 1, len(readings)):
        if readings[number].load_n > 0:
            why = f"reading {number + 1} follows failure: the load was at zero in reading {gone + 1}"
            raise OutOfRange("load", readings[number].load_n, why)


def check_ended(readings: Sequence[Reading]) -> None:
    """Refuse readings whose load still rises: their greatest is no load at failure.

    Args:
        readings: in the order they were taken; may be empty.
    Raises:
        Missing: the last reading is the greatest.
    Source:
        our rule.
    """
    if readings and readings[-1].load_n >= max(reading.load_n for reading in readings):
        why = "the load still rises: a pair after it fell, or the greatest load, is wanted"
        raise Missing("end of the test", why)


def from_no_load(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Readings with the zero before them: the gauge stood at nothing under no load.

    Args:
        readings: in the order they were taken.
    Returns:
        The same; with a zero in front where the first has both load and deflection.
    Source:
        common practice, no source.
    """
    begun = bool(readings) and readings[0].load_n > 0 and readings[0].deflection_m > 0
    return (Reading(0.0, 0.0), *readings) if begun else tuple(readings)


def greatest(readings: Sequence[Reading]) -> int:
    """Place of the greatest load, the first of equal ones.

    Args:
        readings: one and more.
    Returns:
        Place, from 0.
    """
    return max(range(len(readings)), key=lambda place: readings[place].load_n)


def straight_part(readings: Sequence[Reading], within: float = STRAIGHT) -> Straight | None:
    """The proportional part of the readings, by the rule at the head of this module.

    Args:
        readings: in the order they were taken.
        within: how far a point may lie off the line, share of the run's greatest load [1].
    Returns:
        The longest run up to the greatest load, of equal ones the first; None where no three lie straight.
    Raises:
        Missing: no reading at all.
        OutOfRange: as `check`.
    Source:
        our rule; least squares.
    """
    check(readings)
    rising = readings[: greatest(readings) + 1]
    starts = [
        n for n, one in enumerate(rising) if all(r.load_n <= SLACK * rising[-1].load_n for r in rising[:n])
    ]
    for count in range(len(rising), LEAST_POINTS - 1, -1):
        for first in starts:
            run = rising[first : first + count]
            if len(run) == count and (line := _line(run, within)) is not None:
                return Straight(*line, first, count, run[-1].load_n)
    return None


def _line(run: Sequence[Reading], within: float) -> tuple[float, float] | None:
    """Slope and load at zero deflection by least squares; None where the run is not straight."""
    count, top = len(run), max(reading.load_n for reading in run)
    x_mean = fsum(reading.deflection_m for reading in run) / count
    y_mean = fsum(reading.load_n for reading in run) / count
    spread = fsum((reading.deflection_m - x_mean) ** 2 for reading in run)
    if not spread > 0:
        return None
    slope = fsum((r.deflection_m - x_mean) * (r.load_n - y_mean) for r in run) / spread
    start = y_mean - slope * x_mean
    allowed = within * top * (1 + NOISE)
    straight = all(abs(r.load_n - start - slope * r.deflection_m) <= allowed for r in run)
    return (slope, start) if straight and slope > 0 else None


def work_to_maximum(readings: Sequence[Reading], width_m: float, depth_m: float, span_m: float) -> float:
    """Work to the greatest load over the volume between the supports.

        area under the readings by trapezoids / (b d L)

    Args:
        readings: in the order they were taken; what lies before the first is not counted.
        width_m: b [m].
        depth_m: d, upright [m].
        span_m: L, between the supports [m].
    Returns:
        Work [J/m3].
    Raises:
        Missing: no reading at all.
        OutOfRange: as `check`, or a size of zero or less.
    Valid for:
        comparison at one size, and one span over depth.
    Source:
        Record, Mechanical Properties of Wood (1914); trapezoids.
    """
    check(readings)
    rising = readings[: greatest(readings) + 1]
    area = fsum(
        (one.load_n + two.load_n) / 2 * (two.deflection_m - one.deflection_m) for one, two in pairwise(rising)
    )
    return over_volume(area, width_m, depth_m, span_m)


def rose_again(readings: Sequence[Reading]) -> bool:
    """Whether the load fell to less than half of the greatest until then, and went up again.

    Args:
        readings: in the order they were taken; may be empty.
    Returns:
        True where the coupon seems to have failed before its last readings.
    Source:
        our rule.
    """
    top, fell = 0.0, None
    for load in (reading.load_n for reading in readings):
        if fell is not None and load > fell:
            return True
        top = max(top, load)
        fell = load if load < FAILED * top else None
    return False
