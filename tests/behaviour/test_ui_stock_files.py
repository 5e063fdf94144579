"""The Stock list by lots, and the rack to and from a file: nothing is written over or taken unasked."""

import pytest

from bench.core.edits import MarkCut, PutPart, PutStick, StartJob
from bench.core.records import CutMade, Part, Species, Stick, inches
from bench.sheets import stock_csv
from tests.tools.driving import Notebook, feed, lines, picture, press, ready, shows, spell, type_over, until
from tests.tools.listed_rack import SPRUCE, here, rack
from tests.tools.sticks import DRY
from tests.tools.text_files import FakeFiles

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
        await type_over(pilot, "replace")
        assert "5 sticks written to /shop/stock.csv" in picture(app)
        sheet = stock_csv.read(files.texts["stock.csv"], woods, ())
        assert sheet == stock_csv.Sheet(app.bench.job.sticks, ())
        await press(pilot, "x")
        await type_over(pilot, "rack.csv")
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
        await type_over(pilot, "loft.csv")
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
        await type_over(pilot, "rest")
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
