"""Undo and redo over job values. Undoing is an entry of its own, so the record shows that it happened."""

from dataclasses import dataclass, replace

from bench.core.edits import Edit
from bench.core.errors import Clash
from bench.core.records import Job

UNDO, REDO, EDIT = "undo", "redo", "edit"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the record: an accepted edit, or the undoing or redoing of one."""

    what: str  # EDIT, UNDO or REDO
    edit: Edit | None = None  # of EDIT


@dataclass(frozen=True, slots=True)
class History:
    """The job as it stands, what was before each edit, and what has been undone."""

    job: Job
    past: tuple[tuple[Job, Edit], ...] = ()
    future: tuple[tuple[Job, Edit], ...] = ()

    def accept(self, edit: Edit) -> "History":
        """The history with one more edit; raises a Refusal where the job does not allow it."""
        edit.check(self.job)
        return self._with(edit)

    def _with(self, edit: Edit) -> "History":
        if edit.belongs and self.past:
            return History(edit.change(self.job), self.past)
        return History(edit.change(self.job), (*self.past, (self.job, edit)))

    def undo(self) -> "History":
        """One accepted edit back; raises Clash where there is none. The start of the job stays."""
        if len(self.past) < 2:
            raise Clash("undo", "nothing", "no accepted change is left to undo")
        before, edit = self.past[-1]
        return replace(self, job=before, past=self.past[:-1], future=((self.job, edit), *self.future))

    def redo(self) -> "History":
        """One undone edit forward again; raises Clash where there is none."""
        if not self.future:
            raise Clash("redo", "nothing", "no undone change is left to redo")
        after, edit = self.future[0]
        return replace(self, job=after, past=(*self.past, (self.job, edit)), future=self.future[1:])

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


EMPTY = History(Job(""))
