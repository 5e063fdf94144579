"""From a part back to the wood, and from a stick on to every part: what each of them rests on.

A part -> the pieces made of it -> the sticks they came from, with their readings, verdicts and coupons; the
section it has; and when each of them was accepted. A stick -> what was sawn from it -> the parts.
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from bench.core import breaks
from bench.core.concerning import Concern, concerns
from bench.core.edits import BringIn, MarkCut
from bench.core.frozen import record
from bench.core.history import REDO, UNDO, Entry
from bench.core.judging import Judged
from bench.core.records import CutMade, Laid, Part
from bench.core.river import River, SizedPart


@record
class Noted:
    """An entry of the record, by its number and its time."""

    number: int  # from 1
    at: str  # ISO


class Notes:
    """Where in the record the things of a job were accepted; goes on with every entry that is added."""

    def __init__(self) -> None:
        self.parts: dict[str, list[Noted]] = {}
        self.sticks: dict[str, list[Noted]] = {}  # everything about a stick but what was sawn from it
        self.cuts: dict[CutMade, Noted] = {}  # the last time each was marked
        self._sections: list[Noted] = []  # choices of a section, that which holds last
        self._undone: list[Noted] = []

    @property
    def section(self) -> Noted | None:
        """The choice of a section that holds now, as far as it was one."""
        return self._sections[-1] if self._sections else None

    def add(self, here: Noted, entry: Entry, about: Concern) -> None:
        """The next entry of the record, with what it is about."""
        if isinstance(entry.edit, MarkCut):
            self.cuts[entry.edit.cut] = here
        if isinstance(entry.edit, BringIn):
            self.cuts.update(dict.fromkeys(entry.edit.cuts, here))
        if entry.edit is not None:
            self._undone.clear()
        if "section" in about.kinds:
            self._choose(here, entry)
        if "saw" in about.kinds and "stick" not in about.kinds and about.parts:
            return  # pieces are told as pieces
        for name in about.parts:
            self.parts.setdefault(name, []).append(here)
        for tag in about.sticks:
            if "section" not in about.kinds or "parcel" in about.kinds:
                self.sticks.setdefault(tag, []).append(here)

    def _choose(self, here: Noted, entry: Entry) -> None:
        """Undone, the choice before it holds again; made again, that choice, and not the undoing."""
        if entry.edit is not None:
            self._sections.append(here)
        elif entry.what == UNDO and self._sections:
            self._undone.append(self._sections.pop())
        elif entry.what == REDO and self._undone:
            self._sections.append(self._undone.pop())


@record
class Piece:
    """A piece of a part: cut from a stick, or laid out on it."""

    part: str  # of a scarfed part the length
    stick: str
    start: Fraction  # from the stick's marked end [m]
    end: Fraction  # [m]
    cut: CutMade | None  # None: not cut yet
    noted: Noted | None


@record
class StickTrace:
    """A stick with what it was sawn from, what was made of it and what was broken of it and its lot."""

    tag: str
    judged: Judged | None  # None: it is no longer in the rack
    noted: tuple[Noted, ...]
    lineage: tuple[str, ...]  # what it was sawn from, what came into the rack first
    offspring: tuple[str, ...]  # tags of sticks that were sawn from it
    pieces: tuple[Piece, ...]  # of it and of what was sawn from it
    coupons: tuple[breaks.Result, ...]


@record
class PartTrace:
    """A part with all it rests on."""

    part: Part
    sized: SizedPart
    noted: tuple[Noted, ...]
    section: Noted | None  # when the section choice that sizes it was accepted; None: it is as drawn
    pieces: tuple[Piece, ...]
    missing: int  # pieces that have no place
    sticks: tuple[StickTrace, ...]


def notes(record: Sequence[tuple[str, Entry]]) -> Notes:
    """Where in the record each thing was accepted.

    Args:
        record: every entry with its time, from the start of the job.
    Returns:
        The notes; undoing and redoing are among them.
    Source:
        the record.
    """
    found = Notes()
    about = concerns(entry for _, entry in record)
    for number, ((at, entry), one) in enumerate(zip(record, about, strict=True), start=1):
        found.add(Noted(number, at), entry, one)
    return found


def of_part(name: str, river: River, noted: Notes) -> PartTrace | None:
    """A part with the section, pieces and sticks it rests on.

    Args:
        name: of the part.
        river: of the job as it is.
        noted: of its record.
    Returns:
        The trace; None where the job has no such part.
    Source:
        the job and its record.
    """
    sized = next((one for one in river.parts if one.part.name == name), None)
    if sized is None:
        return None
    lines = {name, *(part.name for part in river.job.parts if part.piece_of == name)}
    pieces = [piece for piece in _pieces(river, noted) if piece.part in lines]
    tags = dict.fromkeys(piece.stick for piece in pieces)
    return PartTrace(
        sized.part,
        sized,
        tuple(noted.parts.get(name, ())),
        noted.section if sized.resized else None,
        tuple(pieces),
        _missing(lines, river),
        tuple(of_stick(tag, river, noted) for tag in tags),
    )


def _missing(lines: set[str], river: River) -> int:
    if river.plan is None:
        return 0
    return sum(out.quantity for out in river.plan.unplaced if out.part in lines)


def _pieces(river: River, noted: Notes) -> list[Piece]:
    """Every piece cut, then every piece laid out."""
    made = [
        Piece(cut.part, cut.stick, cut.start, cut.end, cut, noted.cuts.get(cut)) for cut in river.job.cuts
    ]
    return made + [Piece(one.part, one.stick, one.start, one.end, None, None) for one in _laid(river)]


def _laid(river: River) -> Iterable[Laid]:
    if river.plan is None:
        return ()
    return (
        Laid(piece.part, stick.tag, piece.start, piece.end)
        for stick in river.plan.sticks
        for piece in stick.pieces
    )


def of_stick(tag: str, river: River, noted: Notes) -> StickTrace:
    """A stick with what it was sawn from and what became of it.

    Args:
        tag: of the stick; one that is no longer in the rack, as a plank that was ripped, has no verdict.
        river: of the job as it is.
        noted: of its record.
    Returns:
        The trace.
    Source:
        the job and its record.
    """
    judged = river.judged(tag)
    offspring = tuple(stick.tag for stick in river.job.sticks if tag in stick.lineage)
    tags = {tag, *offspring}
    lot = judged.stick.lot if judged is not None else ""
    return StickTrace(
        tag,
        judged,
        tuple(noted.sticks.get(tag, ())),
        judged.stick.lineage if judged is not None else (),
        offspring,
        tuple(piece for piece in _pieces(river, noted) if piece.stick in tags),
        tuple(found for found in river.coupons if _of_wood(found, tags, lot)),
    )


def _of_wood(found: breaks.Result, tags: set[str], lot: str) -> bool:
    """Whether a coupon was cut from one of these sticks, or is of the same lot."""
    return found.coupon.stick in tags or (bool(lot) and found.lot.casefold() == lot.casefold())
