"""The working state of the search: what lies in each bay, what is left over, and how good that is."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from math import isqrt
from operator import mul
from random import Random

from bench.core.nesting_filling import Filler
from bench.core.nesting_task import Fills, Task, able

# Orders of the kinds for the best filling; the later kinds are preferred among equal sums. Fixed orders alone
# get stuck in lists with many equally good fillings, so most are random.
DEMANDING, CRITICAL = 0, 2
FIXED, SHUFFLED = 3, 24

Snapshot = tuple[list[list[int]], list[int], set[int], list[int]]
Score = tuple[int, int, int, int, int, int]


class Yard:
    """All bays of a task in one row, with their contents. Kinds are numbered in rising width."""

    ripped = False  # are there planks that may be ripped?
    steps = 0.85  # that a move of the search counts for, beside what it looks at

    def __init__(self, task: Task, filler: Filler, seed: int) -> None:
        self.task, self.filler, self.random = task, filler, Random(seed)
        self.width = [row.width for row in task.kinds]
        self.room = [room for bar in task.bars for _ in range(bar.strips) for room in bar.bays]
        self.home = [i for i, bar in enumerate(task.bars) for _ in range(bar.strips) for _ in bar.bays]
        self.bays: list[list[int]] = [[] for _ in task.bars]
        for bay, stick in enumerate(self.home):
            self.bays[stick].append(bay)
        self.fill: list[list[int]] = [[] for _ in self.room]
        self.free = list(self.room)  # of each bay, room not taken [units]
        self.rest = [row.count for row in task.kinds]
        self.open: set[int] = set()
        self.started = {i for i, bar in enumerate(task.bars) if bar.started}
        self._order()
        self.falling = sorted(range(len(self.room)), key=lambda bay: (-self.room[bay], bay))
        # Bays that can take few kinds first: what they do not take is still welcome elsewhere.
        self.choosy = sorted(self.falling, key=lambda bay: self.may[bay].bit_count())
        # What a part adds to the quality of the plan, for each step of its stick's rank.
        lengths = [width - task.kerf for width in self.width]
        self.worth = [
            n if row.critical or row.wish else -n for n, row in zip(lengths, task.kinds, strict=True)
        ]
        # A critical part left out costs more than all others together.
        square = self._hardness()
        dear = sum(cost * row.count for cost, row in zip(square, task.kinds, strict=True)) + 1
        self.cost = [cost + dear * row.critical for cost, row in zip(square, task.kinds, strict=True)]

    def _hardness(self) -> list[int]:
        """Of each kind, how hard it is to place later: by its length, and by how few bays may take it.

        The length to the power of 5/4: that of two parts one long one is the harder, if not by much.
        """
        hosts = [0] * len(self.width)
        for may, many in Counter(self.may).items():
            for kind in range(may.bit_length()):
                hosts[kind] += many * (may >> kind & 1)
        bays = len(self.may)
        return [
            isqrt(isqrt(width**5 << 32)) * bays // max(1, many)
            for width, many in zip(self.width, hosts, strict=True)
        ]

    def _order(self) -> None:
        """The fixed and the random orders of the kinds, and for each bay which of them may lie in it."""
        kinds = self.task.kinds
        keys: list[list[tuple[int, ...]]] = [
            [(-row.sticks.bit_count(), row.width, t) for t, row in enumerate(kinds)],
            [(row.width, -row.sticks.bit_count(), t) for t, row in enumerate(kinds)],
            [(row.critical, -row.sticks.bit_count(), row.width, t) for t, row in enumerate(kinds)],
        ]
        self.ranked = [sorted(range(len(kinds)), key=key.__getitem__) for key in keys]
        chance = self.random.random
        self.keys = [[chance() for _ in kinds] for _ in range(SHUFFLED)]
        for key in self.keys[::2]:  # every other one has rather the long kinds last
            key[:] = [row.width * (2 + n) for row, n in zip(kinds, key, strict=True)]
        self.orders: list[list[int]] = [*self.ranked, *([] for _ in self.keys)]  # filled in when asked for
        self.may: list[int] = []  # bit t is set where kind t may lie in the bay
        for may, own in zip(able(self.task), self.bays, strict=True):
            for bay in own:
                self.may.append(may & ((1 << bisect_right(self.width, self.room[bay])) - 1))
        self.takes = [0] * len(self.bays)  # of each stick, the kinds that some bay of it may take
        for stick, may in zip(self.home, self.may, strict=True):
            self.takes[stick] |= may
        # Sticks that are alike in everything the search can tell have the same number.
        numbers: dict[tuple[object, ...], int] = {}
        self.looks = []
        for i, (bar, own) in enumerate(zip(self.task.bars, self.bays, strict=True)):
            look = (bar, *(self.may[b] for b in own), *(row.across[i] for row in kinds if row.across))
            self.looks.append(numbers.setdefault(look, len(numbers)))

    # Filling and emptying.

    def clear(self, pool: Sequence[int]) -> None:
        """Empty everything; `pool` is to be placed."""
        self.fill = [[] for _ in self.room]
        self.free = list(self.room)
        self.rest = list(pool)

    def lay(self, pool: Sequence[int], fills: Fills) -> None:
        """Lay what of an arrangement has room; the rest of the pool is to be placed."""
        self.clear(pool)
        for own, contents in zip(self.bays, fills, strict=True):
            for bay, kinds in zip(own, contents, strict=True):
                for kind in kinds:
                    if self.width[kind] <= self.free[bay] and self.can(kind, bay):
                        self.put(kind, bay)

    def can(self, kind: int, bay: int) -> bool:
        """May the kind lie in the bay, whatever room is left there?"""
        return bool(self.may[bay] >> kind & 1)

    def empty(self, bays: Iterable[int]) -> None:
        """Put what lies in the bays back to what is left."""
        rest, fill, free, room = self.rest, self.fill, self.free, self.room
        for bay in bays:
            for kind in fill[bay]:
                rest[kind] += 1
            fill[bay] = []
            free[bay] = room[bay]

    def put(self, kind: int, bay: int) -> None:
        """Lay one part in the bay."""
        self.rest[kind] -= 1
        self.fill[bay].append(kind)
        self.free[bay] -= self.width[kind]

    def take(self, kind: int, bay: int) -> None:
        """Take one part of the kind off the bay; it is left nowhere."""
        kinds = list(self.fill[bay])
        kinds.remove(kind)
        self.change(bay, kinds)

    def change(self, bay: int, kinds: list[int], free: int = -1) -> None:
        """Let other kinds lie in the bay; the room they leave free there may be given if it is known."""
        self.fill[bay] = kinds
        self.free[bay] = self.room[bay] - sum([self.width[kind] for kind in kinds]) if free < 0 else free

    def top_up(self, bays: Iterable[int], order: int) -> None:
        """Fill what room is left in one bay after the other as well as it can be."""
        rest, fill, free, width, may = self.rest, self.fill, self.free, self.width, self.may
        wanted = [kind for kind in self.order(order) if rest[kind]]
        for bay in bays:
            for kind in self.filler.fill(wanted, rest, free[bay], may[bay]):
                rest[kind] -= 1
                fill[bay].append(kind)
                free[bay] -= width[kind]

    def holds(self, sticks: Iterable[int]) -> bool:
        """Do the strips of these sticks lie side by side? Where nothing is ripped there is nothing to ask."""
        return True

    def order(self, number: int) -> list[int]:
        """All kinds in one of the orders."""
        if not self.orders[number]:
            key = self.keys[number - FIXED]
            self.orders[number] = sorted(range(len(self.width)), key=key.__getitem__)
        return self.orders[number]

    def any_key(self) -> Callable[[int], float]:
        """One of the random orders, as the place of each kind in it."""
        return self.keys[int(self.random.random() * SHUFFLED)].__getitem__

    def any_order(self) -> int:
        """One of the random orders."""
        return FIXED + int(self.random.random() * SHUFFLED)

    def bays_in(self, sticks: Iterable[int]) -> list[int]:
        """The bays of these sticks that can take anything."""
        return [bay for stick in sticks for bay in self.bays[stick] if self.may[bay]]

    def content(self, stick: int) -> list[int]:
        """Kinds that lie in the stick."""
        return [kind for bay in self.bays[stick] for kind in self.fill[bay]]

    def used(self) -> list[int]:
        """Sticks with at least one part."""
        return [i for i, bays in enumerate(self.bays) if any(self.fill[bay] for bay in bays)]

    def opened(self) -> list[int]:
        """Those of them that were not started before."""
        return [i for i in self.used() if i not in self.started]

    # Keeping and going back.

    def snapshot(self) -> Snapshot:
        """A copy of the state."""
        return [list(kinds) for kinds in self.fill], list(self.rest), set(self.open), list(self.free)

    def restore(self, snapshot: Snapshot) -> None:
        """Back to a copy."""
        fill, rest, opened, free = snapshot
        self.fill, self.rest, self.open = [list(kinds) for kinds in fill], list(rest), set(opened)
        self.free = list(free)

    def keep(self) -> Callable[[], None]:
        """Note the state before a move that fills only bays that it empties; returns what goes back."""
        fill, free, rest = list(self.fill), list(self.free), list(self.rest)

        def back() -> None:
            self.fill, self.free, self.rest = fill, free, rest

        return back

    # How good it is.

    def penalty(self, cost: Sequence[int], free: int = 0) -> int:
        """Cost of what is left; the `free` dearest parts that are not critical cost nothing."""
        total: int = sum(map(mul, self.rest, cost))
        for kind in reversed(range(len(self.rest))) if free else ():
            if not self.task.kinds[kind].critical:
                spared = min(free, self.rest[kind])
                total -= spared * cost[kind]
                free -= spared
        return total

    def left(self) -> tuple[int, int]:
        """How many parts are left: critical, and all."""
        critical = sum(n for n, row in zip(self.rest, self.task.kinds, strict=True) if row.critical)
        return critical, sum(self.rest)

    def left_parts(self) -> list[int]:
        """The kind of each part that is left."""
        return [kind for kind, count in enumerate(self.rest) if count for _ in range(count)]

    def lying(self) -> list[int]:
        """How many of each kind lie somewhere."""
        lying = [0] * len(self.rest)
        for kinds in self.fill:
            for kind in kinds:
                lying[kind] += 1
        return lying

    def piece(self) -> int:
        """The longest reusable piece that is left in any stick, opened or not [units]."""
        best = max(self.free) - self.task.kerf if self.room else 0
        return best if best >= max(1, self.task.least) else 0

    def leftovers(self, stick: int) -> tuple[int, list[int]]:
        """Whole lengths of a stick that are used, and the room not taken in each bay there [units]."""
        bays = self.bays[stick]
        return int(any(self.fill[bay] for bay in bays)), [self.free[bay] for bay in bays]

    def score(self) -> Score:
        """The tiers in their order; less is better in every one.

        Critical parts out, parts out, sticks opened, longest reusable piece, length of critical and wished
        parts times the rank of their sticks less the same of the other parts, waste.
        """
        critical, out = self.left()
        sticks, quality, waste = self.amounts(range(len(self.bays)))
        return critical, out, sticks, -self.piece(), quality, waste

    def amounts(self, sticks: Iterable[int]) -> tuple[int, int, int]:
        """What some sticks add to the score: sticks opened, quality below nothing, waste."""
        kerf, least, width, worth = self.task.kerf, max(1, self.task.least), self.width, self.worth
        opened = quality = waste = 0
        for i in sticks:
            kinds = self.content(i)
            if not kinds:
                continue
            bar = self.task.bars[i]
            rows, free = self.leftovers(i)
            opened += not bar.started
            if bar.rank:
                quality -= bar.rank * sum([worth[kind] for kind in kinds])
            waste += rows * bar.length - sum([width[kind] for kind in kinds]) + kerf * len(kinds)
            waste -= sum([left - kerf for left in free if left - kerf >= least])
        return opened, quality, waste


def lightest(yard: Yard) -> int:
    """The opened stick from which least is cut."""
    return min(yard.opened(), key=lambda i: (sum([yard.width[kind] for kind in yard.content(i)]), i))


def shut_lightest(yard: Yard) -> None:
    """Close that stick, and fill up the others."""
    stick = lightest(yard)
    yard.open = (set(yard.used()) | yard.started) - {stick}
    yard.empty(yard.bays[stick])
    yard.top_up(yard.bays_in(sorted(yard.open)), DEMANDING)
