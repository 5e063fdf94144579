"""Coupon tests: the forms of Record, The Mechanical Properties of Wood (1914), and of statics.

The worked values were computed apart from this program.
"""

from dataclasses import replace
from fractions import Fraction
from math import atan, cos, degrees, radians, sin

import pytest
from methods_printed import INCH, LIBRARY, POUND_FORCE, PSI, printed

from bench.core import bending_readings, bending_test, breaking, breaks, coupon_moisture, gluing, slide_out
from bench.core.bending_readings import Reading
from bench.core.breaking import Blow
from bench.core.coupon import Coupon
from bench.core.errors import Missing, OutOfRange
from bench.core.quantities import GRAVITY, POUND
from bench.core.records import Job
from bench.core.typed import Typed, inches

LB = float(POUND)
IN_LB = POUND_FORCE * INCH
PER_IN3 = IN_LB / INCH**3
PER_INCH = POUND_FORCE / INCH  # of a slope, lbf/in
STANDARD = (2 * INCH, 2 * INCH, 28 * INCH)  # width, depth, span; Record (1914)
SMALL = (INCH / 2, INCH / 2, 7 * INCH)
SPRUCE = LIBRARY.get("sitka_spruce")


def heights(*inches: float, last: str = "broken") -> list[Blow]:
    """Blows at rising heights, of which only the last did anything."""
    return [
        Blow(height * INCH, last if n == len(inches) else "nothing") for n, height in enumerate(inches, 1)
    ]


# --- static bending ------------------------------------------------------------------------------------


def test_rupture_as_printed() -> None:
    # 2 x 2 on 28 in at 10,200 lbf/in2 carries 1,942.9 lb; 120 lb on 1/2 x 1/2 over 7 in is 10,080 lbf/in2.
    assert bending_test.rupture(1942.9 * POUND_FORCE, *STANDARD) / PSI == printed("10200", 0.3)
    assert bending_test.rupture(120 * POUND_FORCE, *SMALL) / PSI == printed("10080")


def test_elasticity_as_printed() -> None:
    assert bending_test.elasticity(50 * PER_INCH, INCH / 2, INCH / 2, 14 * INCH) / PSI == printed("548800")
    assert bending_test.elasticity(4624 * PER_INCH, *STANDARD) / PSI / 1e6 == printed("1.586")


def test_deflection_by_shear_as_printed() -> None:
    # Derived: 1.2 x 16 (d / L)^2.
    for ratio, share in ((10, "19.2"), (14, "9.8"), (20, "4.8"), (28, "2.4")):
        assert bending_test.shear_share(1.0, ratio) * 100 == printed(share)
    assert bending_test.without_shear(100.0, 1.0, 14.0) == printed("109.8")


def test_size_effect_as_printed_and_as_bounds() -> None:
    # wh282 eq. 9-17: of the same span over depth, 1/2 in reads 1.1665 of 2 in, 1 in 1.0801, 1/4 in 1.2599.
    for depth, factor in ((0.5, "1.1665"), (0.75, "1.1151"), (1, "1.0801"), (0.25, "1.2599")):
        size = depth * INCH
        found = bending_test.bending_test(size, size, 14 * size, load_n=100.0)
        assert found.size_factor == printed(factor)
        assert found.low_at_standard == pytest.approx(found.rupture / found.size_factor)
        assert found.high_at_standard == found.rupture
        assert (bending_test.SIZE_DRAWN_OUT in found.doubts) == (depth < 1)
    deep = bending_test.bending_test(4 * INCH, 4 * INCH, 56 * INCH, load_n=100.0)
    assert deep.low_at_standard == deep.rupture < deep.high_at_standard


@pytest.mark.parametrize(("span", "short"), [(7, False), (6.99, True), (8, False)])
def test_a_short_span_is_said(span: float, short: bool) -> None:
    found = bending_test.bending_test(INCH / 2, INCH / 2, span * INCH, load_n=100.0)
    assert (bending_test.SHORT_SPAN in found.doubts) == short


CURVE = [
    # lbf and in; slack to 0.010, then 500 lbf/in to 60 lbf, then a bend, greatest load 90, failed at 20
    *((0, 0), (0, 0.005), (10, 0.030), (20, 0.050), (30, 0.070), (40, 0.090), (50, 0.110), (60, 0.130)),
    *((70, 0.160), (80, 0.210), (90, 0.290), (20, 0.300)),
]
READINGS = [Reading(load * POUND_FORCE, deflection * INCH) for load, deflection in CURVE]


