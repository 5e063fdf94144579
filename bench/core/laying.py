"""How what is still to be cut is laid out, on what is left of each stick."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from bench.core import cutting, sawing, scarfing
from bench.core.frozen import record, replace
from bench.core.records import Job, Laid, Part, Scarfed
from bench.core.ripping import strip_width

MANY = 600  # pieces; longer lists get the quick packings at once, and the search in the background
MANY_STICKS = 150  # the same, of sticks


@record
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


def arrange(
    given: cutting.CutProblem,
    laid: Sequence[Laid],
    keep: Sequence[cutting.CutPlan],
    out: Sequence[str] = (),
    quick: bool = False,
) -> cutting.CutPlan:
    """The cuts: what is being sawn as it lies, while it can be; else never worse than what is left of it.

    Args:
        given: what is to be cut, from what.
        laid: the layout that is being sawn; empty: none.
        keep: plans that this one may not be worse than; not looked at while something is being sawn, so that
            the plan follows from the job alone and is the same after a power cut.
        out: parts that had no place in the layout, a name for each piece.
        quick: while something is only tried: the quick packings alone, nothing is searched.
    Returns:
        The plan.
    Raises:
        As cutting.plan.
    Source:
        as cutting.plan.
    """
    if not laid:
        return cutting.plan(given, 0 if quick else _moves(given), keep=keep)
    earlier = sawing.plan_from(laid)
    return cutting.adopt(given, earlier) or _mended(given, laid, out)


def _moves(given: cutting.CutProblem) -> int:
    """Of the search at every change: none for a list that nobody could wait for at every key."""
    many = sum(part.quantity for part in given.parts) > MANY or len(given.sticks) > MANY_STICKS
    return 0 if many else cutting.usual_moves(given)


def _mended(given: cutting.CutProblem, laid: Sequence[Laid], out: Sequence[str]) -> cutting.CutPlan:
    """What of a layout can stay stays, and what has no place is put in what is free.

    All is laid out anew only where more lacks a place than did, and only if that places more.
    """
    kept = _kept(given, laid)
    mended = _with_room(given, kept) or _with_room(given, [piece for piece in kept if not piece.strip])
    if mended is None:
        return cutting.plan(given, _moves(given), keep=[sawing.plan_from(laid)])
    lacking = Counter({part.name: part.quantity for part in given.parts})
    lacking.subtract(piece.part for piece in kept)
    lacking.subtract(out)
    if not mended.unplaced or max(lacking.values(), default=0) <= 0:
        return mended
    anew = cutting.plan(given, _moves(given), keep=[sawing.plan_from(laid)])
    fewer = (anew.unplaced_critical, anew.unplaced_count) < (mended.unplaced_critical, mended.unplaced_count)
    return anew if fewer else mended


def _with_room(given: cutting.CutProblem, kept: Sequence[Laid]) -> cutting.CutPlan | None:
    """Some pieces where they lie, and the rest where it has room beside them; None where they cannot stay."""
    found = cutting.plan(_beside(given, kept), _moves(given))
    return cutting.adopt(given, sawing.plan_from((*kept, *sawing.laid_from(found))), complete=False)


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
    return tuple(piece for tag in dict.fromkeys(one.stick for one in kept) for piece in _on(given, tag, kept))


def _on(given: cutting.CutProblem, tag: str, kept: Iterable[Laid]) -> list[Laid]:
    """The pieces that stay on one stick; on a plank with the strips as they are ripped for them now."""
    pieces = [piece for piece in kept if piece.stick == tag]
    stick = next(stick for stick in given.sticks if stick.tag == tag)
    parts = {part.name: part for part in given.parts}
    rows: dict[int, list[Laid]] = {}
    for piece in pieces:
        rows.setdefault(piece.strip, []).append(piece)
    if 0 in rows:
        return rows[0]
    if len(rows) == 1:
        return [replace(piece, strip=0, strip_width=None) for piece in pieces]
    wide = []
    for row in rows.values():
        fences = [_fence(stick, parts[piece.part], given.rules) for piece in row]
        if None in fences:
            return []  # it is not ripped any more
        wide.append((max(fence for fence in fences if fence is not None), row))
    wide.sort(key=lambda one: -one[0])
    return [
        replace(piece, strip=number, strip_width=width)
        for number, (width, row) in enumerate(wide, 1)
        for piece in row
    ]


def _fence(stick: cutting.CutStick, part: cutting.CutPart, rules: cutting.CutRules) -> Fraction | None:
    """The strip for a part; None where none can be ripped [m]."""
    if stick.width is None or stick.depth is None or part.width is None or part.depth is None:
        return None
    stock, section = (stick.width, stick.depth), (part.width, part.depth)
    return strip_width(stock, section, rules.planing, stick.rough)


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
        if stick.tag in on:
            spans = tuple((max(Fraction(0), piece.start - kerf), piece.end + kerf) for piece in on[stick.tag])
            # A stick that pieces come from is opened already, and not ripped any more.
            stick = replace(stick, lost=(*stick.lost, *spans), started=True, width=None, depth=None)
        sticks.append(stick)
    parts = tuple(replace(part, quantity=part.quantity - placed[part.name]) for part in given.parts)
    return replace(given, parts=parts, sticks=tuple(sticks))


def with_scarfs(
    given: cutting.CutProblem,
    plan: cutting.CutPlan,
    parts: Sequence[SizedPart],
    job: Job,
    moves: int = cutting.MOVES,
    stop: Callable[[], bool] | None = None,
) -> tuple[cutting.CutProblem, cutting.CutPlan, tuple[Scarfed, ...]]:
    """Parts without a place made of lengths that are scarfed, where they allow it and a place is found.

    Args:
        given: what is to be cut, from what.
        plan: of it.
        parts: of the job, in the wood they are made of.
        job: with its parts and the shortest length.
        moves: of the search at the end.
        stop: asked now and again; once it says so, what is found so far is the answer.
    Returns:
        The problem with the lengths in it, its plan, and which parts are made of lengths.
    Source:
        as scarfing.scarf.
    """
    joints = _joints(parts, job)
    if not any(out.part in joints for out in plan.unplaced) or (stop is not None and stop()):
        return given, plan, ()
    names = [sized.part.name for sized in parts]
    changed, better, splits = scarfing.scarf(given, plan, joints, moves, names, stop)
    known = {sized.part.name: sized.part for sized in parts}
    return changed, better, tuple(scarfing.lengths_of(known[split.part], split) for split in splits)


def _joints(parts: Sequence[SizedPart], job: Job) -> dict[str, scarfing.Joint]:
    """Of each part that may be scarfed, what its joints must be."""
    least = job.settings.least_piece.exact
    return {
        sized.part.name: joint
        for sized in parts
        if (joint := scarfing.joint_of(sized.part, sized.width, sized.depth, least)) is not None
    }


def scarfs_beside(
    given: cutting.CutProblem,
    plan: cutting.CutPlan,
    parts: Sequence[SizedPart],
    job: Job,
    stays: Callable[[Laid], bool],
) -> tuple[tuple[Laid, ...], tuple[Scarfed, ...]]:
    """Lengths for parts without a place, beside pieces that stay where they lie.

    Args:
        given: what is to be cut, from what.
        plan: of it.
        parts: of the job, in the wood they are made of.
        job: with its parts and the shortest length.
        stays: whether a piece of the plan stays where it lies; of a plank that is ripped all pieces, or none.
    Returns:
        The whole layout, and which parts are made of lengths in it; nothing where no length is found a place.
    Source:
        as scarfing.scarf, after the quick packings alone: it is looked for while somebody waits.
    """
    laid = sawing.laid_from(plan)
    kept = [piece for piece in laid if stays(piece)]
    rest = _beside(given, kept)
    others = cutting.plan(rest, 0, keep=[sawing.plan_from(piece for piece in laid if not stays(piece))])
    if others.unplaced_count > plan.unplaced_count:
        return (), ()
    _, better, scarfed = with_scarfs(rest, others, parts, job, moves=0)
    return ((*kept, *sawing.laid_from(better)), scarfed) if scarfed else ((), ())


def still_scarfed(
    scarfed: Sequence[Scarfed], plan: cutting.CutPlan | None, parts: Sequence[SizedPart], job: Job
) -> tuple[Scarfed, ...]:
    """Which parts that were made of lengths may still be, of those that have no place whole.

    Args:
        scarfed: parts and their lengths.
        plan: of the parts as they are, whole; None: never mind whether they have a place in it.
        parts: of the job, in the wood they are made of.
        job: without those lengths.
    Returns:
        Those that are still wanted and whose joints are still right, with all that the part asks by now.
    Source:
        as scarfing.scarf.
    """
    if not scarfed:
        return ()
    left = Counter({sized.part.name: sized.part.quantity - sized.made for sized in parts})
    if plan is not None:
        left = Counter({out.part: out.quantity for out in plan.unplaced})
    joints, known = _joints(parts, job), {part.name: part for part in job.parts}
    taken = {part.name.casefold() for part in job.parts}
    found = []
    for one in scarfed:
        names = tuple(part.name for part in one.lengths)
        lengths = tuple(part.length.exact for part in one.lengths)
        joint = joints.get(one.whole)
        if joint is None or not left[one.whole] or taken & {name.casefold() for name in names}:
            continue
        if scarfing.joins(known[one.whole].length.exact, lengths, joint):
            left[one.whole] -= 1
            found.append(scarfing.lengths_of(known[one.whole], scarfing.Split(one.whole, names, lengths)))
    return tuple(found)
