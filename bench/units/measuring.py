"""A tidy text as one value with its unit, before the limits of its kind."""

import re
from fractions import Fraction

from bench.core.quantities import INCH
from bench.core.records import Typed
from bench.units.digits import Unread, number, split
from bench.units.kinds import FOOT_WORDS, INCH_WORDS, KINDS, Kind, Scale, known

_FEET = re.compile(rf"([^a-z'\"]*?)\s*(?:{'|'.join(FOOT_WORDS.split())})\.?(?![a-z])\s*(.*)")
_INCHES = re.compile(rf"(.*?)\s*(?:{'|'.join(INCH_WORDS.split())})?\.?")
_UNIT_NAME = re.compile(r"[A-Za-z]+(?:[ _][A-Za-z]+)*\.?")
_FOOT_ON_ITS_HYPHEN = re.compile(r"(?<=['a-z.])-(?=[\d.])")


def measure(kind: Kind, plain: str, default: str = "") -> Typed:
    """One value of a kind.

    Raises:
        Unread: the text cannot be read.
    """
    default = default or kind.default
    split(plain)  # empty, endless or too long: said before anything else
    negative = plain.startswith("-")
    unsigned = plain[1:].lstrip() if plain[0] in "+-" else plain
    feet = feet_and_inches(unsigned) if kind.name == "length" else None
    if feet is None:
        digits, unit = split(unsigned)
        value = _whole(digits, unit) if kind.whole and not negative else number(digits)
        scale, bare = _scale(kind, unit, default)
        exact = ((-value if negative else value) + scale.offset) * scale.factor
    else:
        value, exact, bare = feet, feet, False
    if negative and not kind.signed:
        raise Unread("is negative")
    if not value and not kind.zero:
        raise Unread("is zero")
    return Typed(exact, f"{plain} {default}" if bare and default else plain)


def feet_and_inches(plain: str) -> Fraction | None:
    """A length in feet, with or without inches, like `5'`, `2' 6 1/2"`, `2'-6"`; None without feet [m].

    Raises:
        Unread: feet that are not whole before inches, inches of 12 and more, anything else after the feet.
    """
    match = _FEET.fullmatch(plain.lower())
    if not match:
        return None
    feet, rest = number(match[1]), match[2]
    if not rest:
        return feet * 12 * INCH
    if rest.startswith("-"):
        if not _FOOT_ON_ITS_HYPHEN.search(plain.lower()):
            raise Unread("has a hyphen with a space beside it")
        rest = rest[1:]
    inches_text = _INCHES.fullmatch(rest)
    digits = inches_text[1] if inches_text else rest
    if re.search(r"[a-z'\"]", digits):
        raise Unread(f"has {rest!r} after the feet, where only inches can stand")
    inches = number(digits)
    if feet.denominator != 1:
        raise Unread("has inches after feet that are not whole")
    if inches >= 12:
        raise Unread("has 12 inches or more after the feet")
    return (feet * 12 + inches) * INCH


def scale_of(kind: Kind, unit: str) -> Scale:
    """The scale of a unit: from the fast table, else from the registry.

    Raises:
        Unread: the unit is not known, or measures something else.
    """
    if found := known(kind, unit):
        return found
    for other in KINDS.values():
        if known(other, unit):
            raise Unread(_misfit(kind, unit, other.called))
    if not _UNIT_NAME.fullmatch(unit):
        raise Unread(f"has {unit!r} after the number, which is not a unit")
    # Imported here: pint takes longer to load than the screen, and most texts never need it.
    from bench.units.registry import look_up

    looked_up = look_up(unit.removesuffix("."))
    if looked_up is None:
        raise Unread(f"has {unit!r} after the number, which is not a unit known here")
    name, factor = looked_up
    if name != kind.name:
        raise Unread(_misfit(kind, unit, KINDS[name].called if name else "something else"))
    return Scale(factor)


def _misfit(kind: Kind, unit: str, called: str) -> str:
    text = f"has the unit {unit}, which measures {called}"
    return text if kind.units else f"{text}; {kind.called} has no unit"


def _scale(kind: Kind, unit: str, default: str) -> tuple[Scale, bool]:
    """The scale, and whether the number was bare. A degree sign alone means the default thermometer."""
    bare = not unit or (kind.name == "temperature" and unit.lower() in ("°", "deg", "degrees"))
    word = default if bare else unit
    return (scale_of(kind, word) if word else Scale(Fraction(1))), bare


def _whole(digits: str, unit: str) -> Fraction:
    value = number(digits)
    if value.denominator != 1 or not digits.isdigit():
        raise Unread("is not a whole number")
    return value
