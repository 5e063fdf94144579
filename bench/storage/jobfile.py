"""One job, one sqlite3 file, and one program writing to it at a time."""

import contextlib
import os
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from bench.core.edits import StartJob
from bench.core.errors import BadInput, CannotSave, FileFault
from bench.core.frozen import replace
from bench.core.history import EMPTY, Entry, History
from bench.core.record import Record
from bench.storage import copies, faults, keeping, schema, seals, snapshots
from bench.storage.connecting import identity, reader, to_disk, transaction, writer
from bench.storage.holding import Holding
from bench.storage.keeping import START, Keeper, opened
from bench.storage.rows import RecordLine, to_line
from bench.storage.snapshots import Aside

_INSERT = "insert into entry (id, at, what, kind, body) values (?, ?, ?, ?, ?)"
_SELECT = "select id, at, what, kind, body from entry order by id"
_FROM = "select id, at, what, kind, body from entry where id >= ? order by id"
_SIDE_FILES = ("", "-journal", "-wal", "-shm")
# Since when a file of this name may be another one than was opened, or the disk may be gone and back.
_GONE = "the file is no longer there, or another is in its place; put it back"


class JobFile:
    """A job on disk.

    `append` and `close` belong to one thread at a time: the one that opened the file, then the saver it is
    handed to. `lines` uses a connection of its own and may be called from anywhere.
    """

    def __init__(
        self,
        path: Path,
        holding: Holding,
        history: History,
        record: Record,
        last: RecordLine,
        aside: Aside = START,
    ) -> None:
        self.path = path
        self.history = history  # as the record told it when the file was opened
        self.record = record  # its entries then, each with its time
        self.elsewhere = False  # another program has it open: it is never written from here
        self._holding = holding
        self._db: sqlite3.Connection | None = None  # none where it only can be read, and after a failed write
        self._last = last
        self._identity = identity(path)
        self._closed = False
        self._keeper = Keeper(path, aside)

    @property
    def entries(self) -> int:
        """How many entries are on disk."""
        return self._last.number

    def writable(self) -> bool:
        """Whether an entry could be added now; where it could not, the job opens to be read."""
        db = self._db
        if db is None:
            return False
        try:
            db.execute("begin immediate")
            # Only a real change shows it: a file may open for writing and still refuse to be written.
            db.execute("create table probe (one integer)")
        except sqlite3.Error:
            return False
        finally:
            if db.in_transaction:
                db.execute("rollback")
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
        holding = Holding(path)
        try:
            holding.take()
            db = _begin(path, line)
        except BaseException:
            holding.release()
            for ending in _SIDE_FILES:
                with contextlib.suppress(OSError):
                    path.with_name(path.name + ending).unlink()
            raise
        to_disk(path.parent)
        record = Record([(at, first)])
        file = cls(path, holding, replace(history, teller=record), record, line)
        file._db = db
        return file

    @classmethod
    def open(cls, path: Path, day: str = "", told: keeping.Told = keeping.untold) -> "JobFile":
        """A job from its file, brought up to date if it is from an earlier version.

        Nothing is changed before the whole of it has been found sound.

        Args:
            path: of the file. Where it cannot be written, or another program has it open, it is opened
                all the same; `append` then refuses.
            day: today, ISO, for the name of the copy that is made before the tables change; empty: that
                of the last entry.
            told: called now and then where many entries must be read: with how many, and how many are.
        Raises:
            FileFault: missing, no job, from a newer version, or damaged.
        """
        path = path.absolute()
        holding = Holding(path)
        try:
            alone = holding.take()
            with faults.reading(path), closing(reader(path, alone, holding.taken)) as db:
                schema.check(db, path)
                outdated = bool(schema.missing(db, path))
                found = opened(db, path, outdated, told)
            file = cls(path, holding, *found)
            file.elsewhere = not alone
            if outdated:
                _update(path, alone, day or found.last.at[:10])
            if alone:
                with contextlib.suppress(sqlite3.Error, CannotSave):
                    file._db = _writing(path)
        except BaseException:
            holding.release()
            raise
        return file

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
        last = lines[-1]
        try:
            with faults.writing(self.path):
                db = self._ready()
                with transaction(db):
                    lines = self._not_yet_there(db, lines)
                    db.executemany(_INSERT, lines)
                    seals.write(db, lines)
        except BaseException:
            # A disk that failed and came back is written through a new connection, or not at all.
            self._let_go()
            raise
        self._last = last

    def keep_aside(self) -> bool:
        """Keep a snapshot where one is due; what cannot be kept is done without, and nothing is raised.

        It takes a while in a long record: whoever appends calls it when nothing waits to be written.

        Returns:
            Whether one was kept; another may be due then.
        """
        return self._keep_aside(snapshots.EVERY)

    def _keep_aside(self, every: int) -> bool:
        db = self._db
        if db is None:
            return False
        kept = self._keeper.keep(db, self.entries, every)
        if db.in_transaction:  # it could not even be taken back: the next write opens the file anew
            self._let_go()
        return kept

    def _ready(self) -> sqlite3.Connection:
        """A connection that writes to the file of this name: the one there is, after a fault a new one."""
        if self._closed:
            raise CannotSave(str(self.path), "it has been closed here")
        if self.elsewhere or not self._holding.take():
            raise CannotSave(str(self.path), f"it {faults.ELSEWHERE}; close it there")
        found = identity(self.path)
        if found is None or (found != self._identity and self._db is not None):
            raise CannotSave(str(self.path), _GONE)
        db = self._db
        if db is None:
            # A disk that was taken out may come back under another number: the last entry tells it.
            try:
                self._db = db = _writing(self.path)
                known = db.execute(_FROM, (self.entries,)).fetchone() == self._last
            except faults.PROBLEMS as problem:
                if found == self._identity or faults.code(problem) in faults.PASSING:
                    raise
                raise CannotSave(str(self.path), _GONE) from problem
            if not known and found != self._identity:
                raise CannotSave(str(self.path), _GONE)
            self._identity = found
        return db

    def _not_yet_there(self, db: sqlite3.Connection, lines: list[RecordLine]) -> list[RecordLine]:
        """Those rows that are not in the file: a write that was reported as failed may have reached it."""
        there = [RecordLine(*row) for row in db.execute(_FROM, (self.entries,))]
        if there != [self._last, *lines][: len(there)] or not there:
            raise CannotSave(
                str(self.path),
                "another program has written to this job; what was changed here since then is not saved;"
                " close it here and open it again",
            )
        return lines[len(there) - 1 :]

    def _let_go(self) -> None:
        db, self._db = self._db, None
        if db is not None:
            with contextlib.suppress(sqlite3.Error):
                db.close()

    def lines(self) -> list[RecordLine]:
        """Everything ever accepted, in order, as it is on disk now.

        Raises:
            FileFault: the file can no longer be read.
        """
        alone = self._db is None and not self.elsewhere and self._holding.take()
        held = alone and self._holding.taken
        try:
            with faults.reading(self.path), closing(reader(self.path, alone, held)) as db:
                return _read(db, self.path)
        finally:
            if self._closed:
                self._holding.release()

    def close(self) -> None:
        """Bring everything into the one file and let go of it; may be called twice.

        Where the disk does not allow that, the side file stays and the next opening does it: nothing is lost.
        """
        self._closed = True
        try:
            self._keep_aside(keeping.AT_CLOSING)
            if self._db is not None:
                with contextlib.suppress(sqlite3.Error):
                    self._db.execute("pragma wal_checkpoint(truncate)")
            self._let_go()
        finally:
            self._holding.release()


