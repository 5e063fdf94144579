"""The tables of a job file, how they came to be, and how a file is known to be ours.

A migration is a function, recorded in the file by its name. A new one goes to the end of `MIGRATIONS`;
those already there are never changed, renamed or reordered.
"""

import sqlite3
from collections.abc import Callable
from pathlib import Path

from bench.core.errors import FileFault
from bench.storage import faults, seals

# "tmrk" in ASCII: tells a job file whatever its name.
APPLICATION_ID = 0x746D726B


def record(db: sqlite3.Connection) -> None:
    """Everything ever accepted, one row an entry."""
    db.execute(
        "create table entry (id integer primary key, at text not null, what text not null,"
        " kind text not null, body text not null)"
    )


def append_only(db: sqlite3.Connection) -> None:
    """The file itself refuses to have its record changed, by whatever program."""
    for change in ("update", "delete"):
        db.execute(
            f"create trigger entry_{change} before {change} on entry"
            " begin select raise(abort, 'the record is only ever added to'); end"
        )
    # `insert or replace` deletes without firing a delete trigger; numbering without a gap shuts that door.
    db.execute(
        "create trigger entry_insert before insert on entry"
        " when new.id is not (select coalesce(max(id), 0) + 1 from entry)"
        " begin select raise(abort, 'entries are numbered 1, 2, 3 ... without a gap'); end"
    )


def snapshots(db: sqlite3.Connection) -> None:
    """Histories kept aside, so that a long record need not be followed from its start; see `snapshots`."""
    db.execute(
        "create table snapshot (entry integer primary key, prior text not null, digest text not null,"
        " seal text not null, body blob not null)"
    )


def sealed(db: sqlite3.Connection) -> None:
    """A checksum beside every entry."""
    seals.make(db)


MIGRATIONS: tuple[Callable[[sqlite3.Connection], None], ...] = (record, append_only, sealed, snapshots)


def found(db: sqlite3.Connection) -> None:
    """Make an empty file a job file; inside the caller's transaction."""
    db.execute(f"pragma application_id = {APPLICATION_ID}")
    db.execute("create table migration (name text primary key, at text not null)")


def missing(db: sqlite3.Connection, path: Path) -> list[Callable[[sqlite3.Connection], None]]:
    """The migrations this file has not had, in order.

    Raises:
        FileFault: it has had one that this version has never heard of.
    """
    had = [name for (name,) in db.execute("select name from migration")]
    known = {migration.__name__ for migration in MIGRATIONS}
    newer = [name for name in had if name not in known]
    if newer:
        names = ", ".join(map(str, newer))
        raise FileFault(
            str(path), f"was written by a newer version of this program (it has {names}); open it with that"
        )
    return [migration for migration in MIGRATIONS if migration.__name__ not in had]


def migrate(db: sqlite3.Connection, path: Path, at: str) -> None:
    """Bring the tables up to date; inside the caller's transaction.

    Raises:
        FileFault: the file is from a newer version.
    """
    for migration in missing(db, path):
        migration(db)
        db.execute("insert into migration (name, at) values (?, ?)", (migration.__name__, at))


def check(db: sqlite3.Connection, path: Path) -> None:
    """Refuse a database that is not ours or not sound.

    Raises:
        FileFault: it is another program's, or damaged.
    """
    (application,) = db.execute("pragma application_id").fetchone()
    if application != APPLICATION_ID:
        raise FileFault(str(path), faults.NOT_OURS)
    (verdict,) = db.execute("pragma quick_check(1)").fetchone()
    if verdict != "ok":
        raise FileFault(str(path), faults.DAMAGED)
