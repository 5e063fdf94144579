"""The job file: one sqlite3 file a job, to which accepted edits are only ever added."""

from bench.storage.aside import write_aside
from bench.storage.jobfile import JobFile
from bench.storage.places import jobs_folder, last_job, path_for, remember_last
from bench.storage.rescue import Lost, Rescue, rescue
from bench.storage.rows import RecordLine
from bench.storage.saver import Saver
from bench.storage.text_files import TextFiles

__all__ = [
    "JobFile",
    "Lost",
    "RecordLine",
    "Rescue",
    "Saver",
    "TextFiles",
    "jobs_folder",
    "last_job",
    "path_for",
    "remember_last",
    "rescue",
    "write_aside",
]
