"""At the saw: one cut at a time, large enough for two metres; each is ticked off and saved at once."""

from collections.abc import Callable

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.reactive import var

from bench.core import sawing
from bench.core.acceptance import ACCEPT, HOLD
from bench.core.defects import lying_in
from bench.core.edit import the_stick
from bench.core.edits import CondemnStick, CutShort, Edit, MarkCut, PutStick, RipPlank, SpoilPiece
from bench.core.errors import Refusal
from bench.core.frozen import replace
from bench.core.records import CutMade, Defect, Job, Spoilt
from bench.core.ripping import strip_tag
from bench.core.river import River
from bench.core.sawing import SawStep
from bench.sheets import defects, inspecting, saw, wording
from bench.sheets.tracing import PART
from bench.ui.cuts_drawing import sized_part
from bench.ui.drawing import HEAD, line, stack, wrapped
from bench.ui.job_widget import JobWidget
from bench.ui.keys import keyed
from bench.ui.listing import free_name
from bench.ui.messages import Say
from bench.ui.naming import read_as
from bench.ui.saw_drawing import (
    BIG,
    all_changes,
    below,
    big,
    changes,
    cut_figures,
    cut_text,
    head,
    rip_figures,
    rip_text,
)

NOTHING = "Nothing is laid out to cut: <go.cuts> shows the layout, <go.parts> Parts, <go.stock> Stock."
TRYING = "a change is being tried: Enter on its pane keeps it, Esc there drops it"
# A key held down comes again after up to two thirds of a second, and no cut is made in less.
ONCE, APART_S = frozenset({"space", "enter", "k"}), 0.75
REPEATED = "a held or repeated key is ignored: press again when this cut is made"
SHOWN_AGAIN = "this is the cut: press again when it is made"
Place = tuple[str, str, object]


def _place(step: SawStep) -> Place:
    return step.piece.part, step.piece.stick, (step.piece.start, step.piece.strip)


def _with_defect(job: Job, tag: str, found: Defect) -> PutStick:
    stick = the_stick(job, tag)
    return PutStick(replace(stick, defects=(*stick.defects, found)), was=tag)


def _key_clock() -> float:
    """The clock that every key is stamped with [s]."""
    return Message().time


