"""Scarfed parts on examples worked by hand, and against a constraint solver.

Sources. Lengths: derived, with pencil, from the geometry of the joint (a slope of rise over run, cut across
t, is t / slope long; n lengths share n - 1 joints). Slope 1:12: the steepest for plywood in AC 43.13-1B par.
1-52c and in ANC-18 ch. 4.11; 1:10 for solid wood: from memory of a handbook, used here as a number only.
Oracle: the CP-SAT solver of OR-Tools, which knows nothing of our search; clear lengths come from the
validator. The lists are invented, by chance with fixed seeds.
"""

import random
from fractions import Fraction
from math import lcm

import pytest
from ortools.sat.python import cp_model

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, plan
from bench.core.scarfing import Joint, least_lengths, overlap, scarf
from tests.tools.cut_lists import INCH, MM, random_problem, rules
from tests.tools.plan_validator import faults, stretches


@pytest.mark.parametrize(
    ("run", "thickness", "long"),
    [(12, 8 * MM, 96 * MM), (10, 8 * MM, 80 * MM), (12, Fraction(3, 4) * INCH, 9 * INCH)],
)
def test_what_a_joint_costs(run: int, thickness: Fraction, long: Fraction) -> None:
    wide = 3 * thickness
    assert overlap(Fraction(1, run), wide, thickness, "") == long
    assert overlap(Fraction(1, run), thickness, wide, "") == long
    assert overlap(Fraction(1, run), wide, thickness, "depth") == long
    assert overlap(Fraction(1, run), wide, thickness, "width") == 3 * long


def test_two_lengths_of_48_in_join_to_87() -> None:
    """3/4 in stock at 1:12: 48 + 48 - 9 = 87 in, and not a hair more."""
    joint, stock = Joint(9 * INCH, 12 * INCH), (48 * INCH, 48 * INCH)
    assert least_lengths(87 * INCH, joint, stock) == 2
    assert least_lengths((87 + Fraction(1, 64)) * INCH, joint, stock) is None


JOINT = Joint(overlap(Fraction(1, 10), 20 * MM, 8 * MM, ""), 100 * MM)


@pytest.mark.parametrize(
    ("length", "sticks", "lengths"), [(1200, 2, 1), (2100, 2, 2), (2320, 2, 2), (2321, 2, None), (2321, 3, 3)]
)
def test_how_few_lengths(length: int, sticks: int, lengths: int | None) -> None:
    """Two sticks of 1200 give 2400 - 80 = 2320 mm."""
    assert least_lengths(length * MM, JOINT, [1200 * MM] * sticks) == lengths


def _out(length: Fraction, sticks: int) -> tuple[CutProblem, CutPlan]:
    stock = tuple(CutStick(f"s{n}", 1200 * MM) for n in range(sticks))
    problem = CutProblem((CutPart("spar", length, 1),), stock, rules(kerf="2.5"))
    return problem, plan(problem)


def test_2100_out_of_two_sticks_of_1200() -> None:
    """2100 + 80 = 1200 + 980: the first stick goes whole, the other keeps 1200 - 980 - 2.5 = 217.5 mm."""
    problem, made, (split,) = scarf(*_out(2100 * MM, 2), {"spar": JOINT})
    assert faults(problem, made) == []
    assert sorted(split.lengths) == [980 * MM, 1200 * MM]
    assert (made.placed, made.unplaced_count) == (2, 0)
    assert sorted(b - a for row in made.sticks for a, b in row.offcuts) == [Fraction("0.2175")]


def test_the_longest_that_two_sticks_give() -> None:
    _, _, (split,) = scarf(*_out(2320 * MM, 2), {"spar": JOINT})
    assert split.lengths == (1200 * MM, 1200 * MM)
    problem, made = _out(2321 * MM, 2)
    assert scarf(problem, made, {"spar": JOINT}) == (problem, made, ())


def test_a_millimetre_more_takes_three() -> None:
    problem, made, (split,) = scarf(*_out(2321 * MM, 3), {"spar": JOINT})
    assert faults(problem, made) == []
    assert (len(split.lengths), sum(split.lengths), made.unplaced_count) == (3, 2481 * MM, 0)


