"""Finished sizes of a section that was solved: what stays to the letter, what goes up, what it costs."""

from collections.abc import Mapping
from fractions import Fraction

from bench.core.asking import Asked, Solved
from bench.core.capacities import Carrier, Part
from bench.core.errors import Clash
from bench.core.laminated import Laminated
from bench.core.matching import HAIR
from bench.core.rounding import AS_DRAWN, round_up, settled

_MORE_STEPS = 16  # of the grid, to make good what rounding a wall took


def _fixed(ask: Asked, solved: Solved) -> frozenset[str]:
    """Names of the sizes that stay to the letter: a held or capped side, and walls that were not scaled."""
    side = ask.hold or (ask.cap_side if solved.capped else "")
    if isinstance(solved.section, Laminated) and side == "depth":
        return frozenset(solved.section.sizes) - {"width"}
    walls = {"flange", "web"} if ask.hold and ask.plan.walled else set()
    return frozenset(walls | {side})


def _sizes(ask: Asked, solved: Solved) -> dict[str, Fraction]:
    """Every size as the shop makes it."""
    fixed = _fixed(ask, solved)
    exact = solved.section
    sizes = {
        name: round_up(size, AS_DRAWN) if name in fixed else settled(size, ask.grid, ask.sizes, name)
        for name, size in exact.sizes.items()
    }
    if ask.cap is None or solved.capped:
        return sizes
    cap = round_up(ask.cap, AS_DRAWN)
    if ask.cap_side in sizes:
        # Rounding up must not push a side out of its slot.
        sizes[ask.cap_side] = min(sizes[ask.cap_side], cap)
    elif isinstance(exact, Laminated) and sum(sizes.values()) - sizes["width"] > cap:
        sizes |= {name: round_up(size, AS_DRAWN) for name, size in exact.sizes.items() if name != "width"}
    return sizes


def finished(
    ask: Asked, solved: Solved, new: Carrier, aims: Mapping[str, float], wanted: tuple[str, ...]
) -> tuple[Part, dict[str, Fraction]]:
    """The section as the shop makes it.

    A thicker flange can cost shear, which more depth or web gives back.

    Args:
        ask: what was asked.
        solved: the exact size.
        new: the replacement's wood.
        aims: what the plan carries, by capacity [SI].
        wanted: capacities that must not be lost by rounding; may be empty.
    Returns:
        The section, and every size of it by its name [m].
    Raises:
        OutOfRange: no size of the shop is large enough, or rounded walls leave nothing.
        Clash: rounding the walls up loses something that no other size may make good.
    """
    sizes = _sizes(ask, solved)
    section = _section(solved, sizes)
    if not ask.plan.walled:
        return section, sizes
    fixed = _fixed(ask, solved) | {ask.cap_side}
    grows = next((name for name in ("depth", "web", "width") if name not in fixed), "")
    short: list[str] = []
    for _ in range(_MORE_STEPS):
        short = [name for name in wanted if new.value(name, section) < aims[name] * (1 - HAIR)]
        if not short:
            return section, sizes
        if not grows:
            break
        step = AS_DRAWN if ask.sizes else ask.grid
        sizes[grows] = settled(sizes[grows] + step, ask.grid, ask.sizes, grows)
        section = _section(solved, sizes)
    raise Clash("grid", ", ".join(short), "lost by rounding up walls: a finer grid or other sizes would do")


def _section(solved: Solved, sizes: Mapping[str, Fraction]) -> Part:
    return solved.section.with_sizes({name: float(size) for name, size in sizes.items()})


def costs(exact: Part, shop: Part, new: Carrier) -> dict[str, float]:
    """What each size adds to the weight by being rounded, one after the other, the outer sizes first.

    Args:
        exact: size.
        shop: size.
        new: the replacement's wood.
    Returns:
        Weight over the weight before, by the name of the size [1]; all together are shop over exact.
    """
    costs: dict[str, float] = {}
    now, weight = dict(exact.sizes), new.value("weight", exact)
    for name, size in shop.sizes.items():
        now[name] = size
        rounded = new.value("weight", exact.with_sizes(now))
        costs[name], weight = rounded / weight, rounded
    return costs
