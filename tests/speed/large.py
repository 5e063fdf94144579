"""A very large job: `python -m tests.speed.large [--sticks N] [--edits N] [--small N] [--json]`.

Builds a job of so many sticks and edits in a file of its own, opens it, and presses keys in it; and the same
in a small job. Every time is processor time, so that a busy machine counts less. The bars: the large job is
open, from the command to the first picture, within 1.5 s; a key takes as long as in the small job. Of twenty
sticks no list scrolls: with `--small 200` the small job has as many rows on show as the large one.

The start is taken in processes of their own under a pseudo-terminal, with the interpreter and the framework
and, less what a bare app of the framework takes there, without. Keys are taken in this process through the
driver of the tests: queued, handled and drawn. Of a key it is the time of the thread that answers it, up to
the last picture before all is at rest: what is worked out between the keys counts as far as it comes before
that, what another thread does beside it does not. The late ones hold the first time a screen is shown.
"""

import argparse
import asyncio
import contextlib
import gc
import json
import os
import pty
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from bench import library
from bench.storage import JobFile, verify
from bench.ui.app import BenchApp
from tests.tools.driving import feed, settled
from tests.tools.large_job import AT, write

SIZE = (160, 45)
PARTS = 60
RUNS = 3
ROUNDS = 2  # the large job and the small one turn about: a shared machine is not always as quick
PRESSES = 20  # in each round
# What is pressed: the keys that lead there, then those that are measured in turn.
KEYS = (
    ("float: step the waterline", ("f",), ("up", "up", "down")),
    ("float: keep a reading", ("f",), ("up", "enter")),
    ("undo, redo", ("f",), ("u", "y")),
    ("stock: next row", ("t",), ("down",)),
    ("stock: ten rows", ("escape", "t"), ("pagedown", "pageup")),
    ("parts: next row", ("escape", "p"), ("down",)),
    ("section: step", ("escape", "s"), ("up", "down")),
    ("cuts: next piece", ("escape", "c"), ("down",)),
    ("saw: a cut made, undone", ("escape", "c", "enter"), ("space", "u")),
    ("to Stock and back", ("escape", "f"), ("t", "f")),
    ("to Parts and back", ("escape", "f"), ("p", "f")),
    ("to Cuts and back", ("escape", "f"), ("c", "f")),
    ("to Record and back", ("escape", "f"), ("r", "f")),
    ("record: next row", ("escape", "r"), ("down",)),
    ("record: ten rows", ("escape", "r"), ("pagedown", "pagedown", "pageup")),
    ("as it was, and back", ("escape", "r"), ("enter", "escape")),
    ("trace, and back", ("escape", "f"), ("comma", "escape")),
    ("stock by gravity: next row", ("escape", "t", *["right"] * 5, "n"), ("down",)),
    ("undo, far back", ("escape", "f"), ("u",)),
)
FAR = 150  # times that the last of them is pressed in each round

