"""The working state where planks may be ripped: strips as wide as the widest of what lies in them.

Two strips or more share the width of their plank. One alone may be as wide as the plank is, as then nothing
is ripped.
"""

from collections.abc import Iterable, Sequence

from bench.core.nesting_filling import Filler
from bench.core.nesting_task import Task
from bench.core.nesting_yard import FIXED, Snapshot, Yard

ALIKE = 0.7  # share of the random fillings that begin with parts of one width
WIDEN = 0.3  # share of them that may widen a strip in use


class StripYard(Yard):
    """A yard whose bays lie in strips. A strip's width includes the rip kerf, as does what a plank offers."""

    ripped = True

    def __init__(self, task: Task, filler: Filler, seed: int) -> None:
        self.strips: list[list[list[int]]] = []  # of each stick, the bays of each strip
        self.strip: list[list[int]] = []  # of each bay, all bays of its strip
        for bar in task.bars:
            own = []
            for _ in range(bar.strips):
                first = len(self.strip)
                bays = list(range(first, first + len(bar.bays)))
                self.strip += [bays for _ in bays]
                own.append(bays)
            self.strips.append(own)
        super().__init__(task, filler, seed)
        self.wide = [0] * len(self.room)  # of each bay, the width of what lies there

    def _hardness(self) -> list[int]:
        """Length squared, times the width."""
        return [row.width * row.width * min(filter(None, row.across), default=1) for row in self.task.kinds]

    # Widths.

    def _measure(self, bay: int) -> None:
        """Note how wide the contents of a bay are."""
        stick, kinds = self.home[bay], self.task.kinds
        self.wide[bay] = max([kinds[kind].across[stick] for kind in self.fill[bay]], default=0)

    def _widths(self, stick: int) -> list[int]:
        """Of the strips in use."""
        wide = self.wide
        return [
            width for bays in self.strips[stick] if (width := max([wide[bay] for bay in bays], default=0))
        ]

    def limit(self, bay: int) -> int | None:
        """How wide the strip of a bay may become; None: as wide as the plank is."""
        stick = self.home[bay]
        bar = self.task.bars[stick]
        if not bar.across:
            return None
        others = sum(self._widths(stick)) - max([self.wide[b] for b in self.strip[bay]])
        return bar.across - others if others else None

    def can(self, kind: int, bay: int) -> bool:
        """May the kind lie in the bay, beside what lies in the other strips?"""
        if not self.may[bay] >> kind & 1:
            return False
        limit = self.limit(bay)
        return limit is None or self.task.kinds[kind].across[self.home[bay]] <= limit

    def choose(self, kind: int, bays: Sequence[int]) -> int:
        """Where a strip becomes least wider, then where least room is left."""
        best, least, tried = -1, (0, 0), set()
        for bay in bays:
            if not self.may[bay] >> kind & 1:
                continue
            stick, own = self.home[bay], max([self.wide[b] for b in self.strip[bay]])
            if not own:  # unused strips of a plank are alike
                if (stick, self.room[bay]) in tried:
                    continue
                tried.add((stick, self.room[bay]))
            key = (max(0, self.task.kinds[kind].across[stick] - own), self.free[bay])
            if (best < 0 or key < least) and self.can(kind, bay):
                best, least = bay, key
        return best

    def holds(self, sticks: Iterable[int]) -> bool:
        """Do the strips of these sticks lie side by side?"""
        for stick in sticks:
            bar, widths = self.task.bars[stick], self._widths(stick)
            if bar.across and len(widths) > 1 and sum(widths) > bar.across:
                return False
        return True

    # Filling and emptying.

    def clear(self, pool: Sequence[int]) -> None:
        """Empty everything; `pool` is to be placed."""
        super().clear(pool)
        self.wide = [0] * len(self.room)

    def empty(self, bays: Iterable[int]) -> None:
        """Put what lies in the bays back to what is left."""
        bays = list(bays)
        super().empty(bays)
        for bay in bays:
            self.wide[bay] = 0

    def put(self, kind: int, bay: int) -> None:
        """Lay one part in the bay."""
        super().put(kind, bay)
        self.wide[bay] = max(self.wide[bay], self.task.kinds[kind].across[self.home[bay]])

    def change(self, bay: int, kinds: list[int], free: int = -1) -> None:
        """Let other kinds lie in the bay."""
        super().change(bay, kinds, free)
        self._measure(bay)

    def restore(self, snapshot: Snapshot) -> None:
        """Back to a copy."""
        super().restore(snapshot)
        for bay in range(len(self.room)):
            self._measure(bay)

    def top_up(self, bays: Iterable[int], order: int) -> None:
        """Fill one bay after the other as well as it can be; a random order is another for each."""
        for bay in bays:
            self._top_up(bay, order if order < FIXED else self.any_order())

    def _top_up(self, bay: int, order: int) -> None:
        """Fill the bay with what the strip is wide enough for; a strip not in use gets a width first."""
        stick, kinds, rest = self.home[bay], self.task.kinds, self.rest
        if not self.task.bars[stick].across:
            super().top_up([bay], order)
            self._measure(bay)
            return
        limit, room = self.limit(bay), self.free[bay]
        able = [
            kind
            for kind in self.orders[order]
            if rest[kind]
            and self.may[bay] >> kind & 1
            and kinds[kind].width <= room
            and (limit is None or kinds[kind].across[stick] <= limit)
        ]
        if not able:
            return
        shared = [kind for kind in able if kinds[kind].across[stick] <= self.task.bars[stick].across]
        able = shared or able
        own = max([self.wide[b] for b in self.strip[bay]])
        if not own:
            own = self._new_width(able, stick, order)
            if order < FIXED or self.random.random() < ALIKE:
                self._fill(bay, [kind for kind in able if kinds[kind].across[stick] == own])
        self._fill(bay, [kind for kind in able if kinds[kind].across[stick] <= own])
        if order >= FIXED and self.random.random() < WIDEN:
            self._fill(bay, able)

    def _fill(self, bay: int, order: Sequence[int]) -> None:
        """The best filling with some kinds."""
        for kind in self.filler.fill(order, self.rest, self.free[bay]):
            self.put(kind, bay)

    def _new_width(self, able: Sequence[int], stick: int, order: int) -> int:
        """The width of a strip to begin: the widest wanted, or by chance one of which much is wanted."""
        kinds = self.task.kinds
        wanted: dict[int, int] = {}
        for kind in able:
            width = kinds[kind].across[stick]
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
        free = [
            [self.free[bay] for bay in bays]
            for bays in self.strips[stick]
            if any(self.fill[bay] for bay in bays)
        ]
        if not free:
            return 0, list(self.task.bars[stick].bays)
        return len(free), [room for row in free for room in row]

    def piece(self) -> int:
        """The longest reusable piece left: in strips, in planks not in use, in boards beside the strips."""
        best = self.task.kerf
        for stick, bar in enumerate(self.task.bars):
            rows, free = self.leftovers(stick)
            best = max([best, *free])
            if rows > 1 and sum(self._widths(stick)) + bar.narrow <= bar.across:
                best = max([best, *bar.bays])
        best -= self.task.kerf
        return best if best >= max(1, self.task.least) else 0
