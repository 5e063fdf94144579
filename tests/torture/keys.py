"""Random keys over every screen, in terminals of random size: no fault, no hang, the job is what was saved.

The app runs in process with an invented job. Keys are those that are bound anywhere, those of values, and
texts; every few keys the terminal gets another size between 20 x 5 and 200 x 60. After each handful of keys
the queues are empty within a time; the job on the screen is the one that the entries handed to the saving
thread fold to, read back from rows as they would be from a file; and every entry has been saved once. Where
a key leaves the app it is opened again on what was saved. Files may be written and read, in one folder only.
"""

import asyncio
import random
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

from textual.pilot import Pilot

from bench import library
from bench.core.demo import entries
from bench.core.history import History
from bench.core.records import Species
from bench.storage import TextFiles
from bench.storage.rows import replay, to_line
from bench.ui.app import BenchApp
from tests.tools.driving import Notebook, feed, settled, spell

HANDFUL = (1, 60)  # keys between two looks
PATIENCE_S = 120.0  # until a handful is done, on a busy machine
SMALLEST, LARGEST = (20, 5), (200, 60)
TEXTS = (
    "3/4", "6.85", "12", "1:15", "white ash", "9.5", "30-32 knot 1/4", "rest", "replace", "-", "=1+1",
    "[b]x[/b]", "small part", "1 to 4", "\x1b[31m", "a" * 60, "..", "stock.csv", "yes", "10.3 mm", "Ä木",
    "A-03", "1e9", "0",
)  # fmt: skip
MOVES = (
    "up", "down", "left", "right", "pageup", "pagedown", "tab", "shift+tab", "enter", "enter", "escape",
    "space", "backspace", "delete", "home", "end", "ctrl+u", "plus", "minus", "asterisk", "slash", "ctrl+c",
    "f1",
)  # fmt: skip

# What people do: a key, or a text that is typed. Without these hardly anything would be accepted.
WAYS = tuple(
    line.split("|")
    for line in """\
escape|escape|t|a|ctrl+u|'S-{n}|enter|'white ash|enter|'9{n} 1/2|enter|'7/8|enter|'9.{n}|enter
escape|escape|p|a|ctrl+u|'rib {n}|enter|'{n}|enter|'1{n} 1/4|enter|'3/4|enter|'1/2|enter|'small part|enter
escape|escape|f|'6.{n}5|enter|enter
escape|escape|i|tab|'1:2{n}|enter|tab|'30|enter
escape|escape|c|enter|space|space
escape|escape|c|enter|k|'torn|enter
escape|escape|s|v|v|up|enter
escape|escape|o|up|enter
u|u|y|u
escape|escape|b|a|ctrl+u|'C-{n}|enter|'white ash|enter|'drop|enter|'1/2|enter
""".splitlines()
)


