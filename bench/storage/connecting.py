"""Opening the sqlite3 connection that a place allows."""

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from bench.core.errors import FileFault
from bench.storage import faults, side_log

# How long to wait for another program that is just writing [s].
PATIENCE_S = 0.5
# What sqlite3 says where a file can be read but not written; the last two come from a full disk.
_ONLY_READ = ("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_FULL", "SQLITE_IOERR")

_IMMUTABLE = "mode=ro&immutable=1"


def identity(path: Path) -> tuple[int, int] | None:
    """Which file stands at this path now, or None: a file moved away while open still takes writes."""
    try:
        status = os.stat(path)
    except OSError:
        return None
    return status.st_dev, status.st_ino


def reader(path: Path, alone: bool, held: bool = False) -> sqlite3.Connection:
    """A connection that changes nothing, not even by letting go: what is damaged stays as it is.

    Never read a job file by other means while a connection to it is open: closing an ordinary file handle
    drops the locks that sqlite3 holds on it.

    Args:
        path: of the file.
        alone: whether no other program is known to have it open.
        held: whether none can have: its lock is ours.
    Raises:
        FileFault: there is no such file, it cannot be read, is no database, or its log is damaged.
    """
    try:
        if not path.is_file():
            reason = "is a folder, not a file" if path.is_dir() else "there is no such file"
            raise FileFault(str(path), f"{reason}; a job made by tenthmark is wanted")
        if path.stat().st_size == 0:
            raise FileFault(str(path), faults.NEVER_BEGUN)
    except OSError as problem:
        raise FileFault(str(path), f"{faults.why(problem)}; a file that you may read is wanted") from problem
    with faults.reading(path):
        waiting = _waiting(path)
        if not waiting and (held or not os.access(path, os.W_OK)):
            # A promise that nobody else writes: without it a log beside the file would have to be made.
            return _open(path, _IMMUTABLE)
        if alone and waiting.endswith("-wal") and not side_log.is_whole(path.with_name(waiting)):
            raise FileFault(str(path), faults.LOG_DAMAGED.format(waiting))
        try:
            # Only a journal of an unfinished change has to be written back before anything can be read.
            return writer(path) if waiting.endswith("-journal") else _open(path, "mode=ro")
        except sqlite3.Error as problem:
            if faults.code(problem) not in _ONLY_READ:
                raise
            if not waiting and _opened_by_nobody(path):
                return _open(path, _IMMUTABLE)
            if not waiting:
                raise
        # Reading the file alone would silently leave out the changes still in its side file.
        raise FileFault(
            str(path),
            f"its last changes are still in {waiting}, and nothing can be written here;"
            " copy both files to a folder of your own and open it there",
        )


def _opened_by_nobody(path: Path) -> bool:
    """Whether nothing lies beside the file that every program makes which has it open."""
    return not any(path.with_name(path.name + ending).exists() for ending in ("-wal", "-shm", "-journal"))


def _waiting(path: Path) -> str:
    """The name of the side file that holds changes not yet in the file itself; empty if there is none."""
    for ending in ("-wal", "-journal"):
        beside = path.with_name(path.name + ending)
        with contextlib.suppress(OSError):
            if beside.stat().st_size:
                return beside.name
    return ""


def writer(path: Path) -> sqlite3.Connection:
    """A connection that reads and writes a file that is there, empty or not; raises sqlite3.Error."""
    return _open(path, "mode=rw")


def to_disk(folder: Path) -> None:
    """See that names made in a folder are on the disk, where the system can be asked for it."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _open(path: Path, how: str) -> sqlite3.Connection:
    # The thread that owns the JobFile changes once, when the saver takes it over; never two at a time.
    db = sqlite3.connect(
        f"{_uri(path)}?{how}",
        uri=True,
        timeout=PATIENCE_S,
        isolation_level=None,
        check_same_thread=False,
    )
    db.text_factory = _text
    try:
        # A commit has reached the disk when it returns; the second line is for the one system whose
        # ordinary flush stops at the drive's cache.
        db.execute("pragma synchronous = full")
        db.execute("pragma fullfsync = on")
        db.execute("select count(*) from sqlite_master").fetchone()
    except BaseException:
        db.close()
        raise
    return db


def _uri(path: Path) -> str:
    """A path as sqlite3 reads it: it takes no host, so a network share keeps its name in the path."""
    uri = path.resolve().as_uri()
    return uri if uri.startswith("file:///") else uri.replace("file://", "file:////", 1)


def _text(data: bytes) -> str | None:
    """Text from the file, or None where it is damaged, so that the reader can say in which entry."""
    try:
        return data.decode()
    except UnicodeDecodeError:
        return None


@contextlib.contextmanager
def transaction(db: sqlite3.Connection) -> Iterator[None]:
    """All or nothing; takes the right to write first, so that no other program writes in between."""
    db.execute("begin immediate")
    try:
        yield
        db.execute("commit")
    except BaseException:
        if db.in_transaction:
            db.execute("rollback")
        raise
