"""Rows of whole numbers, packed side by side into one integer: what is done to all takes a few operations.

Each number has a lane of whole bytes, the first one the highest. In its lowest bits it says which step led to
it, and its highest bit stays free: a subtraction of all lanes at once leaves there which of two is the less.
"""

import struct
from collections.abc import Iterable, Sequence

CODES = {4: "I", 8: "Q"}  # of numbers of so many bytes


class Lanes:
    """What rows of so many numbers share, that are made one after the other in steps."""

    def __init__(self, count: int, top: int, steps: int) -> None:
        """Rows of `count` numbers from 0 to `top`, made in so many steps at most."""
        self.count, self.low = count, (steps + 1).bit_length()
        self.last = (1 << self.low) - 1  # of a number that no step led to; later steps have less
        most = top << self.low | self.last  # sums of two have a lane and leave a bit free
        self.bytes = (most.bit_length() + 9) // 8
        self.bits = 8 * self.bytes
        self._ones = ((1 << self.bits * count) - 1) // ((1 << self.bits) - 1)
        self._high = self._ones << self.bits - 1
        self._over = self._high | self.last * self._ones

    def first(self, number: int) -> int:
        """A row of one number, and of nothing behind it."""
        return (number << self.low | self.last) << self.bits * (self.count - 1)

    def taken(self, less: int, step: int) -> int:
        """What `greatest` takes of a row in a step.

        Args:
            less: by how much numbers become less, 1 to `top`. What is less than that does not count.
            step: from 0 on.
        """
        return ((less << self.low) + 1 + step) * self._ones

    def greatest(self, row: int, steps: Iterable[tuple[int, int]]) -> list[int]:
        """Step by step: of each number and the one so many places before it, less something, the greater.

        Args:
            row: to begin with. Of equal numbers that of the earlier step stays.
            steps: the places, and what is `taken` of the row. A step of no places changes nothing.
        Returns:
            The row before each step, and the one after the last.
        """
        rows, bits, shift, high, over = [row], self.bits, self.bits - 1, self._high, self._over
        for places, taken in steps:
            if places:
                gain = (row >> places * bits | over) - (row + taken)
                better = gain & high
                row += gain & better - (better >> shift)
            rows.append(row)
        return rows

    def trail(self, rows: Sequence[int], places: Sequence[int], at: int) -> list[int]:
        """The steps that led to a number of the last row, the last step first.

        Args:
            rows: before each step, and after the last.
            places: of each step.
            at: which number it is, counted from the last one.
        """
        found: list[int] = []
        bits, last = self.bits, self.last
        step = last - (rows[-1] >> at * bits & last)
        while step:
            step -= 1
            found.append(step)
            at += places[step]
            step = last - (rows[step] >> at * bits & last)
        return found

    def least(self, number: int) -> int:
        """A number as `numbers` tells it, or less than that if steps led to it."""
        return (number << self.low) + 1

    def numbers(self, row: int) -> Sequence[int]:
        """The numbers one by one, the last one first: in the order of the numbers, 0 for nothing."""
        held = row.to_bytes(self.bytes * self.count, "little")
        wide = next((size for size in CODES if size >= self.bytes), 0)
        if not wide:
            ends = range(0, len(held), self.bytes)
            return [int.from_bytes(held[at : at + self.bytes], "little") for at in ends]
        padded = bytearray(wide * self.count)
        for n in range(self.bytes):
            padded[n::wide] = held[n :: self.bytes]
        return struct.unpack(f"<{self.count}{CODES[wide]}", padded)
