"""What the Float pane shows: the stick in the water, its gravity with the limits, verdict and evidence."""

from collections.abc import Callable

from textual.content import Content

from bench import units
from bench.core.acceptance import NOT_READ
from bench.core.frozen import record
from bench.core.inspecting import HOUSE_GRAVITY
from bench.core.judging import Judged
from bench.core.limits import USES
from bench.core.records import Species
from bench.core.waterline import centre
from bench.sheets import brief, inspecting, wording
from bench.ui.drawing import DIM, HEAD, TRIED, WORD_STYLE, WRONG, figures, large, line, wrapped
from bench.ui.float_draft import FloatDraft

DRAWN = 10  # rows of the drawn stick


@record
class Scene:
    """What is drawn: the stick in hand, the values on the pane, and where a gravity stands on the stick."""

    hand: Judged
    draft: FloatDraft
    species: Species | None
    mark_of: Callable[[float, FloatDraft], float | None]
    sure: float | None  # from which mark on one reading is sure [marks]
    keyed: Callable[[str], str]  # puts the keys in for the actions that a text names

    @property
    def minimum(self) -> float | None:
        """Where the minimum stands [marks]."""
        figure = self.hand.verdict.minimum
        return None if figure is None else self.mark_of(figure.value, self.draft)


def float_stick(scene: Scene) -> list[Content]:
    """Ten rows, top mark first: water up to the line, the minimum beside it."""
    draft, minimum = scene.draft, scene.minimum
    mark = next((value for value in draft.marks if value is not None), None)
    rows = []
    for row in range(DRAWN, 0, -1):
        low, high = (row - 1) / DRAWN * draft.count, row / DRAWN * draft.count
        wet = "    " if mark is None or mark <= low else "~~~~" if mark < high else "####"
        line_here = minimum is not None and low < minimum <= high
        label = f"{high:>3.0f}" if draft.count % DRAWN == 0 else f"{high:>3.1f}"
        rows.append(line(f"{label} |", wet, "|", ("<min", "bold $note") if line_here else "    ", "  "))
    return rows


def said(scene: Scene, width: int) -> list[Content]:
    """Stick, verdict with all it rests on, gravity with its basis, and where to draw the minimum."""
    hand, draft = scene.hand, scene.draft
    verdict, measured = hand.verdict, hand.found.measured
    wood = scene.species.name if scene.species else hand.stick.species
    wood += f", {hand.stick.variant}" if hand.stick.variant else ""
    rows = [line(("FLOAT ", HEAD), (f"{hand.stick.tag}  {wood}"[: max(0, width - 6)], "bold"))]
    if hand.result is not None and None in draft.marks:
        rows.append(line(("not all faces are read yet; the verdict is of the last reading"[:width], TRIED)))
    word = wording.word(verdict)
    sentences = [text for reason in _reasons(scene) for text in wrapped(reason, width - 8)]
    for place, text in enumerate(sentences):
        lead = (f"{word:<7} ", WORD_STYLE[word]) if place == 0 else (" " * 8, "")
        rows.append(line(lead, (text, WRONG if "NOT READ" in text or "WITHOUT" in text else "")))
    own = next((point for point in hand.uses[USES[0]].points if point.reason == HOUSE_GRAVITY), None)
    if own is not None:
        rows += [line((text, TRIED)) for text in wrapped(inspecting.reason(own), width, "  ")]
    if measured is not None:
        band = f"{wording.gravity(verdict)} +/- {units.gravity_up(measured.half_width)} (95 %)"
        if width >= 70:
            rows.append(line((band, "bold"), f"  {wording.BASIS}"))
        else:
            rows += [line((band, "bold")), line((wording.BASIS[:width], DIM))]
        rows += _limits(scene, measured.sg_oven_dry, width)
    return rows + _line_to_draw(scene, width)


