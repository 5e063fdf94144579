"""The Woods screen by keys: the chart, its order, what Enter tries, and that it works only when shown."""

from dataclasses import replace
from typing import Any

import pytest
from core_cases import ash_for_spruce, stick
from textual.app import App, ComposeResult

from bench.core import ranking
from bench.core.edits import ChooseSection
from bench.core.ranking import Ranking
from bench.core.records import Job, SectionChoice, Settings, Species, Stick, inches
from bench.core.river import flow
from bench.sheets import ranking as sentences
from bench.ui.messages import Draft, Say
from bench.ui.themes import DEFAULTS
from bench.ui.woods_view import WoodsView
from tests.tools.driving import feed, lines, picture, press, settled, until

SIZES = [(80, 24), (60, 20)]
FRAME = 8  # lines that head, river, message and keys take of the screen


def lot(tag: str, name: str, *marks: float, species: str = "white_ash") -> Stick:
    return replace(stick(tag, *marks, species=species), lot=name)


RACK = (lot("B-1", "K2", 6.9), lot("B-2", "K2", 7.1), lot("B-3", "K2", 7.4), lot("C-1", "Z9"))


class Tiny(App[None]):
    """The screen alone, with what it says kept."""

    CSS = "WoodsView { height: 1fr; width: 1fr; }"

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return DEFAULTS

    def __init__(self, woods: dict[str, Species], job: Job) -> None:
        super().__init__()
        self.woods = woods
        self.river = flow(job, woods)
        self.drafts: list[ChooseSection] = []
        self.said: list[Say] = []

    def compose(self) -> ComposeResult:
        yield WoodsView(self.woods)

    def on_mount(self) -> None:
        self.view.river = self.river
        self.view.focus()

    @property
    def view(self) -> WoodsView:
        return self.query_one(WoodsView)

    def show(self, job: Job) -> None:
        """Another job, as the bench screen hands it down."""
        self.river = flow(job, self.woods, previous=self.river)
        self.view.river = self.river

    def on_draft(self, message: Draft) -> None:
        assert isinstance(message.edit, ChooseSection)
        self.drafts.append(message.edit)
        self.show(message.edit.change(self.river.job))

    def on_say(self, message: Say) -> None:
        self.said.append(message)


def job(*sticks: Stick, **choice: Any) -> Job:
    return Job("Tansy", sticks=sticks, section=ash_for_spruce(**choice))


async def opened(pilot: Any) -> Tiny:
    app: Tiny = pilot.app
    await until(pilot, lambda: app.query(WoodsView) and app.view.has_focus, "the screen")
    await settled(pilot)
    return app


def ranked(app: Tiny) -> Ranking:
    found = app.view.found()
    assert isinstance(found, Ranking)
    return found


def here(app: Tiny) -> str:
    """The highlighted line."""
    found = [row for row in lines(app) if row.startswith(">")]
    assert len(found) == 1, picture(app)
    return found[0]


def at(size: tuple[int, int]) -> tuple[int, int]:
    """What the frame leaves of a terminal."""
    return size[0], size[1] - FRAME


