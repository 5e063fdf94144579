"""The rack by lots: for each lot and wood how many sticks, how heavy, and what they are good for."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import floor
from statistics import fmean, stdev

from textual.content import Content

from bench import units
from bench.core.acceptance import ACCEPT, REJECT
from bench.core.frozen import record
from bench.core.judging import Judged
from bench.core.limits import USES
from bench.core.quantities import INCH
from bench.core.records import CutMade, Species, Spoilt
from bench.ui.drawing import DIM, line

NO_LOT = "no lot"
# Title and width of each figure; the lot and its wood stand on a line of their own above them.
_TITLES = (
    ("sticks", 6), ("read", 4), ("mean G", 6), ("spread", 6), ("least", 6), ("most", 6),
    ("small", 5), ("flange", 6), ("spar", 4), ("hold", 4), ("reject", 6), ("unsawn", 7),
)  # fmt: skip


@record
class Lot:
    """The sticks of one lot and wood."""

    name: str
    species: str
    sticks: int
    gravities: tuple[float, ...]  # of those that were read: oven-dry mass on oven-dry volume [1]
    good: tuple[int, ...]  # accepted, by the uses of limits.USES
    held: int  # accepted for no use, and not rejected for all
    rejected: int  # for every use
    left: Fraction  # what is not sawn off them yet, kerfs not counted [m]

    @property
    def mean(self) -> float | None:
        """Of the gravities [1]."""
        return fmean(self.gravities) if self.gravities else None

    @property
    def spread(self) -> float | None:
        """Standard deviation of the gravities as a sample, None for fewer than two [1]."""
        return stdev(self.gravities) if len(self.gravities) > 1 else None


def lots(rack: Iterable[Judged], cuts: Iterable[CutMade | Spoilt]) -> tuple[Lot, ...]:
    """The lots of a rack, in the order in which their first sticks stand there."""
    sawn: dict[str, Fraction] = {}
    for cut in cuts:
        sawn[cut.stick] = sawn.get(cut.stick, Fraction(0)) + cut.end - cut.start
    groups: dict[tuple[str, str], list[Judged]] = {}
    for judged in rack:
        groups.setdefault((judged.stick.lot.strip(), judged.stick.species), []).append(judged)
    return tuple(_lot(name, species, group, sawn) for (name, species), group in groups.items())


def _lot(name: str, species: str, group: Sequence[Judged], sawn: dict[str, Fraction]) -> Lot:
    words = [judged.words for judged in group]
    rejected = sum(all(word == REJECT for word in of.values()) for of in words)
    good = tuple(sum(of[use] == ACCEPT for of in words) for use in USES)
    values = (judged.verdict.value for judged in group)
    return Lot(
        name=name or NO_LOT,
        species=species,
        sticks=len(group),
        gravities=tuple(value for value in values if value is not None),
        good=good,
        held=sum(ACCEPT not in of.values() for of in words) - rejected,
        rejected=rejected,
        left=sum(
            (judged.stick.length.exact - sawn.get(judged.stick.tag, Fraction(0)) for judged in group),
            Fraction(0),
        ),
    )


def lot_rows(found: Iterable[Lot], woods: dict[str, Species], system: str) -> list[Content]:
    """The lots as lines: titles, then two for each."""
    rows = [line(("  " + " ".join(title.rjust(width) for title, width in _TITLES), DIM))]
    for lot in found:
        species = woods.get(lot.species)
        rows.append(line((lot.name, "bold"), f"  {species.name if species else lot.species}"))
        least, most = min(lot.gravities, default=None), max(lot.gravities, default=None)
        figures = (
            *(str(count) for count in (lot.sticks, len(lot.gravities))),
            *(
                units.gravity(value) if value is not None else "--"
                for value in (lot.mean, lot.spread, least, most)
            ),
            *(str(count) for count in (*lot.good, lot.held, lot.rejected)),
            _length(lot.left, system),
        )
        cells = (text.rjust(width) for text, (_, width) in zip(figures, _TITLES, strict=True))
        rows.append(Content("  " + " ".join(cells)))
    return rows


def _length(metres: Fraction, system: str) -> str:
    """In whole feet or tenths of a metre, never more than there is."""
    return f"{floor(metres * 10) / 10:.1f} m" if system == "mm" else f"{floor(metres / (12 * INCH))} ft"
