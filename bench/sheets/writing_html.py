"""A sheet as one HTML page to print, which needs nothing but itself: no script, and nothing from elsewhere.

Thin lines and no filled areas. The paper is the printer's, A4 and Letter alike. Pages are numbered in their
margins where the browser knows margin boxes (CSS Paged Media); the numbers of chapters stand without them.
"""

import re
from collections.abc import Iterator, Sequence
from html import escape

from bench.sheets.paper import (
    FIGURE,
    NUMBER,
    Blanks,
    Block,
    Drawing,
    Fixed,
    Section,
    Sheet,
    Table,
    Tags,
    Text,
    clean,
    numbered,
)

_STYLE = """
@page { margin: 16mm 14mm 18mm; }
@page wide { size: landscape; margin: 13mm 12mm 16mm; }
html { background: #fff; color: #000; font: 9.5pt/1.3 sans-serif; }
body { max-width: 182mm; margin: 0 auto; padding: 4mm; overflow-wrap: break-word; }
body.wide { max-width: 273mm; page: wide; }
section.wide { page: wide; }
section.fresh { break-before: page; page-break-before: always; }
section.stick { border-top: 0.3mm solid #000; margin: 3mm 0 0; padding: 2mm 0 1mm; break-inside: avoid;
  page-break-inside: avoid; }
.tag { break-inside: avoid; page-break-inside: avoid; }
h1 { font-size: 16pt; margin: 0; }
h2 { font-size: 13pt; margin: 5mm 0 1.5mm; border-bottom: 0.3mm solid #000; }
h3 { font-size: 11pt; margin: 3.5mm 0 1mm; }
h4 { font-size: 9.5pt; margin: 2.5mm 0 0.5mm; }
section.stick h3 { margin: 0; }
h1, h2, h3, h4, thead { break-after: avoid; page-break-after: avoid; }
p { margin: 0.6mm 0; orphans: 2; widows: 2; }
.of { float: right; font: 9pt sans-serif; padding-top: 1mm; }
.mark { border: 0.4mm solid #000; padding: 0 1.5mm; font-weight: bold; }
.small { font-size: 8.5pt; }
.under { margin-left: 8mm; font-size: 9pt; }
svg { display: block; max-width: 100%; height: auto; print-color-adjust: exact;
  -webkit-print-color-adjust: exact; }
table { border-collapse: collapse; max-width: 100%; margin: 1mm 0 2mm; font-size: 8.5pt; }
.wide table, .wide section.stick > svg { width: 100%; }
thead { display: table-header-group; }
table.turned { break-inside: avoid; page-break-inside: avoid; }
tr { break-inside: avoid; page-break-inside: avoid; }
th, td { border: 0.2mm solid #000; padding: 0.5mm 1.2mm; text-align: left; vertical-align: top; }
td.figure, td.number { white-space: nowrap; }
th.number, td.number { text-align: right; }
p.mark { display: table; }
.steps { font: 8pt/1.3 monospace; margin: 1mm 0 2mm; columns: 2; column-gap: 6mm; }
.steps div { break-inside: avoid; padding-bottom: 2mm; }
.steps p { margin: 0; text-indent: -2ch; padding-left: 2ch; }
ol.contents { list-style: none; margin: 0; padding: 0; columns: 3; column-gap: 5mm; }
.contents li { margin: 0.4mm 0; break-inside: avoid; }
.contents .sub { margin-left: 4mm; font-size: 8pt; }
.contents a { color: #000; text-decoration: none; }
.tag { border: 0.3mm dashed #000; width: 84mm; box-sizing: border-box; padding: 1.5mm 2mm; font-size: 9pt;
  display: inline-block; vertical-align: top; margin: 0 2mm 2mm 0; }
.tag b { display: block; font-size: 13pt; }
.tag span { display: block; }
.blank { display: flex; align-items: flex-end; height: 11mm; break-inside: avoid; }
.blank span { width: 52mm; }
.blank i { flex: 1; border-bottom: 0.3mm solid #000; height: 0; }
@media print { body, body.wide { max-width: none; padding: 0; } }
"""
_DEEPEST = 4  # headings go down to h4
_MOST_INDENT = 8
_LONG_WORD, _PIECE = (
    re.compile(r"(\S{21,})"),
    8,
)  # a word that may be broken in a cell, and every how many letters
_STEPS = "".join(f".steps .i{at} {{ padding-left: {at + 2}ch; }}\n" for at in range(1, _MOST_INDENT + 1))


def write(sheet: Sheet) -> str:
    """The page.

    Args:
        sheet: to be written.
    Returns:
        A whole HTML document.
    """
    body = "\n".join((*_head(sheet), *_contents(sheet), *_chapters(sheet), *_blocks(sheet.foot)))
    title = f"{sheet.title}: {sheet.kind}"
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_text(title)}</title>\n<style>{_STYLE}{_STEPS}{_margins(sheet)}</style>\n</head>\n"
        f"<body{_class('wide' if sheet.wide else '')}>\n{body}\n</body>\n</html>\n"
    )


def _text(text: str) -> str:
    return escape(clean(text))


def _class(*names: str) -> str:
    said = " ".join(name for name in names if name)
    return f' class="{said}"' if said else ""


def _margins(sheet: Sheet) -> str:
    """What stands in the margins of every page, where the browser can."""
    top, foot = _quoted(f"{sheet.title}: {sheet.kind}"), _quoted(sheet.made)
    font = "font: 8pt sans-serif;"
    return (
        f"@page {{ @top-left {{ content: {top}; {font} }}\n"
        f"  @bottom-left {{ content: {foot}; {font} }}\n"
        f'  @bottom-right {{ content: "page " counter(page) " of " counter(pages); {font} }} }}\n'
    )