# The app, ended after its first picture; and a bare one. Both tell the processor time of their process.
STARTED = """
import os, sys, time
def tell():
    os.write(int(sys.argv[1]), str(time.process_time()).encode())
    os._exit(0)
"""
OURS = (
    STARTED
    + """
from pathlib import Path
from bench import launch
launch.Desk.verify = lambda self: tell()
launch.run(Path(sys.argv[2]))
"""
)
BARE = (
    STARTED
    + """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("bare")
    def on_mount(self):
        self.call_after_refresh(tell)
Bare().run(mouse=False)
"""
)


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Processor time of some work [s], and what came of it."""
    began = time.process_time()
    found = work()
    return time.process_time() - began, found


def started(program: str, path: Path, home: Path) -> float:
    """Processor time of a process up to its first picture [s]."""
    read, written = os.pipe()
    main, terminal = pty.openpty()
    environment = {**os.environ, "HOME": str(home), "XDG_DATA_HOME": str(home), "TERM": "xterm-256color"}
    process = subprocess.Popen(
        [sys.executable, "-c", program, str(written), str(path)],
        stdin=terminal,
        stdout=terminal,
        stderr=terminal,
        pass_fds=(written,),
        env={**environment, "COLUMNS": str(SIZE[0]), "LINES": str(SIZE[1])},
        start_new_session=True,
    )
    os.close(written)
    os.close(terminal)
    os.set_blocking(main, False)
    told = b""
    while not told:
        with contextlib.suppress(OSError):
            os.read(main, 65536)
        os.set_blocking(read, False)
        try:
            told = os.read(read, 64)
        except BlockingIOError:
            if process.poll() is not None:
                raise RuntimeError("it ended before its first picture") from None
            time.sleep(0.005)
    process.wait()
    os.close(main)
    os.close(read)
    return float(told)


def _pictures(app: BenchApp) -> list[float]:
    """The times of its thread at which pictures go out [s], as they do."""
    drawn, hook = list[float](), app.post_display_hook

    def displayed() -> None:
        hook()
        drawn.append(time.thread_time())

    app.post_display_hook = displayed  # type: ignore[method-assign]
    return drawn


async def _pressed(path: Path, only: str) -> dict[str, Any]:
    """The job opened in the app here, the keys of KEYS pressed whose name begins so."""
    found: dict[str, Any] = {"keys": {}}
    woods = library.load().species
    gc.collect()
    gc.disable()
    found["file"], file = timed(lambda: JobFile.open(path))
    gc.enable()

    def save(entry: Any, at: str) -> None:
        app.saved(len(app.bench.ledger.record) if app.bench else 0, None)

    def start(name: str) -> Any:
        raise AssertionError(name)

    app = BenchApp((file.history, file.record), woods, save, start, now=lambda: AT)
    began = time.process_time()
    async with app.run_test(size=SIZE) as pilot:
        found["picture"] = time.process_time() - began
        assert app.bench is not None and app.bench.river is not None

        drawn = _pictures(app)

        async def press(key: str) -> float:
            drawn.clear()
            began = time.thread_time()
            feed(app, key)
            await settled(pilot)
            return (drawn[-1] if drawn else time.thread_time()) - began

        if app.bench.river.rack.waiting:
            meanwhile = [await press("up") for _ in range(PRESSES)]
            found["keys"]["float: step while the rack is judged"] = meanwhile
        while app.bench.river.rack.waiting:
            await asyncio.sleep(0.01)
        await settled(pilot)
        found["laid out"] = time.process_time() - began
        for name, leads, keys in KEYS:
            if not name.startswith(only):
                continue
            for key in leads:
                await press(key)
            many = FAR if name == KEYS[-1][0] else PRESSES
            times = [await press(keys[count % len(keys)]) for count in range(many)]
            found["keys"][name] = times
    file.close()
    return found


def measured(path: Path, home: Path, only: str) -> dict[str, Any]:
    """Every figure of one job."""
    found = asyncio.run(_pressed(path, only))
    found["start"] = min(started(OURS, path, home) for _ in range(RUNS))
    return found


def turn_about(paths: Sequence[Path], home: Path, only: str) -> list[dict[str, Any]]:
    """Every figure of some jobs: of a key all times, of the rest the least."""
    rounds = [[measured(path, home, only) for path in paths] for _ in range(ROUNDS)]
    jobs = []
    for row in zip(*rounds, strict=True):
        keys = {name: [took for one in row for took in one["keys"].get(name, ())] for name in row[0]["keys"]}
        jobs.append(
            {**{name: min(one[name] for one in row) for name in row[0] if name != "keys"}, "keys": keys}
        )
    return jobs


def deep(path: Path) -> dict[str, float]:
    """Looking back in the large job: undoing, and the job as it was after an entry."""
    file = JobFile.open(path)
    steps, history = [], file.history
    for _ in range(1000):
        took, history = timed(history.undo)
        steps.append(took)
    count = len(file.record)
    found = {
        "undo, median of 1,000": statistics.median(steps),
        "undo, longest of the first 200": max(steps[:200]),
        "undo, longest of 1,000": max(steps),
        "job after half of the entries": timed(lambda: file.record.job(count // 2))[0],
        "job one entry earlier": timed(lambda: file.record.job(count // 2 - 1))[0],
        "whole record against its digests": timed(lambda: verify(path))[0],
    }
    file.close()
    return found


def _percentile(times: list[float], share: float) -> float:
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


def _table(large: dict[str, Any], small: dict[str, Any], bare: float, back: dict[str, float]) -> list[str]:
    rows = [f"{'[s]':<44}{'large':>9}{'small':>9}"]
    rows.append(f"{'command to first picture':<44}{large['start']:9.2f}{small['start']:9.2f}")
    less = f"  less a bare app ({bare:.2f})"
    rows.append(f"{less:<44}{large['start'] - bare:9.2f}{small['start'] - bare:9.2f}")
    for name, told in (("file", "opening the file"), ("picture", "first picture"), ("laid out", "laid out")):
        rows.append(f"{told + ', in a running process':<44}{large[name]:9.2f}{small[name]:9.2f}")
    rows += ["", f"{'[ms], median and p99':<44}{'large':>15}{'small':>15}{'ratio':>7}"]
    for name, times in large["keys"].items():
        middle, late = statistics.median(times) * 1000, _percentile(times, 0.99) * 1000
        row = f"{name:<44}{middle:8.1f}{late:7.1f}"
        other = small["keys"].get(name)
        if other is not None:
            base = statistics.median(other) * 1000
            row += f"{base:8.1f}{_percentile(other, 0.99) * 1000:7.1f}{middle / base:7.2f}"
        rows.append(row)
    return [*rows, "", *(f"{name:<44}{took * 1000:9.1f} ms" for name, took in back.items())]


def main() -> None:
    """Build both jobs, measure, print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--sticks", type=int, default=10_000)
    options.add_argument("--edits", type=int, default=100_000)
    options.add_argument("--small", type=int, default=20, help="sticks of the small job, ten edits for each")
    options.add_argument("--only", default="", help="no keys but those whose name begins so")
    options.add_argument("--json", action="store_true", help="every figure as JSON [s]")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        large, small = home / "large.tenthmark", home / "small.tenthmark"
        write(large, asked.sticks, asked.edits, PARTS)
        write(small, asked.small, asked.small * 10, PARTS)
        bare = min(started(BARE, large, home) for _ in range(RUNS))
        figures = (*turn_about((large, small), home, asked.only), bare, deep(large))
        size = large.stat().st_size
    if asked.json:
        print(json.dumps(dict(zip(("large", "small", "bare", "back"), figures, strict=True))))
        return
    print(f"{asked.sticks:,} sticks, {asked.edits:,} edits, {size / 1e6:.0f} MB; small: {asked.small} sticks")
    print("\n".join(_table(*figures)))


if __name__ == "__main__":
    main()
