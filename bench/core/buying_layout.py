"""Missing parts laid out on planks that can be bought, and the cheapest planks found that hold them all."""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import count
from math import ceil

from bench.core import cutting, ripping
from bench.core.cutting_records import CutPart, CutPlan, CutProblem, CutRules, CutStick
from bench.core.frozen import record
from bench.core.laying import SizedPart
from bench.core.quantities import INCH
from bench.core.records import Offer

MOVES = 60  # of the search, where the quick packings do not prove that no fewer planks would do
MANY = 200  # pieces; above that the quick packings alone, which are a plank in a hundred worse
SPARE = Fraction(5, 4)  # of the planks by volume, to begin with: fewer seldom hold everything

TOO_THIN, TOO_NARROW, TOO_LONG = "too_thin", "too_narrow", "too_long"


@record
class Lacking:
    """Pieces of one part that have no place."""

    sized: SizedPart
    quantity: int

    @property
    def name(self) -> str:
        """Of the part."""
        return self.sized.part.name


Contents = tuple[Lacking, ...]
_Key = tuple[str, tuple[tuple[str, int], ...]]  # of an offer and what lies on it: names, for speed


@record
class Laid:
    """Missing parts on planks of one offer."""

    planks: tuple[Contents, ...]  # what lies on each
    strips: int  # most that one of them is ripped into; 1: not ripped
    fewest: bool  # proved: no fewer planks of that size would do


@record
class Mix:
    """Planks that hold some missing parts; each of the base offer could hold what any of the others does."""

    base: Offer
    laid: Laid
    offers: tuple[Offer, ...]  # of each plank


def board_feet(thickness: Fraction, width: Fraction, length: Fraction) -> Fraction:
    """The board feet of a rough plank: 144 cubic inches each, a thickness below 1 in counted as 1 in.

        thickness [in] x width [in] x length [ft] / 12

    Args:
        thickness: rough [m].
        width: rough [m].
        length: as delivered [m].
    Returns:
        Board feet, not rounded [1].
    Source:
        common practice, no source.
    """
    return max(thickness, INCH) * width * length / (144 * INCH**3)


def board_feet_of(offer: Offer) -> Fraction:
    """The board feet of one plank on offer [1]; its smaller side is its thickness."""
    thickness, width = sorted((offer.thickness.exact, offer.width.exact))
    return board_feet(thickness, width, offer.length.exact)


def clear_length(offer: Offer, rules: CutRules) -> Fraction:
    """What the end trims leave of a plank on offer, zero or more [m]."""
    return max(Fraction(0), offer.length.exact - 2 * rules.end_trim)


def strip(offer: Offer, sized: SizedPart, rules: CutRules) -> Fraction | None:
    """The width of the strip that a part takes of a plank on offer; None where it does not come out [m]."""
    stock = (offer.thickness.exact, offer.width.exact)
    return ripping.strip_width(stock, (sized.width, sized.depth), rules.planing)


def shortfall(offer: Offer, sized: SizedPart, rules: CutRules) -> tuple[str, Fraction]:
    """What a plank on offer lacks to become a part.

    Args:
        offer: the plank.
        sized: the part in its wood.
        rules: of the saw.
    Returns:
        TOO_THIN, TOO_NARROW or TOO_LONG, with the thickness, width or length missing; empty with 0 where it
        lacks nothing [m].
    Source:
        geometry: derived.
    """
    if strip(offer, sized, rules) is None:
        thickness, width = sorted((offer.thickness.exact, offer.width.exact))
        small, large = sorted((sized.width, sized.depth))
        if ripping.rough(small, thickness, rules.planing) is None:
            return TOO_THIN, small + 2 * rules.planing - thickness
        return TOO_NARROW, large + 2 * rules.planing - width
    rough = sized.part.length.exact + rules.squaring
    clear = clear_length(offer, rules)
    return (TOO_LONG, rough - clear) if rough > clear else ("", Fraction(0))


