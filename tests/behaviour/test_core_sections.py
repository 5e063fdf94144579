"""Shapes, layers and what they carry: refusals, one wood in layers is solid, the solver, the working."""

from dataclasses import replace
from math import pi, sqrt

import pytest
from core_cases import SPRUCE
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.core import capacities, strength, working
from bench.core.capacities import CAPACITIES, NAMES, Carrier, capacity, column_of, values
from bench.core.errors import Missing, OutOfRange
from bench.core.laminated import Laminated, Ply, bending_of, transformed
from bench.core.matching import NEVER, solve
from bench.core.quantities import QUANTITIES
from bench.core.sections import SHAPES, Box, IBeam, Rectangle, Round, made
from bench.core.steps import Step
from bench.core.working_section import TITLES
from tests.tools.sections import (
    ASH,
    INCH,
    PLAN,
    beams,
    boxes,
    lengths,
    plies,
    several,
    shapes,
    sides,
    tried,
    woods,
)

quick = settings(max_examples=60, deadline=None)


# --- shapes --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [0.0, -0.02, float("nan"), float("inf")])
@pytest.mark.parametrize(
    ("shape", "sizes"),
    [
        (Rectangle, ("width", "depth")),
        (Round, ("diameter",)),
        (Box, ("width", "depth", "flange", "web")),
        (IBeam, ("width", "depth", "flange", "web")),
    ],
)
def test_a_size_of_nothing_is_refused_by_its_name(shape: type, sizes: tuple[str, ...], size: float) -> None:
    good = {"width": 0.05, "depth": 0.1, "flange": 0.01, "web": 0.005, "diameter": 0.02}
    for name in sizes:
        given_sizes = {each: good[each] for each in sizes} | {name: size}
        with pytest.raises(OutOfRange) as refused:
            shape(**given_sizes)
        assert refused.value.quantity == name


@pytest.mark.parametrize(
    ("field", "shape", "sizes"),
    [
        ("flange", Box, (0.05, 0.1, 0.05, 0.005)),
        ("flange", IBeam, (0.05, 0.1, 0.06, 0.005)),
        ("web", Box, (0.05, 0.1, 0.01, 0.025)),
        ("web", Box, (0.05, 0.1, 0.01, 0.03)),
        ("web", IBeam, (0.05, 0.1, 0.01, 0.05)),
        ("web", IBeam, (0.05, 0.1, 0.01, 0.07)),
    ],
)
def test_walls_that_leave_nothing_are_refused(field: str, shape: type, sizes: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRange, match="must") as refused:
        shape(*sizes)
    assert refused.value.quantity == field


def test_a_shape_is_made_by_its_name() -> None:
    assert made("rectangle", 1.0, 2.0) == made("laminated", 1.0, 2.0) == Rectangle(1.0, 2.0)
    assert made("round", 1.0, 1.0) == Round(1.0)
    assert made("box", 2.0, 6.0, 0.75, 0.125) == Box(2.0, 6.0, 0.75, 0.125)
    assert made("i", 1.0, 4.0, 0.75, 0.25) == IBeam(1.0, 4.0, 0.75, 0.25)
    for name in SHAPES:
        assert made(name, 1.0, 1.0, 0.2, 0.2).name == ("rectangle" if name == "laminated" else name)
    for words, kind, field in (
        (("box", 2.0, 6.0, None, 0.125), Missing, "flange"),
        (("i", 2.0, 6.0, 0.5), Missing, "web"),
        (("round", 2.0, 6.0), OutOfRange, "width"),
        (("tube", 2.0, 6.0), OutOfRange, "shape"),
    ):
        with pytest.raises(kind) as refused:
            made(*words)  # type: ignore[arg-type]
        assert refused.value.quantity == field


@quick
@given(shapes, st.floats(0.2, 5))
def test_scaling_all_sizes_keeps_the_shape(shape, factor) -> None:
    larger = shape.scaled(factor)
    assert {name: size * factor for name, size in shape.sizes.items()} == pytest.approx(dict(larger.sizes))
    assert larger.area == pytest.approx(shape.area * factor**2)
    assert larger.second_moment == pytest.approx(shape.second_moment * factor**4)
    assert larger.torsion_constant == pytest.approx(shape.torsion_constant * factor**4)
    assert larger.form_factor == pytest.approx(shape.form_factor)


@quick
@given(st.one_of(boxes, beams))
def test_a_hollow_section_is_less_than_the_solid_one(shape) -> None:
    solid = Rectangle(shape.width, shape.depth)
    for name in ("area", "second_moment", "second_moment_weak", "first_moment", "torsion_constant"):
        assert 0 < getattr(shape, name) < getattr(solid, name), name
    assert 0.5 < shape.form_factor < 1


