"""Where two long rows differ: of ten thousand things one or two do, and a key waits for it.

They are compared by the piece: of ten thousand of the very same things in a twentieth of a millisecond.
"""

from collections.abc import Sequence
from typing import Any

PIECE = 256  # things compared in one go


def apart(old: Sequence[Any], new: Sequence[Any]) -> list[int]:
    """The places at which two rows of as many things differ.

    Args:
        old: a row.
        new: another, as long.
    Returns:
        Places from 0, rising; things that are equal do not differ.
    Source:
        none: bookkeeping.
    """
    found = list[int]()
    for start in range(0, len(new), PIECE):
        was, now = old[start : start + PIECE], new[start : start + PIECE]
        if was != now:
            found += [start + place for place, one in enumerate(now) if was[place] != one]
    return found


def shared(old: Sequence[Any], new: Sequence[Any]) -> tuple[int, int]:
    """How much of two rows is the same at the front and, of the rest, at the back.

    Args:
        old: a row.
        new: another, of the same kind of sequence.
    Returns:
        Things at the front; things at the back.
    Source:
        none: bookkeeping.
    """
    few = min(len(old), len(new))
    head = few
    for start in range(0, few, PIECE):
        was, now = old[start : min(few, start + PIECE)], new[start : min(few, start + PIECE)]
        if was != now:
            head = start + next(place for place, one in enumerate(now) if was[place] != one)
            break
    for start in range(0, few - head, PIECE):
        many = min(PIECE, few - head - start)
        was = old[len(old) - start - many : len(old) - start]
        now = new[len(new) - start - many : len(new) - start]
        if was != now:
            return head, start + next(n for n in range(many) if was[-1 - n] != now[-1 - n])
    return head, few - head
