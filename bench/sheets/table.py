"""A table of comma separated values that people type or a spreadsheet writes: its cells, and every fault.

A heading row first, columns in any order. Every cell is as it would be typed on the screens. Where the text
of a number has been rounded, the exact one in SI stands behind it, so that nothing is lost:
`12.06 % = 52/431`.
"""

import csv
import io
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from bench import units
from bench.core.errors import Missing, OutOfRange, Refusal, UnknownName
from bench.core.frozen import record
from bench.core.naming import nearest
from bench.core.records import Species, Typed

_EXACTLY = " = "
_EXACT = re.compile(r"\d{1,100}(?:/0*[1-9]\d{0,99})?", re.ASCII)
_ROUNDED = Fraction(1, 20_000)  # half the last digit of 12.06 %, in SI
_PARTED_BY = (",", ";", "\t")
# What a spreadsheet takes for a formula; behind the mark of a text it is none.
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_MARKED = re.compile(r"''*[=+\-@\t\r]")
_YES, _NO = ("yes", "y", "x", "1", "true"), ("", "no", "n", "0", "false", "-")


@record
class Fault:
    """Why a line is not taken: where, what stands there, and what would be right."""

    line: int  # of the file, from 1
    column: str  # its heading; empty: the whole line
    text: str
    why: str

    def __str__(self) -> str:
        where = f"line {self.line}, {self.column}" if self.column else f"line {self.line}"
        return f"{where}: {self.why}"


# --- numbers as cells ----------------------------------------------------------------------------------


def text_of(typed: Typed | None, quantity: str) -> str:
    """A number as typed; the exact one behind it where the text says another.

    Args:
        typed: the number; None for an empty cell.
        quantity: as in units.read.
    Returns:
        A cell; `Row.measured` gives the equal number back.
    """
    if typed is None:
        return ""
    try:
        exact = units.read(quantity, typed.text, bare(quantity)).exact
    except Refusal:
        return typed.text
    return typed.text if exact == typed.exact else f"{typed.text}{_EXACTLY}{typed.exact}"


def bare(quantity: str, length: str = "in") -> str:
    """The unit of a bare number: a length's is the shop's, masses are in grams as on the screens."""
    return {"length": length, "mass": "g"}.get(quantity, "")


def _exactly(quantity: str, text: str, unit: str) -> Typed:
    """A number as typed, or as typed with the exact one behind it."""
    shown, parted, exact = text.rpartition(_EXACTLY)
    if not parted:
        return units.read(quantity, text, unit)
    read = units.read(quantity, shown, unit)
    if not _EXACT.fullmatch(exact) or abs(Fraction(exact) - read.exact) > _ROUNDED:
        limits = f"behind = the same number is wanted, exactly and in SI, say {read.exact}; or nothing"
        raise OutOfRange(quantity, exact, limits, repr(exact))
    return Typed(Fraction(exact), shown)


# --- words as cells ------------------------------------------------------------------------------------


def wood(text: str, woods: Mapping[str, Species]) -> str:
    """The key of a species by key or by name; a piece of it that fits only one is enough.

    Args:
        text: as typed.
        woods: the library by species key.
    Returns:
        A key of the library.
    Raises:
        Missing: nothing is typed. UnknownName, Refusal: none is called so, or more than one.
    """
    if not text:
        raise Missing("wood", "give a species by key or name, as in Species")
    wanted = text.lower().replace(" ", "_").replace("-", "_")
    fitting = [key for key in woods if wanted in key]
    if wanted in woods or len(fitting) == 1:
        return wanted if wanted in woods else fitting[0]
    near = nearest(text, woods)
    if near:
        raise UnknownName("wood", text, near)
    raise Refusal(f"{text!r} is not known; give a species by key or name, as in Species", "wood", text)


def yes(column: str, text: str) -> bool:
    """Yes or no, empty is no.

    Args:
        column: its heading.
        text: as typed.
    Returns:
        Whether it is yes.
    Raises:
        OutOfRange: neither.
    """
    if text.lower() not in (*_YES, *_NO):
        raise OutOfRange(column, text, "yes or no is wanted", repr(text))
    return text.lower() in _YES


