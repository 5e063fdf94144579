"""What no plan can beat: the fewest sticks, and how many parts must stay out.

Parts that need more of a function (`nesting_offers`) than some sticks offer do not all lie in them. That is
asked for all sticks and for each set of sticks that some parts are confined to.
"""

from bisect import bisect_left
from collections.abc import Callable, Collection, Iterable, Sequence
from functools import partial
from itertools import accumulate
from operator import itemgetter, mul, sub

from bench.core.nesting_filling import Filler
from bench.core.nesting_offers import Offers
from bench.core.nesting_task import Fills, Task, groups, part_of

FAMILY = 12  # at most so many confining sets are looked at
NONE_LEFT = 1e30  # as if so little were to spare: any stick that offers anything is wanted
ROWS = 16  # so many of the tightest needs guide the choice of sticks
REACH = -1  # as if a function: what sticks can be filled to


class Bounds:
    """The bounds of one task; the tables are made once, the questions are cheap."""

    def __init__(self, task: Task, filler: Filler, few: bool = False) -> None:
        """Take the task, and whether few functions must do, as for quick packings alone."""
        self.task = task
        self.counts = [row.count for row in task.kinds]
        self.everywhere = (1 << len(task.bars)) - 1
        self.family = self._laminar()
        # Of each set the largest ones within it, as their places in the family.
        self.children = [self._children(area, n) for n, area in enumerate(self.family)]
        self.inside = [
            [kind for kind, row in enumerate(task.kinds) if row.sticks & ~area == 0] for area in self.family
        ]
        self.members = [[i for i in range(len(task.bars)) if area >> i & 1] for area in self.family]
        self.started = {i for i, bar in enumerate(task.bars) if bar.started}
        self.shut = [[i for i in members if i not in self.started] for members in self.members]
        offers = Offers(task, filler, few)
        self.reach, self.reach_of, self.tables = offers.reach, offers.reach_of, offers.tables
        self.offers = [*(own for _, own in self.tables), self.reach_of]  # of each function, by stick
        self.ripped = any(bar.across for bar in task.bars)
        # Of each set and function, what all parts confined to it need.
        self.wanted = [self._wanted(inside) for inside in self.inside]
        # Of each set and function, what the sticks offer together.
        self.totals = [self._totals(members) for members in self.members]
        self.ordered = dict[tuple[int, int], tuple[list[int], list[int]]]()  # by set and function
        self.asked = (-1, -1)
        self.least: list[int] = []  # of each set
        self.needs: list[list[int]] = []  # of each set and function
        self.tightest: list[tuple[int, list[int]]] | None = []

    def _totals(self, sticks: list[int]) -> list[int]:
        """Of each function, what these sticks offer."""
        pick = _picker(sticks)
        return [sum(pick(offers)) for _, offers in self.tables]

    def _laminar(self) -> list[int]:
        """Sets of sticks that parts are confined to, small ones first; any two are nested or apart."""
        taken: list[int] = []
        areas = {row.sticks for row in self.task.kinds} - {self.everywhere}
        for area in sorted(areas, key=lambda area: (area.bit_count(), area)):
            if len(taken) < FAMILY and all(area & other in (0, other) for other in taken):
                taken.append(area)
        return [*taken, self.everywhere]

    def _wanted(self, kinds: Iterable[int]) -> list[int]:
        """Of each function, what all parts of these kinds need."""
        among = set(kinds)
        counts = [count if t in among else 0 for t, count in enumerate(self.counts)]
        return [sum(map(mul, counts, needs)) for needs, _ in self.tables]

    def _dropped(
        self, t: int, kinds: Sequence[int], critical_out: int, others_out: int
    ) -> list[tuple[int, int]]:
        """(kind, how many) of those that need most of a function, so many of each sort."""
        # Kinds rise in width, so f does too; with g it need not.
        rising = sorted(kinds, key=self.tables[t][0].__getitem__) if self.ripped else kinds
        left, dropped = [others_out, critical_out], []
        for kind in reversed(rising):
            if not any(left):
                break
            row = self.task.kinds[kind]
            drop = min(row.count, left[row.critical])
            if drop:
                left[row.critical] -= drop
                dropped.append((kind, drop))
        return dropped

    def _spared(self, kinds: Sequence[int], critical_out: int, others_out: int) -> list[int]:
        """Of each function, the most that is not needed when so many parts of each sort stay out."""
        dropped, spared = self._dropped(0, kinds, critical_out, others_out), list[int]()
        for t, (needs, _) in enumerate(self.tables):
            if self.ripped:
                dropped = self._dropped(t, kinds, critical_out, others_out)
            spared.append(sum([many * needs[kind] for kind, many in dropped]))
        return spared

    def least_out(self, critical_out: int | None = None) -> int:
        """How many parts must stay out.

        Args:
            critical_out: None asks for critical parts alone; a number asks for all parts of a plan that
                leaves out exactly so many critical ones.
        """
        least = 0
        for inside, wanted, totals in zip(self.inside, self.wanted, self.totals, strict=True):
            kinds = inside
            if critical_out is None:
                kinds = [kind for kind in inside if self.task.kinds[kind].critical]
                wanted = wanted if kinds == inside else self._wanted(kinds) if kinds else []
            for t, (need, offer) in enumerate(zip(wanted, totals, strict=False)):
                lack = partial(self._lack, t, kinds, critical_out, need - offer)
                if need > offer and lack(least) < 0:
                    enough = range(least, sum(self.counts) + (critical_out or 0) + 1)
                    least = enough[bisect_left(enough, 0, key=lack)]
        return least

    def _lack(self, t: int, kinds: Sequence[int], critical_out: int | None, over: int, out: int) -> int:
        """What is to spare of a function with so many parts out, when all need so much more than there is."""
        needs = self.tables[t][0]
        dropped = self._dropped(t, kinds, *self._split(critical_out, out))
        return sum([many * needs[kind] for kind, many in dropped]) - over

    @staticmethod
    def _split(critical_out: int | None, out: int) -> tuple[int, int]:
        return (out, 0) if critical_out is None else (min(out, critical_out), max(0, out - critical_out))

    def fewest(self, critical_out: int, others_out: int) -> int:
        """The fewest sticks not started before of any plan that leaves out so many parts of each sort."""
        if self.asked == (critical_out, others_out):
            return self.least[-1]
        self.asked = (critical_out, others_out)
        self.least, self.needs, self.tightest = [], [], None
        for n, inside in enumerate(self.inside):
            needs = self.wanted[n]
            if critical_out or others_out:
                needs = [*map(sub, needs, self._spared(inside, critical_out, others_out))]
            self.least.append(self._fewest_in(n, needs))
            self.needs.append(needs)
        return self.least[-1]

    def _fewest_in(self, n: int, needs: list[int]) -> int:
        """The fewest sticks of a set, as many in the sets within it as must, which offer so much at least.

        Those that hold most may well offer enough: then most functions need no sticks picked out for them.
        """
        begun = [i for i in self.members[n] if i in self.started]
        within = self._forced(self.children[n], partial(self._holding_most, 0))
        others = [i for i in self._holding_most(0, n) if i not in within]
        some = [*begun, *within]
        most, pick = len(within), _picker(some)
        # The tightest first: then so many sticks do for most of the others.
        ratios = [need / (total + 1) for need, total in zip(needs, self.totals[n], strict=True)]
        for t in sorted(range(len(needs)), key=ratios.__getitem__, reverse=True):
            if ratios[t] <= 0:
                break
            if needs[t] > sum(pick(self.offers[t])):
                most = max(most, self._counted(n, needs[t], t))
                pick = _picker([*some, *others[: most - len(within)]])
        return most

    def _counted(self, n: int, need: int, t: int) -> int:
        """How many sticks of a set offer so much: as many as must in each set within, then the best."""
        order, sums = self._falling(n, t)
        offers = self.offers[t]
        need -= sum([offers[i] for i in self.members[n] if i in self.started]) if self.started else 0
        if not self.children[n]:
            return min(len(order), bisect_left(sums, need))
        chosen = self._forced(self.children[n], lambda child: self._falling(child, t)[0])
        count = len(chosen)
        need -= sum([offers[i] for i in chosen])
        for i in order:
            if need <= 0:
                break
            if i not in chosen:
                count += 1
                need -= offers[i]
        return count

    def _falling(self, n: int, t: int) -> tuple[list[int], list[int]]:
        """The sticks of a set that are not started, those first that offer most of a function.

        And how much the first so many offer, from none on.
        """
        if (n, t) not in self.ordered:
            offers = self.offers[t]
            order = sorted(self.shut[n], key=offers.__getitem__, reverse=True)
            self.ordered[n, t] = order, [0, *accumulate([offers[i] for i in order])]
        return self.ordered[n, t]

    @property
    def rows(self) -> list[tuple[int, list[int]]]:
        """The tightest needs, with what each stick offers of them; after `fewest`."""
        if self.tightest is None:
            rows = [
                (need / max(1, total), need, area, offers)
                for area, needs, totals in zip(self.family, self.needs, self.totals, strict=True)
                for need, total, (_, offers) in zip(needs, totals, self.tables, strict=True)
                if need > 0
            ]
            rows.sort(key=lambda row: -row[0])
            found = dict[tuple[int, ...], tuple[int, list[int]]]()  # functions that say the same are one
            for _, need, area, offers in rows:
                own = [offer if area >> i & 1 else 0 for i, offer in enumerate(offers)]
                found.setdefault((need, *own), (need, own))
                if len(found) == ROWS:
                    break
            self.tightest = [*found.values()]
        return self.tightest

    def offers_of(self, sticks: Collection[int]) -> list[int]:
        """What these sticks offer of each of the tightest needs, after `fewest`."""
        pick = _picker(sticks)
        return [sum(pick(own)) for _, own in self.rows]

    def lacking(self, offers: Sequence[int], out: int = -1, into: int = -1) -> int:
        """How many of the tightest needs such offers do not meet, one stick exchanged for another."""
        if out < 0:
            return sum([offer < need for offer, (need, _) in zip(offers, self.rows, strict=True)])
        return sum(
            [
                offer - own[out] + own[into] < need
                for offer, (need, own) in zip(offers, self.rows, strict=True)
            ]
        )

    def _children(self, area: int, upto: int) -> list[int]:
        """The largest sets of the family within `area`, among the first `upto`."""
        below = [n for n in range(upto) if self.family[n] & ~area == 0]
        return [n for n in below if not any(m > n and self.family[n] & ~self.family[m] == 0 for m in below)]

    def _forced(self, sets: list[int], falling: Callable[[int], list[int]]) -> set[int]:
        """As many sticks in each set as must be opened there, of its sticks as they are told in order."""
        chosen: set[int] = set()
        for n in sets:
            own = self._forced(self.children[n], falling) if self.children[n] else set()
            chosen |= own
            free = [i for i in falling(n) if i not in own] if own else falling(n)
            chosen.update(free[: max(0, self.least[n] - len(own))])
        return chosen

    def pick(self, count: int, shut: int = 0) -> list[int]:
        """So many sticks that promise to hold everything, after `fewest`.

        Those that hold most, if they meet the tightest needs; else all but those whose loss takes least of
        what is to spare.

        Args:
            count: sticks wanted; started ones come on top of that.
            shut: bits of sticks that may not be taken.
        """
        falling = partial(self._holding_most, shut)
        chosen = self._forced(self.children[-1], falling)
        started = {i for i in self.started if not shut >> i & 1}
        free = [i for i in falling(-1) if i not in chosen]
        chosen |= set(free[: max(0, count - len(chosen))]) | started
        if not self.lacking(self.offers_of(chosen)):
            return sorted(chosen)
        stay = [i for i in range(len(self.reach_of)) if i not in self.started and not shut >> i & 1]
        spare = [sum([own[i] for i in [*stay, *started]]) - need for need, own in self.rows]
        offered = [*zip(*[own for _, own in self.rows], strict=True)]  # by stick, of each need
        while len(stay) > count:
            # The greatest share of what is to spare for any need that goes with the stick.
            shortage = [1 / left if left > 0 else NONE_LEFT for left in spare]
            shares = {i: max(map(mul, offered[i], shortage)) for i in stay}
            stay.sort(key=lambda i: (shares[i], self.reach_of[i], i))
            gone = stay[: -(-(len(stay) - count) // 4)]  # a few at a time, as the shares change little
            stay = stay[len(gone) :]
            spare = [
                left - sum([own[i] for i in gone]) for left, (_, own) in zip(spare, self.rows, strict=True)
            ]
        return sorted([*stay, *started])

    def _holding_most(self, shut: int, n: int) -> list[int]:
        """The sticks of a set, those first that can be filled to most."""
        return [i for i in self._falling(n, REACH)[0] if not shut >> i & 1]

    def overfull(self) -> list[int]:
        """Per kind, how many to give up so that no function speaks against the rest any more.

        A good start for the search, not a bound: long parts are given up first, critical ones last.
        """
        given = [0] * len(self.task.kinds)
        for n, inside in enumerate(self.inside):
            order = sorted(inside, key=lambda t: (self.task.kinds[t].critical, -self.task.kinds[t].width))
            for (needs, _), wanted, offer in zip(self.tables, self.wanted[n], self.totals[n], strict=True):
                if wanted <= offer:
                    continue
                over = wanted - sum([given[t] * needs[t] for t in inside]) - offer
                for t in order:
                    if over <= 0:
                        break
                    if needs[t]:
                        drop = min(self.task.kinds[t].count - given[t], -(-over // needs[t]))
                        given[t] += drop
                        over -= drop * needs[t]
        return given


def _picker(places: Collection[int]) -> Callable[[Sequence[int]], Sequence[int]]:
    """What takes the numbers at some places out of a row."""
    if len(places) > 1:
        return itemgetter(*places)
    return lambda row: [row[i] for i in places]


def rated(task: Task, fills: Fills, out: Sequence[int]) -> tuple[int, bool]:
    """What is proved about an arrangement that was made elsewhere.

    Args:
        task: as for `arrange`.
        fills: kinds by stick and bay.
        out: how many of each kind lie nowhere.
    Returns:
        The fewest sticks not started before of any that leaves out as much; whether nothing better exists.
    """
    fewest, proved = 0, True
    for kinds, bars in groups(task):
        own = part_of(task, kinds, bars)
        longest = max(room for bar in own.bars for room in bar.bays)
        bounds = Bounds(own, Filler([row.width for row in own.kinds], longest))
        critical = sum(out[t] for t in kinds if task.kinds[t].critical)
        all_out = sum(out[t] for t in kinds)
        least = bounds.fewest(critical, all_out - critical)
        used = sum(1 for i in bars if any(fills[i]) and not task.bars[i].started)
        fewest += least
        proved = proved and used == least and all_out <= max(critical, bounds.least_out(critical))
        proved = proved and critical <= bounds.least_out()
    return fewest, proved
