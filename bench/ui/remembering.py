"""Earlier jobs worked out again in a thread, so that no key waits for them."""

import contextlib
from collections.abc import Callable
from functools import partial

from textual.screen import Screen

from bench.core.errors import Refusal
from bench.core.history import UNDO, History
from bench.core.record import Record
from bench.core.records import Job
from bench.ui.ledger import Ledger
from bench.ui.messages import nothing
from bench.ui.settling import spare, unwatched

AHEAD = 80  # presses that it begins before an earlier job is wanted: more than two seconds of a key held
OVER = 20  # entries on the other side of that: a press may go over more than one


class Remembering:
    """What earlier jobs are asked of: tells which are at hand, and works out others."""

    def __init__(self, screen: Screen[None], ledger: Ledger) -> None:
        self._screen, self._ledger = screen, ledger
        self._working = False
        self._lost: list[int] = []  # after how many entries those are that could not be worked out
        self._next: tuple[int, Callable[[], None]] | None = None  # what was asked for meanwhile, the last

    def job(self, number: int) -> Job:
        """The job as it was after so many entries; at once only where it is at hand."""
        return self._ledger.after(number)

    def at_hand(self, number: int) -> bool:
        """Whether the job after so many entries is told at once, or that it cannot be read."""
        lost = any(one - AHEAD <= number <= one for one in self._lost)
        return lost or self._ledger.history.at_hand(number)

    def want(self, number: int, tell: Callable[[], None] = nothing) -> None:
        """Work out the job after so many entries, and those before it; then tell."""
        if self._working:
            self._next = (number, tell)
            return
        self._working = True
        record = self._ledger.record
        number = min(max(0, number), len(record))
        self._screen.run_worker(
            partial(self._work, record.apart(self._ledger.job), number, tell), thread=True
        )

    def step(self, what: str) -> None:
        """A change was undone or made again: have ready what more of these keys will ask for."""
        history = self._ledger.history
        if what == UNDO:
            top = history.back.top
            number = 0 if top is None else max(0, top.number - 1 - AHEAD)
            over = OVER
        else:
            top, far = history.forward.top, min(AHEAD, max(0, len(history.forward) - 1))
            number = 0 if top is None else top.last + far
            over = AHEAD
        if number and not self._working and not history.at_hand(number, AHEAD):
            self.want(number + over)

    def _work(self, record: Record, number: int, tell: Callable[[], None]) -> None:
        found: History | None = None
        unwatched()
        with contextlib.suppress(Refusal):  # whoever asks for it meets that again
            found = record.history(number)
        self._screen.call_later(self._take, found, number, tell)

    def _take(self, found: History | None, number: int, tell: Callable[[], None]) -> None:
        self._working = False
        spare()
        if found is not None:
            self._ledger.record.take(found)
            self._lost.clear()  # the drive is there again
        else:
            self._lost.append(number)
        tell()
        if self._next is not None:
            (number, then), self._next = self._next, None
            if self.at_hand(number):
                then()
            else:
                self.want(number, then)
