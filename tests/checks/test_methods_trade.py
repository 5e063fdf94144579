"""Facts of the trade: common practice, no published source; the arithmetic beside them is derived."""

import pytest
from methods_printed import INCH, LIBRARY, printed

from bench.core import acceptance
from bench.core.resizing import Section, resize
from bench.core.strength import Wood

SQUARE = Section(0.75 * INCH, 0.75 * INCH)


def wood(gravity: float) -> Wood:
    """A wood of which only the gravity matters."""
    return Wood("any", "any wood", 0.12, gravity, gravity, False, (), ())


# Common practice: the ratio of gravities is the ratio of areas; a side scales with its root, each to 0.001.
AREAS = [(0.75, "0.866"), (0.875, "0.935"), (0.25, "0.500")]


@pytest.mark.parametrize(("area", "side"), AREAS)
def test_equal_weight_is_a_matter_of_area(area: float, side: str) -> None:
    resized = resize(SQUARE, wood(0.40), wood(0.40 / area), "weight")
    assert resized.area_factor == pytest.approx(area)
    assert resized.side_factor == printed(side, 0.001)
    assert resized.ratios["weight"] == pytest.approx(1)


def test_half_as_wide_and_half_as_deep_is_a_quarter() -> None:
    """Halving both sides leaves a fourth of the area: derived, the commonest mistake of the shop."""
    resized = resize(SQUARE, wood(0.40), wood(1.60), "weight")
    assert resized.exact.width == pytest.approx(SQUARE.width / 2)
    assert resized.exact.area == pytest.approx(SQUARE.area / 4)


@pytest.mark.parametrize(
    ("key", "least", "average", "standing"),
    [("white_ash", "0.56", "0.62", "trade"), ("sitka_spruce", "0.36", "0.40", "read")],
)
def test_limits_of_the_trade(key: str, least: str, average: str, standing: str) -> None:
    """White ash 0.56 and 0.62 by common practice; spruce 0.36 and 0.40, of which 0.36 is published too."""
    species = LIBRARY.get(key)
    low = acceptance.limit(species, "specific_gravity_minimum")
    mean = acceptance.limit(species, "specific_gravity_average")
    assert low is not None and mean is not None
    assert (low.value, low.standing) == (printed(least), standing)
    assert mean.value == printed(average)
