"""An entry of the history as a row of the record, and back."""

import json
from collections.abc import Callable, Iterable
from typing import NamedTuple, NoReturn

from bench.core.edits import StartJob
from bench.core.entries import damaged, from_parts, to_parts
from bench.core.errors import BadInput, FileFault, Refusal
from bench.core.history import EMPTY, Entry, History
from bench.storage import faults


class RecordLine(NamedTuple):
    """One row of the record, as it is on disk."""

    number: int  # 1, 2, 3 ... without a gap
    at: str  # time of acceptance, ISO
    what: str  # history.EDIT, UNDO or REDO
    kind: str  # a name of edits.EDITS; empty for undo and redo
    body: str  # the edit as JSON; empty for undo and redo


def to_line(number: int, at: str, entry: Entry) -> RecordLine:
    """The row of an entry, read back once to be sure: what cannot be read again is never written.

    Raises:
        BadInput: the entry would not come back as it is.
    """
    kind, body = "", ""
    if entry.edit is not None:
        kind = type(entry.edit).__name__
        try:
            # ASCII only, so that text holding half a character is stored too; no NaN, which is not JSON.
            body = json.dumps(to_parts(entry)[1], separators=(",", ":"), allow_nan=False)
        except (TypeError, ValueError) as problem:
            raise BadInput("record", kind, f"cannot be stored ({problem})", "plain values") from None
    line = RecordLine(number, at, entry.what, kind, body)
    if to_entry(line) != entry:
        raise BadInput("record", kind, "would not come back as it is", "a record of this program")
    return line


def to_entry(line: RecordLine) -> Entry:
    """The entry of a row.

    Raises:
        BadInput: the row is not one this version writes.
    """
    body = _read_json(line.body) if line.body else None
    return from_parts(str(line.what), str(line.kind), body)


def _no_constant(text: str) -> NoReturn:
    raise ValueError(text)


_DECODER = json.JSONDecoder(parse_constant=_no_constant)  # made once: a record is read entry by entry


def _read_json(body: str) -> object:
    try:
        return _DECODER.decode(body)
    except (TypeError, ValueError, RecursionError):
        raise damaged(str(body)) from None


TOLD = 1_000  # entries after which it is told how far a long record has been read


def replay(
    path: str,
    lines: Iterable[RecordLine],
    start: History = EMPTY,
    told: Callable[[int], None] = lambda entries: None,
) -> tuple[History, list[tuple[str, Entry]]]:
    """The history that the record tells, and its entries, each with its time.

    Args:
        path: of the file, for the refusal.
        lines: in order of their numbers, from where the start ends.
        start: the history before them.
        told: called now and then, with how many entries have been followed.
    Raises:
        FileFault: an entry that is missing, unreadable, unknown or impossible, by its number.
    """
    history, entries = start, list[tuple[str, Entry]]()
    for number, line in enumerate(lines, start=start.count + 1):
        if line.number != number:
            raise FileFault(path, faults.MISSING, key=f"entry {number}")
        if not all(isinstance(cell, str) for cell in line[1:]):
            raise FileFault(path, faults.DAMAGED, key=f"entry {number}")
        try:
            entry = to_entry(line)
            if number == 1 and not isinstance(entry.edit, StartJob):
                raise BadInput("record", line.kind, "does not begin a job", StartJob.__name__)
            history = history.follow(entry)
            entries.append((line.at, entry))
            if number % TOLD == 0:
                told(number)
        except FileFault:
            raise  # an earlier entry, which undoing this one goes back to
        except Refusal as refusal:
            raise FileFault(path, refusal.message, key=f"entry {number}") from refusal
    if not history.count:
        raise FileFault(path, faults.NO_ENTRY)
    return history, entries
