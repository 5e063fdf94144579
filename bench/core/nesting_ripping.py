"""A quick packing of planks: they are ripped one by one, each strip as wide as gives most for its wood."""

from collections import Counter
from collections.abc import Iterable, Sequence

from bench.core.nesting_strips import StripYard
from bench.core.nesting_yard import DEMANDING

Fill = list[list[int]]  # of each bay of a strip, the kinds in it


def rip(yard: StripYard, bays: Iterable[int]) -> None:
    """Rip the planks of some bays, in the order of these."""
    for stick in dict.fromkeys(yard.home[bay] for bay in bays):
        if yard.task.bars[stick].across:
            _rip_one(yard, stick)
        else:
            yard.top_up(yard.bays[stick], DEMANDING)


def _rip_one(yard: StripYard, stick: int) -> None:
    fills, width, across = Fill(), 0, yard.task.bars[stick].across
    for strip in yard.own[stick]:
        # The same again while there is enough of it: nothing that is left now gives more than it did.
        if not (_left_for(yard, fills) and yard.taken[stick] + width <= across):
            found = [_yield(yard, strip, wide) for wide in _open_widths(yard, strip)]
            share, width, fills = max(found, key=lambda row: row[0], default=(0.0, 0, Fill()))
            if not share:
                break
        for bay, kinds in zip(yard.strips[strip], fills, strict=True):
            yard.put_all(kinds, bay)


def _left_for(yard: StripYard, fills: Sequence[Sequence[int]]) -> bool:
    """Are there parts enough for the contents of a strip once more?"""
    kinds = [kind for fill in fills for kind in fill]
    return bool(kinds) and all(yard.rest[kind] >= many for kind, many in Counter(kinds).items())


def _open_widths(yard: StripYard, strip: int) -> list[int]:
    """How wide a strip not in use may be for what is left, the widest first."""
    bays = yard.strips[strip]
    across, left = yard.across[yard.home[bays[0]]], [kind for kind, n in enumerate(yard.rest) if n]
    return sorted({across[kind] for bay in bays for kind in yard.able(bay, left)}, reverse=True)


def _yield(yard: StripYard, strip: int, width: int) -> tuple[float, int, Fill]:
    """What a strip of a width gives: parts for the wood it takes [1]; the width; what lies there then."""
    rest, gives, fills, long = list(yard.rest), 0, Fill(), yard.width
    stick = yard.home[yard.strips[strip][0]]
    # Parts of that width, then narrower ones in what room is left; and the shortest of either.
    orders = [left for kinds in yard.parted(stick, width) if (left := [kind for kind in kinds if rest[kind]])]
    wanted = [(left, min([long[kind] for kind in left])) for left in orders]
    for bay in yard.strips[strip]:
        room, taken = yard.free[bay], list[int]()
        for left, shortest in wanted:
            for kind in yard.filler.fill(left, rest, room, yard.may[bay]) if shortest <= room else ():
                rest[kind] -= 1
                room -= long[kind]
                taken.append(kind)
        gives += sum([long[kind] * yard.across[stick][kind] for kind in taken])
        fills.append(taken)
    return gives / (width * sum([yard.room[bay] for bay in yard.strips[strip]])), width, fills
