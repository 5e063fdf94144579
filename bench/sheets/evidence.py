"""One stick's evidence as a page of text: what its gravity rests on, what would make it surer, how it stands.

The same page on the screen, on paper and in a text file; no line is wider than 78 characters.
"""

from dataclasses import dataclass
from math import floor
from textwrap import wrap

from bench import units
from bench.core import evidence
from bench.core.acceptance import Found
from bench.core.errors import Refusal
from bench.core.evidence import Advice, MarkTable
from bench.core.floating import read
from bench.core.records import Figure, FloatReading, Species, Stick
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
    name = species.name if species else stick.species
    lines = [*_wrapped(f"Stick {stick.tag}: {name}{f', {stick.variant}' if stick.variant else ''}", "")]
    advice = _advice(stick, species, found)
    # Advice is about one reading: beside a hold it only says what it is worth where there is one.
    once = found.repeats is not None and len(found.repeats.results) == 1
    lines += _verdict(found, advice[0] if advice and once else None)
    if species is None:
        return tuple(lines)
    lines += _budget(found)
    lines += _advised(found, advice)
    lines += _readings(stick, species, found)
    lines += _weighing(found)
    lines += _standing(stick, species, found)
    if stick.reading is not None:
        lines += _marks(stick.reading, species, stick.variant, system)
    return tuple(lines)


def _wrapped(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ") or [""]


def _gravity(measured: Measured) -> str:
    band = f"+/- {units.gravity_up(measured.half_width)} (95 %)"
    return f"specific gravity {units.gravity(measured.sg_oven_dry)} {band}, {wording.BASIS}"


def _verdict(found: Found, best: Advice | None) -> list[str]:
    lines = []
    if found.measured is not None:
        lines += _wrapped(_gravity(found.measured), "")
    lines.append(f"{wording.word(found.verdict)} by gravity")
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
    if not stick.readings:
        return []
    lines = [*_head(f"Float readings (G dry: {wording.BASIS})"), f"  {'date':<12}{'marks':<28}G dry"]
    for reading in stick.readings:
        marks = " ".join(units.mark(mark) for mark in reading.marks)
        row = f"  {reading.taken[:10] or NONE:<12}{marks:<28}{_said(reading, stick, species, found)}"
        lines += wrap(row, WIDTH, subsequent_indent=" " * 42, replace_whitespace=False, drop_whitespace=True)
        if reading.timed:
            later = ", ".join(f"{each.seconds:g} s {units.mark(each.mark)}" for each in reading.timed)
            lines += _wrapped(f"after {reading.seconds:g} s; later on the first face: {later}", " " * 14)
    repeats = found.repeats
    if repeats is not None and repeats.spread is not None:
        band = f"{units.gravity(repeats.mean)} +/- {units.gravity_up(repeats.combined.half_width)}"
        spread = f"spread {repeats.spread:.4f} (standard deviation)"
        lines += _wrapped(f"mean of {len(repeats.results)}: {band} (95 %), {spread}")
    return lines


def _said(reading: FloatReading, stick: Stick, species: Species, found: Found) -> str:
    """What one reading says, and why it does not count where it does not."""
    try:
        result = read(reading, species, stick.variant)
    except Refusal as refusal:
        return f"cannot be read: {refusal}"
    said = f"{units.gravity(result.sg_oven_dry)} +/- {units.gravity_up(result.half_width)}"
    if reading.aside:
        return f"{said}  set aside: {' '.join(reading.aside.split())}"
    if not any(reading is counted for counted in stick.counted):
        return f"{said}  a later one of that day counts"
    repeats = found.repeats
    apart = (
        ()
        if repeats is None
        else tuple(
            each.sg_oven_dry for each, odd in zip(repeats.results, repeats.flagged, strict=True) if odd
        )
    )
    return f"{said}  flagged: lies apart from the others" if result.sg_oven_dry in apart else said


def _weighing(found: Found) -> list[str]:
    if found.weighed is None:
        return []
    lines = [*_head("Weight and size"), *_wrapped(_gravity(found.weighed))]
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
