"""Where jobs are kept inside the data folder, and which was open last."""

import contextlib
import os
from pathlib import Path

from bench.core.errors import CannotSave
from bench.core.file_names import file_stem
from bench.storage import faults

ENDING = ".tenthmark"


def jobs_folder(data_folder: Path) -> Path:
    """The folder of the jobs, made if it is not there.

    Raises:
        CannotSave: it cannot be made.
    """
    return made(data_folder / "jobs")


def made(folder: Path) -> Path:
    """A folder, made if it is not there; raises CannotSave where it cannot be."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise _unwritable(folder, problem) from problem
    return folder


def path_for(data_folder: Path, job_name: str) -> Path:
    """A free file for a new job: its name made safe for any system, with -2, -3 ... where taken.

    Raises:
        CannotSave: the folder cannot be made or looked into.
    """
    return free(jobs_folder(data_folder), job_name)


def path_in(folder: Path, job_name: str) -> Path:
    """A free file for a new job in a folder of the user's, which is made if it is not there.

    Raises:
        CannotSave: the folder cannot be made or looked into.
    """
    return free(made(folder), job_name)


def free(folder: Path, name: str, ending: str = ENDING) -> Path:
    """A path in a folder that no file has yet: a name made safe for any system, with -2, -3 ... where taken.

    Raises:
        CannotSave: the folder cannot be looked into.
    """
    stem = file_stem(name)
    path, number = folder / f"{stem}{ending}", 1
    try:
        while path.exists() or path.is_symlink():
            number += 1
            path = folder / f"{stem}-{number}{ending}"
    except OSError as problem:
        raise _unwritable(folder, problem) from problem
    return path


def remember_last(data_folder: Path, path: Path) -> None:
    """Note which job was open last.

    Raises:
        CannotSave: the data folder cannot be written.
    """
    note = data_folder / "last-job"
    draft = note.with_name(f"{note.name}.{os.getpid()}")
    try:
        data_folder.mkdir(parents=True, exist_ok=True)
        draft.write_bytes(os.fsencode(path.absolute()))
        draft.replace(note)
    except OSError as problem:
        with contextlib.suppress(OSError):
            draft.unlink()
        raise _unwritable(data_folder, problem) from problem


def last_job(data_folder: Path) -> Path | None:
    """The job that was open last, or None where there was none or it is gone."""
    try:
        path = Path(os.fsdecode((data_folder / "last-job").read_bytes()))
        return path if path.is_absolute() and path.is_file() else None
    except (OSError, ValueError):
        return None


def _unwritable(folder: Path, problem: OSError) -> CannotSave:
    return CannotSave(
        str(folder), f"cannot be written ({faults.why(problem)}); a data folder that you may write is wanted"
    )
