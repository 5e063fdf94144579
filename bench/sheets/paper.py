"""A sheet as data: sections of paragraphs, tables and drawings. The writers beside it put it into files.

Every text stands as it would be read; writers escape it and take out what no printer shows.
"""

from collections.abc import Callable, Iterator

from bench.core.frozen import record, replace

MARK, SMALL, UNDER = "mark", "small", "under"  # paragraphs: in a frame, small print, further in
FIGURE, NUMBER, BELOW = "figure", "number", "below"  # columns: never broken, flush right, under its row
ACROSS = 11  # rows beside each other in a table that is turned


def clean(text: str) -> str:
    """A text as typed without what no printer shows: line ends and control characters become blanks."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


@record
class Text:
    """A paragraph."""

    text: str
    kind: str = ""  # "", MARK, SMALL or UNDER


@record
class Fixed:
    """Lines whose indent means something: formulas with their numbers."""

    lines: tuple[str, ...]


@record
class Column:
    """A column of a table."""

    head: str
    kind: str = ""  # "", FIGURE, NUMBER; BELOW: in plain text its cells stand on lines under the row
    before: str = ""  # said before a cell that stands below


@record
class Table:
    """Rows under a head; a cell that is empty says nothing."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    across: bool = False  # long and narrow: on paper its rows stand beside each other

    @property
    def headed(self) -> bool:
        """Whether any column has a heading."""
        return any(column.head for column in self.columns)

    def slim(self) -> "Table":
        """Without the columns that have no heading and in which nothing is said."""
        said = [at for at, column in enumerate(self.columns) if column.head or any(r[at] for r in self.rows)]
        if len(said) == len(self.columns):
            return self
        rows = tuple(tuple(row[at] for at in said) for row in self.rows)
        return replace(self, columns=tuple(self.columns[at] for at in said), rows=rows)

    def laid(self, most: int = ACROSS) -> "tuple[Table, ...]":
        """As it stands on paper: slim, and turned where that saves a page, so many rows beside each other."""
        slim = self.slim()
        if not self.across:
            return (slim,)
        heads = tuple(column.head for column in slim.columns)
        parts = (slim.rows[first : first + most] for first in range(0, len(slim.rows), most))
        return tuple(
            Table((Column(""), *(Column("", FIGURE) for _ in part)), tuple(zip(heads, *part, strict=True)))
            for part in parts
        )


@record
class Drawing:
    """A picture; formats without pictures leave it out, so that nothing may be said by it alone."""

    svg: str  # an element that stands alone
    note: str = ""  # how it is to be read


@record
class Tags:
    """Labels to be cut apart; the first line of each is set large."""

    labels: tuple[tuple[str, ...], ...]


@record
class Blanks:
    """Fields to be filled in by hand."""

    fields: tuple[str, ...]


Block = Text | Fixed | Table | Drawing | Tags | Blanks


@record
class Section:
    """A piece of a sheet under a title of its own."""

    title: str
    blocks: tuple[Block, ...] = ()
    sections: "tuple[Section, ...]" = ()
    mark: str = ""  # what must not be missed beside the title
    whole: bool = False  # not parted by the end of a page where it has room on one
    fresh: bool = False  # begins a page
    wide: bool = False  # on paper that lies on its side


@record
class Sheet:
    """A whole sheet."""

    kind: str  # what it is: "cut sheet"
    job: str
    made: str  # program, version and day
    head: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()
    foot: tuple[Block, ...] = ()
    invented: str = ""  # what must be said of a job in which nothing was measured
    numbered: bool = False  # with numbers before the titles and a table of contents
    wide: bool = False  # on paper that lies on its side

    @property
    def title(self) -> str:
        """The job's name, marked where it is invented."""
        return f"{self.job}{f'  ({self.invented})' if self.invented else ''}"


def table(heads: tuple[str, ...], rows: Iterator[tuple[str, ...]] | tuple[tuple[str, ...], ...]) -> Table:
    """A table; a heading that begins with `>` is of a column flush right, with `:` of one never broken.

    Args:
        heads: of the columns.
        rows: of as many cells each.
    """
    kinds = {">": NUMBER, ":": FIGURE}
    columns = (Column(head.lstrip(">:"), kinds.get(head[:1], "")) for head in heads)
    return Table(tuple(columns), tuple(rows))


def numbered(sections: tuple[Section, ...], before: str = "") -> Iterator[tuple[str, Section]]:
    """Every section with its number, each before what stands within it: `2`, `2.1`."""
    for place, section in enumerate(sections, 1):
        yield f"{before}{place}", section
        yield from numbered(section.sections, f"{before}{place}.")


def texts(sheet: Sheet) -> Iterator[str]:
    """Everything that is said on a sheet in words."""
    blocks = [*sheet.head, *sheet.foot]
    for _, section in numbered(sheet.sections):
        yield from (section.title, section.mark)
        blocks += section.blocks
    yield from (text for block in blocks for text in _said(block))


def _said(block: Block) -> Iterator[str]:
    if isinstance(block, Text):
        yield block.text
    elif isinstance(block, Fixed):
        yield from block.lines
    elif isinstance(block, Table):
        yield from (cell for row in block.rows for cell in row)
    elif isinstance(block, Drawing):
        yield block.note
    elif isinstance(block, Tags):
        yield from (line for label in block.labels for line in label)


Writer = Callable[[Sheet], str]
