"""The best filling of one bay: the selection of parts with the greatest sum that its room takes.

The sums that can be made are the bits of one long integer, so that adding a kind of part is a shift and an
or.
"""

from collections.abc import Sequence

CELLS = 32_768  # longest bay in bits; finer units than this are put on a coarser grid
TRIES = 6


class Filler:
    """Fills bays with parts of fixed widths."""

    def __init__(self, widths: Sequence[int], longest: int) -> None:
        """Take the widths of the kinds and the room of the longest bay, both in [units]."""
        self.widths = list(widths)
        self.grid = max(1, -(-longest // CELLS))
        # Rounded down, widths and room alike, so that no selection that fits is ever lost; one that does not
        # fit after all is found out by the exact sum.
        self.cells = [max(1, width // self.grid) for width in widths]

    def fill(self, order: Sequence[int], rest: Sequence[int], room: int) -> list[int]:
        """The kinds, repeated as often as taken, with the greatest sum up to `room` [units].

        Args:
            order: kinds that may lie here; among equal sums the later ones are preferred. May be empty.
            rest: how many of each kind are at hand.
            room: of the bay [units].
        """
        space = room // self.grid
        if space <= 0:
            return []
        cells, keep, bits = self.cells, (2 << space) - 1, 1
        trail: list[tuple[int, int, int]] = []
        for kind in order:
            count, width = rest[kind], cells[kind]
            if not count or width > space:
                continue
            if count * width > space:
                count = space // width
            trail.append((kind, count, bits))
            bits |= bits << width
            left, step = count - 1, 2
            while left > 0:
                take = step if step < left else left
                bits |= bits << (width * take)
                left -= take
                step *= 2
            bits &= keep
        if self.grid == 1:
            return self._trace(trail, bits.bit_length() - 1)
        return self._coarse(trail, bits, room)

    def _trace(self, trail: list[tuple[int, int, int]], total: int) -> list[int]:
        """The selection that makes `total` [cells], most copies of the later kinds first."""
        taken: list[int] = []
        for kind, count, before in reversed(trail):
            width = self.cells[kind]
            for copies in range(min(count, total // width), -1, -1):
                if before >> (total - copies * width) & 1:
                    break
            if copies:
                taken += [kind] * copies
                total -= copies * width
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

    def reaches(self, kinds: Sequence[int], counts: Sequence[int], rooms: Sequence[int]) -> list[int]:
        """For each room, the greatest sum that any selection of the kinds makes in it [units]."""
        if self.grid > 1 or not rooms:
            return list(rooms)
        top, bits = max(rooms), 1
        keep = (2 << top) - 1
        for kind in kinds:
            width = self.widths[kind]
            left, step = min(counts[kind], top // width), 1
            while left > 0:
                take = min(step, left)
                bits |= bits << (width * take)
                left -= take
                step *= 2
            bits &= keep
        return [(bits & ((2 << room) - 1)).bit_length() - 1 for room in rooms]
