"""The line at the foot where what is being typed is shown."""

from textual.content import Content
from textual.reactive import var

from bench.ui.drawing import HERE, TRIED, line
from bench.ui.lined import Lined
from bench.ui.typing_line import Line


class EntryLine(Lined):
    """A prompt and the text with its cursor; nothing while no line is open."""

    shown: var[tuple[str, Line] | None] = var(None, init=False)

    def watch_shown(self) -> None:
        self.display = self.shown is not None
        self.redraw()

    def render(self) -> Content:
        if self.shown is None:
            return Content("")
        prompt, typed = self.shown
        room = max(8, self.size.width - len(prompt) - 4)
        start = max(0, typed.cursor - room + 1)
        text = typed.text[start : start + room]
        at = typed.cursor - start
        if typed.old:
            return line((f"{prompt}: ", TRIED), (text, HERE), " ")
        return line((f"{prompt}: ", TRIED), text[:at], ((text + " ")[at], HERE), text[at + 1 :])
