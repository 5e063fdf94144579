"""A job read without touching its file: what is opened is a copy that is gone afterwards."""

import contextlib
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from bench.core.errors import FileFault
from bench.core.history import Entry
from bench.core.records import Job
from bench.storage import JobFile, verify

ENDING = ".tenthmark"
_DATABASE = b"SQLite format 3\x00"  # how every job file begins
_SIDE_FILES = ("-wal", "-journal")  # hold what is not yet in the file itself
_READINGS = 20  # of a file that another program is just writing


Told = TypeVar("Told")


def is_job(path: Path) -> bool:
    """Whether a file is meant as a job: by its ending, or by what is in it."""
    if path.suffix == ENDING:
        return True
    try:
        if not path.is_file():  # a pipe can be read once only
            return False
        with path.open("rb") as file:
            return file.read(len(_DATABASE)) == _DATABASE
    except (OSError, ValueError):
        return False


def read(path: Path) -> Job:
    """The job of a file, as it stands; the file and its folder are left as they are.

    Args:
        path: of the file.
    Returns:
        The job.
    Raises:
        FileFault: missing, no job, from a newer version, or damaged.
    """
    return _read(path, lambda file: file.history.job)


def read_whole(path: Path) -> tuple[Job, list[tuple[str, Entry]]]:
    """The job of a file and its whole record, as `read`."""
    return _read(path, lambda file: (file.history.job, list(file.record)))


def _read(path: Path, told: Callable[[JobFile], Told]) -> Told:
    whole = _settled(path)
    with tempfile.TemporaryDirectory(prefix="tenthmark-") as folder:
        copy = Path(folder) / "copy"
        for ending, content in whole.items():
            copy.with_name(copy.name + ending).write_bytes(content)
        try:
            file = JobFile.open(copy)
            verify(copy)  # here nobody waits for a first picture
            found = told(file)
        except FileFault as fault:
            raise FileFault(str(path), fault.reason, fault.line, fault.key) from fault
        file.close()
        return found


def _settled(path: Path) -> dict[str, bytes]:
    """The file and its side files as they were at one moment: read until two readings are the same."""
    last = _contents(path)
    for _ in range(_READINGS):
        found = _contents(path)
        if found == last:
            return found
        last = found
    raise FileFault(str(path), "is being written by another program; try again when it has done")


def _contents(path: Path) -> dict[str, bytes]:
    try:
        if path.exists() and not path.is_file():
            raise FileFault(str(path), "is no plain file; a job made by tenthmark is wanted")
        found = {"": path.read_bytes()}
        for ending in _SIDE_FILES:
            with contextlib.suppress(FileNotFoundError):
                found[ending] = path.with_name(path.name + ending).read_bytes()
    except FileNotFoundError:
        raise FileFault(str(path), "there is no such file; a job made by tenthmark is wanted") from None
    except (OSError, ValueError) as problem:
        said = getattr(problem, "strerror", None) or str(problem)
        raise FileFault(str(path), f"cannot be read: {said}; a job made by tenthmark is wanted") from None
    return found
