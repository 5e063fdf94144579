"""At the saw: the layout piece by piece, in the order in which it is sawn, and what changed between two.

A layout that is being sawn stays as it is while it can. Places are exact, from the stick's marked end [m].
"""

import itertools
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from bench.core.cutting_records import CutPlan, Piece, Proof, StickPlan
from bench.core.frozen import record, replace
from bench.core.records import Defect, Job, Laid, Scarfed, Stick, Typed, with_field
from bench.core.ripping import strip_tag

NAME = 40  # letters at most, as checking.name has it


def taken_off(laid: tuple[Laid, ...], part: str, stick: str, start: Fraction) -> tuple[Laid, ...]:
    """The layout without the piece that was just sawn, if it was one of it.

    Args:
        laid: the layout.
        part: its name.
        stick: tag of the stick it came from.
        start: where it began [m].
    Returns:
        What is left of the layout.
    """
    return tuple(piece for piece in laid if (piece.part, piece.stick, piece.start) != (part, stick, start))


def with_lengths(job: Job, scarfed: Sequence[Scarfed]) -> Job:
    """The job with parts that are scarfed split into their lengths.

    Args:
        job: with the whole parts.
        scarfed: one for each piece that is made of lengths.
    Returns:
        The job; the whole part stays in the list, fewer by those that are made of lengths.
    """
    if not scarfed:
        return job
    split = Counter(one.whole for one in scarfed)
    parts = tuple(
        replace(part, quantity=part.quantity - split[part.name]) if part.name in split else part
        for part in job.parts
    )
    return replace(job, parts=(*parts, *(length for one in scarfed for length in one.lengths)))


def strips_of(
    plank: Stick, widths: Sequence[Typed], rest: Typed | None, taken: Callable[[str], bool]
) -> tuple[Stick, ...]:
    """The strips a plank is ripped into, each with all that was found on the plank.

    Args:
        plank: the plank; its larger side is its width.
        widths: of the strips, in the order ripped [m].
        rest: of the board left over; None: none [m].
        taken: whether another stick of the rack has a tag, letter case aside.
    Returns:
        Sticks, tagged after the plank. Defects go with every strip: across a plank they are not placed. The
        side that was ripped is rough.
    Source:
        geometry: derived.
    """
    every = (*widths, *([rest] if rest is not None else []))
    broad = plank.width.exact >= plank.depth.exact
    strips = []
    for tag, width in zip(_strip_tags(plank.tag, len(every), taken), every, strict=True):
        strip = replace(plank, tag=tag, parent=plank.tag, sawn_from=(*plank.lineage, plank.tag))
        sized = {"width": width, "sawn_width": width.exact}
        if not broad:
            sized = {"depth": width, "sawn_depth": width.exact}
        for name, value in sized.items():
            strip = with_field(strip, name, value)
        strips.append(strip)
    return tuple(strips)


def _strip_tags(plank: str, count: int, taken: Callable[[str], bool]) -> list[str]:
    """Tags after the plank that no other stick has, and that a list can show."""
    for again in itertools.count(1):
        mark = f" {again}" if again > 1 else ""
        ends = [strip_tag(mark, number) for number in range(1, count + 1)]
        tags = [plank[: NAME - len(max(ends, key=len))] + end for end in ends]
        # No stick was ever found to have a tag with blanks at its ends: what a record says stays so.
        if not any(taken(tag) for tag in tags if tag == tag.strip()):
            return tags
    raise AssertionError("unreachable: the rack ends somewhere")


def piece_of_stick(stick: Stick, tag: str, start: Fraction, length: Typed) -> Stick:
    """A piece sawn off a stick, as a stick of its own with the defects that lie on it.

    Args:
        stick: what it came off.
        tag: its own.
        start: where it lay [m].
        length: its own [m].
    Returns:
        The piece; its defects measured from its own end.
    Source:
        geometry: derived.
    """
    end = start + length.exact
    defects = []
    for defect in stick.defects:
        low, high = sorted((defect.start.exact, defect.end.exact))
        if low <= end and high >= start:
            defects.append(_moved(defect, max(low, start) - start, min(high, end) - start))
    lineage = (*stick.lineage, stick.tag)
    return replace(stick, tag=tag, length=length, defects=tuple(defects), parent=stick.tag, sawn_from=lineage)