class SawView(JobWidget):
    """Walks through the cuts."""

    BINDINGS = [
        Binding("space", "made", "Cut made", id="saw.made", tooltip="The cut is made, or strips ripped"),
        Binding("enter", "made", "Cut made", id="saw.made-pad", tooltip="The same, number pad", show=False),
        Binding("down", "move(1)", "Other cut", id="saw.next", tooltip="Another cut first"),
        Binding("up", "move(-1)", "Other cut", id="saw.back", tooltip="The one before", show=False),
        Binding("plus", "move(1)", "Other cut", id="saw.next-pad", tooltip="Number pad", show=False),
        Binding("minus", "move(-1)", "Other cut", id="saw.back-pad", tooltip="Number pad", show=False),
        Binding("k", "spoiled", "Spoiled", id="saw.spoiled", tooltip="Sawn and ruined: the wood is gone"),
        Binding("j", "short", "Too short", id="saw.short", tooltip="Came off short: back to the rack"),
        Binding(
            "d", "defect", "Defect found", id="saw.defect", tooltip="Found on the stick in the saw: where"
        ),
        Binding(
            "a", "condemn", "Condemn", id="saw.condemn", tooltip="Nothing more is made of this stick: why"
        ),
        Binding("v", "turn", "Moved", id="saw.moved", tooltip="All that was laid out anew", show=False),
    ]

    drafting: var[bool] = var(False, init=False)
    changed: var[tuple[str, ...]] = var((), init=False, always_update=True)
    listing: var[bool] = var(False, init=False)  # all that was laid out anew, in place of the cut

    def __init__(self) -> None:
        super().__init__(id="saw")
        self.here: Place | None = None  # the cut on show; None: the first
        self.clock = _key_clock
        self._pressed = 0.0  # when a key that counts once was pressed last [s]
        self._drawn: tuple[Place | None, float] = (None, 0.0)  # the cut that was drawn last, and when
        self._changed_by: Job | None = None  # the job whose layout `changed` tells of; None: the next one
        self._from = 0  # first line on show of that list
        self._found_on = ""  # tag of a stick on which a defect was just found
        self._queued: tuple[River | None, tuple[SawStep, ...]] = (None, ())  # of which river

    def on_focus(self) -> None:
        self._pressed = self.clock()  # Enter leads here, and may still be held

    def watch_river(self, old: River | None, new: River | None) -> None:
        if new is not None and self.changed:
            by = self._changed_by = self._changed_by or new.job
            # Undone or overtaken: what it says is true no more.
            if (by.laid, by.cuts, by.spoilt) != (new.job.laid, new.job.cuts, new.job.spoilt):
                self.changed = ()
        if new is not None and self._found_on:
            self._tell_verdict(new)
        self.redraw()

    def watch_changed(self) -> None:
        self.listing, self._from, self._changed_by = False, 0, None
        self.redraw()

    def watch_listing(self) -> None:
        self.redraw()

    @property
    def built_on(self) -> Job:
        """With the lengths of scarfed parts: they are lines of the job from the first cut on."""
        return self.river.job if self.river is not None else self.accepted

    # --- which cut -----------------------------------------------------------------------------------

    def queue(self) -> tuple[SawStep, ...]:
        """The cuts still to be made, in order."""
        river = self.river
        if river is None or river.plan is None:
            return ()
        if self._queued[0] is not river:
            self._queued = (river, sawing.queue(river.job, river.plan))
        return self._queued[1]

    def step_here(self) -> tuple[SawStep | None, SawStep | None]:
        """The cut on show, and the one after it."""
        queue = self.queue()
        place = next((n for n, step in enumerate(queue) if _place(step) == self.here), 0)
        return (queue[place] if queue else None), (queue[place + 1] if place + 1 < len(queue) else None)

    def traced(self) -> tuple[str, str] | None:
        step, _ = self.step_here()
        return (PART, step.piece.part) if step is not None else super().traced()

    def show_cut(self, part: str, stick: str, start: object, strip: int) -> None:
        """Show this cut first."""
        self.here = (part, stick, (start, strip))
        self.redraw()

    def action_move(self, amount: int) -> None:
        """Another cut first; of the list of what was laid out anew, other lines."""
        if self.listing:
            self._from += amount
            self.redraw()
            return
        queue = self.queue()
        if not queue:
            return
        place = next((n for n, step in enumerate(queue) if _place(step) == self.here), 0)
        self.here = _place(queue[min(max(0, place + amount), len(queue) - 1)])
        self.changed = ()
        self.redraw()

    def action_turn(self) -> None:
        """All that was laid out anew, or the cut again."""
        if not self.changed and not self.listing:
            self.post_message(Say("nothing was laid out anew since the last cut"))
            return
        self.listing = not self.listing

    def take_key(self, event: events.Key) -> bool:
        """One press of a key is one cut: the cut on show must have been seen before it is ticked off."""
        if event.key in ONCE:
            step, _ = self.step_here()
            place, seen = self._drawn
            again = 0 <= event.time - self._pressed < APART_S
            unseen = step is not None and (place != _place(step) or event.time < seen)
            self._pressed = event.time
            if self._line is None and step is not None and (again or unseen or self.listing):
                self.post_message(Say(REPEATED if not self.listing else SHOWN_AGAIN, wrong=True))
                self.listing = False
                return True
        return super().take_key(event)

    def begin_typing(self, character: str) -> None:
        """A place typed out of the blue is where a defect was found."""
        step = self._ready()
        if step is not None:
            self._ask_defect(step, character, typed=True)

    # --- what happened -------------------------------------------------------------------------------

    def _ready(self) -> SawStep | None:
        """The cut on show, where one can be ticked off."""
        step, _ = self.step_here()
        if step is None:
            self.post_message(Say(self._nothing()))
        elif self.drafting:
            self.post_message(Say(TRYING, wrong=True))
            return None
        return step

    def _do(self, edit: Edit) -> None:
        self.changed = ()
        self.here = None
        try:
            self.accept(lambda job: edit)
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))

    def action_made(self) -> None:
        """The cut is made; of a plank still whole, its strips are ripped."""
        step = self._ready()
        if step is None or self.river is None or self.river.plan is None:
            return
        piece = step.piece
        ripped = self._rip(step)
        if ripped is not None:
            self._do(RipPlank(ripped.tag, ripped.fences, ripped.rest))
            self.here = (piece.part, strip_tag(piece.stick, piece.strip), (piece.start, 0))
            return
        sized = sized_part(self.river, piece.part)
        size = (sized.width, sized.depth) if sized else (None, None)
        self._do(MarkCut(CutMade(piece.part, piece.stick, piece.start, piece.end, *size)))

    def action_spoiled(self) -> None:
        """Sawn and ruined."""
        step = self._cut_ready()
        if step is not None:
            piece = step.piece
            self._do(
                SpoilPiece(Spoilt(piece.part, piece.stick, piece.start, piece.end, "spoiled at the saw"))
            )

    def action_short(self) -> None:
        """It came off short: how long is it?"""
        step = self._cut_ready()
        if step is None:
            return
        piece = step.piece

        def take(text: str) -> None:
            length = read_as("length", "length", text, self.system)
            taken = {stick.tag for stick in self.accepted.sticks}
            tag = f"{piece.stick} short"
            tag = free_name(tag, taken) if tag in taken else tag
            self._settle(lambda job: CutShort(piece.part, piece.stick, piece.start, length, tag))

        self.ask_line(f"{piece.part} came off", "how long it is: 33 1/2; it goes back to the rack", "", take)

    def action_defect(self) -> None:
        """Found on the stick in the saw."""
        step = self._ready()
        if step is not None:
            self._ask_defect(step, "")

    def _ask_defect(self, step: SawStep, text: str, typed: bool = False) -> None:
        tag = step.piece.stick

        def take(said: str) -> None:
            found = defects.read(said, self.system)
            if found.kind:
                self._put_defect(tag, found)
                return
            _with_defect(self.built_on, tag, found).check(self.built_on)
            self._ask_kind(tag, found)

        hint = "from the marked end, and what it is: 31-32 1/2 knot 1/4; cut round where its kind allows that"
        self.ask_line(f"found on {tag}", hint, text, take, typed)

    def _ask_kind(self, tag: str, found: Defect) -> None:
        """A place alone was typed: what is there?"""

        def take(said: str) -> None:
            if said.strip():
                named = defects.read(f"{found.start.text} to {found.end.text} {said}", self.system)
                named = replace(named, depth=named.depth or found.depth, edge=named.edge or found.edge)
            self._put_defect(tag, named if said.strip() else found)

        hint = (
            f"knot 1/4, split, check, pitch pocket ...; Enter alone if not known: ALL of {tag} goes ON HOLD"
        )
        self.ask_line(f"what is at {found.start.text}", hint, "", take)

    def _put_defect(self, tag: str, found: Defect) -> None:
        self._settle(lambda job: _with_defect(job, tag, found))
        self._found_on = tag

    def _tell_verdict(self, river: River) -> None:
        """Where a defect bars the whole stick or lies in a piece that is cut: for what, and why."""
        judged, self._found_on = river.judged(self._found_on), ""
        if judged is None:
            return
        cuts = [cut for cut in river.doubtful if cut.stick == judged.stick.tag]
        within = tuple(cut for cut in cuts if lying_in(judged.stick, cut.start, cut.end))
        if within:
            self.post_message(Say(f"it lies in a piece that is cut: {wording.doubtful(within)}", wrong=True))
            return
        for use in dict.fromkeys(sized.part.use for sized in river.parts):
            judgement = judged.uses[use]
            if judgement.word != ACCEPT and judgement.deciding.defect is not None:
                word = "ON HOLD" if judgement.word == HOLD else "REJECTED"
                why = inspecting.reason(judgement.deciding, self.system)
                said = f"{judged.stick.tag} is {word} for {inspecting.use_name(use)}: {why}"
                self.post_message(Say(said, wrong=True))
                return
        off = saw.off_already(judged.stick, river.job.spoilt)
        if off:
            self.post_message(Say(off, wrong=True))

    def action_condemn(self) -> None:
        """Nothing more is made of the stick in the saw."""
        step = self._ready()
        if step is not None:
            tag = step.piece.stick

            def take(why: str) -> None:
                self._settle(lambda job: CondemnStick(tag, why))

            self.ask_line(f"condemn {tag}", "why: compression failure, rot ...", "", take)

    def _settle(self, make: Callable[[Job], Edit]) -> None:
        """Accept what a line says; a refusal leaves the line open."""
        self.accept(make)
        self.changed, self.here = (), None

    def _cut_ready(self) -> SawStep | None:
        step = self._ready()
        if step is not None and self._rip(step) is not None:
            self.post_message(Say(f"rip {step.piece.stick} first: its strips are cut after that", wrong=True))
            return None
        return step

    # --- the picture ---------------------------------------------------------------------------------

    def _rip(self, step: SawStep) -> sawing.Rip | None:
        """How the plank of a cut is ripped first; None where it need not be."""
        river = self.river
        judged = river.judged(step.piece.stick) if river else None
        if river is None or river.plan is None or judged is None or not step.piece.strip:
            return None
        return sawing.rip(river.job, river.plan, judged.stick)

    def _nothing(self) -> str:
        """Why no cut is on show."""
        river = self.river
        done = len(river.job.cuts) if river else 0
        if river is None or river.plan is None or not done:
            return NOTHING
        left = sum(sized.part.quantity - sized.made for sized in river.parts)
        if left <= 0:
            return wording.all_cut(done)
        why = "<go.cuts>, then <cuts.view> says why"
        return f"{done} cut, nothing more is laid out: {left} without a place; {why}"

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        step, after = self.step_here()
        river, more = self.river, keyed(self, "<saw.moved> shows all")
        if river is None or step is None:
            told = wrapped(keyed(self, self._nothing()), width)
            rows = [line(("SAW", HEAD)), Content(""), *(Content(text) for text in told)]
            return stack([*rows, *changes(self.changed, more, width, height - len(rows))][:height])
        if self._drawn[0] != _place(step):
            self._drawn = (_place(step), self.clock())
        ripped = self._rip(step)
        rows = [head(river, step, ripped is not None, width)]
        if self.listing:
            listed, self._from = all_changes(self.changed, self._from, width, height - 1)
            return stack([*rows, *listed][:height])
        found = cut_figures(river, step) if ripped is None else rip_figures(river, ripped)
        text = cut_text(river, step, after, width) if ripped is None else rip_text(river, ripped, width)
        said = below(river, step, text, self.changed, more, (width, height - 1))
        said = said[: max(2, height - 1 - BIG)]  # stop and fence before all else
        rows += big(found, width, height - 1 - len(said))
        return stack([*rows, *said][:height])
