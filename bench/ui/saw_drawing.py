"""How one cut looks at the saw: its figure, what is set where, the stick, and what was laid out anew."""

from collections.abc import Sequence

from textual.content import Content

from bench import units
from bench.core.acceptance import HOLD
from bench.core.river import River
from bench.core.sawing import Rip, SawStep
from bench.sheets import saw
from bench.ui.cuts_drawing import sized_part
from bench.ui.drawing import DIM, HEAD, HERE, TRIED, WRONG, figures, line, wrapped
from bench.ui.sticks import Mark, bar, whole

BIG = 5  # rows of the smallest large figure


def head(river: River, step: SawStep, rips: bool, width: int) -> Content:
    """Which cut it is, from which stick, and whether that is on hold for what is cut."""
    judged, sized = river.judged(step.piece.stick), sized_part(river, step.piece.part)
    held = judged is not None and sized is not None and judged.words[sized.part.use] == HOLD
    what = "rip first" if rips else f"cut {step.number} of {step.of}"
    here = f"  {saw.tag(step)}, {step.on_stick} of {step.of_stick} on it"
    room = max(0, width - 4 - len(what) - 9 * held)
    return line(("SAW ", HEAD), (what, "bold"), here[:room], ("  ON HOLD" if held else "", WRONG))


def cut_text(river: River, step: SawStep, after: SawStep | None, width: int) -> list[Content]:
    """Where stop and fence stand, how the grain lies, and what comes next."""
    system, sized = river.job.settings.units, sized_part(river, step.piece.part)
    part = step.piece.part + (f" ({sized.part.group})" if sized and sized.part.group else "")
    said = [(f"{part}: stop {saw.stop(step, system)}", "bold"), (saw.where(step, system), "")]
    if sized is not None:
        said.append((saw.fence(sized, river.job.settings, system), "bold"))
        said.append((saw.face(sized), ""))
        if sized.part.piece_of:
            said.append((sized.part.note, TRIED))
    said.append((saw.following(step, after, system), DIM))
    return [line((row, style)) for text, style in said for row in wrapped(text, width, "  ")]


def rip_text(river: River, ripped: Rip, width: int) -> list[Content]:
    """How a plank is ripped before its strips are cut."""
    system = river.job.settings.units
    fences = [units.place(fence.exact, system) for fence in ripped.fences]
    rest = units.place(ripped.rest.exact, system) if ripped.rest else ""
    text = f"{saw.rip(ripped.tag, fences, rest)}. Its strips are cut after that."
    return [line((row, "bold")) for row in wrapped(text, width, "  ")]


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


def changes(changed: Sequence[str], width: int, room: int) -> list[Content]:
    """What the last thing that happened moved, in so many rows."""
    if not changed:
        return []
    rows = [line((row, TRIED)) for text in changed for row in wrapped(text, width, "  ")]
    if len(rows) < room:
        return [line((f"LAID OUT ANEW, {len(changed)} changed", WRONG)), *rows]
    title = f"LAID OUT ANEW, {len(changed)} changed: v shows all"
    return [line((title[:width], WRONG)), *rows[: max(0, room - 1)]]


def big(number: str, width: int, room: int) -> list[Content]:
    """The figure as large as the room allows."""
    digits, _, unit = number.rpartition(" ")
    scale = 1
    while len(figures(digits, scale + 1)[0]) <= width and BIG * (scale + 1) <= room:
        scale += 1
    rows = figures(digits, scale)
    if room < BIG or len(rows[0]) > width:
        return [line((number, "bold"))]
    last = line((rows[-1], "bold"), f"  {unit}"[: max(0, width - len(rows[-1]))])
    return [*(line((row, "bold")) for row in rows[:-1]), last]
