"""The working state where planks may be ripped: strips as wide as the widest of what lies in them.

Two strips or more share the width of their plank. One alone may be as wide as the plank is, as then nothing
is ripped.
"""

from collections.abc import Callable, Iterable, Sequence

from bench.core.nesting_filling import Filler
from bench.core.nesting_task import Task
from bench.core.nesting_yard import DEMANDING, FIXED, Snapshot, Yard

ALIKE = 0.7  # share of the random fillings that begin with parts of one width
WIDEN = 0.3  # share of them that may widen a strip in use


class StripYard(Yard):
    """A yard whose bays lie in strips. A strip's width includes the rip kerf, as does what a plank offers."""

    ripped = True
    steps = 4.0  # a move takes longer still than so many among sticks

    def __init__(self, task: Task, filler: Filler, seed: int) -> None:
        self.strips: list[list[int]] = []  # the bays of each strip
        self.strip: list[int] = []  # of each bay, its strip
        self.own: list[range] = []  # of each stick, its strips
        for bar in task.bars:
            self.own.append(range(len(self.strips), len(self.strips) + bar.strips))
            for _ in range(bar.strips):
                first = len(self.strip)
                self.strip += [len(self.strips)] * len(bar.bays)
                self.strips.append([*range(first, first + len(bar.bays))])
        super().__init__(task, filler, seed)
        self.across = [[row.across[i] for row in task.kinds] for i in range(len(task.bars))]
        self.ordered = []  # of each order, the place of each kind in it
        for order in map(self.order, range(len(self.orders))):
            places = [0] * len(order)
            for place, kind in enumerate(order):
                places[kind] = place
            self.ordered.append(places)
        self._parted = dict[tuple[int, int], tuple[list[int], list[int]]]()  # by stick and width of a strip
        self._narrower = dict[tuple[int, int], int]()  # the same
        self._measure_all()

    def _hardness(self) -> list[int]:
        """Length squared, times the width."""
        return [row.width * row.width * min(filter(None, row.across), default=1) for row in self.task.kinds]

    # Widths.

    def _measure_all(self) -> None:
        """Every width anew."""
        # Of each bay, the width of what lies there; of each strip; of each stick, what its strips take.
        self.wide = [
            max([self.across[stick][kind] for kind in fill], default=0)
            for fill, stick in zip(self.fill, self.home, strict=True)
        ]
        self.width_of = [max([self.wide[bay] for bay in bays], default=0) for bays in self.strips]
        self.taken = [sum([self.width_of[n] for n in own]) for own in self.own]
        self.longest: list[int | None] = [None] * len(self.own)  # what each stick leaves; None: not known

    def _measure(self, bay: int) -> None:
        """Note how wide the contents of a bay are."""
        across = self.across[self.home[bay]]
        self._note(bay, max([across[kind] for kind in self.fill[bay]], default=0))

    def _note(self, bay: int, width: int) -> None:
        """The contents of a bay are another, so wide."""
        stick, strip = self.home[bay], self.strip[bay]
        self.longest[stick] = None
        if width == self.wide[bay]:
            return
        self.wide[bay] = width
        self._widen(stick, strip, max([self.wide[other] for other in self.strips[strip]]))

    def _widen(self, stick: int, strip: int, width: int) -> None:
        """Note that a strip is so wide now, or so narrow."""
        self.longest[stick] = None
        self.taken[stick] += width - self.width_of[strip]
        self.width_of[strip] = width

    def limit(self, bay: int) -> int | None:
        """How wide the strip of a bay may become; None: as wide as the plank is."""
        stick = self.home[bay]
        across = self.task.bars[stick].across
        others = self.taken[stick] - self.width_of[self.strip[bay]]
        return across - others if across and others else None

    def can(self, kind: int, bay: int) -> bool:
        """May the kind lie in the bay, beside what lies in the other strips?"""
        if not self.may[bay] >> kind & 1:
            return False
        limit = self.limit(bay)
        return limit is None or self.task.kinds[kind].across[self.home[bay]] <= limit

    def beginning(self, bays: Iterable[int]) -> list[int]:
        """Bays of strips in use, and of the others in each plank those of one, as they are alike."""
        first = dict[int, int]()  # by the stick
        width_of, strip, home = self.width_of, self.strip, self.home
        return [
            bay
            for bay in bays
            if width_of[strip[bay]] or first.setdefault(home[bay], strip[bay]) == strip[bay]
        ]

    def choose(self, kind: int, bays: Iterable[int]) -> int:
        """Of bays in their order the first whose strip is wide enough, or becomes least wider, or -1."""
        home, may, width_of, strip = self.home, self.may, self.width_of, self.strip
        best, least = -1, 0
        for bay in bays:
            if may[bay] >> kind & 1:
                wider = self.across[home[bay]][kind] - width_of[strip[bay]]
                if wider <= 0:
                    return bay
                if (best < 0 or wider < least) and self.can(kind, bay):
                    best, least = bay, wider
        return best

    def as_ripped(self, bays: Iterable[int]) -> dict[int, int]:
        """Of bays those whose strip has its width, with bits of the kinds that it is wide enough for."""
        found = {}
        for bay in bays:
            stick, width = self.home[bay], self.width_of[self.strip[bay]]
            if not self.task.bars[stick].across:
                found[bay] = -1
            elif width:
                if (stick, width) not in self._narrower:
                    wide = self.across[stick]
                    bits = sum({1 << kind for kind, own in enumerate(wide) if own <= width})
                    self._narrower[stick, width] = bits
                found[bay] = self._narrower[stick, width]
        return found

    def holds(self, sticks: Iterable[int]) -> bool:
        """Do the strips of these sticks lie side by side?"""
        for stick in sticks:
            across = self.task.bars[stick].across
            if across and self.taken[stick] > across and self._in_use(stick) > 1:
                return False
        return True

    def beside(self, bay: int, some: Iterable[int], bays: Sequence[int]) -> list[int]:
        """Of bays, those in the same strip as one or some others."""
        strips = {self.strip[one] for one in (bay, *some)}
        return [one for one in bays if self.strip[one] in strips]

    def _in_use(self, stick: int) -> int:
        """How many strips of a plank have a width."""
        return sum([self.width_of[n] > 0 for n in self.own[stick]])

    # Filling and emptying.

    def clear(self, pool: Sequence[int]) -> None:
        """Empty everything; `pool` is to be placed."""
        super().clear(pool)
        self.wide, self.width_of = [0] * len(self.wide), [0] * len(self.width_of)
        self.taken, self.longest = [0] * len(self.taken), [None] * len(self.longest)

    def empty(self, bays: Iterable[int]) -> None:
        """Put what lies in the bays back to what is left."""
        bays = list(bays)
        super().empty(bays)
        for bay in bays:
            self.wide[bay] = 0
        for strip in {self.strip[bay] for bay in bays}:
            own = self.strips[strip]
            self._widen(self.home[own[0]], strip, max([self.wide[bay] for bay in own]))

    def put(self, kind: int, bay: int) -> None:
        """Lay one part in the bay."""
        self.put_all([kind], bay)

    def put_all(self, kinds: Sequence[int], bay: int) -> None:
        """Lay some parts in the bay."""
        if not kinds:
            return
        rest, width, across = self.rest, self.width, self.across[self.home[bay]]
        wide, long = self.wide[bay], 0
        for kind in kinds:
            rest[kind] -= 1
            long += width[kind]
            if across[kind] > wide:
                wide = across[kind]
        self.fill[bay] += kinds
        self.free[bay] -= long
        self._note(bay, wide)

    def change(self, bay: int, kinds: list[int], free: int = -1) -> None:
        """Let other kinds lie in the bay."""
        super().change(bay, kinds, free)
        self._measure(bay)

    def restore(self, snapshot: Snapshot) -> None:
        """Back to a copy."""
        super().restore(snapshot)
        self._measure_all()

    def keep(self) -> Callable[[], None]:
        """Note the state before a move; returns what goes back."""
        above = super().keep()
        wide, width_of = list(self.wide), list(self.width_of)
        taken, longest = list(self.taken), list(self.longest)

        def back() -> None:
            above()
            self.wide, self.width_of, self.taken, self.longest = wide, width_of, taken, longest

        return back

    def top_up(self, bays: Iterable[int], order: int) -> None:
        """Fill one bay after the other as well as it can be; a random order is another for each."""
        left = [kind for kind, count in enumerate(self.rest) if count]
        shut = set[tuple[int, int]]()  # strips to begin that nothing can be laid in, as they are alike
        for bay in bays:
            stick, begun = self.home[bay], self.width_of[self.strip[bay]]
            if not self.task.bars[stick].across:
                super().top_up([bay], order if order < FIXED else self.any_order())
                self._measure(bay)
                left = [kind for kind in left if self.rest[kind]]
            elif not begun and (stick, self.room[bay]) in shut:
                continue
            elif able := self.able(bay, left):
                self._top_up(bay, able, order if order < FIXED else self.any_order())
                left = [kind for kind in left if self.rest[kind]]
            elif not begun:
                shut.add((stick, self.room[bay]))

    def able(self, bay: int, kinds: Sequence[int]) -> list[int]:
        """Of kinds that are left, those with room in the bay beside what lies there and in other strips."""
        stick, limit = self.home[bay], self.limit(bay)
        bar = self.task.bars[stick]
        most = bar.across + 1 if limit is None else limit
        if most < bar.narrow and not self.width_of[self.strip[bay]]:
            return []
        may, room, width, across = self.may[bay], self.free[bay], self.width, self.across[stick]
        able = [kind for kind in kinds if width[kind] <= room and across[kind] <= most and may >> kind & 1]
        if most <= bar.across:
            return able
        return [kind for kind in able if across[kind] <= bar.across] or able

    def _top_up(self, bay: int, able: list[int], order: int) -> None:
        """Fill the bay with what the strip is wide enough for; a strip not in use gets a width first."""
        stick, own = self.home[bay], self.width_of[self.strip[bay]]
        across = self.across[stick]
        able.sort(key=self.ordered[order].__getitem__)
        if not own:
            own = self._new_width(able, stick, order)
            if order < FIXED or self.random.random() < ALIKE:
                self._fill(bay, [kind for kind in able if across[kind] == own])
        self._fill(bay, [kind for kind in able if across[kind] <= own])
        if order >= FIXED and self.random.random() < WIDEN:
            self._fill(bay, able)

    def parted(self, stick: int, width: int) -> tuple[list[int], list[int]]:
        """The kinds for which a strip of a stick is just so wide, and those for which it is too wide."""
        if (stick, width) not in self._parted:
            across, order = self.across[stick], self.order(DEMANDING)
            self._parted[stick, width] = (
                [kind for kind in order if across[kind] == width],
                [kind for kind in order if across[kind] < width],
            )
        return self._parted[stick, width]

    def _fill(self, bay: int, order: Sequence[int]) -> None:
        """The best filling with some kinds."""
        self.put_all(self.filler.fill(order, self.rest, self.free[bay]), bay)

    def _new_width(self, able: Sequence[int], stick: int, order: int) -> int:
        """The width of a strip to begin: the widest wanted, or by chance one of which much is wanted."""
        across = self.across[stick]
        wanted: dict[int, int] = {}
        for kind in able:
            width = across[kind]
            wanted[width] = wanted.get(width, 0) + self.rest[kind] * self.width[kind]
        if order < FIXED:
            return max(wanted)
        chance = self.random.random() * sum(wanted.values())
        for width, much in sorted(wanted.items()):
            chance -= much
            if chance < 0:
                return width
        return max(wanted)

    # How good it is.

    def leftovers(self, stick: int) -> tuple[int, list[int]]:
        """Strips in use, and the room not taken in each of their bays; of a plank not in use, all of it."""
        used = [n for n in self.own[stick] if any(self.fill[bay] for bay in self.strips[n])]
        free = [[self.free[bay] for bay in self.strips[n]] for n in used]
        if not free:
            return 0, list(self.task.bars[stick].bays)
        return len(free), [room for row in free for room in row]

    def piece(self) -> int:
        """The longest reusable piece left: in strips, in planks not in use, in boards beside the strips."""
        longest = self.longest
        for stick, known in enumerate(longest):
            if known is None:
                longest[stick] = self._longest_in(stick)
        best = max([self.task.kerf, *(known or 0 for known in longest)])
        best -= self.task.kerf
        return best if best >= max(1, self.task.least) else 0

    def _longest_in(self, stick: int) -> int:
        """The longest piece left in one stick, the blade counted in; beside strips if one more has room."""
        bar = self.task.bars[stick]
        rows, free = self.leftovers(stick)
        board = rows > 1 and self.taken[stick] + bar.narrow <= bar.across
        return max([0, *free, *(bar.bays if board else ())])
