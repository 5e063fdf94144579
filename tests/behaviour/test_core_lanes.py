"""Rows of numbers in one integer, held against plain lists."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.core.lanes import Lanes

STEPS = 7  # take four bits with that of no step
# The last and the first of those that take lanes of so many bytes with these bits.
TOPS = (1, 2**10 - 1, 2**10, 2**18 - 1, 2**18, 2**26 - 1, 2**26, 2**58 - 1, 2**58, 2**66 - 1, 2**66, 2**90)

Steps = list[tuple[int, int]]  # places, and what numbers become less


@st.composite
def made(draw: st.DrawFn) -> tuple[Lanes, int, Steps]:
    top, count = draw(st.sampled_from(TOPS)), draw(st.integers(1, 40))
    less = st.one_of(st.integers(1, top), st.just(1), st.just(top), st.just(-(-top // 2)))
    steps = draw(st.lists(st.tuples(st.integers(0, count + 1), less), max_size=STEPS))
    return Lanes(count, top, STEPS), draw(st.one_of(st.just(top), st.integers(0, top))), steps


def run(lanes: Lanes, first: int, steps: Steps) -> list[int]:
    taken = [(places, lanes.taken(less, n)) for n, (places, less) in enumerate(steps)]
    return lanes.greatest(lanes.first(first), taken)


def plainly(count: int, first: int, steps: Steps) -> list[list[tuple[int, list[int]] | None]]:
    """Rows of numbers, each with the steps that led to it, the last one first; None for nothing."""
    rows: list[list[tuple[int, list[int]] | None]] = [[(first, []), *[None] * (count - 1)]]
    for n, (places, less) in enumerate(steps):
        row = list(rows[-1])
        for place in range(places, count) if places else ():
            here, before = rows[-1][place], rows[-1][place - places]
            if before and before[0] >= less and (here is None or before[0] - less > here[0]):
                row[place] = before[0] - less, [n, *before[1]]
        rows.append(row)
    return rows


@given(made())
def test_each_number_is_the_greatest_of_those_that_the_steps_make(drawn: tuple[Lanes, int, Steps]) -> None:
    lanes, first, steps = drawn
    rows = run(lanes, first, steps)
    wanted = plainly(lanes.count, first, steps)
    assert len(rows) == len(wanted)
    for row, plain in zip(rows, wanted, strict=True):
        told = [*reversed(lanes.numbers(row))]
        assert [both >> lanes.low if both else None for both in told] == [pair and pair[0] for pair in plain]


@given(made())
def test_it_is_told_which_steps_led_to_a_number(drawn: tuple[Lanes, int, Steps]) -> None:
    lanes, first, steps = drawn
    rows, places = run(lanes, first, steps), [place for place, _ in steps]
    for place, pair in enumerate(plainly(lanes.count, first, steps)[-1]):
        if pair:
            assert lanes.trail(rows, places, lanes.count - 1 - place) == pair[1]


def test_the_last_step_may_leave_nothing_over() -> None:
    """A number 0 that the last step led to is not nothing."""
    steps = [(0, 1)] * (STEPS - 1) + [(3, 5)]
    lanes = Lanes(9, 5, STEPS)
    told = [*reversed(lanes.numbers(run(lanes, 5, steps)[-1]))]
    assert [place for place, both in enumerate(told) if both] == [0, 3]
    assert told[3] >> lanes.low == 0


@given(made())
def test_a_number_is_no_less_than_the_least_of_it_and_less_than_that_of_one_more(
    drawn: tuple[Lanes, int, Steps],
) -> None:
    lanes, first, steps = drawn
    for both in lanes.numbers(run(lanes, first, steps)[-1]):
        if both:
            assert lanes.least(both >> lanes.low) <= both < lanes.least((both >> lanes.low) + 1)
        else:
            assert both < lanes.least(0)


@pytest.mark.parametrize("top", TOPS)
def test_the_sum_of_two_numbers_leaves_a_bit_of_the_lane_free(top: int) -> None:
    lanes = Lanes(3, top, STEPS)
    assert 2 * (lanes.first(top) >> 2 * lanes.bits) < 1 << lanes.bits - 1
