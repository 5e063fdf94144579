"""A list to look through: one row is highlighted, and what it is about is written below."""

from collections.abc import Sequence

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core.errors import Refusal
from bench.ui.drawing import DIM, HEAD, HERE, WRONG, fit, line, stack, wrapped
from bench.ui.job_widget import JobWidget
from bench.ui.keys import keyed
from bench.ui.moving_keys import row_keys


class Picked(JobWidget):
    """Base of such lists. A subclass says what the rows are and what stands below them."""

    BINDINGS = [
        *row_keys("look"),
        Binding("home", "row(-10000000)", "First", id="look.first", tooltip="The first row", show=False),
        Binding("end", "row(10000000)", "Last", id="look.last", tooltip="The last row", show=False),
    ]

    place: var[int] = var(0, init=False)

    def watch_place(self) -> None:
        self.redraw()
        self.refresh_bindings()

    def watch_river(self) -> None:
        if self.display:
            self.redraw()

    def begin_typing(self, character: str) -> None:
        """Nothing is typed over here."""

    # --- what a subclass says -----------------------------------------------------------------------

    def count(self) -> int:
        """How many rows."""
        raise NotImplementedError

    def head(self) -> str:
        """The title, and after two blanks what is to be known of the list."""
        raise NotImplementedError

    def row(self, place: int, width: int) -> Sequence[tuple[str, str]]:
        """One row as pieces of text with their style."""
        raise NotImplementedError

    def foot(self, width: int) -> Sequence[tuple[str, str]]:
        """What is said of the highlighted row, or of the list where it is empty; a style for each line."""
        return ()

    def empty(self) -> str:
        """What to say where there is no row."""
        raise NotImplementedError

    # --- what all share -----------------------------------------------------------------------------

    def action_row(self, amount: int) -> None:
        """Another row."""
        self.place = min(max(0, self.place + amount), max(0, self.count() - 1))

    def render(self) -> Content:
        try:
            return self._picture()
        except Refusal as refusal:  # what it is about cannot be read any more
            said = wrapped(str(refusal), self.size.width)[: max(1, self.size.height)]
            return stack([line((text, WRONG)) for text in said])

    def _picture(self) -> Content:
        width, height, count = self.size.width, max(2, self.size.height), self.count()
        title, _, more = self.head().partition("  ")
        top_line = line((title, HEAD), (fit(f"  {more}" if more else "", max(0, width - len(title))), DIM))
        here = min(self.place, max(0, count - 1))
        foot = [
            line((part, style)) for text, style in self.foot(width) for part in wrapped(text, width, "  ")
        ][: max(0, height - 4)]
        room = max(1, height - 1 - len(foot) - bool(foot))
        top = max(0, min(here - room // 2, count - room))
        rows = [self._drawn(place, here, width) for place in range(top, min(count, top + room))]
        if not count:
            rows = [Content(text) for text in wrapped(keyed(self, self.empty()), width)][:room]
        rows += [Content("")] * (room - len(rows))
        return stack([top_line, *rows, *([Content("")] if foot else []), *foot])

    def _drawn(self, place: int, here: int, width: int) -> Content:
        """One row within the width, what is cut off marked with two points."""
        pieces = list(self.row(place, width))
        text = "".join(piece for piece, _ in pieces)
        if place == here:
            return line((fit(text, width), HERE))
        drawn = line(*pieces)
        return drawn if drawn.cell_length <= width else line(drawn[: max(0, width - 2)], "..")
