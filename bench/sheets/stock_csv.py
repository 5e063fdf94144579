"""The rack as a table of comma separated values: written from a job, or typed elsewhere and read in.

One row a stick, every cell as it would be typed on the screens. The row holds its first float reading,
weighing and oven test; further ones stand in rows of their own below it, which have the tag of the stick and
nothing else of it. So everything known of a stick comes through, and one reading a stick takes one row.
"""

import csv
import io
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from bench import units
from bench.core import checking
from bench.core.errors import Missing, OutOfRange, Refusal, UnknownName
from bench.core.naming import nearest
from bench.core.records import Inspection, Species, Stick, Typed
from bench.sheets import defects, stock_cells, stock_measured
from bench.sheets.stock_cells import COLUMNS, OF_INSPECTION, REQUIRED, STICK, Fault, Row

__all__ = ["COLUMNS", "REQUIRED", "Fault", "Sheet", "read", "write"]

# What a refusal of a whole stick calls it -> the column it stands in.
_CALLED = {"defect": "defects"}
_YES, _NO = ("yes", "y", "x", "1", "true"), ("", "no", "n", "0", "false", "-")
_PARTED_BY = (",", ";", "\t")
_REPLACES = "a heading row with tag, wood, length, width and depth is wanted"


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a file holds: the sticks of the lines without a fault, and every fault."""

    sticks: tuple[Stick, ...]
    faults: tuple[Fault, ...]


def write(sticks: Sequence[Stick]) -> str:
    """Sticks as a table, a heading row first.

    A number whose text was rounded has the exact one in SI behind it: `12.06 % = 52/431`. Later waterlines
    stand in one cell: `60 s 4.3; 300 s 4.4`.

    Args:
        sticks: in the order of the rack; may be empty.
    Returns:
        Text; `read` gives equal sticks back, whole.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for stick in sticks:
        for cells in stock_cells.rows(stick):
            writer.writerow([cells.get(column, "") for column in COLUMNS])
    return out.getvalue()


