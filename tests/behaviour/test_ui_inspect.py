"""The Inspect screen by keys: measured, judged per use, and nothing lands in the wrong place."""

from dataclasses import replace

import pytest

from bench.core.edits import PutStick, StartJob, TakeReading
from bench.core.records import Inspection, Species, TimedMark, Typed, inches
from tests.tools.driving import CLOCK, Notebook, feed, picture, press, ready, settled, shows, spell, until
from tests.tools.looked_over import book, stick
from tests.tools.sticks import SOUND, reading


async def test_a_burst_measures_everything_and_nothing_is_lost(woods: dict[str, Species]) -> None:
    """Typed values, a stepped one and a defect, all before the first has been drawn."""
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i")
        assert "HOLD    rings not counted yet" in picture(app)
        for measured in ("8", "1:25", "30", "70", "1/16"):
            spell(app, measured)
            feed(app, "enter")
        feed(app, "tab", "tab", "up", "enter", "tab", "enter")  # past the length of the bow
        spell(app, "30-31 knot 1/8 edge 1/2")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").defects, "a defect")
        found = app.bench.job.stick("S-1").inspection
        assert found.looked and found.rings.text == "8 per in" and found.edge_grain.text == "70 %"
        assert (found.slope_one.text, found.slope_two.text, found.bow.text) == ("1:25", "1:30", "1/16 in")
        await until(pilot, shows(app, "solid spar   ACCEPT"), "good for everything")


@pytest.mark.parametrize(("size", "cut"), [((60, 20), True), ((80, 24), True), ((160, 45), False)])
async def test_points_without_room_are_not_cut_without_a_sign(
    woods: dict[str, Species], size: tuple[int, int], cut: bool
) -> None:
    app = book().open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, "i")
        text = picture(app)
        assert any(row.rstrip(" │║").endswith(" ..") for row in text.splitlines()[5:]) is cut
        assert all(len(row) <= size[0] for row in text.splitlines())


