"""What to order when the stock is not enough: planks on offer, an allowance for rejects, board feet, cost.

Wood on offer is taken as clear from end to end. That it is not is what the allowance and the inspection are
for: no bought plank is ever counted as one that passes.
"""

from collections.abc import Sequence
from fractions import Fraction

from bench.core.buying_allowance import PROMISE, LotCount, Rejects, chance, planks_for, rejects
from bench.core.buying_layout import (
    TOO_LONG,
    TOO_NARROW,
    TOO_THIN,
    Contents,
    Lacking,
    Layouts,
    Mix,
    board_feet,
    board_feet_of,
    cheapest,
    clear_length,
    shortfall,
)
from bench.core.cutting_records import CutRules
from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record, replace
from bench.core.grading import BY_SIZE
from bench.core.records import Offer, Typed
from bench.core.river import River
from bench.core.splitting import Joint, overlap, splits

__all__ = [
    "NOTHING_LACKING",
    "NO_OFFER",
    "NO_SIZE",
    "PROMISE",
    "TOO_LONG",
    "TOO_NARROW",
    "TOO_THIN",
    "Gives",
    "Group",
    "Joined",
    "Lacking",
    "Line",
    "LotCount",
    "Order",
    "Purchase",
    "Rejects",
    "Scarf",
    "Ungiven",
    "board_feet",
    "board_feet_of",
    "chance",
    "order",
    "planks_for",
    "rejects",
]

MOST_PIECES = 1000  # missing of one wood; more is a mistake in the list, and would take long to lay out
# Where a part allows no joint, this slope shows what one would do: common practice, no source.
SHOWN_SLOPE = Fraction(1, 12)
MOST_LENGTHS = 6  # of one part

# Why no offer gives a part, or an offer gives nothing, beside what it falls short of.
NO_OFFER, NO_SIZE, NOTHING_LACKING = "no_offer", "no_size", "nothing_lacking"
_NEAREST = (TOO_LONG, TOO_NARROW, TOO_THIN)  # the first is the nearest to giving a part


@record
class Scarf:
    """A part that is too long, as lengths that are scarfed together."""

    lengths: tuple[Fraction, ...]  # finished, in order from the start of the part [m]
    joint: Fraction  # length lost to each joint [m]
    slope: Fraction  # rise over run [1]


@record
class Joined:
    """Parts of one line that no offer gives whole, ordered as lengths."""

    lacking: Lacking
    scarf: Scarf


@record
class Ungiven:
    """Parts of one line that no offer can give, and why."""

    lacking: Lacking
    why: str
    short: Fraction = Fraction(0)  # thickness, width or length that the nearest offer lacks [m]
    offer: str = ""  # that one
    scarf: Scarf | None = None  # what would do if the part allowed joints; None: nothing, or not too long


@record
class Gives:
    """What one offer alone would do for what is missing of its wood."""

    offer: Offer
    lacking: int = 0  # pieces missing of the wood
    pieces: int = 0  # of them that it gives
    strips: int = 0  # most that one plank is ripped into; 1: not ripped
    line: "Line | None" = None  # planks for those
    why: str = ""  # it gives none
    short: Fraction = Fraction(0)  # thickness, width or length that is missing [m]


@record
class Line:
    """Planks of one offer."""

    offer: Offer
    needed: int  # if all pass
    ordered: int  # with the allowance

    @property
    def board_feet(self) -> Fraction:
        """Of what is ordered [1]."""
        return self.ordered * board_feet_of(self.offer)

    @property
    def cost(self) -> Fraction | None:
        """Of what is ordered, in the shop's money [1]; None where no price is given."""
        price = self.offer.price
        return None if price is None else self.board_feet * price.exact


@record
class Group:
    """Planks that hold some of the parts. What is ordered on top is of the base, which can replace any."""

    base: Offer
    needed: int
    ordered: int
    lines: tuple[Line, ...]
    alone: int  # planks of the base alone that would be needed
    fewest: bool  # proved: that number is the least
    chance: Fraction | None  # that at least `needed` of `ordered` pass [1]; None: no rate


