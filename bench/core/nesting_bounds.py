"""What no plan can beat: the fewest sticks, and how many parts must stay out.

For a nondecreasing f with f(x) + f(y) <= f(x + y), the parts in a bay cannot sum to more than f of what the
bay can hold. So parts that need more f than some sticks offer do not all lie in them. The bounds try a family
of such functions, for all sticks and for each set of sticks that some parts are confined to. Where planks
may be ripped, strips do across the plank what parts do along it: f of the lengths times g of the widths, with
g of the same family, cannot sum to more than f of the clear lengths times g of the plank. Functions:
Martello and Toth, Knapsack Problems (1990); Carlier, Clautiaux and Moukrim (2007).
"""

from bisect import bisect_left
from collections.abc import Collection, Iterator, Sequence
from functools import partial
from itertools import accumulate, pairwise
from operator import itemgetter, mul

from bench.core.nesting_filling import Filler
from bench.core.nesting_task import Task

SIZES = 40  # widths that functions are made for; of more distinct ones so many from the longest down
FAMILY = 12  # at most so many confining sets are looked at
ROWS = 16  # so many of the tightest needs guide the choice of sticks

Asked = tuple[list[int], list[int]]  # kinds, and of every kind how many


def _functions(widths: Sequence[int], top: int) -> Iterator[tuple[str, int]]:
    """The family: a form and its parameter, for the distinct widths and the largest room."""
    sizes = sorted(set(widths), reverse=True)
    sizes = sizes[:: -(-len(sizes) // SIZES)]
    yield "sum", 0
    for step in sorted({size // share for size in sizes for share in (1, 2, 3)} - {0}, reverse=True):
        yield "count", step
    for size in sizes:
        if 2 * size <= top:
            yield "step", size
            yield "halves", size


def _values(form: str, size: int, top: int, xs: Sequence[int]) -> list[int]:
    """The function at each x, 0 <= x <= top."""
    if form == "sum":
        return list(xs)
    if form == "count":
        return [x // size for x in xs]
    if form == "step":
        return [0 if x < size else x if x <= top - size else top for x in xs]
    whole = top // size
    return [
        2 * (x // size) if 2 * x < top else whole if 2 * x == top else 2 * (whole - (top - x) // size)
        for x in xs
    ]


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
        self.sums = self._sums(filler)
        self.reach = self._reaches()  # of each bay of one strip
        self.reach_of = [sum(row) * bar.strips for row, bar in zip(self.reach, task.bars, strict=True)]
        self.flat = [value for row in self.reach for value in row]
        self.ends = [*pairwise(accumulate((len(row) for row in self.reach), initial=0))]
        self.strips = [bar.strips for bar in task.bars]
        self.top = max(self.flat, default=0)
        self.fitting = [min(row.width, self.top) for row in task.kinds]
        self.known: dict[tuple[str, int], tuple[list[int], list[int]]] = {}
        self.tables = self._tables() + self._long()
        self.ripped = any(bar.across for bar in task.bars)
        if self.ripped:
            self.tables += self._areas()
        # Of each function, what the sticks of each set offer together.
        self.totals = self._totals(self.members)
        self.shut_totals = self._totals(self.shut) if self.started else self.totals
        self.asked = (-1, -1)
        self.least: list[int] = []
        self.rows: list[tuple[int, list[int]]] = []

    def _totals(self, sets: list[list[int]]) -> list[list[int]]:
        """Of each function, what the sticks of each set offer."""
        everything, found = [*range(len(self.task.bars))], []
        for own in sets:
            if len(own) < 2:
                found.append([sum([offers[i] for i in own]) for _, offers in self.tables])
            elif own == everything:
                found.append([sum(offers) for _, offers in self.tables])
            else:
                pick = itemgetter(*own)
                found.append([sum(pick(offers)) for _, offers in self.tables])
        return [[*row] for row in zip(*found, strict=True)]

    def _laminar(self) -> list[int]:
        """Sets of sticks that parts are confined to, small ones first; any two are nested or apart."""
        taken: list[int] = []
        areas = {row.sticks for row in self.task.kinds} - {self.everywhere}
        for area in sorted(areas, key=lambda area: (area.bit_count(), area)):
            if len(taken) < FAMILY and all(area & other in (0, other) for other in taken):
                taken.append(area)
        return [*taken, self.everywhere]

    def _sums(self, filler: Filler) -> list[tuple[list[int], list[tuple[int, dict[int, int]]]]]:
        """Of sticks that the same kinds may lie in: what rooms hold at most of the kinds from each one up.

        (sticks, rows), the row of the longest kind first and that of all kinds last [units].
        """
        kinds, groups = self.task.kinds, dict[tuple[int, ...], list[int]]()
        for i in range(len(self.task.bars)):
            may = tuple(t for t, row in enumerate(kinds) if row.sticks >> i & 1)
            groups.setdefault(may, []).append(i)
        found = []
        for may, sticks in groups.items():
            rooms = sorted({room for i in sticks for room in self.task.bars[i].bays})
            rows = filler.reaches_from(may, self.counts, rooms)
            found.append((sticks, [(kind, dict(zip(rooms, sums, strict=True))) for kind, sums in rows]))
        return found

    def _reaches(self) -> list[list[int]]:
        """What each bay of each stick can be filled to at most [units]."""
        reach: list[list[int]] = [[0] * len(bar.bays) for bar in self.task.bars]
        for sticks, rows in self.sums:
            for _, held in rows[-1:]:
                for i in sticks:
                    reach[i] = [held[room] for room in self.task.bars[i].bays]
        return reach

    def _tables(self) -> list[tuple[list[int], list[int]]]:
        """For each function: its value per kind, and what each stick offers of it."""
        tables, seen = [], set()
        for form, size in _functions(self.fitting, self.top):
            needs, sums = self._along(form, size)
            offers = [*map(mul, sums, self.strips)]
            key = (tuple(needs), tuple(offers))
            if key not in seen:
                seen.add(key)
                tables.append((needs, offers))
        return tables

    def _along(self, form: str, size: int) -> tuple[list[int], list[int]]:
        """A function of lengths: its value per kind, and what one strip of each stick offers of it."""
        if (form, size) not in self.known:
            sums = [0, *accumulate(_values(form, size, self.top, self.flat))]
            offers = [sums[b] - sums[a] for a, b in self.ends]
            self.known[form, size] = _values(form, size, self.top, self.fitting), offers
        return self.known[form, size]

    def _long(self) -> list[tuple[list[int], list[int]]]:
        """For parts of at least a width: their widths, and what each stick can hold of such parts alone.

        Without the short parts that fill the gaps, bays hold less than their room.
        """
        kinds, bars = self.task.kinds, self.task.bars
        tables = [([0] * len(kinds), [0] * len(bars)) for _ in kinds]
        for sticks, rows in self.sums:
            for shortest, held in rows:
                for i in sticks:
                    strip = sum([held[room] for room in bars[i].bays])
                    tables[shortest][1][i] = bars[i].strips * strip
        # A kind that may not lie in a stick adds nothing there: it offers what it does of the next longer.
        for shortest in reversed(range(len(kinds) - 1)):
            for i in range(len(bars)):
                if not kinds[shortest].sticks >> i & 1:
                    tables[shortest][1][i] = tables[shortest + 1][1][i]
        for shortest, (needs, _) in enumerate(tables):
            needs[shortest:] = [row.width for row in kinds[shortest:]]
        return tables[1:]  # of all kinds it is the sum

    def _areas(self) -> list[tuple[list[int], list[int]]]:
        """The same for functions of length times functions of width.

        A kind counts with the narrowest strip it takes anywhere. A plank offers the greatest sum of such
        widths that it has room for, or the widest alone, as one strip may be as wide as the plank.
        """
        kinds, bars = self.task.kinds, self.task.bars
        least = [min((width for width in row.across if width), default=1) for row in kinds]
        offered, widest = [], []
        for i, bar in enumerate(bars):
            widths = {width for width, row in zip(least, kinds, strict=True) if row.sticks >> i & 1}
            sums = 1
            for width in widths:
                for _ in range(bar.across // width):
                    sums |= sums << width
            offered.append((sums & ((2 << bar.across) - 1)).bit_length() - 1)
            widest.append(max(widths, default=0))
        forms = [("sum", 0), *(("count", size) for size in sorted(set(self.fitting)) if size)]
        along = [self._along(form, size) for form, size in forms]
        tables = []
        for step in [1, *sorted(set(least))]:
            wide = [width // step for width in least]
            high = [max(a // step, b // step) for a, b in zip(offered, widest, strict=True)]
            for needs, offers in along:
                tables.append(([*map(mul, needs, wide)], [*map(mul, offers, high)]))
        return tables

    def _asked(self, kinds: list[int]) -> Asked:
        """These kinds, and how many of every kind are asked for then."""
        among = set(kinds)
        return kinds, [count if t in among else 0 for t, count in enumerate(self.counts)]

    def _need(self, needs: list[int], asked: Asked, critical_out: int, others_out: int) -> int:
        """The least f of the parts asked for, when so many of each sort stay out: those with most f do."""
        kinds, counts = asked
        if not critical_out and not others_out:
            return sum(map(mul, counts, needs))
        total, spare = 0, [others_out, critical_out]
        # Kinds rise in width, so f does too; with g it need not.
        rising = sorted(kinds, key=needs.__getitem__) if self.ripped else kinds
        for kind in reversed(rising):
            row = self.task.kinds[kind]
            drop = min(row.count, spare[row.critical])
            spare[row.critical] -= drop
            total += (row.count - drop) * needs[kind]
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
            for (needs, _), totals in zip(self.tables if asked[0] else [], self.totals, strict=False):
                offer = totals[n]
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
        least: list[int] = []
        rows: list[tuple[float, int, int, list[int]]] = []
        for area, inside, members in zip(self.family, self.inside, self.members, strict=True):
            asked = self._asked(inside)
            below = self.children[len(least)]
            most = sum(least[child] for child in below)
            n = len(least)
            for (needs, offers), totals, shut in zip(self.tables, self.totals, self.shut_totals, strict=True):
                need = self._need(needs, asked, critical_out, others_out)
                if need <= 0:
                    continue
                rows.append((need / max(1, totals[n]), need, area, offers))
                if need - (totals[n] - shut[n]) <= self._average(n, most, below, least, shut):
                    continue
                chosen = self._forced(below, least, offers) if below else set()
                count = len(chosen)
                chosen |= self.started.intersection(members)
                need -= sum([offers[i] for i in chosen])
                for offer in sorted([offers[i] for i in members if i not in chosen], reverse=True):
                    if need <= 0:
                        break
                    count += 1
                    need -= offer
                most = max(most, count)
            least.append(most)
        rows.sort(key=lambda row: -row[0])
        self.least = least
        self.rows = [
            (need, [offer if area >> i & 1 else 0 for i, offer in enumerate(offers)])
            for _, need, area, offers in rows[:ROWS]
        ]
        return least[-1]

    def _average(self, n: int, count: int, below: list[int], least: list[int], totals: list[int]) -> float:
        """What so many sticks not started of a set offer at least, in each set within it the best among them.

        The best offer no less than the average. It saves picking them out for most functions.
        """
        taken, offered = 0, 0.0
        for child in below:
            inner = self.children[child]
            taken += least[child]
            offered += self._average(child, least[child], inner, least, totals)
        others = len(self.shut[n]) - taken
        if count > taken and others:
            offered += (count - taken) * (totals[n] - offered) / others
        return offered * (1 - 1e-9)

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
        while len(stay) > count:
            shares = {i: self._share(i, spare) for i in stay}
            stay.sort(key=lambda i: (shares[i], self.reach_of[i], i))
            gone = stay[: -(-(len(stay) - count) // 4)]  # a few at a time, as the shares change little
            stay = stay[len(gone) :]
            spare = [
                left - sum([own[i] for i in gone]) for left, (_, own) in zip(spare, self.rows, strict=True)
            ]
        return sorted([*stay, *started])

    def _share(self, stick: int, spare: list[int]) -> float:
        """The greatest share of what is to spare for any need that goes with the stick."""
        share = 0.0
        for left, (_, own) in zip(spare, self.rows, strict=True):
            offer = own[stick]
            if offer:
                share = max(share, offer / left if offer <= left else 1 + (offer - max(left, 0)) / offer)
        return share

    def overfull(self) -> list[int]:
        """Per kind, how many to give up so that no function speaks against the rest any more.

        A good start for the search, not a bound: long parts are given up first, critical ones last.
        """
        given = [0] * len(self.task.kinds)
        for n, inside in enumerate(self.inside):
            order = sorted(inside, key=lambda t: (self.task.kinds[t].critical, -self.task.kinds[t].width))
            for (needs, _), totals in zip(self.tables, self.totals, strict=True):
                offer = totals[n]
                over = sum([needs[t] * (self.task.kinds[t].count - given[t]) for t in inside]) - offer
                for t in order:
                    if over <= 0:
                        break
                    if needs[t]:
                        drop = min(self.task.kinds[t].count - given[t], -(-over // needs[t]))
                        given[t] += drop
                        over -= drop * needs[t]
        return given
