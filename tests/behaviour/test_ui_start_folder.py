"""The first start where the usual folder cannot be written: another one is asked for, and takes the job."""

from pathlib import Path

import pytest

from bench import launch
from bench.core.errors import CannotSave
from bench.core.records import Species
from bench.ui.app import BenchApp
from tests.tools.driving import CLOCK, feed, lines, picture, press, settled, shows, spell, until


@pytest.fixture
def blocked(tmp_path: Path) -> Path:
    """A data folder that nobody can make: a file is in its way."""
    (tmp_path / "file").write_text("in the way")
    return tmp_path / "file" / "data"


def opened(desk: launch.Desk, woods: dict[str, Species]) -> BenchApp:
    desk.app = BenchApp(None, woods, desk.save, desk.start, now=lambda: CLOCK, place=str(desk.data_folder))
    return desk.app


async def test_another_folder_takes_the_job(tmp_path: Path, blocked: Path, woods: dict[str, Species]) -> None:
    desk = launch.Desk(blocked, None)
    app = opened(desk, woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "approval"), "the caution")
        assert "Another folder" not in picture(app)
        spell(app, "Wing")
        feed(app, "down", "enter")
        await until(pilot, shows(app, "Another folder for it"), "asked for a folder")
        assert "cannot be written" in " ".join(picture(app).split())
        assert all(len(row) <= 80 for row in lines(app)) and "Wing" in picture(app)
        spell(app, str(tmp_path / "file"))
        await settled(pilot)  # no folder either: it is said again, and what was typed stays
        await press(pilot, "enter")
        assert app.bench is None and app.focused.value == str(tmp_path / "file")
        await press(pilot, "ctrl+u")
        spell(app, str(tmp_path / "new" / "jobs"))
        feed(app, "enter")
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        await settled(pilot)
        assert desk.path == tmp_path / "new" / "jobs" / "Wing.tenthmark" and desk.path.is_file()
        assert app.bench.job.settings.units == "mm"
        assert f"next time: tenthmark {tmp_path}"[:30] in " ".join(picture(app).split())
    assert desk.close()
    assert launch.Desk(blocked, None).open(desk.path)[0].job.name == "Wing"


async def test_a_name_that_cannot_be_asks_for_no_folder(tmp_path: Path, woods: dict[str, Species]) -> None:
    app = opened(launch.Desk(tmp_path, None), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "approval"), "the caution")
        await press(pilot, "enter")
        assert "Another folder" not in picture(app) and app.focused.id == "job-name"


def test_a_folder_that_cannot_be_made_is_refused_and_nothing_is_there(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    desk = launch.Desk(tmp_path / "data", None)
    with pytest.raises(CannotSave):
        desk.start("Wing", "in", str(tmp_path / "file" / "jobs"))
    assert desk.path is None and not list(tmp_path.glob("**/*.tenthmark"))
