"""What kinds need and sticks offer of the functions that the bounds are made of.

A function is nondecreasing, with f(x) + f(y) <= f(x + y): parts in a bay cannot sum to more than f of what
the bay can hold. Where planks may be ripped, strips do across the plank what parts do along it: f of the
lengths times g of the widths, with g of the same family, cannot sum to more than f of the clear lengths times
g of the plank.
Functions: Martello and Toth, Knapsack Problems (1990); Carlier, Clautiaux and Moukrim (2007).
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, pairwise
from operator import mul

from bench.core.nesting_filling import Filler
from bench.core.nesting_task import Task, able

SIZES = 40  # widths that functions are made for; of more distinct ones so many from the longest down

Table = tuple[list[int], list[int]]  # of one function: what each kind needs of it, and each stick offers


def _functions(widths: Sequence[int], top: int, few: bool) -> Iterator[tuple[str, int]]:
    """The family: a form and its parameter, for the distinct widths and the largest room.

    Args:
        few: only those that tell most. Without the others three plans in 600 are no longer proved best, and
            hardly a bound is lower (quick packings of lists by chance, measured).
    """
    sizes = sorted(set(widths), reverse=True)
    sizes = sizes[:: -(-len(sizes) // SIZES)]
    yield "sum", 0
    for step in sorted({size // share for size in sizes for share in (1, 2, 3)} - {0}, reverse=True):
        yield "count", step
    for size in () if few else sizes:
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


def _ends(lengths: Iterable[int]) -> list[tuple[int, int]]:
    """Where runs of such lengths begin and end in one row."""
    return [*pairwise(accumulate(lengths, initial=0))]


def _summed(values: Sequence[int], ends: Sequence[tuple[int, int]]) -> list[int]:
    """The sum of each run of a row."""
    sums = [0, *accumulate(values)]
    return [sums[end] - sums[start] for start, end in ends]


class Offers:
    """Every function for one task."""

    def __init__(self, task: Task, filler: Filler, few: bool = False) -> None:
        self.task, self.few = task, few
        self.counts = [row.count for row in task.kinds]
        self.sums, self.reach = self._sums(filler)
        self.reach_of = [sum(row) * bar.strips for row, bar in zip(self.reach, task.bars, strict=True)]
        self._flat = [value for row in self.reach for value in row]
        self._ends = _ends([len(bar.bays) for bar in task.bars])
        self._top = max(self._flat, default=0)
        self._fitting = [min(row.width, self._top) for row in task.kinds]
        self._known: dict[tuple[str, int], Table] = {}
        self.tables = self._tables() + self._long()
        if any(bar.across for bar in task.bars):
            self.tables += self._areas()

    def _sums(
        self, filler: Filler
    ) -> tuple[list[tuple[list[int], list[tuple[int, list[int]]]]], list[list[int]]]:
        """Of sticks that the same kinds may lie in: what a strip holds at most of the kinds from each one up.

        Returns:
            (sticks, rows), the row of the longest kind first and that of all kinds last [units]; and of each
            stick and bay of one strip, what it can be filled to at most [units].
        """
        kinds, bars = range(len(self.task.kinds)), self.task.bars
        groups = dict[int, list[int]]()  # by the bits of the kinds
        for i, bits in enumerate(able(self.task)):
            groups.setdefault(bits, []).append(i)
        found, reach = [], [[0] * len(bar.bays) for bar in bars]
        for bits, sticks in groups.items():
            rooms = [room for i in sticks for room in bars[i].bays]
            ends = _ends([len(bars[i].bays) for i in sticks])
            rows = filler.reaches_from([t for t in kinds if bits >> t & 1], self.counts, rooms)
            for _, held in rows[-1:]:
                for i, (start, end) in zip(sticks, ends, strict=True):
                    reach[i] = held[start:end]
            found.append((sticks, [(kind, _summed(held, ends)) for kind, held in rows]))
        return found, reach

    def _tables(self) -> list[Table]:
        """For each function: its value per kind, and what each stick offers of it."""
        strips = [bar.strips for bar in self.task.bars]
        along = [self._along(form, size) for form, size in _functions(self._fitting, self._top, self.few)]
        return [(needs, [*map(mul, offers, strips)]) for needs, offers in along]

    def _along(self, form: str, size: int) -> Table:
        """A function of lengths: its value per kind, and what one strip of each stick offers of it."""
        if (form, size) not in self._known:
            values = _values(form, size, self._top, self._flat + self._fitting)
            self._known[form, size] = values[len(self._flat) :], _summed(values, self._ends)
        return self._known[form, size]

    def _long(self) -> list[Table]:
        """For parts of at least a width: their widths, and what each stick can hold of such parts alone.

        Without the short parts that fill the gaps, bays hold less than their room.
        """
        kinds, bars = self.task.kinds, self.task.bars
        tables = [([0] * len(kinds), [0] * len(bars)) for _ in kinds]
        for sticks, rows in self.sums:
            for shortest, held in rows:
                offers = tables[shortest][1]
                for i, strip in zip(sticks, held, strict=True):
                    offers[i] = bars[i].strips * strip
        # A kind that may not lie in a stick adds nothing there: it offers what it does of the next longer.
        everywhere = (1 << len(bars)) - 1
        for shortest in reversed(range(len(kinds) - 1)):
            for i in range(len(bars)) if kinds[shortest].sticks != everywhere else ():
                if not kinds[shortest].sticks >> i & 1:
                    tables[shortest][1][i] = tables[shortest + 1][1][i]
        for shortest, (needs, _) in enumerate(tables):
            needs[shortest:] = [row.width for row in kinds[shortest:]]
        return tables[1:]  # of all kinds it is the sum

    def _areas(self) -> list[Table]:
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
        forms = [("sum", 0), *(("count", size) for size in sorted(set(self._fitting)) if size)]
        along = [self._along(form, size) for form, size in forms]
        tables = []
        for step in [1, *sorted(set(least))]:
            wide = [width // step for width in least]
            high = [max(a // step, b // step) for a, b in zip(offered, widest, strict=True)]
            for needs, offers in along:
                tables.append(([*map(mul, needs, wide)], [*map(mul, offers, high)]))
        return tables
