"""What is different between two states of a job, in words: which thing, which field, from what to what."""

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from fractions import Fraction
from typing import Any

from bench import units
from bench.core import records
from bench.core.coupon import Blow, Coupon, LoadPoint
from bench.core.differing import Difference
from bench.sheets import defects, telling

ABSENT = "--"  # where there was nothing, or is nothing any more
KIND = {"settings": "shop", "spoilt": "lost piece"}


def _reading(reading: records.FloatReading) -> str:
    marks = ", ".join(units.mark_read(mark) for mark in reading.marks)
    later = "".join(f", {units.mark_read(timed.mark)} after {timed.seconds:g} s" for timed in reading.timed)
    said = f"reading of {reading.taken or 'no date'}, {marks} of {reading.count} after {reading.seconds:g} s"
    aside = f", SET ASIDE: {reading.aside}" if reading.aside else ""
    return f"{said}{later}, moisture {reading.moisture.text}{aside}"


def _piece(piece: Any) -> str:
    return f"{piece.stick}, {units.place(piece.start)} to {units.place(piece.end)}"


def _fields(record: Any) -> str:
    """A small record by its fields, those that are empty left out."""
    said = [
        f"{field.name.replace('_', ' ')} {value(getattr(record, field.name))}"
        for field in fields(record)
        if getattr(record, field.name) not in (None, "", ())
    ]
    return ", ".join(said) or ABSENT


_SAID: dict[type, Callable[[Any], str]] = {
    records.Typed: lambda typed: typed.text,
    bool: lambda yes: "yes" if yes else "no",
    str: lambda text: text.replace("_", " ") or ABSENT,
    Fraction: lambda length: units.place(length),
    records.FloatReading: _reading,
    records.Defect: defects.write,
    records.CutMade: _piece,
    records.Laid: _piece,
    records.Spoilt: lambda lost: f"{_piece(lost)}{f': {lost.why}' if lost.why else ''}",
    records.Stick: telling.stick_words,
    records.Part: telling.part_words,
    records.Offer: telling.offer_words,
    Coupon: telling.coupon_words,
    Blow: lambda blow: f"blow from {blow.height.text}, {blow.seen}",
    LoadPoint: lambda point: f"{point.load.text} at {point.deflection.text}",
}


def value(found: Any) -> str:
    """A value of any field, as it was typed.

    Args:
        found: a typed value, a text, a record, or a tuple of these; None where there is none.
    Returns:
        Words; two hyphens for nothing.
    """
    if found is None or found == ():
        return ABSENT
    if isinstance(found, tuple):
        return ", ".join(value(one) for one in found)
    say = _SAID.get(type(found))
    if say is not None:
        return say(found)
    return _fields(found) if is_dataclass(found) else str(found)


def title(kind: str, name: str) -> str:
    """A thing by its kind and name, as in `stick A-07`.

    Args:
        kind: as differing.things names it.
        name: of it; empty where there is one only.
    Returns:
        Words.
    """
    return f"{KIND.get(kind, kind)} {name}".strip()


def line(difference: Difference) -> str:
    """One difference in a line: `stick A-07, moisture: 9.5 % -> 10 %`.

    Args:
        difference: of differing.
    Returns:
        Words.
    """
    named = title(difference.kind, difference.name)
    if difference.field:
        named = f"{named}, {difference.field.replace('_', ' ')}"
    return f"{named}: {value(difference.before)} -> {value(difference.after)}"
