"""Rows by name: which are shown, in what order, and which one is highlighted.

All rows or those that hold a text, in the job's order or by a column. What is highlighted is a row by its
name, wherever it comes to stand; it stays on show while it is, whatever its cells come to hold.
"""

import re
from collections.abc import Callable, Collection, Iterable, Sequence

from textual.reactive import var

from bench.core.errors import Refusal
from bench.core.frozen import record
from bench.ui.job_widget import JobWidget

SortKey = float | str | tuple[str | int, ...] | None


@record
class Order:
    """By which column, and which way; no column: as the job lists them."""

    column: str = ""
    falling: bool = False

    @property
    def way(self) -> str:
        """The way in a word."""
        return "falling" if self.falling else "rising"

    def turned(self, column: str) -> "Order":
        """The order after a key press: rising, falling, as listed."""
        if column != self.column:
            return Order(column)
        return Order() if self.falling else Order(column, falling=True)

    def arranged(self, rows: Iterable[int], key: Callable[[int], SortKey]) -> tuple[int, ...]:
        """Rows in this order, equal ones as listed; those without a value last, whichever way."""
        keys = {row: key(row) for row in rows}
        valued = [row for row, value in keys.items() if value is not None]
        valued.sort(key=keys.__getitem__, reverse=self.falling)  # type: ignore[arg-type]
        return (*valued, *(row for row, value in keys.items() if value is None))


def natural(text: str) -> tuple[str | int, ...]:
    """Text as people order it, `A-9` before `A-10`: words and whole numbers in turn."""
    pieces = re.split(r"([0-9]+)", text.casefold())
    return tuple(int(piece) if place % 2 else piece for place, piece in enumerate(pieces))


def text_key(text: str) -> SortKey:
    """What a cell is ordered by that holds a text; None where it is empty."""
    text = text.strip()
    return None if text in ("", "--") else natural(text)


def free_name(name: str, taken: Collection[str]) -> str:
    """A name counted up to the first number that is free; one without a number counts from 2."""
    used = {other.strip().casefold() for other in taken}
    found = re.fullmatch(r"(.*?)([0-9]+)", name)
    stem, digits = found.groups() if found else (f"{name} ", "1")
    number = int(digits) + 1
    while f"{stem}{number:0{len(digits)}d}".casefold() in used:
        number += 1
    return f"{stem}{number:0{len(digits)}d}"


def alike(name: str, names: Iterable[str]) -> tuple[str, ...]:
    """Up to four names that have the longest beginning in common with one that is not there."""
    wanted = name.casefold()
    begun = {
        other: sum(other.casefold().startswith(wanted[:length]) for length in range(1, len(wanted) + 1))
        for other in names
    }
    longest = max(begun.values(), default=0)
    return tuple(other for other, length in begun.items() if length == longest)[:4]


@record
class Column:
    """One column of a list."""

    name: str
    title: str
    width: int
    prompt: str = ""  # what may be typed; empty: shown only
    choices: tuple[str, ...] = ()  # turned with Enter instead of typed
    asked: bool = False  # asked for, one after the other, when a row is added
    measured: bool = False  # never copied from another row
    figure: bool = False  # set to the right, so that the points stand below one another


