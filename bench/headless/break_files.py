"""Coupons and readings out of tables of comma separated values; every fault names its line and column."""

import re
from fractions import Fraction
from pathlib import Path

from bench import units
from bench.core import bending_readings, checking
from bench.core.bending_readings import MOST_READINGS, Reading
from bench.core.coupon import NOTHING, OUTCOMES
from bench.core.errors import BadInput, FileFault, OutOfRange
from bench.core.frozen import record
from bench.core.quantities import DATA_UNITS, GRAVITY, INCH, POUND
from bench.core.records import Typed
from bench.headless.bounded import text_of
from bench.sheets import table
from bench.sheets.table import Fault, Layout, Row
from bench.units.digits import Unread, split, tidy
from bench.units.kinds import KINDS, Kind, Scale, known
from bench.units.measuring import measure

MOST_COUPONS = 5000  # in a file: more is another file
MOST_BLOWS = 500
_BLOW = re.compile(rf"(.+?)(?:\s+x\s?(\d{{1,2}}))?(?:\s+({'|'.join(OUTCOMES)}))?", re.IGNORECASE)
BARE = "number"  # the kind of values without a unit
_LBF, _PSI = POUND * GRAVITY, POUND * GRAVITY / INCH**2


def _kind(name: str, called: str, wanted: str, scales: dict[str, Fraction], default: str = "") -> Kind:
    read = {word: Scale(factor) for words, factor in scales.items() for word in words.split()}
    return Kind(name, called, wanted, read, default)


STRESS = _kind(
    *("stress", "a stress", "a stress like 10200 psi or 70.3 MPa"),
    {
        "psi lbf/in2 lb/in2": _PSI,
        "ksi": 1000 * _PSI,
        "pa": Fraction(1),
        "kpa": Fraction(1000),
        "mpa n/mm2": Fraction(10**6),
        "gpa": Fraction(10**9),
    },
)
ENERGY = _kind(
    *("energy", "an energy", "an energy like 24 in-lb or 2.7 J"),
    {"in-lb in-lbf": _LBF * INCH, "ft-lb ft-lbf": 12 * _LBF * INCH, "j nm": Fraction(1)},
)
DENSITY = _kind(
    *("work", "an energy per volume", "an energy per volume like 13.7 in-lb/in3 or 94 kJ/m3"),
    {"in-lb/in3 in-lbf/in3": DATA_UNITS["in-lbf/in3"][1], "kj/m3": Fraction(1000), "j/m3": Fraction(1)},
)
SLOPE = _kind(
    *("slope", "a load over a deflection", "a load over a deflection like 50 lbf/in or 8.8 N/mm"),
    {"lbf/in lb/in": _LBF / INCH, "n/mm kn/m": Fraction(1000), "n/m": Fraction(1)},
    "lbf/in",
)
_KINDS = (KINDS["length"], KINDS["force"], KINDS["mass"], STRESS, ENERGY, DENSITY)
_WANTED = "a number, or one with a unit like in, mm, lbf, N, psi, MPa, in-lb or J"
_COUPONS = Layout("coupon", ("group", "value", "moisture"), ("group", "value"))
_READINGS = Layout("reading", ("load", "deflection"), ("load", "deflection"))


@record
class Value:
    """One figure as it stands in the table."""

    kind: str  # BARE, or of a kind of units
    si: Fraction  # bare numbers as they are
    unit: str  # as typed; "" for a bare number
    scale: Fraction  # SI over that unit


@record
class CouponRow:
    """One coupon of the table."""

    line: int
    group: str
    value: Value
    moisture: Typed | None  # [1]


@record
class Coupons:
    """The whole table, in its order."""

    path: str
    rows: tuple[CouponRow, ...]
    has_moisture: bool  # whether there is such a column

    @property
    def groups(self) -> tuple[str, ...]:
        """Their names, in the order they first stand there."""
        return tuple(dict.fromkeys(row.group for row in self.rows))

    @property
    def unit(self) -> str:
        """Of the first value; all others are brought to it. Empty for bare numbers."""
        return self.rows[0].value.unit

    @property
    def mixed(self) -> bool:
        """Whether more than one unit stands in the table."""
        return len({row.value.unit.lower() for row in self.rows}) > 1

    def number(self, row: CouponRow) -> float:
        """The value of a row in the unit of the first."""
        return float(row.value.si / self.rows[0].value.scale)


def slope(text: str) -> float:
    """A load over a deflection [N/m]; raises BadInput where it cannot be read."""
    return _measured(SLOPE, text).si


def _measured(kind: Kind, text: str) -> Typed:
    plain = tidy(text)
    try:
        return measure(kind, plain)
    except Unread as fault:
        raise BadInput(kind.name, plain, fault.why, fault.wanted or kind.wanted) from None


def value(text: str) -> Value:
    """One figure of a coupon with its unit, if it has one; raises Refusal where it is none above zero."""
    plain = tidy(text)
    try:
        unit = split(plain.removeprefix("-").removeprefix("+"))[1]
    except Unread as fault:
        raise BadInput("value", plain, fault.why, fault.wanted or _WANTED) from None
    if unit:
        fitting = ((kind, scale) for kind in _KINDS if (scale := known(kind, unit)) is not None)
        kind, scale = next(fitting, (None, None))
        if kind is not None and scale is not None:
            found = Value(kind.name, _measured(kind, plain).exact, unit, scale.factor)
        else:
            found = _feet(plain)
    else:
        found = Value(BARE, units.read("number", plain).exact, "", Fraction(1))
    if not found.si > 0:
        raise OutOfRange("value", float(found.si), "a value above zero is wanted", repr(plain))
    return found


