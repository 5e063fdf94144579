"""Jobs where nothing can be written: they can be looked at, all of them or not at all, and say so."""

import json
import os
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

import bench
from bench.core.edits import PutStick, RemoveStick, StartJob
from bench.core.history import EDIT, Entry
from bench.core.records import Stick, Typed
from bench.storage import JobFile, connecting

METRE = Typed(Fraction(1), "1 m")


def job(folder: Path) -> Path:
    file = JobFile.create(folder / "kestrel.tenthmark", Entry(EDIT, StartJob("Kestrel")), "t")
    for tag in ("A-0", "A-1", "A-2"):
        file.append([(Entry(EDIT, PutStick(Stick(tag, "sitka_spruce", METRE, METRE, METRE))), "t")])
    file.close()
    return file.path


def run(script: str, *words: str) -> str:
    """What a program of its own prints."""
    root = Path(bench.__file__).parents[1]
    done = subprocess.run(
        [sys.executable, "-c", script, *words], capture_output=True, text=True, cwd=root, check=True
    )
    return done.stdout


# Root may write anywhere, so the child gives that up first. It prints what each step came to.
ORDINARY = """
import json, os, sys
import urllib.parse  # pathlib takes it in late, when an ordinary user may no longer reach it
from pathlib import Path
from bench.core.edits import RemoveStick, StartJob
from bench.core.errors import Refusal
from bench.core.history import EDIT, Entry
from bench.storage import JobFile, path_for, remember_last
if os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
folder, results = Path(sys.argv[1]), {}

def attempt(name, step):
    try:
        results[name] = step()
    except Refusal as refusal:
        results[name] = f"{type(refusal).__name__}: {refusal.message}"

def opened(name):
    file = JobFile.open(folder / name)
    attempt("append", lambda: file.append([(Entry(EDIT, RemoveStick("A-1")), "t")]))
    count = len(file.lines())
    file.close()
    return [count, len(file.history.job.sticks)]

attempt("open", lambda: opened(sys.argv[2]))
attempt("create", lambda: JobFile.create(folder / "new.tenthmark", Entry(EDIT, StartJob("x")), "t").entries)
attempt("path_for", lambda: str(path_for(folder / "data", "x")))
attempt("remember", lambda: remember_last(folder, folder / "x"))
print(json.dumps(results))
"""


def as_ordinary_user(folder: Path, name: str) -> dict[str, object]:
    results: dict[str, object] = json.loads(run(ORDINARY, str(folder), name))
    return results


@pytest.fixture
def locked() -> Iterator[Path]:
    """A folder to be locked by the test; not in tmp_path, where an ordinary user may not even pass."""
    if not hasattr(os, "setuid"):
        pytest.skip("this system keeps permissions in another way")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if os.geteuid() == 0 and not all(above.stat().st_mode & 0o001 for above in folder.parents):
            pytest.skip("the folder for temporary files is closed to ordinary users")
        folder.chmod(0o755)
        yield folder
        folder.chmod(0o755)


def test_a_folder_that_cannot_be_written(locked: Path) -> None:
    path = job(locked)
    path.chmod(0o444)
    locked.chmod(0o555)
    results = as_ordinary_user(locked, path.name)
    assert results["open"] == [4, 3]
    assert str(results["append"]).startswith(f"CannotSave: {path}: it can only be read here")
    assert os.listdir(locked) == [path.name]
    for step, named in (("create", locked), ("path_for", locked / "data" / "jobs"), ("remember", locked)):
        assert str(results[step]).startswith(f"CannotSave: {named}: ")
        assert "permission denied" in str(results[step])


def test_a_file_that_may_be_written_in_a_folder_that_may_not(locked: Path) -> None:
    """No side file can be made there, nor the lock's: it opens to be read, since nobody has it."""
    path = job(locked)
    path.chmod(0o666)
    locked.chmod(0o555)
    results = as_ordinary_user(locked, path.name)
    assert results["open"] == [4, 3]
    assert str(results["append"]).startswith(f"CannotSave: {path}: ")
    assert os.listdir(locked) == [path.name]


def test_without_a_lock_nobody_is_promised_to_be_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that another program may be writing is never read as one that cannot change."""
    path, asked, connect = job(tmp_path), list[str](), sqlite3.connect

    def noted(database: str, **more: Any) -> sqlite3.Connection:
        asked.append(database.partition("?")[2])
        return connect(database, **more)

    monkeypatch.setattr(connecting.sqlite3, "connect", noted)
    JobFile.open(path).close()
    assert asked[0] == "mode=ro&immutable=1"
    asked.clear()
    path.with_name(f"{path.name}-lock").mkdir()
    JobFile.open(path).close()
    assert asked and not [how for how in asked if "immutable" in how]


def test_a_file_that_cannot_be_written_in_a_folder_that_can(locked: Path) -> None:
    path = job(locked)
    path.chmod(0o444)
    locked.chmod(0o777)
    results = as_ordinary_user(locked, path.name)
    assert results["open"] == [4, 3]
    assert [name for name in os.listdir(locked) if name.startswith(path.name)] == [path.name]
    assert str(results["append"]).startswith(f"CannotSave: {path}: it can only be read here")


def test_a_file_that_cannot_be_read(locked: Path) -> None:
    path = job(locked)
    path.chmod(0o000)
    locked.chmod(0o755)
    message = str(as_ordinary_user(locked, path.name)["open"])
    assert message.startswith(f"FileFault: {path}: ")
    assert "may read" in message


@pytest.mark.parametrize("index", [True, False])
def test_last_changes_in_a_side_file_are_never_left_out_silently(locked: Path, index: bool) -> None:
    """Killed, then looked at where nothing can be written: all of it, or a refusal; never less."""
    path = job(locked)
    file = JobFile.open(path)
    file.append([(Entry(EDIT, RemoveStick("A-0")), "t")])
    sides = [path.with_name(path.name + ending) for ending in ("", "-wal", "-shm")]
    killed = {side: side.read_bytes() for side in sides if index or side != sides[2]}
    file.close()
    for side, content in killed.items():
        side.write_bytes(content)
        side.chmod(0o444)
    locked.chmod(0o555)
    results = as_ordinary_user(locked, path.name)
    if index:
        assert results["open"] == [5, 2]
    else:
        begins = f"FileFault: {path}: its last changes are still in {sides[1].name}"
        assert str(results["open"]).startswith(begins)


# A limit on the size of files keeps even the small side file from being made, as a full disk does.
NO_ROOM = """
import json, resource, sys
from pathlib import Path
from bench.core.edits import RemoveStick
from bench.core.errors import CannotSave
from bench.core.history import EDIT, Entry
from bench.storage import JobFile
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))
file = JobFile.open(Path(sys.argv[1]))
try:
    file.append([(Entry(EDIT, RemoveStick("A-1")), "t")])
except CannotSave as refusal:
    print(json.dumps([len(file.lines()), len(file.history.job.sticks), refusal.message]))
"""


def test_a_job_can_be_looked_at_on_a_full_disk(tmp_path: Path) -> None:
    pytest.importorskip("resource", reason="this system limits files in another way")
    path = job(tmp_path)
    entries, sticks, message = json.loads(run(NO_ROOM, str(path)))
    assert (entries, sticks) == (4, 3)
    assert message.startswith(f"{path}: ")
    assert "disk is full" in message or "has room" in message
