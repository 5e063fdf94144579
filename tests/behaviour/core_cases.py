"""Sticks, readings and jobs for the tests of the core; every one is invented."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from functools import cache

from bench.core.demo import entries
from bench.core.edits import Edit
from bench.core.history import EMPTY, History
from bench.core.records import (
    FloatReading,
    Inspection,
    Job,
    Part,
    SectionChoice,
    Species,
    Stick,
    Typed,
    inches,
)
from bench.library import load
from tests.tools.sticks import SOUND

WOODS = load().species
SPRUCE, ASH = WOODS["sitka_spruce"], WOODS["white_ash"]


def typed(number: float | str | Fraction, text: str = "") -> Typed:
    """A number in SI as if typed."""
    exact = Fraction(str(number)) if isinstance(number, float) else Fraction(number)
    return Typed(exact, text or str(number))


def reading(
    *marks: float,
    moisture: float | str = "0.10",
    side: float | str = "0.0127",
    angle: str = "none",
    bath: float | str = "293.15",
    seconds: float = 30.0,
    count: int = 10,
    taken: str = "2031-05-01",
) -> FloatReading:
    """A float test of a square stick ten times as long as wide; all in SI."""
    wide = typed(side)
    return FloatReading(
        marks,
        wide,
        Typed(wide.exact * 10, "10 x side"),
        typed(moisture),
        typed(bath),
        count=count,
        angle=angle,
        seconds=seconds,
        taken=taken,
    )


def stick(
    tag: str,
    *marks: float,
    species: str = "white_ash",
    length: str = "72",
    side: str = "7/8",
    inspection: Inspection = SOUND,
) -> Stick:
    """A square stick [in], sound in all but its gravity, with a reading where marks are given."""
    return Stick(
        tag,
        species,
        inches(length),
        inches(side),
        inches(side),
        typed("0.10"),
        readings=(reading(*marks),) if marks else (),
        inspection=inspection,
    )


def part(
    name: str, length: str = "20", quantity: int = 1, species: str = "sitka_spruce", side: str = "3/4"
) -> Part:
    """A square part [in]."""
    return Part(name, inches(length), inches(side), inches(side), quantity, species=species)


def ash_for_spruce(**changes: object) -> SectionChoice:
    """Ash in place of the drawing's spruce."""
    return replace(SectionChoice(use="white_ash"), **changes)  # type: ignore[arg-type]


def after(edits: Iterable[Edit], job: Job = EMPTY.job) -> Job:
    """A job with edits made one after the other."""
    for edit in edits:
        job = edit.apply(job)
    return job


@cache
def demo() -> History:
    """The history of the invented demonstration job, half of it cut."""
    history = EMPTY
    for edit in entries(WOODS):
        history = history.accept(edit)
    return history


def with_figure(species: Species, quantity: str, volume: str, value: float) -> Species:
    """A species in which every figure of one quantity on one volume has another value."""
    changed = tuple(
        replace(figure, value=value) if (figure.quantity, figure.volume) == (quantity, volume) else figure
        for figure in species.figures
    )
    assert changed != species.figures
    return replace(species, figures=changed)