def test_a_round_lies_between_the_squares_in_and_round_it() -> None:
    # Derived: a square of the diameter holds it, one of diameter / sqrt 2 stands in it.
    whole = Round(1.0)
    inner, outer = Rectangle(1 / sqrt(2), 1 / sqrt(2)), Rectangle(1.0, 1.0)
    for name in ("area", "second_moment", "first_moment", "torsion_constant"):
        assert getattr(inner, name) < getattr(whole, name) < getattr(outer, name)
    assert whole.least_radius == pytest.approx(1 / 4)


# --- capacities ----------------------------------------------------------------------------------------


def test_the_table_of_capacities_is_whole() -> None:
    section = Rectangle(0.02, 0.03)
    assert tuple(values(section, PLAN)) == NAMES
    for row in CAPACITIES:
        assert QUANTITIES[row.quantity].unit == row.unit
        assert row.formula and row.laminated and row.source
        assert set(row.figures) <= set(strength.STRENGTHS)
    for row in capacities.table(section, PLAN, 0.5):
        assert row.value == capacity(row.name, section, PLAN, 0.5)
        assert row.standing == "read" and "wh282" in row.source


@pytest.mark.parametrize(("shape", "recalled"), [(IBeam, {"bending", "torsion"}), (Box, {"bending"})])
def test_what_is_recalled_of_walls_is_marked_and_nothing_else(shape: type, recalled: set[str]) -> None:
    """The form factor of both, and the junction term in the twist of an I."""
    table = {row.name: row for row in capacities.table(shape(0.02, 0.08, 0.01, 0.005), PLAN)}
    assert {name for name, row in table.items() if row.standing == "memory"} == recalled
    assert table["bending"].form_factor < 1 == table["torsion"].form_factor == table["stiffness"].form_factor


def test_what_is_lacking_is_named_and_absent() -> None:
    poor = replace(ASH, strengths=tuple(row for row in ASH.strengths if row[0] != "stiffness"))
    known = Carrier(poor).known
    assert capacities.lacking(known) == ("stiffness", "column", "torsion")
    for name in ("column", "torsion"):
        with pytest.raises(Missing, match="modulus of elasticity"):
            capacity(name, Rectangle(0.02, 0.02), poor)
    with pytest.raises(OutOfRange, match="bending"):
        capacity("looks", Rectangle(0.02, 0.02), PLAN)


@quick
@given(st.floats(1e2, 1e6))
def test_the_short_column_joins_the_long_one_without_a_jump(crushing) -> None:
    """wh282 eq. 9-25 and 9-27 meet where both give two thirds of the crushing load, in value and in slope."""
    joint = 2 / 3 * crushing
    for hair in (1 - 1e-9, 1.0, 1 + 1e-9):
        assert column_of(crushing, joint * hair) == pytest.approx(joint, rel=1e-8)
    step = 1e-4
    below = (column_of(crushing, joint) - column_of(crushing, joint * (1 - step))) / (joint * step)
    above = (column_of(crushing, joint * (1 + step)) - column_of(crushing, joint)) / (joint * step)
    assert below == pytest.approx(1) and above == pytest.approx(1, rel=1e-3)


@quick
@given(shapes, woods, st.integers(2, 400))
def test_a_column_of_any_shape_carries_less_the_longer_it_is(shape, wood, inches) -> None:
    load = [capacity("column", shape, wood, length * INCH) for length in (inches, inches + 1)]
    euler = pi**2 * wood.get("stiffness") * shape.least_second_moment / (inches * INCH) ** 2
    assert load[1] < load[0] < wood.get("compression") * shape.area
    assert load[0] <= euler * (1 + 1e-12)


# --- layers --------------------------------------------------------------------------------------------


@quick
@given(woods, sides, st.lists(sides, min_size=1, max_size=5), lengths)
def test_layers_of_one_wood_are_the_solid_rectangle(wood, width, thicknesses, length) -> None:
    layers = Laminated(width, tuple(Ply(wood, thickness) for thickness in thicknesses))
    solid = Rectangle(width, sum(thicknesses))
    assert values(layers, wood, length) == pytest.approx(values(solid, wood, length), rel=1e-12)
    assert transformed(layers).neutral == pytest.approx(solid.depth / 2)


@quick
@given(sides, plies)
def test_layers_turned_over_carry_the_same(width, layers) -> None:
    one, other = Laminated(width, layers), Laminated(width, layers[::-1])
    assert values(one, PLAN) == pytest.approx(values(other, PLAN), rel=1e-9)
    assert transformed(one).neutral == pytest.approx(other.depth - transformed(other).neutral)


