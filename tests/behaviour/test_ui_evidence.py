"""The Evidence screen by keys: a reading set aside with its reason, the sheet, the line to draw."""

import re

from bench.core.edits import StartJob
from bench.core.records import Species
from tests.tools.driving import Notebook, feed, picture, press, ready, shows, spell, until
from tests.tools.looked_over import book
from tests.tools.sticks import SOUND
from tests.tools.text_files import FakeFiles


async def test_readings_that_disagree_hold_until_one_is_set_aside_with_a_reason(
    woods: dict[str, Species],
) -> None:
    app = book(SOUND, marks=(4.2, 4.9)).open(woods)
    async with app.run_test(size=(80, 40)) as pilot:
        await ready(pilot)
        assert app.bench.river.hand.verdict.word == "hold"
        await press(pilot, "e", "d")
        spell(app, "2")
        feed(app, "enter")
        await until(pilot, shows(app, "it is counted already"), "no reason given")
        spell(app, " slipped in the tube")
        feed(app, "enter")
        await until(pilot, lambda: app.bench.river.hand.verdict.word == "accept", "accepted by the other")
        assert len(app.bench.job.stick("S-1").readings) == 2, "none is thrown away"
        await until(pilot, shows(app, "0.451 +/- 0.018  set aside: slipped"), "shown with its reason")
        await press(pilot, "u")
        assert app.bench.river.hand.verdict.word == "hold"


async def test_the_sheet_is_written_and_never_over_another_unasked(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = book(SOUND).open(woods, files=papers)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "e", "x", "enter")
        await until(pilot, shows(app, "written to /shop/S-1-stick.html"), "written")
        assert "As solid spar: ACCEPT" in papers.texts["S-1-stick.html"]
        await press(pilot, "x")
        feed(app, "ctrl+u")
        spell(app, "S-1.txt")
        feed(app, "enter")
        await until(pilot, shows(app, "written to /shop/S-1.txt"), "written as text")
        first = papers.texts["S-1.txt"]
        for said in ("As solid spar: ACCEPT", "anc19", "ac4313", "+/-", "approval belongs", "Minimum"):
            assert said.lower() in first.lower(), said
        assert max(len(line) for line in first.splitlines()) <= 78
        papers.texts["S-1.txt"] = "mine"
        await press(pilot, "x")
        feed(app, "ctrl+u")
        spell(app, "S-1.txt")
        feed(app, "enter")
        await until(pilot, shows(app, "it is there already"), "asked")
        spell(app, "yes")
        feed(app, "enter")
        await until(pilot, shows(app, "type replace to write over it"), "not taken for replace")
        assert papers.texts["S-1.txt"] == "mine"
        feed(app, "ctrl+u")
        spell(app, "replace")
        feed(app, "enter")
        await until(pilot, lambda: papers.texts["S-1.txt"] == first, "replaced")


async def test_without_files_it_says_so(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "e", "x", "enter")
        await until(pilot, shows(app, "files are not to be had here"), "said")


async def test_the_sheet_waits_for_what_is_tried(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = book(SOUND).open(woods, files=papers)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "up", "e", "x")
        assert "keep it or drop it first" in picture(app)
        assert papers.texts == {}


async def test_escape_goes_back_to_the_screen_a_page_is_read_beside(woods: dict[str, Species]) -> None:
    app = book(SOUND).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "m", "w", "escape")
        assert app.bench.focused.id == "moisture"
        await press(pilot, "w", "w")
        assert app.bench.focused.id == "moisture"
        await press(pilot, "escape")
        assert app.bench.focused.id == "float"


async def test_a_figure_typed_with_nothing_to_set_aside_opens_no_line(woods: dict[str, Species]) -> None:
    """Without a stick, and with a stick that was never floated."""
    for notebook in (Notebook(StartJob("Tansy")), book(marks=())):
        app = notebook.open(woods)
        async with app.run_test(size=(80, 24)) as pilot:
            await ready(pilot)
            await press(pilot, "e", "4", "enter")
            assert app.is_running and "there is no reading to set aside" in picture(app)


async def test_the_line_to_draw_is_whole_in_every_width(woods: dict[str, Species]) -> None:
    """Where the minimum stands and from where on a reading is sure: neither is cut off."""
    for width, height in ((60, 20), (80, 24), (120, 40), (160, 45)):
        app = book(marks=(4.6,)).open(woods)
        async with app.run_test(size=(width, height)) as pilot:
            await ready(pilot)
            pane = " ".join(row.replace("║", " ", 1).partition("║")[0] for row in picture(app).split("\n"))
            text = " ".join(pane.split())
            assert re.search(r"draw the minimum 0.360 at \d.\d\d, one reading sure from \d.\d\d on", text)
