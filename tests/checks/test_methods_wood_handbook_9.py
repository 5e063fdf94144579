"""Wood Handbook (FPL-GTR-282, 2021) chapter 9: columns, equations 9-25 and 9-27, page 9-9.

Worked from the two equations apart from this program; loads to 0.1 percent. Figures of the woods: Table 5-3b.
Torsion: G about E/16 and the constants of a rectangle, equations 9-9 and 9-24.
"""

from math import pi, sqrt

import pytest
from methods_printed import INCH, LIBRARY, POUND_FORCE, PSI, printed

from bench.core import strength
from bench.core.capacities import capacity, size_effect
from bench.core.errors import OutOfRange
from bench.core.resizing import Section, column_load, resize
from bench.core.sections import Round, torsion_of_rectangle

SPRUCE = strength.of(LIBRARY.get("sitka_spruce"))
ASH = strength.of(LIBRARY.get("white_ash"))
SQUARE = Section(INCH, INCH)


def close(text: str):
    """Within 0.1 percent of the printed number."""
    return printed(text, 0.001 * float(text.replace(",", "")))


def test_figures_of_the_two_woods() -> None:
    for wood, crushing, elastic in ((SPRUCE, "5,610", "1.57"), (ASH, "7,410", "1.74")):
        assert wood.get("compression") / PSI == printed(crushing)
        assert wood.get("stiffness") / PSI / 1e6 == printed(elastic)


STRESSES = [
    # wood, length in, stress psi; 1 in square, pinned
    *((SPRUCE, 6, "5,589.7"), (SPRUCE, 12, "5,284.7"), (SPRUCE, 18, "3,963.2"), (SPRUCE, 24, "2,241.8")),
    *((SPRUCE, 40, "807.0"), (ASH, 12, "6,799.7"), (ASH, 18, "4,417.0"), (ASH, 40, "894.4")),
]


@pytest.mark.parametrize(
    ("wood", "length", "stress"), STRESSES, ids=lambda value: getattr(value, "species", None)
)
def test_column_of_one_inch_square(wood: strength.Wood, length: float, stress: str) -> None:
    # On one square inch the load in pounds is the stress in psi.
    assert column_load(SQUARE, wood, length * INCH) / POUND_FORCE == close(stress)


@pytest.mark.parametrize(("wood", "joint"), [(SPRUCE, "64.37"), (ASH, "58.96")], ids=["spruce", "ash"])
def test_the_two_curves_meet(wood: strength.Wood, joint: str) -> None:
    """At K = pi sqrt(1.5 E/F_c) both give two thirds of the crushing strength: derived."""
    slender = pi * sqrt(1.5 * wood.get("stiffness") / wood.get("compression"))
    assert slender == printed(joint)
    for hair in (-1e-9, 1e-9):
        length = (slender + hair) * INCH / sqrt(12)
        load = column_load(SQUARE, wood, length)
        assert load == pytest.approx(2 / 3 * wood.get("compression") * INCH**2, rel=1e-6)


def test_flat_strip_bends_about_its_weak_axis() -> None:
    """Eq. 9-25 with r = b/sqrt(12) of the lesser side, whichever way round it is given: derived."""
    strip, turned = Section(INCH, 2 * INCH), Section(2 * INCH, INCH)
    load = column_load(strip, SPRUCE, 40 * INCH)
    assert load == column_load(turned, SPRUCE, 40 * INCH)
    assert load / POUND_FORCE == close("1,614.0")  # twice the area at the stress of the square


SAME_LOAD = [(6, "0.8724"), (12, "0.9024"), (18, "0.9733"), (24, "0.9746"), (40, "0.9746")]


@pytest.mark.parametrize(("length", "side"), SAME_LOAD)
def test_ash_column_for_spruce(length: float, side: str) -> None:
    """Side of an ash square that carries the load of a spruce inch: the match hangs on the length."""
    resized = resize(SQUARE, SPRUCE, ASH, "column", length_m=length * INCH)
    assert resized.exact.width / INCH == printed(side, 0.0001)
    assert resized.ratios["column"] == pytest.approx(1, abs=1e-9)


SAME_WEIGHT = [(6, "0.8735"), (12, "0.7616"), (18, "0.4953"), (24, "0.4926"), (40, "0.4926")]


@pytest.mark.parametrize(("length", "share"), SAME_WEIGHT)
def test_ash_column_of_the_same_weight(length: float, share: str) -> None:
    """Share of the spruce load that ash of the same weight carries."""
    resized = resize(SQUARE, SPRUCE, ASH, "weight", length_m=length * INCH)
    assert resized.ratios["column"] == printed(share, 0.0001)
    assert "column" in resized.weaker


def test_a_round_column_takes_its_own_radius() -> None:
    """Eq. 9-25 with r = d/4: a round of 1 in has L/r 160 at 40 in, and pi/4 square inches."""
    load = column_load(Round(INCH), SPRUCE, 40 * INCH)
    assert load / POUND_FORCE == pytest.approx(pi**2 * 1.57e6 / 160**2 * pi / 4, rel=1e-6)


@pytest.mark.parametrize(("proportion", "alpha"), [(1, "0.208"), (1.5, "0.231"), (2, "0.246"), (3, "0.267")])
def test_twist_of_a_rectangle_is_near_its_printed_stress_factor(proportion: float, alpha: str) -> None:
    """The printed short formula of J, a b^3 [1/3 - 0.21 (b/a)(1 - b^4/(12 a^4))], is within 0.2 percent.

    The factor of the stress, alpha, bounds it: J is below alpha a b^3 where a is the longer side.
    """
    b, a = 1.0, proportion
    short = a * b**3 * (1 / 3 - 0.21 * (b / a) * (1 - b**4 / (12 * a**4)))
    assert torsion_of_rectangle(a, b) == pytest.approx(short, rel=2e-3)
    assert torsion_of_rectangle(a, b) < float(alpha) * a * b**3


def test_stiffness_in_twist_goes_with_a_sixteenth_of_the_elasticity() -> None:
    """G about E/16: wh190, text under eq. 9-9; J of a 1 in square 0.1406 in4."""
    twist = capacity("torsion", SQUARE, SPRUCE) / (PSI * INCH**4)
    assert twist == pytest.approx(1.57e6 / 16 * 0.1406, rel=5e-4)


def test_size_effect_as_printed() -> None:
    """Eq. 9-17: 10 in deep, span 216 in, loads at the third points, 10,000 lbf/in2 becomes 7,330."""
    assert 10_000 * size_effect(10 * INCH, 216 * INCH, 72 * INCH) == printed("7,330", 5)
    assert size_effect(2 * INCH, 28 * INCH) == pytest.approx(1)


COUPONS = [("0.5", "1.1665"), ("0.75", "1.1151"), ("1", "1.0801"), ("0.25", "1.2599")]


@pytest.mark.parametrize(("depth", "factor"), COUPONS)
def test_size_effect_of_small_beams_on_fourteen_depths(depth: str, factor: str) -> None:
    """Worked from eq. 9-17 apart from this program: with the span 14 depths it is (2/h)^(1/9)."""
    deep = float(depth) * INCH
    assert size_effect(deep, 14 * deep) == printed(factor)


def test_size_effect_needs_a_size() -> None:
    with pytest.raises(OutOfRange):
        size_effect(0.0, 0.5)
