"""The list of parts as a table of comma separated values: written from a job, or typed elsewhere and read in.

One row a part, its columns named as on the Parts screen, every cell as it would be typed there.
"""

from collections.abc import Collection, Mapping, Sequence

from bench import units
from bench.core import checking
from bench.core.checking import MOST_PIECES
from bench.core.frozen import record
from bench.core.records import Part, Species, Typed
from bench.sheets import parts_cells as cells
from bench.sheets import table
from bench.sheets.parts_cells import COLUMNS, REQUIRED
from bench.sheets.table import Fault, Names, Row

__all__ = ["COLUMNS", "MOST_LINES", "REQUIRED", "Fault", "Sheet", "read", "write"]

MOST_LINES = 2000  # no drawing has as many different parts: the file is something else
_LAYOUT = table.Layout("part", COLUMNS, REQUIRED)
_NO_LENGTH = Typed(units.read("length", "0").exact, "")  # stands in for one that could not be read


@record
class Sheet:
    """What a file holds: the parts of the lines without a fault, and every fault."""

    parts: tuple[Part, ...]
    faults: tuple[Fault, ...]


def write(parts: Sequence[Part]) -> str:
    """Parts as a table, a heading row first.

    A number whose text was rounded has the exact one in SI behind it: `34.123 in = 433363/500000`.

    Args:
        parts: in the order of the list; may be empty.
    Returns:
        Text; `read` gives equal parts back, whole.
    """
    return table.written(COLUMNS, map(cells.cells, parts))


def read(
    text: str,
    woods: Mapping[str, Species],
    taken: Collection[str],
    default_unit: str = "in",
    drawn_in: str = "sitka_spruce",
) -> Sheet:
    """The parts of a table.

    Columns may stand in any order and be left out, but for part, length, width and depth. Without pieces it
    is one piece, without a wood it is `drawn_in`. A list of more lines or pieces than any drawing has is
    refused as a whole: it would be planned for hours, and is most likely another file or a wrong column.

    Args:
        text: of the file.
        woods: the library by species key.
        taken: names of parts that the job has already.
        default_unit: unit of a bare length.
        drawn_in: the drawing's wood, a key of the library.
    Returns:
        Parts and faults. Nothing is raised: what cannot be read is a fault.
    """
    found = table.opened(text, _LAYOUT)
    if not found.complete:
        return Sheet((), (*found.faults, *found.broken))
    if len(found.rows) > MOST_LINES:
        why = f"{MOST_LINES:,} parts is the most, and the file has {len(found.rows):,}: look at the file"
        return Sheet((), (*found.faults, Fault(found.rows[MOST_LINES][0], "", "", why)))
    reader = _Reader(woods, drawn_in, Names("part", "name", taken))
    parts, faults, pieces = list[Part](), list[Fault](), 0
    for line, row_cells in found.rows:
        row = found.row(line, row_cells, default_unit)
        part = reader.part(row)
        faults += row.faults
        if part is None:
            continue
        parts.append(part)
        pieces += part.quantity
        if pieces > MOST_PIECES:
            why = f"{pieces:,} pieces up to here, and {MOST_PIECES:,} is the most: look at this column"
            return Sheet((), (*found.faults, *faults, Fault(line, cells.PIECES, str(part.quantity), why)))
    return Sheet(tuple(parts), (*found.faults, *faults, *found.broken))


@record
class _Reader:
    woods: Mapping[str, Species]
    drawn_in: str
    names: Names

    def part(self, row: Row) -> Part | None:
        """The part of a row, None where something is wrong with it."""

        def length(column: str) -> Typed:
            typed = row.measured(column, "length", needed=True)
            if typed is None:
                return _NO_LENGTH
            row.whole(lambda: checking.size(column, typed), {})
            return typed

        scarf, side = row.cell(cells.SCARF, cells.read_scarf) or (None, "")
        record = Part(
            name=row.cell(cells.PART, lambda text: self._name(text, row.line)) or "",
            quantity=row.cell(cells.PIECES, lambda text: int(units.read("count", text or "1").si)) or 0,
            length=length("length"),
            width=length("width"),
            depth=length("depth"),
            use=row.cell(cells.BECOMES, lambda text: cells.read_use(text or "small part")) or "",
            critical=bool(row.cell(cells.CRITICAL, lambda text: table.yes(cells.CRITICAL, text))),
            species=row.cell(cells.DRAWN_IN, self._wood) or "",
            minimum_sg=row.measured(cells.LEAST, "gravity"),
            best=bool(row.cell(cells.BEST, lambda text: table.yes(cells.BEST, text))),
            scarf=scarf,
            scarf_side=side,
            no_joint=row.cell(cells.NO_JOINT, lambda text: cells.read_stretches(text, row.unit)) or (),
            grain=row.text(cells.GRAIN),
            group=row.text(cells.GROUP),
            piece_of=row.text(cells.PIECE_OF),
            note=row.text(cells.NOTE),
        )
        if not row.faults:
            row.whole(lambda: checking.part(record), cells.CALLED)
        return None if row.faults else record

    def _name(self, text: str, line: int) -> str:
        checking.name("part", text)
        return self.names.take(text, line)

    def _wood(self, text: str) -> str:
        return table.wood(text, self.woods) if text else self.drawn_in
