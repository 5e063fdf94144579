"""The first three tiers of ripped planks against a constraint solver that knows nothing of our search.

Oracle: the CP-SAT solver of OR-Tools on a model of strips: how many of each part lie in each clear length of
each strip, how wide each strip is, which planks are used; solved tier after tier to proved optimality. Strip
widths and clear lengths come from the validator, not from the planner. The lists are invented, by chance with
fixed seeds.
"""

from dataclasses import replace
from fractions import Fraction
from math import lcm

import pytest
from ortools.sat.python import cp_model

from bench.core.cutting import CutProblem, CutStick, plan
from tests.tools.cut_lists import random_planks
from tests.tools.plan_validator import faults, may_be_cut, stretches, strip
from tests.tools.solver import least

SCALE = 100_000  # every length and width of these lists is whole in hundredths of a millimetre


def best_tiers(problem: CutProblem) -> tuple[int, ...]:
    """Critical parts out, parts out, planks opened that were not started: the best possible."""
    model = cp_model.CpModel()
    lying: dict[str, list[cp_model.IntVar]] = {part.name: [] for part in problem.parts}
    opened = []
    for stick in problem.sticks:
        used = model.NewBoolVar(stick.tag)
        _strips(problem, model, stick, used, lying)
        if not stick.started:
            opened.append(used)
    out = {}
    for part in problem.parts:
        out[part.name] = model.NewIntVar(0, part.quantity, "")
        model.Add(sum(lying[part.name]) + out[part.name] == part.quantity)
    critical = [out[part.name] for part in problem.parts if part.critical]
    return tuple(least(model, sum(row)) for row in (critical, out.values(), opened))


def _strips(
    problem: CutProblem,
    model: cp_model.CpModel,
    stick: CutStick,
    used: cp_model.IntVar,
    lying: dict[str, list[cp_model.IntVar]],
) -> None:
    """The strips of one stick, the widest first, and what lies in them."""
    rules = problem.rules
    able = [(part, strip(part, stick, rules)) for part in problem.parts if may_be_cut(part, stick, rules)]
    widths = [int(width * SCALE) for _, width in able if width]
    whole = int(max(stick.width, stick.depth) * SCALE) if stick.width and stick.depth else 0
    share = int(whole + (rules.rip_kerf - rules.edge) * SCALE) if whole else 0
    rip = int(rules.rip_kerf * SCALE)
    count = max(1, share // (min(widths) + rip)) if widths else 1
    in_use = [model.NewBoolVar("") for _ in range(count)]
    wide = [model.NewIntVar(0, max(share, 10 * SCALE), "") for _ in range(count)]
    for number in range(count):
        model.AddImplication(in_use[number], in_use[number - 1] if number else used)
        if number:
            model.Add(wide[number] <= wide[number - 1])
        for start, end in stretches(stick, rules):
            terms = []
            for part, width in able:
                rough = part.length + rules.squaring
                if rough > end - start:
                    continue
                many, some = model.NewIntVar(0, part.quantity, ""), model.NewBoolVar("")
                model.Add(many <= part.quantity * some)
                takes = share + 1 if width is None else int(width * SCALE) + rip
                if count > 1:
                    model.Add(wide[number] >= takes).OnlyEnforceIf(some)
                lying[part.name].append(many)
                terms.append(int((rough + rules.kerf) * SCALE) * many)
            model.Add(sum(terms) <= int((end - start + rules.kerf) * SCALE) * in_use[number])
    if count > 1:
        model.Add(sum(wide) <= share).OnlyEnforceIf(in_use[1])


def test_the_scale_is_fine_enough() -> None:
    for seed in range(40):
        problem = random_planks(seed)
        rules = problem.rules
        for number in (
            rules.kerf,
            rules.rip_kerf,
            rules.edge,
            rules.planing,
            *(p.length for p in problem.parts),
        ):
            assert SCALE % lcm(Fraction(number).denominator) == 0


@pytest.mark.parametrize("seed", range(200, 224))
def test_tiers_one_to_three(seed: int) -> None:
    problem = random_planks(seed, parts=5 + seed % 8, planks=2 + seed % 3)
    if seed % 3 == 0:
        first = problem.sticks[0]
        problem = replace(problem, sticks=(replace(first, started=True), *problem.sticks[1:]))
    made = plan(problem)
    best = best_tiers(problem)
    assert faults(problem, made) == []
    assert (made.unplaced_critical, made.unplaced_count, made.sticks_opened) == best
    assert made.fewest_possible <= best[2]


@pytest.mark.parametrize("seed", range(300, 330))
def test_what_is_said_to_be_proved_is_true(seed: int) -> None:
    """Quick packings alone, which are often not the best: a false claim would show."""
    problem = random_planks(seed, parts=8, planks=3)
    made = plan(problem, moves=0)
    best = best_tiers(problem)
    tiers = (made.unplaced_critical, made.unplaced_count, made.sticks_opened)
    assert tiers >= best
    assert not made.optimal or tiers == best
    assert tiers[:2] != best[:2] or made.fewest_possible <= best[2]
