"""Placing parts in a set of sticks: some bays are filled anew, as long as that gets better.

After the idea of ruin and recreate, with best fillings as the way to recreate: a few bays are emptied
and filled again; what is no worse is kept. Moves are counted, so that equal input gives an equal plan.

Most moves change nothing in the end. So a move among sticks is worked out beside the state, and the state is
touched only if the move is kept.
"""

from collections.abc import Sequence
from itertools import zip_longest
from math import inf, log

from bench.core.frozen import record
from bench.core.nesting_bounds import Bounds
from bench.core.nesting_pace import Pace
from bench.core.nesting_strips import StripYard
from bench.core.nesting_yard import Yard

FORCE = 0.7  # share of moves that begin with a part that is left
LOOKED = 600_000  # parts times units that take a move more
GROUP = 4  # bays that are filled anew at a time, or one more
STALL = 200  # moves without a gain, after which one is kept whatever comes of it
ROOMY = 1 / 12  # as if of twelve bays that with most room to spare were taken: that is brought together
PUSH = 0.8  # share of those that have a place ready for the longest part it drives out
EXCHANGE = 0.08  # share of moves that exchange an opened stick for another
WORSE = 0.2  # how much worse a move may be, as a share of the penalty, on the average
BOLD, BOLD_BY = 0.1, 3  # share of the moves among planks, and of exchanges, that may be so many times worse
CALM = 0.3  # share of the moves without a part that is left that may be worse
HANDFUL = 48  # of the parts that are left, so many are looked at in a move
AS_RIPPED = 0.4  # share of the moves among planks that cut strips anew as they are
RECUT = 20  # moves as among sticks in one of those
RERIP = 0.9  # share of the others that rip one or two of them anew
STRIPS, PARTLY = 3, 0.5  # so many strips beside the first, and in what share of these moves no more
BESIDE = 2  # bays beside the new stick that are filled anew with it
TRIES = 4  # to find an exchange that the bounds do not speak against

Survey = tuple[list[int], dict[int, list[int]], list[int], list[int]]


@record
class Goal:
    """What a repair is after."""

    cost: Sequence[int]  # of leaving out a part of each kind
    free: int = 0  # parts that are not critical and may stay out at no cost
    barred: int = -1  # a bay that stays empty
    shut: int = 0  # bits of sticks that stay closed


