"""The packing task in whole numbers, as the search sees it: kinds of part, sticks with bays, the layout.

A bay is one clear length of a stick. A part of rough length l takes the width l + kerf of a bay, and a clear
length U offers the room U + kerf; after that the blade needs no further thought.
"""

from bisect import bisect_left
from itertools import accumulate
from operator import or_

from bench.core.frozen import record

# Of each stick and bay, the kinds that lie there; all bays of the first strip, then of the second.
Fills = tuple[tuple[tuple[int, ...], ...], ...]


@record
class Kind:
    """Equal parts, merged."""

    width: int  # rough length + kerf [units]
    count: int
    critical: bool
    sticks: int  # bit i is set where stick i may become this part
    wish: bool = False  # from sticks of high rank
    across: tuple[int, ...] = ()  # of each stick, strip + rip kerf; nothing where no stick may be ripped


@record
class Bar:
    """A stick, as its bays."""

    bays: tuple[int, ...]  # clear length + kerf [units]
    length: int  # whole, with what is lost [units]
    rank: int  # quality, greater is better
    started: bool = False  # using it opens no stick
    across: int = 0  # what strips share, two at least; 0: it is never ripped [units of width]
    narrow: int = 0  # the narrowest strip that is wanted + rip kerf [units of width]
    strips: int = 1  # at most so many


@record
class Task:
    """What is to be packed into what."""

    kinds: tuple[Kind, ...]
    bars: tuple[Bar, ...]
    kerf: int  # [units]
    least: int  # shortest leftover that counts as reusable [units]


@record
class Layout:
    """An arrangement with what is proved about it.

    `fills[stick][bay]` lists the kinds that lie there, `out[kind]` how many of a kind do not lie anywhere.
    """

    fills: Fills
    out: tuple[int, ...]
    fewest: int  # no plan that leaves out as many parts opens fewer sticks, started ones not counted
    proved: bool  # nothing better exists in parts left out and sticks opened


def groups(task: Task) -> list[tuple[list[int], list[int]]]:
    """Kinds (rising in width) and sticks that hang together: a kind fits a stick and may be cut from it."""
    longest = [max(bar.bays, default=0) for bar in task.bars]
    rising = sorted(range(len(longest)), key=longest.__getitem__)
    rooms = [longest[i] for i in rising]
    # Bits of the sticks that have so much room: all but the first so many.
    roomy = [*accumulate((1 << i for i in reversed(rising)), or_, initial=0)][::-1]
    found: list[tuple[int, list[int]]] = []
    for t, row in enumerate(task.kinds):
        area = row.sticks & roomy[bisect_left(rooms, row.width)] if row.count else 0
        if area:
            joined = [group for group in found if group[0] & area]
            found = [group for group in found if not group[0] & area]
            members = [t]
            for other, own in joined:
                area |= other
                members += own
            found.append((area, members))
    rows = []
    for area, members in found:
        members.sort(key=lambda t: (task.kinds[t].width, task.kinds[t].critical, task.kinds[t].sticks))
        rows.append((members, [i for i in range(len(task.bars)) if area >> i & 1]))
    return sorted(rows, key=lambda group: group[1])


def able(task: Task) -> list[int]:
    """Of each stick, the kinds that may be cut from it, their length aside: bit t for kind t."""
    bits = dict[int, int]()
    for t, row in enumerate(task.kinds):
        bits[row.sticks] = bits.get(row.sticks, 0) | 1 << t
    return [sum([own for sticks, own in bits.items() if sticks >> i & 1]) for i in range(len(task.bars))]


def part_of(task: Task, kinds: list[int], bars: list[int]) -> Task:
    """The task of one group, sticks numbered anew."""
    if len(bars) == len(task.bars):
        return Task(tuple(task.kinds[t] for t in kinds), task.bars, task.kerf, task.least)
    rows = []
    ripped = any(task.bars[i].across for i in bars)
    for t in kinds:
        row = task.kinds[t]
        sticks = sum(1 << n for n, i in enumerate(bars) if row.sticks >> i & 1)
        across = tuple(row.across[i] for i in bars) if ripped else ()
        rows.append(Kind(row.width, row.count, row.critical, sticks, row.wish, across))
    return Task(tuple(rows), tuple(task.bars[i] for i in bars), task.kerf, task.least)
