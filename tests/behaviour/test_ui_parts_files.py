"""The Parts list to and from a file by keys: every fault with its line, and nothing taken unasked."""

from fractions import Fraction
from typing import Any

from bench.core.edits import ChooseSection
from bench.core.records import SectionChoice, Species, Typed
from bench.sheets import parts_csv
from tests.tools.driving import feed, picture, press, ready, shows, spell, type_over, until
from tests.tools.listed_rack import here
from tests.tools.parts_list import ASH, CAP, POST, RIB, notebook
from tests.tools.text_files import FakeFiles

HEAD = "part,pieces,length,width,depth,group\n"
SOUND = HEAD + "strut,2,30,1,1,left\nbrace,1,20,1/2,1/2,left\n"
FAULTY = HEAD + "strut,2,30,1,1,\nbrace,1,2x,1,1,\nRIB,1,9,1,1,\ntie,1,20,1,1,\nStrut,1,9,1,0,\n"


def opened(woods: dict[str, Species], **texts: str) -> tuple[Any, FakeFiles]:
    files = FakeFiles(**texts)
    return notebook().open(woods, files=files), files


async def test_the_list_goes_to_a_file_and_comes_back(woods: dict[str, Species]) -> None:
    app, files = opened(woods, parts_csv="old")
    async with app.run_test(size=(100, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "x", "enter")
        await until(pilot, shows(app, "parts.csv exists; type replace"), "asked")
        assert files.texts == {"parts.csv": "old"}
        await type_over(pilot, "replace")
        assert "3 parts written to /shop/parts.csv" in picture(app)
        sheet = parts_csv.read(files.texts["parts.csv"], woods, ())
        assert sheet == parts_csv.Sheet((CAP, RIB, POST), ())


async def test_a_sound_file_is_taken_in_one_edit(woods: dict[str, Species]) -> None:
    app, _ = opened(woods, parts_csv=SOUND)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "j", "enter")
        assert [part.name for part in app.bench.job.parts] == ["cap 1", "rib", "post", "strut", "brace"]
        assert here(app, "#parts") == "strut"
        assert "2 parts taken; u takes them out again" in picture(app)
        await press(pilot, "u")
        assert app.bench.job.parts == (CAP, RIB, POST)
        assert "undone: 2 parts off a list, 3 pieces: strut, brace" in picture(app)


async def test_bare_lengths_of_a_file_are_in_the_units_of_the_shop(woods: dict[str, Species]) -> None:
    app = notebook(units="mm").open(woods, files=FakeFiles(parts_csv=SOUND))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "j", "enter")
        assert app.bench.job.parts[3].length == Typed(Fraction(30, 1000), "30 mm")


async def test_a_part_without_a_wood_is_drawn_in_the_wood_of_the_section(woods: dict[str, Species]) -> None:
    app = notebook(ChooseSection(SectionChoice(plan=ASH))).open(woods, files=FakeFiles(parts_csv=SOUND))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "j", "enter")
        assert app.bench.job.parts[3].species == ASH


async def test_faults_are_listed_and_the_rest_is_taken_only_on_request(woods: dict[str, Species]) -> None:
    app, _ = opened(woods, parts_csv=FAULTY)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        job = app.bench.job
        await press(pilot, "p", "j", "enter")
        text = picture(app)
        assert "4 faults, nothing taken: line 3, length: '2x' has 'x' after the number" in text
        assert "line 4, part: 'RIB' is taken, the job has it" in text
        assert "line 6, part: 'Strut' is taken, line 2 has it" in text
        assert "line 6, depth: 0 in is not possible here; a size above zero is wanted" in text
        assert "type rest to take the other 2" in text
        await press(pilot, "escape")
        assert app.bench.job is job
        await press(pilot, "a", "d", "k", "slash", "enter", "5")
        assert app.bench.job is job, "no key works on what is not on show"
        assert "line 6" in picture(app), "still to be read"
        await press(pilot, "escape")
        assert "PARTS  3" in picture(app)
        await press(pilot, "j", "enter")
        spell(app, "all")
        feed(app, "enter")
        await until(pilot, shows(app, "type rest to take the sound ones"), "refused")
        await type_over(pilot, "rest")
        assert [part.name for part in app.bench.job.parts[3:]] == ["strut", "tie"]
        assert "PARTS  5" in picture(app)
        await press(pilot, "u")
        assert app.bench.job.parts == job.parts


async def test_a_list_too_long_is_refused_and_nothing_can_be_taken(woods: dict[str, Species]) -> None:
    rows = "".join(f"rib {number},9,20,1,1,\n" for number in range(1, 1200))
    app, _ = opened(woods, parts_csv=HEAD + rows)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "j", "enter")
        # 1111 x 9 = 9999, the next line makes 10,008; it stands on line 1113 below the heading.
        assert "line 1113, pieces: 10,008 pieces up to here, and 10,000 is the most" in picture(app)
        assert "type rest" not in picture(app)
        await press(pilot, "escape")
        assert app.bench.job.parts == (CAP, RIB, POST)


async def test_a_long_list_of_faults_is_read_to_its_end_while_it_is_asked(woods: dict[str, Species]) -> None:
    elms = "".join(f"rib {number},1,9x,1,1,\n" for number in range(40))
    app, _ = opened(woods, parts_csv=SOUND + elms)
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "j", "enter")
        assert "more below" in picture(app)
        assert "line 43" not in picture(app)
        await press(pilot, *["pagedown"] * 20)
        assert "line 43, length" in picture(app)
        assert "more below" not in picture(app)
        await press(pilot, "up")
        assert "1 more below" in picture(app)
