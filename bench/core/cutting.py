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

A plan made with an earlier one at hand is, by these tiers in their order, never worse than what of that one
can still be sawn.
"""

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TypeVar

from bench.core.cutting_records import (
    CutPart,
    CutPlan,
    CutProblem,
    CutRules,
    CutStick,
    Piece,
    Span,
    StickPlan,
    Unplaced,
)
from bench.core.errors import Clash, OutOfRange
from bench.core.nesting import Bar, Fills, Kind, Layout, Task, arrange, rated

RANK_STEPS = 1_000_000  # ranks are compared to this fraction of one

MOVES = 600  # enough for a good plan, few enough to plan again at every edit

Names = list[list[list[str]]]  # of each stick and clear length, the lines of the pieces there

Number = TypeVar("Number", int, Fraction)  # exact metres, or whole units

__all__ = [
    "MOVES",
    "CutPart",
    "CutPlan",
    "CutProblem",
    "CutRules",
    "CutStick",
    "Piece",
    "Span",
    "StickPlan",
    "Unplaced",
    "adopt",
    "clear_lengths",
    "plan",
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
    return _clear(stick.length, stick.lost, rules.end_trim, rules.margin, rules.kerf)


def _clear(
    whole: Number, lost: Sequence[tuple[Number, Number]], trim: Number, margin: Number, kerf: Number
) -> tuple[tuple[Number, Number], ...]:
    """The same with plain numbers."""
    zero = whole - whole
    zones = [(min(span) - margin, max(span) + margin) for span in lost]
    if trim > 0:
        zones += [(zero, trim), (whole - trim, whole)]
    zones = _merged(
        (max(start, zero), min(end, whole)) for start, end in zones if end >= 0 and start <= whole
    )
    wide = [(start, end if start <= 0 or end >= whole else max(end, start + kerf)) for start, end in zones]
    clear, here = [], zero
    for start, end in _merged((start, min(end, whole)) for start, end in wide):
        if start > here:
            clear.append((here, start))
        here = end
    if here < whole:
        clear.append((here, whole))
    return tuple(clear)


def _merged(zones: Iterable[tuple[Number, Number]]) -> list[tuple[Number, Number]]:
    """Zones in order, those that overlap or touch made one."""
    merged: list[tuple[Number, Number]] = []
    for start, end in sorted(zones):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged


def plan(problem: CutProblem, moves: int = MOVES, seed: int = 1, keep: Sequence[CutPlan] = ()) -> CutPlan:
    """Lay the parts out on the sticks; see the module for the order of what matters.

    Equal input gives an equal plan; without `keep`, the order of parts, sticks and lost stretches, and the
    unit, change none of the tiers. With it the way to a problem matters: come to by undoing, or by opening
    the job again without an earlier plan at hand, it may have another plan than step by step, as good, better
    or less good. No step takes away what the plan before it had placed and can still be sawn.

    Args:
        problem: parts, sticks and rules [m].
        moves: steps of improvement after the first quick packings; 0 gives those alone.
        seed: of the random choices among the steps.
        keep: earlier plans, of this problem or another. Their pieces that are still wanted, may come from
            their stick and lie in one of its clear lengths stay there, gaps closed and what is missing put
            where it has room; that is the plan unless the search finds a better one. Among equals the first.
    Returns:
        A plan that can be sawn, the best found; `optimal` only where nothing better exists.
    Raises:
        OutOfRange: a length that is not above zero, an allowance or a quantity below zero, a rank without
        value. Clash: two sticks with one tag, or two parts with one name.
    """
    _check(problem, moves)
    whole = _Whole(problem)
    task = whole.task()
    kept = [whole.names(earlier) for earlier in keep]
    layout = arrange(task, moves, seed, [whole.kinds(names) for names in kept])
    plans, missing = whole.positions(layout, kept)
    return _account(problem, whole, plans, missing, layout)


def adopt(problem: CutProblem, earlier: CutPlan) -> CutPlan | None:
    """An earlier plan as it lies, with its figures for this problem; nothing is searched, nothing is moved.

    Args:
        problem: parts, sticks and rules [m].
        earlier: pieces with their places; its figures are not looked at.
    Returns:
        The plan, or None where a part that is wanted lies nowhere in it, or a piece that lies there is not
        wanted, has another length, may not come from its stick, or is not where the saw can cut it now.
    Raises:
        As `plan`.
    """
    _check(problem, 0)
    whole = _Whole(problem)
    task = whole.task()
    wanted = {part.name: part.quantity for part in problem.parts}
    laid: dict[str, list[Piece]] = {row.tag: [] for row in earlier.sticks}
    for row in earlier.sticks:
        laid[row.tag] += row.pieces
        for piece in row.pieces:
            wanted[piece.part] = wanted.get(piece.part, 0) - 1
    if any(wanted.values()) or len(laid) != len(earlier.sticks):
        return None
    rows: dict[str, StickPlan] = {}
    fills: list[tuple[tuple[int, ...], ...]] = []
    for stick, spans in zip(whole.sticks, whole.clear, strict=True):
        pieces = sorted(laid.pop(stick.tag, []), key=lambda piece: piece.start)
        bays, row = whole.as_it_lies(stick, spans, pieces)
        if sum(map(len, bays)) != len(pieces):
            return None
        fills.append(bays)
        if pieces:
            rows[stick.tag] = row
    if laid:
        return None
    layout = rated(task, tuple(fills), [0] * len(task.kinds))
    return _account(problem, whole, rows, {part.name: 0 for part in problem.parts}, layout)


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
            raise OutOfRange(
                f"length of part {part.name}", part.length, "it must be above zero", str(part.length)
            )
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


class _Whole:
    """The problem in whole numbers, sticks and parts in an order that does not depend on how they were given.

    The unit is the longest in which every length is whole, so that neither the user's unit nor the scale of
    the whole problem changes anything in the search.
    """

    def __init__(self, problem: CutProblem) -> None:
        rules = problem.rules
        self.problem = problem
        self.sticks = sorted(problem.sticks, key=lambda stick: (stick.length, stick.rank, stick.tag))
        lengths = [rules.kerf, rules.end_trim, rules.margin, rules.squaring, rules.least_offcut]
        lengths += [part.length for part in problem.parts] + [stick.length for stick in self.sticks]
        lengths += [place for stick in self.sticks for span in stick.lost for place in span]
        self.parts_per_metre = math.lcm(*(length.denominator for length in lengths))
        self.common = math.gcd(*map(self._units, lengths)) or 1
        self.kerf, self.least = self.units(rules.kerf), self.units(rules.least_offcut)
        trim, margin = self.units(rules.end_trim), self.units(rules.margin)
        self.clear = [
            _clear(
                self.units(stick.length),
                [(self.units(start), self.units(end)) for start, end in stick.lost],
                trim,
                margin,
                self.kerf,
            )
            for stick in self.sticks
        ]
        self.rough = {part.name: self.units(part.length + rules.squaring) for part in problem.parts}
        self.lines: list[list[CutPart]] = []  # of each kind
        self.kind_of: dict[str, int] = {}

    def _units(self, length: Fraction) -> int:
        return length.numerator * (self.parts_per_metre // length.denominator)

    def units(self, length: Fraction) -> int:
        """A length [m] in units."""
        return self._units(length) // self.common

    def metres(self, units: int) -> Fraction:
        """Units as a length [m]."""
        return Fraction(units * self.common, self.parts_per_metre)

    def task(self) -> Task:
        """What the search is given; lines that are alike are merged into one kind."""
        merged: dict[tuple[int, bool, int], list[CutPart]] = {}
        for part in self.problem.parts:
            if part.quantity:
                allowed = sum(
                    1 << i for i, s in enumerate(self.sticks) if part.sticks is None or s.tag in part.sticks
                )
                key = (self.rough[part.name] + self.kerf, part.critical, allowed)
                merged.setdefault(key, []).append(part)
        kinds = [
            Kind(width, sum(part.quantity for part in lines), critical, allowed)
            for (width, critical, allowed), lines in sorted(merged.items(), key=lambda item: item[0])
        ]
        self.lines = [merged[key] for key in sorted(merged)]
        self.kind_of = {part.name: kind for kind, lines in enumerate(self.lines) for part in lines}
        bars = [
            Bar(
                tuple(end - start + self.kerf for start, end in spans),
                self.units(stick.length),
                round(stick.rank * RANK_STEPS),
            )
            for stick, spans in zip(self.sticks, self.clear, strict=True)
        ]
        return Task(tuple(kinds), tuple(bars), self.kerf, self.least)

    def names(self, earlier: CutPlan) -> Names:
        """Of an earlier plan, the pieces that are still wanted from their stick and lie in a clear length."""
        found: Names = [[[] for _ in spans] for spans in self.clear]
        places = {stick.tag: i for i, stick in enumerate(self.sticks)}
        parts = {part.name: part for part in self.problem.parts}
        left = {part.name: part.quantity for part in self.problem.parts}
        for row in earlier.sticks:
            if row.tag not in places:
                continue
            i = places[row.tag]
            spans = [(self.metres(start), self.metres(end)) for start, end in self.clear[i]]
            for piece in row.pieces:
                part = parts.get(piece.part)
                if part is None or (part.sticks is not None and row.tag not in part.sticks):
                    continue
                for (start, end), bay in zip(spans, found[i], strict=True):
                    if left[part.name] and start <= piece.start and piece.end <= end:
                        bay.append(part.name)
                        left[part.name] -= 1
        return found

    def kinds(self, names: Names) -> Fills:
        """The same as kinds; after `task`."""
        return tuple(tuple(tuple(self.kind_of[name] for name in bay) for bay in bays) for bays in names)

    def as_it_lies(
        self, stick: CutStick, spans: Sequence[tuple[int, int]], pieces: Sequence[Piece]
    ) -> tuple[tuple[tuple[int, ...], ...], StickPlan]:
        """The kinds of each clear length and the row, of those pieces that can be sawn where they lie."""
        bays: list[tuple[int, ...]] = []
        offcuts: list[Span] = []
        parts = {part.name: part for part in self.problem.parts}
        for start, end in spans:
            here, last, kinds = self.metres(start), self.metres(end), list[int]()
            for piece in pieces:
                part = parts[piece.part]
                rough = part.length + self.problem.rules.squaring
                fits = here <= piece.start and piece.end <= last and piece.end - piece.start == rough
                if not fits or (part.sticks is not None and stick.tag not in part.sticks):
                    continue
                if piece.start - here > self.problem.rules.kerf:
                    offcuts.append((here, piece.start - self.problem.rules.kerf))
                kinds.append(self.kind_of[piece.part])
                here = piece.end + self.problem.rules.kerf
            if here < last:
                offcuts.append((here, last))
            bays.append(tuple(kinds))
        return tuple(bays), StickPlan(stick.tag, tuple(pieces), tuple(offcuts))

    def _named(self, layout: Layout, keep: Sequence[Names]) -> tuple[Names, dict[str, int]]:
        """The line of each piece, that which lay there before if it can be; how many of each line are out."""
        missing = {part.name: part.quantity for part in self.problem.parts}
        named = [[list[str]() for _ in bays] for bays in layout.fills]
        others = []
        for i, bays in enumerate(layout.fills):
            for b, kinds in enumerate(bays):
                before = [name for names in keep for name in names[i][b]]
                for kind in kinds:
                    name = next((n for n in before if self.kind_of.get(n) == kind and missing[n]), None)
                    if name is None:
                        others.append((i, b, kind))
                        continue
                    before.remove(name)
                    missing[name] -= 1
                    named[i][b].append(name)
        for i, b, kind in others:
            name = next(line.name for line in self.lines[kind] if missing[line.name])
            missing[name] -= 1
            named[i][b].append(name)
            named[i][b].sort(key=lambda name: -self.kind_of[name])
        return named, missing

    def positions(self, layout: Layout, keep: Sequence[Names]) -> tuple[dict[str, StickPlan], dict[str, int]]:
        """Every piece at its place, long ones first in a clear length; and how many of each line are out."""
        named, missing = self._named(layout, keep)
        plans: dict[str, StickPlan] = {}
        for stick, spans, bays in zip(self.sticks, self.clear, named, strict=True):
            pieces: list[Piece] = []
            offcuts: list[Span] = []
            for (here, end), names in zip(spans, bays, strict=True):
                for name in names:
                    after = here + self.rough[name]
                    pieces.append(Piece(name, self.metres(here), self.metres(after)))
                    here = after + self.kerf
                if here < end:
                    offcuts.append((self.metres(here), self.metres(end)))
            if pieces:
                plans[stick.tag] = StickPlan(stick.tag, tuple(pieces), tuple(offcuts))
        return plans, missing


def _account(
    problem: CutProblem, whole: _Whole, plans: dict[str, StickPlan], missing: dict[str, int], layout: Layout
) -> CutPlan:
    """The plan with its figures."""
    zero = Fraction(0)
    longest = {
        stick.tag: whole.metres(max((end - start for start, end in spans), default=0))
        for stick, spans in zip(whole.sticks, whole.clear, strict=True)
    }
    unplaced = tuple(
        _reason(problem, part, longest, missing[part.name]) for part in problem.parts if missing[part.name]
    )
    opened = [stick for stick in problem.sticks if stick.tag in plans]
    leftovers = [end - start for stick in opened for start, end in plans[stick.tag].offcuts]
    reusable = [length for length in leftovers if length >= problem.rules.least_offcut]
    untouched = [length for tag, length in longest.items() if tag not in plans]
    largest = max(leftovers + untouched, default=zero)
    opened_length = sum((stick.length for stick in opened), zero)
    used = sum(whole.rough[piece.part] for row in plans.values() for piece in row.pieces)
    return CutPlan(
        sticks=tuple(plans[stick.tag] for stick in opened),
        unplaced=unplaced,
        placed=sum(len(row.pieces) for row in plans.values()),
        unplaced_count=sum(row.quantity for row in unplaced),
        unplaced_critical=sum(row.quantity for row in unplaced if row.critical),
        sticks_used=len(opened),
        fewest_possible=layout.fewest,
        optimal=layout.proved,
        largest_offcut=largest if largest >= problem.rules.least_offcut else zero,
        waste=opened_length - whole.metres(used) - sum(reusable, zero),
        opened_length=opened_length,
    )


def _reason(problem: CutProblem, part: CutPart, longest: dict[str, Fraction], quantity: int) -> Unplaced:
    """Why parts of this line are left out; `longest` is the longest clear length of each stick [m]."""
    allowed = [length for tag, length in longest.items() if part.sticks is None or tag in part.sticks]
    own = max(allowed, default=Fraction(0))
    rough = part.length + problem.rules.squaring
    if not problem.sticks:
        why = "no_sticks"
    elif own >= rough:
        why = "no_room"
    else:
        why = "barred" if max(longest.values()) >= rough else "too_long"
    return Unplaced(part.name, quantity, part.critical, why, own)
