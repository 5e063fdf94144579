"""Board feet and the allowance for rejects, against figures and libraries from outside."""

from fractions import Fraction
from math import comb

import pytest
from scipy.stats import binom

from bench.core.buying import board_feet, chance, planks_for
from bench.core.quantities import INCH

FOOT = 12 * INCH

# Thickness, width and length in inches, board feet as printed. Common practice, no source: 144 cubic inches
# to the board foot, and a board thinner than 1 in is sold as 1 in.
TALLY = [
    ("1", "6", "96", "4.000"),
    ("5/4", "11/2", "120", "5.729"),
    ("1", "12", "12", "1.000"),  # the definition: a foot square and an inch thick
    ("2", "4", "96", "5.333"),
    ("3/4", "6", "96", "4.000"),  # as 1 in
    ("1/4", "12", "12", "1.000"),
]


@pytest.mark.parametrize(("thickness", "width", "length", "printed"), TALLY)
def test_board_feet_as_a_tally_prints_them(thickness: str, width: str, length: str, printed: str) -> None:
    found = board_feet(*(Fraction(side) * INCH for side in (thickness, width, length)))
    assert abs(found - Fraction(printed)) <= Fraction(1, 2000), "half of the last digit printed"


def test_board_feet_are_volume_where_no_plank_is_thin() -> None:
    """A board foot is a twelfth of a cubic foot, exactly."""
    sides = Fraction(7, 3) * INCH, Fraction(29, 7) * INCH, Fraction(1001, 10) * INCH
    assert board_feet(*sides) == 12 * sides[0] * sides[1] * sides[2] / FOOT**3


@pytest.mark.parametrize("rate", [Fraction(1, 10), Fraction(3, 10), Fraction(1, 2), Fraction(17, 20)])
def test_the_chance_is_scipy_s_survival_function(rate: Fraction) -> None:
    """scipy.stats.binom.sf(k - 1, n, p) is P(at least k of n); double precision, so 1e-12 is granted."""
    for planks in range(1, 41):
        for needed in range(planks + 2):
            theirs = binom.sf(needed - 1, planks, float(1 - rate))
            assert float(chance(needed, planks, rate)) == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize("rate", [Fraction(1, 50), Fraction(1, 7), Fraction(2, 5), Fraction(9, 10)])
def test_the_planks_to_order_are_the_fewest_by_scipy(rate: Fraction) -> None:
    for needed in range(1, 31):
        ordered = planks_for(needed, rate)
        assert ordered is not None
        assert binom.sf(needed - 1, ordered, float(1 - rate)) >= 0.9
        assert binom.sf(needed - 1, ordered - 1, float(1 - rate)) < 0.9


def test_by_hand() -> None:
    """One good plank of which half are rejected: 1 - (1/2)^n >= 9/10 from n = 4 on."""
    assert [chance(1, planks, Fraction(1, 2)) for planks in (3, 4)] == [Fraction(7, 8), Fraction(15, 16)]
    assert planks_for(1, Fraction(1, 2)) == 4


def test_a_promise_met_exactly_is_met() -> None:
    """One in ten is rejected: one plank passes with exactly nine tenths, which no float would say."""
    assert chance(1, 1, Fraction(1, 10)) == Fraction(9, 10)
    assert planks_for(1, Fraction(1, 10)) == 1


def test_exact_against_whole_number_sums() -> None:
    """The binomial sum written out with math.comb, for a number of planks far beyond a float's digits."""
    good, bad, planks, needed = 7, 13, 400, 150
    ways = sum(comb(planks, i) * good**i * bad ** (planks - i) for i in range(needed, planks + 1))
    assert chance(needed, planks, Fraction(bad, good + bad)) == Fraction(ways, (good + bad) ** planks)


def test_the_ends() -> None:
    assert planks_for(5, None) == 5, "no rate: nothing is added"
    assert planks_for(5, Fraction(0)) == 5, "none rejected: nothing is added"
    assert planks_for(5, Fraction(1)) is None, "all rejected: no number is enough"
    assert planks_for(0, Fraction(1, 2)) == 0
    assert chance(3, 2, Fraction(1, 2)) == 0, "more than there are"
    assert chance(2, 9, Fraction(1)) == 0
    assert chance(2, 2, Fraction(0)) == 1
