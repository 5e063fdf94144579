"""The job file: what is accepted is there again, in order, and the file guards its own record."""

import sqlite3
from contextlib import closing
from fractions import Fraction
from pathlib import Path

import pytest

from bench.core.edits import PutStick, StartJob
from bench.core.errors import CannotSave, FileFault
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry
from bench.core.records import FloatReading, Stick, Typed
from bench.storage import JobFile, schema

START = Entry(EDIT, StartJob("Kestrel", "2031-05-01", invented=True))


def put(tag: str) -> Entry:
    length = Typed(Fraction(96 * 254, 10_000), "96 in")
    return Entry(EDIT, PutStick(Stick(tag, "sitka_spruce", length, length, length)))


def new(folder: Path) -> JobFile:
    return JobFile.create(folder / "jobs" / "kestrel.tenthmark", START, "2031-05-01T08:00:00")


def test_what_was_accepted_is_there_again(tmp_path: Path) -> None:
    file = new(tmp_path)
    assert (file.entries, file.history) == (1, EMPTY.follow(START))
    entries = [put("A-1"), put("A-2"), Entry(UNDO), Entry(UNDO), Entry(REDO), put("A-3"), Entry(UNDO)]
    file.append([(entries[0], "t1")])
    file.append([(entry, f"t{number}") for number, entry in enumerate(entries[1:], start=2)])
    assert file.entries == 8
    told = [(line.number, line.at, line.what, line.kind) for line in file.lines()]
    file.close()

    expected = EMPTY.follow(START)
    for entry in entries:
        expected = expected.follow(entry)
    again = JobFile.open(file.path)
    assert again.history == expected
    assert [stick.tag for stick in again.history.job.sticks] == ["A-1"]
    assert told == [
        (1, "2031-05-01T08:00:00", "edit", "StartJob"),
        (2, "t1", "edit", "PutStick"),
        (3, "t2", "edit", "PutStick"),
        (4, "t3", "undo", ""),
        (5, "t4", "undo", ""),
        (6, "t5", "redo", ""),
        (7, "t6", "edit", "PutStick"),
        (8, "t7", "undo", ""),
    ]
    again.append([(put("A-4"), "t8")])
    assert again.entries == again.lines()[-1].number == 9
    again.close()


def test_a_job_that_can_be_written_says_so_and_is_left_as_it_was(tmp_path: Path) -> None:
    file = new(tmp_path)
    assert file.writable()
    with closing(sqlite3.connect(file.path)) as db:
        tables = {name for (name,) in db.execute("select name from sqlite_master where type = 'table'")}
    assert tables == {"entry", "migration", "seal", "snapshot"}
    file.close()


def test_a_closed_job_is_one_single_file(tmp_path: Path) -> None:
    """A user copies jobs as files: nothing of one may stay in another file."""
    file = new(tmp_path)
    file.append([(put("A-1"), "t")])
    file.close()
    file.close()
    assert [path.name for path in file.path.parent.iterdir()] == ["kestrel.tenthmark"]
    (tmp_path / "copy.job").write_bytes(file.path.read_bytes())
    copy = JobFile.open(tmp_path / "copy.job")
    assert copy.history.job.stick("A-1") is not None
    copy.close()


def test_a_closed_job_is_complete_while_another_still_looks_at_it(tmp_path: Path) -> None:
    file = new(tmp_path)
    file.append([(put("A-1"), "t")])
    with closing(sqlite3.connect(file.path)) as looking:
        assert looking.execute("select count(*) from entry").fetchone() == (2,)
        file.close()
        assert file.path.with_name(file.path.name + "-wal").stat().st_size == 0


def test_lines_can_be_read_after_closing(tmp_path: Path) -> None:
    file = new(tmp_path)
    file.close()
    assert [line.kind for line in file.lines()] == ["StartJob"]
    with pytest.raises(CannotSave):
        file.append([(put("A-1"), "t")])


def test_an_existing_file_is_never_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "letter.tenthmark"
    path.write_text("Dear aunt")
    with pytest.raises(CannotSave, match="already"):
        JobFile.create(path, START, "t")
    assert path.read_text() == "Dear aunt"


def test_a_job_begins_with_its_name_or_leaves_no_file(tmp_path: Path) -> None:
    with pytest.raises(CannotSave):
        JobFile.create(tmp_path / "a.tenthmark", put("A-1"), "t")
    assert list(tmp_path.iterdir()) == []


def test_the_file_is_durable_and_known_by_its_mark(tmp_path: Path) -> None:
    """Bytes 68 to 71 of an sqlite file are its application id, bytes 18 and 19 are 2 for a write-ahead log:
    sqlite.org/fileformat2.html, section 1.3."""
    file = new(tmp_path)
    # Looks inside: no public name tells how hard a connection flushes. 2 is FULL, sqlite.org/pragma.html.
    assert file._db.execute("pragma synchronous").fetchone() == (2,)
    file.close()
    header = file.path.read_bytes()[:100]
    assert header[68:72] == b"tmrk"
    assert header[18:20] == b"\x02\x02"


