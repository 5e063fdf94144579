"""Rows of numbers in one integer, held against plain lists."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.core.lanes import Lanes

NOTES = 4
# Tops that take lanes of four, of eight and of more bytes with these notes; the last and the first of each.
TOPS = (1, 18_000, 2**26 - 1, 2**26, 2**58 - 1, 2**58, 2**66 - 1, 2**66, 2**90)

Row = list[tuple[int, int]]  # numbers and their notes


@st.composite
def rows(draw: st.DrawFn) -> tuple[Lanes, int, Row]:
    top, count = draw(st.sampled_from(TOPS)), draw(st.integers(1, 40))
    number = st.one_of(st.integers(0, top), st.just(0), st.just(top))
    pair = st.one_of(st.just((0, 0)), st.tuples(number, st.integers(1, 2**NOTES - 1)))
    return Lanes(count, top, NOTES), top, draw(st.lists(pair, min_size=count, max_size=count))


def packed(lanes: Lanes, row: Row) -> int:
    total = 0
    for number, note in row:
        total = total << lanes.bits | number << NOTES | note
    return total


def told(lanes: Lanes, row: int) -> Row:
    return [(both >> NOTES, both & lanes.last) for both in reversed(lanes.numbers(row))]


@given(rows())
def test_what_is_packed_is_told_again(drawn: tuple[Lanes, int, Row]) -> None:
    lanes, _, pairs = drawn
    row = packed(lanes, pairs)
    assert told(lanes, row) == pairs
    assert [lanes.note(row, place) for place in range(lanes.count)] == [note for _, note in pairs]


@given(rows(), st.data())
def test_the_greater_of_each_and_of_one_some_places_before_less_something(
    drawn: tuple[Lanes, int, Row], data: st.DataObject
) -> None:
    lanes, top, pairs = drawn
    places, note = data.draw(st.integers(0, lanes.count)), data.draw(st.integers(1, lanes.last))
    less = data.draw(st.one_of(st.integers(1, top), st.just(1), st.just(top)))
    wanted = []
    for place, (number, known) in enumerate(pairs):
        other = pairs[place - places][0] - less if place >= places else -1
        wanted.append(max((number, known), (other, note)) if other >= 0 else (number, known))
    assert told(lanes, lanes.greater(packed(lanes, pairs), places, less, note)) == wanted


@pytest.mark.parametrize("top", TOPS)
def test_a_row_begins_with_one_number_and_nothing_behind_it(top: int) -> None:
    lanes = Lanes(3, top, NOTES)
    assert told(lanes, lanes.first(top)) == [(top, lanes.last), (0, 0), (0, 0)]
    assert 2 * lanes.first(top) >> 2 * lanes.bits < 1 << lanes.bits - 1  # the sum of two leaves a bit free
