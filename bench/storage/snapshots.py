"""Histories kept aside in the job file, so that a long record need not be followed from its first entry.

A snapshot is a shortcut, never the truth: the record is. It is sealed, it names the entry it was taken after,
and carries the digest of every entry up to there, each made with the one before; a snapshot that does not fit
is passed over. `verify` reads the whole record against those digests, and tells what was changed in it since.
"""

import contextlib
import json
import sqlite3
import time
import zlib
from collections.abc import Callable, Iterator
from contextlib import closing
from hashlib import blake2b
from pathlib import Path
from typing import NamedTuple

from bench.core.errors import BadInput, FileFault
from bench.core.history import History
from bench.core.packing import pack, unpack
from bench.storage import faults, seals
from bench.storage.connecting import reader, transaction
from bench.storage.rows import RecordLine, to_entry

EVERY = 1_000  # entries from one snapshot to the next
LAG = 200  # entries a snapshot lies behind the newest one: so many jobs are at hand to undo after opening
SPARSE = 2_500  # of so many entries one snapshot stays for good, to look at earlier jobs
NEWEST = 2  # and these besides, should the last one be damaged
WIDEST = 1 << 28  # bytes a snapshot may unpack to: what asks for more is none of ours
SLICE = 200  # entries read at a time while a whole record is verified beside a running app
PAUSE_S = 0.01  # between them: what is typed goes first

_LINES = "select id, at, what, kind, body from entry where id > ? order by id"
_LINE = "select id, at, what, kind, body from entry where id = ?"
_KEPT = "select entry, prior, digest, seal, body from snapshot where entry <= ? order by entry desc"


class Aside(NamedTuple):
    """A history with the digest of all entries it came of."""

    history: History
    digest: str
    prior: str = ""  # the digest one entry before


def link(prior: str, line: RecordLine) -> str:
    """The digest of the record up to a line, from the one up to the line before it."""
    told = "\0".join((prior, str(line.number), line.at, line.what, line.kind, line.body))
    return blake2b(told.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def _seal(entry: int, prior: str, digest: str, body: bytes) -> str:
    sealed = blake2b(f"{entry} {prior} {digest} ".encode(), digest_size=16)
    sealed.update(body)
    return sealed.hexdigest()


def write(db: sqlite3.Connection, aside: Aside) -> None:
    """Keep a history aside; raises sqlite3.Error where the file does not take it."""
    history, digest, prior = aside
    text = json.dumps(pack(history), separators=(",", ":"), allow_nan=False)
    body = zlib.compress(text.encode("ascii"), 1)
    row = (history.count, prior, digest, _seal(history.count, prior, digest, body), body)
    with transaction(db):
        db.execute("insert or replace into snapshot values (?, ?, ?, ?, ?)", row)
        counts = [count for (count,) in db.execute("select entry from snapshot order by entry")]
        first = {count // SPARSE: count for count in reversed(counts)}
        gone = [(count,) for count in counts[:-NEWEST] if first[count // SPARSE] != count]
        db.executemany("delete from snapshot where entry = ?", gone)


def newest(db: sqlite3.Connection, most: int) -> Aside | None:
    """The newest sound snapshot of at most so many entries; None where there is none."""
    with contextlib.suppress(*faults.PROBLEMS):
        for entry, prior, digest, seal, body in db.execute(_KEPT, (most,)):
            with contextlib.suppress(BadInput, ValueError, TypeError, RecursionError, zlib.error):
                return _sound(db, entry, prior, digest, seal, body)
    return None


def _sound(db: sqlite3.Connection, entry: int, prior: str, digest: str, seal: str, body: bytes) -> Aside:
    row = db.execute(_LINE, (entry,)).fetchone()
    if row is None or seal != _seal(entry, prior, digest, body) or link(prior, RecordLine(*row)) != digest:
        raise ValueError("it does not fit this record")
    opened = zlib.decompressobj()
    text = opened.decompress(body, WIDEST)
    if opened.unconsumed_tail:
        raise ValueError("it is too large")
    history = unpack(json.loads(text))
    if history.count != entry:
        raise ValueError("it is of another entry")
    return Aside(history, digest, prior)


def known(path: Path, most: int) -> History | None:
    """The newest history kept aside in a file of after at most so many entries, or None."""
    with contextlib.suppress(FileFault), closing(reader(path, False)) as db:
        found = newest(db, most)
        return None if found is None else found.history
    return None


def lines_after(db: sqlite3.Connection, number: int) -> Iterator[RecordLine]:
    """The lines of the record after so many, in order."""
    return (RecordLine(*row) for row in db.execute(_LINES, (number,)))


def verify(path: Path, wanted: Callable[[], bool] = lambda: True, pause: float = 0.0) -> bool:
    """Read the whole record against the digests kept with it.

    Args:
        path: of the job file.
        wanted: asked now and then; False stops.
        pause: after every few entries, where an app must go on beside it [s].
    Returns:
        False if it was stopped.
    Raises:
        FileFault: something in the record is not as it was written, and between which entries.
    """
    with faults.reading(path), closing(reader(path, False)) as db:
        digests = _digests(db)
        sums = seals.known(db)
        digest, number, sound = "", 0, 0
        while digests and number < max(digests):
            batch = [line for _, line in zip(range(SLICE), lines_after(db, number), strict=False)]
            if not wanted():
                return False
            for line in batch:
                number += 1
                if line.number != number or not all(isinstance(cell, str) for cell in line[1:]):
                    raise _changed(path, number, number)
                if sums.get(number, seals.seal(line)) != seals.seal(line):
                    raise _changed(path, number, number)
                digest = link(digest, line)
                if digests.get(number, digest) != digest:
                    raise _changed(path, sound + 1, number)
                sound = number if number in digests else sound
            if not batch:
                raise _changed(path, number + 1, number + 1)
            if pause:
                time.sleep(pause)
    return True


def _digests(db: sqlite3.Connection) -> dict[int, str]:
    """Of every snapshot by its entry; none where the file is from before there were any."""
    if not db.execute("select 1 from sqlite_master where type = 'table' and name = 'snapshot'").fetchone():
        return {}
    return dict(db.execute("select entry, digest from snapshot order by entry"))


def _changed(path: Path, first: int, last: int) -> FileFault:
    where = f"entry {first}" if first == last else f"entries {first} to {last}"
    return FileFault(
        str(path),
        "the record is not as it was written; the job shown is as it was accepted,"
        " but restore a copy of the file",
        key=where,
    )


def renewed(db: sqlite3.Connection, aside: Aside, most: int) -> Aside:
    """A history further on through the record, with its digest.

    Args:
        db: the job file.
        aside: the one before.
        most: after so many entries.
    Returns:
        The history there.
    Raises:
        Refusal: an entry that cannot be read or followed.
    """
    history, digest, prior = aside
    for line in lines_after(db, history.count):
        if line.number > most:
            break
        history, digest, prior = history.follow(to_entry(line)), link(digest, line), digest
    return Aside(history, digest, prior)
