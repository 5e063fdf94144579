"""Resizing: there and back, what a match promises, what is held, and never to the weak side."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import SPRUCE, WOODS
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import strength
from bench.core.errors import Missing, OutOfRange
from bench.core.resizing import CAPACITIES, MATCHES, Section, column_load, ratio, resize, round_up

quick = settings(max_examples=80, deadline=None)

KEYS = (
    "sitka_spruce",
    "white_ash",
    "douglas_fir_coast",
    "noble_fir",
    "yellow_birch",
    "yellow_poplar",
    "balsa",
)
COMPLETE = [wood for wood in (strength.of(WOODS[key]) for key in KEYS) if len(wood.strengths) == 6]
INCH = 0.0254

woods = st.sampled_from(COMPLETE)
sides = st.integers(8, 256).map(lambda steps: steps / 64 * INCH)
sections = st.builds(Section, sides, sides)
single = st.sampled_from([match for match in MATCHES if match != "all"])
matches = st.sampled_from(MATCHES)
holds = st.sampled_from(["", "width", "depth"])
lengths = st.none() | st.integers(2, 120).map(lambda inches: inches * INCH)
grids = st.sampled_from(
    [Fraction(254, 640_000), Fraction(254, 320_000), Fraction(1, 10_000), Fraction(1, 1000)]
)


def test_there_are_woods_to_try() -> None:
    assert len(COMPLETE) >= 5


@quick
@given(sections, woods, woods, single, holds, lengths)
def test_there_and_back(plan, one, other, match, hold, length) -> None:
    there = resize(plan, one, other, match, hold, length)
    back = resize(there.exact, other, one, match, hold, length)
    assert back.exact.width == pytest.approx(plan.width, rel=1e-9)
    assert back.exact.depth == pytest.approx(plan.depth, rel=1e-9)


@quick
@given(sections, woods, woods, single, holds, lengths)
def test_what_is_matched_is_equal(plan, one, other, match, hold, length) -> None:
    resized = resize(plan, one, other, match, hold, length)
    assert resized.ratios[match] == pytest.approx(1, rel=1e-9)
    assert resized.governs == match
    assert match not in resized.weaker


@quick
@given(sections, woods, woods, holds, lengths)
def test_all_is_weaker_in_nothing_and_no_heavier_than_it_must_be(plan, one, other, hold, length) -> None:
    resized = resize(plan, one, other, "all", hold, length)
    assert resized.weaker == ()
    assert min(resized.ratios[name] for name in CAPACITIES) == pytest.approx(1, rel=1e-9)
    assert resized.ratios[resized.governs] == pytest.approx(1, rel=1e-9)
    assert all(resized.shop_ratios[name] >= 1 - 1e-8 for name in CAPACITIES)


@quick
@given(sections, woods, woods, matches, lengths, st.sampled_from(["width", "depth"]))
def test_hold_keeps_that_side(plan, one, other, match, length, hold) -> None:
    resized = resize(plan, one, other, match, hold, length)
    free = "depth" if hold == "width" else "width"
    assert getattr(resized.exact, hold) == getattr(plan, hold)
    assert getattr(resized.exact, free) == pytest.approx(getattr(plan, free) * resized.side_factor)
    assert resized.area_factor == pytest.approx(resized.side_factor)


@quick
@given(sections, woods, woods, matches, lengths)
def test_both_sides_keep_their_proportion(plan, one, other, match, length) -> None:
    resized = resize(plan, one, other, match, "", length)
    assert resized.exact.width / resized.exact.depth == pytest.approx(plan.width / plan.depth)
    assert resized.area_factor == pytest.approx(resized.side_factor**2)


@quick
@given(sections, woods, woods, matches, holds, lengths, grids)
def test_the_shop_size_is_never_to_the_weak_side(plan, one, other, match, hold, length, grid) -> None:
    resized = resize(plan, one, other, match, hold, length, grid)
    exact_sides = (resized.exact.width, resized.exact.depth)
    for side, shop, exact in zip(("width", "depth"), resized.shop, exact_sides, strict=True):
        if side == hold:
            # A held side has to fit something: it stays as drawn.
            assert float(shop) == pytest.approx(exact, abs=2e-8)
            continue
        assert shop % grid == 0
        assert float(shop) >= exact * (1 - 2e-9)
        assert float(shop - grid) < exact
    for name, share in resized.ratios.items():
        assert resized.shop_ratios[name] >= share * (1 - 1e-7)


@quick
@given(sections, woods, holds, lengths, matches)
def test_a_wood_for_itself_changes_nothing(plan, wood, hold, length, match) -> None:
    resized = resize(plan, wood, wood, match, hold, length)
    assert (resized.exact.width, resized.exact.depth) == pytest.approx((plan.width, plan.depth))
    assert all(share == pytest.approx(1) for share in resized.ratios.values())
    assert resized.weaker == ()
    # A plan on the grid of 1/64 in stays where it is: a flush fit stays flush.
    assert [round(float(side) / INCH * 64, 6) for side in resized.shop] == [
        round(side / INCH * 64, 6) for side in (plan.width, plan.depth)
    ]


@quick
@given(sections, woods, woods, st.floats(1.01, 3), lengths)
def test_a_larger_section_does_more(plan, one, other, factor, length) -> None:
    larger = Section(plan.width * factor, plan.depth * factor)
    for name in ("weight", *CAPACITIES):
        assert ratio(name, plan, larger, one, other, length) > ratio(name, plan, plan, one, other, length)


@quick
@given(sections, woods, st.integers(2, 120))
def test_a_longer_column_carries_less(plan, wood, inches) -> None:
    short, long = (column_load(plan, wood, length * INCH) for length in (inches, inches + 1))
    assert long < short < wood.get("compression") * plan.area


@quick
@given(sections, woods, woods, st.floats(0.5, 1.5))
def test_the_shape_of_a_ratio_does_not_hang_on_the_unit(plan, one, other, unit) -> None:
    scaled = Section(plan.width * unit, plan.depth * unit)
    for match in ("weight", "bending", "stiffness", "all"):
        here, there = resize(plan, one, other, match), resize(scaled, one, other, match)
        assert there.side_factor == pytest.approx(here.side_factor)


@quick
@given(st.fractions(0, 10, max_denominator=100_000), grids)
def test_round_up_is_the_least_multiple(size: Fraction, grid: Fraction) -> None:
    rounded = round_up(size, grid)
    assert rounded % grid == 0
    assert size <= rounded < size + grid


@pytest.mark.parametrize("steps", range(1, 200, 7))
def test_round_up_takes_noise_for_noise(steps: int) -> None:
    grid = Fraction(254, 640_000)
    exact = steps * grid
    for noise in (-1e-12, 0, 1e-12):
        assert round_up(float(exact) * (1 + noise), grid) == exact
    assert round_up(float(exact) * (1 + 1e-6), grid) == exact + grid


# --- refusals ------------------------------------------------------------------------------------------

ASH = strength.of(WOODS["white_ash"])
PLAN = strength.of(SPRUCE)
SQUARE = Section(0.02, 0.02)


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("size", {"plan": Section(0.0, 0.02)}),
        ("size", {"plan": Section(0.02, -0.02)}),
        ("size", {"plan": Section(float("nan"), 0.02)}),
        ("match", {"match": "looks"}),
        ("hold", {"hold": "both"}),
        ("moisture", {"use_wood": strength.of(WOODS["white_ash"], 0.10)}),
        ("grid", {"grid": Fraction(0)}),
        ("free length", {"length_m": 0.0}),
        ("free length", {"length_m": -1.0, "match": "column"}),
    ],
)
def test_what_cannot_be_resized(field: str, changes: dict[str, object]) -> None:
    asked: dict[str, object] = {"plan": SQUARE, "plan_wood": PLAN, "use_wood": ASH, **changes}
    with pytest.raises(OutOfRange) as refused:
        resize(**asked)  # type: ignore[arg-type]
    assert refused.value.quantity == field


@pytest.mark.parametrize("name", ["bending", "stiffness", "compression", "shear", "toughness"])
def test_a_figure_that_is_missing_is_asked_for(name: str) -> None:
    poor = replace(ASH, strengths=tuple(row for row in ASH.strengths if row[0] != name))
    with pytest.raises(Missing) as refused:
        resize(SQUARE, PLAN, poor, name)
    assert refused.value.quantity == name
    others = resize(SQUARE, PLAN, poor, "weight")
    assert name in others.unknown and name not in others.ratios


@pytest.mark.parametrize("name", ["bending", "stiffness", "compression"])
def test_no_weaker_in_anything_needs_the_main_figures(name: str) -> None:
    poor = replace(ASH, strengths=tuple(row for row in ASH.strengths if row[0] != name))
    bare = replace(ASH, strengths=())
    for wood in (poor, bare):
        with pytest.raises(Missing):
            resize(SQUARE, PLAN, wood, "all")
