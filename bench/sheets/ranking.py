"""Woods compared, and cuts that ran off, in sentences and in a chart made of text.

The chart needs no colour: lengths, a line for the plan, and figures beside it.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from math import ceil, floor

from bench import units
from bench.core.capacities import POSSIBLE
from bench.core.errors import Missing
from bench.core.ranking import COMPARED, REFUSED, UNKNOWN, Ranked, Ranking
from bench.core.strength import AIRCRAFT, standing_of
from bench.core.tolerance import RECUT, Cut
from bench.sheets import sections

# For columns of figures; in full in sections.CAPACITY.
SHORT = {
    "weight": "weight",
    "bending": "bend",
    "stiffness": "stiff",
    "column": "col",
    "compression": "comp",
    "tension": "tens",
    "shear": "shear",
    "bearing": "bear",
    "torsion": "twist",
    "toughness": "tough",
}
BAR, PLAN_LINE, BEYOND = "█", "│", ">"
HEADINGS = {COMPARED: "compared", UNKNOWN: "NOT COMPARED", REFUSED: "REFUSED"}
# How far a figure can be trusted -> what is said of it; those that were read say nothing.
DOUBTS = {"memory": "RECALLED, NOT READ", "second-hand": "SECOND-HAND", "trade": "WITHOUT A SOURCE"}
LOWERED = "powers of anc18 table 2-1; shear and bearing of wh282 table 5-11b"
_HAIR = 1e-9  # binary noise: a weight this close to the plan's is equal to it
_TELLING = 0.995  # of a capacity: a slip that leaves less is told [1]
_LEAST_CELLS = 4  # of the plan's weight; what would leave it fewer is drawn as beyond the chart


def whole_percent(share: float) -> str:
    """A capacity in whole percent, cut off and never rounded up: 0.8005 is `80`.

    Args:
        share: replacement over plan [1].
    """
    return f"{floor(share * 100 * (1 + _HAIR))}"


def cells_of_plan(heaviest: float, width: int) -> int:
    """How many cells of a bar are the plan's weight, so that the heaviest still fits.

    Args:
        heaviest: of the weights, replacement over plan [1].
        width: of the bar, the line of the plan included [1].
    """
    return max(min(_LEAST_CELLS, width - 1), floor((width - 1) / max(1.0, heaviest)))


def bar(weight: float, cells: int, width: int) -> str:
    """A weight as a bar with the plan's marked by a line, in exactly so many columns.

    A bar reaches the line only where it weighs what the plan does, and passes it wherever it weighs more: it
    is never drawn lighter than it is. What has no room ends with `>`.

    Args:
        weight: replacement over plan [1].
        cells: of the plan's weight, of `cells_of_plan` [1].
        width: of the bar, the line of the plan included [1].
    """
    if weight <= 1 + _HAIR:
        full = cells if weight >= 1 - _HAIR else min(cells - 1, ceil(weight * cells - _HAIR))
        return (BAR * full).ljust(cells) + PLAN_LINE + " " * (width - cells - 1)
    room = width - cells - 1
    more = ceil((weight - 1) * cells - _HAIR)
    tail = BAR * more if more <= room else BAR * (room - 1) + BEYOND
    return (BAR * cells + PLAN_LINE + tail.ljust(room))[:width]


def scale(cells: int, width: int) -> str:
    """What stands above the bars: zero, the plan's weight over its line, and the weight at the end.

    Args:
        cells: of the plan's weight [1].
        width: of the bar [1].
    """
    end = f"{floor((width - 1) / cells * 100)}%"
    text = (("0" if cells > 4 else "").ljust(cells - 3) + "plan").ljust(width)
    room = width - cells - 1
    return text[: width - len(end)] + end if room >= len(end) + 1 else text[:width]


def given_away(row: Ranked, most: int = 3) -> tuple[tuple[str, float], ...]:
    """The capacities most given away at the exact size, the worst first.

    Args:
        row: of a ranking.
        most: how many at most [1].
    """
    if row.resized is None:
        return ()
    weak = [(name, row.resized.ratios[name]) for name in row.resized.weaker]
    return tuple(sorted(weak, key=lambda item: round(item[1], 9))[:most])


def gives(row: Ranked, most: int = 3) -> str:
    """What a wood gives away in one short line: `stiff col 49 bend 80`; what is not known is said first.

    Args:
        row: of a ranking.
        most: how many at most [1].
    """
    if row.resized is None:
        return why(row)
    pieces = [f"{SHORT[name]} ?" for name in row.unknown]
    shares: dict[str, list[str]] = {}
    for name, share in given_away(row, most):
        shares.setdefault(whole_percent(share), []).append(SHORT[name])
    pieces += [f"{' '.join(names)} {share}" for share, names in shares.items()]
    return " ".join(pieces) or "nothing"


def why(row: Ranked) -> str:
    """Why a wood is not compared or refused, in one line; empty where it is compared."""
    if row.refusal is not None:
        quantity = row.refusal.quantity
        if isinstance(row.refusal, Missing) and quantity:
            return row.refusal.message.replace(": not given; ", ": ", 1).partition(POSSIBLE)[0]
        return row.refusal.message
    if row.standing == UNKNOWN:
        names = ", ".join(sections.CAPACITY.get(name, name) for name in row.unknown)
        return f"not known: {names}, which the match promises"
    return ""


def name(row: Ranked) -> str:
    """The wood, and for an own lot which one: `lot K2, white ash`."""
    if row.lot is None:
        return row.name
    return f"lot {row.lot.name}, {row.name}" if row.lot.name else f"no lot, {row.name}"


def short_name(row: Ranked) -> str:
    """The same without what stands in brackets, for a column."""
    return name(row).partition(" (")[0]


def size(row: Ranked, system: str = "in") -> str:
    """The shop size for a column, without its unit: `43/64 sq`, `1/2 x 3/4`, `5/8 dia`.

    Args:
        row: of a ranking.
        system: "in" or "mm".
    """
    if row.resized is None:
        return "--"
    width, depth = row.resized.shop
    both = units.sides(width, depth, system).rpartition(" ")[0]
    one = both.partition(" x ")[0]
    if row.resized.plan.name == "round":
        return f"{one} dia"
    return f"{one} sq" if width == depth else both


def exact(row: Ranked, system: str = "in") -> str:
    """The exact size, its last digit up: `0.6596 x 0.6596 in`; empty where there is none.

    Args:
        row: of a ranking.
        system: "in" or "mm".
    """
    if row.resized is None:
        return ""
    width = units.length_up(row.resized.exact.width, system, 4)
    return f"{width.rpartition(' ')[0]} x {units.length_up(row.resized.exact.depth, system, 4)}"


def standings(row: Ranked) -> frozenset[str]:
    """The standings of all figures of a wood: names of strength.STANDINGS."""
    return frozenset(standing_of(figure) for figure in row.wood.figures) if row.wood else frozenset()


def rests_on(row: Ranked) -> str:
    """What the figures of a wood are: `handbook, G 0.600 (12 % volume)`, or an own lot's sticks."""
    if row.wood is None:
        return ""
    gravity = f"G {units.gravity(row.wood.gravity_12)} (12 % volume)"
    stand = standings(row)
    recalled = "".join(f", some {said}" for standing, said in DOUBTS.items() if standing in stand)
    if row.lot is not None:
        read = len(row.lot.gravities)
        sticks = f"{read} of {row.lot.sticks} stick{'' if row.lot.sticks == 1 else 's'} measured"
        by = "strengths of the species' average"
        if row.lighter < 1:
            by = f"lighter than its species, never ranked above it: strengths LOWERED by {LOWERED} (estimate)"
        return f"OWN LOT, {sticks}, mean {gravity}; {by}{recalled}"
    kind = "aircraft design values" if row.wood.basis == AIRCRAFT else "handbook average"
    return f"{kind}, {gravity}{recalled}"


