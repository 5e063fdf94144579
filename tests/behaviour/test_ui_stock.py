"""The Stock and Parts lists by keys: which rows in what order, copies, lots, tables from and to a file."""

from collections.abc import Sequence

import pytest

from bench.core.demo import entries
from bench.core.edits import ChooseSection, MarkCut, PutPart, PutStick, StartJob, TakeReading
from bench.core.errors import Clash, FileFault
from bench.core.rack import Rack
from bench.core.records import CutMade, Inspection, Part, SectionChoice, Species, Stick, inches
from bench.sheets import defects, stock_csv
from bench.ui.gravity_scale import WIDTH, scale
from bench.ui.listing import Order, free_name, natural
from bench.ui.stock_rows import good_for
from tests.behaviour.test_ui_panes import DRY, reading, ready
from tests.tools.driving import Notebook, feed, lines, picture, press, settled, shows, spell, until

ASH, FIR, SPRUCE = "white_ash", "douglas_fir_coast", "sitka_spruce"


class FakeFiles:
    """Files kept in a dictionary."""

    def __init__(self, **texts: str) -> None:
        self.texts = {name.replace("_", "."): text for name, text in texts.items()}

    def read(self, path: str) -> str:
        if path not in self.texts:
            raise FileFault(path, "there is no such file")
        return self.texts[path]

    def write(self, path: str, text: str, replace: bool = False) -> str:
        if path in self.texts and not replace:
            raise Clash("file", path, "it is there already")
        self.texts[path] = text
        return f"/shop/{path}"


def rack() -> Notebook:
    """Five sticks of three woods; all but the last read; the lengths are not in the order of their texts."""
    sticks = (
        ("A-1", ASH, "100", 6.7, "barn"),
        ("A-2", ASH, "60", 6.4, "barn"),
        ("F-1", FIR, "9", 5.5, "mill"),
        ("S-1", SPRUCE, "72", 4.2, ""),
        ("A-10", ASH, "80", None, "mill"),
    )
    edits = [StartJob("Tansy")]
    for tag, species, length, mark, lot in sticks:
        edits.append(PutStick(Stick(tag, species, inches(length), inches("1"), inches("1"), DRY, lot=lot)))
        if mark:
            edits.append(TakeReading(tag, reading(mark)))
    edits.append(PutPart(Part("cap 9", inches("24"), inches("3/4"), inches("3/4"), 2)))
    edits.append(PutPart(Part("cap 10", inches("8"), inches("3/4"), inches("3/4"), 5)))
    return Notebook(*edits)


def rows(app) -> list[str]:
    """The names at the beginning of the lines between the titles and the drawing of the stick."""
    shown = lines(app)
    start = next(place for place, line in enumerate(shown) if line.startswith("tag "))
    stop = next(place for place, line in enumerate(shown) if "|" in line)
    return [line.split()[0] for line in shown[start + 1 : stop] if line]


def tags(app) -> list[str]:
    stock = app.bench.query_one("#stock")
    return [stock.names()[row] for row in stock.listed]


def here(app, view: str = "#stock") -> str:
    return app.bench.query_one(view).here


async def typed(pilot, text: str) -> None:
    """Type over whatever the line holds, and take it."""
    feed(pilot.app, "ctrl+u")
    spell(pilot.app, text)
    feed(pilot.app, "enter")
    await settled(pilot)


# --- which rows, in what order


async def test_only_the_rows_that_hold_a_text(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "slash")
        await typed(pilot, "ASH")
        assert tags(app) == ["A-1", "A-2", "A-10"]
        assert "STOCK  3 of 5, only 'ASH'" in picture(app)
        assert rows(app) == ["A-1", "A-2", "A-10"]
        await press(pilot, "slash")
        await typed(pilot, "mill")
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
        await typed(pilot, "5")
        assert (here(app), tags(app)[0]) == ("S-1", "S-1"), "the shortest now, still highlighted"
        await press(pilot, "left", "left", "enter")
        await typed(pilot, "Q-7")
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
        await typed(pilot, "barn")
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
        await typed(pilot, wanted)
        assert (here(app), app.bench.river.tag) == (found, found)


async def test_go_to_a_stick_that_is_not_shown_or_not_there(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "slash")
        await typed(pilot, "ash")
        await press(pilot, "g")
        await typed(pilot, "S-1")
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
        await typed(pilot, "cap 10")
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
        await typed(pilot, "F-1")
        for right, text in ((3, "7/8 x 1-1/8"), (5, "2-3 knot 1/4 deep 1/8; 5"), (3, variant.upper())):
            await press(pilot, *["right"] * right, "enter")
            await typed(pilot, text)
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


