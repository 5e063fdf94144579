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


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, 90),
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 90)), max_size=8),
    st.lists(st.tuples(st.integers(0, 8), st.integers(0, 90), st.integers(0, 90)), max_size=60),
)
def test_a_tag_is_taken_where_another_stick_has_it_in_whatever_letters(
    count: int, changes: list[tuple[int, int]], asked: list[tuple[int, int, int]]
) -> None:
    tags = [[f"S-{number}" for number in range(count)]]
    for number, (kind, place) in enumerate(changes):
        tags.append(_change(tags[-1], kind, place, number))
    base = tags[0]
    same = tuple(stick(tag) for tag in base)
    # As in a job, sticks that stay are the very same ones.
    known = dict(zip(base, same, strict=True))
    racks, places = [tuple(known.setdefault(tag, stick(tag)) for tag in own) for own in tags], Places()
    every = sorted({tag for own in tags for tag in own} | {"none"})
    for which, place, other in asked:
        which %= len(racks)
        tag, but = every[place % len(every)], every[other % len(every)]
        for written in (tag, f" {tag.lower()} "):
            assert places.taken(written, racks[which]) == (tag in tags[which])
            assert places.taken(written, racks[which], but) == (tag in tags[which] and tag != but)


def test_of_sticks_that_come_in_one_by_one_the_last_is_found_without_looking_all_up() -> None:
    places, rack = Places(), _rack([f"S-{number}" for number in range(50)])
    places.find("S-0", rack)
    known = places._known
    for number in range(50, 50 + rack_places.BETWEEN):
        rack = (*rack, stick(f"S-{number}"))
        assert places.find(f"S-{number}", rack) == number
    assert places._known is known
    assert places.find("S-114", (*rack, stick("S-114"))) == 114
    assert places._known is not known, "so many are looked up at last"


def test_after_a_rip_all_are_found_by_what_both_racks_begin_and_end_with() -> None:
    whole = _rack([f"S-{number}" for number in range(400)])
    ripped = (*whole[:7], *_rack(["S-7.1", "S-7.2", "S-7.3"]), *whole[8:])
    places = Places()
    assert places.find("S-300", whole) == 300
    for number in range(8, 400):
        assert places.find(f"S-{number}", ripped) == number + 2
    assert places.find("S-7", ripped) is None and places.find("S-7.3", ripped) == 9
    assert places._base is whole and places._held is ripped


def test_a_rack_may_be_emptied_and_filled_again() -> None:
    """There is only one empty rack, whatever was held against another before."""
    places, whole = Places(), _rack([f"S-{number}" for number in range(100)])
    other = (*whole[:50], stick("S-50"), *whole[51:])
    for rack, place in (
        (whole, 99),
        (other, 99),
        ((), None),
        (other, 99),
        ((), None),
        (whole, 99),
        ((), None),
    ):
        assert places.find("S-99", rack) == place
        assert places.taken("s-0", rack) == bool(rack)
        assert places.find("none", rack) is None


def test_tags_that_differ_in_letter_case_alone() -> None:
    """Two sticks that differ in letter case alone, as an old record may hold them."""
    places, rack = Places(), _rack(["S-1", "s-1", "S-2"])
    assert places.find("s-1", rack) == 1
    assert places.taken("S-1", rack, "S-1") and places.taken("S-1", rack, "s-1")
    assert not places.taken("S-2", rack, "S-2") and places.taken("S-2", rack, "S-3")
