"""What a cut that ran under or over does to every capacity of a section: accept it, or saw again."""

from collections.abc import Mapping
from fractions import Fraction

from bench.core.capacities import Carrier, Part
from bench.core.errors import OutOfRange
from bench.core.frozen import record
from bench.core.laminated import Laminated, Ply
from bench.core.quantities import INCH
from bench.core.resizing import Resized
from bench.core.sections import Round
from bench.core.strength import Wood

ACCEPT, RECUT = "accept", "recut"
# The slips that are worth a line each, by the shop's units [m].
SLIPS = {
    "in": tuple(Fraction(text) * INCH for text in ("0.005", "0.010", "0.015", "1/64", "1/32")),
    "mm": tuple(Fraction(text) / 1000 for text in ("0.1", "0.2", "0.5")),
}
_HAIR = 1e-9  # binary noise: a capacity this close to another is equal to it
_MOST = 4.0  # a side this many times its aim is no way to make good [1]


@record
class Cut:
    """A replacement as it was sawn, against the drawing and against what it was meant to be."""

    aim: Part  # shop size
    cut: Part  # as measured; of layers with the slip off the first one
    ratios: Mapping[str, float]  # as cut over the drawing's; weight first, unknown ones absent [1]
    changes: Mapping[str, float]  # as cut over the shop size [1]
    below: tuple[str, ...]  # capacities below the drawing's as cut
    lost: tuple[str, ...]  # of these, those that the shop size would have kept
    short: tuple[str, ...]  # below what the match promised: the drawing's, or less where it gave that away
    width: float | None  # that makes good what is short, the depth as cut; None: none does, or nothing is [m]
    depth: float | None  # the same, the width as cut [m]

    @property
    def word(self) -> str:
        """Accept, or recut where anything is less than the match promised."""
        return RECUT if self.short else ACCEPT


def as_cut(section: Part, by_width: float, by_depth: float) -> tuple[Part, ...]:
    """A section with so much taken off; the thickness of flanges and webs stays.

    Args:
        section: as planned.
        by_width: the width is under by this, over where it is below zero [m].
        by_depth: the same of the depth [m].
    Returns:
        One section; of layers two, since nobody says from which face it went.
    Raises:
        OutOfRange: more off than there is, or a round that is no round any more.
    Source:
        geometry: derived.
    """
    if isinstance(section, Laminated):
        narrower = section.with_side("width", section.width - by_width)
        first, last = narrower.plies[0], narrower.plies[-1]
        taken = (
            (Ply(first.wood, first.thickness - by_depth), *narrower.plies[1:]),
            (*narrower.plies[:-1], Ply(last.wood, last.thickness - by_depth)),
        )
        return tuple(Laminated(narrower.width, plies) for plies in taken) if by_depth else (narrower,)
    if isinstance(section, Round):
        if by_width != by_depth:
            raise OutOfRange("depth", by_depth, "a round has one diameter: both sides are off by the same")
        return (Round(section.diameter - by_width),)
    changes = {"width": section.width - by_width, "depth": section.depth - by_depth}
    return (section.with_sizes({**section.sizes, **changes}),)


def undersize(
    section: Part, by_width: float, by_depth: float, wood: Wood, length_m: float | None = None
) -> dict[str, float]:
    """Every capacity of a section cut under, as cut over as planned.

    Args:
        section: as planned.
        by_width: the width is under by this, over where it is below zero [m].
        by_depth: the same of the depth [m].
        wood: of a section that is not laminated.
        length_m: free length of a column [m], None for the Euler load.
    Returns:
        Ratio by name, weight first; what the library lacks is absent. Of layers the lesser of both faces [1].
    Raises:
        OutOfRange: more off than there is, a round that is none any more, or a length of zero or less.
    Source:
        as capacities.values; nothing is made linear.
    """
    carrier = _carrier(section, wood, length_m)
    planned = carrier.values(section)
    found = [carrier.values(one) for one in as_cut(section, by_width, by_depth)]
    return {name: min(values[name] for values in found) / value for name, value in planned.items()}


