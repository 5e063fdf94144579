"""Small samples against a reference library (scipy.stats), the standard tables, and by their properties.

The table values were computed with scipy apart from this program; those for 3, 5, 10 and 20 coupons agree
with the standard tables of one-sided tolerance factors as remembered (memory: 3.152, 2.463, 2.104, 1.932).
"""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from methods_printed import printed
from scipy import special, stats

from bench.core import student, up_and_down
from bench.core.errors import Missing, OutOfRange
from bench.core.samples import (
    MOST_COUPONS,
    coupons_to_settle,
    deviation,
    lower_limit,
    mean,
    mean_interval,
    tolerance_factor,
    variation,
    welch,
)

STRENGTHS = (9.8, 10.4, 9.1, 10.9, 10.1, 9.6)  # 10^3 lbf/in2, invented
OTHERS = (14.2, 15.9, 13.8, 15.1, 16.0)
HEIGHTS, HIGHER = (24, 26, 22, 28, 25), (40, 46, 38, 44, 42)  # in, invented

# --- the tolerance factor ------------------------------------------------------------------------------

AT_75 = {
    3: "3.1518",
    4: "2.6806",
    5: "2.4634",
    6: "2.3356",
    8: "2.1883",
    10: "2.1037",
    15: "1.9908",
    20: "1.9320",
    25: "1.8947",
    30: "1.8686",
    50: "1.8109",
}
AT_95 = {3: "7.656", 5: "4.203", 10: "2.911", 20: "2.396", 30: "2.220"}
REMEMBERED = {3: "3.152", 5: "2.463", 10: "2.104", 20: "1.932"}
TABLE = [
    (count, confidence, factor)
    for confidence, rows in ((0.75, AT_75), (0.95, AT_95), (0.75, REMEMBERED))
    for count, factor in rows.items()
]


@pytest.mark.parametrize(("count", "confidence", "factor"), TABLE)
def test_tolerance_factor_as_printed(count: int, confidence: float, factor: str) -> None:
    assert tolerance_factor(count, 0.95, confidence) == printed(factor)


@pytest.mark.parametrize("confidence", [0.75, 0.95])
def test_tolerance_factor_against_the_reference(confidence: float) -> None:
    for count in range(3, 201):
        shift = stats.norm.ppf(0.95) * sqrt(count)
        reference = stats.nct.ppf(confidence, count - 1, shift) / sqrt(count)
        assert tolerance_factor(count, 0.95, confidence) == pytest.approx(reference, abs=1e-9)


@pytest.mark.parametrize("df", [1, 2, 5, 30, 199, 1000])
@pytest.mark.parametrize("shift", [-3, 0, 2.85, 23.3, 33])
def test_noncentral_t_law(df: int, shift: float) -> None:
    for t in (-5, 0, 1, 3, 10, 25, 40):
        found = student.noncentral_t_below(t, df, shift)
        if t <= 0 < shift:  # where the reference may give up: t is below zero where a normal variate is
            assert found <= stats.norm.cdf(-shift) * (1 + 1e-9)
        else:
            assert found == pytest.approx(stats.nct.cdf(t, df, shift), abs=1e-9)


@pytest.mark.parametrize("share", [0.5, 0.9, 0.99])
def test_quantile_of_the_noncentral_law_is_its_inverse(share: float) -> None:
    value = student.noncentral_t_quantile(share, 4, 3.0)
    assert student.noncentral_t_below(value, 4, 3.0) == pytest.approx(share, abs=1e-12)


# --- Student's law -------------------------------------------------------------------------------------


@pytest.mark.parametrize("df", [1, 1.5, 2, 6.574, 30, 10_000])
def test_students_law(df: float) -> None:
    for t in (-1000, -40, -2, -0.1, 0, 1e-6, 0.7, 3, 25):
        assert student.t_below(t, df) == pytest.approx(stats.t.cdf(t, df), rel=1e-10)
        assert student.t_outside(t, df) == pytest.approx(2 * stats.t.sf(abs(t), df), rel=1e-10)
    for share in (1e-6, 0.025, 0.4, 0.5, 0.5000001, 0.75, 0.975, 0.999999):
        assert student.t_quantile(share, df) == pytest.approx(stats.t.ppf(share, df), rel=1e-8, abs=1e-12)


def test_far_out_nothing_is_left_and_no_digit_is_lost_on_the_way() -> None:
    assert student.t_outside(40, 20) == pytest.approx(2 * stats.t.sf(40, 20), rel=1e-10)
    assert student.t_outside(1e200, 5) == 0.0


