"""The first three tiers against a constraint solver that knows nothing of our search.

Oracle: the CP-SAT solver of OR-Tools on the plain assignment model (how many of each part lie in each clear
length, which sticks are open), solved tier after tier to proved optimality. Clear lengths come from the
validator, not from the planner. The lists are invented, by chance with fixed seeds.
"""

from fractions import Fraction
from math import lcm

import pytest
from ortools.sat.python import cp_model

from bench.core.cutting import CutProblem, plan
from tests.tools.cut_lists import random_problem
from tests.tools.plan_validator import faults, stretches
from tests.tools.solver import least

SEEDS = range(100, 116)


def best_tiers(problem: CutProblem) -> tuple[int, ...]:
    """Critical parts out, parts out, sticks opened: the best possible."""
    rules = problem.rules
    clear = {stick.tag: [b - a for a, b in stretches(stick, rules)] for stick in problem.sticks}
    rough = {part.name: part.length + rules.squaring for part in problem.parts}
    lengths = [rules.kerf, *rough.values(), *(length for row in clear.values() for length in row)]
    scale = lcm(*(Fraction(length).denominator for length in lengths))
    model = cp_model.CpModel()
    opened = {tag: model.NewBoolVar(tag) for tag in clear}
    load: dict[tuple[str, int], list[cp_model.LinearExpr]] = {}
    out = {}
    for part in problem.parts:
        lying = []
        for tag, row in clear.items():
            for n, length in enumerate(row):
                if (part.sticks is None or tag in part.sticks) and rough[part.name] <= length:
                    many = model.NewIntVar(0, part.quantity, "")
                    lying.append(many)
                    load.setdefault((tag, n), []).append(int((rough[part.name] + rules.kerf) * scale) * many)
        out[part.name] = model.NewIntVar(0, part.quantity, "")
        model.Add(sum(lying) + out[part.name] == part.quantity)
    for (tag, n), terms in load.items():
        model.Add(sum(terms) <= int((clear[tag][n] + rules.kerf) * scale) * opened[tag])
    critical = [out[part.name] for part in problem.parts if part.critical]
    return tuple(least(model, sum(row)) for row in (critical, out.values(), opened.values()))


@pytest.mark.parametrize("seed", SEEDS)
def test_tiers_one_to_three(seed: int) -> None:
    problem = random_problem(seed, parts=6 + seed % 11, sticks=3 + seed % 4)
    made = plan(problem)
    best = best_tiers(problem)
    assert faults(problem, made) == []
    assert (made.unplaced_critical, made.unplaced_count, made.sticks_used) == best
    assert made.fewest_possible <= best[2]


@pytest.mark.parametrize("seed", range(300, 330))
def test_what_is_said_to_be_proved_is_true(seed: int) -> None:
    """Quick packings alone, which are often not the best: a false claim would show."""
    problem = random_problem(seed, parts=12, sticks=5)
    made = plan(problem, moves=0)
    best = best_tiers(problem)
    tiers = (made.unplaced_critical, made.unplaced_count, made.sticks_used)
    assert tiers >= best
    assert not made.optimal or tiers == best
    assert tiers[:2] != best[:2] or made.fewest_possible <= best[2]