class Repair:
    """Moves that lower the penalty of what is left, in the sticks that are open."""

    def __init__(self, yard: Yard, bounds: Bounds, goal: Goal, pace: Pace) -> None:
        self.bounds, self.pace = bounds, pace
        self.yard, self.goal, self.random = yard, goal, yard.random
        self.penalty = yard.penalty(goal.cost, goal.free)
        self.left = yard.left_parts()  # the kind of each part that is left
        self.may = yard.may
        self.cheapest = min([cost / width for cost, width in zip(goal.cost, yard.width, strict=True)])
        self.looked = 0  # parts times the units of the bay they were looked at for, since moves were counted
        self._survey()
        # Sticks that may be opened instead of others.
        self.able = [i for i in range(len(yard.bays)) if not goal.shut >> i & 1 and yard.bays_in([i])]

    def run(self, moves: int, exchange: bool) -> int:
        """Move until nothing is left that costs; leaves the best state found. Returns the moves made."""
        yard = self.yard
        best, least = yard.snapshot(), self.penalty
        made = still = 0
        owed = 0.0
        while made < moves and least > 0 and self.bays:
            still += 1
            before, leap = self.penalty, still > STALL
            owed += self._move(exchange, leap, least)
            if self.penalty < before or leap:
                still = 0
            if self.penalty < least:
                best, least = yard.snapshot(), self.penalty
            owed += self.looked / yard.filler.grid / LOOKED
            self.looked = 0
            steps = int(owed)
            owed -= steps
            made += steps
            if self.pace.move(steps):
                break
        yard.restore(best)
        self.penalty = least
        return made

    def _move(self, exchange: bool, leap: bool, least: int) -> float:
        """One move, or some in strips as they are; returns what that counts for beside what it looks at."""
        yard, chance = self.yard, self.random.random
        if exchange and chance() < EXCHANGE:
            self._exchange(leap)
        elif not isinstance(yard, StripYard):
            self._shuffle(leap)
        elif chance() < AS_RIPPED:
            return yard.steps + self._recut(yard, least) * Yard.steps
        else:
            forced, group = self._strips(yard)
            self._anew(forced, group, group, leap)
        return yard.steps

    def _survey(self) -> None:
        """Which bays are open now, which of them may take each kind, and which have most room to spare."""
        self.bays = [bay for bay in self.yard.bays_in(sorted(self.yard.open)) if bay != self.goal.barred]
        self.hosts: dict[int, list[int]] = {}
        self.offers = self.bounds.offers_of(self.yard.open)
        self._sort()

    def _surveyed(self) -> Survey:
        """What the last survey found."""
        return self.bays, self.hosts, self.offers, self.roomy

    def _sort(self) -> None:
        """Bays with most room to spare first."""
        self.roomy = sorted(self.bays, key=self.yard.free.__getitem__, reverse=True)

    def _hosts(self, kind: int) -> list[int]:
        """The open bays that may take a kind."""
        if kind not in self.hosts:
            may = self.may
            self.hosts[kind] = [bay for bay in self.bays if may[bay] >> kind & 1]
        return self.hosts[kind]

    def _forced(self) -> int:
        """A part that is left, by chance; -1 for none."""
        if not self.left or self.random.random() >= FORCE:
            return -1
        return self.left[int(self.random.random() * len(self.left))]

    def _any_bay(self) -> int:
        """A bay by chance, rather one with much room to spare."""
        roomy = self.roomy
        return roomy[int(len(roomy) * (1 - self.random.random() ** ROOMY))]

    # Moves among sticks.

    def _shuffle(self, leap: bool) -> None:
        """Fill four or five bays again, worked out beside the state; a leap is kept whatever comes of it."""
        yard = self.yard
        width, rest = yard.width, yard.rest
        held, group = self._group()
        handful, beside = self._handful(held)
        pool = handful + [kind for bay in group for kind in yard.fill[bay]]
        spare = [yard.room[bay] for bay in group]
        for place, kind in enumerate(held):
            pool.remove(kind)
            spare[place] -= width[kind]
        limit = None if leap else self._limit(bool(held))
        fills = self._filled(pool, group, spare, limit)
        if fills is None:
            return
        left = pool + beside
        penalty = self._cost(left)
        if limit is not None:
            # One that places as much has to place another part or bring room together.
            idle = penalty == self.penalty and not (held or self._gathered(group, spare))
            if idle or penalty > limit:
                return
        for bay, kinds, kind, free in zip_longest(group, fills, held, spare):
            yard.change(bay, kinds if kind is None else [kind, *kinds], free)
        for kind in handful:
            rest[kind] -= 1
        for kind in pool:
            rest[kind] += 1
        self.left, self.penalty = left, penalty
        self._sort()

    def _gathered(self, group: list[int], spare: list[int]) -> bool:
        """Is as much room as there was in some bays brought together?"""
        free = self.yard.free
        return sum([n * n for n in spare]) >= sum([free[bay] ** 2 for bay in group])

    def _handful(self, held: list[int]) -> tuple[list[int], list[int]]:
        """Some of the parts that are left, the one among them that has its place; and the others."""
        left = self.left
        if len(left) <= HANDFUL:
            return left, []
        first = left.index(held[0]) if held else int(self.random.random() * len(left))
        first = min(first, len(left) - HANDFUL)
        return left[first : first + HANDFUL], left[:first] + left[first + HANDFUL :]

    def _filled(
        self, pool: list[int], group: list[int], spare: list[int], limit: float | None
    ) -> list[list[int]] | None:
        """New contents of some bays from the pool, which they leave; None once the limit is out of reach.

        The bay with least room comes first: it has the fewest ways to be full.
        """
        yard = self.yard
        width, may, pick = yard.width, self.may, yard.filler.pick
        fills: list[list[int]] = [[] for _ in group]
        pool.sort(key=yard.any_key())
        over = sum([width[kind] for kind in pool]) - sum(spare)  # what will be left at least
        most = inf if limit is None or self.goal.free else limit / self.cheapest
        for place in sorted(range(len(group)), key=spare.__getitem__):
            if over > most:
                return None
            if not pool:
                break
            self.looked += len(pool) * spare[place]
            fills[place] = pick(pool, spare[place], may[group[place]])
            for kind in fills[place]:
                pool.remove(kind)
                spare[place] -= width[kind]
            over += spare[place]
        return fills

    def _cost(self, left: list[int]) -> int:
        """Of what is left; as `Yard.penalty`."""
        cost = self.goal.cost
        total = sum([cost[kind] for kind in left])
        if self.goal.free:
            kinds = self.yard.task.kinds
            others = sorted([kind for kind in left if not kinds[kind].critical], reverse=True)
            total -= sum([cost[kind] for kind in others[: self.goal.free]])
        return total

    def _limit(self, forced: bool) -> float:
        """The penalty up to which a move is kept: mostly that of now, by chance a worse one."""
        if not forced and self.random.random() >= CALM:
            return self.penalty
        return self.penalty * (1 - WORSE * log(1 - self.random.random()))

    def _group(self) -> tuple[list[int], list[int]]:
        """Parts that have their places, and the bays to fill again, those of these parts first.

        A part that is left goes where it may lie; mostly the longest that lies there goes to another bay.
        """
        chance, roomy = self.random.random, self.roomy
        held: list[int] = []
        group: list[int] = []
        forced = self._forced()
        hosts = self._hosts(forced) if forced >= 0 else []
        if hosts:
            held, group = [forced], [hosts[int(chance() * len(hosts))]]
            driven = self.yard.fill[group[0]]
            if driven and chance() < PUSH:
                pushed = max(driven)
                hosts = self._hosts(pushed)
                bay = hosts[int(chance() * len(hosts))]
                if bay != group[0]:
                    held.append(pushed)
                    group.append(bay)
        bays = len(roomy)
        wanted = min(bays, GROUP + (chance() < 0.5))
        for _ in range(2 * wanted):  # of few bays the same ones come up again and again
            if len(group) >= wanted:
                break
            bay = roomy[int(bays * (1 - chance() ** ROOMY))]
            if bay not in group:
                group.append(bay)
        return held, group

    # Moves among planks, and exchanges.

    def _anew(self, forced: int, touched: list[int], group: list[int], leap: bool) -> bool:
        """Empty bays and fill some of them again, the first with the part forced there; False: taken back."""
        yard = self.yard
        back = yard.keep()
        yard.empty(touched)
        if forced >= 0 and yard.can(forced, group[0]):
            yard.put(forced, group[0])
        yard.top_up(reversed(group), yard.any_order())
        penalty = yard.penalty(self.goal.cost, self.goal.free)
        bold = penalty < self.penalty * BOLD_BY and self.random.random() < BOLD
        if penalty <= self.penalty or leap or bold:
            self.penalty, self.left = penalty, yard.left_parts()
            self._sort()
            return True
        back()
        return False

    def _recut(self, yard: StripYard, least: int) -> int:
        """Moves as among sticks, in strips that get no wider, until less is left than ever; says how many."""
        bays, hosts, may = self.bays, self.hosts, self.may
        ripped = yard.as_ripped(bays)
        made = 0
        if ripped:
            self.bays, self.hosts, self.may = [*ripped], {}, list(may)
            for bay, able in ripped.items():
                self.may[bay] &= able
            self._sort()
            while made < RECUT and self.penalty >= least:
                self._shuffle(False)
                made += 1
        self.bays, self.hosts, self.may = bays, hosts, may
        self._sort()
        return made

    def _strips(self, yard: StripYard) -> tuple[int, list[int]]:
        """One or two sticks to rip and cut again, or three bays that hold something."""
        random = self.random
        forced = self._forced()
        if random.random() < RERIP:
            hosts = [bay for bay in self.bays if forced < 0 or yard.may[bay] >> forced & 1]
            if not hosts:
                forced, hosts = -1, self.bays
            first = hosts[int(random.random() * len(hosts))]
            sticks = {yard.home[first], yard.home[self.bays[int(random.random() * len(self.bays))]]}
            if random.random() < 0.5:
                sticks = {yard.home[first]}
            own = [bay for bay in self.bays if yard.home[bay] in sticks and bay != first]
            if len(own) > STRIPS and random.random() < PARTLY:
                own = yard.beside(first, random.sample(own, STRIPS), own)
            return forced, [first, *own]
        full = [bay for bay in self.bays if yard.fill[bay]]
        group = random.sample(full, min(3, len(full)))
        if forced >= 0 and not any(yard.may[bay] >> forced & 1 for bay in group[:1]):
            forced = -1
        return forced, group

    def _exchange(self, leap: bool) -> None:
        """Close one stick and open another, with a part that is left if it can take one."""
        yard, goal = self.yard, self.goal
        home = yard.home[goal.barred] if goal.barred >= 0 else -1
        leaving = [i for i in sorted(yard.open) if i != home and i not in yard.started]
        coming = [i for i in self.able if i not in yard.open]
        forced, hosts = self._hosted(coming)
        out, into = self._pair(leaving, list(hosts) or coming)
        if out < 0:
            return
        opened, surveyed = yard.open, self._surveyed()
        yard.open = opened - {out} | {into}
        self._survey()
        group = yard.bays_in([into])
        if forced >= 0:
            group.sort(key=lambda bay: bay != hosts[into])
        for _ in range(BESIDE):
            bay = self._any_bay()
            if bay not in group:
                group.append(bay)
        if not self._anew(forced, yard.bays[out] + group, group, leap):
            yard.open = opened
            self.bays, self.hosts, self.offers, self.roomy = surveyed

    def _pair(self, leaving: Sequence[int], coming: Sequence[int]) -> tuple[int, int]:
        """A stick to close, rather one with little in it, and one to open for it; -1, -1 for none."""
        chance, looks = self.random.random, self.yard.looks
        if not leaving or not coming:
            return -1, -1
        lacking = self.bounds.lacking(self.offers)
        for _ in range(TRIES):
            pair = leaving[int(chance() * len(leaving))], leaving[int(chance() * len(leaving))]
            out, into = min(pair, key=self._load), coming[int(chance() * len(coming))]
            if looks[out] != looks[into] and self.bounds.lacking(self.offers, out, into) <= lacking:
                return out, into
        return -1, -1

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
