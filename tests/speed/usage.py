"""What a process has used, as the kernel tells it: Linux only."""

import os
import sys
from pathlib import Path

HERE = sys.platform.startswith("linux")
MISSING = "needs /proc: Linux only"


def cpu(pid: int) -> float:
    """Processor time of all threads so far [s], in nanoseconds where the kernel keeps them."""
    total = 0.0
    for task in Path(f"/proc/{pid}/task").iterdir():
        total += int((task / "schedstat").read_text().split()[0]) / 1e9
    return total


def ticks(pid: int) -> float:
    """Processor time of the process, ended threads included, to a hundredth [s]."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def switches(pid: int) -> int:
    """How often its threads have gone to sleep and been woken: voluntary context switches."""
    total = 0
    for task in Path(f"/proc/{pid}/task").iterdir():
        for line in (task / "status").read_text().splitlines():
            if line.startswith("voluntary_ctxt_switches"):
                total += int(line.split()[1])
    return total


def memory(pid: int) -> tuple[float, float]:
    """Resident and proportional set size [MB of a million bytes]."""
    found = {}
    for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        name, _, rest = line.partition(":")
        if name in ("Rss", "Pss"):
            found[name] = int(rest.split()[0]) * 1024 / 1e6
    return found["Rss"], found["Pss"]


def load() -> str:
    """How busy the machine is: the load of the last minute over the number of processors."""
    try:
        return f"{os.getloadavg()[0]:.1f} on {os.cpu_count()} processors"
    except (AttributeError, OSError):
        return "unknown"
