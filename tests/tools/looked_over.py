"""A job of two invented sticks, of which the first is read and looked over as a test asks."""

from bench.core.edits import PutStick, StartJob, TakeReading
from bench.core.records import Inspection, Stick, inches
from tests.tools.driving import Notebook
from tests.tools.sticks import DRY, reading


def stick(tag: str, inspection: Inspection = Inspection()) -> Stick:  # noqa: B008
    return Stick(tag, "sitka_spruce", inches("60"), inches("1"), inches("1"), DRY, inspection=inspection)


def book(inspection: Inspection = Inspection(), marks: tuple[float, ...] = (4.2,)) -> Notebook:  # noqa: B008
    readings = [
        TakeReading("S-1", reading(mark, taken=f"2026-03-0{day}")) for day, mark in enumerate(marks, 1)
    ]
    return Notebook(StartJob("Tansy"), PutStick(stick("S-1", inspection)), PutStick(stick("S-2")), *readings)
