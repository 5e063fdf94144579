"""Keys on the panes: what they do to the job, and what the screen says."""

from fractions import Fraction

import pytest

from bench.core.demo import entries
from bench.core.edits import ChooseSection, PutPart, PutStick, StartJob, TakeReading
from bench.core.records import (
    Defect,
    Part,
    SectionChoice,
    Species,
    Stick,
    inches,
)
from tests.tools.driving import (
    CLOCK,
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


def stick(tag: str, species: str = "sitka_spruce") -> Stick:
    return Stick(tag, species, inches("60"), inches("1"), inches("1"), DRY, inspection=SOUND)


def notebook(*marks: float) -> Notebook:
    """A job with one stick for each mark and one part that needs a piece of 3/4 square."""
    edits = [StartJob("Tansy")]
    for count, mark in enumerate(marks, 1):
        edits += [PutStick(stick(f"S-{count}")), TakeReading(f"S-{count}", reading(mark))]
    edits += [
        ChooseSection(SectionChoice(gravity="stick")),
        PutPart(Part("cap", inches("24"), inches("3/4"), inches("3/4"), 2)),
    ]
    return Notebook(*edits)


async def test_stepping_the_waterline_changes_section_and_cuts(woods: dict[str, Species]) -> None:
    """The river: one step down the stick, and the section grows, and at last the stick leaves the list."""
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        before = app.bench.river
        assert before.plan.placed == 2
        await press(pilot, "down")
        after = app.bench.river
        assert after.hand.result.sg_oven_dry < before.hand.result.sg_oven_dry
        assert after.section.resized.exact.width > before.section.resized.exact.width
        assert "TRIED, not kept" in picture(app)
        await press(pilot, "pagedown")
        river = app.bench.river
        assert river.hand.verdict.word == "reject"
        assert river.plan.placed == 0
        text = picture(app)
        assert "REJECT" in text
        assert "no place: 2 x cap" in text
        assert app.bench.job.stick("S-1").reading.marks == (4.20,), "nothing kept yet"
        await press(pilot, "escape")
        assert app.bench.river.plan.placed == 2
        assert app.bench.river.hand.verdict.word == "accept"


async def test_all_three_lines_answer_at_80_columns(woods: dict[str, Species]) -> None:
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        first = lines(app)
        assert first[1].startswith("SECTION")
        assert first[2].startswith("CUTS")
        await press(pilot, "pagedown")
        second = lines(app)
        assert second[1] != first[1]
        assert "0 of 2 fit" in second[2]


async def test_a_held_key_is_one_recalculation_behind_at_most(woods: dict[str, Species]) -> None:
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        feed(app, *["up"] * 40)
        await until(pilot, lambda: "6.20" in picture(app), "forty steps of 0.05")
        await press(pilot, "enter")
        assert app.bench.job.stick("S-1").reading.marks == (pytest.approx(6.20),)
        assert app.bench.job.stick("S-1").reading.taken == CLOCK[:10]
        assert len(app.bench.job.stick("S-1").readings) == 2, "the earlier reading is kept"


async def test_a_burst_of_keys_keeps_its_order(woods: dict[str, Species]) -> None:
    """`6.85`, Enter, Enter typed faster than the screen draws is one kept reading of 6.85."""
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        spell(app, "6.85")
        feed(app, "enter", "enter")
        await until(pilot, lambda: len(app.bench.job.stick("S-1").readings) == 2, "kept")
        assert app.bench.job.stick("S-1").reading.marks == (6.85,)


@pytest.mark.parametrize(
    ("keys", "typed", "said"),
    [
        ((), "11", "the stick has 10 marks"),
        ((), "4.x", "waterline"),
        (("tab",), "45", "30 %"),
        (("tab",), "..", "mois"),
        (("tab", "tab"), "9Q", "temperature"),
        (("tab", "tab", "tab"), "0", "above zero"),
        (("tab", "tab", "tab", "tab", "tab"), "5", "1, 2, 3, 4"),
    ],
)
async def test_what_cannot_be_stays_to_be_mended(
    woods: dict[str, Species], keys: tuple[str, ...], typed: str, said: str
) -> None:
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, *keys)
        job = app.bench.job
        spell(app, typed)
        feed(app, "enter")
        await until(pilot, shows(app, said), said)
        await press(pilot, "escape", "escape")
        assert app.bench.job is job


