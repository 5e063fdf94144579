"""The disk fails at every single step of a write: all of it is there or nothing, and later all of it."""

import json
import queue
import random
import sqlite3
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import bench
from bench import launch
from bench.core import parcels
from bench.core.edits import NameJob, StartJob
from bench.core.errors import CannotSave, Refusal
from bench.core.history import EDIT, EMPTY, Entry
from bench.sheets import parcel_file
from bench.storage import JobFile, Saver, connecting, keeping, saver, snapshots, write_aside
from tests.torture import edits

Told = queue.Queue[tuple[int, str | None]]


class Failing(sqlite3.Connection):
    """A connection whose statements fail from a certain one on, as on a disk that is gone."""

    left = 10**9

    def execute(self, *words: Any) -> sqlite3.Cursor:
        Failing.step()
        return super().execute(*words)

    def executemany(self, *words: Any) -> sqlite3.Cursor:
        Failing.step()
        return super().executemany(*words)

    @staticmethod
    def step() -> None:
        Failing.left -= 1
        if Failing.left < 0:
            raise sqlite3.OperationalError("disk I/O error")


@pytest.fixture
def failing(monkeypatch: pytest.MonkeyPatch) -> type[Failing]:
    connect = sqlite3.connect
    monkeypatch.setattr(
        connecting.sqlite3, "connect", lambda *words, **more: connect(*words, factory=Failing, **more)
    )
    monkeypatch.setattr(Failing, "left", 10**9)
    return Failing


def named(name: str) -> tuple[Entry, str]:
    return Entry(EDIT, NameJob(name)), "t"


def names(path: Path) -> list[str]:
    file = JobFile.open(path)
    file.close()
    return [entry.edit.name for _, entry in file.record if isinstance(entry.edit, NameJob)]


def test_every_statement_of_an_append_fails_once(tmp_path: Path, failing: type[Failing]) -> None:
    file = JobFile.create(tmp_path / "wing.tenthmark", Entry(EDIT, StartJob("Tansy")), "t")
    failed, wanted = 0, list[str]()
    for steps in range(40):
        batch = [named(f"{steps} a"), named(f"{steps} b")]
        wanted += [f"{steps} a", f"{steps} b"]
        failing.left = steps
        try:
            file.append(batch)
        except CannotSave:
            failed += 1
            failing.left = 10**9
            assert len(file.lines()) in (len(wanted) - 1, len(wanted) + 1), "all or nothing"
            file.append(batch)
        failing.left = 10**9
        assert file.entries == len(file.lines()) == len(wanted) + 1
    file.close()
    assert failed >= 5
    assert names(file.path) == wanted


def test_a_write_that_failed_and_reached_the_disk_is_not_written_twice(tmp_path: Path) -> None:
    """As when the disk takes the pages and fails while it is told to keep them."""
    file = JobFile.create(tmp_path / "wing.tenthmark", Entry(EDIT, StartJob("Tansy")), "t")
    last = file._last
    file.append([named("one"), named("two")])
    file._last = last  # looks inside: what it believes after a failed write
    file.append([named("one"), named("two"), named("three")])
    file.close()
    assert names(file.path) == ["one", "two", "three"]


def test_creating_fails_at_every_statement(tmp_path: Path, failing: type[Failing]) -> None:
    for steps in range(60):
        failing.left = steps
        path = tmp_path / f"{steps}.tenthmark"
        try:
            JobFile.create(path, Entry(EDIT, StartJob("Tansy")), "t").close()
        except CannotSave:
            assert list(tmp_path.glob(f"{steps}.*")) == [], "half a job is not left behind"
            continue
        break
    failing.left = 10**9
    assert names(path) == []
    assert steps > 8


def test_opening_fails_at_every_statement(tmp_path: Path, failing: type[Failing]) -> None:
    file = JobFile.create(tmp_path / "wing.tenthmark", Entry(EDIT, StartJob("Tansy")), "t")
    file.append([named("one")])
    file.close()
    before, opened = file.path.read_bytes(), 0
    for steps in range(40):
        failing.left = steps
        try:
            again = JobFile.open(file.path)
            opened += 1
            again.close()
        except Refusal as refusal:
            assert str(file.path) in str(refusal)
        assert file.path.read_bytes() == before
    failing.left = 10**9
    assert opened > 5
    assert names(file.path) == ["one"]


