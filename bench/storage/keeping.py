"""When a history is kept aside, and how a job is opened from one."""

import contextlib
import sqlite3
from dataclasses import replace
from functools import partial
from pathlib import Path

from bench.core.errors import Refusal
from bench.core.history import EMPTY, History
from bench.core.record import Record
from bench.storage import faults, snapshots
from bench.storage.rows import replay
from bench.storage.snapshots import Aside
from bench.storage.stored import StoredLines

AT_CLOSING = 500  # entries that are worth a snapshot when the file is closed
AT_HAND = 5_000  # entries of a record that are simply held
START = Aside(EMPTY, "")


def _teller(path: Path, count: int) -> Record:
    return Record(StoredLines(path, count), partial(snapshots.known, path))


def opened(db: sqlite3.Connection, path: Path) -> tuple[History, Record, Aside]:
    """The job of a file: from the newest snapshot that fits, or from the first entry.

    Args:
        db: the file.
        path: of it.
    Returns:
        Its history, its record, and what its next snapshot goes on from.
    Raises:
        FileFault: an entry that is missing, unreadable, unknown or impossible, by its number.
    """
    count, last = db.execute("select count(*), max(id) from entry").fetchone()
    whole = count == last  # else an entry is missing: following the record from its start says which
    aside = snapshots.newest(db, count) if whole else None
    if whole and aside is None and count > snapshots.SPARSE:
        _keep_all(db, path, count)
        aside = snapshots.newest(db, count)
    start = replace((aside or START).history, teller=_teller(path, count))
    history, entries = replay(str(path), snapshots.lines_after(db, start.count), start)
    held = history.count if aside is None and history.count <= AT_HAND else 0
    stored = entries if held else StoredLines(path, history.count, entries)
    record = Record(stored, partial(snapshots.known, path))
    return replace(history, teller=record), record, aside or START


def _keep_all(db: sqlite3.Connection, path: Path, count: int) -> None:
    """Snapshots of a long record that has none, from its first entry on."""
    at = replace(EMPTY, teller=_teller(path, count))
    aside = Aside(at, "")
    with contextlib.suppress(sqlite3.Error, Refusal):
        last = count - snapshots.LAG
        for most in (*range(snapshots.SPARSE, last, snapshots.SPARSE), last):
            aside = snapshots.renewed(db, aside, most)
            snapshots.write(db, aside)


class Keeper:
    """Keeps a history aside from time to time, some entries behind the newest; of the file's owner."""

    def __init__(self, path: Path, aside: Aside) -> None:
        self._path, self._aside = path, aside

    def keep(self, db: sqlite3.Connection, entries: int, every: int) -> None:
        """Keep one if so many entries have come in since the last; what cannot be kept is done without."""
        most = entries - snapshots.LAG
        if most - self._aside.history.count < every:
            return
        teller = _teller(self._path, entries)
        aside = self._aside._replace(history=replace(self._aside.history, teller=teller))
        with contextlib.suppress(Refusal, *faults.PROBLEMS):
            self._aside = snapshots.renewed(db, aside, most)
            snapshots.write(db, self._aside)
