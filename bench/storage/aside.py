"""A whole job written somewhere else, where its own place takes no more."""

import contextlib
import glob
from collections.abc import Mapping, Sequence
from pathlib import Path

from bench.core.errors import CannotSave
from bench.core.history import Entry
from bench.storage.jobfile import JobFile
from bench.storage.places import ENDING, free, made
from bench.storage.text_files import TextFiles

UNSAVED = "-unsaved"  # behind the name of a job, where it was written whole with what could not be saved


def newer_aside(path: Path, folders: Sequence[Path]) -> Path | None:
    """A copy with what could not be saved in a job, written after the job was last written itself.

    Args:
        path: of the job.
        folders: where such a copy may have been written.
    Returns:
        The newest there is; None where there is none, or none can be looked at.
    """
    if UNSAVED in path.stem:
        return None
    found: list[tuple[float, Path]] = []
    for folder in (path.parent, *folders):
        with contextlib.suppress(OSError):
            written = path.stat().st_mtime
            for other in folder.glob(f"{glob.escape(path.stem)}{UNSAVED}*"):
                if other.suffix in (ENDING, ".parcel") and other.stat().st_mtime > written:
                    found.append((other.stat().st_mtime, other))
    return max(found)[1] if found else None


def write_aside(record: Sequence[tuple[str, Entry]], folders: Sequence[Path], stem: str) -> Path:
    """Write a job into a new file, in the first folder that takes it.

    Args:
        record: everything accepted, in order, each with its time; not empty.
        folders: to try, in order; those that are missing are made.
        stem: name of the file without its ending, numbered where it is taken.
    Returns:
        Path of the file; it is on the disk.
    Raises:
        CannotSave: no folder takes it; with the reason of the last.
    """
    refusal = CannotSave(stem, "there is no folder to write it to")
    for folder in folders:
        try:
            return write_new(record, free(folder, stem))
        except CannotSave as problem:
            refusal = problem
    raise refusal


def write_texts(texts: Mapping[str, str], folders: Sequence[Path], stem: str) -> tuple[str, ...]:
    """Write texts into new files, in the first folder that takes all of them.

    Args:
        texts: by the ending of their file.
        folders: to try, in order; those that are missing are made.
        stem: name of the files without their endings, numbered where it is taken.
    Returns:
        Paths of the files, in the order of the texts.
    Raises:
        CannotSave: no folder takes them; with the reason of the last.
    """
    refusal = CannotSave(stem, "there is no folder to write it to")
    for folder in folders:
        written: list[str] = []
        try:
            for ending, text in texts.items():
                written.append(TextFiles().write(str(free(made(folder), stem, ending)), text))
            return tuple(written)
        except CannotSave as problem:
            refusal = problem
            for path in written:
                Path(path).unlink(missing_ok=True)
    raise refusal


def write_new(record: Sequence[tuple[str, Entry]], path: Path) -> Path:
    """Write a whole job into a new file; half of one is not left behind.

    Args:
        record: everything accepted, in order, each with its time; not empty.
        path: of the file.
    Returns:
        The same, from the root.
    Raises:
        CannotSave: the file is there already, or cannot be written.
    """
    (at, first), *rest = record
    file = JobFile.create(path, first, at)
    try:
        file.append([(entry, when) for when, entry in rest])
    except CannotSave:
        file.close()
        path.unlink(missing_ok=True)
        raise
    while file.keep_aside():
        pass  # until a long record has all it should have
    file.close()
    return file.path
