"""A search that tells how far it is and may be stopped; a list too long by mistake."""

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, plan
from tests.tools.cut_lists import MM, random_planks, random_problem, rules
from tests.tools.plan_validator import faults

MOVES = 2000


def _tiers(plan: CutPlan) -> tuple[int, int, int]:
    return plan.unplaced_critical, plan.unplaced_count, plan.sticks_opened


def _long_list(seed: int) -> CutProblem:
    """A list whose best plan is not proved at once, so that the search goes on."""
    return random_problem(seed, parts=60, sticks=14)


def test_progress_rises_in_small_steps_and_changes_nothing() -> None:
    for seed in range(5):
        problem = _long_list(seed)
        told: list[int] = []
        made = plan(problem, MOVES, progress=told.append)
        assert made == plan(problem, MOVES)
        assert told[0] == 0
        assert told == sorted(told)
        # A search by shares counts what it takes in moves, a proof of some 200 at once: a few thousandths of
        # a second.
        assert all(later - earlier <= 250 for earlier, later in pairwise(told))
        assert told[-1] <= MOVES + 250


def test_one_asked_to_go_on_goes_on() -> None:
    problem = _long_list(3)
    assert plan(problem, MOVES, stop=lambda: False) == plan(problem, MOVES)


@pytest.mark.parametrize("lists", [_long_list, random_planks])
def test_stopped_at_any_time_it_has_a_whole_plan(lists) -> None:
    asked = 0
    for seed in range(8):
        problem = lists(seed)
        first = plan(problem, 0)
        for turns in (0, 1, 3, 8):
            answers = iter([False] * turns)
            made = plan(problem, MOVES, stop=lambda answers=answers: next(answers, True))
            asked += next(answers, True)
            assert faults(problem, made) == []
            assert _tiers(made)[0] <= _tiers(first)[0]
    assert asked > 8


def test_stopped_at_once_it_keeps_what_it_had() -> None:
    problem = _long_list(4)
    known = plan(problem, MOVES)
    made = plan(problem, MOVES, keep=[known], stop=lambda: True)
    assert faults(problem, made) == []
    assert _tiers(made) <= _tiers(known)


def test_stopped_soon_it_makes_no_more_moves() -> None:
    """Asked for the third time it stops: at most two times fifty moves, and a few to come to an end."""
    for seed in range(8):
        told: list[int] = []
        plan(_long_list(seed), MOVES, stop=lambda told=told: len(told) >= 3, progress=told.append)
        assert told[-1] <= 150


def test_ten_thousand_parts_by_mistake() -> None:
    """Two hundred lines of fifty on a thousand sticks: the quick packings place all that can be placed."""
    chance = random.Random(1)
    parts = tuple(CutPart(f"p{n}", chance.randint(60, 900) * MM, 50) for n in range(200))
    sticks = tuple(
        CutStick(f"s{n}", chance.choice([1800, 2400, 3000]) * MM, ((500 * MM, 530 * MM),) if n % 3 else ())
        for n in range(1000)
    )
    problem = CutProblem(parts, sticks, rules(kerf=2, trim=5))
    made = plan(problem, moves=0)
    assert made.placed + made.unplaced_count == 10_000
    short = replace(problem, sticks=sticks[:2])
    assert faults(short, plan(short, moves=0)) == []
    wood = sum(stick.length for stick in sticks)
    used = sum(piece.end - piece.start for row in made.sticks for piece in row.pieces)
    assert used > wood * 9 / 10  # the list is longer than the sticks, so they come near to full
