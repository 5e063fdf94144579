"""Where the sticks of a rack stand, by tag: a key asks for it often, and a rack may hold ten thousand.

All are looked up once. Another rack differs from that one at a place or two: it is held against it, and only
what stands between the sticks that both begin and end with is gone through.
"""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from bench.core.rows import shared

BETWEEN = 64  # sticks gone through for one that is asked for; where more differ, all are looked up anew


class Places:
    """Places by tag, handed from job to job; tried for each rack, and never believed of another one."""

    __slots__ = ("_base", "_counts", "_head", "_held", "_known", "_tail")

    def __init__(self) -> None:
        self._base: Sequence[Any] = ()  # the rack that was looked up
        self._known: dict[str, int] = {}  # where each of its sticks stands
        self._counts: Counter[str] | None = None  # how many of them have a tag, as `plain` writes it
        self._held: Sequence[Any] | None = None  # the rack that was held against it last
        self._head = self._tail = 0  # how many sticks both begin with, and end with

    def find(self, tag: str, sticks: Sequence[Any]) -> int | None:
        """Where a stick stands.

        Args:
            tag: its tag.
            sticks: the rack, of things with a tag; one that was handed in before holds the same still.
        Returns:
            Its place, from 0; None where there is no such stick.
        Source:
            none: bookkeeping.
        """
        place = self._known.get(tag)
        if sticks is self._base:
            return place
        if place is not None and place < len(sticks) and sticks[place].tag == tag:
            return place
        self._hold(sticks)
        if sticks is self._base:
            return self._known.get(tag)
        if place is not None and place >= len(self._base) - self._tail:
            return place + len(sticks) - len(self._base)
        between = range(self._head, len(sticks) - self._tail)
        return next((number for number in between if sticks[number].tag == tag), None)

    def taken(self, tag: str, sticks: Sequence[Any], but: str = "") -> bool:
        """Whether a stick has a tag, letter case and blanks at the ends aside.

        Args:
            tag: the tag.
            sticks: the rack, as for `find`.
            but: the tag of a stick that does not count.
        Returns:
            True where one has.
        Source:
            none: bookkeeping.
        """
        self._hold(sticks)
        if self._counts is None:
            self._counts = Counter(plain(stick.tag) for stick in self._base)
        found = self._counts[plain(tag)]
        for rack, sign in ((self._base, -1), (sticks, 1)) if sticks is not self._base else ():
            between = rack[self._head : len(rack) - self._tail]
            found += sign * sum(plain(stick.tag) == plain(tag) for stick in between)
        own = plain(but) == plain(tag) and self.find(but, sticks) is not None
        return found > own

    def _hold(self, sticks: Sequence[Any]) -> None:
        """Hold a rack against the one that was looked up; look it up where much differs."""
        if sticks is self._base or sticks is self._held:
            return
        base, (head, tail) = self._base, shared(self._base, sticks)
        if not base or max(len(base), len(sticks)) - head - tail > BETWEEN:
            self._known = {stick.tag: number for number, stick in enumerate(sticks)}
            self._base, self._counts, self._held = sticks, None, None
        else:
            self._held, self._head, self._tail = sticks, head, tail


def plain(name: str) -> str:
    """A name as it is held against others: letter case and blanks at the ends aside.

    Args:
        name: as it was typed.
    Returns:
        The same for all names that are taken for one.
    Source:
        our rule.
    """
    return name.strip().casefold()
