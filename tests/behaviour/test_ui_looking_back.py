"""Record, As it was and Trace by keys alone."""

import re
import threading
from dataclasses import replace

import pytest
from core_cases import WOODS

from bench.core import history as histories
from bench.core import river
from bench.core.concerning import concerns
from bench.core.demo import entries
from bench.core.edits import PutPart, PutStick
from bench.core.errors import FileFault
from bench.core.history import EMPTY, UNDO, History
from bench.core.record import Record
from bench.core.records import Species
from bench.sheets.tracing import NOT_ENTERED
from bench.ui import record_view, remembering, trace_view
from bench.ui.app import BenchApp
from bench.ui.between import Between
from bench.ui.record_view import RecordView
from bench.ui.trace_view import TraceView
from tests.tools.at_the_saw import book
from tests.tools.driving import (
    Notebook,
    feed,
    lines,
    picture,
    press,
    ready,
    shows,
    type_line,
    until,
)

ALL = len(entries(WOODS))


def demo() -> Notebook:
    return Notebook(*entries(WOODS))


async def test_the_record_is_sought_through_by_stick_part_kind_and_day(woods: dict[str, Species]) -> None:
    app = demo().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r")
        assert f"{ALL} of {ALL} entries" in picture(app)
        await press(pilot, "slash")
        await type_line(pilot, "stick A-07, kind reading")
        rows = [line for line in lines(app) if "A-07 floats" in line]
        assert len(rows) >= 2 and f"2 of {ALL} entries, only stick A-07, kind reading" in picture(app)
        await press(pilot, "slash")
        await type_line(pilot, "kind nonsense")
        assert "nearest" in picture(app) or "is not known" in picture(app)
        await press(pilot, "escape", "slash", "ctrl+u")
        await type_line(pilot, "day 1999")
        assert "No entry of day 1999" in picture(app)
        await press(pilot, "n")
        assert f"{ALL} of {ALL}" in picture(app)


async def test_alike_goes_through_what_an_entry_is_about(woods: dict[str, Species]) -> None:
    app = demo().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "n")
        view = app.screen.query_one(RecordView)
        seen = []
        while view.wanted.write():
            seen.append(view.wanted.write())
            await press(pilot, "n")
        assert [text.split()[0] for text in seen] == ["stick", "part", "kind", "day"]


async def test_a_thing_of_an_earlier_state_is_taken_and_the_rest_stays(woods: dict[str, Species]) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        before = app.bench.job
        await press(pilot, "p", "d", "r", "down", "enter")
        assert "AS IT WAS AFTER ENTRY" in picture(app) and "NOT THERE NOW" in picture(app)
        gone = before.parts[0]
        assert app.bench.job.part(gone.name) is None
        await press(pilot, "a")
        assert app.bench.job.part(gone.name) == gone
        assert isinstance(notebook.entries[-1][1].edit, PutPart), "an edit of its own"
        assert "Nothing is different now" in picture(app)
        await press(pilot, "a", "u")
        assert notebook.entries[-1][1].what == UNDO and app.bench.job.part(gone.name) is None
        await press(pilot, "left", "v")
        assert "as now" in picture(app) and "everything" in picture(app)
        await press(pilot, "escape")
        assert "RECORD" in picture(app)


