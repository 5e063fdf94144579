"""What can be read of a damaged job is in a new one, the rest is listed, and the damaged one is as it was."""

import random
import sqlite3
from contextlib import closing
from fractions import Fraction
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.core.edits import LayOut, NameJob, PutStick, RemoveStick, StartJob
from bench.core.errors import CannotSave, FileFault
from bench.core.history import EDIT, REDO, UNDO, Entry
from bench.core.records import Stick, Typed
from bench.storage import JobFile
from bench.storage.rescue import Rescue, rescue
from tests.torture import edits

METRE = Typed(Fraction(1), "1 m")


def put(tag: str, was: str = "", note: str = "") -> Entry:
    return Entry(EDIT, PutStick(Stick(tag, "sitka_spruce", METRE, METRE, METRE, note=note), was))


def job(folder: Path, *entries: Entry) -> Path:
    file = JobFile.create(folder / "wing.tenthmark", Entry(EDIT, StartJob("Tansy")), "t1")
    file.append([(entry, f"t{number}") for number, entry in enumerate(entries, start=2)])
    file.close()
    return file.path


def without(path: Path, *numbers: int) -> None:
    """The same file with some entries gone, and their checksums."""
    with closing(sqlite3.connect(path)) as db, db:
        for table in ("entry", "seal"):
            db.execute(f"drop trigger {table}_delete")
            db.executemany(f"delete from {table} where id = ?", [(number,) for number in numbers])
    with closing(sqlite3.connect(path)) as db:
        db.execute("vacuum")  # else they are found among what is left on the pages


def tags(made: Rescue) -> list[str]:
    file = JobFile.open(made.path)
    file.close()
    assert list(file.record) == made.record
    return [stick.tag for stick in file.history.job.sticks]


def test_a_sound_job_is_rescued_whole(tmp_path: Path) -> None:
    record = edits.record(random.Random(4), 120)
    (at, first), *rest = record
    file = JobFile.create(tmp_path / "wing.tenthmark", first, at)
    file.append([(entry, when) for when, entry in rest])
    file.close()
    made = rescue(file.path)
    assert made.path.name == "wing-rescued.tenthmark"
    assert (made.record, made.lost, made.unchecked) == (record, [], [])
    assert rescue(file.path).path.name == "wing-rescued-2.tenthmark"


def test_a_gap_is_listed_and_what_still_applies_is_kept(tmp_path: Path) -> None:
    path = job(
        tmp_path, put("A-1"), put("A-2"), put("A-3"), put("A-4", "A-2"), Entry(EDIT, RemoveStick("A-1"))
    )
    without(path, 2, 3)
    with pytest.raises(FileFault, match="entry 2: is missing; tenthmark rescue"):
        JobFile.open(path)
    made = rescue(path)
    assert tags(made) == ["A-3", "A-4"], "a changed row whose first is lost comes back as a new one"
    assert [(lost.numbers, lost.kind) for lost in made.lost] == [
        ("entries 2 to 3", ""),
        ("entry 6", "RemoveStick"),
    ]
    assert "A-1" in made.lost[1].why


def test_undoing_what_is_lost_undoes_nothing_else(tmp_path: Path) -> None:
    path = job(tmp_path, put("A-1"), put("A-2"), Entry(UNDO), Entry(REDO), put("A-3"), Entry(UNDO))
    without(path, 3)
    made = rescue(path)
    assert tags(made) == ["A-1"]
    assert [lost.numbers for lost in made.lost] == ["entry 3", "entry 4", "entry 5"]


def test_what_came_of_a_lost_change_is_lost_with_it(tmp_path: Path) -> None:
    path = job(tmp_path, put("A-1"), put("A-2"), Entry(EDIT, LayOut((), (), follows=True)), Entry(UNDO))
    without(path, 3)
    made = rescue(path)
    assert tags(made) == ["A-1"], "the undoing was of the lost change"
    assert [lost.numbers for lost in made.lost] == ["entry 3", "entry 4", "entry 5"]


def test_a_lost_beginning_is_made_up(tmp_path: Path) -> None:
    path = job(tmp_path, put("A-1"), Entry(EDIT, NameJob("Tansy two")))
    without(path, 1)
    made = rescue(path)
    assert tags(made) == ["A-1"]
    assert "the name and the settings" in made.lost[0].why


