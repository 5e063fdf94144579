"""A stick drawn along its length: what was found on it, sawn off it, laid out on it, and what is left."""

from collections.abc import Iterable
from fractions import Fraction
from itertools import groupby
from operator import itemgetter

from textual.content import Content

from bench.core.defects import KEPT_IN
from bench.core.frozen import record
from bench.core.records import CutMade, Spoilt, Stick
from bench.sheets import inspecting
from bench.ui.drawing import DIM, line

SAWN, CLEAR = "=", "."
Sawn = Iterable[CutMade | Spoilt]


@record
class Mark:
    """Something laid out on a stick, with its name in it."""

    start: Fraction  # from the marked end [m]
    end: Fraction  # [m]
    text: str
    style: str = ""


@record
class Scale:
    """Which stretch is drawn: from where on, and how much wood a column shows."""

    first: Fraction  # [m]
    step: Fraction  # of a column [m]


def whole(stick: Stick, columns: int) -> Scale:
    """The whole stick in so many columns."""
    return Scale(Fraction(0), stick.length.exact / columns)


def drawn(stick: Stick, sawn: Sawn, columns: int) -> Content:
    """The whole stick, a letter for each kind of defect; what is sawn has none."""
    return line("|", *bar(stick, sawn, (), whole(stick, columns), columns), "|")


def bar(stick: Stick, sawn: Sawn, marks: Iterable[Mark], scale: Scale, columns: int) -> list[tuple[str, str]]:
    """The stretch of a stick that the scale shows, as texts of one style: at most `columns` cells."""
    shown = min(columns, max(0, -int(-(stick.length.exact - scale.first) // scale.step)))
    cells: list[tuple[str, str]] = [(CLEAR, DIM)] * shown

    def fill(start: Fraction, end: Fraction, text: str, style: str, up: bool = True) -> None:
        low = int((start - scale.first) // scale.step)
        reach = (end - scale.first) / scale.step
        high = max(low + 1, -int(-reach // 1) if up else int(reach))
        low, high = max(0, low), min(shown, high)
        if high <= low:
            return
        written = text[: high - low].ljust(high - low, text if len(text) == 1 else " ")
        for place, char in enumerate(written, low):
            cells[place] = (char, style)

    for defect in stick.defects:
        style = "$note" if defect.kind in KEPT_IN else "$bad"
        low, high = sorted((defect.start.exact, defect.end.exact))
        fill(low, high, inspecting.letter(defect.kind), style)
    for cut in sawn:
        if cut.stick == stick.tag:
            fill(cut.start, cut.end, SAWN, DIM)
    for mark in marks:
        fill(mark.start, mark.end, mark.text, mark.style, up=False)
    runs = groupby(cells, key=itemgetter(1))
    return [("".join(char for char, _ in run), style) for style, run in runs]


def legend(stick: Stick, sawn: Sawn) -> str:
    """What the letters of a drawn stick mean."""
    kinds = dict.fromkeys(defect.kind for defect in stick.defects)
    said = [f"{inspecting.letter(kind)} {inspecting.kind_name(kind)}" for kind in kinds]
    if any(cut.stick == stick.tag for cut in sawn):
        said.append(f"{SAWN} sawn")
    return ", ".join(said) or "nothing found on it"