def same(name: str) -> str:
    """A name as it is compared with others."""
    return name.strip().casefold()


class Names:
    """The names that are taken, and by which line."""

    def __init__(self, kind: str, column: str, taken: Iterable[str]) -> None:
        self.kind, self.column = kind, column
        self._lines = {same(name): 0 for name in taken}

    def take(self, name: str, line: int) -> str:
        """The name, taken by a line from now on; raises Refusal where the job or another line has it."""
        met = self._lines.setdefault(same(name), line)
        if met != line:
            where = f"line {met} has it" if met else "the job has it"
            said = f"{name!r} is taken, {where}; each {self.kind} wants a {self.column} of its own"
            raise Refusal(said, self.column, name)
        return name


# --- rows ----------------------------------------------------------------------------------------------


@dataclass(slots=True)
class Row:
    """One row of a file; what cannot be read of it is kept as a fault."""

    line: int
    cells: Sequence[str]
    columns: Mapping[str, int]  # column -> place
    unit: str  # of a bare length
    faults: list[Fault] = field(default_factory=list)

    def text(self, column: str) -> str:
        """What stands in a column; empty where the file has none."""
        place = self.columns.get(column, len(self.cells))
        return self.cells[place] if place < len(self.cells) else ""

    def filled(self, columns: Sequence[str]) -> list[str]:
        """Those of some columns that hold something."""
        return [column for column in columns if self.text(column)]

    def fault(self, column: str, text: str, why: str) -> None:
        """Keep what is wrong."""
        self.faults.append(Fault(self.line, column, text, why))

    def cell(self, column: str, take: Callable[[str], Any]) -> Any:
        """What a cell says; None, and a fault, where it cannot be read."""
        text = self.text(column)
        try:
            return take(text)
        except Refusal as refusal:
            self.fault(column, text, refusal.message.removeprefix(f"{refusal.quantity}: "))
            return None

    def measured(self, column: str, quantity: str, needed: bool = False) -> Typed | None:
        """A number with its unit; None where it is empty and may be."""

        def take(text: str) -> Typed | None:
            return _exactly(quantity, text, bare(quantity, self.unit)) if text or needed else None

        read: Typed | None = self.cell(column, take)
        return read

    def whole(self, check: Callable[[], None], called: Mapping[str, str]) -> None:
        """Keep what no single cell can tell, at the column that a refusal's quantity is called here."""
        try:
            check()
        except Refusal as refusal:
            column = called.get(refusal.quantity, refusal.quantity)
            column = column if column in self.columns else ""
            why = refusal.message.removeprefix(f"{refusal.quantity}: ") if column else refusal.message
            self.fault(column, self.text(column), why)


# --- tables --------------------------------------------------------------------------------------------


@record
class Layout:
    """What a table of one kind looks like."""

    kind: str  # what a row is: "stick"
    columns: tuple[str, ...]
    required: tuple[str, ...]

    @property
    def wanted(self) -> str:
        """Which heading row would be right."""
        *first, last = self.required
        return f"a heading row with {', '.join(first)} and {last} is wanted"

    def named(self, cell: str) -> str:
        """The column that a heading means, in whatever letters and blanks; as it stands where it is none."""
        said = " ".join(cell.strip().strip('"').lower().replace("_", " ").split())
        return next((column for column in self.columns if column.lower() == said), said)


@record
class Table:
    """A file taken apart into cells."""

    columns: Mapping[str, int]  # column -> place
    headed: frozenset[int]  # places that have a heading
    rows: tuple[tuple[int, list[str]], ...]  # those that are not blank, with the line each begins on
    faults: tuple[Fault, ...]  # of the heading
    broken: tuple[Fault, ...]  # where the table breaks off
    complete: bool  # every column that is required is there

    def row(self, line: int, cells: Sequence[str], unit: str) -> Row:
        """A row to be read cell by cell; a cell under no heading is a fault of it already."""
        row = Row(line, cells, self.columns, unit)
        for place, cell in enumerate(cells):
            if cell and place not in self.headed:
                row.fault("", cell, f"{cell!r} stands under no heading; a cell with a comma wants quotes")
        return row