def test_the_straight_part_is_found_behind_the_slack() -> None:
    """By hand: from 10 to 60 lbf the curve is a line of 500 lbf/in that starts at 0.010 in."""
    found = bending_readings.straight_part(READINGS, within=0.001)
    assert found is not None and (found.first, found.count) == (2, 6)
    assert found.slope / PER_INCH == pytest.approx(500, rel=1e-9)
    assert found.load_at_zero / POUND_FORCE == pytest.approx(-5, rel=1e-9)
    assert found.limit_n / POUND_FORCE == pytest.approx(60)
    whole = bending_test.bending_test(*SMALL, readings=READINGS)
    # The rule's own 2 percent: the straight part still ends at 60 lbf and its slope is within a hundredth.
    assert whole.straight is not None and whole.straight.limit_n / POUND_FORCE == pytest.approx(60)
    assert whole.slope is not None and whole.slope / PER_INCH == pytest.approx(500, rel=0.01)
    assert whole.limit_stress is not None and whole.limit_stress / PSI == printed("5040")  # 120 lb: 10,080
    assert whole.rupture / PSI == printed("7560")


def test_the_straight_part_may_begin_behind_a_toe_that_bears_a_little() -> None:
    """By hand: 2 and 5 lbf while the coupon settles, then 500 lbf/in from 10 lbf on."""
    pairs = [(0, 0), (2, 0.02), (5, 0.03), (10, 0.08), (40, 0.14), (70, 0.20), (100, 0.26)]
    found = bending_readings.straight_part([Reading(load, away) for load, away in pairs])
    assert found is not None and (found.first, found.count) == (3, 4)
    assert found.slope == pytest.approx(500)


def test_work_to_the_greatest_load() -> None:
    # By hand: trapezoids to 90 lbf, in-lb: 0, 0.125, 0.3, 0.5, 0.7, 0.9, 1.1, 1.95, 3.75, 6.8.
    area = 0.125 + 0.3 + 0.5 + 0.7 + 0.9 + 1.1 + 1.95 + 3.75 + 6.8
    found = bending_readings.work_to_maximum(READINGS, *SMALL) / PER_IN3
    assert found == pytest.approx(area / (0.5 * 0.5 * 7), rel=1e-9)


@pytest.mark.parametrize(
    ("pairs", "says"),
    [
        ([], "not given"),
        ([(0, 0), (1, 1)], "3 to 200 pairs"),
        ([(0, 0), (1, 1), (2, 0.5)], "reading 3 is less"),
        ([(0, 0), (1, 1), (-2, 2)], "reading 3: zero and more"),
        ([(0, 0), (0, 1), (0, 2)], "more than zero"),
        ([(0, 0), (5, 1), (0, 2), (3, 3)], "reading 4 follows failure"),
    ],
)
def test_readings_that_no_test_gives_are_refused(pairs, says: str) -> None:
    with pytest.raises((Missing, OutOfRange), match=says):
        bending_readings.straight_part([Reading(*pair) for pair in pairs])


def test_readings_that_are_not_straight_still_tell_the_strength() -> None:
    bent = [Reading(*pair) for pair in ((0, 0), (9, 1), (10, 2), (30, 3))]
    assert bending_readings.straight_part(bent) is None
    found = bending_test.bending_test(*SMALL, readings=bent)
    assert bending_test.NOT_STRAIGHT in found.doubts and found.elasticity is None
    assert found.rupture == pytest.approx(bending_test.rupture(30, *SMALL)) and found.work is not None


def test_what_is_odd_about_readings_is_said() -> None:
    rose = [Reading(*pair) for pair in ((1, 0), (5.5, 1), (10, 2), (2, 2.5), (4, 3))]
    found = bending_test.bending_test(*SMALL, load_n=12.0, readings=rose)
    assert {bending_test.ROSE_AGAIN, bending_test.LOADED_AT_START, bending_test.READ_SHORT} <= set(
        found.doubts
    )
    assert set(bending_test.bending_test(*SMALL, readings=READINGS).doubts) == {bending_test.SIZE_DRAWN_OUT}
    with pytest.raises(OutOfRange, match="a reading is above it"):
        bending_test.bending_test(*SMALL, load_n=9.0, readings=rose)
    with pytest.raises(Missing, match="greatest load"):
        bending_test.bending_test(*SMALL)
    with pytest.raises(OutOfRange, match="above the depth"):
        bending_test.bending_test(INCH, INCH, INCH, load_n=1.0)


# --- drop test -----------------------------------------------------------------------------------------


