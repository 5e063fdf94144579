"""Every stick that is cut from, as stretches end to end: pieces, blade, lost wood and what is left.

All places are exact, from the stick's marked end [m]. The stretches of a row add up to the stick.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from bench.core import cutting, sawing
from bench.core.cutting_records import CutStick, Span, StickPlan
from bench.core.defects import KEPT_IN
from bench.core.frozen import record
from bench.core.judging import Judged
from bench.core.records import CutMade, Defect, Job, Settings, Spoilt, Stick
from bench.core.river import River

PIECE, MADE, SPOILT = "piece", "made", "spoilt"
LOST = "lost"  # defects, with the margin beside them
TRIM = "trim"
OFFCUT = "offcut"  # of use: as long as the shop's least one
SCRAP = "scrap"  # left over and too short to be of use
KERF = "kerf"
EDGE, STRIP, RIP_KERF, REST = "edge", "strip", "rip_kerf", "rest"  # across a plank

_NOTHING = Fraction(0)


@record
class Run:
    """A stretch of a stick that is one thing from start to end."""

    kind: str
    start: Fraction  # [m]
    end: Fraction  # [m]
    part: str = ""  # of a piece, cut already or not, and of a spoilt one
    number: int = 0  # of a piece still to be cut, as at the saw
    defects: tuple[Defect, ...] = ()  # that make it lost
    why: str = ""  # it was spoilt

    @property
    def length(self) -> Fraction:
        """[m]"""
        return self.end - self.start


@record
class Row:
    """A stick from end to end, or one strip of a plank."""

    strip: int  # from 1 in the order ripped; 0: not ripped
    width: Fraction | None  # the fence for that strip [m]
    runs: tuple[Run, ...]

    @property
    def pieces(self) -> tuple[Run, ...]:
        """Those still to be cut."""
        return tuple(run for run in self.runs if run.kind == PIECE)


@record
class Band:
    """A stretch across a plank."""

    kind: str
    low: Fraction  # from the edge that is ripped first [m]
    high: Fraction  # [m]
    row: Row | None = None  # of a strip


@record
class Board:
    """A stick of the rack with everything that is, or was, cut from it."""

    judged: Judged
    rows: tuple[Row, ...]
    uses: tuple[str, ...]  # what its pieces become, each once, in the order of the pieces

    @property
    def stick(self) -> Stick:
        """The stick itself."""
        return self.judged.stick

    @property
    def across(self) -> Fraction:
        """Its larger side [m]."""
        return max(self.stick.width.exact, self.stick.depth.exact)

    @property
    def ripped(self) -> bool:
        """Whether it is ripped before it is crosscut."""
        return any(row.strip for row in self.rows)

    @property
    def pieces(self) -> tuple[Run, ...]:
        """Those still to be cut, of every row."""
        return tuple(piece for row in self.rows for piece in row.pieces)

    @property
    def words(self) -> tuple[str, ...]:
        """Accept, hold or reject, for each of `uses`."""
        return tuple(self.judged.words[use] for use in self.uses)

    def bands(self, settings: Settings) -> tuple[Band, ...]:
        """What lies side by side across it, from the edge that is ripped first; its whole side if not ripped.

        What is planned to stand beyond the plank is left as it is, so that it shows.
        """
        if not self.ripped:
            return tuple(Band(STRIP, _NOTHING, self.across, row) for row in self.rows)
        kerf, here = (settings.rip_kerf or settings.kerf).exact, settings.edge.exact
        found = [Band(EDGE, _NOTHING, here)] if here else []
        for row in self.rows:
            after = here + (self.across - here if row.width is None else row.width)
            found.append(Band(STRIP, here, after, row))
            here = min(after + kerf, max(after, self.across))
            if here > after:
                found.append(Band(RIP_KERF, after, here))
        return (*found, *([Band(REST, here, self.across)] if here < self.across else []))


def boards(river: River) -> tuple[Board, ...]:
    """Every stick that something is cut from: those still to be sawn in their order, then those that were.

    Args:
        river: with its plan; without one only what is cut already is told.
    Returns:
        The boards; none where nothing is cut and nothing laid out.
    """
    rows: dict[str, list[StickPlan]] = {}
    numbers: dict[tuple[str, int, Fraction], int] = {}
    if river.plan is not None:
        by_tag: dict[str, list[StickPlan]] = {}
        for row in river.plan.sticks:
            by_tag.setdefault(row.tag, []).append(row)
        for step in sawing.queue(river.job, river.plan):
            piece = step.piece
            numbers[piece.stick, piece.strip, piece.start] = step.number
            rows.setdefault(piece.stick, by_tag[piece.stick])
    for cut in river.job.sawn:
        rows.setdefault(cut.stick, [])
    uses = {part.name: part.use for part in river.job.parts}
    return tuple(
        _board(river.job, judged, plans, numbers, uses)
        for tag, plans in rows.items()
        if (judged := river.judged(tag)) is not None
    )


def _board(
    job: Job,
    judged: Judged,
    plans: Sequence[StickPlan],
    numbers: Mapping[tuple[str, int, Fraction], int],
    uses: Mapping[str, str],
) -> Board:
    stick, sawn = judged.stick, [cut for cut in job.sawn if cut.stick == judged.stick.tag]
    rows = [
        Row(plan.strip, plan.width, _runs(job.settings, stick, sawn, plan.offcuts, _planned(plan, numbers)))
        for plan in plans
        if plan.pieces
    ]
    if not rows:
        rows = [Row(0, None, _runs(job.settings, stick, sawn, _clear(job.settings, stick, sawn), ()))]
    names = [run.part for row in rows for run in row.runs if run.kind in (PIECE, MADE)]
    return Board(judged, tuple(rows), tuple(dict.fromkeys(uses[name] for name in names if name in uses)))


def _planned(plan: StickPlan, numbers: Mapping[tuple[str, int, Fraction], int]) -> tuple[Run, ...]:
    return tuple(
        Run(PIECE, piece.start, piece.end, piece.part, numbers.get((plan.tag, plan.strip, piece.start), 0))
        for piece in plan.pieces
    )


def _runs(
    settings: Settings,
    stick: Stick,
    sawn: Sequence[CutMade | Spoilt],
    offcuts: Sequence[Span],
    pieces: Sequence[Run],
) -> tuple[Run, ...]:
    """The stretches of one row, end to end."""
    length, trim = stick.length.exact, settings.end_trim.exact
    made = [
        Run(SPOILT, cut.start, cut.end, cut.part, why=cut.why)
        if isinstance(cut, Spoilt)
        else Run(MADE, cut.start, cut.end, cut.part)
        for cut in sawn
    ]
    ends = [Run(TRIM, _NOTHING, trim), Run(TRIM, length - trim, length)]
    left = [
        Run(OFFCUT if end - start >= settings.least_offcut.exact else SCRAP, start, end)
        for start, end in offcuts
    ]
    ranked = [*pieces, *made, *_lost(settings, stick), *ends, *left]
    return tuple(_end_to_end(length, ranked, settings.kerf.exact))


def _lost(settings: Settings, stick: Stick) -> list[Run]:
    """The stretches that are cut round, those that meet made one."""
    margin = settings.margin.exact
    zones: list[Run] = []
    for defect in sorted(stick.defects, key=lambda one: min(one.start.exact, one.end.exact)):
        if defect.kind in KEPT_IN:
            continue
        low, high = sorted((defect.start.exact, defect.end.exact))
        low, high = low - margin, high + margin
        found: tuple[Defect, ...] = (defect,)
        if zones and low <= zones[-1].end:
            last = zones.pop()
            low, high, found = last.start, max(last.end, high), (*last.defects, defect)
        zones.append(Run(LOST, low, high, defects=found))
    return zones


def _clear(settings: Settings, stick: Stick, sawn: Iterable[CutMade | Spoilt]) -> tuple[Span, ...]:
    """What is left of a stick of which nothing more is planned."""
    kerf = settings.kerf.exact
    gone = [(cut.start - kerf, cut.end + kerf) for cut in sawn]
    lost = (*((run.start, run.end) for run in _lost(settings, stick)), *gone)
    rules = cutting.CutRules(kerf, settings.end_trim.exact, _NOTHING, _NOTHING, _NOTHING)
    return cutting.clear_lengths(CutStick(stick.tag, stick.length.exact, lost), rules)


def _end_to_end(length: Fraction, ranked: Sequence[Run], kerf: Fraction) -> Iterator[Run]:
    """A stick from end to end: at each place what comes first in the list, else the blade or scrap."""
    edges: dict[Fraction, list[tuple[int, bool]]] = {_NOTHING: [], length: []}
    for rank, run in enumerate(ranked):
        low, high = max(_NOTHING, run.start), min(length, run.end)
        if low < high:
            edges.setdefault(low, []).append((rank, True))
            edges.setdefault(high, []).append((rank, False))
    here, first, on = _NOTHING, None, set[int]()
    for place in sorted(edges):
        for rank, begins in edges[place]:
            (on.add if begins else on.discard)(rank)
        found = min(on, default=-1)
        if place == _NOTHING:
            first = found
        elif found != first or place == length:
            yield _cut_out(ranked, first, here, place, kerf)
            here, first = place, found


def _cut_out(ranked: Sequence[Run], rank: int | None, start: Fraction, end: Fraction, kerf: Fraction) -> Run:
    if rank is None or rank < 0:
        return Run(KERF if end - start <= kerf else SCRAP, start, end)
    run = ranked[rank]
    return Run(run.kind, start, end, run.part, run.number, run.defects, run.why)