def opened(text: str, layout: Layout) -> Table:
    """Take a file apart.

    Cells are parted by comma, semicolon or tab, whichever the heading row shows; a cell that holds that sign
    stands in quotes.

    Args:
        text: of the file.
        layout: what is expected in it.
    Returns:
        Its rows, and every fault of the heading and of the whole. Nothing is raised.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    rows, broken = _rows(lines, layout)
    if not rows:
        nothing = [] if broken else [Fault(1, "", "", f"there is nothing; {layout.wanted}")]
        return Table({}, frozenset(), (), (), (*broken, *nothing), False)
    (first, heading), *rest = rows
    columns, faults = _columns(first, heading, layout)
    complete = all(column in columns for column in layout.required)
    if complete and not rest and not broken:
        faults.append(Fault(first, "", "", f"no {layout.kind} stands below the heading row"))
    headed = frozenset(place for place, cell in enumerate(heading) if cell)
    return Table(columns, headed, tuple(rest), tuple(faults), tuple(broken), complete)


def written(columns: Sequence[str], rows: Iterable[Mapping[str, str]]) -> str:
    """A table with a heading row.

    Args:
        columns: in the order in which they stand.
        rows: column -> text; one that is not there is empty.
    Returns:
        Text of a file.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(map(as_text, columns))
    for cells in rows:
        writer.writerow([as_text(cells.get(column, "")) for column in columns])
    return out.getvalue()


def as_text(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: one that begins like one has an apostrophe before it.

    Args:
        cell: any text.
    Returns:
        The same where it is none; `as_typed` gives back the cell in any case.
    """
    return f"'{cell}" if _FORMULA.match(cell) else cell


def as_typed(cell: str) -> str:
    """A cell without the mark that `as_text` put before it.

    Args:
        cell: as it stands in a file.
    Returns:
        The text that was written.
    """
    return cell[1:] if _MARKED.match(cell) else cell


def _rows(lines: Sequence[str], layout: Layout) -> tuple[list[tuple[int, list[str]]], list[Fault]]:
    """Rows that are not blank with the line each begins on, and where the table breaks off."""
    heading = next((line for line in lines if line.strip()), "")

    def columns_if(sign: str) -> int:
        return sum(layout.named(cell) in layout.columns for cell in heading.split(sign))

    parted = max(_PARTED_BY, key=columns_if)
    table = csv.reader((f"{line}\n" for line in lines), delimiter=parted, skipinitialspace=True, strict=True)
    rows: list[tuple[int, list[str]]] = []
    while True:
        begun = table.line_num + 1
        try:
            cells = [as_typed(" ".join(cell.splitlines()).strip()) for cell in next(table)]
        except StopIteration:
            return rows, []
        except csv.Error as error:
            why = f"a quote does not close, or the like ({error}); all from here on is left out"
            return rows, [Fault(begun, "", lines[min(begun, len(lines)) - 1].strip(), why)]
        if any(cells):
            rows.append((begun, cells))


def _columns(line: int, heading: Sequence[str], layout: Layout) -> tuple[dict[str, int], list[Fault]]:
    """Column -> its place in a row."""
    places: dict[str, int] = {}
    faults = []
    for place, cell in enumerate(heading):
        name = layout.named(cell)
        if name in places:
            faults.append(Fault(line, name, cell, "this column stands there twice; one is wanted"))
        elif name in layout.columns:
            places[name] = place
        elif name:
            near = nearest(name, layout.columns) or layout.columns
            faults.append(Fault(line, name, cell, f"there is no such column; nearest: {', '.join(near)}"))
    faults += [
        Fault(line, name, "", f"this column is missing; {layout.wanted}")
        for name in layout.required
        if name not in places
    ]
    return places, faults
