"""How the layout looks: a row for each stick, all of them to one scale, one piece lit."""

from collections.abc import Callable
from fractions import Fraction
from functools import partial

from textual.content import Content

from bench import units
from bench.core.acceptance import HOLD
from bench.core.cutting import StickPlan
from bench.core.judging import Judged
from bench.core.records import Laid, Stick
from bench.core.river import River, SizedPart
from bench.sheets import left_out, wording
from bench.ui.drawing import HERE, TRIED, WRONG, large, line, window, wrapped
from bench.ui.sticks import Mark, Scale, bar

ZOOMS = (1, 2, 4, 8)
OTHER = "bold underline"  # pieces of the same part elsewhere; they begin with * as well
LEGEND = "| piece  * its twin  = sawn  letters lost  . left"


def _longest(river: River) -> Fraction:
    """The longest stick that is cut from [m]."""
    sticks = (river.job.stick(row.tag) for row in river.plan.sticks) if river.plan else ()
    return max((stick.length.exact for stick in sticks if stick is not None), default=Fraction(1))


def _scale(river: River, columns: int, zoom: int, first: int) -> Scale:
    """One for all sticks: the longest of them fills the width; `first` is in half widths."""
    step = _longest(river) / (columns * zoom)
    return Scale(step * (columns // 2) * first, step)


def stick_length(river: River, first: int, zoom: int, system: str) -> str:
    """Where the drawing begins when it is drawn nearer."""
    return units.tape(_longest(river) / zoom / 2 * first, system)


def in_view(river: River, piece: Laid, zoom: int, first: int) -> int:
    """Where the drawing begins, in half widths, so that the beginning of a piece is on show."""
    half = _longest(river) / zoom / 2
    place = int(piece.start // half)
    return first if first <= place <= first + 1 else min(place, 2 * (zoom - 1))


def body(river: River, here: Laid | None, width: int, zoom: int, first: int, room: int) -> list[Content]:
    """What has no place, then every stick: as many rows as there is room for, about the piece that is lit.

    Only those are drawn: a long list is cut from a hundred sticks.
    """
    said = [line((text, WRONG)) for text in wrapped(wording.doubtful(river.doubtful), width, "  ")]
    said += [*no_place(river, width), *_scarfed(river, width)]
    rows: list[Callable[[], Content]] = [partial(_as_it_is, row) for row in said]
    plan, lit = river.plan, 0
    columns = max(10, width - 1)
    scale = _scale(river, columns, zoom, first)
    for row in plan.sticks if plan else ():
        stick = river.job.stick(row.tag)
        if stick is None:
            continue
        if here is not None and (here.stick, here.strip) == (row.tag, row.strip):
            lit = len(rows)
        rows.append(partial(_head_line, river, row, width))
        rows.append(partial(_bar, river, row, stick, here, scale, columns))
    if plan and plan.sticks:
        rows.append(partial(Content, LEGEND[:width]))
    return [draw() for draw in window(rows, lit, room)]


def _as_it_is(row: Content) -> Content:
    return row


def _head_line(river: River, row: StickPlan, width: int) -> Content:
    judged = river.judged(row.tag)
    return line((_head(river, row, judged)[:width], "bold")) if judged is not None else Content("")


def no_place(river: River, width: int) -> list[Content]:
    """Parts that are not laid out, and why."""
    rows: list[Content] = []
    for out, why in left_out.rows(river):
        text = f"no place: {out.quantity} x {out.part}: {why}"
        style = WRONG if out.critical else "$note"
        rows += [line((part, style)) for part in wrapped(text, width, "  ")]
    return rows


def _scarfed(river: River, width: int) -> list[Content]:
    """Parts that are made of lengths, and of which."""
    lengths: dict[str, list[str]] = {}
    for sized in river.parts:
        if sized.part.piece_of:
            lengths.setdefault(sized.part.piece_of, []).append(f"{sized.part.name} {sized.part.length.text}")
    said = [f"scarfed: {whole} of {' + '.join(made)}" for whole, made in lengths.items()]
    return [line((row, TRIED)) for text in said for row in wrapped(text, width, "  ")]


def _head(river: River, row: StickPlan, judged: Judged) -> str:
    """The stick, its length, how it is ripped, and whether it is on hold for what is cut from it."""
    system = river.job.settings.units
    uses = {sized.part.name: sized.part.use for sized in river.parts}
    held = any(judged.words[uses[piece.part]] == HOLD for piece in row.pieces if piece.part in uses)
    fence = units.place(row.width, system, up=True) if row.width else ""
    rip = f"  strip {row.strip}, fence {fence}" if row.strip and fence else ""
    return f"{row.tag}  {units.place(judged.stick.length.exact, system)}{rip}{'  ON HOLD' if held else ''}"


def _bar(
    river: River, row: StickPlan, stick: Stick, here: Laid | None, scale: Scale, columns: int
) -> Content:
    """A stick to scale: pieces with their names, letters for lost wood, = for pieces already cut."""
    marks = []
    for piece in row.pieces:
        lit = here is not None and (piece.part, row.tag, piece.start, row.strip) == (
            here.part,
            here.stick,
            here.start,
            here.strip,
        )
        same = here is not None and piece.part == here.part
        style = HERE if lit else OTHER if same else ""
        marks.append(Mark(piece.start, piece.end, ("*" if same and not lit else "|") + piece.part, style))
    return line(*bar(stick, river.job.sawn, marks, scale, columns))


def sized_part(river: River | None, name: str) -> SizedPart | None:
    """A part as it is made, by its name."""
    return next((sized for sized in river.parts if sized.part.name == name), None) if river else None


def cut_line(river: River, piece: Laid, width: int) -> list[Content]:
    """The lit piece in words: where it is cut, and what it is dressed to."""
    system = river.job.settings.units
    sized = sized_part(river, piece.part)
    dress = "" if sized is None else f"; dress to {units.sides(sized.width, sized.depth, system)}"
    group = f" ({sized.part.group})" if sized is not None and sized.part.group else ""
    strip = f" strip {piece.strip}" if piece.strip else ""
    rough = units.place(piece.end - piece.start, system, up=True)
    span = f"from {units.place(piece.start, system)} to {units.place(piece.end, system)}"
    text = f"{piece.part}{group}, {rough}, on {piece.stick}{strip} {span}{dress}"
    return [line((part, "bold")) for part in wrapped(text, width, "  ")]


def large_piece(river: River, piece: Laid, width: int, height: int) -> Content:
    """The length of the lit piece alone, for two metres away."""
    system = river.job.settings.units
    length = units.place(piece.end - piece.start, system, up=True)
    below = [Content(""), *cut_line(river, piece, width)]
    return large(f"{piece.part}  {length}", length.rsplit(" ", 1)[0], below, width, height)
