"""Text files that the user names: lists brought in, sheets written out. None is overwritten unasked."""

import os
import re
import stat
import tempfile
from pathlib import Path

from bench.core.errors import CannotSave, Clash, FileFault
from bench.storage import faults

LARGEST = 5_000_000  # bytes; a list of stock is a thousandth of it
# What would steer a terminal that shows the file, or turn round the direction of its lines.
_STEERS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
_DATABASE = b"SQLite format 3\x00"  # how every job file begins


class TextFiles:
    """Reads and writes text files by the path as typed; `~` is the home folder."""

    def read(self, path: str, largest: int = LARGEST) -> str:
        """The text of a file of at most so many bytes.

        Raises:
            FileFault: not there, not readable, no plain file, too large, or not text in UTF-8.
        """
        place = _place(path)
        try:
            if not stat.S_ISREG(place.stat().st_mode):  # a pipe would wait for ever
                raise FileFault(str(place), "cannot be read (is no plain file)")
            with place.open("rb") as file:
                data = file.read(largest + 1)
        except OSError as problem:
            raise FileFault(str(place), f"cannot be read ({faults.why(problem)})") from problem
        if len(data) > largest:
            raise FileFault(str(place), f"is larger than {largest // 1_000_000} MB; a text list is wanted")
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError as problem:
            line = data[: problem.start].count(b"\n") + 1
            raise FileFault(str(place), "is not text in UTF-8; save it again as UTF-8", line) from problem

    def write(self, path: str, text: str, replace: bool = False) -> str:
        """Write a file whole or not at all; the full path. A link is followed, a job file never touched.

        Control characters become question marks: a name out of a job never steers the terminal of whoever
        looks at the file.

        Raises:
            Clash: it is there already and `replace` was not asked for.
            CannotSave: it cannot be written, or is no text file.
        """
        place = _place(path)
        if path.rstrip().endswith(("/", "\\")):
            raise CannotSave(str(place), "is a folder; a file in it is wanted")
        try:
            place = place.resolve()
            there = place.exists()
            if there and not replace:
                raise Clash("file", str(place), "it is there already")
            _spare(place, there)
            mode = stat.S_IMODE(place.stat().st_mode) if there else 0o666 & ~_umask()
            _write_whole(place, _STEERS.sub("?", text).encode("utf-8", errors="replace"), mode)
        except OSError as problem:
            raise CannotSave(str(place), f"cannot be written ({faults.why(problem)})") from problem
        return str(place)


def _spare(place: Path, there: bool) -> None:
    """Refuse what is no text file: a folder, a device, a job or what belongs to one."""
    if there and not place.is_file():
        raise CannotSave(str(place), "cannot be written (is no plain file)")
    beside = (
        place.name.removesuffix("-wal").removesuffix("-shm").removesuffix("-journal").removesuffix("-lock")
    )
    if beside.endswith(".tenthmark"):
        raise CannotSave(str(place), "is named as a job is; choose another ending")
    if there:
        with place.open("rb") as file:
            if file.read(len(_DATABASE)) == _DATABASE:
                raise CannotSave(str(place), "is a job or another database, and stays as it is")


def _write_whole(place: Path, data: bytes, mode: int) -> None:
    handle, draft = tempfile.mkstemp(dir=place.parent, prefix=".tenthmark-")
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        Path(draft).chmod(mode)
        Path(draft).replace(place)
    except BaseException:
        Path(draft).unlink(missing_ok=True)
        raise


def _umask() -> int:
    now = os.umask(0o077)
    os.umask(now)
    return now


def _place(path: str) -> Path:
    if not path.strip():
        raise FileFault("file", "no name given; a path like stock.csv is wanted")
    if "\x00" in path or not path.isprintable():
        raise FileFault(ascii(path), "has a character that no path can have")
    try:
        path.encode()
        return Path(path.strip()).expanduser().absolute()
    except (OSError, RuntimeError, ValueError) as problem:
        raise FileFault(ascii(path), "is no path") from problem
