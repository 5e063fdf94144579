"""What sqlite3 says, in words for the person at the bench. No sqlite3 error leaves this package."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.core.errors import CannotSave, FileFault

DAMAGED = "is damaged; tenthmark rescue FILE makes a new job of what can be read of it, or restore a copy"
LOG_DAMAGED = (
    "is damaged: its last changes are in {}, and that is not whole; tenthmark rescue FILE makes a new job of"
    " what can be read, or restore a copy of both"
)
NO_DATABASE = (
    "is not a job of this program, or is damaged at its beginning; a file made by tenthmark is wanted;"
    " tenthmark rescue FILE looks for a job in it"
)
MISSING = "is missing; tenthmark rescue FILE makes a new job of the others, or restore a copy"
NO_ENTRY = "holds no entry; tenthmark rescue FILE looks for some, or restore a copy of it"
ONLY_READ = (
    "it can only be read here: the file or its folder cannot be written; mend that, or open a copy in a"
    " folder of your own"
)
ELSEWHERE = "is open elsewhere"
NOT_OURS = "is not a job of this program; a file made by tenthmark is wanted"
NEVER_BEGUN = "is empty: no job was ever begun in it; delete it, or choose another file"

# Primary result code of sqlite3 -> reason while reading, reason while writing.
_REASONS = {
    "SQLITE_NOTADB": (NO_DATABASE, "has been overwritten by something that is not a job; restore a copy"),
    "SQLITE_CORRUPT": (DAMAGED, DAMAGED),
    "SQLITE_FULL": (
        "cannot be read because the disk is full; make room on it",
        "the disk is full; make room on it, then try again: the next change writes all of them",
    ),
    "SQLITE_BUSY": (
        "is held by another program; close it there",
        "it is held by another program; close it there, then try again: the next change writes all of them",
    ),
    "SQLITE_READONLY": (
        "cannot be read without writing to it, and that is not allowed; copy it to a folder of your own",
        ONLY_READ,
    ),
    "SQLITE_CANTOPEN": (
        "cannot be opened; a file that you may read is wanted",
        "the file or its folder cannot be written, or the disk is full; mend that, or open a copy in a folder"
        " of your own",
    ),
    "SQLITE_PERM": (
        "cannot be opened; a file that you may read is wanted",
        "the file cannot be written; copy it to a folder of your own and open the copy",
    ),
    "SQLITE_IOERR": (
        "the disk does not give it out; check that the disk is connected and sound",
        "the disk does not take it; check that it is connected, sound and has room",
    ),
}


# The second is what sqlite3's message about a damaged file turns into when it quotes the damage.
PROBLEMS = (sqlite3.Error, UnicodeDecodeError)


# What may be otherwise at the next try, whatever file it is.
PASSING = ("SQLITE_FULL", "SQLITE_BUSY", "SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_IOERR")


def code(problem: Exception) -> str:
    """The primary result code of an error, such as "SQLITE_IOERR"; empty where sqlite3 gave none."""
    name = getattr(problem, "sqlite_errorname", None) or ""
    return "_".join(name.split("_")[:2])


@contextmanager
def reading(path: Path) -> Iterator[None]:
    """Turn an sqlite3 error inside the block into a FileFault about the file."""
    try:
        yield
    except PROBLEMS as problem:
        reason = _REASONS.get(code(problem), (DAMAGED, ""))[0]
        raise FileFault(str(path), reason) from problem


@contextmanager
def writing(path: Path) -> Iterator[None]:
    """Turn an sqlite3 error inside the block into a CannotSave about the file."""
    try:
        yield
    except PROBLEMS as problem:
        reason = _REASONS.get(code(problem), ("", f"it could not be written ({problem})"))[1]
        raise CannotSave(str(path), reason) from problem


def why(problem: OSError) -> str:
    """The system's own short reason, without number and path."""
    return (problem.strerror or type(problem).__name__).lower()
