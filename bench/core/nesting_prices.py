"""Shadow prices: what a bay is worth at most when each kind of part has a price, and how it is cut then.

However the prices are chosen, the parts are worth no more than the sticks they lie in: prices at which the
wanted parts are worth more than any so many sticks prove that so many sticks are not enough.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from itertools import accumulate

from bench.core.frozen import record
from bench.core.lanes import Lanes
from bench.core.nesting_yard import Yard

# Kinds that lie in a bay together, each with its number there.
Pattern = tuple[tuple[int, int], ...]

ROUND = 16  # worths are looked at in so many at a time
SHARE, ONCE = 2600, 3  # kinds times levels that take the time of one move of the search; beside `ONCE` moves


class Prices:
    """The dearest pattern of each bay, for prices in whole numbers.

    It is found over the worth, not over the length: the least width that is worth so much. A hundred steps of
    worth are soon gone through, while a bay has thousands of steps of length.
    """

    def __init__(self, yard: Yard, counts: Sequence[int], hole: int = 1) -> None:
        """Take the bays of all sticks, how many of each kind are wanted, and the width of a hole.

        The hole is a kind more, the last one, of which one may lie in any bay.
        """
        kinds = yard.task.kinds
        self.width, self.counts, self.hole = [*yard.width, max(1, hole)], [*counts, 1], len(kinds)
        self.top = max(yard.room)
        groups = dict[frozenset[int], list[int]]()
        for stick, bays in enumerate(yard.bays):
            may = frozenset(t for t, row in enumerate(kinds) if row.sticks >> stick & 1 and counts[t])
            groups.setdefault(may | {self.hole}, []).extend(bays)
        # Sticks that fewer kinds may lie in come first: others go on from what was found for them.
        rows = sorted(groups.items(), key=lambda row: (len(row[0]), sorted(row[0])))
        self.groups = list[_Group]()
        for n, (may, bays) in enumerate(rows):
            before = max(
                [m for m in range(n) if rows[m][0] <= may], key=lambda m: len(rows[m][0]), default=-1
            )
            known = rows[before][0] if before >= 0 else frozenset[int]()
            started = [*self.groups[before].copies] if before >= 0 else []
            copies = [*started, *self._copies(sorted(may - known))]
            left = [(bay, self.top - yard.room[bay]) for bay in bays]
            self.groups.append(_Group(before, len(started), self.top, copies, left))
        self.lanes = dict[int, tuple[Lanes, list[_Steps]]]()  # by how many worths they are for
        self.tables = sum([len(group.copies) - group.known for group in self.groups])

    def narrow(self, hole: int) -> None:
        """Let the hole be no wider than that."""
        if hole < self.width[self.hole]:
            self.width[self.hole] = max(1, hole)
            self.lanes.clear()

    def _copies(self, kinds: Iterable[int]) -> list[tuple[int, int]]:
        """(kind, copies taken together) so that any number that may lie in a bay can be made."""
        rows = []
        for kind in kinds:
            left, step = min(self.counts[kind], self.top // self.width[kind]), 1
            while left > 0:
                rows.append((kind, min(step, left)))
                left -= step
                step *= 2
        return rows

    def moves(self, levels: int) -> int:
        """The moves of the search that take as long as `best`."""
        return ONCE + self.tables * levels // SHARE

    def whole(self, prices: Sequence[float], levels: int) -> list[int]:
        """Prices in whole numbers, the longest bay filled with the dearest kind worth so many levels."""
        dearest = max([price / width for price, width in zip(prices, self.width, strict=True)])
        scale = levels / (dearest * self.top) if dearest > 0 else 0.0
        return [int(max(0.0, price) * scale + 0.5) for price in prices]

    def best(
        self, whole: Sequence[int], wanted: Sequence[bool] | None = None
    ) -> list[tuple[int, int, "Table"]]:
        """(bay, the most it can hold in worth, the table that tells the pattern) of all, or those wanted."""
        size = 1 + int(
            self.top * max([price / width for price, width in zip(whole, self.width, strict=True)])
        )
        lanes, steps = self._lanes(size // ROUND * ROUND + ROUND)
        tables, found = list[Table](), []
        for group, (taken, bays) in zip(self.groups, steps, strict=True):
            start = tables[group.before] if group.before >= 0 else None
            table = Table(lanes, group, whole, taken, start)
            tables.append(table)
            found += table.most(bays if wanted is None else [row for row in bays if wanted[row[0]]])
        return found

    def _lanes(self, count: int) -> tuple[Lanes, list["_Steps"]]:
        """Lanes for so many worths, and how the groups look in them."""
        if count not in self.lanes:
            lanes, width = Lanes(count, self.top, max(len(group.copies) for group in self.groups)), self.width
            rows = list[_Steps]()
            for group in self.groups:
                taken = [
                    lanes.taken(width[kind] * many, step)
                    for step, (kind, many) in enumerate(group.copies[group.known :], group.known)
                ]
                rows.append((taken, [(bay, lanes.least(left)) for bay, left in group.bays]))
            self.lanes[count] = lanes, rows
        return self.lanes[count]


# What is taken in each step that is new in a group; its bays with what is left where they are full.
_Steps = tuple[list[int], list[tuple[int, int]]]


@record
class _Group:
    """Bays that the same kinds may lie in."""

    before: int  # the group whose copies are the first of these, or -1
    known: int  # how many that are
    top: int  # room of the longest bay of all [units]
    copies: list[tuple[int, int]]  # (kind, copies taken together), a step for each
    bays: list[tuple[int, int]]  # (bay, what is left of the longest one where it is full)


class Table:
    """The most room that is left of the longest bay, for every worth; and what is taken then."""

    def __init__(
        self, lanes: Lanes, group: _Group, whole: Sequence[int], taken: Sequence[int], start: "Table | None"
    ) -> None:
        """Go on from what another table holds, if any; `taken` is of the steps that are new."""
        own = [whole[kind] * many for kind, many in group.copies[group.known :]]
        row = start.rows[-1] if start else lanes.first(group.top)
        rows = lanes.greatest(row, zip(own, taken, strict=True))
        self.lanes, self.copies = lanes, group.copies
        # Of each step the worth; the row before it, and the one after the last.
        self.worths: list[int] = [*start.worths, *own] if start else own
        self.rows: list[int] = [*start.rows, *rows[1:]] if start else rows
        # The greatest worth first: what is left with so much or more, which rises.
        self.left = [*accumulate(lanes.numbers(rows[-1]), max)]
        self.made: dict[int, Pattern] = {}

    def most(self, bays: Iterable[tuple[int, int]]) -> list[tuple[int, int, "Table"]]:
        """(bay, the greatest worth that has room, this table) for bays and what is left in full ones."""
        left, last = self.left, self.lanes.count - 1
        return [(bay, last - bisect_left(left, least), self) for bay, least in bays]

    def pattern(self, worth: int) -> Pattern:
        """The narrowest pattern of a worth that `most` told of."""
        if worth not in self.made:
            self.made[worth] = self._pattern(worth)
        return self.made[worth]

    def _pattern(self, worth: int) -> Pattern:
        taken: dict[int, int] = {}
        # The first worth at which so much is left is just that worth.
        for step in self.lanes.trail(self.rows, self.worths, self.lanes.count - 1 - worth):
            kind, many = self.copies[step]
            taken[kind] = taken.get(kind, 0) + many
        return tuple(sorted(taken.items()))