def condemned_before(stick: Stick, find: Callable[[str], Stick | None]) -> tuple[str, ...]:
    """What a stick was sawn from that is condemned by now.

    Args:
        stick: a stick of the rack.
        find: a stick of the rack by its tag.
    Returns:
        Of each its tag and why, as "S-3: rot".
    """
    found, todo, seen = [], list(stick.lineage), {stick.tag}
    while todo:
        tag = todo.pop()
        other = find(tag)
        if other is None or tag in seen:
            continue
        seen.add(tag)
        todo += other.lineage
        if other.condemned:
            found.append(f"{tag}: {other.condemned}")
    return tuple(sorted(found))


def _moved(defect: Defect, start: Fraction, end: Fraction) -> Defect:
    return replace(defect, start=_length(start), end=_length(end))


def _length(metres: Fraction) -> Typed:
    """An exact length with a text that reads back to it."""
    inches = metres / Fraction(254, 10_000)
    whole, part = divmod(inches, 1)
    text = f"{whole} {part}" if whole and part else str(part or whole)
    return Typed(metres, f"{text} in")


def laid_from(plan: CutPlan) -> tuple[Laid, ...]:
    """A plan as a layout, in the order in which it is sawn.

    Args:
        plan: a plan.
    Returns:
        Its pieces.
    """
    return tuple(
        Laid(piece.part, row.tag, piece.start, piece.end, row.strip, row.width)
        for row in plan.sticks
        for piece in row.pieces
    )


def plan_from(laid: Iterable[Laid]) -> CutPlan:
    """A layout as an earlier plan, to be adopted or kept; its figures are nothing.

    Args:
        laid: the pieces.
    Returns:
        Rows in the order of the pieces.
    """
    rows: dict[tuple[str, int], list[Laid]] = {}
    for piece in laid:
        rows.setdefault((piece.stick, piece.strip), []).append(piece)
    nothing = Fraction(0)
    return CutPlan(
        sticks=tuple(
            StickPlan(
                tag,
                tuple(Piece(piece.part, piece.start, piece.end) for piece in pieces),
                (),
                strip,
                pieces[0].strip_width,
            )
            for (tag, strip), pieces in rows.items()
        ),
        unplaced=(),
        placed=0,
        unplaced_count=0,
        unplaced_critical=0,
        sticks_used=0,
        proof=Proof.of(0, False),
        largest_offcut=nothing,
        waste=nothing,
        opened_length=nothing,
    )


@record
class Change:
    """What became of some pieces of one part when the rest was laid out anew."""

    part: str
    quantity: int
    was: str  # tag of the stick they lay on; empty: they had no place
    now: str  # tag of the stick they lie on; empty: they have no place


def changes(before: Iterable[Laid], after: Iterable[Laid]) -> tuple[Change, ...]:
    """Which pieces lie elsewhere than before.

    Args:
        before: the layout as it was, without what has been cut since.
        after: as it is now.
    Returns:
        One line for each part and pair of sticks; a piece that only moved along its stick is none.
    """
    found: list[Change] = []
    was, now = _on(before), _on(after)
    for part in sorted(set(was) | set(now)):
        old, new = was.get(part, Counter()), now.get(part, Counter())
        gone, come = list((old - new).elements()), list((new - old).elements())
        gone += [""] * (len(come) - len(gone))
        come += [""] * (len(gone) - len(come))
        pairs = Counter(zip(sorted(gone), sorted(come), strict=True))
        found += [Change(part, count, *pair) for pair, count in sorted(pairs.items())]
    return tuple(found)


