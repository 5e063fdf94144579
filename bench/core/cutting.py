"""Cut lists: which part is sawn from which stretch of which stick. Exact lengths in, exact positions out.

Tiers, each decided before the next:

1. critical parts left out, least
2. parts left out, least
3. sticks opened, least; one that was started before is not opened
4. the longest reusable piece left anywhere in the stock, sticks not opened included, greatest
5. critical and wished parts in sticks of higher rank, other parts in sticks of lower rank
6. waste, least

The rank never costs a part, a stick or the longest piece. Sticks and parts that have nothing to do with one
another are arranged by themselves, so that tiers 4 to 6 hold for each such group.

A plan made with an earlier one at hand is, by these tiers in their order, never worse than what of that one
can still be sawn.
"""

import math
from collections.abc import Callable, Sequence
from functools import partial

from bench.core.cutting_account import account
from bench.core.cutting_records import (
    CutPart,
    CutPlan,
    CutProblem,
    CutRules,
    CutStick,
    Piece,
    Proof,
    Span,
    StickPlan,
    Unplaced,
)
from bench.core.cutting_whole import Whole, clear
from bench.core.errors import Clash, OutOfRange
from bench.core.frozen import replace
from bench.core.nesting import Fills, arrange
from bench.core.nesting_bounds import rated
from bench.core.nesting_pace import Pace

# Steps of the search: enough for a good plan, few enough to plan again at every edit.
MOVES, MOST = 1700, 3150  # for a list of up to `SHORT` parts, and at most
SHORT, MORE = 60, 100  # steps for each part above that

__all__ = [
    "MOVES",
    "CutPart",
    "CutPlan",
    "CutProblem",
    "CutRules",
    "CutStick",
    "Piece",
    "Proof",
    "Span",
    "StickPlan",
    "Unplaced",
    "adopt",
    "clear_lengths",
    "plan",
    "usual_moves",
]


def clear_lengths(stick: CutStick, rules: CutRules) -> tuple[Span, ...]:
    """The stretches of a stick between its lost zones, from the marked end.

    Ends lose the trim. A lost stretch is widened by the margin on each side; zones that meet are one. A zone
    between clear lengths is at least as wide as the blade, as one cut takes that much; at an end the blade
    may hang over.

    Args:
        stick: with its length and lost stretches [m].
        rules: end trim, margin and kerf are used [m].
    Returns:
        (start, end) of each, longer than nothing [m].
    """
    return clear(stick.length, stick.lost, rules.end_trim, rules.margin, rules.kerf)


def usual_moves(problem: CutProblem) -> int:
    """Steps of the search for a list of so many parts, where nobody asks for another number."""
    parts = sum(max(0, part.quantity) for part in problem.parts)
    return min(MOST, MOVES + MORE * max(0, parts - SHORT))


def plan(
    problem: CutProblem,
    moves: int | None = None,
    seed: int = 1,
    keep: Sequence[CutPlan] = (),
    stop: Callable[[], bool] | None = None,
    progress: Callable[[int], None] | None = None,
) -> CutPlan:
    """Lay the parts out on the sticks; see the module for the order of what matters.

    Equal input gives an equal plan; without `keep`, the order of parts, sticks and lost stretches, and the
    unit, change none of the tiers. With it the way to a problem matters: come to by undoing, or by opening
    the job again without an earlier plan at hand, it may have another plan than step by step, as good, better
    or less good. No step takes away what the plan before it had placed and can still be sawn.

    Args:
        problem: parts, sticks and rules [m].
        moves: steps of improvement after the first quick packings; 0 gives those alone, None as many as
            are usual for so many parts.
        seed: of the random choices among the steps.
        keep: earlier plans, of this problem or another. Their pieces that are still wanted, may come from
            their stick and lie in one of its clear lengths stay there, gaps closed and what is missing put
            where it has room; that is the plan unless the search finds a better one. Among equals the first.
            A row of a plank that was ripped since means the strip with the tag that `ripping.strip_tag` says.
        stop: asked every so many moves; once it says so, the best plan so far is the answer.
        progress: told at the same times how many moves are made.
    Returns:
        A plan that can be sawn, the best found; `optimal` only where nothing better exists.
    Raises:
        OutOfRange: a length that is not above zero, an allowance or a quantity below zero, a rank without
        value. Clash: two sticks with one tag, or two parts with one name.
    """
    moves = usual_moves(problem) if moves is None else moves
    _check(problem, moves)
    whole = Whole(problem)
    task = whole.task()
    kept = [whole.names(earlier) for earlier in keep]
    layout = arrange(task, moves, seed, [whole.kinds(names) for names in kept], Pace(stop, progress))
    plans, missing = whole.positions(layout, kept)
    return account(problem, whole, plans, missing, Proof.of(layout.fewest, layout.proved))


