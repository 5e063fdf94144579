"""Water drawn in while a stick is read, and waterlines led back to no time in the water.

Mass through a face grows with the root of time, A sqrt(t) over its area: the extra depth from the submerged
end is A_L sqrt(t) / rho, from the four sides A_T 4 d sqrt(t) / (rho w). Derived; the coefficients are a
working range from memory, spruce: A_L 0.010 to 0.017, A_T 0.003 to 0.004 kg/(m2 s^0.5).
"""

from dataclasses import replace
from math import sqrt
from random import Random
from statistics import stdev

import pytest
from methods_printed import INCH, LIBRARY, float_stick, printed

from bench.core import floating, water, waterline
from bench.core.records import FloatReading, TimedMark
from bench.core.spread import oven_dry

SPRUCE = LIBRARY.get("sitka_spruce")
END, SIDES = 0.010, 0.003  # A_L, A_T [kg/(m2 s^0.5)]
GREATER = (0.017, 0.004)
SIDE, LENGTH, DEPTH, RHO = INCH / 2, 5 * INCH, 0.42 * 5 * INCH, 998.2


def bias(seconds: float, end: float = END, sides: float = SIDES, depth: float = DEPTH) -> tuple[float, float]:
    """Share of the length by which end and sides let the stick down."""
    by_end = end * sqrt(seconds) / RHO / LENGTH
    return by_end, sides * 4 * depth * sqrt(seconds) / (RHO * SIDE) / LENGTH


UPTAKE = [
    # s, by the end, by the sides; worked out apart from this program
    (10, "0.0002", "0.0013"),
    (30, "0.0004", "0.0022"),
    (60, "0.0006", "0.0031"),
    (240, "0.0012", "0.0062"),
    (600, "0.0019", "0.0097"),
]


@pytest.mark.parametrize(("seconds", "end", "sides"), UPTAKE)
def test_uptake_of_a_half_inch_stick(seconds: int, end: str, sides: str) -> None:
    by_end, by_sides = bias(seconds)
    assert by_end == printed(end)
    assert by_sides == printed(sides)
    # The wet area of the sides is 4 d / w = 16.8 times the end's.
    assert by_sides / by_end == pytest.approx(16.8 * SIDES / END)


@pytest.mark.parametrize(("seconds", "end", "sides"), UPTAKE)
def test_the_allowance_covers_that_uptake(seconds: int, end: str, sides: str) -> None:
    """As floated; the whole allowance is one standard deviation, as uptake lets a stick only down."""
    found = floating.read(replace(float_stick(4.2), seconds=float(seconds)), SPRUCE)
    allowed = dict(found.shares)["soaking"] / oven_dry(1.0, found.moisture, found.shrinkage)
    assert allowed == pytest.approx(floating.SOAK_AT_60_S_HALF_INCH * sqrt(seconds / 60))
    # The lesser pair, as printed, by far; the greater at the line of spruce at its minimum, which floats at
    # 0.383 (anc19 sec. 2.20); the band of it for every depth to 0.85.
    assert allowed > 1.3 * (float(end) + float(sides) - 0.0001)
    assert allowed >= sum(bias(seconds, *GREATER, 0.383 * LENGTH))
    assert 1.96 * allowed >= sum(bias(seconds, *GREATER, 0.85 * LENGTH))
    # And not much more than asked for.
    assert allowed < 1.1 * sum(bias(seconds, *GREATER))
    thick = floating.read(replace(float_stick(4.2, side="1"), seconds=float(seconds)), SPRUCE)
    assert dict(thick.shares)["soaking"] == pytest.approx(dict(found.shares)["soaking"] / 2)


def soaking(
    *times: float, marks: tuple[float, ...] = (4.2,), noise: float = 0, seed: int = 0
) -> FloatReading:
    """A stick that draws in water, read at each time; the faces at the first, the first face at all."""
    random = Random(seed)

    def seen(mark: float, seconds: float) -> float:
        return mark + 10 * sum(bias(seconds)) + random.gauss(0, noise)

    timed = tuple(TimedMark(at, seen(marks[0], at)) for at in times[1:])
    first = tuple(seen(mark, times[0]) for mark in marks)
    plain: FloatReading = float_stick(*first)
    return replace(plain, seconds=times[0], timed=timed)


