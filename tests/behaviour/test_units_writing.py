"""Numbers as panes and sheets show them. Expected texts are worked by hand."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench import units
from bench.core.errors import OutOfRange
from bench.core.resizing import round_up

INCH = Fraction("0.0254")
SIXTY_FOURTH = INCH / 64


def test_lengths() -> None:
    assert units.length(0.602 * INCH) == "0.602 in"
    assert units.length(0.0152908, "mm") == "15.3 mm"
    assert units.length(INCH / 16, places=2) == "0.06 in"
    assert units.length(2.4384, "mm") == "2438.4 mm"
    assert units.length(0.0254, "mm", 2) == units.length(0.0254, "mm", 1) == "25 mm"
    assert units.length(-0.0254) == "-1.000 in"
    assert units.length(-1e-9) == "0.000 in"


def test_a_half_goes_up_in_fractions_and_floats_alike() -> None:
    assert units.length(INCH / 16) == units.length(float(INCH) / 16) == "0.063 in"
    assert units.length(3 * INCH / 16) == units.length(0.1875 * 0.0254) == "0.188 in"


@pytest.mark.parametrize(
    ("sixty_fourths", "shown"),
    [(0, "0 in"), (39, "39/64 in"), (48, "3/4 in"), (64, "1 in"), (72, "1-1/8 in"), (160, "2-1/2 in")],
)
def test_shop_sizes(sixty_fourths: int, shown: str) -> None:
    assert units.shop(sixty_fourths * SIXTY_FOURTH, SIXTY_FOURTH) == shown


def test_shop_sizes_on_other_grids() -> None:
    half_millimetre = Fraction(1, 2000)
    assert units.shop(Fraction("0.0155"), half_millimetre, "mm") == "15.5 mm"
    assert units.shop(Fraction("0.0151"), half_millimetre, "mm") == "15.5 mm"
    assert units.shop(Fraction("0.016"), half_millimetre, "mm") == "16 mm"
    assert units.shop(Fraction("0.61") * INCH, INCH / 100) == "0.61 in"
    # Decimals that do not end go up: 15.5 mm is 0.61023... in, and 39/64 in is 15.478125 mm.
    assert units.shop(Fraction("0.0155"), half_millimetre) == "0.611 in"
    assert units.shop(39 * SIXTY_FOURTH, SIXTY_FOURTH, "mm") == "15.48 mm"


def test_round_up() -> None:
    assert round_up(39 * SIXTY_FOURTH, SIXTY_FOURTH) == 39 * SIXTY_FOURTH
    assert round_up(39 * SIXTY_FOURTH + Fraction(1, 10**15), SIXTY_FOURTH) == 40 * SIXTY_FOURTH
    assert round_up(0.602 * 0.0254, SIXTY_FOURTH) == 39 * SIXTY_FOURTH
    assert round_up(0.0, SIXTY_FOURTH) == 0
    # 1.1 + 2.2 is 3.3000000000000003 in binary: noise, not a step.
    assert round_up(1.1 + 2.2, Fraction("0.1")) == Fraction("3.3")
    assert round_up(3.3 * (1 + 1e-8), Fraction("0.1")) == Fraction("3.4")


@pytest.mark.parametrize(
    ("metres", "grid"), [(0.01, Fraction(0)), (0.01, -INCH), (math.nan, INCH), (math.inf, INCH)]
)
def test_round_up_refuses(metres: float, grid: Fraction) -> None:
    with pytest.raises(OutOfRange, match="grid above zero"):
        round_up(metres, grid)


def test_decimals_with_a_safe_side_go_up() -> None:
    assert units.length_up(0.6021 * INCH) == "0.603 in"
    assert units.length_up(Fraction("0.602") * INCH) == units.length_up(0.602 * 0.0254) == "0.602 in"
    assert units.length_up(0.01521, "mm") == "15.3 mm"
    assert units.length_up(0.6020001 * INCH, places=4) == "0.6021 in"
    assert units.mark_up(6.2701) == "6.28" and units.mark_up(6.27) == "6.27"
    assert units.gravity_up(0.0141) == "0.015" and units.gravity_up(0.014) == "0.014"


def test_gravities_to_more_places_keep_their_safe_side() -> None:
    assert units.gravity(0.36044, 4) == "0.3604" and units.gravity(0.36046, 4) == "0.3605"
    assert units.gravity_up(0.36041, 4) == "0.3605" and units.gravity_up(0.3604, 4) == "0.3604"
    assert units.gravity_down(0.36049, 4) == "0.3604" and units.gravity_down(0.3604, 4) == "0.3604"
    assert units.gravity_down(0.3604) == "0.360" and units.gravity_down(0.3) == "0.300"


APART = [
    # number, the other as written, shown
    (0.3604, "0.360", "0.3604"),
    (0.36004, "0.360", "0.36004"),
    (0.3600004, "0.360", "0.3600004"),
    (0.35996, "0.360", "0.35996"),
    (0.361, "0.360", "0.361"),
    (0.3604, "0.36", "0.3604"),  # fewer places are no other number
    (0.3604, "0.359", "0.360"),
    (0.3604, "", "0.360"),  # nothing to be told from
    (0.36, "0.360", "0.360"),  # nothing tells equal ones apart
]


@pytest.mark.parametrize(("value", "other", "shown"), APART)
def test_a_number_has_the_digits_that_tell_it_from_another(value: float, other: str, shown: str) -> None:
    assert units.told_apart(lambda places: units.gravity(value, places), 3, other) == shown


def test_what_is_told_apart_keeps_its_unit_and_its_way_of_rounding() -> None:
    def size(places: int) -> str:
        return units.length(0.3752 * INCH, "in", places)

    assert units.told_apart(size, 3, "0.375 in") == "0.3752 in"
    assert units.told_apart(lambda places: units.percent(0.66652, places), 1, "66.7 %") == "66.65 %"
    assert units.told_apart(lambda places: units.gravity_down(0.36047, places), 3, "0.360") == "0.3604"
    assert units.told_apart(lambda places: units.gravity_up(0.35953, places), 3, "0.360") == "0.3596"


@given(st.integers(100_000, 900_000), st.integers(-2_000, 2_000))
def test_two_numbers_a_millionth_apart_are_told_apart_and_no_digit_is_wasted(value: int, off: int) -> None:
    other = units.gravity((value + off) / 1e6)
    shown = units.told_apart(lambda places: units.gravity(value / 1e6, places), 3, other)
    assert float(shown) == pytest.approx(value / 1e6, abs=0.5 * 10.0 ** -len(shown.partition(".")[2]) + 1e-12)
    if float(other) != value / 1e6:
        assert float(shown) != float(other)
    if len(shown.partition(".")[2]) > 3:
        fewer = len(shown.partition(".")[2]) - 1
        assert float(units.gravity(value / 1e6, fewer)) == pytest.approx(float(other))


def test_tape() -> None:
    assert units.tape(Fraction("0.873125")) == units.tape(0.873125) == "34 3/8 in"
    assert units.tape(INCH * 34) == "34 in"
    assert units.tape(INCH * 3 / 8) == "3/8 in"
    assert units.tape(Fraction(0)) == "0 in"
    assert units.tape(INCH * Fraction(34 * 128 + 47, 128)) == "34 3/8 in", "a half of 1/64 goes up"
    assert units.tape(Fraction("0.873125"), "mm") == "873.1 mm"


def test_a_ratio_never_looks_stronger_than_it_is() -> None:
    assert units.ratio(0.8005) == "80.0 %"
    assert units.ratio(0.9999) == "99.9 %"
    assert units.ratio(1.2) == "120.0 %"
    assert units.ratio(0.1 * 3 / 0.3) == units.ratio(0.7 + 0.2 + 0.1) == "100.0 %"


def test_the_other_kinds() -> None:
    assert units.gravity(0.6124) == "0.612"
    assert units.percent(0.095) == units.percent(Fraction(95, 1000)) == "9.5 %"
    assert units.percent(0.095, 0) == "10 %"
    assert units.temperature(293.15) == units.temperature(Fraction("293.15")) == "20.0 °C"
    assert units.temperature(293.15, "F") == "68.0 °F"
    assert units.temperature(268.15) == "-5.0 °C"
    assert units.temperature(273.15 - 1e-6) == "0.0 °C"
    assert units.mark(6.85) == "6.85"
    # 10,200 lbf/in2 is 70.33 MPa.
    assert units.stress(70.33e6) == "10,200 lbf/in2"
    assert units.stress(70.33e6, "mm") == "70.3 MPa"
    assert units.stress(10.8e9) == "1,570,000 lbf/in2"
    assert units.stress(10.8e9, "mm") == "10,800 MPa"


def test_numbers() -> None:
    shown = {0.602: "0.602", 12.345: "12.3", 999.6: "1,000", 12345.6: "12,300", 0.05: "0.0500", 0: "0"}
    assert {value: units.number(value) for value in shown} == shown
    assert units.number(12345.6, 6) == "12,345.6"
    assert units.number(-1234.5, 2) == "-1,200"
    assert units.number(1e-7) == "1.00e-07"
    assert units.number(Fraction(1, 3), 1) == "0.3"


def test_signs() -> None:
    assert units.signed(0.052, 3) == "+0.052"
    assert units.signed(-0.008, 3) == "-0.008"
    assert units.signed(0.0, 3) == units.signed(-0.0001, 3) == units.signed(0.0001, 3) == "0.000"


@pytest.mark.parametrize("nothing", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_shown_as_a_dash(nothing: float) -> None:
    writers = (
        units.length,
        units.tape,
        units.gravity,
        units.percent,
        units.ratio,
        units.temperature,
        units.mark,
    )
    assert {writer(nothing) for writer in (*writers, units.stress, units.number)} == {"--"}
    assert {writer(nothing) for writer in (units.length_up, units.mark_up, units.gravity_up)} == {"--"}
    assert units.signed(nothing, 2) == units.shop(nothing, SIXTY_FOURTH) == "--"
