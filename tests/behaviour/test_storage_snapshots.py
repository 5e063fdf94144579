"""Histories kept aside in the job file tell what the whole record tells, or are passed over."""

import json
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from queue import SimpleQueue
from random import Random

import pytest

from bench.core import history as histories
from bench.core.edits import (
    ChangeSettings,
    Edit,
    Inspect,
    LayOut,
    NameJob,
    PutStick,
    RemoveStick,
    StartJob,
    TakeReading,
)
from bench.core.errors import BadInput, FileFault, Refusal
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry, History
from bench.core.packing import pack, unpack
from bench.core.record import Record
from bench.core.records import FloatReading, Laid, Settings, Stick, Typed
from bench.core.stack import Stack, Step
from bench.headless.job_files import read
from bench.storage import JobFile, Saver, keeping, rows, snapshots, verify

START = Entry(EDIT, StartJob("Kestrel", "2031-05-01", invented=True))
INCH = Typed(Fraction(254, 10_000), "1 in")
DRY = Typed(Fraction(1, 10), "10 %")
WATER = Typed(Fraction(29_315, 100), "20 C")


@pytest.fixture(autouse=True)
def often(monkeypatch: pytest.MonkeyPatch) -> None:
    """Snapshots every few entries, and few jobs at hand, so that short records have what long ones have."""
    for module, name, value in (
        (snapshots, "EVERY", 7),
        (snapshots, "LAG", 3),
        (snapshots, "SPARSE", 20),
        (keeping, "AT_CLOSING", 5),
        (keeping, "AT_HAND", 0),
        (histories, "KEPT", 4),
    ):
        monkeypatch.setattr(module, name, value)


def _edit(rng: Random, history: History) -> Edit:
    tags = [stick.tag for stick in history.job.sticks]
    if not tags or rng.random() < 0.2:
        return PutStick(Stick(f"S-{history.count}", "sitka_spruce", INCH, INCH, INCH, DRY))
    tag = rng.choice(tags)
    reading = FloatReading((rng.randint(40, 60) / 10,), INCH, INCH, DRY, WATER)
    return rng.choice(
        [
            TakeReading(tag, reading),
            Inspect(tag, "bow", Typed(Fraction(rng.randint(1, 99), 1000), "bow")),
            RemoveStick(tag),
            NameJob(f"Kestrel {history.count}"),
            ChangeSettings(Settings(rng.choice(("in", "mm")))),
            LayOut((Laid("rib", tag, Fraction(0), Fraction(1)),), follows=rng.random() < 0.5),
        ]
    )


def _record(seed: int, count: int) -> list[Entry]:
    """A random record with stretches of undoing and making again."""
    rng, history, entries = Random(seed), EMPTY.follow(START), [START]
    while len(entries) < count:
        what = rng.choices((EDIT, UNDO, REDO), (6, 2, 2))[0]
        for _ in range(rng.randint(1, 9) if what != EDIT else 1):
            entry = Entry(what, _edit(rng, history)) if what == EDIT else Entry(what)
            try:
                history = history.follow(entry)
            except Refusal:
                break
            entries.append(entry)
    return entries


def _folded(entries: list[Entry]) -> Iterator[History]:
    """The history after each entry, from nothing but the entries."""
    history = EMPTY
    for entry in entries:
        history = history.follow(entry)
        yield history


def _file(path: Path, entries: list[Entry], batch: int = 5) -> Path:
    file = JobFile.create(path, entries[0], "t0")
    rest = [(entry, f"t{number}") for number, entry in enumerate(entries[1:], 1)]
    for at in range(0, len(rest), batch):
        file.append(rest[at : at + batch])
        file.keep_aside()
    file.close()
    return path


def _kept(path: Path) -> list[int]:
    with closing(sqlite3.connect(path)) as db:
        return [count for (count,) in db.execute("select entry from snapshot order by entry")]


def _changed(path: Path, *statements: str) -> None:
    """What no program of ours does: the guards of the record are taken off first."""
    with closing(sqlite3.connect(path)) as db:
        for change in ("update", "delete", "insert"):
            db.execute(f"drop trigger if exists entry_{change}")
        for statement in statements:
            db.execute(statement)
        db.commit()


