"""How fast and how light the program is: `python -m tests.speed [--quick] [--json FILE] [--only NAME ...]`.

The program runs on a pseudo-terminal, a bare Textual app (`bare.py`) beside it in the same run, turn about;
what the machine makes of both is told as a ratio. `--quick` takes about two minutes, the whole about fifteen.
"""

import argparse
import json
import os
import platform
import sys
import tempfile
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path

from tests.speed import computed, jobs, usage

NARROW, WIDE = (80, 24), (160, 45)
LONG = "linux only: a pseudo-terminal and /proc are wanted"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table."""

    what: str
    ours: float
    unit: str
    bare: float | None = None
    bar: str = ""
    holds: bool | None = None

    def line(self) -> str:
        """As it is printed."""
        bare = f"{self.bare:10.3f}" if self.bare is not None else " " * 10
        ratio = f"{self.ours / self.bare:7.2f}" if self.bare else " " * 7
        word = {True: "holds", False: "MISSED", None: ""}[self.holds]
        return (
            f"{self.what:<54} {self.ours:10.3f} {self.unit:<6} {bare} {ratio}  {self.bar:<24} {word}".rstrip()
        )


def under(what: str, ours: float, unit: str, bare: float, most: float) -> Row:
    """A row whose bar is so many times the bare app."""
    return Row(what, ours, unit, bare, f"<= {most:g} x bare", ours <= most * bare)


def below(what: str, ours: float, unit: str, most: float, bare: float | None = None) -> Row:
    """A row whose bar is a figure."""
    return Row(what, ours, unit, bare, f"<= {most:g} {unit}", ours <= most)


class Run:
    """The measurements, each a group of rows, on jobs of its own."""

    def __init__(self, folder: Path, quick: bool) -> None:
        self.quick, self.folder = quick, folder
        self.large = jobs.written(folder, 200, 60)
        self.middle = jobs.written(folder, 20, 60)
        self.live = jobs.written(folder, 20, 60, by_stick=True)

    def _bench(self):  # type: ignore[no-untyped-def]
        from tests.speed import driven

        return driven, driven.Bench(self.folder)

    def start(self) -> list[Row]:
        """Start to first picture."""
        driven, bench = self._bench()
        rows = []
        for size in (NARROW,) if self.quick else (NARROW, WIDE):
            at = f"{size[0]} x {size[1]}, 200 sticks"
            found = driven.start(bench, self.large, size, 3 if self.quick else 11)
            rows += [
                under(f"start to first picture, {at}", found["ours paint"], "s", found["bare paint"], 1.25),
                under("  of it processor time", found["ours cpu"], "s", found["bare cpu"], 1.25),
                Row("  first key answered after the picture", found["ours key"], "s", found["bare key"]),
                Row(
                    "  start to the last byte, that key and all", found["ours rest"], "s", found["bare rest"]
                ),
            ]
        return rows

    def memory(self) -> list[Row]:
        """Memory after the first picture."""
        driven, bench = self._bench()
        found = driven.memory(bench, self.large, NARROW, 1 if self.quick else 5)
        return [
            under("memory at rest, resident, 200 sticks", found["ours rss"], "MB", found["bare rss"], 1.3),
            Row("  proportional share", found["ours pss"], "MB", found["bare pss"]),
        ]

    def hour(self) -> list[Row]:
        """Memory after an hour's keys."""
        driven, bench = self._bench()
        keys = 1_000 if self.quick else 50_000
        found = driven.hour(bench, self.large, NARROW, keys)
        whole = (found["end"] / found["began"] - 1) * 100
        after = (found["end"] / found["tenth"] - 1) * 100
        return [
            below(f"growth over {keys} keys, {found['kept']:.0f} values kept", whole, "%", 3),
            below("  of it after the first tenth", after, "%", 3),
            Row("  memory in the end", found["end"], "MB"),
        ]

    def idle(self) -> list[Row]:
        """A minute in which nobody touches a key."""
        driven, bench = self._bench()
        seconds = 10 if self.quick else 60
        found = driven.idle(bench, self.large, NARROW, seconds)
        more = found["ours cpu"] <= found["bare cpu"] and found["ours wakes"] < found["bare wakes"]
        named = f"idle for {seconds} s, processor time"
        return [
            Row(named, found["ours cpu"] * 1e3, "ms", found["bare cpu"] * 1e3, "better than bare", more),
            Row("  wake-ups", found["ours wakes"], "", found["bare wakes"], "none", not found["ours wakes"]),
            Row(
                "  bytes written",
                found["ours bytes"],
                "",
                found["bare bytes"],
                "none",
                not found["ours bytes"],
            ),
        ]

    def latency(self) -> list[Row]:
        """A key to the last byte of its picture."""
        driven, bench = self._bench()
        rows = []
        named = (("a step on Float", self.middle), ("a step that resizes every part", self.live))
        for what, job in named:
            found = driven.latency(bench, job, WIDE, 100 if self.quick else 1_000)
            rows += [
                under(f"{what}, key to last byte, p50", found["ours p50"], "ms", found["bare p50"], 2),
                below("  p99", found["ours p99"], "ms", 16, found["bare p99"]),
                Row("  longest", found["ours worst"], "ms", found["bare worst"]),
                Row("  processor time a key", found["ours cpu"], "ms", found["bare cpu"]),
                Row("  bytes a key", found["ours bytes"], "B", found["bare bytes"]),
            ]
        return rows

    def held(self) -> list[Row]:
        """A key held down."""
        driven, bench = self._bench()
        rows = []
        seconds = 4 if self.quick else 20
        for rate in (30, 100):
            ours, bare = (
                driven.held(bench, name, self.middle, WIDE, rate, seconds) for name in ("ours", "bare")
            )
            what = f"held, {rate}/s for {seconds} s, right after the last key"
            rows += [
                Row(what, ours["drain"], "ms", bare["drain"], "no backlog: <= 100 ms", ours["drain"] <= 100),
                Row("  most keys behind", ours["backlog"], "", bare["backlog"]),
                Row("  a value late by, p99", ours["lag p99"], "ms", bare["lag p99"]),
                Row("  bytes a second", ours["a second"], "B", bare["a second"], "a serial line: <= 11520",
                    ours["a second"] <= 11_520),
                Row("  processor", ours["cpu"], "%", bare["cpu"]),
            ]  # fmt: skip
        return rows

    def core(self) -> list[Row]:
        """What is measured without a terminal."""
        plans = computed.plans(3 if self.quick else 15)
        return [
            below("core step: reading, gravity, verdict, section", computed.step(False) * 1e6, "us", 100),
            below("  the same, section by the stick in hand", computed.step(True) * 1e6, "us", 100),
            below("a section solved, all ratios", computed.solve() * 1e6, "us", 100),
            below("cut plan of 55 to 60 parts, packed quickly", plans["packed"] * 1e3, "ms", 10),
            below("  searched as well", plans["searched"] * 1e3, "ms", 50),
            Row("opening a job of 200 sticks, 403 entries", computed.opened(self.large) * 1e3, "ms"),
            Row("  and working all of it out", computed.first_river(self.large) * 1e3, "ms"),
        ]


