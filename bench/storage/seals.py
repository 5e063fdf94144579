"""A checksum beside every entry: a figure that a bad disk changed is damage, not another figure.

sqlite3 itself checks how a file hangs together, never what stands in it.
"""

import sqlite3
import zlib
from collections.abc import Iterable, Sequence
from pathlib import Path

from bench.core.errors import FileFault
from bench.storage import faults
from bench.storage.rows import RecordLine

_PARTED = "\x1f"


def seal(line: RecordLine) -> int:
    """The checksum of a row: CRC-32 over its cells, number first."""
    return zlib.crc32(_PARTED.join(map(str, line)).encode(errors="surrogatepass"))


def make(db: sqlite3.Connection) -> None:
    """The table of checksums, with those of the entries that are there; inside the caller's transaction."""
    db.execute("create table seal (id integer primary key, sum integer not null)")
    for change in ("update", "delete"):
        db.execute(
            f"create trigger seal_{change} before {change} on seal"
            " begin select raise(abort, 'the record is only ever added to'); end"
        )
    write(db, [RecordLine(*row) for row in db.execute("select id, at, what, kind, body from entry")])


def write(db: sqlite3.Connection, lines: Iterable[RecordLine]) -> None:
    """Seal rows that have just been added; inside the caller's transaction."""
    db.executemany("insert into seal (id, sum) values (?, ?)", [(line.number, seal(line)) for line in lines])


def known(db: sqlite3.Connection, after: int = 0) -> dict[int, int]:
    """Checksums of the entries after so many, by number; none in a file from before there were any."""
    if not db.execute("select 1 from sqlite_master where type = 'table' and name = 'seal'").fetchone():
        return {}
    return dict(db.execute("select id, sum from seal where id > ?", (after,)))


def check(path: Path, lines: Sequence[RecordLine], sums: dict[int, int]) -> None:
    """Refuse rows that are not what was written.

    Args:
        path: of the file.
        lines: as read.
        sums: as `known` gives them; a row without one is not checked.
    Raises:
        FileFault: an entry does not agree with its checksum.
    """
    for line in lines:
        if line.number in sums and sums[line.number] != seal(line):
            raise FileFault(str(path), faults.DAMAGED, key=f"entry {line.number}")
