"""The thread that writes: a slow disk never holds up a key."""

import contextlib
import queue
import threading
from collections.abc import Callable

from bench.core.errors import Refusal
from bench.core.history import Entry
from bench.storage.jobfile import JobFile

RETRY_S = 15.0  # between two tries of what could not be written [s]


class Saver(threading.Thread):
    """Writes what was accepted, in order, and says when it is on disk.

    What could not be written is kept and tried again with the next save, every 15 s, and at the end. While
    everything is written it only waits. From its start on the saver owns the file: nobody else appends or
    closes.
    """

    def __init__(self, file: JobFile, done: Callable[[int, str | None], None]) -> None:
        """A saver of one file, to be started.

        Args:
            file: to write to.
            done: called in this thread after each try that came to something new, with the number of entries
                on disk, and what is wrong or None. It must not wait for the thread that calls `finish`.
        """
        # A disk that hangs must not keep the program from ending; an orderly end goes through `finish`.
        super().__init__(name="saver", daemon=True)
        self._file = file
        self._done = done
        self._queue: queue.SimpleQueue[tuple[Entry, str] | None] = queue.SimpleQueue()
        self._unwritten: list[tuple[Entry, str]] = []
        self._told: tuple[int, int, str | None] | None = None

    @property
    def problem(self) -> str:
        """Why the last try wrote nothing; empty where it did."""
        return (self._told and self._told[2]) or ""

    @property
    def entries(self) -> int:
        """How many entries are on disk."""
        return self._file.entries

    def save(self, entry: Entry, at: str) -> None:
        """Queue an entry accepted at a time, ISO; returns at once."""
        self._queue.put((entry, at))

    def finish(self, timeout: float = 10.0) -> bool:
        """Write what is queued, close the file and stop.

        Args:
            timeout: how long to wait for the disk [s].
        Returns:
            True if all was written.
        """
        if self.ident is None:
            self.start()
        self._queue.put(None)
        self.join(timeout)
        return not self.is_alive() and not self._unwritten and not self._late()

    def _late(self) -> bool:
        """Was anything but the sign to stop queued after the thread ended?"""
        left = []
        while not self._queue.empty():
            left.append(self._queue.get())
        self._unwritten += [item for item in left if item is not None]
        return bool(self._unwritten)

    def run(self) -> None:
        """Write until told to stop; what queues up during one write goes into the next, together."""
        stop = False
        while not stop:
            self._keep_aside()
            batch = self._waited_for()
            while not self._queue.empty():
                batch.append(self._queue.get())
            stop = None in batch
            self._unwritten += [item for item in batch if item is not None]
            if self._unwritten:
                self._write()
        self._file.close()

    def _keep_aside(self) -> None:
        """The snapshots that are due, one at a time: whatever is to be saved goes first."""
        while self._queue.empty() and self._file.keep_aside():
            pass

    def _waited_for(self) -> list[tuple[Entry, str] | None]:
        """The next of the queue; nothing where something is unwritten and it is time to try again."""
        try:
            return [self._queue.get(timeout=RETRY_S if self._unwritten else None)]
        except queue.Empty:
            return []

    def _write(self) -> None:
        problem, tried = None, len(self._unwritten)
        try:
            self._file.append(self._unwritten)
            self._unwritten = []
        except Refusal as refusal:
            problem = refusal.message
        except Exception as unforeseen:
            # Whatever it was, a saver that stopped without a word would be worse.
            problem = f"{self._file.path}: it could not be written ({unforeseen})"
        told, self._told = self._told, (self._file.entries, tried, problem)
        if told == self._told:
            return  # a try that came to the same
        # Saving goes on when nobody is left to be told, as while the program ends.
        with contextlib.suppress(Exception):
            self._done(self._file.entries, problem)
