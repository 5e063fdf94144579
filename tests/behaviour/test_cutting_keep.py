"""Planning again with the plan before at hand: nothing that can still be sawn is lost.

Every plan is judged by the validator, which shares no code with the planner; what is left of an earlier plan
is worked out here, from the records and the validator's stretches of good wood. Worked cases stand in their
tests.
"""

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import cutting
from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, Piece, StickPlan, adopt, plan
from tests.tools.cut_lists import MM, random_problem, realistic, rules
from tests.tools.plan_validator import faults, stretches

QUICK, SLOW = 20, 400  # moves


def _aims(plan: CutPlan) -> tuple[object, ...]:
    return plan.unplaced_critical, plan.unplaced_count, plan.sticks_used, -plan.largest_offcut


def _still(problem: CutProblem, earlier: CutPlan) -> tuple[int, int, int]:
    """An earlier plan's pieces that can be sawn as they lie: critical and all parts lacking, sticks."""
    wanted = {part.name: part for part in problem.parts}
    stock = {stick.tag: stick for stick in problem.sticks}
    taken: Counter[str] = Counter()
    opened = set()
    for row in earlier.sticks:
        here = None
        for piece in row.pieces if row.tag in stock else ():
            part = wanted.get(piece.part)
            if (
                part is not None
                and taken[part.name] < part.quantity
                and (part.sticks is None or row.tag in part.sticks)
                and piece.end - piece.start == part.length + problem.rules.squaring
                and (here is None or piece.start >= here + problem.rules.kerf)
                and any(
                    low <= piece.start and piece.end <= high
                    for low, high in stretches(stock[row.tag], problem.rules)
                )
            ):
                taken[part.name] += 1
                opened.add(row.tag)
                here = piece.end
    lacking = [(part.quantity - taken[part.name], part.critical) for part in problem.parts]
    return sum(n for n, critical in lacking if critical), sum(n for n, _ in lacking), len(opened)


def _changed(problem: CutProblem, earlier: CutPlan, chance: random.Random) -> CutProblem:
    """The problem after what happens in a shop: a cut, a defect found, a part dropped, a stick gone."""
    parts, sticks = list(problem.parts), list(problem.sticks)
    pieces = [(row.tag, piece) for row in earlier.sticks for piece in row.pieces]
    what = chance.choice(["cut", "cut", "defect", "fewer", "barred", "gone", "kerf"])
    number, line = chance.randrange(len(sticks)), chance.randrange(len(parts))
    if what == "cut" and pieces:
        tag, piece = chance.choice(pieces)
        kerf = problem.rules.kerf
        number = next(n for n, stick in enumerate(sticks) if stick.tag == tag)
        line = next(n for n, part in enumerate(parts) if part.name == piece.part)
        sawn = (piece.start - kerf - problem.rules.margin, piece.end + kerf)
        sticks[number] = replace(sticks[number], lost=(*sticks[number].lost, sawn))
        parts[line] = replace(parts[line], quantity=parts[line].quantity - 1)
    elif what == "defect":
        start = chance.randrange(1000) * sticks[number].length / 1000
        sticks[number] = replace(sticks[number], lost=(*sticks[number].lost, (start, start + 20 * MM)))
    elif what == "fewer":
        parts[line] = replace(parts[line], quantity=parts[line].quantity // 2)
    elif what == "barred":
        parts[line] = replace(parts[line], sticks=frozenset(stick.tag for stick in sticks[number:]))
    elif what == "gone":
        del sticks[number]
    elif what == "kerf":
        return replace(problem, rules=replace(problem.rules, kerf=problem.rules.kerf + MM))
    return replace(problem, parts=tuple(parts), sticks=tuple(sticks))


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.randoms(use_true_random=False))
def test_a_step_is_never_worse_than_what_is_left_nor_than_a_fresh_plan(
    seed: int, chance: random.Random
) -> None:
    problem = random_problem(seed)
    made = plan(problem, SLOW)
    for _ in range(5):
        if not problem.sticks:
            break
        problem = _changed(problem, made, chance)
        still = _still(problem, made)
        made = plan(problem, QUICK, keep=[made])
        assert faults(problem, made) == []
        assert (made.unplaced_critical, made.unplaced_count, made.sticks_used) <= still
        assert _aims(made) <= _aims(plan(problem, QUICK))


@pytest.mark.parametrize("seed", range(800, 825))
def test_the_same_problem_keeps_the_same_plan(seed: int) -> None:
    problem = random_problem(seed)
    made = plan(problem, QUICK)
    assert plan(problem, QUICK, keep=[made]) == made


def test_a_better_plan_at_hand_is_kept_with_true_bounds() -> None:
    """Held against quick packings alone, which find less than a long search in some of the lists."""
    better = 0
    for seed in range(900, 980):
        problem = random_problem(seed)
        slow, fresh = plan(problem, SLOW), plan(problem, 0)
        made = plan(problem, 0, keep=[slow])
        assert faults(problem, made) == []
        assert _aims(made) <= min(_aims(slow), _aims(fresh))
        if _aims(slow)[:3] < _aims(fresh)[:3]:
            better += 1
            # What the long search has proved besides is not known to the quick packings.
            assert made.fewest_possible <= slow.fewest_possible
            assert replace(made, proof=slow.proof) == slow
    assert better >= 3