async def test_a_missing_moisture_is_asked_for_never_assumed(woods: dict[str, Species]) -> None:
    bare = Stick("S-1", "sitka_spruce", inches("60"), inches("1"), inches("1"))
    app = Notebook(StartJob("Tansy"), PutStick(bare)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        spell(app, "4.2")
        feed(app, "enter")
        await until(pilot, shows(app, "moisture: not given"), "moisture asked for")
        assert app.bench.job.stick("S-1").reading is None
        await press(pilot, "up")
        assert "no step makes one up" in picture(app), "the moisture is highlighted, and not made up"
        spell(app, "12")
        feed(app, "enter")
        await until(pilot, shows(app, "draw the minimum 0.360 at 3.94"), "minimum placed before dipping")
        assert app.bench.job.stick("S-1").reading is None, "nothing kept yet"
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.stick("S-1").reading is not None, "kept")


async def test_the_minimum_line_and_the_source_of_a_limit_are_shown(woods: dict[str, Species]) -> None:
    ash = Notebook(StartJob("Tansy"), PutStick(stick("A-1", "white_ash")), TakeReading("A-1", reading(7.0)))
    app = ash.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        text = picture(app)
        assert "ACCEPT" in text
        assert "WITHOUT A PUBLISHED SOURCE" in text
        assert "oven-dry weight on oven-dry volume" in text


async def test_a_recalled_limit_holds(woods: dict[str, Species]) -> None:
    wood = Notebook(
        StartJob("Tansy"), PutStick(stick("B-1", "american_basswood")), TakeReading("B-1", reading(6.0))
    )
    app = wood.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert app.bench.river.hand.verdict.word == "hold"
        assert "RECALLED, NOT READ" in picture(app)


async def test_undo_and_redo_are_entries_of_their_own(woods: dict[str, Species]) -> None:
    book = notebook(4.20)
    app = book.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        count = len(book.entries)
        await press(pilot, "p", "d")
        assert app.bench.job.parts == ()
        await press(pilot, "u")
        assert len(app.bench.job.parts) == 1
        await press(pilot, "u", "y", "y")
        assert app.bench.job.parts == ()
        assert [entry.what for _, entry in book.entries[count:]] == ["edit", "undo", "undo", "redo", "redo"]


async def test_a_file_that_cannot_be_written_is_said_and_nothing_is_lost(woods: dict[str, Species]) -> None:
    book = notebook(4.20)
    app = book.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        book.problem = "no room left on the disk"
        await press(pilot, "up", "enter")
        await until(pilot, shows(app, "NOT SAVED (1) since 10:05"), "said at the head")
        assert "no room left on the disk" in picture(app)
        await press(pilot, "up", "enter")
        await until(pilot, shows(app, "NOT SAVED (2)"), "counts on")
        assert app.bench.job.stick("S-1").reading.marks == (pytest.approx(4.30),)
        book.problem = None
        await press(pilot, "up", "enter")
        await until(pilot, lambda: lines(app)[0].endswith(" saved"), "all written")


async def test_stock_refuses_what_cannot_be(woods: dict[str, Species]) -> None:
    app = notebook(4.20, 4.25).open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        job = app.bench.job
        await press(pilot, "t", "enter")
        for typed, said in (("S-2", "this name is taken"), ("", "give a name")):
            feed(app, "ctrl+u")
            spell(app, typed)
            feed(app, "enter")
            await until(pilot, shows(app, said), said)
        await press(pilot, "escape", *["right"] * 8, "enter")
        feed(app, "ctrl+u")
        spell(app, "58-61")
        feed(app, "enter")
        await until(pilot, shows(app, "it must lie on the stick"), "defect outside")
        feed(app, "escape")
        await settled(pilot)
        assert app.bench.job is job
        await press(pilot, "enter")
        feed(app, "ctrl+u")
        spell(app, "30-32, 41 5/8 - 42")
        feed(app, "enter")
        await until(pilot, lambda: len(app.bench.job.sticks[0].defects) == 2, "defects taken")
        first: Defect = app.bench.job.sticks[0].defects[0]
        assert (first.start.exact, first.end.exact) == (Fraction(762, 1000), Fraction(8128, 10000))


