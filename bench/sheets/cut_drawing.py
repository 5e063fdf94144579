"""A stick that is cut up, drawn to scale as a picture of its own that prints without colour.

Lengths of all sticks are to one scale, and so are widths, which are drawn larger. What a stretch is shows in
its hatch: blade black, lost crossed, cut already slanting, spoiled barred, an offcut flecked.
"""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from bench import units
from bench.core.defects import KEPT_IN
from bench.core.frozen import record
from bench.core.quantities import INCH
from bench.core.records import Settings
from bench.core.stretches import (
    EDGE,
    KERF,
    LOST,
    MADE,
    OFFCUT,
    PIECE,
    REST,
    RIP_KERF,
    SCRAP,
    SPOILT,
    STRIP,
    TRIM,
    Band,
    Board,
    Run,
)
from bench.sheets import cut_words as words
from bench.sheets import inspecting
from bench.sheets.paper import clean
from bench.sheets.svg import FONT, LETTER, number, picture
from bench.sheets.svg import text as text_at

# All in units of the picture.
LEFT, SPAN, RIGHT = 52.0, 760.0, 12.0  # margins beside the longest stick, and that stick
WIDTH = LEFT + SPAN + RIGHT
_THICK, _THIN, _TALL = 24.0, 14.0, 260.0  # the narrowest row as wanted, at least, and the widest board
_LEVEL, _RULER = 12.0, 20.0  # height of a line of marks above, and of the ruler below
_TURNED = 9.0  # least width for a number that stands upright
_MAJOR = 44.0  # least distance of two figures of the ruler
_STEPS = {"in": (1, 2, 6, 12, 24, 48, 96, 240, 1200), "mm": (10, 20, 50, 100, 200, 500, 1000, 2000, 10000)}

_FILL = {PIECE: "#fff", KERF: "#000", RIP_KERF: "#000"}
_HATCHED = {
    LOST: "lost",
    EDGE: "trim",
    TRIM: "trim",
    MADE: "made",
    SPOILT: "spoilt",
    SCRAP: "scrap",
    OFFCUT: "offcut",
    REST: "offcut",
}
# Side of the tile, what is drawn in it.
_TILES = {
    "lost": (6, "<path d='M0 0L6 6M6 0L0 6' stroke='#000' stroke-width='1' fill='none'/>"),
    "made": (
        6,
        "<path d='M0 6L6 0' stroke='#888' stroke-width='0.8'/>",
    ),
    "spoilt": (5, "<path d='M0 2.5H5' stroke='#000' stroke-width='1'/>"),
    "trim": (5, "<path d='M2.5 0V5' stroke='#000' stroke-width='1'/>"),
    "scrap": (5, "<circle cx='2.5' cy='2.5' r='0.9' fill='#000'/>"),
    "offcut": (12, "<path d='M2 2L5 5M8 8L11 11' stroke='#777' stroke-width='0.7'/>"),
}


@record
class Scale:
    """Of all sticks of a page."""

    along: float  # units of the picture to a metre of length
    across: float  # units of the picture to a metre of width
    step: Fraction  # between two figures of the ruler [m]
    system: str


def scale(boards: Sequence[Board], settings: Settings) -> Scale:
    """The scale that gives the longest stick the whole width.

    Args:
        boards: everything that is drawn; may be empty.
        settings: of the job.
    """
    longest = float(max((board.stick.length.exact for board in boards), default=INCH))
    along = SPAN / longest
    unit = Fraction(1, 1000) if settings.units == "mm" else INCH
    steps = _STEPS["mm" if settings.units == "mm" else "in"]
    step = next((size for size in steps if float(size * unit) * along >= _MAJOR), steps[-1])
    sides = [float(band.high - band.low) for board in boards for band in _strips(board, settings)]
    narrow, wide = min(sides, default=1.0), max((float(b.across) for b in boards), default=1.0)
    across = max(_THIN / narrow, min(_THICK / narrow, _TALL / wide))
    return Scale(along, across, step * unit, settings.units)


def _strips(board: Board, settings: Settings) -> list[Band]:
    return [band for band in board.bands(settings) if band.kind == STRIP]


def drawing(board: Board, given: Scale, settings: Settings, name: str) -> str:
    """One stick as a picture.

    Args:
        board: with what is cut from it.
        given: the scale of the page.
        settings: of the job.
        name: of this picture among those of the page, a word; its hatches are named after it.
    Returns:
        An svg element that stands alone.
    """
    return _Picture(board, given, settings, name).text()


