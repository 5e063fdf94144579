"""The rack as a table of comma separated values: written from a job, or typed elsewhere and read in.

One row a stick, every cell as it would be typed on the Stock screen; the last reading that counts goes along.
Earlier readings, later marks of the same reading, weighings and oven tests stay in the job file.
"""

import csv
import io
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from bench import units
from bench.core import checking, floating
from bench.core.errors import Missing, OutOfRange, Refusal, UnknownName
from bench.core.naming import nearest
from bench.core.records import FloatReading, Inspection, Species, Stick, Typed
from bench.sheets import defects

REQUIRED = ("tag", "wood", "length", "width", "depth")
_OF_INSPECTION = {
    "rings": "rings",
    "slope one": "slope",
    "slope two": "slope",
    "edge grain": "share",
    "bow": "length",
    "bow over": "length",
}
_OF_READING = {
    "float side": ("side", "length"),
    "float length": ("length", "length"),
    "float moisture": ("moisture", "moisture"),
    "bath": ("water", "temperature"),
}
_MORE_OF_READING = ("float marks", "angle", "seconds", "taken")
COLUMNS = (
    *("tag", "wood", "variant", "lot", "length", "width", "depth", "moisture"),
    *_OF_INSPECTION,
    *("looked", "defects", "note", "marks"),
    *_OF_READING,
    *_MORE_OF_READING,
)
# What a refusal of a whole record calls it -> the column it stands in.
_CALLED_OF_STICK = {"defect": "defects"}
_CALLED_OF_READING = {
    "side": "float side",
    "length": "float length",
    "moisture": "float moisture",
    "water temperature": "bath",
    "number of marks": "float marks",
    "time in the water": "seconds",
    "contact angle": "angle",
    "waterline": "marks",
    "faces": "marks",
}
_YES, _NO = ("yes", "y", "x", "1", "true"), ("", "no", "n", "0", "false", "-")
_PARTED_BY = (",", ";", "\t")
_REPLACES = "a heading row with tag, wood, length, width and depth is wanted"


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a line is not taken: where, what stands there, and what would be right."""

    line: int  # of the file, from 1
    column: str  # its heading; empty: the whole line
    text: str
    why: str

    def __str__(self) -> str:
        where = f"line {self.line}, {self.column}" if self.column else f"line {self.line}"
        return f"{where}: {self.why}"


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a file holds: the sticks of the lines without a fault, and every fault."""

    sticks: tuple[Stick, ...]
    faults: tuple[Fault, ...]


def write(sticks: Sequence[Stick]) -> str:
    """Sticks as a table, a heading row first.

    Args:
        sticks: in the order of the rack; may be empty.
    Returns:
        Text; `read` gives equal sticks back, but for what the table does not carry.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for stick in sticks:
        cells = _cells(stick)
        writer.writerow([cells.get(column, "") for column in COLUMNS])
    return out.getvalue()


def read(text: str, woods: Mapping[str, Species], taken: Collection[str], default_unit: str = "in") -> Sheet:
    """The sticks of a table.

    Columns may stand in any order and be left out, but for tag, wood, length, width and depth. Cells are
    parted by comma, semicolon or tab, whichever the heading row shows; a cell that holds that sign stands in
    quotes.

    Args:
        text: of the file.
        woods: the library by species key.
        taken: tags that the job has already.
        default_unit: unit of a bare length.
    Returns:
        Sticks and faults. Nothing is raised: what cannot be read is a fault.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    rows, broken = _rows(lines)
    if not rows:
        return Sheet((), (*broken, *([] if broken else [Fault(1, "", "", f"there is nothing; {_REPLACES}")])))
    (first, heading), *rest = rows
    columns, faults = _columns(first, heading)
    if any(column not in columns for column in REQUIRED):
        return Sheet((), (*faults, *broken))
    if not rest and not broken:
        faults.append(Fault(first, "", "", "no stick stands below the heading row"))
    headed = {place for place, cell in enumerate(heading) if cell}
    reader = _Reader(woods, columns, headed, default_unit, {_same(tag): 0 for tag in taken})
    sticks = [stick for line, cells in rest if (stick := reader.stick(line, cells)) is not None]
    return Sheet(tuple(sticks), (*faults, *reader.faults, *broken))


