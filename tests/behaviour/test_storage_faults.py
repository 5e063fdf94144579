"""Files that are not what they should be, and saving that does not go: one plain line each."""

import os
import random
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from fractions import Fraction
from pathlib import Path

import pytest

from bench.core.edits import PutStick, StartJob
from bench.core.errors import CannotSave, FileFault
from bench.core.history import EDIT, UNDO, Entry
from bench.core.records import Stick, Typed
from bench.storage import JobFile

START = Entry(EDIT, StartJob("Kestrel"))


def put(tag: str) -> Entry:
    length = Typed(Fraction(96 * 254, 10_000), "96 in")
    return Entry(EDIT, PutStick(Stick(tag, "sitka_spruce", length, length, length, note="invented " * 20)))


def job(folder: Path, sticks: int = 3) -> Path:
    file = JobFile.create(folder / "kestrel.tenthmark", START, "t")
    file.append([(put(f"A-{number}"), "t") for number in range(sticks)])
    file.close()
    return file.path


def fault(path: Path) -> str:
    """The one line the user sees: it names the file, and it is one line."""
    with pytest.raises(FileFault) as refusal:
        JobFile.open(path)
    assert str(path) in refusal.value.message
    assert "\n" not in refusal.value.message
    assert "sqlite" not in refusal.value.message.lower()
    return refusal.value.message


def other_database(path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        db.execute("create table entry (id integer primary key)")
        db.commit()


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda path: None, "no such file"),
        (lambda path: path.mkdir(), "is a folder"),
        (lambda path: path.write_bytes(b""), "is empty"),
        (lambda path: path.write_text("hello"), "not a job"),
        (lambda path: path.write_text("Dear aunt, the spar is glued. " * 300), "not a job"),
        (lambda path: path.write_bytes(bytes(8192)), "not a job"),
        (lambda path: path.write_bytes(b"SQLite format 3\0"), "not a job"),
        (other_database, "not a job"),
    ],
    ids=["missing", "folder", "empty", "short text", "text", "zeros", "only the magic", "other database"],
)
def test_what_is_no_job(tmp_path: Path, make: Callable[[Path], object], words: str) -> None:
    path = tmp_path / "thing.tenthmark"
    make(path)
    before = path.read_bytes() if path.is_file() else None
    assert words in fault(path)
    after = path.read_bytes() if path.is_file() else None
    assert after == before
    assert [entry.name for entry in tmp_path.iterdir()] == ([path.name] if path.exists() else [])


@pytest.mark.parametrize("share", [0.1, 0.5, 0.99])
def test_a_file_cut_short(tmp_path: Path, share: float) -> None:
    path = job(tmp_path, 60)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * share)])
    assert "damaged" in fault(path)


def test_garbage_anywhere_is_a_fault_or_harmless(tmp_path: Path) -> None:
    """Random bytes over 200 places: refused with a reason, or the job is exactly the one before."""
    path = job(tmp_path, 60)
    whole, seeded, refused = path.read_bytes(), random.Random(7), 0
    sound = JobFile.open(path)
    sound.close()
    for _ in range(200):
        start = seeded.randrange(len(whole) - 64)
        path.write_bytes(whole[:start] + seeded.randbytes(64) + whole[start + 64 :])
        try:
            again = JobFile.open(path)
        except FileFault as refusal:
            assert str(path) in refusal.message
            refused += 1
        else:
            assert again.history == sound.history
            again.close()
    assert refused > 100


def test_damage_beside_the_entries_is_found_too(tmp_path: Path) -> None:
    """Byte 7 of a page of rows counts its odd free bytes: sqlite.org/fileformat2.html, section 1.6."""
    path = job(tmp_path, 60)
    content = bytearray(path.read_bytes())
    page = len(content) - int.from_bytes(content[16:18])
    assert content[page] == 13, "the last page should be one of rows"
    content[page + 7] ^= 40
    path.write_bytes(content)
    assert "damaged" in fault(path)


def write(path: Path, *rows: tuple[object, ...]) -> None:
    """Add rows as another program might; the guard on numbering is taken away first."""
    with closing(sqlite3.connect(path)) as db:
        db.execute("drop trigger entry_insert")
        db.executemany("insert into entry values (?, 't', ?, ?, ?)", rows)
        db.commit()


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ((5, EDIT, "StirGlue", "{}"), "'StirGlue'"),
        ((5, EDIT, "RemoveStick", '{"tag": "Z-9"}'), "'Z-9'"),
        ((5, EDIT, "RemoveStick", '{"tag": 3}'), "is not a str"),
        ((5, EDIT, "RemoveStick", '{"tag": "A-1", "glue": 1}'), "glue"),
        ((5, EDIT, "RemoveStick", "{}"), "is not a RemoveStick"),
        ((5, EDIT, "RemoveStick", '{"tag": "A-1"'), "is damaged"),
        ((5, EDIT, "RemoveStick", "[" * 100_000), "is damaged"),
        ((5, EDIT, "RemoveStick", "NaN"), "is damaged"),
        ((5, EDIT, "TakeReading", '{"reading": {"marks": [1' + "0" * 400 + "]}}"), "is not a float"),
        ((5, EDIT, "RemoveStick", b"\xff\x00"), "is damaged"),
        ((5, "scribble", "", ""), "'scribble'"),
        ((5, UNDO, "RemoveStick", ""), "'undo'"),
        ((5, "redo", "", ""), "redo"),
        ((6, UNDO, "", ""), "is missing"),
    ],
)
def test_an_entry_that_cannot_be_followed_is_named(
    tmp_path: Path, row: tuple[object, ...], words: str
) -> None:
    path = job(tmp_path)
    write(path, row)
    message = fault(path)
    assert ", entry 5: " in message
    assert words in message


