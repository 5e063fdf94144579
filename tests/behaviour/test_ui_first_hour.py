"""The first hour: name and unit, a guided reading that leaves nothing behind, help, actions, keys, looks."""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from rich.cells import cell_len

from bench import launch
from bench.core.edits import PutStick, StartJob
from bench.core.errors import CannotSave
from bench.core.records import Species, Stick, inches
from bench.ui.actions import checked
from bench.ui.app import BenchApp
from bench.ui.bench_screen import BenchScreen
from bench.ui.characters import plain, shows_boxes
from bench.ui.preferences import Preferences
from bench.ui.themes import LOOKS
from bench.ui.walk_screen import STEPS, Guide, WalkScreen
from tests.tools.driving import CLOCK, Notebook, feed, lines, picture, press, settled, shows, spell, until

STICK = PutStick(Stick("S-1", "white_ash", inches("60"), inches("7/8"), inches("7/8")))
WALKED = (("6.85", "enter"), ("9.5", "enter"), ("", "enter"), ("", "w"), ("", "escape"))
SCREENS = ["f", "s", "c", "i", "e", "m", "t", "p", "b", "l", "h", "o", "r", "w", "question_mark", "semicolon"]


def fresh(folder: Path, woods: dict[str, Species]) -> tuple[launch.Desk, BenchApp]:
    """The program as it starts where there is no job."""
    desk = launch.Desk(folder, None)
    desk.app = BenchApp(None, woods, desk.save, desk.start, now=lambda: CLOCK, place=str(folder))
    return desk, desk.app


async def ready(pilot) -> BenchScreen:
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    return pilot.app.bench


def walking(app: BenchApp) -> bool:
    """Whether the guided reading is on show."""
    return isinstance(app.screen, WalkScreen) and app.screen.river is not None


def own_keys(wanted: Mapping[str, Sequence[str]]):
    """The key table of a user's file."""
    table, faults = checked(BenchScreen.key_groups(), wanted)
    assert not faults
    return table


