"""A sheet as plain text: lines of at most 78 characters, or as many as are asked for."""

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from bench.sheets.paper import (
    BELOW,
    FIGURE,
    NUMBER,
    UNDER,
    Blanks,
    Block,
    Fixed,
    Section,
    Sheet,
    Table,
    Tags,
    Text,
    clean,
    numbered,
)

WIDTH = 78
NARROWEST = 60  # the columns of figures need that much
WIDE, APART, ACROSS = 38, 2, 2  # of one label with its frame, between two, and labels beside each other
_INDENT, _UNDER, _LEAST = "  ", 10, 8  # of a paragraph, of one further in, and the narrowest column
_FIELD = 28  # of the name of a field to be filled in
_MOST_COLUMN = 400  # characters that a column is ever asked to have


def write(sheet: Sheet) -> str:
    """The text of a file."""
    return "\n".join((*lines(sheet), ""))


def lines(sheet: Sheet, width: int = WIDTH) -> list[str]:
    """A sheet in lines.

    Args:
        sheet: to be written.
        width: of a line, in characters; 60 at least.
    Returns:
        Lines of at most that many characters, without blanks at their ends.
    """
    width = max(width, NARROWEST)
    rows = [*_wrapped(sheet.title, width), *_wrapped(f"{sheet.kind}, {sheet.made}", width)]
    if sheet.head:
        rows += ["", *blocks(sheet.head, width, "")]
    numbers = list(numbered(sheet.sections))
    if sheet.numbered:
        rows += ["", "Contents"]
        listed = [(number, section) for number, section in numbers if number.count(".") < 2]
        rows += [
            line
            for number, section in listed
            for line in _wrapped(
                f"{number}  {section.title}", width, _INDENT + "  " * number.count("."), "    "
            )
        ]
    rows += sections(sheet.sections, width, sheet.numbered)
    if sheet.foot:
        rows += ["", *blocks(sheet.foot, width, "")]
    return [row.rstrip() for row in rows]


def sections(found: tuple[Section, ...], width: int = WIDTH, with_numbers: bool = False) -> list[str]:
    """Sections in lines, each after an empty one.

    Args:
        found: sections of a sheet.
        width: of a line, in characters.
        with_numbers: whether their numbers stand before the titles.
    """
    return [
        line.rstrip()
        for number, section in numbered(found)
        for line in _section(section, number if with_numbers else "", width)
    ]


def _section(section: Section, number: str, width: int) -> Iterator[str]:
    mark = f"   ** {section.mark} **" if section.mark else ""
    title = f"{f'{number}  ' if number else ''}{section.title}{mark}"
    if section.title:
        yield ""
        if number and "." not in number:
            yield "=" * min(width, len(clean(title)))
        yield from _wrapped(title, width)
    yield from blocks(section.blocks, width, _INDENT if section.title else "")


def blocks(found: Iterable[Block], width: int = WIDTH, indent: str = _INDENT) -> Iterator[str]:
    """Blocks in lines.

    Args:
        found: blocks of a sheet.
        width: of a line, in characters.
        indent: of a paragraph.
    """
    for block in found:
        if isinstance(block, Text):
            further = " " * _UNDER if block.kind == UNDER else indent
            yield from _wrapped(block.text, width, further)
        elif isinstance(block, Fixed):
            for text in block.lines:
                yield from _wrapped(text.strip(), width, " " * (len(text) - len(text.lstrip())))
        elif isinstance(block, Table):
            yield from _table(block.slim(), width, indent)
        elif isinstance(block, Tags):
            yield from _tags(block.labels)
        elif isinstance(block, Blanks):
            for name in block.fields:
                yield from ("", f"{indent}{name:<{_FIELD}}{'_' * (width - len(indent) - _FIELD)}")


def _wrapped(text: str, width: int, indent: str = "", hang: str = "  ") -> list[str]:
    return wrap(clean(text), width, initial_indent=indent, subsequent_indent=f"{indent}{hang}") or [""]


def _table(table: Table, width: int, indent: str) -> Iterator[str]:
    """Columns beside each other, and on lines under each row what stands below it."""
    if not table.rows:
        return
    beside = [place for place, column in enumerate(table.columns) if column.kind != BELOW]
    heads = [table.columns[place].head for place in beside]
    rows = [[clean(row[place]) for place in beside] for row in table.rows]
    wide = _widths(table, beside, [heads, *rows], width - len(indent) - 2 * (len(beside) - 1))
    right = [table.columns[place].kind == NUMBER for place in beside]
    if any(heads):
        yield from _row(heads, wide, right, indent)
    for row, cells in zip(table.rows, rows, strict=True):
        yield from _row(cells, wide, right, indent)
        told = [
            f"{column.before}{cell}"
            for column, cell in zip(table.columns, row, strict=True)
            if column.kind == BELOW and cell
        ]
        if told:
            first = sum(wide[:2]) + 4 if len(wide) > 2 else 4
            yield from _wrapped("; ".join(told), width, indent + " " * min(first, 12))


def _widths(table: Table, beside: Sequence[int], rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """A width for each column; where all together have no room the widest gives, words before figures."""
    wide = [min(_MOST_COLUMN, max(1, *(len(row[at]) for row in rows))) for at in range(len(beside))]
    gives = [at for at, place in enumerate(beside) if table.columns[place].kind not in (FIGURE, NUMBER)]
    while sum(wide) > room:
        able = [at for at in gives if wide[at] > _LEAST] or [at for at in range(len(wide)) if wide[at] > 1]
        if not able:
            return wide
        wide[max(able, key=wide.__getitem__)] -= 1
    return wide


def _row(cells: Sequence[str], wide: Sequence[int], right: Sequence[bool], indent: str) -> Iterator[str]:
    parted = [wrap(cell, width) or [""] for cell, width in zip(cells, wide, strict=True)]
    for line in range(max(map(len, parted))):
        shown = [
            f"{(part[line] if line < len(part) else ''):{'>' if flush else '<'}{width}}"
            for part, width, flush in zip(parted, wide, right, strict=True)
        ]
        yield f"{indent}{'  '.join(shown)}"


def _tags(labels: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """Labels in frames, so many beside each other, those of a row of one height."""
    for first in range(0, len(labels), ACROSS):
        row = [_framed(label) for label in labels[first : first + ACROSS]]
        height = max(map(len, row))
        frames = [_closed(body, height) for body in row]
        for parts in zip(*frames, strict=True):
            yield (" " * APART).join(parts)


def _framed(label: Iterable[str]) -> list[str]:
    room = WIDE - 4
    return [
        f"| {part:<{room}} |" for text in label for part in wrap(clean(text), room, subsequent_indent="  ")
    ]


def _closed(body: list[str], height: int) -> list[str]:
    edge = f"+{'-' * (WIDE - 2)}+"
    empty = f"| {'':<{WIDE - 4}} |"
    return [edge, *body, *[empty] * (height - len(body)), edge]
