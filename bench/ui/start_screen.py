"""The first start: the caution, and a name for the job."""

from collections.abc import Callable, Sequence

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Input, Static

from bench.core.errors import Refusal
from bench.core.history import Entry, History
from bench.sheets import wording

Opened = tuple[History, Sequence[tuple[str, Entry]]]
Start = Callable[[str], Opened]


class StartScreen(Screen[None]):
    """Asks once; a name that cannot be used stays to be mended."""

    BINDINGS = [
        Binding("escape", "leave", "Leave", id="start.leave", tooltip="Leave without starting a job"),
        Binding("ctrl+q", "leave", "Leave", id="start.leave-too", tooltip="Leave", show=False, priority=True),
    ]

    def __init__(self, start: Start, begin: Callable[[Opened], None], place: str) -> None:
        super().__init__()
        self.start, self.begin, self.place = start, begin, place

    def compose(self) -> ComposeResult:
        yield Static("TENTHMARK\n\nFloat readings, sections and cut lists for wooden aircraft.", markup=False)
        yield Static("\n" + wording.CAUTION, id="caution", markup=False)
        yield Static(f"\nA new job, kept in {self.place}", markup=False)
        yield Static("Its name, say the aircraft and the part of it:", markup=False)
        entry = Input(id="job-name", compact=True, max_length=40)
        entry.cursor_blink = False
        yield entry
        yield Static("", id="start-said", markup=False)
        yield Static("\nenter Start   esc Leave", markup=False)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        try:
            opened = self.start(event.value)
        except Refusal as refusal:
            self.query_one("#start-said", Static).update(str(refusal))
            return
        self.dismiss()
        self.begin(opened)

    def action_leave(self) -> None:
        """Leave without a job."""
        self.app.exit()