# Files may not grow beyond a limit that rises in small steps: a full disk at every place of the writing.
GROWING = """
import json, resource, sys
from pathlib import Path
from bench.core.edits import NameJob, StartJob
from bench.core.errors import CannotSave
from bench.core.history import EDIT, Entry
from bench.storage import JobFile
hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
file = JobFile.create(Path(sys.argv[1]), Entry(EDIT, StartJob("x")), "t")
refused = waiting = 0
for limit in range(512, 60000, 4096):
    batch = [(Entry(EDIT, NameJob(f"{limit} {number}")), "t") for number in range(20)]
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, hard))
    before = file.entries
    try:
        file.append(batch)
    except CannotSave:
        refused += 1
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        assert len(file.lines()) in (before, before + 20), (before, len(file.lines()))
        file.append(batch)
    resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
file.close()
print(json.dumps([refused, file.entries]))
"""


def test_a_full_disk_at_every_place_of_the_writing(tmp_path: Path) -> None:
    pytest.importorskip("resource", reason="this system limits files in another way")
    path, root = tmp_path / "wing.tenthmark", Path(bench.__file__).parents[1]
    words = [sys.executable, "-c", GROWING, str(path)]
    done = subprocess.run(words, capture_output=True, text=True, cwd=root, check=True)
    refused, entries = json.loads(done.stdout)
    assert refused > 5
    assert names(path) == [f"{limit} {number}" for limit in range(512, 60000, 4096) for number in range(20)]
    assert entries == len(names(path)) + 1


# --- going on ------------------------------------------------------------------------------------------


def test_what_could_not_be_written_is_tried_again_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(saver, "RETRY_S", 0.01)
    file, told = JobFile.create(tmp_path / "wing.tenthmark", Entry(EDIT, StartJob("x")), "t"), Told()
    away = tmp_path / "away"
    one = Saver(file, lambda entries, problem: told.put((entries, problem)))
    one.start()
    file.path.rename(away)
    one.save(*named("one"))
    entries, problem = told.get(timeout=10)
    assert entries == 1 and problem is not None and "no longer there" in problem
    assert one.problem == problem
    away.rename(file.path)
    assert told.get(timeout=10) == (2, None), "nobody had to ask, and the same problem is told once"
    assert one.problem == ""
    assert one.finish()
    assert names(file.path) == ["one"]


def test_a_disk_that_comes_back_as_another_is_known_by_the_last_entry(tmp_path: Path) -> None:
    """A drive that is taken out and put back gives its files other numbers."""
    file = JobFile.create(tmp_path / "wing.tenthmark", Entry(EDIT, StartJob("x")), "t")
    file.append([named("one")])
    copy = tmp_path / "copy"
    JobFile.open(file.path).close()
    with sqlite3.connect(file.path) as source, sqlite3.connect(copy) as target:
        source.backup(target)
    file.path.rename(tmp_path / "away")
    with pytest.raises(CannotSave, match="no longer there"):
        file.append([named("two")])
    copy.rename(file.path)
    file.append([named("two")])
    file.close()
    assert names(file.path) == ["one", "two"]


def accept(desk: launch.Desk, name: str) -> None:
    """As the bench screen does it: on the record that both share, then to the saving thread."""
    entry, at = named(name)
    desk.record.append(at, entry)
    desk.save(entry, at)


