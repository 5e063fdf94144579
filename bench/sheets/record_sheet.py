"""The record as a sheet: everything ever accepted, in order, with its time."""

from collections.abc import Sequence

from bench.core.frozen import replace
from bench.core.history import Entry
from bench.core.records import Job
from bench.sheets import heading
from bench.sheets.paper import Section, Sheet, Text, table
from bench.sheets.telling import told_record

Record = Sequence[tuple[str, Entry]]


def sheet(job: Job, record: Record, printed: str = "") -> Sheet:
    """The record of a job.

    Args:
        job: as it stands now.
        record: its entries, each with its time, from the first.
        printed: the day it is printed; empty for none.
    Returns:
        The sheet.
    """
    begun = heading.begun("record", job, printed)
    made = replace(begun, sections=sections(record), foot=(heading.SIGNATURE,))
    return heading.ended(made, heading.NO_SOURCES)


def sections(record: Record) -> tuple[Section, ...]:
    """Every entry with its number and time; undoing and making again are entries of their own."""
    said = told_record(entry for _, entry in record)
    rows = tuple(
        (str(number), at.replace("T", " "), text)
        for number, ((at, _), text) in enumerate(zip(record, said, strict=True), 1)
    )
    first = Text(
        f"{len(rows)} entries. Nothing in it is ever overwritten; what was undone is still in it. "
        "Sizes stand as they were typed."
    )
    return (Section("Everything accepted", (first, table((">no", ":accepted", "what"), rows))),)