def _reasons(scene: Scene) -> tuple[str, ...]:
    """The reasons of the verdict; of a reading that cannot be kept yet, what it still lacks."""
    draft, verdict = scene.draft, scene.hand.verdict
    unread = draft.unread()
    if NOT_READ not in verdict.reasons or len(unread) == len(draft.marks):
        return wording.reasons(verdict)
    lacking = [f"{' and '.join(unread)} not read yet: step or type it"] if unread else []
    if draft.moisture is None:
        lacking.append("the moisture is missing: type it below, or <go.moisture> dries a cut-off")
    read = "read in part" if unread else "the waterline is read"
    return (scene.keyed(f"{read}; {'; '.join(lacking)}"),)


def _line_to_draw(scene: Scene, width: int) -> list[Content]:
    """Where the minimum stands on this stick today, and from where on a reading like this is sure."""
    verdict = scene.hand.verdict
    if verdict.minimum is None:
        return []
    if scene.minimum is None:
        return [line(("type the moisture to place the minimum line"[:width], DIM))]
    text = f"draw the minimum {units.gravity(verdict.minimum.value)} at {units.mark_up(scene.minimum)}"
    if scene.sure is not None:
        text += f", one reading sure from {units.mark_up(scene.sure)} on"
    if verdict.average is not None and width >= 70:
        average = scene.mark_of(verdict.average.value, scene.draft)
        text += f"; average at {units.mark(average)}" if average is not None else ""
    return [line((row, "bold $note")) for row in wrapped(text, width, "  ")]


def _limits(scene: Scene, value: float, width: int) -> list[Content]:
    """The limits with how far the stick stands from them, in one line where there is room."""
    verdict = scene.hand.verdict
    named = (("minimum", verdict.minimum), ("average", verdict.average), ("maximum", verdict.maximum))
    pieces = [
        line(
            (f"{name:<8}", DIM),
            f"{units.gravity(figure.value)} {_off(value - figure.value)}",
        )
        for name, figure in named
        if figure is not None
    ]
    return [line(*pieces[:1], *(line("   ", more) for more in pieces[1:]))] if width >= 70 else pieces


def _off(margin: float) -> str:
    """How far a gravity stands from a limit; never as none where it is some."""
    return units.told_apart(lambda places: units.signed(margin, places), 3, "0.000" if margin else "")


def side(scene: Scene, room: int) -> list[Content]:
    """The waterline in big figures, what the stick is good for, and what its gravity rests on."""
    mark, title = shown_mark(scene.draft)
    measured = scene.hand.found.measured
    rows = [line((title, DIM))]
    rows += [line((row, "bold")) for row in (figures(units.mark(mark)) if mark is not None else ["--"])]
    evidence = notes(scene)
    if measured is not None and room >= len(rows) + len(evidence) + 6:
        rows.append(line(("gravity, oven-dry", DIM)))
        rows += [line((row, "bold")) for row in figures(wording.gravity_short(scene.hand.verdict))]
    return [*rows, *evidence][: max(0, room)]


def notes(scene: Scene) -> list[Content]:
    """What the stick is good for, and what its gravity rests on."""
    uses = [Content(text) for text in brief.uses(scene.hand)]
    return uses + [line((text, DIM)) for text in brief.gravity(scene.hand, scene.species)]


def large_figure(scene: Scene, width: int, height: int) -> Content:
    """Waterline and verdict alone."""
    verdict = scene.hand.verdict
    mark, named = shown_mark(scene.draft)
    word = wording.word(verdict)
    gravity = f"{wording.gravity(verdict)} oven-dry  " if verdict.value is not None else ""
    below = [Content(""), line((f"{word}  ", WORD_STYLE[word]), (gravity, "bold"))]
    below += [Content(text) for text in wrapped(_reasons(scene)[0], width)]
    title = f"FLOAT {scene.hand.stick.tag}  {named}, of {scene.draft.count} marks"
    return large(title, units.mark(mark) if mark is not None else "--", below, width, height)


def shown_mark(draft: FloatDraft) -> tuple[float | None, str]:
    """The waterline in one number, and what it is: the centreline once all faces are read."""
    read = [mark for mark in draft.marks if mark is not None]
    if len(read) == len(draft.marks) > 1:
        return centre(tuple(read)), f"waterline, centre of {len(read)} faces"
    return (read[0] if read else None), "waterline" if len(draft.marks) == 1 else "waterline, first face read"