class Layouts:
    """Layouts of missing parts on planks of one offer, each made once."""

    def __init__(self, rules: CutRules) -> None:
        self.rules = rules
        self._laid: dict[_Key, Laid] = {}
        self._held: dict[_Key, bool] = {}
        self._across: dict[tuple[str, str], Fraction] = {}  # of offer and part; 0: it does not come out

    def gives(self, offer: Offer, row: Lacking) -> bool:
        """Whether the part comes out of a plank of the offer."""
        return bool(self._strip(offer, row))

    def _strip(self, offer: Offer, row: Lacking) -> Fraction:
        key = (offer.name, row.name)
        if key not in self._across:
            lacks = shortfall(offer, row.sized, self.rules)[0]
            across = None if lacks else strip(offer, row.sized, self.rules)
            self._across[key] = across or Fraction(0)
        return self._across[key]

    def on(self, offer: Offer, rows: Contents) -> Laid:
        """Parts, each of which the offer gives, on as few of its planks as are found."""
        key = _key(offer, rows)
        if key not in self._laid:
            self._laid[key] = self._lay(offer, rows)
        return self._laid[key]

    def one_holds(self, offer: Offer, rows: Contents) -> bool:
        """Whether a single plank of the offer holds all these parts."""
        key = _key(offer, rows)
        if key not in self._held:
            room = all(self.gives(offer, row) for row in rows) and self._planks(offer, rows) <= 1
            self._held[key] = room and not self._plan(offer, rows, 1, MOVES).unplaced
        return self._held[key]

    def _planks(self, offer: Offer, rows: Contents) -> Fraction:
        """Planks' worth of wood that the parts take, kerfs included; no layout takes less of them."""
        rules = self.rules
        width = max(offer.thickness.exact, offer.width.exact)
        room = (clear_length(offer, rules) + rules.kerf) * (width + rules.rip_kerf)
        need = Fraction(0)
        for row in rows:
            across = self._strip(offer, row) + rules.rip_kerf
            need += row.quantity * (row.sized.part.length.exact + rules.squaring + rules.kerf) * across
        return need / room

    def _plan(
        self, offer: Offer, rows: Contents, planks: int, moves: int, keep: Sequence[CutPlan] = ()
    ) -> CutPlan:
        sides = sorted((offer.thickness.exact, offer.width.exact))
        tags = [row.tag for plan in keep for row in plan.sticks] or map(str, range(1, planks + 1))
        sticks = tuple(
            CutStick(tag, offer.length.exact, width=sides[1], depth=sides[0]) for tag in dict.fromkeys(tags)
        )
        parts = tuple(_wanted(row) for row in rows)
        return cutting.plan(CutProblem(parts, sticks, self.rules), moves, keep=keep)

    def _lay(self, offer: Offer, rows: Contents) -> Laid:
        pieces = sum(row.quantity for row in rows)
        first = ceil(self._planks(offer, rows) * SPARE) + 1
        for more in count():  # a plank for each piece is always enough
            planks = min(pieces, first << more)
            plan = self._plan(offer, rows, planks, 0)
            if not plan.unplaced or planks == pieces:
                break
        if not plan.optimal and pieces <= MANY:
            plan = self._plan(offer, rows, planks, MOVES, [plan])
        sized = {row.name: row.sized for row in rows}
        lying: dict[str, dict[str, int]] = {}
        strips: dict[str, int] = {}
        for row in plan.sticks:
            strips[row.tag] = strips.get(row.tag, 0) + 1
            there = lying.setdefault(row.tag, {})
            for piece in row.pieces:
                there[piece.part] = there.get(piece.part, 0) + 1
        planks_laid = tuple(
            tuple(Lacking(sized[name], number) for name, number in sorted(there.items()))
            for there in lying.values()
        )
        return Laid(planks_laid, max(strips.values()), plan.optimal)


def _key(offer: Offer, rows: Contents) -> _Key:
    return offer.name, tuple((row.name, row.quantity) for row in rows)


def _wanted(row: Lacking) -> CutPart:
    sized = row.sized
    return CutPart(row.name, sized.part.length.exact, row.quantity, width=sized.width, depth=sized.depth)


def cheapest(
    rows: Contents,
    offers: Sequence[Offer],
    worth: Callable[[Offer], Fraction],
    ordered: Callable[[int], int],
    layouts: Layouts,
) -> tuple[Mix, ...]:
    """Planks that hold all parts, at the least worth found, what is ordered on top for rejects included.

    Every offer in turn holds all it gives, and what it does not give is bought of the others. A plank whose
    contents lie on one of a cheaper offer becomes that.

    Args:
        rows: parts, each given by one of the offers.
        offers: of one wood.
        worth: of one plank: its cost or its board feet.
        ordered: how many planks to order for so many that must pass.
        layouts: to be used again.
    Returns:
        One mix or more; none where there are no parts.
    """
    known: dict[frozenset[str], tuple[tuple[Fraction, int], tuple[Mix, ...]]] = {}
    known[frozenset()] = ((Fraction(0), 0), ())

    def total(mix: Mix) -> tuple[Fraction, int]:
        planks = len(mix.offers)
        extra = ordered(planks) - planks
        return sum(map(worth, mix.offers), extra * worth(mix.base)), planks

    def best(left: Contents) -> tuple[tuple[Fraction, int], tuple[Mix, ...]]:
        names = frozenset(row.name for row in left)
        if names not in known:
            found = []
            for offer in offers:
                given = tuple(row for row in left if layouts.gives(offer, row))
                if given:
                    mix = _mixed(offer, given, offers, worth, layouts)
                    rest, others = best(tuple(row for row in left if not layouts.gives(offer, row)))
                    value, planks = total(mix)
                    found.append(((value + rest[0], planks + rest[1]), (mix, *others)))
            known[names] = min(found, key=lambda one: one[0])
        return known[names]

    return best(rows)[1]


def _mixed(
    base: Offer,
    rows: Contents,
    offers: Iterable[Offer],
    worth: Callable[[Offer], Fraction],
    layouts: Layouts,
) -> Mix:
    """Parts on planks of one offer, a cheaper one in place of each whose contents it holds."""
    laid = layouts.on(base, rows)
    cheaper = sorted((offer for offer in offers if worth(offer) < worth(base)), key=worth)
    return Mix(
        base,
        laid,
        tuple(
            next((offer for offer in cheaper if layouts.one_holds(offer, contents)), base)
            for contents in laid.planks
        ),
    )