def test_leaving_writes_the_whole_job_elsewhere(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home, place = tmp_path / "home", tmp_path / "drive"
    place.mkdir()
    desk = launch.Desk(home, place / "wing.tenthmark")
    desk.start("Tansy")
    place.rename(tmp_path / "taken out")
    for name in ("one", "two"):
        accept(desk, name)
    assert not desk.close()
    launch._save_aside(desk)
    said = capsys.readouterr().err
    new = home / "jobs" / "wing-unsaved.tenthmark"
    assert "not everything accepted could be saved" in said and "no longer there" in said
    assert str(new) in said
    assert names(new) == ["one", "two"]
    assert launch.storage.last_job(home) == new


def test_leaving_without_the_file_writes_what_is_in_memory(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Opened from a snapshot, its earlier entries are nowhere but in the file that is gone."""
    for module, name, value in ((snapshots, "LAG", 3), (keeping, "AT_CLOSING", 5), (keeping, "AT_HAND", 0)):
        monkeypatch.setattr(module, name, value)
    home, place = tmp_path / "home", tmp_path / "drive"
    place.mkdir()
    first, *rest = edits.record(random.Random(5), 40)
    file = JobFile.create(place / "wing.tenthmark", first[1], first[0])
    file.append([(entry, at) for at, entry in rest])
    file.close()
    desk = launch.Desk(home, None)
    history, record = desk.open(file.path)
    assert len(record) == 40
    place.rename(tmp_path / "taken out")
    for name in ("one", "two"):
        accept(desk, name)
        history = history.follow(named(name)[0])
    assert not desk.close()
    launch._save_aside(desk, history.job)
    said = capsys.readouterr().err
    lines, packed = (home / "jobs" / f"wing-unsaved.{ending}" for ending in ("jsonl", "parcel"))
    assert f"{file.path} is gone" in said and str(lines) in said and str(packed) in said and "bring" in said
    entries = [json.loads(line) for line in lines.read_text().splitlines()[1:]]
    assert [(one["number"], one["edit"]["name"]) for one in entries] == [(41, "one"), (42, "two")]
    empty = EMPTY.follow(Entry(EDIT, StartJob("New"))).job
    brought = parcels.bring(empty, parcel_file.read(packed.read_text()), {})
    brought.check(empty)
    made = brought.change(empty)
    assert history.job.sticks and (made.sticks, made.parts) == (history.job.sticks, history.job.parts)


def test_a_fault_while_the_record_is_verified_is_told_in_a_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Told(list[str]):
        warn = list.append

    def broken(*words: object) -> None:
        raise MemoryError("no room")

    monkeypatch.setattr(launch.storage, "verify", broken)
    monkeypatch.setattr(launch.library, "user_data_folder", lambda: tmp_path)
    desk, told = launch.Desk(tmp_path, None), Told()
    desk.app = told  # type: ignore[assignment]
    desk._verify(tmp_path / "wing.tenthmark")
    assert "a fault of the program: MemoryError: no room" in told[0] and len(told) == 1
    desk.app = None
    desk._verify(tmp_path / "wing.tenthmark")


def test_leaving_with_no_room_anywhere_asks_and_then_says_what_is_lost(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = launch.Desk(tmp_path / "home", tmp_path / "wing.tenthmark")
    desk.start("Tansy")
    (tmp_path / "wing.tenthmark").rename(tmp_path / "away")
    accept(desk, "one")
    assert not desk.close()
    (tmp_path / "home").rename(tmp_path / "gone")
    (tmp_path / "home").write_text("no folder")
    monkeypatch.setattr("tempfile.gettempdir", lambda: str(tmp_path / "home"))
    asked = iter([[tmp_path / "home"], [tmp_path / "stick"], []])
    monkeypatch.setattr(launch, "_asked_for", lambda: next(asked))
    launch._save_aside(desk)
    assert names(tmp_path / "stick" / "wing-unsaved.tenthmark") == ["one"]
    launch._save_aside(desk)
    assert "is lost" in capsys.readouterr().err


def test_half_a_job_is_not_left_aside(tmp_path: Path, failing: type[Failing]) -> None:
    failing.left = 45
    with pytest.raises(CannotSave):
        while True:
            write_aside([("t", edits.START), *(("t", named("x")[0]) for _ in range(9))], [tmp_path], "wing")
    failing.left = 10**9
    for path in tmp_path.glob("*.tenthmark"):
        assert names(path) == ["x"] * 9


# --- order ---------------------------------------------------------------------------------------------


def test_the_clock_never_decides_an_order(tmp_path: Path) -> None:
    """A clock set back, or to nothing at all: entries stand as they were accepted."""
    record = edits.record(random.Random(3), 60)
    chance = random.Random(1)
    times = ["2031-05-01T08:00:00", "1970-01-01T00:00:00", "", "2099-12-31T23:59:59", "yesterday"]
    file = JobFile.create(tmp_path / "wing.tenthmark", record[0][1], "2050-01-01T00:00:00")
    dated = [(entry, chance.choice(times)) for _, entry in record[1:]]
    for entry, at in dated:
        file.append([(entry, at)])
    file.close()
    expected = EMPTY
    for _, entry in record:
        expected = expected.follow(entry)
    again = JobFile.open(file.path)
    assert [(entry, at) for at, entry in list(again.record)[1:]] == dated
    assert again.history == expected
    again.close()
