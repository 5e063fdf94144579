"""What a gravity rests on: the error budget, advice, and how it stands among its species."""

from dataclasses import replace
from math import sqrt

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, typed
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import evidence, floating, weighing
from bench.core.records import FloatReading, Species, TimedMark
from bench.sheets import wording
from tests.tools.any_reading import angles, faces, moistures, read

quick = settings(max_examples=40, deadline=None)
marks = st.integers(300, 800).map(lambda steps: steps / 100)
woods = st.sampled_from([SPRUCE, ASH, WOODS["white_spruce"], WOODS["red_spruce"], WOODS["balsa"]])


# --- error budget --------------------------------------------------------------------------------------


@quick
@given(marks, faces, moistures, angles, woods)
def test_the_budget_is_the_whole_uncertainty(
    mark: float, count: int, moisture: str, angle: str, wood: Species
) -> None:
    result = read(reading(*[mark] * count, moisture=moisture, angle=angle), wood)
    causes = evidence.budget(result)
    assert sqrt(sum(cause.sd**2 for cause in causes)) == pytest.approx(result.uncertainty)
    assert sum(cause.share_of_variance for cause in causes) == pytest.approx(1)
    assert [cause.sd for cause in causes] == sorted((cause.sd for cause in causes), reverse=True)
    assert {cause.name for cause in causes} == {name for name, sd in result.shares if sd > 0}
    assert all(cause.name in wording.CAUSES for cause in causes)


def test_the_budget_of_a_weighing() -> None:
    result = weighing.weigh(0.009, (0.0127, 0.0127, 0.127), 0.12, SPRUCE)
    assert {cause.name for cause in evidence.budget(result)} == {
        *("mass", "width", "depth", "length", "moisture", "shrinkage")
    }


# --- advice --------------------------------------------------------------------------------------------


@quick
@given(marks, faces, moistures, angles, woods, st.sampled_from([0.0, 30.0, 600.0]))
def test_advice_is_worth_a_twentieth_and_best_first(
    mark: float, count: int, moisture: str, angle: str, wood: Species, seconds: float
) -> None:
    taken = reading(*[mark] * count, moisture=moisture, angle=angle, seconds=seconds)
    result = read(taken, wood)
    found = evidence.advice(taken, wood, "", result)
    assert [each.after for each in found] == sorted(each.after for each in found)
    for each in found:
        assert each.before == result.half_width
        assert each.after <= 0.95 * each.before
        assert each.code in wording.ADVICE
        assert wording.advised(each).startswith(wording.ADVICE[each.code])


def advised(taken: FloatReading, wood: Species = SPRUCE) -> dict[str, float]:
    """Half width after, by code."""
    return {each.code: each.after for each in evidence.advice(taken, wood, "", read(taken, wood))}


def test_advice_is_what_the_changed_reading_gives() -> None:
    """Each number again by taking the reading in the other way."""
    taken = reading(4.2, angle="", moisture="0.12")
    found, gravity = advised(taken), read(taken).sg_oven_dry
    thick = reading(4.2, angle="", moisture="0.12", side="0.01905")
    at = floating.mark_of(gravity, thick, SPRUCE)
    others: dict[str, FloatReading] = {
        evidence.THICKER: replace(thick, marks=(at,)),
        evidence.OPPOSITE_FACE: replace(taken, marks=(4.2, 4.2)),
        evidence.FOUR_FACES: replace(taken, marks=(4.2,) * 4),
        evidence.ANGLE: replace(taken, angle="60"),
    }
    assert found.keys() == others.keys()
    for code, other in others.items():
        assert found[code] == pytest.approx(read(other).half_width), code
        assert read(other).sg_oven_dry == pytest.approx(gravity), code


def test_nobody_is_told_to_do_what_was_done() -> None:
    four = advised(reading(4.2, 4.2, 4.2, 4.2, angle="60"))
    assert not four.keys() & {evidence.OPPOSITE_FACE, evidence.FOUR_FACES, evidence.ANGLE, evidence.SOONER}
    assert evidence.SOONER in advised(reading(4.2, 4.2, 4.2, 4.2, seconds=1800))
    timed = replace(reading(4.2, seconds=1800), timed=(TimedMark(7200.0, 4.3),))
    assert not advised(timed).keys() & {evidence.SOONER, evidence.TIMED}


def test_an_oven_helps_where_moisture_is_what_is_not_known() -> None:
    sharp = replace(reading(*[42.0] * 4, count=100, side="0.0254", angle="60"), seconds=1.0)
    after = advised(sharp)[evidence.OVEN]
    assert after == pytest.approx(floating.read(sharp, SPRUCE, "", evidence.OVEN_HALF_WIDTH).half_width)
    meter, oven = (dict(floating.read(sharp, SPRUCE, "", half).shares)["moisture"] for half in (0.010, 0.003))
    # In proportion but for the curve of G over moisture: the share is that of the steeper side.
    assert 0.29 * meter < oven < 0.3 * meter
    assert evidence.OVEN not in advised(reading(4.2))


def test_wet_wood_of_unknown_shrinkage_is_to_be_dried() -> None:
    wet = reading(4.2, 4.2, moisture="0.20", angle="60")
    assert evidence.DRY in advised(wet, WOODS["white_spruce"])
    assert evidence.DRY not in advised(replace(wet, moisture=typed("0.12")), WOODS["white_spruce"])


def test_later_waterlines_help_a_stick_that_was_long_in_the_water() -> None:
    assert evidence.TIMED in advised(reading(*[4.2] * 4, seconds=600, angle="60"))
    assert evidence.TIMED not in advised(reading(4.2, seconds=30))


# --- among its species ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("times", "percent"), [(0.0, 50.0), (1.0, 84.134), (-1.645, 4.999), (2.0, 97.725)])
def test_the_percentile_is_the_normal_laws(times: float, percent: float) -> None:
    """Areas under the normal curve, from memory; spruce averages 0.40 oven-dry, so 0.04 is one deviation."""
    result = replace(read(reading(4.0)), sg_oven_dry=0.40 + times * 0.04)
    found = evidence.standing(result, SPRUCE)
    assert found is not None and (found.basis, found.cov) == ("oven-dry", 0.10)
    assert found.z == pytest.approx(times)
    assert found.percentile == pytest.approx(percent, abs=0.01)
    assert "ESTIMATE" in wording.standing(found)


def test_without_an_oven_dry_average_both_are_on_12_percent() -> None:
    result = replace(read(reading(4.0)), sg_12=0.45, sg_oven_dry=0.9)
    found = evidence.standing(result, WOODS["western_hemlock"])
    assert found is not None and found.basis == "12 %" and found.average.volume == "12 %"
    assert found.percentile == pytest.approx(50)
    assert evidence.standing(result, WOODS["balsa"]) is None


def test_a_recalled_average_is_named() -> None:
    found = evidence.standing(read(reading(4.0)), WOODS["noble_fir"])
    assert found is not None and found.average.memory
    assert "RECALLED, NOT READ" in wording.standing(found)
