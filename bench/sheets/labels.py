"""Labels to cut apart with scissors: one for each stick of the rack, one for each piece of the list."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from bench import units
from bench.core import stretches
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.frozen import replace
from bench.core.judging import Judged
from bench.core.limits import USES
from bench.core.records import CutMade, Species
from bench.core.ripping import strip_tag
from bench.core.river import River, SizedPart
from bench.core.stretches import Board, Run
from bench.sheets import cut_words as words
from bench.sheets import heading, inspecting, wording
from bench.sheets.paper import Section, Sheet, Tags, Text, clean

_MOST = 8  # pieces that a label of a stick names one by one

Label = tuple[str, ...]


def sheet(river: River, woods: Mapping[str, Species] = MappingProxyType({}), printed: str = "") -> Sheet:
    """Labels for the sticks, the pieces to be cut, and the pieces cut already: to cut apart and to glue on.

    Args:
        river: the job with its plan.
        woods: the library by species key, for the names of woods; may be empty.
        printed: the day it is printed; empty for none.
    Returns:
        The sheet.
    """
    begun = heading.begun("labels", river.job, printed)
    return replace(begun, sections=sections(river, woods))


def sections(river: River, woods: Mapping[str, Species]) -> tuple[Section, ...]:
    """A section for each kind of label there is."""
    boards = {board.stick.tag: board for board in stretches.boards(river)}
    sized = {part.part.name: part for part in river.parts}
    invented = ("INVENTED",) if river.job.invented else ()
    sticks = [_stick(judged, boards.get(judged.stick.tag), river, woods) for judged in river.rack]
    pieces = [
        _piece(board, row.strip, piece, sized.get(piece.part), river)
        for board in boards.values()
        for row in board.rows
        for piece in row.pieces
    ]
    made = [_made(cut, sized.get(cut.part), river) for cut in river.job.cuts]
    kinds = (("Sticks", sticks), ("Pieces to be cut", pieces), ("Pieces cut already", made))
    found = tuple(
        Section(f"{head}: {len(labels)}", (Tags(tuple((*label, *invented) for label in labels)),))
        for head, labels in kinds
        if labels
    )
    return found or (Section("", (Text("no sticks and no parts: nothing to label"),)),)


def _stick(judged: Judged, board: Board | None, river: River, woods: Mapping[str, Species]) -> Label:
    stick, verdict, system = judged.stick, judged.verdict, river.job.settings.units
    shown = board or Board(judged, (), ())
    gravity = "gravity not measured"
    if verdict.value is not None and verdict.low is not None and verdict.high is not None:
        gravity = f"gravity {wording.gravity(verdict)} ({wording.band(verdict)}), oven-dry"
    return (
        f"STICK {clean(stick.tag)}{f', lot {clean(stick.lot)}' if stick.lot else ''}",
        words.wood(shown, woods),
        words.stick_size(shown, system),
        gravity,
        *((clean(f"CONDEMNED: {stick.condemned}"),) if stick.condemned else ()),
        *_verdicts(judged),
        *_from(board),
    )


def _verdicts(judged: Judged) -> tuple[str, ...]:
    """The verdict for each use; one line where all are the same, the worst ones first."""
    if len(set(judged.words.values())) == 1:
        return (f"every use {judged.words[USES[0]].upper()}",)
    order = (REJECT, HOLD, ACCEPT)
    ranked = sorted(USES, key=lambda use: order.index(judged.words[use]))
    return tuple(f"{inspecting.use_name(use)} {judged.words[use].upper()}" for use in ranked)


def _from(board: Board | None) -> Iterator[str]:
    """What comes from a stick, or came from it."""
    runs = [run for row in board.rows for run in row.runs] if board is not None else []
    pieces = [run for run in runs if run.kind == stretches.PIECE]
    made = sum(run.kind == stretches.MADE for run in runs)
    if not pieces and not made:
        yield "nothing is laid out on it"
    if made:
        yield f"{made} cut from it already"
    for run in pieces[:_MOST]:
        yield f"{run.number} {clean(run.part)}"
    if len(pieces) > _MOST:
        yield f"and {len(pieces) - _MOST} more"


def _piece(board: Board, strip: int, piece: Run, sized: SizedPart | None, river: River) -> Label:
    tag = strip_tag(board.stick.tag, strip) if strip else board.stick.tag
    mark = words.mark(board)
    return (
        f"CUT {piece.number}  {clean(piece.part)}",
        *_size(sized, river.job.settings.units),
        f"from {clean(tag)}{f', {mark}' if mark else ''}",
    )


def _made(cut: CutMade, sized: SizedPart | None, river: River) -> Label:
    system = river.job.settings.units
    size = words.made_size(cut, system)
    return (
        clean(cut.part),
        *_size(sized, system, size),
        f"cut from {clean(cut.stick)}",
    )


def _size(sized: SizedPart | None, system: str, made: str = "") -> Iterator[str]:
    if sized is None:
        return
    size = made or units.sides(sized.width, sized.depth, system)
    yield f"{size} x {units.place(sized.part.length.exact, system, up=True)}"
    told = [clean(sized.part.group)] if sized.part.group else []
    told += ["CRITICAL"] if sized.part.critical else []
    if told:
        yield ", ".join(told)
