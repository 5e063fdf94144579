"""At the saw by keys: one cut at a time, what goes wrong is laid out anew, and nothing is lost on the way."""

import re
import shutil
import threading
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from core_cases import SOUND
from textual.message import Message

from bench import launch
from bench.core import cutting
from bench.core.edits import EDITS, PutPart, PutStick, StartJob, TakeReading
from bench.core.history import UNDO
from bench.core.records import FloatReading, Part, Species, Stick, Typed, inches
from bench.core.river import flow
from bench.sheets.telling import told_record
from bench.storage import JobFile
from bench.ui.searching import Searcher, SearchFound
from tests.tools.driving import CLOCK, Notebook, feed, picture, press, ready, settled, shows, spell, until
from tests.tools.plan_validator import faults

DRY = Typed(Fraction(12, 100), "12 %")
BATH = Typed(Fraction(29315, 100), "20 C")
READING = FloatReading((4.3,), inches("1/2"), inches("5"), DRY, BATH, taken="2026-03-10")


def stick(tag: str, length: str, side: str = "1") -> list:
    """A sound stick of Sitka spruce that has been floated: accepted for every use."""
    bare = Stick(tag, "sitka_spruce", inches(length), inches(side), inches("1"), DRY, inspection=SOUND)
    return [PutStick(bare), TakeReading(tag, READING)]


def part(name: str, length: str, quantity: int = 1, **more) -> PutPart:
    return PutPart(Part(name, inches(length), inches("3/4"), inches("3/4"), quantity, **more))


def book(*more) -> Notebook:
    """Three sticks, five pieces, one stick to spare."""
    return Notebook(
        StartJob("Tansy"),
        *stick("S-1", "60"),
        *stick("S-2", "60"),
        *stick("S-3", "60"),
        part("cap", "28", 3, critical=True, grain="edge grain up", group="left"),
        part("brace", "20", 2),
        *more,
    )


def sawn(app) -> list[tuple[str, str, Fraction]]:
    """Part, stick and start of every piece cut."""
    return [(cut.part, cut.stick, cut.start) for cut in app.bench.job.cuts]


def lying(app) -> set[tuple[str, str, Fraction]]:
    """Part, stick and start of every piece still to come."""
    return {(piece.part, row.tag, piece.start) for row in app.bench.river.plan.sticks for piece in row.pieces}


def sound(app) -> None:
    """The layout can be sawn, and no piece of it lies where one was cut."""
    river = app.bench.river
    assert faults(river.problem, river.plan) == []
    for row in river.plan.sticks:
        gone = [cut for cut in river.job.sawn if cut.stick == row.tag]
        assert all(piece.end <= cut.start or cut.end <= piece.start for piece in row.pieces for cut in gone)


