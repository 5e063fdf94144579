"""The tables of a sheet as comma separated values.

Tables with the same headings stand together; the first column says which section a row is of. An empty line
parts tables with other headings.
"""

from collections.abc import Sequence

from bench.sheets.paper import Sheet, Table, Tags, clean, numbered
from bench.sheets.table import written


def write(sheet: Sheet) -> str:
    """The text of a file; without a table on the sheet it is empty."""
    found: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    places: list[tuple[str, Sequence[object]]] = [("", sheet.head)]
    places += [(section.title, section.blocks) for _, section in numbered(sheet.sections)]
    for title, blocks in places:
        for block in blocks:
            if isinstance(block, Table):
                heads = tuple(_head(column.head, at) for at, column in enumerate(block.columns))
                found.setdefault(heads, []).extend((title, *row) for row in block.rows)
            elif isinstance(block, Tags):
                heads = tuple(f"line {at + 1}" for at in range(max(map(len, block.labels), default=0)))
                found.setdefault(heads, []).extend((title, *label) for label in block.labels)
    return "\n".join(_one(heads, rows) for heads, rows in found.items())


def _head(head: str, place: int) -> str:
    return head or ("name" if place == 0 else "text" if place == 1 else f"column {place + 1}")


def _one(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    columns = ("section", *heads)
    return written(columns, (dict(zip(columns, map(clean, row), strict=False)) for row in rows))
