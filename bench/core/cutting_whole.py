"""A cut list in whole numbers, for the search, and back: clear lengths, strips, kinds, positions.

The unit of length is the longest in which every length is whole, so that neither the user's unit nor the
scale of the whole problem changes anything in the search. Widths of strips have a unit of their own.
"""

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TypeVar

from bench.core.cutting_records import CutPart, CutPlan, CutProblem, CutStick, Piece, Span, StickPlan
from bench.core.nesting import Bar, Fills, Kind, Layout, Task
from bench.core.ripping import strip_tag, strip_width

RANK_STEPS = 1_000_000  # ranks are compared to this fraction of one

Names = list[list[list[str]]]  # of each stick and bay, the lines of the pieces there
Section = tuple[Fraction, Fraction] | None

Number = TypeVar("Number", int, Fraction)  # exact metres, or whole units


def clear(
    whole: Number, lost: Sequence[tuple[Number, Number]], trim: Number, margin: Number, kerf: Number
) -> tuple[tuple[Number, Number], ...]:
    """The stretches between lost zones, as `cutting.clear_lengths` says, in whatever numbers."""
    zero = whole - whole
    zones = [(min(span) - margin, max(span) + margin) for span in lost]
    if trim > 0:
        zones += [(zero, trim), (whole - trim, whole)]
    zones = merged((max(start, zero), min(end, whole)) for start, end in zones if end >= 0 and start <= whole)
    wide = [(start, end if start <= 0 or end >= whole else max(end, start + kerf)) for start, end in zones]
    found, here = [], zero
    for start, end in merged((start, min(end, whole)) for start, end in wide):
        if start > here:
            found.append((here, start))
        here = end
    if here < whole:
        found.append((here, whole))
    return tuple(found)


def merged(zones: Iterable[tuple[Number, Number]]) -> list[tuple[Number, Number]]:
    """Zones in order, those that overlap or touch made one."""
    runs: list[tuple[Number, Number]] = []
    for start, end in sorted(zones):
        if runs and start <= runs[-1][1]:
            runs[-1] = (runs[-1][0], max(runs[-1][1], end))
        else:
            runs.append((start, end))
    return runs


def _section(thing: CutPart | CutStick) -> Section:
    """Both sides [m]; None where they are not known."""
    if thing.width is None or thing.depth is None:
        return None
    return thing.width, thing.depth


def _scale(numbers: Iterable[Fraction]) -> int:
    """Units to the metre in which all are whole."""
    return math.lcm(*{number.denominator for number in numbers})