@pytest.mark.parametrize(
    "statement",
    [
        "update entry set body = '{}' where id = 2",
        "update entry set at = 'yesterday'",
        "update entry set id = 7 where id = 3",
        "delete from entry",
        "delete from entry where id = 3",
        "insert or replace into entry values (2, 't', 'undo', '', '')",
        "insert into entry values (9, 't', 'undo', '', '')",
        "insert into entry values (null, 't', 'undo', '', '')",
        "insert into entry (at, what, kind, body) values ('t', 'undo', '', '')",
    ],
)
def test_the_record_cannot_be_changed_by_any_program(tmp_path: Path, statement: str) -> None:
    file = new(tmp_path)
    file.append([(put("A-1"), "t"), (put("A-2"), "t")])
    before = file.lines()
    file.close()
    with closing(sqlite3.connect(file.path)) as db, pytest.raises(sqlite3.IntegrityError):
        db.execute(statement)
    assert file.lines() == before


def test_all_or_none_of_one_call(tmp_path: Path) -> None:
    """A float where the record has a whole number would not come back: nothing of the call is written."""
    file = new(tmp_path)
    odd = Entry(EDIT, StartJob("x", started=3))  # type: ignore[arg-type]
    nan = Typed(Fraction(1), "1")
    reading = FloatReading((float("nan"),), nan, nan, nan, nan)
    bad = Entry(EDIT, PutStick(Stick("B", "sitka_spruce", nan, nan, nan, readings=(reading,))))
    for entry, words in (
        (odd, "is not a str"),
        (bad, "cannot be stored"),
        (Entry(EDIT), "is a change this version does not know"),
        (Entry("scribble"), "is damaged"),
    ):
        with pytest.raises(CannotSave, match=words):
            file.append([(put("A-1"), "t"), (entry, "t")])
        assert file.entries == len(file.lines()) == 1
    file.append([(put("A-1"), "t")])
    assert file.entries == len(file.lines()) == 2
    file.close()


@pytest.mark.parametrize("name", ["what? #1 %20.job", "Größe ½ 木.tenthmark", 'it\'s "that".tenthmark'])
def test_any_file_name_will_do(tmp_path: Path, name: str) -> None:
    JobFile.create(tmp_path / name, START, "t").close()
    assert [path.name for path in tmp_path.iterdir()] == [name]
    JobFile.open(tmp_path / name).close()


def test_text_of_any_kind_comes_back(tmp_path: Path) -> None:
    file = new(tmp_path)
    notes = ["", "½木\U0001f6e9", "a\0b", "half a character \udcff", '"}], {', "\u2028\r\n\t"]
    size = Typed(Fraction(1), "1 m")
    for number, note in enumerate(notes):
        file.append([(Entry(EDIT, PutStick(Stick(f"A-{number}", "s", size, size, size, note=note))), "t")])
    file.close()
    again = JobFile.open(file.path)
    assert [stick.note for stick in again.history.job.sticks] == notes
    again.close()


FIRST_SCHEMA = f"""
pragma application_id = {0x746D726B};
create table migration (name text primary key, at text not null);
create table entry (id integer primary key, at text not null, what text not null,
                    kind text not null, body text not null);
insert into migration values ('record', '2030-01-01');
insert into entry values (1, '2030-01-01', 'edit', 'StartJob', '{{"name": "Old"}}');
insert into entry values (2, '2030-01-02', 'edit', 'PutStick', '{{"stick": {{"tag": "A-1",
    "species": "sitka_spruce", "length": {{"exact": "1", "text": "1 m"}},
    "width": {{"exact": "1", "text": "1 m"}}, "depth": {{"exact": "1", "text": "1 m"}}}}}}');
"""
METRE = Typed(Fraction(1), "1 m")


def test_a_file_of_the_first_schema_is_brought_up_to_date(tmp_path: Path) -> None:
    path = tmp_path / "old.tenthmark"
    with closing(sqlite3.connect(path)) as db:
        db.executescript(FIRST_SCHEMA)
    file = JobFile.open(path)
    assert file.history.job.name == "Old"
    assert file.history.job.stick("A-1") == Stick("A-1", "sitka_spruce", METRE, METRE, METRE)
    file.append([(put("A-2"), "2031-01-01")])
    file.close()
    with closing(sqlite3.connect(path)) as db:
        had = db.execute("select name, at from migration order by rowid").fetchall()
        assert had == [
            ("record", "2030-01-01"),
            ("append_only", "2030-01-02"),
            ("sealed", "2030-01-02"),
            ("snapshots", "2030-01-02"),
        ]
        with pytest.raises(sqlite3.IntegrityError):
            db.execute("delete from entry")
    JobFile.open(path).close()


def test_a_failing_migration_leaves_the_file_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def glue(db: sqlite3.Connection) -> None:
        db.execute("create table glue (pot text)")
        db.execute("insert into nowhere values (1)")

    path = new(tmp_path).path
    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, glue))
    with pytest.raises(FileFault, match="earlier version"):
        JobFile.open(path)
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("select name from sqlite_master where name = 'glue'").fetchall() == []
        assert ("glue",) not in db.execute("select name from migration").fetchall()


def test_migrations_keep_their_names_and_order() -> None:
    """Names already written into people's files: only ever add to the end of this list."""
    names = [migration.__name__ for migration in schema.MIGRATIONS]
    assert names == ["record", "append_only", "sealed", "snapshots"]
