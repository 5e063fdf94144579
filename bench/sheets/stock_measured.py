"""What was measured on a stick, read from a row of the stock table: float reading, weighing, oven test."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from bench import units
from bench.core import checking, floating, moisture
from bench.core.errors import OutOfRange
from bench.core.frozen import record
from bench.core.records import FloatReading, OvenTest, Stick, Weighing
from bench.sheets import stock_cells as cells
from bench.sheets.stock_cells import Row

# What a refusal of a whole record calls it -> the column it stands in.
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
    "later waterline": "later",
    "why": "set aside",
}
_CALLED_OF_WEIGHING = {name: column for column, (name, _) in cells.OF_WEIGHING.items()}
_CALLED_OF_OVEN = {"wet mass": "oven wet", "dry mass": "oven dry"}


@record
class Measured:
    """What one row holds of each kind; None: nothing of it."""

    reading: FloatReading | None
    weighing: Weighing | None
    oven: OvenTest | None

    def upon(self, stick: Stick) -> dict[str, Any]:
        """The fields of a stick with this added to what it has, for `replace`."""
        return {
            "readings": (*stick.readings, *([self.reading] if self.reading else [])),
            "weighings": (*stick.weighings, *([self.weighing] if self.weighing else [])),
            "ovens": (*stick.ovens, *([self.oven] if self.oven else [])),
        }


def measured(row: Row) -> Measured:
    """Everything measured that stands in a row.

    Args:
        row: of the file; keeps a fault for whatever cannot be.
    Returns:
        What could be read.
    """
    return Measured(_reading(row), _weighing(row), _oven(row))


def _reading(row: Row) -> FloatReading | None:
    if not _there(row, "marks", cells.READING, "a reading wants its marks, like 6.85 6.80"):
        return None
    before = len(row.faults)
    found = _typed(row, cells.OF_READING)
    marks = row.cell("marks", lambda text: tuple(units.read("mark", mark).si for mark in text.split()))
    count = row.cell("float marks", lambda text: int(units.read("count", text or "10").si))
    seconds = row.cell("seconds", lambda text: units.read("seconds", text or "30").si)
    taken = row.cell("taken", day)
    later = row.cell("later", cells.later)
    if len(row.faults) > before:
        return None
    aside = row.text("set aside")
    reading = FloatReading(
        marks,
        **found,
        count=count,
        angle=row.text("angle"),
        seconds=seconds,
        taken=taken,
        timed=later,
        aside=aside,
    )
    row.whole(lambda: floating.check(reading), _CALLED_OF_READING)
    row.whole(lambda: checking.length_of_text("why", aside), _CALLED_OF_READING)
    return reading


def _weighing(row: Row) -> Weighing | None:
    if not _there(row, "weighed", cells.WEIGHING, "a weighing wants its mass, like 48.3 g"):
        return None
    before = len(row.faults)
    found = _typed(row, cells.OF_WEIGHING)
    taken = row.cell("weighed on", day)
    if len(row.faults) > before:
        return None
    weighing = Weighing(**found, taken=taken)
    row.whole(lambda: checking.weighing(weighing), _CALLED_OF_WEIGHING)
    return weighing


def _oven(row: Row) -> OvenTest | None:
    if not _there(row, "oven wet", cells.OVEN, "an oven test wants the mass as found, like 48.3 g"):
        return None
    before = len(row.faults)
    found = _typed(row, cells.OF_OVEN)
    taken = row.cell("oven on", day)
    if len(row.faults) > before:
        return None
    test = OvenTest(**found, taken=taken)
    row.whole(lambda: _check_oven(test), _CALLED_OF_OVEN)
    return test


def _check_oven(test: OvenTest) -> None:
    if moisture.by_oven(test.wet.si, test.dry.si) > 2:
        raise OutOfRange("wet mass", test.wet.si, "0 to 200 % of moisture is possible", test.wet.text)


def _there(row: Row, lead: str, columns: Sequence[str], wanted: str) -> bool:
    """Whether the row holds a measurement; a fault where it holds only the rest of one."""
    if not row.text(lead):
        for column in row.filled(columns):
            row.fault(column, row.text(column), wanted)
    return bool(row.text(lead))


def _typed(row: Row, columns: Mapping[str, tuple[str, str]]) -> dict[str, Any]:
    """Field -> number; None, and a fault, for one that is not there."""
    return {name: row.measured(column, quantity, needed=True) for column, (name, quantity) in columns.items()}


def day(text: str) -> str:
    """A day as ISO text; empty for none.

    Args:
        text: as typed.
    Returns:
        Like `2026-03-14`.
    Raises:
        OutOfRange: no such day.
    """
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        raise OutOfRange("taken", text, "a day like 2026-03-14 is wanted", repr(text)) from None