def test_damage_is_named_by_its_entry_whatever_the_column(tmp_path: Path) -> None:
    path = job(tmp_path)
    with closing(sqlite3.connect(path)) as db:
        db.execute("insert into entry values (5, cast(x'ff' as text), 'undo', '', '')")
        db.commit()
    assert ", entry 5: is damaged" in fault(path)


def test_a_record_that_does_not_begin_a_job(tmp_path: Path) -> None:
    path = job(tmp_path)
    with closing(sqlite3.connect(path)) as db:
        db.execute("drop trigger entry_delete")
        db.execute("delete from entry where id = 1")
        db.commit()
    assert ", entry 1: is missing" in fault(path)
    with closing(sqlite3.connect(path)) as db:
        db.execute("delete from entry")
        db.execute("drop table seal")
        db.commit()
    assert "no entry" in fault(path)
    write(path, (1, EDIT, "ChangeSettings", '{"settings": {}}'))
    assert "does not begin a job" in fault(path)


def test_a_file_from_a_newer_version(tmp_path: Path) -> None:
    path = job(tmp_path)
    with closing(sqlite3.connect(path)) as db:
        db.execute("insert into migration values ('glue_pots', 't')")
        db.commit()
    before = path.read_bytes()
    message = fault(path)
    assert "newer version" in message
    assert "glue_pots" in message
    assert path.read_bytes() == before


def test_a_job_file_without_its_tables(tmp_path: Path) -> None:
    path = tmp_path / "bare.tenthmark"
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"pragma application_id = {0x746D726B}")
        db.execute("create table something (a)")
        db.commit()
    assert "damaged" in fault(path)


def test_another_program_wrote_meanwhile(tmp_path: Path) -> None:
    """One that knows nothing of the lock; those that do are in test_storage_two.py."""
    path = job(tmp_path)
    ours = JobFile.open(path)
    with closing(sqlite3.connect(path)) as theirs, theirs:
        theirs.execute("insert into entry values (5, 't', 'undo', '', '')")
    for _ in range(2):
        with pytest.raises(CannotSave, match="another program has written to this job"):
            ours.append([(put("B-1"), "t")])
    assert ours.entries == 4
    assert [line.number for line in ours.lines()] == [1, 2, 3, 4, 5]
    ours.close()
    assert os.listdir(tmp_path) == [path.name]


HOLDER = """
import sqlite3, sys
db = sqlite3.connect(sys.argv[1], isolation_level=None)
db.execute("begin exclusive")
print("held", flush=True)
sys.stdin.read()
"""


def test_a_job_held_by_another_program(tmp_path: Path) -> None:
    path = job(tmp_path)
    file = JobFile.open(path)
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(CannotSave, match="held by another program"):
            file.append([(put("B-1"), "t")])
        assert file.entries == len(file.lines()) == 4
        holder.communicate()
    file.append([(put("B-1"), "t")])
    assert file.entries == len(file.lines()) == 5
    file.close()


def test_a_full_disk(tmp_path: Path) -> None:
    path = job(tmp_path)
    file = JobFile.open(path)
    # Looks inside: the limit on pages holds for one connection only, and sqlite calls it a full disk.
    assert file._db is not None
    file._db.execute("pragma max_page_count = 1")
    batch = [(put(f"B-{number}"), "t") for number in range(50)]
    with pytest.raises(CannotSave, match="disk is full"):
        file.append(batch)
    assert file.entries == len(file.lines()) == 4
    file.append(batch)
    assert file.entries == len(file.lines()) == 54
    file.close()


def test_a_file_taken_away_and_put_back(tmp_path: Path) -> None:
    """An open file that was moved still takes writes, which nobody would ever find."""
    path = job(tmp_path)
    file = JobFile.open(path)
    away = tmp_path / "away"
    away.mkdir()
    path.rename(away / path.name)
    with pytest.raises(CannotSave, match="no longer there"):
        file.append([(put("B-1"), "t")])
    with pytest.raises(FileFault, match="no such file"):
        file.lines()
    path.write_text("something else")
    with pytest.raises(CannotSave, match="another is in its place"):
        file.append([(put("B-1"), "t")])
    (away / path.name).replace(path)
    file.append([(put("B-1"), "t")])
    assert file.entries == len(file.lines()) == 5
    file.close()


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(CannotSave) as refusal:
        JobFile.create(tmp_path / "file" / "jobs" / "a.tenthmark", START, "t")
    assert str(tmp_path / "file" / "jobs") in refusal.value.message