def _line(path: Path, number: int, at: str, entry: Entry) -> RecordLine:
    try:
        return to_line(number, at, entry)
    except BadInput as refusal:
        raise CannotSave(str(path), refusal.message) from refusal


def _claim(path: Path) -> None:
    """Make the empty file, so that no other program makes it first."""
    try:
        if not path.parent.is_dir():
            path.parent.mkdir(parents=True, exist_ok=True)
            to_disk(path.parent.parent)
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
                seals.write(db, [line])
            db.execute("pragma journal_mode = wal")
        except BaseException:
            db.close()
            raise
    return db


def _writing(path: Path) -> sqlite3.Connection:
    """A connection that writes to a job; raises sqlite3.Error, or CannotSave where it only can be read."""
    if path.exists() and not os.access(path, os.W_OK):
        raise CannotSave(str(path), faults.ONLY_READ)  # sqlite3 would leave side files beside it
    db = writer(path)
    # A job that came in another way of journalling keeps all promises too, only slower.
    with contextlib.suppress(sqlite3.Error):
        db.execute("pragma journal_mode = wal")
    return db


def _update(path: Path, alone: bool, day: str) -> None:
    """Copy the file, then run the migrations it has not had, dated with its last entry: no clock here."""
    try:
        if not alone:
            raise CannotSave(str(path), f"it {faults.ELSEWHERE}; close it there")
        with faults.writing(path), closing(_writing(path)) as db:
            copies.copy_beside(db, path, day)
            with transaction(db):
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
            raise FileFault(str(path), faults.DAMAGED, key=f"entry {line.number}")
    return lines