def _cells(stick: Stick) -> dict[str, str]:
    """Column -> text of one stick."""
    seen, reading = stick.inspection, stick.reading
    cells = {
        "tag": stick.tag,
        "wood": stick.species,
        "variant": stick.variant,
        "lot": stick.lot,
        "moisture": _text(stick.moisture),
        "looked": "yes" if seen.looked else "",
        "defects": defects.write_all(stick.defects),
        "note": stick.note,
    }
    cells |= {column: _text(getattr(stick, column)) for column in ("length", "width", "depth")}
    cells |= {column: _text(getattr(seen, column.replace(" ", "_"))) for column in _OF_INSPECTION}
    if reading is not None:
        cells |= {column: _text(getattr(reading, name)) for column, (name, _) in _OF_READING.items()}
        cells |= {
            "marks": " ".join(repr(mark) for mark in reading.marks),
            "float marks": str(reading.count),
            "angle": reading.angle,
            "seconds": repr(reading.seconds),
            "taken": reading.taken,
        }
    return cells


def _text(typed: Typed | None) -> str:
    return typed.text if typed else ""


def _rows(lines: Sequence[str]) -> tuple[list[tuple[int, list[str]]], list[Fault]]:
    """Rows that are not blank with the line each begins on, and where the table breaks off."""
    heading = next((line for line in lines if line.strip()), "")
    parted = max(
        _PARTED_BY, key=lambda sign: sum(name in COLUMNS for name in map(_heading, heading.split(sign)))
    )
    table = csv.reader((f"{line}\n" for line in lines), delimiter=parted, skipinitialspace=True, strict=True)
    rows: list[tuple[int, list[str]]] = []
    while True:
        begun = table.line_num + 1
        try:
            cells = [" ".join(cell.splitlines()).strip() for cell in next(table)]
        except StopIteration:
            return rows, []
        except csv.Error as error:
            why = f"a quote does not close, or the like ({error}); all from here on is left out"
            return rows, [Fault(begun, "", lines[min(begun, len(lines)) - 1].strip(), why)]
        if any(cells):
            rows.append((begun, cells))


def _heading(cell: str) -> str:
    return " ".join(cell.strip().strip('"').lower().replace("_", " ").split())


def _columns(line: int, heading: Sequence[str]) -> tuple[dict[str, int], list[Fault]]:
    """Column -> its place in a row."""
    places: dict[str, int] = {}
    faults = []
    for place, cell in enumerate(heading):
        name = _heading(cell)
        if name in places:
            faults.append(Fault(line, name, cell, "this column stands there twice; one is wanted"))
        elif name in COLUMNS:
            places[name] = place
        elif name:
            near = nearest(name, COLUMNS) or COLUMNS
            faults.append(Fault(line, name, cell, f"there is no such column; nearest: {', '.join(near)}"))
    faults += [
        Fault(line, name, "", f"this column is missing; {_REPLACES}")
        for name in REQUIRED
        if name not in places
    ]
    return places, faults


def _same(tag: str) -> str:
    return tag.strip().casefold()


