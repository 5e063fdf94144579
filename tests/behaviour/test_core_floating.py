"""The float test and the bases of gravity: properties that hold for any stick, and what is refused."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, typed
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.core import floating, water, weighing
from bench.core.errors import Missing, OutOfRange, Refusal
from bench.core.moisture import by_oven, density_at, gravity_at, movement

quick = settings(max_examples=60, deadline=None)

# In the units of the bench, so that no number is more precise than a typed one.
hundredths = st.integers(250, 900).map(lambda steps: steps / 100)
moistures = st.integers(0, 300).map(lambda steps: f"{steps}/1000")
baths = st.integers(0, 400).map(lambda steps: f"{27315 + steps * 10}/100")
sides = st.sampled_from(["127/20000", "381/40000", "127/10000", "381/20000", "254/10000"])
angles = st.sampled_from(["none", "", "0", "45", "60", "75", "90"])
species = st.sampled_from([SPRUCE, ASH, WOODS["noble_fir"], WOODS["white_spruce"], WOODS["balsa"]])
conditions = st.fixed_dictionaries({"moisture": moistures, "bath": baths, "side": sides, "angle": angles})
Conditions = dict[str, Any]


@quick
@given(hundredths, hundredths, conditions, species)
def test_deeper_is_denser(one: float, other: float, under: Conditions, wood: Any) -> None:
    assume(one != other)
    low, high = sorted((one, other))
    shallow, deep = (floating.read(reading(mark, **under), wood) for mark in (low, high))
    for name in ("as_floated", "sg_at_moisture", "sg_12", "sg_oven_dry", "sg_green", "low", "high"):
        assert getattr(shallow, name) < getattr(deep, name), name


@quick
@given(st.integers(20, 75), conditions, species)
def test_a_stick_at_the_mark_of_a_limit_is_at_the_limit(step: int, under: Conditions, wood: Any) -> None:
    limit = step / 100
    mark = floating.mark_of(limit, reading(1.0, **under), wood)
    assume(mark <= 10)
    assert floating.read(reading(mark, **under), wood).sg_oven_dry == pytest.approx(limit, rel=1e-12)


@quick
@given(hundredths, conditions, species)
def test_the_value_lies_in_its_band(mark: float, under: Conditions, wood: Any) -> None:
    found = floating.read(reading(mark, **under), wood)
    assert found.low < found.sg_oven_dry < found.high
    assert found.uncertainty == pytest.approx(sum(share**2 for _, share in found.shares) ** 0.5)
    assert list(found.shares) == sorted(found.shares, key=lambda share: -share[1])


@quick
@given(hundredths, conditions, species)
def test_more_faces_never_widen_the_band(mark: float, under: Conditions, wood: Any) -> None:
    one, two, four = (floating.read(reading(*[mark] * faces, **under), wood) for faces in (1, 2, 4))
    assert one.uncertainty > two.uncertainty > four.uncertainty
    assert one.sg_oven_dry == pytest.approx(two.sg_oven_dry) == pytest.approx(four.sg_oven_dry)


@quick
@given(hundredths, conditions, species, st.integers(2, 100))
def test_the_number_of_marks_is_only_a_scale(mark: float, under: Conditions, wood: Any, count: int) -> None:
    ten = floating.read(reading(mark, **under), wood)
    other = floating.read(reading(mark / 10 * count, count=count, **under), wood)
    assert other.sg_oven_dry == pytest.approx(ten.sg_oven_dry, rel=1e-12)


@quick
@given(hundredths, conditions, species, st.integers(0, 600))
def test_soaking_widens_and_never_moves(mark: float, under: Conditions, wood: Any, seconds: int) -> None:
    soon = floating.read(reading(mark, seconds=seconds, **under), wood)
    late = floating.read(reading(mark, seconds=seconds + 60, **under), wood)
    assert late.uncertainty > soon.uncertainty
    assert late.sg_oven_dry == soon.sg_oven_dry


@quick
@given(hundredths, st.integers(0, 290), species)
def test_wetter_wood_at_one_waterline_is_lighter_wood(mark: float, step: int, wood: Any) -> None:
    dry, wet = (floating.read(reading(mark, moisture=f"{s}/1000"), wood) for s in (step, step + 10))
    assert wet.sg_oven_dry < dry.sg_oven_dry
    assert wet.as_floated == dry.as_floated


@quick
@given(hundredths, moistures, species)
def test_balance_and_float_agree(mark: float, moisture: str, wood: Any) -> None:
    """A stick that weighs what it floats at has the same gravities by both ways."""
    floated = floating.read(reading(mark, moisture=moisture), wood)
    size = (0.02, 0.025, 0.5)
    mass = floated.as_floated * water.DENSITY_4C * size[0] * size[1] * size[2]
    weighed = weighing.weigh(mass, size, float(typed(moisture).exact), wood)
    for name in ("as_floated", "sg_at_moisture", "sg_12", "sg_oven_dry", "sg_green"):
        assert getattr(weighed, name) == pytest.approx(getattr(floated, name), rel=1e-12), name


# --- bases and moisture --------------------------------------------------------------------------------

fractions = st.floats(0, 0.30)
shrinkages = st.floats(0, 0.25)
gravities = st.floats(0.1, 1.2)


@quick
@given(gravities, fractions, fractions, shrinkages)
def test_bases_there_and_back(gravity: float, of: float, to: float, shrinkage: float) -> None:
    there = gravity_at(gravity, of, to, shrinkage)
    assert gravity_at(there, to, of, shrinkage) == pytest.approx(gravity, rel=1e-12)


@quick
@given(gravities, st.integers(0, 300), st.integers(0, 300), st.floats(0.01, 0.25))
def test_a_drier_volume_means_a_greater_gravity(
    gravity: float, one: int, other: int, shrinkage: float
) -> None:
    assume(one != other)
    dry, wet = sorted((one / 1000, other / 1000))
    assert gravity_at(gravity, wet, dry, shrinkage) > gravity > gravity_at(gravity, dry, wet, shrinkage)


@quick
@given(gravities, fractions, fractions, fractions, shrinkages)
def test_bases_by_way_of_a_third(gravity: float, of: float, by: float, to: float, shrinkage: float) -> None:
    straight = gravity_at(gravity, of, to, shrinkage)
    assert gravity_at(gravity_at(gravity, of, by, shrinkage), by, to, shrinkage) == pytest.approx(straight)


@quick
@given(st.floats(0.001, 10), st.floats(0, 2))
def test_moisture_by_oven_there_and_back(dry_kg: float, moisture: float) -> None:
    assert by_oven(dry_kg * (1 + moisture), dry_kg) == pytest.approx(moisture, abs=1e-12)


@quick
@given(gravities, fractions)
def test_density_is_dry_mass_and_water(gravity: float, moisture: float) -> None:
    assert density_at(gravity, moisture) / 1000 / (1 + moisture) == pytest.approx(gravity)


@quick
@given(st.floats(0.001, 1), fractions, fractions)
def test_wood_moves_back(size: float, start: float, end: float) -> None:
    there = movement(size, 0.25, start, end)
    assert there == pytest.approx(-movement(size, 0.25, end, start), abs=1e-15)
    assert (there > 0) == (end > start) or there == 0


# --- refusals ------------------------------------------------------------------------------------------

REFUSED: list[tuple[str, Callable[[], Any]]] = [
    ("waterline", lambda: reading(0.0)),
    ("waterline", lambda: reading(-1.0)),
    ("waterline", lambda: reading(10.01)),
    ("waterline", lambda: reading(float("nan"))),
    ("waterline", lambda: reading(6.0, count=5)),
    ("waterline", lambda: reading(0.1, side="127/20000", angle="0")),  # less than the pull of the meniscus
    ("faces", lambda: reading()),
    ("faces", lambda: reading(6.0, 6.0, 6.0)),
    ("number of marks", lambda: reading(1.0, count=1)),
    ("number of marks", lambda: reading(1.0, count=101)),
    ("moisture", lambda: reading(6.0, moisture="301/1000")),
    ("moisture", lambda: reading(6.0, moisture="-1/1000")),
    ("water temperature", lambda: reading(6.0, bath="27314/100")),
    ("water temperature", lambda: reading(6.0, bath="31316/100")),
    ("side", lambda: reading(6.0, side="0")),
    ("side", lambda: reading(6.0, side="-1")),
    ("side", lambda: reading(6.0, side="0.0059")),
    ("length", lambda: replace(reading(6.0), length=typed("0.0127"))),
    ("length", lambda: replace(reading(6.0), length=typed("0.40"))),
    ("faces", lambda: reading(0.4, 0.4, 1.9, 1.9)),
    ("time in the water", lambda: reading(6.0, seconds=-1)),
    ("contact angle", lambda: reading(6.0, angle="181")),
    ("contact angle", lambda: reading(6.0, angle="-1")),
]


@pytest.mark.parametrize(("field", "make"), REFUSED)
def test_readings_that_cannot_be(field: str, make: Callable[[], Any]) -> None:
    with pytest.raises(OutOfRange) as refused:
        floating.read(make(), SPRUCE)
    assert refused.value.quantity == field
    assert "\n" not in refused.value.message and field in refused.value.message


def test_a_wood_without_shrinkage_or_green_gravity() -> None:
    bare = replace(SPRUCE, figures=())
    with pytest.raises(Missing, match="shrinkage_volumetric"):
        floating.read(reading(4.0), bare)


def test_the_shrinkage_says_where_it_comes_from() -> None:
    table = {key: floating.read(reading(4.0), WOODS[key]).shrinkage_from for key in WOODS}
    assert table["sitka_spruce"] == "table"
    assert table["red_spruce"] == "memory"
    assert table["white_spruce"] == "estimate"


@pytest.mark.parametrize("angle", ["abc", "nan", "181", "-1"])
def test_an_angle_that_cannot_be_is_refused_before_it_is_kept(angle: str) -> None:
    with pytest.raises(Refusal, match="contact angle"):
        floating.check(reading(4.0, angle=angle))


def test_a_recalled_or_estimated_shrinkage_widens_the_band() -> None:
    """Wider where the figure was recalled, widest where it is only estimated."""
    shares = {
        key: dict(floating.read(reading(5.0), WOODS[key]).shares)["shrinkage"]
        for key in ("sitka_spruce", "red_spruce", "white_spruce")
    }
    assert shares["sitka_spruce"] < shares["red_spruce"] < shares["white_spruce"]
