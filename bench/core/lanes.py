"""Rows of whole numbers, packed side by side into one integer: what is done to all takes a few operations.

Each number has a lane of whole bytes. Its highest bit stays free: a subtraction of all lanes at once leaves
there which of two numbers is the less.
"""

import struct
from collections.abc import Sequence

CODES = {4: "I", 8: "Q"}  # of lanes of so many bytes


class Lanes:
    """What rows of so many numbers share."""

    def __init__(self, count: int, top: int) -> None:
        """Rows of `count` numbers from 0 to `top`, or `never`, which is more; any may be `top` too great."""
        self.count = count
        self.bytes = next((size for size in CODES if not top >> 8 * size - 2), (top.bit_length() + 9) // 8)
        self.bits = 8 * self.bytes
        self.never = 1 << self.bits - 2
        self.full = (1 << self.bits * count) - 1
        ones = self.full // ((1 << self.bits) - 1)
        self._high, self._nevers = ones << self.bits - 1, ones << self.bits - 2
        self._ones, self._even = ones, dict[int, int]()

    def first(self, number: int) -> int:
        """A row of one number, and of `never` behind it."""
        return self._nevers - self.never + number

    def even(self, number: int) -> int:
        """A row of the same number everywhere."""
        if number not in self._even:
            self._even[number] = number * self._ones
        return self._even[number]

    def least(self, a: int, b: int, places: int) -> int:
        """Of each two numbers the less, those of `b` so many places later, and `never` before them."""
        high, bits = self._high, self.bits
        b = (b << places * bits | self._nevers >> (self.count - places) * bits) & self.full
        not_less = ((a | high) - b) & high
        return a ^ ((a ^ b) & (not_less - (not_less >> bits - 1)))

    def number(self, row: int, place: int) -> int:
        """The number at a place."""
        return row >> place * self.bits & (1 << self.bits) - 1

    def numbers(self, row: int) -> Sequence[int]:
        """The numbers one by one."""
        held = row.to_bytes(self.bytes * self.count, "little")
        if self.bytes in CODES:
            return struct.unpack(f"<{self.count}{CODES[self.bytes]}", held)
        ends = range(0, len(held), self.bytes)
        return [int.from_bytes(held[at : at + self.bytes], "little") for at in ends]
