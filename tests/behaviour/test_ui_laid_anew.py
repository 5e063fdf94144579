"""What a mishap at the saw moved is told again when the job is opened again, from the record alone."""

from test_ui_saw import book, ready

from bench.core.edits import LayOut, NameJob
from bench.core.history import EDIT, EMPTY, UNDO, Entry
from bench.core.laid_anew import laid_anew
from bench.core.records import Species
from bench.sheets.saw import NO_PLACE
from tests.tools.driving import CLOCK, Notebook, feed, lines, picture, press, settled, shows, spell, until


def again(before: Notebook, *more: Entry) -> Notebook:
    """The same job, opened from its record."""
    opened = Notebook()
    opened.entries = [*before.entries, *((CLOCK, entry) for entry in more)]
    opened.history = EMPTY
    for _, entry in opened.entries:
        opened.history = opened.history.follow(entry)
    opened.written = len(opened.entries)
    return opened


def listed(app) -> list[str]:
    """The list of what was laid out anew, without the heading."""
    return list(app.bench.query_one("#saw").changed)


async def condemned(woods: dict[str, Species]) -> tuple[Notebook, list[str]]:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space", "a")
        spell(app, "rot")
        feed(app, "enter")
        await until(pilot, shows(app, "LAID OUT ANEW"), "laid out anew")
        await settled(pilot)
        return notebook, listed(app)


async def test_a_condemned_stick_is_told_after_a_restart(woods: dict[str, Species]) -> None:
    notebook, told = await condemned(woods)
    assert told
    app = again(notebook).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await until(pilot, shows(app, "LAID OUT ANEW"), "told again")
        assert listed(app) == told
        assert all(any(one[:30] in row for row in lines(app)) for one in told)
        await press(pilot, "u")
        assert "LAID OUT ANEW" not in picture(app) and listed(app) == []


async def test_a_spoiled_piece_is_told_after_a_restart_until_the_next_cut(woods: dict[str, Species]) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space", "k")
        told = listed(app)
        assert told
    app = again(notebook).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await until(pilot, shows(app, "LAID OUT ANEW"), "told again")
        assert listed(app) == told
        await press(pilot, "space")
        assert listed(app) == []


async def test_other_changes_since_do_not_hide_it_and_an_undo_ends_it(woods: dict[str, Species]) -> None:
    notebook, _ = await condemned(woods)
    assert isinstance(notebook.entries[-1][1].edit, LayOut)
    moved = laid_anew(again(notebook).history)
    assert moved
    renamed = Entry(EDIT, NameJob("Tansy wing"))
    assert laid_anew(again(notebook, renamed).history) == moved
    assert laid_anew(again(notebook, renamed, Entry(UNDO)).history) == moved
    assert laid_anew(again(notebook, Entry(UNDO)).history) == ()


def test_a_job_that_is_not_being_sawn_has_none() -> None:
    assert laid_anew(book().history) == () == laid_anew(EMPTY)


async def test_a_list_longer_than_the_screen_is_walked_through_and_says_what_lost_its_place(
    woods: dict[str, Species],
) -> None:
    told = (f"rib 0: {NO_PLACE}, it was on S-1", *(f"rib {n}: S-2, not S-1" for n in range(1, 31)))
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space", "k")
        app.bench.query_one("#saw").changed = told
        await settled(pilot)
        assert "LAID OUT ANEW, 31 changed, 1 of them NO PLACE: v shows all" in picture(app)
        await press(pilot, "v")
        seen, text = set(), picture(app)
        assert "v shows all" not in text and "rib 30:" not in text
        for _ in range(len(told)):
            seen |= {one for one in told if one in picture(app)}
            await press(pilot, "down")
        assert seen == set(told) and "of 31" in picture(app)
        last = picture(app)
        await press(pilot, "down")
        assert picture(app) == last, "the end is the end"
        await press(pilot, "v")
        assert "STOP" in picture(app) and len(app.bench.job.cuts) == 1
