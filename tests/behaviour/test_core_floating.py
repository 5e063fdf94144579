"""The float test and the bases of gravity: properties that hold for any stick, and what is refused."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from core_cases import ASH, SPRUCE, WOODS, reading, typed
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.core import floating, water, waterline, weighing
from bench.core.errors import Missing, OutOfRange, Refusal
from bench.core.moisture import by_oven, density_at, gravity_at, movement
from bench.core.records import FloatReading, TimedMark

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
@given(st.integers(20, 75), conditions, species, st.sampled_from([1, 2, 3, 4]), st.integers(0, 20))
def test_the_minimum_line_read_back_is_the_minimum(
    step: int, under: Conditions, wood: Any, faces: int, lean: int
) -> None:
    """A stick whose centreline floats at the line is exactly at the limit, leaning or not."""
    limit = step / 100
    mark = floating.mark_of(limit, reading(1.0, **under), wood)
    off = lean / 100
    marks = {
        1: (mark,),
        2: (mark - off, mark + off),
        3: (mark - off, mark + off / 2, mark + off),
        4: (mark - off, mark + off / 2, mark + off, mark - off / 2),
    }[faces]
    assume(0.5 < mark <= 9.5)
    found = floating.read(reading(*marks, **under), wood)
    assert found.sg_oven_dry == pytest.approx(limit, rel=1e-12)
    assert found.disagreement == 0


@quick
@given(hundredths, st.integers(1, 40), st.integers(-40, 40))
def test_three_faces_are_four_without_the_last(mark: float, one: int, other: int) -> None:
    """The waterline is a plane: the face that was not read stands as far off as the one across from it."""
    assume(mark < 9)
    first, second = one / 100, other / 100
    four = reading(mark + first, mark + second, mark - first, mark - second)
    three = replace(four, marks=four.marks[:3])
    assert waterline.centre(three.marks) == pytest.approx(waterline.centre(four.marks), abs=1e-12)
    assert waterline.tilt(three) == pytest.approx(waterline.tilt(four), abs=1e-9)
    assert sum(waterline.weights(3)) == sum(waterline.weights(4)) == 1


@quick
@given(hundredths, moistures, species, st.sampled_from(["0", "45", "60", "75"]))
def test_the_correction_vanishes_as_the_side_grows(mark: float, moisture: str, wood: Any, angle: str) -> None:
    """With length ten sides the pull falls with the square of the side."""
    sides_m = ("0.0127", "0.0254", "0.0508", "1.016")
    pulls = [
        floating.read(reading(mark, side=side, angle=angle, moisture=moisture), wood).meniscus_bias
        for side in sides_m
    ]
    assert pulls == sorted(pulls, reverse=True)
    assert pulls[0] / pulls[1] == pytest.approx(4) and pulls[1] / pulls[2] == pytest.approx(4)
    assert pulls[3] < 1e-5 and pulls[3] > 0


@quick
@given(st.floats(90.5, 180), hundredths)
def test_wood_that_sheds_water_is_denser_than_it_floats(angle: float, mark: float) -> None:
    lifted = floating.read(reading(mark, angle=repr(angle)), SPRUCE)
    assert lifted.meniscus_bias < 0
    assert lifted.as_floated > floating.read(reading(mark, angle="90"), SPRUCE).as_floated


# --- later waterlines ----------------------------------------------------------------------------------


def over_time(*later: tuple[float, float], first: float = 5.0, seconds: float = 25.0) -> FloatReading:
    """A reading with later waterlines: (seconds, mark)."""
    timed = tuple(TimedMark(at, mark) for at, mark in later)
    return replace(reading(first, seconds=seconds), timed=timed)


@quick
@given(st.integers(100, 800), st.integers(1, 30), st.lists(st.integers(31, 9000), min_size=1, max_size=8))
def test_the_zero_mark_lies_below_a_stick_that_sinks(start: int, rate: int, times: list[int]) -> None:
    zero, drift = start / 100, rate / 1000
    later = [(float(at), zero + drift * at**0.5) for at in sorted(set(times))]
    found = floating.read(over_time(*later, first=zero + drift * 5), SPRUCE) if later[-1][1] <= 10 else None
    assume(found is not None)
    assert found is not None
    assert found.zero_mark == pytest.approx(zero, abs=1e-9)
    assert found.drift == pytest.approx(drift, abs=1e-9)
    assert found.fraction == pytest.approx((zero + drift * 5) / 10)
    assert found.fraction_zero == pytest.approx(zero / 10)
    assert dict(found.shares)["soaking"] == 0
    assert not found.rises


@quick
@given(st.sampled_from([(5.0,), (5.0, 4.9), (5.0, 4.95, 4.9), (5.0, 4.95, 4.9, 4.85)]), st.integers(1, 30))
def test_a_stick_that_rises_is_read_as_if_it_had_been_read_once(faces: tuple[float, ...], rise: int) -> None:
    """Wood gives no water to the bath: later waterlines that lie higher out say nothing."""
    plain = replace(reading(*faces), seconds=25.0)
    timed = (TimedMark(100.0, 5.0 - rise / 100), TimedMark(400.0, 5.0 - rise / 50))
    found = floating.read(replace(plain, timed=timed), SPRUCE)
    once = floating.read(plain, SPRUCE)
    assert found.rises and not once.rises
    assert replace(found, rises=False) == once
    assert dict(found.shares)["soaking"] > 0


def test_later_waterlines_move_the_centreline_of_all_faces() -> None:
    """The drift of the first face holds for the others: zero mark = a + centre - first mark."""
    timed = (TimedMark(100.0, 5.1),)
    one = floating.read(replace(reading(5.0, seconds=25), timed=timed), SPRUCE)
    four = floating.read(replace(reading(5.0, 4.9, 4.6, 4.7, seconds=25), timed=timed), SPRUCE)
    assert one.centre - one.zero_mark == pytest.approx(0.1)  # k = 0.1 / 5, root of 25 s is 5
    assert four.centre - four.zero_mark == pytest.approx(0.1)
    assert four.zero_mark == pytest.approx(4.7)


def test_readings_that_scatter_widen_the_band() -> None:
    """With three points and more the scatter about the line counts where it is the larger."""
    smooth = floating.read(over_time((100.0, 5.1), (225.0, 5.2)), SPRUCE)
    rough = floating.read(over_time((100.0, 5.4), (225.0, 5.2)), SPRUCE)
    assert dict(rough.shares)["reading"] > 2 * dict(smooth.shares)["reading"]


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
    found = [floating.read(reading(*[mark] * faces, **under), wood) for faces in (1, 2, 3, 4)]
    one, two, three, four = (result.uncertainty for result in found)
    # The middle one of three has no face across from it: it shows the lean and adds nothing to the depth.
    assert one > two > four and three == pytest.approx(two)
    assert [result.sg_oven_dry for result in found] == pytest.approx([found[0].sg_oven_dry] * 4)


@quick
@given(hundredths, conditions, species, st.integers(2, 100))
def test_the_number_of_marks_is_only_a_scale(mark: float, under: Conditions, wood: Any, count: int) -> None:
    ten = floating.read(reading(mark, **under), wood)
    other = floating.read(reading(mark / 10 * count, count=count, **under), wood)
    assert other.sg_oven_dry == pytest.approx(ten.sg_oven_dry, rel=1e-12)


@quick
@given(hundredths, sides, st.integers(2, 100))
def test_a_reading_is_no_sharper_than_half_a_millimetre(mark: float, side: str, count: int) -> None:
    """A tenth of a mark, and never less than 0.5 mm however fine the marks: what an eye at a wet edge can
    tell is common practice, no source.
    """
    taken = reading(mark / 10 * count, count=count, side=side, moisture="0")
    found = floating.read(taken, SPRUCE)
    half_m = dict(found.shares)["reading"] * 3**0.5 / (found.water_density / 1000) * taken.length.si
    assert half_m == pytest.approx(max(0.1 * taken.length.si / count, 0.0005), rel=1e-4)


def dry_gravity(as_floated: float, moisture: float, shrinkage: float) -> float:
    """wh282 eq. 4-9, 4-10, p. 4-10, in one line; no shrinkage above 30 percent."""
    there = shrinkage * max(0.0, 1 - moisture / 0.30)
    return as_floated / (1 + moisture) * (1 - there) / (1 - shrinkage)


@pytest.mark.parametrize("moisture", ["0", "0.004", "0.10", "0.12", "0.295", "0.30"])
@pytest.mark.parametrize("half", [0.010, 0.003])
def test_the_share_of_moisture_is_the_larger_change_to_either_side(moisture: str, half: float) -> None:
    """Not half of both: at 0 and at 30 percent one side is small or nothing and the other counts in full."""
    found = floating.read(reading(5.0, moisture=moisture), SPRUCE, "", half)
    here = float(typed(moisture).exact)
    changes = [
        abs(dry_gravity(found.as_floated, edge, found.shrinkage) - found.sg_oven_dry)
        for edge in (max(0.0, here - half), here + half)
    ]
    assert dict(found.shares)["moisture"] == pytest.approx(max(changes) / 3**0.5)


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
    ("faces", lambda: reading(6.0, 6.0, 6.0, 6.0, 6.0)),
    ("faces", lambda: reading(0.4, 1.9, 1.9)),
    ("faces", lambda: reading(0.4, 1.2, 0.4)),
    ("later waterline", lambda: over_time((25.0, 5.1))),  # not later
    ("later waterline", lambda: over_time((24.0, 5.1))),
    ("later waterline", lambda: over_time((90.0, 5.1), (60.0, 5.0), (90.0, 5.2))),  # twice
    ("later waterline", lambda: over_time((60.0, 10.1))),
    ("later waterline", lambda: over_time((60.0, 0.0))),
    ("later waterline", lambda: over_time((float("nan"), 5.0))),
    ("later waterline", lambda: over_time((90_000.0, 5.1))),
    ("later waterline", lambda: over_time(*((30.0 + at, 5.1) for at in range(21)))),
    ("waterline", lambda: over_time((36.0, 9.9), first=1.0)),  # led back below nothing
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


@pytest.mark.parametrize(
    ("key", "half"), [("sitka_spruce", 0.01), ("red_spruce", 0.075), ("white_spruce", 0.075)]
)
def test_a_recalled_shrinkage_is_trusted_no_more_than_an_estimate(key: str, half: float) -> None:
    """The half width of 0.075 is what the estimate misses printed figures by: held in another test."""
    found = floating.read(reading(5.0), WOODS[key])
    edges = [
        dry_gravity(found.as_floated, found.moisture, edge)
        for edge in (max(0.0, found.shrinkage - half), min(0.30, found.shrinkage + half))
    ]
    expected = abs(edges[1] - edges[0]) / 2 / 3**0.5
    assert dict(found.shares)["shrinkage"] == pytest.approx(expected)