class Listing(JobWidget):
    """Base of the lists. A subclass says what the columns and rows are."""

    cell: var[int] = var(0, init=False)

    def __init__(self, id: str) -> None:
        super().__init__(id=id)
        self.only = ""  # a text that the rows shown hold
        self.order = Order()
        self.here = ""  # name of the highlighted row
        self.place = 0  # where it stands among the rows shown
        self.awaited = ""  # name that a row will have once an edit has come through
        self._listed: tuple[int, ...] = ()
        self._looked_at: tuple[object, ...] = ()  # what was listed, and what the rows rest on
        self._stale = True
        self._pinned = False  # the highlighted row is shown although it does not hold the text

    # --- what a subclass says -----------------------------------------------------------------------

    def columns(self) -> Sequence[Column]:
        """The columns, in order of importance from the left; the first holds the names."""
        raise NotImplementedError

    def names(self) -> tuple[str, ...]:
        """The names of the rows, in the job's order."""
        raise NotImplementedError

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        """Cell name -> text and style of one row."""
        raise NotImplementedError

    def holds(self, row: int, wanted: str) -> bool:
        """Whether any cell of a row holds a text, which is in small letters."""
        return any(wanted in text.casefold() for text, _ in self.texts(row).values())

    def sort_key(self, row: int, column: Column) -> SortKey:
        """What a row is ordered by; None for a cell without a value, which stands last."""
        return text_key(self.texts(row)[column.name][0])

    def rests_on(self) -> object:
        """What the cells rest on: while it is the same object, so are they."""
        return self.river

    def chosen(self) -> None:
        """Called when another row is highlighted."""

    # --- what all share -----------------------------------------------------------------------------

    @property
    def listed(self) -> tuple[int, ...]:
        """The rows shown, each by its place in `names`."""
        if self._stale:
            self.look_again()
        return self._listed

    @property
    def told(self) -> str:
        """How many rows, which of them, in what order."""
        count = len(self.names())
        found = len(self.listed) - self._pinned
        told = f"{found} of {count}, only {self.only!r}" if self.only else f"{count}"
        title = next((column.title for column in self.columns() if column.name == self.order.column), "")
        return f"{told}, by {title}, {self.order.way}" if title else told

    @property
    def row(self) -> int:
        """The highlighted row, by its place in `names`; there must be one."""
        return self.listed[self.place]

    def column_here(self) -> Column:
        """The highlighted column."""
        columns = self.columns()
        return columns[min(self.cell, len(columns) - 1)]

    def watch_river(self) -> None:
        # A list out of sight is not sought through: it is when something is asked of it.
        self._stale = True
        if self.display or self.awaited:
            self.look_again()
        self.redraw()

    def watch_cell(self) -> None:
        self.redraw()

    def look_again(self) -> None:
        """Which rows there are now; the highlight stays on its row, or where its row was."""
        self._stale = False
        names = self.names()
        if self._as_they_were(names):
            self.redraw()
            return
        self._looked_at = self._basis(names)
        arrived = self.awaited in names
        if arrived:
            self.here, self.awaited = self.awaited, ""
        self._listed = self._picked(names)
        if names and not self._listed:  # the last row that held the text is gone
            self.only = ""
            self._listed = self._picked(names)
        shown = [names[row] for row in self._listed]
        if self.here in shown:
            self.place = shown.index(self.here)
        elif shown:
            self.place = min(self.place, len(shown) - 1)
            self.here = shown[self.place]
            arrived = arrived or self.has_focus
        if arrived:
            self.chosen()
        self.redraw()

    def _basis(self, names: tuple[str, ...]) -> tuple[object, ...]:
        """What is listed, in what order; where not all as in the job, what the cells rest on too."""
        return names, self.only, self.order, self.rests_on() if self.only or self.order.column else None

    def _as_they_were(self, names: tuple[str, ...]) -> bool:
        """Whether the very same rows are listed in the same order, with the highlight on its row."""
        basis, before = self._basis(names), self._looked_at
        same = len(before) == len(basis) and all(
            one is other or (place in (1, 2) and one == other)
            for place, (one, other) in enumerate(zip(basis, before, strict=True))
        )
        there = self.place < len(self._listed)
        return (
            same
            and there
            and not (self.awaited or self._pinned)
            and names[self._listed[self.place]] == self.here
        )

    def highlight(self, place: int) -> None:
        """Another row, by its place among those shown."""
        self.awaited = ""
        if self.listed:
            self.place = min(max(0, place), len(self.listed) - 1)
            self.here = self.names()[self.row]
            if self._pinned:
                self.look_again()  # the row that was left goes
            self.chosen()
        self.redraw()

    def narrow(self, text: str) -> None:
        """Show only the rows that hold a text; an empty one shows all. Raises Refusal where none does."""
        wanted = text.strip()
        rows = [row for row in self._arranged(range(len(self.names()))) if self._holds(row, wanted)]
        if not rows:
            raise Refusal(
                f"show only: no row holds {wanted!r}; a text of some cell is wanted", "text", wanted
            )
        self.only = wanted
        if not self.listed or not self._holds(self.row, wanted):
            self.here = self.names()[rows[0]]
            self.chosen()
        self.look_again()

    def _picked(self, names: Sequence[str]) -> tuple[int, ...]:
        if not self.only:
            self._pinned = False
            return self._arranged(range(len(names)))
        rows = [row for row, name in enumerate(names) if name == self.here or self._holds(row, self.only)]
        self._pinned = any(names[row] == self.here and not self._holds(row, self.only) for row in rows)
        return self._arranged(rows)

    def _arranged(self, rows: Iterable[int]) -> tuple[int, ...]:
        column = next((column for column in self.columns() if column.name == self.order.column), None)
        return self.order.arranged(rows, lambda row: self.sort_key(row, column)) if column else tuple(rows)

    def _holds(self, row: int, wanted: str) -> bool:
        return not wanted or self.holds(row, wanted.casefold())
