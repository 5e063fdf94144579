"""What no plan can beat: the fewest sticks, and how many parts must stay out.

Parts that need more of a function (`nesting_offers`) than some sticks offer do not all lie in them. That is
asked for all sticks and for each set of sticks that some parts are confined to.
"""

from bisect import bisect_left
from collections.abc import Collection, Sequence
from functools import partial
from operator import itemgetter, mul

from bench.core.nesting_filling import Filler
from bench.core.nesting_offers import Offers
from bench.core.nesting_task import Fills, Task, groups, part_of

FAMILY = 12  # at most so many confining sets are looked at
NONE_LEFT = 1e30  # as if so little were to spare: any stick that offers anything is wanted
ROWS = 16  # so many of the tightest needs guide the choice of sticks

Asked = tuple[list[int], list[int]]  # kinds, and of every kind how many


class Bounds:
    """The bounds of one task; the tables are made once, the questions are cheap."""

    def __init__(self, task: Task, filler: Filler) -> None:
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
        offers = Offers(task, filler)
        self.reach, self.reach_of, self.tables = offers.reach, offers.reach_of, offers.tables
        self.ripped = any(bar.across for bar in task.bars)
        # Of each set and function, what the sticks offer together; and those that are not started.
        self.totals = [self._totals(members) for members in self.members]
        self.free = [
            [
                total - begun
                for total, begun in zip(totals, self._totals([*self.started & {*members}]), strict=True)
            ]
            for totals, members in zip(self.totals, self.members, strict=True)
        ]
        self.asked = (-1, -1)
        self.least: list[int] = []  # of each set
        self.needs: list[list[int]] = []  # of each set and function
        self.tightest: list[tuple[int, list[int]]] | None = []

    def _totals(self, sticks: list[int]) -> list[int]:
        """Of each function, what these sticks offer."""
        if len(sticks) == len(self.task.bars):
            return [sum(offers) for _, offers in self.tables]
        if len(sticks) < 2:
            return [sum([offers[i] for i in sticks]) for _, offers in self.tables]
        pick = itemgetter(*sticks)
        return [sum(pick(offers)) for _, offers in self.tables]

    def _laminar(self) -> list[int]:
        """Sets of sticks that parts are confined to, small ones first; any two are nested or apart."""
        taken: list[int] = []
        areas = {row.sticks for row in self.task.kinds} - {self.everywhere}
        for area in sorted(areas, key=lambda area: (area.bit_count(), area)):
            if len(taken) < FAMILY and all(area & other in (0, other) for other in taken):
                taken.append(area)
        return [*taken, self.everywhere]

    def _asked(self, kinds: list[int]) -> Asked:
        """These kinds, and how many of every kind are asked for then."""
        among = set(kinds)
        return kinds, [count if t in among else 0 for t, count in enumerate(self.counts)]

    def _need(self, needs: list[int], asked: Asked, critical_out: int, others_out: int) -> int:
        """The least f of the parts asked for, when so many of each sort stay out: those with most f do."""
        kinds, counts = asked
        total: int = sum(map(mul, counts, needs))
        if not critical_out and not others_out:
            return total
        spare = [others_out, critical_out]
        # Kinds rise in width, so f does too; with g it need not.
        rising = sorted(kinds, key=needs.__getitem__) if self.ripped else kinds
        for kind in reversed(rising):
            row = self.task.kinds[kind]
            drop = min(row.count, spare[row.critical])
            spare[row.critical] -= drop
            total -= drop * needs[kind]
            if not any(spare):
                break
        return total

    def least_out(self, critical_out: int | None = None) -> int:
        """How many parts must stay out.

        Args:
            critical_out: None asks for critical parts alone; a number asks for all parts of a plan that
                leaves out exactly so many critical ones.
        """
        least = 0
        for n, inside in enumerate(self.inside):
            asked = self._asked(
                [t for t in inside if critical_out is not None or self.task.kinds[t].critical]
            )
            for (needs, _), offer in zip(self.tables if asked[0] else [], self.totals[n], strict=False):
                if self._need(needs, asked, *self._split(critical_out, least)) > offer:
                    enough = range(least, sum(self.counts) + (critical_out or 0) + 1)
                    least = enough[
                        bisect_left(enough, -offer, key=partial(self._lack, needs, asked, critical_out))
                    ]
        return least

    def _lack(self, needs: list[int], asked: Asked, critical_out: int | None, out: int) -> int:
        """The need with so many parts out, as a number that rises with them."""
        return -self._need(needs, asked, *self._split(critical_out, out))

    @staticmethod
    def _split(critical_out: int | None, out: int) -> tuple[int, int]:
        return (out, 0) if critical_out is None else (min(out, critical_out), max(0, out - critical_out))

    def fewest(self, critical_out: int, others_out: int) -> int:
        """The fewest sticks not started before of any plan that leaves out so many parts of each sort."""
        if self.asked == (critical_out, others_out):
            return self.least[-1]
        self.asked = (critical_out, others_out)
        self.least, self.needs, self.tightest = [], [], None
        held: list[list[float]] = []  # of each set and function, what the fewest sticks offer at least
        for n, inside in enumerate(self.inside):
            asked = self._asked(inside)
            needs = [self._need(needs, asked, critical_out, others_out) for needs, _ in self.tables]
            nested = [held[child] for child in self.children[n]]
            within = [sum(inner) for inner in zip(*nested, strict=True)] or [0.0] * len(needs)
            taken = sum(self.least[child] for child in self.children[n])
            most = self._fewest_in(n, needs, within, taken)
            share = (most - taken) / max(1, len(self.shut[n]) - taken)
            held.append(
                [inner + share * (free - inner) for inner, free in zip(within, self.free[n], strict=True)]
            )
            self.least.append(most)
            self.needs.append(needs)
        return self.least[-1]

    def _fewest_in(self, n: int, needs: list[int], within: list[float], taken: int) -> int:
        """The fewest sticks of a set, so many of them in the sets within it, which offer so much at least.

        The best of the others offer no less than their average. It saves picking them out for most functions.
        """
        most, others = taken, max(1, len(self.shut[n]) - taken)
        totals, free = self.totals[n], self.free[n]
        ratios = [need / (total + 1) for need, total in zip(needs, totals, strict=True)]
        # The tightest first: then most of the others are met by so many already.
        for t in sorted(range(len(needs)), key=ratios.__getitem__, reverse=True):
            offered = within[t] + (most - taken) * (free[t] - within[t]) / others
            if needs[t] - (totals[t] - free[t]) > offered * (1 - 1e-9):
                most = max(most, self._counted(n, needs[t], self.tables[t][1]))
        return most

    def _counted(self, n: int, need: int, offers: list[int]) -> int:
        """How many sticks of a set offer so much: as many as must in each set within, then the best."""
        chosen = self._forced(self.children[n], self.least, offers)
        count = len(chosen)
        chosen |= self.started.intersection(self.members[n])
        need -= sum([offers[i] for i in chosen])
        for offer in sorted([offers[i] for i in self.members[n] if i not in chosen], reverse=True):
            if need <= 0:
                break
            count += 1
            need -= offer
        return count

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
            self.tightest = [
                (need, [offer if area >> i & 1 else 0 for i, offer in enumerate(offers)])
                for _, need, area, offers in rows[:ROWS]
            ]
        return self.tightest

    def offers_of(self, sticks: Collection[int]) -> list[int]:
        """What these sticks offer of each of the tightest needs, after `fewest`."""
        return [sum([own[i] for i in sticks]) for _, own in self.rows]

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

    def _forced(self, sets: list[int], least: list[int], offers: list[int], shut: int = 0) -> set[int]:
        """Sticks not started that offer most, as many in each set as must be opened there."""
        chosen: set[int] = set()
        for n in sets:
            own = self._forced(self.children[n], least, offers, shut) if self.children[n] else set()
            free = [
                i for i in self.members[n] if i not in own and i not in self.started and not shut >> i & 1
            ]
            free.sort(key=offers.__getitem__, reverse=True)  # in their order where they offer as much
            chosen |= own | set(free[: max(0, least[n] - len(own))])
        return chosen

    def pick(self, count: int, shut: int = 0) -> list[int]:
        """So many sticks that promise to hold everything, after `fewest`.

        Those that hold most, if they meet the tightest needs; else all but those whose loss takes least of
        what is to spare.

        Args:
            count: sticks wanted; started ones come on top of that.
            shut: bits of sticks that may not be taken.
        """
        chosen = self._forced(self.children[-1], self.least, self.reach_of, shut)
        started = {i for i in self.started if not shut >> i & 1}
        taken = chosen | self.started
        free = [i for i in range(len(self.reach_of)) if i not in taken and not shut >> i & 1]
        free.sort(key=lambda i: (-self.reach_of[i], i))
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

    def overfull(self) -> list[int]:
        """Per kind, how many to give up so that no function speaks against the rest any more.

        A good start for the search, not a bound: long parts are given up first, critical ones last.
        """
        given = [0] * len(self.task.kinds)
        for n, inside in enumerate(self.inside):
            order = sorted(inside, key=lambda t: (self.task.kinds[t].critical, -self.task.kinds[t].width))
            for (needs, _), offer in zip(self.tables, self.totals[n], strict=True):
                over = sum([needs[t] * (self.task.kinds[t].count - given[t]) for t in inside]) - offer
                for t in order:
                    if over <= 0:
                        break
                    if needs[t]:
                        drop = min(self.task.kinds[t].count - given[t], -(-over // needs[t]))
                        given[t] += drop
                        over -= drop * needs[t]
        return given


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