def test_drop_as_printed() -> None:
    # 50 lb from 25 in on 2 x 2 x 28 in: 11.16 in-lb/in3, and 13,125 lbf/in2 with 1.0 in of deflection.
    large = breaking.drop_test(50 * LB, heights(25), *STANDARD)
    assert large.energy_per_volume / PER_IN3 == printed("11.16")
    stress = breaking.drop_stress(50 * LB, 25 * INCH, INCH, *STANDARD)
    assert stress / PSI == printed("13125")
    # E = f L^2 / (6 D h), by hand: 13,125 x 784 / 12.
    assert breaking.drop_elasticity(stress, INCH, 2 * INCH, 28 * INCH) / PSI == printed("857500")
    # 2 lb from 12 in on 1/2 x 1/2 over 7 in: 24 in-lb, 13.71 in-lb/in3.
    small = breaking.drop_test(2 * LB, heights(12), *SMALL)
    assert small.energy / IN_LB == printed("24") and small.energy_per_volume / PER_IN3 == printed("13.71")


def test_series_as_printed() -> None:
    # Record (1914): steps of 1 in to 10, then of 2; 18 drops of 50 lb to 26 in make 10,350 in-lb.
    series = [*range(1, 11), *range(12, 28, 2)]
    assert len(series) == 18
    found = breaking.drop_test(50 * LB, heights(*series), *STANDARD)
    assert found.exposure / IN_LB == printed("10350")
    assert found.earlier / IN_LB == printed("9050")  # less 50 x 26
    assert found.rises and found.half_step_m == pytest.approx(INCH)
    assert found.corrected_m == pytest.approx(25 * INCH)


def test_a_series_that_does_not_rise_is_allowed_and_said() -> None:
    found = breaking.drop_test(LB, heights(4, 6, 5, 5, 8), *SMALL)
    assert (found.falls, found.repeats, found.rises) == ((3, 4), (4,), False)
    assert found.half_step_m == pytest.approx(INCH)
    lower = breaking.drop_test(LB, heights(4, 6, 5), *SMALL)
    assert lower.half_step_m is None and lower.corrected_m is None
    assert breaking.drop_test(LB, heights(4), *SMALL).half_step_m is None


def test_the_first_crack_is_the_result() -> None:
    blows = [Blow(4 * INCH), Blow(5 * INCH, "crack"), Blow(6 * INCH, "crack"), Blow(7 * INCH, "broken")]
    found = breaking.drop_test(LB, blows, *SMALL)
    assert found.blow == 2 and found.energy / IN_LB == pytest.approx(5)
    assert (found.earlier / IN_LB, found.exposure / IN_LB) == (pytest.approx(4), pytest.approx(22))


@pytest.mark.parametrize(
    ("mass", "blows", "says"),
    [
        (0, heights(4), "weight: 0"),
        (-1, heights(4), "weight: -1"),
        (1, heights(0), "height: 0"),
        (1, [Blow(1.0)], "no blow cracked it yet"),
        (1, [Blow(1.0, "broken"), Blow(2.0, "broken")], "blow 1 broke the coupon"),
        (1, [Blow(1.0, "bang")], "one of nothing, crack, broken"),
    ],
)
def test_a_drop_that_cannot_be_is_refused(mass: float, blows, says: str) -> None:
    with pytest.raises((Missing, OutOfRange), match=says):
        breaking.drop_test(mass, blows, *SMALL)


def test_half_a_step_needs_a_step() -> None:
    assert breaking.half_step([1.0, 3.0, 2.0, 4.0]) == pytest.approx(0.5)
    with pytest.raises(Missing, match="the first blow"):
        breaking.half_step([1.0])
    with pytest.raises(OutOfRange, match="came before"):
        breaking.half_step([2.0, 1.0])
    with pytest.raises(OutOfRange, match="the height includes it"):
        breaking.drop_stress(1.0, 0.1, 0.2, *SMALL)


# --- slide-out -----------------------------------------------------------------------------------------


def test_slide_out_as_printed() -> None:
    # Derived: 1/2 x 1/2 in, gravity 0.448 with its water, 2 lb at 10 in.
    own = slide_out.own_weight(0.448, INCH / 2, INCH / 2)
    # printed to four digits, with 0.036127 lb/in3 of water at 4 C; ours is 1000 kg/m3.
    assert own / LB * INCH == printed("0.004046")
    found = slide_out.slide_out(2 * LB, 10 * INCH, INCH / 2, INCH / 2, own)
    assert found.moment / IN_LB == printed("20.202")
    assert found.stress / PSI == printed("969.7") and found.stress_without_own / PSI == printed("960.0")
    # 10,200 lbf/in2 wants 212.5 in-lb: 2 lb at 106.25 in.
    assert slide_out.slide_out(2 * LB, 106.25 * INCH, INCH / 2, INCH / 2).stress / PSI == printed("10200")


