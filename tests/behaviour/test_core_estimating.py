"""The estimate of one stick: what holds for any, what is refused, and what a section may rest on."""

from dataclasses import replace
from typing import Any

import pytest
from core_cases import ASH, SPRUCE, WOODS, with_figure
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import strength, working, working_strength
from bench.core.errors import Missing, OutOfRange
from bench.core.estimating import DOCUMENTS, estimate
from bench.core.moving import LIES, size_change
from bench.core.resizing import Section, resize
from bench.core.strength import WITHIN_SPECIES, Estimate
from bench.sheets import estimating as sentences
from bench.sheets import working as written

quick = settings(max_examples=60, deadline=None)
gravities = st.integers(30, 90).map(lambda steps: steps / 100)
runs = st.integers(12, 60)
species = st.sampled_from([SPRUCE, ASH, WOODS["noble_fir"], WOODS["balsa"]])
moistures = st.integers(0, 30).map(lambda percent: percent / 100)
documents = st.sampled_from(DOCUMENTS)


def of(wood: Any, gravity: float, **more: Any) -> Estimate:
    """A straight stick at 12 percent unless said otherwise."""
    given = {"gravity_sd": 0.006, "slope_one": 0.0, "slope_two": 0.0, "moisture": 0.12, **more}
    return estimate(wood, "", gravity, **given)


@quick
@given(species, documents)
def test_an_average_straight_stick_is_the_average_to_the_last_digit(wood: Any, document: str) -> None:
    average, _ = strength.gravity_12(wood)
    found, handbook = of(wood, average, document=document), strength.of(wood)
    assert found.parts
    for part in found.parts:
        assert part.value == handbook.get(part.name), part.name


@quick
@given(species, gravities, gravities, moistures, runs, documents)
def test_denser_is_stronger(
    wood: Any, one: float, other: float, moisture: float, run: int, document: str
) -> None:
    light, dense = (
        of(wood, g, moisture=moisture, slope_one=1 / run, document=document) for g in sorted((one, other))
    )
    for part in light.parts:
        assert dense.value(part.name) > part.value if one != other else dense.value(part.name) == part.value


@quick
@given(species, gravities, runs, runs, documents)
def test_steeper_grain_is_never_stronger(
    wood: Any, gravity: float, one: int, other: int, document: str
) -> None:
    straighter, steeper = (
        of(wood, gravity, slope_two=1 / run, document=document) for run in sorted((one, other), reverse=True)
    )
    for part in straighter.parts:
        assert steeper.value(part.name) <= part.value
    bent = of(wood, gravity, slope_one=1 / 11, document=document)
    assert bent.value("bending") < of(wood, gravity, document=document).value("bending")


@quick
@given(species, gravities, moistures, st.integers(0, 50), runs, documents)
def test_the_value_lies_in_its_band(
    wood: Any, gravity: float, moisture: float, sd: int, run: int, document: str
) -> None:
    found = of(wood, gravity, moisture=moisture, gravity_sd=sd / 1000, slope_one=1 / run, document=document)
    for part in found.parts:
        assert 0 <= part.low < part.value < part.high, part.name
        assert part.spread >= part.variation


@quick
@given(gravities, moistures, moistures)
def test_drier_is_stronger_below_where_drying_begins(gravity: float, one: float, other: float) -> None:
    dry, wet = (of(SPRUCE, gravity, moisture=moisture) for moisture in sorted((one, other)))
    for name in ("bending", "stiffness", "compression"):
        assert dry.value(name) >= wet.value(name)
    assert dry.value("toughness") == wet.value("toughness")


