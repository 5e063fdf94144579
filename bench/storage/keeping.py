"""When a history is kept aside, and how a job is opened from one."""

import contextlib
import sqlite3
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple

from bench.core.frozen import replace
from bench.core.history import EMPTY, History
from bench.core.record import Record
from bench.storage import seals, snapshots
from bench.storage.rows import RecordLine, replay
from bench.storage.snapshots import Aside
from bench.storage.stored import StoredLines

AT_CLOSING = 500  # entries that are worth a snapshot when the file is closed
AT_HAND = 5_000  # entries of a record that are simply held
START = Aside(EMPTY, "")
Told = Callable[[int, int], None]


def _teller(path: Path, count: int) -> Record:
    return Record(StoredLines(path, count), partial(snapshots.known, path))


class Opened(NamedTuple):
    """What a file tells when it is opened."""

    history: History
    record: Record
    last: RecordLine
    aside: Aside  # what its next snapshot goes on from


def untold(count: int, read: int) -> None:
    """Nobody is told how far it is."""


def opened(db: sqlite3.Connection, path: Path, whole: bool = False, told: Told = untold) -> Opened:
    """The job of a file: from the newest snapshot that fits, or from the first entry. Nothing is changed.

    Args:
        db: the file.
        path: of it.
        whole: from the first entry, whatever is kept aside.
        told: called now and then where many entries are followed: with how many, and how many are.
    Returns:
        Its history and record. What came before the snapshot is checked by `snapshots.verify`.
    Raises:
        FileFault: an entry that is missing, unreadable, unknown or impossible, by its number.
    """
    count, last = db.execute("select count(*), max(id) from entry").fetchone()
    # Where an entry is missing, following the record from its start says which.
    aside = snapshots.newest(db, count) if count == last and not whole else None
    start = replace((aside or START).history, teller=_teller(path, count))
    lines = list(snapshots.lines_after(db, start.count))
    sound = [line for line in lines if all(isinstance(cell, str) for cell in line[1:])]
    seals.check(path, sound, seals.known(db, start.count))
    long = len(lines) > AT_HAND
    history, entries = replay(str(path), lines, start, partial(told, count) if long else lambda read: None)
    held = aside is None and history.count <= AT_HAND
    stored = entries if held else StoredLines(path, history.count, entries if aside is not None else ())
    record = Record(stored, partial(snapshots.known, path))
    return Opened(replace(history, teller=record), record, lines[-1] if lines else _last(db), aside or START)


def _last(db: sqlite3.Connection) -> RecordLine:
    (line,) = snapshots.lines_after(db, db.execute("select max(id) - 1 from entry").fetchone()[0])
    return line


class Keeper:
    """Keeps a history aside from time to time, some entries behind the newest; of the file's owner."""

    def __init__(self, path: Path, aside: Aside) -> None:
        self._path, self._aside = path, aside
        self._tried = 0  # the entry the last one was to be taken after

    def keep(self, db: sqlite3.Connection, entries: int, every: int) -> bool:
        """Keep one if so many entries have come in since the last; what cannot be kept is done without.

        A snapshot is only a cache: whatever goes wrong with it is nobody's concern, and nothing is raised.

        Args:
            db: the file.
            entries: in it.
            every: how many are worth a snapshot.
        Returns:
            Whether it was kept; the next may be due at once, where a long record has none.
        """
        here, most = self._aside.history.count, entries - snapshots.LAG
        if most - max(here, self._tried) < every:
            return False
        self._tried = min(most, here + snapshots.SPARSE)
        with contextlib.suppress(Exception):
            self._keep(db, entries, self._tried)
            return True
        return False

    def _keep(self, db: sqlite3.Connection, entries: int, most: int) -> None:
        teller = _teller(self._path, entries)
        history, digest, prior = self._aside
        made = snapshots.renewed(db, Aside(replace(history, teller=teller), digest, prior), most)
        # Held until the next one: without the jobs before it, which its teller can tell.
        self._aside = made._replace(history=made.history.alone())
        snapshots.write(db, self._aside)
