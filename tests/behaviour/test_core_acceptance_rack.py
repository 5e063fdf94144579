"""A stick of the rack is judged on all that was read and weighed of it; what disagrees is a hold."""

from dataclasses import replace

import pytest
from core_cases import ASH, WOODS, reading, stick, typed
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import acceptance, floating, water
from bench.core.acceptance import ACCEPT, HOLD, REJECT, judge, judge_stick
from bench.core.records import FloatReading, Species, Stick, Weighing

quick = settings(max_examples=80, deadline=None)


def rack_stick(
    *readings: FloatReading, weighings: tuple[Weighing, ...] = (), wood: str = "white_ash"
) -> Stick:
    return replace(stick("A", species=wood), readings=readings, weighings=weighings)


def on(day: int, *marks: float, aside: str = "", moisture: str = "0.10") -> FloatReading:
    """A reading of a day."""
    return replace(reading(*marks, moisture=moisture), taken=f"2026-03-{day:02}", aside=aside)


def weighing(gravity: float, moisture: str = "0.10", wood: Species = ASH) -> Weighing:
    """A piece of 20 x 20 x 500 mm that has an oven-dry gravity."""
    mark = floating.mark_of(gravity, reading(1.0, moisture=moisture), wood)
    density = mark / 10 * water.density(293.15)
    side, length = typed("0.02"), typed("0.5")
    return Weighing(typed(density * 0.02 * 0.02 * 0.5), side, side, length, typed(moisture))


def test_a_stick_that_is_not_read_is_on_hold_with_its_minimum() -> None:
    found = judge_stick(stick("A"), ASH)
    assert (found.result, found.measured, found.repeats, found.weighed, found.agreement) == (None,) * 5
    assert (found.verdict.word, found.verdict.reasons) == (HOLD, (acceptance.NOT_READ,))
    assert found.verdict.minimum is not None and found.verdict.minimum.printed == "0.56"


def test_a_stick_that_cannot_be_judged_is_on_hold_and_says_why() -> None:
    unknown = judge_stick(stick("A", 6.8, species="mallorn"), None).verdict
    broken = judge_stick(rack_stick(reading(6.8, moisture="0.5")), ASH).verdict
    for verdict, word in ((unknown, "mallorn"), (broken, "moisture")):
        assert (verdict.word, verdict.reasons) == (HOLD, (acceptance.CANNOT_READ,))
        assert word in verdict.detail


@quick
@given(st.integers(40, 90), st.sampled_from([1, 2, 3, 4]))
def test_one_reading_is_judged_as_it_stands(step: int, faces: int) -> None:
    taken = reading(*[step / 10] * faces)
    found = judge_stick(rack_stick(taken), ASH)
    assert found.result == found.measured == floating.read(taken, ASH)
    assert found.verdict == judge(floating.read(taken, ASH), ASH)


def test_the_last_reading_of_a_day_counts() -> None:
    twice = judge_stick(rack_stick(on(1, 6.75), on(1, 6.8)), ASH)
    assert twice == judge_stick(rack_stick(on(1, 6.8)), ASH)
    assert twice.verdict.word == ACCEPT


def test_two_readings_of_a_day_that_disagree_hold_until_one_is_set_aside() -> None:
    """The later stands, but neither is to be lost unseen."""
    low, high = on(1, 5.0), on(1, 6.8)
    only_low, only_high = (judge_stick(rack_stick(one), ASH) for one in (low, high))
    both = judge_stick(rack_stick(low, high), ASH)
    assert both.measured == only_high.measured and both.repeats == only_high.repeats
    assert (both.verdict.word, both.verdict.reasons[0]) == (HOLD, acceptance.DAY_DISAGREES)
    # The first of three is not forgotten for the second.
    assert judge_stick(rack_stick(low, on(1, 6.75), high), ASH).verdict.reasons == both.verdict.reasons
    # A reject stays one.
    turned = judge_stick(rack_stick(high, low), ASH).verdict
    assert turned.word == REJECT and acceptance.DAY_DISAGREES in turned.reasons
    for readings, found in (
        ((replace(low, aside="slipped"), high), only_high),
        ((low, replace(high, aside="slipped")), only_low),
    ):
        assert judge_stick(rack_stick(*readings), ASH) == found
    assert (only_high.verdict.word, only_low.verdict.word) == (ACCEPT, REJECT)


@quick
@given(st.integers(650, 720), st.integers(-60, 60))
def test_a_day_disagrees_where_two_days_would(step: int, off: int) -> None:
    first, second = step / 100, (step + off) / 100
    one_day = judge_stick(rack_stick(on(1, first), on(1, second)), ASH).verdict.reasons
    two_days = judge_stick(rack_stick(on(1, first), on(2, second)), ASH).verdict.reasons
    assert (acceptance.DAY_DISAGREES in one_day) == (acceptance.READINGS_DISAGREE in two_days)
    assert acceptance.DAY_DISAGREES not in two_days


def test_readings_without_a_date_are_of_no_day() -> None:
    undated = rack_stick(*(replace(on(1, mark), taken="") for mark in (5.0, 6.8)))
    reasons_ = judge_stick(undated, ASH).verdict.reasons
    assert acceptance.READINGS_DISAGREE in reasons_ and acceptance.DAY_DISAGREES not in reasons_


def test_a_reading_that_stays_is_worked_out_once() -> None:
    """A step of a waterline reads that waterline alone; another wood reads them all."""
    low, high, other = on(1, 6.7), on(1, 6.8), on(2, 6.75)
    before = judge_stick(rack_stick(low, high), ASH)
    after = judge_stick(rack_stick(low, high, other), ASH, before)
    assert after == judge_stick(rack_stick(low, high, other), ASH)
    known = {id(result) for _, result in before.read}
    assert [reading for reading, result in after.read if id(result) not in known] == [other]
    again = replace(ASH, origin="of the shop")
    assert not known & {id(result) for _, result in judge_stick(rack_stick(low, high), again, before).read}


