"""What the one bench screen knows of its file: what is on disk, since when nothing is, if it only reads."""

from collections.abc import Callable

from textual import on
from textual.message import Message

from bench.ui.host_screen import HostScreen
from bench.ui.ledger import Ledger


class Saved(Message):
    """From the saving thread: how many entries are on disk now, and the problem if there is one."""

    def __init__(self, count: int, problem: str | None) -> None:
        super().__init__()
        self.count, self.problem = count, problem


class SavedScreen(HostScreen):
    """Base of the bench screen: the state of saving, at its head."""

    ledger: Ledger
    now: Callable[[], str]

    def __init__(self) -> None:
        super().__init__()
        self.unsaved = 0
        self.failing_since = ""  # hh:mm of the first save that failed, while saving fails
        self.reads = ""  # why nothing is accepted here: another program has the job open

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
        state = f"saving {self.unsaved}" if self.unsaved else "saved"
        if self.reads:
            state = "OPENED TO READ"
        if self.failing_since:
            state = f"NOT SAVED ({self.unsaved}) since {self.failing_since}"
        self.head.saved = state
