"""The rack as a table of comma separated values: written from a job, or typed elsewhere and read in.

One row a stick, every cell as it would be typed on the screens. The row holds its first float reading,
weighing and oven test; further ones stand in rows of their own below it, which have the tag of the stick and
nothing else of it. So everything known of a stick comes through, and one reading a stick takes one row.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from bench import units
from bench.core import checking
from bench.core.errors import Refusal
from bench.core.frozen import record, replace
from bench.core.records import Inspection, Species, Stick, Typed
from bench.sheets import defects, stock_cells, stock_measured, table
from bench.sheets.stock_cells import COLUMNS, OF_INSPECTION, REQUIRED, SIDES, STICK
from bench.sheets.table import Fault, Names, Row

__all__ = ["COLUMNS", "REQUIRED", "Fault", "Sheet", "read", "write"]

# What a refusal of a whole stick calls it -> the column it stands in.
_CALLED = {"defect": "defects"}
_LAYOUT = table.Layout("stick", COLUMNS, REQUIRED)


@record
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
    return table.written(COLUMNS, (cells for stick in sticks for cells in stock_cells.rows(stick)))


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
    found = table.opened(text, _LAYOUT)
    if not found.complete:
        return Sheet((), (*found.faults, *found.broken))
    reader = _Reader(woods, default_unit, Names("stick", "tag", taken))
    for line, cells in found.rows:
        reader.row(found.row(line, cells, default_unit))
    sticks = tuple(stick for stick in reader.sticks.values() if stick is not None)
    return Sheet(sticks, (*found.faults, *reader.faults, *found.broken))


@dataclass(slots=True)
class _Reader:
    """Reads row after row and keeps every fault."""

    woods: Mapping[str, Species]
    unit: str
    names: Names
    faults: list[Fault] = field(default_factory=list)
    sticks: dict[int, Stick | None] = field(default_factory=dict)  # by line; None: something is wrong with it
    above: dict[str, int] = field(default_factory=dict)  # tag -> line of the last stick with it

    def row(self, row: Row) -> None:
        """Take a row: a stick, or further measurements of one above it."""
        tag = table.same(row.text("tag"))
        if not row.text("wood") and tag in self.above:
            self._more(row, self.above[tag])
        else:
            self.sticks[row.line] = self._stick(row)
            if tag:
                self.above[tag] = row.line
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
            species=row.cell("wood", lambda text: table.wood(text, self.woods)) or "",
            length=length("length"),
            width=length("width"),
            depth=length("depth"),
            moisture=row.measured("moisture", "moisture"),
            lot=row.text("lot"),
            defects=row.cell("defects", lambda text: defects.read_all(text, self.unit)) or (),
            note=row.text("note"),
            condemned=row.text("condemned"),
            parent=row.text("sawn from"),
            inspection=_inspection(row),
        )
        rough = row.cell("rough", _rough) or ()
        record = replace(record, **{f"sawn_{side}": getattr(record, side).exact for side in rough})
        species = self.woods.get(record.species)
        record = replace(record, variant=row.cell("variant", lambda text: _variant(species, text)) or "")
        measured = stock_measured.measured(row)
        if not row.faults:
            row.whole(lambda: checking.stick(record), _CALLED)
        return None if row.faults else replace(record, **measured.upon(record))

    def _tag(self, text: str, line: int) -> str:
        checking.name("tag", text)
        return self.names.take(text, line)


_NO_LENGTH = Typed(units.read("length", "0").exact, "")  # stands in for one that could not be read
_NOTHING = stock_measured.Measured(None, None, None)


def _variant(species: Species | None, text: str) -> str:
    known = dict.fromkeys(figure.variant for figure in species.figures) if species else {}
    if text and species and text not in known:
        named = ", ".join(name for name in known if name)
        wanted = f"one of {named} is wanted" if named else "this wood has none: leave it empty"
        raise Refusal(f"{text!r} is not known; {wanted}", "variant", text)
    return text


def _rough(text: str) -> tuple[str, ...]:
    """The sides that are as they came off the rip saw: `width`, `depth` or both."""
    found = tuple(text.replace(",", " ").lower().split())
    if not set(found) <= set(SIDES):
        raise Refusal(f"{text!r} is no side; width, depth or both are wanted, empty for none", "rough", text)
    return found


def _inspection(row: Row) -> Inspection:
    found: dict[str, Any] = {
        column.replace(" ", "_"): row.measured(column, quantity) for column, quantity in OF_INSPECTION.items()
    }
    return Inspection(**found, looked=bool(row.cell("looked", lambda text: table.yes("looked", text))))
