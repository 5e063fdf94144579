"""The first start: the caution, a name for the job, and the unit of its lengths."""

from collections.abc import Callable, Sequence

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.events import Resize
from textual.screen import Screen
from textual.widgets import Input, Static

from bench.core.errors import CannotSave, Refusal
from bench.core.history import Entry, History
from bench.sheets import wording
from bench.ui.drawing import DIM, HEAD, HERE, line
from bench.ui.frame import LEAST, too_small

Opened = tuple[History, Sequence[tuple[str, Entry]]]
Start = Callable[..., Opened]  # of a name, a unit, and a folder where it is not the usual one
UNITS = {"in": "inches", "mm": "millimetres"}
KEYS = (
    ("enter", "starts the job"),
    ("up/dn", "the other unit"),
    ("tab", "a guided first reading, invented, two minutes"),
    ("esc", "leaves"),
)
LONGEST = 4000  # letters of a folder
LOW = 24  # lines; below it nothing is set apart


class StartScreen(Screen[None]):
    """Asks once; a name that cannot be used stays to be mended."""

    BINDINGS = [
        Binding("up,down", "turn", "Unit", id="start.unit", tooltip="The other unit"),
        Binding("tab", "walk", "Walk", id="start.walk", tooltip="A first reading on an invented stick"),
        Binding("f3", "walk", "Walk", id="start.walk-too", tooltip="The same", show=False),
        Binding("escape", "leave", "Leave", id="start.leave", tooltip="Leave without starting a job"),
        Binding("ctrl+q", "leave", "Leave", id="start.leave-too", tooltip="Leave", show=False, priority=True),
    ]

    def __init__(
        self, start: Start, begin: Callable[[Opened], None], walk: Callable[[], None], place: str
    ) -> None:
        super().__init__()
        self.start, self.begin, self.walk, self.place = start, begin, walk, place
        self.units = "in"

    def compose(self) -> ComposeResult:
        yield Static(
            line(("TENTHMARK", HEAD), "  float readings, sections and cut lists for wooden aircraft")
        )
        yield Static(wording.CAUTION, id="caution", markup=False)
        yield Static(
            line(("A new job: its name, say the aircraft and the part of it", "bold")), id="ask-name"
        )
        entry = Input(id="job-name", compact=True, max_length=40)
        entry.cursor_blink = False
        yield entry
        yield Static("", id="ask-unit")
        yield Static("", id="start-said", markup=False)
        folder = Input(id="job-folder", compact=True, max_length=LONGEST)
        folder.cursor_blink, folder.display = False, False
        yield folder
        keys = [line((key.rjust(7), "bold"), "  ", (does, DIM)) for key, does in KEYS]
        yield Static(Content("\n").join(keys), id="start-keys")
        yield Static("", id="too-small")
        told = f"It is kept in {self.place}\nTo look round in an invented job first: tenthmark demo"
        yield Static(line((told, DIM)), id="start-place")

    def on_mount(self) -> None:
        self._show_unit()
        self.query_one("#job-name", Input).focus()

    def on_resize(self, event: Resize) -> None:
        width, height = event.size.width, event.size.height
        self.set_class(height < LOW, "low")
        self.set_class(width < LEAST[0] or height < LEAST[1], "small")
        self.query_one("#too-small", Static).update(too_small(width, height))

    def _show_unit(self) -> None:
        pieces = [(f" {name} ", HERE if unit == self.units else "") for unit, name in UNITS.items()]
        marks = [">" if unit == self.units else " " for unit in UNITS]
        shown = [piece for pair in zip(marks, pieces, strict=True) for piece in pair]
        self.query_one("#ask-unit", Static).update(line(("Lengths in ", "bold"), *shown))

    @on(Input.Submitted)
    def _submitted(self) -> None:
        name = self.query_one("#job-name", Input).value
        folder = self.query_one("#job-folder", Input).value.strip()
        try:
            opened = self.start(name, self.units, folder) if folder else self.start(name, self.units)
        except Refusal as refusal:
            self._refused(refusal)
            return
        self.dismiss()
        self.begin(opened)

    def _refused(self, refusal: Refusal) -> None:
        """Say why; where the file cannot be made, ask for another folder."""
        said = str(refusal)
        if isinstance(refusal, CannotSave):
            said += "\nAnother folder for it, say ~/jobs; it is made if it is not there:"
            folder = self.query_one("#job-folder", Input)
            folder.display, self.query_one("#start-place").display = True, False
            folder.focus()
        self.query_one("#start-said", Static).update(said)

    def action_turn(self) -> None:
        """The other unit."""
        self.units = "mm" if self.units == "in" else "in"
        self._show_unit()

    def action_walk(self) -> None:
        """A guided first reading; afterwards this screen is here again."""
        self.walk()

    def action_leave(self) -> None:
        """Leave without a job."""
        self.app.exit()
