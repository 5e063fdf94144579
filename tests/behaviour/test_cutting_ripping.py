"""Planks that are ripped into strips before they are cut to length.

Expected figures are worked by hand from the rules: a strip is as wide as the widest rough section in it, two
strips or more lie side by side with a rip kerf between them on what the edge leaves of the plank. Every plan
is judged by the validator, which works from the raw list.
"""

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, adopt, plan
from bench.core.errors import OutOfRange
from bench.core.ripping import strip_tag
from tests.tools.cut_lists import MM, random_planks, rules
from tests.tools.plan_validator import faults

FEW = 60  # moves


def _plank(tag: str, wide: object, length: int = 1000, thick: int = 12) -> CutStick:
    return CutStick(tag, length * MM, width=Fraction(str(wide)) * MM, depth=thick * MM)


def _part(name: str, length: int, quantity: int, width: object = 8, depth: int = 10) -> CutPart:
    return CutPart(name, length * MM, quantity, width=Fraction(str(width)) * MM, depth=depth * MM)


def _problem(parts: list[CutPart], planks: list[CutStick], least: int = 0) -> CutProblem:
    """Rip kerf 2, edge 2, planing 0.5 on each face, crosscut kerf 2 [mm]."""
    saw = replace(rules(kerf=2, least=least), rip_kerf=2 * MM, edge=2 * MM, planing=MM / 2)
    return CutProblem(tuple(parts), tuple(planks), saw)


@pytest.mark.parametrize(
    ("wide", "strips"), [(20, 1), (22, 2), (70, 6), ("76.9", 6), (77, 7), (87, 7), (88, 8)]
)
def test_so_many_strips_as_the_width_gives(wide: object, strips: int) -> None:
    """8 mm finished is 9 rough; n strips take 9 n + 2 (n - 1) and the edge of 2, so 11 n.

    Each part is as long as the plank, so that each takes a strip. One strip is not ripped.
    """
    made = plan(_problem([_part("cap", 1000, 12)], [_plank("a", wide)]))
    assert (made.placed, made.sticks_used) == (strips, 1)
    assert [row.strip for row in made.sticks] == ([0] if strips == 1 else list(range(1, strips + 1)))


def test_the_strip_is_as_wide_as_its_widest_part() -> None:
    """14 x 10 takes 15, 8 x 10 takes 9: 15 + 9 + 9 + 3 x 2 = 39 and the edge less one kerf: 39 of width."""
    parts = [_part("wide", 600, 1, width=14), _part("thin", 390, 1), _part("long", 900, 2)]
    made = plan(_problem(parts, [_plank("a", 39)]))
    assert [(row.strip, row.width) for row in made.sticks] == [(1, 15 * MM), (2, 9 * MM), (3, 9 * MM)]
    assert [piece.part for piece in made.sticks[0].pieces] == ["wide", "thin"]
    assert made.opened_length == 3 * 1000 * MM
    assert made.optimal
    narrower = plan(_problem(parts, [_plank("a", "38.9")]))
    assert narrower.unplaced_count == 1


def test_one_strip_alone_needs_no_room_for_the_saw() -> None:
    """Rough 9 comes out of 9.5, although the edge of 2 leaves less; the plank is not ripped."""
    made = plan(_problem([_part("cap", 480, 2)], [_plank("a", "9.5")]))
    assert (made.placed, [(row.strip, row.width) for row in made.sticks]) == (2, [(0, None)])


def test_a_section_that_is_there_already_is_not_planed() -> None:
    """8 x 10 from a stick of 8 x 10; from 8.5 x 10.5 it does not come, as planing would take 9 x 11."""
    assert plan(_problem([_part("cap", 480, 2)], [_plank("a", 10, thick=8)])).placed == 2
    made = plan(_problem([_part("cap", 480, 2)], [_plank("a", "10.5", thick=8)]))
    assert (made.placed, made.unplaced[0].why, made.unplaced[0].longest) == (0, "barred", 0)


def test_parts_without_section_take_the_whole_stick() -> None:
    parts = [CutPart("any", 480 * MM, 2), _part("cap", 1000, 2)]
    made = plan(_problem(parts, [_plank("a", 40), _plank("b", 40)]))
    assert faults(_problem(parts, [_plank("a", 40), _plank("b", 40)]), made) == []
    assert sorted(len(row.pieces) for row in made.sticks) == [1, 1, 2]


