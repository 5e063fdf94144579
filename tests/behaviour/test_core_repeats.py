"""Readings together: their mean and band, the one that lies apart, and float against balance."""

from fractions import Fraction
from math import gamma, pi, sqrt
from statistics import NormalDist, mean, stdev
from typing import Any

import pytest
from core_cases import ASH, reading
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import repeats, weighing
from bench.core.records import Species
from tests.tools.any_reading import read

quick = settings(max_examples=40, deadline=None)


def together(*values: float, wood: Species = ASH, **under: Any) -> repeats.Repeats:
    return repeats.together([read(reading(mark, **under), wood) for mark in values])


@quick
@given(st.lists(st.integers(650, 690).map(lambda step: step / 100), min_size=2, max_size=6))
def test_mean_and_spread_are_the_samples(values: list[float]) -> None:
    found = together(*values)
    gravities = [result.sg_oven_dry for result in found.results]
    assert found.mean == found.combined.sg_oven_dry == pytest.approx(mean(gravities))
    assert found.spread == pytest.approx(stdev(gravities), abs=1e-12)
    assert found.combined.sg_12 == pytest.approx(mean(result.sg_12 for result in found.results))


def test_one_reading_stands_for_itself() -> None:
    found = together(6.8)
    assert found.combined is found.results[0]
    assert (found.spread, found.flagged) == (None, (False,))


@pytest.mark.parametrize("count", [2, 3, 10])
def test_only_what_is_new_each_time_averages_out(count: int) -> None:
    one, many = together(6.8), together(*[6.8] * count)
    shares = dict(one.results[0].shares)
    own = shares["reading"] ** 2 + shares["faces"] ** 2
    common = one.combined.uncertainty**2 - own
    # A stick leans its own way every time: no number of readings of one face averages that out.
    assert dict(many.combined.shares)["tilt"] == pytest.approx(shares["tilt"]) and shares["tilt"] > 0
    assert many.combined.uncertainty == pytest.approx(sqrt(own / count + common))
    assert sum(sd**2 for _, sd in many.combined.shares) == pytest.approx(many.combined.uncertainty**2)


def area_of_t(t: float, freedom: int) -> float:
    """Area of Student's law between -t and t, by Simpson's rule over its density."""
    steps = 2000
    heights = [(1 + (t * step / steps) ** 2 / freedom) ** (-(freedom + 1) / 2) for step in range(steps + 1)]
    total = heights[0] + heights[-1] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2])
    return 2 * gamma((freedom + 1) / 2) / gamma(freedom / 2) / sqrt(freedom * pi) * total * t / steps / 3


@pytest.mark.parametrize("count", range(3, 11))
def test_few_readings_are_no_surer_than_they_agree(count: int) -> None:
    """95 percent of Student's law: textbook density; tables print 4.303 at 2 degrees."""
    wide = together(*(6.5 + 0.6 * step / (count - 1) for step in range(count)))
    own = repeats.random_part(wide.combined)
    assert wide.spread is not None
    assert dict(wide.combined.shares)[repeats.SPREAD] == pytest.approx(own)
    student = 1.96 * own / (wide.spread / sqrt(count))
    assert area_of_t(student, count - 1) == pytest.approx(0.95, abs=1e-4)
    assert (round(student, 3) == 4.303) == (count == 3)


def test_a_spread_within_what_a_reader_is_off_is_not_widened() -> None:
    """And of two readings no spread is taken: they are flagged or they agree."""
    assert repeats.SPREAD not in dict(together(6.79, 6.80, 6.81).combined.shares)
    far = together(6.5, 7.1).combined
    assert repeats.SPREAD not in dict(far.shares)
    assert repeats.random_part(far) == pytest.approx(repeats.random_part(together(6.8, 6.8).combined))


def test_one_that_lies_apart_is_flagged_and_kept() -> None:
    found = together(6.8, 7.4, 6.82)
    assert found.flagged == (False, True, False)
    assert found.mean == pytest.approx(mean(result.sg_oven_dry for result in found.results))
    # Of two that differ nobody can say which it is.
    assert together(6.8, 7.4).flagged == (True, True)
    assert together(6.8, 6.81).flagged == (False, False)


def test_the_flag_stands_at_the_99_percent_of_the_difference() -> None:
    """2.576 from the normal law; of two readings the difference has both own parts and one moisture share."""
    assert pytest.approx(NormalDist().inv_cdf(0.995), abs=5e-4) == repeats.FLAG_AT
    one = together(6.8).results[0]
    per_mark = one.sg_oven_dry / 6.8  # no correction: proportional to the mark
    sd = sqrt(2 * repeats.random_part(one) ** 2 + dict(one.shares)["moisture"] ** 2)
    apart = 2.576 * sd / per_mark
    assert together(6.8, 6.8 + 0.97 * apart).flagged == (False, False)
    assert together(6.8, 6.8 + 1.03 * apart).flagged == (True, True)


def weighed(gravity_mark: float, moisture: str = "0.10") -> weighing.WeighResult:
    """A piece of 20 x 20 x 500 mm as dense as a stick that floats at a mark."""
    floats = read(reading(gravity_mark, moisture=moisture), ASH).as_floated
    return weighing.weigh(floats * 0.2, (0.02, 0.02, 0.5), float(Fraction(moisture)), ASH)


def test_what_both_ways_share_is_not_in_their_difference() -> None:
    floated, balance = read(reading(6.8), ASH), weighed(6.8)
    found = repeats.compare(floated, balance)
    own = [sd for name, sd in (*floated.shares, *balance.shares) if name not in ("moisture", "shrinkage")]
    assert found.uncertainty == pytest.approx(sqrt(sum(sd * sd for sd in own)))
    assert found.difference == pytest.approx(0, abs=1e-12)
    assert found.agree
    other = repeats.compare(floated, weighed(6.8, "0.12"))
    assert other.shared == ("shrinkage",) and other.uncertainty > found.uncertainty


def test_they_disagree_beyond_the_band() -> None:
    floated = read(reading(6.8), ASH)
    band = repeats.compare(floated, weighed(6.8)).half_width / floated.sg_oven_dry * 6.8
    assert repeats.compare(floated, weighed(6.8 + 0.98 * band)).agree
    assert not repeats.compare(floated, weighed(6.8 + 1.03 * band)).agree
