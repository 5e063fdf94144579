"""All that is known of one stick as a page of text, to read on the screen and to print."""

import re
from collections.abc import Mapping, Sequence
from textwrap import wrap
from types import MappingProxyType

from bench import __version__, units
from bench.core import limits, working_stick
from bench.core.acceptance import REJECT, Verdict
from bench.core.errors import Refusal
from bench.core.holding import Point
from bench.core.inspecting import CUT_ROUND, GRAVITY
from bench.core.judging import Judged, estimated
from bench.core.records import Job, Source, Species
from bench.sheets import brief, defects, estimating, evidence, inspecting, wording, working

WIDTH = evidence.WIDTH


def gravity_page(judged: Judged, species: Species | None, system: str = "in") -> tuple[str, ...]:
    """What the gravity of a stick rests on, and what strength it lets expect.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
        system: "in" or "mm".
    Returns:
        Lines of at most 78 characters.
    """
    return (
        *evidence.page(judged.stick, species, judged.found, system),
        *_strength(judged, species, system),
    )


def _strength(judged: Judged, species: Species | None, system: str) -> list[str]:
    measured = judged.found.measured
    if species is None or measured is None:
        return []
    head = ["", f"Estimated strength at {units.percent(measured.moisture)} moisture, not tested"]
    try:
        guess = estimated(judged.stick, measured, species, measured.moisture)
    except Refusal as refusal:
        return [*head, *_wrapped(str(refusal))]
    return [*head, *(part for text in estimating.lines(guess, system) for part in _wrapped(text))]


def sheet(
    judged: Judged,
    species: Species | None,
    job: Job,
    printed: str = "",
    sources: Mapping[str, Source] = MappingProxyType({}),
) -> tuple[str, ...]:
    """The whole record of a stick: the verdict for each use point by point, and the working to retrace it.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
        job: it belongs to.
        printed: the day it is printed; empty for none.
        sources: the bibliography, for the titles of what is named; may be empty.
    Returns:
        Lines of at most 78 characters.
    """
    system = job.settings.units
    lines = [
        *_wrapped(f"{job.name}{'  (INVENTED: nothing here was measured)' if job.invented else ''}", ""),
        f"written by tenthmark {__version__}{f', {printed}' if printed else ''}",
        "",
        *_head(judged),
        "",
        *gravity_page(judged, species, system),
        *_inspection(judged, species),
        *(line for use in limits.USES for line in use_lines(judged, use, system)),
        *_working(judged, species, system),
    ]
    return (*lines, *_titles(lines, sources), "", *wrap(wording.CAUTION, WIDTH))


def _head(judged: Judged) -> list[str]:
    """The verdicts, before anything they rest on."""
    said = []
    for use in limits.USES:
        around = brief.cut_round(judged.uses[use])
        word = f"{judged.uses[use].word.upper()}{f' ({around})' if around else ''}"
        said.append(f"{inspecting.use_name(use)} {word}")
    joined = ", ".join(said)
    return [*([joined] if len(joined) <= WIDTH else said), f"by gravity alone {wording.word(judged.verdict)}"]


def _inspection(judged: Judged, species: Species | None) -> list[str]:
    stick = judged.stick
    size = f"{stick.width.text} x {stick.depth.text} x {stick.length.text}"
    named = f"Inspection of {stick.tag}, {evidence.wood_name(stick, species)}, {size}"
    lines = ["", *_wrapped(f"{named}{f', lot {stick.lot}' if stick.lot else ''}", "")]
    found = defects.write_all(stick.defects) if stick.defects else "nothing"
    lines += _wrapped(f"found, from its marked end: {found}")
    return lines + (_wrapped(f"note: {stick.note}") if stick.note else [])


def use_lines(judged: Judged, use: str, system: str = "in") -> list[str]:
    """The verdict for a use, and every point of it with what each document says.

    Args:
        judged: the stick with what was found on it.
        use: a name of limits.USES.
        system: "in" or "mm".
    Returns:
        Lines of at most 78 characters, a blank one first.
    """
    judgement = judged.uses[use]
    around = brief.cut_round(judgement)
    lines = ["", f"As {inspecting.use_name(use)}: {judgement.word.upper()}{f', {around}' if around else ''}"]
    for point in judgement.points:
        lines += _wrapped(_point(point, judged.verdict, system))
        # What governs stands in the line of the point already, unless that says it is cut round.
        beside = [held for held in point.held if point.reason == CUT_ROUND or not held.governs]
        for held in beside:
            lines += _wrapped(inspecting.held_line(held, point, system), " " * 10)
    return lines


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


def _working(judged: Judged, species: Species | None, system: str) -> list[str]:
    """Formula, numbers, result and source of every step, to follow with a pencil."""
    steps = working_stick.of_stick(judged, species)
    if not steps:
        return []
    lines = ["", "Working: of the latest reading and weighing, and of what follows from them", ""]
    for text in working.lines(steps, system):
        lines += _wrapped(text.strip(), " " * (len(text) - len(text.lstrip())))
    return lines


def _titles(lines: Sequence[str], sources: Mapping[str, Source]) -> list[str]:
    """The titles of the sources that the sheet names by their keys."""
    named = {word for line in lines for word in re.findall(r"\w+", line)}
    told = [source for key, source in sources.items() if key in named]
    if not told:
        return []
    titles = [", ".join(part for part in (one.title, one.publisher, one.year) if part) for one in told]
    rows = [_wrapped(f"{one.key}: {title}") for one, title in zip(told, titles, strict=True)]
    return ["", "Sources", *(line for row in rows for line in row)]


def _wrapped(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ") or [""]
