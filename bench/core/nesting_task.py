"""The packing task in whole numbers, as the search sees it: kinds of part, sticks with bays, the layout.

A bay is one clear length of a stick. A part of rough length l takes the width l + kerf of a bay, and a clear
length U offers the room U + kerf; after that the blade needs no further thought.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """Equal parts, merged."""

    width: int  # rough length + kerf [units]
    count: int
    critical: bool
    sticks: int  # bit i is set where stick i may become this part


@dataclass(frozen=True, slots=True)
class Bar:
    """A stick, as its bays."""

    bays: tuple[int, ...]  # clear length + kerf [units]
    length: int  # whole, with what is lost [units]
    rank: int  # quality, greater is better


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be packed into what."""

    kinds: tuple[Kind, ...]
    bars: tuple[Bar, ...]
    kerf: int  # [units]
    least: int  # shortest leftover that counts as reusable [units]


@dataclass(frozen=True, slots=True)
class Layout:
    """An arrangement with what is proved about it.

    `fills[stick][bay]` lists the kinds that lie there, `out[kind]` how many of a kind do not lie anywhere.
    """

    fills: tuple[tuple[tuple[int, ...], ...], ...]
    out: tuple[int, ...]
    fewest: int  # no plan that leaves out as many parts opens fewer sticks
    proved: bool  # nothing better exists in parts left out and sticks opened
