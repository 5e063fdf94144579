"""The Stock screen: the sticks of the rack."""

import re
from collections.abc import Sequence
from dataclasses import replace

from textual.content import Content

from bench import units
from bench.core import checking
from bench.core.edits import Edit, PutStick, RemoveStick
from bench.core.errors import UnknownName
from bench.core.records import Defect, Job, Species, Stick, inches, with_field
from bench.core.river import Judged
from bench.sheets import wording
from bench.ui.drawing import WORD_STYLE, line, wrapped
from bench.ui.grid import Column, Grid
from bench.ui.messages import TakeInHand
from bench.ui.naming import read_as, species_key

MOISTURE = "moisture, percent of oven-dry weight; empty if not measured"
NOTHING = inches("0")  # no size yet; a stick with it is refused


class StockView(Grid[Stick]):
    """Enter, change and remove sticks; the highlighted one is in hand on the Float pane."""

    TITLE = "STOCK"
    KIND = "stick"
    EMPTY = "The rack is empty. Press a to add a stick."

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="stock")
        self.woods = woods

    def columns(self) -> Sequence[Column]:
        return (
            Column("tag", "tag", 7, "a name of your own", asked=True),
            Column(
                "species",
                "wood",
                15,
                "species by key or name, as in Species: sitka_spruce, white ash",
                asked=True,
            ),
            Column("length", "length", 10, "60, 34 3/8, 2' 6\", 900 mm", asked=True),
            Column("width", "width", 8, "3/4, 1-1/8, .407, 10.3 mm", asked=True),
            Column("depth", "depth", 8, "3/4, 1-1/8, .407, 10.3 mm", asked=True),
            Column(
                "moisture",
                "moist.",
                6,
                MOISTURE,
                asked=True,
                measured=True,
            ),
            Column("verdict", "verdict", 7),
            Column("gravity", "G dry", 5),
            Column("defects", "defects", 16, "from its marked end: 30-32, 41 5/8 - 42; empty for none"),
            Column("lot", "lot", 10, "where it came from, in your words"),
            Column("note", "note", 24, "anything"),
        )

    @property
    def _rack(self) -> tuple[Judged, ...]:
        return self.river.rack if self.river else ()

    def names(self) -> tuple[str, ...]:
        return tuple(judged.stick.tag for judged in self._rack)

    def _system(self) -> str:
        return self.river.job.settings.units if self.river else "in"

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        judged = self._rack[row]
        stick = judged.stick
        word = wording.word(judged.verdict)
        species = self.woods.get(stick.species)
        gravity = judged.verdict.value
        return {
            "tag": (stick.tag, ""),
            "species": (species.name if species else stick.species, ""),
            "length": (stick.length.text, ""),
            "width": (stick.width.text, ""),
            "depth": (stick.depth.text, ""),
            "moisture": (units.percent(stick.moisture.si) if stick.moisture else "--", ""),
            "verdict": (word, WORD_STYLE[word]),
            "gravity": (units.gravity(gravity) if gravity is not None else "--", ""),
            "defects": (_defects_short(stick), ""),
            "lot": (stick.lot or "--", ""),
            "note": (stick.note or "--", ""),
        }

    def cell_text(self, row: int, column: Column) -> str:
        stick = self._rack[row].stick
        plain = {
            "defects": _defects(stick),
            "lot": stick.lot,
            "note": stick.note,
            "species": stick.species,
            "moisture": stick.moisture.text if stick.moisture else "",
        }
        return plain[column.name] if column.name in plain else super().cell_text(row, column)

    def record(self, job: Job, name: str) -> Stick:
        stick = job.stick(name)
        if stick is None:
            raise UnknownName("stick", name)
        return stick

    def template(self) -> Stick:
        if self._rack:
            like = self._rack[self.row].stick
            return replace(like, moisture=None, defects=(), readings=(), note="")
        return Stick("", "", NOTHING, NOTHING, NOTHING)

    def with_cell(self, record: Stick, column: Column, text: str) -> Stick:
        system, name = self._system(), column.name
        if name in ("length", "width", "depth"):
            return with_field(record, name, read_as(name, "length", text, system))
        if name == "species":
            return replace(record, species=species_key(text, self.woods))
        if name == "moisture":
            return replace(record, moisture=units.read("moisture", text) if text.strip() else None)
        if name == "defects":
            spans = units.spans(text, system) if text.strip() else ()
            return replace(record, defects=tuple(Defect(start, end) for start, end in spans))
        return with_field(record, name, text.strip())

    def checked(self, record: Stick, column: Column) -> None:
        if column.name == "tag":
            checking.name("tag", record.tag)
            checking.unused("tag", record.tag, self.names())
        elif column.name in ("length", "width", "depth"):
            checking.size(column.name, getattr(record, column.name))

    def put(self, record: Stick, was: str) -> Edit:
        return PutStick(record, was=was)

    def removed(self, name: str) -> Edit:
        return RemoveStick(name)

    def next_name(self) -> str:
        """The highlighted tag counted up to the first number that is free."""
        if not self._rack:
            return "A-01"
        found = re.search(r"^(.*?)(\d+)$", self._rack[self.row].stick.tag)
        if not found:
            return ""
        stem, digits = found.groups()
        taken, number = set(self.names()), int(digits) + 1
        while f"{stem}{number:0{len(digits)}d}" in taken:
            number += 1
        return f"{stem}{number:0{len(digits)}d}"

    def on_show(self) -> None:
        """Begin at the stick in hand."""
        if self.river is not None and self.river.tag in self.names():
            self.row = self.names().index(self.river.tag)

    def chosen(self) -> None:
        if self._rack:
            self.post_message(TakeInHand(self._rack[self.row].stick.tag))

    def foot(self, width: int) -> list[Content]:
        judged = self._rack[self.row]
        word = wording.word(judged.verdict)
        text = f"{judged.stick.tag}: {'; '.join(wording.reasons(judged.verdict))}"
        first, *rest = wrapped(text, width - 8)[:2]
        return [line((f"{word:<7} ", WORD_STYLE[word]), first), *(line(" " * 8, more) for more in rest)]


def _defects(stick: Stick) -> str:
    """Stretches as they are typed: `30-32 in, 41.5 in`."""
    return ", ".join(
        defect.start.text
        if defect.start.exact == defect.end.exact
        else f"{defect.start.text} to {defect.end.text}"
        for defect in stick.defects
    )


def _defects_short(stick: Stick) -> str:
    """How many, then where, in as few characters as can be."""
    spans = [
        "-".join(dict.fromkeys(typed.text.removesuffix(" in").removesuffix(" mm") for typed in ends))
        for ends in ((defect.start, defect.end) for defect in stick.defects)
    ]
    return f"{len(spans)}: {', '.join(spans)}" if spans else "none"
