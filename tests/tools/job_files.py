"""Jobs in files, for tests that open them."""

from pathlib import Path

from bench.core.edits import Edit
from bench.core.history import EDIT, Entry
from bench.storage import JobFile


def saved(path: Path, *edits: Edit) -> Path:
    """A job of these edits in a new file, closed again."""
    first, *rest = (Entry(EDIT, edit) for edit in edits)
    file = JobFile.create(path, first, "2031-05-01T08:00:00")
    file.append([(entry, "2031-05-01T09:00:00") for entry in rest])
    file.close()
    return path
