"""A full user's run through the keyboard, on a real job file, at both sizes the screen is drawn for."""

from pathlib import Path

import pytest

from bench import launch
from bench.core.records import Species
from bench.storage import JobFile
from tests.tools.desks import opened
from tests.tools.driving import feed, lines, press, settled, shows, spell, until

SIZES = [(80, 24), (160, 45)]
STICKS = (("A-1", "72", "6.85"), ("A-2", "60", "6.50"), ("A-3", "48 1/2", "5.2"))


async def add_stick(pilot, tag: str, length: str, mark: str, count: int) -> None:
    app = pilot.app
    await press(pilot, "t", "a")
    await until(pilot, shows(app, "new stick, tag"), "tag asked")
    if count:
        feed(app, "ctrl+u")
    for text in (tag, "white ash", length, "7/8", "9.5"):
        spell(app, text)
        feed(app, "enter")
    await until(pilot, lambda: app.bench.job.stick(tag) is not None, f"{tag} in the rack")
    await press(pilot, "f")
    await until(pilot, lambda: app.bench.river.tag == tag, f"{tag} in hand")
    spell(app, mark)
    feed(app, "enter", "enter")
    await until(pilot, lambda: app.bench.job.stick(tag).reading is not None, f"{tag} read")
    await look_over(pilot, tag)


async def look_over(pilot, tag: str) -> None:
    """Grain on two faces, and everything looked over: without them a stick is on hold for every use."""
    app = pilot.app
    assert set(app.bench.river.judged(tag).words.values()) <= {"hold", "reject"}
    await press(pilot, "i", "tab")
    for slope in ("25", "1:30"):
        spell(app, slope)
        feed(app, "enter")
    feed(app, *["tab"] * 4, "up", "enter")
    await until(pilot, lambda: app.bench.job.stick(tag).inspection.looked, f"{tag} looked over")


async def choose_ash(pilot) -> None:
    """Ash in place of the plan's wood, after a figure typed by mistake."""
    app = pilot.app
    await press(pilot, "s", "tab")
    spell(app, "7")  # a figure is no species: refused, and the text stays to be mended
    feed(app, "enter")
    await until(pilot, shows(app, "species: '7' is not known"), "refusal shown")
    feed(app, "ctrl+u")
    spell(app, "white ash")
    feed(app, "enter")
    await until(pilot, lambda: app.bench.job.section.use == "white_ash", "new wood accepted")


async def add_parts(pilot) -> None:
    """Two lines of parts, the second begun where the first left off."""
    app = pilot.app
    await press(pilot, "p", "a")
    for text in ("upright", "3", "18 1/4", "3/4", "3/4", "small part"):
        spell(app, text)
        feed(app, "enter")
    await until(pilot, lambda: len(app.bench.job.parts) == 1, "one part")
    feed(app, "a")
    await until(pilot, shows(app, "new part, part"), "name asked")
    feed(app, "ctrl+u")
    for text in ("longeron", "2", "70", "3/4", "3/4", "small"):
        spell(app, text)
        feed(app, "enter")
    await until(pilot, lambda: len(app.bench.job.parts) == 2, "two parts")


@pytest.mark.parametrize("size", SIZES)
async def test_new_job_to_cut_list_and_back(
    tmp_path: Path, woods: dict[str, Species], size: tuple[int, int]
) -> None:
    desk = launch.Desk(tmp_path, None)
    app = opened(desk, woods, None)
    async with app.run_test(size=size) as pilot:
        await until(pilot, shows(app, "approval"), "the caution")
        spell(app, "Tansy wing")
        feed(app, "enter")
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        for count, (tag, length, mark) in enumerate(STICKS):
            await add_stick(pilot, tag, length, mark, count)
        words = [judged.words["small_part"] for judged in app.bench.river.rack]
        assert words == ["accept", "accept", "reject"], [
            (point.name, point.reason)
            for judged in app.bench.river.rack
            for point in judged.uses["small_part"].points
        ]

        await choose_ash(pilot)
        await add_parts(pilot)
        await press(pilot, "c")
        await until(pilot, shows(app, "no place: 1 x longeron"), "one too many")
        plan = app.bench.river.plan
        assert {stick.tag for stick in plan.sticks} <= {"A-1", "A-2"}, "a rejected stick is never used"
        await press(pilot, "enter", "space")
        await until(pilot, lambda: len(app.bench.job.cuts) == 1, "a cut ticked off")
        await settled(pilot)
        before = app.bench.job
        feed(app, "q")
        await until(pilot, lambda: not app.is_running, "left")
    assert desk.close()

    again = launch.Desk(tmp_path, None)
    app = opened(again, woods, desk.path)
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        assert app.bench.job == before
        assert app.bench.river.plan.placed == plan.placed - 1
        await until(pilot, shows(app, "SAW cut 2 of"), "at the saw, as it was left")
        assert all(len(line) <= size[0] for line in lines(app))
        feed(app, "u")
        await until(pilot, lambda: not app.bench.job.cuts, "undone across a restart")
        feed(app, "q")
        await until(pilot, lambda: not app.is_running, "left")
    assert again.close()
    file = JobFile.open(desk.path)
    assert file.history.job.cuts == ()
    assert file.lines()[-1].what == "undo"
    file.close()


def test_the_scratch_copy_of_the_invented_job_stays_while_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """A record is verified as the app is left: a folder in which a file appears cannot be removed."""
    waited = list[bool]()

    class Reading:
        def __init__(self, target: object, args: tuple[Path], daemon: bool, name: str) -> None:
            self.path = args[0]

        def start(self) -> None:
            assert self.path.exists()

        def join(self) -> None:
            waited.append(self.path.exists())

    def run(desk: launch.Desk, path: Path) -> int:
        desk.path = path
        desk.verify()
        return 0

    monkeypatch.setattr(launch.threading, "Thread", Reading)
    monkeypatch.setattr(launch, "_run", run)
    assert launch.run_demo() == 0
    assert waited == [True]
