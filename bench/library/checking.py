"""One table of a species file to one record, or the reason why not."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from bench.core.naming import nearest
from bench.core.quantities import DATA_UNITS, QUANTITIES
from bench.core.records import Figure, Source, Statement

AT = ("green", "12 %", "15 %")
VOLUMES = ("green", "12 %", "oven-dry")
PLACES = ("table", "page", "section")
_REMARKS = (("spread", "spread"), ("n", "specimens"), ("derived_from", "derived from"))
FIGURE_KEYS = frozenset(
    (
        *("quantity", "value", "unit", "at", "volume", "variant", "source", *PLACES),
        *("memory", "used", "note", "spread", "n", "derived_from"),
    )
)
STATEMENT_KEYS = frozenset(("text", "source", *PLACES))
SOURCE_KEYS = frozenset(("key", "title", "publisher", "year", "note", "retrieved"))

_DECIMAL = re.compile(r"(-?[0-9]{1,12})(?:\.([0-9]{1,12}))?")
_RATIO = re.compile(r"([1-9][0-9]{0,5}):([1-9][0-9]{0,5})")
# Beginning of a quantity's name, least and greatest value that can be true [SI unit].
_PLAUSIBLE = (("specific_gravity", 0.05, 1.5), ("shrinkage", 0.001, 0.5), ("contact_angle", 0.0, 180.0))
# Drying may also take toughness away.
_SIGNED = "strength_change"


class Wrong(Exception):
    """A table that cannot be taken: the `key` at fault and the `reason`."""

    def __init__(self, key: str, reason: str) -> None:
        super().__init__(reason)
        self.key, self.reason = key, reason


def unknown(key: str, name: str, names: Iterable[str]) -> Wrong:
    """The refusal of a name that is not on the list, with the nearest ones or the whole list."""
    names = sorted(names)
    near = nearest(name, names)
    hint = f"nearest: {', '.join(near)}" if near else f"one of: {', '.join(names)}"
    return Wrong(key, f"{key} {name!r} is not known; {hint}")


def check_keys(table: Mapping[str, Any], allowed: frozenset[str]) -> None:
    """Refuse a key that the format does not have."""
    if table.keys() <= allowed:
        return
    key = min(table.keys() - allowed)
    near = nearest(key, allowed)
    hint = f"nearest: {', '.join(near)}" if near else f"the keys are: {', '.join(sorted(allowed))}"
    raise Wrong(key, f"this key is not known; {hint}")


def text_of(table: Mapping[str, Any], key: str, needed: bool = True) -> str:
    """The text under a key; empty where it is absent and not needed."""
    value = table.get(key)
    if value is None:
        if needed:
            raise Wrong(key, f"{key} is missing")
        return ""
    if not isinstance(value, str):
        raise Wrong(key, f"{key} should be text in quotes, not {value!r}")
    if not value.strip():
        raise Wrong(key, f"{key} is empty; leave the line out where nothing is known")
    return value


def _truth(table: Mapping[str, Any], key: str, default: bool) -> bool:
    value = table.get(key, default)
    if not isinstance(value, bool):
        raise Wrong(key, f"{key} should be true or false, not {value!r}")
    return value


def _choice(table: Mapping[str, Any], key: str, allowed: tuple[str, ...]) -> str:
    value = text_of(table, key, needed=False)
    if value and value not in allowed:
        raise Wrong(key, f"{key} {value!r} is not known; one of: {', '.join(allowed)}")
    return value


def place_of(table: Mapping[str, Any]) -> str:
    """Table, page and section of a table joined for reading."""
    table_, page, section = (text_of(table, key, needed=False) for key in PLACES)
    parts = []
    if table_:
        parts.append(f"Table {table_}")
    if page:
        parts.append(f"p. {page}")
    if section:
        parts.append(f"sec. {section}" if section[0].isdigit() else section)
    if not parts:
        raise Wrong("table", "no place is given; add a table, page or section")
    return ", ".join(parts)


def si_value(printed: str, unit: str, quantity: str) -> float:
    """A printed number in SI, rounded once.

    Args:
        printed: digits as printed, or rise:run where the unit is `ratio`.
        unit: a key of DATA_UNITS.
        quantity: a name of QUANTITIES.
    Returns:
        The value [SI unit of the quantity].
    Raises:
        Wrong: not a number, not above zero, or not plausible.
    """
    if unit == "ratio" and (match := _RATIO.fullmatch(printed)):
        top, bottom = int(match[1]), int(match[2])
    elif match := _DECIMAL.fullmatch(printed):
        decimals = match[2] or ""
        top, bottom = int(match[1] + decimals), 10 ** len(decimals)
    else:
        wanted = "a rise and run such as 1:15" if unit == "ratio" else "a plain decimal such as 0.40 or 10200"
        raise Wrong("value", f"value {printed!r} cannot be read; {wanted} would be")
    if top <= 0 and not quantity.startswith(_SIGNED):
        raise Wrong("value", f"value {printed} {unit} should be above zero")
    factor = DATA_UNITS[unit][1]
    # Whole numbers all the way, so that the one division rounds once, as a Fraction's would.
    value = top * factor.numerator / (bottom * factor.denominator)
    for name, least, greatest in _PLAUSIBLE:
        if quantity.startswith(name) and not least <= value <= greatest:
            likely = f"{least:g} to {greatest:g} would be"
            raise Wrong("value", f"value {printed} {unit} is not plausible; {likely}")
    return value


def _printed(table: Mapping[str, Any]) -> str:
    value = table.get("value")
    if value is None:
        raise Wrong("value", "value is missing")
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise Wrong("value", f"value should be a number, not {value!r}")
    return str(value).strip()


def _note(table: Mapping[str, Any]) -> str:
    parts = [text_of(table, "note", needed=False)]
    for key, words in _REMARKS:
        if key in table:
            if not isinstance(table[key], str | int):
                raise Wrong(key, f"{key} should be text or a number, not {table[key]!r}")
            parts.append(f"{words} {table[key]}")
    return "; ".join(part for part in parts if part)


def figure(table: Mapping[str, Any], sources: Mapping[str, Source]) -> Figure:
    """A `[[figure]]` table as a record.

    Args:
        table: as read from the file.
        sources: the bibliography.
    Returns:
        The figure, its value in SI.
    Raises:
        Wrong: with the key at fault and the reason.
    """
    check_keys(table, FIGURE_KEYS)
    quantity = text_of(table, "quantity")
    if quantity not in QUANTITIES:
        raise unknown("quantity", quantity, QUANTITIES)
    unit = text_of(table, "unit")
    if unit not in DATA_UNITS:
        raise unknown("unit", unit, DATA_UNITS)
    si_unit = QUANTITIES[quantity].unit
    if DATA_UNITS[unit][0] != si_unit:
        fitting = ", ".join(name for name, (si, _) in DATA_UNITS.items() if si == si_unit)
        raise Wrong("unit", f"unit {unit!r} does not measure {quantity}; one of: {fitting}")
    volume = _choice(table, "volume", VOLUMES)
    if quantity.startswith("specific_gravity") != bool(volume):
        why = f"{quantity} has none" if volume else f"{quantity} needs one of: {', '.join(VOLUMES)}"
        raise Wrong("volume", f"volume is for specific gravities; {why}")
    printed = _printed(table)
    return Figure(
        quantity=quantity,
        value=si_value(printed, unit, quantity),
        printed=printed,
        unit=unit,
        source=source_of(table, sources),
        where=place_of(table),
        at=_choice(table, "at", AT),
        volume=volume,
        variant=text_of(table, "variant", needed=False),
        memory=_truth(table, "memory", False),
        used=_truth(table, "used", True),
        note=_note(table),
    )


def source_of(table: Mapping[str, Any], sources: Mapping[str, Source]) -> str:
    """The source key of a table, which must be in the bibliography."""
    key = text_of(table, "source")
    if key not in sources:
        raise unknown("source", key, sources)
    return key


def statement(table: Mapping[str, Any], sources: Mapping[str, Source]) -> Statement:
    """A `[[statement]]` table as a record; raises Wrong."""
    check_keys(table, STATEMENT_KEYS)
    return Statement(text_of(table, "text"), source_of(table, sources), place_of(table))


def source(table: Mapping[str, Any]) -> Source:
    """A `[[source]]` table as a record; raises Wrong."""
    check_keys(table, SOURCE_KEYS)
    return Source(
        **{key: text_of(table, key) for key in ("key", "title", "publisher", "year")},
        **{key: text_of(table, key, needed=False) for key in ("note", "retrieved")},
    )