def test_the_board_beside_the_strips_counts_while_a_strip_still_fits() -> None:
    """Two strips of 9 on 33 leave 9 after edge and kerfs: a third fits. On 32.9 none does: 598 is longest."""
    parts = [_part("long", 900, 1), _part("cap", 400, 1)]
    for wide, longest in ((33, 1000), ("32.9", 598)):
        problem = _problem(parts, [_plank("a", wide)])
        made = plan(problem)
        assert faults(problem, made) == []
        assert (len(made.sticks), made.largest_offcut) == (2, longest * MM)


def test_planks_count_once() -> None:
    """Six strips of 11 on each of two planks of 70; ten lengths need both."""
    made = plan(_problem([_part("cap", 1000, 10)], [_plank("a", 70), _plank("b", 70), _plank("c", 70)]))
    assert (made.placed, made.sticks_used, made.fewest_possible, made.optimal) == (10, 2, 2, True)
    assert made.opened_length == 10 * 1000 * MM


@pytest.mark.parametrize("name", ["rip_kerf", "edge", "planing"])
def test_rules_below_zero_are_refused(name: str) -> None:
    good = _problem([_part("cap", 480, 2)], [_plank("a", 40)])
    with pytest.raises(OutOfRange) as refused:
        plan(replace(good, rules=replace(good.rules, **{name: -MM})))
    assert refused.value.quantity == name.replace("_", " ")


@pytest.mark.parametrize("side", ["width", "depth"])
def test_sections_of_nothing_are_refused(side: str) -> None:
    good = _problem([_part("cap", 480, 2)], [_plank("a", 40)])
    with pytest.raises(OutOfRange, match="part cap"):
        plan(replace(good, parts=(replace(good.parts[0], **{side: 0 * MM}),)))
    with pytest.raises(OutOfRange, match="stick a"):
        plan(replace(good, sticks=(replace(good.sticks[0], **{side: 0 * MM}),)))


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_every_plan_can_be_ripped_and_sawn(first: int) -> None:
    found, ripped = {}, 0
    for seed in range(first, first + 20):
        problem = random_planks(seed)
        for moves in (0, FEW):
            made = plan(problem, moves)
            ripped += any(row.strip for row in made.sticks)
            wrong = faults(problem, made)
            if wrong:
                found[seed, moves] = wrong
    assert found == {}
    assert ripped >= 10


def _tiers(plan: CutPlan) -> tuple[object, ...]:
    return plan.unplaced_critical, plan.unplaced_count, plan.sticks_opened, plan.largest_offcut, plan.waste


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.randoms(use_true_random=False))
def test_order_and_unit_change_nothing(seed: int, chance: random.Random) -> None:
    problem = random_planks(seed, parts=12)
    made = plan(problem, FEW)
    mixed = replace(
        problem,
        parts=tuple(chance.sample(problem.parts, len(problem.parts))),
        sticks=tuple(chance.sample(problem.sticks, len(problem.sticks))),
    )
    assert _tiers(plan(mixed, FEW)) == _tiers(made)
    wider = replace(
        problem,
        parts=tuple(
            replace(part, width=part.width * 3, depth=part.depth * 3) if part.width and part.depth else part
            for part in problem.parts
        ),
        sticks=tuple(
            replace(s, width=s.width * 3, depth=s.depth * 3) if s.width and s.depth else s
            for s in problem.sticks
        ),
        rules=replace(
            problem.rules,
            rip_kerf=problem.rules.rip_kerf * 3,
            edge=problem.rules.edge * 3,
            planing=problem.rules.planing * 3,
        ),
    )
    assert _tiers(plan(wider, FEW)) == _tiers(made)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000))
def test_an_easier_list_is_never_worse_with_the_plan_at_hand(seed: int) -> None:
    """A stick more, a defect less, a finer saw: the old plan still lies there, so nothing gets worse."""
    problem = random_planks(seed)
    made = plan(problem, FEW)
    easier = [
        replace(problem, sticks=(*problem.sticks, _plank("more", 60, 1800, 20))),
        replace(problem, sticks=tuple(replace(stick, lost=()) for stick in problem.sticks)),
        replace(problem, rules=replace(problem.rules, edge=0 * MM)),
    ]
    for other in easier:
        again = plan(other, 0, keep=[made])
        assert faults(other, again) == []
        assert _tiers(again)[:3] <= _tiers(made)[:3]


@pytest.mark.parametrize("seed", range(40, 50))
def test_a_plan_is_kept_and_adopted_as_it_lies(seed: int) -> None:
    problem = random_planks(seed)
    made = plan(problem, FEW)
    assert plan(problem, 0, keep=[made]) == made
    adopted = adopt(replace(problem, parts=_placed(problem, made)), made)
    assert adopted is not None
    assert adopted.sticks == made.sticks
    assert faults(replace(problem, parts=_placed(problem, made)), adopted) == []


