"""A pane of values: one is highlighted, stepped with the arrows or typed over, kept with Enter."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core.edits import Edit
from bench.core.errors import Refusal
from bench.core.frozen import record
from bench.ui.drawing import DIM, HERE, line
from bench.ui.job_widget import JobWidget
from bench.ui.messages import Keep, Say

if TYPE_CHECKING:
    from bench.core.river import River


@record
class Field:
    """One value of a pane."""

    name: str
    label: str
    shown: str
    prompt: str = ""  # what may be typed; empty: stepped only


class FieldPane(JobWidget):
    """Base of panes with values. A subclass says what the values are and what an edit of one is."""

    BINDINGS = [
        Binding("up", "step(1)", "Step", id="pane.step-up", tooltip="Step the highlighted value up"),
        Binding("down", "step(-1)", "Step", id="pane.step-down", tooltip="Step it down", show=False),
        Binding("plus", "step(1)", "Step", id="pane.plus", tooltip="Step up, on the number pad", show=False),
        Binding(
            "minus", "step(-1)", "Step", id="pane.minus", tooltip="Step down, on the number pad", show=False
        ),
        Binding("pageup", "step(10)", "Ten", id="pane.leap-up", tooltip="Ten steps up"),
        Binding("pagedown", "step(-10)", "Ten", id="pane.leap-down", tooltip="Ten steps down", show=False),
        Binding("tab", "next(1)", "Next", id="pane.next", tooltip="Highlight the next value"),
        Binding(
            "asterisk",
            "next(1)",
            "Next",
            id="pane.next-pad",
            tooltip="The same, number pad",
            show=False,
        ),
        Binding(
            "shift+tab",
            "next(-1)",
            "Next",
            id="pane.back",
            tooltip="Highlight the one before",
            show=False,
        ),
        Binding("enter", "keep", "Keep", id="pane.keep", tooltip="Keep what is tried; else type the value"),
    ]

    drafting: var[bool] = var(False, init=False)
    large: var[bool] = var(False, init=False)
    at: var[int] = var(0, init=False)

    # --- what a subclass says -----------------------------------------------------------------------

    def fields(self) -> Sequence[Field]:
        """The values in order; may be empty."""
        raise NotImplementedError

    def stepped(self, name: str, amount: int) -> None:
        """Try a value some steps further; post a Draft."""
        raise NotImplementedError

    def typed(self, name: str, text: str) -> None:
        """Take a typed value; post a Draft or an Accept, or raise a Refusal."""
        raise NotImplementedError

    # --- what all share -----------------------------------------------------------------------------

    def watch_river(self, old: River | None, new: River | None) -> None:
        self.at = min(self.at, max(0, len(self.fields()) - 1))
        self.redraw()

    def forget(self, subjects: Iterable[str]) -> None:
        """Drop what was tried of these subjects: it has been kept, or is not wanted any more."""

    def watch_at(self) -> None:
        self.redraw()

    def watch_large(self) -> None:
        self.redraw()

    def watch_drafting(self) -> None:
        self.redraw()

    def field_here(self) -> Field | None:
        """The highlighted value."""
        fields = self.fields()
        return fields[min(self.at, len(fields) - 1)] if fields else None

    def field_lines(self, width: int, label: int) -> list[Content]:
        """Every value in one line of a width, the label in so many columns."""
        fields = self.fields()
        lit = min(self.at, len(fields) - 1)
        return [self._field_line(field, place == lit, width, label) for place, field in enumerate(fields)]

    def _field_line(self, field: Field, here: bool, width: int, label: int) -> Content:
        shown = field.shown[: max(0, width - label - 3)]
        value = (f" {shown} ", HERE) if here and self.has_focus else f" {shown} "
        return line((field.label[:label].ljust(label), DIM), ">" if here else " ", value)

    def action_next(self, amount: int) -> None:
        """Highlight another value."""
        count = len(self.fields())
        self.at = (self.at + amount) % count if count else 0

    def on_to(self, missing: Iterable[str]) -> None:
        """After a typed value: on to the next of these that are still missing, or stay where all is there."""
        names, wanted = [field.name for field in self.fields()], set(missing)
        round_from_here = (*range(self.at + 1, len(names)), *range(self.at))
        self.at = next((place for place in round_from_here if names[place] in wanted), self.at)

    def take_key(self, event: events.Key) -> bool:
        """Tab in a line goes on once: not again where taking the line has gone on by itself."""
        before = self.at
        return super().take_key(event) or (event.key == "tab" and self.at != before)

    def action_step(self, amount: int) -> None:
        """Step the highlighted value."""
        field = self.field_here()
        if field is not None:
            self._try(lambda: self.stepped(field.name, amount))

    def action_keep(self) -> None:
        """Keep the drafts; where there is none, type the highlighted value."""
        self.hold_keys()  # they belong to the line, if one opens
        self.post_message(Keep(self._kept))

    def _kept(self, kept: bool) -> None:
        if not kept:
            self._ask("")
        self.let_keys()

    def begin_typing(self, character: str) -> None:
        self._ask(character)

    def _ask(self, text: str) -> None:
        """Type the highlighted value over."""
        field = self.field_here()
        if field is None:
            return
        if not field.prompt:
            self.post_message(Say(f"{field.label}: step it with the arrow keys"))
            return
        name = field.name
        self.ask_line(field.label, field.prompt, text, lambda new: self.typed(name, new), typed=bool(text))

    def trying(self, subject: str) -> Edit | None:
        """What this pane tries of a subject; None where it tries nothing of it."""
        return None

    def take_up(self, edit: Edit) -> None:
        """An edit of this pane's that is tried from elsewhere."""

    def changes_nothing(self, edit: Edit) -> None:
        """An edit that was tried leaves the job as it is: unless the value has moved on, nothing is tried."""
        if self.trying(edit.subject) == edit:
            self.forget({edit.subject})

    def _try(self, action: Callable[[], None]) -> None:
        try:
            action()
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
