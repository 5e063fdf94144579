"""Finished sizes of a section that was solved: what stays to the letter, what goes up, what it costs."""

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from bench.core.asking import Asked, Solved
from bench.core.capacities import Carrier, Part
from bench.core.errors import Clash, OutOfRange
from bench.core.laminated import Laminated
from bench.core.matching import HAIR
from bench.core.rounding import AS_DRAWN, round_up, settled

_MORE_STEPS = 16  # of the grid, to make good what rounding a wall or a layer took
_MORE_LAYERS = 64  # the same for all layers together


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
    outer = "diameter" if "diameter" in sizes else ask.cap_side
    if outer in sizes:
        # Rounding up must not push a side out of its slot.
        sizes[outer] = min(sizes[outer], cap)
    elif isinstance(exact, Laminated) and sum(sizes.values()) - sizes["width"] > cap:
        sizes |= {name: round_up(size, AS_DRAWN) for name, size in exact.sizes.items() if name != "width"}
    return sizes


def finished(
    ask: Asked, solved: Solved, new: Carrier, aims: Mapping[str, float], wanted: tuple[str, ...]
) -> tuple[Part, dict[str, Fraction]]:
    """The section as the shop makes it.

    A thicker flange or layer can cost shear and more, which more depth, web, width or layers give back.

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
        Clash: rounding walls or layers up loses something that no other size may make good.
    """
    sizes = _sizes(ask, solved)
    layered = isinstance(solved.section, Laminated)
    section = _section(solved, sizes)
    # A solid without walls only gains by being larger.
    short = _short(section, new, aims, wanted) if layered or ask.plan.walled else []
    if not short:
        return section, sizes
    ways = _thicker(ask, solved, sizes) if layered else (_grown(ask, solved, sizes),)
    made_good = [found for way in ways if (found := _first_whole(way, solved, new, aims, wanted))]
    if not made_good:
        what = "layers" if layered else "walls"
        why = f"lost by rounding up {what}: a finer grid or other sizes would do"
        raise Clash("grid", ", ".join(short), why)
    sizes = min(made_good, key=lambda found: new.value("weight", _section(solved, found)))
    return _section(solved, sizes), sizes


def _short(section: Part, new: Carrier, aims: Mapping[str, float], wanted: tuple[str, ...]) -> list[str]:
    """What a section carries less of than it must."""
    return [name for name in wanted if new.value(name, section) < aims[name] * (1 - HAIR)]


def _first_whole(
    way: Iterable[dict[str, Fraction]],
    solved: Solved,
    new: Carrier,
    aims: Mapping[str, float],
    wanted: tuple[str, ...],
) -> dict[str, Fraction] | None:
    """The first sizes on a way at which nothing is lost; None where there are none."""
    return next((sizes for sizes in way if not _short(_section(solved, sizes), new, aims, wanted)), None)


def _grown(
    ask: Asked,
    solved: Solved,
    sizes: Mapping[str, Fraction],
    names: tuple[str, ...] = ("depth", "web", "width"),
) -> Iterator[dict[str, Fraction]]:
    """One size made larger step by step, the first of these that may be."""
    fixed = _fixed(ask, solved) | {ask.cap_side}
    grows = next((name for name in names if name not in fixed), "")
    if not grows:
        return
    size, step = sizes[grows], AS_DRAWN if ask.sizes else ask.grid
    for _ in range(_MORE_STEPS):
        size = settled(size + step, ask.grid, ask.sizes, grows)
        yield {**sizes, grows: size}


def _thicker(
    ask: Asked, solved: Solved, sizes: Mapping[str, Fraction]
) -> tuple[Iterator[dict[str, Fraction]], ...]:
    """What can make good for layers that were rounded: more width, or all layers a little thicker."""

    def wider() -> Iterator[dict[str, Fraction]]:
        try:
            yield from _grown(ask, solved, sizes, ("width",))
        except OutOfRange:
            return  # no wider size on the shop's list

    def deeper() -> Iterator[dict[str, Fraction]]:
        exact = solved.section
        if {name for name in exact.sizes if name != "width"} <= _fixed(ask, solved):
            return
        most = round_up(ask.cap, AS_DRAWN) if ask.cap is not None and ask.cap_side == "depth" else None
        for step in range(1, _MORE_LAYERS + 1):
            more = exact.scaled(1 + step * float(ask.grid) / exact.depth, "depth")
            try:
                found = {
                    name: sizes[name] if name == "width" else settled(size, ask.grid, ask.sizes, name)
                    for name, size in more.sizes.items()
                }
            except OutOfRange:
                return  # no thicker size on the shop's list
            if most is not None and sum(found.values()) - found["width"] > most:
                return
            yield found

    return wider(), deeper()


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
