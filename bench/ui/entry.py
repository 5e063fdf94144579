"""The one line where text is typed; what cannot be read stays there to be mended."""

from collections.abc import Callable

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.widgets import Input, Static
from textual.widgets.input import Selection


class EntryLine(Horizontal):
    """A prompt and an input, shown only while something is asked."""

    class Taken(Message):
        """The line was entered."""

        def __init__(self, text: str, take: Callable[[str], None]) -> None:
            super().__init__()
            self.text, self.take = text, take

    def __init__(self) -> None:
        super().__init__(id="entry")
        self._take: Callable[[str], None] | None = None

    def compose(self) -> ComposeResult:
        yield Static("", id="entry-prompt", markup=False)
        text = Input(id="entry-text", compact=True, select_on_focus=False)
        text.cursor_blink = False
        yield text

    @property
    def is_open(self) -> bool:
        """Whether something is being asked."""
        return self._take is not None

    def open(self, prompt: str, text: str, take: Callable[[str], None], typed: bool) -> None:
        """Ask; the text is what the line begins with, selected unless it is being typed."""
        self._take = take
        self.query_one("#entry-prompt", Static).update(prompt + ":")
        entry = self.query_one(Input)
        entry.value = text
        entry.selection = Selection.cursor(len(text)) if typed else Selection(0, len(text))
        self.add_class("open")
        entry.focus()

    def close(self) -> None:
        """Put the line away."""
        self._take = None
        self.remove_class("open")

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        if self._take is not None:
            self.post_message(self.Taken(event.value, self._take))
