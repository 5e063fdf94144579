"""Bursts of keys, drafts and accepted edits: nothing lands in the wrong place or is taken back."""

from bench.core.edits import PutPart, PutStick, StartJob, TakeReading
from bench.core.records import Part, Species, Stick, inches
from tests.tools.driving import (
    Notebook,
    feed,
    lines,
    picture,
    press,
    ready,
    settled,
    shows,
    spell,
    until,
)
from tests.tools.sticks import DRY, SOUND, reading


def book(*marks: float) -> Notebook:
    """One stick read on as many faces as there are marks, another unread, and a part."""
    first = Stick("S-1", "sitka_spruce", inches("60"), inches("1"), inches("1"), DRY, inspection=SOUND)
    second = Stick("S-2", "sitka_spruce", inches("72"), inches("1"), inches("1"), DRY, inspection=SOUND)
    part = Part("cap", inches("24"), inches("3/4"), inches("3/4"), 2)
    return Notebook(
        StartJob("Tansy"),
        PutStick(first),
        PutStick(second),
        TakeReading("S-1", reading(*marks)),
        PutPart(part),
    )


async def test_a_burst_with_a_moving_key_fills_both_faces(woods: dict[str, Species]) -> None:
    """What a number pad or a caliper sends: figure, Enter, next value, figure, Enter, Enter."""
    app = book(4.2, 4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        spell(app, "4.25")
        feed(app, "enter", "asterisk")
        spell(app, "4.35")
        feed(app, "enter", "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "kept")
        assert app.bench.job.stick("S-1").reading.marks == (4.25, 4.35)


async def test_a_burst_on_the_list_goes_to_the_row_moved_to(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "right", "right")
        feed(app, "down")
        spell(app, "48")
        feed(app, "enter", "right")
        spell(app, "2")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("S-2").width.text == "2 in", "width taken")
        assert app.bench.job.stick("S-2").length.text == "48 in"
        assert app.bench.job.stick("S-1").length.text == "60 in"


async def test_a_burst_across_screens_goes_to_the_screen_opened(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "s", "tab", "tab")
        section = app.bench.job.section
        feed(app, "f")
        spell(app, "4.45")
        feed(app, "enter", "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "read")
        assert app.bench.job.stick("S-1").reading.marks == (4.45,)
        assert app.bench.job.section == section


async def test_two_settings_in_one_burst_are_both_kept(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "o", "tab")
        spell(app, ".1")
        feed(app, "enter", "tab")
        spell(app, ".2")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.settings.end_trim.text == ".2 in", "trim taken")
        assert app.bench.job.settings.kerf.text == ".1 in"


async def test_what_is_only_tried_is_never_accepted_with_something_else(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        await press(pilot, "pagedown", "t", *["right"] * 10, "enter")
        spell(app, "bright")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").note == "bright", "note taken")
        assert [reading.marks for reading in app.bench.job.stick("S-1").readings] == [(4.2,)]
        await press(pilot, "f", "escape")
        assert app.bench.river.hand.stick.reading.marks == (4.2,)


async def test_undo_is_not_taken_back_by_what_was_tried(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "o", "tab")
        spell(app, ".1")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.settings.kerf.text == ".1 in", "kerf taken")
        await press(pilot, "tab", "up", "u")
        assert app.bench.job.settings.kerf.text == "1/8 in"
        await press(pilot, "enter", "escape")
        assert app.bench.job.settings.kerf.text == "1/8 in"
        assert app.bench.job.settings.end_trim.exact == 0


async def test_a_pane_never_shows_what_was_dropped(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "pageup", "t", "d", "u", "f")
        assert app.bench.job.stick("S-1") is not None
        await until(pilot, lambda: app.bench.river.hand is not None, "a stick in hand")
        while app.bench.river.tag != "S-1":
            await press(pilot, "right")
        assert "4.20 of 10" in picture(app)
        assert lines(app)[0].endswith("saved")


async def test_a_stick_that_is_gone_takes_what_was_waiting_with_it(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "right", "tab", "up")  # S-2: a moisture is tried, no waterline yet
        await until(pilot, shows(app, "tried, not kept"), "said at the head")
        await press(pilot, "t", "d", "f")
        assert lines(app)[0].endswith("saved")


async def test_a_sawn_stick_is_not_taken_out_and_its_rejection_is_said(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space")
        assert len(app.bench.job.cuts) == 1
        await press(pilot, "t", "d")
        assert app.bench.job.stick("S-1") is not None
        assert "parts have been cut from it" in picture(app)
        await press(pilot, "f")
        spell(app, "3.0")
        feed(app, "enter", "enter")
        await until(pilot, shows(app, "NOT ACCEPTED NOW: cap sawn from S-1"), "said on the line of the cuts")


async def test_each_face_keeps_its_own_mark(woods: dict[str, Species]) -> None:
    app = book(4.0, 4.05, 4.1, 4.1).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, *["tab"] * 8)
        spell(app, "2")
        feed(app, "enter")
        await until(pilot, shows(app, "face N    > 4.00"), "two faces, the first highlighted")
        assert "face S      4.10" in picture(app)


async def test_the_time_of_the_first_failure_stands(woods: dict[str, Species]) -> None:
    times = iter(f"2026-03-14T10:{minute:02d}:00" for minute in range(60))
    notebook = book(4.2)
    app = notebook.open(woods)
    app.now = lambda: next(times)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        notebook.problem = "no room left on the disk"
        await press(pilot, "up", "enter")
        await until(pilot, shows(app, "NOT SAVED (1)"), "first")
        first = lines(app)[0].rsplit(" ", 1)[1]
        await press(pilot, "up", "enter")
        await until(pilot, shows(app, "NOT SAVED (2)"), "second")
        assert lines(app)[0].endswith(first)


async def test_the_record_shows_an_undo_at_once(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "u")
        await until(pilot, shows(app, "undone: part cap added"), "in the record")


async def test_nothing_tried_outlives_its_being_kept(woods: dict[str, Species]) -> None:
    """Kept and then undone, the pane shows the job again, not what was stepped before."""
    app = book(4.2, 4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "tab")
        spell(app, "3.0")
        feed(app, "enter", "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "kept")
        await press(pilot, "u")
        assert "face S    > 4.20 of 10" in picture(app)
        await press(pilot, "s", "tab", "up", "enter")
        assert app.bench.job.section.use != "sitka_spruce"
        await press(pilot, "u")
        assert "new wood    > Sitka spruce" in picture(app)
        await press(pilot, "o", "tab", "up", "enter", "u", *["tab"] * 12, "up", "enter")
        assert app.bench.job.settings.units == "mm"
        assert app.bench.job.settings.kerf.text == "1/8 in"


async def test_keeping_one_reading_leaves_another_that_waits(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "right", "tab", "up", "left")
        spell(app, "4.3")
        feed(app, "enter", "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "S-1 kept")
        assert "tried, not kept" in lines(app)[0]
        await press(pilot, "right")
        assert "12.5 %" in picture(app)
        assert "S-2, waterline: not given" in picture(app)


async def test_a_renamed_stick_stays_in_hand(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "down", "enter")
        feed(app, "ctrl+u")
        spell(app, "Q-7")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("Q-7") is not None, "renamed")
        await press(pilot, "f")
        assert "in hand Q-7" in lines(app)[0]
        await press(pilot, "t", "up", "d")
        assert "in hand Q-7" in lines(app)[0]


async def test_keys_come_back_with_the_terminal(woods: dict[str, Species]) -> None:
    app = book(4.2).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await pilot.resize_terminal(40, 10)
        await until(pilot, shows(app, "needs 60 x 20"), "too small")
        await press(pilot, "u", "t", "d")
        assert len(app.bench.job.sticks) == 2, "no key works unseen"
        await pilot.resize_terminal(80, 24)
        await until(pilot, shows(app, "FLOAT S-1"), "back")
        await settled(pilot)
        await press(pilot, "up")
        assert "4.25" in picture(app)


async def test_a_section_by_a_sticks_gravity_stays_with_that_stick(woods: dict[str, Species]) -> None:
    """Another stick in hand changes neither the section nor the cut list; the stick cannot be taken out."""
    app = book(4.2).open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        await press(pilot, "s", *["tab"] * 8, "up", "enter")
        assert (app.bench.job.section.gravity, app.bench.job.section.stick) == ("stick", "S-1")
        before = app.bench.river.section
        await press(pilot, "f", "right")
        assert app.bench.river.tag == "S-2"
        assert app.bench.river.section is before
        await press(pilot, "t", "up", "d")
        assert app.bench.job.stick("S-1") is not None
        assert "the section rests on its gravity" in picture(app)
