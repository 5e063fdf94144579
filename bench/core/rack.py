"""The rack judged: each stick when it is first looked at, and never again while nothing it rests on changes.

A large rack takes seconds to judge, and a screen shows thirty sticks of it. Of those that nobody looks at
only the grade is kept: what the cut list asks of a stick.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import overload

from bench.core.grading import Candidate
from bench.core.judging import Judged, judge
from bench.core.limits import USES
from bench.core.records import Job, Species, Stick
from bench.core.rows import apart, shared
from bench.core.sawing import condemned_before
from bench.core.shortlist import Ranked

AT_ONCE = 400  # sticks that are judged while somebody waits


class Rack(Sequence[Judged]):
    """The sticks of a job in their order, judged when they are asked for."""

    def __init__(self, job: Job, woods: Mapping[str, Species], before: "Rack | None" = None) -> None:
        """A rack.

        Args:
            job: with its sticks, and the settings that say which limits govern.
            woods: the library by species key.
            before: another one, whose answers are kept for the sticks that are in both.
        """
        self.sticks, self._woods, self._settings = job.sticks, woods, job.settings
        settings = job.settings
        self._rules = (settings.document, settings.house, settings.least_offcut)
        self._judged: dict[int, Judged] = {}
        self._was: dict[int, Judged] = {}  # of the one before, of sticks that changed since
        self._same: dict[object, object] = {} if before is None else before._same  # equal ones, kept once
        self.changed: tuple[int, ...] | None = None  # places that differ from the one before; None: any may
        # Places of sticks that the one before alone has, and of those that this one alone has; None: any.
        self.exchanged: tuple[Sequence[int], Sequence[int]] | None = None
        self._ranked: Ranked | None = None  # what was ranked last, of this rack or one before
        self._since: frozenset[str] = frozenset()  # tags of sticks that came or went since then
        self._next = 0
        if before is None or before._rules != self._rules:
            self._look_at_all()
        elif len(before.sticks) == len(self.sticks):
            self._go_on(before)
        else:
            self._take_over(before)
        if before is not None and before._ranked is not None and self.exchanged is not None:
            gone, come = self.exchanged
            tags = [before.sticks[place].tag for place in gone] + [self.sticks[place].tag for place in come]
            self._ranked, self._since = before._ranked, before._since.union(tags)

    def _look_at_all(self) -> None:
        # Whether any was sawn from another, and any is condemned: else nothing is in doubt.
        self._sawn = any(stick.parent for stick in self.sticks)
        self._condemned = any(stick.condemned for stick in self.sticks)
        self._doubts = self._doubted()
        self._grades: list[Candidate | None] = [None] * len(self.sticks)
        self.waiting = len(self.sticks)  # sticks that are not graded yet

    def _go_on(self, before: "Rack") -> None:
        """As many sticks in the same places: at a key one of them differs, so nothing is done for each."""
        was, now = before.sticks, self.sticks
        moved = set(apart(was, now))
        if all(_descent(was[place]) == _descent(now[place]) for place in moved):
            self._sawn, self._condemned, self._doubts = before._sawn, before._condemned, before._doubts
        else:
            self._came(before, moved)
        old, new = before._doubts, self._doubts
        if old != new:
            moved |= {place for place in old | new if old.get(place) != new.get(place)}
        self._grades = before._grades.copy()
        self.waiting = before.waiting
        for place in moved:
            self.waiting += self._grades[place] is not None
            self._grades[place] = None
        self._next = min([before._next, *moved])
        self._judged = {place: one for place, one in before._judged.items() if place not in moved}
        self._was = {place: before._judged[place] for place in moved if place in before._judged}
        self.changed = tuple(sorted(moved))
        self.exchanged = (self.changed, self.changed)

    def _take_over(self, before: "Rack") -> None:
        """The answers for the sticks that are in both.

        Sticks come and go at a place or two: what stands before and after those is not gone through.
        """
        old, new = before.sticks, self.sticks
        head, tail = shared(old, new)
        known = {id(old[was]): was for was in range(head, len(old) - tail)}
        between = [known.pop(id(stick), None) for stick in new[head : len(new) - tail]]
        moved = {was: place for place, was in enumerate(between, head) if was is not None}

        def now(was: int) -> int | None:
            """Where a stick of the other rack stands in this one."""
            if head <= was < len(old) - tail:
                return moved.get(was)
            return was if was < head else was + len(new) - len(old)

        gone = set(known.values())
        come = {place for place, was in enumerate(between, head) if was is None}
        self._came(before, come)
        ends = len(old) - tail
        kept = [None if was is None else before._grades[was] for was in between]
        self._grades = [*before._grades[:head], *kept, *before._grades[ends:]]
        self.waiting = before.waiting + _ungraded(kept) - _ungraded(before._grades[head:ends])
        if before._doubts or self._doubts:
            for was in range(len(old)):
                place = now(was)
                if place is not None and before._doubts.get(was) != self._doubts.get(place):
                    gone.add(was)
                    come.add(place)
        for place in come:
            self.waiting += self._grades[place] is not None
            self._grades[place] = None
        self._next = min([before._next, head, *come])
        # Few are judged as a whole: of each of them its place now, not of every stick what was judged of it.
        self._judged = {
            place: one
            for was, one in before._judged.items()
            if (place := now(was)) is not None and place not in come
        }
        self.exchanged = (sorted(gone), sorted(come))

    def _came(self, before: "Rack", places: Collection[int]) -> None:
        """What is in doubt by now, with sticks at these places that another rack did not have."""
        self._sawn = before._sawn or any(self.sticks[place].parent for place in places)
        self._condemned = before._condemned or any(self.sticks[place].condemned for place in places)
        self._doubts = self._doubted()

    def _doubted(self) -> dict[int, tuple[str, ...]]:
        return _doubts(self.sticks) if self._sawn and self._condemned else {}

    def serves(self, job: Job) -> bool:
        """Whether this is the rack of a job too."""
        settings = job.settings
        rules = (settings.document, settings.house, settings.least_offcut)
        return self.sticks is job.sticks and self._rules == rules

    def __eq__(self, other: object) -> bool:
        """Alike where all is alike that the answers rest on."""
        return isinstance(other, Rack) and (self.sticks, self._rules, self._woods) == (
            other.sticks,
            other._rules,
            other._woods,
        )

    __hash__ = None  # type: ignore[assignment]

    def __len__(self) -> int:
        return len(self.sticks)

    @overload
    def __getitem__(self, place: int) -> Judged: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[Judged]: ...

    def __getitem__(self, place: int | slice) -> Judged | Sequence[Judged]:
        if isinstance(place, slice):
            return [self[one] for one in range(*place.indices(len(self)))]
        place = range(len(self.sticks))[place]
        found = self._judged.get(place)
        if found is None:
            found = self._judged[place] = self._judge(place)
        return found

    def __iter__(self) -> Iterator[Judged]:
        return (self[place] for place in range(len(self)))

    def _judge(self, place: int) -> Judged:
        stick = self.sticks[place]
        was = self._was.get(place)
        before = was if was is not None and was.stick.tag == stick.tag else None
        species, doubts = self._woods.get(stick.species), self._doubts.get(place, ())
        return judge(stick, species, self._settings, doubts, before)

    def grade(self, place: int) -> Candidate:
        """What the cut list asks of the stick at a place."""
        found = self._grades[place]
        if found is None:
            # Of a large rack not kept as judged: thousands are looked at for nothing else.
            judged = self._judged.get(place) or self._judge(place)
            if len(self.sticks) <= AT_ONCE:
                self._judged[place] = judged
            found = self._grades[place] = self._candidate(judged)
            self.waiting -= 1
        return found

    def _candidate(self, judged: Judged) -> Candidate:
        stick, verdict = judged.stick, judged.verdict
        words = tuple(judged.words[use] for use in USES)
        section = (stick.width.exact, stick.depth.exact, stick.rough)
        known = self._same
        shared: Mapping[str, str] = known.setdefault(words, dict(zip(USES, words, strict=True)))  # type: ignore[assignment]
        sides: tuple[Fraction, Fraction, tuple[bool, bool]] = known.setdefault(section, section)  # type: ignore[assignment]
        size = stick.length.si * stick.width.si * stick.depth.si
        return Candidate(stick, verdict.low, shared, verdict.value, sides, size)

    def look_on(self, most: int) -> int:
        """Grade so many more sticks; how many are left."""
        while most and self.waiting and self._next < len(self.sticks):
            if self._grades[self._next] is None:
                self.grade(self._next)
                most -= 1
            self._next += 1
        return self.waiting

    def ranked(self, tags: frozenset[str], place: Callable[[str], int | None]) -> Ranked:
        """Some sticks in the order in which the cut list takes them; `place` tells where each stands."""

        def grade(tag: str) -> Candidate | None:
            found = place(tag)
            return None if found is None else self.grade(found)

        before = self._ranked or Ranked()
        if before.tags is not tags or self._since:
            self._ranked, self._since = before.kept_up(tags, self._since, grade), frozenset()
        return self._ranked or before

    def grades(self) -> list[Candidate]:
        """What the cut list asks of every stick, in the order of the rack."""
        self.look_on(len(self.sticks))
        return [self.grade(place) for place in range(len(self.sticks))] if self.waiting else list(self._all())

    def _all(self) -> Iterator[Candidate]:
        return (grade for grade in self._grades if grade is not None)


def _descent(stick: Stick) -> tuple[object, ...]:
    """What decides of a stick whether it, or what was sawn from it, is in doubt."""
    return stick.tag, stick.parent, stick.sawn_from, stick.condemned, stick.cleared


def _doubts(sticks: Sequence[Stick]) -> dict[int, tuple[str, ...]]:
    """By place, what a stick was sawn from that is condemned by now, and it was not looked over for since."""
    sawn = [place for place, stick in enumerate(sticks) if stick.parent]
    if not sawn:
        return {}
    known = {stick.tag: stick for stick in sticks}
    found = {}
    for place in sawn:
        stick = sticks[place]
        doubts = tuple(one for one in condemned_before(stick, known.get) if one not in stick.cleared)
        if doubts:
            found[place] = doubts
    return found


def _ungraded(grades: Sequence[Candidate | None]) -> int:
    return sum(grade is None for grade in grades)
