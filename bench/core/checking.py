"""What a record must be before a job takes it: each refusal names the field and what would be right."""

from bench.core.errors import Clash, Missing, OutOfRange
from bench.core.records import Defect, Part, SectionChoice, Settings, Stick, Typed
from bench.core.resizing import HOLDS, MATCHES

LONGEST_M = 100.0
WIDEST_KERF_M = 0.025
MOST_PIECES = 10_000


def size(field: str, typed: Typed) -> None:
    """Refuse a length that is not above zero or is beyond any stick.

    Args:
        field: its name.
        typed: length [m].
    Raises:
        OutOfRange: zero, negative, or above 100 m.
    """
    if not typed.exact > 0:
        raise OutOfRange(field, typed.si, "a size above zero is wanted", typed.text or "0")
    if typed.exact > LONGEST_M:
        raise OutOfRange(field, typed.si, "100 m is the most: look at the unit", typed.text)


def name(field: str, text: str) -> None:
    """Refuse an empty name, or one that no column can show.

    Args:
        field: what is named.
        text: the name.
    Raises:
        Missing: nothing but blanks.
        OutOfRange: more than 40 characters.
    """
    if not text.strip():
        raise Missing(field, "give a name of one character or more")
    if len(text) > 40:
        raise OutOfRange(field, text, "40 characters is the most", text[:12] + "...")


def _defect(defect: Defect, stick: Stick) -> None:
    low, high = sorted((defect.start, defect.end), key=lambda typed: typed.exact)
    if low.exact < 0 or high.exact > stick.length.exact:
        raise OutOfRange(
            "defect",
            high.si,
            f"it must lie on the stick, 0 to {stick.length.text}",
            f"{defect.start.text} to {defect.end.text} on {stick.tag}",
        )


def stick(record: Stick) -> None:
    """Refuse a stick that cannot be: empty tag, zero size, a defect outside it.

    Args:
        record: the stick.
    Raises:
        Missing: no tag.
        OutOfRange: a size, moisture or defect outside what is possible.
    """
    name("tag", record.tag)
    size("length", record.length)
    size("width", record.width)
    size("depth", record.depth)
    if record.moisture is not None and not 0 <= record.moisture.exact <= 2:
        raise OutOfRange("moisture", record.moisture.si, "0 to 200 % is possible", record.moisture.text)
    for defect in record.defects:
        _defect(defect, record)


def part(record: Part) -> None:
    """Refuse a part that cannot be: empty name, zero size, a quantity below zero.

    Args:
        record: the part.
    Raises:
        Missing: no name.
        OutOfRange: a size, quantity or minimum outside what is possible.
    """
    name("part", record.name)
    size("length", record.length)
    size("width", record.width)
    size("depth", record.depth)
    if not 0 <= record.quantity <= MOST_PIECES:
        raise OutOfRange("quantity", record.quantity, f"0 to {MOST_PIECES} is possible")
    if record.minimum_sg is not None and not 0 < record.minimum_sg.exact < 2:
        raise OutOfRange("least gravity", record.minimum_sg.si, "0 to 2 is possible", record.minimum_sg.text)


def section(choice: SectionChoice) -> None:
    """Refuse a section choice that cannot be worked out.

    Args:
        choice: the choice.
    Raises:
        OutOfRange: zero sizes, an unknown match, hold or gravity.
    """
    size("width", choice.width)
    size("depth", choice.depth)
    if choice.free_length is not None:
        size("free length", choice.free_length)
    if choice.match not in MATCHES:
        raise OutOfRange("match", choice.match, f"one of {', '.join(MATCHES)} is wanted")
    if choice.hold not in HOLDS:
        raise OutOfRange("hold", choice.hold, "width, depth or neither can be held")
    if choice.gravity not in ("handbook", "stick"):
        raise OutOfRange("gravity", choice.gravity, "handbook or stick is wanted")


def settings(record: Settings) -> None:
    """Refuse settings that cannot be.

    Args:
        record: the settings.
    Raises:
        OutOfRange: a negative allowance, a grid of zero, unknown units.
    """
    for field in ("kerf", "end_trim", "margin", "squaring", "least_offcut"):
        typed: Typed = getattr(record, field)
        most = WIDEST_KERF_M if field == "kerf" else LONGEST_M
        if not 0 <= typed.exact <= most:
            raise OutOfRange(field.replace("_", " "), typed.si, f"0 to {most:g} m is possible", typed.text)
    size("grid", record.grid)
    if record.units not in ("in", "mm"):
        raise OutOfRange("units", record.units, "in or mm is wanted")


def unused(kind: str, wanted: str, taken: tuple[str, ...]) -> None:
    """Refuse a name that is taken, letter case and blanks at the ends aside.

    Args:
        kind: what is named.
        wanted: the new name.
        taken: names in use.
    Raises:
        Clash: the name is taken.
    """
    if wanted.strip().casefold() in {other.strip().casefold() for other in taken}:
        raise Clash(kind, wanted, "this name is taken; choose another")
