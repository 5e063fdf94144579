"""The app: handed the loaded job, the species and a way to save; it knows no file and no database."""

import asyncio
import signal
import sys
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from rich.text import Text
from textual import constants
from textual.app import App
from textual.driver import Driver
from textual.filter import LineFilter
from textual.reactive import Reactive
from textual.theme import Theme

from bench.core.history import Entry, History
from bench.core.records import Source, Species
from bench.ui.bench_screen import BenchScreen
from bench.ui.files import Files, NoFiles
from bench.ui.messages import Say
from bench.ui.plain import Plain
from bench.ui.saved_screen import Saved
from bench.ui.settling import settle
from bench.ui.views import Rest, Shelf

Save = Callable[[Entry, str], None]
Opened = tuple[History, Sequence[tuple[str, Entry]]]
Start = Callable[[str], Opened]  # raises a Refusal; nothing has been made then

# Only the eight plain colours of a console, so that it looks the same on a kernel console and a terminal.
SHOP_THEME = Theme(
    name="bench",
    ansi=True,
    dark=True,
    primary="ansi_cyan",
    secondary="ansi_cyan",
    accent="ansi_yellow",
    warning="ansi_yellow",
    error="ansi_red",
    success="ansi_green",
    foreground="ansi_white",
    background="ansi_black",
    surface="ansi_black",
    panel="ansi_black",
    boost="ansi_black",
    variables={
        "ansi-background": "ansi_black",
        "ansi-foreground": "ansi_white",
        "block-cursor-foreground": "ansi_black",
        "block-cursor-background": "ansi_cyan",
        "block-cursor-text-style": "none",
        "input-cursor-background": "ansi_white",
        "input-cursor-foreground": "ansi_black",
        "input-cursor-text-style": "none",
        "border-blurred": "ansi_white",
    },
)


class BenchApp(App[None]):
    """Wires the one bench screen to the world outside."""

    TITLE = "tenthmark"
    CSS_PATH = ["styles/frame.tcss", "styles/panes.tcss"]
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False

    theme: Reactive[str] = Reactive(SHOP_THEME.name)  # from the start: the styles are read only once

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
    ) -> None:
        """Args:
        opened: history and record of the job; None asks for the name of a first one.
        woods: the library by species key.
        save: queues an accepted entry with its time, and returns at once.
        start: makes a job of this name; raises a Refusal.
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
        """
        super().__init__()
        self.opened, self.woods, self.start = opened, woods, start
        self.save_entry, self.faults, self.now = save, faults, now
        self.sources, self.notice, self.place = sources or {}, notice, place
        self.fault = fault
        self.files = files or NoFiles()
        self.moves, self.rest, self.drawn, self.reads = moves, rest, drawn, reads
        self.bench: BenchScreen | None = None
        self._plain = Plain()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Those of the framework, and ours."""
        return [*super().get_line_filters(), self._plain]

    def get_driver_class(self) -> type[Driver]:
        """On Linux the one that sleeps while no key is pressed; the framework's elsewhere, or where asked."""
        if sys.platform != "linux" or constants.DRIVER is not None:
            return super().get_driver_class()
        from bench.ui.sleeping_driver import SleepingDriver

        return SleepingDriver

    def get_theme(self, theme_name: str) -> Theme | None:
        """Our own theme, or one of the framework's."""
        return SHOP_THEME if theme_name == SHOP_THEME.name else super().get_theme(theme_name)

    def on_mount(self) -> None:
        self._leave_on_signals()
        if self.opened is None:
            from bench.ui.start_screen import StartScreen

            self.push_screen(StartScreen(self.start, self._begin, self.place))
            self.call_after_refresh(settle)
        else:
            self._begin(self.opened)

    def _begin(self, opened: Opened) -> None:
        history, record = opened
        shelf = Shelf(self.woods, self.sources, self.faults, self.files)
        self.bench = BenchScreen(history, shelf, self.save_entry, record, self.notice, self.now, self.moves)
        self.bench.rest, self.bench.reads, self.bench.drawn = self.rest, self.reads, self.drawn
        self.push_screen(self.bench)

    def saved(self, count: int, problem: str | None) -> None:
        """Told by the saving thread: so many entries are on disk, and why not all. Any thread may call it."""
        if self.bench is not None:
            self.bench.post_message(Saved(count, problem))

    def warn(self, text: str) -> None:
        """Say what was found in the background. Any thread may call it."""
        if self.bench is not None:
            self.bench.post_message(Say(text, wrong=True))

    def post_display_hook(self) -> None:
        """A picture has gone out, unless it is held back while several changes are made."""
        if self.bench is not None and not self._batch_count:
            self.bench.displayed()

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
