"""The Evidence screen: what the reading of the stick in hand rests on, and what would make it surer."""

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core.edits import Edit, SetAside
from bench.core.errors import BadInput
from bench.core.records import Job, Species
from bench.core.river import River
from bench.sheets import kinds, stick_sheet
from bench.ui.drawing import DIM, HEAD, line, stack, wrapped
from bench.ui.empty import NO_STICK, empty
from bench.ui.files import Files
from bench.ui.job_widget import JobWidget
from bench.ui.messages import Say
from bench.ui.moving_keys import scroll_keys
from bench.ui.writing_out import Papers, WritingSheets

ASIDE = "its number and why: 2 slipped in the tube; a number alone makes it count again"


TRIED = "something is only tried"


class EvidenceView(JobWidget, WritingSheets):
    """Shows the evidence; sets a reading aside; writes the sheet to a file."""

    BINDINGS = [
        *scroll_keys("evidence", 12),
        Binding("left", "other(-1)", "Stick", id="evidence.before", tooltip="The stick before"),
        Binding("right", "other(1)", "Stick", id="evidence.after", tooltip="The next stick", show=False),
        Binding(
            "d", "aside", "Set aside", id="evidence.aside", tooltip="A reading that does not count, and why"
        ),
        Binding("x", "out", "To file", id="evidence.out", tooltip="The stick record into a file, to print"),
    ]

    drafting: var[bool] = var(False, init=False)
    top: var[int] = var(0, init=False)

    def __init__(self, woods: dict[str, Species], files: Files, papers: Papers) -> None:
        super().__init__(id="evidence")
        self.woods, self.files, self.papers = woods, files, papers

    def watch_river(self, old: River | None, new: River | None) -> None:
        if old is None or new is None or old.tag != new.tag:
            self.top = 0
        self.redraw()

    def watch_top(self) -> None:
        self.redraw()

    def _lines(self) -> tuple[str, ...]:
        if self.hand is None or self.river is None:
            return ()
        species = self.woods.get(self.hand.stick.species)
        return stick_sheet.gravity_page(self.hand, species, self.river.job.settings.units)

    def _written(self) -> list[str]:
        width = max(20, self.size.width)
        rows: list[str] = []
        for text in self._lines():
            indent = " " * (len(text) - len(text.lstrip()) + 2)
            rows += [text] if len(text) <= width else wrapped(text, width, indent)
        return rows

    def begin_typing(self, character: str) -> None:
        if self._has_readings():
            self.ask_line("set aside", ASIDE, character, self._set_aside, typed=True)

    def action_scroll(self, amount: int) -> None:
        """Move the text."""
        self.top = min(max(0, self.top + amount), max(0, len(self._written()) - self.size.height + 1))

    def action_aside(self) -> None:
        """Set a reading aside with a reason, or let it count again."""
        if self._has_readings():
            self.ask_line("set aside", ASIDE, "", self._set_aside)

    def _has_readings(self) -> bool:
        if self.hand is not None and self.hand.stick.readings:
            return True
        self.post_message(Say("there is no reading to set aside"))
        return False

    def _set_aside(self, text: str) -> None:
        assert self.hand is not None
        number, _, why = text.strip().partition(" ")
        if not (number.isascii() and number.isdigit()):
            raise BadInput("reading", text, "does not begin with its number", ASIDE)
        tag = self.hand.stick.tag

        def make(job: Job) -> Edit:
            return SetAside(tag, int(number) - 1, why)

        self.accept(make)

    def action_out(self) -> None:
        """Write the stick record; never with figures that are only tried."""
        if self.hand is not None:
            self.write_sheet(kinds.STICK, self.hand.stick.tag)

    def render(self) -> Content:
        if self.hand is None:
            return stack(empty(self, "EVIDENCE", NO_STICK, self.size.width))
        lines = self._written()
        room = max(1, self.size.height - 1)
        last = min(len(lines), self.top + room)
        more = f"  lines {self.top + 1} to {last} of {len(lines)}" if len(lines) > room else ""
        tag = f" {self.hand.stick.tag}" if self.hand else ""
        tried = f"  {TRIED}" if self.drafting else ""
        rows = [line((f"EVIDENCE{tag}", HEAD), (tried, "$note"), (more, DIM))]
        # What follows an empty line at the margin heads what stands below it.
        heads = {
            place for place, text in enumerate(lines[1:], 1) if text[:1].strip() and not lines[place - 1]
        }
        shown = range(self.top, min(len(lines), self.top + room))
        return stack([*rows, *(line((lines[place], HEAD if place in heads else "")) for place in shown)])
