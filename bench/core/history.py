"""Undo and redo over job values. Undoing is an entry of its own, so the record shows that it happened.

The job is the fold of its entries. What can be undone stands as numbers of entries: the job before a change
is the job as it was after the entry before that, which is among the last few kept here, or is worked out
again from the record.
"""

from collections.abc import Sequence
from dataclasses import field
from typing import Protocol, overload

from bench.core.edits import Edit
from bench.core.errors import Clash
from bench.core.frozen import record, replace
from bench.core.records import Job
from bench.core.stack import NONE, Stack, Step

UNDO, REDO, EDIT = "undo", "redo", "edit"
KEPT = 200  # earlier jobs kept at hand where a record can tell the others


@record
class Entry:
    """One line of the record: an accepted edit, or the undoing or redoing of one."""

    what: str  # EDIT, UNDO or REDO
    edit: Edit | None = None  # of EDIT


class Teller(Protocol):
    """Tells what a history no longer keeps; may raise FileFault where the record cannot be read any more."""

    def job(self, number: int) -> Job:
        """The job as it was after so many entries."""
        ...

    def edit(self, number: int) -> Edit:
        """The edit of an entry, by its number from 1."""
        ...

    def at_hand(self, number: int) -> bool:
        """Whether the job after so many entries need not be worked out again."""
        ...


@record
class History:
    """The job as it stands, and which changes can be undone and made again."""

    job: Job
    back: Stack = NONE  # what was accepted, the start of the job at the bottom
    forward: Stack = NONE  # what was undone, the next to be made again on top
    count: int = field(default=0, compare=False)  # entries so far
    # Job and edit after each of the last entries, this one last; without a teller, after every entry.
    recent: tuple[tuple[Job, Edit | None], ...] = field(default=(), compare=False, repr=False)
    teller: Teller | None = field(default=None, compare=False, repr=False)

    @property
    def can_undo(self) -> bool:
        """Whether a change is left to undo; the start of the job stays."""
        return len(self.back) > 1

    @property
    def can_redo(self) -> bool:
        """Whether an undone change is left to be made again."""
        return bool(self.forward)

    @property
    def past(self) -> "Steps":
        """What can be undone, oldest first and the start of the job before it: each job before, and edit."""
        return Steps(self, list(self.back), before=True)

    @property
    def future(self) -> "Steps":
        """What can be made again, the next first: each job after, and edit."""
        return Steps(self, list(self.forward)[::-1], before=False)

    @property
    def last_edit(self) -> Edit | None:
        """The change that would be undone next; None at the very beginning."""
        step = self.back.top
        return None if step is None else self.edit_of(step.number)

    @property
    def job_before(self) -> Job:
        """The job before the last change and all that belongs to it; the job itself at the very beginning."""
        step = self.back.top
        return self.job if step is None else self.job_after(step.number - 1)

    def job_after(self, number: int) -> Job:
        """The job as it was after so many entries, 0 to `count`."""
        place = number - self.count + len(self.recent) - 1
        if 0 <= place < len(self.recent):
            return self.recent[place][0]
        return EMPTY.job if self.teller is None or number == 0 else self.teller.job(number)

    def at_hand(self, number: int, later: int = 0) -> bool:
        """Whether the job after so many entries will be told at once, when so many more entries have come."""
        last = self.count - len(self.recent)
        if self.teller is None or number > max(last, self.count + later - KEPT - 1):
            return True
        return self.teller.at_hand(number)

    def edit_of(self, number: int) -> Edit:
        """The edit of an entry by its number, 1 to `count`; raises Clash where it carries none."""
        place = number - self.count + len(self.recent) - 1
        edit = self.recent[place][1] if place >= 0 else None
        if edit is None and self.teller is not None:
            return self.teller.edit(number)
        if edit is None:
            raise Clash("entry", number, "it carries no edit")
        return edit

    def alone(self) -> "History":
        """The same without the jobs before it at hand; only where a teller can tell them."""
        return replace(self, recent=self.recent[-1:])

    def accept(self, edit: Edit) -> "History":
        """The history with one more edit; raises a Refusal where the job does not allow it."""
        edit.check(self.job)
        return self._with(edit)

    def _with(self, edit: Edit) -> "History":
        number, top = self.count + 1, self.back.top
        if edit.belongs and top is not None:
            back = self.back.pop().push(Step(top.number, number))
        else:
            back = self.back.push(Step(number, number))
        return self._after(edit.change(self.job), edit, back, NONE)

    def _after(self, job: Job, edit: Edit | None, back: Stack, forward: Stack) -> "History":
        kept = self.recent if self.teller is None else self.recent[-KEPT:]
        return History(job, back, forward, self.count + 1, (*kept, (job, edit)), self.teller)

    def undo(self) -> "History":
        """One accepted edit back; raises Clash where there is none. The start of the job stays."""
        step = self.back.top
        if step is None or not self.can_undo:
            raise Clash("undo", "nothing", "no accepted change is left to undo")
        job = self.job_after(step.number - 1)
        return self._after(job, None, self.back.pop(), self.forward.push(step))

    def redo(self) -> "History":
        """One undone edit forward again; raises Clash where there is none."""
        step = self.forward.top
        if step is None:
            raise Clash("redo", "nothing", "no undone change is left to redo")
        return self._after(self.job_after(step.last), None, self.back.push(step), self.forward.pop())

    def follow(self, entry: Entry) -> "History":
        """The history after an entry of the record, which was checked when it was accepted.

        Raises Clash where there is nothing to undo or redo, UnknownName where a stick or part is gone.
        """
        if entry.what == UNDO:
            return self.undo()
        if entry.what == REDO:
            return self.redo()
        if entry.edit is None:
            raise Clash("entry", entry.what, "it carries no edit")
        return self._with(entry.edit)


class Steps(Sequence[tuple[Job, Edit]]):
    """A row of jobs and edits to be looked through; each is told when it is asked for."""

    def __init__(self, history: History, steps: list[Step], before: bool) -> None:
        self._history, self._steps, self._before = history, steps, before

    def __len__(self) -> int:
        return len(self._steps)

    @overload
    def __getitem__(self, place: int) -> tuple[Job, Edit]: ...

    @overload
    def __getitem__(self, place: slice) -> list[tuple[Job, Edit]]: ...

    def __getitem__(self, place: int | slice) -> tuple[Job, Edit] | list[tuple[Job, Edit]]:
        if isinstance(place, slice):
            return [self[one] for one in range(*place.indices(len(self)))]
        step = self._steps[place]
        number = step.number - 1 if self._before else step.last
        return self._history.job_after(number), self._history.edit_of(step.number)


EMPTY = History(Job(""))
