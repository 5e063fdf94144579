"""The Parts list by keys: the size of a part in the new wood, and what the foot says of it."""

from dataclasses import replace
from typing import Any

from bench.core import grading
from bench.core.edits import ChooseSection, MarkCut, PutPart
from bench.core.records import CutMade, Layer, Part, SectionChoice, Species, inches
from tests.tools.driving import picture, press, ready, type_over
from tests.tools.parts_list import ASH, CAP, PLACES, RIB, cell, listed, notebook


def foot(app: Any) -> str:
    parts = app.bench.query_one("#parts")
    return " ".join(content.plain for content in parts.foot(parts.size.width))


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
        assert foot(app).startswith("cap 1 a, one length of cap 1, to be scarfed: 0 of 1 cut")
        await press(pilot, "slash")
        await type_over(pilot, "cap 1")
        assert listed(app) == ["cap 1", "cap 1 a"]
        await press(pilot, "k")
        assert app.bench.job.parts[-1].piece_of == "", "a copy is a part of its own"