GROUPS = ("core", "start", "memory", "idle", "latency", "held", "hour")


def here() -> str:
    """The class of machine, so that figures are held against their like."""
    system = f"{platform.machine()}, {platform.system()}, Python {platform.python_version()}"
    return f"{os.cpu_count()} processors, {system}"


def main() -> None:
    """Measure, print, and write where asked."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--quick", action="store_true", help="fewer repeats")
    parser.add_argument("--json", type=Path, help="write the rows to a file as well")
    parser.add_argument("--only", nargs="+", choices=GROUPS, default=GROUPS, help="these groups")
    given = parser.parse_args()
    print(f"{here()}; load {usage.load()}")
    print(f"{'':<54} {'ours':>10} {'':<6} {'bare':>10} {'ratio':>7}  bar")
    found: list[Row] = []
    with tempfile.TemporaryDirectory(prefix="tenthmark-speed-") as folder:
        run = Run(Path(folder), given.quick)
        for name in given.only:
            measure: Callable[[], list[Row]] = getattr(run, name)
            if name != "core" and not usage.HERE:
                print(f"{name}: {LONG}")
                continue
            for row in measure():
                print(row.line(), flush=True)
                found.append(row)
    print(f"load {usage.load()}")
    if given.json:
        rows = [asdict(row) for row in found]
        text = json.dumps({"machine": here(), "load": usage.load(), "rows": rows}, indent=2)
        given.json.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main())
