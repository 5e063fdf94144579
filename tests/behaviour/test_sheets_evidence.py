"""The page of evidence: what it says of a stick, its working, and the numbers of its readings."""

from dataclasses import replace

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, stick, typed

from bench.core import acceptance, evidence, floating, working
from bench.core.acceptance import judge_stick
from bench.core.records import Species, Stick, TimedMark, Weighing
from bench.sheets import evidence as sheet
from bench.sheets import wording, writing_text
from bench.sheets.working import lines
from tests.tools.any_reading import read


def page_of(*told: object) -> list[str]:
    return writing_text.sections(sheet.sections(*told))[1:]


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