def counted(ranking: Ranking) -> str:
    """How many woods stand where, so that none is missed: `21 compared, 2 not compared, 0 refused`."""
    return ", ".join(f"{len(ranking.of(place))} {said.lower()}" for place, said in HEADINGS.items())


def figures_line(names: Iterable[str], ratios: Mapping[str, float], width: int) -> str:
    """One line of a table of capacities in whole percent; `?` where one is not known.

    Args:
        names: of the columns.
        ratios: replacement over plan by name [1].
        width: of a column [1].
    """
    return "".join(_cell(name, ratios).rjust(width) for name in names)


def _cell(name: str, ratios: Mapping[str, float]) -> str:
    if name not in ratios:
        return "?"
    # A weight rounds up, a capacity down: never to the side that flatters.
    return f"{ceil(ratios[name] * 100 * (1 - _HAIR))}" if name == "weight" else whole_percent(ratios[name])


def slip_table(
    slips: Iterable[tuple[Fraction, Mapping[str, float]]], system: str = "in", room: int = 80
) -> tuple[str, ...]:
    """What cuts under do: a column a slip, the capacity that loses most first.

    Bending strength and stiffness always have a row, the others where the largest slip takes more than half
    a percent.

    Args:
        slips: of tolerance.slips, the smallest first.
        system: "in" or "mm".
        room: columns; below 58 the names are shortened.
    Returns:
        Lines, none longer than `room` from 36 columns on.
    """
    table = tuple(slips)
    if not table:
        return ("nothing is left of it by the smallest slip",)
    worst = table[-1][1]
    names = [
        name
        for name, left in sorted(worst.items(), key=lambda item: item[1])
        if name != "weight" and (left < _TELLING or name in ("bending", "stiffness"))
    ]
    long = room >= 18 + 8 * len(table)
    wide, each = (18, 8) if long else (6, 6)
    head = "".join(_slip(float(by), system).rjust(each) for by, _ in table)
    rows = [f"{system:<{wide}}{head}"]
    for name in names:
        title = sections.CAPACITY[name] if long else SHORT[name]
        changes = "".join(f"{_tenths(ratios[name]):.1f}".rjust(each) for _, ratios in table)
        rows.append(f"{title:<{wide}}{changes}")
    return tuple(rows)