@pytest.mark.parametrize(
    ("slopes", "grain", "doubt"),
    [
        ((None, None), "not measured", "taken_straight"),
        ((1 / 12, None), "one face", "one_face_only"),
        ((None, 1 / 12), "one face", "one_face_only"),
    ],
)
def test_grain_not_measured_is_said_and_feeds_no_section(
    slopes: tuple[float | None, float | None], grain: str, doubt: str
) -> None:
    found = of(SPRUCE, 0.40, slope_one=slopes[0], slope_two=slopes[1])
    assert (found.grain, found.grain_measured, found.doubts) == (grain, False, (doubt,))
    straight = of(SPRUCE, 0.40).value("bending")
    assert (found.value("bending") == straight) == (grain == "not measured")
    said = " ".join(sentences.lines(found))
    assert "taken straight" in said
    with pytest.raises(Missing, match="slope of grain"):
        strength.of(SPRUCE, estimate=found)


def test_a_section_rests_on_the_estimate() -> None:
    light = of(SPRUCE, 0.36, slope_one=1 / 15)
    wood = strength.of(SPRUCE, gravity=0.36, estimate=light)
    average = strength.of(SPRUCE)
    assert (wood.estimated, wood.measured, wood.gravity_12) == (True, True, 0.36)
    for name in WITHIN_SPECIES:
        assert wood.get(name) == light.value(name) < average.get(name)
    assert wood.get("shear") == average.get("shear")
    assert {"average_kept shear", "no_grain_row stiffness", "as_bending tension"} <= set(wood.doubt)
    assert not average.estimated and average.doubt == ()
    plan = Section(0.019, 0.019)
    own, handbook = (resize(plan, average, use, "bending") for use in (wood, average))
    assert own.exact.width > handbook.exact.width
    said = sentences.doubts(wood.doubt)
    assert any("stiffness" in text and "no reduction" in text for text in said)
    assert any("shear" in text and "average" in text for text in said)


def test_another_estimate_than_the_stick_s_is_refused() -> None:
    good = of(SPRUCE, 0.38)
    for wood, gravity, bad in (
        (ASH, None, good),
        (SPRUCE, 0.39, good),
        (SPRUCE, 0.38, of(SPRUCE, 0.38, moisture=0.10)),
    ):
        with pytest.raises(OutOfRange):
            strength.of(wood, gravity=gravity, estimate=bad)
    with pytest.raises(OutOfRange, match="12 %"):
        strength.of(SPRUCE, 0.10, estimate=good)


REFUSED: list[dict[str, Any]] = [
    {"gravity": 0.0},
    {"gravity": float("nan")},
    {"gravity_sd": -0.1},
    {"moisture": -0.01},
    {"moisture": float("nan")},
    {"document": "both"},
    {"slope_one": 1 / 4},
    {"slope_one": -0.1},
    {"slope_one": 1 / 7, "document": "anc18"},
]


@pytest.mark.parametrize("bad", REFUSED, ids=str)
def test_what_cannot_be_is_refused(bad: dict[str, Any]) -> None:
    with pytest.raises(OutOfRange):
        of(SPRUCE, bad.pop("gravity", 0.40), **bad)


def test_what_the_library_lacks_is_missing() -> None:
    bare = replace(SPRUCE, figures=tuple(f for f in SPRUCE.figures if f.quantity != "modulus_of_elasticity"))
    found = of(bare, 0.40)
    assert found.value("bending") > 0
    with pytest.raises(Missing, match="modulus_of_elasticity"):
        found.value("stiffness")
    with pytest.raises(Missing, match="specific gravity"):
        of(replace(SPRUCE, figures=()), 0.40)


def test_without_a_green_figure_it_stays_at_12_percent() -> None:
    dry = replace(
        SPRUCE,
        figures=tuple(f for f in SPRUCE.figures if (f.quantity, f.at) != ("modulus_of_rupture", "green")),
    )
    part = of(dry, 0.40, moisture=0.08).part("bending")
    assert (part.moisture, part.moisture_factor) == (0.12, 1.0)
    assert any("green figure" in text for text in sentences.lines(of(dry, 0.40, moisture=0.08)))
    assert of(SPRUCE, 0.40, moisture=0.08).part("bending").moisture == 0.08


