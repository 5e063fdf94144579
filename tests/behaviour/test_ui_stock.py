"""The Stock list by keys: which rows in what order, copies, and what its cells and its foot say."""

import pytest

from bench.core.demo import entries
from bench.core.edits import ChooseSection, MarkCut, PutPart, PutStick, StartJob, TakeReading
from bench.core.rack import Rack
from bench.core.records import CutMade, Inspection, Part, SectionChoice, Species, Stick, inches
from bench.sheets import defects
from tests.tools.driving import Notebook, feed, lines, picture, press, ready, shows, spell, type_over, until
from tests.tools.listed_rack import ASH, FIR, SPRUCE, here, rack
from tests.tools.sticks import DRY, reading


def rows(app) -> list[str]:
    """The names at the beginning of the lines between the titles and the drawing of the stick."""
    shown = lines(app)
    start = next(place for place, line in enumerate(shown) if line.startswith("tag "))
    stop = next(place for place, line in enumerate(shown) if "|" in line)
    return [line.split()[0] for line in shown[start + 1 : stop] if line]


def tags(app) -> list[str]:
    stock = app.bench.query_one("#stock")
    return [stock.names()[row] for row in stock.listed]


# --- which rows, in what order


async def test_only_the_rows_that_hold_a_text(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "slash")
        await type_over(pilot, "ASH")
        assert tags(app) == ["A-1", "A-2", "A-10"]
        assert "STOCK  3 of 5, only 'ASH'" in picture(app)
        assert rows(app) == ["A-1", "A-2", "A-10"]
        await press(pilot, "slash")
        await type_over(pilot, "mill")
        assert (tags(app), here(app)) == (["F-1", "A-10"], "F-1"), "the highlight goes to one that holds it"
        assert app.bench.river.tag == "F-1", "and that one is in hand"
        await press(pilot, "slash")
        feed(app, "ctrl+u")
        spell(app, "yew")
        feed(app, "enter")
        await until(pilot, shows(app, "no row holds 'yew'"), "refused, the line stays open")
        await press(pilot, "escape")
        assert tags(app) == ["F-1", "A-10"]
        await press(pilot, "slash", "backspace", "enter")
        assert (len(tags(app)), here(app)) == (5, "F-1")


async def test_by_a_column_numbers_as_numbers_and_what_is_missing_last(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "n")
        assert tags(app) == ["A-1", "A-2", "A-10", "F-1", "S-1"]
        await press(pilot, "right", "right", "n")
        assert tags(app) == ["F-1", "A-2", "S-1", "A-10", "A-1"]
        assert "5, by length, rising" in picture(app)
        await press(pilot, "n")
        assert tags(app) == ["A-1", "A-10", "S-1", "A-2", "F-1"]
        assert "by length, falling" in picture(app)
        await press(pilot, "n")
        assert tags(app) == ["A-1", "A-2", "F-1", "S-1", "A-10"]
        await press(pilot, "right", "right", "right", "n")
        assert tags(app)[-1] == "A-10", "not read: last"
        await press(pilot, "n")
        assert tags(app)[0] == "A-1"
        assert tags(app)[-1] == "A-10", "not read: last this way too"