def read(text: str, woods: Mapping[str, Species], taken: Collection[str], default_unit: str = "in") -> Sheet:
    """The sticks of a table.

    Columns may stand in any order and be left out, but for tag, wood, length, width and depth. Cells are
    parted by comma, semicolon or tab, whichever the heading row shows; a cell that holds that sign stands in
    quotes. A row without a wood, with the tag of a stick above it, holds further measurements of that stick;
    a fault in it holds back the whole stick.

    Args:
        text: of the file.
        woods: the library by species key.
        taken: tags that the job has already.
        default_unit: unit of a bare length.
    Returns:
        Sticks and faults. Nothing is raised: what cannot be read is a fault.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    rows, broken = _rows(lines)
    if not rows:
        return Sheet((), (*broken, *([] if broken else [Fault(1, "", "", f"there is nothing; {_REPLACES}")])))
    (first, heading), *rest = rows
    columns, faults = _columns(first, heading)
    if any(column not in columns for column in REQUIRED):
        return Sheet((), (*faults, *broken))
    if not rest and not broken:
        faults.append(Fault(first, "", "", "no stick stands below the heading row"))
    headed = {place for place, cell in enumerate(heading) if cell}
    reader = _Reader(woods, columns, headed, default_unit, {_same(tag): 0 for tag in taken})
    for line, cells in rest:
        reader.row(line, cells)
    sticks = tuple(stick for stick in reader.sticks.values() if stick is not None)
    return Sheet(sticks, (*faults, *reader.faults, *broken))


def _rows(lines: Sequence[str]) -> tuple[list[tuple[int, list[str]]], list[Fault]]:
    """Rows that are not blank with the line each begins on, and where the table breaks off."""
    heading = next((line for line in lines if line.strip()), "")
    parted = max(
        _PARTED_BY, key=lambda sign: sum(name in COLUMNS for name in map(_heading, heading.split(sign)))
    )
    table = csv.reader((f"{line}\n" for line in lines), delimiter=parted, skipinitialspace=True, strict=True)
    rows: list[tuple[int, list[str]]] = []
    while True:
        begun = table.line_num + 1
        try:
            cells = [" ".join(cell.splitlines()).strip() for cell in next(table)]
        except StopIteration:
            return rows, []
        except csv.Error as error:
            why = f"a quote does not close, or the like ({error}); all from here on is left out"
            return rows, [Fault(begun, "", lines[min(begun, len(lines)) - 1].strip(), why)]
        if any(cells):
            rows.append((begun, cells))


def _heading(cell: str) -> str:
    return " ".join(cell.strip().strip('"').lower().replace("_", " ").split())


def _columns(line: int, heading: Sequence[str]) -> tuple[dict[str, int], list[Fault]]:
    """Column -> its place in a row."""
    places: dict[str, int] = {}
    faults = []
    for place, cell in enumerate(heading):
        name = _heading(cell)
        if name in places:
            faults.append(Fault(line, name, cell, "this column stands there twice; one is wanted"))
        elif name in COLUMNS:
            places[name] = place
        elif name:
            near = nearest(name, COLUMNS) or COLUMNS
            faults.append(Fault(line, name, cell, f"there is no such column; nearest: {', '.join(near)}"))
    faults += [
        Fault(line, name, "", f"this column is missing; {_REPLACES}")
        for name in REQUIRED
        if name not in places
    ]
    return places, faults


def _same(tag: str) -> str:
    return tag.strip().casefold()


@dataclass(slots=True)
class _Reader:
    """Reads row after row and keeps every fault."""

    woods: Mapping[str, Species]
    columns: Mapping[str, int]
    headed: Collection[int]  # places that have a heading
    unit: str
    taken: dict[str, int]  # tag -> line it stands on, 0 for a stick of the job
    faults: list[Fault] = field(default_factory=list)
    sticks: dict[int, Stick | None] = field(default_factory=dict)  # by line; None: something is wrong with it
    above: dict[str, int] = field(default_factory=dict)  # tag -> line of the last stick with it

    def row(self, line: int, cells: Sequence[str]) -> None:
        """Take a row: a stick, or further measurements of one above it."""
        row = Row(line, cells, self.columns, self.unit)
        for place, cell in enumerate(cells):
            if cell and place not in self.headed:
                row.fault("", cell, f"{cell!r} stands under no heading; a cell with a comma wants quotes")
        tag = _same(row.text("tag"))
        if not row.text("wood") and tag in self.above:
            self._more(row, self.above[tag])
        else:
            self.sticks[line] = self._stick(row)
            if tag:
                self.above[tag] = line
        self.faults += row.faults

    def _more(self, row: Row, line: int) -> None:
        """Further measurements of the stick on a line above."""
        for column in row.filled(STICK[1:]):
            row.fault(column, row.text(column), f"this goes into the row of the stick itself, line {line}")
        more = stock_measured.measured(row)
        if not row.faults and more == _NOTHING:
            row.fault("", row.text("tag"), f"a reading, weighing or oven test of line {line} is wanted here")
        stick = self.sticks[line]
        self.sticks[line] = None if row.faults or stick is None else replace(stick, **more.upon(stick))

    def _stick(self, row: Row) -> Stick | None:
        """The stick of a row, None where something is wrong with it."""

        def length(column: str) -> Typed:
            return row.measured(column, "length", needed=True) or _NO_LENGTH

        record = Stick(
            tag=row.cell("tag", lambda text: self._tag(text, row.line)) or "",
            species=row.cell("wood", self._wood) or "",
            length=length("length"),
            width=length("width"),
            depth=length("depth"),
            moisture=row.measured("moisture", "moisture"),
            lot=row.text("lot"),
            defects=row.cell("defects", lambda text: defects.read_all(text, self.unit)) or (),
            note=row.text("note"),
            inspection=_inspection(row),
        )
        species = self.woods.get(record.species)
        record = replace(record, variant=row.cell("variant", lambda text: _variant(species, text)) or "")
        measured = stock_measured.measured(row)
        if not row.faults:
            row.whole(lambda: checking.stick(record), _CALLED)
        return None if row.faults else replace(record, **measured.upon(record))

    def _tag(self, text: str, line: int) -> str:
        checking.name("tag", text)
        met = self.taken.setdefault(_same(text), line)
        if met != line:
            where = f"line {met} has it" if met else "the job has it"
            raise Refusal(f"{text!r} is taken, {where}; each stick wants a tag of its own", "tag", text)
        return text

    def _wood(self, text: str) -> str:
        if not text:
            raise Missing("wood", "give a species by key or name, as in Species")
        wanted = text.lower().replace(" ", "_").replace("-", "_")
        fitting = [key for key in self.woods if wanted in key]
        if wanted in self.woods or len(fitting) == 1:
            return wanted if wanted in self.woods else fitting[0]
        near = nearest(text, self.woods)
        if near:
            raise UnknownName("wood", text, near)
        raise Refusal(f"{text!r} is not known; give a species by key or name, as in Species", "wood", text)


_NO_LENGTH = Typed(units.read("length", "0").exact, "")  # stands in for one that could not be read
_NOTHING = stock_measured.Measured(None, None, None)


def _variant(species: Species | None, text: str) -> str:
    known = dict.fromkeys(figure.variant for figure in species.figures) if species else {}
    if text and species and text not in known:
        named = ", ".join(name for name in known if name)
        wanted = f"one of {named} is wanted" if named else "this wood has none: leave it empty"
        raise Refusal(f"{text!r} is not known; {wanted}", "variant", text)
    return text


def _inspection(row: Row) -> Inspection:
    def looked(text: str) -> bool:
        if text.lower() not in (*_YES, *_NO):
            raise OutOfRange("looked", text, "yes or no is wanted", repr(text))
        return text.lower() in _YES

    found: dict[str, Any] = {
        column.replace(" ", "_"): row.measured(column, quantity) for column, quantity in OF_INSPECTION.items()
    }
    return Inspection(**found, looked=bool(row.cell("looked", looked)))
