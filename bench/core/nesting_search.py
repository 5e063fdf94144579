"""Placing parts in a set of sticks: quick first packings, then filling some bays anew, better.

After the idea of ruin and recreate, with best fillings as the way to recreate: three or four bays are emptied
and filled again; what is no worse is kept. Moves are counted, so that equal input gives an equal plan.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from bench.core.nesting_bounds import Bounds
from bench.core.nesting_yard import CRITICAL, DEMANDING, FIXED, Yard

FORCE = 0.7  # share of moves that begin with a part that is left
EXCHANGE = 0.15  # share of moves that exchange an opened stick for another
WORSE = 0.02  # share of moves that may be a little worse
WORSE_BY = 1.1  # and how much worse, as a factor on the penalty
TRIES = 4  # to find an exchange that the bounds do not speak against


@dataclass(frozen=True, slots=True)
class Goal:
    """What a repair is after."""

    cost: Sequence[int]  # of leaving out a part of each kind
    free: int = 0  # parts that are not critical and may stay out at no cost
    barred: int = -1  # a bay that stays empty
    shut: int = 0  # bits of sticks that stay closed


def best_fit(yard: Yard, bays: Sequence[int], order: Iterable[int]) -> None:
    """Long or demanding parts first, each where least room is left."""
    slack = {bay: yard.slack(bay) for bay in bays}
    for kind in order:
        width = yard.width[kind]
        while yard.rest[kind]:
            fitting = [bay for bay in bays if slack[bay] >= width and yard.may[bay] >> kind & 1]
            if not fitting:
                break
            bay = min(fitting, key=slack.__getitem__)
            copies = min(yard.rest[kind], slack[bay] // width)
            for _ in range(copies):
                yard.put(kind, bay)
            slack[bay] -= copies * width


def _best_fillings(yard: Yard, bays: Iterable[int], order: int) -> None:
    """One bay after the other, each as full as it can be."""
    for bay in bays:
        yard.top_up(bay, order)


def _longest_first(yard: Yard, bays: Iterable[int]) -> None:
    """In each bay the longest part that fits, then the best filling of what room is left."""
    for bay in bays:
        for kind in reversed(range(len(yard.rest))):
            if yard.rest[kind] and yard.may[bay] >> kind & 1:
                yard.put(kind, bay)
                break
        yard.top_up(bay, DEMANDING)


def first_packing(yard: Yard, sticks: Iterable[int], pool: Sequence[int], ways: int = 8) -> int:
    """The best of several quick packings of the pool into the sticks; returns its penalty."""
    bays = yard.bays_in(sticks)
    falling = sorted(bays, key=lambda bay: (-yard.room[bay], bay))
    # Bays that can take few kinds first: what they do not take is still welcome elsewhere.
    choosy = sorted(bays, key=lambda bay: (yard.may[bay].bit_count(), -yard.room[bay], bay))
    known: list[Callable[[], None]] = [
        lambda: best_fit(yard, bays, reversed(yard.ranked[1])),
        lambda: _best_fillings(yard, choosy, DEMANDING),
        lambda: best_fit(yard, choosy, reversed(yard.ranked[0])),
        lambda: _best_fillings(yard, falling, DEMANDING),
        lambda: _longest_first(yard, falling),
        lambda: _best_fillings(yard, reversed(falling), DEMANDING),
        lambda: _best_fillings(yard, choosy, CRITICAL),
        lambda: _best_fillings(yard, falling, FIXED),
    ]
    best = None
    least = 0
    for way in known[:ways]:
        yard.clear(pool)
        way()
        penalty = yard.penalty(yard.cost)
        if best is None or penalty < least:
            best, least = yard.snapshot(), penalty
        if least <= 0:
            break
    if best is not None:
        yard.restore(best)
    yard.open = set(sticks)
    return least


class Repair:
    """Moves that lower the penalty of what is left, in the sticks that are open."""

    def __init__(self, yard: Yard, bounds: Bounds, goal: Goal) -> None:
        self.bounds = bounds
        self.yard, self.goal, self.random = yard, goal, yard.random
        self.bays = [bay for bay in yard.bays_in(sorted(yard.open)) if bay != goal.barred]
        self.penalty = yard.penalty(goal.cost, goal.free)

    def run(self, moves: int, exchange: bool) -> int:
        """Move until nothing is left that costs; leaves the best state found. Returns the moves made."""
        yard = self.yard
        best, least = yard.snapshot(), self.penalty
        made = 0
        while made < moves and least > 0 and self.bays:
            made += 1
            self._move(exchange)
            if self.penalty < least:
                best, least = yard.snapshot(), self.penalty
        yard.restore(best)
        self.penalty = least
        return made

    def _move(self, exchange: bool) -> None:
        """One move, kept or taken back."""
        yard, random = self.yard, self.random
        rest, opened, bays = list(yard.rest), set(yard.open), self.bays
        swapped = exchange and random.random() < EXCHANGE
        forced = -1
        if swapped:
            touched, group = self._exchange()
        else:
            forced, group = self._group()
            touched = group
        if not group:
            yard.open, self.bays = opened, bays
            return
        before = {bay: yard.fill[bay] for bay in touched}
        gathered = sum(yard.slack(bay) ** 2 for bay in group)
        for bay in touched:
            yard.empty(bay)
        if forced >= 0:
            yard.put(forced, group[0])
        for bay in reversed(group):
            yard.top_up(bay, yard.any_order())
        penalty = yard.penalty(self.goal.cost, self.goal.free)
        keep = penalty < self.penalty or (
            penalty == self.penalty
            and (swapped or forced >= 0 or sum(yard.slack(bay) ** 2 for bay in group) >= gathered)
        )
        if not keep and penalty < self.penalty * WORSE_BY:
            keep = random.random() < WORSE
        if keep:
            self.penalty = penalty
            return
        for bay, kinds in before.items():
            yard.fill[bay] = kinds
        yard.rest, yard.open, self.bays = rest, opened, bays

    def _group(self) -> tuple[int, list[int]]:
        """Three or four bays to fill again; with a part that is left, the first is to take it."""
        yard, random = self.yard, self.random
        forced, group = -1, list[int]()
        if random.random() < FORCE:
            left = [kind for kind, count in enumerate(yard.rest) if count]
            forced = left[int(random.random() * len(left))] if left else -1
            hosts = [bay for bay in self.bays if forced >= 0 and yard.may[bay] >> forced & 1]
            if hosts:
                group.append(hosts[int(random.random() * len(hosts))])
            else:
                forced = -1
        wanted = min(len(self.bays), 3 + (random.random() < 0.5))
        while len(group) < wanted:
            bay = self._any_bay()
            if bay not in group:
                group.append(bay)
        return forced, group

    def _any_bay(self) -> int:
        """A bay by chance; of two, that with more room to spare."""
        random, bays = self.random, self.bays
        one, two = bays[int(random.random() * len(bays))], bays[int(random.random() * len(bays))]
        return one if self.yard.slack(one) >= self.yard.slack(two) else two

    def _exchange(self) -> tuple[list[int], list[int]]:
        """Close one stick and open another; returns the bays to empty, and those of them to fill again."""
        yard, random, goal = self.yard, self.random, self.goal
        home = yard.home[goal.barred] if goal.barred >= 0 else -1
        leaving = [i for i in sorted(yard.open) if i != home]
        coming = [
            i
            for i in range(len(yard.bays))
            if i not in yard.open and not goal.shut >> i & 1 and yard.bays_in([i])
        ]
        if not leaving or not coming:
            return [], []
        lacking = self.bounds.lacking(yard.open)
        for _ in range(TRIES):
            out = leaving[int(random.random() * len(leaving))]
            into = coming[int(random.random() * len(coming))]
            opened = yard.open - {out} | {into}
            if yard.looks[out] != yard.looks[into] and self.bounds.lacking(opened) <= lacking:
                break
        else:
            return [], []
        yard.open = opened
        self.bays = [bay for bay in yard.bays_in(sorted(yard.open)) if bay != goal.barred]
        group = yard.bays_in([into])
        others = [bay for bay in self.bays if bay not in group]
        if others:
            group.append(others[int(random.random() * len(others))])
        return yard.bays[out] + group, group


def repair(yard: Yard, bounds: Bounds, goal: Goal, moves: int, exchange: bool = False) -> tuple[int, int]:
    """Lower the penalty of what is left; returns the penalty reached and the moves made."""
    work = Repair(yard, bounds, goal)
    made = work.run(moves, exchange)
    return work.penalty, made
