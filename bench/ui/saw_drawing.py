"""How one cut looks at the saw: stop and fence large, what they are set for, and what was laid out anew."""

from collections.abc import Sequence

from textual.content import Content

from bench import units
from bench.core.acceptance import HOLD
from bench.core.frozen import record
from bench.core.river import River
from bench.core.sawing import Rip, SawStep
from bench.sheets import saw
from bench.ui.cuts_drawing import sized_part
from bench.ui.drawing import DIM, HEAD, HERE, TRIED, WRONG, figures, line, wrapped
from bench.ui.sticks import Mark, bar, whole

BIG = 6  # rows of the smallest large figure, its name above it
_APART = 3  # columns between two figures
_LAST = 9  # order of what is never left out

Figure = tuple[str, str]  # what is set: "STOP", "FENCE", and how far, with its unit


@record
class Told:
    """Lines below the figures; where there is no room, those of the lowest `keep` are left out first."""

    rows: tuple[Content, ...]
    keep: int = _LAST


def head(river: River, step: SawStep, rips: bool, width: int) -> Content:
    """Which cut it is, from which stick, and whether that is on hold for what is cut."""
    judged, sized = river.judged(step.piece.stick), sized_part(river, step.piece.part)
    held = judged is not None and sized is not None and judged.words[sized.part.use] == HOLD
    what = "rip first" if rips else f"cut {step.number} of {step.of}"
    here = f"  {saw.tag(step)}, {step.on_stick} of {step.of_stick} on it"
    room = max(0, width - 4 - len(what) - 9 * held)
    return line(("SAW ", HEAD), (what, "bold"), here[:room], ("  ON HOLD" if held else "", WRONG))


def _told(text: str, style: str, width: int, keep: int = _LAST) -> Told:
    return Told(tuple(line((row, style)) for row in wrapped(text, width, "  ")), keep)


def cut_figures(river: River, step: SawStep) -> list[Figure]:
    """The stop, and the fence for each side that is ripped."""
    system, sized = river.job.settings.units, sized_part(river, step.piece.part)
    judged = river.judged(step.piece.stick)
    found = [("STOP", saw.stop(step, system))]
    if sized is not None and judged is not None:
        ripped = [side for side in saw.sides(judged.stick, sized, river.job.settings) if side.ripped]
        shown = dict.fromkeys(units.place(side.rough, system, up=True) for side in ripped)
        found += zip(("FENCE", "THEN"), shown, strict=False)
    return found


def cut_text(river: River, step: SawStep, after: SawStep | None, width: int) -> list[Told]:
    """Where stop and fence stand, how the grain lies, and what comes next."""
    settings, sized = river.job.settings, sized_part(river, step.piece.part)
    system, judged = settings.units, river.judged(step.piece.stick)
    part = step.piece.part + (f" ({sized.part.group})" if sized and sized.part.group else "")
    found = saw.sides(judged.stick, sized, settings) if sized is not None and judged is not None else ()
    fence = f"; {saw.fence(found, system)}" if sized is not None else ""
    first = step.waste or step.before
    said = [
        _told(f"{part}: stop {saw.stop(step, system)}{fence}", "bold", width),
        _told(saw.where(step, settings, system), "bold" if first else "", width),
    ]
    if sized is not None:
        style, keep = ("bold", 5) if any(side.planed for side in found) else ("", 0)
        said.append(_told(saw.dress(sized, found, system), style, width, keep))
        said.append(_told(saw.face(sized), "", width, 4))
        if sized.part.piece_of:
            said.append(_told(sized.part.note, TRIED, width, 3))
    said.append(_told(saw.following(step, after, system), DIM, width, 2))
    return said


def rip_figures(river: River, ripped: Rip) -> list[Figure]:
    """The fence for the first strips, and for those after them."""
    system = river.job.settings.units
    found = saw.fences((fence.exact for fence in ripped.fences), system)
    return [("THEN" if number else "FENCE", width) for number, (width, _) in enumerate(found)]


def rip_text(river: River, ripped: Rip, width: int) -> list[Told]:
    """How a plank is ripped before its strips are cut."""
    settings = river.job.settings
    system = settings.units
    rest = units.place(ripped.rest.exact, system) if ripped.rest else ""
    fences = saw.fences((fence.exact for fence in ripped.fences), system)
    sections = {sized.part.name: saw.section(sized, system) for sized in river.parts}
    made = [
        (row.strip, [sections[piece.part] for piece in row.pieces if piece.part in sections])
        for row in (river.plan.sticks if river.plan else ())
        if row.tag == ripped.tag and row.strip
    ]
    return [
        _told(saw.joint(settings, system), "bold", width),
        _told(f"{saw.rip(ripped.tag, fences, rest)}. Its strips are cut after that.", "bold", width),
        _told(saw.rip_kerf(settings, system), "", width, 3),
        _told(saw.strips(sorted(made)), "", width, 2),
    ]


