"""Lines of styled text for panes. Only characters that a bare console font has."""

from collections.abc import Sequence
from typing import Any, TypeVar

from textual.content import Content, Span

Row = TypeVar("Row")

WORD_STYLE = {"ACCEPT": "bold $good", "HOLD": "bold $note", "REJECT": "bold $bad"}
DIM = "$quiet"
HEAD = "bold $head"
HERE = "reverse"
WRONG = "bold $bad"
TRIED = "$note"

# Five rows a figure, drawn from full blocks: legible from two metres, safe on every console.
_GLYPHS = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", "###", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", "  #", "  #"),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    ".": (" ", " ", " ", " ", "#"),
    "/": ("  #", "  #", " # ", "#  ", "#  "),
    "-": ("   ", "   ", "###", "   ", "   "),
    " ": (" ", " ", " ", " ", " "),
}


def figures(text: str, scale: int = 1) -> list[str]:
    """A number in big figures, five rows times the scale; unknown characters are left out."""
    rows = []
    for row in range(5):
        line = " ".join(_GLYPHS[char][row] for char in text if char in _GLYPHS)
        wide = "".join(char * 2 * scale for char in line).replace("#", "█")
        rows.extend([wide] * scale)
    return rows


def large(title: str, number: str, below: list[Content], width: int, height: int) -> Content:
    """A number as large as the room allows, its title above it and lines below: for two metres away."""
    room = max(1, height - 2 - len(below))
    scale = 1
    while len(figures(number, scale + 1)[0]) <= width and 5 * (scale + 1) <= room:
        scale += 1
    drawn = figures(number, scale)
    rows = [line((title, HEAD)), Content(""), *(line((row[:width], "bold")) for row in drawn[:room])]
    return stack([*rows, *below][: max(1, height)])


def beside(rows: list[Content], first: int, column: int, right: list[Content], width: int) -> None:
    """Put lines on the right of rows that are there already, from one row on."""
    for place, content in enumerate(right, first):
        while place >= len(rows):
            rows.append(Content(""))
        pad = Content(" " * max(0, column - rows[place].cell_length))
        rows[place] = line(rows[place], pad, content[: max(0, width - column)])


def line(*pieces: str | tuple[str, str] | Content) -> Content:
    """One line from plain and styled pieces; text is never read as markup."""
    texts, spans, end = list[str](), list[Span](), 0
    for piece in pieces:
        if isinstance(piece, Content):
            text = piece.plain
            spans += [Span(first + end, last + end, style) for first, last, style in piece.spans]
        elif isinstance(piece, tuple):
            text, style = piece
            if style:
                spans.append(Span(end, end + len(text), style))
        else:
            text = piece
        texts.append(text)
        end += len(text)
    whole = "".join(texts)
    return Content(whole, spans, strip_control_codes=not whole.isprintable())


def fit(text: str, width: int) -> str:
    """Text in exactly so many columns, filled on the right, or cut with two points that say so."""
    if len(text) > width:
        return (text[: max(0, width - 2)] + "..")[:width]
    return text.ljust(width)


def wrapped(text: str, width: int, indent: str = "") -> list[str]:
    """Words broken into lines of a width, later lines indented."""
    lines: list[str] = []
    current = ""
    for word in text.split():
        start = indent if lines else ""
        trial = f"{current} {word}" if current else start + word
        if current and len(trial) > width:
            lines.append(current)
            current = indent + word
        else:
            current = trial
    return [*lines, current] if current else lines


def window(lines: list[Row], here: int, room: int) -> list[Row]:
    """As many lines as there is room for, with the one that matters among them."""
    top = max(0, min(here - room // 2, len(lines) - room))
    return lines[top : top + max(0, room)]


class Stack(Content):
    """Lines under one another that are still known one by one; put together when one text is asked for."""

    __slots__ = ("rows",)

    def __init__(self, rows: Sequence[Content]) -> None:
        self.rows = rows

    def __getattr__(self, name: str) -> Any:
        whole = Content("\n").join(self.rows)
        super().__init__(whole.plain, list(whole.spans))
        return object.__getattribute__(self, name)


def stack(lines: Sequence[Content]) -> Content:
    """Lines under one another."""
    return Stack(lines)


def rows_of(content: Content) -> Sequence[Content]:
    """The lines that were stacked."""
    return content.rows if isinstance(content, Stack) else content.split("\n", allow_blank=True)
