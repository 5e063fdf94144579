"""A damaged job read as far as it can be, into a new file; the damaged one stays as it is.

What comes after something lost is kept where it still applies, and listed where it does not. A lost entry is
taken for a change, since most are: an undo that meets it undoes nothing that is kept.
"""

import contextlib
import errno
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bench.core.edits import Edit, StartJob
from bench.core.errors import FileFault, Refusal
from bench.core.frozen import record, replace
from bench.core.history import EDIT, EMPTY, UNDO, Entry, History
from bench.storage import faults, salvage, seals
from bench.storage.aside import write_new
from bench.storage.holding import Holding
from bench.storage.places import free
from bench.storage.rows import RecordLine, to_entry

_LARGEST = 2_000_000_000  # bytes that are read; a job of 100,000 changes has a tenth of it
_BLOCK = 4096
_NOTHING = "nothing of it is left"
_UNDOABLE = 1000  # of a gap, as many are remembered for the undoing after it


@record
class Lost:
    """One entry, or several on end, that could not be kept."""

    first: int
    last: int
    kind: str  # of the edit, "undo" or "redo"; empty where that is not known either
    why: str
    edit: Edit | None = None  # where it could be read
    text: str = ""  # what else is readable of it

    @property
    def numbers(self) -> str:
        """Which entries, in words."""
        return f"entry {self.first}" if self.first == self.last else f"entries {self.first} to {self.last}"


@dataclass(slots=True)
class Rescue:
    """What was kept of a record, and what was not."""

    record: list[tuple[str, Entry]] = field(default_factory=list)  # kept, each with its time
    lost: list[Lost] = field(default_factory=list)
    path: Path = Path()  # of the new file
    unchecked: list[int] = field(default_factory=list)  # kept, with no checksum to hold them against

    _history: History = EMPTY
    _past: list[bool] = field(default_factory=list)  # of each change that could be undone: is it kept?
    _future: list[bool] = field(default_factory=list)

    def begin(self, name: str, at: str) -> None:
        """A beginning, where that of the job is lost."""
        first = Entry(EDIT, StartJob(name, started=at[:10]))
        self._history = self._history.follow(first)
        self._past.append(True)
        self.record.append((at, first))

    def lose(self, lost: Lost, changes: int = 1) -> None:
        """Note what is lost; so many changes are taken for undoable all the same."""
        self.lost.append(lost)
        if changes:
            self._past += [False] * min(changes, _UNDOABLE)
            self._future.clear()

    def take(self, number: int, at: str, entry: Entry) -> None:
        """Keep an entry if it applies to what was kept before it."""
        if entry.edit is not None:
            self._edit(number, at, entry.edit)
        else:
            self._turn(number, at, entry)

    def _edit(self, number: int, at: str, edit: Edit) -> None:
        if edit.belongs and self._past and not self._past[-1]:
            kind = type(edit).__name__
            self.lose(Lost(number, number, kind, "it came of a change that is lost", edit), changes=0)
            return
        why = ""
        for one in _ways(edit):
            try:
                if self.lost:
                    one.check(self._history.job)
                history = self._history.follow(Entry(EDIT, one))
            except Refusal as refusal:
                why = why or refusal.message
                continue
            except Exception as unforeseen:  # an edit that meets a job it was never meant for
                why = why or f"it does not fit what was kept ({type(unforeseen).__name__})"
                continue
            if not (one.belongs and self._past):
                self._past.append(True)
                self._future.clear()
            self._history = history
            self.record.append((at, Entry(EDIT, one)))
            return
        self.lose(Lost(number, number, type(edit).__name__, why, edit), changes=0 if edit.belongs else 1)

    def _turn(self, number: int, at: str, entry: Entry) -> None:
        there, other = (self._past, self._future) if entry.what == UNDO else (self._future, self._past)
        kept = there.pop() if len(there) > (entry.what == UNDO) else None
        if kept is not None:
            other.append(kept)
        if kept:
            try:
                self._history = self._history.follow(entry)
                self.record.append((at, entry))
                return
            except Refusal:
                kept = None
        why = "it is about a change that is lost" if kept is not None else "there is nothing left for it"
        self.lose(Lost(number, number, entry.what, why), changes=0)


