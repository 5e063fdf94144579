"""The saving thread: in order, nothing dropped, nothing twice, and it says how it stands."""

import json
import queue
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Sequence
from contextlib import closing
from fractions import Fraction
from pathlib import Path

import pytest

import bench
from bench.core.edits import PutStick, StartJob
from bench.core.errors import CannotSave
from bench.core.history import EDIT, Entry
from bench.core.records import Stick, Typed
from bench.storage import JobFile, Saver

SIZE = Typed(Fraction(1), "1 m")
Told = queue.Queue[tuple[int, str | None]]


def put(number: int) -> Entry:
    return Entry(EDIT, PutStick(Stick(f"A-{number}", "sitka_spruce", SIZE, SIZE, SIZE)))


def start(folder: Path) -> JobFile:
    return JobFile.create(folder / "kestrel.tenthmark", Entry(EDIT, StartJob("Kestrel")), "t1")


def tags(path: Path) -> list[str]:
    file = JobFile.open(path)
    file.close()
    return [stick.tag for stick in file.history.job.sticks]


def written_by_another(path: Path) -> None:
    """As a program would that knows nothing of the lock: a change, and that it was undone."""
    with closing(sqlite3.connect(path)) as db, db:
        for row in db.execute("select max(id) + 1, at, what, kind, body from entry").fetchall():
            db.execute("insert into entry values (?, ?, 'edit', 'NameJob', '{\"name\": \"Other\"}')", row[:2])
            db.execute("insert into entry values (?, ?, 'undo', '', '')", (row[0] + 1, row[1]))


def test_all_is_written_in_order_and_told(tmp_path: Path) -> None:
    file, told = start(tmp_path), Told()
    where: set[str] = set()

    def done(entries: int, problem: str | None) -> None:
        where.add(threading.current_thread().name)
        told.put((entries, problem))

    saver = Saver(file, done)
    saver.start()
    for number in range(100):
        saver.save(put(number), f"at {number}")
    assert saver.finish()
    answers = [told.get_nowait() for _ in range(told.qsize())]
    counts = [entries for entries, _ in answers]
    assert counts == sorted(set(counts))
    assert answers[-1] == (101, None)
    assert where == {"saver"}
    assert tags(file.path) == [f"A-{number}" for number in range(100)]
    assert [line.at for line in file.lines()][1:] == [f"at {number}" for number in range(100)]
    assert [path.name for path in tmp_path.iterdir()] == [file.path.name]


def test_a_slow_disk_gathers_what_queues_up_and_holds_up_nobody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file, told, go, batches = start(tmp_path), Told(), threading.Event(), []
    begun = threading.Event()
    write = file.append

    def slow(entries: Sequence[tuple[Entry, str]]) -> None:
        begun.set()
        assert go.wait(10)
        batches.append(len(entries))
        write(entries)

    monkeypatch.setattr(file, "append", slow)
    saver = Saver(file, lambda entries, problem: told.put((entries, problem)))
    saver.start()
    saver.save(put(0), "t")
    assert begun.wait(10)
    for number in range(1, 20):
        saver.save(put(number), "t")
    assert told.empty()
    go.set()
    assert saver.finish()
    assert batches == [1, 19]
    assert tags(file.path) == [f"A-{number}" for number in range(20)]


def test_what_could_not_be_written_is_written_later(tmp_path: Path) -> None:
    file, told = start(tmp_path), Told()
    away = file.path.with_name("away")
    saver = Saver(file, lambda entries, problem: told.put((entries, problem)))
    saver.start()
    saver.save(put(0), "t")
    assert told.get(timeout=10) == (2, None)
    file.path.rename(away)
    for number in (1, 2):
        saver.save(put(number), "t")
        entries, problem = told.get(timeout=10)
        assert entries == 2
        assert problem is not None
        assert "no longer there" in problem
        assert str(file.path) in problem
    away.rename(file.path)
    saver.save(put(3), "t")
    assert told.get(timeout=10) == (5, None)
    file.path.rename(away)
    saver.save(put(4), "t")
    assert told.get(timeout=10)[0] == 5
    away.rename(file.path)
    assert saver.finish()
    assert told.get_nowait() == (6, None)
    assert tags(file.path) == [f"A-{number}" for number in range(5)]


