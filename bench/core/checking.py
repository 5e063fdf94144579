"""What a record must be before a job takes it: each refusal names the field and what would be right."""

from collections.abc import Collection
from fractions import Fraction
from math import floor

from bench.core.errors import BadInput, Clash, Missing, OutOfRange
from bench.core.limits import DOCUMENTS, KINDS, STRICTER, USES
from bench.core.moisture import check_moisture
from bench.core.rack_places import plain
from bench.core.records import (
    Defect,
    House,
    Inspection,
    Job,
    Offer,
    Part,
    SectionChoice,
    Settings,
    ShopAir,
    Stick,
    Typed,
    Weighing,
)
from bench.core.shape import SIDES

LONGEST_M = 100.0
WIDEST_KERF_M = 0.025
MOST_PIECES = 10_000
STEEPEST_SCARF = (1 / 30, 1 / 4)  # flatter is no joint anyone cuts, steeper none that holds: our own bounds
SCARF_SIDES = ("", *SIDES)
DENSEST = 1540  # cell-wall substance [kg/m3]; wh282 eq. 4-3


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
        OutOfRange: more than 40 characters, or one that cannot be seen.
    """
    if not text.strip():
        raise Missing(field, "give a name of one character or more")
    _seen(field, text)
    if len(text) > 40:
        raise OutOfRange(field, text, "40 characters is the most", text[:12] + "...")


def _seen(field: str, text: str) -> None:
    """Refuse a character that cannot be seen: it would make two names look like one, or steer a terminal."""
    unseen = next((letter for letter in text if not letter.isprintable()), "")
    if unseen:
        said = f"it holds the character U+{ord(unseen):04X}, which cannot be seen; take it out"
        raise OutOfRange(field, text, said, ascii(text[:20]))


def meant_percent(field: str, value: Fraction, text: str) -> None:
    """Refuse a bare fraction of one percent: a share typed for a percentage.

    Args:
        field: it was typed for.
        value: as read, in percent where nothing else is said [1].
        text: as typed.
    Raises:
        BadInput: more than nothing, under one percent, and no % sign.
    """
    if 0 < value < Fraction(1, 100) and "%" not in text:
        typed, meant = text.strip(), f"{float(value) * 10_000:g}"
        why = f"would be {typed} %; for {meant} percent type {meant}"
        raise BadInput(field, typed, why, "the % sign, if it is meant so,")


def length_of_text(field: str, text: str) -> None:
    """Refuse words that no line can show.

    Args:
        field: what they are about.
        text: the words.
    Raises:
        OutOfRange: more than 200 characters, or one that cannot be seen.
    """
    _seen(field, text)
    if len(text) > 200:
        raise OutOfRange(field, text, "200 characters is the most", text[:12] + "...")


def _within(field: str, typed: Typed | None, least: float, most: float, limits: str) -> None:
    """Refuse a measured value that cannot be; None is not measured."""
    if typed is not None and not least <= typed.exact <= most:
        raise OutOfRange(field, typed.si, limits, typed.text)


def _defect(defect: Defect, stick: Stick) -> None:
    if defect.kind and defect.kind not in KINDS:
        raise OutOfRange("defect", defect.kind, f"one of {', '.join(KINDS)} is wanted")
    for field in ("size", "depth", "edge"):
        _within(f"{field} of the defect", getattr(defect, field), 0, 1, "0 to 1 m (39 in) is possible")
    half = max(stick.width.exact, stick.depth.exact) / 2
    if defect.edge is not None and defect.edge.exact > half:
        raise OutOfRange(
            "edge of the defect",
            defect.edge.si,
            "the nearer edge is at most half the larger side away",
            f"{defect.edge.text} on {stick.tag}",
        )
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
    _inspection(record.inspection, record)


def _inspection(seen: Inspection, stick: Stick) -> None:
    _within("rings", seen.rings, 4, 4000, "0.1 to 100 rings per inch is possible")
    for field in ("slope_one", "slope_two"):
        _within("slope of grain", getattr(seen, field), 0, 1, "straight to 1:1 is possible")
    _within("edge grain", seen.edge_grain, 0, 1, "0 to 100 % is possible")
    _within("bow", seen.bow, 0, 1, "0 to 1 m (39 in) is possible")
    if seen.bow_over is not None:
        size("bow over", seen.bow_over)
        if seen.bow_over.exact > stick.length.exact:
            raise OutOfRange(
                "bow over", seen.bow_over.si, f"the stick is {stick.length.text} long", seen.bow_over.text
            )


def weighing(record: Weighing) -> None:
    """Refuse a weighing that cannot be.

    Args:
        record: mass, size and moisture as typed.
    Raises:
        OutOfRange: mass or size of zero or less, moisture outside 0 to 30 %, a density no wood has.
    """
    if not record.mass.exact > 0:
        raise OutOfRange("mass", record.mass.si, "a mass above zero is wanted", record.mass.text)
    for field in ("width", "depth", "length"):
        size(field, getattr(record, field))
    check_moisture(record.moisture.si)
    volume = record.width.exact * record.depth.exact * record.length.exact
    if record.mass.exact / volume > DENSEST * (1 + record.moisture.exact):
        raise OutOfRange(
            "mass",
            record.mass.si,
            f"no wood is denser than {DENSEST} kg/m3: look at the size and the unit",
            record.mass.text,
        )


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
    if record.use not in USES:
        raise OutOfRange("use", record.use, f"one of {', '.join(USES)} is wanted")
    length_of_text("grain", record.grain)
    if len(record.group) > 40:
        raise OutOfRange("group", record.group, "40 characters is the most", record.group[:12] + "...")
    _within("scarf", record.scarf, STEEPEST_SCARF[0], STEEPEST_SCARF[1], "1:30 to 1:4 is possible, say 1:12")
    if record.scarf_side not in SCARF_SIDES:
        raise OutOfRange("scarf", record.scarf_side, "across the width or the depth")
    for stretch in record.no_joint:
        low, high = stretch.start.exact, stretch.end.exact
        if not 0 <= low < high <= record.length.exact:
            raise OutOfRange(
                "no joint",
                stretch.start.si,
                f"a stretch of the part is wanted, 0 to {record.length.text}",
                f"{stretch.start.text} to {stretch.end.text}",
            )


def section(choice: SectionChoice) -> None:
    """Refuse a section choice that cannot be worked out.

    Args:
        choice: the choice.
    Raises:
        OutOfRange: zero sizes, an unknown match, hold or gravity.
    """
    from bench.core.resizing import GRAVITIES, HOLDS, MATCHES
    from bench.core.sections import SHAPES

    size("width", choice.width)
    size("depth", choice.depth)
    if choice.free_length is not None:
        size("free length", choice.free_length)
    for field in ("flange", "web", "held_at", "cap"):
        typed: Typed | None = getattr(choice, field)
        if typed is not None:
            size(field.replace("_", " "), typed)
    for layer in choice.layers:
        size("layers", layer.thickness)
    if choice.shape not in SHAPES:
        raise OutOfRange("shape", choice.shape, f"one of {', '.join(SHAPES)} is wanted")
    if choice.cap_side not in HOLDS:
        raise OutOfRange("slot", choice.cap_side, "width or depth can be in a slot")
    _within("moisture", choice.moisture, 0, 0.3, "0 to 30 % is possible")
    if choice.match not in MATCHES:
        raise OutOfRange("match", choice.match, f"one of {', '.join(MATCHES)} is wanted")
    if choice.hold not in HOLDS:
        raise OutOfRange("hold", choice.hold, "width, depth or neither can be held")
    if choice.gravity not in GRAVITIES:
        raise OutOfRange("gravity", choice.gravity, f"one of {', '.join(GRAVITIES)} is wanted")


def settings(record: Settings) -> None:
    """Refuse settings that cannot be.

    Args:
        record: the settings.
    Raises:
        OutOfRange: a negative allowance, a grid of zero, unknown units.
    """
    for field in ("kerf", "end_trim", "margin", "squaring", "least_offcut", "rip_kerf", "edge", "planing"):
        typed: Typed | None = getattr(record, field)
        if typed is None:
            continue
        most = WIDEST_KERF_M if field in ("kerf", "rip_kerf", "planing") else LONGEST_M
        if not 0 <= typed.exact <= most:
            limits = f"0 to {_most(most, record.units)} is possible"
            raise OutOfRange(field.replace("_", " "), typed.si, limits, typed.text)
    size("grid", record.grid)
    size("shortest length", record.least_piece)
    for typed in record.sizes:
        size("sizes", typed)
    if record.units not in ("in", "mm"):
        raise OutOfRange("units", record.units, "in or mm is wanted")
    if record.document not in (STRICTER, *DOCUMENTS):
        wanted = ", ".join((STRICTER, *DOCUMENTS))
        raise OutOfRange("document", record.document, f"one of {wanted} is wanted")
    _house(record.house)


def _most(metres: float, system: str) -> str:
    """An upper limit in the job's units, never shown higher than it is [m]."""
    if system == "in":
        return f"{floor(metres / 0.0254 * 100) / 100:g} in"
    return f"{metres:g} m" if metres >= 1 else f"{metres * 1000:g} mm"


