"""Everything that can be done, in one list: a few letters find it, Enter does it."""

from collections.abc import Sequence

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.ui.actions import Action, KeyTable
from bench.ui.drawing import DIM, HEAD, HERE, fit, line, stack, window
from bench.ui.keys import KeyWidget
from bench.ui.messages import DoAction
from bench.ui.typing_line import Line

KEY, DOES = 9, 16  # columns


class ActionsView(KeyWidget):
    """Lists the actions, those of the screen one came from first."""

    BINDINGS = [
        Binding("down", "move(1)", "Row", id="actions.down", tooltip="The next action"),
        Binding("up", "move(-1)", "Row", id="actions.up", tooltip="The one before", show=False),
        Binding("pagedown", "move(10)", "Ten on", id="actions.page", tooltip="Ten on"),
        Binding("pageup", "move(-10)", "Ten on", id="actions.page-up", tooltip="Ten back", show=False),
        Binding("enter", "do", "Do it", id="actions.do", tooltip="Do it, or go to the screen it works on"),
    ]

    takes_letters = True

    at: var[int] = var(0, init=False)

    def __init__(self, table: KeyTable) -> None:
        super().__init__(id="actions")
        self.table = table
        self.offered: Sequence[Action] = table.actions
        self.sought = Line("", 0)

    def watch_at(self) -> None:
        self.redraw()

    def show_all(self, offered: Sequence[Action]) -> None:
        """Begin anew with these actions, in this order."""
        self.offered, self.sought, self.at = offered, Line("", 0), 0
        self.redraw()

    def found(self) -> list[Action]:
        """The actions that hold every word typed."""
        words = self.sought.text.lower().split()

        def text(action: Action) -> str:
            return f"{action.does} {action.tells} {action.where} {action.id}".lower()

        return [action for action in self.offered if all(word in text(action) for word in words)]

    def take_key(self, event: events.Key) -> bool:
        """Letters look for an action; every other key is bound."""
        character = event.character if event.is_printable and event.character else ""
        sought = self.sought.insert(character) if character else self.sought.pressed(event.key)
        if sought == self.sought:
            return bool(character)
        self.sought, self.at = sought, 0
        self.redraw()
        return True

    def action_move(self, amount: int) -> None:
        """Highlight another action."""
        self.at = max(0, min(len(self.found()) - 1, self.at + amount))

    def action_do(self) -> None:
        """Do the highlighted one."""
        found = self.found()
        if found:
            self.post_message(DoAction(found[min(self.at, len(found) - 1)].id))

    def render(self) -> Content:
        width, height = self.size.width, max(3, self.size.height)
        found, text, cursor = self.found(), self.sought.text, self.sought.cursor
        typed = line(("look for: ", DIM), text[:cursor], ((text + " ")[cursor], HERE), text[cursor + 1 :])
        rows = [line(("ACTIONS", HEAD), (f"  {len(found)} of {len(self.offered)}", DIM)), typed, Content("")]
        shown = [self._row(place, action, width) for place, action in enumerate(found)]
        none = [Content("nothing has these words; Backspace takes letters out")]
        return stack([*rows, *window(shown or none, self.at, height - len(rows))])

    def _row(self, place: int, action: Action, width: int) -> Content:
        key = fit(self.table.name(action), KEY)
        tells = action.tells if width < 100 else f"{action.tells}  ({action.where})"
        row = line(
            ("> " if place == self.at else "  "),
            (key, "bold"),
            " ",
            fit(action.does, DOES),
            " ",
            (tells[: max(0, width - KEY - DOES - 4)], DIM),
        )
        return line((row.plain, HERE)) if place == self.at else row