async def test_an_ordered_list_follows_what_is_undone_and_what_is_sought_judges_nothing_anew(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", *["right"] * 5, "n")
        assert tags(app) == ["S-1", "F-1", "A-2", "A-1", "A-10"]
        stock = app.bench.query_one("#stock")
        for name in ("gravity", "uses", "lot", "length", "tag"):
            column = next(column for column in stock.columns() if column.name == name)
            with monkeypatch.context() as graded:
                graded.setattr(Rack, "_judge", lambda rack, place: pytest.fail("judged"))
                assert [stock.sort_key(row, column) is None for row in range(5)] == [
                    stock.texts(row)[name][0] == "--" for row in range(5)
                ]
        gravity = stock.texts(0)["gravity"][0]
        assert stock.holds(0, gravity) and not stock.holds(1, gravity) and stock.holds(0, "barn")
        await press(pilot, "u", "u", "u", "u")  # two parts, and the last two readings with their sticks
        assert tags(app) == ["F-1", "A-2", "A-1", "S-1"], "not read any more: last"
        await press(pilot, "y")
        assert tags(app) == ["S-1", "F-1", "A-2", "A-1"]


async def test_the_highlight_stays_with_its_stick(woods: dict[str, Species]) -> None:
    """Through an order, a draft, a new tag, a row taken out, and back."""
    app = rack().open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "down", "right", "right", "n")
        assert (here(app), app.bench.river.tag) == ("A-2", "A-2")
        await press(pilot, "f", "down")
        assert app.bench.drafting
        await press(pilot, "t")
        assert here(app) == "A-2"
        await press(pilot, "down", "enter")
        await type_over(pilot, "5")
        assert (here(app), tags(app)[0]) == ("S-1", "S-1"), "the shortest now, still highlighted"
        await press(pilot, "left", "left", "enter")
        await type_over(pilot, "Q-7")
        assert here(app) == "Q-7"
        await press(pilot, "d")
        assert (here(app), app.bench.river.tag) == ("F-1", "F-1"), "the one that stands in its place"
        await press(pilot, "u")
        assert here(app) == "F-1"
        assert len(tags(app)) == 5


async def test_a_row_that_no_longer_holds_the_text_stays_while_it_is_highlighted(
    woods: dict[str, Species],
) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "slash")
        await type_over(pilot, "barn")
        await press(pilot, "f", *["right"] * 2, "t")
        assert here(app) == "F-1", "in hand, so it is on show"
        assert "2 of 5, only 'barn'" in picture(app)
        assert tags(app) == ["A-1", "A-2", "F-1"]
        await press(pilot, "up")
        assert (tags(app), here(app)) == (["A-1", "A-2"], "A-2")


@pytest.mark.parametrize(
    ("wanted", "found"), [("s", "S-1"), ("A-1", "A-1"), ("a-10", "A-10"), ("a", "A-1"), ("F", "F-1")]
)
async def test_go_to_a_stick_by_the_beginning_of_its_tag(
    woods: dict[str, Species], wanted: str, found: str
) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "g")
        await type_over(pilot, wanted)
        assert (here(app), app.bench.river.tag) == (found, found)


async def test_go_to_a_stick_that_is_not_shown_or_not_there(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "slash")
        await type_over(pilot, "ash")
        await press(pilot, "g")
        await type_over(pilot, "S-1")
        assert (here(app), len(tags(app))) == ("S-1", 5)
        await press(pilot, "g")
        spell(app, "A-7")
        feed(app, "enter")
        await until(pilot, shows(app, "tag: 'A-7' is not known; nearest: A-1"), "refused")


# --- copies


async def test_a_copy_has_nothing_that_was_measured_on_the_first(woods: dict[str, Species]) -> None:
    found = defects.read_all("3-4 knot 1/4", "in")
    full = Stick(
        "A-1", ASH, inches("60"), inches("1"), inches("3/4"), DRY, "", "barn", found, (reading(6.5),),
        "bright", Inspection(looked=True),
    )  # fmt: skip
    app = Notebook(StartJob("Tansy"), PutStick(full)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "k")
        copy = app.bench.job.sticks[1]
        assert copy == Stick("A-2", ASH, full.length, full.width, full.depth, lot="barn", note="bright")
        assert here(app) == "A-2"
        await press(pilot, "u")
        assert [stick.tag for stick in app.bench.job.sticks] == ["A-1"]