def test_incomplete_beta() -> None:
    for a, b in ((0.5, 0.5), (3, 0.5), (100, 0.5), (2, 7)):
        for x in (0, 1e-9, 0.1, 0.5, 0.97, 1):
            assert student.beta_share(x, a, b) == pytest.approx(special.betainc(a, b, x), rel=1e-11)


# --- samples -------------------------------------------------------------------------------------------


def test_limit_of_six_coupons() -> None:
    # Mean 9,983, s 630.6, k 2.3356 -> 8,510 lbf/in2: computed with scipy.
    values = [1000 * value for value in STRENGTHS]
    assert mean(values) == printed("9983")
    assert deviation(values) == printed("630.6")
    limit = lower_limit(values)
    assert limit.factor == printed("2.3356")
    assert limit.value == printed("8510")
    assert not limit.below_zero


def test_spread_and_interval_of_a_mean() -> None:
    assert deviation(STRENGTHS) == pytest.approx(stats.tstd(STRENGTHS), rel=1e-13)
    assert variation(STRENGTHS) == pytest.approx(stats.variation(STRENGTHS, ddof=1), rel=1e-13)
    reference = stats.t.interval(0.95, 5, stats.tmean(STRENGTHS), stats.sem(STRENGTHS))
    assert mean_interval(STRENGTHS) == pytest.approx(reference, rel=1e-10)


def test_comparison_as_printed() -> None:
    # Computed with scipy: t -9.814, df 6.574, p 3.6e-5, interval -6,241 to -3,792 lbf/in2.
    found = welch([1000 * value for value in STRENGTHS], [1000 * value for value in OTHERS])
    assert found.t == printed("-9.814") and found.df == printed("6.574") and found.p == printed("0.000036")
    assert found.low == printed("-6241") and found.high == printed("-3792") and found.settled
    # Drop heights: t 9.815, df 7.20, interval 12.93 to 21.07 in, the second group less the first.
    drops = welch(HIGHER, HEIGHTS)
    assert drops.t == printed("9.815") and drops.df == printed("7.20")
    assert drops.low == printed("12.93") and drops.high == printed("21.07")


@pytest.mark.parametrize(
    ("first", "second"),
    [(STRENGTHS, OTHERS), (HEIGHTS, HIGHER), ((1, 2), (1.5, 1.7, 1.9)), ((3, 3.1, 3), (4, 5, 6))],
    ids=len,
)
@pytest.mark.parametrize("confidence", [0.75, 0.95])
def test_comparison_against_the_reference(first, second, confidence: float) -> None:
    reference = stats.ttest_ind(first, second, equal_var=False)
    low, high = reference.confidence_interval(confidence)
    found = welch(first, second, confidence)
    assert (found.t, found.df, found.p) == pytest.approx(
        (reference.statistic, reference.df, reference.pvalue), rel=1e-9
    )
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)


def test_what_is_refused() -> None:
    with pytest.raises(Missing, match="coupons"):
        mean([])
    with pytest.raises(OutOfRange, match="two coupons"):
        deviation([1.0])
    for values in ([1.0], [1.0, 2.0]):
        with pytest.raises(OutOfRange, match="3 coupons and more"):
            lower_limit(values)
    with pytest.raises(OutOfRange, match="3 and more"):
        tolerance_factor(2)
    with pytest.raises(OutOfRange, match="two and more in each"):
        welch([1.0], [1.0, 2.0])
    with pytest.raises(OutOfRange, match="without spread"):
        welch([1.0, 1.0], [2.0, 2.0])
    with pytest.raises(OutOfRange, match="finite"):
        mean([1.0, float("nan")])
    with pytest.raises(OutOfRange, match="above zero"):
        variation([-1.0, 1.0])
    with pytest.raises(OutOfRange, match=r"0\.5 and more"):
        tolerance_factor(5, 1.0)


def test_a_limit_below_zero_is_said_as_it_is() -> None:
    # By hand: mean 2, s 1, k of three 3.1518.
    limit = lower_limit([1.0, 2.0, 3.0])
    assert limit.value == printed("-1.1518") and limit.below_zero


# --- how many more -------------------------------------------------------------------------------------


def interval_leaves_zero_out(count: int, difference: float, one: float, two: float) -> bool:
    """By the reference library, for so many coupons in each group with exactly these spreads."""
    found = stats.ttest_ind_from_stats(difference, one, count, 0.0, two, count, equal_var=False)
    return bool(found.pvalue < 0.05)