def drawn(river: River, step: SawStep, width: int) -> list[Content]:
    """The stick in the saw with what is laid out on it, the cut on show lit."""
    judged, here = river.judged(step.piece.stick), step.piece
    if judged is None or river.plan is None:
        return []
    marks = [
        Mark(piece.start, piece.end, f"|{piece.part}", HERE if piece.start == here.start else "")
        for row in river.plan.sticks
        if row.tag == here.stick and row.strip == here.strip
        for piece in row.pieces
    ]
    columns = max(10, width - 2)
    return [line(*bar(judged.stick, river.job.sawn, marks, whole(judged.stick, columns), columns), "|")]


def below(
    river: River,
    step: SawStep,
    text: Sequence[Told],
    changed: Sequence[str],
    more: str,
    size: tuple[int, int],
) -> list[Content]:
    """The stick, what is said of the cut and what was laid out anew, in what the figures leave of the room"""
    width, height = size
    shown = [Told(tuple(drawn(river, step, width)), 1), *text]
    room = height - BIG - bool(changed)
    for keep in sorted({one.keep for one in shown} - {_LAST}):
        if sum(len(one.rows) for one in shown) <= room:
            break
        shown = [one for one in shown if one.keep != keep]
    rows = [row for one in shown for row in one.rows]
    return rows + changes(changed, more, width, max(1, height - BIG - len(rows)))


def changes(changed: Sequence[str], more: str, width: int, room: int) -> list[Content]:
    """What the last thing that happened moved, in so many rows; `more` says how all of it is seen."""
    if not changed:
        return []
    rows, said = _change_rows(changed, width), _count(changed)
    if len(rows) < room:
        return [line((said[:width], WRONG)), *rows]
    return [line((f"{said}: {more}"[:width], WRONG)), *rows[: max(0, room - 1)]]


def all_changes(changed: Sequence[str], first: int, width: int, room: int) -> tuple[list[Content], int]:
    """All that was laid out anew, from line `first` on; and the first line that is shown then."""
    rows, said = _change_rows(changed, width), _count(changed)
    if len(rows) < room:
        return [line((said[:width], WRONG)), *rows], 0
    shown = max(1, room - 1)
    first = min(max(0, first), len(rows) - shown)
    said += f"; lines {first + 1} to {first + shown} of {len(rows)}"
    return [line((said[:width], WRONG)), *rows[first : first + shown]], first


def _change_rows(changed: Sequence[str], width: int) -> list[Content]:
    return [line((row, TRIED)) for text in changed for row in wrapped(text, width, "  ")]


def _count(changed: Sequence[str]) -> str:
    """How many lines of it there are, and how many of them tell of pieces that are not laid out any more."""
    lost = sum(saw.NO_PLACE in text for text in changed)
    return f"LAID OUT ANEW, {len(changed)} changed{f', {lost} of them NO PLACE' if lost else ''}"


def big(found: Sequence[Figure], width: int, room: int) -> list[Content]:
    """As many figures beside each other as there is room for, as large as can be, each under its name."""
    # Upright and narrow before small: from two metres the height of a figure tells more than its width.
    sizes = sorted(
        ((high, wide) for high in range(1, (room - 1) // 5 + 1) for wide in (high, 2 * high)),
        key=lambda size: size[0] * size[1],
        reverse=True,
    )
    for count in range(len(found), 0, -1):
        for high, wide in sizes:
            columns = [_column(one, high, wide) for one in found[:count]]
            if sum(len(column[0]) + _APART for column in columns) - _APART <= width:
                return _beside(columns)
    return [line(("   ".join(f"{name} {number}" for name, number in found)[:width], "bold"))]


def _column(one: Figure, high: int, wide: int) -> list[str]:
    """The name and the whole setting in plain letters, the figure below it; all rows of one width."""
    name, number = one
    said = f" {name} {number} "
    rows = [row[:: 2 * high // wide] for row in figures(number.rpartition(" ")[0], high)]
    columns = max(len(said), len(rows[0]))
    return [said.ljust(columns), *(row.ljust(columns) for row in rows)]


def _beside(columns: Sequence[Sequence[str]]) -> list[Content]:
    rows = []
    for number, row in enumerate(zip(*columns, strict=True)):
        pieces: list[str | tuple[str, str]] = []
        for text in row:
            pieces += [*([" " * _APART] if pieces else []), (text, "bold" if number else HERE)]
        rows.append(line(*pieces))
    return rows
