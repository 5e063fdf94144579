"""A small app on the sleeping driver: `s` lets go of the terminal for a moment, `n` counts, `q` leaves."""

from textual.app import App, ComposeResult
from textual.widgets import Static

from bench.ui.sleeping_driver import SleepingDriver


class Suspending(App[None]):
    """Says how often it was away, and what it counted."""

    BINDINGS = [("s", "away", "Away"), ("n", "count", "Count"), ("q", "quit", "Leave")]
    away = counted = 0

    def compose(self) -> ComposeResult:
        yield Static("away 0, counted 0", id="line", markup=False)

    def _tell(self) -> None:
        self.query_one("#line", Static).update(f"away {self.away}, counted {self.counted}")

    def action_away(self) -> None:
        """Let go of the terminal and take it back."""
        with self.suspend():
            self.away += 1
        self._tell()

    def action_count(self) -> None:
        """One more."""
        self.counted += 1
        self._tell()


if __name__ == "__main__":
    Suspending(driver_class=SleepingDriver).run(mouse=False)
