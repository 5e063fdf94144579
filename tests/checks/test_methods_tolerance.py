"""Thinner sections, from the powers of a rectangle.

What a practitioner gets wrong, worked out apart from this program: half the sides leave 1/4, 1/8 and 1/16;
a square a tenth thinner keeps 0.81, 0.729 and 0.656. Weight goes with the square of the scale, a section
modulus with its cube, a second moment with its fourth power.
"""

import pytest
from methods_printed import INCH, LIBRARY, printed

from bench.core import strength
from bench.core.sections import Rectangle, Round
from bench.core.tolerance import undersize

SPRUCE = strength.of(LIBRARY.get("sitka_spruce"))
SQUARE = Rectangle(INCH, INCH)


@pytest.mark.parametrize(
    ("name", "share"),
    [("weight", "1/4"), ("bending", "1/8"), ("stiffness", "1/16"), ("column", "1/16"), ("torsion", "1/16")],
)
def test_halving_both_sides(name: str, share: str) -> None:
    over, under = share.split("/")
    found = undersize(SQUARE, INCH / 2, INCH / 2, SPRUCE)
    assert found[name] == pytest.approx(int(over) / int(under), rel=1e-12)


@pytest.mark.parametrize(
    ("name", "share"), [("weight", "0.81"), ("bending", "0.729"), ("stiffness", "0.656"), ("column", "0.656")]
)
def test_a_square_ten_percent_thinner(name: str, share: str) -> None:
    found = undersize(SQUARE, INCH / 10, INCH / 10, SPRUCE)
    assert found[name] == printed(share)


# Derived: capacity of a rectangle as width^a depth^b.
POWERS = {
    "weight": (1, 1), "bending": (1, 2), "stiffness": (1, 3), "compression": (1, 1), "tension": (1, 1),
    "shear": (1, 1), "bearing": (1, 0), "toughness": (1, 1),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(POWERS))
@pytest.mark.parametrize("share", [0.5, 0.9, 0.99, 1.01, 1.5])
def test_one_side_alone(name: str, share: float) -> None:
    plan, off = Rectangle(2 * INCH, 3 * INCH), 1 - share
    across, along = POWERS[name]
    narrow = undersize(plan, 2 * INCH * off, 0.0, SPRUCE)
    shallow = undersize(plan, 0.0, 3 * INCH * off, SPRUCE)
    assert narrow[name] == pytest.approx(share**across, rel=1e-12)
    assert shallow[name] == pytest.approx(share**along, rel=1e-12)


def test_a_column_goes_with_the_cube_of_its_thinner_side() -> None:
    """Derived: the least second moment of a rectangle is depth times width^3 over 12 where width is less."""
    plan = Rectangle(INCH, 2 * INCH)
    assert undersize(plan, INCH / 10, 0.0, SPRUCE)["column"] == pytest.approx(0.9**3, rel=1e-12)
    assert undersize(plan, 0.0, INCH / 10, SPRUCE)["column"] == pytest.approx(0.95, rel=1e-12)


def test_a_round_goes_as_a_square_does() -> None:
    """Derived: pi d^3 / 32 and pi d^4 / 64."""
    found = undersize(Round(INCH), INCH / 10, INCH / 10, SPRUCE)
    for name, share in (
        ("weight", "0.81"),
        ("bending", "0.729"),
        ("stiffness", "0.656"),
        ("torsion", "0.656"),
    ):
        assert found[name] == printed(share)


def test_ten_thousandths_off_a_square() -> None:
    """.010 off 0.60 in square, by hand: (0.59/0.60)^3 = 0.950833, ^4 = 0.934986: about -5 % and -7 %."""
    found = undersize(Rectangle(0.6 * INCH, 0.6 * INCH), 0.01 * INCH, 0.01 * INCH, SPRUCE)
    assert found["bending"] == printed("0.9508")
    assert found["stiffness"] == printed("0.9350")
