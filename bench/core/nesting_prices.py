"""Shadow prices: what a bay is worth at most when each kind of part has a price, and how it is cut then.

However the prices are chosen, the parts are worth no more than the sticks they lie in: prices at which the
wanted parts are worth more than any so many sticks prove that so many sticks are not enough.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from itertools import accumulate

from bench.core.lanes import Lanes
from bench.core.nesting_yard import Yard

# Kinds that lie in a bay together, each with its number there.
Pattern = tuple[tuple[int, int], ...]

NOTE = 12  # bits for the number of a step; of the kinds that shares are worked out for there are far fewer
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
        self.room = yard.room
        # Sticks that fewer kinds may lie in come first: others go on from what was found for them.
        rows = sorted(groups.items(), key=lambda row: (len(row[0]), sorted(row[0])))
        self.groups: list[tuple[int, list[tuple[int, int]], list[int]]] = []
        for n, (may, bays) in enumerate(rows):
            before = max(
                [m for m in range(n) if rows[m][0] <= may], key=lambda m: len(rows[m][0]), default=-1
            )
            known = rows[before][0] if before >= 0 else frozenset[int]()
            self.groups.append((before, self._copies(sorted(may - known)), bays))
        self.lanes = dict[int, Lanes]()  # by how many worths they are for
        self.tables = sum([len(copies) for _, copies, _ in self.groups])

    def narrow(self, hole: int) -> None:
        """Let the hole be no wider than that."""
        self.width[self.hole] = min(self.width[self.hole], max(1, hole))

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
        count = size // ROUND * ROUND + ROUND
        if count not in self.lanes:
            self.lanes[count] = Lanes(count, self.top, NOTE)
        lanes, tables, found = self.lanes[count], list[Table](), []
        for before, copies, bays in self.groups:
            table = Table(lanes, self.top, tables[before] if before >= 0 else None)
            table.add(copies, whole, self.width)
            table.close()
            tables.append(table)
            found += [
                (bay, table.most(self.room[bay]), table) for bay in bays if wanted is None or wanted[bay]
            ]
        return found


class Table:
    """The most room that is left of the longest bay, for every worth; and what is taken then.

    The note of a number is the step that led there, counted down.
    """

    def __init__(self, lanes: Lanes, top: int, start: "Table | None") -> None:
        """Begin with what another table holds, if any; a lane for every worth that is asked for."""
        self.lanes, self.top = lanes, top
        self.row: int = start.row if start else lanes.first(top)
        # (kind, copies, their worth, the row before) of each step.
        self.steps: list[tuple[int, int, int, int]] = list(start.steps) if start else []
        # The greatest worth first: what is left with just so much, and with so much or more, which rises.
        self.exact: Sequence[int] = ()
        self.left: Sequence[int] = ()
        self.known = dict[int, Pattern]()

    def add(self, copies: Iterable[tuple[int, int]], whole: Sequence[int], widths: Sequence[int]) -> None:
        """Let some copies of kinds be taken too, if they are worth anything and have room."""
        lanes, steps, row = self.lanes, self.steps, self.row
        greater, count, last, top = lanes.greater, lanes.count, lanes.last, self.top
        for kind, many in copies:
            worth, width = whole[kind] * many, widths[kind] * many
            if 0 < worth < count and width <= top:
                steps.append((kind, many, worth, row))
                row = greater(row, worth, width, last - len(steps))
        self.row = row

    def close(self) -> None:
        """Nothing more is added."""
        self.exact = self.lanes.numbers(self.row)
        self.left = [*accumulate(self.exact, max)]

    def most(self, room: int) -> int:
        """The greatest worth that has room."""
        least = (self.top - room << NOTE) + 1  # a number without a note is of a worth that cannot be made
        return self.lanes.count - 1 - bisect_left(self.left, least)

    def pattern(self, worth: int) -> Pattern:
        """The narrowest pattern of a worth that `most` told of."""
        if worth not in self.known:
            self.known[worth] = self._pattern(worth)
        return self.known[worth]

    def _pattern(self, worth: int) -> Pattern:
        at, lanes = self.lanes.count - 1 - worth, self.lanes
        while self.exact[at] != self.left[at]:
            at -= 1
        worth, taken = lanes.count - 1 - at, dict[int, int]()
        step = lanes.last - (self.exact[at] & lanes.last)
        while step:
            kind, many, value, before = self.steps[step - 1]
            taken[kind] = taken.get(kind, 0) + many
            worth -= value
            step = lanes.last - lanes.note(before, worth)
        return tuple(sorted(taken.items()))
