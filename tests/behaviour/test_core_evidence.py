"""What a gravity rests on: the error budget, advice, the minimum line, readings together, the species."""

from dataclasses import replace
from fractions import Fraction
from math import ceil, gamma, pi, sqrt
from statistics import NormalDist, mean, stdev
from typing import Any

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, stick, typed, with_figure
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import acceptance, evidence, floating, repeats, weighing, working
from bench.core.acceptance import judge_stick
from bench.core.floating import FloatResult
from bench.core.records import FloatReading, Species, Stick, TimedMark, Weighing
from bench.sheets import evidence as sheet
from bench.sheets import wording, writing_text
from bench.sheets.working import lines


def page_of(*told: object) -> list[str]:
    return writing_text.sections(sheet.sections(*told))[1:]


quick = settings(max_examples=40, deadline=None)
marks = st.integers(300, 800).map(lambda steps: steps / 100)
faces = st.sampled_from([1, 2, 3, 4])
moistures = st.integers(0, 280).map(lambda steps: f"{steps}/1000")
angles = st.sampled_from(["", "none", "45", "60"])
woods = st.sampled_from([SPRUCE, ASH, WOODS["white_spruce"], WOODS["red_spruce"], WOODS["balsa"]])


def read(taken: FloatReading, wood: Species = SPRUCE) -> FloatResult:
    return floating.read(taken, wood)


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


# --- the minimum line ----------------------------------------------------------------------------------


@pytest.mark.parametrize("key", sorted(WOODS))
def test_a_line_read_back_is_the_limit(key: str) -> None:
    wood, taken = WOODS[key], reading(1.0, angle="", side="0.0254")
    table = evidence.minimum_table(taken, wood)
    assert [row.moisture for row in table.rows] == [percent / 100 for percent in range(6, 17)]
    for row in table.rows:
        for mark, gravity in (
            (row.minimum, table.minimum.value if table.minimum else None),
            (row.average, table.average.gravity if table.average else None),
        ):
            assert (mark is None) == (gravity is None)
            if mark is not None:
                at = replace(taken, marks=(mark,), moisture=typed(row.moisture))
                assert read(at, wood).sg_oven_dry == pytest.approx(gravity)
    minima = [row.minimum for row in table.rows if row.minimum is not None]
    assert minima == sorted(minima)


def test_an_average_without_an_oven_dry_figure_is_brought_from_12_percent() -> None:
    """White ash 0.62 oven-dry (trade); western hemlock 0.45 at 12 % (wh282 table 5-3b), S_0 12.4 %."""
    plain = evidence.average_of(ASH)
    assert plain is not None and not plain.brought and plain.gravity == 0.62
    brought = evidence.average_of(WOODS["western_hemlock"])
    assert brought is not None and brought.brought
    assert brought.gravity == pytest.approx(0.45 * (1 - 0.124 * 0.6) / (1 - 0.124))
    assert brought.figure.volume == "12 %"
    notes = sheet.mark_notes(evidence.minimum_table(reading(4.0), WOODS["western_hemlock"]))
    assert any("ESTIMATE" in note.text and note.name == "average" for note in notes)
    assert evidence.average_of(WOODS["balsa"]) is None


def test_a_class_has_its_maximum_in_the_table() -> None:
    fir = WOODS["douglas_fir_coast"]
    table = evidence.minimum_table(reading(4.0), fir, "class L", (Fraction(12, 100),))
    (row,) = table.rows
    assert row.minimum is not None and row.maximum is not None
    for mark, limit in ((row.minimum, 0.38), (row.maximum, 0.47)):
        assert read(reading(mark, moisture="0.12"), fir).sg_oven_dry == pytest.approx(limit)
    assert [len(cells) for cells in sheet.mark_cells(table, 10)] == [4, 4]
    assert any("of the species at large" in note.text for note in sheet.mark_notes(table, "class L"))


