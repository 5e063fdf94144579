"""Accept, hold, reject: the limit stands on the oven-dry basis, and no doubt ever passes a stick."""

from dataclasses import replace
from typing import Any

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, stick, typed, with_figure
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import acceptance, floating, water
from bench.core.acceptance import ACCEPT, HOLD, REJECT, judge, judge_stick
from bench.core.records import Figure, FloatReading, Species, Stick, TimedMark, Weighing

quick = settings(max_examples=80, deadline=None)
WATER_20 = water.density(293.15) / water.DENSITY_4C
ANGLES = ("none", "", "0", "60", "75", "90")


def mark_that_floats_at(density: float, angle: str) -> float:
    """The waterline at which a half-inch spruce stick has a density over water, its water included."""
    used = {"none": None, "": 60.0}.get(angle, float(angle) if angle not in ("none", "") else None)
    pull = 0.0 if used is None else floating.pull_down(0.0127, 0.127, 293.15, used)
    return 10 * (density / WATER_20 + pull)


def floated(
    density: float, angle: str = "none", faces: int = 1, moisture: str = "0.12"
) -> floating.FloatResult:
    """A spruce stick that floats at a density."""
    mark = mark_that_floats_at(density, angle)
    found = floating.read(reading(*[mark] * faces, moisture=moisture, angle=angle), SPRUCE)
    assert found.as_floated == pytest.approx(density)
    return found


# --- the point that must be right ----------------------------------------------------------------------


@pytest.mark.parametrize("angle", ANGLES)
@pytest.mark.parametrize("faces", [1, 2, 3, 4])
def test_spruce_that_floats_at_370_is_never_accepted(faces: int, angle: str) -> None:
    """anc19 sec. 2.20: spruce at the minimum floats at 0.383 at 12 %. A line at .36 would pass this stick."""
    found = floated(0.370, angle, faces)
    assert found.sg_oven_dry < 0.36 < found.as_floated
    assert judge(found, SPRUCE).word in (REJECT, HOLD)


def test_spruce_that_floats_at_370_is_rejected_where_it_is_read_well() -> None:
    """Four faces and a measured angle; an angle taken for granted may be off by its whole band."""
    assert judge(floated(0.370, "60", faces=4), SPRUCE).word == REJECT
    assert judge(floated(0.370, "", faces=4), SPRUCE).word == HOLD
    assert judge(floated(0.360, "", faces=1), SPRUCE).word == REJECT


@quick
@given(st.floats(0.20, 0.3825), st.sampled_from(ANGLES), st.sampled_from([1, 2, 3, 4]))
def test_no_spruce_below_383_is_accepted_at_12_percent(density: float, angle: str, faces: int) -> None:
    assert judge(floated(density, angle, faces), SPRUCE).word != ACCEPT


def test_spruce_at_the_minimum_is_on_hold() -> None:
    """0.383 by anc19 sec. 2.20: the limit lies inside the band, so neither yes nor no."""
    verdict = judge(floated(0.383, faces=4), SPRUCE)
    assert (verdict.word, verdict.reasons[0]) == (HOLD, acceptance.LIMIT_IN_BAND)
    assert verdict.margin == pytest.approx(0, abs=0.001)


def test_good_spruce_is_accepted() -> None:
    """0.423 at 12 % is the aircraft average of 0.40: 0.40 + 12 x 0.00192 (anc19 sec. 2.20)."""
    verdict = judge(floated(0.423, faces=2), SPRUCE)
    assert (verdict.word, verdict.reasons[0]) == (ACCEPT, acceptance.ABOVE_MINIMUM)
    assert verdict.value == pytest.approx(0.40, abs=0.003)


@pytest.mark.parametrize("angle", ANGLES)
def test_the_minimum_stands_above_its_number_at_12_percent(angle: str) -> None:
    assert floating.mark_of(0.36, reading(1.0, moisture="0.12", angle=angle), SPRUCE) > 3.8


def test_only_oven_dry_wood_without_a_meniscus_has_the_line_at_its_number() -> None:
    mark = floating.mark_of(0.36, reading(1.0, moisture="0"), SPRUCE)
    assert mark == pytest.approx(3.6 / WATER_20)


# --- what decides and what does not --------------------------------------------------------------------

LIMITED = sorted(
    key
    for key, species in WOODS.items()
    if (least := acceptance.limit(species, "specific_gravity_minimum")) and not least.memory
)


def verdicts(species: Species) -> list[tuple[str, float | None, float | None]]:
    """Words and margins over the whole scale of the stick."""
    found = []
    for step in range(20, 100):
        verdict = judge(floating.read(reading(step / 10 + 0.01, moisture="0.12"), species), species)
        found.append((verdict.word, verdict.margin, verdict.value))
    return found


