"""A stick drawn along its length: what was found on it, what has been sawn off, what is left."""

from collections.abc import Iterable
from fractions import Fraction

from textual.content import Content

from bench.core.inspecting import KEPT_IN
from bench.core.records import CutMade, Stick
from bench.sheets import inspecting
from bench.ui.drawing import DIM, line

SAWN, CLEAR = "=", "."


def drawn(stick: Stick, cuts: Iterable[CutMade], columns: int) -> Content:
    """The stick to scale in so many columns, a letter for each kind of defect; what is sawn has none."""
    cells: list[tuple[str, str]] = [(CLEAR, DIM)] * columns

    def fill(start: Fraction, end: Fraction, letter: str, style: str) -> None:
        first = min(columns - 1, int(start * columns / stick.length.exact))
        last = max(first + 1, min(columns, -int(-end * columns // stick.length.exact)))
        cells[first:last] = [(letter, style)] * (last - first)

    for defect in stick.defects:
        style = "ansi_yellow" if defect.kind in KEPT_IN else "ansi_red"
        low, high = sorted((defect.start.exact, defect.end.exact))
        fill(low, high, inspecting.letter(defect.kind), style)
    for cut in cuts:
        if cut.stick == stick.tag:
            fill(cut.start, cut.end, SAWN, DIM)
    return line("|", *cells, "|")


def legend(stick: Stick, cuts: Iterable[CutMade]) -> str:
    """What the letters of a drawn stick mean."""
    kinds = dict.fromkeys(defect.kind for defect in stick.defects)
    said = [f"{inspecting.letter(kind)} {inspecting.kind_name(kind)}" for kind in kinds]
    if any(cut.stick == stick.tag for cut in cuts):
        said.append(f"{SAWN} sawn")
    return ", ".join(said) or "nothing found on it"
