"""Shadow prices: what a bay is worth at most when each kind of part has a price, and how it is cut then.

However the prices are chosen, the parts are worth no more than the sticks they lie in: prices at which the
wanted parts are worth more than any so many sticks prove that so many sticks are not enough.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence

from bench.core.nesting_yard import Yard

# Kinds that lie in a bay together, each with its number there.
Pattern = tuple[tuple[int, int], ...]

NEVER = 1 << 60  # wider than any bay
SHARE = 500  # kinds times levels that take the time of one move of the search


class Prices:
    """The dearest pattern of each bay, for prices in whole numbers.

    It is found over the worth, not over the length: the least width that is worth so much. A hundred steps of
    worth are soon gone through, while a bay has thousands of steps of length.
    """

    def __init__(self, yard: Yard, counts: Sequence[int]) -> None:
        """Take the bays of all sticks, and how many of each kind are wanted."""
        self.width, self.counts, kinds = yard.width, counts, yard.task.kinds
        self.top = max(yard.room)
        groups = dict[frozenset[int], list[int]]()
        for stick, bays in enumerate(yard.bays):
            may = frozenset(t for t, row in enumerate(kinds) if row.sticks >> stick & 1 and counts[t])
            groups.setdefault(may, []).extend(bays)
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
        self.tables = sum([len(copies) for _, copies, _ in self.groups])

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
        return 1 + self.tables * levels // SHARE

    def whole(self, prices: Sequence[float], levels: int) -> list[int]:
        """Prices in whole numbers, the longest bay filled with the dearest kind worth so many levels."""
        dearest = max([price / width for price, width in zip(prices, self.width, strict=True)])
        scale = levels / (dearest * self.top) if dearest > 0 else 0.0
        return [int(max(0.0, price) * scale + 0.5) for price in prices]

    def best(self, whole: Sequence[int]) -> list[tuple[int, int, "Table"]]:
        """(bay, the most it can hold in worth, the table that tells the pattern) of each bay."""
        size = 1 + int(
            self.top * max([price / width for price, width in zip(whole, self.width, strict=True)])
        )
        tables, found = list[Table](), []
        for before, copies, bays in self.groups:
            table = Table(size, tables[before] if before >= 0 else None)
            for kind, many in copies:
                table.add(kind, many, whole[kind] * many, self.width[kind] * many)
            table.close()
            tables.append(table)
            least, room = table.least, self.room
            found += [(bay, bisect_right(least, room[bay]) - 1, table) for bay in bays]
        return found


class Table:
    """The least width worth so much, for every worth; and what is taken then."""

    def __init__(self, size: int, start: "Table | None") -> None:
        """Begin with what another table holds, if any; `size` is the greatest worth asked for."""
        self.size = size
        self.exact: list[int] = start.exact if start else [0]
        # (kind, copies, their worth, their width, the least widths before) of each step.
        self.steps: list[tuple[int, int, int, int, list[int]]] = list(start.steps) if start else []
        self.least: list[int] = []
        self.known = dict[int, Pattern]()

    def add(self, kind: int, many: int, worth: int, width: int) -> None:
        """Let some copies of a kind be taken too."""
        if not 0 < worth <= self.size:
            return
        least = self.exact
        self.steps.append((kind, many, worth, width, least))
        if len(least) < worth:
            least = least + [NEVER] * (worth - len(least))
        both = [
            old if old < (new := before + width) else new
            for old, before in zip(least[worth:], least, strict=False)
        ]
        more = [before + width for before in least[len(least) - worth : self.size + 1 - worth]]
        self.exact = least[:worth] + both + more

    def close(self) -> None:
        """Nothing more is added."""
        self.least = list(self.exact)
        narrowest = NEVER
        for worth in range(len(self.least) - 1, -1, -1):  # the least width worth so much or more, which rises
            narrowest = self.least[worth] = min(narrowest, self.least[worth])

    def pattern(self, worth: int) -> Pattern:
        """The narrowest pattern of a worth that `best` told of."""
        if worth not in self.known:
            self.known[worth] = self._pattern(worth)
        return self.known[worth]

    def _pattern(self, worth: int) -> Pattern:
        while self.exact[worth] != self.least[worth]:
            worth += 1
        taken = dict[int, int]()
        for kind, many, value, wide, before in reversed(self.steps):
            without = before[worth] if worth < len(before) else NEVER
            if value <= worth < value + len(before) and before[worth - value] + wide < without:
                taken[kind] = taken.get(kind, 0) + many
                worth -= value
        return tuple(sorted(taken.items()))
