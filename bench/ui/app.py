"""The app: handed the loaded job, the species and a way to save; it knows no file and no database."""

import asyncio
import signal
import sys
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from rich.text import Text
from textual import constants, events, on
from textual.app import App
from textual.driver import Driver
from textual.filter import LineFilter, NoColor
from textual.reactive import Reactive
from textual.theme import Theme

from bench.core.errors import Refusal
from bench.core.history import Entry, History
from bench.core.records import Source, Species
from bench.ui.actions import KeyTable
from bench.ui.bench_screen import BenchScreen
from bench.ui.characters import PlainCharacters
from bench.ui.files import Files, NoFiles
from bench.ui.messages import ChangeLook, Say, WalkThrough
from bench.ui.plain import Plain
from bench.ui.preferences import Preferences
from bench.ui.saved_screen import Saved
from bench.ui.settling import settle
from bench.ui.themes import DEFAULTS, LOOKS, THEMES
from bench.ui.views import Rest, Shelf

Save = Callable[[Entry, str], None]
Opened = tuple[History, Sequence[tuple[str, Entry]]]
Start = Callable[
    ..., Opened
]  # of name, unit and perhaps a folder; raises a Refusal; nothing has been made then


class BenchApp(App[None]):
    """Wires the one bench screen to the world outside."""

    TITLE = "tenthmark"
    CSS_PATH = ["styles/frame.tcss", "styles/panes.tcss"]
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False

    theme: Reactive[str] = Reactive(LOOKS[0])

    def __init__(
        self,
        opened: Opened | None,
        woods: dict[str, Species],
        save: Save,
        start: Start,
        sources: Mapping[str, Source] | None = None,
        faults: Sequence[str] = (),
        notice: str = "",
        place: str = "",
        now: Callable[[], str] = lambda: "",
        fault: Callable[[BaseException], str] = repr,
        files: Files | None = None,
        moves: int = 0,
        drawn: Callable[[], None] = lambda: None,
        rest: Callable[[], Rest] | None = None,
        reads: str = "",
        keys: KeyTable | None = None,
        preferences: Preferences | None = None,
    ) -> None:
        """Args:
        opened: history and record of the job; None asks for the name of a first one.
        woods: the library by species key.
        save: queues an accepted entry with its time, and returns at once.
        start: makes a job of this name and unit, in a folder where one is given; raises a Refusal.
        sources: the bibliography by key.
        faults: of the species files, a line each.
        notice: what must be said at the start.
        place: file or folder that a new job goes into.
        now: the time, ISO.
        fault: told of a fault of the program; gives the line that the user reads.
        files: reads and writes the text files that the user names.
        moves: of the search for a better layout in the background; 0: none.
        drawn: called after the first picture.
        rest: reads woods, sources and faults whole, once the first picture stands; None: they are.
        reads: why the job is only read here and nothing is accepted; empty where it is not.
        keys: of every action; None for the program's own.
        preferences: how the screen looks, what is typed for what, and what keeps that.
        """
        super().__init__()
        self.key_table = keys or KeyTable(BenchScreen.key_groups)
        self.preferences = preferences or Preferences()
        self.harmless, self.plain, self.colourless = Plain(), PlainCharacters(), NoColor()
        self.opened, self.woods, self.start = opened, woods, start
        self.save_entry, self.faults, self.now = save, faults, now
        self.sources, self.notice, self.place = sources or {}, notice, place
        self.fault = fault
        self.files = files or NoFiles()
        self.moves, self.rest, self.drawn, self.reads = moves, rest, drawn, reads
        self.bench: BenchScreen | None = None
        # From the start, and not told: the styles are read only once.
        self.set_reactive(BenchApp.theme, self.preferences.theme)
        self.stylesheet.set_variables(self.get_css_variables())
        self.plain.enabled = self.preferences.plain

    def get_driver_class(self) -> type[Driver]:
        """On Linux the one that sleeps while no key is pressed; the framework's elsewhere, or where asked."""
        if sys.platform != "linux" or constants.DRIVER is not None:
            return super().get_driver_class()
        from bench.ui.sleeping_driver import SleepingDriver

        return SleepingDriver

    async def on_event(self, event: events.Event) -> None:
        """As the framework does; but a key that comes once the last screen is gone has nowhere to go."""
        if isinstance(event, events.InputEvent) and not self.screen_stack:
            return
        await super().on_event(event)

    def get_theme(self, theme_name: str) -> Theme | None:
        """One of our own, or of the framework's."""
        return THEMES.get(theme_name) or super().get_theme(theme_name)

    def on_mount(self) -> None:
        self.set_keymap(self.key_table.keymap())
        self._leave_on_signals()
        if self.opened is None:
            from bench.ui.start_screen import StartScreen

            self.push_screen(StartScreen(self.start, self._begin, self._walk, self.place))
            self.call_after_refresh(settle)
        else:
            self._begin(self.opened)

    def _begin(self, opened: Opened) -> None:
        history, record = opened
        self.bench = BenchScreen(
            history, self._shelf(), self.save_entry, record, self.notice, self.now, self.moves
        )
        self.bench.set_reactive(BenchScreen.preferences, self.preferences)
        self.bench.rest, self.bench.reads, self.bench.drawn = self.rest, self.reads, self.drawn
        self.push_screen(self.bench)

    def _shelf(self) -> Shelf:
        return Shelf(self.woods, self.sources, self.faults, self.files, self.key_table)

    @on(WalkThrough)
    def _walk(self) -> None:
        """A guided first reading over whatever is on show; nothing of it stays."""
        from bench.ui.walk_screen import WalkScreen

        if not isinstance(self.screen, WalkScreen):
            walk = WalkScreen(self._shelf(), self.preferences, self.now)
            walk.rest = self.rest if self.bench is None else self.bench.rest
            self.push_screen(walk)

    def saved(self, count: int, problem: str | None) -> None:
        """Told by the saving thread: so many entries are on disk, and why not all. Any thread may call it."""
        if self.bench is not None:
            self.bench.post_message(Saved(count, problem))

    def warn(self, text: str) -> None:
        """Say what was found in the background. Any thread may call it."""
        if self.bench is not None:
            self.bench.post_message(Say(text, wrong=True))

    # --- the look ------------------------------------------------------------------------------------

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The colours by what they are for, before a theme is chosen."""
        return DEFAULTS

    def get_line_filters(self) -> Sequence[LineFilter]:
        """No colour where NO_COLOR says so, nothing that steers, plain characters where wanted."""
        # The framework chose greys before it knew of our themes; bold and reverse carry what is left.
        filters = [self.colourless] if self.no_color else super().get_line_filters()
        return [*filters, self.harmless, *((self.plain,) if self.plain.enabled else ())]

    @on(ChangeLook)
    def _change_look(self, message: ChangeLook) -> None:
        said, wrong = f"{message.name}: {message.value}, for every job", False
        try:
            self.preferences.keep(message.name, message.value)
        except Refusal as refusal:
            said, wrong = f"only until you leave: {refusal}", True
        self.preferences = self.preferences.changed(message.name, message.value)
        self.register_theme(THEMES[self.preferences.theme])
        self.theme, self.plain.enabled = self.preferences.theme, self.preferences.plain
        for screen in self.screen_stack:
            if isinstance(screen, BenchScreen):
                screen.preferences = self.preferences
                screen.say(said, wrong)
        self.refresh_css(animate=False)
        for widget in self.screen.query("*"):
            widget.refresh()

    def post_display_hook(self) -> None:
        """A picture has gone out, unless it is held back while several changes are made."""
        shown = self.screen_stack[-1] if self.screen_stack else None
        if isinstance(shown, BenchScreen) and not self._batch_count:
            shown.displayed()

    def _fatal_error(self) -> None:
        # The framework would print a traceback; the user gets a line, the details go where `fault` puts them.
        error = self._exception or RuntimeError("unknown")
        self._exit_renderables.append(Text(self.fault(error)))
        self._close_messages_no_wait()

    def _leave_on_signals(self) -> None:
        if sys.platform == "win32":
            return
        loop = asyncio.get_running_loop()
        for number in (signal.SIGTERM, signal.SIGHUP):
            loop.add_signal_handler(number, partial(self.exit, return_code=128 + number))
