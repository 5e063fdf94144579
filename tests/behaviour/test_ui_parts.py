"""The Parts list by keys: each field typed, what is refused, in what order its rows stand."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from bench.core.demo import entries
from bench.core.edits import ChooseSection, MarkCut, PutPart, StartJob
from bench.core.records import Part, SectionChoice, Species, Stretch, Typed, inches
from bench.ui.parts_view import PartsView
from tests.tools.driving import Notebook, feed, lines, picture, press, ready, shows, spell, type_over, until
from tests.tools.listed_rack import here
from tests.tools.parts_list import ASH, CAP, PLACES, POST, RIB, SIDE, cell, listed, notebook


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
