"""Parts made of lengths: what holds for every list, and cases worked by hand from the rule in their tests.

Every plan is judged by the validator, which shares no code with the planner. The worked figures are derived,
with pencil: a part of length L in n lengths takes L + (n - 1) overlaps of wood.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, Proof, Unplaced, plan
from bench.core.scarfing import Joint, Split, least_lengths, scarf
from bench.core.splitting import splits
from tests.tools.cut_lists import MM, random_problem, rules
from tests.tools.plan_validator import faults

QUICK = 40  # moves
JOINT = Joint(80 * MM, 100 * MM)


def ends(split: Split, joint: Joint) -> list[tuple[Fraction, Fraction]]:
    """Where the joints of a split lie: each length begins an overlap before the one before it ends."""
    found, here = [], Fraction(0)
    for length in split.lengths[:-1]:
        here += length
        found.append((here - joint.overlap, here))
        here -= joint.overlap
    return found


def wrong(part: CutPart, split: Split, joint: Joint) -> list[str]:
    """What a split does that no joint allows."""
    found = []
    if sum(split.lengths) != part.length + (len(split.lengths) - 1) * joint.overlap:
        found.append("the lengths do not join to the part")
    for place, length in enumerate(split.lengths):
        in_the_middle = 0 < place < len(split.lengths) - 1
        if length < joint.least or length < joint.overlap * (2 if in_the_middle else 1):
            found.append(f"length {place} is too short")
    for start, end in ends(split, joint):
        found += [f"joint at {start}" for low, high in joint.barred if start < high and low < end]
    return found


def missing(plan: CutPlan, splits: tuple[Split, ...] = ()) -> Counter[str]:
    """How many of each part of the drawing are not placed; one in lengths is placed if all of them are."""
    out = Counter({row.part: row.quantity for row in plan.unplaced})
    for split in splits:
        lacking = sum(out.pop(name, 0) for name in split.names)
        out[split.part] += int(lacking > 0)
    return +out


def _joints(problem: CutProblem, spread: int) -> dict[str, Joint]:
    """Joints for the longer parts, some of them barred from a stretch."""
    found = {}
    for number, part in enumerate(problem.parts):
        if part.length > 300 * MM:
            low = part.length * ((number * 7 + spread) % 10) / 10
            barred = ((low, low + part.length / 5),) if number % 2 else ()
            found[part.name] = Joint((48 + 16 * (number % 3)) * MM, 120 * MM, barred)
    return found


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 9))
def test_what_holds_for_every_list(seed: int, spread: int) -> None:
    problem = random_problem(seed, parts=4 + seed % 15, sticks=1 + seed % 5)
    joints, before = _joints(problem, spread), plan(problem, QUICK)
    new, after, splits = scarf(problem, before, joints, QUICK)
    assert faults(new, after) == []
    lines = {part.name: part for part in problem.parts}
    out, still = missing(before), missing(after, splits)
    assert all(still[name] <= out[name] for name in still)  # nothing that was placed falls out
    assert still.total() + len(splits) <= out.total()  # each split places one part more
    for split in splits:
        assert wrong(lines[split.part], split, joints[split.part]) == []
        assert not any(row.part in split.names for row in after.unplaced)
    names = [part.name for part in new.parts]
    assert len(names) == len(set(names))
    wanted = Counter({part.name: part.quantity for part in new.parts})
    for split in splits:
        assert all(wanted.pop(name) == 1 for name in split.names)
        wanted[split.part] += 1
    assert +wanted == +Counter({part.name: part.quantity for part in problem.parts})
    if not out:
        assert new is problem and after is before and splits == ()
    assert scarf(problem, before, joints, QUICK) == (new, after, splits)


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 9), st.integers(0, 60))
def test_stopped_anywhere_it_hands_back_what_it_found(seed: int, spread: int, patience: int) -> None:
    problem = random_problem(seed, parts=4 + seed % 15, sticks=1 + seed % 5)
    joints, before = _joints(problem, spread), plan(problem, QUICK)
    asked = Counter[str]()

    def stop() -> bool:
        asked["stopped" if asked["going"] == patience else "going"] += 1
        return asked["stopped"] > 0

    new, after, made = scarf(problem, before, joints, 100_000, stop=stop)
    assert faults(new, after) == []
    out, still = missing(before), missing(after, made)
    assert all(still[name] <= out[name] for name in still)
    if not patience:
        assert new is problem and after is before and made == (), "nothing was tried"
    assert asked["stopped"] <= 50, "it ends soon: 100,000 moves ask two thousand times"


def test_enough_of_those_lists_are_scarfed() -> None:
    """So that the test above looks at something: joints in two, and in more."""
    made = Counter[int]()
    for seed in range(40):
        problem = random_problem(seed, parts=4 + seed % 15, sticks=1 + seed % 5)
        _, _, splits = scarf(problem, plan(problem, QUICK), _joints(problem, 0), QUICK)
        made.update(len(split.lengths) for split in splits)
    assert made[2] > 5 and sum(made.values()) > made[2]


lengths = st.integers(100, 3000).map(lambda n: n * MM)


@settings(max_examples=80, deadline=None)
@given(
    st.integers(2, 5),
    lengths,
    st.tuples(st.integers(1, 120), st.integers(1, 300)),
    st.lists(st.tuples(st.integers(0, 3000), st.integers(0, 3000)), max_size=3),
    st.lists(lengths, min_size=1, max_size=6),
)
def test_every_way_to_split_is_allowed(
    number: int,
    length: Fraction,
    sizes: tuple[int, int],
    barred: list[tuple[int, int]],
    clear: list[Fraction],
) -> None:
    joint = Joint(sizes[0] * MM, sizes[1] * MM, tuple((min(a) * MM, max(a) * MM) for a in barred))
    part = CutPart("spar", length, 1)
    ways = list(splits(length, joint, number, clear, clear, clear))
    assert len(set(map(tuple, map(sorted, ways)))) == len(ways)
    for way in ways:
        assert len(way) == number and max(way) <= max(clear)
        assert wrong(part, Split("spar", tuple("abcde"[:number]), way), joint) == []


def test_reversed_and_touching_stretches() -> None:
    """A joint may touch a barred stretch; one given end first counts the same."""
    sticks = (CutStick("a", 1200 * MM), CutStick("b", 1200 * MM))
    problem = CutProblem((CutPart("spar", 2320 * MM, 1),), sticks, rules())
    before = plan(problem)  # only 1200 + 1200 will do: the joint lies from 1120 to 1200
    for span, possible in [
        ((1000, 1120), True),
        ((1200, 1300), True),
        ((1121, 1000), False),
        ((1150, 1150), False),
    ]:
        barred = replace(JOINT, barred=((span[0] * MM, span[1] * MM),))
        assert bool(scarf(problem, before, {"spar": barred})[2]) is possible


def test_a_barred_stretch_is_walked_round() -> None:
    """A part of 2100 from 1400 and 1200: 2180 in all, so the joint ends between 980 and 1400. Of those places
    only from 1300 up keeps clear of 950 to 1220."""
    sticks = (CutStick("a", 1400 * MM), CutStick("b", 1200 * MM))
    problem = CutProblem((CutPart("spar", 2100 * MM, 1),), sticks, rules())
    joint = replace(JOINT, barred=((950 * MM, 1220 * MM),))
    new, after, (split,) = scarf(problem, plan(problem), {"spar": joint})
    assert faults(new, after) == []
    assert wrong(problem.parts[0], split, joint) == []
    assert 1300 * MM <= split.lengths[0] <= 1400 * MM


def test_critical_parts_first_then_long_ones() -> None:
    """Wood for one of the three: two sticks of 1000 join to 1920."""
    sticks = (CutStick("a", 1000 * MM), CutStick("b", 1000 * MM))
    parts = [
        CutPart("long", 1900 * MM, 1),
        CutPart("short", 1800 * MM, 1),
        CutPart("first", 1700 * MM, 1, True),
    ]
    for expected in ("first", "long", "short"):
        problem = CutProblem(tuple(parts), sticks, rules(kerf=2))
        _, _, made = scarf(problem, plan(problem), {part.name: JOINT for part in parts})
        assert [split.part for split in made] == [expected]
        parts = [part for part in parts if part.name != expected]


def test_fewest_joints_before_fewest_sticks() -> None:
    """A started stick of 900 and two offcuts would do with three lengths; two whole sticks with two."""
    sticks = (
        *(CutStick(tag, 700 * MM, started=True) for tag in "abc"),
        *(CutStick(tag, 1000 * MM) for tag in "yz"),
    )
    problem = CutProblem((CutPart("spar", 1700 * MM, 1),), sticks, rules())
    _, after, (split,) = scarf(problem, plan(problem), {"spar": JOINT})
    assert len(split.lengths) == 2
    assert {row.tag for row in after.sticks} == {"y", "z"}


def test_the_lengths_take_over_what_the_part_asks() -> None:
    """Only a and c may become the spar, though b is longer."""
    part = CutPart("spar", 1700 * MM, 3, True, frozenset("ac"), "too light", True)
    sticks = (CutStick("a", 1000 * MM), CutStick("b", 1200 * MM), CutStick("c", 1000 * MM))
    problem = CutProblem((part, CutPart("rib", 100 * MM, 1)), sticks, rules(kerf=2))
    new, after, (split,) = scarf(problem, plan(problem), {"spar": JOINT})
    assert faults(new, after) == []
    lines = {line.name: line for line in new.parts}
    assert lines["spar"] == replace(part, quantity=2)
    for name, length in zip(split.names, split.lengths, strict=True):
        assert lines[name] == replace(part, name=name, length=length, quantity=1)
    assert (after.unplaced_critical, after.unplaced_count) == (2, 2)


def test_a_line_of_which_all_are_scarfed_is_gone() -> None:
    sticks = tuple(CutStick(tag, 1000 * MM) for tag in "abcd")
    problem = CutProblem((CutPart("spar", 1700 * MM, 2), CutPart("none", MM, 0)), sticks, rules(kerf=2))
    new, after, made = scarf(problem, plan(problem), {"spar": JOINT}, taken=("SPAR B",))
    assert faults(new, after) == []
    assert after.unplaced == ()
    assert [split.names for split in made] == [("spar 2 a", "spar 2 b"), ("spar 3 a", "spar 3 b")]
    assert [part.name for part in new.parts] == ["none", "spar 2 a", "spar 2 b", "spar 3 a", "spar 3 b"]


def test_long_names_stay_within_forty_letters_and_apart() -> None:
    name = "cap strip of the left upper wing, rear.."  # forty
    problem = CutProblem(
        (CutPart(name, 1700 * MM, 1),), (CutStick("a", 1000 * MM), CutStick("b", 1000 * MM)), rules()
    )
    _, _, (split,) = scarf(problem, plan(problem), {name: JOINT})
    assert split.names == (name[:38] + " a", name[:38] + " b")


def test_nothing_is_touched_where_nothing_is_possible() -> None:
    problem = CutProblem(
        (CutPart("spar", 1950 * MM, 1),), (CutStick("a", 1000 * MM), CutStick("b", 1000 * MM)), rules()
    )
    before = plan(problem)
    for joints in ({}, {"spar": JOINT}, {"other": JOINT}):
        new, after, made = scarf(problem, before, joints)
        assert new is problem and after is before and made == ()
    empty = CutProblem(problem.parts, (), problem.rules)
    assert scarf(empty, plan(empty), {"spar": JOINT})[2] == ()


def _as_if(problem: CutProblem, without: str, longest: Fraction) -> CutPlan:
    """A plan by someone who overlooked a part."""
    made = plan(replace(problem, parts=tuple(part for part in problem.parts if part.name != without)))
    row = Unplaced(without, 1, False, "no_room", longest)
    return replace(
        made,
        unplaced=(*made.unplaced, row),
        unplaced_count=made.unplaced_count + 1,
        proof=Proof.of(made.fewest_possible, False),
    )


def test_a_part_that_has_room_after_all_is_not_scarfed() -> None:
    problem = CutProblem(
        (CutPart("rib", 500 * MM, 1), CutPart("spar", 900 * MM, 1)),
        (CutStick("a", 1000 * MM), CutStick("b", 1000 * MM)),
        rules(kerf=2),
    )
    new, after, made = scarf(problem, _as_if(problem, "spar", 1000 * MM), {"spar": JOINT})
    assert made == () and new is problem
    assert after.unplaced == () and faults(new, after) == []


def test_what_is_placed_stays_though_another_would_leave_more() -> None:
    """From a comes the block of 700 or the rib of 600; the rib leaves 400, of use. The block was placed."""
    sticks = tuple(CutStick(tag, 1000 * MM) for tag in "abc")
    only_a = frozenset("a")
    parts = (
        CutPart("block", 700 * MM, 1, sticks=only_a),
        CutPart("rib", 600 * MM, 1, sticks=only_a),
        CutPart("spar", 1920 * MM, 1),
    )
    problem = CutProblem(parts, sticks, rules(least=350))
    new, after, (split,) = scarf(problem, _as_if(problem, "rib", 1000 * MM), {"spar": JOINT})
    assert faults(new, after) == []
    assert [row.part for row in plan(new).unplaced] == ["block"]  # what the search alone would do
    assert [(row.part, row.why) for row in after.unplaced] == [("rib", "no_room")]
    assert split.lengths == (1000 * MM, 1000 * MM)


def test_each_length_gets_the_squaring_of_a_part() -> None:
    """1000 + 1000 less 10 for each and 80 for the joint: 1900 at most."""
    sticks = (CutStick("a", 1000 * MM), CutStick("b", 1000 * MM))
    for length, possible in ((1900, True), (1901, False)):
        problem = CutProblem((CutPart("spar", length * MM, 1),), sticks, rules(squaring=10))
        new, after, made = scarf(problem, plan(problem), {"spar": JOINT})
        assert bool(made) is possible
        assert faults(new, after) == []


def test_many_parts_that_stay_out_end_in_bounded_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five hundred spars, wood for two: however many are wanted, no more plans are made."""
    counted: list[int] = []

    def count(problem: CutProblem, moves: int = 0, **more: object) -> CutPlan:
        counted.append(moves)
        return plan(problem, moves, **more)

    monkeypatch.setattr("bench.core.cutting.plan", count)
    stock = tuple(CutStick(f"s{n}", 1000 * MM) for n in range(5))
    lines = tuple(CutPart(f"p{n}", (1500 + n) * MM, 5) for n in range(100))
    problem = CutProblem(lines, stock, rules(kerf=2))
    new, after, made = scarf(problem, plan(problem, QUICK), {part.name: JOINT for part in lines}, QUICK)
    assert faults(new, after) == []
    assert len(made) == 2
    assert len(counted) <= 122  # 120, and two at the end


@given(lengths, st.integers(1, 120), st.lists(st.integers(1, 1500), max_size=6))
def test_fewest_lengths_against_trying_all(length: Fraction, joint: int, free: list[int]) -> None:
    """By trying every choice of stretches that are long enough to be glued in."""
    allowed, best = Joint(joint * MM, 100 * MM), inf
    for number in range(1, len(free) + 1):
        for some in combinations(free, number):
            long_enough = number == 1 or min(some) >= max(100, joint + 1)
            if long_enough and sum(some) * MM >= length + (number - 1) * allowed.overlap:
                best = min(best, number)
    assert least_lengths(length, allowed, [each * MM for each in free]) == (None if best == inf else best)
