"""Slopes of grain: what holds for every pair of faces, and what is refused."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.core import grain
from bench.core.errors import OutOfRange, UnknownName

SLOPES = st.floats(0, 1)
TABLES = [
    *((grain.retained, name, 1 / 5) for name in ("bending", "impact", "compression")),
    *((grain.retained_anc18, name, 1 / 8) for name in ("bending", "stiffness", "compression", "tension")),
]


@given(SLOPES, SLOPES)
def test_together_is_no_gentler_than_either(one: float, two: float) -> None:
    both = grain.combined(one, two)
    assert max(one, two) <= both <= (one + two) * (1 + 1e-12)
    assert both == grain.combined(two, one)
    assert max(one, two) <= grain.judged(one, two) <= both


@given(SLOPES, SLOPES, SLOPES)
def test_a_steeper_face_is_never_judged_gentler(one: float, gentle: float, steep: float) -> None:
    gentle, steep = sorted((gentle, steep))
    assert grain.judged(one, gentle) <= grain.judged(one, steep) * (1 + 1e-12)


def test_straight_grain_keeps_everything() -> None:
    for share, name, _ in TABLES:
        assert share(0.0, name) == 1
    assert grain.combined(0.0, 0.1) == 0.1


@pytest.mark.parametrize(("share", "name", "steepest"), TABLES)
@given(st.data())
def test_a_steeper_slope_never_keeps_more(share, name: str, steepest: float, data: st.DataObject) -> None:
    gentle, steep = sorted(data.draw(st.tuples(st.floats(0, steepest), st.floats(0, steepest))))
    assert 0 < share(steep, name) <= share(gentle, name) <= 1


@pytest.mark.parametrize(("share", "name", "steepest"), TABLES)
def test_nothing_is_carried_on_past_the_table(share, name: str, steepest: float) -> None:
    assert share(steepest, name) < 1
    for slope in (steepest * 1.001, 1.0, inf, nan, -0.01):
        with pytest.raises(OutOfRange):
            share(slope, name)


def test_a_property_that_the_table_lacks_is_refused() -> None:
    with pytest.raises(UnknownName, match="bending, impact, compression"):
        grain.retained(0.05, "tension")
    with pytest.raises(UnknownName, match="stiffness"):
        grain.retained_anc18(0.05, "impact")


@pytest.mark.parametrize("bad", [-0.1, inf, nan])
def test_a_slope_that_is_none_is_refused(bad: float) -> None:
    for put_together in (grain.combined, grain.judged):
        with pytest.raises(OutOfRange):
            put_together(bad, 0.05)
        with pytest.raises(OutOfRange):
            put_together(0.05, bad)
