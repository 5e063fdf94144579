"""One stick's evidence as a page of text: what its gravity rests on, what would make it surer, how it stands.

The same page on the screen, on paper and in a text file; no line is wider than 78 characters.
"""

from dataclasses import dataclass
from math import floor
from textwrap import wrap

from bench import units
from bench.core import evidence
from bench.core.acceptance import DAY_DISAGREES, Found
from bench.core.errors import Refusal
from bench.core.evidence import Advice, MarkTable
from bench.core.floating import FloatResult, angle_of, read
from bench.core.moisture import shrinkage_of
from bench.core.records import Figure, FloatReading, Species, Stick, Typed
from bench.core.repeats import together
from bench.core.spread import TWO_SIDED_95, Measured
from bench.core.steps import place
from bench.sheets import wording

WIDTH = 78
NONE = "--"


def page(stick: Stick, species: Species | None, found: Found, system: str = "in") -> tuple[str, ...]:
    """Everything known about a stick's gravity.

    Args:
        stick: with its readings and weighings.
        species: its wood, None where the library does not know it.
        found: of acceptance.judge_stick.
        system: "in" or "mm".
    Returns:
        Lines of at most 78 characters.
    """
    lines = [*_wrapped(f"Stick {stick.tag}: {wood_name(stick, species)}", "")]
    advice = _advice(stick, species, found)
    # Advice is about one reading: beside a hold it only says what it is worth where there is one.
    once = found.repeats is not None and len(found.repeats.results) == 1
    lines += _verdict(found, advice[0] if advice and once else None)
    if species is None:
        return tuple(lines)
    lines += _budget(found)
    lines += _advised(found, advice)
    lines += _readings(stick, species, found)
    lines += _weighing(stick, found)
    lines += _standing(stick, species, found)
    if stick.reading is not None:
        lines += _marks(stick.reading, species, stick.variant, system)
    return tuple(lines)


def wood_name(stick: Stick, species: Species | None) -> str:
    """The wood with its class or growth region; says so where none was given of a wood that has them.

    Args:
        stick: of that wood.
        species: None where the library does not know it.
    Returns:
        Like `noble fir, class L`.
    """
    name = species.name if species else stick.species
    if stick.variant:
        return f"{name}, {stick.variant}"
    told_apart = species is not None and any(figure.variant for figure in species.figures)
    return f"{name}, class or region not given" if told_apart else name


