"""The cut list as one page to print: every stick drawn to scale, the list of cuts, and the totals."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from html import escape
from types import MappingProxyType

from bench import __version__, units
from bench.core import stretches
from bench.core.records import Species
from bench.core.river import River
from bench.core.stretches import Board, Run
from bench.core.totals import totals as add_up
from bench.sheets import cut_drawing, totals, wording
from bench.sheets import cut_words as words

_STYLE = """
@page { size: landscape; margin: 12mm; }
html { background: #fff; color: #000; font: 11pt/1.35 sans-serif; }
body { max-width: 273mm; margin: 0 auto; padding: 4mm; }
h1 { font-size: 16pt; margin: 0; }
h2 { font-size: 13pt; margin: 6mm 0 2mm; break-after: avoid; page-break-after: avoid; }
h3 { font-size: 11pt; margin: 0; break-after: avoid; page-break-after: avoid; }
p { margin: 1mm 0; }
.mark { border: 0.6mm solid #000; padding: 0 1.5mm; font-weight: bold; }
.small { font-size: 9pt; }
section.stick { break-inside: avoid; page-break-inside: avoid; border-top: 0.3mm solid #000;
  margin: 3mm 0 0; padding: 2mm 0 1mm; }
svg { display: block; max-width: 100%; height: auto; print-color-adjust: exact;
  -webkit-print-color-adjust: exact; }
table { border-collapse: collapse; width: 100%; }
thead { display: table-header-group; }
tr { break-inside: avoid; page-break-inside: avoid; }
th, td { border: 0.2mm solid #000; padding: 0.6mm 1.5mm; text-align: left; vertical-align: top; }
td.figure { white-space: nowrap; }
@media print { body { max-width: none; padding: 0; } }
"""
_HEADS = ("done", "cut", "stick", "stop", "from", "to", "part", "group", "dress to", "notes")


def page(river: River, woods: Mapping[str, Species] = MappingProxyType({}), printed: str = "") -> str:
    """The cut list of a job as one page that needs nothing but itself.

    Args:
        river: the job with its plan.
        woods: the library by species key, for names and weights; may be empty.
        printed: the day it is printed; empty for none.
    Returns:
        A whole HTML document, without script and without a link.
    """
    made = _Page(river, woods)
    body = "\n".join((*made.head(printed), *made.sticks(), *made.cuts(), *made.rest()))
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(words.title(river))}: cut list</title>\n<style>{_STYLE}</style>\n</head>\n"
        f"<body>\n{body}\n</body>\n</html>\n"
    )


class _Page:
    """Writes the parts of the page."""

    def __init__(self, river: River, woods: Mapping[str, Species]) -> None:
        self.river, self.woods, self.settings = river, woods, river.job.settings
        self.system = self.settings.units
        self.boards = stretches.boards(river)
        self.scale = cut_drawing.scale(self.boards, self.settings)
        self.sized = {sized.part.name: sized for sized in river.parts}

    def head(self, printed: str) -> Iterator[str]:
        """What job this is, how the plan stands, and how to read the drawings."""
        yield f"<h1>{escape(words.name(self.river))}</h1>"
        if self.river.job.invented:
            yield f'<p><span class="mark">{escape(words.INVENTED)}</span></p>'
        day = f", {words.clean(printed)}" if printed else ""
        yield _p(f"cut list, tenthmark {__version__}{day}", "small")
        yield from (_p(text) for text in words.state(self.river))
        yield _p(words.rules(self.settings))
        yield _p(words.CAUTION)
        yield _p(wording.CAUTION_SHORT)
        if self.boards:
            yield _p(
                "Places are from the marked end, which is on the left; figures under a stick are "
                f"{'millimetres' if self.system == 'mm' else 'inches'}. Letters above it are defects, "
                "in brackets where they may stay in a part; numbers are those of the cuts.",
                "small",
            )
            yield cut_drawing.key()
            yield cut_drawing.bar(self.scale)

    def sticks(self) -> Iterator[str]:
        """Every stick with its drawing: those to be cut from, then those that nothing more comes from."""
        heads = {True: "Sticks to be cut", False: "Sticks that nothing more comes from"}
        for to_come, head in heads.items():
            shown = [(n, one) for n, one in enumerate(self.boards, 1) if bool(one.pieces) == to_come]
            if shown:
                yield f"<h2>{head}</h2>"
            for n, board in shown:
                yield from ('<section class="stick">', *self.stick(board, f"stick-{n}"), "</section>")

    def stick(self, board: Board, name: str) -> Iterator[str]:
        """One stick: its verdict, how it is ripped, the drawing, and what its numbers stand for."""
        mark = words.mark(board)
        marked = f' <span class="mark">{escape(mark)}</span>' if mark else ""
        said = f"{words.wood(board, self.woods)}, {words.stick_size(board, self.system)}"
        yield f"<h3>{escape(words.clean(board.stick.tag))}: {escape(said)}{marked}</h3>"
        facts = [text for text in (words.verdict(board), words.found(board, letters=True)) if text]
        yield _p(". ".join(facts), "small") if facts else ""
        ripping = words.ripping(board, self.settings)
        if ripping:
            yield _p(f"{ripping[0]} {'; '.join(ripping[1:])}.")
        yield cut_drawing.drawing(board, self.scale, self.settings, name)
        told = [
            f"{run.number} {words.clean(run.part)} {units.place(run.length, self.system, up=True)}"
            for run in board.pieces
        ]
        left = [text for row in board.rows for text in words.left(row, self.system)]
        yield from (_p("; ".join(texts), "small") for texts in (told, left) if texts)

    def cuts(self) -> Iterator[str]:
        """The list of cuts in the order of the saw."""
        rows = [
            (piece.number, self.cut(board, row.strip, piece))
            for board in self.boards
            for row in board.rows
            for piece in row.pieces
        ]
        if rows:
            yield "<h2>Cuts</h2>"
            yield from _table(_HEADS, (cells for _, cells in sorted(rows)), figures=6)

    def cut(self, board: Board, strip: int, piece: Run) -> tuple[str, ...]:
        """One row of the list."""
        sized, mark = self.sized.get(piece.part), words.mark(board)
        tag = f"{board.stick.tag}{f', strip {strip}' if strip else ''}{f' ({mark})' if mark else ''}"
        stop = units.place(piece.length, self.system, up=True)
        places = (stop, *(units.place(place, self.system) for place in (piece.start, piece.end)))
        size = words.dress(sized, self.system).removeprefix("dress to ")
        told = [text for text in (words.finished(sized, piece, self.system), *words.notes(sized)) if text]
        group = sized.part.group if sized is not None else ""
        return ("", str(piece.number), tag, *places, piece.part, group, size, "; ".join(told))

    def rest(self) -> Iterator[str]:
        """Parts without a place, what is cut already, and the totals."""
        left_out = words.unplaced(self.river)
        if left_out:
            yield "<h2>Without a place</h2>"
            rows = (
                (str(count), part, "CRITICAL" if critical else "", why)
                for count, part, why, critical in left_out
            )
            yield from _table(("pieces", "part", "", "why"), rows)
        if self.river.job.cuts:
            yield "<h2>Cut already</h2>"
            yield from _table(("stick", "from", "to", "part", "cut to"), self.made(), figures=3)
        if self.river.job.parts:
            yield "<h2>Totals</h2>"
            found = add_up(self.river, self.woods)
            yield from _table(("", ""), totals.lines(found, self.settings, self.woods))

    def made(self) -> Iterator[tuple[str, ...]]:
        """A row for each piece that is off its stick."""
        for cut in self.river.job.cuts:
            places = (units.place(place, self.system) for place in (cut.start, cut.end))
            yield (cut.stick, *places, cut.part, words.made_size(cut, self.system))


def _p(text: str, style: str = "") -> str:
    of_class = f' class="{style}"' if style else ""
    return f"<p{of_class}>{escape(text)}</p>"


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]], figures: int = 0) -> Iterator[str]:
    """A table; the first so many columns are never broken within a cell."""
    yield "<table>"
    if any(heads):
        yield f"<thead><tr>{''.join(f'<th>{escape(head)}</th>' for head in heads)}</tr></thead>"
    yield "<tbody>"
    for row in rows:
        opens = ['<td class="figure">' if place < figures else "<td>" for place in range(len(row))]
        cells = [f"{td}{escape(words.clean(text))}</td>" for td, text in zip(opens, row, strict=True)]
        yield f"<tr>{''.join(cells)}</tr>"
    yield "</tbody></table>"
