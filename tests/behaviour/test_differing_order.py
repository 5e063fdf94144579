"""Two states of a job: another order alone is told, and a thing put in place of another is no renaming."""

from dataclasses import replace

from core_cases import after, part, stick

from bench.core.differing import ORDER, Difference, differences, reordered
from bench.core.edits import PutPart, PutStick, RemoveStick, StartJob
from bench.core.records import CutMade, Job, Species, inches
from bench.sheets import differing as words
from tests.tools.driving import Notebook, feed, picture, press, settled, until

RACK = [StartJob("Tansy"), *(PutStick(stick(tag, 6.5)) for tag in ("A-1", "A-2", "A-3", "A-4"))]


def test_another_order_alone_is_told() -> None:
    before = after(RACK)
    one, two, three, four = before.sticks
    now = replace(before, sticks=(one, three, two, four))
    (found,) = differences(before, now)
    assert found == Difference("stick", "", ORDER, ("A-2", "A-3"), ("A-3", "A-2"))
    assert words.line(found) == "stick, order: A-2, A-3 -> A-3, A-2"
    assert reordered(before, now) == ("stick",) and reordered(before, before) == ()


def test_another_order_of_cuts_is_told() -> None:
    cuts = tuple(CutMade("rib", "A-1", inches(n).exact, inches("30").exact) for n in ("1", "2"))
    before = replace(after(RACK), cuts=cuts)
    found = differences(before, replace(before, cuts=cuts[::-1]))
    assert [(one.kind, one.field) for one in found] == [("cut", ORDER)] and words.line(found[0])


def test_what_came_or_went_is_no_other_order() -> None:
    before = after(RACK)
    now = after([RemoveStick("A-2"), PutStick(stick("A-9", 6.9))], before)
    assert all(one.field != ORDER for one in differences(before, now))


def test_another_stick_in_the_same_place_is_not_renamed() -> None:
    """The last stick goes and another comes: one is gone, one is new."""
    before = after(RACK)
    for other in (stick("B-1", 7.2), stick("B-1", 6.5, species="sitka_spruce"), stick("B-1")):
        now = after([RemoveStick("A-4"), PutStick(other)], before)
        found = {
            (one.name, one.field, one.before is None, one.after is None) for one in differences(before, now)
        }
        assert found == {("B-1", "", True, False), ("A-4", "", False, True)}


def test_a_stick_is_renamed_though_a_note_changed_with_it() -> None:
    before = after(RACK)
    new = replace(before.sticks[3], tag="B-1", note="planed")
    found = differences(before, after([PutStick(new, was="A-4")], before))
    assert {(one.name, one.field) for one in found} == {("B-1", "tag"), ("B-1", "note")}


def test_another_part_in_the_same_place_is_not_renamed() -> None:
    before = after([StartJob("Tansy"), PutPart(part("rib"))])
    other: Job = replace(before, parts=(part("spar", "90", 2, side="1"),))
    found = {(one.name, one.field) for one in differences(before, other)}
    assert found == {("spar", ""), ("rib", "")}


async def test_an_earlier_state_tells_that_only_the_order_is_another(woods: dict[str, Species]) -> None:
    taken_and_back = [RemoveStick("A-1"), PutStick(stick("A-1", 6.5))]
    app = Notebook(*RACK, *taken_and_back).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        await settled(pilot)
        await press(pilot, "r", "down", "down", "enter")
        assert "AS IT WAS AFTER ENTRY 5" in picture(app)
        assert "Nothing is different now but the order of sticks" in " ".join(picture(app).split())
        feed(app, "v")
        await settled(pilot)
        assert "since then: another order of sticks" in picture(app)
