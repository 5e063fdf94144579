"""Resizing a rectangular section from the drawing's wood to another, and what the match gives away.

A match of weight is a match of *area*: each side of a square scales with the square root of the ratio of
gravities. Bending goes with the cube of the scale, stiffness and Euler load with its fourth power.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, isfinite, pi, sqrt

from bench.core.errors import OutOfRange
from bench.core.strength import Wood

CAPACITIES = ("bending", "stiffness", "column", "compression", "tension", "shear", "toughness")
MATCHES = ("weight", *CAPACITIES, "all")
GRAVITIES = ("handbook", "stick", "estimate")  # of SectionChoice.gravity
HOLDS = ("", "width", "depth")
# So fine a step that a size drawn in 1/128 in, 0.001 in or 0.001 mm stands as it is: 12.5 nm [m].
AS_DRAWN = Fraction(125, 10**10)
_HAIR = 1e-9  # binary noise: a capacity this close to the plan's is equal to it

# What a capacity of the section is of its wood's figure: k = 1/(side exponent) for both sides scaled, and
# the powers of width and depth it goes with.
_POWERS = {
    "weight": (1, 1),
    "bending": (1, 2),
    "stiffness": (1, 3),
    "compression": (1, 1),
    "tension": (1, 1),
    "shear": (1, 1),
    "toughness": (1, 1),
}


@dataclass(frozen=True, slots=True)
class Section:
    """A solid rectangle; depth is the side in the plane of bending."""

    width: float  # [m]
    depth: float  # [m]

    @property
    def area(self) -> float:
        """[m2]"""
        return self.width * self.depth

    @property
    def least_second_moment(self) -> float:
        """About the weaker axis [m4]."""
        least, most = sorted((self.width, self.depth))
        return most * least**3 / 12


@dataclass(frozen=True, slots=True)
class Resized:
    """The replacement section and every capacity as replacement over plan [1]; unknown ones absent."""

    plan: Section
    exact: Section
    match: str
    hold: str
    area_factor: float  # replacement area over plan area [1]
    side_factor: float  # the scaled side over the plan's [1]
    ratios: Mapping[str, float]  # at the exact size
    shop: tuple[Fraction, Fraction]  # next size up on the grid; a held side stays as drawn [m]
    shop_ratios: Mapping[str, float]
    weaker: tuple[str, ...]  # capacities below the plan's at the exact size
    weaker_shop: tuple[str, ...]  # the same at the shop size, which is what is made
    governs: str  # what sets the size when all are matched
    unknown: tuple[str, ...]  # capacities the library lacks a figure for


def column_load(section: Section, wood: Wood, length_m: float | None) -> float:
    """Load that a pin-ended column of clear wood carries.

        f = F_c [1 - (1/3) ((L/r)/K)^4]  for L/r below K = pi sqrt(1.5 E / F_c), else pi^2 E / (L/r)^2

    Args:
        section: of the column.
        wood: for stiffness and crushing strength.
        length_m: free length [m]; None gives pi^2 E I, the Euler load times length squared.
    Returns:
        Load [N]; [N m2] where `length_m` is None.
    Raises:
        Missing: the wood has no stiffness, or no crushing strength where a length is given.
        OutOfRange: a length of zero or less.
    Valid for:
        clear wood of the figure's quality; unconservative against tests of sawn timber near L/r of 60.
    Source:
        wh282 eq. 9-25, 9-27, p. 9-9.
    """
    elastic = wood.get("stiffness")
    if length_m is None:
        return pi * pi * elastic * section.least_second_moment
    if not length_m > 0:
        raise OutOfRange("free length", length_m, "a length above zero is wanted")
    crushing = wood.get("compression")
    slenderness = length_m / sqrt(section.least_second_moment / section.area)
    joint = pi * sqrt(1.5 * elastic / crushing)
    if slenderness < joint:
        stress = crushing * (1 - (slenderness / joint) ** 4 / 3)
    else:
        stress = pi * pi * elastic / slenderness**2
    return stress * section.area


def _wood_ratio(name: str, plan: Wood, use: Wood) -> float:
    if name == "weight":
        return use.density / plan.density
    return use.get(name) / plan.get(name)


def ratio(
    name: str, plan: Section, use: Section, plan_wood: Wood, use_wood: Wood, length_m: float | None
) -> float:
    """One capacity, replacement over plan.

    Args:
        name: "weight" or one of CAPACITIES.
        plan: the drawing's section.
        use: the replacement's section.
        plan_wood: the drawing's wood.
        use_wood: the replacement.
        length_m: free length of a column [m], None for the Euler load.
    Returns:
        Replacement over plan [1].
    Raises:
        Missing: a figure the library does not have.
        OutOfRange: as `column_load`.
    Source:
        geometry of a rectangle: derived; columns as `column_load`.
    """
    if name == "column":
        return column_load(use, use_wood, length_m) / column_load(plan, plan_wood, length_m)
    across, along = _POWERS[name]
    shape = (use.width / plan.width) ** across * (use.depth / plan.depth) ** along
    return _wood_ratio(name, plan_wood, use_wood) * shape


def _scaled(plan: Section, factor: float, hold: str) -> Section:
    return Section(
        plan.width if hold == "width" else plan.width * factor,
        plan.depth if hold == "depth" else plan.depth * factor,
    )


def _solve(rises: Callable[[float], float]) -> float:
    """The factor at which a rising function reaches 1, by halving; the upper end, never the weak side."""
    low, high = 1e-3, 1.0
    while rises(high) < 1:
        low, high = high, high * 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if rises(middle) >= 1 else (middle, high)
    return high


def factor(
    name: str, plan: Section, plan_wood: Wood, use_wood: Wood, hold: str, length_m: float | None
) -> float:
    """The scale of the free side or sides at which one capacity equals the plan's.

    Args:
        name: "weight" or one of CAPACITIES.
        plan: the drawing's section.
        plan_wood: the drawing's wood.
        use_wood: the replacement.
        hold: side that keeps the plan's size: "", "width" or "depth".
        length_m: free length of a column [m], None for the Euler load.
    Returns:
        Replacement side over plan side [1].
    Raises:
        Missing: a figure the library does not have.
        OutOfRange: as `column_load`.
    Source:
        closed forms derived from the powers of width and depth; columns by halving.
    """
    if name == "column":
        return _solve(
            lambda scale: ratio("column", plan, _scaled(plan, scale, hold), plan_wood, use_wood, length_m)
        )
    across, along = _POWERS[name]
    power = (0 if hold == "width" else across) + (0 if hold == "depth" else along)
    return float(_wood_ratio(name, plan_wood, use_wood) ** (-1 / power))


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
    steps = Fraction(size_m) / grid
    if isinstance(size_m, float):
        steps -= abs(steps) * Fraction(1, 10**9)
    return ceil(steps) * grid


def _all_ratios(
    plan: Section,
    use: Section,
    plan_wood: Wood,
    use_wood: Wood,
    length_m: float | None,
    known: tuple[str, ...],
) -> dict[str, float]:
    return {name: ratio(name, plan, use, plan_wood, use_wood, length_m) for name in ("weight", *known)}


def _known(plan_wood: Wood, use_wood: Wood, length_m: float | None) -> tuple[str, ...]:
    have = {name for name, _ in plan_wood.strengths} & {name for name, _ in use_wood.strengths}
    column = "stiffness" in have and (length_m is None or "compression" in have)
    return tuple(name for name in CAPACITIES if (column if name == "column" else name in have))


def _check(plan: Section, plan_wood: Wood, use_wood: Wood, match: str, hold: str) -> None:
    if not (plan.width > 0 and plan.depth > 0):
        raise OutOfRange(
            "size", (plan.width, plan.depth), "width and depth above zero are wanted", "zero size"
        )
    if match not in MATCHES:
        raise OutOfRange("match", match, f"one of {', '.join(MATCHES)} is wanted")
    if hold not in HOLDS:
        raise OutOfRange("hold", hold, "width, depth or neither can be held")
    if plan_wood.moisture != use_wood.moisture:
        raise OutOfRange("moisture", use_wood.moisture, "both woods must be at one moisture")
    if match == "all":
        # Nothing may be called no weaker while one of these is not even known.
        for name in ("bending", "stiffness", "compression"):
            _wood_ratio(name, plan_wood, use_wood)


def _governing(scales: Mapping[str, float]) -> tuple[str, float]:
    """The capacity that asks for most, the first of equals."""
    most = max(scales.values())
    return next((name, scale) for name, scale in scales.items() if scale >= most * (1 - _HAIR))


def resize(
    plan: Section,
    plan_wood: Wood,
    use_wood: Wood,
    match: str = "weight",
    hold: str = "",
    length_m: float | None = None,
    grid: Fraction = Fraction(254, 640_000),
) -> Resized:
    """The section of another wood that matches the plan's, and the price of the match.

    Args:
        plan: the drawing's section [m].
        plan_wood: the drawing's wood.
        use_wood: the replacement, at the same moisture.
        match: one of MATCHES; "all" is the lightest section weaker in nothing the library knows.
        hold: side that keeps the plan's size: "", "width" or "depth".
        length_m: free length of a column [m], None for the Euler load.
        grid: shop sizes are multiples of this [m].
    Returns:
        Exact and shop size with every capacity as replacement over plan.
    Raises:
        Missing: the match needs a figure the library does not have.
        OutOfRange: a size of zero or less, an unknown match or hold, woods at different moistures.
    Source:
        areas, moduli and moments of a rectangle: derived; columns wh282 eq. 9-25, 9-27.
    """
    _check(plan, plan_wood, use_wood, match, hold)
    known = _known(plan_wood, use_wood, length_m)
    wanted = known if match == "all" else (match,)
    governs, scale = _governing(
        {name: factor(name, plan, plan_wood, use_wood, hold, length_m) for name in wanted}
    )
    exact = _scaled(plan, scale, hold)
    ratios = _all_ratios(plan, exact, plan_wood, use_wood, length_m, known)
    shop = (
        round_up(exact.width, AS_DRAWN if hold == "width" else grid),
        round_up(exact.depth, AS_DRAWN if hold == "depth" else grid),
    )
    shop_section = Section(float(shop[0]), float(shop[1]))
    shop_ratios = _all_ratios(plan, shop_section, plan_wood, use_wood, length_m, known)
    return Resized(
        plan=plan,
        exact=exact,
        match=match,
        hold=hold,
        area_factor=exact.area / plan.area,
        side_factor=scale,
        ratios=ratios,
        shop=shop,
        shop_ratios=shop_ratios,
        weaker=tuple(name for name in known if ratios[name] < 1 - _HAIR),
        weaker_shop=tuple(name for name in known if shop_ratios[name] < 1 - _HAIR),
        governs=governs,
        unknown=tuple(name for name in CAPACITIES if name not in known),
    )
