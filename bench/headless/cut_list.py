"""A cut list of a JSON file laid out: what may come from what, what is sawn already, what is scarfed."""

from collections import Counter
from fractions import Fraction

from bench.core import cutting, ripping, scarfing
from bench.core.acceptance import HOLD
from bench.core.cutting import CutPart, CutProblem, CutStick, Unplaced
from bench.core.frozen import replace
from bench.headless.cut_files import CutList, ListedPart, ListedStick, Section
from bench.headless.cut_rows import Cuts, Scarf
from bench.sheets import wording

_NO_SECTION = "no stick has its section"
_NO_PLANK = ", and no plank gives it"
_NO_VERDICT = "every stick of its section is rejected or on hold"
_NO_GRAVITY = "no stick of its section is known to have its least specific gravity"


def laid_out(listed: CutList, moves: int | None) -> Cuts:
    """The cuts of a list.

    Args:
        listed: as read.
        moves: of the search; None as many as are usual.
    Returns:
        The plan and what is told beside it.
    """
    problem = problem_of(listed)
    plan = cutting.plan(problem, moves)
    joints = {part.name: part.joint for part in listed.parts if part.joint is not None}
    problem, plan, splits = scarfing.scarf(
        problem, plan, joints, cutting.MOVES if moves is None else min(moves, cutting.MOVES)
    )
    parts, by_name = {part.name: part for part in problem.parts}, {part.name: part for part in listed.parts}
    notes = {part.name: _note(part) for part in listed.parts}
    notes.update({name: notes[split.part] for split in splits for name in split.names})
    held = {stick.tag for stick in listed.sticks if stick.verdict == HOLD}
    return Cuts(
        problem,
        plan,
        tuple(_why(parts[out.part], out) for out in plan.unplaced),
        made=listed.made,
        scarfed=tuple(Scarf(split, by_name[split.part].length) for split in splits),
        held=frozenset(held & {row.tag for row in plan.sticks}),
        notes=notes,
    )


def warnings(listed: CutList) -> tuple[str, ...]:
    """What must be known of pieces that are sawn already."""
    barred = {stick.tag for stick in listed.sticks if not listed.usable(stick)}
    found = sorted({cut.stick for cut in listed.made} & barred)
    return (f"sawn already from sticks that are rejected or on hold: {', '.join(found)}",) if found else ()


def problem_of(listed: CutList) -> CutProblem:
    """What is still to be cut, from what is left; sticks that nothing may come from are left out."""
    rules, sticks = listed.rules, tuple(stick for stick in listed.sticks if listed.usable(stick))
    margin = rules.margin if listed.sawn else Fraction(0)
    if listed.sawn:  # beside a piece that is off the stick no margin is lost: it goes into the defects
        rules = replace(rules, margin=Fraction(0))
    made = Counter(cut.part for cut in listed.made)
    found: dict[tuple[Section | None, Fraction | None], tuple[frozenset[str] | None, str]] = {}
    parts, ripped = [], any(stick.plank for stick in listed.sticks)
    for part in listed.parts:
        key = part.section, part.minimum_sg
        if key not in found:
            found[key] = _eligible(part, listed)
        width, depth = (part.section if ripped else None) or (None, None)
        left = part.quantity - made[part.name]
        parts.append(
            CutPart(part.name, part.length, left, part.critical, *found[key], part.best, width, depth)
        )
    return CutProblem(tuple(parts), tuple(_stick(stick, listed, margin) for stick in sticks), rules)


def _stick(stick: ListedStick, listed: CutList, margin: Fraction) -> CutStick:
    kerf = listed.rules.kerf
    sawn = [cut for cut in listed.sawn if cut.stick == stick.tag]
    lost = [(min(span) - margin, max(span) + margin) if margin else span for span in stick.defects]
    # The saw took its kerf on both sides of what is off the stick.
    lost += [(max(Fraction(0), cut.start - kerf), cut.end + kerf) for cut in sawn]
    return CutStick(
        tag=stick.tag,
        length=stick.length,
        lost=tuple(lost),
        rank=0.0 if stick.sg is None else float(stick.sg),
        started=bool(sawn),
        width=stick.plank[0] if stick.plank else None,
        depth=stick.plank[1] if stick.plank else None,
    )


def _eligible(part: ListedPart, listed: CutList) -> tuple[frozenset[str] | None, str]:
    """The sticks that a part may come from, None for all, and what bars it where none is left."""
    alike = [stick for stick in listed.sticks if _gives(stick, part, listed.rules.planing)]
    good = [stick for stick in alike if listed.usable(stick)]
    dense = [
        stick
        for stick in good
        if part.minimum_sg is None or (stick.sg is not None and stick.sg >= part.minimum_sg)
    ]
    barred = _NO_GRAVITY if good else _NO_VERDICT
    if not alike:
        barred = _NO_SECTION + (_NO_PLANK if any(stick.plank for stick in listed.sticks) else "")
    return None if len(dense) == len(listed.sticks) else frozenset(stick.tag for stick in dense), barred


def _gives(stick: ListedStick, part: ListedPart, planing: Fraction) -> bool:
    """Whether a stick or plank gives the section of a part."""
    if stick.plank is None:
        return not (part.section and stick.section) or part.section == stick.section
    return part.section is not None and ripping.strip_width(stick.plank, part.section, planing) is not None


def _why(part: CutPart, out: Unplaced) -> str:
    if part.sticks is not None and not part.sticks:
        return part.barred_by
    return wording.unplaced(out, part.barred_by)


def _note(part: ListedPart) -> dict[str, str]:
    return {key: text for key in ("group", "grain") if (text := getattr(part, key))}