@record
class Purchase:
    """What to order of one wood."""

    species: str
    lacking: tuple[Lacking, ...]
    rejects: Rejects
    groups: tuple[Group, ...]
    joined: tuple[Joined, ...]
    ungiven: tuple[Ungiven, ...]
    by_cost: bool  # chosen by least cost; else by least board feet

    @property
    def pieces(self) -> int:
        """Missing of the wood."""
        return sum(row.quantity for row in self.lacking)

    @property
    def given(self) -> int:
        """Of them, what the order gives."""
        return self.pieces - sum(row.lacking.quantity for row in self.ungiven)

    @property
    def hopeless(self) -> bool:
        """Every judged stick was rejected: no number of planks is enough, and none is added."""
        return self.rejects.rate == 1

    @property
    def lines(self) -> tuple[Line, ...]:
        """One for each offer that is ordered."""
        found: dict[str, Line] = {}
        for line in (line for group in self.groups for line in group.lines):
            known = found.get(line.offer.name, Line(line.offer, 0, 0))
            both = Line(line.offer, known.needed + line.needed, known.ordered + line.ordered)
            found[line.offer.name] = both
        return tuple(found.values())

    @property
    def board_feet(self) -> Fraction:
        """Of all lines [1]."""
        return sum((line.board_feet for line in self.lines), Fraction(0))

    @property
    def cost(self) -> Fraction | None:
        """Of all lines, in the shop's money [1]; None where a price is missing or nothing is ordered."""
        costs = [line.cost for line in self.lines if line.cost is not None]
        return sum(costs, Fraction(0)) if costs and len(costs) == len(self.lines) else None


@record
class Order:
    """What to order, wood by wood, and what every offer alone would do."""

    purchases: tuple[Purchase, ...]  # of the woods that lack pieces; none: nothing is missing
    gives: tuple[Gives, ...]  # one for each offer of the job


def order(river: River) -> Order:
    """What to order so that every part without a place gets one.

    Args:
        river: with its job, its parts in the wood they will be made of, and its plan.
    Returns:
        The order, the cheapest found and not proved the cheapest; without purchases where nothing is missing.
    Raises:
        Refusal: that of the plan, where there is none. OutOfRange: more pieces of a wood are missing than are
        laid out here.
    """
    if river.plan is None:
        raise river.plan_refusal or Missing("cut list", "only it says what is missing")
    sized = {row.part.name: row for row in river.parts}
    woods: dict[str, list[Lacking]] = {}
    for out in river.plan.unplaced:
        row = sized[out.part]
        woods.setdefault(row.species, []).append(Lacking(row, out.quantity))
    purchases: list[Purchase] = []
    gives: dict[str, Gives] = {}
    for species, lacking in woods.items():
        pieces = sum(row.quantity for row in lacking)
        if pieces > MOST_PIECES:
            limits = f"{MOST_PIECES} of one wood is the most that is laid out here: look at the quantities"
            raise OutOfRange("pieces missing", pieces, limits)
        offers = tuple(offer for offer in river.job.offers if offer.species == species)
        found = rejects(river.rack, species, {row.sized.part.use for row in lacking})
        wanted = _Wanted(tuple(lacking), offers, river.problem.rules, river.job.settings.least_piece.exact)
        purchases.append(_purchase(species, wanted, found))
        gives.update({offer.name: _gives(offer, wanted, found) for offer in offers})
    nothing = (gives.get(offer.name) or Gives(offer, why=NOTHING_LACKING) for offer in river.job.offers)
    return Order(tuple(purchases), tuple(nothing))


def _ordered(found: Rejects, needed: int) -> int:
    """Planks to order; where no number would be enough, those that are needed."""
    return planks_for(needed, found.rate) or needed


