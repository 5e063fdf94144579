"""Resizing: there and back, what a match promises, what is held, and never to the weak side."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import SPRUCE, WOODS
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.core import strength
from bench.core.errors import Clash, Missing, OutOfRange
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
COMPLETE = [wood for wood in (strength.of(WOODS[key]) for key in KEYS) if len(wood.strengths) == 7]
INCH = 0.0254

woods = st.sampled_from(COMPLETE)
sides = st.integers(8, 256).map(lambda steps: steps / 64 * INCH)
sections = st.builds(Section, sides, sides)
single = st.sampled_from([match for match in MATCHES if match not in ("all", "own")])
matches = st.sampled_from([match for match in MATCHES if match != "own"])
holds = st.sampled_from(["", "width", "depth"])
lengths = st.none() | st.integers(2, 120).map(lambda inches: inches * INCH)
grids = st.sampled_from(
    [Fraction(254, 640_000), Fraction(254, 320_000), Fraction(1, 10_000), Fraction(1, 1000)]
)


def test_there_are_woods_to_try() -> None:
    assert len(COMPLETE) >= 5


def possible(one, other, match: str, hold: str) -> bool:
    """Bearing across the grain goes with the width alone, so that no depth makes up for a softer wood."""
    softer = other.get("bearing") < one.get("bearing")
    return hold != "width" or not (match == "bearing" or (match == "all" and softer))


@quick
@given(sections, woods, woods, single, holds, lengths)
def test_there_and_back(plan, one, other, match, hold, length) -> None:
    assume(possible(one, other, match, hold))
    there = resize(plan, one, other, match, hold, length)
    back = resize(there.exact, other, one, match, hold, length)
    assert back.exact.width == pytest.approx(plan.width, rel=1e-9)
    assert back.exact.depth == pytest.approx(plan.depth, rel=1e-9)


@quick
@given(sections, woods, woods, single, holds, lengths)
def test_what_is_matched_is_equal(plan, one, other, match, hold, length) -> None:
    assume(possible(one, other, match, hold))
    resized = resize(plan, one, other, match, hold, length)
    assert resized.ratios[match] == pytest.approx(1, rel=1e-9)
    assert resized.governs == match
    assert match not in resized.weaker


@quick
@given(sections, woods, woods, holds, lengths)
def test_all_is_weaker_in_nothing_and_no_heavier_than_it_must_be(plan, one, other, hold, length) -> None:
    assume(possible(one, other, "all", hold))
    resized = resize(plan, one, other, "all", hold, length)
    assert resized.weaker == ()
    assert min(resized.ratios[name] for name in CAPACITIES) == pytest.approx(1, rel=1e-9)
    assert resized.ratios[resized.governs] == pytest.approx(1, rel=1e-9)
    free = {"width": "depth", "depth": "width"}.get(hold, "")
    slighter = resized.exact.scaled(1 - 1e-6, free)
    assert ratio(resized.governs, plan, slighter, one, other, length) < 1 - 1e-7
    assert all(resized.shop_ratios[name] >= 1 - 1e-8 for name in CAPACITIES)


@quick
@given(sections, woods, woods, matches, lengths, st.sampled_from(["width", "depth"]))
def test_hold_keeps_that_side(plan, one, other, match, length, hold) -> None:
    assume(possible(one, other, match, hold))
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
    assume(possible(one, other, match, hold))
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
    # Of bearing at a held width the match says nothing about the depth, which stays.
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


@pytest.mark.parametrize("name", ["bending", "stiffness", "compression", "shear", "toughness", "bearing"])
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


# --- what more can be asked ----------------------------------------------------------------------------


@quick
@given(sections, woods, woods, st.lists(st.sampled_from(CAPACITIES), min_size=1, unique=True), lengths)
def test_an_own_set_is_the_largest_of_its_matches(plan, one, other, own, length) -> None:
    resized = resize(plan, one, other, "own", "", length, own=tuple(own))
    each = {name: resize(plan, one, other, name, "", length).side_factor for name in own}
    assert resized.side_factor == pytest.approx(max(each.values()), rel=1e-9)
    assert set(resized.wanted) == set(own) and resized.governs in own
    assert min(resized.ratios[name] for name in own) == pytest.approx(1, rel=1e-9)


@quick
@given(sections, woods, woods, matches, lengths, st.sampled_from(["width", "depth"]), st.floats(0.5, 2))
def test_a_side_is_held_at_what_was_measured(plan, one, other, match, length, hold, share) -> None:
    held = share * getattr(plan, hold)
    try:
        resized = resize(plan, one, other, match, hold, length, held_at=held)
    except Clash:
        # Only the width bears, so nothing else is out of reach of a rectangle.
        assert match in ("bearing", "all") and hold == "width"
        return
    assert getattr(resized.exact, hold) == held
    assert float(resized.shop[hold == "depth"]) == pytest.approx(held, abs=2e-8)
    if match not in ("all", "bearing"):
        assert resized.ratios[match] == pytest.approx(1, rel=1e-9)


@quick
@given(
    sections, woods, woods, matches, lengths, st.sampled_from(["width", "depth"]), st.floats(0.5, 1.5), grids
)
def test_a_cap_is_kept_and_loses_nothing(plan, one, other, match, length, side, share, grid) -> None:
    free = resize(plan, one, other, match, "", length, grid)
    cap = share * getattr(free.exact, side)
    try:
        capped = resize(plan, one, other, match, "", length, grid, cap_side=side, cap=cap)
    except Clash as clash:
        assert clash.quantity == "cap" and match in ("bearing", "all") and side == "width" and share < 1
        return
    assert getattr(capped.exact, side) <= cap * (1 + 1e-9)
    assert float(capped.shop[side == "depth"]) <= cap + 2e-8
    if share > 1:
        assert (capped.exact, capped.capped) == (free.exact, False)
    elif share < 1:
        assert capped.capped and getattr(capped.exact, side) == pytest.approx(cap, rel=1e-12)
    assert all(capped.ratios[name] >= 1 - 1e-9 for name in capped.wanted)
    assert all(capped.shop_ratios[name] >= 1 - 1e-7 for name in capped.wanted)
    assert min(capped.ratios[name] for name in capped.wanted) == pytest.approx(1, rel=1e-9)


@quick
@given(sections, woods, woods, matches, lengths, st.lists(st.integers(4, 600), min_size=1, max_size=9))
def test_shop_sizes_are_taken_off_the_list(plan, one, other, match, length, steps) -> None:
    sizes = tuple(Fraction(step * 254, 640_000) for step in steps)
    exact = resize(plan, one, other, match, "", length)
    largest = max(exact.exact.width, exact.exact.depth)
    try:
        resized = resize(plan, one, other, match, "", length, sizes=sizes)
    except OutOfRange as refused:
        assert refused.quantity == "sizes" and float(max(sizes)) < largest
        return
    for shop, side in zip(resized.shop, (exact.exact.width, exact.exact.depth), strict=True):
        assert shop in sizes and float(shop) >= side * (1 - 2e-9)
        assert all(float(size) < side for size in sizes if size < shop)


@quick
@given(sections, woods, woods, matches, lengths, grids)
def test_what_rounding_costs_is_its_weight(plan, one, other, match, length, grid) -> None:
    resized = resize(plan, one, other, match, "", length, grid)
    assert resized.weight_cost == pytest.approx(resized.shop_ratios["weight"] / resized.ratios["weight"])
    product = 1.0
    for cost in resized.weight_costs.values():
        assert cost >= 1 - 1e-8
        product *= cost
    assert product == pytest.approx(resized.weight_cost)


@pytest.mark.parametrize(
    ("kind", "field", "changes"),
    [
        (Missing, "own", {"match": "own"}),
        (OutOfRange, "own", {"match": "own", "own": ("bending", "looks")}),
        (OutOfRange, "own", {"match": "own", "own": ("weight",)}),
        (Clash, "held at", {"held_at": 0.02}),
        (OutOfRange, "cap", {"cap": 0.02}),
        (OutOfRange, "cap", {"cap_side": "width"}),
        (OutOfRange, "cap", {"cap_side": "width", "cap": 0.0}),
        (Clash, "cap", {"cap_side": "width", "cap": 0.01, "hold": "width"}),
        (Clash, "cap", {"cap_side": "depth", "cap": 0.001, "hold": "width"}),
        (Clash, "hold", {"match": "bearing", "hold": "width"}),
        (OutOfRange, "width", {"held_at": -0.02, "hold": "width"}),
        (OutOfRange, "sizes", {"sizes": (Fraction(1, 1000),)}),
        (OutOfRange, "sizes", {"sizes": (Fraction(0), Fraction(1))}),
        (Clash, "figures", {"use_wood": strength.aircraft(WOODS["white_ash"]), "plan_wood": None}),
    ],
)
def test_what_more_cannot_be_asked(kind: type, field: str, changes: dict[str, object]) -> None:
    asked: dict[str, object] = {
        "plan": SQUARE,
        "plan_wood": PLAN,
        "use_wood": ASH,
        "match": "bending",
        **changes,
    }
    if asked["plan_wood"] is None:
        # Design values are at 15 percent: the same moisture, and still not the same figures.
        asked["plan_wood"] = strength.of(SPRUCE, 0.15)
    with pytest.raises(kind) as refused:
        resize(**asked)  # type: ignore[arg-type]
    assert refused.value.quantity == field


def test_a_refusal_says_what_would_do() -> None:
    # Derived: bearing goes with the width alone, so no depth makes up for a softer wood.
    with pytest.raises(Clash, match="hold the depth or neither side"):
        resize(SQUARE, ASH, PLAN, "all", "width")
    with pytest.raises(Clash, match=r"width must be 1\.575 in \(40 mm\)"):
        # wh282 table 5-3b: 1,160 over 580 lbf/in2 across the grain, so twice the 20 mm.
        resize(SQUARE, ASH, PLAN, "bearing", cap_side="width", cap=0.03)


# --- aircraft design values ----------------------------------------------------------------------------


def test_design_values_are_compared_with_design_values() -> None:
    spruce, fir = (strength.aircraft(WOODS[key]) for key in ("sitka_spruce", "douglas_fir_coast"))
    assert (spruce.moisture, spruce.basis) == (0.15, strength.AIRCRAFT)
    resized = resize(SQUARE, spruce, fir, "bending")
    assert resized.basis == strength.AIRCRAFT
    # anc18_1951 table 2-6: tension, taken equal to the modulus of rupture, 9,400 and 10,900 lbf/in2.
    assert resized.side_factor == pytest.approx((9400 / 10900) ** (1 / 3))


def test_what_the_aircraft_tables_lack_is_said() -> None:
    with pytest.raises(Missing, match="no aircraft design values"):
        strength.aircraft(WOODS["balsa"])
    hemlock = strength.aircraft(WOODS["western_hemlock"])
    with pytest.raises(Missing, match="aircraft design values"):
        hemlock.get("stiffness")
    resized = resize(SQUARE, hemlock, hemlock, "weight")
    assert {"stiffness", "column", "torsion", "compression", "toughness"} <= set(resized.unknown)


def test_recalled_design_values_keep_their_standing() -> None:
    spruce = strength.aircraft(SPRUCE)
    standing = {name: strength.worst_standing((spruce,), (name,)) for name, _ in spruce.strengths}
    assert standing["stiffness"] == standing["toughness"] == "memory"
    assert standing["bending"] == standing["shear"] == "second-hand"
    assert strength.worst_standing((PLAN,), ("bending",)) == "read"
