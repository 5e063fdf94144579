"""The validator is worth something: it finds every fault planted in a good plan."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, Piece, Proof, StickPlan, Unplaced, plan
from tests.tools.cut_lists import MM, rules
from tests.tools.plan_validator import faults

# Stick a has a knot from 500 to 540 mm and takes the ribs, b takes the spar; "long" fits nowhere.
PROBLEM = CutProblem(
    (
        CutPart("rib", 200 * MM, 4, sticks=frozenset({"a"})),
        CutPart("spar", 700 * MM, 1, critical=True, sticks=frozenset({"b"})),
        CutPart("long", 3000 * MM, 1),
    ),
    (CutStick("a", 1000 * MM, ((500 * MM, 540 * MM),)), CutStick("b", 1000 * MM)),
    rules(kerf=2, trim=10, least=50),
)
GOOD = plan(PROBLEM)
Span = tuple[Fraction, Fraction]


def _row(plan: CutPlan, tag: str) -> StickPlan:
    return next(row for row in plan.sticks if row.tag == tag)


def _with(tag: str, change: Callable[[StickPlan], StickPlan]) -> CutPlan:
    return replace(GOOD, sticks=tuple(change(row) if row.tag == tag else row for row in GOOD.sticks))


def _moved(row: StickPlan, number: int, by: Fraction) -> StickPlan:
    pieces = list(row.pieces)
    pieces[number] = replace(pieces[number], start=pieces[number].start + by, end=pieces[number].end + by)
    return replace(row, pieces=tuple(pieces))


def _longer(row: StickPlan) -> StickPlan:
    last = row.pieces[-1]
    return replace(row, pieces=(*row.pieces[:-1], replace(last, end=last.end + MM)))


def _keel(piece: Piece) -> Piece:
    return replace(piece, part="keel")


def _tags_changed() -> tuple[StickPlan, ...]:
    return tuple(replace(row, tag={"a": "b", "b": "a"}[row.tag]) for row in reversed(GOOD.sticks))


def _stretched(offcuts: tuple[Span, ...]) -> tuple[Span, ...]:
    return tuple((start - MM, end) for start, end in offcuts)


def test_the_good_plan_is_good() -> None:
    assert faults(PROBLEM, GOOD) == []
    assert [len(row.pieces) for row in GOOD.sticks] == [4, 1]


# What was done to the plan, and a word of the complaint that must follow.
PLANTED = [
    ("a piece over its neighbour", "nearer", _with("a", lambda row: _moved(row, 1, -50 * MM))),
    ("no kerf between two pieces", "nearer", _with("a", lambda row: _moved(row, 1, -2 * MM))),
    ("half a kerf between two pieces", "nearer", _with("a", lambda row: _moved(row, 1, -MM))),
    ("a piece over a defect", "lost zone", _with("a", lambda row: _moved(row, 1, 150 * MM))),
    ("a piece in the trim", "lost zone", _with("b", lambda row: _moved(row, 0, -5 * MM))),
    ("a piece beyond the end", "not on stick", _with("b", lambda row: _moved(row, 0, 400 * MM))),
    ("a piece too long", "wrong length", _with("a", _longer)),
    ("a piece too many", "5 cut", _with("a", lambda row: replace(row, pieces=(*row.pieces, row.pieces[-1])))),
    ("a part nobody knows", "keel", _with("b", lambda row: replace(row, pieces=(_keel(row.pieces[0]),)))),
    ("a piece missing", "3 cut", _with("a", lambda row: replace(row, pieces=row.pieces[:-1]))),
    ("a stick twice", "repeated", replace(GOOD, sticks=(*GOOD.sticks, GOOD.sticks[0]))),
    ("a stick nobody has", "does not exist", _with("b", lambda row: replace(row, tag="c"))),
    ("parts from barred sticks", "may not be cut", replace(GOOD, sticks=_tags_changed())),
    ("a stick for nothing", "for nothing", _with("b", lambda row: replace(row, pieces=()))),
    ("a leftover forgotten", "leftovers", _with("b", lambda row: replace(row, offcuts=()))),
    (
        "a leftover too long",
        "leftovers",
        _with("b", lambda row: replace(row, offcuts=_stretched(row.offcuts))),
    ),
    (
        "more sticks needed than used",
        "needed",
        replace(GOOD, proof=Proof.of(GOOD.sticks_used + 1, GOOD.optimal)),
    ),
    ("proved without the bound", "proved best", replace(GOOD, proof=Proof.of(1, True))),
    ("the longest piece wrong", "largest_offcut", replace(GOOD, largest_offcut=GOOD.largest_offcut + MM)),
    ("the waste wrong", "waste", replace(GOOD, waste=GOOD.waste - MM)),
    ("the opened length wrong", "opened_length", replace(GOOD, opened_length=GOOD.opened_length + MM)),
    ("the count wrong", "placed", replace(GOOD, placed=GOOD.placed + 1)),
    (
        "the sticks counted wrong",
        "sticks_used",
        replace(GOOD, sticks_used=1, proof=Proof.of(1, GOOD.optimal)),
    ),
    ("a wrong reason", "too_long", replace(GOOD, unplaced=(replace(GOOD.unplaced[0], why="no_room"),))),
    ("a wrong longest", "longest", replace(GOOD, unplaced=(replace(GOOD.unplaced[0], longest=1 * MM),))),
]


@pytest.mark.parametrize(("what", "word", "planted"), PLANTED, ids=[row[0] for row in PLANTED])
def test_a_planted_fault_is_found(what: str, word: str, planted: CutPlan) -> None:
    assert any(word in fault for fault in faults(PROBLEM, planted)), what


def test_a_part_left_out_although_there_is_room_is_found() -> None:
    problem = replace(PROBLEM, parts=(CutPart("rib", 200 * MM, 1),))
    out = Unplaced("rib", 1, False, "no_room", 980 * MM)
    lazy = replace(plan(replace(problem, parts=())), unplaced=(out,), unplaced_count=1)
    assert any("still has a place" in fault for fault in faults(problem, lazy))
