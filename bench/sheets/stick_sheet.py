"""All that is known of one stick: on the screen as lines, on paper as its record."""

from bench import units
from bench.core import limits, working_stick
from bench.core.acceptance import REJECT, Verdict
from bench.core.errors import Refusal
from bench.core.frozen import replace
from bench.core.holding import Point
from bench.core.inspecting import CUT_ROUND, GRAVITY
from bench.core.judging import Judged, estimated
from bench.core.records import Job, Species, Stick
from bench.sheets import (
    brief,
    defects,
    drawings,
    estimating,
    evidence,
    heading,
    inspecting,
    wording,
    working,
    writing_text,
)
from bench.sheets.paper import UNDER, Block, Drawing, Fixed, Section, Sheet, Text

WORKING = "Working: of the latest reading and weighing, and of what follows from them"


def gravity_page(judged: Judged, species: Species | None, system: str = "in") -> tuple[str, ...]:
    """What the gravity of a stick rests on, and what strength it lets expect.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
        system: "in" or "mm".
    Returns:
        Lines of at most 78 characters.
    """
    return tuple(writing_text.sections(_gravity(judged, species, system))[1:])


def _gravity(judged: Judged, species: Species | None, system: str) -> tuple[Section, ...]:
    found = evidence.sections(judged.stick, species, judged.found, system)
    return (*found, *_strength(judged, species, system))


def _strength(judged: Judged, species: Species | None, system: str) -> tuple[Section, ...]:
    measured = judged.found.measured
    if species is None or measured is None:
        return ()
    title = f"Estimated strength at {units.percent(measured.moisture)} moisture, not tested"
    try:
        guess = estimated(judged.stick, measured, species, measured.moisture)
    except Refusal as refusal:
        return (Section(title, (Text(str(refusal)),)),)
    return (Section(title, tuple(map(Text, estimating.lines(guess, system)))),)


def sheet(
    judged: Judged,
    species: Species | None,
    job: Job,
    printed: str = "",
    sources: heading.Sources = heading.NO_SOURCES,
) -> Sheet:
    """The whole record of a stick: the verdict for each use point by point, and the working to retrace it.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
        job: it belongs to.
        printed: the day it is printed; empty for none.
        sources: the bibliography, for the titles of what is named; may be empty.
    Returns:
        The sheet.
    """
    begun = heading.begun(f"stick record {judged.stick.tag}", job, printed)
    told = record(judged, species, job.settings.units)
    made = replace(begun, head=told.blocks, sections=told.sections, foot=(heading.SIGNATURE,))
    return heading.ended(made, sources)


def record(judged: Judged, species: Species | None, system: str, retraced: bool = True) -> Section:
    """A stick as a chapter.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
        system: "in" or "mm".
        retraced: with the formula and numbers of every step.
    Returns:
        A section: the verdicts, before anything they rest on.
    """
    drawn = drawings.gravity(judged.verdict)
    steps = working_stick.of_stick(judged, species) if retraced else ()
    sections = [
        *_gravity(judged, species, system),
        _inspection(judged, species),
        *(_use(judged, use, system) for use in limits.USES),
        *([Section(WORKING, (Fixed(working.lines(steps, system)),))] if steps else []),
    ]
    named = f"{judged.stick.tag}: {evidence.wood_name(judged.stick, species)}"
    mark = "CONDEMNED" if judged.stick.condemned else ""
    head: list[Block] = [Text(said) for said in _head(judged)]
    head += [Drawing(drawn)] if drawn else []
    return Section(named, tuple(head), tuple(sections), mark, fresh=True)


def _head(judged: Judged) -> list[str]:
    """The verdicts."""
    said = []
    for use in limits.USES:
        around = brief.cut_round(judged.uses[use])
        word = f"{judged.uses[use].word.upper()}{f' ({around})' if around else ''}"
        said.append(f"{inspecting.use_name(use)} {word}")
    joined = ", ".join(said)
    condemned = [f"CONDEMNED: {judged.stick.condemned}"] if judged.stick.condemned else []
    fits = len(joined) <= writing_text.WIDTH
    return [*condemned, *([joined] if fits else said), f"by gravity alone {wording.word(judged.verdict)}"]


