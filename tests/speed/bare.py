"""The bare Textual app that the program is measured against: a head, one line that a key changes, a foot."""

from textual.app import App, ComposeResult
from textual.widgets import Footer, Header, Static


class Bare(App[None]):
    """A dozen lines, with everything as the framework has it."""

    BINDINGS = [("up", "step(1)", "Up"), ("down", "step(-1)", "Down"), ("q", "quit", "Leave")]
    steps = 0

    def compose(self) -> ComposeResult:
        yield Header()
        yield Static("0 steps", id="line", markup=False)
        yield Footer()

    def action_step(self, amount: int) -> None:
        """One line repainted."""
        self.steps += amount
        self.query_one("#line", Static).update(f"{self.steps} steps", layout=False)


if __name__ == "__main__":
    Bare().run(mouse=False)
