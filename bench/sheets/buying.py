"""What to order, in words: on the screen, in a text file, and for the verbs. Figures are rounded up."""

from collections.abc import Mapping
from fractions import Fraction
from math import ceil
from textwrap import wrap
from types import MappingProxyType

from bench import __version__, units
from bench.core import buying
from bench.core.buying import Gives, Joined, Line, Order, Purchase, Rejects, Scarf, Ungiven
from bench.core.quantities import INCH
from bench.core.records import Job

CAUTION = "Bought wood is floated and inspected like any other before it is used."
AS_CLEAR = "Planks are taken as clear from end to end: knots and splits in them ask for more."
NOTHING = "Nothing to order: every part has a place on a stick of the rack."
WIDTH = 78
Names = Mapping[str, str]  # of the woods, by species key
NO_NAMES: Names = MappingProxyType({})

_WHY = {
    buying.TOO_THIN: "too thin",
    buying.TOO_NARROW: "too narrow",
    buying.TOO_LONG: "too short",
    buying.NO_SIZE: "size not known",
    buying.NOTHING_LACKING: "none missing",
}


def feet(board_feet: Fraction) -> str:
    """Board feet with one decimal, rounded up: `5.8`.

    Args:
        board_feet: exact [1].
    """
    return f"{ceil(board_feet * 10) / 10:.1f}"


def money(amount: Fraction | None) -> str:
    """An amount with two decimals, rounded up: `24.35`; `--` where it is not known.

    Args:
        amount: in the shop's money [1].
    """
    return "--" if amount is None else f"{ceil(amount * 100) / 100:,.2f}"


def lacks(metres: Fraction, system: str = "in") -> str:
    """A length that is missing, up to the next 1/64 in or 0.1 mm: `4 in`, `1-1/8 in`, `101.6 mm`.

    Args:
        metres: the length [m].
        system: "in" or "mm".
    """
    return units.shop(metres, Fraction(1, 10_000) if system == "mm" else INCH / 64, system)


