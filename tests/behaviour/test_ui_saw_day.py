"""A day at the saw by keys alone: fifty-two pieces, a condemned stick, two power cuts, nothing lost."""

import shutil
from pathlib import Path

from bench import launch
from bench.core.edits import EDITS
from bench.core.records import Species
from bench.storage import JobFile
from tests.tools.at_the_saw import ash_list, sawn, sound
from tests.tools.desks import opened
from tests.tools.driving import picture, press, ready, spell, until
from tests.tools.job_files import saved


async def saw(pilot, count: int) -> None:
    """So many cuts, each seen on disk."""
    app = pilot.app
    for _ in range(count):
        done = len(app.bench.job.cuts)
        await press(pilot, "space")
        assert len(app.bench.job.cuts) == done + 1, picture(app)
    await until(pilot, lambda: app.bench.unsaved == 0, "on disk")


def cut_off(folder: Path, name: str) -> Path:
    """The files as they lie on the disk at this moment, in a folder of their own."""
    copy = folder / name
    copy.mkdir()
    for found in folder.glob("one.tenthmark*"):
        shutil.copy(found, copy / found.name)
    return copy / "one.tenthmark"


async def condemn(pilot) -> None:
    """The stick on the saw is condemned: nothing sawn is lost, the rest is laid out without it."""
    app = pilot.app
    before = sawn(app)
    tag = picture(app).split("cut 27 of 52  ")[1].split(",")[0]
    spell(app, "a")
    spell(app, "compression failure at 31 in")
    await press(pilot, "enter")
    assert app.bench.job.stick(tag).condemned
    assert sawn(app) == before and "LAID OUT ANEW" in picture(app)
    assert tag not in {row.tag for row in app.bench.river.plan.sticks}
    assert app.bench.river.plan.unplaced_count == 0
    sound(app)
    await until(pilot, lambda: app.bench.unsaved == 0, "on disk")


async def test_fifty_two_pieces_a_condemned_stick_and_two_power_cuts(
    tmp_path: Path, woods: dict[str, Species]
) -> None:
    """Planned, half cut, a stick condemned in the middle, the rest cut to the end, by keys only at 80x24.

    A power cut is a copy of the files as they lie on the disk at that moment; the copy is opened.
    """
    one = saved(tmp_path / "one.tenthmark", *ash_list())
    desk = launch.Desk(tmp_path, None)
    app = opened(desk, woods, one)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        assert "SAW cut 1 of 52" in picture(app)
        await saw(pilot, 20)
        first, here = cut_off(tmp_path, "first"), picture(app)
    desk.close()

    desk = launch.Desk(tmp_path / "first", None)
    app = opened(desk, woods, first)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        assert "SAW cut 21 of 52" in picture(app), "the same cut, on the screen it was left on"
        assert picture(app).splitlines()[4:15] == here.splitlines()[4:15]
        await saw(pilot, 6)
        before = sawn(app)
        await condemn(pilot)
        for found in (tmp_path / "first").glob("one.tenthmark*"):
            shutil.copy(found, tmp_path / found.name)
        second, here = cut_off(tmp_path, "second"), picture(app)
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
