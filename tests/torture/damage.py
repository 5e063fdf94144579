"""Damaged files: each opens with what was accepted, or is refused in a clear line; none is changed.

A job, clean or left by a program that was killed with its last changes in the log beside it, is damaged at
random: cut short, bytes flipped, overwritten with zeros, garbage or another page, the log alone, or replaced
by something that never was a job. What opens must be the record that was accepted, to the last character; of
a job whose log was damaged, that record or its beginning. What is refused must be refused in one line that
names the file, and stays as it is, byte for byte; what is rescued of it may hold nothing but what was
accepted.
"""

import random
import shutil
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path

from bench.core.edits import Edit, StartJob
from bench.core.errors import FileFault
from bench.core.history import Entry
from bench.storage import JobFile
from bench.storage.rescue import rescue
from tests.torture import edits

Record = list[tuple[str, Entry]]
FRESH_EVERY = 50  # damages of one job
PAGE = 4096


@dataclass
class Subject:
    """A job to be damaged: its record, the bytes of its file and of the log beside it."""

    record: Record
    file: bytes
    log: bytes


def subject(folder: Path, chance: random.Random) -> Subject:
    """A job of random edits; every second one was not closed."""
    record = edits.record(chance, chance.randint(2, 80))
    path = folder / "made.tenthmark"
    (at, first), *rest = record
    file = JobFile.create(path, first, at)
    half = chance.randrange(len(rest) + 1)
    file.append([(entry, when) for when, entry in rest[:half]])
    if chance.random() < 0.5:
        file.close()
        file = JobFile.open(path)
    for when, entry in rest[half:]:
        file.append([(entry, when)])
    if chance.random() < 0.5:
        file.close()
    log = path.with_name(f"{path.name}-wal")
    made = Subject(record, path.read_bytes(), log.read_bytes() if log.exists() else b"")
    file.close()
    path.unlink()
    return made


def _flipped(data: bytes, chance: random.Random) -> bytes:
    out = bytearray(data)
    for _ in range(chance.choice([1, 1, 2, 5, 40])):
        out[chance.randrange(len(out))] ^= 1 << chance.randrange(8)
    return bytes(out)


