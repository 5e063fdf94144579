"""A day at the saw by keys alone: fifty-two pieces, a condemned stick, two power cuts, nothing lost."""

import shutil
from pathlib import Path

from bench import launch
from bench.core.edits import EDITS
from bench.core.records import Species
from bench.storage import JobFile
from tests.tools.at_the_saw import ash_list, sawn, sound
from tests.tools.driving import CLOCK, Notebook, picture, press, ready, spell, until


def opened(desk: launch.Desk, woods: dict[str, Species], path: Path):
    desk.app = launch.BenchApp(desk.open(path), woods, desk.save, desk.start, now=lambda: CLOCK)
    return desk.app


async def saw(pilot, count: int) -> None:
    """So many cuts, each seen on disk."""
    app = pilot.app
    for _ in range(count):
        done = len(app.bench.job.cuts)
        await press(pilot, "space")
        assert len(app.bench.job.cuts) == done + 1, picture(app)
    await until(pilot, lambda: app.bench.unsaved == 0, "on disk")


async def test_fifty_two_pieces_a_condemned_stick_and_two_power_cuts(
    tmp_path: Path, woods: dict[str, Species]
) -> None:
    """Planned, half cut, a stick condemned in the middle, the rest cut to the end, by keys only at 80x24.

    A power cut is a copy of the files as they lie on the disk at that moment; the copy is opened.
    """
    notebook = Notebook(*ash_list())
    at, entries = notebook.entries[0][0], [entry for _, entry in notebook.entries]
    file = JobFile.create(tmp_path / "one.tenthmark", entries[0], at)
    file.append([(entry, at) for entry in entries[1:]])
    file.close()

    def cut_off(name: str) -> Path:
        folder = tmp_path / name
        folder.mkdir()
        for found in tmp_path.glob("one.tenthmark*"):
            shutil.copy(found, folder / found.name)
        return folder / "one.tenthmark"

    desk = launch.Desk(tmp_path, None)
    app = opened(desk, woods, tmp_path / "one.tenthmark")
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        assert "SAW cut 1 of 52" in picture(app)
        await saw(pilot, 20)
        first, here = cut_off("first"), picture(app)
    desk.close()

    desk = launch.Desk(tmp_path / "first", None)
    app = opened(desk, woods, first)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "SAW cut 21 of 52" in picture(app), "the same cut, on the screen it was left on"
        assert picture(app).splitlines()[4:15] == here.splitlines()[4:15]
        await saw(pilot, 6)
        tag = app.bench.river.plan.sticks[0].tag
        before = sawn(app)
        queue = picture(app)
        tag = queue.split("cut 27 of 52  ")[1].split(",")[0]
        spell(app, "a")
        spell(app, "compression failure at 31 in")
        await press(pilot, "enter")
        assert app.bench.job.stick(tag).condemned
        assert sawn(app) == before and "LAID OUT ANEW" in picture(app)
        assert tag not in {row.tag for row in app.bench.river.plan.sticks}
        assert app.bench.river.plan.unplaced_count == 0
        sound(app)
        await until(pilot, lambda: app.bench.unsaved == 0, "on disk")
        for found in (tmp_path / "first").glob("one.tenthmark*"):
            shutil.copy(found, tmp_path / found.name)
        second, here = cut_off("second"), picture(app)
        plan = app.bench.river.plan
    desk.close()

    desk = launch.Desk(tmp_path / "second", None)
    app = opened(desk, woods, second)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "SAW cut 27 of 52" in picture(app)
        assert app.bench.river.plan.sticks == plan.sticks, "the same layout after a power cut"
        assert sawn(app) == before
        await saw(pilot, 26)
        assert "all 52 pieces are cut" in picture(app)
        await press(pilot, "r")
        while "compression failure at 31 in" not in picture(app):
            assert "laid out for the saw: 52 pieces" not in picture(app), "the record says what happened"
            await press(pilot, "pagedown")
    assert desk.close()
    kinds = [line.kind for line in JobFile.open(second).lines()]
    assert kinds.count("MarkCut") == 52 and kinds.count("CondemnStick") == 1
    assert set(kinds) <= set(EDITS)
