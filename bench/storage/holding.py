"""Who may write to a job: one program at a time, held by the operating system for as long as the job is open.

The lock lies on a side file, since closing any handle of the job itself would drop the locks that sqlite3 has
on it. It is the system's own, so that a program that is killed leaves none behind; the empty side file it
leaves is taken over by the next one.
"""

import contextlib
import errno
import os
import sys
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

ENDING = "-lock"
# What the system says where another program holds the lock; anything else means that there are no locks here.
_TAKEN = (errno.EACCES, errno.EAGAIN, errno.EWOULDBLOCK, errno.EDEADLK)
_TRIES = 20  # as often as another program may take its side file away while we open it


class Holding:
    """The right to write to one job."""

    def __init__(self, path: Path) -> None:
        """Not taken yet.

        Args:
            path: of the job.
        """
        job = path.resolve()
        self._side = job.with_name(job.name + ENDING)
        self._handle: int | None = None

    @property
    def taken(self) -> bool:
        """Whether no other program can take it now."""
        return self._handle is not None

    def take(self) -> bool:
        """Take the right, if nobody has it.

        Returns:
            False where another program has the job open. True where it is ours, and where nothing can be
            locked, as in a folder that cannot be written: `taken` tells the two apart.
        """
        for _ in range(_TRIES):
            if self._handle is not None:
                return True
            try:
                handle = os.open(self._side, os.O_RDWR | os.O_CREAT, 0o666)
            except OSError:
                return True
            try:
                _lock(handle)
            except OSError as problem:
                os.close(handle)
                return problem.errno not in _TAKEN
            # Its holder may have let go and removed it between our opening and locking it.
            if _still_there(handle, self._side):
                self._handle = handle
                return True
            os.close(handle)
        return False

    def release(self) -> None:
        """Let go; may be called twice. Removed while it is still held, so that nobody's lock is removed."""
        if self._handle is None:
            return
        handle, self._handle = self._handle, None
        if sys.platform != "win32":
            with contextlib.suppress(OSError):
                self._side.unlink()
        os.close(handle)
        if sys.platform == "win32":  # there an open file cannot be removed, and one that is open again is not
            with contextlib.suppress(OSError):
                self._side.unlink()


def _lock(handle: int) -> None:
    """Lock a file or raise OSError at once."""
    if sys.platform == "win32":
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _still_there(handle: int, side: Path) -> bool:
    """Whether an open file is still the one of this name."""
    try:
        return os.path.samestat(os.fstat(handle), os.stat(side))
    except OSError:
        return False