def _over(data: bytes, chance: random.Random, what: Callable[[int], bytes]) -> bytes:
    """Something over a stretch, of whole pages every second time."""
    if chance.random() < 0.5:
        start = chance.randrange(-(-len(data) // PAGE)) * PAGE
        length = PAGE * chance.randint(1, 3)
    else:
        start, length = chance.randrange(len(data)), chance.choice([1, 4, 100, 5000])
    length = min(length, len(data) - start)
    return data[:start] + what(length) + data[start + length :]


def _page_over(data: bytes, chance: random.Random) -> bytes:
    pages = [data[start : start + PAGE] for start in range(0, len(data), PAGE)]
    pages[chance.randrange(len(pages))] = chance.choice(pages)
    return b"".join(pages)


def _damaged(data: bytes, chance: random.Random) -> tuple[str, bytes]:
    kind = chance.choice(["cut", "flip", "flip", "zeros", "garbage", "page", "longer"])
    if kind == "cut":
        return kind, data[: chance.randrange(len(data))]
    if kind == "flip":
        return kind, _flipped(data, chance)
    if kind == "zeros":
        return kind, _over(data, chance, bytes)
    if kind == "garbage":
        return kind, _over(data, chance, chance.randbytes)
    if kind == "page":
        return kind, _page_over(data, chance)
    return kind, data + chance.randbytes(chance.randint(1, 9000))


def _never_a_job(folder: Path, chance: random.Random) -> bytes:
    kind = chance.randrange(5)
    if kind == 0:
        place = folder / "other.db"
        with closing(sqlite3.connect(place)) as db:
            db.execute("create table entry (id integer primary key, at, what, kind, body)")
            db.execute("insert into entry values (1, 'now', 'called', 'Phone', ?)", ("x" * 9000,))
            db.commit()
        data = place.read_bytes()
        place.unlink()
        return data
    return (b"", b"Dear aunt,\n" * 99, chance.randbytes(8000), b"SQLite format 3\0" + bytes(5000))[kind - 1]


def _place(folder: Path, file: bytes, log: bytes) -> Path:
    path = folder / "wing.tenthmark"
    path.write_bytes(file)
    if log:
        path.with_name(f"{path.name}-wal").write_bytes(log)
    return path


def _contents(path: Path) -> tuple[bytes, bytes]:
    log = path.with_name(f"{path.name}-wal")
    return path.read_bytes(), log.read_bytes() if log.exists() else b""


def _changes(edit: Edit | None) -> Edit | None:
    """An edit as it is compared with what was rescued: a row may come back as a new one."""
    if edit is not None and getattr(edit, "was", ""):
        return replace(edit, was="")  # type: ignore[call-arg]
    return edit


def _opened(path: Path, record: Record, log_damaged: bool, faults: list[str]) -> str:
    """What comes of opening it."""
    before = _contents(path)
    try:
        file = JobFile.open(path)
    except FileFault as fault:
        if "\n" in str(fault) or not str(fault).startswith(str(path)):
            faults.append(f"refused without a clear line: {fault}")
        if _contents(path) != before:
            faults.append("refused, and changed in place")
        return "refused"
    file.close()
    if list(file.record) != (record[: len(file.record)] if log_damaged else record):
        faults.append(f"opens with another record ({len(file.record)} of {len(record)} entries)")
    return "opened" if list(file.record) == record else "opened with the beginning"


def _rescued(path: Path, record: Record, faults: list[str]) -> tuple[str, int, int]:
    """What comes of rescuing it: how, entries kept, entries of the job."""
    before = _contents(path)
    new = path.with_name("new.tenthmark")
    try:
        made = rescue(path, new)
    except FileFault as fault:
        if "\n" in str(fault):
            faults.append(f"not rescued, without a clear line: {fault}")
        return "nothing left", 0, len(record)
    finally:
        if _contents(path) != before:
            faults.append("rescued, and changed in place")
    accepted = Counter((at, _key(entry)) for at, entry in record)
    for at, entry in made.record:
        accepted[at, _key(entry)] -= 1
    made_up = isinstance(made.record[0][1].edit, StartJob) and made.record[0][1] != record[0][1]
    strange = sum(
        left < 0 for key, left in accepted.items() if not (made_up and key[1].startswith("StartJob"))
    )
    if strange > len(made.unchecked):  # those are named as what nothing vouches for
        faults.append("rescued with something that was never accepted")
    file = JobFile.open(new)
    file.close()
    if list(file.record) != made.record:
        faults.append("the rescued job is not what was said")
    new.unlink()
    return "rescued", len(made.record) - made_up, len(record)


def _key(entry: Entry) -> str:
    return (
        repr((entry.what, _changes(entry.edit))) if not isinstance(entry.edit, StartJob) else repr(entry.edit)
    )


def run(count: int, seed: int, folder: Path | None = None) -> int:
    """Damage so many files; prints a summary.

    Returns:
        How many faults there were.
    """
    chance, told, wrong = random.Random(seed), Counter[str](), list[str]()
    kept = of = 0
    with tempfile.TemporaryDirectory(dir=folder) as name:
        work = Path(name) / "work"
        for number in range(count):
            if number % FRESH_EVERY == 0:
                made = subject(Path(name), chance)
            work.mkdir()
            faults, file, log, in_log = list[str](), made.file, made.log, False
            if chance.random() < 0.05:
                kind, file, log, record = "no job", _never_a_job(Path(name), chance), b"", Record()
            else:
                record = made.record
                in_log = bool(log) and chance.random() < 0.5
                kind, data = _damaged(log if in_log else file, chance)
                file, log = (file, data) if in_log else (data, log)
            path = _place(work, file, log)
            try:
                came = _opened(path, record, in_log, faults)
                if came == "refused":
                    came, some, all_ = _rescued(path, record, faults)
                    kept, of = kept + some, of + all_
            except Exception as fault:
                came = "crashed"
                faults.append(f"{type(fault).__name__}: {fault}")
            told[f"{kind}{' of the log' if in_log else ''}: {came}"] += 1
            wrong += [
                f"file {number}, seed {seed}, {kind}{' in the log' if in_log else ''}: {f}" for f in faults
            ]
            shutil.rmtree(work)
    for fault in wrong[:20]:
        print(fault, file=sys.stderr)
    print(
        f"damage: {count} files, seed {seed}: " + ", ".join(f"{n} {what}" for what, n in sorted(told.items()))
    )
    print(f"damage: of what was refused {kept} of {of} entries were rescued; {len(wrong)} faults")
    return len(wrong)
