"""The best filling of one bay: the selection of parts with the greatest sum that its room takes.

The sums that can be made are the bits of one long integer, so that adding a kind of part is a shift and an
or.
"""

from collections.abc import Sequence

CELLS = 32_768  # longest bay in bits; finer units than this are put on a coarser grid
TRIES = 6
SPILL = 4  # sums of so many bays are carried along, which is quicker than to cut them off each time
ENOUGH = 48  # kinds are plenty to fill a bay from


def _more(bits: int, width: int, count: int) -> int:
    """The sums that can be made with up to so many parts of a width more: by 1, 2, 4, ... at a time."""
    step = 1
    while count > 0:
        take = min(step, count)
        bits |= bits << (width * take)
        count -= take
        step *= 2
    return bits


class Filler:
    """Fills bays with parts of fixed widths."""

    def __init__(self, widths: Sequence[int], longest: int) -> None:
        """Take the widths of the kinds and the room of the longest bay, both in [units]."""
        self.widths = list(widths)
        self.grid = max(1, -(-longest // CELLS))
        # Rounded down, widths and room alike, so that no selection that fits is ever lost; one that does not
        # fit after all is found out by the exact sum.
        self.cells = [max(1, width // self.grid) for width in self.widths]

    def fill(self, order: Sequence[int], rest: Sequence[int], room: int, may: int = -1) -> list[int]:
        """The kinds, repeated as often as taken, with the greatest sum up to `room` [units].

        Args:
            order: kinds; among equal sums the later ones are preferred. May be empty.
            rest: how many of each kind are at hand.
            room: of the bay [units].
            may: bits of the kinds that may lie here.
        """
        widths = self.widths
        order = [kind for kind in order if may >> kind & 1 and rest[kind] and widths[kind] <= room]
        if not order:
            return []
        if len(order) > ENOUGH:
            order = order[-ENOUGH:]
        if sum([widths[kind] * rest[kind] for kind in order]) <= room:
            return [kind for kind in order for _ in range(rest[kind])]
        if len(order) == 1:
            return order * (room // widths[order[0]])
        space = room // self.grid
        cells, bits, top = self.cells, 1, 0
        trail: list[tuple[int, int, int]] = []
        for kind in order:
            count, width = rest[kind], cells[kind]
            if count * width > space:
                count = space // width
            trail.append((kind, count, bits))
            bits = bits | bits << width if count == 1 else _more(bits, width, count)
            top += count * width
            if top > SPILL * space:
                bits &= (2 << space) - 1
                top = space
        if top > space:
            bits &= (2 << space) - 1
        if self.grid == 1:
            return self._trace(trail, bits.bit_length() - 1)
        return self._coarse(trail, bits, room)

    def pick(self, parts: Sequence[int], room: int, may: int) -> list[int]:
        """The same from a handful of parts, the kind of each one by one; the later ones are preferred.

        Made for moves by the thousand: nothing is grouped, nothing is counted.
        """
        cells, bits = self.cells, 1
        space = room // self.grid
        mask = (2 << space) - 1
        trail: list[tuple[int, int, int]] = []
        for kind in parts:
            width = cells[kind]
            if width <= space and may >> kind & 1:
                trail.append((kind, 1, bits))
                bits |= bits << width & mask
        if not trail:
            return []
        if self.grid == 1:
            return self._trace(trail, bits.bit_length() - 1)
        return self._coarse(trail, bits, room)

    def _trace(self, trail: list[tuple[int, int, int]], total: int) -> list[int]:
        """The selection that makes `total` [cells], most copies of the later kinds first."""
        taken: list[int] = []
        cells = self.cells
        for kind, count, before in reversed(trail):
            width = cells[kind]
            if count == 1:
                if total >= width and before >> (total - width) & 1:
                    taken.append(kind)
                    total -= width
            else:
                copies = min(count, total // width)
                while copies and not before >> (total - copies * width) & 1:
                    copies -= 1
                taken += [kind] * copies
                total -= copies * width
            if not total:
                break
        return taken

    def _coarse(self, trail: list[tuple[int, int, int]], bits: int, room: int) -> list[int]:
        """The best selection that the exact sum confirms; goes down by what the last one was too long."""
        taken: list[int] = []
        for _ in range(TRIES):
            total = bits.bit_length() - 1
            taken = self._trace(trail, total)
            over = sum(self.widths[kind] for kind in taken) - room
            if over <= 0:
                return taken
            bits &= (1 << max(1, total - over // self.grid)) - 1
        taken.sort(key=lambda kind: self.widths[kind])
        while sum(self.widths[kind] for kind in taken) > room:
            taken.pop(0)
        return taken

    def reaches_from(
        self, kinds: Sequence[int], counts: Sequence[int], rooms: Sequence[int]
    ) -> list[tuple[int, list[int]]]:
        """For each room, the greatest sum that any selection of the kinds from each one up makes [units].

        (kind, sums), the longest kind first; so the last are those of all kinds.
        """
        if self.grid > 1 or not rooms:
            return [(kind, list(rooms)) for kind in reversed(kinds)]
        top, bits = max(rooms), 1
        keep = (2 << top) - 1
        masks = [(2 << room) - 1 for room in rooms]
        found = []
        for kind in reversed(kinds):
            width = self.widths[kind]
            bits = _more(bits, width, min(counts[kind], top // width)) & keep
            found.append((kind, [(bits & mask).bit_length() - 1 for mask in masks]))
        return found
