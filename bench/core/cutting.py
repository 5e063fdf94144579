"""Cut lists: which part is sawn from which stretch of which stick. Exact lengths in, exact positions out.

Tiers, each decided before the next:

1. critical parts left out, least
2. parts left out, least
3. sticks opened, least
4. the longest reusable piece left anywhere in the stock, sticks not opened included, greatest
5. critical parts in sticks of higher rank, other parts in sticks of lower rank
6. waste, least

The rank never costs a part, a stick or the longest piece. Sticks and parts that have nothing to do with one
another are arranged by themselves, so that tiers 4 to 6 hold for each such group.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from bench.core.errors import Clash, OutOfRange
from bench.core.nesting import Bar, Kind, Layout, Task, arrange

RANK_STEPS = 1_000_000  # ranks are compared to this fraction of one

Span = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class CutPart:
    """A line of the list."""

    name: str
    length: Fraction  # finished [m]
    quantity: int
    critical: bool = False
    sticks: frozenset[str] | None = None  # tags of the sticks that may become this part; None: any
    barred_by: str = ""  # why others may not, for the one who shows it


@dataclass(frozen=True, slots=True)
class CutStick:
    """A stick, and the stretches of it that may not go into a part."""

    tag: str
    length: Fraction  # [m]
    lost: tuple[Span, ...] = ()  # in any order; may overlap, be reversed or reach over the ends [m]
    rank: float = 0.0  # quality, greater is better


@dataclass(frozen=True, slots=True)
class CutRules:
    """The habits of the saw."""

    kerf: Fraction  # width of the blade's cut [m]
    end_trim: Fraction  # off each end of a stick, the blade included [m]
    margin: Fraction  # each side of a lost stretch [m]
    squaring: Fraction  # added to each part, both ends together [m]
    least_offcut: Fraction  # shortest leftover that is of use [m]


@dataclass(frozen=True, slots=True)
class CutProblem:
    """Everything a plan depends on."""

    parts: tuple[CutPart, ...]
    sticks: tuple[CutStick, ...]
    rules: CutRules


@dataclass(frozen=True, slots=True)
class Piece:
    """One part on its stick, squaring allowance included."""

    part: str
    start: Fraction  # [m]
    end: Fraction  # [m]


@dataclass(frozen=True, slots=True)
class StickPlan:
    """What is cut from one stick, from its marked end."""

    tag: str
    pieces: tuple[Piece, ...]
    offcuts: tuple[Span, ...]  # every leftover longer than nothing, of use or not [m]


@dataclass(frozen=True, slots=True)
class Unplaced:
    """Parts of one line that are not in the plan.

    `why` is "no_sticks" (there are none), "too_long" (longer than every clear length), "barred" (long enough only
    where it may not be cut from) or "no_room" (the sticks are used up).
    """

    part: str
    quantity: int
    critical: bool
    why: str
    longest: Fraction  # longest clear length this part may be cut from; 0 if there is none [m]


@dataclass(frozen=True, slots=True)
class CutPlan:
    """A plan, what it leaves, and what is proved about it."""

    sticks: tuple[StickPlan, ...]  # opened ones, in the order of the problem
    unplaced: tuple[Unplaced, ...]
    placed: int
    unplaced_count: int
    unplaced_critical: int
    sticks_used: int
    fewest_possible: int  # no plan that leaves out as many parts opens fewer
    optimal: bool  # proved: nothing is better in parts left out and sticks opened
    largest_offcut: Fraction  # longest reusable piece left anywhere in the stock; 0 if none [m]
    waste: Fraction  # of opened sticks, neither part nor reusable offcut [m]
    opened_length: Fraction  # of opened sticks, whole [m]


def clear_lengths(stick: CutStick, rules: CutRules) -> tuple[Span, ...]:
    """The stretches of a stick between its lost zones, from the marked end.

    Ends lose the trim. A lost stretch is widened by the margin on each side; zones that meet are one. A zone
    between clear lengths is at least as wide as the blade, as one cut takes that much; at an end the blade may
    hang over.

    Args:
        stick: with its length and lost stretches [m].
        rules: end trim, margin and kerf are used [m].
    Returns:
        (start, end) of each, longer than nothing [m].
    """
    whole, zero = stick.length, Fraction(0)
    zones = [(min(span) - rules.margin, max(span) + rules.margin) for span in stick.lost]
    if rules.end_trim > 0:
        zones += [(zero, rules.end_trim), (whole - rules.end_trim, whole)]
    clipped = [(max(start, zero), min(end, whole)) for start, end in zones if end >= 0 and start <= whole]
    wide = [
        (start, end if start <= 0 or end >= whole else max(end, start + rules.kerf))
        for start, end in _merged(clipped)
    ]
    clear, here = [], zero
    for start, end in _merged((start, min(end, whole)) for start, end in wide):
        if start > here:
            clear.append((here, start))
        here = max(here, end)
    if here < whole:
        clear.append((here, whole))
    return tuple(clear)


def _merged(zones: Iterable[Span]) -> list[Span]:
    """Zones in order, those that overlap or touch made one."""
    merged: list[Span] = []
    for start, end in sorted(zones):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged


def plan(problem: CutProblem, moves: int = 400, seed: int = 1) -> CutPlan:
    """Lay the parts out on the sticks; see the module for the order of what matters.

    Equal input gives an equal plan; the order of parts, sticks and lost stretches, and the unit, change none of
    the tiers.

    Args:
        problem: parts, sticks and rules [m].
        moves: steps of improvement after the first quick packings; 0 gives those alone.
        seed: of the random choices among the steps.
    Returns:
        A plan that can be sawn, the best found; `optimal` only where nothing better exists.
    Raises:
        OutOfRange: a length that is not above zero, an allowance or a quantity below zero, a rank without value.
        Clash: two sticks with one tag, or two parts with one name.
    """
    _check(problem, moves)
    ordered = sorted(problem.sticks, key=lambda stick: (stick.length, stick.rank, stick.tag))
    clear = [clear_lengths(stick, problem.rules) for stick in ordered]
    task, lines = _task(problem, ordered, clear)
    layout = arrange(task, moves, seed)
    plans, missing = _positions(problem, ordered, clear, layout, lines)
    return _account(problem, dict(zip([s.tag for s in ordered], clear, strict=True)), plans, missing, layout)


def _check(problem: CutProblem, moves: int) -> None:
    """Refuse what cannot be true."""
    rules = problem.rules
    for name in ("kerf", "end_trim", "margin", "squaring", "least_offcut"):
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
            raise OutOfRange(f"length of part {part.name}", part.length, "it must be above zero", str(part.length))
        if part.quantity < 0:
            raise OutOfRange(f"quantity of part {part.name}", part.quantity, "it must be 0 or more")
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


def _task(
    problem: CutProblem, ordered: list[CutStick], clear: list[tuple[Span, ...]]
) -> tuple[Task, list[list[CutPart]]]:
    """The problem in whole numbers, and the lines that were merged into each kind.

    The unit is the longest in which every length is whole, so that neither the user's unit nor the scale of the
    whole problem changes anything in the search.
    """
    rules = problem.rules
    rough = {part.name: part.length + rules.squaring for part in problem.parts}
    lengths = [rules.kerf, rules.least_offcut, *rough.values(), *(stick.length for stick in ordered)]
    lengths += [end - start for spans in clear for start, end in spans]
    parts_per_metre = math.lcm(*(length.denominator for length in lengths))
    common = math.gcd(*(int(length * parts_per_metre) for length in lengths)) or 1
    unit = Fraction(common, parts_per_metre)

    merged: dict[tuple[int, bool, int], list[CutPart]] = {}
    for part in problem.parts:
        if part.quantity:
            allowed = sum(1 << i for i, s in enumerate(ordered) if part.sticks is None or s.tag in part.sticks)
            width = int((rough[part.name] + rules.kerf) / unit)
            merged.setdefault((width, part.critical, allowed), []).append(part)
    keys = sorted(merged)
    kinds = tuple(
        Kind(width, sum(part.quantity for part in merged[key]), critical, allowed)
        for key in keys
        for width, critical, allowed in [key]
    )
    bars = tuple(
        Bar(
            tuple(int((end - start + rules.kerf) / unit) for start, end in spans),
            int(stick.length / unit),
            round(stick.rank * RANK_STEPS),
        )
        for stick, spans in zip(ordered, clear, strict=True)
    )
    task = Task(kinds, bars, int(rules.kerf / unit), int(rules.least_offcut / unit))
    return task, [merged[key] for key in keys]


def _positions(
    problem: CutProblem,
    ordered: list[CutStick],
    clear: list[tuple[Span, ...]],
    layout: Layout,
    lines: list[list[CutPart]],
) -> tuple[dict[str, StickPlan], dict[str, int]]:
    """Every piece at its place, long ones first in each clear length; and how many of each line are missing."""
    rules = problem.rules
    missing = {part.name: part.quantity for part in problem.parts}
    plans: dict[str, StickPlan] = {}
    for stick, spans, bays in zip(ordered, clear, layout.fills, strict=True):
        pieces: list[Piece] = []
        offcuts: list[Span] = []
        for (start, end), kinds in zip(spans, bays, strict=True):
            here = start
            for kind in kinds:
                part = next(line for line in lines[kind] if missing[line.name])
                missing[part.name] -= 1
                length = part.length + rules.squaring
                pieces.append(Piece(part.name, here, here + length))
                here += length + rules.kerf
            if here < end:
                offcuts.append((here, end))
        if pieces:
            plans[stick.tag] = StickPlan(stick.tag, tuple(pieces), tuple(offcuts))
    return plans, missing


def _account(
    problem: CutProblem,
    clear: dict[str, tuple[Span, ...]],
    plans: dict[str, StickPlan],
    missing: dict[str, int],
    layout: Layout,
) -> CutPlan:
    """The plan with its figures."""
    rules = problem.rules
    unplaced = tuple(
        _reason(problem, part, clear, missing[part.name]) for part in problem.parts if missing[part.name]
    )
    opened = [stick for stick in problem.sticks if stick.tag in plans]
    cut_offs = [end - start for stick in opened for start, end in plans[stick.tag].offcuts]
    whole = [end - start for tag, spans in clear.items() if tag not in plans for start, end in spans]
    least, zero = rules.least_offcut, Fraction(0)
    opened_length = sum((stick.length for stick in opened), zero)
    used = sum((piece.end - piece.start for row in plans.values() for piece in row.pieces), zero)
    return CutPlan(
        sticks=tuple(plans[stick.tag] for stick in opened),
        unplaced=unplaced,
        placed=sum(len(row.pieces) for row in plans.values()),
        unplaced_count=sum(row.quantity for row in unplaced),
        unplaced_critical=sum(row.quantity for row in unplaced if row.critical),
        sticks_used=len(opened),
        fewest_possible=layout.fewest,
        optimal=layout.proved,
        largest_offcut=max((length for length in cut_offs + whole if length >= least), default=zero),
        waste=opened_length - used - sum((length for length in cut_offs if length >= least), zero),
        opened_length=opened_length,
    )


def _reason(
    problem: CutProblem, part: CutPart, clear: dict[str, tuple[Span, ...]], quantity: int
) -> Unplaced:
    """Why parts of this line are left out."""
    zero = Fraction(0)
    longest = {tag: max((end - start for start, end in spans), default=zero) for tag, spans in clear.items()}
    own = max((length for tag, length in longest.items() if part.sticks is None or tag in part.sticks), default=zero)
    rough = part.length + problem.rules.squaring
    if not problem.sticks:
        why = "no_sticks"
    elif own >= rough:
        why = "no_room"
    else:
        why = "barred" if max(longest.values()) >= rough else "too_long"
    return Unplaced(part.name, quantity, part.critical, why, own)
