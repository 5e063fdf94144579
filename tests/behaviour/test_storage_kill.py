"""Killed at any moment: nothing that was acknowledged is lost, and the file opens."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import bench
from bench.core.edits import StartJob
from bench.core.errors import FileFault
from bench.core.history import EDIT, Entry
from bench.storage import JobFile

WRITER = """
import sys
from fractions import Fraction
from itertools import count
from pathlib import Path
from threading import Semaphore
from bench.core.edits import ChangeSettings, StartJob
from bench.core.history import EDIT, Entry
from bench.core.records import Settings, Typed
from bench.storage import JobFile, Saver

path, how = Path(sys.argv[1]), sys.argv[2]

def change(number):
    return Entry(EDIT, ChangeSettings(Settings(kerf=Typed(Fraction(number, 10**6), str(number)))))

def say(entries, problem=None):
    print(entries, problem or "", flush=True)

if how == "create":
    for number in count():
        JobFile.create(path / f"{number}.tenthmark", Entry(EDIT, StartJob("x")), "t").close()
        say(number)
file = JobFile.open(path)
say(file.entries)
if how == "append":
    for number in count(file.entries + 1):
        file.append([(change(number), "t")])
        say(file.entries)
room, written = Semaphore(3), file.entries

def done(entries, problem):
    global written
    say(entries, problem)
    room.release(entries - written)
    written = entries

saver = Saver(file, done)
saver.start()
for number in count(file.entries + 1):
    room.acquire()
    saver.save(change(number), "t")
"""


def killed(path: Path, how: str, lines: int) -> int:
    """Run the writer, kill it after so many lines, and give the last number it acknowledged."""
    with subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), how],
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(bench.__file__).parents[1],
    ) as writer:
        assert writer.stdout is not None
        said = [writer.stdout.readline() for _ in range(lines)]
        writer.kill()
        said += writer.stdout.read().split("\n")
    assert writer.returncode == -signal.SIGKILL
    # The last line may be cut short by the kill; a line that ends in " " is whole.
    return max(int(line) for line in said if line.endswith((" \n", " ")))


@pytest.mark.parametrize("how", ["append", "saver"])
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system kills in another way")
def test_killed_while_writing(tmp_path: Path, how: str) -> None:
    """One file through 5 kills, so that what a kill left behind is met by the next round; more in torture."""
    path = tmp_path / "kestrel.tenthmark"
    JobFile.create(path, Entry(EDIT, StartJob("Kestrel")), "t").close()
    seeded = random.Random(11)
    for _ in range(5):
        acknowledged = killed(path, how, seeded.randint(1, 30))
        file = JobFile.open(path)
        assert file.entries >= acknowledged
        kerfs = [job.settings.kerf.text for job, _ in file.history.past[2:]]
        assert [*kerfs, file.history.job.settings.kerf.text][-file.entries + 1 :] == [
            str(number) for number in range(2, file.entries + 1)
        ]
        file.close()
    assert os.listdir(tmp_path) == [path.name]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system kills in another way")
def test_killed_while_creating(tmp_path: Path) -> None:
    """A file is whole once acknowledged; the one being made is whole, or empty and says so."""
    seeded = random.Random(13)
    for turn in range(5):
        folder = tmp_path / str(turn)
        folder.mkdir()
        acknowledged = killed(folder, "create", seeded.randint(1, 20))
        paths = list(folder.glob("*.tenthmark"))
        assert len(paths) in (acknowledged + 1, acknowledged + 2)
        for path in paths:
            try:
                JobFile.open(path).close()
            except FileFault as refusal:
                assert int(path.stem) > acknowledged
                assert "is empty" in refusal.message