def counted(number: int, what: str) -> str:
    """`1 plank`, `2 planks`."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def wood(species: str, names: Names = NO_NAMES) -> str:
    """The name of a wood by its key."""
    return names.get(species, species.replace("_", " "))


def gives(row: Gives, system: str = "in") -> str:
    """What an offer gives of what is missing, or why nothing, for a column: `12 of 14, 4 strips`.

    Args:
        row: of the order.
        system: "in" or "mm".
    """
    if row.line is None:
        short = f" {lacks(row.short, system)}" if row.short else ""
        return _WHY[row.why] + short
    strips = f", {row.strips} strips" if row.strips > 1 else ""
    return f"{row.pieces} of {row.lacking}{strips}"


def boards(line: Line | None) -> str:
    """How many planks, and how many more for rejects: `3+1`."""
    if line is None:
        return "--"
    extra = line.ordered - line.needed
    return f"{line.needed}+{extra}" if extra else f"{line.needed}"


def alone(row: Gives, system: str = "in") -> str:
    """What one offer alone would do, in a sentence.

    Args:
        row: of the order.
        system: "in" or "mm".
    """
    name, line = row.offer.name, row.line
    if line is None:
        why = {
            buying.NOTHING_LACKING: "nothing is missing of its wood",
            buying.NO_SIZE: "the size of the missing parts in its wood is not known: see the Section pane",
        }
        short = f"{_WHY[row.why]} by {lacks(row.short, system)} for what comes nearest"
        return f"{name} alone: {why.get(row.why, short)}"
    ripped = f", up to {row.strips} strips each" if row.strips > 1 else ""
    extra = line.ordered - line.needed
    more = f" and {extra} more for rejects" if extra else ""
    cost = f", cost {money(line.cost)}" if line.cost is not None else ", no price"
    said = f"{name} alone: {row.pieces} of {row.lacking} missing pieces from {counted(line.needed, 'plank')}"
    return f"{said}{ripped}{more}: {feet(line.board_feet)} board ft{cost}"


def missing(order: Order, names: Names = NO_NAMES) -> str:
    """How many pieces are missing of which wood, in one line."""
    if not order.purchases:
        return NOTHING
    said = [
        f"{counted(row.pieces, 'piece')} of {wood(row.species, names)}{_critical(row)}"
        for row in order.purchases
    ]
    return f"missing: {', '.join(said)}"


def _critical(bought: Purchase) -> str:
    count = sum(row.quantity for row in bought.lacking if row.sized.part.critical)
    return f" ({count} critical)" if count else ""


def line_of(line: Line) -> str:
    """Planks of one offer: `4 planks of spruce 8 ft`."""
    return f"{counted(line.ordered, 'plank')} of {line.offer.name}"


def summary(bought: Purchase, names: Names = NO_NAMES) -> str:
    """The order of one wood in one sentence: which planks, the allowance, board feet, cost.

    Args:
        bought: of one wood.
        names: of the woods.
    """
    name = wood(bought.species, names)
    if not bought.lines:
        return f"{name}: no wood on offer gives any of it"
    planks = " and ".join(line_of(line) for line in bought.lines)
    cost = f", cost {money(bought.cost)}" if bought.cost is not None else ""
    left = bought.pieces - bought.given
    short = f"; {counted(left, 'piece')} NOT GIVEN" if left else ""
    return f"{name}: order {planks}, {extra(bought)}; {feet(bought.board_feet)} board ft{cost}{short}"


def extra(bought: Purchase) -> str:
    """The allowance in a few words: `2 of them for rejects (3 of 10 judged)`."""
    found = bought.rejects
    if found.rate is None:
        return "no allowance for rejects (no stick of it was judged)"
    if bought.hopeless:
        return f"NO ALLOWANCE HELPS (all {found.judged} judged were rejected)"
    more = sum(line.ordered - line.needed for line in bought.lines)
    return f"{more} of them for rejects ({found.rejected} of {found.judged} judged)"


def rejects(found: Rejects) -> tuple[str, ...]:
    """What the allowance rests on: the rate, how many it was judged on, and every lot.

    Args:
        found: of one wood.
    Returns:
        Sentences.
    """
    if found.rate is None:
        first = "No allowance for rejects: no stick of this wood has been accepted or rejected yet."
    else:
        first = (
            f"{found.rejected} of {found.judged} judged were rejected, "
            f"{units.percent(found.rate)}: from {counted(found.judged, 'stick')} that rate is a guess."
        )
    said = [first]
    for lot in found.lots:
        held = f", {lot.held} on hold" if lot.held else ""
        name = f"lot {lot.name}" if lot.name else "no lot"
        said.append(f"{name}: {lot.accepted} accepted, {lot.rejected} rejected{held}")
    if found.held:
        said.append(f"{counted(found.held, 'stick')} on hold: counted neither way; decide them first.")
    return tuple(said)


def ungiven(row: Ungiven, names: Names = NO_NAMES, system: str = "in") -> str:
    """Why no offer gives a part, and what would.

    Args:
        row: of the order.
        names: of the woods.
        system: "in" or "mm".
    """
    sized = row.lacking.sized
    head = f"{row.lacking.quantity} x {row.lacking.name}"
    if row.why == buying.NO_OFFER:
        return f"{head}: no offer of {wood(sized.species, names)}"
    if row.why == buying.NO_SIZE:
        return f"{head}: it has no size in the new wood: see the Section pane"
    short = lacks(row.short, system)
    if row.why != buying.TOO_LONG:
        size = units.sides(sized.width, sized.depth, system)
        what = {buying.TOO_THIN: "too thin", buying.TOO_NARROW: "too narrow"}[row.why]
        return f"{head}: {row.offer} comes nearest and is {what} by {short} for {size}, planing included"
    return f"{head}: too long by {short} for {row.offer}; {scarf(row.scarf, system)}"


def scarf(found: Scarf | None, system: str = "in") -> str:
    """What scarf joints would do for a part that is too long and allows none.

    Args:
        found: None where none would do.
        system: "in" or "mm".
    """
    if found is None:
        return "no scarf would do"
    return f"{_lengths(found, system)} would do, but the part allows no joint"


def joined(row: Joined, system: str = "in") -> str:
    """As which lengths a part is ordered that no offer gives whole.

    Args:
        row: of the order.
        system: "in" or "mm".
    """
    lengths = " + ".join(units.place(length, system) for length in row.scarf.lengths)
    name = f"{row.lacking.quantity} x {row.lacking.name}"
    return f"{name}: no offer gives it whole; each as {_lengths(row.scarf, system)}: {lengths}"


def _lengths(found: Scarf, system: str) -> str:
    joints = counted(len(found.lengths) - 1, "joint")
    lost = f"({lacks(found.joint, system)} lost to each)"
    return f"{len(found.lengths)} lengths with {joints} at {units.slope(found.slope)} {lost}"


def lines(order: Order, system: str = "in", width: int = WIDTH, names: Names = NO_NAMES) -> tuple[str, ...]:
    """The whole order as text.

    Args:
        order: as worked out.
        system: "in" or "mm".
        width: columns, 30 or more [1].
        names: of the woods by species key; empty: the keys are written as words.
    Returns:
        Lines, none longer than the width.
    """
    if not order.purchases:
        return tuple(wrap(NOTHING, width))
    said: list[str] = []
    for bought in order.purchases:
        said += [*_wood(bought, system, width, names), ""]
    costs = [bought.cost for bought in order.purchases if bought.lines]
    if len(costs) > 1:
        total = sum((bought.board_feet for bought in order.purchases), Fraction(0))
        paid = [cost for cost in costs if cost is not None]
        cost = f", cost {money(sum(paid, Fraction(0)))}" if len(paid) == len(costs) else ""
        said += [*wrap(f"Altogether {feet(total)} board ft{cost}", width), ""]
    for text in (CAUTION, AS_CLEAR):
        said += wrap(text, width)
    return tuple(said)


def sheet(order: Order, job: Job, names: Names = NO_NAMES) -> str:
    """The order as a text file.

    Args:
        order: as worked out.
        job: it belongs to.
        names: of the woods by species key.
    Returns:
        Text of lines of at most 78 characters.
    """
    invented = "  (INVENTED: nothing here was measured)" if job.invented else ""
    head = (*wrap(f"{job.name}: what to order{invented}", WIDTH), f"written by tenthmark {__version__}", "")
    return "\n".join((*head, *lines(order, job.settings.units, WIDTH, names))) + "\n"


def _wood(bought: Purchase, system: str, width: int, names: Names) -> list[str]:
    name = wood(bought.species, names)
    rows = [*wrap(f"{name.upper()}: {counted(bought.pieces, 'piece')} missing{_critical(bought)}", width)]

    def add(text: str) -> None:
        rows.extend(wrap(text, width, initial_indent="  ", subsequent_indent="    "))

    for row in bought.lacking:
        part, size = row.sized.part, units.sides(row.sized.width, row.sized.depth, system)
        least = f", least G {part.minimum_sg.text}, which no allowance covers" if part.minimum_sg else ""
        critical = ", critical" if part.critical else ""
        add(f"{row.quantity} x {row.name}, {size}, {units.place(part.length.exact, system)}{critical}{least}")
    for whole in bought.joined:
        add(joined(whole, system))
    for out in bought.ungiven:
        add(f"NOT GIVEN: {ungiven(out, names, system)}")
    for line in bought.lines:
        offer = line.offer
        size = f"{offer.thickness.text} x {offer.width.text} x {offer.length.text}"
        price = f" at {offer.price.text}: {money(line.cost)}" if offer.price is not None else ", no price"
        extra_planks = line.ordered - line.needed
        more = f" ({line.needed} needed, {extra_planks} for rejects)" if extra_planks else ""
        add(f"ORDER {line_of(line)}, {size}{more}: {feet(line.board_feet)} board ft{price}")
    if bought.lines:
        add(_reckoned(bought))
        if bought.rejects.rate and not bought.hopeless:
            promise = units.percent(buying.PROMISE, 0)
            each = ", for each size by itself" if len(bought.groups) > 1 else ""
            likely = f"with a likelihood of {promise} or more{each}"
            add(f"Enough of them pass {likely}, if they are like the rack's.")
        for text in rejects(bought.rejects):
            add(text)
        if bought.hopeless:
            add("ALL OF THEM WERE REJECTED: no number of planks is sure to be enough, and none is added.")
    return rows


def _reckoned(bought: Purchase) -> str:
    by = "by least cost" if bought.by_cost else "by least board feet, as a price is missing"
    chosen = f"Chosen {by}; the least found, not proved the least."
    if len(bought.lines) == 1:
        return chosen
    cost = f", cost {money(bought.cost)}" if bought.cost is not None else ""
    return f"Together {feet(bought.board_feet)} board ft{cost}. {chosen}"