@pytest.mark.parametrize("size", SIZES)
async def test_the_chart_says_all_of_the_highlighted_wood(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    """METHODS 7-A, equal bending: ash 1.160 of the weight, stiffness and Euler load 0.6627."""
    app = Tiny(woods, job(match="bending"))
    async with app.run_test(size=at(size)) as pilot:
        await opened(pilot)
        text = picture(app)
        assert "for 3/4 x 3/4 in Sitka spruce, by bending strength" in text
        assert here(app).startswith("> white ash"), "at first the new wood of the section"
        assert "43/64 sq" in here(app)
        assert "stiff col twist 66" in here(app) and "116.0" in here(app)
        assert "exact 0.6596 x 0.6596 in" in text  # 0.75 x 0.8794
        titles = next(row for row in lines(app) if row.startswith("%")).split()[1:]
        exact = next(row for row in lines(app) if row.startswith("exact ") and "x" not in row[6:]).split()[1:]
        shown = dict(zip(titles, exact, strict=True))
        stiff = "stiff" if size[0] == 80 else "stif"
        assert (shown["bend"], shown[stiff], shown["comp"]) == ("100", "66", "102")
        assert len(titles) == 10
        assert all(len(row) <= size[0] for row in lines(app))


async def test_a_bar_is_longer_where_the_wood_is_heavier(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(match="bending"))
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot)
        text = lines(app)
        rows = [row for row in text if "│" in row]
        assert len(rows) == len(woods)
        lengths = [row.count("█") for row in rows]
        assert lengths == sorted(lengths) and lengths[0] < lengths[-1]
        columns = {row.index("│") for row in rows}
        assert len(columns) == 1, "the plan's weight is one column down the page"
        head = next(row for row in text if "plan" in row and "weight" in row)
        assert head.index("plan") + 3 == columns.pop()
        heavy = next(row for row in rows if "Sitka" in row).index("│")
        assert all((row[heavy + 1] == "█") == (weight > 1) for row, weight in zip(
            rows, [one.weight for one in ranked(app).rows], strict=True
        ))  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
async def test_every_wood_is_reached_by_keys(woods: dict[str, Species], size: tuple[int, int]) -> None:
    app = Tiny(woods, job(*RACK, match="all"))
    async with app.run_test(size=at(size)) as pilot:
        await opened(pilot)
        await press(pilot, "pageup", "pageup", "pageup", "pageup")
        seen = [here(app)]
        for _ in ranked(app).rows[1:]:
            feed(app, "down")
            await settled(pilot)
            seen.append(here(app))
        assert len(set(seen)) == len(ranked(app).rows) == len(woods) + 2
        names = [sentences.name(row) for row in ranked(app).rows]
        for name, row in zip(names, seen, strict=True):
            assert name[:6] in row
        assert "NOT COMPARED" in seen[-1] or "REFUSED" in seen[-1]
        await press(pilot, "down", "down", "up")
        assert here(app) == seen[-2]


async def test_own_lots_stand_among_the_book_woods(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(*RACK, match="bending"))
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot)
        own = [row for row in lines(app) if row[1:2] == "*"]
        assert any("lot K2, white ash" in row for row in own)
        assert any("NOT COMPARED" in row and "no stick of the lot" in row for row in own)
        place = [row.key for row in ranked(app).rows].index(("white_ash", "K2"))
        await press(pilot, *["pageup"] * 4, *["down"] * place)
        assert "OWN LOT, 3 of 3 sticks measured, mean G 0." in picture(app)


@pytest.mark.parametrize("size", SIZES)
async def test_enter_tries_the_wood_and_says_where_it_is_kept(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    app = Tiny(woods, job(match="bending", gravity="stick", stick="B-1"))
    async with app.run_test(size=at(size)) as pilot:
        await opened(pilot)
        await press(pilot, *["pageup"] * 4, "enter")
        best = ranked(app).rows[0]
        choice = app.drafts[-1].choice
        assert (choice.use, choice.gravity, choice.stick) == (best.species, "handbook", "")
        assert (choice.match, choice.width) == ("bending", inches("3/4"))
        kept = "<go.section> and Enter there keeps it, Esc there drops it"
        assert app.said[-1].text == f"{best.name} is tried: {kept}"
        assert not app.said[-1].wrong


async def test_enter_on_a_lot_takes_the_stick_nearest_its_mean(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(*RACK, match="bending"))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        rows = ranked(app).rows
        await press(pilot, *["pageup"] * 4, *["down"] * [row.key for row in rows].index(("white_ash", "K2")))
        await press(pilot, "enter")
        choice = app.drafts[-1].choice
        # Marks 6.9, 7.1 and 7.4 have their mean at 7.13.
        assert (choice.use, choice.gravity, choice.stick) == ("white_ash", "stick", "B-2")
        assert app.river.section.measured == "B-2" and app.river.section.refusal is None
        assert "by its stick B-2, the nearest to the lot's mean" in app.said[-1].text
        assert [row.key for row in ranked(app).rows] == [row.key for row in rows], "the list stays"
        await press(pilot, "down")
        assert [row[:2] for row in lines(app) if "lot K2" in row and "█" in row] == ["+*"]


async def test_a_light_lot_says_that_it_is_lowered_and_that_the_pane_does_not(
    woods: dict[str, Species],
) -> None:
    app = Tiny(woods, job(lot("B-1", "L", 5.2), match="bending"))
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot)
        place = [row.key for row in ranked(app).rows].index(("white_ash", "L"))
        assert [row.key for row in ranked(app).rows].index(("white_ash", None)) < place
        await press(pilot, *["pageup"] * 4, *["down"] * place)
        assert "never ranked above it: strengths LOWERED" in " ".join(picture(app).split())
        await press(pilot, "enter")
        assert "with the strengths of the average, not lowered" in app.said[-1].text


