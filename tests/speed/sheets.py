"""How long sheets take and how large they are: `python -m tests.speed.sheets [--sticks N] [--parts N]`.

Processor time and bytes of the invented job's sheets, and of a job of so many sticks and parts made of it:
its sticks and parts again under other names. The record is written as JSON Lines and read back.
"""

import argparse
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from bench import library
from bench.core.demo import entries
from bench.core.edits import Edit, PutPart, PutStick
from bench.core.history import EDIT, EMPTY, Entry
from bench.core.river import flow
from bench.sheets import kinds, record_lines

Made = TypeVar("Made")
DAY = "2031-05-01"


def timed(make: Callable[[], Made]) -> tuple[Made, float]:
    """What is made, and its processor time, the best of three [s]."""
    best = float("inf")
    for _ in range(3):
        began = time.process_time()
        made = make()
        best = min(best, time.process_time() - began)
    return made, best


def shelf(edits: list[Edit], shelf_of: library.Library) -> kinds.Shelf:
    """All that sheets are made from, of a job of these edits."""
    history = EMPTY
    for edit in edits:
        history = history.accept(edit)
    record = [(f"{DAY}T08:00:00", Entry(EDIT, edit)) for edit in edits]
    return kinds.Shelf(flow(history.job, shelf_of.species), record, shelf_of.species, shelf_of.sources, DAY)


def larger(edits: list[Edit], sticks: int, parts: int) -> list[Edit]:
    """The invented job with as many sticks and parts as wanted, those that are too many left out."""
    job = EMPTY
    for edit in edits:
        job = job.accept(edit)
    made = list(edits)
    for number in range(len(job.job.sticks), sticks):
        like = job.job.sticks[number % len(job.job.sticks)]
        made.append(PutStick(replace(like, tag=f"X-{number:03d}")))
    for number in range(len(job.job.parts), parts):
        part = job.job.parts[number % len(job.job.parts)]
        made.append(PutPart(replace(part, name=f"{part.name} {number}")))
    return made


def report(name: str, of: kinds.Shelf) -> None:
    """Every sheet of a job, a line each."""
    job = of.river.job
    print(f"{name}: {len(job.sticks)} sticks, {len(job.parts)} parts, {len(of.record)} entries")
    wanted = [(kinds.BINDER, form, False) for form in kinds.WRITERS] + [(kinds.BINDER, "html", True)]
    wanted += [(kind, "html", False) for kind in kinds.KINDS if kind not in (kinds.BINDER, kinds.STICK)]
    for kind, form, retraced in wanted:
        text, seconds = timed(
            lambda kind=kind, form=form, retraced=retraced: kinds.text_of(  # type: ignore[misc]
                kind, form, of, retraced=retraced
            )
        )
        steps = ", every step" if retraced else ""
        print(f"  {f'{kind} {form}{steps}':<28}{seconds:8.2f} s {len(text.encode()):>12,} bytes")
    text, seconds = timed(lambda: record_lines.write(of.record, job.name))
    print(f"  {'record jsonl, written':<28}{seconds:8.2f} s {len(text.encode()):>12,} bytes")
    found, seconds = timed(lambda: record_lines.read(text))
    assert list(found.record) == list(of.record), "it came back otherwise"
    print(f"  {'record jsonl, read':<28}{seconds:8.2f} s")


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--sticks", type=int, default=200)
    parser.add_argument("--parts", type=int, default=60)
    given = parser.parse_args()
    books = library.load()
    edits: list[Edit] = list(entries(books.species))
    report("invented job", shelf(edits, books))
    report("larger", shelf(larger(edits, given.sticks, given.parts), books))


if __name__ == "__main__":
    main()
