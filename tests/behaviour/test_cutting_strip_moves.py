"""Strips of planks: their widths are kept up move by move, and the quick packings rip for most parts."""

import pytest

from bench.core import nesting_ripping
from bench.core.cutting_whole import Whole
from bench.core.nesting_bounds import Bounds
from bench.core.nesting_filling import Filler
from bench.core.nesting_pace import Pace
from bench.core.nesting_quick import first_packing
from bench.core.nesting_ripping import rip
from bench.core.nesting_search import RECUT, Goal, Repair
from bench.core.nesting_strips import StripYard
from bench.core.nesting_task import Bar, Kind, Task, groups, part_of
from bench.core.nesting_yard import DEMANDING
from tests.tools.cut_lists import random_planks


def _yard(task: Task) -> tuple[StripYard, Bounds]:
    filler = Filler([row.width for row in task.kinds], max(room for bar in task.bars for room in bar.bays))
    return StripYard(task, filler, 1), Bounds(task, filler)


def _account(yard: StripYard) -> None:
    """Widths and what is left are what lies there says, and the strips of each plank lie side by side."""
    kept = [list(yard.wide), list(yard.width_of), list(yard.taken), yard.piece()]
    yard._measure_all()
    assert kept == [yard.wide, yard.width_of, yard.taken, yard.piece()]
    for stick, bar in enumerate(yard.task.bars):
        wide = [
            max(row.across[stick] for row in (yard.task.kinds[kind] for kind in kinds))
            for kinds in (
                [kind for bay in yard.strips[n] for kind in yard.fill[bay]] for n in yard.own[stick]
            )
            if kinds
        ]
        assert len(wide) < 2 or sum(wide) <= bar.across
    counts = [row.count for row in yard.task.kinds]
    assert [n + left for n, left in zip(yard.lying(), yard.rest, strict=True)] == counts


@pytest.mark.parametrize("seed", [seed for seed in range(13) if seed != 4])  # nothing is ripped there
def test_moves_among_planks_keep_the_account(seed: int) -> None:
    task = Whole(random_planks(seed, parts=24, planks=5)).task()
    tasks = [part_of(task, *group) for group in groups(task)]
    ripped = [own for own in tasks if any(bar.across for bar in own.bars)]
    assert ripped
    for own in ripped:
        yard, bounds = _yard(own)
        bounds.fewest(0, 0)
        counts = [row.count for row in yard.task.kinds]
        first = first_packing(yard, bounds.pick(2), counts, ways=1)
        _account(yard)
        for exchange in (False, True):
            work = Repair(yard, bounds, Goal(yard.cost), Pace())
            work.run(200, exchange)
            _account(yard)
            assert work.penalty == yard.penalty(yard.cost) <= first


def test_a_move_among_planks_counts_for_more() -> None:
    task = Whole(random_planks(3, parts=24, planks=5)).task()
    yard, bounds = _yard(part_of(task, *groups(task)[0]))
    bounds.fewest(0, 0)
    first_packing(yard, bounds.pick(1), [row.count for row in yard.task.kinds], ways=1)
    pace = Pace()
    assert sum(yard.rest), "or nothing is moved"
    made = Repair(yard, bounds, Goal(yard.cost), pace).run(100, exchange=False)
    assert made == pace.made and 100 <= made < 100 + RECUT + yard.steps, "some at once may be the last"
    assert yard.steps == 4


@pytest.mark.parametrize("seed", sorted({*range(12)} - {4, 5}))  # nothing to rip in 4, to gain in 5
def test_parts_change_their_places_in_strips_that_get_no_wider(seed: int) -> None:
    task = Whole(random_planks(seed, parts=30, planks=5)).task()
    own = max((part_of(task, *group) for group in groups(task)), key=lambda own: len(own.kinds))
    yard, bounds = _yard(own)
    bounds.fewest(0, 0)
    first_packing(yard, bounds.pick(2), [row.count for row in yard.task.kinds], ways=1)
    work = Repair(yard, bounds, Goal(yard.cost), Pace())
    bays, may, moved = list(work.bays), list(work.may), False
    for _ in range(5):
        widths, fills = list(yard.width_of), [sorted(fill) for fill in yard.fill]
        made = work._recut(yard, 0)
        assert made == RECUT or not (work.penalty and any(widths))
        assert all(now <= before for now, before in zip(yard.width_of, widths, strict=True))
        _account(yard)
        assert work.penalty == yard.penalty(yard.cost)
        moved = moved or fills != [sorted(fill) for fill in yard.fill]
        assert (work.bays, work.may) == (bays, may), "what may lie where is as it was for other moves"
    assert moved or not work.penalty


def test_a_plank_is_ripped_for_what_gives_most() -> None:
    """One part that is wide and short, and two that fill the plank: the widest first would keep them out."""
    short, full = Kind(30, 1, False, 1, across=(60,)), Kind(100, 2, False, 1, across=(50,))
    yard, _ = _yard(Task((short, full), (Bar((100,), 100, 0, False, 100, 50, 2),), 0, 1))
    rip(yard, yard.bays[0])
    assert (yard.fill, yard.rest, yard.width_of) == ([[1], [1]], [1, 0], [50, 50])
    yard.clear([1, 2])
    yard.top_up(yard.bays[0], DEMANDING)
    assert yard.fill == [[0], []], "the widest first"


def test_narrower_parts_go_into_what_room_a_strip_has_left() -> None:
    wide, narrow = Kind(70, 1, False, 1, across=(60,)), Kind(30, 2, False, 1, across=(40,))
    yard, _ = _yard(Task((narrow, wide), (Bar((100,), 100, 0, False, 100, 40, 2),), 0, 1))
    rip(yard, yard.bays[0])
    assert sorted(map(sorted, yard.fill)) == [[0], [0, 1]] and not any(yard.rest)


def test_a_strip_is_ripped_again_while_there_are_parts_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    looked, gives = [], nesting_ripping._yield
    monkeypatch.setattr(nesting_ripping, "_yield", lambda *asked: looked.append(asked[1]) or gives(*asked))
    short, full = Kind(60, 1, False, 1, across=(50,)), Kind(100, 2, False, 1, across=(50,))
    yard, _ = _yard(Task((short, full), (Bar((100,), 100, 0, False, 150, 50, 3),), 0, 1))
    rip(yard, yard.bays[0])
    assert (yard.fill, yard.rest, yard.taken) == ([[1], [1], [0]], [0, 0], [150])
    assert looked == [0, 2], "not for the second strip"


@pytest.mark.parametrize(("across", "fill"), [(120, [[0], [0]]), (90, [[0], []])])
def test_a_strip_is_not_ripped_again_where_the_plank_is_used_up(across: int, fill: list[list[int]]) -> None:
    long = Kind(100, 3, False, 1, across=(50,))
    yard, _ = _yard(Task((long,), (Bar((100,), 100, 0, False, across, 40, 2),), 0, 1))
    rip(yard, yard.bays[0])
    laid = sum(map(len, fill))
    assert (yard.fill, yard.rest, yard.taken) == (fill, [3 - laid], [50 * laid])
