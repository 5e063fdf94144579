"""Quick packings of parts into a set of sticks: each in one go; the best starts the search."""

from bisect import bisect_left, insort
from collections.abc import Callable, Iterable, Sequence

from bench.core.nesting_ripping import rip
from bench.core.nesting_strips import StripYard
from bench.core.nesting_yard import CRITICAL, DEMANDING, FIXED, Yard

MANY = 50_000  # bays times kinds; for more than that two quick packings must do


def best_fit(yard: Yard, bays: Sequence[int], order: Iterable[int]) -> None:
    """Long or demanding parts first, each where least room is left."""
    if isinstance(yard, StripYard):
        _best_strip(yard, bays, order)
        return
    free, fill, may, rest = yard.free, yard.fill, yard.may, yard.rest
    line = sorted((free[bay], n) for n, bay in enumerate(bays))  # by what room is left
    for kind in order:
        width = yard.width[kind]
        at = bisect_left(line, (width, -1))
        while rest[kind] and at < len(line):
            n = line[at][1]
            bay = bays[n]
            if may[bay] >> kind & 1:
                del line[at]
                many = min(rest[kind], free[bay] // width)
                rest[kind] -= many
                fill[bay] += [kind] * many
                free[bay] -= many * width
                insort(line, (free[bay], n))
            at += 1


def _best_strip(yard: StripYard, bays: Sequence[int], order: Iterable[int]) -> None:
    """The same among planks, where what lies in one strip bears on the others."""
    free, place = yard.free, {bay: n for n, bay in enumerate(bays)}
    line = sorted((free[bay], place[bay]) for bay in yard.beginning(bays))  # by what room is left
    for kind in order:
        width = yard.width[kind]
        while yard.rest[kind]:
            bay = yard.choose(kind, [bays[n] for _, n in line[bisect_left(line, (width, -1)) :]])
            if bay < 0:
                break
            strip, before = yard.strip[bay], yard.width_of[yard.strip[bay]]
            line.remove((free[bay], place[bay]))
            yard.put_all([kind] * min(yard.rest[kind], free[bay] // width), bay)
            insort(line, (free[bay], place[bay]))
            if yard.width_of[strip] and not before:  # it begins, and the next one can
                own = [one for n in yard.own[yard.home[bay]] for one in yard.strips[n] if one in place]
                for one in yard.beginning(own):
                    if not yard.width_of[yard.strip[one]]:
                        insort(line, (free[one], place[one]))


def _longest_first(yard: Yard, bays: Iterable[int]) -> None:
    """In each bay the longest part that fits, then the best filling of what room is left."""
    for bay in bays:
        for kind in reversed(range(len(yard.rest))):
            if yard.rest[kind] and yard.can(kind, bay):
                yard.put(kind, bay)
                break
        yard.top_up([bay], DEMANDING)


def first_packing(yard: Yard, sticks: Iterable[int], pool: Sequence[int], ways: int = 8) -> int:
    """The best of several quick packings of the pool into the sticks; returns its penalty."""
    bays = yard.bays_in(sticks)
    many = len(bays) * len(pool) > MANY
    ways = min(ways, 2) if many else ways
    among = set(bays)
    falling = [bay for bay in yard.falling if bay in among]
    choosy = [bay for bay in yard.choosy if bay in among]
    known: list[Callable[[], None]] = [
        lambda: best_fit(yard, bays, reversed(yard.ranked[1])),
        lambda: yard.top_up(choosy, DEMANDING),
        lambda: best_fit(yard, choosy, reversed(yard.ranked[0])),
        lambda: yard.top_up(falling, DEMANDING),
        lambda: _longest_first(yard, falling),
        lambda: yard.top_up(reversed(falling), DEMANDING),
        lambda: yard.top_up(choosy, CRITICAL),
        lambda: yard.top_up(falling, FIXED),
    ]
    if isinstance(yard, StripYard) and not many:
        known.insert(0, lambda: rip(yard, choosy))
        ways = max(2, ways)
    best, least = None, 0
    for n, way in enumerate(known[:ways]):
        yard.clear(pool)
        way()
        penalty = yard.penalty(yard.cost)
        if not n or penalty < least:
            least = penalty
            best = yard.snapshot() if penalty > 0 and n < ways - 1 else None
        if penalty <= 0:
            break
    if best is not None:  # else what lies there is the best
        yard.restore(best)
    yard.open = set(sticks)
    return least
