"""What a cut list comes to: pieces, sticks, waste, and the weight of all parts against the drawing's."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from bench.core import grading, strength
from bench.core.errors import Refusal
from bench.core.frozen import record
from bench.core.laminated import Laminated
from bench.core.moisture import density_at, gravity_at, shrinkage_of
from bench.core.records import Species
from bench.core.river import River, SizedPart
from bench.core.sectioning import AT_12, Woods
from bench.core.stretches import MADE, OFFCUT, PIECE, boards


@record
class Totals:
    """Counts, lengths and weights of a whole job; a weight that is not known is None."""

    pieces: int
    cut: int
    placed: int
    unplaced: int
    unplaced_critical: int
    sticks: int  # that something was cut from, or is to be; strips of one plank count as one
    fresh: int  # of them, nothing is cut from yet, and they are not ripped yet
    opened: Fraction  # length of all of them, of a ripped plank each strip [m]
    waste: Fraction  # of that, neither piece nor reusable offcut [m]
    moisture: float  # of all weights: the section's [1]
    new: float | None  # of all pieces in the wood they are made of, by its handbook average [kg]
    as_placed: float | None  # the same, by a stick's own gravity where it was measured [kg]
    drawn: float | None  # of the same pieces as drawn, in the drawing's wood [kg]
    by_stick: int  # pieces of `as_placed` that have their stick's own gravity
    unknown: tuple[str, ...]  # woods whose gravity the library does not know
    unsized: tuple[str, ...]  # parts that have no size in the new wood
    scarfed: bool  # whether some are lengths of a scarfed part, counted with what the joints overlap

    @property
    def waste_share(self) -> float:
        """Waste over the opened length; 0 where nothing is opened [1]."""
        return float(self.waste / self.opened) if self.opened else 0.0


@record
class _Piece:
    sized: SizedPart
    stick: str  # it lies on or was cut from; empty: it has no place
    section: tuple[Fraction, Fraction] | None  # None: it has no size in the new wood [m]
    count: int = 1


def totals(river: River, woods: Woods) -> Totals:
    """Add a job up.

    Args:
        river: the job with its plan.
        woods: the library by species key; may be empty, then no weight is known.
    Returns:
        The totals. A piece cut already counts with the section it was cut to.
    Source:
        wh282 eq. 4-14 for densities; the rest is counted.
    """
    rows = [row for board in boards(river) for row in board.rows]
    sawn = {cut.stick for cut in river.job.sawn}
    planned = {row.tag for row in river.plan.sticks if row.pieces} if river.plan is not None else set()
    origins = {stick.tag: stick.origin for stick in river.job.sticks}
    used = {origins.get(tag, tag) for tag in sawn | planned}
    # Strips of one plank and pieces of one stick are of one that was opened for them.
    opened_before = {origins.get(tag, tag) for tag in sawn}
    opened_before |= {stick.origin for stick in river.job.sticks if stick.lineage}
    opened = sum((run.length for row in rows for run in row.runs), Fraction(0))
    kept = (PIECE, MADE, OFFCUT)
    made = sum((run.length for row in rows for run in row.runs if run.kind in kept), Fraction(0))
    pieces = tuple(_pieces(river))
    left_out = [piece for piece in pieces if not piece.stick]
    scale = _Scale(river, woods)
    return Totals(
        pieces=sum(piece.count for piece in pieces),
        cut=len(river.job.cuts),
        placed=sum(len(row.pieces) for row in rows),
        unplaced=sum(piece.count for piece in left_out),
        unplaced_critical=sum(piece.count for piece in left_out if piece.sized.part.critical),
        sticks=len(used),
        fresh=len(used - opened_before),
        opened=opened,
        waste=opened - made,
        moisture=scale.moisture,
        new=_sum(scale.new(piece, own=False) for piece in pieces),
        as_placed=_sum(scale.new(piece, own=True) for piece in pieces),
        drawn=_sum(scale.drawn(piece) for piece in pieces),
        by_stick=sum(piece.count for piece in pieces if scale.rests_on_stick(piece)),
        unknown=tuple(sorted(scale.unknown)),
        unsized=tuple(dict.fromkeys(piece.sized.part.name for piece in pieces if piece.section is None)),
        scarfed=any(piece.sized.part.piece_of for piece in pieces),
    )


def _sum(weights: Iterator[float | None]) -> float | None:
    known = list(weights)
    return None if None in known else sum(weight for weight in known if weight is not None)


def _pieces(river: River) -> Iterator[_Piece]:
    """Every piece of the list: cut, laid out, and without a place."""
    by_name = {sized.part.name: sized for sized in river.parts}
    left = Counter({name: sized.part.quantity for name, sized in by_name.items()})
    for cut in river.job.cuts:
        sized = by_name[cut.part]
        made = (cut.width, cut.depth) if cut.width is not None and cut.depth is not None else None
        yield _Piece(sized, cut.stick, made or _section(sized))
        left[cut.part] -= 1
    for row in river.plan.sticks if river.plan is not None else ():
        for piece in row.pieces:
            if piece.part in by_name:  # else a length of a part that is not laid out yet
                yield _Piece(by_name[piece.part], row.tag, _section(by_name[piece.part]))
                left[piece.part] -= 1
    for name, count in left.items():
        if count > 0:
            yield _Piece(by_name[name], "", _section(by_name[name]), count)


def _section(sized: SizedPart) -> tuple[Fraction, Fraction] | None:
    return None if sized.barred_by == grading.BY_SIZE else (sized.width, sized.depth)


class _Scale:
    """Weighs pieces at the moisture of the section."""

    def __init__(self, river: River, woods: Woods) -> None:
        self.river, self.woods = river, woods
        asked = river.section.choice.moisture
        self.moisture = AT_12 if asked is None else asked.si
        self.unknown: set[str] = set()
        self.judged = river.judged
        self.known: dict[tuple[str, float | None], float | None] = {}
        resized = river.section.resized
        section = resized.shop_section if resized is not None else None
        self.layers = section if isinstance(section, Laminated) else None

    def new(self, piece: _Piece, own: bool) -> float | None:
        """Weight in the wood it is made of, by the average or with `own` by its stick's gravity [kg]."""
        if piece.section is None:
            return None
        if self.layers is not None and piece.sized.resized:
            return self._weight(piece, piece.section, self._of_layers(self.layers))
        judged = self.judged(piece.stick)
        species = judged.stick.species if judged is not None else piece.sized.species
        gravity = self._own(piece) if own else None
        return self._weight(piece, piece.section, self._density(species, gravity))

    def drawn(self, piece: _Piece) -> float | None:
        """Weight of the drawing's section in the drawing's wood [kg]."""
        part = piece.sized.part
        return self._weight(piece, (part.width.exact, part.depth.exact), self._density(part.species))

    def rests_on_stick(self, piece: _Piece) -> bool:
        """Whether the piece has a gravity of its own stick."""
        layered = self.layers is not None and piece.sized.resized
        return piece.section is not None and not layered and self._own(piece) is not None

    def _own(self, piece: _Piece) -> float | None:
        judged = self.judged(piece.stick)
        return None if judged is None or judged.found.measured is None else judged.found.measured.sg_12

    def _weight(
        self, piece: _Piece, section: tuple[Fraction, Fraction], density: float | None
    ) -> float | None:
        if density is None:
            return None
        return float(section[0] * section[1] * piece.sized.part.length.exact * piece.count) * density

    def _density(self, key: str, gravity: float | None = None) -> float | None:
        if (key, gravity) not in self.known:
            found = density(self.woods.get(key), self.moisture, gravity)
            if found is None:
                self.unknown.add(key)
            self.known[key, gravity] = found
        return self.known[key, gravity]

    def _of_layers(self, section: Laminated) -> float | None:
        """Density of the layers together."""
        weight, thick = 0.0, 0.0
        for ply in section.plies:
            rho = self._density(ply.wood.species)
            if rho is None:
                return None
            weight, thick = weight + rho * ply.thickness, thick + ply.thickness
        return weight / thick


def density(species: Species | None, moisture: float, gravity: float | None = None) -> float | None:
    """Density of a wood with its water, as the section's weight has it.

    Args:
        species: the wood; None: the library does not know it.
        moisture: mass of water over oven-dry mass [1].
        gravity: a stick's own, on the volume at 12 percent; None: the species' average [1].
    Returns:
        Density; None where no gravity is known, or it cannot be brought to that moisture [kg/m3].
    Source:
        wh282 eq. 4-10, 4-14, from the species file's average.
    """
    if species is None:
        return None
    try:
        base = strength.gravity_12(species)[0] if gravity is None else gravity
        there = base if moisture == AT_12 else gravity_at(base, AT_12, moisture, shrinkage_of(species)[0])
    except Refusal:
        return None
    return density_at(there, moisture)
