"""The moves of the search keep the account of every part; the shortcut of the bounds changes none of them."""

import random
from collections.abc import Callable, Iterable, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core.cutting import CutProblem, plan
from bench.core.cutting_whole import Whole
from bench.core.frozen import replace
from bench.core.nesting_bounds import Bounds
from bench.core.nesting_filling import Filler
from bench.core.nesting_pace import Pace
from bench.core.nesting_quick import first_packing
from bench.core.nesting_search import HANDFUL, Goal, Repair
from bench.core.nesting_task import Task, groups, part_of
from bench.core.nesting_yard import Yard
from tests.tools.cut_lists import random_planks, random_problem, realistic


def _tasks(seed: int) -> list[Task]:
    """The groups of a list by chance."""
    task = Whole(random_problem(seed)).task()
    return [part_of(task, *group) for group in groups(task)]


def _yard(task: Task) -> tuple[Yard, Bounds]:
    filler = Filler([row.width for row in task.kinds], max(room for bar in task.bars for room in bar.bays))
    return Yard(task, filler, 1), Bounds(task, filler)


def _account(yard: Yard) -> None:
    """Every part lies somewhere or is left, no bay holds more than its room or what may not lie there."""
    counts = [row.count for row in yard.task.kinds]
    assert [n + left for n, left in zip(yard.lying(), yard.rest, strict=True)] == counts
    for bay, kinds in enumerate(yard.fill):
        assert yard.free[bay] == yard.room[bay] - sum(yard.width[kind] for kind in kinds) >= 0
        assert all(yard.may[bay] >> kind & 1 for kind in kinds)


@pytest.mark.parametrize("size", [(10, 60), (61, 150)])
@pytest.mark.parametrize("seed", range(6))
def test_moves_keep_the_account_and_never_end_worse(seed: int, size: tuple[int, int]) -> None:
    task = Whole(realistic(seed, *size)).task()
    for group in groups(task):
        yard, bounds = _yard(part_of(task, *group))
        fewest = bounds.fewest(0, 0)
        counts = [row.count for row in yard.task.kinds]
        # Two sticks too few for everything, so that parts are left and the moves never come to an end early.
        first = first_packing(yard, bounds.pick(max(1, fewest - 2)), counts, ways=1)
        for exchange in (False, True):
            work = Repair(yard, bounds, Goal(yard.cost), Pace())
            work.run(150, exchange)
            _account(yard)
            assert work.penalty == yard.penalty(yard.cost) <= first


def test_of_many_parts_left_a_handful_is_moved_and_none_is_lost() -> None:
    task = Whole(realistic(3, 140, 150)).task()
    yard, bounds = _yard(part_of(task, *groups(task)[0]))
    bounds.fewest(0, 0)
    counts = [row.count for row in yard.task.kinds]
    before = first_packing(yard, range(3), counts, ways=1)
    assert sum(yard.rest) > HANDFUL
    work = Repair(yard, bounds, Goal(yard.cost), Pace())
    assert work.run(200, exchange=False) == 200
    _account(yard)
    assert work.penalty == yard.penalty(yard.cost) <= before


def _begun(problem: CutProblem, seed: int) -> CutProblem:
    """Some of its sticks begun already."""
    chance = random.Random(seed)
    sticks = tuple(replace(stick, started=chance.random() < 0.3) for stick in problem.sticks)
    return replace(problem, sticks=sticks)


def _shop(seed: int) -> CutProblem:
    """Parts that only denser sticks may become: sets of sticks within sets."""
    return realistic(seed, 10, 60)


LISTS = [random_planks, random_problem, _shop]


def counted(bounds: Bounds, n: int, need: int, t: int) -> int:
    """How many sticks of a set offer so much, one by one: first as many as must in the sets within."""
    offers = bounds.tables[t][1]

    def best(sticks: set[int]) -> int:
        return max(sorted(sticks), key=offers.__getitem__)

    def forced(sets: list[int]) -> set[int]:
        chosen = set[int]()
        for own in sets:
            inner = forced(bounds.children[own])
            while len(inner) < bounds.least[own]:
                inner.add(best({*bounds.members[own]} - bounds.started - inner))
            chosen |= inner
        return chosen

    chosen = forced(bounds.children[n])
    others = {*bounds.members[n]} - bounds.started - chosen
    begun = sum(offers[i] for i in bounds.started & {*bounds.members[n]})
    while begun + sum(offers[i] for i in chosen) < need and others:
        chosen.add(best(others))
        others -= chosen
    return len(chosen)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 2), st.integers(0, 2), st.sampled_from(LISTS), st.booleans())
def test_sticks_that_hold_most_change_no_bound(
    seed: int, critical: int, others: int, made: Callable[[int], CutProblem], begun: bool
) -> None:
    problem = made(seed)
    task = Whole(_begun(problem, seed) if begun else problem).task()
    for group in groups(task):
        own = part_of(task, *group)
        _, bounds = _yard(own)
        _, slow = _yard(own)

        def every(n: int, needs: list[int], slow: Bounds = slow) -> int:
            taken = sum([slow.least[child] for child in slow.children[n]])
            return max([taken, *(counted(slow, n, need, t) for t, need in enumerate(needs) if need > 0)])

        slow._fewest_in = every  # type: ignore[method-assign]
        assert bounds.fewest(critical, others) == slow.fewest(critical, others)
        assert bounds.least == slow.least
        for n, needs in enumerate(bounds.needs):
            for t in range(0, len(needs), 5):
                assert bounds._counted(n, needs[t], t) == counted(slow, n, needs[t], t)
        assert bounds.rows == slow.rows


@pytest.mark.parametrize("ways", [1, 2, 3, 8])
def test_what_the_best_quick_packing_left_is_what_is_told(ways: int) -> None:
    """Whichever of them it was, it lies there in the end."""
    for seed in range(8):
        for own in _tasks(seed):
            yard, _ = _yard(own)
            counts = [row.count for row in own.kinds]
            for sticks in range(1, len(own.bars) + 1):
                penalty = first_packing(yard, range(sticks), counts, ways)
                assert penalty == yard.penalty(yard.cost)
                _account(yard)


def test_quick_packings_into_fewer_sticks_are_not_tried_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once a part that was out is put in, those that failed without it need not be tried with it."""
    asked: dict[int, list[tuple[int, bool]]] = {}  # by parts: sticks, and whether all lay

    def noted(yard: Yard, sticks: Iterable[int], pool: Sequence[int], ways: int) -> int:
        chosen = [*sticks]
        penalty = first_packing(yard, chosen, pool, ways)
        asked.setdefault(sum(pool), []).append((len(chosen), penalty == 0))
        return penalty

    monkeypatch.setattr("bench.core.nesting.first_packing", noted)
    plan(realistic(228, 61, 150), 0)
    failed = [sticks for sticks, all_lay in asked[142] if not all_lay]
    assert len(failed) > 1, "or other parts were out at first"
    assert max(failed) < min(sticks for sticks, _ in asked[146])
    counts = [sticks for sticks, _ in asked[142]]
    assert len(counts) < max(counts) - min(counts), "not one by one"


@pytest.mark.parametrize(
    ("seed", "least", "most", "sticks"), [(7493, 10, 60, 11), (9129, 10, 60, 14), (8970, 61, 150, 17)]
)
def test_the_best_of_the_quick_packings_into_fewer_sticks_stays(
    seed: int, least: int, most: int, sticks: int
) -> None:
    """The one into so many did not open all that it was given; later ones opened more, of fewer given."""
    assert plan(realistic(seed, least, most), 0).sticks_opened == sticks
