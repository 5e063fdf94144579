"""Killed at random moments under random accepted edits: what was answered is there, and the file opens.

A program of its own opens the job, accepts random edits and hands them to the saving thread; whenever that
says that entries are on disk, it tells their numbers and checksums through a pipe. It is killed (SIGKILL)
after a random time, in the middle of opening, writing or closing. Every fifth time it is the whole app in a
pseudo-terminal that is killed, under random keys. Then the file is opened: every entry that was told must be
there with its checksum, and nothing may stand in it that was never accepted.
"""

import contextlib
import os
import pty
import random
import select
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from bench import launch
from bench.core.errors import FileFault
from bench.core.history import EMPTY, Entry
from bench.storage import JobFile, Saver
from bench.storage.rows import RecordLine, to_line
from bench.storage.seals import seal
from tests.torture import edits

LONGEST_S, LONGEST_APP_S = 0.3, 2.5  # until the kill
APP_EVERY = 5
FRESH_EVERY = 40  # kills of one file; then a new one, so that making it is killed too
KEYS = (
    *("u", "y") * 6,
    "u",
    "y",
    "\x1b[A",
    "\x1b[B",
    "\r",
    "f",
    "s",
    "o",
    "i",
    "\t",
    "t",
    "k",
    "\x1b",
    "+",
    "-",
    "7",
    "z",
)


class Teller:
    """Tells through a pipe which entries are on disk, a line each."""

    def __init__(self, pipe: int, record: list[tuple[str, Entry]]) -> None:
        self.pipe, self.record, self.told = pipe, record, 0

    def done(self, entries: int, problem: str | None) -> None:
        """What the saving thread calls."""
        while self.told < entries:
            at, entry = self.record[self.told]
            self.told += 1
            os.write(self.pipe, f"{self.told} {seal(to_line(self.told, at, entry))}\n".encode())


def _writing(path: Path, seed: int, pipe: int) -> None:
    """Accept edits without end; close and open again now and then."""
    chance = random.Random(seed)
    if not path.exists():
        JobFile.create(path, edits.START, edits.AT).close()
    while True:
        file = JobFile.open(path)
        teller = Teller(pipe, list(file.record))
        teller.done(file.entries, None)
        saver, history = Saver(file, teller.done), file.history
        saver.start()
        for _ in range(chance.randint(1, 60)):
            entry, history = edits.accepted(chance, history)
            at = f"2031-05-01T08:00:{chance.randint(0, 59):02d}"
            teller.record.append((at, entry))
            saver.save(entry, at)
        saver.finish()


def _app(path: Path, seed: int, pipe: int) -> None:
    """The whole app on the terminal of this process, telling what it says is saved."""
    os.environ.update(
        TERM="xterm-256color", TENTHMARK_HOME=str(path.parent / "home"), LINES="24", COLUMNS="80"
    )
    shown = launch.Desk._done

    def done(desk: Any, entries: int, problem: str | None) -> None:
        teller.record = desk.record
        teller.done(entries, problem)
        shown(desk, entries, problem)

    teller = Teller(pipe, [])
    # Whoever forked may have put something else in their place.
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        setattr(sys, name, os.fdopen(number, "w" if number else "r", closefd=False))
    launch.Desk._done = done  # type: ignore[method-assign]
    launch.run(path)


def _in_child(work: Callable[[], None]) -> None:
    """Do the work of a child and never come back into the parent's code."""
    status = 1
    try:
        work()
        status = 0
    except BaseException as fault:
        with contextlib.suppress(OSError):
            os.write(2, f"child: {type(fault).__name__}: {fault}\n".encode())
    finally:
        os._exit(status)