def slips(
    section: Part, wood: Wood, length_m: float | None = None, system: str = "in", over: bool = False
) -> tuple[tuple[Fraction, dict[str, float]], ...]:
    """The usual slips of both sides with what each does; those that leave nothing are left out.

    Args:
        section: as planned.
        wood: of a section that is not laminated.
        length_m: free length of a column [m], None for the Euler load.
        system: "in" or "mm".
        over: cut over by as much, not under.
    Returns:
        Slip and ratios, as cut over as planned, smallest slip first.
    Raises:
        OutOfRange: a length of zero or less.
    Source:
        as undersize.
    """
    table = []
    for slip in SLIPS[system]:
        by = -float(slip) if over else float(slip)
        try:
            as_cut(section, by, by)
        except OutOfRange:
            break  # and nothing would be left by a larger one
        table.append((slip, undersize(section, by, by, wood, length_m)))
    return tuple(table)


def accept_or_recut(
    resized: Resized,
    width: float | None,
    depth: float | None,
    wood: Wood,
    length_m: float | None = None,
) -> Cut:
    """A replacement as measured, held against the drawing's capacities.

    The match promised the drawing's capacity, or what the exact size has where it gave some of that away:
    less than that is sawn again, or made good by more of the other side.

    Args:
        resized: the match; its shop size is what was aimed at.
        width: as measured, None for the shop size; of a round its diameter [m].
        depth: as measured, None for the shop size; of a round its diameter or None [m].
        wood: the replacement's, where it is not laminated.
        length_m: free length of a column [m], None for the Euler load.
    Returns:
        What is below the drawing's and what is short of the match, and which side would make it good.
    Raises:
        OutOfRange: a side of zero or less, a round that is none, or a length of zero or less.
    Source:
        as capacities.values; what is promised is our rule.
    """
    aim, plan = resized.shop_section, resized.plan_values
    by_width = 0.0 if width is None else aim.width - width
    by_depth = 0.0 if depth is None else aim.depth - depth
    if isinstance(aim, Round) and None in (width, depth):
        by_width = by_depth = by_width + by_depth
    carrier = _carrier(aim, wood, length_m)
    names = tuple(name for name in carrier.known if name in plan)
    sections = as_cut(aim, by_width, by_depth)
    found = [carrier.values(section, names) for section in sections]
    made = {name: min(values[name] for values in found) for name in names}
    floor = {name: min(plan[name], resized.values[name]) for name in names if name != "weight"}
    below = tuple(name for name in floor if _less(made[name], plan[name]))
    short = tuple(name for name in floor if _less(made[name], floor[name]))
    least = {name: floor[name] for name in short}
    return Cut(
        aim=aim,
        cut=sections[0],
        ratios={name: made[name] / plan[name] for name in names},
        changes={name: made[name] / resized.shop_values[name] for name in names},
        below=below,
        lost=tuple(name for name in below if not _less(resized.shop_values[name], plan[name])),
        short=short,
        width=_made_good("width", aim, sections, carrier, least),
        depth=_made_good("depth", aim, sections, carrier, least),
    )


def _carrier(section: Part, wood: Wood, length_m: float | None) -> Carrier:
    return Carrier(wood, length_m, section if isinstance(section, Laminated) else None)


def _less(value: float, than: float) -> bool:
    return value < than * (1 - _HAIR)


def _made_good(
    side: str, aim: Part, sections: tuple[Part, ...], carrier: Carrier, floor: Mapping[str, float]
) -> float | None:
    """The least size of one side that lifts all to their floor, by halving; the upper end, never short."""
    if not floor or isinstance(aim, Round) or (isinstance(aim, Laminated) and side == "depth"):
        return None

    def enough(size: float) -> bool:
        tried = [section.with_side(side, size) for section in sections]
        return all(carrier.value(name, one) >= least for name, least in floor.items() for one in tried)

    low, high = getattr(sections[0], side), getattr(aim, side) * _MOST
    if not enough(high):
        return None
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return float(high)
