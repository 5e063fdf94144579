"""Wood Handbook (FPL-GTR-282, 2021) chapter 9: columns, equations 9-25 and 9-27, page 9-9.

Worked from the two equations apart from this program; loads to 0.1 percent. Figures of the woods: Table 5-3b.
"""

from math import pi, sqrt

import pytest
from methods_printed import INCH, LIBRARY, POUND_FORCE, PSI, printed

from bench.core import strength
from bench.core.resizing import Section, column_load, resize

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
