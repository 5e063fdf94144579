"""ANC-19, Wood Aircraft Inspection and Fabrication (1943): the minimum and how it floats.

Section 2.20 and 2.414: the minimum is oven-dry weight on oven-dry volume. Section 2.200: the float test with
ten equal marks is accurate to about 0.01. Section 2.20: the floating density comes down to oven dry by a
constant per 1 percent of moisture, 0.00192 g/cm3 (0.120 lb/ft3) for spruce and 0.095 lb/ft3 for noble fir.
"""

import pytest
from methods_printed import LIBRARY, float_stick, printed

from bench.core import acceptance, floating, water

SPRUCE, FIR = LIBRARY.get("sitka_spruce"), LIBRARY.get("noble_fir")
POUND_PER_CUBIC_FOOT = 0.45359237 / 0.3048**3
WATER_20 = water.density(293.15) / water.DENSITY_4C


def minimum(species) -> float:
    """The library's minimum on the aircraft basis."""
    figure = acceptance.limit(species, "specific_gravity_minimum")
    assert figure is not None and figure.source == "anc19" and figure.volume == "oven-dry"
    return figure.value


def test_spruce_at_its_minimum_floats_at_383() -> None:
    """0.36 + 12 x 0.00192 = 0.383: the page's own way, from the library's figures."""
    per_cent = SPRUCE.find("weight_change")
    assert per_cent is not None and (per_cent.printed, per_cent.source) == ("0.120", "anc19")
    assert minimum(SPRUCE) == printed("0.36")
    assert minimum(SPRUCE) + 0.12 * per_cent.value / 1000 == printed("0.383")


def test_the_chain_of_this_program_agrees() -> None:
    """Shrinkage 11.5 %: 0.3833 by the chain, 0.3830 by the page; two independent ways within 0.001."""
    mark = floating.mark_of(minimum(SPRUCE), float_stick(1, moisture="12"), SPRUCE)
    floats_at = mark / 10 * WATER_20
    assert floats_at == printed("0.3833")
    assert floats_at == printed("0.383", 0.001)


@pytest.mark.parametrize("moisture", ["8", "9", "10", "11", "12", "15"])
def test_the_two_ways_agree_at_any_moisture_in_use(moisture: str) -> None:
    mark = floating.mark_of(0.36, float_stick(1, moisture=moisture), SPRUCE)
    page = 0.36 + float(moisture) * 0.00192
    assert mark / 10 * WATER_20 == pytest.approx(page, abs=0.001)


def test_noble_fir_at_15_percent_weighs_23_9() -> None:
    """0.36 x 62.4 + 15 x 0.095 = 23.9 lb/ft3, the least weight printed for 15 %."""
    per_cent = FIR.find("weight_change")
    assert per_cent is not None and (per_cent.printed, per_cent.source) == ("0.095", "anc19")
    weight = minimum(FIR) * 62.4 + 0.15 * per_cent.value / POUND_PER_CUBIC_FOOT
    assert weight == printed("23.9")
    least = FIR.find("weight_minimum", "15 %")
    assert least is not None and least.printed == "23.9"


def test_the_chain_for_noble_fir_is_no_more_lenient() -> None:
    """Shrinkage 12.4 % gives 24.1: stricter than the page, by less than the float test's 0.01."""
    mark = floating.mark_of(minimum(FIR), float_stick(1, moisture="15"), FIR)
    weight = mark / 10 * WATER_20 * 1000 / POUND_PER_CUBIC_FOOT
    assert 23.9 - 0.05 <= weight <= 23.9 + 0.01 * 62.4


def test_ten_marks_are_read_to_a_hundredth() -> None:
    half_width = floating.READING_HALF_WIDTH / 10
    assert half_width == printed("0.01")


# Table 2-13, minimum on the basis of sections 2.20 and 2.414.
TABLE_2_13 = [
    *(("sitka_spruce", "0.36"), ("red_spruce", "0.36"), ("white_spruce", "0.36"), ("noble_fir", "0.36")),
    *(("douglas_fir_coast", "0.45"), ("eastern_white_pine", "0.34"), ("western_white_pine", "0.38")),
    *(("port_orford_cedar", "0.40"), ("western_hemlock", "0.40"), ("yellow_poplar", "0.38")),
]


@pytest.mark.parametrize(("key", "least"), TABLE_2_13)
def test_the_minimum_stands_higher_than_its_number(key: str, least: str) -> None:
    """A line drawn at the number itself would pass wood to be rejected, at every moisture above zero."""
    species = LIBRARY.get(key)
    assert minimum(species) == printed(least)
    for moisture in ("6", "8", "10", "12", "15"):
        for angle in ("none", "0", "60"):
            mark = floating.mark_of(float(least), float_stick(1, moisture=moisture, angle=angle), species)
            assert mark > float(least) * 10 + 0.05