def adopt(problem: CutProblem, earlier: CutPlan, complete: bool = True) -> CutPlan | None:
    """An earlier plan as it lies, with its figures for this problem; nothing is searched, nothing is moved.

    Args:
        problem: parts, sticks and rules [m].
        earlier: pieces with their places; its figures are not looked at.
        complete: whether every part that is wanted must lie somewhere in it.
    Returns:
        The plan, or None where a part that must lie in it does not, or a piece that lies there is not wanted,
        has another length, may not come from its stick, or is not where the saw can cut it now.
    Raises:
        As `plan`.
    """
    _check(problem, 0)
    whole = Whole(problem)
    task = whole.task()
    missing = {part.name: part.quantity for part in problem.parts}
    for row in earlier.sticks:
        for piece in row.pieces:
            missing[piece.part] = missing.get(piece.part, 0) - 1
    if min(missing.values(), default=0) < 0 or (complete and any(missing.values())):
        return None
    laid = _as_it_lies(whole, earlier)
    if laid is None:
        return None
    fills, plans = laid
    out = [sum(missing[line.name] for line in lines) for lines in whole.lines]
    return account(problem, whole, plans, missing, Proof(partial(rated, task, fills, out)))


def _as_it_lies(whole: Whole, earlier: CutPlan) -> tuple[Fills, dict[str, list[StickPlan]]] | None:
    """What lies in each clear length, and the rows of each stick; None where the saw cannot cut it so."""
    fills: list[list[tuple[int, ...]]] = [
        [()] * (len(spans) * bar.strips) for spans, bar in zip(whole.clear, whole.bars, strict=True)
    ]
    plans: dict[str, list[StickPlan]] = {}
    for row in earlier.sticks:
        place = whole.place(row.tag, row.strip)
        if place is None:
            return None
        i, strip = place
        tag = whole.sticks[i].tag
        own = row if row.tag == tag else replace(row, strip=0, width=None)  # ripped since, a stick of its own
        found = whole.as_it_lies(i, own)
        first = strip * len(whole.clear[i])
        if found is None or any(fills[i][first : first + len(found[0])]):
            return None
        fills[i][first : first + len(found[0])] = found[0]
        if row.pieces:
            plans.setdefault(tag, []).append(found[1])
    for rows in plans.values():
        rows.sort(key=lambda row: row.strip)
        if not whole.rips(rows):
            return None
    return tuple(map(tuple, fills)), plans


def _check(problem: CutProblem, moves: int) -> None:
    """Refuse what cannot be true."""
    rules = problem.rules
    for name in ("kerf", "end_trim", "margin", "squaring", "least_offcut", "rip_kerf", "edge", "planing"):
        value = getattr(rules, name)
        if value < 0:
            raise OutOfRange(name.replace("_", " "), value, "it cannot be below zero")
    if moves < 0:
        raise OutOfRange("moves", moves, "it cannot be below zero", str(moves))
    seen: set[str] = set()
    for part in problem.parts:
        if part.name in seen:
            raise Clash("part", part.name, "the name is used twice; each part needs its own")
        seen.add(part.name)
        if part.length <= 0:
            raise OutOfRange(
                f"length of part {part.name}", part.length, "it must be above zero", str(part.length)
            )
        if part.quantity < 0:
            raise OutOfRange(f"quantity of part {part.name}", part.quantity, "it must be 0 or more")
        _check_section(part, f"part {part.name}")
    seen.clear()
    for stick in problem.sticks:
        if stick.tag in seen:
            raise Clash("stick", stick.tag, "the tag is used twice; each stick needs its own")
        seen.add(stick.tag)
        if stick.length <= 0:
            raise OutOfRange(
                f"length of stick {stick.tag}", stick.length, "it must be above zero", str(stick.length)
            )
        if not math.isfinite(stick.rank):
            raise OutOfRange(f"rank of stick {stick.tag}", stick.rank, "it must be a plain number")
        _check_section(stick, f"stick {stick.tag}")


def _check_section(thing: CutPart | CutStick, name: str) -> None:
    """Refuse sides that cannot be."""
    for side in ("width", "depth"):
        value = getattr(thing, side)
        if value is not None and value <= 0:
            raise OutOfRange(f"{side} of {name}", value, "it must be above zero", str(value))
