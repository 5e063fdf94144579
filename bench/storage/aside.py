"""A whole job written somewhere else, where its own place takes no more."""

from collections.abc import Sequence
from pathlib import Path

from bench.core.errors import CannotSave
from bench.core.history import Entry
from bench.storage.jobfile import JobFile
from bench.storage.places import free


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
            return _written(record, free(folder, stem))
        except CannotSave as problem:
            refusal = problem
    raise refusal


def _written(record: Sequence[tuple[str, Entry]], path: Path) -> Path:
    (at, first), *rest = record
    file = JobFile.create(path, first, at)
    try:
        file.append([(entry, when) for when, entry in rest])
    except CannotSave:
        file.close()
        path.unlink(missing_ok=True)  # the half of a job would only be mistaken for it
        raise
    file.close()
    return path
