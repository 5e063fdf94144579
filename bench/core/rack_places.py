"""Where the sticks of a rack stand, by tag: a key asks for it often, and a rack may hold ten thousand."""

from collections.abc import Sequence
from typing import Any

NEAR = 8  # places to each side, where a stick is looked for after one before it came, went or was ripped
STRAYS = 16  # found that way before all are looked up anew


class Places:
    """Places by tag, handed from job to job; tried for each rack, and never believed of another one."""

    __slots__ = ("_known", "_strays")

    def __init__(self) -> None:
        self._known: tuple[Sequence[Any], dict[str, int]] = ((), {})  # of which rack, where each stands
        self._strays = 0

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
        of, known = self._known
        place = known.get(tag)
        if of is sticks:
            return place
        if place is not None and place < len(sticks) and sticks[place].tag == tag:
            return place
        if place is None:  # what came in last is asked for first
            place = len(sticks) - 1
        if self._strays < STRAYS or place == len(sticks) - 1:
            self._strays += 1
            for near in range(max(0, place - NEAR), min(place + NEAR + 1, len(sticks))):
                if sticks[near].tag == tag:
                    return near
        known = {stick.tag: number for number, stick in enumerate(sticks)}
        self._known, self._strays = (sticks, known), 0
        return known.get(tag)