class OneFolder:
    """Text files by the last part of their path, in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.files = folder, TextFiles()

    def _path(self, path: str) -> str:
        name = "".join(letter for letter in path if letter.isalnum() or letter in ".-_")[-40:]
        return str(self.folder / name) if name.strip(".") else path[:0]

    def read(self, path: str) -> str:
        return self.files.read(self._path(path))

    def write(self, path: str, text: str, replace: bool = False) -> str:
        return self.files.write(self._path(path), text, replace)


class Monkey:
    """Presses keys until it has pressed enough."""

    def __init__(self, count: int, seed: int, woods: dict[str, Species], folder: Path) -> None:
        self.left, self.random, self.woods = count, random.Random(seed), woods
        self.files, self.pressed, self.sizes, self.leaves = OneFolder(folder), 0, 0, 0
        self.views: Counter[str] = Counter()
        self.last: list[str] = []
        self.slowest = 0.0
        edits = entries(woods) if seed % 2 else entries(woods)[:1]
        self.notebook = Notebook(*edits)
        self.begun = len(self.notebook.entries)

    def size(self) -> tuple[int, int]:
        """A random size, often one that people have."""
        if self.random.random() < 0.4:
            return self.random.choice([(80, 24), (160, 45), (120, 30), (60, 20)])
        return self.random.randint(SMALLEST[0], LARGEST[0]), self.random.randint(SMALLEST[1], LARGEST[1])

    async def run(self) -> None:
        """Open the app, again whenever a key has left it."""
        while self.left > 0:
            self.notebook.history = self.folded()
            app = self.notebook.open(self.woods, files=self.files, moves=200)
            async with app.run_test(size=self.size()) as pilot:
                await settled(pilot)
                while self.left > 0 and app.is_running and not app._exit:
                    await self.handful(app, pilot)
            self.leaves += 1

    async def handful(self, app: BenchApp, pilot: Pilot[None]) -> None:
        """A few keys, perhaps another size, and a look."""
        begun = time.monotonic()
        for _ in range(self.random.randint(*HANDFUL)):
            self.press(app)
        if self.random.random() < 0.6:
            self.sizes += 1
            await pilot.resize_terminal(*self.size())
        try:
            async with asyncio.timeout(PATIENCE_S):
                await settled(pilot)
        except (TimeoutError, AssertionError):
            if app.is_running and not app._exit:
                raise AssertionError("it hangs") from None
        if app.is_running and not app._exit:  # what was waited for in vain after leaving is no answer
            self.slowest = max(self.slowest, time.monotonic() - begun)
        self.look(app)

    def press(self, app: BenchApp) -> None:
        """One key, or a text typed."""
        kind = self.random.random()
        if kind < 0.03:
            for step in self.random.choice(WAYS):
                self.step(app, step.format(n=self.random.randint(1, 6)))
            return
        if kind < 0.5:
            keys = [self.random.choice("fsciemtpblhorwzuy?vxjkadng/qfsctpb")]
            if keys == ["q"] and self.random.random() < 0.9:
                keys = ["escape"]
        elif kind < 0.9:
            keys = [self.random.choice(MOVES)]
        elif kind < 0.96:
            keys = [self.random.choice("0123456789./")]
        else:
            self.step(app, f"'{self.random.choice(TEXTS)}")
            keys = ["enter"] * self.random.randint(0, 1)
        for key in keys:
            self.step(app, "question_mark" if key == "?" else key)

    def step(self, app: BenchApp, step: str) -> None:
        """Press a key, or type a text that has an apostrophe before it."""
        keys = len(step) - 1 if step[0] == "'" else 1
        self.last = [*self.last, step][-80:]
        if step[0] == "'":
            spell(app, step[1:])
        else:
            feed(app, step)
        self.pressed, self.left = self.pressed + keys, self.left - keys

    def folded(self) -> History:
        """What the saved entries make of a job, read back from rows."""
        lines = [to_line(number, at, entry) for number, (at, entry) in enumerate(self.notebook.entries, 1)]
        return replay("job", lines)[0]

    def look(self, app: BenchApp) -> None:
        """Is the job what was saved?"""
        bench = app.bench
        if bench is None or not app.is_running or app._exit:
            return
        self.views[bench.query_one("#views").current or ""] += 1  # type: ignore[attr-defined]
        if list(bench.ledger.record) != self.notebook.entries:
            raise AssertionError("what was accepted is not what was handed to the saving thread")
        if self.random.random() < 0.02 and self.folded().job != bench.job:
            raise AssertionError("the job is not the fold of its entries")
        if bench.accepted != bench.job:
            raise AssertionError("the panes show another job")

    def end(self) -> None:
        """The last look."""
        app = self.notebook.app
        if app is not None and app.bench is not None and self.folded() != app.bench.ledger.history:
            raise AssertionError("the job, or what can be undone, is not the fold of its entries")


def run(count: int, seed: int, folder: Path | None = None) -> int:
    """Press so many keys; prints a summary.

    Returns:
        How many faults there were: the first ends it.
    """
    woods, fault = library.load().species, ""
    with tempfile.TemporaryDirectory(dir=folder) as name:
        monkey = Monkey(count, seed, woods, Path(name))
        try:
            asyncio.run(monkey.run())
            monkey.end()
        except Exception as problem:
            fault = "".join(traceback.format_exception(problem)[-6:])
            print(f"keys, seed {seed}: {fault}\nlast keys: {' '.join(monkey.last)}", file=sys.stderr)
    made = len(monkey.notebook.entries) - monkey.begun
    faults = 1 if fault else 0
    seen = ", ".join(f"{view} {times}" for view, times in sorted(monkey.views.items()))
    print(
        f"keys: {monkey.pressed} keys, seed {seed}: {monkey.sizes} sizes, {made} entries accepted, left"
        f" {monkey.leaves} times, slowest handful {monkey.slowest:.1f} s; {faults} faults\nseen: {seen}"
    )
    return faults
