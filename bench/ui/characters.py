"""Plain characters in place of those that a terminal may lack."""

import unicodedata
from collections.abc import Mapping
from functools import lru_cache

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

_FOR = str.maketrans(
    {
        **dict.fromkeys("─━═╌┄", "-"),
        **dict.fromkeys("│┃║", "|"),
        **dict.fromkeys("┌┐└┘├┤┬┼╔╗╚╝╠╣╦╩╬", "+"),
        "┴": "^",  # beside ┼ it means something else
        **dict.fromkeys("█▓▒░", "#"),
        **dict.fromkeys("▀▄▌▐■", "#"),
        **dict.fromkeys("‘’′", "'"),
        **dict.fromkeys("“”″", '"'),
        **dict.fromkeys("–—−", "-"),
        "°": " ",
        "×": "x",
        "·": ".",
        "²": "2",
        "³": "3",
    }
)


def shows_boxes(environment: Mapping[str, str], platform: str, encoding: str) -> bool:
    """Whether a terminal can be taken to show more than plain characters.

    Args:
        environment: variables of the process.
        platform: as `sys.platform` names it.
        encoding: of the stream that the screen is written to.
    Returns:
        True for UTF-8 by locale and stream; a locale that is not set is plain.
    Source:
        POSIX.1-2017 sec. 8.2: LC_ALL, then LC_CTYPE, then LANG.
    """
    if "utf" not in encoding.lower():
        return False
    if platform == "win32":
        return True
    name = environment.get("LC_ALL") or environment.get("LC_CTYPE") or environment.get("LANG") or "C"
    if name == "C.UTF-8" and not environment.get("LC_ALL"):
        # Python itself says so where the user's locale is plain C (PEP 538).
        name = environment.get("LANG") or "C"
    return "utf-8" in name.lower() or "utf8" in name.lower()


@lru_cache(4096)
def plain(text: str) -> str:
    """A text in plain characters, as wide as it was; letters without their marks, else question marks."""
    if text.isascii():
        return text
    return "".join(char if char.isascii() else _one(char) for char in text.translate(_FOR))


def _one(char: str) -> str:
    bare = "".join(part for part in unicodedata.normalize("NFKD", char) if part.isascii())
    wide = cell_len(char)
    return bare if len(bare) == wide else "?" * wide


class PlainCharacters(LineFilter):
    """Rewrites what is about to be drawn, while it is switched on."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [
            Segment(plain(text), style, control) if not text.isascii() else Segment(text, style, control)
            for text, style, control in segments
        ]
