"""What is still to be cut from what is left of each stick, and how it is laid out."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from bench.core import cutting, sawing, scarfing
from bench.core.inspecting import KEPT_IN
from bench.core.judging import Judged
from bench.core.records import Defect, Job, Laid, Part, Scarfed, Stick

MANY = 600  # pieces; longer lists get the quick packings at once, and the search in the background


@dataclass(frozen=True, slots=True)
class SizedPart:
    """A part in the wood it will be made of."""

    part: Part
    species: str
    width: Fraction  # finished, on the shop's grid where resized [m]
    depth: Fraction  # [m]
    resized: bool
    made: int  # pieces cut already
    sticks: frozenset[str]  # tags it may come from
    barred_by: str  # rule that barred the last stick


def _spoilt(defect: Defect, margin: Fraction) -> tuple[Fraction, Fraction]:
    low, high = sorted((defect.start.exact, defect.end.exact))
    return low - margin, high + margin


def problem(job: Job, rack: Iterable[Judged], parts: Sequence[SizedPart]) -> cutting.CutProblem:
    """What is still to be cut, from what is left of each stick.

    Args:
        job: with what has been cut.
        rack: its sticks, judged.
        parts: its parts in the wood they will be made of.
    Returns:
        The problem; sticks that no part may come from are left out.
    Source:
        the job.
    """
    settings = job.settings
    wanted = frozenset().union(*(sized.sticks for sized in parts)) if parts else frozenset()
    started = {cut.stick for cut in job.sawn}
    return cutting.CutProblem(
        parts=tuple(_wanted(sized) for sized in parts if sized.part.quantity > sized.made),
        sticks=tuple(
            cutting.CutStick(
                tag=judged.stick.tag,
                length=judged.stick.length.exact,
                lost=_lost(job, judged.stick),
                rank=_rank(judged),
                started=judged.stick.tag in started,
                width=judged.stick.width.exact,
                depth=judged.stick.depth.exact,
            )
            for judged in rack
            if judged.stick.tag in wanted
        ),
        rules=cutting.CutRules(
            kerf=settings.kerf.exact,
            end_trim=settings.end_trim.exact,
            margin=Fraction(0),  # in the defects already: a sawn piece asks for none beside it
            squaring=settings.squaring.exact,
            least_offcut=settings.least_offcut.exact,
            rip_kerf=(settings.rip_kerf or settings.kerf).exact,
            edge=settings.edge.exact,
            planing=settings.planing.exact,
        ),
    )


def _wanted(sized: SizedPart) -> cutting.CutPart:
    return cutting.CutPart(
        name=sized.part.name,
        length=sized.part.length.exact,
        quantity=sized.part.quantity - sized.made,
        critical=sized.part.critical,
        sticks=sized.sticks,
        barred_by=sized.barred_by,
        wish=sized.part.best,
        width=sized.width,
        depth=sized.depth,
    )


def _lost(job: Job, stick: Stick) -> tuple[cutting.Span, ...]:
    """The stretches of a stick that may not go into a part: defects, and what has been sawn off."""
    kerf = job.settings.kerf.exact
    found = [
        _spoilt(defect, job.settings.margin.exact) for defect in stick.defects if defect.kind not in KEPT_IN
    ]
    # The saw took its kerf on both sides of a piece that is off the stick.
    sawn = [cut for cut in job.sawn if cut.stick == stick.tag]
    return (*found, *((max(Fraction(0), cut.start - kerf), cut.end + kerf) for cut in sawn))


def unranked(given: cutting.CutProblem) -> cutting.CutProblem:
    """A problem without the order of preference among its sticks.

    Args:
        given: the problem.
    Returns:
        The same with all ranks alike.
    """
    return replace(given, sticks=tuple(replace(stick, rank=0.0) for stick in given.sticks))


def _rank(judged: Judged) -> float:
    """Quality of a stick in steps of 0.01, so that a hair of a reading does not reshuffle the plan."""
    return round(judged.verdict.value, 2) if judged.verdict.value is not None else 0.0


def arrange(
    given: cutting.CutProblem, laid: Sequence[Laid], keep: Sequence[cutting.CutPlan]
) -> cutting.CutPlan:
    """The cuts: what is being sawn as it lies, while it can be; else never worse than what is left of it.

    Args:
        given: what is to be cut, from what.
        laid: the layout that is being sawn; empty: none.
        keep: plans that this one may not be worse than; not looked at while something is being sawn, so that
            the plan follows from the job alone and is the same after a power cut.
    Returns:
        The plan.
    Raises:
        As cutting.plan.
    Source:
        as cutting.plan.
    """
    if not laid:
        return cutting.plan(given, _moves(given), keep=keep)
    earlier = sawing.plan_from(laid)
    return cutting.adopt(given, earlier) or _mended(given, laid)


def _moves(given: cutting.CutProblem) -> int:
    """Of the search at every change: none for a list that nobody could wait for at every key."""
    return cutting.MOVES if sum(part.quantity for part in given.parts) <= MANY else 0


def _mended(given: cutting.CutProblem, laid: Sequence[Laid]) -> cutting.CutPlan:
    """What of a layout can stay stays; all is laid out anew only where that places more."""
    kept = _kept(given, laid)
    found = cutting.plan(_beside(given, kept), _moves(given))
    pieces = (*kept, *(piece for piece in sawing.laid_from(found) if not piece.strip))
    mended = cutting.adopt(given, sawing.plan_from(pieces), complete=False)
    if mended is not None and not mended.unplaced:
        return mended
    anew = cutting.plan(given, _moves(given), keep=[sawing.plan_from(laid)])
    if mended is None:
        return anew
    fewer = (anew.unplaced_critical, anew.unplaced_count) < (mended.unplaced_critical, mended.unplaced_count)
    return anew if fewer else mended


def _kept(given: cutting.CutProblem, laid: Sequence[Laid]) -> tuple[Laid, ...]:
    """The pieces of a layout that are still wanted and can be sawn where they lie."""
    parts = {part.name: part for part in given.parts}
    clear = {stick.tag: cutting.clear_lengths(stick, given.rules) for stick in given.sticks}
    left = {part.name: part.quantity for part in given.parts}
    kept = []
    for piece in laid:
        part = parts.get(piece.part)
        if (
            part is None
            or not left[piece.part]
            or (part.sticks is not None and piece.stick not in part.sticks)
        ):
            continue
        if piece.end - piece.start != part.length + given.rules.squaring:
            continue
        if any(start <= piece.start and piece.end <= end for start, end in clear.get(piece.stick, ())):
            left[piece.part] -= 1
            kept.append(piece)
    return tuple(kept)


def _beside(given: cutting.CutProblem, kept: Sequence[Laid]) -> cutting.CutProblem:
    """What is still to be laid out beside the pieces that stay; planks with strips laid out stay alone."""
    kerf = given.rules.kerf
    placed = Counter(piece.part for piece in kept)
    on: dict[str, list[Laid]] = {}
    for piece in kept:
        on.setdefault(piece.stick, []).append(piece)
    planks = {piece.stick for piece in kept if piece.strip}
    sticks = []
    for stick in given.sticks:
        if stick.tag in planks:
            continue
        spans = tuple(
            (max(Fraction(0), piece.start - kerf), piece.end + kerf) for piece in on.get(stick.tag, ())
        )
        # A stick that pieces come from is opened already.
        sticks.append(replace(stick, lost=(*stick.lost, *spans), started=stick.started or bool(spans)))
    parts = tuple(replace(part, quantity=part.quantity - placed[part.name]) for part in given.parts)
    return replace(given, parts=parts, sticks=tuple(sticks))


def with_scarfs(
    given: cutting.CutProblem, plan: cutting.CutPlan, parts: Sequence[SizedPart], job: Job
) -> tuple[cutting.CutProblem, cutting.CutPlan, tuple[Scarfed, ...]]:
    """Parts without a place made of lengths that are scarfed, where they allow it and a place is found.

    Args:
        given: what is to be cut, from what.
        plan: of it.
        parts: of the job, in the wood they are made of.
        job: with its parts and the shortest length.
    Returns:
        The problem with the lengths in it, its plan, and which parts are made of lengths.
    Source:
        as scarfing.scarf.
    """
    least = job.settings.least_piece.exact
    joints = {
        sized.part.name: joint
        for sized in parts
        if (joint := scarfing.joint_of(sized.part, sized.width, sized.depth, least)) is not None
    }
    if not any(out.part in joints for out in plan.unplaced):
        return given, plan, ()
    names = [sized.part.name for sized in parts]
    changed, better, splits = scarfing.scarf(given, plan, joints, taken=names)
    known = {sized.part.name: sized.part for sized in parts}
    return changed, better, tuple(scarfing.lengths_of(known[split.part], split) for split in splits)
