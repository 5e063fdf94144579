"""The one main screen: it alone owns the job, applies edits, keeps the history and hands the river down."""

from collections.abc import Callable, Sequence
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Resize
from textual.widget import Widget
from textual.widgets import Static

from bench.core.edits import Edit
from bench.core.errors import Refusal
from bench.core.frozen import replace
from bench.core.history import REDO, UNDO, Entry, History
from bench.core.records import Job
from bench.ui import views
from bench.ui.entry import EntryLine
from bench.ui.everywhere import EVERYWHERE
from bench.ui.frame import LEAST, KeysLine, offered, too_small
from bench.ui.host_screen import PANES
from bench.ui.keys_screen import KeysScreen
from bench.ui.ledger import Ledger
from bench.ui.looking_on import LookingOn
from bench.ui.messages import Accept, Draft, Keep, Say, TakeInHand, Waiting, WalkThrough, nothing
from bench.ui.searching import Searcher
from bench.ui.settling import settle
from bench.ui.typing_line import LineShown

# Read beside another screen: Esc goes back to that.
READ = ("working", "help", "actions", "evidence", "trace", "earlier", "parcel")
TRIES = ("shop", "inspect", "moisture")  # screens whose Enter keeps and whose Esc drops
# Screens that have a working of their own.
WORKED = ("inspect", "moisture", "woods", "buying", "breaks", "trial", "groups")
WIDE = 120


