"""What is measured through the terminal: the program and the bare app beside it, turn about."""

import itertools
import re
import statistics
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.speed import usage
from tests.speed.terminal import DOWN, ESCAPE, LEFT, RIGHT, UP, Terminal, environment, python

ROOT = Path(__file__).parents[2]
PAINTED = {"bare": r"0 steps.*palette", "ours": r"in hand S-001.*(ACCEPT|HOLD|REJECT)"}
WHOLE = {"bare": PAINTED["bare"], "ours": r"\d+ of \d+ fit"}  # when nothing is worked out any more
VALUE = {"bare": r"(-?\d+) steps", "ours": r"> +(\d+\.\d+) of 10"}
REST = 0.3  # seconds of silence after which a program counts as at rest
BETWEEN = 0.04  # the same after one key: longer than two frames
BLOCK = 25  # keys in a row to one of the two before the other has its turn
EACH_WAY = 60  # held down, then the other way: the value never comes to its end


@dataclass(frozen=True, slots=True)
class Bench:
    """Where the programs run: a data folder, and how to start each of them on a job."""

    home: Path

    def command(self, name: str, job: Path) -> list[str]:
        """Of the program on a job, or of the bare app."""
        if name == "bare":
            return python(str(ROOT / "tests" / "speed" / "bare.py"))
        return python("-m", "bench", str(job))

    def open(self, name: str, job: Path, size: tuple[int, int]) -> Terminal:
        """A program just started."""
        return Terminal(self.command(name, job), size, environment(str(self.home)), str(ROOT))

    @contextmanager
    def settled(self, name: str, job: Path, size: tuple[int, int]) -> Iterator[Terminal]:
        """A program that has painted and come to rest."""
        with self.open(name, job, size) as terminal:
            terminal.until(WHOLE[name])
            terminal.quiet(REST, first=REST)
            yield terminal