class Round:
    """One child: begun, watched, killed."""

    def __init__(self, path: Path, seed: int, app: bool) -> None:
        self.app, self.random = app, random.Random(seed)
        self.reads, writes = os.pipe()
        os.set_inheritable(writes, True)
        self.terminal = -1
        if app:
            self.child, self.terminal = pty.fork()
        else:
            self.child = os.fork()
        if self.child == 0:
            work = _app if app else _writing
            _in_child(lambda: work(path, seed, writes))
        os.close(writes)
        self.said, self.keys = b"", 0

    def watch(self, seconds: float) -> None:
        """Take in what it tells, and press keys if it is the app, until the time is over."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            watched = [self.reads, *([self.terminal] if self.app else [])]
            ready = select.select(watched, [], [], min(left, 0.01))[0]
            if self.reads in ready:
                part = os.read(self.reads, 65536)
                if not part:
                    return  # it ended by itself
                self.said += part
            if self.terminal in ready:
                with contextlib.suppress(OSError):
                    os.read(self.terminal, 65536)
            if self.app and self.keys < 4000 * (seconds - left):
                self.keys += 1
                with contextlib.suppress(OSError):
                    os.write(self.terminal, self.random.choice(KEYS).encode())

    def kill(self) -> dict[int, int]:
        """Kill it; the checksums of what it told by then, by number."""
        os.kill(self.child, signal.SIGKILL)
        _, status = os.waitpid(self.child, 0)
        if os.waitstatus_to_exitcode(status) != -signal.SIGKILL:
            raise AssertionError(f"it ended by itself with {os.waitstatus_to_exitcode(status)}")
        while part := os.read(self.reads, 65536):
            self.said += part
        os.close(self.reads)
        if self.app:
            os.close(self.terminal)
        whole = self.said.decode().rpartition("\n")[0]
        return {int(number): int(sum_) for number, sum_ in (line.split() for line in whole.splitlines())}


def _faults(path: Path, told: dict[int, int]) -> tuple[list[str], int]:
    """What is wrong with a job after a kill, and how many entries it has."""
    try:
        file = JobFile.open(path)
    except FileFault as fault:
        begun = not path.exists() or path.stat().st_size == 0
        if begun and not told:
            path.unlink(missing_ok=True)
            return [], 0
        return [f"does not open: {fault}"], 0
    lines, record = file.lines(), list(file.record)
    file.close()
    left = sorted(name.name for name in path.parent.iterdir() if name.name.startswith(path.name))
    sums = {line.number: seal(RecordLine(*line)) for line in lines}
    faults = [f"entry {number} was answered and is not there" for number in told if number not in sums]
    faults += [
        f"entry {number} is another one" for number in told if sums.get(number, told[number]) != told[number]
    ]
    folded = EMPTY
    for _, entry in record:
        folded = folded.follow(entry)
    if folded != file.history:
        faults.append("the job is not the fold of its entries")
    if left != [path.name]:
        faults.append(f"closed, and still beside it: {left}")
    return faults, len(lines)


def run(count: int, seed: int, folder: Path | None = None, apps: bool = True) -> int:
    """Kill so many times; prints a summary.

    Returns:
        How many faults there were.
    """
    if not hasattr(os, "fork"):
        print("kills: this system cannot fork; not run")
        return 0
    chance, answered, wrong, app_kills, entries = random.Random(seed), 0, list[str](), 0, 0
    with tempfile.TemporaryDirectory(dir=folder) as name:
        path = Path(name) / "0.tenthmark"
        for kill in range(count):
            if kill % FRESH_EVERY == 0:
                path = Path(name) / f"{kill}.tenthmark"
            app = apps and kill % APP_EVERY == APP_EVERY - 1 and path.exists()
            app_kills += app
            one = Round(path, chance.getrandbits(32), app)
            one.watch(chance.random() * (LONGEST_APP_S if app else LONGEST_S))
            told = one.kill()
            answered += len(told)
            faults, found = _faults(path, told)
            entries = max(entries, found)
            wrong += [f"kill {kill} ({'app' if app else 'writer'}), seed {seed}: {fault}" for fault in faults]
    for fault in wrong[:20]:
        print(fault, file=sys.stderr)
    print(
        f"kills: {count} ({app_kills} of the whole app), seed {seed}: {answered} times an entry was answered,"
        f" longest job {entries} entries; {len(wrong)} faults"
    )
    return len(wrong)
