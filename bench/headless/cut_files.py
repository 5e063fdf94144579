"""A cut list in JSON, read strictly: every fault is named with its place, `parts[2].length`."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from bench import units
from bench.core import checking
from bench.core.cutting import CutRules
from bench.core.errors import FileFault, OutOfRange, Refusal
from bench.core.quantities import INCH
from bench.core.records import Typed
from bench.units.kinds import KINDS

Row = TypeVar("Row")

MOST_STICKS = 1_000
_RULES = ("kerf", "end_trim", "margin", "squaring", "least_offcut")
_DEFAULTS = {"kerf": INCH / 8}
_TOP = (*_RULES, "parts", "sticks")
LEAST_GRAVITY, MOST_GRAVITY = Fraction(5, 100), Fraction(3, 2)
_PART = ("name", "length", "quantity", "section", "minimum_sg", "critical")
_STICK = ("tag", "length", "quantity", "section", "sg", "defects")


class Digits(str):
    """A number of the file, kept as written so that no digit is lost."""


@dataclass(frozen=True, slots=True)
class ListedPart:
    """A line of parts as listed."""

    name: str
    length: Fraction  # [m]
    quantity: int
    section: tuple[Fraction, ...] | None  # two sides, the smaller first [m]
    minimum_sg: Fraction | None  # [1]
    critical: bool


@dataclass(frozen=True, slots=True)
class ListedStick:
    """One stick; a line of several has become as many."""

    tag: str
    length: Fraction  # [m]
    section: tuple[Fraction, ...] | None  # two sides, the smaller first [m]
    sg: Fraction | None  # [1]
    defects: tuple[tuple[Fraction, Fraction], ...]  # [m]


@dataclass(frozen=True, slots=True)
class CutList:
    """The whole file."""

    rules: CutRules
    parts: tuple[ListedPart, ...]
    sticks: tuple[ListedStick, ...]


def read_file(path: Path) -> CutList:
    """A cut list from its file.

    Args:
        path: of a JSON file, UTF-8.
    Returns:
        The list; lengths exact.
    Raises:
        FileFault: the file cannot be opened, is no JSON, or has a fault; names the place.
    """
    return _Reader(str(path)).cut_list(_parsed(path))


def _parsed(path: Path) -> object:
    name = str(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
        return json.loads(
            text,
            parse_int=Digits,
            parse_float=Digits,
            parse_constant=lambda word: Digits(word),
            object_pairs_hook=lambda pairs: _object(name, pairs),
        )
    except UnicodeDecodeError:
        raise FileFault(name, "not UTF-8 text; save it as UTF-8") from None
    except json.JSONDecodeError as fault:
        where = f"column {fault.colno}: {fault.msg[:1].lower()}{fault.msg[1:]}"
        raise FileFault(name, f"not readable as JSON at {where}", fault.lineno) from None
    except RecursionError:
        raise FileFault(name, "not a cut list: brackets within brackets without end") from None
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or str(fault)
        raise FileFault(
            name, f"cannot be opened: {said}; the JSON file of a cut list would be read"
        ) from None


def _object(name: str, pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise FileFault(name, f"the key {key!r} is given twice in one object; once would be read")
        found[key] = value
    return found


class _Reader:
    """Reads values of one file and names the place of each fault."""

    def __init__(self, path: str) -> None:
        self.path = path

    def cut_list(self, top: object) -> CutList:
        table = self._table(top, "", _TOP, ())
        lengths = {key: self._length(table, key, "", needed=False) for key in _RULES}
        rules = {key: _DEFAULTS.get(key, Fraction(0)) if at is None else at for key, at in lengths.items()}
        parts = self._rows(table, "parts", self._part)
        self._refuse_doubles("parts", "name", [part.name for part in parts])
        lines = self._rows(table, "sticks", self._stick_line)
        self._refuse_doubles("sticks", "tag", [stick.tag for stick, _ in lines])
        sticks = tuple(each for stick, count in lines for each in _each(stick, count))
        tags = [stick.tag for stick in sticks]
        if len(sticks) > MOST_STICKS:
            self._fault("sticks", f"{len(sticks)} sticks are listed; {MOST_STICKS} are the most")
        self._refuse_doubles("sticks", "tag", tags)
        return CutList(CutRules(**rules), parts, sticks)

    def _part(self, value: object, at: str) -> ListedPart:
        table = self._table(value, at, _PART, ("name", "length"))
        critical = table.get("critical", False)
        if not isinstance(critical, bool):
            self._fault(
                f"{at}.critical", f"{_shown(critical)} is not true or false; one of them would be read"
            )
        return ListedPart(
            name=self._name(table, "name", at),
            length=self._long(table, at),
            quantity=self._count(table, at) or 0 if "quantity" in table else 1,
            section=self._section(table, at),
            minimum_sg=self._gravity(table, "minimum_sg", at),
            critical=critical,
        )

    def _stick_line(self, value: object, at: str) -> tuple[ListedStick, int | None]:
        """A line of sticks, and how many; None where the line says nothing."""
        table = self._table(value, at, _STICK, ("tag", "length"))
        length = self._long(table, at)
        defects = table.get("defects", [])
        if not isinstance(defects, list):
            self._fault(f"{at}.defects", f'{_shown(defects)} is not a list like [["30 in", "32 in"]]')
        stick = ListedStick(
            tag=self._name(table, "tag", at),
            length=length,
            section=self._section(table, at),
            sg=self._gravity(table, "sg", at),
            defects=tuple(
                self._defect(defect, f"{at}.defects[{count}]", length) for count, defect in enumerate(defects)
            ),
        )
        return stick, self._count(table, at)

    def _defect(self, value: object, at: str, length: Fraction) -> tuple[Fraction, Fraction]:
        if not isinstance(value, list) or len(value) != 2:
            self._fault(at, f'{_shown(value)} is not a pair of places like ["30 in", "32 in"]')
        start, end = (self._typed("length", place, f"{at}[{count}]") for count, place in enumerate(value))
        furthest = max(start, end, key=lambda place: place.exact)
        if furthest.exact > length:
            self._fault(
                at,
                f"{start.text} to {end.text} is outside its stick, which ends at {units.tape(length)}; "
                "a stretch on the stick would be read",
            )
        return start.exact, end.exact

    def _table(
        self, value: object, at: str, known: tuple[str, ...], needed: tuple[str, ...]
    ) -> dict[str, Any]:
        if not isinstance(value, dict):
            self._fault(
                at,
                f"{_shown(value)} is not an object; {{...}} with the keys {', '.join(known)} would be read",
            )
        for key in value:
            if key not in known:
                self._fault(_join(at, key), f"this key is not known; the keys are {', '.join(known)}")
        for key in needed:
            if key not in value:
                self._fault(_join(at, key), "is missing")
        return value

    def _rows(self, table: dict[str, Any], key: str, read: Callable[[object, str], Row]) -> tuple[Row, ...]:
        rows = table.get(key, [])
        if not isinstance(rows, list):
            self._fault(key, f"{_shown(rows)} is not a list; [...] would be read")
        return tuple(read(row, f"{key}[{count}]") for count, row in enumerate(rows))

    def _name(self, table: dict[str, Any], key: str, at: str) -> str:
        value = table[key]
        if isinstance(value, Digits) or not isinstance(value, str) or not value.strip():
            self._fault(f"{at}.{key}", f"{_shown(value)} is not a name; text in quotes would be read")
        return value.strip()

    def _long(self, table: dict[str, Any], at: str) -> Fraction:
        """The length of a part or a stick, above zero [m]."""
        typed = self._typed("length", table["length"], f"{at}.length")
        try:
            checking.size("length", typed)
        except OutOfRange as refusal:
            self._fault(f"{at}.length", f"{typed.text} is not possible here; {refusal.limits}")
        return typed.exact

    def _length(self, table: dict[str, Any], key: str, at: str, needed: bool = True) -> Fraction | None:
        if key not in table and not needed:
            return None
        typed = self._typed("length", table[key], _join(at, key))
        if typed.exact > checking.LONGEST_M:
            self._fault(
                _join(at, key), f"{typed.text} is not possible here; 100 m is the most: look at the unit"
            )
        return typed.exact

    def _count(self, table: dict[str, Any], at: str) -> int | None:
        if "quantity" not in table:
            return None
        typed = self._typed("count", table["quantity"], f"{at}.quantity")
        if typed.exact > checking.MOST_PIECES:
            self._fault(f"{at}.quantity", f"{typed.text} is too many; {checking.MOST_PIECES} is the most")
        return int(typed.exact)

    def _section(self, table: dict[str, Any], at: str) -> tuple[Fraction, ...] | None:
        if "section" not in table:
            return None
        value = table["section"]
        if not isinstance(value, str):
            self._fault(
                f"{at}.section", f'{_shown(value)} is not a size; a size like "3/4 x 1-1/2" would be read'
            )
        try:
            sides = units.size(value)
        except Refusal as refusal:
            self._fault(f"{at}.section", _without_name(refusal))
        if len(sides) != 2:
            self._fault(f"{at}.section", f"{value!r} has three dimensions; width x depth would be read")
        return tuple(sorted(side.exact for side in sides))

    def _gravity(self, table: dict[str, Any], key: str, at: str) -> Fraction | None:
        if key not in table:
            return None
        gravity = self._typed("gravity", table[key], f"{at}.{key}").exact
        if not LEAST_GRAVITY <= gravity <= MOST_GRAVITY:
            self._fault(f"{at}.{key}", f"{_shown(table[key])} is no wood's; 0.05 to 1.5 would be read")
        return gravity

    def _typed(self, kind: str, value: object, at: str) -> Typed:
        if not isinstance(value, str):
            self._fault(at, f"{_shown(value)} is not a number; {KINDS[kind].wanted} would be read")
        try:
            return units.read(kind, value)
        except Refusal as refusal:
            self._fault(at, _without_name(refusal))

    def _refuse_doubles(self, key: str, field: str, names: list[str]) -> None:
        seen: set[str] = set()
        for name in names:
            if name in seen:
                self._fault(key, f"the {field} {name!r} is used twice; each needs its own")
            seen.add(name)

    def _fault(self, at: str, reason: str) -> NoReturn:
        raise FileFault(self.path, reason, None, at) from None


def _each(stick: ListedStick, count: int | None) -> tuple[ListedStick, ...]:
    if count is None:
        return (stick,)
    return tuple(
        ListedStick(f"{stick.tag}#{number}", stick.length, stick.section, stick.sg, stick.defects)
        for number in range(1, count + 1)
    )


def _join(at: str, key: str) -> str:
    return f"{at}.{key}" if at else key


def _without_name(refusal: Refusal) -> str:
    return refusal.message.removeprefix(f"{refusal.quantity}: ")


def _shown(value: object, inside: bool = False) -> str:
    """A value much as it stands in the file, lists one deep."""
    if isinstance(value, dict):
        return "{...}"
    if isinstance(value, list):
        text = "[...]" if inside else f"[{', '.join(_shown(each, inside=True) for each in value[:20])}]"
    else:
        text = str(value) if isinstance(value, Digits) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 40 else text[:37] + "..."
