"""A list with cells: rows up and down, cells left and right, a cell is typed over in place."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core.edits import Edit
from bench.core.errors import Refusal
from bench.core.records import Job
from bench.core.river import River
from bench.ui.drawing import DIM, HEAD, HERE, fit, line, stack, wrapped
from bench.ui.messages import Accept, Say
from bench.ui.typing_line import TypingWidget

Record = TypeVar("Record")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a list."""

    name: str
    title: str
    width: int
    prompt: str = ""  # what may be typed; empty: shown only
    choices: tuple[str, ...] = ()  # turned with Enter instead of typed
    asked: bool = False  # asked for, one after the other, when a row is added
    measured: bool = False  # never copied from another row


class Grid(TypingWidget, Generic[Record]):
    """Base of the lists. A subclass says what the columns, rows and edits are."""

    BINDINGS = [
        Binding("down", "row(1)", "Row", id="list.down", tooltip="The next row"),
        Binding("up", "row(-1)", "Row", id="list.up", tooltip="The row before", show=False),
        Binding("pagedown", "row(10)", "Ten rows", id="list.page-down", tooltip="Ten rows on"),
        Binding("pageup", "row(-10)", "Ten rows", id="list.page-up", tooltip="Ten rows back", show=False),
        Binding("right,tab", "cell(1)", "Cell", id="list.right", tooltip="The next cell"),
        Binding("left,shift+tab", "cell(-1)", "Cell", id="list.left", tooltip="The cell before", show=False),
        Binding(
            "enter", "change", "Change", id="list.change", tooltip="Type the cell over, or turn its choice"
        ),
        Binding("a", "add", "Add", id="list.add", tooltip="A new row, copied from this one"),
        Binding("d", "remove", "Remove", id="list.remove", tooltip="Take the row out; u brings it back"),
    ]

    TITLE = ""
    KIND = ""
    EMPTY = ""

    river: var[River | None] = var(None, init=False, always_update=True)
    accepted: var[Job] = var(Job(""), init=False, always_update=True)
    row: var[int] = var(0, init=False)
    cell: var[int] = var(0, init=False)

    _rows_before: int | None = None  # while a row is being added

    # --- what a subclass says -----------------------------------------------------------------------

    def columns(self) -> Sequence[Column]:
        """The columns, in order of importance from the left."""
        raise NotImplementedError

    def names(self) -> tuple[str, ...]:
        """The names of the rows."""
        raise NotImplementedError

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        """Cell name -> text and style of one row."""
        raise NotImplementedError

    def cell_text(self, row: int, column: Column) -> str:
        """What the entry line begins with when a cell is typed over."""
        return self.texts(row)[column.name][0]

    def record(self, job: Job, name: str) -> Record:
        """The record of a row in a job; raises UnknownName where it is gone."""
        raise NotImplementedError

    def template(self) -> Record:
        """What a new row begins as; every asked cell is put in before it becomes a row."""
        raise NotImplementedError

    def with_cell(self, record: Record, column: Column, text: str) -> Record:
        """A record with one cell typed over; raises a Refusal."""
        raise NotImplementedError

    def put(self, record: Record, was: str) -> Edit:
        """The edit that puts a record into the job, in place of the row named `was` if there is one."""
        raise NotImplementedError

    def checked(self, record: Record, column: Column) -> None:
        """Refuse a new row as soon as one of its cells cannot be; raises a Refusal."""

    def removed(self, name: str) -> Edit:
        """The edit that takes a row out."""
        raise NotImplementedError

    def next_name(self) -> str:
        """A name to offer for a new row."""
        return ""

    def chosen(self) -> None:
        """Called when another row is highlighted."""

    # --- what all share -----------------------------------------------------------------------------

    def watch_river(self) -> None:
        count = len(self.names())
        if self._rows_before is not None and count > self._rows_before:
            self._rows_before = None
            self.row = count - 1  # the row just added
            self.chosen()
        self.row = min(self.row, max(0, count - 1))
        self.refresh()

    def watch_row(self) -> None:
        self.refresh()

    def watch_cell(self) -> None:
        self.refresh()

    def column_here(self) -> Column:
        """The highlighted column."""
        columns = self.columns()
        return columns[min(self.cell, len(columns) - 1)]

    def action_row(self, amount: int) -> None:
        """Another row."""
        self.row = min(max(0, self.row + amount), max(0, len(self.names()) - 1))
        self.chosen()

    def action_cell(self, amount: int) -> None:
        """Another cell."""
        self.cell = (self.cell + amount) % len(self.columns())

    def action_change(self) -> None:
        """Type the cell over, or turn its choice."""
        if not self.names():
            self.action_add()
            return
        column = self.column_here()
        if column.choices:
            now = self.texts(self.row)[column.name][0].strip()
            place = column.choices.index(now) if now in column.choices else -1
            turned = column.choices[(place + 1) % len(column.choices)]
            try:
                self._send(self._changed(self.names()[self.row], column, turned))
            except Refusal as refusal:
                self.post_message(Say(str(refusal), wrong=True))
        else:
            self._ask(self.cell_text(self.row, column).strip())

    def action_add(self) -> None:
        """Ask for the cells of a new row, one after the other; it becomes a row when all are there."""
        asked = [column for column in self.columns() if column.asked]
        self._ask_next(self.template(), asked, first=True)

    def _ask_next(self, record: Record, asked: Sequence[Column], first: bool = False) -> None:
        column, rest = asked[0], asked[1:]
        like = self.names()[self.row] if self.names() else ""

        def take(text: str) -> None:
            changed = self.with_cell(record, column, text)
            self.checked(changed, column)
            if rest:
                self._ask_next(changed, rest)
            else:
                self._send(lambda job: self.put(changed, ""))
                self._rows_before = len(self.names())

        old = self.next_name() if first else ""
        if not first and like and not column.measured:
            old = self.cell_text(self.row, column).strip()
        self.ask_line(f"new {self.KIND}, {column.title}", column.prompt, old, take)

    def action_remove(self) -> None:
        """Take the highlighted row out; refused where something rests on it."""
        if not self.names():
            return
        name = self.names()[self.row]
        try:
            self._send(lambda job: self.removed(name))
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
        else:
            self.post_message(Say(f"{name} taken out; u brings it back"))

    def _changed(self, name: str, column: Column, text: str) -> Callable[[Job], Edit]:
        """What makes the edit of a cell, from whatever the row holds by then."""
        return lambda job: self.put(self.with_cell(self.record(job, name), column, text), name)

    def _ask(self, text: str, typed: bool = False) -> None:
        column = self.column_here()
        if not self.names():
            return
        name = self.names()[self.row]
        if not column.prompt:
            self.post_message(Say(f"{column.title}: it is worked out, not typed"))
            return

        def take(new: str) -> None:
            self._send(self._changed(name, column, new))

        self.ask_line(f"{name}, {column.title}", column.prompt, text, take, typed)

    def _send(self, make: Callable[[Job], Edit]) -> None:
        """Accept an edit; one that the job refuses is refused here, while the line is still open."""
        make(self.accepted).check(self.accepted)
        self.post_message(Accept(make))

    def begin_typing(self, character: str) -> None:
        if not self.column_here().choices:
            self._ask(character, typed=True)

    # --- the picture ---------------------------------------------------------------------------------

    def shown(self, width: int) -> list[Column]:
        """The columns that fit, always with the highlighted one: columns before it give way first."""
        columns = list(self.columns())
        first = 0
        while True:
            room, out = width, []
            for place, column in enumerate(columns):
                if place not in (0,) and place <= first:
                    continue
                if room < column.width:
                    break
                out.append(column)
                room -= column.width + 1
            if self.column_here() in out or first >= len(columns):
                return out
            first += 1

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        names = self.names()
        rows = [line((self.TITLE, HEAD), f"  {len(names)}")]
        if not names:
            return stack([*rows, *(Content(text) for text in wrapped(self.EMPTY, width))])
        columns = self.shown(width)
        rows.append(
            line((" ".join(column.title[: column.width].ljust(column.width) for column in columns), DIM))
        )
        foot = self.foot(width)
        room = max(1, height - len(rows) - len(foot))
        top = max(0, min(self.row - room // 2, len(names) - room))
        for row in range(top, min(len(names), top + room)):
            rows.append(self._row(row, columns))
        while len(rows) < height - len(foot):
            rows.append(Content(""))
        return stack([*rows, *foot][:height])

    def foot(self, width: int) -> list[Content]:
        """Lines below the list about the highlighted row."""
        return []

    def _row(self, row: int, columns: Sequence[Column]) -> Content:
        texts = self.texts(row)
        pieces: list[tuple[str, str]] = []
        for column in columns:
            text, style = texts.get(column.name, ("", ""))
            here = row == self.row and column == self.column_here()
            base = f"bold {style}".strip() if row == self.row else style
            pieces += [(fit(text, column.width), HERE if here else base), (" ", "")]
        return line(*pieces)
