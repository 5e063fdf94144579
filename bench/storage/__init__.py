"""The job file: one sqlite3 file a job, to which accepted edits are only ever added."""

from bench.storage.aside import UNSAVED, newer_aside, write_aside, write_new, write_texts
from bench.storage.jobfile import JobFile
from bench.storage.places import jobs_folder, last_job, path_for, path_in, remember_last
from bench.storage.rows import RecordLine
from bench.storage.saver import Saver
from bench.storage.snapshots import PAUSE_S, verify
from bench.storage.text_files import TextFiles

__all__ = [
    "PAUSE_S",
    "UNSAVED",
    "JobFile",
    "RecordLine",
    "Saver",
    "TextFiles",
    "jobs_folder",
    "last_job",
    "newer_aside",
    "path_for",
    "path_in",
    "remember_last",
    "verify",
    "write_aside",
    "write_new",
    "write_texts",
]