@dataclass(slots=True)
class _Reader:
    """Reads row after row and keeps every fault."""

    woods: Mapping[str, Species]
    columns: Mapping[str, int]
    headed: Collection[int]  # places that have a heading
    unit: str
    taken: dict[str, int]  # tag -> line it stands on, 0 for a stick of the job
    faults: list[Fault] = field(default_factory=list)
    line: int = 0
    row: Sequence[str] = ()

    def stick(self, line: int, row: Sequence[str]) -> Stick | None:
        """The stick of a row, None where something is wrong with it."""
        self.line, self.row, before = line, row, len(self.faults)
        for place, cell in enumerate(row):
            if cell and place not in self.headed:
                self._fault("", cell, f"{cell!r} stands under no heading; a cell with a comma wants quotes")
        record = Stick(
            tag=self._cell("tag", self._tag) or "",
            species=self._cell("wood", self._wood) or "",
            length=self._length("length"),
            width=self._length("width"),
            depth=self._length("depth"),
            moisture=self._measured("moisture", "moisture"),
            lot=self._text("lot"),
            defects=self._cell("defects", lambda text: defects.read_all(text, self.unit)) or (),
            note=self._text("note"),
            inspection=self._inspection(),
        )
        record = replace(
            record, variant=self._cell("variant", lambda text: self._variant(record, text)) or ""
        )
        reading = self._reading()
        if len(self.faults) == before:
            record = replace(record, readings=(reading,) if reading else ())
            self._whole(record)
        return record if len(self.faults) == before else None

    def _text(self, column: str) -> str:
        place = self.columns.get(column, len(self.row))
        return self.row[place] if place < len(self.row) else ""

    def _fault(self, column: str, text: str, why: str) -> None:
        self.faults.append(Fault(self.line, column, text, why))

    def _cell(self, column: str, take: Callable[[str], Any]) -> Any:
        """What a cell says; None, and a fault, where it cannot be read."""
        text = self._text(column)
        try:
            return take(text)
        except Refusal as refusal:
            self._fault(column, text, refusal.message.removeprefix(f"{refusal.quantity}: "))
            return None

    def _whole(self, record: Stick) -> None:
        """What no single cell can tell."""
        called = _CALLED_OF_STICK
        try:
            checking.stick(record)
            called = _CALLED_OF_READING
            for reading in record.readings:
                floating.check(reading)
        except Refusal as refusal:
            column = called.get(refusal.quantity, refusal.quantity)
            column = column if column in self.columns else ""
            why = refusal.message.removeprefix(f"{refusal.quantity}: ") if column else refusal.message
            self._fault(column, self._text(column), why)

    def _length(self, column: str) -> Typed:
        read = self._measured(column, "length", needed=True)
        return read if isinstance(read, Typed) else _NO_LENGTH

    def _measured(self, column: str, quantity: str, needed: bool = False) -> Typed | None:
        def take(text: str) -> Typed | None:
            if not text and not needed:
                return None
            return units.read(quantity, text, self.unit if quantity == "length" else "")

        read: Typed | None = self._cell(column, take)
        return read

    def _tag(self, text: str) -> str:
        checking.name("tag", text)
        met = self.taken.setdefault(_same(text), self.line)
        if met != self.line:
            where = f"line {met} has it" if met else "the job has it"
            raise Refusal(f"{text!r} is taken, {where}; each stick wants a tag of its own", "tag", text)
        return text

    def _wood(self, text: str) -> str:
        if not text:
            raise Missing("wood", "give a species by key or name, as in Species")
        wanted = text.lower().replace(" ", "_").replace("-", "_")
        fitting = [key for key in self.woods if wanted in key]
        if wanted in self.woods or len(fitting) == 1:
            return wanted if wanted in self.woods else fitting[0]
        near = nearest(text, self.woods)
        if near:
            raise UnknownName("wood", text, near)
        raise Refusal(f"{text!r} is not known; give a species by key or name, as in Species", "wood", text)

    def _variant(self, record: Stick, text: str) -> str:
        species = self.woods.get(record.species)
        known = dict.fromkeys(figure.variant for figure in species.figures) if species else {}
        if text and species and text not in known:
            named = ", ".join(name for name in known if name)
            wanted = f"one of {named} is wanted" if named else "this wood has none: leave it empty"
            raise Refusal(f"{text!r} is not known; {wanted}", "variant", text)
        return text

    def _inspection(self) -> Inspection:
        def looked(text: str) -> bool:
            if text.lower() not in (*_YES, *_NO):
                raise OutOfRange("looked", text, "yes or no is wanted", repr(text))
            return text.lower() in _YES

        found = {
            column.replace(" ", "_"): self._measured(column, quantity)
            for column, quantity in _OF_INSPECTION.items()
        }
        return Inspection(**found, looked=bool(self._cell("looked", looked)))

    def _reading(self) -> FloatReading | None:
        """The float reading of a row; None where its columns are empty."""
        if not self._text("marks"):
            for column in (*_OF_READING, *_MORE_OF_READING):
                if self._text(column):
                    self._fault(column, self._text(column), "a reading wants its marks, like 6.85 6.80")
            return None
        before = len(self.faults)
        found = {
            name: self._measured(column, quantity, needed=True)
            for column, (name, quantity) in _OF_READING.items()
        }
        marks = self._cell("marks", lambda text: tuple(units.read("mark", mark).si for mark in text.split()))
        count = self._cell("float marks", lambda text: int(units.read("count", text or "10").si))
        seconds = self._cell("seconds", lambda text: units.read("seconds", text or "30").si)
        taken = self._cell("taken", _day)
        if len(self.faults) > before:
            return None
        whole: dict[str, Any] = dict(found)
        angle = self._text("angle")
        return FloatReading(marks, **whole, count=count, angle=angle, seconds=seconds, taken=taken)


_NO_LENGTH = Typed(units.read("length", "0").exact, "")  # stands in for one that could not be read


def _day(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        raise OutOfRange("taken", text, "a day like 2026-03-14 is wanted", repr(text)) from None
