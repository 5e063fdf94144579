"""The one pint registry, with our own short list of units; built at the first unit not in `kinds`.

The stock list is left alone: it takes a hundred times as long to build, and has units no shop measures in.
Every factor is an exact decimal, and pint is told to keep fractions, so nothing is rounded here.
"""

from fractions import Fraction
from functools import cache
from typing import Any

import pint

# What `kinds` calls it -> the SI unit of its value.
_SI = {"length": "meter", "mass": "kilogram", "force": "newton", "seconds": "second", "angle": "degree"}

_DEFINITIONS = (
    # Multiples one by one, not by prefix: a slip like "3 cin" must be refused, not be read as centi-inches.
    "meter = [length] = m = metre",
    "millimeter = 0.001 * meter = mm = millimetre",
    "centimeter = 0.01 * meter = cm = centimetre",
    "decimeter = 0.1 * meter = dm = decimetre",
    "kilogram = [mass] = kg = kilo",
    "gram = 0.001 * kilogram = g = gramme",
    "milligram = 0.000001 * kilogram = mg",
    "second = [time] = s = sec",
    "degree = [angle] = deg",
    "minute = 60 * second = min",
    "hour = 60 * minute = h = hr",
    "newton = kilogram * meter / second ** 2 = N",
    "kilonewton = 1000 * newton = kN",
    # International yard and pound, 1959; standard gravity, 3rd CGPM 1901.
    "inch = 0.0254 * meter = in = inches",
    "foot = 12 * inch = ft = feet",
    "yard = 3 * foot = yd",
    "thou = 0.001 * inch = thou = mil",
    "pound = 0.45359237 * kilogram = lb",
    "ounce = 0.0625 * pound = oz",
    "grain = 0.00006479891 * kilogram = gr",
    "stone = 14 * pound = st",
    "tonne = 1000 * kilogram = t",
    "pound_force = 4.4482216152605 * newton = lbf",
    "ounce_force = 0.0625 * pound_force = ozf",
    "kip = 1000 * pound_force = kip",
    "kilogram_force = 9.80665 * newton = kgf",
    "gram_force = 0.00980665 * newton = gf",
)


@cache
def _registry() -> "pint.UnitRegistry[Any]":
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None, non_int_type=Fraction)
    for line in _DEFINITIONS:
        registry.define(line)
    return registry


@cache
def look_up(word: str) -> tuple[str, Fraction] | None:
    """The kind that a unit measures and its exact factor to SI; None for a word that is no unit of ours.

    Args:
        word: letters only; tried as typed, then in lower case.
    Returns:
        Name of the kind ("" when it is none of ours), and SI units per unit [1].
    """
    registry = _registry()
    for spelling in (word, word.lower()):
        try:
            unit = registry.Quantity(Fraction(1), registry.parse_units(spelling.replace(" ", "_")))
        except (pint.PintError, ValueError):  # "nan" is a number to pint
            continue
        for kind, si in _SI.items():
            if unit.check(registry.parse_units(si).dimensionality):
                return kind, Fraction(unit.to(si).magnitude)
        return "", Fraction(1)
    return None