@given(st.floats(0.01, 9.99))
def test_a_line_is_never_drawn_on_the_weak_side(mark: float) -> None:
    assert float(sheet.strict(mark, "minimum")) >= mark * (1 - 1e-6)
    assert float(sheet.strict(mark, "maximum")) <= mark * (1 + 1e-6) + 1e-9


SURE = st.sampled_from([SPRUCE, ASH, WOODS["white_spruce"]])  # of the last the shrinkage is an estimate


@quick
@given(faces, moistures, angles, SURE, st.sampled_from([0.0, 30.0, 300.0]), st.sampled_from([10, 25, 100]))
def test_from_the_sure_mark_on_one_reading_is_sure(
    sides: int, moisture: str, angle: str, wood: Species, seconds: float, count: int
) -> None:
    """Its whole band lies above the minimum there, and no longer a twentieth of a mark (of ten) lower."""
    taken = reading(*[1.0] * sides, moisture=moisture, angle=angle, seconds=seconds, count=count)
    minimum = acceptance.limit(wood, "specific_gravity_minimum")
    sure = evidence.sure_mark(taken, wood)
    assert minimum is not None and sure is not None
    shown = ceil(sure * 100) / 100
    assert read(replace(taken, marks=(shown,) * sides), wood).low >= minimum.value
    below = sure - 0.05 * count / 10
    assert read(replace(taken, marks=(below,) * sides), wood).low < minimum.value
    assert sure > floating.mark_of(minimum.value, taken, wood)


def test_the_sure_mark_looks_at_no_marks_and_may_not_be_there() -> None:
    taken = reading(4.2)
    timed = replace(taken, marks=(8.0,), timed=(TimedMark(60.0, 7.5),))
    assert evidence.sure_mark(timed, SPRUCE) == evidence.sure_mark(taken, SPRUCE)
    assert evidence.sure_mark(taken, WOODS["balsa"]) is None, "no minimum"
    heavy = with_figure(SPRUCE, "specific_gravity_minimum", "oven-dry", 1.2)
    assert evidence.sure_mark(taken, heavy) is None, "past the end of the stick"


# --- readings together ---------------------------------------------------------------------------------


def together(*values: float, wood: Species = ASH, **under: Any) -> repeats.Repeats:
    return repeats.together([read(reading(mark, **under), wood) for mark in values])


@quick
@given(st.lists(st.integers(650, 690).map(lambda step: step / 100), min_size=2, max_size=6))
def test_mean_and_spread_are_the_samples(values: list[float]) -> None:
    found = together(*values)
    gravities = [result.sg_oven_dry for result in found.results]
    assert found.mean == found.combined.sg_oven_dry == pytest.approx(mean(gravities))
    assert found.spread == pytest.approx(stdev(gravities), abs=1e-12)
    assert found.combined.sg_12 == pytest.approx(mean(result.sg_12 for result in found.results))


def test_one_reading_stands_for_itself() -> None:
    found = together(6.8)
    assert found.combined is found.results[0]
    assert (found.spread, found.flagged) == (None, (False,))


@pytest.mark.parametrize("count", [2, 3, 10])
def test_only_what_is_new_each_time_averages_out(count: int) -> None:
    one, many = together(6.8), together(*[6.8] * count)
    shares = dict(one.results[0].shares)
    own = shares["reading"] ** 2 + shares["faces"] ** 2
    common = one.combined.uncertainty**2 - own
    # A stick leans its own way every time: no number of readings of one face averages that out.
    assert dict(many.combined.shares)["tilt"] == pytest.approx(shares["tilt"]) and shares["tilt"] > 0
    assert many.combined.uncertainty == pytest.approx(sqrt(own / count + common))
    assert sum(sd**2 for _, sd in many.combined.shares) == pytest.approx(many.combined.uncertainty**2)


def area_of_t(t: float, freedom: int) -> float:
    """Area of Student's law between -t and t, by Simpson's rule over its density."""
    steps = 2000
    heights = [(1 + (t * step / steps) ** 2 / freedom) ** (-(freedom + 1) / 2) for step in range(steps + 1)]
    total = heights[0] + heights[-1] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2])
    return 2 * gamma((freedom + 1) / 2) / gamma(freedom / 2) / sqrt(freedom * pi) * total * t / steps / 3