# --- lots


async def test_the_rack_by_lots_and_back(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "v")
        shown = lines(app)
        place = next(place for place, line in enumerate(shown) if line.startswith("barn  white ash"))
        figures = shown[place + 1].split()
        values = [judged.verdict.value for judged in app.bench.river.rack[:2]]
        mean = sum(values) / 2
        # Of two values the standard deviation as a sample is their distance over the root of two.
        spread = abs(values[0] - values[1]) / 2**0.5
        assert figures[:2] == ["2", "2"]
        assert [float(text) for text in figures[2:6]] == pytest.approx(
            [mean, spread, min(values), max(values)], abs=0.0006
        )
        assert sum(int(text) for text in figures[6:7] + figures[9:11]) == 2
        assert figures[11:] == ["13", "ft"], "160 in is 13 ft and a third"
        assert any(line.startswith("no lot  Sitka spruce") for line in shown)
        assert len([line for line in shown if line.startswith("mill  ")]) == 2, "one of each wood"
        job = app.bench.job
        await press(pilot, "d", "k", "a", "enter", "slash", "5")
        assert app.bench.job is job, "no key works on what is not on show"
        assert "Add" not in picture(app)
        await press(pilot, "escape")
        assert "STOCK  5" in picture(app)
        await press(pilot, "v", "v")
        assert "STOCK  5" in picture(app)


async def test_what_is_sawn_off_is_not_left(woods: dict[str, Species]) -> None:
    book = Notebook(
        StartJob("Tansy"),
        PutStick(Stick("S-1", SPRUCE, inches("72"), inches("1"), inches("1"), DRY)),
        PutPart(Part("cap", inches("24"), inches("3/4"), inches("3/4"), 2)),
        MarkCut(CutMade("cap", "S-1", inches("0").exact, inches("24").exact)),
    )
    app = book.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "v")
        assert any(line.split()[-2:] == ["4", "ft"] for line in lines(app) if line.startswith("  "))


# --- files


async def test_the_rack_goes_to_a_file_and_is_never_written_over_unasked(woods: dict[str, Species]) -> None:
    files = FakeFiles(stock_csv="old")
    app = rack().open(woods, files=files)
    async with app.run_test(size=(100, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "x", "enter")
        await until(pilot, shows(app, "stock.csv exists; type replace"), "asked")
        assert files.texts == {"stock.csv": "old"}
        spell(app, "yes")
        feed(app, "enter")
        await until(pilot, shows(app, "type replace to write over it"), "asked again")
        await typed(pilot, "replace")
        assert "5 sticks written to /shop/stock.csv" in picture(app)
        sheet = stock_csv.read(files.texts["stock.csv"], woods, ())
        assert sheet == stock_csv.Sheet(app.bench.job.sticks, ())
        await press(pilot, "x")
        await typed(pilot, "rack.csv")
        assert files.texts["rack.csv"] == files.texts["stock.csv"]


HEAD = "tag,wood,length,width,depth\n"
ROWS = ("B-1,white ash,60", "B-2,elm,60", "B-3,white ash,6x", "B-4,white ash,72", "A-1,white ash,1")
FAULTY = HEAD + "".join(f"{row},1,1\n" for row in ROWS)


async def test_a_sound_file_is_taken_in_one_edit(woods: dict[str, Species]) -> None:
    app = rack().open(woods, files=FakeFiles(stock_csv=HEAD + "B-1,white ash,60,1,1\nB-2,white ash,70,1,1\n"))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "j", "enter")
        assert [stick.tag for stick in app.bench.job.sticks[5:]] == ["B-1", "B-2"]
        assert here(app) == "B-1"
        assert "2 sticks taken" in picture(app)
        await press(pilot, "u")
        assert len(app.bench.job.sticks) == 5


async def test_a_file_that_is_not_there_can_be_named_again(woods: dict[str, Species]) -> None:
    app = rack().open(woods, files=FakeFiles(loft_csv=HEAD + "B-1,white ash,60,1,1\n"))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "j", "enter")
        await until(pilot, shows(app, "stock.csv: there is no such file"), "said")
        await typed(pilot, "loft.csv")
        assert app.bench.job.stick("B-1") is not None


