"""An invented rack of five sticks of three woods for the lists, and what a list shows."""

from bench.core.edits import PutPart, PutStick, StartJob, TakeReading
from bench.core.records import Part, Stick, inches
from tests.tools.driving import Notebook
from tests.tools.sticks import DRY, reading

ASH, FIR, SPRUCE = "white_ash", "douglas_fir_coast", "sitka_spruce"


def rack() -> Notebook:
    """Five sticks of three woods; all but the last read; the lengths are not in the order of their texts."""
    sticks = (
        ("A-1", ASH, "100", 6.7, "barn"),
        ("A-2", ASH, "60", 6.4, "barn"),
        ("F-1", FIR, "9", 5.5, "mill"),
        ("S-1", SPRUCE, "72", 4.2, ""),
        ("A-10", ASH, "80", None, "mill"),
    )
    edits = [StartJob("Tansy")]
    for tag, species, length, mark, lot in sticks:
        edits.append(PutStick(Stick(tag, species, inches(length), inches("1"), inches("1"), DRY, lot=lot)))
        if mark:
            edits.append(TakeReading(tag, reading(mark)))
    edits.append(PutPart(Part("cap 9", inches("24"), inches("3/4"), inches("3/4"), 2)))
    edits.append(PutPart(Part("cap 10", inches("8"), inches("3/4"), inches("3/4"), 5)))
    return Notebook(*edits)


def here(app, view: str = "#stock") -> str:
    return app.bench.query_one(view).here
