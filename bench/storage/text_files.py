"""Text files that the user names: lists brought in, sheets written out. None is overwritten unasked."""

import os
import tempfile
from pathlib import Path

from bench.core.errors import CannotSave, Clash, FileFault
from bench.storage import faults

LARGEST = 5_000_000  # bytes; a list of stock is a thousandth of it


class TextFiles:
    """Reads and writes text files by the path as typed; `~` is the home folder."""

    def read(self, path: str) -> str:
        """The text of a file.

        Raises:
            FileFault: not there, not readable, too large, or not text in UTF-8.
        """
        place = _place(path)
        try:
            if place.stat().st_size > LARGEST:
                raise FileFault(
                    str(place), f"is larger than {LARGEST // 1_000_000} MB; a text list is wanted"
                )
            return place.read_bytes().decode("utf-8-sig")
        except OSError as problem:
            raise FileFault(str(place), f"cannot be read ({faults.why(problem)})") from problem
        except UnicodeDecodeError as problem:
            line = problem.object[: problem.start].count(b"\n") + 1
            raise FileFault(str(place), "is not text in UTF-8; save it again as UTF-8", line) from problem

    def write(self, path: str, text: str, replace: bool = False) -> str:
        """Write a file whole or not at all; the full path.

        Raises:
            Clash: it is there already and `replace` was not asked for.
            CannotSave: it cannot be written.
        """
        place = _place(path)
        try:
            if place.exists() and not replace:
                raise Clash("file", str(place), "it is there already")
            handle, draft = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name}.")
            try:
                with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
                    out.write(text)
                    out.flush()
                    os.fsync(out.fileno())
                Path(draft).chmod(0o644)
                Path(draft).replace(place)
            except OSError:
                Path(draft).unlink(missing_ok=True)
                raise
        except OSError as problem:
            raise CannotSave(str(place), f"cannot be written ({faults.why(problem)})") from problem
        return str(place)


def _place(path: str) -> Path:
    if not path.strip():
        raise FileFault("file", "no name given; a path like stock.csv is wanted")
    try:
        return Path(path.strip()).expanduser().absolute()
    except (OSError, RuntimeError, ValueError) as problem:
        raise FileFault(path, "is no path") from problem
