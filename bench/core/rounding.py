"""Finished sizes: up to what the shop can set, never to the weak side."""

from collections.abc import Iterable
from fractions import Fraction
from math import isfinite

from bench.core.errors import OutOfRange
from bench.core.sections import written

# So fine a step that a size drawn in 1/128 in, 0.001 in or 0.001 mm stands as it is: 12.5 nm [m].
AS_DRAWN = Fraction(125, 10**10)
_NOISE = 10**9  # a float this close above a setting, as a share of itself, is taken for it


def round_up(size_m: float | Fraction, grid: Fraction) -> Fraction:
    """The least multiple of the grid that is not below a size: a finished size is never under strength.

    An exact fraction is taken as it stands. A float may carry noise from the arithmetic before it: one that
    is above a multiple by no more than 1e-9 of itself is taken for that multiple.

    Args:
        size_m: exact size, zero or more [m].
        grid: finest setting of the shop [m].
    Returns:
        A multiple of the grid [m].
    Raises:
        OutOfRange: a grid of zero or less, or a size that is not finite.
    Source:
        never to the weak side: our rule.
    """
    if grid <= 0 or not isfinite(size_m):
        raise OutOfRange("grid", float(grid), "a grid above zero and a finite size are wanted")
    over, under = size_m.as_integer_ratio()
    over, under = over * grid.denominator, under * grid.numerator
    if isinstance(size_m, float):
        over, under = over * _NOISE - abs(over), under * _NOISE
    return Fraction(-(-over // under) * grid.numerator, grid.denominator)


def next_size(size_m: float | Fraction, sizes: Iterable[Fraction], name: str = "size") -> Fraction:
    """The least of the shop's sizes that is not below a size; noise in a float is forgiven as in `round_up`.

    Args:
        size_m: exact size [m].
        sizes: that router and planer can be set to, in any order; not empty [m].
        name: of the size, for the refusal.
    Returns:
        One of the sizes [m].
    Raises:
        OutOfRange: none is large enough, or there is a size of zero or less.
    Source:
        never to the weak side: our rule.
    """
    known = sorted(sizes)
    if known[0] <= 0:
        raise OutOfRange("sizes", float(known[0]), "every size of the shop must be above zero")
    least = Fraction(size_m)
    if isinstance(size_m, float):
        least -= abs(least) / _NOISE
    for size in known:
        if size >= least:
            return size
    why = f"the largest is {written(float(known[-1]))}: add a size, or round to the grid"
    raise OutOfRange("sizes", float(size_m), why, f"{name} of {written(float(size_m))}")


def settled(
    size_m: float | Fraction, grid: Fraction, sizes: tuple[Fraction, ...], name: str = "size"
) -> Fraction:
    """A finished size on the shop's list, or where there is none on its grid.

    Args:
        size_m: exact size [m].
        grid: finest setting of the shop [m].
        sizes: that router and planer can be set to; may be empty [m].
        name: of the size, for the refusal.
    Returns:
        The least setting that is not below [m].
    Raises:
        OutOfRange: as `round_up` and `next_size`.
    """
    return next_size(size_m, sizes, name) if sizes else round_up(size_m, grid)
