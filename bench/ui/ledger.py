"""The job on the bench: what is accepted, what is only tried, and the record; no widget in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import date
from typing import TYPE_CHECKING

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
from bench.core.frozen import replace
from bench.core.glimpse import Glimpse, glimpse
from bench.core.history import EDIT, UNDO, Entry, History
from bench.core.record import Record
from bench.core.records import Job, Laid, Scarfed, Species
from bench.core.sawing import Change, changes, laid_from, with_lengths

if TYPE_CHECKING:
    from bench.core.cutting import CutPlan, CutProblem
    from bench.core.river import River

AtSaw = MarkCut | SpoilPiece | CutShort | RipPlank
AT_SAW = (MarkCut, SpoilPiece, CutShort, RipPlank)  # from the first of these on the layout stays


def _left_out(plan: CutPlan) -> tuple[int, int]:
    return plan.unplaced_critical, plan.unplaced_count


def _out(plan: CutPlan) -> tuple[str, ...]:
    """Parts without a place, a name for each piece."""
    return tuple(sorted(row.part for row in plan.unplaced for _ in range(row.quantity)))


def _about(edit: AtSaw, piece: Laid) -> bool:
    """Whether an edit at the saw is of a piece of the layout."""
    if isinstance(edit, RipPlank):
        return piece.stick == edit.tag
    if isinstance(edit, CutShort):
        return (edit.part, edit.stick, edit.start) == (piece.part, piece.stick, piece.start)
    made = edit.cut if isinstance(edit, MarkCut) else edit.spoilt
    return (made.part, made.stick, made.start) == (piece.part, piece.stick, piece.start)


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
        self.woods = woods
        # Every entry with its time, read when it is looked at; it tells the history of earlier jobs too.
        self.record = record if isinstance(record, Record) else Record(list(record))
        self.history = history
        self.drafts: dict[str, Edit] = {}
        self.waiting: dict[str, str] = {}  # tried, but something is still missing: subject -> why
        self.tag = ""  # the stick in hand
        self.fresh: Edit | None = None  # accepted since the river was worked out; not what was undone
        self.river: River | None = None
        self.scarfed: tuple[Scarfed, ...] = ()  # parts laid out as lengths, not yet lines of the job
        self.whole: River | None = None  # the river with every part whole
        self.jointed: River | None = None  # the last one with parts as lengths
        self.begun: tuple[Change, ...] = ()  # what moved when the layout was accepted with the first cut

    @property
    def job(self) -> Job:
        """The job as accepted."""
        return self.history.job

    def after(self, number: int) -> Job:
        """The job as it was after so many entries of the record."""
        return self.history.job_after(number)

    @property
    def trying(self) -> bool:
        """Whether anything is tried and not kept."""
        return bool(self.drafts or self.waiting)

    def glimpse(self) -> Glimpse:
        """The stick in hand of the job as accepted, before the river is worked out."""
        return glimpse(self.job, self.woods, self.tag)

    def flow(self) -> tuple[River, dict[str, str]]:
        """The river with the drafts in it, and which drafts the job no longer allows, with the reason."""
        from bench.core.river import flow

        job, dropped = self.job, dict[str, str]()
        for subject, edit in list(self.drafts.items()):
            try:
                job = edit.apply(job)
            except Refusal as refusal:
                del self.drafts[subject]
                dropped[subject] = str(refusal)
        for subject in list(self.waiting):
            what, _, tag = subject.partition(" ")
            if what not in ("reading", "weighing", "moisture") or self.job.place(tag) is None:
                del self.waiting[subject]
                dropped[subject] = "its stick is gone"
        self.whole = flow(job, self.woods, self.tag, self.whole, settled=not self.drafts, patient=False)
        self.river = self._with_lengths(job, self.whole)
        self.tag = self.river.tag
        return self.river, dropped

    def _with_lengths(self, job: Job, whole: River) -> River:
        """The river with parts made of lengths, where they have no place whole."""
        if whole.plan is None:
            return whole
        if job.laid:
            return whole if self.drafts else self._lengths_beside(job, whole)
        found, shown = self._scarfed_again(job, whole, needed=True)
        last = self.jointed.plan if self.jointed is not None else None
        if last is not None and found.plan is not None and _left_out(found.plan) > _left_out(last):
            other, more = self._scarfed_again(job, whole, needed=False)
            if other.plan is not None and _left_out(other.plan) < _left_out(found.plan):
                found, shown = other, more
        if not self.drafts:
            self.scarfed = shown
            self.jointed = found if shown else None
        return found

    def _scarfed_again(self, job: Job, whole: River, needed: bool) -> tuple[River, tuple[Scarfed, ...]]:
        """The river with the lengths there were, of parts that need it or of all; and those of use."""
        from bench.core import laying
        from bench.core.river import flow

        plan = whole.plan if needed else None
        shown = laying.still_scarfed(self.scarfed, plan, whole.parts, job)
        before = self.jointed or self.river
        while shown and whole.plan is not None:
            river = flow(with_lengths(job, shown), self.woods, self.tag, before, settled=not self.drafts)
            out = {part.part for part in river.plan.unplaced} if river.plan is not None else set()
            lost = [one for one in shown if out & {part.name for part in one.lengths}]
            if river.plan is not None and not lost and _left_out(river.plan) < _left_out(whole.plan):
                return river, shown
            shown = tuple(one for one in shown if one not in lost) if lost else ()
        return whole, ()

    def _lengths_beside(self, job: Job, whole: River) -> River:
        """While parts are being sawn: lengths for what has no place, in what is free."""
        from bench.core import laying
        from bench.core.river import flow

        self.scarfed, self.jointed = (), None
        if whole.plan is None or not whole.plan.unplaced:
            return whole
        pieces, scarfed = laying.scarfs_beside(
            whole.problem, whole.plan, whole.parts, job, lambda piece: True
        )
        if not scarfed:
            return whole
        shown = LayOut(pieces, scarfed).change(job)
        river = flow(shown, self.woods, self.tag, whole)
        self.scarfed = scarfed
        return river

    def attempt(self, edit: Edit, at: str) -> bool:
        """Try an edit at a time, ISO; one that changes nothing, or nothing any more, is no draft: False."""
        self.waiting.pop(edit.subject, None)
        edit = _dated(edit, at)
        try:
            same = edit.change(self.job) == self.job
        except Refusal:  # what it is about went out of the job while the key was on its way
            same = True
        if same:
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
        begun = self._begin(edit, at) if isinstance(edit, AT_SAW) else ()
        return (*begun, *self._accept(edit, at))

    def _begin(self, edit: AtSaw, at: str) -> tuple[Entry, ...]:
        """From the first cut on the layout stays; while parts are being sawn it is the one on show."""
        river = self.river
        if self.drafts or river is None or river.plan is None or not river.plan.placed:
            return ()
        layout = LayOut(laid_from(river.plan), self.scarfed, out=_out(river.plan))
        if self.job.laid:
            stale = river.job.sticks is not self.job.sticks or river.job.sawn != self.job.sawn
            if stale or set(layout.pieces) == set(self.job.laid):
                return ()
        else:
            layout = self._first(river, layout, edit)
            self.begun = changes(laid_from(river.plan), layout.pieces)
        self.history = self.history.accept(layout)
        self.scarfed, self.jointed = (), None
        return (self._note(Entry(EDIT, layout), at),)

    def _first(self, river: River, layout: LayOut, edit: AtSaw) -> LayOut:
        """The layout on show, or one round the first cut with lengths for what has no place."""
        from bench.core import laying

        if river.plan is None or not river.plan.unplaced:
            return layout
        pieces, scarfed = laying.scarfs_beside(
            river.problem, river.plan, river.parts, river.job, lambda piece: _about(edit, piece)
        )
        if not scarfed:
            return layout
        out = Counter(layout.out)
        out.subtract(one.whole for one in scarfed)
        return LayOut(pieces, (*self.scarfed, *scarfed), out=tuple(sorted(out.elements())))

    def _accept(self, edit: Edit, at: str) -> tuple[Entry, ...]:
        from bench.core.river import flow

        edit = _dated(edit, at)
        if isinstance(edit, ChooseSection):
            # A choice that leaves nothing to show is refused here, not found out on every screen.
            edit.check(self.job)
            changed = edit.change(self.job)
            refusal = flow(changed, self.woods, self.tag, self.river, patient=False).section.refusal
            if refusal is not None:
                raise refusal
        place = self.job.place(edit.tag) if isinstance(edit, RemoveStick) else None
        after = self.history.accept(edit)
        if after.job == self.job:
            return ()  # nothing to record
        self.history = after
        self._follow(edit, place)
        self.drafts.pop(edit.subject, None)
        self.waiting.pop(edit.subject, None)
        self.fresh = edit
        return (self._note(Entry(EDIT, edit), at),)

    def lay_out(self, at: str) -> tuple[Entry | None, tuple[Change, ...]]:
        """Keep the layout that came of the last accepted change, while parts are being sawn.

        It is an entry of its own, undone with that change; so the layout is the same after a power cut.

        Args:
            at: the time, ISO.
        Returns:
            The entry, None where there is none; and which pieces lie elsewhere than before.
        """
        if self.river is not None and self.river.rack.waiting:
            return None, ()  # a large rack is still being judged: then
        edit, self.fresh = self.fresh, None
        begun, self.begun = self.begun, ()
        river, before = self.river, self.job.laid
        if edit is None or isinstance(edit, LayOut) or self.drafts or river is None or river.plan is None:
            return None, begun
        lost = isinstance(edit, (SpoilPiece, CutShort))  # the piece that was lost is wanted again
        before = self.history.job_before.laid if lost else before
        if not before:
            return None, begun
        after, out = laid_from(river.plan), _out(river.plan)
        moved = (*begun, *changes(before, after))
        if set(self.job.laid) == set(after) and out == tuple(sorted(self.job.unlaid)) and not self.scarfed:
            return None, moved
        layout = LayOut(after, self.scarfed, follows=True, out=out)
        self.history = self.history.accept(layout)
        self.scarfed, self.jointed = (), None
        return self._note(Entry(EDIT, layout), at), moved

    def _follow(self, edit: Edit, place: int | None) -> None:
        """The stick in hand stays in hand under a new tag; taken out, its neighbour comes to hand."""
        if isinstance(edit, PutStick) and edit.was == self.tag:
            self.tag = edit.stick.tag
        if isinstance(edit, RemoveStick) and edit.tag == self.tag:
            left = self.job.sticks
            self.tag = left[min(place or 0, len(left) - 1)].tag if left else ""

    def at_saw(self) -> bool:
        """Whether the job was left in the middle of sawing."""
        last = next((entry.edit for _, entry in reversed(self.record) if entry.what == EDIT), None)
        return bool(self.job.laid) and isinstance(last, (*AT_SAW, LayOut))

    def laid_anew(self) -> tuple[Change, ...]:
        """What the last change at the saw laid out anew, of a job that is opened again; raises FileFault."""
        from bench.core.laid_anew import laid_anew

        return laid_anew(self.history) if self.job.laid else ()

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
        from bench.core.river import flow

        river = self.river
        if river is None or self.trying or river.job.laid or river.problem != problem or river.plan == plan:
            return None
        found = replace(river, problem=changed, plan=plan)
        if scarfed:
            self.scarfed = (*self.scarfed, *scarfed)
            found = flow(with_lengths(self.job, self.scarfed), self.woods, self.tag, found)
        if self.scarfed:
            self.jointed = found
        else:
            self.whole = found
        self.river = found
        return found

    def turn(self, what: str, at: str) -> tuple[Entry, Edit]:
        """Undo or redo; the entry, and the edit it is about. Raises Clash where there is none."""
        self.fresh, self.begun = None, ()
        before = self.history
        entry = Entry(what)
        after = before.follow(entry)
        edit = (before if what == UNDO else after).last_edit
        assert edit is not None, "what was undone or made again is a change"
        self.history = after
        return self._note(entry, at), edit

    def _note(self, entry: Entry, at: str) -> Entry:
        self.record.append(at, entry)
        return entry