def test_a_recalled_average_is_said() -> None:
    recalled = replace(SPRUCE, figures=tuple(replace(f, memory=True) for f in SPRUCE.figures))
    assert any("RECALLED" in text for text in sentences.lines(of(recalled, 0.40)))
    assert not any("RECALLED" in text for text in sentences.lines(of(SPRUCE, 0.40)))


def test_the_average_is_the_library_s_own() -> None:
    """Not a constant of the code: with another average in the file the same stick is another share of it."""
    heavier = with_figure(SPRUCE, "specific_gravity", "12 %", 0.44)
    assert of(heavier, 0.40).value("bending") < of(SPRUCE, 0.40).value("bending")


def test_the_band_is_never_written_narrower_than_it_is() -> None:
    for gravity in (0.351, 0.377, 0.423):
        for part in of(SPRUCE, gravity).parts[:4]:
            low, _, high = sentences.line(part).partition(", ")[2].partition(" (95")[0].rpartition(" to ")
            first = float(low.split()[-1].replace(",", "")) * 6894.757293168361
            last = float(high.replace(",", "")) * 6894.757293168361
            assert first <= part.low * (1 + 1e-9) and last >= part.high * (1 - 1e-9)


def test_the_working_ends_at_the_value() -> None:
    found = of(SPRUCE, 0.38, moisture=0.10, slope_one=1 / 15, slope_two=1 / 20)
    steps = working_strength.of_estimate(found)
    ends = {step.title: step.result.value for step in steps}
    for part in found.parts:
        assert ends[f"{part.name}: for slope of grain"] == pytest.approx(part.value)
        assert ends[f"{part.name}: 95 percent band"] == part.low
    text = "\n".join(written.lines(steps))
    for source in ("anc18 (1944) table 2-1", "wh282 table 5-12", "wh282 eq. 5-3", "table 5-6"):
        assert source in text
    assert "table 2-4" not in text
    assert all(isinstance(step, working.Step) for step in steps)


# --- movement ------------------------------------------------------------------------------------------

sizes = st.floats(0.003, 0.3)
lies = st.sampled_from(LIES)


@quick
@given(sizes, sizes, lies, moistures, moistures)
def test_the_wetter_end_is_the_larger(width: float, depth: float, lie: str, start: float, end: float) -> None:
    found = size_change(width, depth, lie, ASH, start, end)
    for before, after in ((width, found.width), (depth, found.depth)):
        assert (after > before) == (end > start) and (after < before) == (end < start)
    unknown = size_change(width, depth, "unknown", ASH, start, end)
    assert abs(unknown.width - width) >= abs(found.width - width)
    assert abs(unknown.depth - depth) >= abs(found.depth - depth)


def test_above_saturation_wood_stays_and_it_is_said() -> None:
    wet = size_change(0.02, 0.02, "45 deg", SPRUCE, 0.55, 0.10)
    green = size_change(0.02, 0.02, "45 deg", SPRUCE, 0.30, 0.10)
    assert (wet.width, wet.start) == (green.width, 0.30)
    assert "clamped" in wet.doubts and "clamped" not in green.doubts
    assert {"stretched", "recalled", "larger"} <= set(green.doubts)
    usual = size_change(0.02, 0.02, "width tangential", ASH, 0.14, 0.06)
    assert usual.doubts == ()


def test_a_wood_without_coefficients_is_refused() -> None:
    with pytest.raises(Missing, match="coefficient of movement"):
        size_change(0.02, 0.02, "unknown", WOODS["balsa"], 0.12, 0.08)


@pytest.mark.parametrize("bad", [(0.0, "unknown", 0.1), (0.02, "slanted", 0.1), (0.02, "unknown", -0.1)])
def test_a_movement_that_cannot_be_is_refused(bad: tuple[float, str, float]) -> None:
    with pytest.raises(OutOfRange):
        size_change(bad[0], 0.02, bad[1], ASH, bad[2], 0.10)