def test_a_worse_plan_at_hand_is_not_kept() -> None:
    """Three ribs of 300 go into one stick of 1000; the plan at hand opens a stick for each."""
    stock = tuple(CutStick(tag, 1000 * MM) for tag in "abc")
    problem = CutProblem((CutPart("rib", 300 * MM, 3),), stock, rules(kerf=2))
    poor = _by_hand({tag: [("rib", 0, 300)] for tag in "abc"})
    assert plan(problem, keep=[poor]).sticks_used == 1


def _by_hand(rows: dict[str, list[tuple[str, int, int]]]) -> CutPlan:
    """A plan with its pieces [mm]; its figures do not matter."""
    sticks = tuple(
        StickPlan(tag, tuple(Piece(name, start * MM, end * MM) for name, start, end in pieces), ())
        for tag, pieces in rows.items()
    )
    zero = Fraction(0)
    return CutPlan(sticks, (), 0, 0, 0, 0, 0, False, zero, zero, zero)


ALIKE = CutProblem(
    (CutPart("left", 300 * MM, 1), CutPart("right", 300 * MM, 1)),
    tuple(CutStick(tag, 1000 * MM) for tag in "abc"),
    rules(kerf=2),
)


def _pieces(plan: CutPlan) -> list[tuple[str, str, Fraction]]:
    return [(row.tag, piece.part, piece.start / MM) for row in plan.sticks for piece in row.pieces]


def test_among_equal_plans_the_one_at_hand_stays() -> None:
    """Three alike sticks, two alike parts: any stick and any order is as good, what is known stays."""
    known = _by_hand({"b": [("right", 0, 300), ("left", 302, 602)]})
    other = _by_hand({"c": [("left", 0, 300), ("right", 302, 602)]})
    assert _pieces(plan(ALIKE)) == [("a", "left", 0), ("a", "right", 302)]
    assert _pieces(plan(ALIKE, keep=[known])) == [("b", "right", 0), ("b", "left", 302)]
    assert _pieces(plan(ALIKE, keep=[other, known])) == [("c", "left", 0), ("c", "right", 302)]


def test_what_is_left_moves_up_and_what_is_new_is_put_beside() -> None:
    """The rest of b stays when a part is dropped, and takes the new part, which opens no stick."""
    known = _by_hand({"b": [("gone", 0, 100), ("right", 102, 402), ("left", 404, 704)]})
    problem = replace(ALIKE, parts=(*ALIKE.parts, CutPart("new", 250 * MM, 1)))
    made = plan(problem, keep=[known])
    assert faults(problem, made) == []
    assert _pieces(made) == [("b", "right", 0), ("b", "left", 302), ("b", "new", 604)]


@pytest.mark.parametrize(
    "rows",
    [
        {"z": [("left", 0, 300)]},  # a stick nobody has
        {"b": [("keel", 0, 300)]},  # a part nobody asked for
        {"b": [("left", 0, 300), ("left", 302, 602)]},  # one too many
        {"b": [("left", 0, 300), ("right", 100, 400)]},  # one over the other
        {"b": [("left", 0, 300), ("right", 300, 600)]},  # no kerf between
        {"b": [("left", 900, 1200)]},  # over the end
        {"b": [("left", -50, 250)]},
        {"b": [("left", 0, 290)]},  # too short
        {"b": [("left", 0, 300), ("right", 302, 602)], "c": [("left", 0, 300), ("right", 302, 602)]},
        {"b": []},
    ],
)
def test_a_plan_that_no_longer_holds_does_no_harm(rows: dict[str, list[tuple[str, int, int]]]) -> None:
    made = plan(ALIKE, keep=[_by_hand(rows)])
    assert faults(ALIKE, made) == []
    assert (made.placed, made.sticks_used) == (2, 1)


def test_a_defect_over_a_piece_takes_it_from_there() -> None:
    """In b 0-500 and 540-1000 are clear: the piece from 302 is over the knot and no longer fits before it."""
    known = _by_hand({"b": [("right", 0, 300), ("left", 302, 602)]})
    knot = CutStick("b", 1000 * MM, ((500 * MM, 540 * MM),))
    problem = replace(ALIKE, sticks=(knot,))
    made = plan(problem, keep=[known])
    assert faults(problem, made) == []
    assert _pieces(made) == [("b", "right", 0), ("b", "left", 540)]


def test_a_part_barred_from_its_stick_leaves_it() -> None:
    known = _by_hand({"b": [("right", 0, 300), ("left", 302, 602)]})
    barred = replace(ALIKE.parts[0], sticks=frozenset({"a"}))
    problem = replace(ALIKE, parts=(barred, ALIKE.parts[1]))
    made = plan(problem, keep=[known])
    assert faults(problem, made) == []
    assert {row.tag for row in made.sticks} == {"a"}  # both from there, as one stick is enough


def test_equal_input_gives_an_equal_plan() -> None:
    problem = random_problem(700, parts=40, sticks=12)
    known = plan(random_problem(701, parts=40, sticks=12), QUICK)
    assert plan(problem, SLOW, keep=[known]) == plan(problem, SLOW, keep=[known])


def test_what_is_proved_of_a_plan_taken_up_is_worked_out_once_and_only_if_asked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The saw does not wait for it."""
    problem = realistic(3, 20, 30)
    made = plan(problem, 300)
    rated, asked = cutting.rated, list[int]()

    def counted(*args: Any) -> tuple[int, bool]:
        asked.append(1)
        return rated(*args)

    monkeypatch.setattr(cutting, "rated", counted)
    found = adopt(problem, made, complete=not made.unplaced)
    assert found is not None and found.sticks == made.sticks and asked == []
    assert found.fewest_possible <= made.fewest_possible <= made.sticks_opened
    assert found.optimal <= made.optimal
    assert asked == [1]
