"""The job on the bench: what is accepted, what is only tried, and the record; no widget in it."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from bench.core.cutting import CutPlan, CutProblem
from bench.core.edits import (
    ChooseSection,
    CutShort,
    Edit,
    LayOut,
    MarkCut,
    PutStick,
    RemoveStick,
    RipPlank,
    SpoilPiece,
    TakeOvenTest,
    TakeReading,
    TakeWeighing,
)
from bench.core.errors import Refusal
from bench.core.history import EDIT, UNDO, Entry, History
from bench.core.records import Job, Scarfed, Species
from bench.core.river import River, flow
from bench.core.sawing import Change, changes, laid_from, with_lengths

AT_SAW = (MarkCut, SpoilPiece, CutShort, RipPlank)  # from the first of these on the layout stays


def _dated(edit: Edit, at: str) -> Edit:
    """A measurement with the day it was taken on: readings of one day count once."""
    day = at[:10] or str(date.min)
    if isinstance(edit, TakeReading):
        return replace(edit, reading=replace(edit.reading, taken=day))
    if isinstance(edit, TakeWeighing):
        return replace(edit, weighing=replace(edit.weighing, taken=day))
    if isinstance(edit, TakeOvenTest):
        return replace(edit, test=replace(edit.test, taken=day))
    return edit


class Ledger:
    """Owns the job. Every change goes through here, and comes out as an entry to be saved."""

    def __init__(
        self, history: History, woods: dict[str, Species], record: Sequence[tuple[str, Entry]]
    ) -> None:
        self.history, self.woods = history, woods
        self.record = list(record)
        self.drafts: dict[str, Edit] = {}
        self.waiting: dict[str, str] = {}  # tried, but something is still missing: subject -> why
        self.tag = ""  # the stick in hand
        self.fresh: Edit | None = None  # accepted since the river was worked out; not what was undone
        self.river: River | None = None
        self.scarfed: tuple[Scarfed, ...] = ()  # parts laid out as lengths, not yet lines of the job

    @property
    def job(self) -> Job:
        """The job as accepted."""
        return self.history.job

    @property
    def trying(self) -> bool:
        """Whether anything is tried and not kept."""
        return bool(self.drafts or self.waiting)

    def flow(self) -> tuple[River, dict[str, str]]:
        """The river with the drafts in it, and which drafts the job no longer allows, with the reason."""
        job, dropped = self.job, dict[str, str]()
        for subject, edit in list(self.drafts.items()):
            try:
                job = edit.apply(job)
            except Refusal as refusal:
                del self.drafts[subject]
                dropped[subject] = str(refusal)
        tags = [stick.tag for stick in self.job.sticks]
        there = {f"{what} {tag}" for tag in tags for what in ("reading", "weighing", "moisture")}
        for subject in [subject for subject in self.waiting if subject not in there]:
            del self.waiting[subject]
            dropped[subject] = "its stick is gone"
        job = with_lengths(job, self.scarfed)
        self.river = flow(job, self.woods, self.tag, self.river, settled=not self.drafts)
        self.tag = self.river.tag
        return self.river, dropped

    def attempt(self, edit: Edit, at: str) -> bool:
        """Try an edit at a time, ISO; one that changes nothing is no draft: False."""
        self.waiting.pop(edit.subject, None)
        edit = _dated(edit, at)
        if edit.change(self.job) == self.job:
            self.drafts.pop(edit.subject, None)
            return False
        self.drafts[edit.subject] = edit
        return True

    def wait(self, subject: str, why: str) -> None:
        """Something is tried that cannot be kept yet."""
        self.drafts.pop(subject, None)
        self.waiting[subject] = why

    def drop(self) -> set[str]:
        """Nothing is tried any more; the subjects of what was."""
        subjects = {*self.drafts, *self.waiting}
        self.drafts.clear()
        self.waiting.clear()
        return subjects

    def accept(self, make: Edit | Callable[[Job], Edit], at: str) -> tuple[Entry, ...]:
        """Accept an edit of the job as it stands, at a time, ISO; raises a Refusal and changes nothing.

        With the first cut the layout on show is accepted before it. Nothing where the job is as it was.
        """
        edit = make if isinstance(make, Edit) else make(self.job)
        begun = self._begin(at) if isinstance(edit, AT_SAW) else ()
        return (*begun, *self._accept(edit, at))

    def _begin(self, at: str) -> tuple[Entry, ...]:
        """From the first cut on the layout stays."""
        river = self.river
        if self.job.laid or self.drafts or river is None or river.plan is None or not river.plan.placed:
            return ()
        layout = LayOut(laid_from(river.plan), self.scarfed)
        self.scarfed = ()
        self.history = self.history.accept(layout)
        return (self._note(Entry(EDIT, layout), at),)

    def _accept(self, edit: Edit, at: str) -> tuple[Entry, ...]:
        edit = _dated(edit, at)
        if isinstance(edit, ChooseSection):
            # A choice that leaves nothing to show is refused here, not found out on every screen.
            edit.check(self.job)
            refusal = flow(edit.change(self.job), self.woods, self.tag, self.river).section.refusal
            if refusal is not None:
                raise refusal
        tags = [stick.tag for stick in self.job.sticks]
        edit.check(self.job)
        if edit.change(self.job) == self.job:
            return ()  # nothing to record
        self.history = self.history.accept(edit)
        self._follow(edit, tags)
        self.drafts.pop(edit.subject, None)
        self.waiting.pop(edit.subject, None)
        self.fresh = edit
        self.scarfed = ()
        return (self._note(Entry(EDIT, edit), at),)

    def lay_out(self, at: str) -> tuple[Entry | None, tuple[Change, ...]]:
        """Keep the layout that came of the last accepted change, while parts are being sawn.

        It is an entry of its own, undone with that change; so the layout is the same after a power cut.

        Args:
            at: the time, ISO.
        Returns:
            The entry, None where there is none; and which pieces lie elsewhere than before.
        """
        edit, self.fresh = self.fresh, None
        river, before = self.river, self.job.laid
        if edit is None or isinstance(edit, LayOut) or self.drafts or river is None or river.plan is None:
            return None, ()
        lost = isinstance(edit, (SpoilPiece, CutShort))  # the piece that was lost is wanted again
        before = self.history.past[-1][0].laid if lost else before
        if not before:
            return None, ()
        after = laid_from(river.plan)
        moved = changes(before, after)
        if set(self.job.laid) == set(after):
            return None, moved
        layout = LayOut(after, follows=True)
        self.history = self.history.accept(layout)
        return self._note(Entry(EDIT, layout), at), moved

    def _follow(self, edit: Edit, tags: list[str]) -> None:
        """The stick in hand stays in hand under a new tag; taken out, its neighbour comes to hand."""
        if isinstance(edit, PutStick) and edit.was == self.tag:
            self.tag = edit.stick.tag
        if isinstance(edit, RemoveStick) and edit.tag == self.tag:
            left = [stick.tag for stick in self.job.sticks]
            self.tag = left[min(tags.index(edit.tag), len(left) - 1)] if left else ""

    def at_saw(self) -> bool:
        """Whether the job was left in the middle of sawing."""
        last = next((entry.edit for _, entry in reversed(self.record) if entry.what == EDIT), None)
        return bool(self.job.laid) and isinstance(last, (*AT_SAW, LayOut))

    def better(
        self, problem: CutProblem, changed: CutProblem, plan: CutPlan, scarfed: tuple[Scarfed, ...]
    ) -> River | None:
        """The river with a better layout of the same problem; None where something else is on show by now.

        Args:
            problem: that was searched.
            changed: the same, with the lengths of parts that are scarfed in it.
            plan: of that.
            scarfed: those parts.
        Returns:
            The river as it is shown from now on.
        """
        river = self.river
        if river is None or self.trying or river.job.laid or river.problem != problem or river.plan == plan:
            return None
        self.river = replace(river, problem=changed, plan=plan)
        if scarfed:
            self.scarfed = scarfed
            self.river = flow(with_lengths(self.job, scarfed), self.woods, self.tag, self.river)
        return self.river

    def turn(self, what: str, at: str) -> tuple[Entry, Edit]:
        """Undo or redo; the entry, and the edit it is about. Raises Clash where there is none."""
        self.fresh, self.scarfed = None, ()
        before = self.history
        entry = Entry(what)
        self.history = before.follow(entry)
        _, edit = before.past[-1] if what == UNDO else self.history.past[-1]
        return self._note(entry, at), edit

    def _note(self, entry: Entry, at: str) -> Entry:
        self.record.append((at, entry))
        return entry
