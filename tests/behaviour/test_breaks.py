"""Coupon tests one by one and together: what each tells, what is missing, and which stand in one group.

Sizes and loads are invented; the arithmetic beside each is by hand, the laws are those of scipy.
"""

from dataclasses import replace
from fractions import Fraction
from statistics import mean, stdev

import pytest
from scipy import stats

from bench.core import break_groups, breaks, working_breaks
from bench.core.bending_test import Bending
from bench.core.coupon import BROKEN, CRACK, GLUE, NOTHING, SLIDE, Blow, Coupon, LoadPoint
from bench.core.edits import TakeLoad
from bench.core.errors import OutOfRange
from bench.core.quantities import DATA_UNITS, INCH, POUND
from bench.core.records import Species
from bench.core.typed import Typed, inches
from bench.core.up_and_down import UpAndDown
from bench.sheets import breaking
from tests.tools.coupons import LBF, PSI, bend, drop, job, lbf, pounds


def of(coupon: Coupon) -> breaks.Result:
    return breaks.result(coupon, job())


# --- one by one -------------------------------------------------------------------------------------------


def test_a_drop_test_is_the_blow_that_cracked_it() -> None:
    """2 lb from 12 in: 24 in-lbf; over 1/2 x 1/2 x 7 in it is 13.71; the eleven before it 2 x 66 = 132."""
    found = of(drop("D-1", 12))
    assert found.figure("height") == pytest.approx(12 * float(INCH))
    assert found.figure("energy") == pytest.approx(24 * float(LBF * INCH))
    per_inch = float(DATA_UNITS["in-lbf/in3"][1])
    assert found.figure("energy_density") == pytest.approx(24 / 1.75 * per_inch)
    said = " ".join(breaking.lines(found, "in"))
    assert "132.00 in-lbf" in said and "11.50 in" in said, "exposure, and half a step less"


def test_the_deflection_of_the_highest_whole_blow_tells_stress_and_stiffness() -> None:
    """2 lb from 11 in on 1 in of bend: W (H + D) = 24; f = 3 x 24 x 7 / (1 x 1/8), E = f 49 / (6 x 1/2)."""
    found = of(drop("D-1", 12, deflection=inches("1")))
    assert found.elastic == pytest.approx((4032 * PSI, 4032 * 49 / 3 * PSI))
    assert any("4,032 lbf/in2" in text for text in breaking.lines(found, "in"))
    assert len(working_breaks.of_result(found)) == 4
    assert of(drop("D-2", 12)).elastic is None
    assert of(drop("D-3", 1, deflection=inches("1"))).elastic is None, "the first blow cracked it"


def test_what_is_missing_is_named() -> None:
    for coupon, named in (
        (replace(drop("D-1", 3), weight=None), "weight"),
        (replace(drop("D-1", 3), span=None), "span"),
        (replace(bend("E-1", 100), load=None), "load"),
        (Coupon("S-1", SLIDE, inches("1/2"), inches("1/2"), weight=pounds("2")), "reach"),
        (Coupon("G-1", GLUE, inches("1"), inches("1"), load=lbf(900)), "glued"),
        (Coupon("G-2", GLUE, inches("1"), inches("1")), "load"),
    ):
        found = of(coupon)
        assert not found.figures and found.refusal is not None
        assert named in str(found.refusal) and named in breaking.short(found, "in")


def test_no_crack_yet_is_no_result_and_no_fault() -> None:
    found = of(replace(drop("D-1", 4), blows=drop("D-1", 4).blows[:3]))
    assert breaking.short(found, "in") == "3 blows, no crack yet" and not found.figures


def test_a_list_of_heights_that_does_not_rise_is_taken_and_said() -> None:
    blows = [Blow(inches(height), NOTHING) for height in ("3", "2", "2")]
    found = of(replace(drop("D-1", 3), blows=(*blows, Blow(inches("4"), BROKEN))))
    assert found.figure("height") == pytest.approx(4 * float(INCH))
    said = " ".join(breaking.doubts(found))
    assert "do not only rise" in said and "repeated at one height" in said