@pytest.mark.parametrize("key", LIMITED)
def test_the_handbook_average_never_decides(key: str) -> None:
    """Specific gravity on the volume at 12 % (wh282 table 5-3b) is another quantity than the limit."""
    species = WOODS[key]
    before = verdicts(species)
    assert {word for word, _, _ in before} == {ACCEPT, HOLD, REJECT}
    for other in (0.10, 0.90):
        assert verdicts(with_figure(species, "specific_gravity", "12 %", other)) == before


@pytest.mark.parametrize("key", LIMITED)
def test_the_oven_dry_minimum_decides(key: str) -> None:
    species = WOODS[key]
    before = [word for word, _, _ in verdicts(species)]
    lightest = before.index(ACCEPT)
    least = acceptance.limit(species, "specific_gravity_minimum")
    assert least is not None
    for other in (0.9 * least.value, 1.1 * least.value):
        changed = [
            word
            for word, _, _ in verdicts(with_figure(species, "specific_gravity_minimum", "oven-dry", other))
        ]
        now = changed.index(ACCEPT)
        assert now < lightest if other < least.value else now > lightest


def test_a_gravity_no_stick_of_the_species_has_is_on_hold() -> None:
    """A wrong unit or a sunk stick: 0.835 oven-dry for spruce, whose average is 0.40."""
    verdict = judge(floating.read(reading(9.0, moisture="0.12"), SPRUCE), SPRUCE)
    assert (verdict.word, verdict.reasons[0]) == (HOLD, acceptance.STRANGE)


def test_faces_that_contradict_each_other_are_on_hold() -> None:
    """The waterline is a plane, so both pairs of opposite faces give the centreline: derived."""
    wild = floating.read(reading(4.2, 4.2, 4.2, 5.0, moisture="0.12"), SPRUCE)
    even = floating.read(reading(4.2, 4.2, 4.2, 4.2, moisture="0.12"), SPRUCE)
    assert wild.uncertainty > even.uncertainty
    verdict = judge(wild, SPRUCE)
    assert (verdict.word, verdict.reasons[0]) == (HOLD, acceptance.FACES_DISAGREE)
    leaning = judge(floating.read(reading(4.0, 4.8, moisture="0.12"), SPRUCE), SPRUCE)
    assert (leaning.word, leaning.reasons[0]) == (HOLD, acceptance.HEAVY_TILT)


def test_the_aircraft_average_never_decides() -> None:
    before = verdicts(SPRUCE)
    assert verdicts(with_figure(SPRUCE, "specific_gravity_average", "oven-dry", 0.90)) == before


@pytest.mark.parametrize("step", range(20, 101))
def test_a_recalled_limit_never_decides(step: int) -> None:
    birch = WOODS["yellow_birch"]
    least = acceptance.limit(birch, "specific_gravity_minimum")
    assert least is not None and least.memory
    verdict = judge(floating.read(reading(step / 10), birch), birch)
    assert (verdict.word, verdict.reasons[0]) == (HOLD, acceptance.LIMIT_RECALLED)


@pytest.mark.parametrize("key", sorted(WOODS))
def test_any_limit_recalled_from_memory_never_accepts(key: str) -> None:
    species = WOODS[key]
    recalled = replace(species, figures=tuple(replace(f, memory=True) for f in species.figures))
    for step in range(20, 100, 5):
        assert judge(floating.read(reading(step / 10), recalled), recalled).word == HOLD


@pytest.mark.parametrize("key", sorted(WOODS))
def test_a_wood_without_a_limit_is_on_hold(key: str) -> None:
    species = WOODS[key]
    kept = tuple(f for f in species.figures if f.quantity != "specific_gravity_minimum")
    verdict = judge(floating.read(reading(9.0), species), replace(species, figures=kept))
    assert (verdict.word, verdict.reasons[0], verdict.margin) == (HOLD, acceptance.NO_LIMIT, None)


@quick
@given(st.floats(0.05, 0.95), st.floats(0, 0.05), st.booleans())
def test_the_whole_band_must_lie_on_one_side(value: float, spread: float, bounded: bool) -> None:
    wood = WOODS["douglas_fir_coast"]  # class L is limited on both sides: 0.38 to 0.47, anc19 table 2-13
    variant, low, high = ("class L", 0.38, 0.47) if bounded else ("", 0.45, 2.0)
    found = replace(floating.read(reading(5.0), wood), sg_oven_dry=value, uncertainty=spread)
    word = judge(found, wood, variant).word
    inside = found.low >= low and found.high <= high
    outside = found.high < low or found.low > high
    strange = value > low * acceptance.STRANGE_TIMES
    assert word == (REJECT if outside else ACCEPT if inside and not strange else HOLD)


def test_too_heavy_for_its_class() -> None:
    wood = WOODS["douglas_fir_coast"]
    found = floating.read(reading(6.0, 6.0, 6.0, 6.0), wood)
    assert judge(found, wood).word == ACCEPT
    verdict = judge(found, wood, "class L")
    assert (verdict.word, verdict.reasons[0]) == (REJECT, acceptance.ABOVE_MAXIMUM)


