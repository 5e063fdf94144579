"""What goes to the terminal after a change: the cells that changed, and of those only what lies on top.

The framework draws everything again that meets a box round all changes, what lies underneath as well, and
tells the colours anew for each stretch of a line. Here a colour is told where it changes.
"""

from collections.abc import Iterable
from functools import lru_cache

from rich.color import ColorSystem
from rich.console import Console
from rich.style import Style
from textual._compositor import Compositor, CompositorUpdate
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

Stretch = tuple[int, int, Strip]  # row, first column, what stands there


class Stretches(CompositorUpdate):
    """Stretches of lines, each written over what was there."""

    def __init__(self, stretches: Iterable[Stretch]) -> None:
        self.stretches = sorted(stretches, key=lambda one: one[:2])

    def render_segments(self, console: Console) -> str:
        """As it is sent to the terminal."""
        system = console._color_system or ColorSystem.TRUECOLOR
        sent, look = list[str](), ""
        for row, column, strip in self.stretches:
            sent.append(f"\x1b[{row + 1};{column + 1}H")
            for text, style, _ in strip:
                wanted = _look(style, system) if style else ""
                if wanted != look:
                    sent.append(f"\x1b[{'0;' if look and wanted else ''}{wanted}m")
                    look = wanted
                sent.append(text)
        return "".join((*sent, "\x1b[0m" if look else ""))


@lru_cache(maxsize=512)
def _look(style: Style, system: ColorSystem) -> str:
    """The numbers of the control sequence that sets a style."""
    return Strip.render_ansi(style, system)


class Frames(Compositor):
    """Lays a screen out as the framework does, and draws no more of it than changed."""

    def render_partial_update(self) -> CompositorUpdate | None:  # type: ignore[override]
        """What changed since the last frame; None where nothing did."""
        changed = [region.intersection(self.size.region) for region in self._dirty_regions]
        on_top = self._on_top(filter(None, changed))
        if on_top is None:
            return super().render_partial_update()
        self._dirty_regions.clear()
        stretches = [one for widget, regions in on_top.items() for one in self._drawn(widget, regions)]
        return Stretches(stretches) if stretches else None

    def _on_top(self, changed: Iterable[Region]) -> dict[Widget, list[Region]] | None:
        """The widget that each region is seen of; None where one is seen of several."""
        found: dict[Widget, list[Region]] = {}
        for region in changed:
            for widget, (area, clip) in self.visible_widgets.items():  # the one on top first
                seen = area.intersection(clip)
                if seen.contains_region(region):
                    found.setdefault(widget, []).append(region)
                    break
                if seen.overlaps(region):
                    return None
        return found

    def _drawn(self, widget: Widget, regions: list[Region]) -> Iterable[Stretch]:
        """These regions of a widget, line by line."""
        left, top, whole, _ = self.visible_widgets[widget][0]
        box = Region.from_union(regions)
        lines = widget.render_lines(Region(0, box.y - top, whole, box.height))
        for x, y, width, height in regions:
            for row in range(y, y + height):
                yield row, x, lines[row - box.y].crop(x - left, x + width - left)