def offer(record: Offer) -> None:
    """Refuse wood on offer that cannot be.

    Args:
        record: the line.
    Raises:
        Missing: no name. OutOfRange: a size of zero or less, a negative price.
    """
    name("offer", record.name)
    for field in ("thickness", "width", "length"):
        size(field, getattr(record, field))
    _within("price", record.price, 0, 1_000_000, "0 or more is wanted")


def air(record: ShopAir) -> None:
    """Refuse air that no shop has.

    Args:
        record: temperature and humidity as read.
    Raises:
        OutOfRange: temperature outside -40 to 100 C, humidity outside 0 to 100 %.
    """
    _within("air", record.air, 233.15, 373.15, "-40 to 100 C is possible")
    _within("humidity", record.humidity, 0, 1, "0 to 100 % is possible")


def _house(house: House) -> None:
    _within("gravity over", house.gravity_over, 0, 1, "0 to 1 is possible")
    _within("rings", house.rings, 0, 4000, "0 to 100 rings per inch is possible")
    _within("slope of grain", house.slope, 0, 1, "straight to 1:1 is possible")
    _within("moisture", house.moisture_low, 0, 0.3, "0 to 30 % is possible")
    _within("moisture", house.moisture_high, 0, 0.3, "0 to 30 % is possible")
    _within("knot", house.knot, 0, 1, "0 to 1 m (39 in) is possible")
    low, high = house.moisture_low, house.moisture_high
    if low is not None and high is not None and low.exact > high.exact:
        raise OutOfRange("moisture", low.si, f"the lower limit must not be above {high.text}", low.text)


def new_tag(job: Job, tag: str, but: str = "", among: Collection[str] = ()) -> None:
    """Refuse a tag that a stick of the rack has, letter case and blanks at the ends aside.

    Args:
        job: with the rack.
        tag: the new tag.
        but: the tag of the stick that is to have it.
        among: tags that are taken as well, each as `plain` writes it.
    Raises:
        Clash: the tag is taken.
    """
    if plain(tag) in among or job.has_tag(tag, but):
        raise Clash("tag", tag, "this name is taken; choose another")


def unused(kind: str, wanted: str, taken: tuple[str, ...]) -> None:
    """Refuse a name that is taken, letter case and blanks at the ends aside.

    Args:
        kind: what is named.
        wanted: the new name.
        taken: names in use.
    Raises:
        Clash: the name is taken.
    """
    if plain(wanted) in map(plain, taken):
        raise Clash(kind, wanted, "this name is taken; choose another")