# --- the first start -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("turns", "unit", "kerf"), [(0, "in", "1/8 in"), (1, "mm", "3.2 mm"), (2, "in", "1/8 in")]
)
async def test_the_first_start_asks_for_name_and_unit(
    tmp_path: Path, woods: dict[str, Species], turns: int, unit: str, kerf: str
) -> None:
    desk, app = fresh(tmp_path, woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await until(pilot, shows(app, "approval"), "the caution")
        assert "> inches" in picture(app) and "esc  leaves" in picture(app)
        spell(app, "Tansy wing")
        feed(app, *["down"] * turns, "enter")
        bench = await ready(pilot)
        assert (bench.job.name, bench.job.settings.units, bench.job.settings.kerf.text) == (
            "Tansy wing",
            unit,
            kerf,
        )
        assert "t  goes to Stock" in picture(app)
    assert desk.close()


async def test_a_walk_before_the_first_job_leaves_nothing(tmp_path: Path, woods: dict[str, Species]) -> None:
    desk, app = fresh(tmp_path, woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await until(pilot, shows(app, "approval"), "the caution")
        feed(app, "tab")
        await until(pilot, lambda: walking(app), "the walk")
        walk = app.screen
        guide = walk.query_one(Guide)
        await settled(pilot)
        assert "INVENTED" in " ".join(lines(app)[:2]) and "a walk, never saved" in picture(app)
        for step, (typed, key) in enumerate(WALKED):
            assert guide.at == step
            spell(app, typed)
            feed(app, key)
            await until(pilot, lambda step=step: guide.at == step + 1, f"past step {step}")
        assert guide.at == len(STEPS) - 1 and len(walk.job.stick("W-1").readings) == 1
        assert "ends the walk" in " ".join(picture(app).split())
        feed(app, "q")
        await until(pilot, lambda: not isinstance(app.screen, WalkScreen), "back at the start")
        assert app.bench is None and "A new job" in picture(app)
    assert desk.close() and list(tmp_path.iterdir()) == []


async def test_a_walk_over_a_job_does_not_touch_it(woods: dict[str, Species]) -> None:
    notebook = Notebook(StartJob("Tansy"), STICK)
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        bench = await ready(pilot)
        before, written = bench.job, list(notebook.entries)
        feed(app, "f3")
        await until(pilot, lambda: walking(app), "the walk")
        await settled(pilot)
        assert "INVENTED" in lines(app)[0] and "a walk, never saved" in picture(app)
        spell(app, "6.85")
        feed(app, "enter")
        spell(app, "9.5")
        feed(app, "enter", "enter")
        await until(pilot, lambda: app.screen.job.stick("W-1").readings, "kept in the walk")
        feed(app, "f3", "q")
        await until(pilot, lambda: app.screen is bench, "back at the bench")
        assert bench.job == before and notebook.entries == written


async def test_too_small_says_so_and_comes_back(tmp_path: Path, woods: dict[str, Species]) -> None:
    _, app = fresh(tmp_path, woods)
    async with app.run_test(size=(50, 15)) as pilot:
        await until(pilot, shows(app, "This terminal is 50 x 15"), "what is needed")
        spell(app, "T")
        await pilot.resize_terminal(60, 20)
        await until(pilot, shows(app, "A new job"), "the start")
        assert "60 x 20" not in picture(app)


# --- help and actions ----------------------------------------------------------------------------------


async def test_help_is_of_the_screen_one_is_on(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), STICK).open(woods)
    async with app.run_test(size=(80, 45)) as pilot:
        await ready(pilot)
        for key, said in (
            ("f", "Float: read where"),
            ("t", "Stock: the sticks"),
            ("m", "Moisture: by drying"),
        ):
            await press(pilot, key, "question_mark")
            assert said in picture(app), key
            await press(pilot, "escape")
        await press(pilot, "b", "f1")
        shown = picture(app)
        assert "CAUTION: eye protection" in shown
        assert shown.index("Breaks  here") < shown.index("everywhere")


async def test_a_few_letters_find_an_action_and_enter_does_it(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), STICK).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        bench = await ready(pilot)
        await press(pilot, "t", "semicolon")
        spell(app, "new row")
        await settled(pilot)
        assert "ACTIONS  1 of " in picture(app) and "q Leave" not in picture(app)
        feed(app, "enter")
        await until(pilot, shows(app, "new stick, tag"), "asked for, on Stock")
        await press(pilot, "escape", "f2")
        spell(app, "ruined")  # at the saw, which nobody has seen now: it only leads there
        feed(app, "enter")
        await until(pilot, lambda: bench.view == "saw", "at the saw")
        await until(pilot, shows(app, "Sawn and ruined: the wood is gone"), "what its key would do")
        assert not bench.job.spoilt
        await press(pilot, "semicolon")
        spell(app, "nothing has this")
        feed(app, "enter")
        await settled(pilot)
        assert "Backspace" in picture(app)


# --- keys of one's own ---------------------------------------------------------------------------------


async def test_keys_of_ones_own_work_and_stand_everywhere(woods: dict[str, Species]) -> None:
    swap = {"go.float": ["s"], "go.section": ["f"]}
    keys = own_keys({**swap, "go.stock": ["!", "f5"], "list.add": ["#"]})
    app = Notebook(StartJob("Tansy")).open(woods, keys=keys)
    async with app.run_test(size=(80, 24)) as pilot:
        bench = await ready(pilot)
        assert "!  goes to Stock" in picture(app) and "f Section" in lines(app)[-3]
        feed(app, "f")
        await until(pilot, lambda: bench.pane == "section", "Section on f")
        await press(pilot, "s", "f5")
        assert bench.pane == "float" and "#  adds the first stick" in picture(app)
        spell(app, "#")
        await until(pilot, shows(app, "new stick, tag"), "a row on #")
        await press(pilot, "escape", "question_mark")
        await press(pilot, *["pagedown"] * 2)
        assert "!,f5" in picture(app)


