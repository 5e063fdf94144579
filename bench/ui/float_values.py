"""The values of the Float pane: how each is shown, stepped and typed. A draft in, a draft out."""

from fractions import Fraction

from bench import units
from bench.core.errors import BadInput, Missing, OutOfRange
from bench.core.frozen import replace
from bench.core.records import Typed, with_field
from bench.ui.fieldpane import Field
from bench.ui.float_draft import FACE_NAMES, FACES, FloatDraft
from bench.ui.naming import read_as, read_percent
from bench.ui.stepping import next_step, turned

SMALL_MARK = 0.05  # half a tenth of a mark: the finest that a careful eye can tell
ANGLES = ("", "none", "0", "30", "45", "60", "75", "90")
LATER = "seconds in the water of a later reading on the first face; 0 drops them"


def fields(draft: FloatDraft, angle: str) -> tuple[Field, ...]:
    """The values in order; `angle` is how the contact angle is shown."""
    marks = f"0 to {draft.count}, say 6.85"
    size = " x ".join(side.text for side in draft.size) if draft.size else "as floated"
    return (
        *(
            Field(
                f"mark {face}",
                name,
                "--" if mark is None else f"{units.mark_read(mark)} of {draft.count}",
                marks,
            )
            for face, (name, mark) in enumerate(zip(FACE_NAMES[len(draft.marks)], draft.marks, strict=True))
        ),
        Field(
            "moisture",
            "moisture",
            "-- type it" if draft.moisture is None else units.percent(draft.moisture.si),
            "percent of oven-dry weight",
        ),
        Field("water", "water", units.temperature(draft.water.si), "temperature, 20 C or 68 F"),
        Field("side", "side", draft.side.text, "of the float stick, 1/2 or 12.7 mm"),
        Field("length", "length", draft.length.text, "of the float stick, 5 or 127 mm"),
        Field("faces", "faces read", str(len(draft.marks)), "1, 2, 3 or 4"),
        Field("seconds", "in water", f"{draft.seconds:g} s", "seconds in the water"),
        Field("timed", "later", _timed(draft), LATER),
        Field("count", "marks", str(draft.count), "equal marks on the stick, 10"),
        Field("angle", "wetting", angle, "contact angle in degrees, or none"),
        Field(
            "mass", "weighs", draft.mass.text if draft.mass else "--", "the check by weight: grams, or 0.3 oz"
        ),
        Field("size", "weighed", size, "the piece weighed: 1/2 x 1/2 x 5, or 12.7 x 12.7 x 127 mm"),
    )


def _timed(draft: FloatDraft) -> str:
    if not draft.timed:
        return "--"
    last = draft.timed[-1]
    several = f"{len(draft.timed)}, " if len(draft.timed) > 1 else ""
    return f"{several}{last.seconds:g}s {units.mark_read(last.mark)}"


def stepped(draft: FloatDraft, name: str, amount: int, system: str, guess: float | None) -> FloatDraft:
    """A draft with one value some steps further; `guess` is where a waterline not read yet begins [marks]."""
    if name.startswith("mark"):
        return _stepped_mark(draft, int(name[5:]), amount, guess)
    big, sign = abs(amount) > 1, 1 if amount > 0 else -1
    if name == "moisture":
        if draft.moisture is None:
            raise Missing("moisture", "type what was measured, say 9.5; no step makes one up")
        size = max(Fraction(0), draft.moisture.exact + Fraction(sign * (20 if big else 5), 1000))
        return replace(draft, moisture=Typed(size, f"{float(size * 100):g} %"))
    if name == "water":
        kelvin = min(
            Fraction(31315, 100), max(Fraction(27315, 100), draft.water.exact + sign * (5 if big else 1))
        )
        return replace(draft, water=Typed(kelvin, f"{float(kelvin - Fraction(27315, 100)):g} C"))
    if name in ("side", "length"):
        return with_field(draft, name, _stepped_length(getattr(draft, name), amount, system))
    if name == "faces":
        return draft.with_faces(turned(FACES, len(draft.marks), sign))
    if name == "count":
        return replace(draft, count=min(100, max(2, draft.count + amount)))
    if name == "angle":
        return replace(draft, angle=turned(ANGLES, draft.angle if draft.angle in ANGLES else "60", sign))
    if name == "seconds":
        return replace(draft, seconds=max(0.0, draft.seconds + sign * (60 if big else 10)))
    raise Missing(name, "Enter types it; no step makes it up")


def _stepped_mark(draft: FloatDraft, face: int, amount: int, guess: float | None) -> FloatDraft:
    mark = draft.marks[face]
    if mark is None:
        near = next((other for other in draft.marks if other is not None), guess)
        mark = near if near is not None else draft.count / 2
        amount = 0
    # Steps land on multiples of the small step, whatever was typed before.
    steps = round(mark / SMALL_MARK) + amount
    return draft.with_mark(face, min(float(draft.count), max(0.0, steps * SMALL_MARK)))


def _stepped_length(typed: Typed, amount: int, system: str) -> Typed:
    """A length some steps longer: sixteenths of an inch, or half millimetres; never zero."""
    step = Fraction(254, 160_000) if system == "in" else Fraction(1, 2000)
    return next_step(typed.exact, amount, step, step, system)


def typed(draft: FloatDraft, name: str, text: str, system: str) -> FloatDraft:
    """A draft with one value typed; raises a Refusal."""
    if name.startswith("mark"):
        return draft.with_mark(int(name[5:]), units.read("mark", text).si)
    if name == "moisture":
        moisture = read_percent("moisture", text)
        if moisture.exact > Fraction(30, 100):
            raise OutOfRange("moisture", moisture.si, "0 to 30 % is covered: dry the stick", text)
        return replace(draft, moisture=moisture)
    if name == "water":
        return replace(draft, water=units.read("temperature", text))
    if name in ("side", "length"):
        return with_field(draft, name, read_as(name, "length", text, system))
    if name == "faces":
        return draft.with_faces(_one_of("faces read", text, FACES))
    if name == "count":
        return replace(draft, count=int(units.read("count", text).si))
    if name == "angle":
        angle = "none" if text.strip().lower() == "none" else f"{units.read('angle', text).si:g}"
        return replace(draft, angle=angle)
    if name == "mass":
        return replace(draft, mass=read_as("weighs", "mass", text, "g"))
    if name == "size":
        return replace(draft, size=_size(text, system))
    return replace(draft, seconds=units.read("seconds", text).si)


def _size(text: str, system: str) -> tuple[Typed, ...]:
    sides = units.size(text, system)
    if len(sides) != 3:
        raise OutOfRange("size", text, "width x depth x length is wanted")
    return sides


def _one_of(name: str, text: str, choices: tuple[int, ...]) -> int:
    number = int(units.read("count", text).si)
    if number not in choices:
        raise BadInput(name, text, "is not one of them", ", ".join(str(choice) for choice in choices))
    return number