def _wrapped(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ") or [""]


def _gravity(measured: Measured) -> str:
    band = f"+/- {units.gravity_up(measured.half_width)} (95 %)"
    return f"specific gravity {units.gravity(measured.sg_oven_dry)} {band}, {wording.BASIS}"


def _verdict(found: Found, best: Advice | None) -> list[str]:
    lines = []
    if found.measured is not None:
        lines += _wrapped(_gravity(found.measured), "")
    lines.append(f"{wording.word(found.verdict)} by gravity alone")
    for said in wording.reasons(found.verdict, best):
        lines += _wrapped(said)
    return lines


def _head(title: str) -> list[str]:
    return ["", title]


def _budget(found: Found) -> list[str]:
    if found.measured is None:
        return []
    lines = [
        *_head("What the uncertainty is made of"),
        f"  {'cause':<30}{'+/- alone (95 %)':>18}{'share':>9}",
    ]
    for cause in evidence.budget(found.measured):
        alone = f"{cause.sd * TWO_SIDED_95:.4f}"
        lines.append(f"  {wording.CAUSES[cause.name]:<30}{alone:>18}{cause.share_of_variance * 100:>8.1f}%")
    return lines


def _advice(stick: Stick, species: Species | None, found: Found) -> tuple[Advice, ...]:
    if species is None or found.result is None or stick.reading is None:
        return ()
    return evidence.advice(stick.reading, species, stick.variant, found.result)


def _advised(found: Found, advice: tuple[Advice, ...]) -> list[str]:
    if found.result is None:
        return []
    lines = _head("What would narrow the band of the latest reading, taken alone")
    if not advice:
        return [*lines, "  nothing tried here narrows it by a twentieth or more"]
    return lines + [line for each in advice for line in _wrapped(wording.advised(each))]


def _readings(stick: Stick, species: Species, found: Found) -> list[str]:
    """Every reading by its number, with what its arithmetic starts from."""
    if not stick.readings:
        return []
    lines = _head(f"Float readings (G dry: {wording.BASIS})")
    lines.append(f"  {'no':<3}{'date':<11}{'marks':<26} G dry")
    for number, reading in enumerate(stick.readings, 1):
        marks = " ".join(_read(mark) for mark in reading.marks)
        said, remark = _said(reading, stick, species, found)
        row = f"  {number:<3}{reading.taken[:10] or NONE:<11}{marks:<26} {said}  {remark}"
        lines += wrap(row, WIDTH, subsequent_indent=" " * 5, replace_whitespace=False)
        lines += [part for text in _starting(reading, stick, species) for part in _wrapped(text, " " * 5)]
    repeats = found.repeats
    if repeats is not None and repeats.spread is not None:
        band = f"{units.gravity(repeats.mean)} +/- {units.gravity_up(repeats.combined.half_width)}"
        spread = f"spread {repeats.spread:.4f} (standard deviation)"
        lines += _wrapped(f"mean of {len(repeats.results)}: {band} (95 %), {spread}")
    return lines


def _read(mark: float) -> str:
    """A waterline with all digits it was read to."""
    text = units.mark(mark)
    return text if float(text) == mark else f"{mark:g}"


def _typed(typed: Typed, written: str) -> str:
    """A number as typed where its text has a unit, so that paper and pencil start from the same digits."""
    named = any(letter.isalpha() or letter in "%'\"" for letter in typed.text)
    return typed.text if named else written


def _length(typed: Typed) -> str:
    return _typed(typed, units.length(typed.si))


def _starting(reading: FloatReading, stick: Stick, species: Species) -> tuple[str, ...]:
    """What the arithmetic of a reading starts from beside its marks, and where the figures are from."""
    taken = (
        f"stick {_length(reading.side)} x {_length(reading.length)}, {reading.count} marks; "
        f"moisture {_typed(reading.moisture, units.percent(reading.moisture.si, 2))}; "
        f"bath {_typed(reading.water, units.temperature(reading.water.si))}; "
        f"read after {reading.seconds:g} s"
    )
    figures = f"{_angle(reading, species)}; {_shrinkage(stick, species)}"
    if not reading.timed:
        return taken, figures
    later = ", ".join(f"{each.seconds:g} s {_read(each.mark)}" for each in reading.timed)
    return taken, figures, f"later on the first face: {later}"


def _angle(reading: FloatReading, species: Species) -> str:
    if reading.angle == "none":
        return "no contact angle: the pull of the water surface is left in"
    if reading.angle:
        return f"contact angle {reading.angle} deg (as typed)"
    figure = species.find("contact_angle")
    source = place(figure) if figure else "common practice, no published source"
    return f"contact angle {angle_of(species)[0]:g} deg ({source})"


def _shrinkage(stick: Stick, species: Species) -> str:
    try:
        value, _ = shrinkage_of(species, stick.variant)
    except Refusal:
        return "shrinkage not known"
    figure = species.find("shrinkage_volumetric")
    source = place(figure) if figure else "ESTIMATE from green gravity, wh282 eq. 4-12"
    return f"shrinkage {units.percent(value, 2)} ({source})"


def _said(reading: FloatReading, stick: Stick, species: Species, found: Found) -> tuple[str, str]:
    """What one reading says, and why it does not count where it does not."""
    try:
        result = read(reading, species, stick.variant)
    except Refusal as refusal:
        return NONE, f"cannot be read: {refusal}"
    said = f"{units.gravity(result.sg_oven_dry)} +/- {units.gravity_up(result.half_width)}"
    if reading.aside:
        return said, f"set aside: {' '.join(reading.aside.split())}"
    if not any(reading is counted for counted in stick.counted):
        return said, _replaced(reading, result, stick, species, found)
    flagged = zip(found.repeats.results, found.repeats.flagged, strict=True) if found.repeats else ()
    apart = any(odd and each.sg_oven_dry == result.sg_oven_dry for each, odd in flagged)
    return said, "flagged: lies apart from the others" if apart else ""


def _replaced(
    reading: FloatReading, result: FloatResult, stick: Stick, species: Species, found: Found
) -> str:
    """A reading that a later one of its day took the place of, and whether that one says otherwise."""
    said = "a later one of that day counts"
    later = next((each for each in stick.counted if each.taken == reading.taken), None)
    if DAY_DISAGREES not in found.verdict.reasons or later is None:
        return said
    try:
        apart = any(together([result, read(later, species, stick.variant)]).flagged)
    except Refusal:
        return said
    return f"{said} and DISAGREES: set the wrong one aside" if apart else said


def _weighing(stick: Stick, found: Found) -> list[str]:
    if found.weighed is None:
        return []
    lines = _head("Weight and size")
    for number, each in enumerate(stick.weighings, 1):
        size = " x ".join(_length(side) for side in (each.width, each.depth, each.length))
        mass = _typed(each.mass, f"{each.mass.si * 1000:.2f} g")
        moisture = _typed(each.moisture, units.percent(each.moisture.si, 2))
        counts = "" if number == len(stick.weighings) else "; a later one counts"
        taken = f"{each.taken[:10] or NONE:<11}"
        lines += _wrapped(f"{number:<3}{taken}{mass}, {size}, moisture {moisture}{counts}")
    lines += _wrapped(_gravity(found.weighed))
    return lines if found.agreement is None else [*lines, *_wrapped(wording.agreement(found.agreement))]


def _standing(stick: Stick, species: Species, found: Found) -> list[str]:
    standing = None if found.measured is None else evidence.standing(found.measured, species, stick.variant)
    if standing is None:
        return []
    lines = [*_head("Among sticks of its species"), *_wrapped(wording.standing(standing, stick.variant))]
    return lines + _wrapped(f"average: {place(standing.average)}; variation: wh282 table 5-6, wh190 p. 4-9")


def _marks(reading: FloatReading, species: Species, variant: str, system: str) -> list[str]:
    try:
        table = evidence.minimum_table(reading, species, variant)
    except Refusal:
        return []
    if table.minimum is None and table.average is None:
        return []
    stick = f"{units.length(reading.side.si, system)} x {units.length(reading.length.si, system)}"
    lines = _head(f"Where the limits stand [marks of {reading.count}]")
    lines += _wrapped(f"float stick {stick}, water of {units.temperature(reading.water.si)}")
    for row in mark_cells(table, reading.count):
        lines.append(f"  {row[0]:<12}" + "".join(f"{cell:>12}" for cell in row[1:]))
    return lines + [
        line for note in mark_notes(table, variant) for line in _wrapped(f"{note.name} {note.text}")
    ]


def mark_cells(table: MarkTable, count: int) -> list[tuple[str, ...]]:
    """The limits over moisture as cells; the minimum is rounded up, the maximum down.

    Args:
        table: of evidence.minimum_table.
        count: marks on the stick; a limit beyond them is not on it.
    Returns:
        A heading and a row for each moisture.
    """
    names = ("minimum", "average", *(("maximum",) if table.maximum else ()))
    rows = [
        (
            units.percent(row.moisture),
            *(_mark(getattr(row, name), count, name) for name in names),
        )
        for row in table.rows
    ]
    return [("moisture", *names), *rows]


def _mark(mark: float | None, count: int, name: str) -> str:
    if mark is None:
        return NONE
    return "sinks" if mark > count else strict(mark, name)


def strict(mark: float, name: str) -> str:
    """A line on the stick rounded to the strict side: a minimum up, a maximum down."""
    if name == "maximum":
        return units.mark(floor(mark * 100 + 1e-7) / 100)
    return units.mark_up(mark) if name == "minimum" else units.mark(mark)


@dataclass(frozen=True, slots=True)
class Note:
    """What one limit rests on."""

    name: str
    text: str  # gravity, basis and source


def mark_notes(table: MarkTable, variant: str = "") -> list[Note]:
    """What the columns of the table rest on.

    Args:
        table: of evidence.minimum_table.
        variant: growth region or class asked for.
    Returns:
        A note for each limit there is.
    """
    average = table.average
    figures = (
        ("minimum", table.minimum),
        ("maximum", table.maximum),
        ("average", average.figure if average is not None and not average.brought else None),
    )
    notes = [Note(name, _figure(figure, variant)) for name, figure in figures if figure is not None]
    if average is not None and average.brought:
        handbook = f"{units.gravity(average.figure.value)} on volume at 12 % ({place(average.figure)})"
        text = f"{units.gravity(average.gravity)}, {wording.BASIS}, ESTIMATE: the handbook's {handbook}"
        notes.append(Note("average", f"{text} brought to oven-dry volume by the shrinkage"))
    return notes


def _figure(figure: Figure, variant: str) -> str:
    large = ", of the species at large" if variant and not figure.variant else ""
    return f"{units.gravity(figure.value)}, {wording.BASIS}{large}; {place(figure)}"