class Whole:
    """The problem in whole numbers, in an order that does not depend on how it was given."""

    def __init__(self, problem: CutProblem) -> None:
        rules = problem.rules
        self.problem = problem
        self.sticks = sorted(problem.sticks, key=lambda stick: (stick.length, stick.rank, stick.tag))
        self.places = {stick.tag: i for i, stick in enumerate(self.sticks)}
        self.parts = {part.name: part for part in problem.parts}
        lengths = [rules.kerf, rules.end_trim, rules.margin, rules.squaring, rules.least_offcut]
        lengths += [part.length for part in problem.parts] + [stick.length for stick in self.sticks]
        lengths += [place for stick in self.sticks for span in stick.lost for place in span]
        self.parts_per_metre = _scale(lengths)
        self._metres = dict[int, Fraction]()  # by the units; many pieces begin or end at the same
        self.common = math.gcd(*map(self._units, lengths)) or 1
        self.kerf, self.least = self.units(rules.kerf), self.units(rules.least_offcut)
        trim, margin = self.units(rules.end_trim), self.units(rules.margin)
        self.clear = [
            clear(
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
        # Sections that are equal have one number: to look an exact size up costs more than a whole plan.
        known: dict[object, int] = {}
        self._section_of = {part.name: known.setdefault(_section(part), len(known)) for part in problem.parts}
        self._stock_of = {
            stick.tag: known.setdefault((_section(stick), stick.rough), len(known))
            for stick in problem.sticks
        }
        self._fences: dict[tuple[int, int], Fraction | None] = {}
        self._strips: dict[tuple[int, int], int | None] = {}
        self._able: dict[tuple[frozenset[str] | None, int], int] = {}
        self._width_units()
        self.bars = self._bars()

    def _units(self, length: Fraction) -> int:
        return length.numerator * (self.parts_per_metre // length.denominator)

    def units(self, length: Fraction) -> int:
        """A length [m] in units."""
        return self._units(length) // self.common

    def metres(self, units: int) -> Fraction:
        """Units as a length [m]."""
        if units not in self._metres:
            self._metres[units] = Fraction(units * self.common, self.parts_per_metre)
        return self._metres[units]

    # Across the stick.

    def _width_units(self) -> None:
        """The scale of widths, as coarse as it can be."""
        rules = self.problem.rules
        sections = [_section(part) for part in self.problem.parts] + [
            _section(stick) for stick in self.sticks
        ]
        sides = [side for section in sections if section is not None for side in section]
        widths = [rules.rip_kerf, rules.edge, rules.planing, *sides]
        scale = _scale(widths)
        self.widths_per_metre = Fraction(scale, math.gcd(*(int(width * scale) for width in widths)) or 1)

    def fence(self, part: CutPart, stick: CutStick) -> Fraction | None:
        """The width of the strip a part takes of a stick; None: none, or a section is not known [m]."""
        key = self._stock_of[stick.tag], self._section_of[part.name]
        if key not in self._fences:
            stock, section = _section(stick), _section(part)
            self._fences[key] = None
            if stock is not None and section is not None:
                self._fences[key] = strip_width(stock, section, self.problem.rules.planing, stick.rough)
        return self._fences[key]

    def _strip_units(self, part: CutPart, i: int) -> int | None:
        """The strip a part takes of stick i, with its cut [units of width]; None as `fence`."""
        key = self._stock_of[self.sticks[i].tag], self._section_of[part.name]
        if key not in self._strips:
            fence = self.fence(part, self.sticks[i])
            taken = None if fence is None else (fence + self.problem.rules.rip_kerf) * self.widths_per_metre
            self._strips[key] = None if taken is None else int(taken)
        return self._strips[key]

    def able(self, part: CutPart) -> int:
        """Bit i is set where the part may come from stick i, its length aside."""
        key = part.sticks, self._section_of[part.name]
        if key not in self._able:
            section = _section(part)
            self._able[key] = sum(
                1 << i
                for i, stick in enumerate(self.sticks)
                if (part.sticks is None or stick.tag in part.sticks)
                and (section is None or _section(stick) is None or self.fence(part, stick) is not None)
            )
        return self._able[key]

    def _across(self, part: CutPart, i: int) -> int:
        """What a strip for the part takes of the width shared in stick i; a part of no section takes all."""
        if not self.bars[i].across or not self.able(part) >> i & 1:
            return 0
        taken = self._strip_units(part, i)
        return self.bars[i].across + 1 if taken is None else taken

    def _across_all(self, part: CutPart) -> tuple[int, ...]:
        """The same of every stick."""
        return tuple(self._across(part, i) for i in range(len(self.sticks)))

    def _bars(self) -> list[Bar]:
        """The sticks for the search; a stick is ripped only if two strips of the narrowest kind lie in it."""
        rules, scale = self.problem.rules, self.widths_per_metre
        # Parts of one section and the same sticks as one, with how many pieces.
        wanted: dict[tuple[int, int], tuple[CutPart, int]] = {}
        for part in self.problem.parts:
            if part.quantity and _section(part):
                key = self.able(part), self._section_of[part.name]
                wanted[key] = part, part.quantity + wanted.get(key, (part, 0))[1]
        bars = []
        for i, (stick, spans) in enumerate(zip(self.sticks, self.clear, strict=True)):
            own = [row for (able, _), row in wanted.items() if able >> i & 1]
            taken = [self._strip_units(part, i) for part, _ in own]
            narrow = min((width for width in taken if width is not None), default=0)
            shared, strips = 0, 1
            if narrow:
                shared = int((max(_section(stick) or (Fraction(0),)) - rules.edge + rules.rip_kerf) * scale)
                pieces = sum(quantity for _, quantity in own)
                strips = min(shared // narrow, pieces)
            if strips < 2:
                shared, strips, narrow = 0, 1, 0
            bars.append(
                Bar(
                    tuple(end - start + self.kerf for start, end in spans),
                    self.units(stick.length),
                    round(stick.rank * RANK_STEPS),
                    stick.started,
                    shared,
                    narrow,
                    strips,
                )
            )
        return bars

    def board(self, rows: Sequence[StickPlan]) -> bool:
        """Does a further strip of the narrowest kind fit beside those ripped?"""
        bar = self.bars[self.places[rows[0].tag]]
        if len(rows) < 2:
            return False
        taken = sum(((row.width or Fraction(0)) + self.problem.rules.rip_kerf for row in rows), Fraction(0))
        return taken * self.widths_per_metre + bar.narrow <= bar.across

    def rips(self, rows: Sequence[StickPlan]) -> bool:
        """Can the rows of one stick be ripped side by side, as wide as they say, the widest first?"""
        i = self.places[rows[0].tag]
        if [row.strip for row in rows] == [0]:
            return rows[0].width is None
        widths = [self.strip(i, [piece.part for piece in row.pieces]) for row in rows]
        rip = self.problem.rules.rip_kerf
        return (
            len(rows) > 1
            and [row.strip for row in rows] == list(range(1, len(rows) + 1))
            and widths == [row.width for row in rows] == sorted(widths, reverse=True)
            and sum(width + rip for width in widths) * self.widths_per_metre <= self.bars[i].across
        )

    # To the search.

    def task(self) -> Task:
        """What the search is given; lines that are alike are merged into one kind."""
        merged: dict[tuple[int, bool, int, bool, tuple[int, ...]], list[CutPart]] = {}
        ripped = any(bar.across for bar in self.bars)
        known: dict[tuple[int, int], tuple[int, ...]] = {}
        for part in self.problem.parts:
            if part.quantity:
                own = self.able(part), self._section_of[part.name]
                if own not in known:
                    known[own] = self._across_all(part) if ripped else ()
                wish = part.wish and not part.critical
                width = self.rough[part.name] + self.kerf
                key = (width, part.critical, own[0], wish, known[own])
                merged.setdefault(key, []).append(part)
        kinds = [
            Kind(width, sum(part.quantity for part in lines), critical, allowed, wish, across)
            for (width, critical, allowed, wish, across), lines in sorted(
                merged.items(), key=lambda item: item[0]
            )
        ]
        self.lines = [merged[key] for key in sorted(merged)]
        self.kind_of = {part.name: kind for kind, lines in enumerate(self.lines) for part in lines}
        return Task(tuple(kinds), tuple(self.bars), self.kerf, self.least)

    def place(self, tag: str, strip: int) -> tuple[int, int] | None:
        """The stick and strip, from 0, that an earlier row means now: ripped since, or still whole."""
        if tag in self.places:
            i = self.places[tag]
            number = max(0, strip - 1)
            return (i, number) if number < self.bars[i].strips else None
        own = strip_tag(tag, strip) if strip else tag
        return (self.places[own], 0) if own in self.places else None

    def names(self, earlier: CutPlan) -> Names:
        """Of an earlier plan, the pieces that are still wanted from their stick and lie in a clear length."""
        found: Names = [
            [[] for _ in range(len(spans) * bar.strips)]
            for spans, bar in zip(self.clear, self.bars, strict=True)
        ]
        left = {part.name: part.quantity for part in self.problem.parts}
        for row in earlier.sticks:
            place = self.place(row.tag, row.strip)
            if place is None:
                continue
            i, strip = place
            spans = [(self.metres(start), self.metres(end)) for start, end in self.clear[i]]
            bays = found[i][strip * len(spans) :]
            for piece in row.pieces:
                part = self.parts.get(piece.part)
                if part is None or not self.able(part) >> i & 1:
                    continue
                for (start, end), bay in zip(spans, bays, strict=False):
                    if left[part.name] and start <= piece.start and piece.end <= end:
                        bay.append(part.name)
                        left[part.name] -= 1
        return found

    def kinds(self, names: Names) -> Fills:
        """The same as kinds; after `task`."""
        return tuple(tuple(tuple(self.kind_of[name] for name in bay) for bay in bays) for bays in names)

    # Back from it.

    def as_it_lies(self, i: int, row: StickPlan) -> tuple[tuple[tuple[int, ...], ...], StickPlan] | None:
        """The kinds of each clear length and the row with its offcuts; None where it cannot be sawn so."""
        stick, rules = self.sticks[i], self.problem.rules
        pieces = sorted(row.pieces, key=lambda piece: piece.start)
        bays: list[tuple[int, ...]] = []
        offcuts: list[Span] = []
        for start, end in self.clear[i]:
            here, last, kinds = self.metres(start), self.metres(end), list[int]()
            for piece in pieces:
                part = self.parts[piece.part]
                whole = piece.end - piece.start == part.length + rules.squaring
                if not (here <= piece.start and piece.end <= last and whole and self.able(part) >> i & 1):
                    continue
                if piece.start - here > rules.kerf:
                    offcuts.append((here, piece.start - rules.kerf))
                kinds.append(self.kind_of[piece.part])
                here = piece.end + rules.kerf
            if here < last:
                offcuts.append((here, last))
            bays.append(tuple(kinds))
        if sum(map(len, bays)) != len(pieces):
            return None
        return tuple(bays), StickPlan(stick.tag, tuple(pieces), tuple(offcuts), row.strip, row.width)

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
        for i, b in {(i, b) for i, b, _ in others}:
            named[i][b].sort(key=lambda name: -self.kind_of[name])
        return named, missing

    def positions(
        self, layout: Layout, keep: Sequence[Names]
    ) -> tuple[dict[str, list[StickPlan]], dict[str, int]]:
        """Every piece at its place, long ones first in a clear length; and how many of each line are out."""
        named, missing = self._named(layout, keep)
        plans: dict[str, list[StickPlan]] = {}
        for i, (stick, spans) in enumerate(zip(self.sticks, self.clear, strict=True)):
            own = [named[i][n * len(spans) : (n + 1) * len(spans)] for n in range(self.bars[i].strips)]
            used = [bays for bays in own if any(bays)]
            if len(used) == 1:
                plans[stick.tag] = [self._row(stick.tag, spans, used[0])]
            elif used:
                strips = [(self.strip(i, [name for bay in bays for name in bay]), bays) for bays in used]
                strips.sort(key=lambda strip: -strip[0])
                plans[stick.tag] = [
                    self._row(stick.tag, spans, bays, n, width) for n, (width, bays) in enumerate(strips, 1)
                ]
        return plans, missing

    def strip(self, i: int, names: Iterable[str]) -> Fraction:
        """The width to rip for these parts [m]; the whole plank where one of them has no section."""
        stick = self.sticks[i]
        fences = [self.fence(self.parts[name], stick) for name in names]
        whole = max(_section(stick) or (Fraction(0),))
        return max((whole if fence is None else fence for fence in fences), default=Fraction(0))

    def _row(
        self,
        tag: str,
        spans: Sequence[tuple[int, int]],
        bays: Sequence[Sequence[str]],
        strip: int = 0,
        width: Fraction | None = None,
    ) -> StickPlan:
        """One length of wood with its pieces and leftovers."""
        pieces: list[Piece] = []
        offcuts: list[Span] = []
        for (here, end), names in zip(spans, bays, strict=True):
            for name in names:
                after = here + self.rough[name]
                pieces.append(Piece(name, self.metres(here), self.metres(after)))
                here = after + self.kerf
            if here < end:
                offcuts.append((self.metres(here), self.metres(end)))
        return StickPlan(tag, tuple(pieces), tuple(offcuts), strip, width)