def _feet(plain: str) -> Value:
    """Feet and inches, the one way of writing a length that is no number and a unit."""
    try:
        return Value("length", units.read("length", plain).exact, "in", INCH)
    except BadInput as fault:
        raise BadInput("value", plain, "has a unit that no coupon is measured in", _WANTED) from fault


def coupons(path: Path) -> Coupons:
    """Groups of coupons from a table with the columns group and value, and moisture if there is one.

    Args:
        path: of the file, UTF-8.
    Returns:
        Its rows, one and more, all of one kind of value.
    Raises:
        FileFault: the file cannot be opened, or has a fault; names the line.
    """
    opened = _opened(path, _COUPONS, MOST_COUPONS)
    names: dict[str, str] = {}  # as compared -> as first written
    rows: list[CouponRow] = []
    for line, cells in opened.rows:
        row = opened.row(line, cells, "in")
        group = row.cell("group", lambda text: _group(text, names))
        figure = row.cell("value", value)
        moisture = row.measured("moisture", "moisture")
        _refuse(path, row.faults)
        rows.append(CouponRow(line, group, figure, moisture))
        first = rows[0]
        if figure.kind != first.value.kind:
            other = f"line {first.line} has {_called(first.value)}"
            why = f"{row.text('value')!r} is {_called(figure)}, and {other}; one kind is wanted throughout"
            raise FileFault(str(path), why, line, "value")
    _refuse(path, opened.broken)
    return Coupons(str(path), tuple(rows), "moisture" in opened.columns)


def _called(found: Value) -> str:
    names = {kind.name: kind.called for kind in _KINDS}
    return names.get(found.kind, "a number without a unit")


def _group(text: str, names: dict[str, str]) -> str:
    checking.name("group", text)
    return names.setdefault(table.same(text), text)


def readings(path: Path) -> tuple[Reading, ...]:
    """Readings of a bending test from a table with the columns load and deflection.

    Args:
        path: of the file, UTF-8; bare numbers are lbf and inches.
    Returns:
        The readings, in their order.
    Raises:
        FileFault: the file cannot be opened, or has a fault, or readings that no test gives.
    """
    opened = _opened(path, _READINGS, MOST_READINGS)
    found: list[Reading] = []
    for line, cells in opened.rows:
        row = opened.row(line, cells, "in")
        load, deflection = _cell(row, "load", "force"), _cell(row, "deflection", "length")
        _refuse(path, row.faults)
        found.append(Reading(load.si, deflection.si))
    _refuse(path, opened.broken)
    try:
        bending_readings.check(found)
    except OutOfRange as refusal:
        raise FileFault(str(path), f"{refusal.quantity}: {refusal.limits}") from None
    return tuple(found)


def _cell(row: Row, column: str, kind: str) -> Typed:
    typed: Typed = row.cell(column, lambda text: units.read(kind, text))
    return typed


def _opened(path: Path, layout: Layout, most: int) -> table.Table:
    try:
        text = text_of(path)
    except UnicodeDecodeError:
        raise FileFault(str(path), "not UTF-8 text; save it as CSV in UTF-8") from None
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or str(fault)
        why = f"cannot be opened: {said}; a table with the columns {', '.join(layout.required)} would be read"
        raise FileFault(str(path), why) from None
    opened = table.opened(text, layout)
    _refuse(path, opened.faults)
    if not opened.complete:
        _refuse(path, opened.broken)
    if len(opened.rows) > most:
        why = f"{len(opened.rows):,} rows stand there, and {most:,} is the most: look at the file"
        raise FileFault(str(path), why)
    return opened


def _refuse(path: Path, faults: list[Fault] | tuple[Fault, ...]) -> None:
    for fault in faults:
        raise FileFault(str(path), fault.why, fault.line, fault.column)


def blows(text: str) -> tuple[tuple[Typed, str], ...]:
    """Blows as they came, `10, 12 x2, 14 crack, 15 broken`: height, and what it did.

    Args:
        text: parted by commas, or by semicolons where a comma is a decimal sign.
    Returns:
        Height [m] and one of coupon.OUTCOMES for each blow; "nothing" where nothing is said.
    Raises:
        BadInput, OutOfRange: a blow that cannot be read, or a height of zero.
    """
    found: list[tuple[Typed, str]] = []
    for part in text.split(";" if ";" in text else ","):
        match = _BLOW.fullmatch(part.strip())
        if match is None or match[2] == "0":
            raise BadInput("blow", part.strip(), "is no blow", "heights like 10, 12 x2, 14 crack, 15 broken")
        height = units.read("length", match[1])
        checking.size("height", height)
        found += [(height, (match[3] or NOTHING).lower())] * int(match[2] or 1)
    if len(found) > MOST_BLOWS:
        raise OutOfRange("blow", len(found), f"{MOST_BLOWS} blows is the most")
    return tuple(found)
