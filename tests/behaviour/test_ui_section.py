"""The Section pane by keys: shapes, matches, figures, a side as sawn, the sheet; the last good one stays."""

import json
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from core_cases import SOUND

from bench import units
from bench.__main__ import main
from bench.core import resizing, tolerance
from bench.core.edits import ChooseSection, PutPart, PutStick, StartJob, TakeReading
from bench.core.records import FloatReading, Layer, Part, SectionChoice, Species, Stick, Typed, inches
from bench.sheets import ranking, sections
from tests.tools.driving import CLOCK, Notebook, feed, lines, picture, press, settled, shows, spell, until
from tests.tools.text_files import FakeFiles

DRY = Typed(Fraction(1, 10), "10 %")
BATH = Typed(Fraction(29315, 100), "20 C")
SIDE = inches("3/4")


CAPACITIES = [sections.CAPACITY[name] for name in ("weight", *resizing.CAPACITIES)]
LAYERS = tuple(
    Layer(wood, inches(size))
    for wood, size in (("white_ash", "1/8"), ("sitka_spruce", "1/2"), ("white_ash", "1/8"))
)
# States of the section, each with as much to be said as there is of its kind.
STATES = {
    "square": {},
    "aircraft": {"gravity": "aircraft"},
    "stick": {"gravity": "stick"},
    "round": {"shape": "round"},
    "box": {"shape": "box", "flange": inches("1/4"), "web": inches("1/8")},
    "i": {"shape": "i", "flange": inches("1/4"), "web": inches("1/8")},
    "layers": {"shape": "laminated", "layers": LAYERS},
    "unknown": {"use": "balsa"},
}
SIZES = [(60, 20), (80, 24), (120, 24), (120, 36), (160, 45)]


def book(mark: float = 6.9, **choice: object) -> Notebook:
    """Ash for spruce, an ash stick that is read, and two parts."""
    stick = Stick("A-1", "white_ash", inches("96"), inches("1"), inches("1"), DRY, inspection=SOUND)
    reading = FloatReading((mark,), inches("1/2"), inches("5"), DRY, BATH, taken=CLOCK[:10])
    asked = {"use": "white_ash", "match": "bending", **choice}
    chosen = SectionChoice(**asked)  # type: ignore[arg-type]
    return Notebook(
        StartJob("Tansy"), PutStick(stick), TakeReading("A-1", reading), ChooseSection(chosen),
        PutPart(Part("upright", inches("20"), SIDE, SIDE, 3)),
        PutPart(Part("diagonal", inches("20"), inches("1/2"), inches("1/2"), 2)),
    )  # fmt: skip


async def ready(pilot) -> None:
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    await press(pilot, "s")


def shown(app) -> list[str]:
    """The lines of the pane alone."""
    at = app.bench.query_one("#section").content_region
    return [row[at.x : at.right].rstrip() for row in lines(app)[at.y : at.bottom]]


def fields(app) -> list[str]:
    return [field.name for field in app.bench.query_one("#section").fields()]


async def to(pilot, name: str) -> None:
    """Highlight a value by its name."""
    pane = pilot.app.bench.query_one("#section")
    while pane.field_here().name != name:
        await press(pilot, "tab")


async def typed(pilot, name: str, text: str) -> None:
    """A value typed over; Enter first where it does not begin with a figure."""
    await to(pilot, name)
    if not text[0].isdigit():
        await press(pilot, "enter")
        if "enter Take it" not in picture(pilot.app):
            await press(pilot, "enter")  # the first kept what was tried
        await press(pilot, "ctrl+u")
    spell(pilot.app, text)
    feed(pilot.app, "enter")
    await settled(pilot)