async def go_to(pilot, wanted) -> None:
    """To the saw, at the first piece of the layout that is wanted."""
    await press(pilot, "c")
    lying = [(row, piece) for row in pilot.app.bench.river.plan.sticks for piece in row.pieces]
    place = next(n for n, (row, piece) in enumerate(lying) if wanted(row, piece))
    await press(pilot, *["down"] * place, "enter")


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (160, 45)])
async def test_one_cut_fills_the_screen_and_space_ticks_it_off(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await go_to(pilot, lambda row, piece: piece.part == "cap" and not piece.start)
        text = picture(app)
        assert re.search(r"SAW cut [1-5] of 5", text) and "█" in text
        assert "cap (left): stop 28 in" in text
        assert "fence 3/4 in for the width, then 3/4 in for the depth" in " ".join(text.split())
        assert "grain: edge grain up" in text
        assert " STOP 28 in " in text and " FENCE 3/4 in" in text
        assert "next: " in text and "from 0 in to 28 in of the marked end" in text
        await press(pilot, "space")
        assert len(app.bench.job.cuts) == 1 and "SAW cut 2 of 5" in picture(app)
        assert {type(entry.edit).__name__ for _, entry in notebook.entries} >= {"MarkCut", "LayOut"}
        await press(pilot, "enter", "space", "space", "space")
        assert len(app.bench.job.cuts) == 5 and app.bench.job.laid == ()
        assert "all 5 pieces are cut" in picture(app)


async def test_the_layout_stays_while_it_is_sawn(woods: dict[str, Species]) -> None:
    """However the cuts are ordered, no piece that is still to come moves; a stick in the saw comes first."""
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        laid = lying(app)
        await press(pilot, "c", "down", "down", "enter", "space")
        (first,) = sawn(app)
        while app.bench.river.plan.sticks:
            tags = {row.tag for row in app.bench.river.plan.sticks}
            assert f"  {first[1]}, " in picture(app) or first[1] not in tags, (
                "the stick in the saw comes first"
            )
            assert lying(app) | set(sawn(app)) == laid
            sound(app)
            await press(pilot, "space")
        assert set(sawn(app)) == laid


async def test_a_spoiled_piece_is_wanted_again_and_one_step_back_takes_it_all(
    woods: dict[str, Species],
) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space")
        before = app.bench.job
        await press(pilot, "k")
        job = app.bench.job
        assert len(job.spoilt) == 1 and len(job.cuts) == 1
        wanted = sum(row.quantity for row in job.parts) - len(job.cuts)
        assert app.bench.river.plan.placed == wanted == 4
        assert "LAID OUT ANEW" in picture(app)
        sound(app)
        await press(pilot, "u")
        assert app.bench.job == before
        await press(pilot, "y")
        assert app.bench.job == job
        assert notebook.entries[-2][1].what == UNDO


async def test_a_short_piece_goes_back_to_the_rack_and_serves_as_something_shorter(
    woods: dict[str, Species],
) -> None:
    app = book(part("peg", "9", 1)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        while "cap (left): stop" not in picture(app):
            await press(pilot, "down")
        stick_tag = picture(app).split("of 6  ")[1].split(",")[0]
        await press(pilot, "j")
        spell(app, "99")
        await press(pilot, "enter")
        assert "is not short" in picture(app), "refused, and what was typed is still there"
        feed(app, "ctrl+u")
        spell(app, "27 1/2")
        await press(pilot, "enter")
        short = app.bench.job.stick(f"{stick_tag} short")
        assert short is not None and short.length.text == "27 1/2 in" and short.parent == stick_tag
        assert short.readings == app.bench.job.stick(stick_tag).readings
        assert app.bench.river.plan.unplaced_count == 0
        sound(app)


async def test_a_defect_found_at_the_saw_is_laid_out_round(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space")
        tag = app.bench.river.plan.sticks[0].tag
        spell(app, "99-100 knot 1/8")  # typed out of the blue, beyond the end
        await press(pilot, "enter")
        assert "must lie on the stick" in picture(app) and not app.bench.job.stick(tag).defects
        feed(app, "ctrl+u")
        spell(app, "31-32 knot 1/8 edge 1/2")
        await press(pilot, "enter")
        on = next(stick for stick in app.bench.job.sticks if stick.defects)
        assert on.defects[0].kind == "knot"
        sound(app)


async def test_a_condemned_stick_is_used_for_nothing_more(woods: dict[str, Species]) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await go_to(pilot, lambda row, piece: len(row.pieces) > 1 and piece is row.pieces[0])
        await press(pilot, "space")
        first = sawn(app)[0]
        tag = picture(app).split("cut 2 of 5  ")[1].split(",")[0]
        assert tag == first[1], "something is left on the stick in the saw"
        await press(pilot, "a", "enter")
        assert not app.bench.job.stick(tag).condemned, "a reason is asked for"
        spell(app, "compression failure")
        await press(pilot, "enter")
        assert app.bench.job.stick(tag).condemned == "compression failure"
        assert tag not in {row.tag for row in app.bench.river.plan.sticks}
        assert sawn(app) == [first], "what is cut is never moved"
        assert "NOT ACCEPTED NOW: cap sawn from" in picture(app)
        assert set(app.bench.river.judged(tag).words.values()) == {"reject"}
        said = " ".join(told_record(entry for _, entry in notebook.entries))
        assert "compression failure" in said


async def test_what_is_only_tried_is_not_sawn(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "o", "tab", "up", "c", "enter", "space")
        assert not app.bench.job.cuts and "a change is being tried" in picture(app)


def plank(tag: str) -> list:
    """A plank of five by one inch, accepted."""
    bare = Stick(tag, "sitka_spruce", inches("96"), inches("5"), inches("1"), DRY, inspection=SOUND)
    return [PutStick(bare), TakeReading(tag, READING)]


async def test_a_plank_is_ripped_before_its_strips_are_cut(woods: dict[str, Species]) -> None:
    """Six pieces of 40 in: two a strip, three strips of 3/4 in, 1/8 in lost to each, 2-3/8 in left."""
    notebook = Notebook(StartJob("Tansy"), *plank("P-1"), part("cap", "40", 6))
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        assert "SAW rip first" in picture(app)
        assert "P-1: rip 3 strips at fence 3/4 in; a board 2 3/8 in wide is left over" in picture(app)
        await press(pilot, "k")
        assert "rip P-1 first" in picture(app) and not app.bench.job.spoilt
        await press(pilot, "space")
        tags = [stick.tag for stick in app.bench.job.sticks]
        assert tags == ["P-1.1", "P-1.2", "P-1.3", "P-1.4"]
        assert [stick.width.text for stick in app.bench.job.sticks] == ["3/4 in"] * 3 + ["2 3/8 in"]
        assert all(stick.readings and stick.parent == "P-1" for stick in app.bench.job.sticks)
        assert "SAW cut 1 of 6  P-1.1" in picture(app)
        await press(pilot, *["space"] * 6)
        assert len(app.bench.job.cuts) == 6
        assert {cut.stick for cut in app.bench.job.cuts} == {"P-1.1", "P-1.2", "P-1.3"}


async def test_a_part_longer_than_any_stick_is_scarfed_where_it_may_be(woods: dict[str, Species]) -> None:
    """120 in at 1:12 over 3/4 in: a joint of 9 in, so the lengths make 129 in; kept with the first cut."""
    slope = Typed(Fraction(1, 12), "1:12")
    sticks = [*stick("S-1", "96"), *stick("S-2", "60")]
    for allowed in (slope, None):
        notebook = Notebook(StartJob("Tansy"), *sticks, part("spar", "120", scarf=allowed))
        app = notebook.open(woods, moves=50)
        async with app.run_test(size=(80, 24)) as pilot:
            await ready(pilot)
            await press(pilot, "c")
            if allowed is None:
                await until(pilot, shows(app, "longer than any clear length by"), "no place")
                assert not app.bench.river.plan.placed
                continue
            await until(pilot, shows(app, "scarfed: spar of spar a"), "found in the background")
            lengths = [one.part.length.exact for one in app.bench.river.parts if one.part.piece_of]
            assert sum(lengths) == inches("129").exact
            assert app.bench.job.part("spar").quantity == 1, "the job is as it was: nothing is accepted yet"
            await press(pilot, "enter", "space")
            assert app.bench.job.part("spar").quantity == 0 and len(app.bench.job.cuts) == 1
            assert "scarf 1:12, 9 in overlap" in picture(app)
            await press(pilot, "space")
            assert len(app.bench.job.cuts) == 2
            await press(pilot, "u", "u", "u")
            assert app.bench.job.part("spar").quantity == 1 and not app.bench.job.cuts


async def test_the_search_in_the_background_shows_progress_and_is_stopped_by_a_key(
    woods: dict[str, Species],
) -> None:
    """Fourteen sticks take 47 of the 52 pieces, not proved best: k stops it, what is on show stays."""
    edits = ash_list()
    sticks = [edit for edit in edits if not isinstance(edit, PutPart)][:29]
    app = Notebook(*sticks, *[edit for edit in edits if isinstance(edit, PutPart)]).open(
        woods, moves=10_000_000
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        await until(pilot, shows(app, "looking for a better layout: "), "it is looking")
        plan = app.bench.river.plan
        assert not plan.optimal
        await press(pilot, "k")
        await until(pilot, lambda: "looking for" not in picture(app), "stopped")
        assert not app.bench.searcher.running
        kept = app.bench.river.plan
        assert (kept.unplaced_critical, kept.unplaced_count) <= (plan.unplaced_critical, plan.unplaced_count)
        await press(pilot, "k")
        await until(pilot, shows(app, "looking for a better layout: "), "looking again")
        searched = app.bench.searcher.problem
        await press(pilot, "p", "d", "c")  # a change of the job stops it
        assert app.bench.searcher.problem is not searched
        await until(pilot, lambda: app.bench.river.plan.optimal or app.bench.searcher.running, "the new list")


class Waiting:
    """Stands in for the screen: runs a search when it is told to, and keeps what it says."""

    def __init__(self) -> None:
        self.posted: list[Message] = []
        self.run: Callable[[], None] = lambda: None

    def run_worker(self, run: Callable[[], None], **how: object) -> None:
        self.run = run

    def post_message(self, message: Message) -> None:
        self.posted.append(message)


def test_a_search_that_is_stopped_hands_in_what_it_found(woods: dict[str, Species]) -> None:
    """Laid out worse than it could be: the first packings of the search are better already."""
    river = flow(book().history.job, woods)
    worse = replace(river, plan=cutting.plan(replace(river.problem, parts=river.problem.parts[:1]), 0))
    screen = Waiting()
    searcher = Searcher(screen, 10_000_000)  # type: ignore[arg-type]
    searcher.look(worse)
    searcher.stop()
    screen.run()
    found = screen.posted[-1]
    assert isinstance(found, SearchFound) and not searcher.runs(found.search)
    assert faults(found.problem, found.plan) == [] and found.plan.placed == 5 > worse.plan.placed


async def test_what_a_stopped_search_says_late_is_taken_and_ends_no_other(woods: dict[str, Species]) -> None:
    edits = ash_list()
    sticks = [edit for edit in edits if not isinstance(edit, PutPart)][:29]
    parts = [edit for edit in edits if isinstance(edit, PutPart)]
    app = Notebook(*sticks, *parts).open(woods, moves=10_000_000)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        await until(pilot, shows(app, "looking for a better layout: "), "it is looking")
        river, searcher = app.bench.river, app.bench.searcher
        other = replace(river.plan, fewest_possible=0)

        def late() -> SearchFound:
            return SearchFound(threading.Event(), river.problem, river.problem, other, ())

        app.bench.post_message(late())
        await settled(pilot)
        assert searcher.running and app.bench.river.plan is river.plan
        assert shows(app, "looking for a better layout: ")()
        await press(pilot, "k")
        await until(pilot, lambda: not searcher.running, "stopped")
        app.bench.post_message(late())
        await until(pilot, lambda: app.bench.river.plan is other, "what it found is on show")


def ash_list() -> list:
    """Fifty-two pieces and the sticks for them, with some to spare."""
    edits = [StartJob("Tansy parasol", invented=True)]
    for number in range(1, 25):
        edits += stick(f"S-{number:02d}", ("96", "84", "72")[number % 3])
    edits[1] = PutStick(replace(edits[1].stick, length=inches("120")))
    lengths = ("34 3/8", "28 1/4", "22 5/8", "18 1/2", "40", "15 3/4", "31", "12 1/8", "25 1/2", "20")
    for number in range(26):
        exact = sum((Fraction(piece) for piece in lengths[number % 10].split()), Fraction(0)) + number % 3
        length = Typed(exact * Fraction(254, 10_000), f"{float(exact):g} in")
        line = Part(f"piece {number + 1}", length, inches("3/4"), inches("3/4"), 2, critical=number % 5 == 0)
        edits.append(PutPart(line))
    return edits


def opened(desk: launch.Desk, woods: dict[str, Species], path: Path):
    desk.app = launch.BenchApp(desk.open(path), woods, desk.save, desk.start, now=lambda: CLOCK)
    return desk.app


async def saw(pilot, count: int) -> None:
    """So many cuts, each seen on disk."""
    app = pilot.app
    for _ in range(count):
        done = len(app.bench.job.cuts)
        await press(pilot, "space")
        assert len(app.bench.job.cuts) == done + 1, picture(app)
    await until(pilot, lambda: app.bench.unsaved == 0, "on disk")


async def test_fifty_two_pieces_a_condemned_stick_and_two_power_cuts(
    tmp_path: Path, woods: dict[str, Species]
) -> None:
    """Planned, half cut, a stick condemned in the middle, the rest cut to the end, by keys only at 80x24.

    A power cut is a copy of the files as they lie on the disk at that moment; the copy is opened.
    """
    notebook = Notebook(*ash_list())
    at, entries = notebook.entries[0][0], [entry for _, entry in notebook.entries]
    file = JobFile.create(tmp_path / "one.tenthmark", entries[0], at)
    file.append([(entry, at) for entry in entries[1:]])
    file.close()

    def cut_off(name: str) -> Path:
        folder = tmp_path / name
        folder.mkdir()
        for found in tmp_path.glob("one.tenthmark*"):
            shutil.copy(found, folder / found.name)
        return folder / "one.tenthmark"

    desk = launch.Desk(tmp_path, None)
    app = opened(desk, woods, tmp_path / "one.tenthmark")
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        assert "SAW cut 1 of 52" in picture(app)
        await saw(pilot, 20)
        first, here = cut_off("first"), picture(app)
    desk.close()

    desk = launch.Desk(tmp_path / "first", None)
    app = opened(desk, woods, first)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "SAW cut 21 of 52" in picture(app), "the same cut, on the screen it was left on"
        assert picture(app).splitlines()[4:15] == here.splitlines()[4:15]
        await saw(pilot, 6)
        tag = app.bench.river.plan.sticks[0].tag
        before = sawn(app)
        queue = picture(app)
        tag = queue.split("cut 27 of 52  ")[1].split(",")[0]
        spell(app, "a")
        spell(app, "compression failure at 31 in")
        await press(pilot, "enter")
        assert app.bench.job.stick(tag).condemned
        assert sawn(app) == before and "LAID OUT ANEW" in picture(app)
        assert tag not in {row.tag for row in app.bench.river.plan.sticks}
        assert app.bench.river.plan.unplaced_count == 0
        sound(app)
        await until(pilot, lambda: app.bench.unsaved == 0, "on disk")
        for found in (tmp_path / "first").glob("one.tenthmark*"):
            shutil.copy(found, tmp_path / found.name)
        second, here = cut_off("second"), picture(app)
        plan = app.bench.river.plan
    desk.close()

    desk = launch.Desk(tmp_path / "second", None)
    app = opened(desk, woods, second)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "SAW cut 27 of 52" in picture(app)
        assert app.bench.river.plan.sticks == plan.sticks, "the same layout after a power cut"
        assert sawn(app) == before
        await saw(pilot, 26)
        assert "all 52 pieces are cut" in picture(app)
        await press(pilot, "r")
        while "compression failure at 31 in" not in picture(app):
            assert "laid out for the saw: 52 pieces" not in picture(app), "the record says what happened"
            await press(pilot, "pagedown")
    assert desk.close()
    kinds = [line.kind for line in JobFile.open(second).lines()]
    assert kinds.count("MarkCut") == 52 and kinds.count("CondemnStick") == 1
    assert set(kinds) <= set(EDITS)
