"""A copy beside a job before its tables change, so that the program it was made with still has its file."""

import contextlib
import os
import sqlite3
from contextlib import closing
from pathlib import Path

from bench.core.errors import CannotSave
from bench.storage import faults
from bench.storage.connecting import to_disk, writer

_MOST = 1000


def copy_beside(db: sqlite3.Connection, path: Path, day: str) -> Path:
    """Copy a job as it stands, log and all, into one new file beside it: `wing.before-2031-05-01.tenthmark`.

    Args:
        db: a connection to it.
        path: of the job.
        day: date of the copy, ISO.
    Returns:
        Path of the copy; no file that was there is touched.
    Raises:
        CannotSave: no copy could be made; what was begun is removed.
    """
    place = _claimed(path, day)
    try:
        with faults.writing(place), closing(writer(place)) as copy:
            db.backup(copy)
        to_disk(place.parent)
    except BaseException:
        with contextlib.suppress(OSError):
            place.unlink()
        raise
    return place


def _claimed(path: Path, day: str) -> Path:
    """A new empty file, numbered where the name is taken."""
    for number in range(1, _MOST):
        again = f"-{number}" if number > 1 else ""
        place = path.with_name(f"{path.stem}.before-{day}{again}{path.suffix}")
        try:
            os.close(os.open(place, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        except FileExistsError:
            continue
        except OSError as problem:
            why = f"no copy of it can be made beside it ({faults.why(problem)})"
            raise CannotSave(str(place), why) from problem
        return place
    raise CannotSave(str(path), "there are too many copies of this day beside it; move some away")