async def test_what_is_tried_on_two_screens_is_kept_together(woods: dict[str, Species]) -> None:
    """A reading and an inspection tried at once: Enter keeps both, neither takes the other back."""
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "up")
        await press(pilot, "i", "up")
        await until(pilot, shows(app, "reading S-1, rings of S-1"), "both tried")
        feed(app, "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "reading kept")
        kept = app.bench.job.stick("S-1")
        assert kept.inspection == replace(SOUND, rings=kept.inspection.rings)
        assert kept.inspection.rings.text == "12.5 per in"
        assert not app.bench.ledger.trying


async def test_a_value_is_judged_for_each_use_with_what_each_document_says(woods: dict[str, Species]) -> None:
    steep = replace(SOUND, slope_one=Typed(SOUND.slope_one.exact * 25 / 14, "1:14"))
    app = book(steep).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", "tab")
        text = picture(app)
        assert ">small part   REJECT" in text
        assert "REJECT  >1:14, limit 1:15 (" in text
        assert "anc19 sec. 2.4100" in text and "ac4313 table 1-1" in text
        await press(pilot, "v", "v")
        assert ">solid spar   REJECT" in picture(app)
        await press(pilot, "w")
        assert "for a solid spar" in picture(app)


async def test_a_defect_is_mended_and_taken_out(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", *["tab"] * 8, "enter")
        spell(app, "30-32 rot")
        feed(app, "enter")
        await until(pilot, shows(app, "kind"), "no such kind")
        assert app.bench.job.stick("S-1").defects == ()
        feed(app, "ctrl+u")
        spell(app, "30-32 decay")
        feed(app, "enter")
        await until(pilot, shows(app, "small part   REJECT"), "decay spoils the stick")
        feed(app, "shift+tab", "enter", "ctrl+u")
        spell(app, "30-32 split")
        feed(app, "enter")
        await until(pilot, shows(app, "small part   ACCEPT"), "a split is cut round")
        feed(app, "d")
        await until(pilot, lambda: not app.bench.job.stick("S-1").defects, "taken out")
        await press(pilot, "u", "u")
        assert [defect.kind for defect in app.bench.job.stick("S-1").defects] == ["decay"]


async def test_another_stick_begins_at_its_first_value(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", "tab", "tab", "right")
        assert "rings       > --" in picture(app)


async def test_nothing_measured_is_stepped_up_from_nowhere(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", "up")
        assert "no step makes one up" in picture(app)
        assert app.bench.job.stick("S-1").inspection == Inspection()


# --- the float pane's further values -------------------------------------------------------------------


async def test_a_reading_without_moisture_takes_ten_keys_of_the_number_pad(woods: dict[str, Species]) -> None:
    bare = replace(stick("S-1"), moisture=None)
    app = Notebook(StartJob("Tansy"), PutStick(bare)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        keys = [*"4.2", "enter", *"9.5", "enter", "enter"]
        assert len(keys) <= 10
        for key in keys:
            spell(app, key) if len(key) == 1 else feed(app, key)
        await until(pilot, lambda: app.bench.job.stick("S-1").reading is not None, "accepted")
        taken = app.bench.job.stick("S-1").reading
        assert (taken.marks, taken.moisture.text, taken.taken) == ((4.2,), "9.5 %", CLOCK[:10])


async def test_later_waterlines_lead_back_to_dry_wood(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), PutStick(stick("S-1"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        spell(app, "4.2")
        feed(app, "enter")
        await settled(pilot)
        plain = app.bench.river.hand.found.measured.sg_oven_dry
        await press(pilot, *["tab"] * 7)
        spell(app, "2 min")
        feed(app, "enter")
        await until(pilot, shows(app, "waterline after 120 s"), "asked for")
        spell(app, "4.25")
        feed(app, "enter")
        await until(pilot, shows(app, "120s 4.25"), "shown")
        assert app.bench.river.hand.found.measured.sg_oven_dry < plain
        spell(app, "20")
        feed(app, "enter")
        await until(pilot, shows(app, "more than the 30 s of the first"), "too soon")
        feed(app, "escape", "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").reading is not None, "kept")
        assert [timed.seconds for timed in app.bench.job.stick("S-1").reading.timed] == [120.0]


async def test_a_weighing_stands_beside_the_reading_and_is_no_second_reading(
    woods: dict[str, Species],
) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "shift+tab", "shift+tab")
        spell(app, "8.4")
        feed(app, "enter", "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").weighings, "weighed")
        kept = app.bench.job.stick("S-1")
        assert kept.weighings[0].mass.text == "8.4 g" and len(kept.readings) == 1
        assert kept.weighings[0].length == inches("5")
        await until(pilot, shows(app, "by weight 0.3"), "what the two say of each other")


# --- nothing lands in the wrong place ------------------------------------------------------------------


@pytest.mark.parametrize("keys", [("up",), ("up", "down")])
async def test_a_stick_taken_out_while_something_on_it_is_tried(
    woods: dict[str, Species], keys: tuple[str, ...]
) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", *keys, "t", "d")
        await until(pilot, lambda: app.bench.job.stick("S-1") is None, "taken out")
        await press(pilot, "i")
        assert "INSPECT S-2" in picture(app)
        assert not app.bench.ledger.trying


async def test_what_is_stepped_away_and_back_is_not_tried(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", "up", "down")
        view = app.bench.query_one("#inspect")
        assert not app.bench.ledger.trying and view.trying("rings of S-1") is None
        spell(app, "9")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").inspection.rings.text == "9 per in", "kept")
        await press(pilot, "o", "tab", "up", "down", "t")
        assert app.bench.query_one("#shop").tried is None


async def test_a_burst_after_another_stick_is_about_that_one(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i")
        feed(app, "right")
        spell(app, "11")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("S-2").inspection.rings is not None, "measured")
        assert app.bench.job.stick("S-1").inspection == SOUND
        await press(pilot, "f")
        feed(app, "right")
        spell(app, "4.4")
        feed(app, "enter", "enter", "right", "right")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "the first again")
        await settled(pilot)
        assert app.bench.river.tag == "S-1", "twice on is round again"
        assert app.bench.job.stick("S-2").readings == ()


async def test_two_finds_in_a_burst_are_two(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", "shift+tab")
        for text in ("1-2 knot 1/8", "5-6 split", "9-10 check"):
            spell(app, text)
            feed(app, "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").defects) == 3, "three")
        feed(app, "shift+tab", "shift+tab", "d")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").defects) == 2, "one out")
        assert [found.kind for found in app.bench.job.stick("S-1").defects] == ["knot", "check"]


async def test_a_burst_after_a_copy_is_about_the_copy(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t")
        feed(app, "k", "d")
        await settled(pilot)
        assert [each.tag for each in app.bench.job.sticks] == ["S-1", "S-2"]
        feed(app, "d", "d")
        await settled(pilot)
        assert app.bench.job.sticks == ()


async def test_a_new_reading_does_not_take_over_later_waterlines(woods: dict[str, Species]) -> None:
    earlier = replace(reading(4.2, taken="2026-03-01"), timed=(TimedMark(60.0, 4.4),))
    app = Notebook(StartJob("Tansy"), PutStick(stick("S-1")), TakeReading("S-1", earlier)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        spell(app, "4.3")
        feed(app, "enter", "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "kept")
        assert app.bench.job.stick("S-1").reading.timed == ()


async def test_a_weighing_kept_leaves_a_reading_in_its_middle(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), PutStick(stick("S-1"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, *["tab"] * 7)
        for text in ("120", "4.3"):
            spell(app, text)
            feed(app, "enter")
        await until(pilot, shows(app, "cannot be kept yet"), "its first waterline is missing")
        await press(pilot, "shift+tab", "shift+tab", *["tab"] * 5)
        spell(app, "8.4")
        feed(app, "enter", "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").weighings, "weighed")
        assert app.bench.query_one("#float").draft().timed == (TimedMark(120.0, 4.3),)
        assert "cannot be kept yet" in picture(app)


async def test_what_changes_nothing_is_not_recorded(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        before = len(app.bench.ledger.record)
        await press(pilot, "i", *["tab"] * 5, "d")
        assert "nothing to record" in picture(app)
        assert len(app.bench.ledger.record) == before


@pytest.mark.parametrize(("text", "says"), [("0.10", "for 10 percent type 10"), ("0.1 %", "")])
async def test_a_share_typed_for_a_percentage_is_asked_back(
    woods: dict[str, Species], text: str, says: str
) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "tab")
        spell(app, text)
        feed(app, "enter")
        await settled(pilot)
        assert (says in picture(app)) and (bool(says) or "0.1 %" in picture(app))
