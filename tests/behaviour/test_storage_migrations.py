"""A job of every earlier schema opens, after a dated copy of it; nothing is touched if that fails."""

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from bench.core.errors import FileFault
from bench.storage import JobFile, schema
from bench.storage.rows import to_line
from tests.torture import edits

Migration = Callable[[sqlite3.Connection], None]


def old(path: Path, had: tuple[Migration, ...], count: int = 40) -> list[object]:
    """A job as a program wrote it that knew only these migrations; its record."""
    record = edits.record(random.Random(9), count)
    with closing(sqlite3.connect(path)) as db, db:
        schema.found(db)
        for migration in had:
            if migration is not schema.sealed:
                migration(db)
            db.execute("insert into migration (name, at) values (?, 't')", (migration.__name__,))
        for number, (at, entry) in enumerate(record, start=1):
            db.execute("insert into entry values (?, ?, ?, ?, ?)", to_line(number, at, entry))
        if schema.sealed in had:
            schema.sealed(db)
    return list(record)


def tables(path: Path) -> set[str]:
    with closing(sqlite3.connect(path)) as db:
        return {name for (name,) in db.execute("select name from sqlite_master")}


@pytest.mark.parametrize("count", range(1, len(schema.MIGRATIONS)))
def test_every_earlier_schema_opens_after_a_copy(tmp_path: Path, count: int) -> None:
    path = tmp_path / "wing.tenthmark"
    record = old(path, schema.MIGRATIONS[:count])
    before = tables(path)
    file = JobFile.open(path, "2031-05-01")
    assert list(file.record) == record
    file.close()
    copy = tmp_path / "wing.before-2031-05-01.tenthmark"
    assert sorted(found.name for found in tmp_path.iterdir()) == [copy.name, path.name]
    assert tables(copy) == before, "the copy is as the file was"
    assert tables(path) >= before | {"seal"}
    again = JobFile.open(path, "2031-05-02")
    assert list(again.record) == record
    again.close()
    assert len(list(tmp_path.iterdir())) == 2, "nothing to bring up to date, no copy"
    opened = JobFile.open(copy, "2031-05-03")
    assert list(opened.record) == record
    opened.close()


def test_a_copy_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "wing.tenthmark"
    old(path, schema.MIGRATIONS[:1])
    (tmp_path / "wing.before-2031-05-01.tenthmark").write_text("mine")
    JobFile.open(path, "2031-05-01").close()
    assert (tmp_path / "wing.before-2031-05-01.tenthmark").read_text() == "mine"
    assert (tmp_path / "wing.before-2031-05-01-2.tenthmark").stat().st_size > 4096


def test_without_a_copy_nothing_is_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "wing.tenthmark"
    old(path, schema.MIGRATIONS[:1])
    before = path.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.open", full)
    with pytest.raises(FileFault, match=r"earlier version .* no copy of it can be made beside it \(no space"):
        JobFile.open(path, "2031-05-01")
    monkeypatch.undo()
    assert tables(path) == {"migration", "entry", "sqlite_autoindex_migration_1"}
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("select name from migration").fetchall() == [("record",)]
    assert len(before) == path.stat().st_size


def test_a_damaged_old_job_is_refused_before_it_is_touched(tmp_path: Path) -> None:
    path = tmp_path / "wing.tenthmark"
    old(path, schema.MIGRATIONS[:2])
    data = bytearray(path.read_bytes())
    place = data.rindex(b'"stick"')
    data[place : place + 4] = b"\xff\xff\xff\xff"
    path.write_bytes(data)
    with pytest.raises(FileFault, match="entry"):
        JobFile.open(path, "2031-05-01")
    assert path.read_bytes() == data
    assert [found.name for found in tmp_path.iterdir()] == [path.name]