def test_readings_begin_at_no_load() -> None:
    """A straight line of 1000 lbf/in to 100 lbf: work 1/2 x 100 x 0.1 = 5 in-lbf over 1.75 in3."""
    points = tuple(LoadPoint(lbf(load), inches(str(load / 1000))) for load in (25, 50, 75, 100))
    rising = of(replace(bend("E-1", 100), load=None, points=points))
    assert not rising.figures and "still rises" in str(rising.refusal), "it is not at an end"
    found = of(replace(bend("E-1", 100), load=None, points=(*points, LoadPoint(lbf(0), inches("0.1")))))
    assert isinstance(found.detail, Bending)
    assert found.figure("work") == pytest.approx(5 / 1.75 * float(DATA_UNITS["in-lbf/in3"][1]))
    # E = slope L^3 / (4 b d^3) = 1000 x 343 / (4 x 1/16)
    assert found.figure("elasticity") == pytest.approx(1000 * 343 * 4 * PSI)


def test_a_pair_that_cannot_be_is_refused_as_it_is_typed() -> None:
    half = job(replace(bend("E-1", 1), load=None, points=(LoadPoint(lbf(50), inches("0.05")),)))
    with pytest.raises(OutOfRange, match=r"it was 0\.05 in already"):
        TakeLoad("E-1", LoadPoint(lbf(60), inches("0.04"))).apply(half)
    gone = TakeLoad("E-1", LoadPoint(lbf(0), inches("0.06"))).apply(half)
    with pytest.raises(OutOfRange, match="it has failed"):
        TakeLoad("E-1", LoadPoint(lbf(10), inches("0.07"))).apply(gone)


def test_the_faces_of_a_glued_joint_decide() -> None:
    """AC 43.13-1B par. 1-29h: wood fibre on both faces."""
    joint = Coupon("G-1", GLUE, inches("1"), inches("1"), load=lbf(1500), glued=inches("2"))
    share = Typed(Fraction(8, 10), "80 %")
    both = of(replace(joint, fibre_one=share, fibre_two=share))
    one = of(replace(joint, fibre_one=share, fibre_two=Typed(Fraction(0), "0")))
    assert both.figure("glue_stress") == pytest.approx(750 * PSI)
    assert any("the published rule is met" in text for text in breaking.lines(both, "in"))
    assert any("the published rule is NOT MET" in text for text in breaking.lines(one, "in"))
    assert "not looked at" in breaking.lines(of(joint), "in")[-1]


def test_the_next_height_goes_on() -> None:
    planned = replace(drop("D-1", 2), blows=(), steps=(inches("2"), inches("4"), inches("7")))
    assert breaks.next_height(planned).text == "2 in"
    struck = replace(planned, blows=(Blow(inches("2"), NOTHING), Blow(inches("2"), NOTHING)))
    assert breaks.next_height(struck).exact == inches("4").exact, "a blow again does not use the plan up"
    free = replace(drop("D-1", 2), blows=tuple(Blow(inches(height), NOTHING) for height in ("2", "5")))
    assert breaks.next_height(free).text == "8 in"
    assert breaks.next_height(replace(free, blows=())).text == "1 in"
    # Heights that come twice in a plan are struck twice.
    for plan in ("6 6 8", "10 12 10 14", "5 5 5 6 6"):
        coupon = replace(planned, steps=tuple(inches(height) for height in plan.split()))
        struck = []
        while len(struck) < len(coupon.steps):
            height = breaks.next_height(coupon)
            struck.append(height.text.removesuffix(" in"))
            coupon = replace(coupon, blows=(*coupon.blows, Blow(height, NOTHING)))
        assert " ".join(struck) == plan
        with pytest.raises(OutOfRange, match="the plan ends here"):
            breaks.next_height(coupon)


