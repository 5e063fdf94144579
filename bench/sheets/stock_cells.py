"""The cells of the stock table: its columns, a stick as rows of text, and one row read cell by cell.

Every cell is as it would be typed on the screens. Where the text of a number has been rounded, the exact one
in SI stands behind it, so that nothing is lost: `12.06 % = 52/431`.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import zip_longest
from typing import Any

from bench import units
from bench.core.errors import OutOfRange, Refusal
from bench.core.records import FloatReading, OvenTest, Stick, TimedMark, Typed, Weighing
from bench.sheets import defects

REQUIRED = ("tag", "wood", "length", "width", "depth")
# Column -> quantity, and for measurements the field of the record as well.
OF_INSPECTION = {
    "rings": "rings",
    "slope one": "slope",
    "slope two": "slope",
    "edge grain": "share",
    "bow": "length",
    "bow over": "length",
}
OF_READING = {
    "float side": ("side", "length"),
    "float length": ("length", "length"),
    "float moisture": ("moisture", "moisture"),
    "bath": ("water", "temperature"),
}
OF_WEIGHING = {
    "weighed": ("mass", "mass"),
    "weighed width": ("width", "length"),
    "weighed depth": ("depth", "length"),
    "weighed length": ("length", "length"),
    "weighed moisture": ("moisture", "moisture"),
}
OF_OVEN = {"oven wet": ("wet", "mass"), "oven dry": ("dry", "mass")}

STICK = (
    *("tag", "wood", "variant", "lot", "length", "width", "depth", "moisture"),
    *OF_INSPECTION,
    *("looked", "defects", "note"),
)
READING = ("marks", *OF_READING, "float marks", "angle", "seconds", "taken", "later", "set aside")
WEIGHING = (*OF_WEIGHING, "weighed on")
OVEN = (*OF_OVEN, "oven on")
COLUMNS = (*STICK, *READING, *WEIGHING, *OVEN)

_EXACTLY = " = "
_EXACT = re.compile(r"\d{1,100}(?:/0*[1-9]\d{0,99})?", re.ASCII)
_ROUNDED = Fraction(1, 20_000)  # half the last digit of 12.06 %, in SI


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


# --- a stick as text -----------------------------------------------------------------------------------


def rows(stick: Stick) -> list[dict[str, str]]:
    """Column -> text: the stick with its first measurements, then a row for each further one of them.

    Args:
        stick: whole.
    Returns:
        One row and more, every one with its tag.
    """
    out = []
    for reading, weighing, oven in zip_longest(stick.readings, stick.weighings, stick.ovens):
        cells = {"tag": stick.tag}
        cells |= _reading(reading) if reading else {}
        cells |= {**_typed(weighing, OF_WEIGHING), "weighed on": weighing.taken} if weighing else {}
        cells |= {**_typed(oven, OF_OVEN), "oven on": oven.taken} if oven else {}
        out.append(cells)
    first, *rest = out or [{}]
    return [first | _stick(stick), *rest]


def _stick(stick: Stick) -> dict[str, str]:
    seen = stick.inspection
    cells = {
        "tag": stick.tag,
        "wood": stick.species,
        "variant": stick.variant,
        "lot": stick.lot,
        "moisture": _text(stick.moisture, "moisture"),
        "looked": "yes" if seen.looked else "",
        "defects": defects.write_all(stick.defects),
        "note": stick.note,
    }
    cells |= {column: _text(getattr(stick, column), "length") for column in ("length", "width", "depth")}
    return cells | {
        column: _text(getattr(seen, column.replace(" ", "_")), quantity)
        for column, quantity in OF_INSPECTION.items()
    }


def _reading(reading: FloatReading) -> dict[str, str]:
    return _typed(reading, OF_READING) | {
        "marks": " ".join(_number(mark) for mark in reading.marks),
        "float marks": str(reading.count),
        "angle": reading.angle,
        "seconds": _number(reading.seconds),
        "taken": reading.taken,
        "later": "; ".join(f"{_number(one.seconds)} s {_number(one.mark)}" for one in reading.timed),
        "set aside": reading.aside,
    }


def _typed(
    record: FloatReading | Weighing | OvenTest, columns: Mapping[str, tuple[str, str]]
) -> dict[str, str]:
    return {column: _text(getattr(record, name), quantity) for column, (name, quantity) in columns.items()}


def _number(value: float) -> str:
    return repr(value).removesuffix(".0")


def _text(typed: Typed | None, quantity: str) -> str:
    """A number as typed; the exact one behind it where the text says another."""
    if typed is None:
        return ""
    try:
        exact = units.read(quantity, typed.text, bare(quantity)).exact
    except Refusal:
        return typed.text
    return typed.text if exact == typed.exact else f"{typed.text}{_EXACTLY}{typed.exact}"


def bare(quantity: str, length: str = "in") -> str:
    """The unit of a bare number: a length's is the shop's, masses are in grams as on the screens."""
    return {"length": length, "mass": "g"}.get(quantity, "")


# --- text as cells -------------------------------------------------------------------------------------


@dataclass(slots=True)
class Row:
    """One row of a file; what cannot be read of it is kept as a fault."""

    line: int
    cells: Sequence[str]
    columns: Mapping[str, int]  # column -> place
    unit: str  # of a bare length
    faults: list[Fault] = field(default_factory=list)

    def text(self, column: str) -> str:
        """What stands in a column; empty where the file has none."""
        place = self.columns.get(column, len(self.cells))
        return self.cells[place] if place < len(self.cells) else ""

    def filled(self, columns: Sequence[str]) -> list[str]:
        """Those of some columns that hold something."""
        return [column for column in columns if self.text(column)]

    def fault(self, column: str, text: str, why: str) -> None:
        """Keep what is wrong."""
        self.faults.append(Fault(self.line, column, text, why))

    def cell(self, column: str, take: Callable[[str], Any]) -> Any:
        """What a cell says; None, and a fault, where it cannot be read."""
        text = self.text(column)
        try:
            return take(text)
        except Refusal as refusal:
            self.fault(column, text, refusal.message.removeprefix(f"{refusal.quantity}: "))
            return None

    def measured(self, column: str, quantity: str, needed: bool = False) -> Typed | None:
        """A number with its unit; None where it is empty and may be."""

        def take(text: str) -> Typed | None:
            return _exactly(quantity, text, bare(quantity, self.unit)) if text or needed else None

        read: Typed | None = self.cell(column, take)
        return read

    def whole(self, check: Callable[[], None], called: Mapping[str, str]) -> None:
        """Keep what no single cell can tell, at the column that a refusal's quantity is called here."""
        try:
            check()
        except Refusal as refusal:
            column = called.get(refusal.quantity, refusal.quantity)
            column = column if column in self.columns else ""
            why = refusal.message.removeprefix(f"{refusal.quantity}: ") if column else refusal.message
            self.fault(column, self.text(column), why)