@pytest.mark.parametrize("count", range(3, 11))
def test_few_readings_are_no_surer_than_they_agree(count: int) -> None:
    """95 percent of Student's law: textbook density; tables print 4.303 at 2 degrees."""
    wide = together(*(6.5 + 0.6 * step / (count - 1) for step in range(count)))
    own = repeats.random_part(wide.combined)
    assert wide.spread is not None
    assert dict(wide.combined.shares)[repeats.SPREAD] == pytest.approx(own)
    student = 1.96 * own / (wide.spread / sqrt(count))
    assert area_of_t(student, count - 1) == pytest.approx(0.95, abs=1e-4)
    assert (round(student, 3) == 4.303) == (count == 3)


def test_a_spread_within_what_a_reader_is_off_is_not_widened() -> None:
    """And of two readings no spread is taken: they are flagged or they agree."""
    assert repeats.SPREAD not in dict(together(6.79, 6.80, 6.81).combined.shares)
    far = together(6.5, 7.1).combined
    assert repeats.SPREAD not in dict(far.shares)
    assert repeats.random_part(far) == pytest.approx(repeats.random_part(together(6.8, 6.8).combined))


def test_one_that_lies_apart_is_flagged_and_kept() -> None:
    found = together(6.8, 7.4, 6.82)
    assert found.flagged == (False, True, False)
    assert found.mean == pytest.approx(mean(result.sg_oven_dry for result in found.results))
    # Of two that differ nobody can say which it is.
    assert together(6.8, 7.4).flagged == (True, True)
    assert together(6.8, 6.81).flagged == (False, False)


def test_the_flag_stands_at_the_99_percent_of_the_difference() -> None:
    """2.576 from the normal law; of two readings the difference has both own parts and one moisture share."""
    assert pytest.approx(NormalDist().inv_cdf(0.995), abs=5e-4) == repeats.FLAG_AT
    one = together(6.8).results[0]
    per_mark = one.sg_oven_dry / 6.8  # no correction: proportional to the mark
    sd = sqrt(2 * repeats.random_part(one) ** 2 + dict(one.shares)["moisture"] ** 2)
    apart = 2.576 * sd / per_mark
    assert together(6.8, 6.8 + 0.97 * apart).flagged == (False, False)
    assert together(6.8, 6.8 + 1.03 * apart).flagged == (True, True)


def weighed(gravity_mark: float, moisture: str = "0.10") -> weighing.WeighResult:
    """A piece of 20 x 20 x 500 mm as dense as a stick that floats at a mark."""
    floats = read(reading(gravity_mark, moisture=moisture), ASH).as_floated
    return weighing.weigh(floats * 0.2, (0.02, 0.02, 0.5), float(Fraction(moisture)), ASH)


def test_what_both_ways_share_is_not_in_their_difference() -> None:
    floated, balance = read(reading(6.8), ASH), weighed(6.8)
    found = repeats.compare(floated, balance)
    own = [sd for name, sd in (*floated.shares, *balance.shares) if name not in ("moisture", "shrinkage")]
    assert found.uncertainty == pytest.approx(sqrt(sum(sd * sd for sd in own)))
    assert found.difference == pytest.approx(0, abs=1e-12)
    assert found.agree
    other = repeats.compare(floated, weighed(6.8, "0.12"))
    assert other.shared == ("shrinkage",) and other.uncertainty > found.uncertainty


def test_they_disagree_beyond_the_band() -> None:
    floated = read(reading(6.8), ASH)
    band = repeats.compare(floated, weighed(6.8)).half_width / floated.sg_oven_dry * 6.8
    assert repeats.compare(floated, weighed(6.8 + 0.98 * band)).agree
    assert not repeats.compare(floated, weighed(6.8 + 1.03 * band)).agree


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


