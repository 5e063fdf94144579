"""Invented sticks and parts at the saw, and whether the layout on show can be sawn."""

from dataclasses import replace
from fractions import Fraction

from bench.core.edits import PutPart, PutStick, StartJob, TakeReading
from bench.core.records import Part, Stick, Typed, inches
from tests.tools.driving import Notebook
from tests.tools.plan_validator import faults
from tests.tools.sticks import DRY, SOUND, reading

READING = reading(4.3, taken="2026-03-10")


def stick(tag: str, length: str, side: str = "1") -> list:
    """A sound stick of Sitka spruce that has been floated: accepted for every use."""
    bare = Stick(tag, "sitka_spruce", inches(length), inches(side), inches("1"), DRY, inspection=SOUND)
    return [PutStick(bare), TakeReading(tag, READING)]


def part(name: str, length: str, quantity: int = 1, **more) -> PutPart:
    return PutPart(Part(name, inches(length), inches("3/4"), inches("3/4"), quantity, **more))


def book(*more) -> Notebook:
    """Three sticks, five pieces, one stick to spare."""
    return Notebook(
        StartJob("Tansy"),
        *stick("S-1", "60"),
        *stick("S-2", "60"),
        *stick("S-3", "60"),
        part("cap", "28", 3, critical=True, grain="edge grain up", group="left"),
        part("brace", "20", 2),
        *more,
    )


def sawn(app) -> list[tuple[str, str, Fraction]]:
    """Part, stick and start of every piece cut."""
    return [(cut.part, cut.stick, cut.start) for cut in app.bench.job.cuts]


def sound(app) -> None:
    """The layout can be sawn, and no piece of it lies where one was cut."""
    river = app.bench.river
    assert faults(river.problem, river.plan) == []
    for row in river.plan.sticks:
        gone = [cut for cut in river.job.sawn if cut.stick == row.tag]
        assert all(piece.end <= cut.start or cut.end <= piece.start for piece in row.pieces for cut in gone)


def plank(tag: str) -> list:
    """A plank of five by one inch, accepted."""
    bare = Stick(tag, "sitka_spruce", inches("96"), inches("5"), inches("1"), DRY, inspection=SOUND)
    return [PutStick(bare), TakeReading(tag, READING)]


def ash_list() -> list:
    """Fifty-two pieces and the sticks for them, with some to spare."""
    edits = [StartJob("Tansy parasol", invented=True)]
    for number in range(1, 25):
        edits += stick(f"S-{number:02d}", ("96", "84", "72")[number % 3])
    edits[1] = PutStick(replace(edits[1].stick, length=inches("120")))
    lengths = ("34 3/8", "28 1/4", "22 5/8", "18 1/2", "40", "15 3/4", "31", "12 1/8", "25 1/2", "20")
    for number in range(26):
        exact = sum((Fraction(piece) for piece in lengths[number % 10].split()), Fraction(0)) + number % 3
        length = Typed(exact * Fraction(254, 10_000), f"{float(exact):g} in")
        line = Part(f"piece {number + 1}", length, inches("3/4"), inches("3/4"), 2, critical=number % 5 == 0)
        edits.append(PutPart(line))
    return edits