def percentile(values: list[float], share: float) -> float:
    """The value that so large a share of them does not exceed."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def start(bench: Bench, job: Path, size: tuple[int, int], runs: int) -> dict[str, float]:
    """Seconds from the command to the first complete picture, to the last byte, and of the first key."""
    found: dict[str, list[float]] = {}
    for run in range(runs + 1):
        for name in ("bare", "ours"):
            with bench.open(name, job, size) as terminal:
                painted = terminal.until(PAINTED[name])
                used = usage.cpu(terminal.pid) if usage.HERE else 0.0
                shown = re.search(VALUE[name], terminal.picture.text)
                assert shown, f"{name}: no value on the first picture"
                sent = terminal.send(UP)
                changed = terminal.until(rf"(?!{re.escape(shown[0])}){VALUE[name]}")
                rest = terminal.quiet(REST, first=REST) or changed
                if run:  # the first one compiles the modules
                    found.setdefault(f"{name} paint", []).append(painted - terminal.began)
                    found.setdefault(f"{name} cpu", []).append(used)
                    found.setdefault(f"{name} key", []).append(changed - sent)
                    found.setdefault(f"{name} rest", []).append(rest - terminal.began)
    return {name: statistics.median(values) for name, values in found.items()}


def memory(bench: Bench, job: Path, size: tuple[int, int], runs: int) -> dict[str, float]:
    """Megabytes after the first picture, at rest."""
    found: dict[str, list[float]] = {}
    for _ in range(runs):
        for name in ("bare", "ours"):
            with bench.settled(name, job, size) as terminal:
                for kind, value in zip(("rss", "pss"), usage.memory(terminal.pid), strict=True):
                    found.setdefault(f"{name} {kind}", []).append(value)
    return {name: statistics.median(values) for name, values in found.items()}


def idle(bench: Bench, job: Path, size: tuple[int, int], seconds: float) -> dict[str, float]:
    """Processor seconds, wake-ups and bytes while nobody touches either; both at the same time."""
    with bench.settled("bare", job, size) as bare, bench.settled("ours", job, size) as ours:
        both = {"bare": bare, "ours": ours}
        for terminal in both.values():
            terminal.quiet(3.0, first=3.0)  # what goes on behind the first picture comes to its end
        before = {name: (usage.cpu(t.pid), usage.switches(t.pid), t.total) for name, t in both.items()}
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            for terminal in both.values():
                terminal.read(min(1.0, left / 2))
        found = {}
        for name, terminal in both.items():
            cpu, woken, total = before[name]
            found[f"{name} cpu"] = usage.cpu(terminal.pid) - cpu
            found[f"{name} wakes"] = usage.switches(terminal.pid) - woken
            found[f"{name} bytes"] = terminal.total - total
        return found


def latency(bench: Bench, job: Path, size: tuple[int, int], keys: int) -> dict[str, float]:
    """Milliseconds from a key to the last byte of its picture; bytes and processor time of a key."""
    times: dict[str, list[float]] = {"bare": [], "ours": []}
    written = dict.fromkeys(times, 0)
    spent = dict.fromkeys(times, 0.0)
    with bench.settled("bare", job, size) as bare, bench.settled("ours", job, size) as ours:
        both = {"bare": bare, "ours": ours}
        for terminal in both.values():
            for key in (UP, DOWN) * 5:  # what is only made at the first keys
                terminal.send(key)
                terminal.quiet(BETWEEN)
        sent = 0
        while sent < keys:
            sent += BLOCK
            for name, terminal in both.items():
                key = UP if sent // BLOCK % 2 else DOWN
                for _ in range(BLOCK):
                    total, used = terminal.total, usage.cpu(terminal.pid) if usage.HERE else 0.0
                    began = terminal.send(key)
                    ended = terminal.quiet(BETWEEN)
                    assert ended is not None, f"{name}: a key changed nothing"
                    times[name].append((ended - began) * 1e3)
                    written[name] += terminal.total - total
                    spent[name] += (usage.cpu(terminal.pid) - used) * 1e3 if usage.HERE else 0.0
    found: dict[str, float] = {}
    for name, values in times.items():
        found[f"{name} p50"] = statistics.median(values)
        found[f"{name} p99"] = percentile(values, 0.99)
        found[f"{name} worst"] = max(values)
        found[f"{name} bytes"] = written[name] / len(values)
        found[f"{name} cpu"] = spent[name] / len(values)
    return found


def held(
    bench: Bench, name: str, job: Path, size: tuple[int, int], rate: int, seconds: float
) -> dict[str, float]:
    """A key held down, up and down by turns: what is behind meanwhile [keys], and afterwards [ms]."""
    pattern = re.compile(VALUE[name])
    shown: list[tuple[float, float]] = []
    with bench.settled(name, job, size) as terminal:

        def look(seconds: float) -> bool:
            came = bool(terminal.read(seconds))
            if came and not terminal.picture.drawing and (found := pattern.search(terminal.picture.text)):
                shown.append((terminal.came, float(found[1])))
            return came

        terminal.send(UP)
        terminal.quiet(BETWEEN)
        before = pattern.search(terminal.picture.text)
        assert before, f"{name}: no value on the picture"
        used = usage.cpu(terminal.pid) if usage.HERE else 0.0
        total, count = terminal.total, int(rate * seconds)
        times = [0.0] * count
        began = time.perf_counter()
        for number in range(count):
            while (left := began + number / rate - time.perf_counter()) > 0:
                look(left)
            times[number] = terminal.send(UP if number // EACH_WAY % 2 == 0 else DOWN)
        while look(REST):
            pass
        ended = max(terminal.came, times[-1])
        spent = (usage.cpu(terminal.pid) - used) if usage.HERE else 0.0
        most, lags, last = _behind(times, float(before[1]), shown)
        return {
            "backlog": most,
            "left": last,
            "drain": (ended - times[-1]) * 1e3,
            "lag p99": percentile(lags, 0.99) * 1e3 if lags else 0.0,
            "bytes": (terminal.total - total) / count,
            "a second": (terminal.total - total) / seconds,
            "cpu": spent / seconds * 100,
        }


def _behind(
    times: list[float], before: float, shown: list[tuple[float, float]]
) -> tuple[int, list[float], int]:
    """Most keys sent and not yet shown, how late each value came [s], and the keys never shown at the end."""
    places, level = list[int](), 0
    for number in range(len(times)):
        level += 1 if number // EACH_WAY % 2 == 0 else -1
        places.append(level)
    values = sorted({before, *(value for _, value in shown)})
    step = min((b - a for a, b in itertools.pairwise(values)), default=1.0)
    most, lags, done, sent = 0, list[float](), -1, 0
    for at, value in shown:
        while sent < len(times) and times[sent] <= at:
            sent += 1
        level = round((value - before) / step)
        # The latest key, not sent later than this, after which the value is the one shown.
        done = next((key for key in range(sent - 1, done, -1) if places[key] == level), done)
        most = max(most, sent - 1 - done)
        if done >= 0:
            lags.append(at - times[done])
    return most, lags, len(times) - 1 - done


def hour(bench: Bench, job: Path, size: tuple[int, int], keys: int) -> dict[str, float]:
    """An hour at the bench in a row of keys, one value in 250 kept: megabytes as it goes on."""
    walk = [
        *([UP * 10, DOWN * 10] * 4), b"\t" * 5 + b"s", UP * 5 + DOWN * 5, b"c", DOWN * 10 + UP * 10, b"f",
        RIGHT * 3 + LEFT * 2, UP * 5, ESCAPE, b"tpk"[:2], b"f", b"wf", b"iomh", b"f", b"lr", b"f", RIGHT * 5,
    ]  # fmt: skip
    with bench.settled("ours", job, size) as terminal:
        terminal.quiet(2.0, first=2.0)
        found, pressed, turn = {"began": usage.memory(terminal.pid)[0]}, 0, 0
        while pressed < keys:
            turn += 1
            for batch in [*walk, UP if turn % 4 else DOWN, b"\r"] if turn % 2 else walk:
                terminal.send(batch)
                terminal.quiet(BETWEEN if batch == ESCAPE else 0.012, first=0.5)
                pressed += len(re.sub(rb"\x1b\[.", b".", batch))
            if "tenth" not in found and pressed > keys / 10:
                found["tenth"] = usage.memory(terminal.pid)[0]
        terminal.until(PAINTED["ours"].replace("S-001", ""))
        terminal.quiet(2.0, first=2.0)
        return {**found, "end": usage.memory(terminal.pid)[0], "keys": pressed, "kept": (turn + 1) // 2}
