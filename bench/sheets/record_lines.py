"""The whole record as JSON Lines: one entry a line, to keep, to search, and to read back without loss.

The first line says what the file is:

    {"form": "tenthmark record", "version": 1, "program": "0.1.0", "job": "Wing", "entries": 2}

Every further line is an entry, in order, numbered from 1:

    {"number": 1, "at": "2031-05-01T10:00:00", "what": "edit", "kind": "StartJob", "edit": {"name": "Wing"}}
    {"number": 2, "at": "2031-05-01T10:05:00", "what": "undo"}

`what` is edit, undo or redo. `kind` names the change, `edit` has its fields by name: a number that was typed
is its exact value in SI as text ("127/40000") beside the text as typed. Fields left out take their defaults.
The text is ASCII, so that any program reads it.
"""

from typing import Any

from bench import __version__
from bench.core.edits import StartJob
from bench.core.entries import from_parts, to_parts
from bench.core.errors import Refusal
from bench.core.frozen import record
from bench.core.history import EDIT, EMPTY, Entry, History
from bench.sheets import json_lines
from bench.sheets.json_lines import object_of, short
from bench.sheets.record_sheet import Record

FORM, VERSION = "tenthmark record", 1
LARGEST = 500_000_000  # characters of a file; a record of 100,000 changes is a fifth of it
MOST = 1_000_000  # entries
_LONGEST_TIME = 40  # characters
SHOWN = 20  # faults that are told
_KEYS = {"number", "at", "what", "kind", "edit"}


@record
class BadLine:
    """A line that is not taken, and why."""

    number: int  # of the file, from 1
    why: str

    def __str__(self) -> str:
        return f"line {self.number}: {self.why}"


@record
class Read:
    """What a file holds: the whole record and its job, or every fault and nothing."""

    record: tuple[tuple[str, Entry], ...] = ()
    history: History = EMPTY
    faults: tuple[BadLine, ...] = ()


def write(record: Record, job: str, before: int = 0) -> str:
    """The text of a file.

    Args:
        record: every entry with its time, from the start of the job.
        job: its name.
        before: entries that are left out before the first; what lacks them is for reading, and not read back.
    """
    first = {"form": FORM, "version": VERSION, "program": __version__, "job": job, "entries": len(record)}
    rows = [first, *(_plain(number, at, entry) for number, (at, entry) in enumerate(record, before + 1))]
    return json_lines.write(rows)


def _plain(number: int, at: str, entry: Entry) -> dict[str, Any]:
    row: dict[str, Any] = {"number": number, "at": at, "what": entry.what}
    kind, fields = to_parts(entry)
    return row if entry.edit is None else {**row, "kind": kind, "edit": fields}


def read(text: str, checked: bool = True) -> Read:
    """The record of a file.

    Args:
        text: of the file.
        checked: refuse what the rules of today would not accept; without, only what cannot be.
    Returns:
        The record entry for entry; or, where any line is bad, the faults and no record. Nothing is raised.
    """
    if len(text) > LARGEST:
        return Read(faults=(BadLine(1, f"the file is longer than {LARGEST:,} characters"),))
    lines = json_lines.lines(text)
    try:
        announced = _first(*next(lines, (1, "")))
    except Refusal as refusal:
        return Read(faults=(BadLine(1, str(refusal)),))
    record: list[tuple[str, Entry]] = []
    faults: list[BadLine] = []
    history, at, here = EMPTY, "", 1
    for here, line in lines:
        wanted = len(record) + len(faults) + 1
        try:
            if wanted > MOST:
                raise Refusal(f"more than {MOST:,} entries")
            at, entry = _entry(line, wanted)
            if not faults:  # what follows a bad line cannot be followed, only read
                history = _followed(history, entry, checked)
            record.append((at, entry))
        except Refusal as refusal:
            faults.append(BadLine(here, str(refusal)))
        if len(faults) >= SHOWN:
            return Read(faults=(*faults, BadLine(here, "there may be more; reading stopped here")))
    if not faults and len(record) != announced:
        why = f"the file ends with entry {len(record)}, and its first line announces {announced}"
        faults.append(BadLine(here, why))
    return Read(faults=tuple(faults)) if faults else Read(tuple(record), history)


def _first(number: int, line: str) -> int:
    """How many entries the first line announces."""
    wanted = f'{{"form": "{FORM}", "version": {VERSION}, ..., "entries": 12}} would be read'
    row = object_of(line)
    if row.get("form") != FORM:
        raise Refusal(f"this is no record of a job; {wanted}")
    if row.get("version") != VERSION:
        raise Refusal(f"it is of version {short(row.get('version'))} of the format; {VERSION} would be read")
    count = row.get("entries")
    if type(count) is not int or not 0 < count <= MOST:
        raise Refusal(f"entries: {short(count)} is not possible; 1 to {MOST:,} would be read")
    return count


def _entry(line: str, number: int) -> tuple[str, Entry]:
    row = object_of(line)
    unknown = sorted(set(row) - _KEYS)
    if unknown:
        raise Refusal(f"{', '.join(map(short, unknown))} is not known; {', '.join(sorted(_KEYS))} are")
    if row.get("number") != number or type(row.get("number")) is not int:
        raise Refusal(f"number: {short(row.get('number'))} stands where {number} is wanted")
    for key in ("at", "what"):
        if not isinstance(row.get(key), str):
            raise Refusal(f"{key}: {short(row.get(key))} is no text")
    if len(row["at"]) > _LONGEST_TIME or not row["at"].isprintable():
        raise Refusal(f"at: {short(row['at'])} is no time like 2031-05-01T10:00:00")
    kind = row.get("kind", "")
    if not isinstance(kind, str):
        raise Refusal(f"kind: {short(kind)} is no text")
    return row["at"], from_parts(row["what"], kind, row.get("edit"))


def _followed(history: History, entry: Entry, checked: bool) -> History:
    if history is EMPTY and not isinstance(entry.edit, StartJob):
        raise Refusal("the first entry does not start a job; kind StartJob is wanted")
    if checked and entry.what == EDIT and entry.edit is not None:
        entry.edit.check(history.job)
    try:
        return history.follow(entry)
    except (ArithmeticError, ValueError, TypeError, LookupError) as problem:
        raise Refusal(f"it cannot be followed ({type(problem).__name__})") from None
