"""The Parts list by keys: each field typed, what is refused, what the foot says, tables to and from files."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from core_cases import SOUND as LOOKED_OVER

from bench.core import grading
from bench.core.demo import entries
from bench.core.edits import ChooseSection, MarkCut, PutPart, PutStick, StartJob, TakeReading
from bench.core.records import (
    CutMade,
    Layer,
    Part,
    SectionChoice,
    Settings,
    Species,
    Stick,
    Stretch,
    Typed,
    inches,
)
from bench.sheets import parts_csv
from bench.ui.parts_view import PartsView
from tests.behaviour.test_ui_panes import DRY, reading
from tests.behaviour.test_ui_stock import here
from tests.tools.driving import Notebook, feed, lines, picture, press, ready, shows, spell, type_over, until
from tests.tools.text_files import FakeFiles

ASH, SPRUCE = "white_ash", "sitka_spruce"
SIDE = inches("3/4")
CAP = Part("cap 1", inches("60"), SIDE, SIDE, 2, group="left wing")
RIB = Part("rib", inches("9"), inches("1/2"), inches("1/2"), 5, group="right wing", note="bay 3")
POST = Part("post", inches("24"), inches("1"), SIDE, 1, minimum_sg=Typed(Fraction(2, 5), "0.40"))
# Where each column stands: how often right is pressed from the first.
PLACES = {
    "part": 0,
    "pieces": 1,
    "length": 2,
    "width": 3,
    "depth": 4,
    "in new wood": 5,
    "cut": 6,
    "becomes": 7,
    "critical": 8,
    "drawn in": 9,
    "least G": 10,
    "best sticks": 11,
    "scarf": 12,
    "no joint": 13,
    "grain": 14,
    "group": 15,
    "note": 16,
}


def notebook(*more: Any, units: str = "in") -> Notebook:
    """Three parts and a stick of spruce that all of them fit on."""
    stick = Stick("S-1", SPRUCE, inches("144"), inches("1"), inches("1"), DRY, inspection=LOOKED_OVER)
    edits = [
        StartJob("Tansy", settings=Settings(units=units)),
        PutStick(stick),
        TakeReading("S-1", reading(4.4)),
    ]
    return Notebook(*edits, *(PutPart(part) for part in (CAP, RIB, POST)), *more)


def listed(app: Any) -> list[str]:
    parts = app.bench.query_one("#parts")
    return [parts.names()[row] for row in parts.listed]


def cell(app: Any, name: str, column: str) -> str:
    parts = app.bench.query_one("#parts")
    return parts.texts(parts.names().index(name))[column][0]


def foot(app: Any) -> str:
    parts = app.bench.query_one("#parts")
    return " ".join(content.plain for content in parts.foot(parts.size.width))


async def go(pilot: Any, column: str) -> None:
    """To the Parts screen, its first row and a column."""
    await press(pilot, "p", *["right"] * PLACES[column])


# --- cells


def test_the_places_are_those_of_the_screen(woods: dict[str, Species]) -> None:
    assert [column.title for column in PartsView(woods).columns()] == list(PLACES)


@pytest.mark.parametrize(
    ("column", "text", "changed"),
    [
        ("part", "cap rear", {"name": "cap rear"}),
        ("pieces", "12", {"quantity": 12}),
        ("length", "5' 2 1/2\"", {"length": Typed(Fraction(125, 2) * inches("1").exact, "5' 2 1/2\"")}),
        ("width", "5/8", {"width": inches("5/8")}),
        ("depth", "19 mm", {"depth": Typed(Fraction(19, 1000), "19 mm")}),
        ("drawn in", "white ash", {"species": ASH}),
        ("least G", ".38", {"minimum_sg": Typed(Fraction(38, 100), ".38")}),
        ("scarf", "12", {"scarf": Typed(Fraction(1, 12), "1:12")}),
        ("scarf", "1:15 depth", {"scarf": Typed(Fraction(1, 15), "1:15"), "scarf_side": "depth"}),
        (
            "no joint",
            "0-12, 48 to 60",
            {"no_joint": (Stretch(inches("0"), inches("12")), Stretch(inches("48"), inches("60")))},
        ),
        ("grain", "rings parallel to the web", {"grain": "rings parallel to the web"}),
        ("group", "bay 2", {"group": "bay 2"}),
        ("note", "fit last", {"note": "fit last"}),
    ],
)
async def test_every_cell_is_typed_over_and_undone(
    woods: dict[str, Species], column: str, text: str, changed: dict[str, Any]
) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await go(pilot, column)
        await press(pilot, "enter")
        await type_over(pilot, text)
        after = replace(CAP, **changed)
        assert app.bench.job.parts == (after, RIB, POST)
        await press(pilot, "enter", "enter")
        assert app.bench.job.parts[0] == after, "taken as it stands, nothing changes"
        await press(pilot, "u")
        assert app.bench.job.parts == (CAP, RIB, POST)


@pytest.mark.parametrize(
    ("column", "turned"),
    [
        ("becomes", [{"use": "spar_flange"}, {"use": "solid_spar"}, {}]),
        ("critical", [{"critical": True}, {}]),
        ("best sticks", [{"best": True}, {}]),
    ],
)
async def test_choices_are_turned_round(
    woods: dict[str, Species], column: str, turned: list[dict[str, Any]]
) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await go(pilot, column)
        for changed in turned:
            await press(pilot, "enter")
            assert app.bench.job.parts[0] == replace(CAP, **changed)


@pytest.mark.parametrize(
    ("column", "text", "said"),
    [
        ("part", "RIB", "part: RIB: this name is taken"),
        ("pieces", "2.5", "pieces: '2.5' is not a whole number"),
        ("pieces", "-1", "pieces: '-1' is negative"),
        ("pieces", "20000", "quantity: 20000 is not possible here; 0 to 10000"),
        ("length", "0", "length: 0 in is not possible here; a size above zero"),
        ("width", "-3/4", "width: '-3/4' is negative"),
        ("least G", "x", "least G: 'x' has no number in it"),
        ("drawn in", "elm", "species: 'elm' is not known"),
        ("scarf", "1:2", "scarf: 1:2 is not possible here; 1:30 to 1:4 is possible, say 1:12"),
        ("scarf", "up", "scarf: 'up' has no number in it; a slope of a scarf like 12 or 1:12"),
        ("no joint", "50-61", "no joint: 50 in to 61 in is not possible here; a stretch of the part"),
        ("no joint", "5", "no joint: '5' has 5 in, a place without length"),
        ("in new wood", "", "in new wood: it is worked out, not typed"),
        ("cut", "", "cut: it is worked out, not typed"),
    ],
)
async def test_a_cell_refuses_what_cannot_be(
    woods: dict[str, Species], column: str, text: str, said: str
) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(100, 24)) as pilot:
        await ready(pilot)
        job = app.bench.job
        await go(pilot, column)
        await press(pilot, "enter")
        if text:
            feed(app, "ctrl+u")
            spell(app, text)
            feed(app, "enter")
        await until(pilot, shows(app, said), said)
        assert app.bench.job is job


async def test_an_empty_cell_takes_back_what_was_asked(woods: dict[str, Species]) -> None:
    asked = replace(
        CAP,
        minimum_sg=Typed(Fraction(2, 5), "0.40"),
        scarf=Typed(Fraction(1, 12), "1:12"),
        scarf_side="width",
        no_joint=(Stretch(inches("0"), inches("12")),),
    )
    app = notebook(PutPart(asked, was="cap 1")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p")
        assert [cell(app, "cap 1", name) for name in ("minimum_sg", "scarf", "no_joint")] == [
            *("0.40", "1:12 width", "0-12")
        ]
        here_now = 0
        for column in ("least G", "scarf", "no joint"):
            await press(pilot, *["right"] * (PLACES[column] - here_now), "enter")
            await type_over(pilot, "")
            here_now = PLACES[column]
        assert app.bench.job.parts[0] == CAP
        assert cell(app, "cap 1", "scarf") == "--"


async def test_a_shorter_part_may_not_leave_a_stretch_behind(woods: dict[str, Species]) -> None:
    app = notebook(PutPart(replace(CAP, no_joint=(Stretch(inches("48"), inches("60")),)), was="cap 1"))
    app = app.open(woods)
    async with app.run_test(size=(100, 24)) as pilot:
        await ready(pilot)
        await go(pilot, "length")
        await press(pilot, "enter")
        feed(app, "ctrl+u")
        spell(app, "50")
        feed(app, "enter")
        await until(pilot, shows(app, "no joint: 48 in to 60 in is not possible here"), "refused")
        assert app.bench.job.parts[0].length == inches("60")


async def test_a_new_part_is_like_the_one_highlighted_without_its_stretches(
    woods: dict[str, Species],
) -> None:
    like = replace(
        CAP, no_joint=(Stretch(inches("48"), inches("60")),), grain="on edge", note="old", critical=True
    )
    app = notebook(PutPart(like, was="cap 1")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "a", "enter")  # the name that is offered
        for text in ("3", "20", "5/8", "1/2", "solid"):
            await type_over(pilot, text)
        new = replace(
            like, name="cap 2", quantity=3, length=inches("20"), width=inches("5/8"), depth=inches("1/2"),
            use="solid_spar", note="", no_joint=(),
        )  # fmt: skip
        assert app.bench.job.parts[-1] == new
        assert here(app, "#parts") == "cap 2"
        await press(pilot, "k")
        assert app.bench.job.parts[-1] == replace(new, name="cap 3")
        await press(pilot, "d", "u", "u", "u")
        assert [part.name for part in app.bench.job.parts] == ["cap 1", "rib", "post"]


async def test_the_first_part_of_a_list(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), ChooseSection(SectionChoice(plan=ASH))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p")
        assert "a  adds the first part" in picture(app) and "j  takes a list" in picture(app)
        await press(pilot, "a")
        for text in ("cap", "2", "60", "3/4", "3/4", "small"):
            await type_over(pilot, text)
        assert app.bench.job.parts == (Part("cap", inches("60"), SIDE, SIDE, 2, species=ASH),)


# --- which rows, in what order


async def test_only_a_group_and_by_any_column(woods: dict[str, Species]) -> None:
    app = notebook().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "slash")
        await type_over(pilot, "wing")
        assert listed(app) == ["cap 1", "rib"]
        await press(pilot, "slash")
        await type_over(pilot, "RIGHT wing")
        assert listed(app) == ["rib"]
        await press(pilot, "slash", "backspace", "enter")
        assert len(listed(app)) == 3


@pytest.mark.parametrize(
    ("column", "order"),
    [
        ("part", ["cap 1", "post", "rib"]),
        ("pieces", ["post", "cap 1", "rib"]),
        ("length", ["rib", "post", "cap 1"]),
        ("width", ["rib", "cap 1", "post"]),
        ("in new wood", ["rib", "cap 1", "post"]),
        ("least G", ["post", "cap 1", "rib"]),
        ("scarf", ["rib", "cap 1", "post"]),
        ("no joint", ["rib", "cap 1", "post"]),
        ("group", ["cap 1", "rib", "post"]),
        ("note", ["rib", "cap 1", "post"]),
    ],
)
async def test_by_a_column_what_is_not_said_last(
    woods: dict[str, Species], column: str, order: list[str]
) -> None:
    joined = replace(RIB, scarf=Typed(Fraction(1, 12), "1:12"), no_joint=(Stretch(inches("1"), inches("2")),))
    app = notebook(PutPart(joined, was="rib")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await go(pilot, column)
        await press(pilot, "n")
        assert listed(app) == order
        assert f"by {column}, rising" in picture(app)


# --- sizes, and what the foot says


def cut(part: Part, start: str, width: str, depth: str) -> MarkCut:
    begun = inches(start).exact
    end = begun + part.length.exact
    return MarkCut(CutMade(part.name, "S-1", begun, end, inches(width).exact, inches(depth).exact))


async def test_a_part_that_is_wholly_cut_shows_the_size_it_was_cut_to(woods: dict[str, Species]) -> None:
    done = (cut(CAP, "0", "3/4", "3/4"), cut(CAP, "61", "3/4", "3/4"), cut(RIB, "130", "1/2", "1/2"))
    stick = SectionChoice(use=ASH, match="bending")
    app = notebook(*done, ChooseSection(stick)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p")
        cap, _, post = app.bench.river.parts
        assert cap.resized
        assert cap.width < inches("3/4").exact, "ash is stronger than spruce: a new one would be smaller"
        assert cell(app, "cap 1", "new") == "3/4 x 3/4 in"
        assert "2 pieces were cut before the resizing and keep their size: 3/4 x 3/4 in" in foot(app)
        assert cell(app, "rib", "new") != "1/2 x 1/2 in", "four are still to be cut, to the new size"
        await press(pilot, *["right"] * PLACES["in new wood"], "n")
        assert listed(app).index("rib") < listed(app).index("cap 1")
        assert post.made == 0
        assert listed(app)[-1] == "post", "1 x 3/4 in, and even in ash larger than the cap as it was cut"


async def test_a_part_without_a_size_in_the_new_wood_says_so(woods: dict[str, Species]) -> None:
    layers = (Layer(ASH, inches("3/8")), Layer(ASH, inches("3/8")))
    choice = SectionChoice(use=ASH, shape="laminated", layers=layers, match="bending")
    app = notebook(ChooseSection(choice)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p")
        assert app.bench.river.parts[1].barred_by == grading.BY_SIZE
        assert cell(app, "rib", "new") == "has no size"
        assert cell(app, "cap 1", "new") != "has no size"
        said = "Section pane: laminated; of this list only parts drawn 3/4 x 3/4 in take its layers"
        assert said in foot(app)


async def test_the_foot_says_once_that_parts_are_solid(woods: dict[str, Species]) -> None:
    choice = SectionChoice(use=ASH, shape="round", match="bending")
    app = notebook(ChooseSection(choice)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p")
        said = "Section pane: solid round; the parts of this list are sized as solid rectangles"
        assert picture(app).count(said) == 1
        await press(pilot, "down")
        assert picture(app).count(said) == 1
    app = notebook(ChooseSection(replace(choice, shape="rectangle"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p")
        assert "solid" not in foot(app)


async def test_a_length_of_a_scarfed_part_says_whose_it_is(woods: dict[str, Species]) -> None:
    length = replace(CAP, name="cap 1 a", length=inches("33"), quantity=1, piece_of="cap 1", group="")
    app = notebook(PutPart(length)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "p", "g")
        await type_over(pilot, "cap 1 a")
        assert foot(app).startswith("cap 1 a, one length of cap 1, to be scarfed: 0 cut")
        await press(pilot, "slash")
        await type_over(pilot, "cap 1")
        assert listed(app) == ["cap 1", "cap 1 a"]
        await press(pilot, "k")
        assert app.bench.job.parts[-1].piece_of == "", "a copy is a part of its own"


# --- files

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


# --- small screens


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_nothing_overflows_in_any_cell(woods: dict[str, Species], size: tuple[int, int]) -> None:
    full = replace(
        CAP,
        name="longeron forward of bay 3, upper, left",
        scarf=Typed(Fraction(1, 12), "1:12"),
        scarf_side="width",
        no_joint=(Stretch(inches("0"), inches("12")), Stretch(inches("48"), inches("60"))),
        grain="rings parallel to the web, pith side out " * 4,
        group="forward fuselage, left hand side, bay 3",
        note="n" * 200,
        critical=True,
        minimum_sg=Typed(Fraction(95, 100), "0.95"),
    )
    shape = SectionChoice(use=ASH, shape="round", match="bending")
    edits = [edit for edit in entries(woods) if not isinstance(edit, ChooseSection | MarkCut)]
    app = Notebook(*edits, PutPart(full), ChooseSection(shape)).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, "p", "g")
        await type_over(pilot, "longeron forward")
        parts = app.bench.query_one("#parts")
        for title in PLACES:
            assert parts.column_here().title == title
            drawn = parts.render().plain.split("\n")
            assert len(drawn) <= parts.size.height
            assert all(len(line.rstrip()) <= size[0] for line in drawn)
            assert any(line.startswith("longeron forw..") for line in drawn)
            assert title[: parts.column_here().width] in drawn[1]
            await press(pilot, "right")
        assert "q" in lines(app)[-1]
        assert "Section pane: solid round; the parts of this list are" in picture(app)