def key(name: str = "key") -> str:
    """The hatches and what they mean, as a picture.

    Args:
        name: as in `drawing`.
    """
    kinds = (PIECE, MADE, SPOILT, KERF, LOST, TRIM, OFFCUT, SCRAP)
    shown, here = [], 0.0
    for kind in kinds:
        said = words.kind(kind)
        shown += [_rect(here, 4, 22, 16, kind, name), text_at(here + 26, 16, said)]
        here += 26 + LETTER * len(said) + 12
    return picture(here, 24, "what the hatches mean", [_hatches(name), *shown])


def bar(given: Scale) -> str:
    """The scale as a bar with its length.

    Args:
        given: of the page.
    """
    size = float(given.step) * given.along
    ends = f"M{number(LEFT)} 4V12M{number(LEFT)} 8H{number(LEFT + size)}M{number(LEFT + size)} 4V12"
    ratio = given.across / given.along
    said = (
        f"{units.place(given.step, given.system)}; widths are drawn {units.number(ratio, 2)} times as large"
    )
    shown = [f'<path d="{ends}" stroke="#000" fill="none"/>', text_at(LEFT + size + 6, 12, said)]
    return picture(WIDTH, 16, f"scale: {said}", shown)


class _Picture:
    """Draws one stick."""

    def __init__(self, board: Board, given: Scale, settings: Settings, name: str) -> None:
        self.board, self.given, self.name = board, given, name
        self.bands = board.bands(settings)
        self.length = board.stick.length.exact
        self.marks = _levels(self._marks())
        self.top = _LEVEL * (1 + max((level for _, _, level in self.marks), default=-1)) + 3
        self.foot = (
            self.top + float(max((band.high for band in self.bands), default=board.across)) * given.across
        )

    def text(self) -> str:
        """The whole picture."""
        mark = words.mark(self.board)
        said = f"{clean(self.board.stick.tag)}, {words.stick_size(self.board, self.given.system)}"
        shown = [_hatches(self.name), *self._bands(), *self._above(), *self._ruler()]
        return picture(WIDTH, self.foot + _RULER, f"{said}{f', {mark}' if mark else ''}", shown)

    def x(self, place: Fraction) -> float:
        """Where a place along the stick is drawn."""
        return LEFT + float(place) * self.given.along

    def y(self, place: Fraction) -> float:
        """Where a place across it is drawn."""
        return self.top + float(place) * self.given.across

    def _bands(self) -> Iterator[str]:
        for band in self.bands:
            if band.row is None:
                yield self._box(band, Run(band.kind, Fraction(0), self.length))
                continue
            for run in band.row.runs:
                yield self._box(band, run)
            if band.row.strip:
                middle = (self.y(band.low) + self.y(band.high)) / 2 + FONT / 3
                yield text_at(2, middle, f"strip {band.row.strip}")
            edge = f'width="{number(self.x(self.length) - LEFT)}" height="{number(self._high(band))}"'
            yield (
                f'<rect class="stick" x="{number(LEFT)}" y="{number(self.y(band.low))}" {edge} '
                'fill="none" stroke="#000" stroke-width="1.2"/>'
            )

    def _high(self, band: Band) -> float:
        return self.y(band.high) - self.y(band.low)

    def _box(self, band: Band, run: Run) -> str:
        x, wide, high = self.x(run.start), float(run.length) * self.given.along, self._high(band)
        box = _rect(x, self.y(band.low), wide, high, run.kind, self.name, run.number)
        return box + _label(self._names(run), x, self.y(band.low), wide, high, bool(run.number))

    def _names(self, run: Run) -> tuple[str, ...]:
        """What may stand in a stretch, the longest first."""
        length = units.place(run.length, self.given.system, up=run.kind == PIECE)
        part = clean(run.part)
        if run.kind == PIECE:
            return (f"{run.number} {part} {length}", f"{run.number} {part}", str(run.number))
        if run.kind in (MADE, SPOILT):
            return (f"{words.kind(run.kind)}: {part}", part)
        if run.kind == OFFCUT:
            return (f"offcut {length}", "offcut")  # a bare figure would be taken for the number of a cut
        return ("left of the board",) if run.kind == REST else ()

    def _marks(self) -> Iterator[tuple[float, str]]:
        """What stands above the stick: letters of defects, and numbers that have no room in their piece."""
        for defect in self.board.stick.defects:
            low, high = sorted((defect.start.exact, defect.end.exact))
            middle = (max(low, Fraction(0)) + min(high, self.length)) / 2
            letter = inspecting.letter(defect.kind)
            yield self.x(middle), f"({letter})" if defect.kind in KEPT_IN else letter
        for piece in self.board.pieces:
            if float(piece.length) * self.given.along < _least(piece.number):
                yield self.x((piece.start + piece.end) / 2), str(piece.number)

    def _above(self) -> Iterator[str]:
        feet = [self.top - 3 - level * _LEVEL for _, _, level in self.marks]
        lines = [
            f"M{number(x)} {number(foot + 1)}V{number(self.top)}"
            for (x, _, level), foot in zip(self.marks, feet, strict=True)
            if level
        ]
        # Lines first: a letter on its white ground then hides what runs behind it.
        yield f'<path d="{"".join(lines)}" stroke="#000" stroke-width="0.4"/>' if lines else ""
        for (x, said, _), foot in zip(self.marks, feet, strict=True):
            yield _on_white(x, foot, said)

    def _ruler(self) -> Iterator[str]:
        """Figures from the marked end, in the shop's unit."""
        unit = Fraction(1, 1000) if self.given.system == "mm" else INCH
        foot, place, ticks = number(self.foot), Fraction(0), []
        while place <= self.length:
            x = number(self.x(place))
            ticks.append(f"M{x} {foot}v5")
            yield text_at(self.x(place), self.foot + 16, str(int(place / unit)), "middle")
            place += self.given.step
        yield f'<path d="{"".join(ticks)}" stroke="#000" stroke-width="0.8"/>'


