"""Two long rows are held against each other by the piece."""

from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import rows
from bench.core.rows import apart, shared

LENGTHS = st.sampled_from([0, 1, 5, rows.PIECE - 1, rows.PIECE, rows.PIECE + 1, 3 * rows.PIECE + 7])


@settings(deadline=None)
@given(LENGTHS, st.lists(st.integers(0, 5 * rows.PIECE), max_size=4))
def test_the_places_that_differ(length: int, places: list[int]) -> None:
    old = tuple(range(length))
    new = list(old)
    others = {place % length for place in places} if length else set()
    for place in others:
        new[place] = -1 - place
    assert apart(old, tuple(new)) == sorted(others)
    assert apart(old, old) == []


@settings(deadline=None)
@given(LENGTHS, st.integers(0, 5 * rows.PIECE), st.integers(0, 3), st.integers(0, 3))
def test_what_two_rows_begin_and_end_with(length: int, at: int, out: int, put: int) -> None:
    old = tuple(range(length))
    at = min(at, length)
    out = min(out, length - at)
    new = (*old[:at], *(-1 - n for n in range(put)), *old[at + out :])
    head, tail = shared(old, new)
    assert (head, tail) == ((at, length - at - out) if out or put else (length, 0))


def test_of_equal_things_front_and_back_share_none() -> None:
    old, new = ("a",) * 600, ("a",) * 601
    assert shared(old, new) == (600, 0) == shared(new, old)
    assert shared((), new) == (0, 0)
