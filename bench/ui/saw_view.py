"""At the saw: one cut at a time, large enough for two metres; each is ticked off and saved at once."""

from collections.abc import Callable
from dataclasses import replace

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench import units
from bench.core import sawing
from bench.core.edit import the_stick
from bench.core.edits import CondemnStick, CutShort, Edit, MarkCut, PutStick, RipPlank, SpoilPiece
from bench.core.errors import Refusal
from bench.core.records import CutMade, Job, Spoilt
from bench.core.sawing import SawStep
from bench.sheets import defects, saw
from bench.ui.cuts_drawing import sized_part
from bench.ui.drawing import HEAD, line, stack, wrapped
from bench.ui.job_widget import JobWidget
from bench.ui.listing import free_name
from bench.ui.messages import Say
from bench.ui.naming import read_as
from bench.ui.saw_drawing import BIG, big, changes, cut_text, drawn, head, rip_text

NOTHING = "Nothing is laid out to cut. Press p for Parts, t for Stock, c for the layout."
TRYING = "a change is being tried: Enter on its pane keeps it, Esc there drops it"
Place = tuple[str, str, object]


def _place(step: SawStep) -> Place:
    return step.piece.part, step.piece.stick, (step.piece.start, step.piece.strip)


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
    ]

    drafting: var[bool] = var(False, init=False)
    changed: var[tuple[str, ...]] = var((), init=False)
    listing: var[bool] = var(False, init=False)  # all that was laid out anew, in place of the cut

    def __init__(self) -> None:
        super().__init__(id="saw")
        self.here: Place | None = None  # the cut on show; None: the first

    def watch_river(self) -> None:
        self.refresh()

    def watch_changed(self) -> None:
        self.listing = False
        self.refresh()

    def watch_listing(self) -> None:
        self.refresh()

    @property
    def built_on(self) -> Job:
        """With the lengths of scarfed parts: they are lines of the job from the first cut on."""
        return self.river.job if self.river is not None else self.accepted

    # --- which cut -----------------------------------------------------------------------------------

    def queue(self) -> tuple[SawStep, ...]:
        """The cuts still to be made, in order."""
        if self.river is None or self.river.plan is None:
            return ()
        return sawing.queue(self.river.job, self.river.plan)

    def step_here(self) -> tuple[SawStep | None, SawStep | None]:
        """The cut on show, and the one after it."""
        queue = self.queue()
        place = next((n for n, step in enumerate(queue) if _place(step) == self.here), 0)
        return (queue[place] if queue else None), (queue[place + 1] if place + 1 < len(queue) else None)

    def show_cut(self, part: str, stick: str, start: object, strip: int) -> None:
        """Show this cut first."""
        self.here = (part, stick, (start, strip))
        self.refresh()

    def action_move(self, amount: int) -> None:
        """Another cut first."""
        queue = self.queue()
        if not queue:
            return
        place = next((n for n, step in enumerate(queue) if _place(step) == self.here), 0)
        self.here = _place(queue[min(max(0, place + amount), len(queue) - 1)])
        self.changed = ()
        self.refresh()

    def action_turn(self) -> None:
        """All that was laid out anew, or the cut again."""
        if not self.changed and not self.listing:
            self.post_message(Say("nothing was laid out anew since the last cut"))
            return
        self.listing = not self.listing

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
            self.post_message(Say("nothing is laid out to cut"))
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

            def make(job: Job) -> Edit:
                stick = the_stick(job, tag)
                return PutStick(replace(stick, defects=(*stick.defects, found)), was=tag)

            self._settle(make)

        hint = "from the marked end: 31, or 31-32 1/2 knot 1/4; the rest is laid out round it"
        self.ask_line(f"found on {tag}", hint, text, take, typed)

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

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        step, after = self.step_here()
        river = self.river
        if river is None or step is None:
            done = len(river.job.cuts) if river else 0
            said = f"{done} cut, nothing more is laid out. {NOTHING}" if done else NOTHING
            rows = [line(("SAW", HEAD)), *(Content(text) for text in wrapped(said, width))]
            return stack([*rows, *changes(self.changed, width, height - len(rows))][:height])
        ripped = self._rip(step)
        rows = [head(river, step, ripped is not None, width)]
        if self.listing:
            return stack([*rows, *changes(self.changed, width, height - 1)][:height])
        system = self.system
        number = saw.stop(step, system) if ripped is None else units.place(ripped.fences[0].exact, system)
        text = cut_text(river, step, after, width) if ripped is None else rip_text(river, ripped, width)
        below = [*drawn(river, step, width), *text]
        below += changes(self.changed, width, max(1, height - 1 - BIG - len(below)))
        rows += big(number, width, height - 1 - len(below))
        return stack([*rows, *below][:height])