def test_finish_tells_when_something_was_not_written(tmp_path: Path) -> None:
    file, told = start(tmp_path), Told()
    written_by_another(file.path)
    saver = Saver(file, lambda entries, problem: told.put((entries, problem)))
    saver.start()
    saver.save(put(0), "t")
    problem = told.get(timeout=10)[1]
    assert problem is not None
    assert "another program has written to this job" in problem
    assert not saver.finish()
    assert not saver.is_alive()
    assert tags(file.path) == []
    assert file.lines()[-1].what == "undo"


def test_finish_does_not_wait_for_ever(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file, go = start(tmp_path), threading.Event()
    write = file.append

    def stuck(entries: Sequence[tuple[Entry, str]]) -> None:
        assert go.wait(10)
        write(entries)

    monkeypatch.setattr(file, "append", stuck)
    saver = Saver(file, lambda entries, problem: None)
    saver.start()
    saver.save(put(0), "t")
    assert not saver.finish(timeout=0)
    go.set()
    assert saver.finish()
    assert tags(file.path) == ["A-0"]


def test_finishing_twice_unstarted_or_too_late(tmp_path: Path) -> None:
    file = start(tmp_path)
    saver = Saver(file, lambda entries, problem: None)
    saver.save(put(0), "t")
    assert saver.finish()
    assert saver.finish()
    saver.save(put(1), "t")
    assert not saver.finish()
    assert not saver.finish()
    assert tags(file.path) == ["A-0"]


def test_saving_goes_on_when_nobody_can_be_told(tmp_path: Path) -> None:
    told = threading.Event()

    def gone(entries: int, problem: str | None) -> None:
        told.set()
        raise RuntimeError("the screen is gone")

    file = start(tmp_path)
    saver = Saver(file, gone)
    saver.start()
    saver.save(put(0), "t")
    assert told.wait(10)
    saver.save(put(1), "t")
    assert saver.finish()
    assert tags(file.path) == ["A-0", "A-1"]


def test_something_unforeseen_is_told_and_survived(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file, told = start(tmp_path), Told()
    write, failures = file.append, [MemoryError("no room"), CannotSave("disk", "gone")]

    def fragile(entries: Sequence[tuple[Entry, str]]) -> None:
        if failures:
            raise failures.pop(0)
        write(entries)

    monkeypatch.setattr(file, "append", fragile)
    saver = Saver(file, lambda entries, problem: told.put((entries, problem)))
    saver.start()
    for number in range(3):
        saver.save(put(number), "t")
        entries, problem = told.get(timeout=10)
        assert (entries, problem is None) == ((1, False) if number < 2 else (4, True))
    assert saver.finish()
    assert tags(file.path) == ["A-0", "A-1", "A-2"]


# A limit on the size of files stands in for a full disk; the soft limit can be lifted again.
FULL = """
import json, queue, resource, sys
from fractions import Fraction
from pathlib import Path
from bench.core.edits import PutStick, StartJob
from bench.core.history import EDIT, Entry
from bench.core.records import Stick, Typed
from bench.storage import JobFile, Saver
size = Typed(Fraction(1), "1 m")
told = queue.Queue()
file = JobFile.create(Path(sys.argv[1]), Entry(EDIT, StartJob("x")), "t")
saver = Saver(file, lambda entries, problem: told.put((entries, problem)))
saver.start()
hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, hard))
problems, number, on_disk = [], 0, 1
while len(problems) < 5:
    saver.save(Entry(EDIT, PutStick(Stick(f"A-{number}", "s", size, size, size))), "t")
    number += 1
    entries, problem = told.get(timeout=10)
    if problem:
        problems.append([entries, problem, len(file.lines())])
resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
saver.save(Entry(EDIT, PutStick(Stick(f"A-{number}", "s", size, size, size))), "t")
after = told.get(timeout=10)
print(json.dumps([problems, number + 1, after, saver.finish()]))
"""


def test_a_file_that_may_not_grow_and_then_may(tmp_path: Path) -> None:
    pytest.importorskip("resource", reason="this system limits files in another way")
    path = tmp_path / "kestrel.tenthmark"
    run = subprocess.run(
        [sys.executable, "-c", FULL, str(path)],
        capture_output=True,
        text=True,
        cwd=Path(bench.__file__).parents[1],
        check=True,
    )
    problems, saved, after, finished = json.loads(run.stdout)
    assert finished
    assert len(problems) == 5
    for entries, problem, readable in problems:
        assert 3 < entries == readable < saved
        assert "the disk does not take it" in problem or "disk is full" in problem
    assert after == [saved + 1, None]
    assert tags(path) == [f"A-{number}" for number in range(saved)]