async def test_a_box_needs_its_walls_and_the_last_good_section_stays(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        placed = app.bench.river.plan.placed
        await typed(pilot, "depth", "2")
        good = app.bench.river.section.resized
        await to(pilot, "shape")
        await press(pilot, "up", "up")
        text = picture(app)
        assert "flange: not given" in text and "the last section that could be:" in text
        assert app.bench.river.section.resized is good and app.bench.river.plan.placed == placed
        await typed(pilot, "flange", "3/8")
        await typed(pilot, "web", "1/16")
        await press(pilot, "enter")
        assert app.bench.job.section.shape == "box"
        resized = app.bench.river.section.resized
        assert resized.plan.name == "box" and resized.ratios["bending"] == pytest.approx(1, abs=1e-9)
        assert "RECALLED, NOT READ" in picture(app), "the form factor"
        await typed(pilot, "web", "1")
        assert "wider" in picture(app) or "leave" in picture(app)
        assert app.bench.river.section.resized is resized
        feed(app, "enter")
        await until(pilot, shows(app, "enter Take it"), "it cannot be kept: its value is asked for")
        assert app.bench.job.section.web == inches("1/16"), "what cannot be is not kept"
        await press(pilot, "escape", "escape")
        assert app.bench.river.section.resized == resized


async def test_layers_an_own_set_and_a_slot(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await to(pilot, "shape")
        await press(pilot, "down")
        assert "layers: not given" in picture(app)
        await typed(pilot, "layers", "1/8 white ash, 1/2 birch, 1/8 white ash")
        assert "birch" in picture(app) and "nearest" in picture(app), "two woods begin so"
        feed(app, "ctrl+u")
        spell(app, "1/8 white ash, 1/2 sitka spruce, 1/8 white ash")
        feed(app, "enter")
        await settled(pilot)
        view = app.bench.river.section
        assert [ply.wood.species for ply in view.layers] == ["white_ash", "sitka_spruce", "white_ash"]
        assert view.resized.ratios["bending"] == pytest.approx(1, abs=1e-9)
        await press(pilot, "escape")

        await to(pilot, "match")
        for _ in range(20):
            if app.bench.query_one("#section").now.match == "own":
                break
            await press(pilot, "up")
        assert "own" in fields(app)
        await typed(pilot, "own", "stiff, column, energy")
        resized = app.bench.river.section.resized
        assert set(resized.wanted) == {"stiffness", "column", "toughness"}
        assert min(resized.ratios[name] for name in resized.wanted) >= 1 - 1e-9
        await typed(pilot, "slot", "depth 0.7")
        resized = app.bench.river.section.resized
        assert resized.capped and resized.shop[1] <= inches("0.7").exact
        await typed(pilot, "slot", "sideways 1")
        assert "does not say which side" in picture(app)


async def test_figures_are_never_mixed_and_always_said(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await to(pilot, "gravity")
        await press(pilot, "up")
        assert "gravity of A-1 as measured" in picture(app)
        await press(pilot, "up")
        assert "ESTIMATED from gravity and grain of A-1" in picture(app)
        assert app.bench.river.section.use.estimated
        await press(pilot, "up")
        text = picture(app)
        if app.bench.river.section.refusal is None:
            assert "aircraft design values" in text
            assert app.bench.river.section.plan.basis == app.bench.river.section.use.basis == "aircraft"


async def test_a_side_as_sawn_is_judged_held_and_the_other_made_good(woods: dict[str, Species]) -> None:
    """The saw ran off by a thirty-second: recut, or make the width good; what was cut keeps its size."""
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        aimed = app.bench.river.section.resized
        await press(pilot, "c", "enter", "space")
        await until(pilot, lambda: len(app.bench.job.cuts) == 1, "one is cut")
        assert (app.bench.job.cuts[0].width, app.bench.job.cuts[0].depth) == aimed.shop
        await press(pilot, "s", "n")
        spell(app, "depth .62")
        feed(app, "enter")
        await until(pilot, shows(app, "RECUT"), "judged")
        resized = app.bench.river.section.resized
        assert resized.exact.depth == pytest.approx(0.62 * 0.0254) and resized.exact.width > aimed.exact.width
        assert resized.ratios["bending"] == pytest.approx(1, abs=1e-9)
        feed(app, "enter")
        await until(pilot, lambda: app.bench.job.section.held_at is not None, "kept")
        sized = {one.part.name: one for one in app.bench.river.parts}
        assert sized["upright"].depth == inches("0.62").exact
        assert sized["diagonal"].depth == inches("1/2").exact, "another section keeps its own held side"
        await press(pilot, "c")
        await until(pilot, shows(app, "cut before the resizing and keeps its size"), "said")


async def test_by_the_stick_in_hand_in_one_key(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "g", "enter")
        section = app.bench.job.section
        assert (section.use, section.gravity, section.stick) == ("white_ash", "stick", "A-1")


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 30), (160, 45)])
async def test_every_page_fits_and_the_drawing_is_to_scale(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    app = book().open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        for word in (
            "gives away",
            "energy to break",
            "to one scale",
            "come out under by",
            "A changed section",
        ):
            assert word in picture(app)
            assert all(len(line) <= size[0] for line in picture(app).splitlines())
            await press(pilot, "v")


async def written(pilot: Any, app: Any, papers: FakeFiles) -> None:
    """The decision as text, by the keys."""
    await press(pilot, "x")
    feed(app, "ctrl+u")
    spell(app, "section.txt")
    feed(app, "enter")
    await until(pilot, lambda: papers.texts, "written")


async def test_pane_sheet_and_verb_say_the_same(
    woods: dict[str, Species], capsys: pytest.CaptureFixture[str]
) -> None:
    papers = FakeFiles()
    app = book().open(woods, files=papers)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await written(pilot, app, papers)
        resized = app.bench.river.section.resized
        shown = picture(app)
    sheet = papers.texts["section.txt"]
    asked = ["section", "--plan", "sitka_spruce", "--use", "white_ash", "--size", "3/4 x 3/4"]
    assert main([*asked, "--match", "bending", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["ratios"] == dict(resized.ratios) and data["shop_ratios"] == dict(resized.shop_ratios)
    assert data["shop_size"] == sections.shop_size(resized)
    for text in (sheet, shown):
        assert data["shop_size"] in text and "71.3 %" in text and "105.7 %" in text
    assert max(len(line) for line in sheet.splitlines()) <= 78
    assert "approval belongs" in " ".join(sheet.split()) and "edge distances" in sheet


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("size", SIZES)
async def test_all_rows_of_the_table_are_one_key_away(
    woods: dict[str, Species], size: tuple[int, int], state: str
) -> None:
    app = book(**STATES[state]).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, "v")
        rows = shown(app)
        for name in CAPACITIES:
            told = [row[-20:] for row in rows if name in row[-40:]]
            assert any(row.count(" %") == 2 or "NOT KNOWN" in row for row in told), (name, rows)


@pytest.mark.parametrize("size", SIZES)
async def test_a_refused_change_leaves_the_table_of_the_last_good_section(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    app = book(**STATES["i"]).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await to(pilot, "flange")
        await press(pilot, "pageup", "v")
        assert app.bench.river.section.refusal is not None, "two flanges leave nothing of 3/4 in"
        text = "\n".join(shown(app))
        assert "LAST THAT COULD BE" in text
        assert all(name in text for name in CAPACITIES)


@pytest.mark.parametrize("state", ["square", "i", "layers"])
@pytest.mark.parametrize("size", SIZES)
async def test_slips_say_every_loss_and_no_line_is_cut(
    woods: dict[str, Species], size: tuple[int, int], state: str
) -> None:
    app = book(**STATES[state]).open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, "v", "v", "v")
        room = app.bench.query_one("#section").size.width
        view = app.bench.river.section
        rows = ranking.slip_table(tolerance.slips(view.resized.shop_section, view.use), "in", room)
        assert len(rows) == 1 + len(resizing.CAPACITIES)
        assert all(row in shown(app) for row in rows)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 36)])
