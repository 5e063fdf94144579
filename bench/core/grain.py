"""Slope of the grain: two faces put together, and what the slope leaves of the strength.

`retained` (the handbook, against straight-grained wood) and `retained_anc18` (against design values, which
hold down to 1:15) are two statements of one effect. They are never multiplied; whoever shows one says which.
"""

from itertools import pairwise
from math import atan, hypot, isfinite

from bench.core.errors import OutOfRange, UnknownName
from bench.core.limits import ANC19, SMALL_PART, limit

NEGLECT = float(limit("slope_neglect", ANC19, SMALL_PART).exact)

Table = tuple[tuple[float, dict[str, float]], ...]


def _table(names: tuple[str, ...], *rows: tuple[int, tuple[int, ...]]) -> Table:
    """Rows of run and percents as angle [rad] and shares; a run of 0 is straight grain."""
    return tuple(
        (atan(1 / run) if run else 0.0, dict(zip(names, (part / 100 for part in parts), strict=True)))
        for run, parts in rows
    )


# wh282 table 5-12, wh190 table 5-12: percent of straight-grained wood, by run for a rise of 1.
HANDBOOK = _table(
    ("bending", "impact", "compression"),
    (0, (100, 100, 100)),
    (25, (96, 95, 100)),
    (20, (93, 90, 100)),
    (15, (89, 81, 100)),
    (10, (81, 62, 99)),
    (5, (55, 36, 93)),
)
# anc18 table 2-4: percent of the design value. The 67 of bending at 1:8 is printed unclearly.
ANC18 = _table(
    ("bending", "stiffness", "compression", "tension"),
    (0, (100, 100, 100, 100)),
    (15, (100, 100, 100, 100)),
    (12, (88, 97, 100, 85)),
    (10, (78, 91, 98, 75)),
    (8, (67, 84, 94, 60)),
)
STEEPEST_ANC18 = 1 / 8
UNCLEAR_ANC18 = 1 / 10  # steeper than this the bending figure leans on the 67 that is printed unclearly
_HAIR = 1e-12


def _checked(slope: float) -> float:
    if not (isfinite(slope) and slope >= 0):
        raise OutOfRange("slope", slope, "a rise over run of zero or more is wanted")
    return slope


def combined(one: float, two: float) -> float:
    """The slope of the grain in space from those on two faces at right angles.

        s = sqrt(s_1^2 + s_2^2)

    Args:
        one: on one face, rise over run [1].
        two: on the face beside it, rise over run [1].
    Returns:
        Rise over run [1].
    Raises:
        OutOfRange: a slope below zero or not finite.
    Source:
        wh282 ch. 5, sec. Slope of Grain; wh190 p. 5-31.
    """
    return hypot(_checked(one), _checked(two))


def judged(one: float, two: float) -> float:
    """The slope that is held against a limit: the steeper where both are slight, else both together.

    Args:
        one: on one face, rise over run [1].
        two: on the face beside it, rise over run [1].
    Returns:
        Rise over run [1].
    Raises:
        OutOfRange: a slope below zero or not finite.
    Source:
        anc19 sec. 2.4102, table 2-11: nothing need be combined where neither is steeper than 1:21.
    """
    steeper = max(_checked(one), _checked(two))
    return steeper if steeper <= NEGLECT * (1 + _HAIR) else combined(one, two)


def _between(table: Table, slope: float, name: str, covered: str) -> float:
    """A share, linear in the angle between rows [1].

    Raises:
        UnknownName: a property that the table does not have.
        OutOfRange: a slope steeper than the table's last row, below zero or not finite.
    """
    if name not in table[0][1]:
        raise UnknownName("property", name, tuple(table[0][1]))
    angle = atan(_checked(slope))
    for (low, gentle), (high, steep) in pairwise(table):
        if angle <= high * (1 + _HAIR):
            share = min(max((angle - low) / (high - low), 0.0), 1.0)
            return gentle[name] + (steep[name] - gentle[name]) * share
    raise OutOfRange("slope", slope, f"{covered} is covered")


def retained(slope: float, name: str) -> float:
    """What a slope leaves of the strength of straight-grained wood, by the handbook.

    Linear in the angle between the printed rows, straight grain being 100 percent; nothing is carried on past
    the last row. A curve through the bending rows lies up to one percent lower between 1:10 and 1:5, and no
    more than half a percent lower elsewhere.

    Args:
        slope: rise over run [1].
        name: "bending", "impact" or "compression".
    Returns:
        Share of the strength of straight-grained wood [1].
    Raises:
        UnknownName: a property that the table does not have.
        OutOfRange: a slope steeper than 1:5, below zero or not finite.
    Source:
        wh282 table 5-12; wh190 table 5-12.
    """
    return _between(HANDBOOK, slope, name, "at most 1:5 (wh282 table 5-12)")


def retained_anc18(slope: float, name: str) -> float:
    """What a slope leaves of a design value, which itself stands for grain of up to 1:15.

    Linear in the angle between the printed rows. Never multiplied with `retained`.

    Args:
        slope: rise over run [1].
        name: "bending", "stiffness", "compression" or "tension".
    Returns:
        Share of the design value [1].
    Raises:
        UnknownName: a property that the table does not have.
        OutOfRange: a slope steeper than 1:8, below zero or not finite.
    Source:
        anc18 table 2-4, 1:15 by sec. 2.110; the 67 percent of bending at 1:8 is printed unclearly.
    """
    return _between(ANC18, slope, name, "at most 1:8 (anc18 table 2-4)")
