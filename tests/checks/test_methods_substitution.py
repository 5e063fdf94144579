"""One wood for another, derived from the geometry of a rectangle.

At scale k of both sides: weight g k^2, moment r k^3, stiffness e k^4, crushing c k^2. The figures of the
woods are those of the Wood Handbook (FPL-GTR-282), Table 5-3b; the ratios were worked out apart from
this program.
"""

import pytest
from methods_printed import INCH, LIBRARY, PSI, printed

from bench.core import strength
from bench.core.resizing import Section, resize
from bench.core.sections import Box, IBeam, Round

SPRUCE = strength.of(LIBRARY.get("sitka_spruce"))
ASH = strength.of(LIBRARY.get("white_ash"))
SQUARE = Section(INCH, INCH)


def test_figures_of_the_two_woods() -> None:
    figures = ((SPRUCE, "0.40", "10,200", "9.4"), (ASH, "0.60", "15,000", "16.6"))
    for wood, gravity, rupture, work in figures:
        assert wood.gravity == printed(gravity)
        assert wood.get("bending") / PSI == printed(rupture)
        assert wood.get("toughness") / PSI == printed(work)  # in-lbf/in3 is lbf/in2


MATCHES = [
    # match, ash side in, then weight, bending, stiffness and Euler load, crushing: ash over spruce
    ("weight", "0.8165", "1.000", "0.8005", "0.4926", "0.8806"),
    ("bending", "0.8794", "1.160", "1.000", "0.6627", "1.0214"),
    ("stiffness", "0.9746", "1.425", "1.3615", "1.000", "1.2547"),
    ("column", "0.9746", "1.425", "1.3615", "1.000", "1.2547"),
    ("compression", "0.8701", "1.136", "0.9687", "0.6352", "1.000"),
]


@pytest.mark.parametrize("row", MATCHES, ids=lambda row: row[0])
def test_ash_for_a_spruce_inch(row: tuple[str, ...]) -> None:
    match, side, weight, bending, stiffness, crushing = row
    resized = resize(SQUARE, SPRUCE, ASH, match)
    assert resized.exact.width == resized.exact.depth
    assert resized.exact.width / INCH == printed(side)
    assert resized.ratios["weight"] == printed(weight)
    assert resized.ratios["bending"] == printed(bending)
    assert resized.ratios["stiffness"] == printed(stiffness)
    assert resized.ratios["column"] == printed(stiffness)
    assert resized.ratios["compression"] == printed(crushing)


@pytest.mark.parametrize(("match", "energy"), [("weight", "1.177"), ("stiffness", "1.678")])
def test_energy_to_break(match: str, energy: str) -> None:
    """To one unit of the last place, as the numbers were worked out from rounded ratios."""
    assert resize(SQUARE, SPRUCE, ASH, match).ratios["toughness"] == printed(energy, 0.001)


DEPTH_HELD = [("weight", "0.6667"), ("bending", "0.6800"), ("stiffness", "0.9023"), ("compression", "0.7571")]


@pytest.mark.parametrize(("match", "factor"), DEPTH_HELD)
def test_width_alone(match: str, factor: str) -> None:
    resized = resize(SQUARE, SPRUCE, ASH, match, hold="depth")
    assert resized.side_factor == printed(factor)
    assert (resized.exact.width / INCH, resized.exact.depth) == (printed(factor), INCH)


WIDTH_HELD = [("weight", "0.6667"), ("bending", "0.8246"), ("stiffness", "0.9663")]


@pytest.mark.parametrize(("match", "factor"), WIDTH_HELD)
def test_depth_alone(match: str, factor: str) -> None:
    resized = resize(SQUARE, SPRUCE, ASH, match, hold="width")
    assert resized.side_factor == printed(factor)
    assert (resized.exact.width, resized.exact.depth / INCH) == (INCH, printed(factor))


def test_equal_weight_gives_away_strength() -> None:
    """Equal weight: 20 percent weaker in bending, 51 in stiffness, 12 in crushing; only shock improves."""
    resized = resize(SQUARE, SPRUCE, ASH, "weight")
    for name, loss in (("bending", "20"), ("stiffness", "51"), ("column", "51"), ("compression", "12")):
        assert (1 - resized.ratios[name]) * 100 == printed(loss)
        assert name in resized.weaker
    assert "toughness" not in resized.weaker


@pytest.mark.parametrize(
    "shape", [Round(INCH), Box(2 * INCH, 6 * INCH, 0.75 * INCH, 0.125 * INCH)], ids=["round", "box"]
)
@pytest.mark.parametrize("row", MATCHES, ids=lambda row: row[0])
def test_any_shape_scales_as_the_square_does(shape: Round | Box, row: tuple[str, ...]) -> None:
    """At scale k of all sizes the powers are those of the square, whatever the shape: derived."""
    match, side, weight, bending, stiffness, crushing = row
    resized = resize(shape, SPRUCE, ASH, match)
    assert resized.side_factor == printed(side)
    assert resized.ratios["weight"] == printed(weight)
    assert resized.ratios["bending"] == printed(bending)
    assert resized.ratios["stiffness"] == printed(stiffness)
    assert resized.ratios["column"] == printed(stiffness)
    assert resized.ratios["compression"] == printed(crushing)


def test_form_factor_touches_bending_alone() -> None:
    """From memory: the factor, 0.686 of this beam; it multiplies the modulus of rupture, never E or I."""
    beam = IBeam(INCH, 4 * INCH, 0.75 * INCH, 0.25 * INCH)
    found = resize(beam, SPRUCE, SPRUCE, "weight").plan_values
    assert found["bending"] / (PSI * INCH**3) == pytest.approx(10_200 * 2.17839 * 0.6857, rel=1e-4)
    assert found["stiffness"] / (PSI * INCH**4) == pytest.approx(1.57e6 * 4.35677, rel=1e-5)


def test_bearing_across_the_grain() -> None:
    """Table 5-3b: 580 lbf/in2 of Sitka spruce, 1,160 of white ash, so half the width bears as much."""
    assert SPRUCE.get("bearing") / PSI == printed("580")
    assert ASH.get("bearing") / PSI == printed("1,160")
    assert resize(SQUARE, SPRUCE, ASH, "bearing").side_factor == pytest.approx(0.5)


def test_spruce_brought_to_another_moisture() -> None:
    """Eq. 5-3 (wh282 p. 5-34) with table 5-3b, lbf/in2 to 2: Sitka at 10 and 15 percent.

    Rupture 10,200 and 5,700, crushing 5,610 and 2,670, 12 percent and green.
    """
    for moisture, rupture, crushing in ((0.10, "11,023", "6,194"), (0.15, "9,079", "4,836")):
        wood = strength.of(LIBRARY.get("sitka_spruce"), moisture)
        assert wood.get("bending") / PSI == printed(rupture, 2)
        assert wood.get("compression") / PSI == printed(crushing, 2)
