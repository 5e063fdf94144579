"""The doors between people and SI numbers: `read`, `size` and `spans` in, one writer per kind out.

Everything inside is an exact `Fraction` or a plain float in SI. Importing this package does not import pint:
the registry is built when a unit is met that the fast table does not know.
"""

from bench.units.lists import size, spans
from bench.units.reading import read
from bench.units.writing import (
    gravity,
    gravity_down,
    gravity_up,
    length,
    length_up,
    mark,
    mark_read,
    mark_up,
    number,
    percent,
    place,
    ratio,
    rings,
    shop,
    sides,
    signed,
    slope,
    stress,
    stress_down,
    tape,
    temperature,
    told_apart,
)

__all__ = [
    "gravity",
    "gravity_down",
    "gravity_up",
    "length",
    "length_up",
    "mark",
    "mark_read",
    "mark_up",
    "number",
    "percent",
    "place",
    "ratio",
    "read",
    "rings",
    "shop",
    "sides",
    "signed",
    "size",
    "slope",
    "spans",
    "stress",
    "stress_down",
    "tape",
    "temperature",
    "told_apart",
]