# --- words, working and the page -----------------------------------------------------------------------


def full_stick(wood: Species, variant: str = "") -> Stick:
    """A stick with everything: repeats, one set aside, later waterlines, four faces, a weighing."""
    timed = replace(reading(4.9, 4.85, 4.9, angle=""), timed=(TimedMark(60.0, 4.95), TimedMark(240.0, 5.0)))
    taken = (
        replace(reading(*[100.0] * 4, count=100, angle=""), taken="2026-03-01", aside="dropped\nin"),
        replace(reading(4.9, 4.8, 4.85, 4.95, angle=""), taken="2026-03-02"),
        replace(timed, taken="2026-03-03"),
        replace(reading(5.9, angle=""), taken="2026-03-04"),
        replace(reading(6.0, moisture="0.5"), taken="2026-03-05", aside=""),
    )
    piece = Weighing(typed("0.0098"), typed("0.0127"), typed("0.0127"), typed("0.127"), typed("0.10"))
    return replace(stick("T" * 40, species=wood.key), variant=variant, readings=taken, weighings=(piece,))


@pytest.mark.parametrize("key", sorted(WOODS))
@pytest.mark.parametrize("system", ["in", "mm"])
def test_the_page_fits_78_columns(key: str, system: str) -> None:
    wood = WOODS[key]
    for held in (full_stick(wood), stick("A", species=key), stick("B", 4.9, species=key)):
        page = page_of(held, wood, judge_stick(held, wood), system)
        assert page[0].startswith("Stick ")
        assert all(len(line) <= 78 and line.isprintable() and line == line.rstrip() for line in page), page


def test_the_page_says_everything() -> None:
    fir = WOODS["douglas_fir_coast"]
    held = full_stick(fir, "class L")
    found = judge_stick(held, fir)
    text = " ".join(" ".join(page_of(held, fir, found)).split())
    for said in (
        "HOLD by gravity",
        "What the uncertainty is made of",
        "set aside: dropped in",
        "flagged: lies apart from the others",
        "cannot be read: moisture",
        "later on the first face: 60 s 4.95, 240 s 5.00",
        "mean of 3:",
        "float less balance",
        "ESTIMATE",
        "12.0 %",
        "maximum 0.470, oven-dry weight on oven-dry volume; anc19",
        "average 0.510, oven-dry weight on oven-dry volume, of the species at large",
    ):
        assert said in text, said


def test_a_hold_names_the_number_and_the_best_advice() -> None:
    held = stick("A", 4.0, species="sitka_spruce")
    found = judge_stick(held, SPRUCE)
    assert found.verdict.reasons[0] == acceptance.LIMIT_IN_BAND and found.result is not None
    settled = acceptance.settling(found.verdict)
    assert settled is not None and settled.shift is not None
    best = evidence.advice(held.readings[0], SPRUCE, "", found.result)[0]
    said = wording.reasons(found.verdict, best)[0]
    value = found.result.sg_oven_dry
    wanted = int((value - 0.36) * 1000) / 1000
    assert f"to {wanted:.3f}" in said
    assert "the gravity be 0.0" in said and "higher" in said
    assert wording.advised(best) in said
    assert said in " ".join(" ".join(page_of(held, SPRUCE, found)).split())


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (0.3604, 0.39, "lowest likely 0.3604 (95 %), minimum 0.360"),
        (0.36004, 0.39, "lowest likely 0.36004 (95 %), minimum 0.360"),
        (0.3614, 0.39, "lowest likely 0.361 (95 %), minimum 0.360"),
        (0.34, 0.35962, "highest likely 0.3597 (95 %), below the minimum 0.360"),
        (0.34, 0.3583, "highest likely 0.359 (95 %), below the minimum 0.360"),
    ],
)
def test_an_edge_of_the_band_is_told_from_the_limit_it_passed(low: float, high: float, said: str) -> None:
    """The edges go outward, so an edge beside its limit takes as many digits as tell them apart."""
    middle, spread = (low + high) / 2, (high - low) / 2 / 1.96
    found = replace(read(reading(4.0)), sg_oven_dry=middle, uncertainty=spread)
    assert said in wording.reasons(acceptance.judge(found, SPRUCE))[0]


