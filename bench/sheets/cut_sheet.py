"""The cut sheet: every cut of a job as a page of text, to print and to take to the saw."""

from collections.abc import Iterator, Mapping
from textwrap import wrap
from types import MappingProxyType

from bench import __version__, units
from bench.core import stretches
from bench.core.records import CutMade, Species
from bench.core.river import River, SizedPart
from bench.core.stretches import Board, Row, Run
from bench.core.totals import totals as add_up
from bench.sheets import cut_words as words
from bench.sheets import totals, wording

WIDTH = 78
NARROWEST = 60  # the columns of figures need that much
_BOX, _NUMBER, _PLACE = "[ ]", 5, 14  # columns: tick, number, and each of three places


def lines(
    river: River,
    width: int = WIDTH,
    woods: Mapping[str, Species] = MappingProxyType({}),
    printed: str = "",
) -> list[str]:
    """The cut sheet of a job.

    Args:
        river: the job with its plan.
        width: of a line, in characters; 60 at least.
        woods: the library by species key, for names and weights; may be empty.
        printed: the day it is printed; empty for none.
    Returns:
        Lines of at most that many characters.
    """
    page = _Page(river, max(width, NARROWEST), woods)
    return [
        *page.wrapped(words.title(river)),
        *page.wrapped(f"cut sheet, tenthmark {__version__}{f', {words.clean(printed)}' if printed else ''}"),
        "",
        *(line for text in words.state(river) for line in page.wrapped(text)),
        *page.wrapped(words.rules(river.job.settings)),
        *page.wrapped("All places are from the marked end. Stop: the length as sawn."),
        *page.cuts(),
        *page.unplaced(),
        *page.made(),
        *page.totals(),
        "",
        *page.wrapped(words.CAUTION),
        *page.wrapped(wording.CAUTION_SHORT),
    ]


class _Page:
    """Writes the parts of the sheet."""

    def __init__(self, river: River, width: int, woods: Mapping[str, Species]) -> None:
        self.river, self.width, self.woods = river, width, woods
        self.system = river.job.settings.units
        self.sized = {sized.part.name: sized for sized in river.parts}
        self.boards = stretches.boards(river)

    def wrapped(self, text: str, indent: str = "", hang: str = "  ") -> list[str]:
        """A text in lines, those after the first further in."""
        return wrap(text, self.width, initial_indent=indent, subsequent_indent=f"{indent}{hang}")

    def cuts(self) -> Iterator[str]:
        """Stick by stick, what is still to be cut."""
        for board in self.boards:
            if board.pieces:
                yield ""
                yield from self.head(board)
                for text in words.ripping(board, self.river.job.settings):
                    yield from self.wrapped(text, "  ")
                for row in board.rows:
                    yield from self.row(row)

    def head(self, board: Board) -> Iterator[str]:
        """A stick with its verdict, and what was found on it."""
        mark = words.mark(board)
        size = words.stick_size(board, self.system)
        text = f"{words.clean(board.stick.tag)}  {words.wood(board, self.woods)}, {size}"
        yield from self.wrapped(f"{text}{f'   ** {mark} **' if mark else ''}")
        yield from self.wrapped(words.verdict(board), "  ")
        yield from self.wrapped(words.found(board), "  ")

    def row(self, row: Row) -> Iterator[str]:
        """The cuts of a stick or strip, and what it leaves."""
        if row.strip:
            fence = f", fence {units.place(row.width, self.system, up=True)}" if row.width is not None else ""
            yield f"  strip {row.strip}{fence}"
        heads = f"{'stop':<{_PLACE}}{'from':<{_PLACE}}{'to':<{_PLACE}}part"
        yield f"  {'':<{len(_BOX)}} {'cut':<{_NUMBER}}{heads}"
        for piece in row.pieces:
            yield from self.piece(piece)
        for text in words.left(row, self.system):
            yield from self.wrapped(text, "      ")

    def piece(self, piece: Run) -> Iterator[str]:
        """One cut: figures and name, then what it is dressed to and what goes with it."""
        sized = self.sized.get(piece.part)
        stop = units.place(piece.length, self.system, up=True)
        places = (stop, *(units.place(place, self.system) for place in (piece.start, piece.end)))
        figures = "".join(f"{text:<{_PLACE}}" for text in places)
        first = f"  {_BOX} {piece.number:<{_NUMBER}}{figures}"
        name = wrap(words.clean(piece.part), self.width - len(first)) or [""]
        yield f"{first}{name[0]}"
        yield from (f"{'':<{len(first)}}{text}" for text in name[1:])
        yield from self.wrapped("; ".join(self.told(sized, piece)), " " * 11)

    def told(self, sized: SizedPart | None, piece: Run) -> Iterator[str]:
        """The second line of a cut."""
        group = words.clean(sized.part.group) if sized is not None else ""
        yield from (f"group {group}",) if group else ()
        each = (words.dress(sized, self.system), words.finished(sized, piece, self.system))
        yield from (text for text in (*each, *words.notes(sized)) if text)

    def unplaced(self) -> Iterator[str]:
        """Parts without a place, and why."""
        rows = words.unplaced(self.river)
        if rows:
            yield from ("", "Without a place")
        for count, part, why, critical in rows:
            yield from self.wrapped(f"{count} x {part}{', CRITICAL' if critical else ''}: {why}", "  ")

    def made(self) -> Iterator[str]:
        """What is cut already, stick by stick, and what is left of sticks that nothing more comes from."""
        sawn = {cut.stick for cut in self.river.job.sawn}
        done = [board for board in self.boards if board.stick.tag in sawn]
        if done:
            yield from ("", "Cut already")
        for board in done:
            mark = words.mark(board)
            size = words.stick_size(board, self.system)
            text = f"{words.clean(board.stick.tag)}  {words.wood(board, self.woods)}, {size}"
            yield from self.wrapped(f"{text}{f'   ** {mark} **' if mark else ''}", "  ")
            for cut in self.river.job.cuts:
                if cut.stick == board.stick.tag:
                    yield from self.wrapped(self.cut(cut), "    ")
            if not board.pieces:
                for text in words.left(board.rows[0], self.system):
                    yield from self.wrapped(text, "    ")

    def cut(self, cut: CutMade) -> str:
        """A piece that is off its stick."""
        size = words.made_size(cut, self.system)
        where = f"{units.place(cut.start, self.system)} to {units.place(cut.end, self.system)}"
        return f"[x] {words.clean(cut.part)}: {where}{f', {size}' if size else ''}"

    def totals(self) -> Iterator[str]:
        """The totals in two columns."""
        if not self.river.job.parts:
            return
        yield from ("", "Totals")
        found = add_up(self.river, self.woods)
        for name, text in totals.lines(found, self.river.job.settings, self.woods):
            yield from wrap(
                words.clean(text),
                self.width,
                initial_indent=f"  {name:<10}",
                subsequent_indent=" " * 12,
            )