@pytest.mark.parametrize("seed", range(12))
def test_a_snapshot_and_what_follows_tell_what_the_whole_record_tells(tmp_path: Path, seed: int) -> None:
    entries = _record(seed, 90)
    every = list(_folded(entries))
    path = _file(tmp_path / "x.tenthmark", entries)
    assert _kept(path), "some were kept"
    file = JobFile.open(path)
    file.close()
    assert file.history == every[-1] and file.history.count == len(entries)
    assert [entry for _, entry in file.record] == entries
    for count in Random(seed).sample(range(1, len(entries) + 1), 15):
        assert file.record.history(count) == every[count - 1], f"after entry {count}"
        assert file.record.job(count) == every[count - 1].job
    back, plain = file.history, every[-1]
    while plain.can_undo:  # past every snapshot, to the start of the job
        assert (back.job_before, back.last_edit) == (plain.job_before, plain.last_edit)
        back, plain = back.undo(), plain.undo()
        assert back == plain
    while plain.can_redo:
        back, plain = back.redo(), plain.redo()
        assert back == plain


def test_old_snapshots_go_and_some_stay(tmp_path: Path) -> None:
    kept = _kept(_file(tmp_path / "x.tenthmark", _record(3, 200)))
    assert len(kept) < 200 / 7 / 2 and kept[0] < 20 < kept[1] and kept[-1] >= 200 - 3 - 5


DAMAGE = {
    "of another entry": "update snapshot set entry = entry + 1",
    "body": "update snapshot set body = zeroblob(40)",
    "seal": "update snapshot set seal = 'x'",
    "text for a body": "update snapshot set body = 'x'",
    "digest": "update snapshot set digest = prior",
    "the table": "drop table snapshot",
}


@pytest.mark.parametrize("statement", DAMAGE.values(), ids=DAMAGE.keys())
def test_a_damaged_snapshot_is_passed_over(tmp_path: Path, statement: str) -> None:
    entries = _record(5, 60)
    path = _file(tmp_path / "x.tenthmark", entries)
    _changed(path, statement)
    file = JobFile.open(path)
    assert file.history == list(_folded(entries))[-1]
    file.append([(Entry(EDIT, NameJob("on")), "t")] * 20)
    file.close()
    again = JobFile.open(path)
    again.close()
    assert again.history.job.name == "on"


def test_a_sealed_snapshot_of_other_records_is_passed_over(tmp_path: Path) -> None:
    """Sealed as ours are, and holding what no record of ours has: text for a number, a name for a field."""
    entries = _record(6, 40)
    path = _file(tmp_path / "x.tenthmark", entries)
    folded = list(_folded(entries))
    plain = pack(folded[-1])
    for key, value in (("job", [7]), ("typed", [["1/0", "x"]]), ("form", 0), ("back", [[1, 10**9, 1]])):
        with pytest.raises(BadInput):
            unpack(json.loads(json.dumps({**plain, key: value})))
    assert unpack(json.loads(json.dumps(plain))) == folded[-1]
    file = JobFile.open(path)
    file.close()
    assert file.history == folded[-1]


def test_a_snapshot_of_entries_that_are_gone_is_passed_over(tmp_path: Path) -> None:
    """As where a copy was put back under a newer side file: the record is what counts."""
    entries = _record(7, 60)
    path = _file(tmp_path / "x.tenthmark", entries)
    left = _kept(path)[-1] - 1
    _changed(path, f"delete from entry where id > {left}")
    file = JobFile.open(path)
    file.close()
    assert file.history == list(_folded(entries[:left]))[-1]


def test_an_entry_missing_under_a_snapshot_is_told(tmp_path: Path) -> None:
    path = _file(tmp_path / "x.tenthmark", _record(8, 60))
    _changed(path, "delete from entry where id = 9")
    with pytest.raises(FileFault, match="entry 9: is missing"):
        JobFile.open(path)