FACES = [(4.2,), (4.3, 4.1), (4.3, 4.25, 4.1), (4.3, 4.25, 4.1, 4.15)]


@pytest.mark.parametrize("marks", FACES)
@pytest.mark.parametrize("times", [(0, 60), (10, 240), (30, 60, 240), (5, 45, 180, 600, 3600)])
def test_the_zero_mark_comes_back(marks: tuple[float, ...], times: tuple[float, ...]) -> None:
    found = floating.read(soaking(*times, marks=marks), SPRUCE)
    assert found.zero_mark == pytest.approx(4.2, abs=1e-9)
    assert found.fraction_zero == pytest.approx(0.42, abs=1e-10)
    assert found.drift == pytest.approx(10 * sum(bias(1)), abs=1e-9)
    assert found.fraction == pytest.approx(0.42 + sum(bias(times[0])), abs=1e-9)
    assert dict(found.shares)["soaking"] == 0
    plain = floating.read(replace(float_stick(*marks)), SPRUCE)
    assert found.sg_oven_dry == pytest.approx(plain.sg_oven_dry, abs=1e-9)


def by_determinants(points: list[tuple[float, float]]) -> tuple[float, float]:
    """Intercept and slope of the least-squares line by Cramer's rule on the normal equations."""
    n = len(points)
    x, y = sum(p for p, _ in points), sum(q for _, q in points)
    xx, xy = sum(p * p for p, _ in points), sum(p * q for p, q in points)
    whole = n * xx - x * x
    return (y * xx - x * xy) / whole, (n * xy - x * y) / whole


@pytest.mark.parametrize("seed", range(8))
def test_the_line_is_the_least_squares_line(seed: int) -> None:
    taken = soaking(5, 60, 240, 900, 2400, noise=0.02, seed=seed)
    points = [(sqrt(5), taken.marks[0]), *((sqrt(each.seconds), each.mark) for each in taken.timed)]
    start, slope = by_determinants(points)
    assert slope > 0
    found = waterline.uptake(taken)
    assert found.zero_mark == pytest.approx(start, abs=1e-10)
    assert found.drift == pytest.approx(slope, abs=1e-10)
    left = sum((mark - start - slope * root) ** 2 for root, mark in points)
    assert found.scatter == pytest.approx(sqrt(left / 3), abs=1e-10)


@pytest.mark.parametrize("marks", FACES)
@pytest.mark.parametrize("times", [(30, 600), (5, 60, 600), (30, 270, 1080)])
def test_the_error_comes_through_as_it_does_in_a_sample(
    marks: tuple[float, ...], times: tuple[float, ...]
) -> None:
    """Each waterline with an error of its own, twenty thousand times over."""
    noise = floating.READING_HALF_WIDTH / sqrt(3) / 10  # small, so that none of them rises
    quiet = waterline.uptake(soaking(*times, marks=marks))
    random, zeros = Random(20_1), []
    base = soaking(*times, marks=marks)
    for _ in range(20_000):
        noisy = replace(
            base,
            marks=tuple(mark + random.gauss(0, noise) for mark in base.marks),
            timed=tuple(replace(each, mark=each.mark + random.gauss(0, noise)) for each in base.timed),
        )
        found = waterline.uptake(noisy)
        assert not found.rises
        zeros.append(found.zero_mark)
    # The standard deviation of a sample of n is itself sure to 1/sqrt(2 n), here a half percent.
    assert stdev(zeros) == pytest.approx(quiet.gain * noise, rel=0.02)


def test_the_share_of_the_reading_is_that_error() -> None:
    taken = soaking(30, 600, marks=(4.3, 4.1))
    found = floating.read(taken, SPRUCE)
    over = water.density(293.15) / 1000 * oven_dry(1.0, found.moisture, found.shrinkage)
    sd = floating.READING_HALF_WIDTH / sqrt(3) / 10
    assert dict(found.shares)["reading"] == pytest.approx(waterline.uptake(taken).gain * sd * over)
    # By hand: roots r and s, so a = (m_1 s - m_2 r) / (s - r); first face 1/2 + s/(s - r) - 1, second 1/2.
    r, s = sqrt(30), sqrt(600)
    assert waterline.uptake(taken).gain == pytest.approx(
        sqrt((s / (s - r) - 0.5) ** 2 + 0.5**2 + (r / (s - r)) ** 2)
    )
