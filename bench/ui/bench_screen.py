"""The one main screen: it alone owns the job, applies edits, keeps the history and hands the river down."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Resize
from textual.message import Message
from textual.reactive import var
from textual.widget import Widget
from textual.widgets import ContentSwitcher, Static

from bench.core.edits import Edit
from bench.core.errors import Refusal
from bench.core.history import REDO, UNDO, Entry, History
from bench.core.records import Job
from bench.ui import pages, views
from bench.ui.entry import EntryLine
from bench.ui.everywhere import EVERYWHERE
from bench.ui.fieldpane import FieldPane
from bench.ui.frame import Head, KeysLine, MessageLine, RiverLines, offered
from bench.ui.ledger import Ledger
from bench.ui.looking_on import LookingOn
from bench.ui.messages import Accept, Draft, Keep, Say, TakeInHand, Waiting
from bench.ui.record_screen import RecordScreen
from bench.ui.searching import Searcher
from bench.ui.typing_line import LineShown

PANES = ("float", "section", "cuts")
READ = ("working", "keys", "evidence", "trace", "earlier", "parcel")
TRIES = ("shop", "inspect", "moisture")  # screens whose Enter keeps and whose Esc drops
# Screens that have a working of their own.
WORKED = ("inspect", "moisture", "woods", "buying", "breaks", "trial", "groups")
WIDE = 120
LEAST = (60, 20)


class Saved(Message):
    """From the saving thread: how many entries are on disk now, and the problem if there is one."""

    def __init__(self, count: int, problem: str | None) -> None:
        super().__init__()
        self.count, self.problem = count, problem


class BenchScreen(RecordScreen):
    """Float -> Section -> Cuts, and the screens round them."""

    BINDINGS = EVERYWHERE

    accepted: var[Job] = var(Job(""), init=False, always_update=True)
    drafting: var[bool] = var(False)

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
        self.ledger = Ledger(history, shelf.woods, record)
        self.shelf = replace(shelf, papers=self.papers)
        self.save, self.now, self.notice = save, now, notice
        self.pane = "float"
        self.behind = "bench"  # the screen that a page is read beside
        self.worked = "float"  # the pane or screen whose working is shown
        self.large = False
        self.unsaved = 0
        self.failing_since = ""  # hh:mm of the first save that failed, while saving fails
        self.reads = ""  # why nothing is accepted here: another program has the job open
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
        def working(width: int) -> list[Content]:
            """The working of the pane or screen that was on show."""
            if self.worked in WORKED:
                steps = self.query_one(f"#{self.worked}").steps()  # type: ignore[attr-defined]
                why = "nothing with a number has been measured here yet"
            else:
                steps = pages.bench_steps(self.river, self.shelf.woods, self.worked)
                why = pages.missing(self.river, self.worked)
            return pages.working_page(steps, why, self.job.settings.units, width)

        bound = (BenchScreen.river, BenchScreen.accepted, BenchScreen.drafting)
        yield Head().data_bind(BenchScreen.river, BenchScreen.drafting)
        yield RiverLines().data_bind(BenchScreen.river)
        with ContentSwitcher(id="views", initial="bench"):
            with Horizontal(id="bench"):
                yield from views.panes(self.shelf, *bound)
            yield from views.screens(
                self.shelf,
                *bound,
                {
                    "working": working,
                    "keys": lambda width: pages.keys_page(self.key_groups(), width),
                },
            )
            for view in self.looking_back(self.shelf):
                yield view.data_bind(BenchScreen.river, BenchScreen.accepted)
        yield MessageLine()
        yield EntryLine()
        yield KeysLine()
        yield Static("", id="too-small", markup=False)

    def on_mount(self) -> None:
        self._tell_saved()
        self.bindings_updated_signal.subscribe(self, lambda _: self._keys())
        self.accepted = self.job
        self.river, _ = self.ledger.flow()
        self.action_pane("float")
        self.call_after_refresh(self.searcher.follow, self.river, False)
        self.call_after_refresh(self.looking_on.follow, self.river)
        if self.ledger.at_saw():
            self.action_pane("cuts")
            self.action_view("saw")
        if self.notice:
            self.say(self.notice, wrong=True)
        elif self.shelf.faults:
            self.say(f"{len(self.shelf.faults)} faulty species file(s): {self.shelf.faults[0]}", wrong=True)

    def on_resize(self, event: Resize) -> None:
        width, height = event.size.width, event.size.height
        was_small, small = self.has_class("small"), width < LEAST[0] or height < LEAST[1]
        self.set_class(width >= WIDE and not self.large, "wide")
        self.set_class(small, "small")
        if small:
            needs = f"Tenthmark needs {LEAST[0]} x {LEAST[1]}; make it larger."
            text = f"This terminal is {width} x {height}. {needs}"
            self.query_one("#too-small", Static).update(text)
        self._arrange()
        if was_small and not small:
            self.call_after_refresh(self._focus)  # what is not shown has lost it

    def _arrange(self) -> None:
        """Which panes stand side by side, and which are a line each."""
        view = self.query_one("#views", ContentSwitcher).current
        wide = self.has_class("wide")
        for name in PANES:
            pane = self.query_one(f"#{name}")
            pane.display = wide or name == self.pane
            pane.large = self.large and name == self.pane  # type: ignore[attr-defined]
        if view != "bench":
            hidden: tuple[str, ...] = PANES
        else:
            hidden = () if wide else tuple(name for name in PANES if name != self.pane)
        self.query_one(RiverLines).hidden = hidden
        keeps = view in TRIES or (view == "bench" and self.pane != "cuts")
        self.query_one(MessageLine).keeps = keeps
        self._keys()

    @staticmethod
    def key_groups() -> list[tuple[str, type[Widget]]]:
        """Every class that binds keys, by where they work."""
        return [("everywhere", BenchScreen), *views.KEY_GROUPS]

    def _keys(self) -> None:
        """Show the keys that work now: those of the pane first."""
        line = self.query_one(KeysLine)
        line.here, line.keys = offered(self, self.query_one(EntryLine).shown is not None)

    def say(self, text: str, wrong: bool = False) -> None:
        """A line for the user."""
        self.query_one(MessageLine).said = (text, wrong)

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

    def _flow_now(self) -> None:
        self.stale = False
        river, dropped = self.ledger.flow()
        self.river = self._lay_out(river)
        self.looking_on.follow(self.river)
        self.drafting = self.ledger.trying
        message = self.query_one(MessageLine)
        message.drafts = tuple(self.ledger.drafts)
        refusal = self.river.section.refusal if "ChooseSection" in self.ledger.drafts else None
        message.waiting = next(iter(self.ledger.waiting.values()), "") or (
            "the Section pane says why" if refusal else ""
        )
        if dropped:
            self._panes_forget(dropped)
            self.say(next(iter(dropped.values())), wrong=True)
        self._keys()
        answers, self.answers = self.answers, []
        for answer in answers:
            answer()

    @on(Draft)
    def _draft(self, message: Draft) -> None:
        if not self.ledger.attempt(message.edit, self.now()):
            for pane in self.query(FieldPane):
                pane.changes_nothing(message.edit)
        elif message.elsewhere:
            for pane in self.query(FieldPane):
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

    def _panes_forget(self, subjects: Iterable[str]) -> None:
        for pane in self.query(FieldPane):
            pane.forget(subjects)

    @on(Saved)
    def _saved(self, message: Saved) -> None:
        self.unsaved = len(self.ledger.record) - message.count
        if message.problem:
            self.failing_since = self.failing_since or self.now()[11:16]
            self.say(f"not saved: {message.problem}", wrong=True)
        else:
            if self.failing_since:
                self.say(f"saved again: all that was accepted since {self.failing_since} is on disk")
            self.failing_since = ""
        self._tell_saved()

    def _tell_saved(self) -> None:
        """Whether everything accepted is on disk, at the head of the screen."""
        failing = f"NOT SAVED ({self.unsaved}) since {self.failing_since}" if self.failing_since else ""
        reads = "OPENED TO READ" if self.reads else ""
        self.query_one(Head).saved = (
            failing or reads or (f"saving {self.unsaved}" if self.unsaved else "saved")
        )

    @on(Say)
    def _say(self, message: Say) -> None:
        self.say(message.text, message.wrong)

    @on(TakeInHand)
    def _take_in_hand(self, message: TakeInHand) -> None:
        self.ledger.tag = message.tag
        self._answer(message.answer)

    @on(LineShown)
    def _line_shown(self, message: LineShown) -> None:
        entry = self.query_one(EntryLine)
        entry.shown = None if message.line is None else (message.prompt, message.line)
        if message.hint:
            self.say(message.hint)
        self._keys()

    # --- keys ----------------------------------------------------------------------------------------

    def _focus(self) -> None:
        view = self.query_one("#views", ContentSwitcher).current or "bench"
        self.set_focus(self.query_one(f"#{self.pane if view == 'bench' else view}"))  # the next key may wait

    def action_pane(self, name: str) -> None:
        """Show a pane of the bench."""
        self.say("")
        self.pane = name
        self.query_one("#views", ContentSwitcher).current = "bench"
        self._arrange()
        self._focus()

    def action_view(self, name: str) -> None:
        """Show another screen; the same key again goes back to the bench."""
        self.say("")
        shown = self.query_one("#views", ContentSwitcher)
        here = shown.current or "bench"
        if name == "working" and here != "working":
            self.worked = here if here in WORKED else self.pane
        if name in READ and here not in READ:
            self.behind = here
        shown.current = name if here != name else self.behind if name in READ else "bench"
        self._arrange()
        self._focus()

    def action_large(self) -> None:
        """Large figures on the whole screen, or back."""
        self.large = not self.large
        self.set_class(self.size.width >= WIDE and not self.large, "wide")
        self.action_pane(self.pane)

    def action_back(self) -> None:
        """Drop drafts, or go back to the bench."""
        here = self.query_one("#views", ContentSwitcher).current or "bench"
        at_bench = here in ("bench", *TRIES)
        if at_bench and self.ledger.trying:
            self._forget()
            self.say("what was tried is dropped")
            self._flow()
        elif at_bench and self.large:
            self.action_large()
        elif here in READ and self.behind != "bench":
            self.action_view(self.behind)
        else:
            self.action_pane(self.pane)

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
        self.say(f"{'undone' if what == UNDO else 'made again'}: {pages.told(edit)}")

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that would do nothing now are not offered, and none but Leave while nothing can be seen."""
        if self.has_class("small"):
            return action == "leave"
        if action == "undo":
            return self.ledger.history.can_undo
        if action == "redo":
            return self.ledger.history.can_redo
        if action == "pane" and self.is_mounted:
            at_bench = self.query_one("#views", ContentSwitcher).current == "bench"
            return not (at_bench and self.pane == parameters[0] and not self.has_class("wide"))
        if action == "back" and self.is_mounted:
            at_bench = self.query_one("#views", ContentSwitcher).current == "bench"
            return not at_bench or self.large or self.ledger.trying
        return True

    def action_leave(self) -> None:
        """Leave; what is accepted is saved, what is only tried is dropped."""
        self.app.exit()
