"""The cut at hand in words: where the stop and the fence stand, what comes off first, what comes next."""

from collections.abc import Sequence
from itertools import groupby

from bench import units
from bench.core.records import Settings
from bench.core.river import SizedPart
from bench.core.sawing import Change, SawStep

CAUTION = "Guard, push stick, eyes and lungs; check stop and fence with a tape before the first cut."


def stop(step: SawStep, system: str) -> str:
    """The stop setting: the length that comes off, squaring allowance included."""
    return units.place(step.piece.end - step.piece.start, system)


def where(step: SawStep, system: str) -> str:
    """Where on its stick the piece lies, and what is sawn off to come to it."""
    piece = step.piece
    said = f"from {units.place(piece.start, system)} to {units.place(piece.end, system)} of the marked end"
    if step.waste > 0:
        return f"first saw off {units.place(step.waste, system)}; {said}"
    return said


def fence(sized: SizedPart, settings: Settings, system: str) -> str:
    """What the piece is ripped to, planing allowance on, and what it is dressed to."""
    dressed = units.sides(sized.width, sized.depth, system)
    if not settings.planing.exact:
        return f"fence {dressed}"
    more = 2 * settings.planing.exact
    return f"fence {units.sides(sized.width + more, sized.depth + more, system)}, dress to {dressed}"


def face(sized: SizedPart) -> str:
    """How the grain is to lie, as the list says."""
    return f"grain: {sized.part.grain or 'the list does not say, see the drawing'}"


def tag(step: SawStep) -> str:
    """The stick, and the strip of it where it is a plank still to be ripped."""
    return f"{step.piece.stick} strip {step.piece.strip}" if step.piece.strip else step.piece.stick


def following(step: SawStep, after: SawStep | None, system: str) -> str:
    """What comes after this cut."""
    if after is None:
        return "next: nothing, this is the last cut"
    same = after.piece.stick == step.piece.stick and after.piece.strip == step.piece.strip
    return f"next: {after.piece.part}, {stop(after, system)}, {'same stick' if same else tag(after)}"


def rip(tag: str, fences: Sequence[str], rest: str) -> str:
    """How a plank is ripped before its strips are crosscut: `P-1: rip 3 strips at fence 3/4 in`."""
    groups = [(fence, len(list(same))) for fence, same in groupby(fences)]
    said = ", then ".join(f"{count} strip{'s' * (count > 1)} at fence {fence}" for fence, count in groups)
    left = f"; a board {rest} wide is left over" if rest else ""
    return f"{tag}: rip {said}{left}"


def changed(changes: Sequence[Change]) -> tuple[str, ...]:
    """What a new layout moved, a line for each part and pair of sticks."""
    said = []
    for change in sorted(changes, key=lambda change: bool(change.now)):
        what = f"{change.quantity} x {change.part}" if change.quantity > 1 else change.part
        if change.was and change.now:
            said.append(f"{what}: {change.now}, not {change.was}")
        elif change.now:
            said.append(f"{what}: now from {change.now}")
        else:
            said.append(f"{what}: NO PLACE now, it was on {change.was}")
    return tuple(said)
