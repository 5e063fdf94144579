"""The band of a difference of two groups is never shown narrower than it is: sheet and verb alike."""

import re
from fractions import Fraction

import pytest

from bench import units
from bench.core import break_groups, breaks
from bench.core.coupon import BEND, Coupon, LoadPoint
from bench.core.quantities import GRAVITY, INCH, POUND
from bench.core.records import Job, Species, Typed, inches
from bench.sheets import breaking
from bench.units import showing

PSI = float(POUND * GRAVITY / INCH**2)


def newtons(pounds: str) -> Typed:
    return Typed(Fraction(pounds) * POUND * GRAVITY, f"{pounds} lbf")


def coupon(tag: str, species: str, load: str) -> Coupon:
    loads = (("20", "1/32"), ("40", "1/16"), ("60", "3/32"), (load, "1/4"), ("50", "3/8"))
    points = tuple(LoadPoint(newtons(at), inches(bent)) for at, bent in loads)
    return Coupon(tag, BEND, inches("1/2"), inches("1/2"), species=species, span=inches("7"), points=points)


def shown(text: str) -> float:
    return float(text.split()[0].replace(",", ""))


@pytest.mark.parametrize("system", ["in", "mm"])
@pytest.mark.parametrize(
    "loads", [("120", "131.7", "126.3"), ("90", "91.3", "99.1"), ("104", "107", "110.3")]
)
def test_a_sheet_never_shows_a_band_narrower_than_it_is(
    woods: dict[str, Species], loads: tuple[str, ...], system: str
) -> None:
    ash = (coupon(f"A-{n}", "white_ash", load) for n, load in enumerate(loads))
    spruce = (coupon(f"S-{n}", "sitka_spruce", load) for n, load in enumerate(("97", "103.3", "108.9")))
    made = breaks.results(Job("Tansy", coupons=(*ash, *spruce)))
    (found,) = break_groups.comparisons(break_groups.groups(made, "rupture", "wood", woods))
    assert isinstance(found, break_groups.Comparison)
    said = breaking.comparison_lines(found, system)[0]
    low, high = re.search(r"95 % between (.*?) and (.*?) \(t", said).groups()
    unit = PSI if system == "in" else 1e6
    assert shown(low) <= found.welch.low / unit and found.welch.high / unit <= shown(high)


def test_up_and_down_stand_on_both_sides_and_a_round_figure_stays() -> None:
    for value in (1234.56, 0.98765, 16_430.4):
        low, high = (
            units.stress_down(value * PSI, "in", 4),
            showing.show_up("modulus_of_rupture", value * PSI),
        )
        assert shown(low) < value < shown(high)
    assert showing.show_up("modulus_of_rupture", 1250 * PSI) == "1,250 lbf/in2"
    assert showing.show_up("impact_bending_drop", 9.001 * float(INCH)) == "9.01 in"
    assert showing.show_up("impact_bending_drop", 9 * float(INCH)) == "9.00 in"
