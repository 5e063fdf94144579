"""The cut at hand in words: where the stop and the fence stand, what comes off first, what comes next."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import groupby

from bench import units
from bench.core import ripping
from bench.core.frozen import record
from bench.core.records import Settings, Spoilt, Stick
from bench.core.river import SizedPart
from bench.core.sawing import Change, SawStep

CAUTION = "Guard, push stick, eyes and lungs; check stop and fence with a tape before the first cut."
NO_PLACE = "NO PLACE now"


@record
class Side:
    """One side of a piece: what it is in the stick, what it is ripped to, and what it is dressed to."""

    name: str  # "width" or "depth", of the part
    have: Fraction  # of the stick in the saw [m]
    rough: Fraction  # the fence, planing included; as much as there is where it is not ripped [m]
    finished: Fraction  # [m]

    @property
    def ripped(self) -> bool:
        """Whether the fence is set for it."""
        return self.rough < self.have

    @property
    def planed(self) -> bool:
        """Whether it is not at its finished size when it comes off the saw."""
        return self.rough != self.finished


def stop(step: SawStep, system: str) -> str:
    """The stop setting: the length that comes off, squaring allowance included; never less than it is."""
    return units.place(step.piece.end - step.piece.start, system, up=True)


def where(step: SawStep, settings: Settings, system: str) -> str:
    """Where on its stick the piece lies, and what is sawn off or parted to come to it.

    A waste piece has its own length, so that a stop set at it is right: the blade takes its kerf beside it.
    """
    piece = step.piece
    start = units.place(piece.start, system)
    said = f"from {start} to {units.place(piece.end, system)}"
    if step.before:
        lie = "1 piece lies" if step.before == 1 else f"{step.before} pieces lie"
        return f"{lie} before it, still uncut: FIRST saw at the {start} mark, blade on their side; {said}"
    if not step.waste:
        return f"{said} of the marked end"
    kerf = settings.kerf.exact
    if step.waste <= kerf:
        return f"FIRST square the end: {units.place(step.waste, system)} goes, to the {start} mark; {said}"
    waste = units.place(step.waste - kerf, system, up=True)
    blade = f"blade ({units.place(kerf, system)})" if kerf else "blade"
    return f"FIRST saw off {waste} of waste, {blade} on the waste side of the {start} mark; {said}"


def sides(stick: Stick, sized: SizedPart, settings: Settings) -> tuple[Side, ...]:
    """Both sides of a piece as they come out of a stick, that across the stick's larger side first.

    Args:
        stick: in the saw.
        sized: the part.
        settings: with the planing.
    Returns:
        The way round with the narrower rip, as the layout takes it; none where it does not come out.
    """
    stock = zip((stick.width.exact, stick.depth.exact), stick.rough, strict=True)
    (thin, thin_sawn), (wide, wide_sawn) = sorted(stock)
    both = (("width", sized.width), ("depth", sized.depth))
    found = []
    for (name, across), (other, through) in (both, both[::-1]):
        needed = ripping.rough(across, wide, settings.planing.exact, wide_sawn)
        thick = ripping.rough(through, thin, settings.planing.exact, thin_sawn)
        if needed is not None and thick is not None:
            found.append((Side(name, wide, needed, across), Side(other, thin, thick, through)))
    return min(found, key=lambda pair: pair[0].rough, default=())


def fence(found: Sequence[Side], system: str) -> str:
    """Each setting of the fence with the side it is for: `fence 7/8 in for the width`."""
    if not found:
        return "NO FENCE: its section does not come out of this stick"
    ripped = [
        f"{units.place(side.rough, system, up=True)} for the {side.name}" for side in found if side.ripped
    ]
    return f"fence {', then '.join(ripped)}" if ripped else "no rip: it is as wide and as deep as it must be"


def dress(sized: SizedPart, found: Sequence[Side], system: str) -> str:
    """What the piece is dressed to, and which side there is nothing to plane off."""
    size = section(sized, system)
    planed = [side.name for side in found if side.planed]
    if found and not planed:
        return f"finished size {size}: nothing to plane"
    if len(planed) == 1:
        return f"dress to {size}: plane the {planed[0]} only"
    return f"dress to {size}"


def section(sized: SizedPart, system: str) -> str:
    """A finished section in words: `3/4 in wide x 1/2 in deep`."""
    width, depth = (units.place(side, system, up=True) for side in (sized.width, sized.depth))
    return f"{width} wide x {depth} deep"


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


def fences(widths: Iterable[Fraction], system: str) -> tuple[tuple[str, int], ...]:
    """The settings of the fence for a plank in their order, and how many strips each is for.

    Args:
        widths: of the strips, in the order ripped [m].
        system: "in" or "mm".
    """
    shown = (units.place(width, system, up=True) for width in widths)
    return tuple((text, len(list(same))) for text, same in groupby(shown))


def rip(tag: str, settings_of_fence: Sequence[tuple[str, int]], rest: str) -> str:
    """How a plank is ripped before its strips are crosscut: `P-1: rip 3 strips at fence 3/4 in`."""
    said = ", then ".join(
        f"{count} strip{'s' * (count > 1)} at fence {fence}" for fence, count in settings_of_fence
    )
    left = f"; a board {rest} wide is left over" if rest else ""
    return f"{tag}: rip {said}{left}"


def joint(settings: Settings, system: str) -> str:
    """What is done to the edge of a plank before it is ripped; empty where nothing is allowed for it."""
    if not settings.edge.exact:
        return ""
    edge = units.place(settings.edge.exact, system)
    return f"FIRST joint one edge straight, {edge} goes; that edge to the fence"


def rip_kerf(settings: Settings, system: str) -> str:
    """What the blade takes beside each strip."""
    kerf = (settings.rip_kerf or settings.kerf).exact
    return f"the blade takes {units.place(kerf, system)} beside each strip"


def strips(made: Sequence[tuple[int, Sequence[str]]]) -> str:
    """What the strips are dressed to, those alike together: `strips 1, 2 dressed to 3/4 in wide x 1 in deep`.

    Args:
        made: the number of each strip and the sections its pieces are finished at, as `section` has them.
    """
    alike: dict[tuple[str, ...], list[str]] = {}
    for number, sections in made:
        alike.setdefault(tuple(dict.fromkeys(sections)), []).append(str(number))
    return "; ".join(
        f"strip{'s' * (len(numbers) > 1)} {', '.join(numbers)} dressed to {' and '.join(sections)}"
        for sections, numbers in alike.items()
        if sections
    )


def off_already(stick: Stick, spoilt: Iterable[Spoilt]) -> str:
    """That the defect found last lies in what is off the stick and became no part; empty where it does not.

    What came off short is a stick of its own, and knows nothing of what is found on the other from then on.
    """
    found = stick.defects[-1] if stick.defects else None
    for lost in spoilt:
        if found is None or lost.stick != stick.tag:
            continue
        if found.start.exact < lost.end and lost.start < found.end.exact:
            place = f"{found.start.text} to {found.end.text}"
            return (
                f"{place} is off {stick.tag} already ({lost.why}): what is in the rack again is entered there"
            )
    return ""


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
            said.append(f"{what}: {NO_PLACE}, it was on {change.was}")
    return tuple(said)