class _Wanted:
    """What is missing of one wood, as it is bought: whole, as lengths, or not at all."""

    def __init__(
        self, lacking: Contents, offers: Sequence[Offer], rules: CutRules, least_piece: Fraction
    ) -> None:
        self.lacking, self.offers, self.least_piece = lacking, offers, least_piece
        self.layouts = Layouts(rules)
        self.bought: dict[str, Contents] = {}  # by part: itself, or its lengths
        self.joined: list[Joined] = []
        self.ungiven: list[Ungiven] = []
        for row in lacking:
            self._take(row)

    def _take(self, row: Lacking) -> None:
        if row.sized.barred_by == BY_SIZE:
            self.ungiven.append(Ungiven(row, NO_SIZE))
        elif not self.offers:
            self.ungiven.append(Ungiven(row, NO_OFFER))
        elif any(self.layouts.gives(offer, row) for offer in self.offers):
            self.bought[row.name] = (row,)
        else:
            lacks = [(*shortfall(offer, row.sized, self.layouts.rules), offer) for offer in self.offers]
            why, short, nearest = min(lacks, key=lambda one: (_NEAREST.index(one[0]), one[1]))
            scarf = self._scarf(row, nearest) if why == TOO_LONG else None
            if scarf is None or row.sized.part.scarf is None:
                self.ungiven.append(Ungiven(row, why, short, nearest.name, scarf))
            else:
                self.joined.append(Joined(row, scarf))
                self.bought[row.name] = tuple(
                    _length(row, number, length) for number, length in enumerate(scarf.lengths)
                )

    def _scarf(self, row: Lacking, nearest: Offer) -> Scarf | None:
        """As few lengths as come out of planks of the offer; None where none make the part."""
        sized, part = row.sized, row.sized.part
        slope = SHOWN_SLOPE if part.scarf is None else part.scarf.exact
        barred = tuple((stretch.start.exact, stretch.end.exact) for stretch in part.no_joint)
        lost = overlap(slope, sized.width, sized.depth, part.scarf_side)
        joint = Joint(lost, self.least_piece, barred)
        longest = clear_length(nearest, self.layouts.rules) - self.layouts.rules.squaring
        if longest <= lost:
            return None
        for number in range(2, MOST_LENGTHS + 1):
            way = next(splits(part.length.exact, joint, number, (longest,) * number, (longest,), ()), None)
            if way is not None:
                return Scarf(way, lost, slope)
        return None

    def rows(self, offer: Offer | None = None) -> Contents:
        """Everything that is bought, or what of it an offer gives."""
        return tuple(
            row
            for rows in self.bought.values()
            if offer is None or all(self.layouts.gives(offer, row) for row in rows)
            for row in rows
        )

    def pieces(self, offer: Offer | None = None) -> int:
        """How many whole parts that makes; without an offer, how many are missing."""
        return sum(
            row.quantity
            for row in self.lacking
            if offer is None
            or (row.name in self.bought and all(self.layouts.gives(offer, r) for r in self.bought[row.name]))
        )


def _length(row: Lacking, number: int, length: Fraction) -> Lacking:
    """One of the lengths of a part, as many times as the part is missing; no typed name has its name."""
    part = replace(row.sized.part, name=f"{row.name}\0{number}", length=Typed(length, ""))
    return Lacking(replace(row.sized, part=part), row.quantity)


def _purchase(species: str, wanted: _Wanted, found: Rejects) -> Purchase:
    rows = wanted.rows()
    able = [offer for offer in wanted.offers if any(wanted.layouts.gives(offer, row) for row in rows)]
    by_cost = bool(able) and all(offer.price is not None for offer in able)

    def worth(offer: Offer) -> Fraction:
        feet = board_feet_of(offer)
        return feet * offer.price.exact if by_cost and offer.price is not None else feet

    mixes = cheapest(rows, able, worth, lambda needed: _ordered(found, needed), wanted.layouts)
    return Purchase(
        species,
        wanted.lacking,
        found,
        tuple(_group(mix, found) for mix in mixes),
        tuple(wanted.joined),
        tuple(wanted.ungiven),
        by_cost,
    )


def _group(mix: Mix, found: Rejects) -> Group:
    needed = len(mix.offers)
    ordered = _ordered(found, needed)
    names = dict.fromkeys((mix.base, *mix.offers))
    lines = []
    for offer in names:
        own = mix.offers.count(offer)
        extra = ordered - needed if offer is mix.base else 0
        if own + extra:
            lines.append(Line(offer, own, own + extra))
    likely = None if found.rate is None else chance(needed, ordered, found.rate)
    return Group(mix.base, needed, ordered, tuple(lines), len(mix.laid.planks), mix.laid.fewest, likely)


def _gives(offer: Offer, wanted: _Wanted, found: Rejects) -> Gives:
    layouts, pieces = wanted.layouts, wanted.pieces()
    given = wanted.rows(offer)
    if given:
        laid = layouts.on(offer, given)
        line = Line(offer, len(laid.planks), _ordered(found, len(laid.planks)))
        return Gives(offer, pieces, wanted.pieces(offer), laid.strips, line)
    known = [row for row in wanted.lacking if row.sized.barred_by != BY_SIZE]
    if not known:
        return Gives(offer, pieces, why=NO_SIZE)
    lacks = [shortfall(offer, row.sized, layouts.rules) for row in known]
    why, short = min(lacks, key=lambda one: (_NEAREST.index(one[0]), one[1]))
    return Gives(offer, pieces, why=why, short=short)
