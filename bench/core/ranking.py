"""Every wood of the library and every lot of the user's own sticks in place of the drawing's, lightest first.

A wood is compared where its size can be found and nothing that the match promises is unknown of it. The
others stand below with the reason; none is left out.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from statistics import fmean

from bench.core import resizing, strength
from bench.core.capacities import needs
from bench.core.errors import Missing, OutOfRange, Refusal
from bench.core.frozen import record, replace
from bench.core.judging import Judged
from bench.core.records import SectionChoice, Settings, Species
from bench.core.resizing import Resized
from bench.core.sections import Shape, made
from bench.core.strength import AIRCRAFT, HANDBOOK, WITHIN_SPECIES, Wood

FIGURES = (HANDBOOK, AIRCRAFT)
# Where a wood stands in the list, in this order.
COMPARED, UNKNOWN, REFUSED = "compared", "unknown", "refused"
STANDINGS = (COMPARED, UNKNOWN, REFUSED)
PROMISE_OF_SEVERAL = ("all", "own")  # matches that promise something of more than one capacity
# A lot lighter than its species is counted weaker by these powers of the ratio of gravities. Within a species
# by anc18 (1944) table 2-1; of shear and bearing only powers between species are known: wh282 table 5-11b,
# the greater one of soft- and hardwoods. A heavier lot is not counted stronger.
LOT_POWERS = {**WITHIN_SPECIES, "shear": 1.13, "bearing": 2.09}
_Order = tuple[int, float, int, float, str, str]
_HAIR = 9  # decimals of a weight beyond which two sections are equally heavy


@record
class Lot:
    """The sticks of one lot and wood."""

    name: str  # empty: they stand in no lot
    species: str
    sticks: int
    gravities: tuple[
        tuple[str, float], ...
    ]  # of those measured: tag, and gravity on volume at 12 percent [1]

    @property
    def mean(self) -> float | None:
        """Of the measured gravities, volume at 12 percent [1]; None where no stick was measured."""
        return fmean(gravity for _, gravity in self.gravities) if self.gravities else None

    @property
    def nearest(self) -> str:
        """Tag of the stick whose gravity is nearest the mean, the first of equals; empty where none is."""
        mean = self.mean
        if mean is None:
            return ""
        return min(self.gravities, key=lambda measured: abs(measured[1] - mean))[0]


@record
class Ask:
    """What is asked of every wood."""

    plan: Shape  # as drawn
    match: str = "weight"  # a name of resizing.MATCHES
    hold: str = ""
    length_m: float | None = None  # free length of a column, None for the Euler load [m]
    grid: Fraction = Fraction(254, 640_000)  # [m]
    figures: str = HANDBOOK
    moisture: float = 0.12  # of all woods; aircraft design values have their own [1]
    own: tuple[str, ...] = ()  # the capacities that matter, where `match` is "own"
    held_at: float | None = None  # size of the held side as sawn, None for the plan's [m]
    cap_side: str = ""
    cap: float | None = None  # [m]
    sizes: tuple[Fraction, ...] = ()  # the shop can be set to; none: multiples of the grid [m]


@record
class Ranked:
    """One wood in place of the drawing's."""

    species: str
    name: str
    standing: str  # one of STANDINGS
    lot: Lot | None = None  # of the user's own sticks; None: the library's averages
    wood: Wood | None = None
    resized: Resized | None = None
    unknown: tuple[str, ...] = ()  # capacities known of the drawing's wood and not of this one
    refusal: Refusal | None = None  # why there is no size
    lighter: float = 1.0  # gravity of a lot that is below its species' average, over that average [1]

    @property
    def key(self) -> tuple[str, str | None]:
        """What tells it from the others: the species, and the name of the lot where it is one."""
        return self.species, None if self.lot is None else self.lot.name

    @property
    def weight(self) -> float:
        """Of the exact section, replacement over plan [1]; raises Missing where there is no size."""
        if self.resized is None:
            raise Missing("weight", f"{self.name} has no size here: {self.refusal}")
        return self.resized.ratios["weight"]


@record
class Ranking:
    """All woods, best first."""

    plan: Wood
    ask: Ask
    rows: tuple[Ranked, ...]

    def of(self, standing: str) -> tuple[Ranked, ...]:
        """The rows that stand there: compared, unknown or refused."""
        return tuple(row for row in self.rows if row.standing == standing)


def own_lots(rack: Iterable[Judged]) -> tuple[Lot, ...]:
    """The lots of a rack, in the order in which their first sticks stand there.

    Args:
        rack: the user's sticks, judged; may be empty.
    Returns:
        One for each lot and wood; sticks that were not measured are counted, and have no gravity.
    Source:
        the job.
    """
    groups: dict[tuple[str, str], list[Judged]] = {}
    for judged in rack:
        groups.setdefault((judged.stick.lot.strip(), judged.stick.species), []).append(judged)
    return tuple(
        Lot(
            name,
            species,
            len(group),
            tuple(
                (judged.stick.tag, judged.found.measured.sg_12)
                for judged in group
                if judged.found.measured is not None
            ),
        )
        for (name, species), group in groups.items()
    )


def asked(choice: SectionChoice, settings: Settings) -> Ask:
    """What a choice of the Section pane asks of every wood.

    Args:
        choice: of the pane.
        settings: for the sizes the shop can make.
    Returns:
        The question, whichever wood the choice is in; of a laminated replacement, for solid ones of one wood.
    Raises:
        Missing: a box or I without flange or web.
        OutOfRange: sizes of which no such shape can be.
    Source:
        the job.
    """
    return Ask(
        plan=made(
            choice.shape,
            choice.width.si,
            choice.depth.si,
            None if choice.flange is None else choice.flange.si,
            None if choice.web is None else choice.web.si,
        ),
        match=choice.match,
        hold=choice.hold,
        length_m=None if choice.free_length is None else choice.free_length.si,
        grid=settings.grid.exact,
        figures=AIRCRAFT if choice.gravity == AIRCRAFT else HANDBOOK,
        moisture=0.12 if choice.moisture is None else choice.moisture.si,
        own=choice.own,
        held_at=None if choice.held_at is None else choice.held_at.si,
        cap_side=choice.cap_side,
        cap=None if choice.cap is None else choice.cap.si,
        sizes=tuple(size.exact for size in settings.sizes),
    )


