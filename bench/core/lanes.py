"""Rows of whole numbers, packed side by side into one integer: what is done to all takes a few operations.

Each number has a lane of whole bytes, the first one the highest. In its lowest bits a number carries a note;
its highest bit stays free: a subtraction of all lanes at once leaves there which of two numbers is the less.
"""

import struct
from collections.abc import Sequence

CODES = {4: "I", 8: "Q"}  # of lanes of so many bytes


class Lanes:
    """What rows of so many numbers share."""

    def __init__(self, count: int, top: int, notes: int) -> None:
        """Rows of `count` numbers from 0 to `top`, each with so many bits for a note."""
        self.count, self.notes = count, notes
        self.last = (1 << notes) - 1  # the greatest note
        most = top << notes | self.last  # sums of two have a lane and leave a bit free
        self.bytes = next((size for size in CODES if not most >> 8 * size - 2), (most.bit_length() + 9) // 8)
        self.bits = 8 * self.bytes
        ones = ((1 << self.bits * count) - 1) // ((1 << self.bits) - 1)
        self._high = ones << self.bits - 1
        self._over = self._high | self.last * ones
        self._ones, self._even = ones, dict[int, int]()

    def first(self, number: int) -> int:
        """A row of one number with the greatest note, and of nothing behind it."""
        return (number << self.notes | self.last) << self.bits * (self.count - 1)

    def greater(self, row: int, places: int, less: int, note: int) -> int:
        """Each number of a row, or the one so many places before it less `less`, if that is greater.

        Args:
            row: of numbers with notes; of equal numbers that with the greater note is the greater.
            places: least 0.
            less: 1 to `top`. What is less than that does not count.
            note: of the numbers that come so many places later; least 1, as 0 is for nothing.
        """
        taken = (less << self.notes) + self.last - note
        if taken not in self._even:
            self._even[taken] = taken * self._ones
        gain = (row >> places * self.bits | self._over) - (row + self._even[taken])
        better = gain & self._high
        return row + (gain & better - (better >> self.bits - 1))

    def note(self, row: int, place: int) -> int:
        """The note of the number at a place."""
        return row >> (self.count - 1 - place) * self.bits & self.last

    def numbers(self, row: int) -> Sequence[int]:
        """The numbers one by one with their notes, the last one first."""
        held = row.to_bytes(self.bytes * self.count, "little")
        if self.bytes in CODES:
            return struct.unpack(f"<{self.count}{CODES[self.bytes]}", held)
        ends = range(0, len(held), self.bytes)
        return [int.from_bytes(held[at : at + self.bytes], "little") for at in ends]
