"""Nothing shown can steer the terminal, wherever it came from: a job, a table, a species file, a path."""

from functools import cache
from unicodedata import category

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

# Control, format (writing direction among them), half characters, line and paragraph ends.
_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")


@cache
def _instead(letter: str) -> str:
    """A letter, or as many question marks as it takes columns: none for most of these."""
    return "?" * cell_len(letter) if category(letter) in _UNSEEN else letter


def plain(text: str) -> str:
    """Text of the same width without a character that a terminal would act on."""
    return text if text.isprintable() else "".join(map(_instead, text))


class Plain(LineFilter):
    """The last thing every line goes through before it is drawn."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        if all(text.isprintable() for text, _, _ in segments):
            return segments
        return [
            Segment(text, style, control) if control else Segment(plain(text), style)
            for text, style, control in segments
        ]
