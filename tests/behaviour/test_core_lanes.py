"""Rows of numbers in one integer, held against plain lists."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.core.lanes import Lanes

# Tops that take lanes of four, of eight and of more bytes; the last and the first of each.
TOPS = (0, 1, 18_000, 2**30 - 1, 2**30, 2**62 - 1, 2**62, 2**70 - 1, 2**70, 2**90)


@st.composite
def rows(draw: st.DrawFn) -> tuple[Lanes, list[int], list[int]]:
    top, count = draw(st.sampled_from(TOPS)), draw(st.integers(1, 40))
    lanes = Lanes(count, top)
    number = st.one_of(st.integers(0, top), st.just(lanes.never), st.just(top))
    a, b = (draw(st.lists(number, min_size=count, max_size=count)) for _ in range(2))
    return lanes, a, b


def packed(lanes: Lanes, numbers: list[int]) -> int:
    return sum(number << place * lanes.bits for place, number in enumerate(numbers))


@given(rows())
def test_what_is_packed_is_told_again(drawn: tuple[Lanes, list[int], list[int]]) -> None:
    lanes, a, _ = drawn
    row = packed(lanes, a)
    assert list(lanes.numbers(row)) == a
    assert [lanes.number(row, place) for place in range(lanes.count)] == a


@given(rows(), st.data())
def test_the_less_of_each_two_of_which_one_comes_some_places_later(
    drawn: tuple[Lanes, list[int], list[int]], data: st.DataObject
) -> None:
    lanes, a, b = drawn
    more = data.draw(st.integers(0, lanes.never - 1))  # as much as a number may be too great
    places = data.draw(st.integers(0, lanes.count))
    later = [*[lanes.never] * places, *[number + more for number in b]][: lanes.count]
    found = lanes.least(packed(lanes, a), packed(lanes, b) + lanes.even(more), places)
    assert list(lanes.numbers(found)) == [min(one, other) for one, other in zip(a, later, strict=True)]


@pytest.mark.parametrize("top", TOPS)
def test_never_is_more_than_any_number_and_has_room_above_it(top: int) -> None:
    lanes = Lanes(3, top)
    assert list(lanes.numbers(lanes.first(top))) == [top, lanes.never, lanes.never]
    assert top < lanes.never and lanes.never + top < 1 << lanes.bits - 1