@pytest.mark.parametrize(
    ("difference", "one", "two"), [(0.3, 0.63, 0.97), (-0.3, 0.63, 0.97), (5, 0.63, 0.97), (0.2, 1, 0)]
)
def test_coupons_to_settle_is_the_least_that_does(difference: float, one: float, two: float) -> None:
    count = coupons_to_settle(difference, one, two)
    assert count is not None and interval_leaves_zero_out(count, difference, one, two)
    assert count == 2 or not interval_leaves_zero_out(count - 1, difference, one, two)


def test_a_difference_that_no_shop_settles() -> None:
    assert coupons_to_settle(0.0, 1.0, 1.0) is None
    assert not interval_leaves_zero_out(MOST_COUPONS, 0.05, 1.0, 1.0)
    assert coupons_to_settle(0.05, 1.0, 1.0) is None
    with pytest.raises(OutOfRange, match="not both zero"):
        coupons_to_settle(1.0, 0.0, 0.0)


# --- up and down (Dixon and Mood: memory, no text read) ------------------------------------------------


def test_up_and_down_as_worked_by_hand() -> None:
    failures = up_and_down.estimate(10, 2, (2, 4, 3, 1), of_failures=True)
    # N 10, A 13, B 25: 10 + 2 (1.3 - 0.5) and 1.62 x 2 (0.81 + 0.029).
    assert failures.counted == 10 and failures.ratio == pytest.approx(0.81)
    assert failures.mean == printed("11.6") and failures.sd == printed("2.72")
    survivals = up_and_down.estimate(18, 2, (1, 4, 4, 1), of_failures=False)
    assert survivals.mean == printed("22.0") and survivals.sd == printed("2.20")


def test_up_and_down_gives_no_spread_where_its_rule_does_not_hold() -> None:
    # All at one level: (N B - A^2) / N^2 is 0, below 0.3.
    one_level = up_and_down.estimate(10, 2, (4,), of_failures=True)
    assert one_level.sd is None and one_level.mean == pytest.approx(9)


def test_a_series_of_blows_is_counted() -> None:
    # By hand: no crack at 10 and 12, crack at 14, none at 12, crack at 14: two cracks, both at 14.
    blows = [(10.0, False), (12.0, False), (14.0, True), (12.0, False), (14.0, True)]
    found = up_and_down.of_series(blows, 2.0)
    assert (found.counted, found.of_failures, found.mean) == (2, True, pytest.approx(13))
    with pytest.raises(OutOfRange, match="blow 2 belongs one step above"):
        up_and_down.of_series([(10.0, False), (14.0, True)], 2.0)
    with pytest.raises(Missing, match="one crack and one blow"):
        up_and_down.of_series(blows[:2], 2.0)


# --- properties ----------------------------------------------------------------------------------------

VALUE = st.floats(1, 1000).map(lambda value: round(value, 3))
SAMPLE = st.lists(VALUE, min_size=3, max_size=12)


@given(SAMPLE, st.floats(-500, 500), st.floats(0.01, 100))
@settings(max_examples=50, deadline=None)
def test_a_limit_moves_and_stretches_with_its_sample(values, shift: float, scale: float) -> None:
    moved = lower_limit([scale * value + shift for value in values])
    assert moved.value == pytest.approx(scale * lower_limit(values).value + shift, rel=1e-9, abs=1e-7)


@given(SAMPLE, st.randoms(use_true_random=False))
@settings(max_examples=50, deadline=None)
def test_order_does_not_matter_and_the_limit_is_never_above_the_mean(values, chance) -> None:
    limit, shuffled = lower_limit(values), list(values)
    chance.shuffle(shuffled)
    assert lower_limit(shuffled).value == pytest.approx(limit.value, rel=1e-12, abs=1e-9)
    assert limit.value <= mean(values)
    assert (limit.value < mean(values)) == (min(values) < max(values))
    assert lower_limit(values, confidence=0.95).value <= limit.value


@given(SAMPLE, SAMPLE, st.floats(-500, 500), st.floats(0.01, 100))
@settings(max_examples=50, deadline=None)
def test_a_comparison_turns_round_moves_and_stretches(first, second, shift: float, scale: float) -> None:
    if max(deviation(first), deviation(second)) < 1e-2:
        return
    found, turned = welch(first, second), welch(second, first)
    assert (turned.difference, turned.low, turned.high) == (-found.difference, -found.high, -found.low)
    assert found.low <= found.difference <= found.high and 0 <= found.p <= 1
    assert found.settled == (found.p < 0.05)
    moved = welch(*([scale * value + shift for value in group] for group in (first, second)))
    assert moved.df == pytest.approx(found.df, rel=1e-6)
    assert moved.difference == pytest.approx(scale * found.difference, rel=1e-6, abs=1e-7)
