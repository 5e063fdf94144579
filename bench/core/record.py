"""The record of a job as a row of entries, and the job as it was after any of them.

Entries that are stored are read when they are asked for. An earlier job is worked out again: from the nearest
history known before it, which may have been kept aside, and the entries since.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from typing import overload

from bench.core.edits import Edit
from bench.core.errors import Clash
from bench.core.frozen import replace
from bench.core.history import EMPTY, Entry, History
from bench.core.records import Job

Line = tuple[str, Entry]  # time of acceptance, ISO, and the entry

SPACING = 2_000  # entries between the histories that are kept while an earlier one is worked out
MOST = 8  # histories kept
BESIDE = 2  # of these, the last ones asked for, with the jobs before them: one is stepped into from the other


class Record(Sequence[Line]):
    """Every entry in order, each with its time; only ever added to. Tells a history what it no longer keeps.

    Belongs to one thread; another has one of its own, by `apart`.
    """

    def __init__(
        self, stored: Sequence[Line] = (), known: Callable[[int], History | None] = lambda number: None
    ) -> None:
        """A record.

        Args:
            stored: entries that are there already; they are read when they are wanted.
            known: the newest history kept aside of those after at most so many entries, or None.
        """
        self._stored, self._known = stored, known
        self._like: Job | None = None  # another state, whose sticks are taken for equal ones that are read
        self._added: list[Line] = []
        self._kept: list[History] = []  # worked out again, in order of their entries
        self._asked: tuple[int, ...] = ()  # after how many entries those are that were asked for last

    def append(self, at: str, entry: Entry) -> None:
        """One more entry, accepted at a time, ISO."""
        self._added.append((at, entry))

    def __len__(self) -> int:
        return len(self._stored) + len(self._added)

    @overload
    def __getitem__(self, place: int) -> Line: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[Line]: ...

    def __getitem__(self, place: int | slice) -> Line | Sequence[Line]:
        """By place from 0: entry 1 is the first.

        Raises FileFault where a stored one cannot be read, IndexError where there is none.
        """
        if isinstance(place, slice):
            return [self[number] for number in range(*place.indices(len(self)))]
        if place < 0:
            place += len(self)
        if not 0 <= place < len(self):
            raise IndexError(place)
        stored = len(self._stored)
        return self._stored[place] if place < stored else self._added[place - stored]

    def __iter__(self) -> Iterator[Line]:
        return (self[place] for place in range(len(self)))

    def edit(self, number: int) -> Edit:
        """The edit of an entry by its number from 1; raises Clash where it carries none."""
        edit = self[number - 1][1].edit
        if edit is None:
            raise Clash("entry", number, "it carries no edit")
        return edit

    def job(self, number: int) -> Job:
        """The job as it was after so many entries."""
        near = self._near(number)
        return self._followed(number).job if near is None else near.job_after(number)

    def at_hand(self, number: int) -> bool:
        """Whether the job after so many entries need not be worked out again."""
        return not number or self._near(number) is not None

    def _near(self, number: int) -> History | None:
        kept = (one for one in self._kept if one.count - len(one.recent) < number <= one.count)
        return next(kept, None)

    def apart(self, like: Job | None = None) -> "Record":
        """The same entries for another thread; what it works out `take` hands back to this one.

        Sticks that are as they are in the job given are the very same, so that what differs is soon found.
        """
        other = Record(self, self._known)
        other._like = like
        return other

    def take(self, history: History) -> None:
        """A history of this record that was worked out elsewhere."""
        self._ask(history.count)
        self._keep(replace(history, teller=self))

    def history(self, number: int) -> History:
        """The history as it was after so many entries, 0 to all of them.

        The nearest one known before it goes on through the entries in between.

        Args:
            number: how many entries.
        Returns:
            The history.
        Raises:
            Refusal: an entry that cannot be read or followed.
            IndexError: there are not so many.
        """
        self._ask(number)
        return self._followed(number)

    def _followed(self, number: int) -> History:
        if not 0 <= number <= len(self):
            raise IndexError(number)
        history = self._before(number)
        while history.count < number:
            history = history.follow(self[history.count][1])
            if history.count % SPACING == 0 or history.count == number:
                self._keep(history)
        return history

    def _before(self, number: int) -> History:
        near = bisect_right(self._kept, number, key=lambda one: one.count)
        here = self._kept[near - 1] if near else None
        if here is not None and number - here.count < SPACING:
            return here
        aside = self._known(number)
        if aside is not None and self._like is not None:
            aside = _sharing(aside, self._like)
        best = max(
            (one for one in (here, aside) if one is not None), key=lambda one: one.count, default=EMPTY
        )
        return replace(best, teller=self)

    def _ask(self, number: int) -> None:
        self._asked = (number, *(one for one in self._asked if one != number))[:BESIDE]

    def _keep(self, history: History) -> None:
        # Only the last asked for are stepped back from: of the others the jobs before them are let go.
        others = (
            one if one.count in self._asked else one.alone()
            for one in self._kept
            if one.count != history.count
        )
        self._kept = sorted([*others, history], key=lambda one: one.count)
        if len(self._kept) > MOST:
            # Those asked for last stay; of the others the one that is nearest to its neighbour goes.
            counts = [one.count for one in self._kept]
            gaps = [
                (after - before, place)
                for place, (before, after) in enumerate(zip([0, *counts], counts, strict=False))
                if counts[place] not in (*self._asked, history.count)
            ]
            del self._kept[min(gaps)[1]]


def _sharing(history: History, like: Job) -> History:
    """The history with the sticks of another job for those of its own that are equal."""
    known = {stick.tag: stick for stick in like.sticks}
    sticks = tuple(
        other if (other := known.get(stick.tag)) is not None and other == stick else stick
        for stick in history.job.sticks
    )
    job = replace(history.job, sticks=sticks)
    return replace(history, job=job, recent=((job, history.recent[-1][1]),))
