"""The later tiers, with the parts placed and the number of sticks settled.

First the longest piece that can be left anywhere, in an opened stick or by not opening one; then exchanges
that bring critical parts to better sticks and other parts to lesser ones; then less waste. None of them opens
a stick more or leaves out a part more.
"""

from bisect import bisect_left, bisect_right
from itertools import combinations

from bench.core.nesting_bounds import Bounds
from bench.core.nesting_pace import Pace
from bench.core.nesting_quick import first_packing
from bench.core.nesting_search import Goal, repair
from bench.core.nesting_yard import DEMANDING, Yard, lightest

WAYS = 2  # quick packings tried for each
HOSTS = 4  # places for the longest piece that are tried
PASSES = 2  # of exchanges at most


class Leftover:
    """Works on a yard in which all that is to be placed lies, and `rest` is nothing."""

    def __init__(self, yard: Yard, bounds: Bounds, pace: Pace) -> None:
        self.yard, self.bounds, self.pace = yard, bounds, pace
        self.pool = yard.lying()
        self.piece = 0  # the longest that is left, while things are swapped

    def lengthen(self, moves: int) -> int:
        """Look for a longer piece to leave, the most promising place first; returns the moves made."""
        made = 0
        for bound, bay, closed in self._hosts()[:HOSTS]:
            if bound <= self.yard.piece() or made >= moves or self.pace.stopped:
                break
            best, score = self.yard.snapshot(), self.yard.score()
            budget = max(1, (moves - made) // 3)
            made += self._keep_stick(bay, budget) if closed else self._keep_bay(bay, budget)
            if any(self.yard.rest) or self.yard.score() >= score:
                self.yard.restore(best)
        return made

    def _hosts(self) -> list[tuple[int, int, bool]]:
        """(longest piece it could give, bay, by leaving its stick closed), the longest first."""
        yard, kerf = self.yard, self.yard.task.kerf
        reach = self.bounds.reach_of
        need = sum(count * width for count, width in zip(self.pool, yard.width, strict=True))
        sticks = len(yard.opened())
        falling = sorted(range(len(reach)), key=lambda i: (i not in yard.started, -reach[i], i))
        free = len(yard.started)  # sticks that may be used beside those opened
        hosts, seen = [], set()
        for bay, stick in enumerate(yard.home):
            if (yard.room[bay], stick) in seen:
                continue
            seen.add((yard.room[bay], stick))
            others = [reach[i] for i in falling if i != stick]
            count = sticks + free - (stick in yard.started)
            whole = yard.room[bay] - kerf
            if sum(others[:count]) >= need:
                hosts.append((whole, bay, True))
            if yard.ripped:
                continue
            own = reach[stick] - self.bounds.reach[stick][yard.bays[stick].index(bay)]
            spill = max(0, need - own - sum(others[: max(0, count - (stick not in yard.started))]))
            if sticks + free and spill < whole:
                hosts.append((whole - spill, bay, False))
        return sorted(
            (host for host in hosts if host[0] >= yard.task.least), key=lambda h: (-h[0], not h[2], h[1])
        )

    def _keep_stick(self, bay: int, moves: int) -> int:
        """Place everything in as many other sticks; returns the moves made."""
        yard, stick = self.yard, self.yard.home[bay]
        used, base = yard.used(), yard.snapshot()
        chosen = self.bounds.pick(len(yard.opened()), 1 << stick)
        may = not self.bounds.lacking(self.bounds.offers_of(chosen))
        if may and first_packing(yard, chosen, self.pool, WAYS) == 0:
            return 0
        yard.restore(base)
        yard.open = (set(used) | yard.started) - {stick}
        reach = self.bounds.reach_of
        spare = [i for i in range(len(reach)) if i not in yard.open and i != stick]
        if spare and stick in used and stick not in yard.started:
            yard.open.add(max(spare, key=lambda i: (reach[i], -i)))
        yard.empty(yard.bays[stick])
        yard.top_up(yard.bays_in(sorted(yard.open)), DEMANDING)
        goal = Goal(yard.cost, shut=1 << stick)
        return repair(yard, self.bounds, goal, moves, self.pace, exchange=True)[1]

    def _keep_bay(self, bay: int, moves: int) -> int:
        """Leave as much of one bay as can be, its stick being opened; returns the moves made."""
        yard, stick = self.yard, self.yard.home[bay]
        used, opened = yard.used(), yard.opened()
        yard.open = set(used) | yard.started | {stick}
        if stick not in used and stick not in yard.started and opened:
            least = lightest(yard)
            yard.open.discard(least)
            yard.empty(yard.bays[least])
        yard.empty([bay])
        yard.top_up([other for other in yard.bays_in(sorted(yard.open)) if other != bay], DEMANDING)
        # What may lie in the bay costs its width; all else costs more than the bay could hold.
        dear = sum(count * width for count, width in zip(self.pool, yard.width, strict=True)) + 1
        cost = [width + dear * (not yard.may[bay] >> t & 1) for t, width in enumerate(yard.width)]
        penalty, made = repair(yard, self.bounds, Goal(cost, barred=bay), moves, self.pace, exchange=True)
        if 0 < penalty <= yard.room[bay] and penalty < dear:
            for kind, count in enumerate(list(yard.rest)):
                for _ in range(count):
                    yard.put(kind, bay)
        return made

    def exchange(self) -> None:
        """Swap the contents of sticks and of bays, and single parts, as long as the score gets better."""
        for _ in range(1 if self.yard.ripped else PASSES):
            before = self.yard.score()
            self._other_sticks()
            if len({bar.rank for bar in self.yard.task.bars}) > 1:
                self._swap_for_rank()
            if self.yard.score() == before:
                break

    def _other_sticks(self) -> None:
        """Cut from a closed stick what is cut from an opened one."""
        yard, reach = self.yard, self.bounds.reach_of
        used = set(yard.used())
        for stick in sorted(used):
            wanted = yard.content(stick)
            load = sum([yard.width[kind] for kind in wanted])
            mask = sum({1 << kind for kind in wanted})
            best, chosen = self._worth(stick), stick
            found = [(bay, yard.fill[bay]) for bay in yard.bays[stick]]
            yard.empty(yard.bays[stick])
            seen = set()  # of alike sticks one is enough
            for other, looks in enumerate(yard.looks):
                if other in used or reach[other] < load or mask & ~yard.takes[other] or looks in seen:
                    continue
                seen.add(looks)
                yard.top_up(yard.bays_in([other]), DEMANDING)
                if not any(yard.rest) and self._worth(other) < best:
                    best, chosen = self._worth(other), other
                    found = [(bay, yard.fill[bay]) for bay in yard.bays[other]]
                yard.empty(yard.bays[other])
            for bay, kinds in found:
                yard.change(bay, kinds)
            yard.rest = [0] * len(yard.rest)
            used = used - {stick} | {chosen}

    def _worth(self, stick: int) -> tuple[int, ...]:
        """What the score has of one stick, with the longest piece left anywhere."""
        opened, *rest = self.yard.amounts([stick])
        return (opened, -self.yard.piece(), *rest)

    def _swap(self, one: int, two: int, left: list[int], right: list[int]) -> bool:
        """New contents for two bays, if they may lie there and the longest piece stays as long."""
        yard = self.yard
        for bay, kinds in ((one, left), (two, right)):
            if not all(yard.may[bay] >> kind & 1 for kind in kinds):
                return False
        before = yard.fill[one], yard.fill[two]
        yard.change(one, left)
        yard.change(two, right)
        if yard.holds((yard.home[one], yard.home[two])) and (piece := yard.piece()) >= self.piece:
            self.piece = piece
            return True
        yard.change(one, before[0])
        yard.change(two, before[1])
        return False

    def _swap_for_rank(self) -> None:
        """Between sticks of different rank swap all that lies in two bays, or one part for another."""
        yard = self.yard
        self.piece = yard.piece()
        bays = yard.bays_in(yard.used())
        ranks = {bay: yard.task.bars[yard.home[bay]].rank for bay in bays}
        looks = {bay: self._look(bay) for bay in bays}
        for one, two in combinations(bays, 2):
            apart = ranks[one] - ranks[two]
            (left, held, longer), (right, there, longer_there) = looks[one], looks[two]
            if not apart or not (held or there):
                continue
            if apart * (right - left) > 0 and self._fit_crosswise(one, two):
                swapped = self._swap(one, two, yard.fill[two], yard.fill[one])
            else:
                swapped = False
            if not swapped and (longer & there or longer_there & held):
                swapped = self._swap_parts(one, two, apart)
            if swapped:
                looks[one], looks[two] = self._look(one), self._look(two)

    def _look(self, bay: int) -> tuple[int, int, int]:
        """Of a bay what lies there is worth; bits of the kinds there; and of those as long that have room.

        That is, in place of a part that lies there.
        """
        width, worth, kinds, free = self.yard.width, self.yard.worth, self.yard.fill[bay], self.yard.free[bay]
        held = longer = 0
        for kind in {*kinds}:
            held |= 1 << kind
            longer |= (1 << bisect_right(width, width[kind] + free)) - (1 << bisect_left(width, width[kind]))
        return sum([worth[kind] for kind in kinds]), held, longer

    def _fit_crosswise(self, one: int, two: int) -> bool:
        """Would what lies in each bay have room in the other?"""
        yard = self.yard
        apart = yard.room[one] - yard.room[two]
        return yard.free[one] >= apart and yard.free[two] >= -apart

    def _swap_parts(self, one: int, two: int, apart: int) -> bool:
        """Swap the pair that gains most, if any; `apart` is how far the first rank is above the second."""
        yard, width, worth = self.yard, self.yard.width, self.yard.worth
        left, right = yard.fill[one], yard.fill[two]
        most, least = yard.free[one], -yard.free[two]
        gains = [
            (apart * (worth[b] - worth[a]), a, b)
            for a in set(left)
            for b in set(right)
            if least <= width[b] - width[a] <= most and apart * (worth[b] - worth[a]) > 0
        ]
        for _, a, b in sorted(gains, reverse=True):
            new_left, new_right = list(left), list(right)
            new_left[left.index(a)], new_right[right.index(b)] = b, a
            if self._swap(one, two, new_left, new_right):
                return True
        return False

    def stir(self, moves: int) -> None:
        """Fill two or three opened bays again, keeping what scores no worse."""
        yard, random = self.yard, self.yard.random
        bays = yard.bays_in(yard.used())
        piece = yard.piece()
        owed = 0.0
        for _ in range(int(moves / yard.steps) if len(bays) > 1 else 0):
            group = random.sample(bays, min(len(bays), 2 + (random.random() < 0.5)))
            sticks = {yard.home[bay] for bay in group}
            opened, *amounts = yard.amounts(sticks)
            before, rest = [(bay, yard.fill[bay]) for bay in group], list(yard.rest)
            yard.empty(group)
            yard.top_up(group, yard.any_order())
            worse = True
            if not any(yard.rest):
                score = yard.amounts(sticks)
                longest = yard.piece()
                worse = (score[0], -longest, *score[1:]) > (opened, -piece, *amounts)
            if worse:
                yard.rest = rest
                for bay, kinds in before:
                    yard.change(bay, kinds)
            else:
                piece = longest
                if score[0] < opened:
                    bays = yard.bays_in(yard.used())
            owed += yard.steps
            steps = int(owed)
            owed -= steps
            if self.pace.move(steps):
                return
