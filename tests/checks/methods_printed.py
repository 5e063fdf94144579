"""A number as its source prints it, with the tolerance that its last digit gives."""

from decimal import Decimal
from fractions import Fraction

import pytest

from bench.core.quantities import DATA_UNITS
from bench.core.records import FloatReading, Typed, inches
from bench.library import load

LIBRARY = load()
INCH = 0.0254
PSI = float(DATA_UNITS["lbf/in2"][1])
POUND_FORCE = float(DATA_UNITS["lbf"][1])


def printed(text: str, tolerance: float | None = None):
    """Equal to a printed number: within half of its last digit, or within a tolerance that is stated."""
    number = Decimal(text.replace(",", ""))
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)
    half = 0.5 * 10.0**exponent * (1 + 1e-9)
    return pytest.approx(float(number), abs=half if tolerance is None else tolerance, rel=0)


def float_stick(
    *marks: float, moisture: str = "12", angle: str = "none", bath: str = "20", side: str = "1/2"
):
    """A reading of a square stick ten times as long as wide; moisture [%], bath [C], side [in]."""
    length = Typed(inches(side).exact * 10, f"10 x {side} in")
    damp = Typed(Fraction(moisture) / 100, f"{moisture} %")
    water = Typed(Fraction(bath) + Fraction(27315, 100), f"{bath} C")
    return FloatReading(marks, inches(side), length, damp, water, angle=angle)
