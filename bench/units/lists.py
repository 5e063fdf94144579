"""Several lengths in one text: the size of a piece, and the stretches of a stick.

A bare number beside a number with a unit takes that unit: `19 x 38 mm` is in millimetres in every shop. Where
that would be a guess, the text is refused.
"""

import re
from fractions import Fraction

from bench.core.errors import BadInput
from bench.core.quantities import INCH
from bench.core.records import Typed
from bench.units.digits import Unread, split, tidy
from bench.units.kinds import KINDS
from bench.units.measuring import feet_and_inches, measure, scale_of

_LENGTH = KINDS["length"]
_MILLIMETRE = Fraction(1, 1000)
_FOOT = 12 * INCH
# Units that a section is measured in. Not feet and metres: `2 x 4 x 8 ft` has only its length in feet.
_LENT_IN_A_SIZE = {INCH: "in", _MILLIMETRE: "mm", 10 * _MILLIMETRE: "cm"}

_SIZE_WANTED = "a size like 3/4 x 1-1/2, 19 x 38 mm, 3/4 x 3/4 x 12 or 3/4 sq"
_SPAN_WANTED = "stretches like 30-32, 41 5/8 to 42, or a single place like 100"
_BY = re.compile(r"\s*(?:[x×✕*]|by)\s*", re.IGNORECASE)
_SQUARE = re.compile(r"(.*?)\s*(?:square|sq)\.?", re.IGNORECASE)
_DASH = re.compile(r"\s*[–—]\s*")
_ENDS = re.compile(r"\s*(?:to|\.\.)\s*", re.IGNORECASE)
_MIXED_NUMBER = re.compile(r"(?<![\d./])\d+(-)(\d+)/(\d+)(?![\d/])", re.ASCII)
_FEET_AND_INCHES = re.compile(
    r"(?:'|ft\.?|foot|feet)(-)(?:\d+[ -])?\d*[\d./]+(?!\s*(?:'|f|\d|\.|/))", re.IGNORECASE | re.ASCII
)


def size(text: str, default: str = "") -> tuple[Typed, ...]:
    """The size of a piece: `W x D`, `W x D x L`, or one side of a square: `3/4`, `3/4 sq`, `3/4 sq x 12`.

    Args:
        text: values parted by x, X, ×, * or "by".
        default: unit where no value has one.
    Returns:
        Width and depth, and the length where it was given, each above zero [m].
    Raises:
        BadInput: says which value cannot be read and why.
    """
    plain = tidy(text)
    pieces = _BY.split(plain)
    try:
        if square := _SQUARE.fullmatch(pieces[0]):
            pieces[:1] = [square[1], square[1]]
        elif len(pieces) == 1:
            pieces = pieces * 2
        if len(pieces) > 3:
            raise Unread("has more than three dimensions")
        bare = _bare_unit(pieces, default or _LENGTH.default)
        values = tuple(_piece(piece, bare, alone=piece == plain) for piece in pieces)
        if any(not value.exact for value in values):
            raise Unread("has a side of zero")
    except Unread as fault:
        raise BadInput("size", plain, fault.why, fault.wanted or _SIZE_WANTED) from None
    return values


def spans(text: str, default: str = "") -> tuple[tuple[Typed, Typed], ...]:
    """Stretches of a stick from its marked end: `30-32, 41 5/8 - 42; 100`.

    Stretches are parted by comma or semicolon, so a comma is no decimal sign here. The ends of a stretch are
    parted by "to", "..", an en dash or a hyphen; a single place is a stretch without length. A hyphen belongs
    to the number when a proper fraction follows a whole number with no space (`1-1/8`), or inches follow feet
    (`2'-6"`); any other hyphen parts two ends. So `30-32` and `1-1/8-2` are stretches, `30-1/2` is one place.

    Args:
        text: may be empty: no stretch.
        default: unit where neither end has one.
    Returns:
        Pairs of places, start and end, in the order typed [m].
    Raises:
        BadInput: an end that cannot be read, a stretch with three ends or one that runs backwards.
    """
    items = [item.strip() for item in re.split(r"[,;\n]", text)]
    if not items[-1]:
        items.pop()
    try:
        return tuple(_span(tidy(_DASH.sub(" to ", item)), default or _LENGTH.default) for item in items)
    except Unread as fault:
        raise BadInput("stretch", tidy(text), fault.why, fault.wanted or _SPAN_WANTED) from None


def _span(item: str, default: str) -> tuple[Typed, Typed]:
    ends = _split_ends(item)
    if len(ends) > 2:
        raise Unread(f"has {item!r}, which has more than two ends")
    if len(ends) == 1:
        place = _piece(ends[0], default)
        return place, place
    bare = _lent_in_a_span(ends[0], ends[1]) or default
    start, end = (_piece(piece, bare) for piece in ends)
    if start.exact > end.exact:
        raise Unread(f"has {item!r}, which runs backwards")
    return start, end


def _split_ends(item: str) -> list[str]:
    ends = _ENDS.split(item)
    if len(ends) > 1:
        return ends
    kept = {match.start(1) for match in _MIXED_NUMBER.finditer(item) if 0 <= int(match[2]) < int(match[3])}
    kept |= {match.start(1) for match in _FEET_AND_INCHES.finditer(item)}
    cuts = [place for place, mark in enumerate(item) if mark == "-" and place and place not in kept]
    starts, stops = [0, *(cut + 1 for cut in cuts)], [*cuts, len(item)]
    return [item[start:stop].strip() for start, stop in zip(starts, stops, strict=True)]


def _lent_in_a_span(start: str, end: str) -> str:
    """The unit that one end lends the other, "" for none.

    Feet before a bare end may want inches or feet, so they are refused; feet and inches after one lend none.
    """
    first, last = _unit_factor(start), _unit_factor(end)
    if first == _FOOT and last is None:
        raise Unread(f"has {end!r} after feet, without a unit")
    lender, factor = (start, first) if first else (end, last)
    unit = split(lender)[1] if factor else ""
    if re.search(r"\d", unit):
        return ""
    return {INCH: "in", _FOOT: "ft"}.get(factor or Fraction(0), unit)


def _piece(piece: str, default: str, alone: bool = False) -> Typed:
    """One value of several; a fault names it."""
    try:
        return measure(_LENGTH, piece, default)
    except Unread as fault:
        if alone:
            raise
        named = f"has {piece!r}, which {fault.why}" if piece else "has nothing where a length should stand"
        raise Unread(named, fault.wanted) from None


def _unit_factor(piece: str) -> Fraction | None:
    """Metres in the unit written at a value, the foot for feet and inches; None for a bare number [m]."""
    if piece and feet_and_inches(piece) is not None:
        return _FOOT
    unit = split(piece)[1] if piece else ""
    return scale_of(_LENGTH, unit).factor if unit else None


def _bare_unit(pieces: list[str], default: str) -> str:
    """The unit of the bare numbers of a size."""
    found = [_unit_factor(piece) for piece in pieces]
    units = {factor for factor in found if factor is not None}
    lent = {_LENT_IN_A_SIZE[unit] for unit in units if unit in _LENT_IN_A_SIZE}
    if None not in found or not units:
        return default
    if len(lent) == 1:
        return lent.pop()
    customary = all((unit / INCH).denominator == 1 for unit in units)
    if lent or customary != (default in ("in", "ft")):
        raise Unread("has a number without a unit beside others with different ones")
    return default