class BenchScreen(KeysScreen):
    """Float -> Section -> Cuts, and the screens round them."""

    BINDINGS = EVERYWHERE

    def __init__(
        self,
        history: History,
        shelf: views.Shelf,
        save: Callable[[Entry, str], None],
        record: Sequence[tuple[str, Entry]] = (),
        notice: str = "",
        now: Callable[[], str] = lambda: "",
        moves: int = 0,
    ) -> None:
        super().__init__()
        self.entry, self.keys = EntryLine(), KeysLine()
        self.too_small = Static("", id="too-small", markup=False)
        self.ledger = Ledger(history, shelf.woods, record)
        self.shelf = replace(shelf, papers=self.papers)
        self.save, self.now, self.notice = save, now, notice
        self.behind = "bench"  # the screen that a page is read beside
        self.worked = "float"  # the pane or screen whose working is shown
        self.large = False
        self._offered_for: tuple[bool, Job] | None = None  # what the keys on show were found for
        self.drawn: Callable[[], None] = nothing  # called once the whole job is on show
        self.stale = False
        self.answers: list[Callable[[], None]] = []  # to those whose keys wait
        self.searcher = Searcher(self, moves)
        self.looking_on = LookingOn(self, self._flow)

    @property
    def job(self) -> Job:
        """The job as accepted."""
        return self.ledger.job

    # --- the picture ---------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        self.accepted = self.job
        yield self.head
        yield self.river_lines
        with self.switcher, Horizontal(id="bench"):
            yield self._make("float")
        yield self.message
        yield self.entry
        yield self.keys
        yield self.too_small

    def pages(self) -> views.Pages:
        """What writes the screens that are only read."""
        from bench.ui import pages

        def working(width: int) -> list[Content]:
            """The working of the pane or screen that was on show."""
            if self.worked in WORKED:
                worked: Any = self.made[self.worked]
                steps = worked.steps()
                why = "nothing with a number has been measured here yet"
            else:
                steps = pages.bench_steps(self.river, self.shelf.woods, self.worked)
                why = pages.missing(self.river, self.worked)
            return pages.working_page(steps, self.key_table.said(why), self.job.settings.units, width)

        return {"working": working, "help": self._help}

    def following(self) -> tuple[str, ...]:
        """The working that is read is that of a screen which is not on show."""
        return (*super().following(), *([self.worked] if self.view == "working" else []))

    async def on_mount(self) -> None:
        self._tell_saved()
        self.bindings_updated_signal.subscribe(self, lambda _: self._keys())
        first: Any = self.made["float"]
        seen: Any = self.ledger.glimpse()
        self.head.river = first.river = seen
        await self.action_pane("float")
        first.hold_keys()  # they may be about anything of the job

    async def open_whole(self) -> None:
        """With the stick in hand on show: the whole job."""
        first: Any = self.made["float"]
        self._read_rest()
        self.river, _ = self.ledger.flow()
        self.call_after_refresh(self.searcher.follow, self.river, False)
        self.call_after_refresh(self.looking_on.follow, self.river)
        if self.ledger.at_saw():
            await self.action_pane("cuts")
            await self.action_view("saw")
        await self._tell_moved_before()
        if self.notice:
            self.say(self.notice, wrong=True)
        elif self.shelf.faults:
            self.say(f"{len(self.shelf.faults)} faulty species file(s): {self.shelf.faults[0]}", wrong=True)
        first.let_keys()
        self.call_after_refresh(settle)
        self.call_after_refresh(self.drawn)

    async def on_resize(self, event: Resize) -> None:
        width, height = event.size.width, event.size.height
        was_small, small = self.has_class("small"), width < LEAST[0] or height < LEAST[1]
        self.set_class(width >= WIDE and not self.large, "wide")
        self.set_class(small, "small")
        if small:
            self.too_small.update(too_small(width, height))
        await self._arrange()
        if was_small and not small:
            self.call_after_refresh(self._focus)  # what is not shown has lost it

    async def _arrange(self) -> None:
        """Which panes stand side by side, and which are a line each."""
        wide = self.has_class("wide")
        await self.have(*(PANES if wide and self.view == "bench" else (self.pane,)))
        for name in PANES:
            if name in self.made:
                pane: Any = self.made[name]
                pane.display = wide or name == self.pane
                pane.large = self.large and name == self.pane
        if self.view != "bench":
            hidden: tuple[str, ...] = PANES
        else:
            hidden = () if wide else tuple(name for name in PANES if name != self.pane)
        self.river_lines.hidden = hidden
        keeps = self.view in TRIES or (self.view == "bench" and self.pane != "cuts")
        self.message.keeps = keeps
        for name in [name for name in PANES if name not in hidden] if self.view == "bench" else [self.view]:
            self.hand_to(name)
        self._keys()

    @staticmethod
    def key_groups() -> list[tuple[str, type[Widget]]]:
        """Every class that binds keys, by where they work."""
        from bench.ui.actions_view import ActionsView

        return [("everywhere", BenchScreen), *views.key_groups(), ("Actions", ActionsView)]

    def _keys(self) -> None:
        """Show the keys that work now: those of the pane first."""
        self._offered_for = (self.drafting, self.job)
        self.keys.here, self.keys.keys = offered(self, self.key_table, self.entry.shown is not None)

    # --- edits ---------------------------------------------------------------------------------------

    def _flow(self) -> None:
        """One recalculation after all keys in the queue, then one picture."""
        if not self.stale:
            self.stale = True
            self.call_later(self._flow_now)

    def _answer(self, answer: Callable[[], None]) -> None:
        """Answer once every pane shows what came of a message."""
        self.answers.append(answer)
        self._flow()

    async def _flow_now(self) -> None:
        self.stale = False
        river, dropped = self.ledger.flow()
        self.river = await self._lay_out(river)
        self.looking_on.follow(self.river)
        self.drafting = self.ledger.trying
        message = self.message
        message.drafts = tuple(self.ledger.drafts)
        refusal = self.river.section.refusal if "ChooseSection" in self.ledger.drafts else None
        message.waiting = next(iter(self.ledger.waiting.values()), "") or (
            "the Section pane says why" if refusal else ""
        )
        if dropped:
            self._panes_forget(dropped)
            self.say(next(iter(dropped.values())), wrong=True)
        if self._offered_for != (self.drafting, self.job):
            self._keys()
        self.draw()
        answers, self.answers = self.answers, []
        for answer in answers:
            answer()

    @on(Draft)
    def _draft(self, message: Draft) -> None:
        if not self.ledger.attempt(message.edit, self.now()):
            for pane in self._field_panes():
                pane.changes_nothing(message.edit)
        elif message.elsewhere:
            for pane in self._field_panes():
                pane.take_up(message.edit)
        self.say("")
        self._flow()

    @on(Waiting)
    def _wait(self, message: Waiting) -> None:
        self.ledger.wait(message.subject, message.why)
        self.say("")
        self._flow()

    @on(Accept)
    def _accept_one(self, message: Accept) -> None:
        self._accept(message.make)
        self._answer(message.answer)

    @on(Keep)
    def _keep_drafts(self, message: Keep) -> None:
        trying = list(self.ledger.drafts.values())
        # What cannot be kept is mended: the highlighted value is asked for, unless the job is only read.
        kept = bool(trying) and (all(self._accept(edit) for edit in trying) or bool(self.reads))
        self._answer(lambda: message.answer(kept))

    def _accept(self, make: Edit | Callable[[Job], Edit]) -> bool:
        at = self.now()
        try:
            if self.reads:
                raise Refusal(self.reads)
            entries = self.ledger.accept(make, at)
        except Refusal as refusal:
            self.accepted = self.job  # the pane took it for accepted
            self.say(str(refusal), wrong=True)
            return False
        self.say("")
        if not entries:
            self.say("that is as it was: nothing to record")
        for entry in entries:
            if entry.edit is not None:
                self._panes_forget({entry.edit.subject})
            self._keep(entry, at)
        return True

    def _keep(self, entry: Entry, at: str) -> None:
        self.accepted = self.job
        self.unsaved += 1
        self._tell_saved()
        self.save(entry, at)
        self._flow()

    def _forget(self) -> None:
        """Nothing is tried any more, here or on any pane."""
        self._panes_forget(self.ledger.drop())

    @on(Say)
    def _say(self, message: Say) -> None:
        self.say(message.text, message.wrong)

    @on(TakeInHand)
    def _take_in_hand(self, message: TakeInHand) -> None:
        self.ledger.tag = message.tag
        self._answer(message.answer)

    @on(LineShown)
    def _line_shown(self, message: LineShown) -> None:
        self.entry.shown = None if message.line is None else (message.prompt, message.line)
        if message.hint:
            self.say(message.hint)
        self._keys()

    # --- keys ----------------------------------------------------------------------------------------

    async def action_pane(self, name: str) -> None:
        """Show a pane of the bench."""
        self.say("")
        self.pane = name
        await self._turn_to("bench")

    async def action_view(self, name: str) -> None:
        """Show another screen; the same key again goes back to the bench."""
        self.say("")
        here = self.view
        await self._asked(name, here)
        if name == "working" and here != "working":
            self.worked = here if here in WORKED else self.pane
        if name in READ and here not in READ:
            self.behind = here
        await self._turn_to(name if here != name else self.behind if name in READ else "bench")

    async def action_large(self) -> None:
        """Large figures on the whole screen, or back."""
        self.large = not self.large
        self.set_class(self.size.width >= WIDE and not self.large, "wide")
        await self.action_pane(self.pane)

    async def action_back(self) -> None:
        """Drop drafts, or go back to the bench."""
        here = self.view
        at_bench = here in ("bench", *TRIES)
        if at_bench and self.ledger.trying:
            self._forget()
            self.say("what was tried is dropped")
            self._flow()
        elif at_bench and self.large:
            await self.action_large()
        elif here in READ and self.behind != "bench":
            await self.action_view(self.behind)
        else:
            await self.action_pane(self.pane)

    def action_walk(self) -> None:
        """A guided first reading, on a scratch job."""
        self.post_message(WalkThrough())

    def action_undo(self) -> None:
        """Undo the last accepted change."""
        self._turn(UNDO)

    def action_redo(self) -> None:
        """Make the undone change again."""
        self._turn(REDO)

    def _turn(self, what: str) -> None:
        at = self.now()
        try:
            if self.reads:
                raise Refusal(self.reads)
            entry, edit = self.ledger.turn(what, at)
        except Refusal as refusal:
            self.say(refusal.message, wrong=True)
            return
        self._forget()
        self._keep(entry, at)
        self.earlier.step(what)
        from bench.sheets.telling import told

        self.say(f"{'undone' if what == UNDO else 'made again'}: {told(edit)}")

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that would do nothing now are not offered, and none but Leave while nothing can be seen."""
        if self.has_class("small"):
            return action == "leave"
        if action == "undo":
            return self.ledger.history.can_undo
        if action == "redo":
            return self.ledger.history.can_redo
        if action == "pane":
            return self.view != "bench" or self.pane != parameters[0] or self.has_class("wide")
        if action == "back":
            return self.view != "bench" or self.large or self.ledger.trying
        return True

    def action_leave(self) -> None:
        """Leave; what is accepted is saved, what is only tried is dropped."""
        self.app.exit()
