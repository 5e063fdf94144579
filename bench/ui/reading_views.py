"""Screens that are read: species with their sources, the record, the working, the keys."""

from collections.abc import Callable, Mapping, Sequence

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core.records import Figure, Source, Species
from bench.core.river import River
from bench.sheets import lacking
from bench.ui.drawing import DIM, HEAD, HERE, fit, line, stack, wrapped
from bench.ui.keys import KeyWidget
from bench.ui.moving_keys import scroll_keys

Lines = Sequence[Content]


class Reader(KeyWidget):
    """Text that scrolls; `write` makes it for a width."""

    BINDINGS = [
        *scroll_keys("read", 15),
    ]

    river: var[River | None] = var(None, init=False, always_update=True)
    top: var[int] = var(0, init=False)

    def __init__(self, name: str, title: str, write: Callable[[int], Lines]) -> None:
        super().__init__(id=name)
        self.title = title
        self.write = write

    def watch_river(self) -> None:
        self.redraw()

    def watch_top(self) -> None:
        self.redraw()

    def action_scroll(self, amount: int) -> None:
        """Move the text."""
        lines = len(self.write(self.size.width))
        self.top = min(max(0, self.top + amount), max(0, lines - self.size.height + 1))

    def render(self) -> Content:
        lines = self.write(self.size.width)
        room = max(1, self.size.height - 1)
        more = f"  lines {self.top + 1} to {min(len(lines), self.top + room)} of {len(lines)}"
        head = line((self.title, HEAD), (more if len(lines) > room else "", DIM))
        return stack([head, *lines[self.top : self.top + room]])


NAMES, NARROW = 34, 27  # columns of a name and of its figure before the point


class SpeciesView(KeyWidget):
    """Every figure of a species with its basis and source."""

    BINDINGS = [
        Binding("down", "other(1)", "Species", id="species.next", tooltip="The next species"),
        Binding("up", "other(-1)", "Species", id="species.before", tooltip="The species before", show=False),
        Binding("pagedown", "scroll(12)", "Page", id="species.page", tooltip="More figures"),
        Binding("pageup", "scroll(-12)", "Page", id="species.page-up", tooltip="Back", show=False),
    ]

    at: var[int] = var(0, init=False)
    top: var[int] = var(0, init=False)

    def __init__(
        self, woods: dict[str, Species], sources: Mapping[str, Source], faults: Sequence[str]
    ) -> None:
        super().__init__(id="species")
        self.sources = sources
        self.woods = list(woods.values())
        self.faults = list(faults)

    def watch_at(self) -> None:
        self.top = 0
        self.redraw()

    def watch_top(self) -> None:
        self.redraw()

    def action_other(self, amount: int) -> None:
        """Another species."""
        self.at = min(max(0, self.at + amount), len(self.woods) - 1)

    def action_scroll(self, amount: int) -> None:
        """Move the figures."""
        lines = len(self._figures(self.woods[self.at], self.size.width - 24))
        self.top = min(max(0, self.top + amount), max(0, lines - self.size.height + 1))

    def render(self) -> Content:
        width, height = self.size.width, max(2, self.size.height)
        if not self.woods:
            return stack([Content(text) for fault in self.faults for text in wrapped(fault, width)])
        species = self.woods[self.at]
        side = 22
        first = max(0, min(self.at - height // 2, len(self.woods) - height))
        names = [
            line((fit(wood.name.partition(" (")[0], side), HERE if wood is species else ""))
            for wood in self.woods[first : first + height]
        ]
        title = fit(f"{species.name}  {species.key}, {species.kind}", width - side - 2)
        head = line((title, HEAD))
        figures = self._figures(species, width - side - 2)
        # No line may be longer than its column: the terminal would go on with it below the names.
        right = [head, *(row[: width - side - 2] for row in figures[self.top : self.top + height - 1])]
        blank = Content(" " * side)
        return stack(
            [
                line(names[row] if row < len(names) else blank, "  ", right[row] if row < len(right) else "")
                for row in range(height)
            ]
        )

    def _figures(self, species: Species, width: int) -> list[Content]:
        rows = [line((text, "$note")) for fault in self.faults for text in wrapped(fault, width)]
        rows += [line((text, "$note")) for text in wrapped(lacking.line(species), width)]
        names = NAMES if width >= 70 else NARROW
        for figure in sorted(species.figures, key=_order):
            basis = ", ".join(
                part
                for part in (
                    f"at {figure.at}" if figure.at else "",
                    f"volume {figure.volume}" if figure.volume else "",
                    figure.variant,
                )
                if part
            )
            unit = "" if figure.unit == "-" else f" {figure.unit}"
            name = figure.quantity.replace("_", " ")
            whole, point, _ = figure.printed.partition(".")
            # The points below one another; a name that is too long pushes its figure out.
            lead = f"{name} {whole:>{max(0, names - len(name) - 1)}}"
            figures = f"{point}{figure.printed[len(whole) + 1 :]}{unit}" if point else unit
            bold = lead[len(lead) - len(whole) :]
            said = line(lead[: len(lead) - len(whole)], (f"{bold}{figures}", "bold"))
            fits = said.cell_length + 2 + len(basis) <= width
            rows += [line(said, f"  {basis}")] if fits else [said, line(f"    {basis}")]
            standing = {"read": "", "memory": "RECALLED, NOT READ  ", "trade": "NO PUBLISHED SOURCE  "}[
                figure.standing
            ]
            unused = "" if figure.used else "NOT USED  "
            rows.append(line("  ", (standing + unused, "$note"), (f"{figure.source} {figure.where}", DIM)))
            rows += (
                [line((text, DIM)) for text in wrapped("  " + figure.note, width - 2, "  ")]
                if figure.note
                else []
            )
        if species.origin != "ours":
            own = f"with your own file {species.origin}"
            rows += [line((text, "$note")) for text in wrapped(own, width)]
        for statement in species.statements:
            text = f"{statement.text} ({statement.source} {statement.where})"
            rows += [line(part) for part in wrapped(text, width)]
        keys = [figure.source for figure in species.figures]
        keys += [statement.source for statement in species.statements]
        for source in (self.sources[key] for key in dict.fromkeys(keys) if key in self.sources):
            text = f"{source.key}: {source.title}, {source.publisher}, {source.year}"
            rows += [line((part, DIM)) for part in wrapped(text, width, "  ")]
        return rows


def _order(figure: Figure) -> int:
    """Limits and averages on the aircraft basis first, then 12 percent, then the rest as printed."""
    if figure.volume == "oven-dry":
        return 0
    return {"12 %": 1, "": 2, "15 %": 3}.get(figure.at, 4) + (10 if figure.variant or not figure.used else 0)