async def test_a_part_longer_than_any_stick_is_kept_and_said(woods: dict[str, Species]) -> None:
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "right", "right")
        spell(app, "8'")
        feed(app, "enter")
        await until(pilot, shows(app, "longer than any clear length by 36 in (60 in is the"), "said")
        assert app.bench.job.part("cap").length.text == "8'"


async def test_a_small_terminal_says_what_it_needs_and_comes_back(woods: dict[str, Species]) -> None:
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await pilot.resize_terminal(50, 12)
        await until(pilot, shows(app, "Tenthmark needs 60 x 20"), "says so")
        await pilot.resize_terminal(60, 20)
        await until(pilot, shows(app, "FLOAT S-1"), "back by itself")
        assert all(len(line) <= 60 for line in lines(app))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 30), (160, 45)])
async def test_every_screen_fits_and_shows_its_keys(woods: dict[str, Species], size: tuple[int, int]) -> None:
    """The demo job on every screen: no line too wide, the keys of the place on show."""
    app = Notebook(*entries(woods)).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        for key, word in (
            ("f", "FLOAT"), ("s", "SECTION"), ("c", "CUTS"), ("t", "STOCK"), ("p", "PARTS"),
            ("l", "African mahogany"), ("o", "SHOP"), ("r", "RECORD"), ("w", "WORKING"),
            ("i", "INSPECT"), ("e", "EVIDENCE"), ("m", "MOISTURE"), ("h", "WOODS"), ("question_mark", "HELP"),
        ):  # fmt: skip
            await press(pilot, key)
            shown = picture(app)
            assert word in shown, key
            assert "INVENTED" in shown
            assert all(len(line) <= size[0] for line in lines(app))
            last = "Leave" if size[1] >= 24 else ": ? tells them"
            assert last in shown, f"the keys are cut off on {word}"
        await press(pilot, "escape", "z")
        assert "█" in picture(app)


@pytest.mark.parametrize("key", ["f", "s", "c"])
async def test_the_working_shows_formula_numbers_and_sources(woods: dict[str, Species], key: str) -> None:
    app = Notebook(*entries(woods)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, key, "w")
        wanted = {"f": "d_0 = (d_1 + d_2) / 2", "s": "solved for the scale k", "c": "length = sawn + pieces"}[
            key
        ]
        assert wanted in picture(app)


async def test_a_faulty_species_file_is_named(woods: dict[str, Species]) -> None:
    book = notebook(4.20)
    app = book.open(woods, faults=["own/ash.toml, line 7, unit: 'psl' is not known"])
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "own/ash.toml, line 7" in picture(app)


@pytest.mark.parametrize("size", [(80, 24), (120, 30), (160, 45)])
async def test_the_caution_stands_whole_beside_a_section(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    app = Notebook(*entries(woods)).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, "s")
        words = " ".join(app.bench.query_one("#section").render().plain.split())
        assert "A changed section is a changed design: designer and authority approve it." in words


async def test_what_is_not_on_show_is_not_drawn(woods: dict[str, Species]) -> None:
    """Nor made before it is asked for; and what is shown again shows what came about meanwhile."""
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert set(app.bench.made) == {"float"}
        await press(pilot, "c", "f")
        assert set(app.bench.made) == {"float", "cuts"}
        cuts, drawn = app.bench.made["cuts"], []
        render = cuts.render
        cuts.render = lambda: drawn.append(True) or render()
        await press(pilot, "pagedown")
        assert not drawn
        await press(pilot, "c")
        assert drawn
        assert any("0 of 2 fit" in line for line in lines(app)), picture(app)


async def test_a_small_terminal_at_the_start_is_left_with_a_key(woods: dict[str, Species]) -> None:
    app = notebook(4.20).open(woods)
    async with app.run_test(size=(40, 10)) as pilot:
        await ready(pilot)
        assert "make it larger" in " ".join(picture(app).split())
        feed(app, "q")
        await until(pilot, lambda: not app.is_running, "left")
