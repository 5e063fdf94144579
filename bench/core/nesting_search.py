"""Placing parts in a set of sticks: quick first packings, then filling some bays anew, better.

After the idea of ruin and recreate, with best fillings as the way to recreate: a few bays are emptied
and filled again; what is no worse is kept. Moves are counted, so that equal input gives an equal plan.
"""

from bisect import bisect_left, insort
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from bench.core.nesting_bounds import Bounds
from bench.core.nesting_pace import Pace
from bench.core.nesting_yard import CRITICAL, DEMANDING, FIXED, Yard

FORCE = 0.7  # share of moves that begin with a part that is left
GROUP = 4  # bays that are filled anew at a time, or one more
STALL = 60  # moves without a gain, after which one is kept whatever comes of it
ROOMY = 1 / 12  # as if of twelve bays that with most room to spare were taken: that is brought together
PUSH = 0.8  # share of those that have a place ready for the longest part it drives out
EXCHANGE = 0.08  # share of moves that exchange an opened stick for another
WORSE = 0.1  # share of moves that may be worse
WORSE_BY = 3  # and how much worse, as a factor on the penalty
RERIP = 0.7  # share of the moves among planks that rip one or two of them anew
MANY = 50_000  # bays times kinds; for more than that two quick packings must do
BESIDE = 2  # bays beside the new stick that are filled anew with it
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
    if yard.ripped:
        _best_strip(yard, bays, order)
        return
    free, may, rest = yard.free, yard.may, yard.rest
    line = sorted((free[bay], n) for n, bay in enumerate(bays))  # by what room is left
    for kind in order:
        width = yard.width[kind]
        at = bisect_left(line, (width, -1))
        while rest[kind] and at < len(line):
            n = line[at][1]
            bay = bays[n]
            if may[bay] >> kind & 1:
                del line[at]
                for _ in range(min(rest[kind], free[bay] // width)):
                    yard.put(kind, bay)
                insort(line, (free[bay], n))
            at += 1


def _best_strip(yard: Yard, bays: Sequence[int], order: Iterable[int]) -> None:
    """The same among planks, where what lies in one strip bears on the others."""
    free = yard.free
    for kind in order:
        width = yard.width[kind]
        while yard.rest[kind]:
            bay = yard.choose(kind, [bay for bay in bays if free[bay] >= width])
            if bay < 0:
                break
            for _ in range(min(yard.rest[kind], free[bay] // width)):
                yard.put(kind, bay)


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
    if len(bays) * len(pool) > MANY:
        ways = min(ways, 2)
    falling = sorted(bays, key=lambda bay: (-yard.room[bay], bay))
    # Bays that can take few kinds first: what they do not take is still welcome elsewhere.
    choosy = sorted(bays, key=lambda bay: (yard.may[bay].bit_count(), -yard.room[bay], bay))
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

    def __init__(self, yard: Yard, bounds: Bounds, goal: Goal, pace: Pace) -> None:
        self.bounds, self.pace = bounds, pace
        self.yard, self.goal, self.random = yard, goal, yard.random
        self.penalty = yard.penalty(goal.cost, goal.free)
        self._survey()
        # Sticks that may be opened instead of others.
        self.able = [i for i in range(len(yard.bays)) if not goal.shut >> i & 1 and yard.bays_in([i])]

    def run(self, moves: int, exchange: bool) -> int:
        """Move until nothing is left that costs; leaves the best state found. Returns the moves made."""
        yard = self.yard
        best, least = yard.snapshot(), self.penalty
        made = still = 0
        while made < moves and least > 0 and self.bays:
            made += 1
            still += 1
            before = self.penalty
            self._move(exchange, still > STALL)
            if self.penalty < before or still > STALL:
                still = 0
            if self.penalty < least:
                best, least = yard.snapshot(), self.penalty
            if self.pace.move():
                break
        yard.restore(best)
        self.penalty = least
        return made

    def _survey(self) -> None:
        """Which bays are open now, which of them may take each kind, and which have most room to spare."""
        self.bays = [bay for bay in self.yard.bays_in(sorted(self.yard.open)) if bay != self.goal.barred]
        self.hosts: dict[int, list[int]] = {}
        self._sort()

    def _sort(self) -> None:
        """Bays with most room to spare first."""
        self.roomy = sorted(self.bays, key=self.yard.free.__getitem__, reverse=True)

    def _hosts(self, kind: int) -> list[int]:
        """The open bays that may take a kind."""
        if kind not in self.hosts:
            may = self.yard.may
            self.hosts[kind] = [bay for bay in self.bays if may[bay] >> kind & 1]
        return self.hosts[kind]

    def _move(self, exchange: bool, leap: bool) -> None:
        """One move, kept or taken back; a leap is kept whatever comes of it."""
        yard, random = self.yard, self.random
        free = yard.free
        rest, opened = list(yard.rest), yard.open
        swapped = exchange and random.random() < EXCHANGE
        forced = pushed = -1
        if swapped:
            forced, touched, group = self._exchange()
        else:
            forced, group = self._strips() if yard.ripped else self._group()
            touched = group
            if forced >= 0 and not yard.ripped and random.random() < PUSH:
                pushed = self._push(group)
        if not group:
            return
        before = [(bay, yard.fill[bay], free[bay]) for bay in touched]
        level = swapped or forced >= 0 or yard.ripped  # is as good as before good enough?
        gathered = 0 if level else sum([free[bay] ** 2 for bay in group])
        yard.empty(touched)
        if forced >= 0 and yard.can(forced, group[0]):
            yard.put(forced, group[0])
        if pushed >= 0:
            yard.put(pushed, group[1])
        yard.top_up(reversed(group), yard.any_order())
        penalty = yard.penalty(self.goal.cost, self.goal.free)
        keep = penalty < self.penalty or (
            penalty == self.penalty and (level or sum([free[bay] ** 2 for bay in group]) >= gathered)
        )
        if not keep and penalty < self.penalty * WORSE_BY:
            keep = random.random() < WORSE
        keep = keep or leap
        if keep:
            self.penalty = penalty
            self._sort()
            return
        for bay, kinds, left in before:
            yard.change(bay, kinds, left)
        yard.rest, yard.open = rest, opened
        if swapped:
            self._survey()

    def _forced(self) -> int:
        """A part that is left, by chance; -1 for none."""
        left = [kind for kind, count in enumerate(self.yard.rest) if count]
        if not left or self.random.random() >= FORCE:
            return -1
        return left[int(self.random.random() * len(left))]

    def _group(self) -> tuple[int, list[int]]:
        """Four or five bays to fill again; with a part that is left, the first is to take it."""
        random = self.random
        forced, group = self._forced(), list[int]()
        if forced >= 0:
            hosts = self._hosts(forced)
            if hosts:
                group.append(hosts[int(random.random() * len(hosts))])
            else:
                forced = -1
        wanted = min(len(self.bays), GROUP + (random.random() < 0.5))
        roomy, chance = self.roomy, random.random
        bays = len(roomy)
        for _ in range(2 * wanted):  # of few bays the same ones come up again and again
            bay = roomy[int(bays * (1 - chance() ** ROOMY))]
            if bay not in group:
                group.append(bay)
                if len(group) == wanted:
                    break
        return forced, group

    def _push(self, group: list[int]) -> int:
        """The longest part that lies where the forced one goes, and for it another bay; -1 for none."""
        kinds = self.yard.fill[group[0]]
        if not kinds:
            return -1
        pushed = max(kinds)
        hosts = self._hosts(pushed)
        bay = hosts[int(self.random.random() * len(hosts))]
        if bay in group:
            return -1
        group[1:2] = [bay]
        return pushed

    def _any_bay(self) -> int:
        """A bay by chance, rather one with much room to spare."""
        roomy = self.roomy
        return roomy[int(len(roomy) * (1 - self.random.random() ** ROOMY))]

    def _strips(self) -> tuple[int, list[int]]:
        """One or two sticks to rip and cut again, or three bays that hold something."""
        yard, random = self.yard, self.random
        forced = self._forced()
        if random.random() < RERIP:
            hosts = [bay for bay in self.bays if forced < 0 or yard.may[bay] >> forced & 1]
            if not hosts:
                forced, hosts = -1, self.bays
            first = hosts[int(random.random() * len(hosts))]
            sticks = {yard.home[first], yard.home[self.bays[int(random.random() * len(self.bays))]]}
            if random.random() < 0.5:
                sticks = {yard.home[first]}
            return forced, [first, *(b for b in self.bays if yard.home[b] in sticks and b != first)]
        full = [bay for bay in self.bays if yard.fill[bay]]
        group = random.sample(full, min(3, len(full)))
        if forced >= 0 and not any(yard.may[bay] >> forced & 1 for bay in group[:1]):
            forced = -1
        return forced, group

    def _exchange(self) -> tuple[int, list[int], list[int]]:
        """Close one stick and open another, with a part that is left if it can take one.

        Returns that part or -1, the bays to empty, and those of them to fill again, the part's own first.
        """
        yard, random, goal = self.yard, self.random, self.goal
        home = yard.home[goal.barred] if goal.barred >= 0 else -1
        leaving = [i for i in sorted(yard.open) if i != home and i not in yard.started]
        coming = [i for i in self.able if i not in yard.open]
        forced, hosts = self._hosted(coming)
        coming = list(hosts) or coming
        if not leaving or not coming:
            return -1, [], []
        offers = self.bounds.offers_of(yard.open)
        lacking = self.bounds.lacking(offers)
        for _ in range(TRIES):
            out, other = (
                leaving[int(random.random() * len(leaving))],
                leaving[int(random.random() * len(leaving))],
            )
            if self._load(other) < self._load(out):
                out = other
            into = coming[int(random.random() * len(coming))]
            if yard.looks[out] != yard.looks[into] and self.bounds.lacking(offers, out, into) <= lacking:
                break
        else:
            return -1, [], []
        yard.open = yard.open - {out} | {into}
        self._survey()
        group = yard.bays_in([into])
        if forced >= 0:
            group.sort(key=lambda bay: bay != hosts[into])
        for _ in range(BESIDE):
            bay = self._any_bay()
            if bay not in group:
                group.append(bay)
        return forced, yard.bays[out] + group, group

    def _hosted(self, coming: Sequence[int]) -> tuple[int, dict[int, int]]:
        """A part that is left, and of the sticks that can take it a bay for it; -1 and none if none can."""
        yard, forced, hosts = self.yard, self._forced(), dict[int, int]()
        for i in coming if forced >= 0 else ():
            bay = next((bay for bay in yard.bays[i] if yard.may[bay] >> forced & 1), -1)
            if bay >= 0:
                hosts[i] = bay
        return (forced if hosts else -1), hosts

    def _load(self, stick: int) -> int:
        """What lies in a stick [units]."""
        room, free = self.yard.room, self.yard.free
        return sum([room[bay] - free[bay] for bay in self.yard.bays[stick]])


def repair(
    yard: Yard, bounds: Bounds, goal: Goal, moves: int, pace: Pace, exchange: bool = False
) -> tuple[int, int]:
    """Lower the penalty of what is left; returns the penalty reached and the moves made."""
    work = Repair(yard, bounds, goal, pace)
    made = work.run(moves, exchange)
    return work.penalty, made
