"""Resizing a section from the drawing's wood to another, and what the match gives away.

A match of weight is a match of *area*: each side of a square scales with the square root of the ratio of
gravities. Bending goes with the cube of the scale, stiffness and Euler load with its fourth power.
"""

from collections.abc import Mapping
from fractions import Fraction

from bench.core import capacities, finishing
from bench.core.asking import CAPACITIES, HOLDS, MATCHES, Asked, Solved
from bench.core.capacities import Carrier, Part
from bench.core.errors import Clash
from bench.core.frozen import record
from bench.core.laminated import Laminated, Ply
from bench.core.matching import HAIR, NEVER, needed, refuse
from bench.core.rounding import AS_DRAWN, next_size, round_up
from bench.core.sections import Rectangle, Shape, written
from bench.core.strength import Wood

__all__ = [
    "AS_DRAWN",
    "CAPACITIES",
    "GRAVITIES",
    "HOLDS",
    "MATCHES",
    "Resized",
    "Section",
    "column_load",
    "next_size",
    "ratio",
    "resize",
    "round_up",
]

Section = Rectangle

GRAVITIES = ("handbook", "stick", "estimate", "aircraft", "coupons")  # of SectionChoice.gravity
_MAIN = ("bending", "stiffness", "compression")


@record
class Resized:
    """The replacement section and every capacity as replacement over plan [1]; unknown ones absent."""

    plan: Shape
    exact: Part
    match: str
    hold: str
    area_factor: float  # replacement area over plan area [1]
    side_factor: float  # the scaled side over the plan's [1]
    ratios: Mapping[str, float]  # at the exact size
    shop: tuple[Fraction, Fraction]  # width and depth as finished; a held side stays as it is [m]
    shop_ratios: Mapping[str, float]
    weaker: tuple[str, ...]  # capacities below the plan's at the exact size
    weaker_shop: tuple[str, ...]  # the same at the shop size, which is what is made
    governs: str  # what sets the size when several are matched
    unknown: tuple[str, ...]  # capacities the library lacks a figure for
    wanted: tuple[str, ...]  # capacities that the match is of
    free: str  # the one side that was solved; "": all sizes scale
    capped: bool  # whether a side stands at its cap
    shop_section: Part
    shop_sizes: Mapping[str, Fraction]  # every size as finished, by its name [m]
    weight_cost: float  # weight at the shop size over that at the exact size [1]
    weight_costs: Mapping[str, float]  # the same for rounding each size in its turn [1]
    plan_values: Mapping[str, float]  # what the plan's section carries [SI]
    values: Mapping[str, float]  # at the exact size [SI]
    shop_values: Mapping[str, float]  # [SI]
    basis: str  # kind of figures of both woods: "handbook" or "aircraft"
    euler: bool  # whether columns are compared by the Euler load, no free length being given

    @property
    def form_factors(self) -> tuple[float, float, float]:
        """Of plan, exact and shop size: recalled, not read; 1 where the shape has none [1]."""
        return self.plan.form_factor, self.exact.form_factor, self.shop_section.form_factor

    @property
    def recalled(self) -> bool:
        """Whether bending rests on the recalled form factor of a box or I."""
        return self.plan.walled


def ratio(name: str, plan: Part, use: Part, plan_wood: Wood, use_wood: Wood, length_m: float | None) -> float:
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
        as capacities.CAPACITIES says of it.
    """
    new = capacities.capacity(name, use, use_wood, length_m)
    return new / capacities.capacity(name, plan, plan_wood, length_m)


def column_load(section: Part, wood: Wood, length_m: float | None) -> float:
    """Load that a pin-ended column of clear wood carries.

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
        as capacities.column_of.
    Source:
        wh282 eq. 9-25, 9-27, p. 9-9.
    """
    return capacities.capacity("column", section, wood, length_m)


def _start(ask: Asked) -> Part:
    """The replacement at scale 1: the plan's sizes, or its layers in proportion, with the held side set."""
    start: Part = ask.plan
    if ask.layers:
        start = Laminated(ask.plan.width, ask.layers).with_side("depth", ask.plan.depth)
    if ask.hold and (ask.held_at is not None or ask.plan.name == "round"):
        held = getattr(ask.plan, ask.hold) if ask.held_at is None else ask.held_at
        start = start.with_side(ask.hold, held)
    return start