def _quoted(text: str) -> str:
    """A text as a string of CSS: every letter that is not plain by its number (CSS Syntax 3, sec. 4.3.7)."""
    plain = (
        letter if letter.isascii() and (letter.isalnum() or letter in " .,:()-") else f"\\{ord(letter):x} "
        for letter in clean(text)
    )
    return f'"{"".join(plain)}"'


def _head(sheet: Sheet) -> Iterator[str]:
    yield f"<h1>{_text(sheet.job)}</h1>"
    if sheet.invented:
        yield f'<p><span class="mark">{_text(sheet.invented)}</span></p>'
    yield f'<p class="small">{_text(f"{sheet.kind}, {sheet.made}")}</p>'
    yield from _blocks(sheet.head)


def _contents(sheet: Sheet) -> Iterator[str]:
    """The chapters and what stands in them, each a way to its place."""
    if not sheet.numbered:
        return
    yield '<h2>Contents</h2>\n<ol class="contents">'
    for number, section in numbered(sheet.sections):
        depth = number.count(".")
        if depth < 2:
            place = f'<a href="#s{number}">{number} {_text(section.title)}</a>'
            yield f"<li{_class('sub' if depth else '')}>{place}</li>"
    yield "</ol>"


def _chapters(sheet: Sheet) -> Iterator[str]:
    for place, section in enumerate(sheet.sections, 1):
        of = f"chapter {place} of {len(sheet.sections)}" if sheet.numbered else ""
        yield from _section(section, str(place), sheet.numbered, of)


def _section(section: Section, number: str, shown: bool, of: str = "") -> Iterator[str]:
    kinds = ("stick" if section.whole else "", "fresh" if section.fresh else "")
    wide = "wide" if section.wide else ""
    place = f' id="s{number}"' if shown else ""
    yield f"<section{_class(*kinds, wide)}{place}>"
    if section.title:
        level = min(_DEEPEST, 2 + number.count("."))
        mark = f' <span class="mark">{_text(section.mark)}</span>' if section.mark else ""
        side = f'<span class="of">{of}</span>' if of else ""
        title = f"{f'{number} ' if shown else ''}{_text(section.title)}"
        yield f"<h{level}>{side}{title}{mark}</h{level}>"
    yield from _blocks(section.blocks)
    for count, inner in enumerate(section.sections, 1):
        yield from _section(inner, f"{number}.{count}", shown)
    yield "</section>"


def _blocks(blocks: Sequence[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Text):
            yield _paragraph(block)
        elif isinstance(block, Fixed):
            yield from _fixed(block.lines)
        elif isinstance(block, Table):
            for table in block.laid():
                yield from _table(table)
        elif isinstance(block, Drawing):
            yield block.svg
            yield f'<p class="small">{_text(block.note)}</p>' if block.note else ""
        elif isinstance(block, Tags):
            yield from ('<div class="tags">', *map(_tag, block.labels), "</div>")
        elif isinstance(block, Blanks):
            yield from (
                f'<div class="blank"><span>{_text(name)}</span><i></i></div>' for name in block.fields
            )


def _paragraph(block: Text) -> str:
    return f"<p{_class(block.kind)}>{_text(block.text)}</p>"


def _fixed(lines: Sequence[str]) -> Iterator[str]:
    """Lines that keep their indent where they are broken; those between empty lines stay together."""
    steps: list[list[str]] = [[]]
    for line in lines:
        if line:
            steps[-1].append(line)
        else:
            steps.append([])
    yield '<div class="steps">'
    for step in steps:
        shown = ((min(_MOST_INDENT, len(line) - len(line.lstrip())), line) for line in step)
        told = (f'<p class="i{indent}">{_text(line.strip())}</p>' for indent, line in shown)
        yield f"<div>{''.join(told)}</div>"
    yield "</div>"


def _tag(label: Sequence[str]) -> str:
    first, *rest = label
    lines = "".join(f"<span>{_text(line)}</span>" for line in rest)
    return f'<div class="tag"><b>{_text(first)}</b>{lines}</div>'


def _table(table: Table) -> Iterator[str]:
    if not table.rows:
        return
    kinds = [column.kind if column.kind in (FIGURE, NUMBER) else "" for column in table.columns]
    yield f"<table{_class('' if table.headed else 'turned')}>"
    if table.headed:
        heads = (
            f"<th{_class(kind)}>{_cell(column.head)}</th>"
            for kind, column in zip(kinds, table.columns, strict=True)
        )
        yield f"<thead><tr>{''.join(heads)}</tr></thead>"
    yield "<tbody>"
    for row in table.rows:
        cells = (
            f"<td{_of_cell(kind, cell)}>{_cell(cell)}</td>" for kind, cell in zip(kinds, row, strict=True)
        )
        yield f"<tr>{''.join(cells)}</tr>"
    yield "</tbody></table>"


def _cell(text: str) -> str:
    """A text of which no word is wider than a column can be: a long one may be broken every few letters.

    A browser makes a column at least as wide as its longest word, whatever the paper. Other words stay whole.
    """
    parts = _LONG_WORD.split(clean(text))  # every second one is a long word
    return "".join(
        "<wbr>".join(map(escape, _pieces(part) if at % 2 else [part])) for at, part in enumerate(parts)
    )


def _pieces(word: str) -> Sequence[str]:
    return [word[at : at + _PIECE] for at in range(0, len(word), _PIECE)]


def _of_cell(kind: str, text: str) -> str:
    """Figures are never broken, but for a name among them that is too long."""
    return _class("" if kind == FIGURE and _LONG_WORD.search(clean(text)) else kind)