def _slip(by: float, system: str) -> str:
    """A slip without its unit, so short that five stand beside each other: `.0156`."""
    return units.length(by, system, 4).partition(" ")[0].removeprefix("0" * (system == "in"))


def _tenths(share: float) -> float:
    """A change in percent to one decimal, down: a loss never looks smaller than it is."""
    return floor((share - 1) * 1000 + 1e-6) / 10


def verdict(cut: Cut, system: str = "in") -> tuple[str, ...]:
    """Accept or recut a piece as it was sawn, why, and what would make it good.

    Args:
        cut: of tolerance.accept_or_recut.
        system: "in" or "mm".
    Returns:
        Sentences, the verdict first.
    """
    if cut.word != RECUT:
        below = _named(cut.below, cut.ratios)
        said = f"; below the drawing, as the match allows: {below}" if below else ""
        return (f"ACCEPT: nothing is less than the match promised{said}",)
    lines = [f"RECUT: less than the match promised, of the drawing: {_named(cut.short, cut.ratios)}"]
    for side, size in (("width", cut.width), ("depth", cut.depth)):
        if size is not None:
            more = units.length_up(size - getattr(cut.cut, side), system, 4)
            lines.append(f"or {side} {units.length_up(size, system, 4)}, {more} more, makes it good")
    if len(lines) == 1:
        lines.append("no more of one side makes it good")
    return tuple(lines)


def _named(names: Iterable[str], ratios: Mapping[str, float]) -> str:
    return ", ".join(f"{sections.CAPACITY.get(name, name)} {units.ratio(ratios[name])}" for name in names)
