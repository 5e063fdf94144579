"""A sheet as Markdown (CommonMark, with pipe tables): whatever was typed is read as text."""

import re
from collections.abc import Iterator, Sequence

from bench.sheets.paper import (
    MARK,
    SMALL,
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

_SPECIAL = re.compile(r"([\\`*_\[\]<>|~&#$])")
_BEGINS = re.compile(r"^(\s*)([-+=:]|\d+(?=[.)]))")  # a list, a rule, a heading underlined, where it begins


def write(sheet: Sheet) -> str:
    """The text of a file."""
    rows = [f"# {escape(sheet.job)}: {escape(sheet.kind)}"]
    rows += [f"**{escape(sheet.invented)}**"] if sheet.invented else []
    rows += [escape(sheet.made), *_blocks(sheet.head)]
    numbers = list(numbered(sheet.sections))
    if sheet.numbered:
        listed = [(number, section) for number, section in numbers if number.count(".") < 2]
        rows.append(
            "\n".join(
                f"{'  ' * number.count('.')}- {number} {escape(section.title)}" for number, section in listed
            )
        )
    for number, section in numbers:
        rows += _section(section, number, sheet.numbered)
    rows += _blocks(sheet.foot)
    return "\n\n".join(row for row in rows if row) + "\n"


def escape(text: str) -> str:
    """A text that Markdown reads as it stands.

    Args:
        text: as typed.
    Returns:
        One line.
    """
    plain = " ".join(_SPECIAL.sub(r"\\\1", clean(text)).split())
    return _BEGINS.sub(lambda found: f"{found[1]}{_held(found[2])}", plain)


def _held(begins: str) -> str:
    return f"{begins}\\" if begins.isdigit() else f"\\{begins}"


def _section(section: Section, number: str, shown: bool) -> Iterator[str]:
    if section.title:
        level = "#" * min(6, 2 + number.count("."))
        mark = f" **{escape(section.mark)}**" if section.mark else ""
        yield f"{level} {f'{number} ' if shown else ''}{escape(section.title)}{mark}"
    yield from _blocks(section.blocks)


def _blocks(blocks: Sequence[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Text):
            yield _text(block)
        elif isinstance(block, Fixed):
            yield _fenced(block.lines)
        elif isinstance(block, Table):
            yield from map(_table, block.laid())
        elif isinstance(block, Tags):
            yield "\n".join(f"- {'; '.join(map(escape, label))}" for label in block.labels)
        elif isinstance(block, Blanks):
            yield "\n".join(f"- {escape(name)}: \\_\\_\\_\\_\\_\\_\\_\\_" for name in block.fields)


def _text(block: Text) -> str:
    said = escape(block.text)
    if block.kind == MARK:
        return f"**{said}**"
    return f"> {said}" if block.kind in (UNDER, SMALL) else said


def _fenced(lines: Sequence[str]) -> str:
    """Lines as they are, within a fence longer than any in them."""
    ticks = max((len(run) for line in lines for run in re.findall(r"`+", line)), default=0)
    fence = "`" * max(3, ticks + 1)
    return "\n".join((fence, *map(clean, lines), fence))


def _table(table: Table) -> str:
    if not table.rows:
        return ""
    rows = [[escape(cell) for cell in row] for row in table.rows]
    heads = [escape(column.head) for column in table.columns]
    ruled = ["---:" if column.kind == "number" else "---" for column in table.columns]
    return "\n".join(f"| {' | '.join(row)} |" for row in (heads, ruled, *rows))