# --- together ---------------------------------------------------------------------------------------------


def grouped(
    figure: str, by: str, woods: dict[str, Species], *coupons: Coupon
) -> tuple[break_groups.Group, ...]:
    return break_groups.groups(breaks.results(job(*coupons)), figure, by, woods)


def test_only_one_set_up_stands_in_a_group(woods: dict[str, Species]) -> None:
    made = grouped(
        *("height", "group", woods),
        *(drop(f"D-{n}", 10 + n) for n in range(3)),
        drop("D-8", 11, weight=pounds("3")),
        drop("D-9", 11, span=inches("8")),
    )
    assert [len(group.values) for group in made] == [3, 1, 1]
    assert break_groups.comparisons(made) == (), "other machines do not convert"


def test_other_sizes_stand_in_groups_of_their_own(woods: dict[str, Species]) -> None:
    coupons = [*(drop(f"D-{n}", 9 + n) for n in range(3)), *(drop(f"T-{n}", 7, ".41") for n in range(2))]
    close = drop("D-9", 10, ".497")
    made = grouped("height", "group", woods, *coupons, close)
    assert [(group.base, len(group.values)) for group in made] == [("no group", 4), ("no group", 2)]
    assert [group.name for group in made] == ["no group, 1/2 in x 1/2 in", "no group, .41 in x .41 in"]


def test_the_lower_limit_is_that_of_the_noncentral_law(woods: dict[str, Species]) -> None:
    heights = [9, 11, 12, 10, 13]
    (group,) = grouped("height", "lot", woods, *(drop(f"D-{n}", h) for n, h in enumerate(heights)))
    factor = stats.nct.ppf(0.75, 4, stats.norm.ppf(0.95) * 5**0.5) / 5**0.5
    # Each rose by 1 in to its crack: half an inch is taken off.
    wanted = (mean(heights) - 0.5 - factor * stdev(heights)) * float(INCH)
    assert group.half_step_off and group.mean == pytest.approx((mean(heights) - 0.5) * float(INCH))
    assert group.limit.value == pytest.approx(wanted, rel=1e-9)


def test_two_woods_at_equal_weight_and_at_equal_size(woods: dict[str, Species]) -> None:
    ash = [9, 11, 12, 10]
    spruce = [7, 6, 8, 7]
    weighed = {"mass": Typed(Fraction(14, 1000), "14 g"), "length": inches("8")}
    light = {**weighed, "mass": Typed(Fraction(10, 1000), "10 g")}
    for side, other, basis in (
        (".41", weighed, break_groups.EQUAL_WEIGHT),
        ("1/2", light, break_groups.EQUAL_SIZE),
    ):
        made = grouped(
            *("height", "wood", woods),
            *(drop(f"A-{n}", h, side, species="white_ash", **weighed) for n, h in enumerate(ash)),
            *(drop(f"S-{n}", h, species="sitka_spruce", **other) for n, h in enumerate(spruce)),
        )
        (found,) = break_groups.comparisons(made)
        assert isinstance(found, break_groups.Comparison) and found.basis == basis
        wanted = stats.ttest_ind(ash, spruce, equal_var=False)
        assert found.welch.t == pytest.approx(wanted.statistic)
        assert found.welch.p == pytest.approx(wanted.pvalue)
        low, high = wanted.confidence_interval(0.95)
        inch = float(INCH)
        assert (found.welch.low, found.welch.high) == pytest.approx((low * inch, high * inch))
        assert "EQUAL" in breaking.comparison_lines(found, "in")[-1]


def test_different_moistures_are_said(woods: dict[str, Species]) -> None:
    wet = Typed(Fraction(18, 100), "18 %")
    made = grouped(
        *("height", "wood", woods),
        *(drop(f"A-{n}", 9 + n, species="white_ash") for n in range(3)),
        *(drop(f"S-{n}", 6 + n, species="sitka_spruce", moisture=wet) for n in range(3)),
    )
    (found,) = break_groups.comparisons(made)
    assert breaking.MOIST in breaking.comparison_lines(found, "in")