def _exactly(quantity: str, text: str, unit: str) -> Typed:
    """A number as typed, or as typed with the exact one behind it."""
    shown, parted, exact = text.rpartition(_EXACTLY)
    if not parted:
        return units.read(quantity, text, unit)
    read = units.read(quantity, shown, unit)
    if not _EXACT.fullmatch(exact) or abs(Fraction(exact) - read.exact) > _ROUNDED:
        limits = f"behind = the same number is wanted, exactly and in SI, say {read.exact}; or nothing"
        raise OutOfRange(quantity, exact, limits, repr(exact))
    return Typed(Fraction(exact), shown)


def later(text: str) -> tuple[TimedMark, ...]:
    """Later waterlines on the first face: `60 s 4.30; 5 min 4.40`, or with a sign between: `60 = 4 3/8`.

    Args:
        text: time in the water and mark, pairs parted by semicolon; may be empty.
    Returns:
        In the order typed.
    Raises:
        BadInput: a time or mark that cannot be read.
        OutOfRange: a pair that is none.
    """
    found = []
    for pair in (pair.strip() for pair in text.split(";") if pair.strip()):
        time, parted, mark = pair.partition("=") if "=" in pair else pair.rpartition(" ")
        if not parted:
            raise OutOfRange("later", pair, "pairs like 60 s 4.30; 5 min 4.40 are wanted", repr(pair))
        found.append(TimedMark(units.read("seconds", time).si, units.read("mark", mark).si))
    return tuple(found)