def _least(number_: int) -> float:
    """The least width in which a number has room, upright."""
    return min(_TURNED, LETTER * len(str(number_)) + 3)


def _levels(marks: Iterable[tuple[float, str]]) -> list[tuple[float, str, int]]:
    """Marks put on as many lines as it takes for none to lie on another."""
    ends: list[float] = []
    found = []
    for x, said in sorted(marks):
        half = LETTER * len(said) / 2
        level = next((level for level, end in enumerate(ends) if x - half > end), len(ends))
        ends[level : level + 1] = [x + half + 2]
        found.append((x, said, level))
    return found


def _label(names: Sequence[str], x: float, y: float, wide: float, high: float, turned: bool) -> str:
    """The longest of the names that has room in a box; the last one upright where that may be."""
    for said in names:
        if LETTER * len(said) + 4 <= wide:
            return _on_white(x + wide / 2, y + high / 2 + FONT / 3, said)
    if not turned or wide < _least(int(names[-1])):
        return ""
    room = LETTER * len(names[-1])
    size = FONT * min(1.0, (high - 2) / room)
    place = f"translate({number(x + wide / 2 + size / 3)} {number(y + high / 2)}) rotate(-90)"
    return f'<text transform="{place}" font-size="{number(size)}" text-anchor="middle">{names[-1]}</text>'


def _rect(x: float, y: float, wide: float, high: float, kind: str, name: str, cut: int = 0) -> str:
    """A stretch of one kind, its number with it where it is a piece to be cut."""
    fill = f"url(#{name}-{_HATCHED[kind]})" if kind in _HATCHED else _FILL[kind]
    line = 'stroke="#000" stroke-width="0.6"' if kind not in (KERF, RIP_KERF) else 'stroke="none"'
    numbered = f' data-cut="{cut}"' if cut else ""
    size = f'x="{number(x)}" y="{number(y)}" width="{number(wide)}" height="{number(high)}"'
    return f'<rect data-kind="{kind}"{numbered} {size} fill="{fill}" {line}/>'


def _on_white(x: float, foot: float, said: str) -> str:
    """Words about a place, on a white ground so that no hatch runs through them."""
    wide = LETTER * len(said) + 2
    size = f'width="{number(wide)}" height="{number(FONT)}"'
    corner = f'x="{number(x - wide / 2)}" y="{number(foot - FONT * 5 / 6)}"'
    return f'<rect {corner} {size} fill="#fff"/>{text_at(x, foot, said, "middle")}'


def _hatches(name: str) -> str:
    tiles = [
        f'<pattern id="{name}-{kind}" width="{side}" height="{side}" patternUnits="userSpaceOnUse">'
        f"{shown}</pattern>"
        for kind, (side, shown) in _TILES.items()
    ]
    return f"<defs>{''.join(tiles)}</defs>"