def test_a_reading_set_aside_does_not_count() -> None:
    found = judge_stick(rack_stick(on(1, 6.8), on(2, 5.0, aside="wet from the rain")), ASH)
    assert found == judge_stick(rack_stick(on(1, 6.8)), ASH)
    assert found.verdict.word == ACCEPT


def test_the_verdict_is_on_the_readings_combined() -> None:
    """A second day narrows the band: what one reading holds, two of it accept."""
    marks = next(
        step / 100
        for step in range(600, 680)
        if judge_stick(rack_stick(on(1, step / 100)), ASH).verdict.word == HOLD
        and judge_stick(rack_stick(on(1, step / 100), on(2, step / 100)), ASH).verdict.word == ACCEPT
    )
    once, twice = (judge_stick(rack_stick(*(on(day, marks) for day in days)), ASH) for days in ((1,), (1, 2)))
    assert twice.measured is not None and once.measured is not None
    assert twice.measured.sg_oven_dry == pytest.approx(once.measured.sg_oven_dry)
    assert twice.verdict.low == twice.measured.low > once.measured.low


def test_readings_that_disagree_hold() -> None:
    found = judge_stick(rack_stick(on(1, 6.8), on(2, 7.4)), ASH)
    assert found.verdict.low is not None and found.verdict.low > 0.56
    assert (found.verdict.word, found.verdict.reasons[0]) == (HOLD, acceptance.READINGS_DISAGREE)


def test_a_reading_that_cannot_be_read_holds_and_the_others_count() -> None:
    """An old job may hold a reading that a stricter rule refuses now."""
    old = replace(on(1, 6.8), marks=(6.8,) * 5)
    found = judge_stick(rack_stick(old, on(2, 6.8)), ASH)
    assert found.measured == judge_stick(rack_stick(on(2, 6.8)), ASH).measured
    assert (found.verdict.word, found.verdict.reasons[0]) == (HOLD, acceptance.CANNOT_READ)
    assert "faces" in found.verdict.detail
    latest_broken = judge_stick(rack_stick(on(1, 6.8), replace(old, taken="2026-03-09")), ASH)
    assert latest_broken.result is None and latest_broken.measured == found.measured


def test_a_stick_without_a_reading_is_judged_by_its_weight() -> None:
    found = judge_stick(rack_stick(weighings=(weighing(0.40), weighing(0.62))), ASH)
    assert found.measured is found.weighed is not None and found.result is None
    assert found.verdict.value == pytest.approx(0.62, abs=1e-6)
    assert found.verdict.word == ACCEPT
    assert found.verdict.reasons[0] == acceptance.ABOVE_MINIMUM
    assert acceptance.BY_WEIGHT in found.verdict.reasons


def test_float_and_balance_that_disagree_hold() -> None:
    floats = judge_stick(rack_stick(on(1, 6.8)), ASH).measured
    assert floats is not None
    same = judge_stick(rack_stick(on(1, 6.8), weighings=(weighing(floats.sg_oven_dry),)), ASH)
    other = judge_stick(rack_stick(on(1, 6.8), weighings=(weighing(floats.sg_oven_dry + 0.06),)), ASH)
    assert same.agreement is not None and same.agreement.agree and same.verdict.word == ACCEPT
    assert same.agreement.difference == pytest.approx(0, abs=1e-6)
    assert other.agreement is not None and not other.agreement.agree
    assert (other.verdict.word, other.verdict.reasons[0]) == (HOLD, acceptance.METHODS_DISAGREE)


def test_a_faulty_weighing_holds() -> None:
    sunk = replace(weighing(0.62), mass=typed("9"))
    found = judge_stick(rack_stick(on(1, 6.8), weighings=(sunk,)), ASH)
    assert (found.weighed, found.verdict.word, found.verdict.reasons[0]) == (
        None,
        HOLD,
        acceptance.CANNOT_READ,
    )
    assert judge_stick(rack_stick(weighings=(sunk,)), ASH).verdict.reasons == (acceptance.CANNOT_READ,)


# Class L of Douglas-fir is limited on both sides, 0.38 to 0.47: anc19 table 2-13.
CLASS_L = [
    ("0.35", REJECT, acceptance.BELOW_MINIMUM),
    ("0.38", HOLD, acceptance.LIMIT_IN_BAND),
    ("0.425", ACCEPT, acceptance.ABOVE_MINIMUM),
    ("0.47", HOLD, acceptance.LIMIT_IN_BAND),
    ("0.50", REJECT, acceptance.ABOVE_MAXIMUM),
]


@pytest.mark.parametrize(("gravity", "word", "code"), CLASS_L)
def test_a_class_with_a_maximum(gravity: str, word: str, code: str) -> None:
    wood = WOODS["douglas_fir_coast"]
    plain = reading(1.0, angle="")
    mark = floating.mark_of(float(gravity), plain, wood, "class L")
    fir = replace(
        stick("F", species=wood.key), variant="class L", readings=(replace(plain, marks=(mark,) * 4),)
    )
    verdict = judge_stick(fir, wood).verdict
    assert (verdict.word, verdict.reasons[0]) == (word, code)
    assert verdict.margin == pytest.approx(float(gravity) - 0.38)
    assert verdict.margin_maximum == pytest.approx(0.47 - float(gravity))
    without = judge_stick(replace(fir, variant=""), wood).verdict
    assert without.maximum is None and without.margin_maximum is None
