"""What a terminal shows, as text: as much of one as the programs measured make use of."""

import re
from codecs import getincrementaldecoder

# A control sequence, a command to the terminal's title or mouse shape, another escape; or characters.
_PIECES = re.compile(
    r"\x1b\[(?P<kind>[?>=<]?)(?P<numbers>[0-9;]*)[ $]*(?P<end>[@-~])"
    r"|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x1b[^\[\]]"
    r"|(?P<control>[\r\n])|(?P<text>[^\x1b\r\n]+)"
)
_BEGUN = re.compile(r"\x1b(?:\[[^@-~]*|\][^\x07\x1b]*)?$")  # a sequence whose end has not come yet


class Picture:
    """Rows of characters, and whether a frame is being drawn just now."""

    def __init__(self, width: int, height: int) -> None:
        self.rows = [[" "] * width for _ in range(height)]
        self.row = self.column = 0
        self.frames = 0  # that are complete
        self.drawing = False
        self._decode = getincrementaldecoder("utf-8")("replace").decode
        self._rest = ""

    def feed(self, chunk: bytes) -> None:
        """Take what has come out of the program."""
        text = self._rest + self._decode(chunk)
        begun = _BEGUN.search(text)
        self._rest = text[begun.start() :] if begun else ""
        for piece in _PIECES.finditer(text[: begun.start()] if begun else text):
            if piece["text"]:
                self._write(piece["text"])
            elif piece["control"]:
                self.column, self.row = (0, self.row) if piece["control"] == "\r" else (0, self.row + 1)
            elif piece["end"]:
                self._obey(piece["kind"], piece["numbers"], piece["end"])

    def _write(self, text: str) -> None:
        if self.row < len(self.rows):
            row = self.rows[self.row]
            room = text[: max(0, len(row) - self.column)]
            row[self.column : self.column + len(room)] = room
        self.column += len(text)

    def _obey(self, kind: str, numbers: str, end: str) -> None:
        if kind == "?" and numbers == "2026":
            self.drawing = end == "h"
            self.frames += not self.drawing
        elif not kind and end == "H":
            row, column = (int(number or 1) for number in f"{numbers or '1;1'};1".split(";")[:2])
            self.row, self.column = row - 1, column - 1

    @property
    def text(self) -> str:
        """All rows."""
        return "\n".join("".join(row) for row in self.rows)
