"""All that is known of one stick as a page of text, to read on the screen and to print."""

from textwrap import wrap

from bench import __version__, units
from bench.core import limits
from bench.core.errors import Refusal
from bench.core.judging import Judged, estimated
from bench.core.records import Job, Species
from bench.sheets import defects, estimating, evidence, inspecting, wording

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


def sheet(judged: Judged, species: Species | None, job: Job) -> tuple[str, ...]:
    """The whole record of a stick, with the verdict for each use point by point.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
        job: it belongs to.
    Returns:
        Lines of at most 78 characters.
    """
    stick, system = judged.stick, job.settings.units
    lines = [f"{job.name}{'  (INVENTED: nothing here was measured)' if job.invented else ''}"]
    lines += [f"written by tenthmark {__version__}", ""]
    lines += gravity_page(judged, species, system)
    size = f"{stick.width.text} x {stick.depth.text} x {stick.length.text}"
    lines += ["", f"Inspection of {stick.tag}, {size}{f', lot {stick.lot}' if stick.lot else ''}"]
    found = defects.write_all(stick.defects) if stick.defects else "nothing"
    lines += _wrapped(f"found, from its marked end: {found}")
    if stick.note:
        lines += _wrapped(f"note: {stick.note}")
    for use in limits.USES:
        judgement = judged.uses[use]
        lines += ["", f"As {inspecting.use_name(use)}: {judgement.word.upper()}"]
        for point in judgement.points:
            lines += _wrapped(f"{point.word.upper():<7} {inspecting.point_line(point, system)}")
            lines += [
                part
                for held in point.held
                for part in _wrapped(inspecting.held_line(held, point, system), " " * 10)
            ]
    return (*lines, "", *wrap(wording.CAUTION, WIDTH))


def _wrapped(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ") or [""]
