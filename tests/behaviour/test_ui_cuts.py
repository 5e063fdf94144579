"""The Cuts pane by keys: the layout to one scale, nearer and along, totals, paper, and what to buy."""

import re

from bench.core.demo import entries
from bench.core.edits import PutPart, PutStick, StartJob, TakeReading
from bench.core.records import Part, Species, Stick, inches
from tests.tools.at_the_saw import READING, part, stick
from tests.tools.driving import Notebook, feed, lines, picture, press, ready, settled, shows, spell, until
from tests.tools.sticks import DRY, SOUND
from tests.tools.text_files import FakeFiles


def book(*more) -> Notebook:
    return Notebook(
        StartJob("Tansy"),
        *stick("S-1", "96"),
        *stick("S-2", "60"),
        part("cap", "30", 4, group="left"),
        part("brace", "10", 2),
        *more,
    )


def bars(app) -> dict[str, str]:
    """The drawn row of each stick, by its tag."""
    rows = lines(app)
    heads = [n for n, row in enumerate(rows) if re.match(r"S-\d  ", row)]
    return {rows[n].split()[0]: rows[n + 1] for n in heads}


async def test_sticks_are_drawn_to_one_scale_and_the_same_part_is_lit_everywhere(
    woods: dict[str, Species],
) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        drawn = bars(app)
        assert len(drawn["S-1"]) == 79 and abs(len(drawn["S-2"]) - 79 * 60 / 96) <= 1, "60 in beside 96"
        while app.bench.query_one("#cuts").piece_here().part != "cap":
            await press(pilot, "down")
        text = "".join(bars(app).values())
        assert text.count("|cap") == 1 and text.count("*cap") == 3 and "*brace" not in text
        assert "cap (left), 30 in, on S-" in picture(app)
        start = {name: row.index("cap") / 79 * 96 for name, row in bars(app).items() if "cap" in row}
        assert all(min(abs(place - k * 30.125) for k in range(4)) < 3 for place in start.values())


async def test_nearer_along_and_back(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        assert "lt/rt Along" not in picture(app), "not offered where it would do nothing"
        before = bars(app)
        await press(pilot, "n")
        assert "2 x, from 0 in" in picture(app) and "lt/rt Along" in picture(app)
        assert len(bars(app)["S-2"]) > 60, "nearer: it fills the width"
        await press(pilot, "right")
        assert "2 x, from 24 in" in picture(app)
        await press(pilot, *["right"] * 9)
        assert "2 x, from 48 in" in picture(app), "not beyond the end"
        for _ in range(6):
            await press(pilot, "down")
            piece = app.bench.query_one("#cuts").piece_here()
            at = float(piece.start) / 0.0254
            began = float(re.search(r"2 x, from ([\d /]+) in", picture(app))[1])
            assert began <= at < began + 48, "the lit piece is always on show"
        await press(pilot, "n", "n", "n")
        while app.bench.query_one("#cuts").at:
            await press(pilot, "up")
        assert bars(app) == before


async def test_totals_and_what_has_no_place(woods: dict[str, Species]) -> None:
    app = book(part("spar", "200", critical=True)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "v")
        text = picture(app)
        assert "no place: 1 x spar: longer than any clear length by" in text
        for word in ("pieces", "sticks", "waste", "weight", "drawing", "basis"):
            assert re.search(rf"^{word} ", text, re.MULTILINE), word
        assert re.search(r"weight +\d+\.\d+ lb", text) and "12.0 % moisture" in text
        await press(pilot, "v")
        assert "S-1  96 in" in picture(app)


async def test_totals_follow_a_gravity_that_moves_no_piece(woods: dict[str, Species]) -> None:
    app = book(part("spar", "200", critical=True)).open(woods)

    def weights() -> list[str]:
        return re.findall(r"\d\.\d+ lb", picture(app))

    async with app.run_test(size=(140, 40)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "v")
        await press(pilot, "f", "up")
        before, plan = weights(), app.bench.river.plan
        await press(pilot, "up")
        assert app.bench.river.plan is plan and weights() != before


async def test_where_nothing_of_use_is_left_no_length_is_told(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), *stick("S-1", "24"), part("brace", "20")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        assert "no offcut of 6 in or more; kerf 1/8 in" in picture(app), "3 7/8 in are left"
        assert "longest piece left" not in picture(app)


async def test_sheet_labels_and_page_go_to_files_and_nothing_is_written_over(
    woods: dict[str, Species],
) -> None:
    papers = FakeFiles()
    app = book().open(woods, files=papers)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        for name in ("cuts.txt", "labels.txt", "cuts.html"):
            await press(pilot, "x")
            feed(app, "ctrl+u")
            spell(app, name)
            await press(pilot, "enter")
            await until(pilot, shows(app, f"written to /shop/{name}"), "written")
        assert papers.texts["cuts.txt"].count("cap") >= 4
        assert "<svg" in papers.texts["cuts.html"] and "<script" not in papers.texts["cuts.html"]
        assert "S-1" in papers.texts["labels.txt"]
        papers.texts["cuts.txt"] = "my own"
        await press(pilot, "x")
        feed(app, "ctrl+u")
        spell(app, "cuts.txt")
        await press(pilot, "enter")
        assert "exists; type replace" in picture(app)
        await press(pilot, "escape")
        assert papers.texts["cuts.txt"] == "my own"


async def test_what_to_buy_from_the_pane(woods: dict[str, Species]) -> None:
    """Four caps of 30 in and a stick of 20 in: all four are ordered."""
    app = Notebook(StartJob("Tansy"), *stick("S-1", "20"), part("cap", "30", 4)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "g", "a")
        for text in ("eight foot", "sitka spruce", "1", "6", "96", "9"):
            feed(app, "ctrl+u")
            spell(app, text)
            await press(pilot, "enter")
        await until(pilot, lambda: app.bench.job.offers, "an offer")
        await settled(pilot)
        assert app.bench.job.offers[0].species == "sitka_spruce"
        await until(pilot, shows(app, "board"), "worked out")
        # Three pieces of 30 in lie in 96 in, and a plank of 6 in gives more strips than the two it takes.
        assert "4 of 4, 2 strips" in picture(app)
        assert "order 1 plank of eight foot" in picture(app) and "4.0 board ft, cost 36.00" in picture(app)
        assert "Bought wood is floated and inspected like any other" in picture(app)
        await press(pilot, "u")
        assert not app.bench.job.offers


async def test_a_long_list_and_an_empty_one_are_drawn(woods: dict[str, Species]) -> None:
    many = [PutPart(Part(f"bit {n}", inches("2"), inches("3/4"), inches("3/4"), 20)) for n in range(30)]
    bare = PutStick(
        Stick("S-1", "sitka_spruce", inches("96"), inches("1"), inches("1"), DRY, inspection=SOUND)
    )
    for notebook in (
        Notebook(StartJob("Tansy")),
        Notebook(StartJob("Tansy"), bare, TakeReading("S-1", READING), *many),
        Notebook(*entries(woods)),
    ):
        app = notebook.open(woods)
        for size in ((60, 20), (80, 24), (160, 45)):
            async with app.run_test(size=size) as pilot:
                await ready(pilot)
                await press(pilot, "c", "pagedown", "n", "right", "v", "v", "z", "z", "g", "c", "enter")
                assert all(len(row) <= size[0] for row in lines(app)) and app.is_running
            app = notebook.open(woods)