def _wanted(ask: Asked, known: tuple[str, ...]) -> tuple[str, ...]:
    """The capacities that must be matched; refuses those that the library cannot compare."""
    wanted = {"all": _MAIN, "own": ask.own}.get(ask.match, (ask.match,))
    for name in wanted:
        if name not in known:
            capacities.require(name, (ask.plan_wood,), ask.length_m, known=known)
            layered = bool(ask.layers)
            woods = tuple(ply.wood for ply in ask.layers) or (ask.use_wood,)
            capacities.require(name, woods, ask.length_m, layered, known)
    if ask.match == "all":
        # Nothing may be called no weaker while one of the main ones is not even known.
        return tuple(name for name in known if name != "weight")
    return tuple(name for name in known if name in wanted)


def _least_scale(
    ask: Asked, start: Part, free: str, wanted: tuple[str, ...], new: Carrier, aims: Mapping[str, float]
) -> tuple[str, float]:
    """What asks for the largest scale, the first of equals, and that scale."""
    euler = ask.length_m is None
    scales = {name: needed(name, new, start, free, aims[name], euler) for name in wanted}
    for name, scale in scales.items():
        if scale == NEVER:
            raise refuse(name, start, free, scale)
    most = max(scales.values())
    governs = next(name for name, scale in scales.items() if scale >= most * (1 - HAIR))
    if most == 0:
        if abs(new.value(governs, start) / aims[governs] - 1) <= HAIR:
            return governs, 1.0
        raise refuse(governs, start, free, most)
    return governs, most


def _solved(ask: Asked, wanted: tuple[str, ...], new: Carrier, aims: Mapping[str, float]) -> Solved:
    """The exact size, with the capped side no larger than its cap."""
    start = _start(ask)
    free = {"": "", "width": "depth", "depth": "width"}[ask.hold]
    governs, scale = _least_scale(ask, start, free, wanted, new, aims)
    exact = start.scaled(scale, free)
    if ask.cap is None or getattr(exact, ask.cap_side) <= ask.cap * (1 + HAIR):
        return Solved(exact, governs, free, False)
    asked = written(getattr(exact, ask.cap_side))
    if ask.hold or ask.plan.name == "round":
        held = f"{ask.hold} held" if ask.hold else "a round"
        raise Clash("cap", written(ask.cap), f"{ask.cap_side} must be {asked} ({held}): free the other side")
    # All sizes have grown to where the side stands at its cap; from there on only the other side does.
    at_cap = start.scaled(ask.cap / getattr(start, ask.cap_side)).with_side(ask.cap_side, ask.cap)
    free = "depth" if ask.cap_side == "width" else "width"
    try:
        governs, scale = _least_scale(ask, at_cap, free, wanted, new, aims)
    except Clash as clash:
        why = f"no {free} makes good for {clash.value}: the {ask.cap_side} must be {asked}"
        raise Clash("cap", written(ask.cap), why) from None
    return Solved(at_cap.scaled(scale, free), governs, free, True)


def _over(new: Mapping[str, float], old: Mapping[str, float], names: tuple[str, ...]) -> dict[str, float]:
    return {name: new[name] / old[name] for name in names}


def _below(ratios: Mapping[str, float]) -> tuple[str, ...]:
    return tuple(name for name, value in ratios.items() if name != "weight" and value < 1 - HAIR)


