"""One job, one sqlite3 file, and one program writing to it at a time."""

import contextlib
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from bench.core.edits import StartJob
from bench.core.errors import BadInput, CannotSave, FileFault
from bench.core.history import EMPTY, Entry, History
from bench.core.record import Record
from bench.storage import faults, keeping, schema, snapshots
from bench.storage.connecting import connect, identity, transaction, writer
from bench.storage.keeping import START, Keeper, opened
from bench.storage.rows import RecordLine, to_line
from bench.storage.snapshots import Aside

_INSERT = "insert into entry (id, at, what, kind, body) values (?, ?, ?, ?, ?)"
_SELECT = "select id, at, what, kind, body from entry order by id"
_LAST = f"{_SELECT} desc limit 1"
_SIDE_FILES = ("", "-journal", "-wal", "-shm")


class JobFile:
    """A job on disk.

    `append` and `close` belong to one thread at a time: the one that opened the file, then the saver it is
    handed to. `lines` uses a connection of its own and may be called from anywhere.
    """

    def __init__(
        self,
        path: Path,
        db: sqlite3.Connection,
        history: History,
        record: Record,
        last: RecordLine,
        aside: Aside = START,
    ) -> None:
        self.path = path
        self.history = history  # as the record told it when the file was opened
        self.record = record  # its entries then, each with its time
        self._keeper = Keeper(path, aside)
        self._db = db
        self._last = last
        self._identity = identity(path)

    @property
    def entries(self) -> int:
        """How many entries are on disk."""
        return self._last.number

    def writable(self) -> bool:
        """Whether an entry could be added now; where it could not, the job opens to be read."""
        try:
            self._db.execute("begin immediate")
            # Only a real change shows it: a file may open for writing and still refuse to be written.
            self._db.execute("create table probe (one integer)")
        except sqlite3.Error:
            return False
        finally:
            if self._db.in_transaction:
                self._db.execute("rollback")
        return True

    @classmethod
    def create(cls, path: Path, first: Entry, at: str) -> "JobFile":
        """A new job in a new file.

        Args:
            path: of the file; its folders are made.
            first: the entry that starts the job.
            at: time of it, ISO.
        Raises:
            CannotSave: the file is there already, or cannot be made.
            Refusal: the entry does not start a job.
        """
        path = path.absolute()
        if not isinstance(first.edit, StartJob):
            raise CannotSave(str(path), "a job begins with its name")
        history = EMPTY.follow(first)
        line = _line(path, 1, at, first)
        _claim(path)
        try:
            db = _begin(path, line)
        except BaseException:
            for ending in _SIDE_FILES:
                with contextlib.suppress(OSError):
                    path.with_name(path.name + ending).unlink()
            raise
        record = Record([(at, first)])
        return cls(path, db, replace(history, teller=record), record, line)

    @classmethod
    def open(cls, path: Path) -> "JobFile":
        """A job from its file, brought up to date if it is from an earlier version.

        Args:
            path: of the file. Where it cannot be written it is opened all the same; `append` then refuses.
        Raises:
            FileFault: missing, no job, from a newer version, or damaged.
        """
        path = path.absolute()
        db = connect(path)
        try:
            with faults.reading(path):
                schema.check(db, path)
                _update(db, path)
                history, record, aside = opened(db, path)
                last = RecordLine(*db.execute(_LAST).fetchone())
        except BaseException:
            db.close()
            raise
        # A job that came in another way of journalling keeps all promises too, only slower.
        with contextlib.suppress(sqlite3.Error):
            db.execute("pragma journal_mode = wal")
        return cls(path, db, history, record, last, aside)

    def append(self, entries: Sequence[tuple[Entry, str]]) -> None:
        """Add entries to the record, all or none; they are on the disk when this returns.

        Args:
            entries: each with the time of its acceptance, ISO; in order; may be empty.
        Raises:
            CannotSave: with the reason; nothing has been written.
        """
        lines = [
            _line(self.path, number, at, entry)
            for number, (entry, at) in enumerate(entries, start=self.entries + 1)
        ]
        if not lines:
            return
        if identity(self.path) != self._identity:
            raise CannotSave(
                str(self.path), "the file is no longer there, or another is in its place; put it back"
            )
        with faults.writing(self.path), transaction(self._db):
            last = self._db.execute(_LAST).fetchone()
            if last != self._last:
                raise CannotSave(
                    str(self.path),
                    "another program has written to this job; what was changed here since then is not"
                    " saved; close it here and open it again",
                )
            self._db.executemany(_INSERT, lines)
        self._last = lines[-1]
        self._keeper.keep(self._db, self.entries, snapshots.EVERY)

    def lines(self) -> list[RecordLine]:
        """Everything ever accepted, in order, as it is on disk now.

        Raises:
            FileFault: the file can no longer be read.
        """
        with faults.reading(self.path), closing(connect(self.path)) as db:
            return _read(db, self.path)

    def close(self) -> None:
        """Bring everything into the one file and let go of it; may be called twice.

        Where the disk does not allow that, the side file stays and the next opening does it: nothing is lost.
        """
        self._keeper.keep(self._db, self.entries, keeping.AT_CLOSING)
        with contextlib.suppress(sqlite3.Error):
            self._db.execute("pragma wal_checkpoint(truncate)")
        with contextlib.suppress(sqlite3.Error):
            self._db.close()


def _line(path: Path, number: int, at: str, entry: Entry) -> RecordLine:
    try:
        return to_line(number, at, entry)
    except BadInput as refusal:
        raise CannotSave(str(path), refusal.message) from refusal


def _claim(path: Path) -> None:
    """Make the empty file, so that no other program makes it first."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise CannotSave(
            str(path.parent), f"the folder cannot be made ({faults.why(problem)}); choose one of your own"
        ) from problem
    try:
        path.open("xb").close()
    except FileExistsError as problem:
        raise CannotSave(str(path), "there is a file of this name already; choose another") from problem
    except OSError as problem:
        raise CannotSave(
            str(path.parent),
            f"no file can be made in this folder ({faults.why(problem)}); choose one of your own",
        ) from problem


def _begin(path: Path, line: RecordLine) -> sqlite3.Connection:
    """Tables and first entry in one transaction: killed at any moment, the file is empty or complete."""
    with faults.writing(path):
        db = writer(path)
        try:
            with transaction(db):
                schema.found(db)
                schema.migrate(db, path, line.at)
                db.execute(_INSERT, line)
            db.execute("pragma journal_mode = wal")
        except BaseException:
            db.close()
            raise
    return db


def _update(db: sqlite3.Connection, path: Path) -> None:
    """Run the migrations this file has not had, dated with its last entry: storage has no clock."""
    if not schema.missing(db, path):
        return
    try:
        with faults.writing(path), transaction(db):
            (at,) = db.execute("select coalesce(max(at), '') from entry").fetchone()
            schema.migrate(db, path, at)
    except CannotSave as refusal:
        raise FileFault(
            str(path), f"is from an earlier version and cannot be brought up to date: {refusal.reason}"
        ) from refusal


def _read(db: sqlite3.Connection, path: Path) -> list[RecordLine]:
    lines = [RecordLine(*row) for row in db.execute(_SELECT)]
    for line in lines:
        if not all(isinstance(cell, str) for cell in line[1:]):
            raise FileFault(str(path), "is damaged; restore a copy of the file", key=f"entry {line.number}")
    return lines
