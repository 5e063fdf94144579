"""A widget drawn row by row: after a change only the cells that came out otherwise go to the terminal."""

from rich.segment import Segment
from textual.content import Content
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.style import Style
from textual.visual import Visual
from textual.widget import Widget

from bench.ui.drawing import rows_of

APART = 8  # cells; to write so many again is less than to say where the next ones are


class Lined(Widget):
    """Base of everything that draws text: `render` stacks its rows, `redraw` is called when they may differ.

    `refresh`, which the framework calls, draws the widget whole; our own code has no need of it.
    """

    _strips: list[Strip] | None = None  # as drawn last; None: to be drawn whole
    _drawn_for: tuple[Size, Style] | None = None
    _rows_drawn: dict[Content, tuple[tuple[object, ...], list[Strip]]]
    _redrawing = False

    def render(self) -> Content:
        """Its rows, stacked; one that is too long goes on in the next line."""
        raise NotImplementedError

    def redraw(self) -> None:
        """The rows may be others than before: once what is queued has been done, draw those that are."""
        if not self._redrawing:
            self._redrawing = True
            self.call_later(self.redraw_due)

    def redraw_due(self) -> None:
        """Draw what may be another, unless that was done since."""
        if self._redrawing:
            self.redraw_now()

    def redraw_now(self) -> None:
        """Draw the rows that are others than before."""
        self._redrawing = False
        if not all(node.display for node in self.ancestors_with_self):
            self._strips = None  # nobody sees it; it is drawn whole when it is shown again
            return
        before = self._strips
        if before is None or self._drawn_for != (self.size, self.visual_style):
            self.refresh()
            return
        after = self._draw()
        changed = [
            Region(first, y, last - first, 1)
            for y, (old, new) in enumerate(zip(before, after, strict=True))
            if old is not new
            for first, last in _changed(old, new)
        ]
        if changed:
            super().refresh(*changed)

    def refresh(
        self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False
    ) -> "Lined":
        """Draw the widget whole, or a region of it again."""
        if not regions:
            self._strips = None
        super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)
        return self

    def notify_style_update(self) -> None:
        """Another style: everything is drawn again."""
        self._strips = None
        super().notify_style_update()

    def render_line(self, y: int) -> Strip:
        """A line as drawn last."""
        if self._strips is None or self._drawn_for != (self.size, self.visual_style):
            self._drawn_for = (self.size, self.visual_style)
            self._rows_drawn = {}
            self._draw()
        assert self._strips is not None
        return self._strips[y] if y < len(self._strips) else Strip.blank(self.size.width)

    def _draw(self) -> list[Strip]:
        """Every line of the widget; a row that it had before is not drawn again."""
        width, height = self.size
        style, known = self.visual_style, self._rows_drawn
        kept: dict[Content, tuple[tuple[object, ...], list[Strip]]] = {}
        strips: list[Strip] = []
        for row in rows_of(self.render()):
            spans = tuple(row.spans)
            found = kept.get(row) or known.get(row)
            if found is None or found[0] != spans:
                found = (spans, self._strips_of(row, width, style))
            kept[row] = found
            strips += found[1]
        blank = Strip.blank(width, style.rich_style)
        strips += [blank] * (height - len(strips))
        self._rows_drawn, self._strips = kept, strips[:height]
        return self._strips

    def _strips_of(self, row: Content, width: int, style: Style) -> list[Strip]:
        """The lines that a row takes, filled up to the width."""
        if row.cell_length > width:
            drawn = Visual.to_strips(self, row, width, None, style)
        else:
            pieces = row.render(style, end="", parse_style=self.app.stylesheet.parse_style)
            drawn = [Strip([Segment(text, look.rich_style) for text, look in pieces], row.cell_length)]
        return [strip.adjust_cell_length(width, style.rich_style) for strip in drawn]


def _changed(old: Strip, new: Strip) -> list[tuple[int, int]]:
    """From which cell to which two lines differ; all of them where a character is wider than a cell."""
    before, after = old.text, new.text
    width = len(after)
    if not len(before) == width == old.cell_length == new.cell_length:
        return [(0, max(old.cell_length, new.cell_length))]
    looks = [(len(text), style) for text, style, _ in old], [(len(text), style) for text, style, _ in new]
    if looks[0] == looks[1]:
        others = [place for place in range(width) if before[place] != after[place]]
    else:
        was, now = ([style for many, style in look for _ in range(many)] for look in looks)
        others = [
            place for place in range(width) if before[place] != after[place] or was[place] != now[place]
        ]
    spans: list[tuple[int, int]] = []
    for place in others:
        if spans and place - spans[-1][1] < APART:
            spans[-1] = (spans[-1][0], place + 1)
        else:
            spans.append((place, place + 1))
    return spans
