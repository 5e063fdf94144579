"""A list with cells: rows up and down, cells left and right, a cell is typed over in place.

Which rows are shown and which one is highlighted is the business of `Listing`.
"""

from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

from textual.binding import Binding
from textual.content import Content

from bench.core.edits import Edit
from bench.core.errors import Refusal, UnknownName
from bench.core.records import Job
from bench.ui.drawing import DIM, HEAD, HERE, fit, line, stack
from bench.ui.empty import Empty, empty
from bench.ui.listing import Column, Listing, alike, free_name
from bench.ui.messages import Say
from bench.ui.moving_keys import row_keys

__all__ = ["Column", "Grid"]

Record = TypeVar("Record")


class Grid(Listing, Generic[Record]):
    """Base of the lists. A subclass says what the columns, rows and edits are."""

    BINDINGS = [
        *row_keys("list"),
        Binding("right,tab", "cell(1)", "Cell", id="list.right", tooltip="The next cell"),
        Binding("left,shift+tab", "cell(-1)", "Cell", id="list.left", tooltip="The cell before", show=False),
        Binding(
            "enter", "change", "Change", id="list.change", tooltip="Type the cell over, or turn its choice"
        ),
        Binding("a", "add", "Add", id="list.add", tooltip="A new row, asked for cell by cell"),
        Binding("k", "copy", "Copy", id="list.copy", tooltip="The row again, under the next free name"),
        Binding("d", "remove", "Remove", id="list.remove", tooltip="Take the row out; undo brings it back"),
        Binding(
            "slash", "only", "Only", id="list.only", tooltip="Only rows that hold a text", key_display="/"
        ),
        Binding("n", "order", "Sort", id="list.order", tooltip="By this column: rising, falling, as listed"),
        Binding("g", "jump", "Find", id="list.jump", tooltip="To a row by the beginning of its name"),
    ]

    TITLE = ""
    KIND = ""
    EMPTY = Empty("", ("list.add", ""))

    _rows_before: tuple[object, dict[int, tuple[object, Content]]] = (None, {})  # as drawn last, and of what

    # --- what a subclass says -----------------------------------------------------------------------

    def taken(self, job: Job) -> tuple[str, ...]:
        """The names of the rows of a job."""
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

    def copied(self, record: Record, name: str) -> Record:
        """A record again under another name, without what was measured on the first."""
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
        """A name to offer for a new row: the highlighted one counted up."""
        return free_name(self.here, self.names()) if self.listed else ""

    # --- which rows, in what order ------------------------------------------------------------------

    def action_only(self) -> None:
        """Ask for a text; only the rows that hold it stay on show."""

        def take(text: str) -> None:
            self.narrow(text)
            self.post_message(Say(""))

        if self.names():
            hint = "a text that any cell holds; empty shows every row"
            self.ask_line("show only", hint, self.only, take)

    def action_order(self) -> None:
        """By the highlighted column: rising, then falling, then as the job lists them."""
        self.order = self.order.turned(self.column_here().name)
        self.look_again()

    def action_jump(self) -> None:
        """Ask for a name, or the beginning of one, and go to its row."""
        title = self.columns()[0].title

        def take(text: str) -> None:
            names, wanted = self.names(), text.strip().casefold()
            begun = [name for name in names if wanted and name.casefold().startswith(wanted)]
            exact = [name for name in begun if name.casefold() == wanted]
            shown = [names[row] for row in self.listed]
            found = [*exact, *(name for name in shown if name in begun), *begun]
            if not found:
                raise UnknownName(title, text, alike(text, names))
            if found[0] not in shown:
                self.only = ""
            self.here = found[0]
            self.look_again()
            self.chosen()
            self.post_message(Say(""))

        self.ask_line("go to", f"a {title} or the beginning of one", "", take)

    # --- changes -------------------------------------------------------------------------------------

    def action_row(self, amount: int) -> None:
        """Another row."""
        self.highlight(self.place + amount)

    def action_cell(self, amount: int) -> None:
        """Another cell."""
        self.cell = (self.cell + amount) % len(self.columns())

    def action_change(self) -> None:
        """Type the cell over, or turn its choice."""
        if not self.names():
            self.action_add()
            return
        if not self.listed:
            return
        column = self.column_here()
        if column.choices:
            now = self.texts(self.row)[column.name][0].strip()
            place = column.choices.index(now) if now in column.choices else -1
            turned = column.choices[(place + 1) % len(column.choices)]
            self._try(self._changed(self.here, column, turned))
        else:
            self._ask(self.cell_text(self.row, column).strip())

    def action_add(self) -> None:
        """Ask for the cells of a new row, one after the other; it becomes a row when all are there."""
        asked = [column for column in self.columns() if column.asked]
        self._ask_next(self.template(), asked)

    def _ask_next(self, record: Record, asked: Sequence[Column], name: str = "") -> None:
        column, rest = asked[0], asked[1:]
        like = self.listed

        def take(text: str) -> None:
            changed = self.with_cell(record, column, text)
            self.checked(changed, column)
            if rest:
                self._ask_next(changed, rest, name or text.strip())
            else:
                self.accept(lambda job: self.put(changed, ""))
                self.awaited = name

        old = "" if name else self.next_name()
        if name and like and not column.measured:
            old = self.cell_text(self.row, column).strip()
        self.ask_line(f"new {self.KIND}, {column.title}", column.prompt, old, take)

    def action_copy(self) -> None:
        """The highlighted row again, at once, under the next free name."""
        if not self.listed:
            return
        like = self.here

        def make(job: Job) -> Edit:
            self.awaited = free_name(like, self.taken(job))
            return self.put(self.copied(self.record(job, like), self.awaited), "")

        if self._try(make):
            self.post_message(Say(f"{like} copied; what was measured on it stays its own"))

    def action_remove(self) -> None:
        """Take the highlighted row out; refused where something rests on it."""
        if not self.listed:
            return
        name = self.here
        if self._try(lambda job: self.removed(name)):
            self.post_message(Say(f"{name} taken out; <job.undo> brings it back"))

    def _try(self, make: Callable[[Job], Edit]) -> bool:
        """Accept an edit that no line is open for; a refusal is said."""
        try:
            self.accept(make)
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
            return False
        return True

    def _changed(self, name: str, column: Column, text: str) -> Callable[[Job], Edit]:
        """What makes the edit of a cell, from whatever the row holds by then."""
        return lambda job: self.put(self.with_cell(self.record(job, name), column, text), name)

    def _ask(self, text: str, typed: bool = False) -> None:
        column = self.column_here()
        if not self.listed:
            return
        name = self.here
        if not column.prompt:
            self.post_message(Say(f"{column.title}: it is worked out, not typed"))
            return

        def take(new: str) -> None:
            self.accept(self._changed(name, column, new))
            if column == self.columns()[0]:
                self.awaited = new.strip()  # the highlight goes with its new name

        self.ask_line(f"{name}, {column.title}", column.prompt, text, take, typed)

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
        rows = [line((self.TITLE, HEAD), f"  {self.told}"[: max(0, width - len(self.TITLE))])]
        if not self.listed:
            return stack(empty(self, self.TITLE, self.EMPTY, width)[:height])
        columns = self.shown(width)
        titles = " ".join(column.title[: column.width].ljust(column.width) for column in columns)
        rows.append(line((titles[:width], DIM)))
        foot = self.foot(width)
        room = max(1, height - len(rows) - len(foot))
        top = max(0, min(self.place - room // 2, len(self.listed) - room))
        rows += self._rows(self.listed[top : top + room], columns)
        rows += [Content("")] * (height - len(foot) - len(rows))
        return stack([*rows, *foot][:height])

    def foot(self, width: int) -> list[Content]:
        """Lines below the list about the highlighted row."""
        return []

    def made_of(self, row: int) -> object:
        """What the texts of a row rest on, the very same where they are; None where that is not known."""
        return None

    def _rows(self, shown: Sequence[int], columns: Sequence[Column]) -> list[Content]:
        """The rows, those taken over that rest on what they rested on; the highlighted one is drawn anew."""
        look, before = (self.system, tuple(columns)), self._rows_before
        known = before[1] if before[0] == look else {}
        kept: dict[int, tuple[object, Content]] = {}
        rows = []
        for row in shown:
            rests_on = None if row == self.row else self.made_of(row)
            old = known.get(row)
            drawn = old[1] if old is not None and old[0] is rests_on else self._row(row, columns)
            if rests_on is not None:
                kept[row] = (rests_on, drawn)
            rows.append(drawn)
        self._rows_before = (look, kept)
        return rows

    def _row(self, row: int, columns: Sequence[Column]) -> Content:
        texts = self.texts(row)
        pieces: list[tuple[str, str]] = []
        for column in columns:
            text, style = texts.get(column.name, ("", ""))
            here = row == self.row and column == self.column_here()
            base = f"bold {style}".strip() if row == self.row else style
            shown = fit(text, column.width)
            if column.figure:
                shown = shown.rstrip().rjust(column.width)
            pieces += [(shown, HERE if here else base), (" ", "")]
        return line(*pieces)
