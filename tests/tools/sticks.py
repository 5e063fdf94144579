"""What the tests of screens and saw say of a stick; every figure is invented."""

from fractions import Fraction

from bench.core.records import FloatReading, Inspection, Typed, inches

DRY = Typed(Fraction(12, 100), "12 %")
BATH = Typed(Fraction(29315, 100), "20 C")
# Nothing is wrong with it, for any use.
SOUND = Inspection(
    rings=Typed(Fraction(12) / Fraction(254, 10_000), "12 per in"),
    slope_one=Typed(Fraction(1, 25), "1:25"),
    slope_two=Typed(Fraction(0), "straight"),
    edge_grain=Typed(Fraction(1), "100 %"),
    bow=inches("0"),
    looked=True,
)


def reading(*marks: float, taken: str = "2026-03-14") -> FloatReading:
    """A float test of a stick 1/2 in square and 5 in long."""
    return FloatReading(marks, inches("1/2"), inches("5"), DRY, BATH, taken=taken)