async def test_faults_are_listed_and_the_rest_is_taken_only_on_request(woods: dict[str, Species]) -> None:
    app = rack().open(woods, files=FakeFiles(stock_csv=FAULTY))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        job = app.bench.job
        await press(pilot, "t", "j", "enter")
        text = picture(app)
        assert "3 faults, nothing taken: line 3, wood: 'elm' is not known" in text
        assert "line 4, length: '6x' has 'x' after the number" in text
        assert "line 6, tag: 'A-1' is taken, the job has it" in text
        assert "type rest to take the other 2" in text
        await press(pilot, "escape")
        assert app.bench.job is job
        assert "line 4, length" in picture(app), "still to be read"
        await press(pilot, "escape")
        assert "STOCK  5" in picture(app)
        await press(pilot, "j", "enter")
        spell(app, "all")
        feed(app, "enter")
        await until(pilot, shows(app, "type rest to take the sound ones"), "refused")
        assert app.bench.job is job
        await typed(pilot, "rest")
        assert [stick.tag for stick in app.bench.job.sticks[5:]] == ["B-1", "B-4"]
        assert "STOCK  7" in picture(app)


async def test_a_long_list_of_faults_is_read_to_its_end_while_it_is_asked(woods: dict[str, Species]) -> None:
    elms = [f"B-{count},elm,60,1,1\n" for count in range(40)]
    app = rack().open(woods, files=FakeFiles(stock_csv=HEAD + "C-1,white ash,60,1,1\n" + "".join(elms)))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "t", "j", "enter")
        assert "line 42" not in picture(app)
        assert "more below" in picture(app)
        await press(pilot, *["pagedown"] * 9)
        assert "line 42, wood" in picture(app)
        assert "more below" not in picture(app)
        await press(pilot, "up")
        assert "1 more below" in picture(app)


async def test_without_files_it_is_said(woods: dict[str, Species]) -> None:
    app = rack().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        for key in ("x", "j"):
            await press(pilot, "t", key, "enter")
            assert "files are not to be had here" in picture(app)
            await press(pilot, "escape", "escape")


# --- small pieces


@pytest.mark.parametrize(
    ("values", "drawn"),
    [
        # Minimum 0.36 in column 3, average 0.40 in column 7: a column is 0.01. Counted by hand.
        ((0.365, None, None, 0.36, 0.40), "───█───┴─────"),
        ((0.3599, None, None, 0.36, 0.40), "──█┼───┴─────"),
        ((0.40, 0.385, 0.415, 0.36, 0.40), "───┼─==█=────"),
        ((0.30, 0.29, 0.31, 0.36, 0.40), "<──┼───┴─────"),
        ((0.60, 0.59, 0.61, 0.36, 0.40), "───┼───┴────>"),
        ((None, None, None, 0.36, 0.40), "───┼───┴─────"),
        ((0.36, None, None, 0.36, None), "───█─────────"),
        ((0.40, None, None, None, 0.40), "───────█─────"),
        ((0.40, None, None, None, None), " " * 13),
    ],
)
def test_a_gravity_on_its_scale(values: Sequence[float | None], drawn: str) -> None:
    assert scale(*values) == drawn
    assert len(drawn) == WIDTH


@pytest.mark.parametrize(
    ("words", "text"),
    [
        ("aaa", "all"),
        ("aah", "all but spar"),
        ("ahr", "small"),
        ("hrr", "HOLD"),
        ("rrr", "REJECT"),
        ("haa", "flange, spar"),
    ],
)
def test_what_a_stick_is_good_for_in_a_word(words: str, text: str) -> None:
    full = {"a": "accept", "h": "hold", "r": "reject"}
    uses = ("small_part", "spar_flange", "solid_spar")
    assert good_for(dict(zip(uses, (full[word] for word in words), strict=True)))[0] == text


def test_names_count_on() -> None:
    assert free_name("A-09", ("A-09", "a-10")) == "A-11"
    assert free_name("cap", ("cap", "cap 2")) == "cap 3"
    assert free_name("7", ()) == "8"
    assert sorted(("A-10", "a-9", "A-9b"), key=natural) == ["a-9", "A-9b", "A-10"]


def test_an_order_turns_round() -> None:
    keys = {0: 2.0, 1: None, 2: 1.0, 3: 2.0}
    rising = Order().turned("length")
    assert rising.arranged(keys, keys.__getitem__) == (2, 0, 3, 1)
    assert rising.turned("length").arranged(keys, keys.__getitem__) == (0, 3, 2, 1)
    assert rising.turned("length").turned("length") == Order()
    assert rising.turned("tag") == Order("tag")