def test_one_weight_by_whatever_unit_is_one_set_up(woods: dict[str, Species]) -> None:
    ounces = Typed(2 * POUND, "32 oz")
    made = grouped("height", "group", woods, drop("D-1", 9), drop("D-2", 10, weight=ounces))
    assert [len(group.values) for group in made] == [2]


def test_one_blow_each_from_one_height_is_no_series(woods: dict[str, Species]) -> None:
    coupons = [
        replace(drop(f"D-{n}", 2), blows=(Blow(inches("10"), seen),))
        for n, seen in enumerate((CRACK, CRACK, NOTHING))
    ]
    (group,) = grouped("height", "group", woods, *coupons)
    assert group.up_and_down is None and breaking.group_lines(group, "in")


def test_other_spans_stand_in_groups_of_their_own(woods: dict[str, Species]) -> None:
    made = grouped("rupture", "wood", woods, bend("E-1", 150), bend("E-2", 160, span=inches("10")))
    assert [group.setup for group in made] == ["span 7 in", "span 10 in"]


def test_a_single_coupon_has_no_limit_and_no_comparison(woods: dict[str, Species]) -> None:
    made = grouped(
        *("height", "wood", woods),
        drop("D-1", 9, species="white_ash"),
        drop("D-2", 7, species="sitka_spruce"),
    )
    assert all("no lower limit" in breaking.group_lines(group, "in")[0] for group in made)
    (refused,) = break_groups.comparisons(made)
    assert isinstance(refused, tuple) and "two and more" in str(refused[2])


def test_up_and_down_over_many_sticks(woods: dict[str, Species]) -> None:
    """Dixon and Mood, from memory. Cracks 1, 3, 1 from 10 in on in steps of 2: N 5, A 5, B 7; by hand
    mean 10 + 2 (5/5 - 1/2) = 11 in, deviation 1.62 x 2 x (10/25 + 0.029) = 1.390 in."""
    series = ((10, 0), (12, 1), (10, 0), (12, 0), (14, 1), (12, 1), (10, 1), (8, 0), (10, 0), (12, 1))
    coupons = [
        replace(drop(f"D-{n}", 2), blows=(Blow(inches(str(height)), CRACK if crack else NOTHING),))
        for n, (height, crack) in enumerate(series)
    ]
    (group,) = grouped("height", "group", woods, *coupons)
    found = group.up_and_down
    assert isinstance(found, UpAndDown) and found.counted == 5 and found.of_failures
    assert (found.mean, found.sd) == pytest.approx((11 * float(INCH), 1.38996 * float(INCH)))
    assert "half the sticks crack at 11.00 in" in breaking.group_lines(group, "in")[-1]


def test_what_is_set_aside_does_not_count_and_is_named(woods: dict[str, Species]) -> None:
    coupons = [*(bend(f"E-{n}", 150 + n) for n in range(3)), bend("E-9", 20, aside="knot in it")]
    (group,) = grouped("rupture", "wood", woods, *coupons)
    assert len(group.values) == 3 and "left out: E-9" in breaking.group_lines(group, "in")[0]
    (beside, *_) = break_groups.beside_book(breaks.results(job(*coupons)), "rupture", woods)
    # 84 x 150 = 12,600 against 15,000 with a spread of 16 %: one standard deviation below.
    assert beside.deviations == pytest.approx(-1.0)


def test_wood_and_lot_are_those_of_the_stick(woods: dict[str, Species]) -> None:
    (group,) = grouped("rupture", "lot", woods, bend("E-1", 150, stick="A-1", species=""))
    assert group.name == "L7" and group.results[0].species == "white_ash"
