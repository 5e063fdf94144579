"""The working state of the search: what lies in each bay, what is left over, and how good that is."""

from collections.abc import Iterable, Sequence
from random import Random

from bench.core.nesting_filling import Filler
from bench.core.nesting_task import Fills, Task

# Orders of the kinds for the best filling; the later kinds are preferred among equal sums. Fixed orders alone
# get stuck in lists with many equally good fillings, so most are random.
DEMANDING, CRITICAL = 0, 2
FIXED, SHUFFLED = 3, 24

Snapshot = tuple[list[list[int]], list[int], set[int]]
Score = tuple[int, int, int, int, int, int]


class Yard:
    """All bays of a task in one row, with their contents. Kinds are numbered in rising width."""

    def __init__(self, task: Task, filler: Filler, seed: int) -> None:
        self.task, self.filler, self.random = task, filler, Random(seed)
        self.width = [row.width for row in task.kinds]
        self.room = [room for bar in task.bars for room in bar.bays]
        self.home = [i for i, bar in enumerate(task.bars) for _ in bar.bays]
        self.bays: list[list[int]] = [[] for _ in task.bars]
        for bay, stick in enumerate(self.home):
            self.bays[stick].append(bay)
        self.fill: list[list[int]] = [[] for _ in self.room]
        self.rest = [row.count for row in task.kinds]
        self.open: set[int] = set()
        self._order()
        # What a part adds to the quality of the plan, for each step of its stick's rank.
        lengths = [width - task.kerf for width in self.width]
        self.worth = [n if row.critical else -n for n, row in zip(lengths, task.kinds, strict=True)]
        # A part left out costs its width squared, as long parts are the hard ones to place later; a critical
        # part costs more than all others together.
        square = [width * width for width in self.width]
        dear = sum(cost * row.count for cost, row in zip(square, task.kinds, strict=True)) + 1
        self.cost = [cost + dear * row.critical for cost, row in zip(square, task.kinds, strict=True)]

    def _order(self) -> None:
        """For each bay, which kinds may lie in it, in the fixed and in the random orders."""
        kinds = self.task.kinds
        keys: list[list[tuple[int, ...]]] = [
            [(-row.sticks.bit_count(), row.width, t) for t, row in enumerate(kinds)],
            [(row.width, -row.sticks.bit_count(), t) for t, row in enumerate(kinds)],
            [(row.critical, -row.sticks.bit_count(), row.width, t) for t, row in enumerate(kinds)],
        ]
        self.ranked = [sorted(range(len(kinds)), key=key.__getitem__) for key in keys]
        mixed = [self.random.sample(range(len(kinds)), len(kinds)) for _ in range(SHUFFLED)]
        known: dict[int, list[list[int]]] = {}
        self.orders: list[list[list[int]]] = []
        self.may: list[int] = []  # bit t is set where kind t may lie in the bay
        for bay, stick in enumerate(self.home):
            may = sum(
                1 << t
                for t, row in enumerate(kinds)
                if row.sticks >> stick & 1 and row.width <= self.room[bay]
            )
            if may not in known:
                known[may] = [[t for t in order if may >> t & 1] for order in self.ranked + mixed]
            self.may.append(may)
            self.orders.append(known[may])
        # Sticks that are alike in everything the search can tell.
        self.looks = [
            (bar, *(self.may[b] for b in own)) for bar, own in zip(self.task.bars, self.bays, strict=True)
        ]

    # Filling and emptying.

    def clear(self, pool: Sequence[int]) -> None:
        """Empty everything; `pool` is to be placed."""
        self.fill = [[] for _ in self.room]
        self.rest = list(pool)

    def lay(self, pool: Sequence[int], fills: Fills) -> None:
        """Lay what of an arrangement has room; the rest of the pool is to be placed."""
        self.clear(pool)
        for own, contents in zip(self.bays, fills, strict=True):
            for bay, kinds in zip(own, contents, strict=True):
                for kind in kinds:
                    if self.width[kind] <= self.slack(bay):
                        self.put(kind, bay)

    def empty(self, bay: int) -> None:
        """Put what lies in the bay back to what is left."""
        for kind in self.fill[bay]:
            self.rest[kind] += 1
        self.fill[bay] = []

    def put(self, kind: int, bay: int) -> None:
        """Lay one part in the bay."""
        self.rest[kind] -= 1
        self.fill[bay].append(kind)

    def slack(self, bay: int) -> int:
        """Room not taken [units]."""
        width, room = self.width, self.room[bay]
        for kind in self.fill[bay]:
            room -= width[kind]
        return room

    def top_up(self, bay: int, order: int) -> None:
        """Fill what room is left in the bay as well as it can be."""
        for kind in self.filler.fill(self.orders[bay][order], self.rest, self.slack(bay)):
            self.put(kind, bay)

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

    # Keeping and going back.

    def snapshot(self) -> Snapshot:
        """A copy of the state."""
        return [list(kinds) for kinds in self.fill], list(self.rest), set(self.open)

    def restore(self, snapshot: Snapshot) -> None:
        """Back to a copy."""
        fill, rest, opened = snapshot
        self.fill, self.rest, self.open = [list(kinds) for kinds in fill], list(rest), set(opened)

    # How good it is.

    def penalty(self, cost: Sequence[int], free: int = 0) -> int:
        """Cost of what is left; the `free` dearest parts that are not critical cost nothing."""
        total = 0
        for kind, count in enumerate(self.rest):
            if count:
                total += count * cost[kind]
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

    def piece(self) -> int:
        """The longest reusable piece that is left in any stick, opened or not [units]."""
        best = max(self.slack(bay) for bay in range(len(self.room))) - self.task.kerf if self.room else 0
        return best if best >= max(1, self.task.least) else 0

    def score(self) -> Score:
        """The tiers in their order; less is better in every one.

        Critical parts out, parts out, sticks opened, longest reusable piece, length of critical parts times
        the rank of their sticks less the same of the other parts, waste of the opened sticks.
        """
        kerf, least, width = self.task.kerf, max(1, self.task.least), self.width
        sticks = piece = quality = waste = 0
        for bar, bays in zip(self.task.bars, self.bays, strict=True):
            spare = taken = 0
            for bay in bays:
                left = self.room[bay] - kerf
                for kind in self.fill[bay]:
                    left -= width[kind]
                    taken += width[kind] - kerf
                    quality += bar.rank * self.worth[kind]
                if left >= least:
                    spare += left
                    piece = max(piece, left)
            if taken:
                sticks += 1
                waste += bar.length - taken - spare
        critical, out = self.left()
        return critical, out, sticks, -piece, -quality, waste
