"""A list that goes to a file and comes from one: a table, whose faults are read before anything is taken."""

from collections.abc import Sequence
from typing import Generic, TypeVar

from textual import events
from textual.content import Content

from bench.core.edits import Edit
from bench.core.errors import Refusal
from bench.core.frozen import record
from bench.ui.drawing import HEAD, WRONG, line, stack, wrapped
from bench.ui.files import Files
from bench.ui.grid import Grid
from bench.ui.messages import Say
from bench.ui.writing_out import WritingOut

Record = TypeVar("Record")


@record
class Found(Generic[Record]):
    """What a file holds: the sound rows under their names, and every fault in a line of words."""

    records: tuple[Record, ...]
    names: tuple[str, ...]
    faults: tuple[str, ...]


class TableList(Grid[Record], WritingOut):
    """Base of such a list. The faults of a file take the place of its rows while they are looked at."""

    OFFERED = ""  # a path

    def __init__(self, id: str, files: Files) -> None:
        super().__init__(id=id)
        self.files = files
        self.faults: tuple[str, ...] = ()  # shown in place of the rows
        self.top = 0  # first line shown of them

    # --- what a subclass says -----------------------------------------------------------------------

    def table(self) -> tuple[str, int]:
        """Every row of the job as a table, and how many there are."""
        raise NotImplementedError

    def found(self, text: str) -> Found[Record]:
        """What a table holds."""
        raise NotImplementedError

    def put_all(self, records: tuple[Record, ...]) -> Edit:
        """The edit that adds rows."""
        raise NotImplementedError

    # --- the faults ----------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        return not self.faults or action == "row"

    def take_key(self, event: events.Key) -> bool:
        amount = {"up": -1, "down": 1, "pageup": -10, "pagedown": 10}.get(event.key)
        if self.faults and self._line is not None and amount is not None:
            self.action_row(amount)  # what is asked about can be read while it is asked
            return True
        if self.faults and self._line is None and event.key == "escape":
            self._show_faults(())
            return True
        return super().take_key(event)

    def begin_typing(self, character: str) -> None:
        if not self.faults:
            super().begin_typing(character)

    def _show_faults(self, faults: Sequence[str]) -> None:
        self.faults, self.top = tuple(faults), 0
        self.refresh_bindings()
        self.redraw()

    def _fault_lines(self) -> list[Content]:
        width = self.size.width
        return [line((part, WRONG)) for fault in self.faults for part in wrapped(fault, width, "  ")]

    def action_row(self, amount: int) -> None:
        """Another row; faults are moved on."""
        if not self.faults:
            super().action_row(amount)
            return
        last = len(self._fault_lines()) - max(1, self.size.height - 1)
        self.top = min(max(0, self.top + amount), max(0, last))
        self.redraw()

    def render(self) -> Content:
        if not self.faults:
            return super().render()
        lines = self._fault_lines()
        room = max(1, self.size.height - 1)
        self.top = min(self.top, max(0, len(lines) - room))
        more = f"  {len(lines) - room - self.top} more below" if self.top + room < len(lines) else ""
        title = line(("FAULTS IN THE FILE", HEAD), f"  Esc back to the {self.KIND}s", more)
        return stack([title, *lines[self.top : self.top + room]])

    # --- files ---------------------------------------------------------------------------------------

    def action_to_file(self) -> None:
        """Ask for a path, and write every row of the job there as a table."""
        text, count = self.table()
        self.write_out(self.OFFERED, text, f"{self._counted(count)} written")

    def action_from_file(self) -> None:
        """Ask for a path, and take the rows of the table there, all or on request those without a fault."""
        hint = "a path of a table of comma separated values"
        self.ask_line(f"{self.KIND}s from file", hint, self.OFFERED, self._read)

    def _read(self, path: str) -> None:
        found = self.found(self.files.read(path))
        if not found.faults:
            self._import(found)
            return
        self._show_faults(found.faults)
        count = len(found.faults)
        told = f"{count} fault{'' if count == 1 else 's'}, nothing taken: {found.faults[0]}"
        if not found.records:
            self.post_message(Say(told, wrong=True))
            return

        def take(answer: str) -> None:
            if answer.strip().lower() != "rest":
                raise Refusal("type rest to take the sound ones, Esc takes none", "answer", answer)
            self._import(found)
            self._show_faults(())

        prompt = f"type rest to take the other {len(found.records)}, Esc takes none"
        self.ask_line(prompt, told, "", take)

    def _import(self, found: Found[Record]) -> None:
        self.accept(lambda job: self.put_all(found.records))
        self.awaited = found.names[0]
        self.post_message(Say(f"{self._counted(len(found.records))} taken; <job.undo> takes them out again"))

    def _counted(self, count: int) -> str:
        return f"{count} {self.KIND}{'' if count == 1 else 's'}"