async def test_a_large_rack_as_it_was_is_judged_between_the_keys(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = demo().open(woods)
    async with whole.run_test(size=(100, 30)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "down", "enter")
        then = [line for line in lines(whole) if line.startswith("THEN")]
    monkeypatch.setattr(river, "AT_ONCE", 0)
    app = demo().open(woods)
    async with app.run_test(size=(100, 30)) as pilot:
        await ready(pilot)
        feed(app, "r", "down", "enter")
        await until(pilot, shows(app, "are not judged yet"), "the rack is judged later")
        await until(pilot, lambda: [line for line in lines(app) if line.startswith("THEN")] == then, "judged")


async def test_what_is_sought_in_a_long_record_is_sought_between_the_keys(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(record_view, "AT_ONCE", 1)
    app = demo().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "slash")
        with monkeypatch.context() as busy:
            busy.setattr(Between, "go_on", lambda self: setattr(self, "running", True))
            await type_line(pilot, "kind part")
            assert (
                f"0 of {ALL} entries, {ALL - 1} not sought yet, only kind part, the newest first"
                in picture(app)
            )
        app.screen.query_one(RecordView)._seeking.running = False
        await press(pilot, "down")
        found = sum(
            "part" in about.kinds for about in concerns(entry for _, entry in app.bench.ledger.record)
        )
        await until(pilot, shows(app, f"{found} of {ALL} entries, only kind part, the newest first"), "found")
        assert "not sought yet" not in picture(app)
        rows = [int(row.split()[0]) for row in lines(app) if re.match(r" *\d+ +2026", row)]
        assert rows == sorted(rows, reverse=True) and len(rows) > 5


async def test_a_trace_says_how_far_the_record_is_read(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = demo().open(woods)
    async with whole.run_test(size=(100, 40)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "comma")
        text = lines(whole)
    monkeypatch.setattr(trace_view, "AT_ONCE", 1)
    monkeypatch.setattr(trace_view, "FEW", 1)
    app = demo().open(woods)
    async with app.run_test(size=(100, 40)) as pilot:
        await ready(pilot)
        feed(app, "p", "comma")
        await until(pilot, shows(app, f"of {ALL} entries read;  part"), "being read")
        assert "not found yet" in picture(app) and NOT_ENTERED not in picture(app)
        await until(pilot, lambda: lines(app) == text, "as when it is read at once")


class Drive(list):
    """Stored entries on a drive that can be pulled out."""

    gone = False

    def __getitem__(self, place):
        if self.gone:
            raise FileFault("tansy.tenthmark", "the drive is gone")
        return super().__getitem__(place)


def on_a_drive(app: BenchApp) -> Drive:
    """Let the entries of a job stand on a drive that can be pulled out."""
    history, entries = app.opened
    drive = Drive(entries)
    app.opened = (history, Record(drive))
    return drive


def forgetful(app: BenchApp) -> Record:
    """Let a job open as a long one does: its last states at hand, and a record that tells the others."""
    history, entries = app.opened
    record = Record(list(entries))
    app.opened = (replace(history, teller=record, recent=history.recent[-10:]), record)
    return record


async def test_what_an_entry_long_ago_changed_is_worked_out_beside_the_keys(
    woods: dict[str, Species],
) -> None:
    whole, app = demo().open(woods), demo().open(woods)
    async with whole.run_test(size=(100, 30)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "pagedown", "pagedown")
        text = lines(whole)
    record = forgetful(app)
    async with app.run_test(size=(100, 30)) as pilot:
        await ready(pilot)
        feed(app, "r", "pagedown", "pagedown")
        await until(pilot, lambda: lines(app) == text, "what it changed is told")
        assert "what it changed is being worked out" not in picture(app)
        here = len(record) - 20
        assert all(record.at_hand(number) for number in range(here - 40, here + 1)), "and those before it"


async def test_a_state_long_ago_is_worked_out_beside_the_keys(woods: dict[str, Species]) -> None:
    whole, app = demo().open(woods), demo().open(woods)
    far = ("r", *["pagedown"] * 5, "enter")
    async with whole.run_test(size=(100, 30)) as pilot:
        await ready(pilot)
        await press(pilot, *far)
        text = lines(whole)
    record, main = forgetful(app), threading.get_ident()
    followed, threads = Record._followed, list[int]()

    def note(record: Record, number: int) -> History:
        threads.append(threading.get_ident())
        return followed(record, number)

    with pytest.MonkeyPatch.context() as noted:
        noted.setattr(Record, "_followed", note)
        async with app.run_test(size=(100, 30)) as pilot:
            await ready(pilot)
            feed(app, *far)
            await until(pilot, shows(app, "AS IT WAS AFTER ENTRY"), "it is opened at once")
            await until(pilot, lambda: lines(app) == text, "as when it is at hand")
    assert threads and main not in threads and len(record) == ALL


async def test_a_state_long_ago_that_cannot_be_read_is_said(woods: dict[str, Species]) -> None:
    app = demo().open(woods)
    history, entries = app.opened
    drive = Drive(entries)
    record = Record(drive)
    app.opened = (replace(history, teller=record, recent=history.recent[-10:]), record)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r", *["pagedown"] * 5)
        drive.gone = True
        record._kept.clear()
        await press(pilot, "enter")
        await until(pilot, shows(app, "the drive is gone"), "said")
        await press(pilot, "left", "v", "a")
        await until(pilot, shows(app, "the drive is gone"), "still")


async def test_a_trace_goes_on_reading_once_the_drive_is_there_again(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trace_view, "AT_ONCE", 1)
    monkeypatch.setattr(trace_view, "FEW", 1)
    app = demo().open(woods)
    drive = on_a_drive(app)
    async with app.run_test(size=(100, 40)) as pilot:
        await ready(pilot)
        drive.gone = True
        feed(app, "p", "comma")
        await until(pilot, shows(app, "the drive is gone"), "said")
        await press(pilot, "down", "right")
        await until(pilot, shows(app, "the drive is gone"), "said again")
        drive.gone = False
        await press(pilot, "down")
        await until(
            pilot, lambda: len(app.bench.ledger.record) == app.screen.query_one(TraceView).read.noted, "read"
        )
        assert "TRACE  part" in picture(app) and "the drive is gone" not in picture(app)


async def test_undoing_far_back_finds_the_jobs_ready(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(histories, "KEPT", 12)
    monkeypatch.setattr(remembering, "AHEAD", 4)
    monkeypatch.setattr(remembering, "OVER", 2)
    app = demo().open(woods)
    states = [EMPTY]
    for _, entry in app.opened[1]:
        states.append(states[-1].follow(entry))
    record = forgetful(app)
    worked_out: list[int] = []
    monkeypatch.setattr(record, "_followed", lambda number: worked_out.append(number))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        ready_for = app.bench.earlier
        for back in range(1, 61):
            await until(pilot, lambda back=back: ready_for.at_hand(ALL - back), f"{back} back")
            await press(pilot, "u")
            assert app.bench.job == states[ALL - back].job, f"{back} back"
        for forward in range(59, -1, -1):
            await until(pilot, lambda forward=forward: ready_for.at_hand(ALL - forward), f"{forward} left")
            await press(pilot, "y")
            assert app.bench.job == states[ALL - forward].job
        assert worked_out == [], "no key had to wait for a job to be worked out"


async def test_things_are_taken_one_after_the_other(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        count = len(app.bench.ledger.record)
        parts = app.bench.job.parts
        await press(pilot, "p", "d", "d", "r", "down", "down", "enter", "a", "a")
        assert sorted(part.name for part in app.bench.job.parts) == sorted(part.name for part in parts)
        assert len(app.bench.ledger.record) == count + 4


async def test_one_key_traces_what_is_highlighted_and_enter_follows(woods: dict[str, Species]) -> None:
    app = demo().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "comma")
        part = app.bench.job.parts[0].name
        assert f"TRACE  part {part}" in picture(app) and "Section" in picture(app)
        await press(pilot, "right", "enter")
        tag = app.screen.query_one(TraceView).targets[-1][0][1]
        assert app.bench.job.stick(tag) is not None and f"> stick {tag}" in picture(app)
        await press(pilot, "left")
        assert f"TRACE  part {part}" in picture(app) and f"stick {tag}" not in lines(app)[4]
        await press(pilot, "escape", "f", "comma")
        assert "TRACE  stick A-01" in picture(app)
        await press(pilot, "comma", "r", "comma")
        last = app.bench.job.cuts[-1].part
        assert f"TRACE  part {last}" in picture(app), "what the entry is about"


async def test_a_trace_follows_the_job(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        await press(pilot, "comma")
        stick = app.bench.job.sticks[0]
        await press(pilot, "escape", "t", "k")
        copy = app.bench.job.sticks[-1]
        assert isinstance(app.bench.ledger.record[-1][1].edit, PutStick) and copy.tag != stick.tag
        await press(pilot, "comma")
        assert f"TRACE  stick {copy.tag}" in picture(app)
        await press(pilot, "escape", "u", "r", "comma")
        assert "Traceback" not in picture(app)


async def test_a_record_that_cannot_be_read_is_said_on_every_screen_that_reads_it(
    woods: dict[str, Species],
) -> None:
    app = demo().open(woods)
    drive = on_a_drive(app)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        drive.gone = True
        await press(pilot, "r")
        assert "the drive is gone" in picture(app)
        for key in ("down", "n", "x", "enter", "comma"):
            await press(pilot, key)
            assert "the drive is gone" in picture(app), key
            await press(pilot, "escape", "r")
        await press(pilot, "escape", "p", "comma")
        assert "the drive is gone" in picture(app), "Trace"
        drive.gone = False
        await press(pilot, "escape", "r", "home", "down", "down", "down", "enter")
        assert f"AS IT WAS AFTER ENTRY {ALL - 3}" in picture(app)
        drive.gone = True
        app.bench.ledger.record._kept.clear()  # what it had worked out before
        for key in ("left", "v", "a", "comma"):
            await press(pilot, key)
            assert "the drive is gone" in picture(app), key
        drive.gone = False
        await press(pilot, "escape")
        assert f"{ALL} of {ALL} entries" in picture(app)
