"""One stick's evidence: what its gravity rests on, what would make it surer, how it stands.

The same on the screen, on paper and in a text file.
"""

from collections.abc import Iterable
from math import floor

from bench import units
from bench.core import evidence
from bench.core.acceptance import DAY_DISAGREES, Found, Verdict
from bench.core.errors import Refusal
from bench.core.evidence import Advice, MarkTable
from bench.core.floating import FloatResult, angle_of, read
from bench.core.frozen import record, replace
from bench.core.moisture import shrinkage_of
from bench.core.records import Figure, FloatReading, Species, Stick, Typed
from bench.core.repeats import together
from bench.core.spread import TWO_SIDED_95, Measured
from bench.core.steps import place
from bench.sheets import wording
from bench.sheets.paper import BELOW, FIGURE, NUMBER, Block, Column, Section, Table, Text, table

NONE = "--"


def sections(stick: Stick, species: Species | None, found: Found, system: str = "in") -> tuple[Section, ...]:
    """Everything known about a stick's gravity.

    Args:
        stick: with its readings and weighings.
        species: its wood, None where the library does not know it.
        found: of acceptance.judge_stick.
        system: "in" or "mm".
    Returns:
        The verdict first, then what it rests on.
    """
    advice = _advice(stick, species, found)
    # Advice is about one reading: beside a hold it only says what it is worth where there is one.
    once = found.repeats is not None and len(found.repeats.results) == 1
    made = [_verdict(stick, species, found, advice[0] if advice and once else None)]
    if species is not None:
        made += [
            _budget(found),
            _advised(found, advice),
            _readings(stick, species, found),
            _weighing(stick, found),
            _standing(stick, species, found),
            _marks(stick, species, system),
        ]
    return tuple(section for section in made if section.blocks)


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


def _texts(said: Iterable[str]) -> tuple[Text, ...]:
    return tuple(map(Text, said))


def _gravity(measured: Measured, verdict: Verdict) -> str:
    shown = replace(verdict, value=measured.sg_oven_dry)
    band = f"+/- {units.gravity_up(measured.half_width)} (95 %)"
    return f"specific gravity {wording.gravity(shown)} {band}, {wording.BASIS}"


def _verdict(stick: Stick, species: Species | None, found: Found, best: Advice | None) -> Section:
    said = [] if found.measured is None else [_gravity(found.measured, found.verdict)]
    said.append(f"{wording.word(found.verdict)} by gravity alone")
    said += wording.reasons(found.verdict, best)
    return Section(f"Stick {stick.tag}: {wood_name(stick, species)}", _texts(said))


def _budget(found: Found) -> Section:
    causes = () if found.measured is None else evidence.budget(found.measured)
    rows = tuple(
        (
            wording.CAUSES[cause.name],
            f"{cause.sd * TWO_SIDED_95:.4f}",
            f"{cause.share_of_variance * 100:.1f} %",
        )
        for cause in causes
    )
    made = (table(("cause", ">+/- alone (95 %)", ">share"), rows),) if rows else ()
    return Section("What the uncertainty is made of", made)


def _advice(stick: Stick, species: Species | None, found: Found) -> tuple[Advice, ...]:
    if species is None or found.result is None or stick.reading is None:
        return ()
    return evidence.advice(stick.reading, species, stick.variant, found.result)


def _advised(found: Found, advice: tuple[Advice, ...]) -> Section:
    nothing = ["nothing tried here narrows it by a twentieth or more"]
    said = [wording.advised(each) for each in advice] or nothing
    title = "What would narrow the band of the latest reading, taken alone"
    return Section(title, () if found.result is None else _texts(said))


def _readings(stick: Stick, species: Species, found: Found) -> Section:
    """Every reading by its number, with what its arithmetic starts from."""
    if not stick.readings:
        return Section("")
    kinds = (FIGURE, FIGURE, "", FIGURE, "")
    columns = tuple(map(Column, ("no", "date", "marks", "G dry", ""), kinds))
    rows = []
    for number, reading in enumerate(stick.readings, 1):
        marks = " ".join(units.mark_read(mark) for mark in reading.marks)
        taken = reading.taken[:10] or NONE
        starting = "; ".join(_starting(reading, stick, species))
        rows.append((str(number), taken, marks, *_said(reading, stick, species, found), starting))
    blocks: list[Block] = [Table((*columns, Column("with", BELOW)), tuple(rows))]
    repeats = found.repeats
    if repeats is not None and repeats.spread is not None:
        band = f"{units.gravity(repeats.mean)} +/- {units.gravity_up(repeats.combined.half_width)}"
        spread = f"spread {repeats.spread:.4f} (standard deviation)"
        blocks.append(Text(f"mean of {len(repeats.results)}: {band} (95 %), {spread}"))
    return Section(f"Float readings (G dry: {wording.BASIS})", tuple(blocks))


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
    later = ", ".join(f"{each.seconds:g} s {units.mark_read(each.mark)}" for each in reading.timed)
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


def _weighing(stick: Stick, found: Found) -> Section:
    if found.weighed is None:
        return Section("")
    rows = []
    for number, each in enumerate(stick.weighings, 1):
        size = " x ".join(_length(side) for side in (each.width, each.depth, each.length))
        mass = _typed(each.mass, f"{each.mass.si * 1000:.2f} g")
        moisture = _typed(each.moisture, units.percent(each.moisture.si, 2))
        counts = "" if number == len(stick.weighings) else "a later one counts"
        rows.append((str(number), each.taken[:10] or NONE, mass, size, moisture, counts))
    weighed = table((":no", ":date", ":mass", ":size", ":moisture", ""), tuple(rows))
    said = [_gravity(found.weighed, found.verdict)]
    said += [] if found.agreement is None else [wording.agreement(found.agreement)]
    return Section("Weight and size", (weighed, *_texts(said)))


def _standing(stick: Stick, species: Species, found: Found) -> Section:
    standing = None if found.measured is None else evidence.standing(found.measured, species, stick.variant)
    if standing is None:
        return Section("")
    rests = f"average: {place(standing.average)}; variation: wh282 table 5-6, wh190 p. 4-9"
    said = (wording.standing(standing, stick.variant), rests)
    return Section("Among sticks of its species", _texts(said))


def _marks(stick: Stick, species: Species, system: str) -> Section:
    reading = stick.reading
    if reading is None:
        return Section("")
    try:
        marks = evidence.minimum_table(reading, species, stick.variant)
    except Refusal:
        return Section("")
    if marks.minimum is None and marks.average is None:
        return Section("")
    size = f"{units.length(reading.side.si, system)} x {units.length(reading.length.si, system)}"
    of = Text(f"float stick {size}, water of {units.temperature(reading.water.si)}")
    heads, *rows = mark_cells(marks, reading.count)
    columns = (Column(heads[0]), *(Column(head, NUMBER) for head in heads[1:]))
    notes = _texts(f"{note.name} {note.text}" for note in mark_notes(marks, stick.variant))
    title = f"Where the limits stand [marks of {reading.count}]"
    return Section(title, (of, Table(columns, tuple(rows), across=True), *notes))


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


@record
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