async def test_a_character_is_typed_for_another(woods: dict[str, Species]) -> None:
    preferences = Preferences(typing={";": "/", ",": "."})
    app = Notebook(StartJob("Tansy"), STICK).open(woods, preferences=preferences)
    async with app.run_test(size=(80, 24)) as pilot:
        bench = await ready(pilot)
        spell(app, "6,85")
        feed(app, "enter")
        await until(pilot, shows(app, "6.85 of 10"), "a comma typed for a point")
        await press(pilot, "escape", "t", "right", "right", "enter")
        feed(app, "ctrl+u")
        spell(app, "34 3;8")
        feed(app, "enter")
        await until(pilot, lambda: bench.job.sticks[0].length.text == "34 3/8 in", "a semicolon typed for /")


# --- the look ------------------------------------------------------------------------------------------


async def test_the_look_changes_at_once_and_is_kept_for_every_job(woods: dict[str, Species]) -> None:
    kept: list[tuple[str, str]] = []
    app = Notebook(StartJob("Tansy"), STICK).open(
        woods, preferences=Preferences(keep=lambda name, value: kept.append((name, value)))
    )
    async with app.run_test(size=(80, 24)) as pilot:
        bench = await ready(pilot)
        job = bench.job
        await press(pilot, "o", "shift+tab", "up", "shift+tab", *["up"] * 3)
        assert kept == [("characters", "boxes"), *(("theme", name) for name in (*LOOKS[1:], LOOKS[0]))]
        assert bench.job == job and "for every job" in picture(app)


async def test_a_look_that_cannot_be_kept_says_so(woods: dict[str, Species]) -> None:
    def refuse(name: str, value: str) -> None:
        raise CannotSave("settings.toml", "cannot be written (no space left)")

    app = Notebook(StartJob("Tansy"), STICK).open(woods, preferences=Preferences(keep=refuse))
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "o", "shift+tab", "shift+tab", "up")
        assert "only until you leave: settings.toml" in picture(app) and app.theme == "light"


async def test_every_screen_in_plain_characters(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy é 木"), STICK).open(
        woods, preferences=Preferences(theme=LOOKS[-1], shows_boxes=False)
    )
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        for key in SCREENS:
            await press(pilot, key)
            assert picture(app).isascii(), key
            assert all(len(row) <= 60 for row in lines(app)), key
            await press(pilot, "escape")
        assert "Tansy e ??" in lines(app)[0]


async def test_no_colour_leaves_none(woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = Notebook(StartJob("Tansy"), STICK).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await settled(pilot)
        styles = [piece.style for strip in app.screen._compositor.render_strips() for piece in strip]
        assert {style.color.name for style in styles if style and style.color} == {"default"}
        assert any(style and style.bold for style in styles) and any(
            style and style.reverse for style in styles
        )


def test_plain_keeps_the_width() -> None:
    for text in ("── ┼┴ █ 20 °C", "Tansy é", "木 ﬁ", "½ in²", "´ ​x"):
        assert plain(text).isascii() and cell_len(plain(text)) == cell_len(text), text
    assert re.fullmatch(r"-\+-\^- #", plain("─┼─┴─ █"))


@pytest.mark.parametrize(
    ("environment", "encoding", "boxes"),
    [
        ({"LANG": "de_DE.UTF-8"}, "utf-8", True),
        ({"LANG": "en_US.utf8"}, "utf-8", True),
        ({"LC_ALL": "C.UTF-8"}, "utf-8", True),
        ({"LANG": "C.UTF-8"}, "utf-8", True),
        ({"LANG": "de_DE.UTF-8", "LC_CTYPE": "C.UTF-8"}, "utf-8", True),
        ({"LC_ALL": "C", "LANG": "de_DE.UTF-8"}, "utf-8", False),
        ({"LANG": "C", "LC_CTYPE": "C.UTF-8"}, "utf-8", False),  # as Python sets it at its start
        ({"LC_CTYPE": "C.UTF-8"}, "utf-8", False),
        ({}, "utf-8", False),
        ({"LANG": "en_US.ISO-8859-1"}, "iso8859-1", False),
        ({"LANG": "en_US.UTF-8"}, "ascii", False),
    ],
)
def test_boxes_are_drawn_where_locale_and_stream_can_show_them(
    environment: dict[str, str], encoding: str, boxes: bool
) -> None:
    assert shows_boxes(environment, "linux", encoding) is boxes
    assert shows_boxes({}, "win32", "utf-8")
