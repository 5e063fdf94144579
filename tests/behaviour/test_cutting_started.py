"""Sticks that something was sawn off before, and parts that wish for the better sticks.

Expected values follow from the order of the aims and are worked by hand in the lines themselves.
"""

from dataclasses import replace

import pytest

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, plan
from tests.tools.cut_lists import MM, random_problem, rules
from tests.tools.plan_validator import faults

FEW = 60  # moves


def _stick(tag: str, length: int, started: bool = False, rank: float = 0.0) -> CutStick:
    return CutStick(tag, length * MM, rank=rank, started=started)


def _made(parts: list[CutPart], sticks: list[CutStick], moves: int = FEW) -> CutPlan:
    problem = CutProblem(tuple(parts), tuple(sticks), rules(kerf=2, least=100))
    made = plan(problem, moves)
    assert faults(problem, made) == []
    return made


def test_rests_are_used_up_before_a_stick_is_opened() -> None:
    """Two rests of 320 take a rib of 300 each; the new stick, which would take both, stays whole."""
    sticks = [_stick("new", 1000), _stick("rest", 320, started=True), _stick("end", 320, started=True)]
    made = _made([CutPart("rib", 300 * MM, 2)], sticks)
    assert [row.tag for row in made.sticks] == ["rest", "end"]
    assert (made.sticks_used, made.sticks_opened, made.fewest_possible, made.optimal) == (2, 0, 0, True)
    assert made.largest_offcut == 1000 * MM


def test_what_the_rests_do_not_take_opens_as_few_as_possible() -> None:
    """Five ribs: two in the rests, three in one new stick (3 x 302 = 906); without rests five need two."""
    sticks = [_stick("one", 1000), _stick("two", 1000), _stick("a", 320, True), _stick("b", 320, True)]
    made = _made([CutPart("rib", 300 * MM, 5)], sticks)
    assert (made.sticks_used, made.sticks_opened, made.fewest_possible, made.optimal) == (3, 1, 1, True)
    fresh = _made([CutPart("rib", 300 * MM, 5)], [replace(stick, started=False) for stick in sticks])
    assert (fresh.sticks_used, fresh.sticks_opened) == (2, 2)


def test_a_rest_costs_neither_a_part_nor_a_critical_part() -> None:
    """The rest of 500 takes a rib of 450 or two caps of 240; the spar needs the new stick in any case."""
    parts = [
        CutPart("spar", 900 * MM, 1, critical=True),
        CutPart("rib", 450 * MM, 1),
        CutPart("cap", 240 * MM, 2),
    ]
    made = _made(parts, [_stick("new", 1000), _stick("rest", 500, True)])
    assert (made.unplaced_critical, made.unplaced_count, made.sticks_opened) == (0, 1, 1)


@pytest.mark.parametrize("first", range(0, 60, 30))
def test_every_plan_with_rests_can_be_sawn(first: int) -> None:
    for seed in range(first, first + 30):
        problem = random_problem(seed)
        sticks = tuple(replace(stick, started=n % 3 == 0) for n, stick in enumerate(problem.sticks))
        for moves in (0, FEW):
            assert faults(problem, plan(problem, moves)) == []
            some = replace(problem, sticks=sticks)
            assert faults(some, plan(some, moves)) == []


def test_all_sticks_started_is_nothing_opened() -> None:
    for seed in range(130, 140):
        problem = random_problem(seed)
        problem = replace(problem, sticks=tuple(replace(stick, started=True) for stick in problem.sticks))
        made = plan(problem, FEW)
        assert faults(problem, made) == []
        assert (made.sticks_opened, made.fewest_possible) == (0, 0)


def test_a_wished_part_goes_to_the_better_stick() -> None:
    """Two alike parts, one of which wishes, in sticks that take one each: the rank decides."""
    parts = [CutPart("rib", 900 * MM, 1), CutPart("spar", 900 * MM, 1, wish=True)]
    for better, ranks in (("b", (0.38, 0.43)), ("a", (0.43, 0.38))):
        made = _made(parts, [_stick("a", 1000, rank=ranks[0]), _stick("b", 1000, rank=ranks[1])])
        assert {row.tag: row.pieces[0].part for row in made.sticks}[better] == "spar"


def test_a_wish_alone_opens_the_better_stick() -> None:
    sticks = [_stick("a", 1000, rank=0.36), _stick("b", 1000, rank=0.43), _stick("c", 1000, rank=0.40)]
    assert [row.tag for row in _made([CutPart("spar", 600 * MM, 1, wish=True)], sticks).sticks] == ["b"]


def test_a_wish_is_not_critical() -> None:
    """One wished part of 900 or three others of 300: more parts come first."""
    made = _made([CutPart("spar", 900 * MM, 1, wish=True), CutPart("rib", 298 * MM, 3)], [_stick("a", 900)])
    assert [(row.part, row.critical) for row in made.unplaced] == [("spar", False)]
    assert made.unplaced_critical == 0


def test_a_wish_opens_no_stick_more() -> None:
    made = _made(
        [CutPart("spar", 500 * MM, 1, wish=True), CutPart("rib", 498 * MM, 1)],
        [_stick("good", 500, rank=0.5), _stick("poor", 1000, rank=0.3)],
    )
    assert [row.tag for row in made.sticks] == ["poor"]