# --- what is said beside the verdict -------------------------------------------------------------------


def reasons(species: Species, *marks: float, moisture: str = "0.10") -> tuple[str, ...]:
    """Reason codes after the first."""
    return judge(floating.read(reading(*marks, moisture=moisture), species), species).reasons[1:]


def test_doubts_are_named() -> None:
    assert reasons(SPRUCE, 4.5) == ()
    assert reasons(ASH, 6.8) == (acceptance.LIMIT_OF_TRADE,)
    assert reasons(WOODS["red_spruce"], 4.5) == (acceptance.SHRINKAGE_RECALLED,)
    assert reasons(WOODS["white_spruce"], 4.5) == (acceptance.SHRINKAGE_ESTIMATED,)
    assert reasons(SPRUCE, 4.4, 4.65) == (acceptance.HEAVY_TILT,)
    # 8 to 12 % at fabrication: anc19 sec. 2.412
    assert reasons(SPRUCE, 4.5, moisture="0.079") == (acceptance.MOISTURE_OUTSIDE,)
    assert reasons(SPRUCE, 4.5, moisture="0.121") == (acceptance.MOISTURE_OUTSIDE,)
    assert reasons(SPRUCE, 4.5, moisture="0.12") == () == reasons(SPRUCE, 4.5, moisture="0.08")


def later(mark: float, then: float) -> acceptance.Verdict:
    """Spruce read at a mark, and again after a minute."""
    return judge(floating.read(replace(reading(mark), timed=(TimedMark(60.0, then),)), SPRUCE), SPRUCE)


def test_a_far_led_back_reading_is_named_and_counts() -> None:
    verdict = later(5.0, 5.15)
    assert (verdict.word, verdict.reasons) == (ACCEPT, ("above_minimum", acceptance.FAR_LED_BACK))


def test_a_stick_that_rises_is_never_accepted() -> None:
    """No uptake lifts a stick: one of the waterlines is wrong, and nobody can say which."""
    verdict, alone = later(4.5, 4.4), judge(floating.read(reading(4.5), SPRUCE), SPRUCE)
    assert (alone.word, verdict.word) == (ACCEPT, HOLD)
    assert verdict.reasons == (acceptance.RISES, acceptance.ABOVE_MINIMUM)
    assert (verdict.low, verdict.value, verdict.high) == (alone.low, alone.value, alone.high)
    # A doubt takes no reject back.
    light = later(3.2, 3.1)
    assert (light.word, light.reasons) == (REJECT, (acceptance.BELOW_MINIMUM, acceptance.RISES))


# --- a stick of the rack -------------------------------------------------------------------------------


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


# --- what would settle it ------------------------------------------------------------------------------


@quick
@given(st.floats(0.33, 0.52), st.floats(0.001, 0.03), st.booleans())
def test_what_would_settle_a_hold_settles_it(value: float, spread: float, bounded: bool) -> None:
    wood = WOODS["douglas_fir_coast"]
    variant = "class L" if bounded else ""
    found = replace(floating.read(reading(5.0), wood), sg_oven_dry=value, uncertainty=spread)
    verdict = judge(found, wood, variant)
    settled = acceptance.settling(verdict)
    assert (settled is None) == (acceptance.LIMIT_IN_BAND not in verdict.reasons)
    if settled is None or settled.needed < 1e-6:
        return
    assert settled.needed < settled.half_width == pytest.approx(1.96 * spread)
    hair = 1 - 1e-9
    narrow = replace(found, uncertainty=settled.needed * hair / 1.96)
    assert judge(narrow, wood, variant).word == settled.word
    wide = replace(found, uncertainty=settled.needed * 1.001 / 1.96)
    assert judge(wide, wood, variant).word == HOLD
    if settled.shift is not None:
        inward = 1e-9 if settled.shift > 0 else -1e-9
        moved = replace(found, sg_oven_dry=value + settled.shift + inward)
        assert judge(moved, wood, variant).word == ACCEPT
        assert judge(replace(found, sg_oven_dry=value + 0.99 * settled.shift), wood, variant).word == HOLD
    else:
        assert bounded and 2 * settled.half_width > 0.47 - 0.38


def test_a_limit_on_another_volume_is_no_limit() -> None:
    """A minimum printed on the volume at 12 % is not held against an oven-dry gravity."""

    def on_other_volume(figure: Figure) -> Figure:
        changes: dict[str, Any] = {"volume": "12 %"} if figure.quantity == "specific_gravity_minimum" else {}
        return replace(figure, **changes)

    moved = replace(SPRUCE, figures=tuple(on_other_volume(figure) for figure in SPRUCE.figures))
    assert acceptance.limit(moved, "specific_gravity_minimum") is None
    assert judge(floated(0.50), moved).reasons[0] == acceptance.NO_LIMIT
