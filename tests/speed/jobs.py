"""Jobs to measure with, written to files as the program writes them. Invented, and always the same."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from bench.core.edits import ChooseSection, Edit, PutParts, PutStick, StartJob, TakeReading
from bench.core.history import EDIT, EMPTY, Entry, History
from bench.core.records import FloatReading, Part, SectionChoice, Stick, Typed, inches
from bench.storage import JobFile
from tests.tools.saw_jobs import AT, inch, sound

__all__ = ["AT", "edits", "history", "written"]

LENGTHS = ("36", "48", "60", "72", "96", "120")
WATER = Typed(Fraction(29315, 100), "20 C")
DRY = Typed(Fraction(95, 1000), "9.5 %")


def sticks(count: int) -> list[Edit]:
    """So many sticks of white ash, each floated; one in ten is too light."""
    edits: list[Edit] = []
    for number in range(count):
        made: Stick = sound(f"S-{number + 1:03}", LENGTHS[number % len(LENGTHS)], "7/8", "7/8")
        edits.append(PutStick(replace(made, species="white_ash", moisture=DRY, readings=())))
        mark = 5.5 if number % 10 == 7 else 6.4 + (number * 7 % 11) * 0.05
        reading = FloatReading((mark,), inches("1/2"), inches("5"), DRY, WATER, taken="2031-05-01")
        edits.append(TakeReading(made.tag, reading))
    return edits


def parts(count: int) -> list[Edit]:
    """So many parts of one piece each, most of them short, of two sections."""
    rows = []
    for number in range(count):
        length = Fraction(8 * 9 + number * 37 % 190, 8)
        side = inches("3/4" if number % 3 else "1/2")
        rows.append(Part(f"part {number + 1:02}", inch(length), side, side, 1, critical=number % 5 == 0))
    return [PutParts(tuple(rows))] if rows else []


def edits(stick_count: int, part_count: int, by_stick: bool = False) -> list[Edit]:
    """A job in another wood than the drawing's, all its sticks measured.

    With `by_stick` the section rests on the stick in hand: a step of its waterline resizes every part.
    """
    choice = SectionChoice(
        plan="sitka_spruce",
        use="white_ash",
        width=inches("3/4"),
        depth=inches("3/4"),
        match="bending",
        gravity="stick" if by_stick else "handbook",
    )
    return [
        StartJob(f"Job of {stick_count}", started=AT[:10], invented=True),
        *sticks(stick_count),
        *parts(part_count),
        ChooseSection(choice),
    ]


def history(stick_count: int, part_count: int) -> History:
    """The job as the program holds it."""
    found = EMPTY
    for edit in edits(stick_count, part_count):
        found = found.accept(edit)
    return found


def written(folder: Path, stick_count: int, part_count: int, by_stick: bool = False) -> Path:
    """The job in a file."""
    path = folder / f"job-{stick_count}-{part_count}{'-live' if by_stick else ''}.tenthmark"
    first, *rest = (Entry(EDIT, edit) for edit in edits(stick_count, part_count, by_stick))
    file = JobFile.create(path, first, AT)
    file.append([(entry, AT) for entry in rest])
    file.close()
    return path