def rank(ask: Ask, plan: Species, woods: Mapping[str, Species], lots: Iterable[Lot] = ()) -> Ranking:
    """Every wood of the library and every own lot in place of the drawing's, best first.

    Lightest first among those that are compared; equally heavy ones by how little they give away: fewest
    capacities weaker or unknown, then the largest of their least ratios. What is unknown helps no wood up,
    and a lot that is lighter than its species never stands above it.

    Args:
        ask: what is asked of each.
        plan: the drawing's wood.
        woods: the library by species key.
        lots: of the user's own sticks; may be empty.
    Returns:
        The list; as long as library and lots together.
    Raises:
        Missing: the drawing's wood lacks a figure that the match needs.
        OutOfRange: a size, match, hold or moisture that no wood could be resized for.
    Source:
        each as resizing.resize; the order is our rule. A light lot by LOT_POWERS.
    """
    if ask.figures not in FIGURES:
        raise OutOfRange("figures", ask.figures, f"one of {', '.join(FIGURES)} is wanted")
    drawn = _wood(plan, ask)
    # What the drawing's own wood cannot be asked is the fault of the question, not of the other woods.
    resizing.resize(ask.plan, drawn, drawn, ask.match, ask.hold, ask.length_m, ask.grid, own=ask.own)
    rows = [_ranked(ask, drawn, species) for species in woods.values()]
    rows += [_ranked_lot(ask, drawn, woods, lot) for lot in lots]
    book = {row.species: _order(row) for row in rows if row.lot is None}
    return Ranking(drawn, ask, tuple(sorted(rows, key=lambda row: _order_of_lot(row, book))))


def _wood(species: Species, ask: Ask) -> Wood:
    if ask.figures == HANDBOOK:
        return strength.of(species, ask.moisture)
    return strength.aircraft(species)


def _lot_wood(species: Species, ask: Ask, gravity: float) -> tuple[Wood, float]:
    """The wood of a lot, and its gravity over the species' average where it is below that, else 1.

    With the strengths of the average a light lot would rank above its species for being light.
    """
    if ask.figures != HANDBOOK:
        raise Missing("figures", "aircraft design values are of a species, not of sticks")
    wood = strength.of(species, ask.moisture, gravity=gravity)
    lighter = gravity / strength.gravity_12(species)[0]
    if lighter >= 1:
        return wood, 1.0
    lowered = tuple((name, value * lighter ** LOT_POWERS[name]) for name, value in wood.strengths)
    return replace(wood, name=f"{wood.name}, lowered to the lot's gravity", strengths=lowered), lighter


def _ranked_lot(ask: Ask, plan: Wood, woods: Mapping[str, Species], lot: Lot) -> Ranked:
    species = woods.get(lot.species)
    if species is None:
        why = Missing("species", f"the library has no {lot.species}")
        return Ranked(lot.species, lot.species, UNKNOWN, lot, refusal=why)
    if lot.mean is None:
        why = Missing("gravity", f"no stick of the lot was floated or weighed yet, of {lot.sticks}")
        return Ranked(species.key, species.name, UNKNOWN, lot, refusal=why)
    return _ranked(ask, plan, species, lot)


def _ranked(ask: Ask, plan: Wood, species: Species, lot: Lot | None = None) -> Ranked:
    try:
        lighter = 1.0
        if lot is not None and lot.mean is not None:
            wood, lighter = _lot_wood(species, ask, lot.mean)
        else:
            wood = _wood(species, ask)
        resized = resizing.resize(
            ask.plan,
            plan,
            wood,
            ask.match,
            ask.hold,
            ask.length_m,
            ask.grid,
            own=ask.own,
            held_at=ask.held_at,
            cap_side=ask.cap_side,
            cap=ask.cap,
            sizes=ask.sizes,
        )
    except Missing as refusal:
        return Ranked(species.key, species.name, UNKNOWN, lot, refusal=refusal)
    except Refusal as refusal:
        return Ranked(species.key, species.name, REFUSED, lot, refusal=refusal)
    known = {name for name, _ in plan.strengths}
    unknown = tuple(name for name in resized.unknown if needs(name, ask.length_m) <= known)
    # Nothing is called weaker in nothing while something is not even known of it.
    open_promise = unknown and ask.match in PROMISE_OF_SEVERAL
    standing = UNKNOWN if open_promise else COMPARED
    return Ranked(species.key, species.name, standing, lot, wood, resized, unknown, lighter=lighter)


def _order_of_lot(row: Ranked, book: Mapping[str, _Order]) -> _Order:
    """A lot that is lighter than its species never stands above it: its strengths are an estimate."""
    order = _order(row)
    if row.lighter < 1 and order < book[row.species]:
        return *book[row.species][:-1], order[-1]
    return order


def _order(row: Ranked) -> _Order:
    place = STANDINGS.index(row.standing)
    lot = "" if row.lot is None else row.lot.name
    if row.standing != COMPARED or row.resized is None:
        return place, 0.0, 0, 0.0, row.name, lot
    lost = len(row.resized.weaker) + len(row.unknown)
    return place, round(row.weight, _HAIR), lost, -min(row.resized.ratios.values()), row.name, lot