def test_a_record_changed_under_a_snapshot_is_found(tmp_path: Path) -> None:
    """The job shown is as it was accepted; the whole record is read beside the app, and at once by a verb."""
    entries = _record(9, 60)
    path = _file(tmp_path / "x.tenthmark", entries)
    assert verify(path) and not verify(path, wanted=lambda: False)
    first = _kept(path)[0]
    _changed(path, f"update entry set at = 'never' where id = {first - 1}")
    with pytest.raises(FileFault, match=f"entry {first - 1}: .*not as it was written"):
        verify(path)
    # Without its own checksum the digests still tell between which entries.
    _changed(path, "drop trigger seal_delete", f"delete from seal where id = {first - 1}")
    file = JobFile.open(path)
    file.close()
    assert file.history == list(_folded(entries))[-1]
    for door in (verify, read):
        with pytest.raises(FileFault, match=f"entries 1 to {first}.*not as it was written"):
            door(path)


def test_a_damaged_entry_is_told_when_it_is_looked_at(tmp_path: Path) -> None:
    entries = [START, *(Entry(EDIT, NameJob(f"Kestrel {number}")) for number in range(40))]
    path = _file(tmp_path / "x.tenthmark", entries)
    _changed(path, "update entry set body = cast(x'ff' as text) where id = 2")
    with pytest.raises(FileFault, match="entry 2"):
        verify(path)
    file = JobFile.open(path)
    file.close()
    assert file.history.job.name == "Kestrel 39"
    with pytest.raises(FileFault, match="entry 2"):
        file.record[1]
    assert [file.record[place][1] for place in (0, 2, -1)] == [entries[place] for place in (0, 2, -1)]


def test_a_long_file_from_before_snapshots_opens_and_gets_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    entries = _record(10, 90)
    path = _file(tmp_path / "x.tenthmark", entries)
    _changed(path, "drop table snapshot", "delete from migration where name = 'snapshots'")
    monkeypatch.setattr(keeping, "AT_CLOSING", 10**6)
    file = JobFile.open(path)
    assert not _kept(path), "nothing before the first picture"
    saver = Saver(file, lambda entries, problem: None)
    seen = threading.Event()
    keep = file.keep_aside

    def noted() -> bool:
        kept = keep()
        if not kept:
            seen.set()
        return kept

    monkeypatch.setattr(file, "keep_aside", noted)
    saver.start()
    assert seen.wait(10) and saver.finish()
    assert file.history == list(_folded(entries))[-1]
    assert _kept(path) == [20, 40, 60, 80, len(entries) - 3]


def test_a_long_file_without_snapshots_tells_how_far_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rows, "TOLD", 20)
    entries = _record(3, 90)
    path = _file(tmp_path / "x.tenthmark", entries)
    told: list[tuple[int, int]] = []
    JobFile.open(path, told=lambda count, read: told.append((count, read))).close()
    assert told == [], "from a snapshot it is not long"
    with closing(sqlite3.connect(path)) as db, db:
        db.execute("delete from snapshot")
    JobFile.open(path, told=lambda count, read: told.append((count, read))).close()
    assert told == [(len(entries), read) for read in range(20, len(entries), 20)] and len(told) >= 4


