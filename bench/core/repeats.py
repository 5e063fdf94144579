"""One stick measured more than once: its float readings together, and the float test against the balance.

What differs from reading to reading averages out; what every reading shares (pull of the water surface, the
way a stick leans, moisture, shrinkage, soaking, bath) does not.
"""

from collections.abc import Mapping, Sequence
from math import hypot, isclose, sqrt

from bench.core.floating import FloatResult
from bench.core.frozen import record
from bench.core.spread import TWO_SIDED_95, Measured, ranked, total
from bench.core.weighing import WeighResult

SPREAD = "spread of the readings"
RANDOM = ("reading", "faces", SPREAD)  # shares that are new with every reading
# Student's t over the normal 1.96, two-sided 95 percent, by degrees of freedom from 2 on: a spread known from
# few readings is itself uncertain. From standard tables of t.
_T = (4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262)
# Two-sided 99 percent of the normal law: a sound reading is flagged once in a hundred.
FLAG_AT = 2.576
BASES = ("as_floated", "moisture", "sg_at_moisture", "sg_12", "sg_oven_dry", "sg_green")


@record
class Repeats:
    """Float readings of one stick that count, in order."""

    results: tuple[FloatResult, ...]
    mean: float  # of sg_oven_dry [1]
    spread: float | None  # sample standard deviation of sg_oven_dry [1]; None for one
    flagged: tuple[bool, ...]  # whether each lies apart from the others
    combined: Measured


@record
class Agreement:
    """The float test against weight and size, both on the oven-dry basis."""

    floated: float  # sg_oven_dry [1]
    weighed: float  # sg_oven_dry [1]
    uncertainty: float  # standard deviation of the difference, from what the two do not share [1]
    shared: tuple[str, ...]  # causes in both that fall out of the difference

    @property
    def difference(self) -> float:
        """Float less balance [1]."""
        return self.floated - self.weighed

    @property
    def half_width(self) -> float:
        """Half the two-sided 95 percent band of the difference [1]."""
        return TWO_SIDED_95 * self.uncertainty

    @property
    def agree(self) -> bool:
        """Whether no difference lies within the band."""
        return abs(self.difference) <= self.half_width


def random_part(result: Measured) -> float:
    """Standard deviation that is new with every reading [1]."""
    return total(share for share in result.shares if share[0] in RANDOM)


def _mean(numbers: Sequence[float]) -> float:
    return sum(numbers) / len(numbers)


def flags(results: Sequence[FloatResult]) -> tuple[bool, ...]:
    """Whether each reading differs from the mean of the others by more than its errors allow.

    The one farthest off is taken first and is then no longer among the others, so that it does not make the
    sound ones look wrong; of two that differ nobody can say which it is.

    Args:
        results: of floating.read, in order.
    Returns:
        True for each that lies apart.
    Source:
        propagation of independent errors: derived.
    """
    left = {place: (result.sg_oven_dry, random_part(result)) for place, result in enumerate(results)}
    while len(left) > 1:
        off = {place: _off(results[place], left, place) for place in left}
        worst = max(off, key=lambda place: off[place])
        if off[worst] <= FLAG_AT:
            break
        left = {} if len(left) == 2 else {at: result for at, result in left.items() if at != worst}
    return tuple(place not in left for place in range(len(results)))


def _off(result: FloatResult, left: Mapping[int, tuple[float, float]], place: int) -> float:
    """Distance of a reading from the mean of the others, in standard deviations of that distance.

    Of each its gravity is given, and what is new in it.
    """
    others = [other for at, other in left.items() if at != place]
    away = result.sg_oven_dry - _mean([gravity for gravity, _ in others])
    # Moisture is measured anew each time, if by the same meter: it may tell a reading from the others.
    own = [left[place][1], dict(result.shares)["moisture"]]
    return abs(away) / hypot(*own, *(new / len(others) for _, new in others))


def together(results: Sequence[FloatResult]) -> Repeats:
    """Readings of one stick taken as one measurement; none is dropped.

        u = sqrt(random^2 / n + systematic^2)

    From three readings on, `random` is no less than the spread they show.

    Args:
        results: of floating.read, in order, one and more.
    Returns:
        Mean, spread, which of them lie apart, and the combined gravity on every basis.
    Source:
        propagation of independent and of common errors: derived.
    """
    count = len(results)
    values = [result.sg_oven_dry for result in results]
    mean = _mean(values)
    spread = sqrt(sum((value - mean) ** 2 for value in values) / (count - 1)) if count > 1 else None
    combined: Measured = results[0] if count == 1 else _combined(results, spread or 0.0)
    return Repeats(tuple(results), mean, spread, flags(results), combined)


def _combined(results: Sequence[FloatResult], spread: float) -> Measured:
    count, shares = len(results), {}
    for cause, _ in results[0].shares:
        sds = [dict(result.shares)[cause] for result in results]
        # Independent errors of a mean of n; common ones stay as they are.
        shares[cause] = total(("", sd) for sd in sds) / count if cause in RANDOM else _mean(sds)
    ran = total((cause, sd) for cause, sd in shares.items() if cause in RANDOM)
    if count >= 3 and spread / sqrt(count) > ran:
        shares.update(dict.fromkeys(RANDOM, 0.0))
        free = count - 1
        # Beyond the table its expansion in 1/df, a little to the wide side.
        student = _T[free - 2] if free - 2 < len(_T) else TWO_SIDED_95 + 2.4 / free + 3 / free**2
        shares[SPREAD] = spread / sqrt(count) * student / TWO_SIDED_95
    ordered = ranked(shares)
    return Measured(
        **{name: _mean([getattr(result, name) for result in results]) for name in BASES},
        shrinkage=results[-1].shrinkage,
        shrinkage_from=results[-1].shrinkage_from,
        uncertainty=total(ordered),
        shares=ordered,
    )


def compare(floated: Measured, weighed: WeighResult) -> Agreement:
    """The float test against weight and size.

    Args:
        floated: one reading, or readings combined.
        weighed: of weighing.weigh.
    Returns:
        The difference with its band. Shrinkage errs both alike; moisture does where the same one was used.
    Source:
        propagation of independent errors: derived.
    """
    same = isclose(floated.moisture, weighed.moisture, abs_tol=1e-9)
    shared = ("shrinkage", "moisture") if same else ("shrinkage",)
    own = [share for share in (*floated.shares, *weighed.shares) if share[0] not in shared]
    return Agreement(floated.sg_oven_dry, weighed.sg_oven_dry, total(own), shared)
