"""Random accepted edits, all invented: of sticks, parts, readings and the shop, with undoing and redoing."""

from dataclasses import replace
from fractions import Fraction
from random import Random

from bench.core.edits import (
    ChangeSettings,
    Edit,
    Inspect,
    NameJob,
    PutPart,
    PutParts,
    PutStick,
    PutSticks,
    RemoveStick,
    StartJob,
    TakeReading,
)
from bench.core.errors import Refusal
from bench.core.history import EDIT, EMPTY, REDO, UNDO, Entry, History
from bench.core.records import FloatReading, Job, Part, Settings, Stick, Typed, inches

AT = "2031-05-01T08:00:00"
START = Entry(EDIT, StartJob("Tansy (invented)", started=AT[:10], invented=True))


def _length(random: Random, least: int = 8, most: int = 900) -> Typed:
    return inches(str(Fraction(random.randint(least, most), 8)))


def _stick(random: Random) -> Stick:
    tag = f"{random.choice('ABCDÄ木')}-{random.randint(1, 60)}"
    note = random.choice(["", "dry", "[bold]from the loft[/]", "=1+1", "x" * random.randint(1, 200)])
    return Stick(tag, "white_ash", _length(random), _length(random, 4, 16), _length(random, 4, 16), note=note)


def _part(random: Random) -> Part:
    name = f"rib {random.randint(1, 40)}"
    sides = _length(random, 2, 16), _length(random, 2, 16)
    return Part(name, _length(random), *sides, random.randint(1, 9), critical=random.random() < 0.3)


def _reading(random: Random) -> FloatReading:
    marks = tuple(random.randint(80, 180) / 20 for _ in range(random.randint(1, 4)))
    dry, bath = Typed(Fraction(random.randint(5, 20), 100), "dry"), Typed(Fraction(29315, 100), "20 C")
    return FloatReading(marks, inches("1/2"), inches("5"), dry, bath, angle="none")


def _edit(random: Random, job: Job) -> Edit:
    sticks, parts = job.sticks, job.parts
    kind = random.randrange(10)
    if kind == 0 and sticks:
        return RemoveStick(random.choice(sticks).tag)
    if kind == 1:
        return NameJob(f"Tansy {random.randint(1, 999)}")
    if kind == 2:
        return ChangeSettings(replace(Settings(), kerf=inches(str(Fraction(random.randint(1, 12), 64)))))
    if kind == 3 and parts:
        was = random.choice(parts)
        return PutPart(replace(_part(random), name=was.name), was.name)
    if kind == 4:
        return PutPart(_part(random))
    if kind == 5 and random.random() < 0.3:  # long rows go on in a chain of pages
        made = {stick.tag: stick for stick in (_stick(random) for _ in range(random.randint(2, 40)))}
        return PutSticks(tuple(made.values()))
    if kind == 5 and random.random() < 0.3:
        listed = {part.name: part for part in (_part(random) for _ in range(random.randint(2, 30)))}
        return PutParts(tuple(listed.values()))
    if kind in (6, 7) and sticks:
        return TakeReading(random.choice(sticks).tag, _reading(random))
    if kind == 8 and sticks:
        slope = random.randint(8, 30)
        return Inspect(random.choice(sticks).tag, "slope_one", Typed(Fraction(1, slope), f"1:{slope}"))
    return PutStick(_stick(random))


def accepted(random: Random, history: History) -> tuple[Entry, History]:
    """A random entry that the job allows, and the history with it."""
    while True:
        turn = random.random()
        entry = (
            Entry(UNDO if turn < 0.1 else REDO) if turn < 0.15 else Entry(EDIT, _edit(random, history.job))
        )
        try:
            if entry.edit is not None:
                entry.edit.check(history.job)
            return entry, history.follow(entry)
        except Refusal:
            continue


def record(random: Random, count: int) -> list[tuple[str, Entry]]:
    """A job of so many entries, each with its time: the clock of that shop goes backwards now and then."""
    history, entries = EMPTY.follow(START), [(AT, START)]
    while len(entries) < count:
        entry, history = accepted(random, history)
        entries.append((f"2031-05-{random.randint(1, 28):02d}T08:{random.randint(0, 59):02d}:00", entry))
    return entries