@quick
@given(sides, plies)
def test_layers_lie_between_their_weakest_and_strongest(width, layers) -> None:
    section = Laminated(width, layers)
    solid = Rectangle(width, section.depth)
    each = [values(solid, ply.wood) for ply in layers]
    for name, value in values(section, PLAN).items():
        if name in ("weight", "stiffness", "bearing", "toughness", "torsion"):
            low, high = min(one[name] for one in each), max(one[name] for one in each)
            assert low * (1 - 1e-9) <= value <= high * (1 + 1e-9), name


def test_a_worked_laminate() -> None:
    """Derived by hand: 1/8 in ash, 1/2 in spruce, 1/8 in ash, all 1 in wide; figures of wh282 table 5-3b.

    EI = 1.57e6 (1/2)^3/12 + 1.74e6 ((3/4)^3 - (1/2)^3)/12 = 16,354 + 43,047 = 59,401 lbf in2.
    Ash at 3/8 in: 15,000 x 59,401 / (1.74e6 x 3/8) = 1,365.5; spruce at 1/4 in: 1,543.7 in-lbf.
    """
    psi, pound = 6894.757293168361, 4.4482216152605
    layers = Laminated(INCH, (Ply(ASH, INCH / 8), Ply(PLAN, INCH / 2), Ply(ASH, INCH / 8)))
    assert transformed(layers).bending / (psi * INCH**4) == pytest.approx(59_401, abs=1)
    moment, first = bending_of(layers)
    assert moment / (pound * INCH) == pytest.approx(1365.5, abs=0.1)
    assert layers.plies[first].wood is ASH


@pytest.mark.parametrize(
    ("kind", "field", "make"),
    [
        (Missing, "layers", lambda: Laminated(0.02, ())),
        (OutOfRange, "layers", lambda: Laminated(0.02, (Ply(ASH, 0.0),))),
        (OutOfRange, "width", lambda: Laminated(-0.02, (Ply(ASH, 0.01),))),
        (
            OutOfRange,
            "moisture",
            lambda: Laminated(0.02, (Ply(ASH, 0.01), Ply(strength.of(SPRUCE, 0.1), 0.01))),
        ),
        (
            OutOfRange,
            "figures",
            lambda: Laminated(
                0.02, (Ply(strength.of(SPRUCE, 0.15), 0.01), Ply(strength.aircraft(SPRUCE), 0.01))
            ),
        ),
    ],
)
def test_layers_that_cannot_be(kind: type, field: str, make) -> None:
    with pytest.raises(kind) as refused:
        make()
    assert refused.value.quantity == field


# --- the solver ----------------------------------------------------------------------------------------


@quick
@given(st.floats(0.05, 20), st.floats(0.2, 4))
def test_the_solver_ends_on_the_strong_side(aim, power) -> None:
    def rises(scale: float) -> float:
        return float((scale**power + 0.3 * scale) / (aim**power + 0.3 * aim))

    found = solve(rises)
    assert found == pytest.approx(aim, rel=1e-10)
    assert rises(found) >= 1 - 1e-12


def test_the_solver_says_never_and_always() -> None:
    assert solve(lambda scale: scale / (scale + 1)) == NEVER
    assert solve(lambda scale: 1 + scale, 0.1) == 0.0


# --- the working ---------------------------------------------------------------------------------------


@quick
@given(shapes, woods, woods, several, lengths)
def test_the_working_names_every_constant_and_capacity(plan, one, other, match, length) -> None:
    found = tried(plan, one, other, match, "", length)
    assume(found is not None)
    steps = working.of_section(found, one, other)
    titles = " / ".join(step.title for step in steps)
    names = {TITLES.get(name, name) for name in found.ratios}
    assert names <= {step.title for step in steps}
    for constant in (
        "area",
        "second moment",
        "section modulus",
        "first moment",
        "torsion constant",
        "radius",
    ):
        assert titles.count(constant) >= 2
    assert ("form factor" in titles) == plan.walled
    assert all(isinstance(step, Step) and step.formula for step in steps)
    assert all(number.quantity in QUANTITIES for step in steps for number in (*step.numbers, step.result))
    for step in steps:
        if step.title in names:
            before, after = (number.value for number in step.numbers[-2:])
            assert step.result.value == pytest.approx(after / before)
    said = " ".join(f"{step.basis} {step.source}" for step in steps)
    assert ("RECALLED" in said) == plan.walled
