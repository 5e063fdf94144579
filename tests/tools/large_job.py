"""A very large job, every figure of it invented: its record of edits, with sticks and a list of parts."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from random import Random

from bench.core.edits import (
    Edit,
    Inspect,
    LookOver,
    PutPart,
    PutStick,
    StartJob,
    TakeReading,
)
from bench.core.history import EDIT, REDO, UNDO, Entry
from bench.core.records import FloatReading, Part, Stick, Typed, inches
from bench.storage import JobFile

AT = "2031-05-01T08:00:00"
INCH = Fraction(254, 10_000)
WATER = Typed(Fraction(29315, 100), "20 C")
BATCH = 2_000
SIZES = (("2", "4"), ("1", "6"), ("9/8", "9/8"), ("3/4", "3"), ("3/2", "3/2"))
PLANS = (("3/4", "3/4"), ("1/2", "1"), ("5/8", "5/8"), ("3/8", "3/8"), ("1/4", "1/2"), ("3/4", "5/4"))
USES = ("small_part", "spar_flange", "small_part", "small_part")


def _tag(number: int) -> str:
    return f"S-{number}"


def _stick(rng: Random, number: int) -> Stick:
    width, depth = rng.choice(SIZES)
    return Stick(
        tag=_tag(number),
        species=rng.choice(("sitka_spruce", "sitka_spruce", "sitka_spruce", "douglas_fir")),
        length=inches(str(rng.randint(60, 190))),
        width=inches(width),
        depth=inches(depth),
        moisture=Typed(Fraction(rng.randint(70, 140), 1000), "moisture"),
        lot=f"lot {number // 50}",
    )


def _reading(rng: Random, day: int) -> FloatReading:
    mark = rng.randint(380, 540) / 100
    return FloatReading(
        marks=(mark, round(mark + rng.randint(-8, 8) / 100, 2)),
        side=inches("1/2"),
        length=inches("5"),
        moisture=Typed(Fraction(rng.randint(80, 130), 1000), "moisture"),
        water=WATER,
        angle="none",
        taken=f"2031-{1 + day // 28 % 12:02d}-{1 + day % 28:02d}",
    )


def _measured(rng: Random, tag: str, day: int) -> Iterator[Edit]:
    rings = rng.randint(5, 22)
    slope = rng.choice((10, 14, 16, 18, 20, 25, 30))
    yield Inspect(tag, "rings", Typed(rings / INCH, f"{rings} per in"))
    yield Inspect(tag, "slope_one", Typed(Fraction(1, slope), f"1:{slope}"))
    yield Inspect(tag, "slope_two", Typed(Fraction(0), "straight"))
    yield Inspect(tag, "edge_grain", Typed(Fraction(rng.randint(7, 10), 10), "edge grain"))
    yield Inspect(tag, "bow", inches("0"))
    yield LookOver(tag)
    yield TakeReading(tag, _reading(rng, day))


def _parts(rng: Random, count: int) -> Iterator[Edit]:
    for number in range(1, count + 1):
        width, depth = rng.choice(PLANS)
        part = Part(
            name=f"P-{number}",
            length=inches(str(rng.randint(8, 120))),
            width=inches(width),
            depth=inches(depth),
            quantity=rng.randint(1, 4),
            critical=number % 15 == 0,
            use=rng.choice(USES),
        )
        yield PutPart(part)


def entries(sticks: int = 10_000, edits: int = 100_000, parts: int = 60, seed: int = 1) -> Iterator[Entry]:
    """The record of a large job: every stick measured, then read again and again, some of it undone."""
    rng, made = Random(seed), 0
    known: list[Stick] = []

    def begun() -> Iterator[Edit]:
        yield StartJob("Large", started="2031-05-01", invented=True)
        yield from _parts(rng, parts)
        for number in range(1, sticks + 1):
            known.append(_stick(rng, number))
            yield PutStick(known[-1])
            yield from _measured(rng, _tag(number), number // 40)

    for edit in begun():
        yield Entry(EDIT, edit)
        made += 1
        if made == edits:
            return
    day = sticks // 40
    while made < edits:
        yield Entry(EDIT, TakeReading(rng.choice(known).tag, _reading(rng, day + made // 400)))
        made += 1
        if made < edits - 2 and made % 16 == 0:
            yield Entry(UNDO)
            yield Entry(REDO if made % 32 else UNDO)
            made += 2


def write(path: Path, sticks: int = 10_000, edits: int = 100_000, parts: int = 60) -> None:
    """Such a job as a file."""
    record = entries(sticks, edits, parts)
    file = JobFile.create(path, next(record), AT)
    batch: list[tuple[Entry, str]] = []
    for entry in record:
        batch.append((entry, AT))
        if len(batch) == BATCH:
            file.append(batch)
            file.keep_aside()
            batch.clear()
    file.append(batch)
    file.close()
