"""What can be undone or made again, as numbers of entries: a stack that shares what it has in common.

A long job has a hundred thousand steps on it, and every history holds its own; so they stand in one array,
and only the last few are kept beside it.
"""

from array import array
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

_SHIFT = 32
_ALONE = (1 << _SHIFT) + 1  # times its number: a step that nothing belongs to
_MOST = 256  # steps beside the array, which are copied at every push


class Step(NamedTuple):
    """One step back or forward: an accepted change with what belongs to it, by numbers of entries from 1."""

    number: int  # of the entry that made the change
    last: int  # of the last entry that belongs to it; its own where nothing does


class Stack:
    """Steps, the one to be taken next on top. Never changed: what pushes and pops hands back another."""

    __slots__ = ("_base", "_size", "_top")

    def __init__(self, base: Sequence[int] = array("q"), size: int = 0, top: tuple[int, ...] = ()) -> None:
        self._base, self._size, self._top = base, size, top  # so many of the array count

    @classmethod
    def of_runs(cls, runs: Iterable[Sequence[int]]) -> "Stack":
        """From what `runs` made."""
        base = array("q")
        for number, many, last in runs:
            if many == 1:
                base.append(number << _SHIFT | last)
            else:
                base.extend(array("q", range(number * _ALONE, (number + many) * _ALONE, _ALONE)))
        return cls(base, len(base))

    def runs(self) -> list[list[int]]:
        """The steps in fewer numbers: [the first entry, how many that stand alone follow on it, its last]."""
        found: list[list[int]] = []
        for number, last in self:
            if found and number == last == found[-1][0] + found[-1][1] and found[-1][2] == found[-1][0]:
                found[-1][1] += 1
            else:
                found.append([number, 1, last])
        return found

    def push(self, step: Step) -> "Stack":
        """With one more step on top."""
        top = (*self._top, step.number << _SHIFT | step.last)
        if len(top) < _MOST:
            return Stack(self._base, self._size, top)
        base = array("q", self._base[: self._size])
        base.extend(top)
        return Stack(base, len(base), ())

    def pop(self) -> "Stack":
        """Without the step on top; IndexError where there is none."""
        if self._top:
            return Stack(self._base, self._size, self._top[:-1])
        if not self._size:
            raise IndexError("nothing is left")
        return Stack(self._base, self._size - 1, ())

    @property
    def top(self) -> Step | None:
        """The step to be taken next, None where there is none."""
        if self._top:
            return self._step(self._top[-1])
        return self._step(self._base[self._size - 1]) if self._size else None

    @staticmethod
    def _step(packed: int) -> Step:
        return Step(packed >> _SHIFT, packed & ((1 << _SHIFT) - 1))

    def __len__(self) -> int:
        return self._size + len(self._top)

    def __iter__(self) -> Iterator[Step]:
        """From the bottom up."""
        for packed in (*self._base[: self._size], *self._top):
            yield self._step(packed)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Stack) and len(self) == len(other) and list(self) == list(other)

    def __hash__(self) -> int:
        return hash((len(self), self.top))

    def __repr__(self) -> str:
        return f"Stack({len(self)} steps, {self.top} on top)"


NONE = Stack()
