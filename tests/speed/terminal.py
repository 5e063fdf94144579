"""A program on a pseudo-terminal: keys go in, what comes out is drawn, and timed.

The terminal answers the one question that a picture's end depends on, whether it draws a frame at once
(mode 2026); so each frame ends with a mark. Nothing is waited for by the clock alone: `until` waits for
what must come out, `quiet` for the output to stop, and the time of the last byte is what counts.
"""

import os
import re
import select
import signal
import struct
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

from tests.speed.picture import Picture

ROOT = Path(__file__).parents[2]
QUESTION, ANSWER = b"\x1b[?2026$p", b"\x1b[?2026;2$y"
UP, DOWN, LEFT, RIGHT, ESCAPE = b"\x1b[A", b"\x1b[B", b"\x1b[D", b"\x1b[C", b"\x1b"
LIMIT = 60.0  # seconds without what must come out: the measurement has failed


class Silent(Exception):
    """What must come out of the program did not."""


class Terminal:
    """One program on one pseudo-terminal; a context that ends the program and nothing else."""

    def __init__(
        self, command: Sequence[str], size: tuple[int, int], environment: Mapping[str, str], folder: str
    ) -> None:
        import fcntl
        import termios

        self.master, slave = os.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        self.picture = Picture(*size)
        self.came = 0.0  # when the last byte came out
        self.total = 0  # bytes that have come out
        self._tail = b""
        self.began = time.perf_counter()
        self.process = subprocess.Popen(
            list(command), stdin=slave, stdout=slave, stderr=slave, close_fds=True, start_new_session=True,
            env=dict(environment), cwd=folder,
        )  # fmt: skip
        os.close(slave)

    @property
    def pid(self) -> int:
        """Of the program."""
        return self.process.pid

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            try:
                while self.process.poll() is None and self.read(1.0) is not None:
                    pass
            finally:
                self.process.kill()
        self.process.wait()
        os.close(self.master)

    def send(self, keys: bytes) -> float:
        """Keys as the terminal sends them; the time of it."""
        now = time.perf_counter()
        os.write(self.master, keys)
        return now

    def read(self, seconds: float) -> bytes | None:
        """What comes out within so many seconds: empty where nothing does, None where the program is gone."""
        if not select.select([self.master], [], [], max(0.0, seconds))[0]:
            return b""
        try:
            chunk = os.read(self.master, 1 << 16)
        except OSError:
            return None
        if not chunk:
            return None
        self.came = time.perf_counter()
        self.total += len(chunk)
        self.picture.feed(chunk)
        seen = self._tail + chunk
        if QUESTION in seen:
            os.write(self.master, ANSWER)
            seen = b""
        self._tail = seen[-len(QUESTION) :]
        return chunk

    def until(self, pattern: str, after: int = 0) -> float:
        """Wait until a complete picture matches; the time of its last byte.

        Args:
            pattern: sought in the text of the picture.
            after: how many frames must be complete before.
        """
        wanted, end = re.compile(pattern, re.DOTALL), time.perf_counter() + LIMIT
        while True:
            drawn = not self.picture.drawing and self.picture.frames > after
            if drawn and wanted.search(self.picture.text):
                return self.came
            if self.read(1.0) is None or time.perf_counter() > end:
                raise Silent(f"{pattern!r} never came; the picture is\n{self.picture.text}")

    def quiet(self, seconds: float, first: float = LIMIT) -> float | None:
        """Wait until nothing comes out for so long; the time of the last byte, None where there was none.

        Args:
            seconds: of silence that end it.
            first: how long to wait for the first byte.
        """
        came = None
        while True:
            chunk = self.read(seconds if came is not None else first)
            if chunk is None:
                raise Silent(f"the program ended; the picture is\n{self.picture.text}")
            if not chunk:
                return came
            came = self.came


def environment(home: str, **more: str) -> dict[str, str]:
    """Of the programs measured: a modern terminal, compiled modules, a data folder of their own."""
    kept = {name: value for name, value in os.environ.items() if name in ("PATH", "HOME", "LANG", "LC_ALL")}
    return {
        **kept,
        "TERM": "xterm-256color",
        "COLORTERM": "truecolor",
        "LANG": kept.get("LANG", "C.UTF-8"),
        "TENTHMARK_HOME": home,
        "PYTHONPATH": str(ROOT),
        **more,
    }


def python(*words: str) -> list[str]:
    """A command of this interpreter."""
    return [sys.executable, *words]