def _placed(problem: CutProblem, made: CutPlan) -> tuple[CutPart, ...]:
    out = {row.part: row.quantity for row in made.unplaced}
    return tuple(replace(part, quantity=part.quantity - out.get(part.name, 0)) for part in problem.parts)


TWO = _problem([_part("long", 900, 2), _part("cap", 300, 1)], [_plank("P-01", 33)])


def test_rows_of_a_plank_ripped_since_mean_its_strips() -> None:
    """The two strips, 9 mm wide, are sticks of their own; the plan lies in them as it was."""
    made = plan(TWO)
    assert [(row.tag, row.strip) for row in made.sticks] == [("P-01", 1), ("P-01", 2), ("P-01", 3)]
    strips = tuple(_plank(strip_tag("P-01", n), 9) for n in (1, 2, 3))
    ripped = replace(TWO, sticks=tuple(reversed(strips)))
    for again in (adopt(ripped, made), plan(ripped, 0, keep=[made])):
        assert again is not None
        assert faults(ripped, again) == []
        lying = {row.tag: row.pieces for row in again.sticks}
        assert lying == {strip_tag("P-01", row.strip): row.pieces for row in made.sticks}
        assert all((row.strip, row.width) == (0, None) for row in again.sticks)


def test_rows_of_a_plank_still_whole_keep_their_strip() -> None:
    """The cap is dropped: the others stay in their strips."""
    made = plan(TWO)
    less = replace(TWO, parts=TWO.parts[:1])
    again = plan(less, 0, keep=[made])
    assert faults(less, again) == []
    assert [(row.strip, [piece.part for piece in row.pieces]) for row in again.sticks] == [
        (1, ["long"]),
        (2, ["long"]),
    ]


def test_a_plan_whose_strips_no_longer_lie_side_by_side_is_not_adopted() -> None:
    made = plan(TWO)
    assert adopt(TWO, made) == made
    narrow = replace(TWO, sticks=(_plank("P-01", "32.9"),))
    assert adopt(narrow, made) is None
    again = plan(narrow, 0, keep=[made])
    assert faults(narrow, again) == []
    assert again.unplaced_count == 1
    two_in_one = replace(made, sticks=tuple(replace(row, strip=0, width=None) for row in made.sticks))
    assert adopt(TWO, two_in_one) is None
    wrong_fence = replace(made, sticks=tuple(replace(row, width=8 * MM) for row in made.sticks))
    assert adopt(TWO, wrong_fence) is None


@pytest.mark.parametrize(
    ("word", "change"),
    [
        ("numbered", lambda rows: (replace(rows[0], strip=2), replace(rows[1], strip=1), rows[2])),
        ("numbered", lambda rows: (replace(rows[0], strip=0), *rows[1:])),
        ("wide, not", lambda rows: (replace(rows[0], width=8 * MM), *rows[1:])),
        ("side by side", lambda rows: (*rows, replace(rows[2], strip=4))),
        ("opened for nothing", lambda rows: (*rows[:2], replace(rows[2], pieces=()))),
    ],
)
def test_the_validator_finds_a_fault_planted_in_the_strips(word: str, change) -> None:
    """Three strips of 9 fill the plank of 33; a fourth does not lie on it."""
    made = plan(TWO)
    assert faults(TWO, made) == []
    assert any(word in fault for fault in faults(TWO, replace(made, sticks=change(made.sticks))))


def test_the_validator_finds_a_board_that_is_not_counted() -> None:
    problem = _problem([_part("long", 900, 2)], [_plank("a", 33)])
    made = plan(problem)
    assert (faults(problem, made), made.largest_offcut) == ([], 1000 * MM)
    assert any("largest" in fault for fault in faults(problem, replace(made, largest_offcut=98 * MM)))


def test_a_layout_that_lacks_something_is_adopted_when_it_need_not_be_complete() -> None:
    """The last strip is gone; in what is left nothing moves, and its part is out."""
    made = plan(TWO)
    rest = replace(made, sticks=made.sticks[:2])
    (gone,) = [piece.part for row in made.sticks[2:] for piece in row.pieces]
    assert adopt(TWO, rest) is None
    adopted = adopt(TWO, rest, complete=False)
    assert adopted is not None
    assert adopted.sticks == rest.sticks
    assert [(row.part, row.quantity) for row in adopted.unplaced] == [(gone, 1)]
    unwanted = replace(TWO, parts=(replace(TWO.parts[0], quantity=0), TWO.parts[1]))
    assert adopt(unwanted, rest, complete=False) is None
