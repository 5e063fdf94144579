"""A JSON file read strictly: numbers as written, and every fault named with its place, `parts[2].length`."""

import json
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from bench import units
from bench.core import checking
from bench.core.errors import FileFault, OutOfRange, Refusal
from bench.core.records import Typed
from bench.headless.bounded import text_of
from bench.units.kinds import KINDS

Row = TypeVar("Row")
Table = dict[str, Any]

LEAST_GRAVITY, MOST_GRAVITY = Fraction(5, 100), Fraction(3, 2)


class Digits(str):
    """A number of the file, kept as written so that no digit is lost."""


def parsed(path: Path) -> object:
    """What a JSON file holds, numbers as Digits; raises FileFault with the place."""
    name = str(path)
    try:
        text = text_of(path)
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
        wanted = "the JSON file of a cut list, or a job, would be read"
        raise FileFault(name, f"cannot be opened: {said}; {wanted}") from None


def _object(name: str, pairs: list[tuple[str, Any]]) -> Table:
    found: Table = {}
    for key, value in pairs:
        if key in found:
            raise FileFault(name, f"the key {key!r} is given twice in one object; once would be read")
        found[key] = value
    return found


class Values:
    """Reads values of one file; each refusal is a FileFault that names the place."""

    def __init__(self, path: str) -> None:
        self.path = path

    def fault(self, at: str, reason: str) -> NoReturn:
        """Refuse; raises FileFault."""
        raise FileFault(self.path, reason, None, at) from None

    def table(self, value: object, at: str, known: Sequence[str], needed: Iterable[str]) -> Table:
        """An object with known keys, the needed ones among them."""
        if not isinstance(value, dict):
            keys = ", ".join(known)
            self.fault(at, f"{shown(value)} is not an object; {{...}} with the keys {keys} would be read")
        for key in value:
            if key not in known:
                self.fault(join(at, key), f"this key is not known; the keys are {', '.join(known)}")
        for key in needed:
            if key not in value:
                self.fault(join(at, key), "is missing")
        return value

    def rows(self, table: Table, key: str, read: Callable[[object, str], Row]) -> tuple[Row, ...]:
        """A list, each row read with its place; none where the key is left out."""
        rows = table.get(key, [])
        if not isinstance(rows, list):
            self.fault(key, f"{shown(rows)} is not a list; [...] would be read")
        return tuple(read(row, f"{key}[{count}]") for count, row in enumerate(rows))

    def pairs(self, table: Table, key: str, at: str) -> tuple[tuple[tuple[Typed, Typed], str], ...]:
        """A list of pairs of places, in either order, each with its own place in the file."""
        listed = table.get(key, [])
        if not isinstance(listed, list):
            self.fault(f"{at}.{key}", f'{shown(listed)} is not a list like [["30 in", "32 in"]]')
        return tuple(
            (self._pair(pair, f"{at}.{key}[{n}]"), f"{at}.{key}[{n}]") for n, pair in enumerate(listed)
        )

    def _pair(self, value: object, at: str) -> tuple[Typed, Typed]:
        if not isinstance(value, list) or len(value) != 2:
            self.fault(at, f'{shown(value)} is not a pair of places like ["30 in", "32 in"]')
        start, end = (self.typed("length", place, f"{at}[{count}]") for count, place in enumerate(value))
        return start, end

    def inside(self, ends: tuple[Typed, Typed], at: str, what: str, length: Fraction) -> None:
        """Refuse a stretch that reaches over the end of a stick or part of this length [m]."""
        if max(end.exact for end in ends) > length:
            start, end = ends
            self.fault(
                at,
                f"{start.text} to {end.text} is outside its {what}, which ends at {units.tape(length)}; "
                f"a stretch on the {what} would be read",
            )

    def name(self, table: Table, key: str, at: str) -> str:
        """Text that is not empty, without blanks at its ends."""
        value = table[key]
        if isinstance(value, Digits) or not isinstance(value, str) or not value.strip():
            self.fault(f"{at}.{key}", f"{shown(value)} is not a name; text in quotes would be read")
        return value.strip()

    def words(self, table: Table, key: str, at: str, most: int) -> str:
        """Text of so many letters at most; empty where the key is left out."""
        value = table.get(key, "")
        if isinstance(value, Digits) or not isinstance(value, str):
            self.fault(f"{at}.{key}", f"{shown(value)} is not text; text in quotes would be read")
        if len(value.strip()) > most:
            self.fault(f"{at}.{key}", f"{shown(value)} is too long; {most} characters is the most")
        return value.strip()

    def choice(self, table: Table, key: str, at: str, choices: Sequence[str], default: str) -> str:
        """One of some words; the default where the key is left out."""
        value = table.get(key, default)
        if key in table and value not in choices:
            wanted = f"{', '.join(choices[:-1])} or {choices[-1]}"
            self.fault(f"{at}.{key}", f"{shown(value)} is not known; {wanted} would be read")
        return str(value)

    def flag(self, table: Table, key: str, at: str) -> bool:
        """True or false; false where the key is left out."""
        value = table.get(key, False)
        if not isinstance(value, bool):
            self.fault(join(at, key), f"{shown(value)} is not true or false; one of them would be read")
        return value

    def size(self, table: Table, key: str, at: str) -> Typed:
        """A length above zero [m]."""
        typed = self.typed("length", table[key], join(at, key))
        try:
            checking.size("length", typed)
        except OutOfRange as refusal:
            self.fault(join(at, key), f"{typed.text} is not possible here; {refusal.limits}")
        return typed

    def allowance(self, table: Table, key: str, default: Fraction) -> Fraction:
        """A length of zero or more at the top of the file [m]."""
        if key not in table:
            return default
        typed = self.typed("length", table[key], key)
        if typed.exact > checking.LONGEST_M:
            self.fault(key, f"{typed.text} is not possible here; 100 m is the most: look at the unit")
        return typed.exact

    def count(self, table: Table, at: str) -> int | None:
        """How many; None where the line says nothing."""
        if "quantity" not in table:
            return None
        typed = self.typed("count", table["quantity"], f"{at}.quantity")
        if typed.exact > checking.MOST_PIECES:
            self.fault(f"{at}.quantity", f"{typed.text} is too many; {checking.MOST_PIECES} is the most")
        return int(typed.exact)

    def section(self, table: Table, at: str) -> tuple[Fraction, Fraction] | None:
        """Width and depth as they stand; None where the key is left out [m]."""
        if "section" not in table:
            return None
        value = table["section"]
        if not isinstance(value, str):
            self.fault(
                f"{at}.section", f'{shown(value)} is not a size; a size like "3/4 x 1-1/2" would be read'
            )
        try:
            sides = units.size(value)
        except Refusal as refusal:
            self.fault(f"{at}.section", _without_name(refusal))
        if len(sides) != 2:
            self.fault(f"{at}.section", f"{value!r} has three dimensions; width x depth would be read")
        return sides[0].exact, sides[1].exact

    def gravity(self, table: Table, key: str, at: str) -> Fraction | None:
        """A specific gravity that a wood can have; None where the key is left out [1]."""
        if key not in table:
            return None
        gravity = self.typed("gravity", table[key], f"{at}.{key}").exact
        if not LEAST_GRAVITY <= gravity <= MOST_GRAVITY:
            self.fault(f"{at}.{key}", f"{shown(table[key])} is no wood's; 0.05 to 1.5 would be read")
        return gravity

    def scarf(self, table: Table, at: str) -> Fraction | None:
        """The slope of a joint, rise over run; None where the key is left out [1]."""
        if "scarf" not in table:
            return None
        value, (least, most) = table["scarf"], checking.STEEPEST_SCARF
        wanted = 'a slope like "1:12", from 1:30 to 1:4, would be read'
        try:
            slope = units.read("scarf", value).exact if isinstance(value, str) else None
        except Refusal:
            slope = None
        if slope is None:
            self.fault(f"{at}.scarf", f"{shown(value)} is not a slope of a joint; {wanted}")
        if not least <= slope <= most:
            self.fault(f"{at}.scarf", f"{shown(value)} is not possible here; {wanted}")
        return slope

    def typed(self, kind: str, value: object, at: str) -> Typed:
        """A value of a kind of units.kinds."""
        if not isinstance(value, str):
            self.fault(at, f"{shown(value)} is not a number; {KINDS[kind].wanted} would be read")
        try:
            return units.read(kind, value)
        except Refusal as refusal:
            self.fault(at, _without_name(refusal))

    def refuse_doubles(self, key: str, field: str, names: Iterable[str]) -> None:
        """Refuse a name that is used twice."""
        seen: set[str] = set()
        for name in names:
            if name in seen:
                self.fault(key, f"the {field} {name!r} is used twice; each needs its own")
            seen.add(name)


def join(at: str, key: str) -> str:
    """The place of a key in the object at a place."""
    return f"{at}.{key}" if at else key


def _without_name(refusal: Refusal) -> str:
    return refusal.message.removeprefix(f"{refusal.quantity}: ")


def shown(value: object, inside: bool = False) -> str:
    """A value much as it stands in the file, lists one deep."""
    if isinstance(value, dict):
        return "{...}"
    if isinstance(value, list):
        text = "[...]" if inside else f"[{', '.join(shown(each, inside=True) for each in value[:20])}]"
    else:
        text = str(value) if isinstance(value, Digits) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 40 else text[:37] + "..."
