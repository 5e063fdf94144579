"""Wood Handbook (FPL-GTR-282, 2021) chapter 5: strength at another moisture, equation 5-3, page 5-34."""

import pytest
from methods_printed import LIBRARY, PSI, printed

from bench.core import strength
from bench.core.moisture import strength_at


def test_printed_example_of_white_ash() -> None:
    """P_12 103,000 and P_g 66,000 kPa, M_p 24 %: at 8 % the page prints 119,500 kPa; exactly 119,473."""
    value = strength_at(103_000, 66_000, 0.08, 0.24)
    assert value == printed("119,500", 50)  # printed to four figures
    assert value == printed("119,473")


SITKA = [
    # P_12, P_g, M, worked, psi; M_p 27 % (Table 5-13), tolerance 2 psi
    ("bending", 10_200, 5_700, 0.10, "11,023"),
    ("bending", 10_200, 5_700, 0.15, "9,079"),
    ("compression", 5_610, 2_670, 0.10, "6,194"),
    ("compression", 5_610, 2_670, 0.15, "4,836"),
]


@pytest.mark.parametrize(("name", "at_12", "green", "moisture", "value"), SITKA)
def test_sitka_spruce_at_another_moisture(
    name: str, at_12: float, green: float, moisture: float, value: str
) -> None:
    assert strength_at(at_12, green, moisture, 0.27) == printed(value, 2)
    library = strength.of(LIBRARY.get("sitka_spruce"), moisture)
    assert library.get(name) / PSI == printed(value, 2)


def test_below_and_above_the_moistures_it_hangs_on() -> None:
    assert strength_at(10_200, 5_700, 0.12, 0.27) == pytest.approx(10_200)
    assert strength_at(10_200, 5_700, 0.27, 0.27) == 5_700 == strength_at(10_200, 5_700, 0.60, 0.27)


def test_work_to_maximum_load_is_left_alone() -> None:
    """The equation is not for work to maximum load: 9.4 in-lbf/in3 at 12 % (Table 5-3b) stays."""
    spruce = LIBRARY.get("sitka_spruce")
    assert strength.of(spruce, 0.08).get("toughness") == strength.of(spruce).get("toughness")
    assert strength.of(spruce, 0.08).get("bending") > strength.of(spruce).get("bending")
