"""Wood Handbook (FPL-GTR-190, 2010) chapter 13: movement in use, equation 13-2 and Table 13-5."""

import pytest
from methods_printed import INCH, LIBRARY, printed

from bench.core.moisture import movement


def test_handbook_example_of_white_fir() -> None:
    """232 mm flat-sawn from 8 to 11 %, C_T 0.00245: 1.705 mm; 9-1/8 in: 0.0671 in (wording from memory)."""
    assert movement(0.232, 0.245, 0.08, 0.11) * 1000 == printed("1.705")
    assert movement(9.125 * INCH, 0.245, 0.08, 0.11) / INCH == printed("0.0671")


def test_white_ash_of_six_inches() -> None:
    """Flat-sawn, 12 to 7 %, C_T 0.00274 (Table 13-5): it shrinks by 0.0822 in."""
    figure = LIBRARY.get("white_ash").find("movement_tangential")
    assert figure is not None and figure.printed == "0.00274"
    assert movement(6 * INCH, figure.value, 0.12, 0.07) / INCH == printed("-0.0822")


# Table 13-5, radial and tangential, change per 1 % of moisture.
TABLE = [
    ("white_ash", "0.00169", "0.00274"),
    ("black_ash", "0.00172", "0.00274"),
    ("yellow_birch", "0.00256", "0.00338"),
]


@pytest.mark.parametrize(("key", "radial", "tangential"), TABLE)
def test_an_inch_through_one_percent(key: str, radial: str, tangential: str) -> None:
    for name, text in (("movement_radial", radial), ("movement_tangential", tangential)):
        figure = LIBRARY.get(key).find(name)
        assert figure is not None
        assert movement(1.0, figure.value, 0.09, 0.10) == printed(text)


# How far the two are apart in percent: green ash and sweet birch are printed with the figures of white ash
# and yellow birch; those of eastern white pine are recalled, and do not fit the shrinkage that was read.
APART = {
    ("eastern_white_pine", "radial"): "9.7",
    ("eastern_white_pine", "tangential"): "1.7",
    ("green_ash", "radial"): "6.4",
    ("green_ash", "tangential"): "9.3",
    ("sweet_birch", "radial"): "11.5",
    ("sweet_birch", "tangential"): "5.6",
}


def test_every_coefficient_is_its_shrinkage() -> None:
    """Table 13-5 is s / (30 - 20 s) of table 4-3 to the last digit, s the shrinkage as a share; derived."""
    seen = set()
    for key, species in LIBRARY.species.items():
        for way in ("radial", "tangential"):
            coefficient = species.find(f"movement_{way}")
            shrinkage = species.find(f"shrinkage_{way}")
            if coefficient is None or shrinkage is None:
                continue
            by_shrinkage = shrinkage.value / (30 - 20 * shrinkage.value)
            seen.add((key, way))
            if (key, way) in APART:
                off = abs(by_shrinkage / float(coefficient.printed) - 1) * 100
                assert off == printed(APART[key, way]), (key, way, off)
            else:
                assert by_shrinkage == printed(coefficient.printed), (key, way)
    assert len(seen) == 38 and set(APART) < seen
