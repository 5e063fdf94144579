"""The cells of the stock table: its columns, a stick as rows of text, and later waterlines read back."""

from collections.abc import Mapping
from itertools import zip_longest

from bench import units
from bench.core.errors import OutOfRange
from bench.core.records import FloatReading, OvenTest, Stick, TimedMark, Weighing
from bench.sheets import defects
from bench.sheets.table import Row, text_of

__all__ = [
    "COLUMNS",
    "OF_INSPECTION",
    "OF_OVEN",
    "OF_READING",
    "OF_WEIGHING",
    "OVEN",
    "READING",
    "REQUIRED",
    "SIDES",
    "STICK",
    "WEIGHING",
    "Row",
    "later",
    "rows",
]

SIDES = ("width", "depth")
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
    *("looked", "defects", "note", "condemned", "sawn from", "rough"),
)
READING = ("marks", *OF_READING, "float marks", "angle", "seconds", "taken", "later", "set aside")
WEIGHING = (*OF_WEIGHING, "weighed on")
OVEN = (*OF_OVEN, "oven on")
COLUMNS = (*STICK, *READING, *WEIGHING, *OVEN)


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
        "moisture": text_of(stick.moisture, "moisture"),
        "looked": "yes" if seen.looked else "",
        "defects": defects.write_all(stick.defects),
        "note": stick.note,
        "condemned": stick.condemned,
        "sawn from": stick.parent,
        "rough": " ".join(side for side, is_rough in zip(SIDES, stick.rough, strict=True) if is_rough),
    }
    cells |= {column: text_of(getattr(stick, column), "length") for column in ("length", "width", "depth")}
    return cells | {
        column: text_of(getattr(seen, column.replace(" ", "_")), quantity)
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
    return {column: text_of(getattr(record, name), quantity) for column, (name, quantity) in columns.items()}


def _number(value: float) -> str:
    return repr(value).removesuffix(".0")


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