def _inspection(judged: Judged, species: Species | None) -> Section:
    stick = judged.stick
    size = f"{stick.width.text} x {stick.depth.text} x {stick.length.text}"
    named = f"Inspection of {stick.tag}, {evidence.wood_name(stick, species)}, {size}"
    found = defects.write_all(stick.defects) if stick.defects else "nothing"
    blocks: list[Block] = [Text(f"{name}: {text}") for name, text in _measured(stick)]
    blocks += [Text(f"found, from its marked end: {found}")]
    blocks += [Text(f"note: {stick.note}")] if stick.note else []
    return Section(f"{named}{f', lot {stick.lot}' if stick.lot else ''}", tuple(blocks))


def _measured(stick: Stick) -> list[tuple[str, str]]:
    """What was measured in the inspection, as typed; what was not is said."""
    seen = stick.inspection
    over = f" over {seen.bow_over.text}" if seen.bow_over else ", the whole stick" if seen.bow else ""
    rows = (
        ("growth rings", seen.rings),
        ("slope of grain, one face", seen.slope_one),
        ("slope of grain, the face beside it", seen.slope_two),
        ("edge grain", seen.edge_grain),
        ("bow", seen.bow),
        ("moisture", stick.moisture),
    )
    said = [(name, typed.text if typed else "not measured") for name, typed in rows]
    said = [(name, f"{text}{over}" if name == "bow" else text) for name, text in said]
    return [*said, ("all faces and both ends looked over", "yes" if seen.looked else "not yet")]


def use_lines(judged: Judged, use: str, system: str = "in", width: int = writing_text.WIDTH) -> list[str]:
    """The verdict for a use, and every point of it with what each document says.

    Args:
        judged: the stick with what was found on it.
        use: a name of limits.USES.
        system: "in" or "mm".
        width: of a line, in characters.
    Returns:
        Lines, a blank one first.
    """
    return writing_text.sections((_use(judged, use, system),), width)


def _use(judged: Judged, use: str, system: str) -> Section:
    """The verdict for a use, and every point of it with what each document says."""
    judgement = judged.uses[use]
    around = brief.cut_round(judgement)
    blocks: list[Block] = []
    for point in judgement.points:
        blocks.append(Text(_point(point, judged.verdict, system)))
        # What governs stands in the line of the point already, unless that says it is cut round.
        beside = [held for held in point.held if point.reason == CUT_ROUND or not held.governs]
        blocks += [Text(inspecting.held_line(held, point, system), UNDER) for held in beside]
    said = f"As {inspecting.use_name(use)}: {judgement.word.upper()}{f', {around}' if around else ''}"
    return Section(said, tuple(blocks))


def _point(point: Point, verdict: Verdict, system: str) -> str:
    if point.defect is not None and point.reason == CUT_ROUND:
        start, end = point.defect.start.text, point.defect.end.text
        where = start if start == end else f"{start} to {end}"
        return f"ACCEPT but for what is cut round: {inspecting.kind_name(point.defect.kind)} {where}"
    line = inspecting.point_line(point, system)
    if point.name == GRAVITY and verdict.low is not None and verdict.high is not None:
        measured, parted, rest = line.partition(", ")
        line = f"{measured}, {_edges(point, verdict.low, verdict.high)}{parted}{rest}"
    return f"{point.word.upper():<7} {line}"


def _edges(point: Point, low: float, high: float) -> str:
    """The edges of the band that decide: the low one, and the high one where it is held against something."""
    held = point.governing
    least = units.gravity(held.low) if held and held.low is not None else ""
    most = units.gravity(held.high) if held and held.high is not None else ""
    down = units.told_apart(lambda places: units.gravity_down(low, places), 3, least)
    said = f"lowest likely {down} (95 %)"
    if most or point.word == REJECT:
        up = units.told_apart(lambda places: units.gravity_up(high, places), 3, most or least)
        said += f", highest likely {up}"
    return said