async def test_copies_in_a_burst_have_names_of_their_own(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t")
        feed(app, "k", "k", "k")
        await until(pilot, lambda: len(app.bench.job.sticks) == 8, "three more")
        assert [stick.tag for stick in app.bench.job.sticks[5:]] == ["A-3", "A-4", "A-5"]
        await press(pilot, "p", "k", "k")
        assert [part.name for part in app.bench.job.parts] == ["cap 9", "cap 10", "cap 11", "cap 12"]


async def test_parts_are_found_ordered_and_gone_to_as_well(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "right", "right", "n")
        parts = app.bench.query_one("#parts")
        assert [parts.names()[row] for row in parts.listed] == ["cap 10", "cap 9"]
        await press(pilot, "g")
        await type_over(pilot, "cap 10")
        assert here(app, "#parts") == "cap 10"


# --- cells


async def test_at_80_columns_the_first_screen_says_what_a_stick_is_good_for(
    woods: dict[str, Species],
) -> None:
    app = Notebook(*entries(woods)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t")
        titles = next(line for line in lines(app) if line.startswith("tag "))
        assert titles.split() == [
            *(
                "tag",
                "wood",
                "length",
                "section",
                "moist.",
                "G",
                "dry",
                "G",
                "on",
                "a",
                "scale",
                "good",
                "for",
            )
        ]
        row = next(line for line in lines(app) if line.startswith("A-04"))
        assert row.split()[:7] == ["A-04", "white", "ash", "68", "7/8", "x", "7/8"]
        assert row.endswith(("HOLD", "REJECT"))
        text = picture(app)
        assert "small " in text
        assert "┼ minimum" in text


@pytest.mark.parametrize(
    ("right", "text", "said"),
    [
        (3, "1 x 2 x 3", "section: '1 x 2 x 3' has three dimensions; width x depth"),
        (3, "0", "has a side of zero"),
        (8, "3-4 knit", "kind of defect: 'knit' is not known; nearest: knot"),
        (8, "58-101", "it must lie on the stick"),
        (11, "arctic", "class: 'arctic' is not known; this wood has none"),
        (7, "", "good for: it is worked out, not typed"),
    ],
)
async def test_a_cell_refuses_what_cannot_be(
    woods: dict[str, Species], right: int, text: str, said: str
) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        job = app.bench.job
        await press(pilot, "t", *["right"] * right, "enter")
        if text:
            feed(app, "ctrl+u")
            spell(app, text)
            feed(app, "enter")
        await until(pilot, shows(app, said), said)
        assert app.bench.job is job


async def test_cells_are_typed_over(woods: dict[str, Species]) -> None:
    variant = next(f.variant for f in woods[FIR].figures if f.variant)
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "g")
        await type_over(pilot, "F-1")
        for right, text in ((3, "7/8 x 1-1/8"), (5, "2-3 knot 1/4 deep 1/8; 5"), (3, variant.upper())):
            await press(pilot, *["right"] * right, "enter")
            await type_over(pilot, text)
        stick = app.bench.job.stick("F-1")
        assert (stick.width.text, stick.depth.text) == ("7/8 in", "1-1/8 in")
        assert stick.defects == defects.read_all("2-3 knot 1/4 deep 1/8; 5", "in")
        assert stick.variant == variant
        await press(pilot, *["left"] * 3, "enter", "enter")
        assert app.bench.job.stick("F-1") == stick, "taken as it stands, nothing changes"


async def test_a_low_screen_keeps_its_rows(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        await press(pilot, "t")
        assert rows(app) == ["A-1", "A-2", "F-1", "S-1", "A-10"]
        assert "small HOLD" in picture(app)
        assert all(len(line) <= 60 for line in lines(app))


async def test_the_foot_draws_the_highlighted_stick(woods: dict[str, Species]) -> None:
    found = defects.read_all("0-6 split; 30-33 knot 1/4", "in")
    stick = Stick("S-1", SPRUCE, inches("66"), inches("1"), inches("1"), DRY, defects=found)
    app = Notebook(
        StartJob("Tansy"),
        PutStick(stick),
        TakeReading("S-1", reading(4.2)),
        ChooseSection(SectionChoice()),
        PutPart(Part("cap", inches("22"), inches("3/4"), inches("3/4"), 2)),
        MarkCut(CutMade("cap", "S-1", inches("40").exact, inches("62").exact)),
    ).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t")
        place = next(place for place, line in enumerate(lines(app)) if line.startswith("S-1     |"))
        drawn = lines(app)[place][9:79]
        split, knot = drawn.index("L"), drawn.index("K")
        # 70 columns for 66 in: 30 in lies in the column that begins at 31 x 66/70 = 29.2 in.
        assert (split, knot) == (0, 31)
        assert drawn.count("=") == pytest.approx(70 * 22 / 66, abs=1)
        assert "ACCEPT" in lines(app)[place + 1]
        assert lines(app)[place + 2].startswith("small HOLD")
        assert "K knot" in lines(app)[place + 3]
