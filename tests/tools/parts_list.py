"""An invented list of three parts with a stick for them, and what the Parts screen shows of it."""

from fractions import Fraction
from typing import Any

from bench.core.edits import PutPart, PutStick, StartJob, TakeReading
from bench.core.records import Part, Settings, Stick, Typed, inches
from tests.tools.driving import Notebook
from tests.tools.sticks import DRY, SOUND, reading

ASH, SPRUCE = "white_ash", "sitka_spruce"
SIDE = inches("3/4")
CAP = Part("cap 1", inches("60"), SIDE, SIDE, 2, group="left wing")
RIB = Part("rib", inches("9"), inches("1/2"), inches("1/2"), 5, group="right wing", note="bay 3")
POST = Part("post", inches("24"), inches("1"), SIDE, 1, minimum_sg=Typed(Fraction(2, 5), "0.40"))
# Where each column stands: how often right is pressed from the first.
PLACES = {
    "part": 0,
    "pieces": 1,
    "length": 2,
    "width": 3,
    "depth": 4,
    "in new wood": 5,
    "cut": 6,
    "becomes": 7,
    "critical": 8,
    "drawn in": 9,
    "least G": 10,
    "best sticks": 11,
    "scarf": 12,
    "no joint": 13,
    "grain": 14,
    "group": 15,
    "note": 16,
}


def notebook(*more: Any, units: str = "in") -> Notebook:
    """Three parts and a stick of spruce that all of them fit on."""
    stick = Stick("S-1", SPRUCE, inches("144"), inches("1"), inches("1"), DRY, inspection=SOUND)
    edits = [
        StartJob("Tansy", settings=Settings(units=units)),
        PutStick(stick),
        TakeReading("S-1", reading(4.4)),
    ]
    return Notebook(*edits, *(PutPart(part) for part in (CAP, RIB, POST)), *more)


def listed(app: Any) -> list[str]:
    parts = app.bench.query_one("#parts")
    return [parts.names()[row] for row in parts.listed]


def cell(app: Any, name: str, column: str) -> str:
    parts = app.bench.query_one("#parts")
    return parts.texts(parts.names().index(name))[column][0]
