"""The best filling of one bay, against trying every selection."""

import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core.nesting_filling import CELLS, Filler


def _greatest(widths: list[int], counts: list[int], room: int) -> int:
    """By trying every selection."""
    sums = (
        sum(width * taken for width, taken in zip(widths, many, strict=True))
        for many in product(*(range(count + 1) for count in counts))
    )
    return max(total for total in sums if total <= room)


@pytest.mark.parametrize("seed", range(60))
def test_no_selection_fills_the_bay_better(seed: int) -> None:
    chance = random.Random(seed)
    widths = [chance.randint(1, 90) for _ in range(5)]
    counts = [chance.randint(0, 4) for _ in range(5)]
    room = chance.randint(0, 250)
    filler = Filler(widths, 250)
    for order in (range(5), chance.sample(range(5), 5)):
        taken = filler.fill(list(order), counts, room)
        assert sum(widths[kind] for kind in taken) == _greatest(widths, counts, room)
        assert all(taken.count(kind) <= counts[kind] for kind in range(5))
    held = filler.reaches_from(range(5), counts, [room])
    assert held[-1] == (0, [_greatest(widths, counts, room)])
    assert held == [(kind, [_greatest(widths[kind:], counts[kind:], room)]) for kind in reversed(range(5))]


def test_only_kinds_of_the_order_are_taken() -> None:
    assert Filler([5, 7], 20).fill([1], [3, 3], 20) == [1, 1]
    assert Filler([5, 7], 20).fill([], [3, 3], 20) == []


def test_later_kinds_are_preferred_among_equal_sums() -> None:
    filler = Filler([4, 6, 10], 10)
    assert filler.fill([0, 1, 2], [1, 1, 1], 10) == [2]
    assert sorted(filler.fill([2, 1, 0], [1, 1, 1], 10)) == [0, 1]


@pytest.mark.parametrize("seed", range(40))
def test_on_the_coarse_grid_a_filling_still_fits_and_a_flush_one_is_found(seed: int) -> None:
    """Units so fine that a bay has a thousand times as many as the grid has cells."""
    chance = random.Random(seed)
    widths = [chance.randint(100 * CELLS, 300 * CELLS) for _ in range(4)]
    counts = [chance.randint(1, 3) for _ in range(4)]
    flush = sum(widths)
    filler = Filler(widths, 1000 * CELLS)
    for room in (flush, flush - 1):
        taken = filler.fill(range(4), counts, room)
        assert sum(widths[kind] for kind in taken) <= room
        assert all(taken.count(kind) <= counts[kind] for kind in range(4))
    assert sum(widths[kind] for kind in filler.fill(range(4), [1] * 4, flush)) == flush


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 400_000), st.booleans()), min_size=1, max_size=8),
    st.integers(1, 1_200_000),
)
def test_picking_part_by_part_is_as_full_as_can_be(parts: list[tuple[int, bool]], room: int) -> None:
    """Exact where the bay is not longer than the grid; never too long, and of fitting kinds, anywhere."""
    widths = [width for width, _ in parts]
    may = sum(1 << kind for kind, (_, able) in enumerate(parts) if able)
    taken = Filler(widths, room).pick(range(len(parts)), room, may)
    assert len(set(taken)) == len(taken) and all(parts[kind][1] for kind in taken)
    total = sum(widths[kind] for kind in taken)
    sums = {0}
    for width, able in parts:
        sums |= {have + width for have in sums} if able else set()
    best = max(have for have in sums if have <= room)
    assert total <= best
    if room <= CELLS:
        assert total == best