def test_a_snapshot_that_fails_is_nobodys_concern(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Saved is told before it is tried, nothing is written twice, and the lock is let go."""
    path, steps = tmp_path / "x.tenthmark", SimpleQueue[str | int]()

    def broken(*words: object) -> None:
        steps.put("tried")
        raise MemoryError("no room for a snapshot")

    monkeypatch.setattr(snapshots, "write", broken)
    saver = Saver(JobFile.create(path, START, "t"), lambda count, problem: steps.put(problem or count))
    saver.start()
    names = [f"Kestrel {number}" for number in range(30)]
    for count, name in enumerate(names, 2):
        saver.save(Entry(EDIT, NameJob(name)), "t")
        said = steps.get(timeout=10)
        assert count in (said, steps.get(timeout=10) if said == "tried" else None)
    assert saver.finish() and steps.get_nowait() == "tried"
    file = JobFile.open(path)
    assert file.writable() and not file.elsewhere
    file.close()
    assert [entry.edit for _, entry in file.record][1:] == [NameJob(name) for name in names]


def test_a_record_has_no_place_before_its_first_or_after_its_last() -> None:
    record = Record([("t", START)])
    record.append("t", Entry(EDIT, NameJob("on")))
    assert record[-2] == record[0] == ("t", START)
    for place in (-3, 2, 90):
        with pytest.raises(IndexError):
            record[place]


def test_of_the_histories_looked_at_only_the_last_two_hold_the_jobs_before_them() -> None:
    entries = _record(12, 90)
    every = list(_folded(entries))
    record = Record([("t", entry) for entry in entries])
    for count in (30, 60, 90, 45):
        assert record.history(count) == every[count - 1]
    assert len(record._kept) > 4 and {one.count for one in record._kept if len(one.recent) > 1} == {45, 90}
    assert record.at_hand(44) and record.at_hand(90) and not record.at_hand(60 - histories.KEPT)
    assert [record.job(count) for count in range(90, 0, -1)] == [one.job for one in every[89::-1]]


def test_a_history_worked_out_apart_is_handed_back() -> None:
    entries = _record(12, 90)
    every = list(_folded(entries))
    record = Record([("t", entry) for entry in entries[:80]])
    apart = record.apart()
    for entry in entries[80:]:
        record.append("t", entry)
    assert not record.at_hand(85)
    record.take(apart.history(85))
    assert record.at_hand(85) and record.at_hand(85 - histories.KEPT) and record._kept[0].teller is record
    assert [record.job(count) for count in (85, 84, 83)] == [every[count - 1].job for count in (85, 84, 83)]


def test_sticks_as_they_are_now_are_the_very_same_in_an_earlier_job() -> None:
    """So that what differs is found by looking at ten thousand, not by comparing them."""
    entries = _record(12, 90)
    every = list(_folded(entries))
    aside = unpack(json.loads(json.dumps(pack(every[59]))))
    record = Record([("t", entry) for entry in entries], lambda number: aside if number >= 60 else None)
    now = {stick.tag: stick for stick in every[-1].job.sticks}
    found = record.apart(every[-1].job).history(60)
    assert found == every[59] and found.job == found.recent[-1][0] == every[59].job
    equal = [stick for stick in found.job.sticks if now.get(stick.tag) == stick]
    assert equal and all(stick is now[stick.tag] for stick in equal)
    assert not any(stick is now.get(stick.tag) for stick in record.apart().history(60).job.sticks)


def test_a_job_is_at_hand_as_long_as_the_last_few_are_kept() -> None:
    entries = _record(12, 90)
    history = replace(EMPTY, teller=Record([("t", entry) for entry in entries]))
    for entry in entries:
        history = history.follow(entry)
    oldest = 90 - histories.KEPT
    assert history.at_hand(oldest) and history.at_hand(0) and not history.at_hand(oldest - 1)
    assert history.at_hand(oldest + 2, later=2) and not history.at_hand(oldest + 1, later=2)
    assert replace(history, teller=None).at_hand(1), "all are at hand where nobody could tell them"


def test_a_short_record_keeps_none(tmp_path: Path) -> None:
    assert _kept(_file(tmp_path / "x.tenthmark", _record(1, 7))) == []


def test_a_stack_is_a_row_of_steps() -> None:
    rng, stack, row = Random(4), Stack(), list[Step]()
    for number in range(1, 2_000):
        if row and rng.random() < 0.45:
            assert stack.top == row.pop()
            stack = stack.pop()
        else:
            row.append(Step(number, number + rng.choice((0, 0, 0, 2))))
            stack = stack.push(row[-1])
        assert (len(stack), stack.top) == (len(row), row[-1] if row else None)
    assert list(stack) == row
    assert Stack.of_runs(stack.runs()) == stack != stack.push(Step(1, 1))
    plain = Stack()
    for number in range(5, 900):
        plain = plain.push(Step(number, number))
    assert plain.runs() == [[5, 895, 5]] and list(Stack.of_runs(plain.runs())) == list(plain)
    with pytest.raises(IndexError):
        Stack().pop()