def has_room(
    problem: CutProblem, placed: dict[str, int], length: Fraction, joint: Joint, whole: bool
) -> bool:
    """Whether a part, whole or in any two lengths, has room beside what is placed, however that is laid."""
    saw = problem.rules
    clear = [(s.tag, b - a) for s in problem.sticks for a, b in stretches(s, saw)]
    exact = [saw.kerf, saw.squaring, length, joint.overlap, joint.least, *(end for _, end in clear)]
    exact += [part.length for part in problem.parts] + [place for span in joint.barred for place in span]
    scale = lcm(*(value.denominator for value in exact))
    model, load = cp_model.CpModel(), [[] for _ in clear]
    for part in problem.parts:
        rough, lying = part.length + saw.squaring, []
        for (tag, room), terms in zip(clear, load, strict=True):
            if (part.sticks is None or tag in part.sticks) and rough <= room:
                lying.append(model.NewIntVar(0, placed[part.name], ""))
                terms.append(int((rough + saw.kerf) * scale) * lying[-1])
        model.Add(sum(lying) == placed[part.name])
    both, shortest = int((length + joint.overlap) * scale), int(max(joint.least, joint.overlap) * scale)
    if both < 2 * shortest and not whole:
        return False
    first = model.NewIntVar(0, both, "") if whole else model.NewIntVar(shortest, both - shortest, "")
    for own in (int(length * scale),) if whole else (first, both - first):
        here = [model.NewBoolVar("") for _ in clear]
        model.AddExactlyOne(here)
        for chosen, terms in zip(here, load, strict=True):
            taken = model.NewIntVar(0, both, "")
            model.Add(taken == own).OnlyEnforceIf(chosen)
            model.Add(taken == 0).OnlyEnforceIf(chosen.Not())
            terms.append(taken + int((saw.squaring + saw.kerf) * scale) * chosen)
    for low, high in () if whole else joint.barred:
        before = model.NewBoolVar("")
        model.Add(first <= int(low * scale)).OnlyEnforceIf(before)
        model.Add(first - int(joint.overlap * scale) >= int(high * scale)).OnlyEnforceIf(before.Not())
    for (_, room), terms in zip(clear, load, strict=True):
        model.Add(sum(terms) <= int((room + saw.kerf) * scale))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.random_seed = 1, 1
    return solver.Solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


def _with_spar(seed: int) -> tuple[CutProblem, Joint]:
    """A short list by chance with one long part that may be scarfed, but not everywhere."""
    chance = random.Random(seed)
    problem = random_problem(seed, chance.randint(3, 9), chance.randint(2, 4))
    long = chance.randint(700, 2600)
    starts = [chance.randint(0, long - 301) for _ in range(chance.choice([0, 0, 1, 2]))]
    barred = tuple((start * MM, (start + chance.randint(20, 300)) * MM) for start in starts)
    joint = Joint(chance.choice([48, 80, 96]) * MM, chance.choice([100, 200, 300]) * MM, barred)
    return CutProblem((*problem.parts, CutPart("spar", long * MM, 1)), problem.sticks, problem.rules), joint


@pytest.mark.parametrize("first", range(0, 160, 20))
def test_a_split_in_two_is_found_where_there_is_one(first: int) -> None:
    looked = there = 0
    for seed in range(first, first + 20):
        problem, joint = _with_spar(seed)
        made = plan(problem, 200)
        out = {row.part: row.quantity for row in made.unplaced}
        if "spar" not in out:
            continue
        placed = {part.name: part.quantity - out.get(part.name, 0) for part in problem.parts}
        possible, whole = (
            has_room(problem, placed, problem.parts[-1].length, joint, w) for w in (False, True)
        )
        new, after, splits = scarf(problem, made, {"spar": joint}, 200)
        assert faults(new, after) == []
        assert any(len(split.lengths) == 2 for split in splits) == possible, seed
        assert not whole  # or it should not have been left out, nor scarfed
        looked, there = looked + 1, there + possible
    assert 0 < there < looked


@pytest.mark.parametrize(("sticks", "spare"), [(2, 0), (3, 0), (3, 30), (4, 30)])
def test_sticks_sawn_up_backwards_give_the_two_lengths_again(sticks: int, spare: int) -> None:
    """Sticks of 1500 sawn up with a remainder of `spare` at most; two pieces are lengths of a spar."""
    for seed in range(12):
        chance, saw = random.Random(seed), rules(kerf=2)
        lengths = {n: chance.randint(850, 1350) * MM for n in chance.sample(range(sticks), 2)}
        parts: list[Fraction] = []
        for number in range(sticks):
            left = (1500 - chance.randint(0, spare)) * MM
            left -= lengths[number] + saw.kerf if number in lengths else 0
            while left > 450 * MM:
                parts.append(chance.randint(100, 400) * MM)
                left -= parts[-1] + saw.kerf
            parts += [left] if left > 50 * MM else []
        lines = [CutPart(f"p{n}", length, 1) for n, length in enumerate(parts)]
        spar = CutPart("spar", sum(lengths.values()) - JOINT.overlap, 1)
        stock = tuple(CutStick(f"s{n}", 1500 * MM) for n in range(sticks))
        problem = CutProblem((*lines, spar), stock, saw)
        made = plan(problem)
        assert [row.part for row in made.unplaced] == ["spar"]
        new, after, (split,) = scarf(problem, made, {"spar": JOINT})
        assert faults(new, after) == []
        assert (len(split.lengths), after.unplaced_count) == (2, 0)
