"""Accept, hold, reject: the limit stands on the oven-dry basis, and no doubt ever passes a stick."""

from dataclasses import replace
from typing import Any

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, with_figure
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import acceptance, floating, water
from bench.core.acceptance import ACCEPT, HOLD, REJECT, judge
from bench.core.records import Figure, Species, TimedMark

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
