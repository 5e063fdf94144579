"""What holds for every cut list, tried on lists by chance."""

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, clear_lengths, plan
from tests.tools.cut_lists import INCH, MM, random_problem, rules, sawn_up
from tests.tools.plan_validator import faults, stretches

FEW_MOVES = 60  # enough for every branch of the search, and quick


def _tiers(plan: CutPlan) -> tuple[object, ...]:
    return (
        plan.unplaced_critical,
        plan.unplaced_count,
        plan.sticks_used,
        plan.largest_offcut,
        plan.waste,
        plan.fewest_possible,
        plan.optimal,
    )


@pytest.mark.parametrize("first", range(0, 300, 25))
def test_every_plan_can_be_sawn(first: int) -> None:
    found = {}
    for seed in range(first, first + 25):
        problem = random_problem(seed)
        for moves in (0, FEW_MOVES):
            wrong = faults(problem, plan(problem, moves))
            if wrong:
                found[seed, moves] = wrong
    assert found == {}


@pytest.mark.parametrize("seed", range(400, 404))
def test_long_lists_can_be_sawn(seed: int) -> None:
    problem = random_problem(seed, parts=140, sticks=36)
    assert faults(problem, plan(problem, FEW_MOVES)) == []


def test_clear_lengths_agree_with_the_validator() -> None:
    for seed in range(500, 560):
        problem = random_problem(seed)
        for stick in problem.sticks:
            assert list(clear_lengths(stick, problem.rules)) == stretches(stick, problem.rules)


@pytest.mark.parametrize("seed", range(600, 620))
def test_order_of_everything_changes_no_tier(seed: int) -> None:
    problem = random_problem(seed)
    chance = random.Random(seed)
    sticks = [
        replace(stick, lost=tuple(chance.sample(stick.lost, len(stick.lost)))) for stick in problem.sticks
    ]
    mixed = replace(
        problem,
        parts=tuple(chance.sample(problem.parts, len(problem.parts))),
        sticks=tuple(chance.sample(sticks, len(sticks))),
    )
    assert _tiers(plan(mixed, FEW_MOVES)) == _tiers(plan(problem, FEW_MOVES))


@pytest.mark.parametrize("seed", range(620, 640))
def test_splitting_a_line_changes_no_tier(seed: int) -> None:
    problem = random_problem(seed)
    split = tuple(
        replace(part, name=f"{part.name}.{n}", quantity=1)
        for part in problem.parts
        for n in range(part.quantity)
    )
    assert _tiers(plan(replace(problem, parts=split), FEW_MOVES)) == _tiers(plan(problem, FEW_MOVES))


@pytest.mark.parametrize("factor", [Fraction(3), Fraction(1, 7), INCH / MM])
def test_scale_and_unit_change_only_the_lengths(factor: Fraction) -> None:
    for seed in range(640, 648):
        problem = random_problem(seed)
        scaled = CutProblem(
            tuple(replace(part, length=part.length * factor) for part in problem.parts),
            tuple(
                replace(
                    stick,
                    length=stick.length * factor,
                    lost=tuple((a * factor, b * factor) for a, b in stick.lost),
                )
                for stick in problem.sticks
            ),
            type(problem.rules)(
                *(
                    getattr(problem.rules, name) * factor
                    for name in ("kerf", "end_trim", "margin", "squaring", "least_offcut")
                )
            ),
        )
        small, large = _tiers(plan(problem, FEW_MOVES)), _tiers(plan(scaled, FEW_MOVES))
        assert large[:3] == small[:3]
        assert large[3:5] == tuple(value * factor for value in small[3:5])
        assert large[5:] == small[5:]


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("kerf", ["0", "2.4"])
def test_sticks_cut_up_backwards_are_filled_again(seed: int, kerf: str) -> None:
    """Four sticks sawn up without a remainder: all parts fit again, and the bound says four are needed."""
    chance, saw = random.Random(seed), rules(kerf)
    sticks = tuple(CutStick(f"s{n}", chance.choice([1200, 1800]) * MM) for n in range(4))
    parts = sawn_up(sticks, saw, chance)
    lines = tuple(CutPart(f"p{n}", length, 1) for n, length in enumerate(parts))
    problem = CutProblem(lines, sticks, saw)
    made = plan(problem, moves=3000)
    assert made.unplaced_count == 0
    assert made.sticks_used == made.fewest_possible == 4
    assert made.waste == (len(parts) - 4) * saw.kerf
    assert faults(problem, made) == []


@pytest.mark.parametrize("seed", range(660, 680))
def test_more_moves_never_make_it_worse_than_the_bound_allows(seed: int) -> None:
    """What one plan proves, another must respect."""
    problem = random_problem(seed)
    quick, slow = plan(problem, 0), plan(problem, 300)
    if quick.unplaced_count == slow.unplaced_count and quick.unplaced_critical == slow.unplaced_critical:
        assert slow.fewest_possible == quick.fewest_possible <= min(slow.sticks_used, quick.sticks_used)
    if quick.optimal:
        assert _tiers(slow)[:3] == _tiers(quick)[:3]


def test_equal_input_gives_an_equal_plan() -> None:
    problem = random_problem(700, parts=40, sticks=12)
    assert plan(problem, 200) == plan(problem, 200)
    assert plan(problem, 200, seed=5) == plan(problem, 200, seed=5)


def _relaxed(problem: CutProblem) -> list[CutProblem]:
    """The same list with an easier saw, a sounder stick, or more wood."""
    rules, first = problem.rules, problem.sticks[0]
    return [
        replace(problem, rules=replace(rules, kerf=rules.kerf / 2)),
        replace(problem, rules=replace(rules, end_trim=0 * MM, margin=0 * MM)),
        replace(problem, sticks=(replace(first, lost=()), *problem.sticks[1:])),
        replace(problem, parts=tuple(replace(part, sticks=None) for part in problem.parts)),
    ]


def test_relaxing_a_list_never_worsens_the_best() -> None:
    """Compared where both plans are proved best; an added stick is only held to parts left out."""
    compared = 0
    for seed in range(680, 710):
        problem = random_problem(seed)
        made = plan(problem, FEW_MOVES)
        for easier in _relaxed(problem):
            better = plan(easier, FEW_MOVES)
            if made.optimal and better.optimal:
                compared += 1
                assert better.unplaced_critical <= made.unplaced_critical
                assert (
                    _tiers(better)[1] <= _tiers(made)[1] or better.unplaced_critical < made.unplaced_critical
                )
                if better.unplaced_count == made.unplaced_count:
                    assert better.sticks_used <= made.sticks_used
        more = plan(replace(problem, sticks=(*problem.sticks, CutStick("new", 1800 * MM))), FEW_MOVES)
        if made.optimal and more.optimal:
            assert (more.unplaced_critical, more.unplaced_count) <= (
                made.unplaced_critical,
                made.unplaced_count,
            )
    assert compared > 40