async def test_what_a_light_stick_gives_is_no_promise(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    """Mark 5.2 of 10 is below the 0.56 of the trade for ash: the strengths shown are not its own."""
    papers = FakeFiles()
    app = book(5.2, gravity="stick", match="all").open(woods, files=papers)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        view = app.bench.river.section
        assert view.resized.weaker_shop == () and view.owner.verdict.word == "reject"
        gravity = units.gravity(view.use.gravity_12)
        said = f"ONLY as clear wood of average gravity 0.600; A-1 has {gravity} (12 % volume), REJECT"
        assert f"weaker in nothing known: {said}" in " ".join(" ".join(shown(app)).split())
        await written(pilot, app, papers)
    sheet = " ".join(papers.texts["section.txt"].split())
    assert f"weaker in nothing known: ONLY as clear wood of average gravity 0.600; A-1 has {gravity}" in sheet
    assert "(12 % volume), REJECT" in sheet and "white ash by stick A-1 in its place" in sheet
    # The line of the pane while another is shown: what takes from the claim is not cut off.
    assert sections.in_brief(view).startswith(f"(REJECT A-1 {gravity}, average strengths) white ash; ")


async def test_what_is_not_known_takes_from_the_claim(woods: dict[str, Species]) -> None:
    app = book(use="balsa", match="all").open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        view = app.bench.river.section
        assert view.resized.unknown == ("bearing",)
        said = " ".join(picture(app).split())
        assert "weaker in nothing that is known; NOT KNOWN: bearing across" in said
        # The line of the pane while another is shown, after the longest sizes of a spruce up to 2 in.
        short = sections.in_brief(view)
        assert short.startswith("(NOT KNOWN bearing across) balsa; weaker in nothing")
        before = "SECTION  1-33/64 x 1-33/64 in -> 1-63/64 x 1-63/64 in "
        assert "bearing across)" in (before + short)[:80]
        many = replace(view, resized=replace(view.resized, unknown=("stiffness", "column", "torsion")))
        assert "(3 capacities NOT KNOWN)" in (before + sections.in_brief(many))[:80]


async def test_layers_are_named_and_the_parts_say_how_they_are_sized(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = book(**STATES["layers"]).open(woods, files=papers)
    async with app.run_test(size=(120, 45)) as pilot:
        await ready(pilot)
        values = {field.name: field for field in app.bench.query_one("#section").fields()}
        assert values["use"].shown == "white ash + Sitka spruce + white ash"
        await to(pilot, "use")
        await press(pilot, "up")
        assert "each layer has its own" in picture(app) and app.bench.job.section.use == "white_ash"
        await written(pilot, app, papers)
    sheet = " ".join(papers.texts["section.txt"].split())
    assert "Sitka spruce drawn, layers of white ash + Sitka spruce + white ash in its place" in sheet
    assert "parts: those of this section take its layers, the others have no size" in sheet


@pytest.mark.parametrize("state", ["square", "round", "box", "i"])
async def test_only_other_shapes_say_that_parts_are_solid(woods: dict[str, Species], state: str) -> None:
    app = book(**STATES[state]).open(woods)
    async with app.run_test(size=(80, 36)) as pilot:
        await ready(pilot)
        said = "parts of the list are sized as solid rectangles" in picture(app)
        assert said == (state != "square")