def rescue(path: Path, new: Path | None = None) -> Rescue:
    """Make a new job of what can be read of a damaged one.

    Args:
        path: of the damaged file; it and what lies beside it are only read.
        new: of the new file; None for one beside it, its name with "-rescued".
    Returns:
        What was kept, and a list of what was not.
    Raises:
        FileFault: it cannot be read, is open elsewhere, or holds nothing of a job.
        CannotSave: the new file is there already, or cannot be made.
    """
    path = path.absolute()
    holding = Holding(path)
    try:
        if not holding.take():
            raise FileFault(str(path), f"{faults.ELSEWHERE}; close it there")
        file, log = _bytes(path), b""
        beside = path.with_name(f"{path.name}-wal")
        with contextlib.suppress(FileFault):
            log = _bytes(beside)
    finally:
        holding.release()
    made = _kept(salvage.search(file, log), path)
    made.path = write_new(made.record, new or free(path.parent, f"{path.stem}-rescued"))
    return made


def _kept(found: salvage.Found, path: Path) -> Rescue:
    """Every row that was found, in order, and every gap."""
    rows = list(_chosen(found))
    if not any(entry for _, _, entry, _ in rows):
        raise FileFault(str(path), "holds nothing of a job that could be read; restore a copy of it")
    made, expected = Rescue(), 1
    number, line, entry, why = rows[0]
    if number > 1 or why or entry is None or not isinstance(entry.edit, StartJob):
        name = path.stem[:40].strip() or "rescued"
        made.begin(name, line.at)
        text = line.body[:200] if number == 1 else ""
        said = f"the name and the settings of the job are lost; it is named {name!r} after its file"
        made.lose(Lost(1, 1, "StartJob", said, text=text), changes=0)
        rows, expected = rows[number == 1 :], 2
    most = max(found.sums, default=0)
    for number, line, entry, why in rows:
        if found.sums and number > max(most, expected):
            continue  # no such number was ever given out: the number itself is damaged
        if number > expected:
            made.lose(Lost(expected, number - 1, "", _NOTHING), number - expected)
        expected = number + 1
        if entry is None or why:
            edit = entry.edit if entry is not None else None
            made.lose(Lost(number, number, line.kind or line.what, why, edit, line.body[:200]))
        else:
            if number not in found.sums:
                made.unchecked.append(number)
            made.take(number, line.at, entry)
    if most >= expected:
        made.lose(Lost(expected, most, "", _NOTHING), most - expected + 1)
    return made


def _bytes(path: Path) -> bytes:
    """All bytes of a file; zeros for what the disk does not give out."""
    try:
        if not path.is_file():
            raise FileFault(str(path), "there is no such file; a job made by tenthmark is wanted")
        if path.stat().st_size > _LARGEST:
            raise FileFault(str(path), f"is larger than {_LARGEST // 10**9} GB; a job is smaller")
        try:
            return path.read_bytes()
        except OSError as problem:
            if problem.errno != errno.EIO:
                raise
        with path.open("rb", buffering=0) as file:
            return b"".join(_blocks(file, path.stat().st_size))
    except OSError as problem:
        raise FileFault(str(path), f"{faults.why(problem)}; a file that you may read is wanted") from problem


def _blocks(file: Any, size: int) -> Iterator[bytes]:
    for start in range(0, size, _BLOCK):
        wanted = min(_BLOCK, size - start)
        try:
            file.seek(start)
            yield file.read(wanted).ljust(wanted, b"\0")
        except OSError:
            yield bytes(wanted)


def _entry(line: RecordLine) -> Entry | None:
    try:
        return to_entry(line)
    except Refusal:
        return None


def _chosen(found: salvage.Found) -> Iterator[tuple[int, RecordLine, Entry | None, str]]:
    """Each number with the row that is likeliest its own, what it says, and what is wrong with it."""
    most = max(len(found.rows), len(found.sums)) * 2 + 1000  # a number far beyond is no number
    for spare in [number for number in found.sums if number > most]:
        del found.sums[spare]
    for number in sorted(number for number in found.rows if number <= most):
        lines, sums = found.rows[number], found.sums.get(number)
        said = [(line, _entry(line)) for line in lines]
        readable = [(line, entry) for line, entry in said if entry is not None]
        sealed = [one for one in readable if sums is None or seals.seal(one[0]) in sums]
        why = "" if sealed else "it does not agree with its checksum" if readable else "it cannot be read"
        line, entry = (sealed or readable or said)[0]
        yield number, line, entry, why


def _ways(edit: Edit) -> Iterator[Edit]:
    """An edit, and the same as a new row where the row it changed may be lost: it says the whole of it."""
    yield edit
    if getattr(edit, "was", ""):
        yield replace(edit, was="")  # type: ignore[call-arg]
