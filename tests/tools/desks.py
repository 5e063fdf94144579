"""The app as the program wires it, on a job file, for tests of whole runs."""

from pathlib import Path

from bench import launch
from bench.core.records import Species
from bench.ui.app import BenchApp
from tests.tools.driving import CLOCK


def opened(desk: launch.Desk, woods: dict[str, Species], path: Path | None) -> BenchApp:
    """The app on a job, or on none yet, with a clock that stands still."""
    job = desk.open(path) if path is not None else None
    desk.app = BenchApp(job, woods, desk.save, desk.start, now=lambda: CLOCK)
    return desk.app