def _on(laid: Iterable[Laid]) -> dict[str, Counter[str]]:
    places: dict[str, Counter[str]] = {}
    for piece in laid:
        tag = strip_tag(piece.stick, piece.strip) if piece.strip else piece.stick
        places.setdefault(piece.part, Counter())[tag] += 1
    return places


@record
class SawStep:
    """One cut as the saw makes it."""

    piece: Laid
    number: int  # of the cuts of the whole layout, those made before it counted in
    of: int
    on_stick: int  # of the pieces still to come off this stick
    of_stick: int
    waste: Fraction  # gone before it begins, the blade of that cut included; 0: none [m]
    before: int = 0  # pieces still to be cut that lie between the end as it is now and where it begins


def queue(job: Job, plan: CutPlan) -> tuple[SawStep, ...]:
    """The cuts still to be made, in order: the stick in the saw first.

    Args:
        job: with what has been cut.
        plan: what is still to be cut.
    Returns:
        A step for each piece. The stick of the last cut comes first while anything is left on it, then other
        strips of its plank, then strips of any plank that has been ripped. What comes off before a piece is
        told of the stick as it is now, not as it would be after the steps before it: no order is forced.
    """
    done = len(job.cuts)
    last = job.cuts[-1].stick if job.cuts else ""
    tags = dict.fromkeys((*([last] if last else ()), *(row.tag for row in plan.sticks)))
    sticks = [job.stick(tag) for tag in tags]
    strips = [stick for stick in sticks if stick is not None and stick.parent]
    gone_planks = {parent for parent in {stick.parent for stick in strips} if job.place(parent) is None}
    ripped = {stick.tag: stick.parent for stick in strips if stick.parent in gone_planks}
    rows = sorted(
        plan.sticks,
        key=lambda row: (row.tag != last, ripped.get(row.tag, "") != ripped.get(last), row.tag not in ripped),
    )
    total = done + sum(len(row.pieces) for row in rows)
    off: dict[str, list[Fraction]] = {}  # of each stick, where what is off it ends, the blade counted in
    for cut in job.sawn:
        off.setdefault(cut.stick, []).append(cut.end + job.settings.kerf.exact)
    steps: list[SawStep] = []
    for row in rows:
        gone = off.get(row.tag, [])
        for place, piece in enumerate(row.pieces, 1):
            here = max((end for end in gone if end <= piece.start), default=Fraction(0))
            before = sum(here <= other.start < piece.start for other in row.pieces)
            waste = Fraction(0) if before else piece.start - here
            laid = Laid(piece.part, row.tag, piece.start, piece.end, row.strip, row.width)
            number = done + len(steps) + 1
            steps.append(SawStep(laid, number, total, place, len(row.pieces), waste, before))
    return tuple(steps)


@record
class Rip:
    """A plank as it is ripped: the fence for each strip, and what is left of its width."""

    tag: str
    fences: tuple[Typed, ...]  # [m]
    rest: Typed | None  # [m]


def rip(job: Job, plan: CutPlan, plank: Stick) -> Rip | None:
    """How a plank is ripped for a plan.

    Args:
        job: with the rip kerf and the edge allowance.
        plan: with the strips.
        plank: of the rack.
    Returns:
        Strips in their order; None where the plan does not rip this one.
    Source:
        geometry: derived.
    """
    settings = job.settings
    rows = [row for row in plan.sticks if row.tag == plank.tag and row.strip]
    rows.sort(key=lambda row: row.strip)
    widths = [row.width for row in rows if row.width is not None]
    if not widths:
        return None
    kerf = (settings.rip_kerf or settings.kerf).exact
    left = max(plank.width.exact, plank.depth.exact) - settings.edge.exact
    left -= sum((width + kerf for width in widths), Fraction(0))
    rest = _length(left) if left > 0 else None
    return Rip(plank.tag, tuple(_length(width) for width in widths), rest)