def test_an_unknown_wood_has_a_page() -> None:
    held = stick("A", 6.8, species="mallorn")
    assert "mallorn" in " ".join(page_of(held, None, judge_stick(held, None)))


def test_every_figure_has_its_working() -> None:
    fir = WOODS["douglas_fir_coast"]
    held = full_stick(fir, "class L")
    found = judge_stick(held, fir)
    timed = held.readings[2]
    result = floating.read(timed, fir, "class L")
    assert found.measured is not None
    of_one = working.of_float(timed, result, acceptance.judge(result, fir, "class L"))
    beside = working.of_found(found, evidence.standing(found.measured, fir, "class L"))
    titles = [step.title for step in (*of_one, *beside)]
    for title in (
        "centreline of the faces",
        "lean",
        "first face led back to no time in the water",
        "centreline before any water was drawn in",
        "what the uncertainty is made of",
        "minimum line on this stick",
        "maximum line on this stick",
        "against the maximum",
        "readings together",
        "uncertainty of the readings together",
        "float test against weight and size",
        "place in the species, an ESTIMATE",
    ):
        assert title in titles, title
    by_title = {step.title: step for step in (*of_one, *beside)}
    limit = acceptance.limit(fir, "specific_gravity_minimum", "class L")
    assert limit is not None
    line = floating.mark_of(limit.value, timed, fir, "class L")
    assert by_title["minimum line on this stick"].result.value == pytest.approx(line)
    assert by_title["centreline before any water was drawn in"].result.value == result.zero_mark
    assert by_title["readings together"].result.value == found.measured.sg_oven_dry
    assert by_title["uncertainty of the readings together"].result.value == found.measured.uncertainty
    assert any("a = mean d - k mean r" in text for text in lines(of_one))


def test_the_working_of_one_reading_does_not_show_the_verdict_on_several() -> None:
    held = full_stick(SPRUCE)
    found = judge_stick(held, SPRUCE)
    result = floating.read(held.readings[2], SPRUCE)
    alone = [step.title for step in working.of_float(held.readings[2], result, found.verdict)]
    assert "against the minimum" not in alone
    assert "against the minimum" in [step.title for step in working.of_found(found)]
    assert found.weighed is not None
    size = (0.0127, 0.0127, 0.127)
    balance = [step.title for step in working.of_weigh(0.0098, size, found.weighed, found.verdict)]
    assert "against the minimum" not in balance
    own = acceptance.judge(found.weighed, SPRUCE)
    judged = [step.title for step in working.of_weigh(0.0098, size, found.weighed, own)]
    assert "against the minimum" in judged


# --- numbers of the readings, and a day that says two things -----------------------------------------------


def test_the_page_numbers_the_readings_as_setting_aside_counts_them() -> None:
    held = full_stick(SPRUCE)
    rows = [
        line.split()[:2]
        for line in page_of(held, SPRUCE, judge_stick(held, SPRUCE))
        if " 2026-03-0" in line and line[2].isdigit()
    ]
    assert rows == [[str(number), f"2026-03-0{number}"] for number in range(1, 6)]


@pytest.mark.parametrize(("later", "said"), [(6.0, "DISAGREES"), (6.82, "counts")])
def test_a_reading_that_a_later_one_of_its_day_contradicts_says_so(later: float, said: str) -> None:
    held = replace(stick("A"), readings=(reading(6.8, 6.8), reading(later, later)))
    found = judge_stick(held, ASH)
    text = " ".join(" ".join(page_of(held, ASH, found)).split())
    assert "a later one of that day counts" in text
    assert ("DISAGREES: set the wrong one aside" in text) == (said == "DISAGREES")
    assert (acceptance.DAY_DISAGREES in found.verdict.reasons) == (said == "DISAGREES")
