"""Sticks are found by tag in whatever rack is handed in."""

from core_cases import stick
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import rack_places
from bench.core.rack_places import Places
from bench.core.records import Stick


def _rack(tags: list[str]) -> tuple[Stick, ...]:
    return tuple(stick(tag) for tag in tags)


def _change(tags: list[str], kind: int, place: int, number: int = 0) -> list[str]:
    """A stick more, with a number no other has, one less, one under another name, or one ripped in three."""
    place %= len(tags) or 1
    if kind == 0 or not tags:
        return [*tags[:place], f"N-{number}", *tags[place:]]
    if kind == 1:
        return [*tags[:place], *tags[place + 1 :]]
    strips = [f"{tags[place]}.{n}" for n in range(1, 2 if kind == 2 else 4)]
    return [*tags[:place], *strips, *tags[place + 1 :]]


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, 30),
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 60)), max_size=8),
    st.lists(st.tuples(st.integers(0, 8), st.integers(0, 60)), max_size=120),
)
def test_every_stick_is_found_where_it_is_and_no_other(
    count: int, changes: list[tuple[int, int]], asked: list[tuple[int, int]]
) -> None:
    tags = [[f"S-{number}" for number in range(count)]]
    for number, (kind, place) in enumerate(changes):
        tags.append(_change(tags[-1], kind, place, number))
    assert all(len(own) == len(set(own)) for own in tags)
    racks, places = [_rack(own) for own in tags], Places()
    every = sorted({tag for own in tags for tag in own} | {"none"})
    for which, place in asked:
        which %= len(racks)
        tag = every[place % len(every)]
        found = places.find(tag, racks[which])
        assert found == (tags[which].index(tag) if tag in tags[which] else None)


def test_of_sticks_that_come_in_one_by_one_the_last_is_found_without_looking_all_up() -> None:
    places, rack = Places(), _rack([f"S-{number}" for number in range(50)])
    places.find("S-0", rack)
    known = places._known
    for number in range(50, 90):
        rack = (*rack, stick(f"S-{number}"))
        assert places.find(f"S-{number}", rack) == number
    assert places._known is known


def test_after_a_rip_a_stick_is_found_near_by_and_at_last_all_are_looked_up() -> None:
    whole = [f"S-{number}" for number in range(400)]
    places, racks = Places(), (_rack(whole), _rack(_change(whole, 3, 7)))
    assert places.find("S-300", racks[0]) == 300
    for number in range(20, 20 + rack_places.STRAYS):
        assert places.find(f"S-{number}", racks[1]) == number + 2
    assert places._known[0] is racks[0], "a few are found beside where they were"
    assert places.find("S-399", racks[1]) == 401 and places._known[0] is racks[1]
    assert places.find("S-7", racks[1]) is None and places.find("S-7.3", racks[1]) == 9
