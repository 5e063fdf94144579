"""The cut sheet: every stick drawn to scale with its cuts, parts without a place, what is cut, and totals."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from bench import units
from bench.core import stretches
from bench.core.frozen import replace
from bench.core.records import CutMade, Species
from bench.core.river import River, SizedPart
from bench.core.stretches import Board, Run
from bench.core.totals import totals as add_up
from bench.sheets import cut_drawing, heading, saw, totals, wording
from bench.sheets import cut_words as words
from bench.sheets.paper import (
    BELOW,
    FIGURE,
    MARK,
    SMALL,
    Block,
    Column,
    Drawing,
    Section,
    Sheet,
    Table,
    Text,
    table,
)

_CUTS = (
    Column("done", FIGURE),
    Column("cut", FIGURE),
    Column("stop", FIGURE),
    Column("from", FIGURE),
    Column("to", FIGURE),
    Column("part"),
    Column("group", BELOW, "group "),
    Column("fence", BELOW, "fence "),
    Column("dress to", BELOW, "dress to "),
    Column("notes", BELOW),
)
_MADE = (":done", "part", ":from", ":to", "cut to")
_BOX, _TICKED = "[ ]", "[x]"


def sheet(river: River, woods: Mapping[str, Species] = MappingProxyType({}), printed: str = "") -> Sheet:
    """The cut sheet of a job, to print and to take to the saw.

    Args:
        river: the job with its plan.
        woods: the library by species key, for names and weights; may be empty.
        printed: the day it is printed; empty for none.
    Returns:
        The sheet.
    """
    begun = heading.begun("cut sheet", river.job, printed)
    foot = (Text(words.CAUTION), Text(wording.CAUTION_SHORT))
    made = _Cuts(river, woods)
    return replace(begun, head=tuple(made.head()), sections=tuple(made.sections()), foot=foot, wide=True)


def chapter(river: River, woods: Mapping[str, Species]) -> Section:
    """The cut sheet as a chapter of a larger sheet."""
    made = _Cuts(river, woods)
    head = (*made.head(), Text(words.CAUTION))
    return Section("Cut sheet", head, tuple(made.sections()), fresh=True, wide=True)


class _Cuts:
    """Makes the parts of the sheet."""

    def __init__(self, river: River, woods: Mapping[str, Species]) -> None:
        self.river, self.woods, self.settings = river, woods, river.job.settings
        self.system = self.settings.units
        self.sized = {sized.part.name: sized for sized in river.parts}
        self.boards = stretches.boards(river)
        self.scale = cut_drawing.scale(self.boards, self.settings)

    def head(self) -> Iterator[Block]:
        """How the plan stands, and how to read what follows."""
        first, *rest = words.state(self.river)
        yield Text(first)
        yield from (Text(text, MARK) for text in rest)
        yield Text(words.rules(self.settings))
        yield Text("All places are from the marked end. Stop: the length as sawn.")
        if self.boards:
            yield Drawing(cut_drawing.key())
            yield Drawing(cut_drawing.bar(self.scale), self._legend())

    def _legend(self) -> str:
        return (
            "The marked end is on the left; figures under a stick are "
            f"{'millimetres' if self.system == 'mm' else 'inches'}. Letters above it are defects, in "
            "brackets where they may stay in a part; numbers are those of the cuts."
        )

    def sections(self) -> Iterator[Section]:
        """Every stick: those to be cut from, then those that nothing more comes from; then the rest."""
        heads = {True: "Sticks to be cut", False: "Sticks that nothing more comes from"}
        for to_come, title in heads.items():
            shown = [(n, one) for n, one in enumerate(self.boards, 1) if bool(one.pieces) == to_come]
            if shown:
                yield Section(title, sections=tuple(self.stick(one, f"stick-{n}") for n, one in shown))
        left_out = words.unplaced(self.river)
        if left_out:
            rows = tuple(
                (str(count), part, "CRITICAL" if critical else "", why)
                for count, part, why, critical in left_out
            )
            yield Section("Without a place", (table((":pieces", "part", "", "why"), rows),))
        if self.river.job.parts:
            found = add_up(self.river, self.woods)
            told = totals.lines(found, self.settings, self.woods)
            yield Section("Totals", (table((":", ""), told),))

    def stick(self, board: Board, name: str) -> Section:
        """One stick: its verdict, how it is ripped, the drawing, its cuts, and what it leaves."""
        size = words.stick_size(board, self.system)
        title = f"{board.stick.tag}: {words.wood(board, self.woods)}, {size}"
        facts = [text for text in (words.verdict(board), words.found(board, letters=True)) if text]
        blocks: list[Block] = [Text(text, SMALL) for text in facts]
        blocks += [Text(text) for text in words.ripping(board, self.settings)]
        blocks.append(Drawing(cut_drawing.drawing(board, self.scale, self.settings, name)))
        for row in board.rows:
            strip = f"strip {row.strip}"
            if row.strip and row.width is not None:
                strip += f", fence {units.place(row.width, self.system, up=True)}"
            blocks += [Text(strip)] if row.strip else []
            blocks += (
                [Table(_CUTS, tuple(self.cut(board, piece) for piece in row.pieces))] if row.pieces else []
            )
            left = "; ".join(words.left(row, self.system))
            blocks += [Text(left, SMALL)] if left else []
        made = tuple(self.made(cut) for cut in self.river.job.cuts if cut.stick == board.stick.tag)
        blocks += [table(_MADE, made)] if made else []
        return Section(title, tuple(blocks), mark=words.mark(board), whole=True)

    def cut(self, board: Board, piece: Run) -> tuple[str, ...]:
        """One cut: figures and name, then what it is ripped and dressed to and what goes with it."""
        sized = self.sized.get(piece.part)
        stop = units.place(piece.length, self.system, up=True)
        places = (stop, *(units.place(place, self.system) for place in (piece.start, piece.end)))
        size = words.dress(sized, self.system).removeprefix("dress to ")
        group = sized.part.group if sized is not None else ""
        fence = self.fence(board, sized).removeprefix("fence ")
        return (_BOX, str(piece.number), *places, piece.part, group, fence, size, self.told(sized, piece))

    def fence(self, board: Board, sized: SizedPart | None) -> str:
        """As at the saw; of a strip for the side that the rip has not made; nothing where none is set."""
        if sized is None:
            return ""
        found = saw.sides(board.stick, sized, self.settings)
        left = found[1:] if board.ripped else found
        return saw.fence(left, self.system) if not found or any(side.ripped for side in left) else ""

    def told(self, sized: SizedPart | None, piece: Run) -> str:
        """What goes with a cut beside its sizes."""
        said = (words.finished(sized, piece, self.system), *words.notes(sized))
        return "; ".join(text for text in said if text)

    def made(self, cut: CutMade) -> tuple[str, ...]:
        """A piece that is off its stick."""
        places = (units.place(place, self.system) for place in (cut.start, cut.end))
        return (_TICKED, cut.part, *places, words.made_size(cut, self.system))
