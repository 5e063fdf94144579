"""A widget that shows the job and changes it: keys wait until what they build upon is on show."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.reactive import var

from bench.core.edits import Edit
from bench.core.glimpse import neighbour
from bench.core.judging import Judged
from bench.core.records import Job
from bench.ui.messages import Accept, TakeInHand
from bench.ui.typing_line import TypingWidget

if TYPE_CHECKING:
    from bench.core.river import River

NO_STICK = "No stick in the rack yet. Press t for Stock, then a to add one."


class JobWidget(TypingWidget):
    """Base of panes, lists and screens that work on the job."""

    river: var[River | None] = var(None, init=False, always_update=True)
    accepted: var[Job] = var(Job(""), init=False, always_update=True)

    @property
    def hand(self) -> Judged | None:
        """The stick in hand, with what is tried on it."""
        return self.river.hand if self.river else None

    def traced(self) -> tuple[str, str] | None:
        """What a trace from here begins with, PART or STICK and its name; the stick in hand unless said."""
        from bench.sheets.tracing import STICK

        return (STICK, self.hand.stick.tag) if self.hand is not None else None

    @property
    def system(self) -> str:
        """Units of lengths, as accepted: what is only tried must not change how a figure is read."""
        return self.accepted.settings.units

    @property
    def built_on(self) -> Job:
        """The job that a change is held against here."""
        return self.accepted

    def accept(self, make: Callable[[Job], Edit]) -> None:
        """Accept an edit; one that the job refuses is refused here, while the line is still open.

        The next keys wait until it is on show: they may be about a row, a stick or a value that it makes.
        """
        job = self.built_on
        make(job).check(job)
        self.hold_keys()
        self.post_message(Accept(make, self.let_keys))

    def action_other(self, amount: int) -> None:
        """Take the stick before or after in hand."""
        if self.river is not None and self.river.rack:
            self.hold_keys()
            self.post_message(TakeInHand(neighbour(self.river, amount), self.let_keys))
