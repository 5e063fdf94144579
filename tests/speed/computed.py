"""What is measured without a terminal: steps of the core, section solves, cut plans, opening jobs [s].

Each figure is the best of several repeats in processor time, so that other work on the machine spoils few.
"""

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from bench import library
from bench.core import cutting, strength
from bench.core.edits import ChooseSection, TakeReading
from bench.core.records import FloatReading, Job
from bench.core.resizing import resize
from bench.core.river import River, flow
from bench.core.sections import made
from bench.storage import JobFile
from bench.ui.ledger import Ledger
from tests.speed import jobs
from tests.tools.cut_lists import realistic

INCH = 0.0254


def best(work: Callable[[], object], repeats: int = 7) -> float:
    """Processor seconds of one run, the best of several."""
    times = []
    for _ in range(repeats):
        began = time.process_time()
        work()
        times.append(time.process_time() - began)
    return min(times)


def _stepped(job: Job, mark: float) -> Job:
    """The job with the first stick's waterline moved."""
    stick = job.sticks[0]
    assert stick.reading is not None
    reading: FloatReading = replace(stick.reading, marks=(mark,))
    return TakeReading(stick.tag, reading).change(job)


def step(by_stick: bool) -> float:
    """Reading, gravity, verdict, section: one step of a waterline on a rack of twenty, nothing to cut."""
    woods = library.load().species
    ledger = Ledger(jobs.history(20, 0), woods, [])
    if by_stick:
        choice = replace(ledger.job.section, gravity="stick")
        ledger.accept(ChooseSection(choice), jobs.AT)
    river, _ = ledger.flow()
    marks = [6.6 + 0.05 * turn for turn in range(10)]

    def walk() -> None:
        now: River = river
        for mark in marks:
            now = flow(_stepped(ledger.job, mark), woods, "", now, settled=False)

    return best(walk) / len(marks)


def solve() -> float:
    """One section resized by bending, with all its ratios."""
    woods = library.load().species
    spruce, ash = strength.of(woods["sitka_spruce"]), strength.of(woods["white_ash"])
    section = made("rectangle", 0.75 * INCH, 1.5 * INCH)

    def work() -> None:
        for _ in range(100):
            resize(section, spruce, ash, "bending", "", 18 * INCH)

    return best(work) / 100


def plans(lists: int) -> dict[str, float]:
    """The middle one of some cut plans: packed quickly, and searched."""
    problems = [realistic(seed, 55, 60) for seed in range(lists)]
    found = {}
    for name, moves in (("packed", 0), ("searched", None)):
        times = sorted(best(lambda p=problem, m=moves: cutting.plan(p, m), 1) for problem in problems)
        found[name] = times[len(times) // 2]
    return found


def opened(path: Path) -> float:
    """A job file opened and read back."""

    def work() -> None:
        JobFile.open(path).close()

    return best(work, 5)


def first_river(path: Path) -> float:
    """Everything the screen shows of a job just opened, worked out."""
    file = JobFile.open(path)
    woods, history = library.load().species, file.history
    file.close()
    return best(lambda: flow(history.job, woods), 3)