async def test_enter_on_a_wood_without_a_size_says_why(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(match="bearing"))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await press(pilot, *["pagedown"] * 4, "enter")
        assert app.drafts == []
        assert app.said[-1].wrong and "crushing strength across the grain" in app.said[-1].text


async def test_a_question_that_no_wood_can_answer_is_refused_once(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(match="own", own=()))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        assert "own: not given" in picture(app)
        await press(pilot, "down", "enter")
        assert app.drafts == []


async def test_it_is_worked_out_only_when_shown_and_only_for_a_new_question(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Any] = []
    rank = ranking.rank

    def counted(*words: Any) -> Ranking:
        asked.append(words)
        return rank(*words)

    monkeypatch.setattr(ranking, "rank", counted)
    first = job(match="bending")
    app = Tiny(woods, first)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        assert len(asked) == 1
        await press(pilot, "down", "down", "enter")
        assert app.drafts and len(asked) == 1, "another new wood is the same question"
        app.view.display = False
        app.show(replace(first, section=replace(first.section, match="shear")))
        await settled(pilot)
        assert len(asked) == 1, "out of sight nothing is worked out"
        app.view.display = True
        await settled(pilot)
        await until(pilot, lambda: "by shear" in picture(app), "shown again")
        assert len(asked) == 2
        app.show(replace(first, sticks=RACK, section=replace(first.section, match="shear")))
        await settled(pilot)
        assert len(asked) == 3, "the rack has other gravities"


async def test_the_working_is_of_the_highlighted_wood(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(match="bearing"))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        notes = " ".join(number.note for step in app.view.steps() for number in step.numbers)
        assert "white ash" in notes and "Sitka spruce" in notes
        await press(pilot, *["pagedown"] * 4)
        assert app.view.steps() == ()


async def test_in_millimetres(woods: dict[str, Species]) -> None:
    metric = replace(job(match="weight"), settings=Settings(units="mm"))
    app = Tiny(woods, metric)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        assert "size, mm" in picture(app) and "for 19.05 x 19.05 mm" in picture(app)
        # METHODS 7-A: 0.8165 of 19.05 mm.
        assert "exact 15.56 x 15.56 mm" in picture(app)


async def test_the_wood_now_is_marked(woods: dict[str, Species]) -> None:
    app = Tiny(woods, job(match="weight"))
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot)
        assert not [row for row in lines(app) if row.startswith("+")], "it is the highlighted one"
        await press(pilot, "up")
        assert [row[2:11] for row in lines(app) if row.startswith("+")] == ["white ash"]


def test_a_laminated_choice_compares_solid_woods() -> None:
    ask = ranking.asked(SectionChoice(shape="laminated"), Settings())
    assert ask.plan.name == "rectangle"