def resize(
    plan: Shape,
    plan_wood: Wood,
    use_wood: Wood,
    match: str = "weight",
    hold: str = "",
    length_m: float | None = None,
    grid: Fraction = Fraction(254, 640_000),
    *,
    own: tuple[str, ...] = (),
    held_at: float | None = None,
    cap_side: str = "",
    cap: float | None = None,
    sizes: tuple[Fraction, ...] = (),
    layers: tuple[Ply, ...] = (),
) -> Resized:
    """The section of another wood that matches the plan's, and the price of the match.

    With neither side held all sizes scale together, flange, web and layers among them. With a side held
    flange and web stay as drawn; layers make up the depth in proportion.

    Args:
        plan: the drawing's section [m].
        plan_wood: the drawing's wood.
        use_wood: the replacement, at the same moisture; of layers it counts for nothing.
        match: one of MATCHES; "all" is the lightest section weaker in nothing the library knows, "own" in
            nothing of `own`.
        hold: side that is not solved: "", "width" or "depth".
        length_m: free length of a column [m], None for the Euler load.
        grid: shop sizes are multiples of this [m].
        own: the capacities that matter, for the match "own"; else may be empty.
        held_at: size of the held side as measured on the replacement, None for the plan's [m].
        cap_side: side that must fit a slot: "", "width" or "depth".
        cap: the most that side may be; where it would pass, the other side is solved [m].
        sizes: the shop can set, in any order; empty for the grid [m].
        layers: of a laminated replacement, from the compressed face on; else empty.
    Returns:
        Exact and shop size with every capacity as replacement over plan.
    Raises:
        Missing: the match needs a figure the library does not have.
        OutOfRange: a size of zero or less, an unknown match or hold, woods at different moistures, no shop
            size large enough.
        Clash: a held or capped side that makes the match impossible, or figures of two kinds.
    Source:
        as capacities.CAPACITIES says of each.
    """
    ask = Asked(
        plan, plan_wood, use_wood, match, hold, length_m, grid, own, held_at, cap_side, cap, sizes, layers
    )
    ask.check()
    old = Carrier(plan_wood, length_m)
    new = Carrier(use_wood, length_m, Laminated(plan.width, layers) if layers else None)
    known = tuple(name for name in old.known if name in new.known)
    wanted = _wanted(ask, known)
    aims = old.values(plan, known)
    solved = _solved(ask, wanted, new, aims)
    values = new.values(solved.section, known)
    ratios = _over(values, aims, known)
    lost = tuple(name for name in _below(ratios) if name in wanted)
    if lost:
        raise refuse(lost[0], solved.section, solved.free, NEVER)
    shop = finishing.finished(ask, solved, new, aims, wanted)
    return _result(ask, solved, shop, (aims, values, new.values(shop[0], known)), wanted, new)


def _result(
    ask: Asked,
    solved: Solved,
    shop: tuple[Part, dict[str, Fraction]],
    found: tuple[Mapping[str, float], Mapping[str, float], Mapping[str, float]],
    wanted: tuple[str, ...],
    new: Carrier,
) -> Resized:
    exact, section, finished = solved.section, *shop
    aims, values, shop_values = found
    known = tuple(aims)
    ratios, shop_ratios = _over(values, aims, known), _over(shop_values, aims, known)
    side = solved.free or "width"
    width = finished["diameter"] if "diameter" in finished else finished["width"]
    layers = [size for name, size in finished.items() if name.startswith("layer")]
    depth = sum(layers, Fraction(0)) if layers else finished.get("depth", width)
    return Resized(
        plan=ask.plan,
        exact=exact,
        match=ask.match,
        hold=ask.hold,
        area_factor=exact.area / ask.plan.area,
        side_factor=getattr(exact, side) / getattr(ask.plan, side),
        ratios=ratios,
        shop=(width, depth),
        shop_ratios=shop_ratios,
        weaker=_below(ratios),
        weaker_shop=_below(shop_ratios),
        governs=solved.governs,
        unknown=tuple(name for name in CAPACITIES if name not in known),
        wanted=wanted,
        free=solved.free,
        capped=solved.capped,
        shop_section=section,
        shop_sizes=finished,
        weight_cost=shop_values["weight"] / values["weight"],
        weight_costs=finishing.costs(exact, section, new),
        plan_values=aims,
        values=values,
        shop_values=shop_values,
        basis=ask.plan_wood.basis,
        euler=ask.length_m is None,
    )
