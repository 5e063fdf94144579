"""Looking for a better layout in the background: it shows how far it is; any change of the job stops it."""

from __future__ import annotations

import threading
from functools import partial
from typing import TYPE_CHECKING

from textual.message import Message
from textual.screen import Screen
from textual.worker import Worker

from bench.core.errors import Refusal
from bench.core.records import Scarfed

if TYPE_CHECKING:
    from bench.core.cutting import CutPlan, CutProblem
    from bench.core.river import River


class SearchMoved(Message):
    """From a search: how far it is."""

    def __init__(self, search: threading.Event, percent: int) -> None:
        super().__init__()
        self.search, self.percent = search, percent


class SearchFound(Message):
    """From a search: it is at an end or was stopped, with the best layout it has come upon.

    `changed` is the problem that the plan is of: with lengths in it, where parts are scarfed.
    """

    def __init__(
        self,
        search: threading.Event,
        problem: CutProblem,
        changed: CutProblem,
        plan: CutPlan,
        scarfed: tuple[Scarfed, ...],
    ) -> None:
        super().__init__()
        self.search, self.problem = search, problem
        self.changed, self.plan, self.scarfed = changed, plan, scarfed


class Searcher:
    """Runs at most one search, of the layout on show."""

    def __init__(self, screen: Screen[None], moves: int) -> None:
        self.screen, self.moves = screen, moves
        self.problem: CutProblem | None = None  # that is or was searched
        self.seed = 1
        self.asked = False  # whether the search that runs was asked for by a key
        self._stop = threading.Event()  # of the last search, which its messages are known by
        self._worker: Worker[None] | None = None

    @property
    def running(self) -> bool:
        """Whether it is looking."""
        return self._worker is not None and not self._stop.is_set()

    def runs(self, search: threading.Event) -> bool:
        """Whether a message comes from the search that runs now, not from one before it."""
        return self.running and search is self._stop

    def follow(self, river: River, drafting: bool) -> None:
        """A new river is on show: search it if it is another problem and not known to be the best."""
        if self.problem is not None and river.problem == self.problem:
            return
        self.stop()
        plan = river.plan
        if not self.moves or drafting or river.job.laid or plan is None:
            return
        jointed = {sized.part.name for sized in river.parts if sized.part.scarf is not None}
        if plan.optimal and not any(out.part in jointed for out in plan.unplaced):
            return
        self.seed = 1
        self.look(river)

    def look(self, river: River, asked: bool = False) -> None:
        """Search from the layout on show; another time than before."""
        if river.plan is None:
            return
        self.stop()
        self.problem, self._stop = river.problem, threading.Event()
        self.seed += 1
        self.asked = asked
        run = partial(self._run, river, river.plan, self.seed, self._stop)
        self._worker = self.screen.run_worker(run, thread=True, exclusive=True, group="search")

    def stop(self) -> bool:
        """Stop looking; True where it was."""
        was, self._worker, self.problem = self.running, None, None
        self._stop.set()
        return was

    def ended(self) -> None:
        """The search has said what it found."""
        self._worker = None

    def _run(self, river: River, plan: CutPlan, seed: int, stop: threading.Event) -> None:
        """In a thread of its own: a longer search, then lengths for what still has no place."""
        from bench.core import cutting, laying

        problem = river.problem
        moves = self.moves or cutting.usual_moves(problem)
        told = -1

        def moved(made: int) -> None:
            nonlocal told
            percent = min(100, 100 * made // moves)
            if percent > told:  # a message for each move would keep the screen from its keys
                told = percent
                self.screen.post_message(SearchMoved(stop, percent))

        try:
            found = cutting.plan(problem, moves, seed, [plan], stop=stop.is_set, progress=moved)
            changed, found, scarfed = laying.with_scarfs(
                problem, found, river.parts, river.job, stop=stop.is_set
            )
        except Refusal:
            changed, found, scarfed = problem, plan, ()
        self.screen.post_message(SearchFound(stop, problem, changed, found, scarfed))
