"""Cut plans as their users see them: edge cases, reasons, preferences and refusals.

Expected values follow from the definitions and are worked by hand in the lines themselves.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from bench.core.cutting import CutPart, CutProblem, CutRules, CutStick, plan
from bench.core.errors import Clash, OutOfRange

MM = Fraction(1, 1000)


def _rules(
    kerf: object = 0, trim: object = 0, margin: object = 0, squaring: object = 0, least: object = 0
) -> CutRules:
    return CutRules(*(Fraction(str(value)) * MM for value in (kerf, trim, margin, squaring, least)))


def _stick(tag: str, length: int, *lost: tuple[int, int], rank: float = 0.0) -> CutStick:
    return CutStick(tag, length * MM, tuple((a * MM, b * MM) for a, b in lost), rank)


def _part(
    name: str, length: int, quantity: int = 1, critical: bool = False, sticks: str | None = None
) -> CutPart:
    return CutPart(
        name, length * MM, quantity, critical, None if sticks is None else frozenset(sticks.split())
    )


def _problem(parts: list[CutPart], sticks: list[CutStick], rules: CutRules | None = None) -> CutProblem:
    return CutProblem(tuple(parts), tuple(sticks), rules or _rules())


def test_nothing_to_cut() -> None:
    made = plan(_problem([], [_stick("a", 1000)]))
    assert (made.sticks, made.unplaced, made.sticks_used, made.waste) == ((), (), 0, 0)
    assert made.largest_offcut == 1
    assert made.optimal


def test_no_parts_and_no_sticks() -> None:
    made = plan(_problem([], []))
    assert (made.sticks_used, made.largest_offcut, made.optimal) == (0, 0, True)


def test_no_sticks() -> None:
    made = plan(_problem([_part("rib", 200, 3), _part("spar", 900, 1, critical=True)], []))
    assert [(row.part, row.quantity, row.why, row.longest) for row in made.unplaced] == [
        ("rib", 3, "no_sticks", 0),
        ("spar", 1, "no_sticks", 0),
    ]
    assert (made.unplaced_count, made.unplaced_critical, made.placed) == (4, 1, 0)


def test_quantity_of_nothing_never_appears() -> None:
    made = plan(_problem([_part("rib", 200, 0), _part("cap", 100, 1)], [_stick("a", 1000)]))
    assert [piece.part for piece in made.sticks[0].pieces] == ["cap"]
    assert made.unplaced == ()


@pytest.mark.parametrize(
    "stick", [_stick("a", 1000, (0, 1000)), _stick("a", 1000, (-50, 2000)), _stick("a", 20, (5, 6))]
)
def test_a_stick_without_room_is_never_opened(stick: CutStick) -> None:
    made = plan(_problem([_part("rib", 200)], [stick]))
    assert (made.sticks, made.unplaced[0].why) == ((), "too_long")


def test_trim_of_half_the_length_leaves_nothing() -> None:
    made = plan(_problem([_part("rib", 1)], [_stick("a", 1000)], _rules(trim=500)))
    assert made.unplaced[0].longest == 0
    assert made.largest_offcut == 0


def test_a_blade_wider_than_the_part() -> None:
    """Two parts of 3 and a cut of 5 take 11, three and two cuts take 19."""
    for length, fits in ((19, 3), (18, 2), (11, 2), (10, 1)):
        made = plan(_problem([_part("peg", 3, 3)], [_stick("a", length)], _rules(kerf=5)))
        assert (made.placed, made.optimal) == (fits, True)


def test_reasons() -> None:
    """Clear in a are 0-400 and 500-1000, in b 300. Only b may become the strut; the spar fits neither."""
    sticks = [_stick("a", 1000, (400, 500)), _stick("b", 300)]
    parts = [
        _part("spar", 600),
        _part("strut", 350, sticks="b"),
        _part("cap", 100, sticks=""),
        _part("rib", 500, 2),
    ]
    made = plan(_problem(parts, sticks))
    assert [(row.part, row.quantity, row.why, row.longest) for row in made.unplaced] == [
        ("spar", 1, "too_long", 500 * MM),
        ("strut", 1, "barred", 300 * MM),
        ("cap", 1, "barred", 0),
        ("rib", 1, "no_room", 500 * MM),
    ]
    assert made.optimal  # what is left out cannot be helped, and one stick is the least for a part


def test_sticks_of_another_job_are_overlooked() -> None:
    made = plan(_problem([_part("rib", 200, sticks="a gone")], [_stick("a", 1000)]))
    assert made.placed == 1


def test_squaring_is_cut_with_the_part() -> None:
    made = plan(_problem([_part("rib", 498, 2)], [_stick("a", 1000)], _rules(squaring=2)))
    assert [(p.start, p.end) for p in made.sticks[0].pieces] == [(0, 500 * MM), (500 * MM, 1000 * MM)]
    assert made.waste == 0


def test_critical_parts_come_before_more_parts() -> None:
    """One critical part of 900, or three others of 300: the critical one stays in, the three go out."""
    made = plan(_problem([_part("spar", 900, 1, critical=True), _part("rib", 300, 3)], [_stick("a", 900)]))
    assert [piece.part for piece in made.sticks[0].pieces] == ["spar"]
    assert (made.unplaced_critical, made.unplaced_count) == (0, 3)
    assert made.optimal


def test_fewer_parts_left_out_comes_before_length() -> None:
    made = plan(_problem([_part("spar", 900), _part("rib", 300, 3)], [_stick("a", 900)]))
    assert [(row.part, row.quantity) for row in made.unplaced] == [("spar", 1)]
    assert made.optimal


def test_as_many_critical_parts_as_possible_when_not_all_fit() -> None:
    parts = [_part("spar", 500, 3, critical=True), _part("strut", 450, 2, critical=True), _part("rib", 90, 1)]
    made = plan(_problem(parts, [_stick("a", 1000)]))
    assert (made.unplaced_critical, made.unplaced_count) == (3, 3)
    assert {piece.part for piece in made.sticks[0].pieces} == {"strut", "rib"}


def test_the_long_stick_is_kept_for_another_day() -> None:
    """Reading of the longest piece: sticks not opened count, so the short stick is cut."""
    made = plan(
        _problem([_part("rib", 300)], [_stick("long", 1800), _stick("short", 700)], _rules(kerf=2, least=150))
    )
    assert [row.tag for row in made.sticks] == ["short"]
    assert made.largest_offcut == 1800 * MM


def test_leftovers_below_the_least_are_waste() -> None:
    """400 cut from 1000 with a blade of 2 leaves 598: of use from 598, waste from 599."""
    kept = plan(_problem([_part("rib", 400)], [_stick("a", 1000)], _rules(kerf=2, least=598)))
    lost = plan(_problem([_part("rib", 400)], [_stick("a", 1000)], _rules(kerf=2, least=599)))
    assert (kept.largest_offcut, kept.waste) == (598 * MM, 2 * MM)
    assert (lost.largest_offcut, lost.waste) == (0, 600 * MM)
    assert kept.sticks[0].offcuts == lost.sticks[0].offcuts == ((402 * MM, 1000 * MM),)


def test_critical_parts_go_to_the_better_stick() -> None:
    """Two alike sticks and one part for each: the rank decides, whatever the order."""
    parts = [_part("rib", 900), _part("spar", 900, 1, critical=True)]
    for better, sticks in (("b", (0.38, 0.43)), ("a", (0.43, 0.38))):
        stock = [_stick("a", 1000, rank=sticks[0]), _stick("b", 1000, rank=sticks[1])]
        made = plan(_problem(parts, stock))
        assert {row.tag: row.pieces[0].part for row in made.sticks}[better] == "spar"


def test_other_parts_leave_the_better_stick_alone() -> None:
    stock = [_stick("a", 1000, rank=0.43), _stick("b", 1000, rank=0.36), _stick("c", 1000, rank=0.40)]
    assert [row.tag for row in plan(_problem([_part("rib", 600)], stock)).sticks] == ["b"]
    assert [row.tag for row in plan(_problem([_part("rib", 600, 1, critical=True)], stock)).sticks] == ["a"]


def test_rank_never_opens_a_stick_or_loses_a_part() -> None:
    """A spar and a rib from the lesser stick, although the spar alone would be better off in the other."""
    stock = [_stick("good", 500, rank=0.5), _stick("poor", 1000, rank=0.3)]
    made = plan(_problem([_part("spar", 500, 1, critical=True), _part("rib", 500)], stock))
    assert [row.tag for row in made.sticks] == ["poor"]


def test_enough_wood_in_clear_lengths_that_are_too_short() -> None:
    """Three sticks of 1000 clear each, as 500 and 500: six caps of 500 fill them, no rib of 510 goes in."""
    stock = [_stick(tag, 1100, (500, 600)) for tag in "abc"]
    made = plan(_problem([_part("rib", 510, 3), _part("cap", 500, 6)], stock))
    assert made.placed == 6
    assert made.optimal


def test_many_equal_parts() -> None:
    """1000 mm takes floor(1002 / 52) = 19; 500 parts need 27 sticks, as 26 x 19 = 494."""
    made = plan(
        _problem([_part("peg", 50, 500)], [_stick(f"s{n:02}", 1000) for n in range(30)], _rules(kerf=2))
    )
    assert (made.placed, made.sticks_used, made.fewest_possible, made.optimal) == (500, 27, 27, True)


def test_the_answer_at_once_is_a_whole_plan() -> None:
    parts = [_part("rib", 300, 5), _part("cap", 450, 3)]
    made = plan(_problem(parts, [_stick(tag, 1500) for tag in "abc"], _rules(kerf=2)), moves=0)
    assert (made.placed, made.unplaced_count) == (8, 0)


GOOD = _problem([_part("rib", 300, 2)], [_stick("a", 1000)], _rules(kerf=2))


@pytest.mark.parametrize(
    ("problem", "field"),
    [
        (replace(GOOD, parts=(_part("rib", 0),)), "length of part rib"),
        (replace(GOOD, parts=(_part("rib", -300),)), "length of part rib"),
        (replace(GOOD, parts=(_part("rib", 300, -1),)), "quantity of part rib"),
        (replace(GOOD, sticks=(_stick("a", 0),)), "length of stick a"),
        (replace(GOOD, sticks=(_stick("a", 1000, rank=float("nan")),)), "rank of stick a"),
        (replace(GOOD, sticks=(_stick("a", 1000, rank=float("inf")),)), "rank of stick a"),
        (replace(GOOD, rules=_rules(kerf=-1)), "kerf"),
        (replace(GOOD, rules=_rules(trim=-1)), "end trim"),
        (replace(GOOD, rules=_rules(margin=-1)), "margin"),
        (replace(GOOD, rules=_rules(squaring=-1)), "squaring"),
        (replace(GOOD, rules=_rules(least=-1)), "least offcut"),
    ],
)
def test_what_cannot_be_is_refused_by_name(problem: CutProblem, field: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        plan(problem)
    assert refused.value.quantity == field
    assert field in refused.value.message


def test_names_used_twice_are_refused() -> None:
    with pytest.raises(Clash, match="rib"):
        plan(replace(GOOD, parts=(_part("rib", 300), _part("rib", 400))))
    with pytest.raises(Clash, match="a: the tag"):
        plan(replace(GOOD, sticks=(_stick("a", 300), _stick("a", 400))))


def test_moves_below_zero_are_refused() -> None:
    with pytest.raises(OutOfRange):
        plan(GOOD, moves=-1)