def test_a_figure_that_the_disk_changed_is_no_figure(tmp_path: Path) -> None:
    """The text still reads: only the checksum tells that it is not what was accepted."""
    path = job(tmp_path, put("A-1", note="moisture 12"), put("A-2"))
    data = path.read_bytes()
    assert data.count(b"moisture 12") == 1
    path.write_bytes(data.replace(b"moisture 12", b"moisture 17"))
    with pytest.raises(FileFault, match="entry 2: is damaged; tenthmark rescue FILE"):
        JobFile.open(path)
    made = rescue(path)
    assert tags(made) == ["A-2"]
    assert "checksum" in made.lost[0].why and made.lost[0].edit is not None


def test_what_has_no_checksum_is_kept_and_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = job(tmp_path, put("A-1"), put("A-2"), put("A-3"))
    with closing(sqlite3.connect(path)) as db, db:
        db.execute("drop trigger seal_delete")
        db.execute("delete from seal where id in (2, 3)")
        db.execute("insert into seal values (9, 0)")
    with closing(sqlite3.connect(path)) as db:
        db.execute("vacuum")
    assert rescue(path).unchecked == [2, 3]
    assert main(["rescue", str(path)]) == 0
    assert "2 entries: 2 to 3" in capsys.readouterr().out


@pytest.mark.parametrize("spoil", ["cut", "head", "pages", "log", "log gone"])
def test_the_damaged_one_stays_as_it_was(tmp_path: Path, spoil: str) -> None:
    path = job(tmp_path, *(put(f"A-{number}", note="x" * 150) for number in range(40)))
    file = JobFile.open(path)
    file.append([(put(f"B-{number}", note="y" * 150), "t") for number in range(40)])
    log = path.with_name(f"{path.name}-wal")
    contents, last = bytearray(path.read_bytes()), bytearray(log.read_bytes())
    file.close()
    if spoil == "cut":
        del contents[len(contents) // 2 :]
    elif spoil == "head":
        contents[:100] = bytes(100)
    elif spoil == "pages":
        contents[4096 * 2 : 4096 * 4] = bytes(2 * 4096)
    elif spoil == "log":
        last[5000:5004] = b"\xff" * 4
    path.write_bytes(contents)
    if spoil not in ("log gone", "head"):  # the log has a whole first page in it
        log.write_bytes(last)
    before = {
        name: (tmp_path / name).read_bytes() for name in (path.name, log.name) if (tmp_path / name).exists()
    }
    if spoil not in ("log gone", "pages"):  # the log has whole pages in it, newer than those
        with pytest.raises(FileFault, match="tenthmark rescue FILE"):
            JobFile.open(path)
    made = rescue(path, tmp_path / "new.tenthmark")
    assert len(made.record) > 10
    assert {name: (tmp_path / name).read_bytes() for name in before} == before


def test_what_never_was_a_job_is_refused(tmp_path: Path) -> None:
    for name, content in (
        ("letter", b"Dear aunt,\n" * 900),
        ("empty", b""),
        ("noise", random.Random(1).randbytes(9000)),
    ):
        (tmp_path / name).write_bytes(content)
        with pytest.raises(FileFault, match="holds nothing of a job"):
            rescue(tmp_path / name)
        assert (tmp_path / name).read_bytes() == content
    with pytest.raises(FileFault, match="no such file"):
        rescue(tmp_path / "none")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["empty", "letter", "noise"]


def test_nothing_is_written_over(tmp_path: Path) -> None:
    path = job(tmp_path, put("A-1"))
    (tmp_path / "there.tenthmark").write_text("mine")
    with pytest.raises(CannotSave, match="already"):
        rescue(path, tmp_path / "there.tenthmark")
    assert (tmp_path / "there.tenthmark").read_text() == "mine"


def test_the_verb_lists_what_is_lost(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = job(tmp_path, put("A-1"), put("A-2"), Entry(EDIT, RemoveStick("A-1")))
    without(path, 2)
    assert main(["rescue", str(path)]) == 0
    said = capsys.readouterr()
    assert "RemoveStick" in said.out and "wing-rescued.tenthmark" in said.out
    assert "look over" in said.err
    listed = (tmp_path / "wing-rescued-lost.txt").read_text()
    assert "entry 2: not known: nothing of it is left" in listed
    assert "entry 4: RemoveStick: stick: 'A-1' is not known" in listed