def test_the_band_of_a_reach() -> None:
    """By hand, without own weight: 1/8 in less, then 1/8 in and half the jaw more."""
    found = slide_out.slide_out(2 * LB, 10 * INCH, INCH / 2, INCH / 2, jaw_m=INCH)
    assert found.low / PSI == pytest.approx(960 * 9.875 / 10)
    assert found.high / PSI == pytest.approx(960 * 10.625 / 10)
    assert slide_out.slide_out(LB, INCH / 16, INCH, INCH).low == 0.0


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((0, 1, 1, 1), "weight"),
        ((1, -1, 1, 1), "reach"),
        ((1, 1, 0, 1), "size"),
        ((1, 1, 1, 1, -1), "own weight"),
        ((1, 1, 1, 1, 0, -1), "jaw"),
    ],
)
def test_a_slide_out_that_cannot_be_is_refused(words, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        slide_out.slide_out(*words)


# --- glue and scarf ------------------------------------------------------------------------------------


def test_stress_in_a_scarf_as_printed() -> None:
    # Derived, at 10,200 lbf/in2: slope, angle in degrees, shear and normal stress in the glue.
    rows = [
        *((8, "7.125", "1255", "157"), (10, "5.711", "1010", "101"), (12, "4.764", "844", "70")),
        *((15, "3.814", "677", "45"), (20, "2.862", "509", "25")),
    ]
    for run, angle, along, across in rows:
        assert degrees(atan(1 / run)) == printed(angle)
        found = gluing.on_scarf(10_200, run)
        assert found[0] == printed(along) and found[1] == printed(across)
        # The same by the angle: f sin cos and f sin^2.
        lean = radians(float(angle))
        assert found == pytest.approx((10_200 * sin(lean) * cos(lean), 10_200 * sin(lean) ** 2), rel=1e-3)


def test_wood_fibre_on_both_faces() -> None:
    # ac4313 par. 1-29h: the broken joint must show wood fibre on both faces.
    for first, second, passed in ((0.9, 0.2, True), (0.9, 0.0, False), (0.0, 0.0, False), (0.01, 0.01, True)):
        assert (gluing.faces(first, second) == gluing.ON_BOTH) is passed
    with pytest.raises(OutOfRange, match="0 to 100 %"):
        gluing.faces(1.2, 0.5)


def test_glued_coupons() -> None:
    # By hand: 500 lbf on 1 x 1/2 in is 1,000 lbf/in2; a scarf of 1/2 x 1/2 in pulled by 1,000 lbf 4,000.
    assert gluing.glue_shear(500 * POUND_FORCE, INCH * INCH / 2) / PSI == pytest.approx(1000)
    half, twelfth, whole = inches("1/2"), Typed(Fraction(1, 12), "1:12"), Typed(Fraction(1), "100 %")
    scarf = Coupon("G-1", "glue", half, half, pull="tension", scarf=twelfth, fibre_one=whole)
    load = Typed(1000 * POUND * GRAVITY, "1000 lbf")
    pulled = breaks.result(replace(scarf, load=load, fibre_two=whole), Job("")).detail
    assert pulled.passed and pulled.stress / PSI == pytest.approx(4000)
    assert pulled.along / PSI == pytest.approx(4000 * 12 / 145)
    none = Typed(Fraction(0), "0 %")
    load = Typed(120 * POUND * GRAVITY, "120 lbf")
    bending = replace(scarf, pull="bending", span=inches("7"), load=load, fibre_two=none)
    bent = breaks.result(bending, Job("")).detail
    assert bent.stress / PSI == printed("10080") and not bent.passed
    for wrong in ((0.0, 1.0), (1.0, 0.0)):
        with pytest.raises(OutOfRange, match="more than zero"):
            gluing.glue_shear(*wrong)


# --- moisture -------------------------------------------------------------------------------------------


def test_moisture_as_printed() -> None:
    # wh282 eq. 5-3, Sitka spruce 10,200 at 12 percent: 11,023 at 10, 9,079 at 15, to 2 lbf/in2.
    for moisture, value in ((0.10, "11023"), (0.15, "9079")):
        brought = coupon_moisture.at_moisture(10_200, SPRUCE, "modulus_of_rupture", 0.12, moisture)
        assert brought == printed(value, 2)
        back = coupon_moisture.at_moisture(brought, SPRUCE, "modulus_of_rupture", moisture, 0.12)
        assert back == pytest.approx(10_200)
    for quantity in ("work_to_maximum_load", "impact_bending_drop"):
        with pytest.raises(OutOfRange, match=r"eq\. 5-3 does not hold"):
            coupon_moisture.at_moisture(1.0, SPRUCE, quantity, 0.10, 0.12)
    with pytest.raises(OutOfRange, match="moisture"):
        coupon_moisture.at_moisture(1.0, SPRUCE, "modulus_of_rupture", 0.50, 0.12)
    with pytest.raises(Missing, match="side_softness"):
        coupon_moisture.at_moisture(1.0, SPRUCE, "side_softness", 0.10, 0.12)
