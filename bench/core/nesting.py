"""The arrangement search alone, in whole numbers: which parts from which bay of which stick.

Tiers, each decided before the next: critical parts left out, parts left out, sticks opened (all least),
longest reusable piece left anywhere (greatest), critical parts in better sticks and others in lesser ones,
waste (least). Groups of sticks and parts that have nothing to do with one another are arranged one by one.
"""

from collections.abc import Iterable, Sequence

from bench.core.nesting_bounds import Bounds
from bench.core.nesting_filling import Filler
from bench.core.nesting_leftover import Leftover
from bench.core.nesting_pace import Pace
from bench.core.nesting_quick import best_fit, first_packing
from bench.core.nesting_rounding import DONE, NONE, OPEN, Rounding
from bench.core.nesting_search import Goal, repair
from bench.core.nesting_strips import StripYard
from bench.core.nesting_task import Bar, Fills, Kind, Layout, Task, groups, part_of
from bench.core.nesting_yard import DEMANDING, Snapshot, Yard, shut_lightest

__all__ = ["Bar", "Fills", "Kind", "Layout", "Task", "arrange"]

# Shares of the moves: one part in so many.
SLICES = 8  # for placing everything, before one part more is given up
SIZE = 6  # bays that a quick packing goes through in the time of a move
QUICK = 40  # moves, after closing the stick from which least is cut
LOOK = 80  # moves, for a look at a number of sticks half way down
FIRST, FEW, MOST_FIRST = 40, 4000, 600  # moves before shares are worked out, more of them among few bays
SHARES = 0.9  # of the moves for one stick fewer, for which that may take the time
ALL = 0.5  # of the moves, the same for placing all that is wanted
KINDS, BAYS = 60, 400  # more of either take longer than that
RESERVE, LATER = 6, 80  # kept for the later tiers, and at most so many moves
LONGER = 300  # for the longest leftover, or an eighth of all; more finds it in four lists of 140

Kept = tuple[Snapshot, int, list[int]]  # a state, its sticks, and what it leaves out


def arrange(
    task: Task, moves: int, seed: int, keep: Sequence[Fills] = (), pace: Pace | None = None
) -> Layout:
    """The best arrangement found with so many moves.

    Args:
        task: kinds in any order; kinds that fit nowhere are left out.
        moves: least 0; 0 gives the best of the quick packings. Shared among the groups by their parts.
        seed: of the random choices.
        keep: earlier arrangements of kinds that are wanted and may lie there. What of them has room still is
            held against what the search finds, and stays where that is no better; among equals the first.
        pace: counts the moves and may end them early.
    """
    pace = pace or Pace()
    fills: list[tuple[tuple[int, ...], ...]] = [((),) * (len(bar.bays) * bar.strips) for bar in task.bars]
    out = [row.count for row in task.kinds]
    fewest, proved = 0, True
    found = groups(task)
    parts = sum(task.kinds[t].count for kinds, _ in found for t in kinds)
    for kinds, bars in found:
        own = sum(task.kinds[t].count for t in kinds)
        share = max(1, moves * own // parts) if moves else 0
        number = {t: n for n, t in enumerate(kinds)}
        kept = [
            tuple(tuple(tuple(number[t] for t in bay if t in number) for bay in known[i]) for i in bars)
            for known in keep
        ]
        layout = _Search(part_of(task, kinds, bars), seed, pace, share).run(kept)
        for i, bays in zip(bars, layout.fills, strict=True):
            fills[i] = tuple(tuple(kinds[t] for t in bay) for bay in bays)
        for t, left in zip(kinds, layout.out, strict=True):
            out[t] = left
        fewest += layout.fewest
        proved = proved and layout.proved
    return Layout(tuple(fills), tuple(out), fewest, proved)


class _Search:
    """One group from the quick packings to the last tier."""

    def __init__(self, task: Task, seed: int, pace: Pace, moves: int) -> None:
        self.task, self.pace = task, pace
        longest = max(room for bar in task.bars for room in bar.bays)
        filler = Filler([row.width for row in task.kinds], longest)
        self.bounds = Bounds(task, filler, few=not moves)
        ripped = any(bar.across for bar in task.bars)
        self.yard = StripYard(task, filler, seed) if ripped else Yard(task, filler, seed)
        self.counts = [row.count for row in task.kinds]
        self.least_critical = self.bounds.least_out()
        self.total, self.spent = moves, 0
        self.packed = 0  # quick packings into fewer sticks than that are not tried any more
        self.shares: dict[tuple[int, ...], Rounding] = {}  # by what is to be placed
        self.proved_fewest = 0  # sticks, by prices, where everything is to be placed
        self.proved_out = 0  # parts, by prices

    @property
    def moves(self) -> int:
        """Moves that may still be made."""
        return 0 if self.pace.stopped else max(0, self.total - self.spent)

    def _repair(self, goal: Goal, moves: int, exchange: bool = False) -> int:
        """Repair with so many moves, and count them; returns the penalty reached."""
        penalty, made = repair(self.yard, self.bounds, goal, moves, self.pace, exchange)
        self.spent += max(1, made)
        return penalty

    def _packed(self, sticks: Sequence[int], pool: Sequence[int], ways: int = 3) -> int:
        """The best of so many quick packings, counted as moves; returns the penalty."""
        yard = self.yard
        self.spent += ways * len(yard.bays_in(sticks)) // SIZE
        return first_packing(yard, sticks, pool, ways)

    def run(self, keep: Sequence[Fills]) -> Layout:
        """All tiers in turn, then what is kept if that is no worse."""
        yard = self.yard
        self.pace.ask()
        self._place()
        self._place_more()
        self._close()
        while self._put_in():
            self._close()
        self._finish()
        self._put_in()
        self._prefer(keep)
        critical, out = yard.left()
        fewest = self._fewest(critical, out)
        proved = len(yard.opened()) == fewest and self._proved(critical, out)
        fills = tuple(tuple(tuple(sorted(yard.fill[bay], reverse=True)) for bay in own) for own in yard.bays)
        return Layout(fills, tuple(yard.rest), fewest, proved)

    def _finish(self) -> None:
        """Tiers 4 to 6, with the parts that are out put aside."""
        missing, self.yard.rest = self.yard.rest, [0] * len(self.yard.rest)
        leftover = Leftover(self.yard, self.bounds, self.pace)
        if self.total:
            made = leftover.lengthen(min(self.moves // 2, max(LONGER, self.total // 8)))
            leftover.exchange()
            leftover.stir(min((self.moves - made) // 4, max(LONGER, self.total // 8) // 2))
        self.yard.rest = missing

    def _prefer(self, keep: Sequence[Fills]) -> None:
        """Back to an earlier arrangement, what it lacks put in, unless the state reached is better."""
        yard = self.yard
        best, least = yard.snapshot(), yard.score()
        for fills in reversed(keep):
            yard.lay(self.counts, fills)
            self._put_in(yard.used())  # no stick is opened for what still fits the opened ones
            self._put_in()
            score = yard.score()
            if score <= least:
                best, least = yard.snapshot(), score
        yard.restore(best)

    def _proved(self, critical: int, out: int) -> bool:
        """Do the bounds say that so many parts must stay out?"""
        if critical > self.least_critical:
            return False
        return out <= max(critical, self.bounds.least_out(critical), self.proved_out)

    def _place(self) -> None:
        """Tiers 1 and 2: everything if it can be, else all but what has to be given up."""
        yard = self.yard
        self._pack(self.bounds.overfull())
        if yard.left()[0] <= self.least_critical:
            return
        best, left = yard.snapshot(), yard.left()
        self._pack([0 if row.critical else row.count for row in self.task.kinds])
        if yard.left() >= left:
            yard.restore(best)

    def _pack(self, given: list[int]) -> None:
        """Place all but what is given up, giving up more if need be; then put in what has room after all."""
        yard = self.yard
        pool = [n - g for n, g in zip(self.counts, given, strict=True)]
        penalty = self._packed(range(len(self.task.bars)), pool, 8 if self.total else 2)
        start = yard.snapshot()
        self._put_back(given)
        quick, left = yard.snapshot(), yard.left()
        yard.restore(start)
        while penalty > 0 and self.moves > 0:
            penalty = self._repair(Goal(yard.cost), min(self.moves, max(10, self.total // SLICES)))
            if penalty > 0 and tuple(pool) not in self.shares:  # once: what is given up later is in it still
                penalty = self._all(pool, penalty)
            if penalty > 0 and not self._give_up(given):
                break
            penalty = yard.penalty(yard.cost)
        self._put_back(given)
        if yard.left() > left:  # what a few moves placed may be worth less than what they drove out
            yard.restore(quick)

    def _all(self, pool: list[int], penalty: int) -> int:
        """Place a pool by shares into all sticks, or leave what lies there; returns the penalty."""
        short = self.yard.snapshot()
        verdict = self._by_shares(pool, int(self.moves * ALL))
        if verdict == NONE and pool == self.counts:
            self.proved_out = 1
        if verdict == DONE:
            return 0
        self.yard.restore(short)
        return penalty

    def _put_back(self, given: list[int]) -> None:
        """Place what was given up, as far as it has room after all."""
        self.yard.rest = [n + g for n, g in zip(self.yard.rest, given, strict=True)]
        self._put_in()

    def _give_up(self, given: list[int]) -> bool:
        """Leave out one part more: the longest that is not critical and shares a stick with what is left."""
        yard, kinds = self.yard, self.task.kinds
        area = 0
        for t, count in enumerate(yard.rest):
            area |= kinds[t].sticks if count else 0
        able = [t for t, n in enumerate(self.counts) if n > given[t] and kinds[t].sticks & area]
        if not able:
            return False
        chosen = max(able, key=lambda t: (not kinds[t].critical, yard.width[t], t))
        given[chosen] += 1
        if not yard.rest[chosen]:
            bay = min(
                (b for b, fill in enumerate(yard.fill) if chosen in fill), key=lambda b: (yard.free[b], b)
            )
            yard.take(chosen, bay)
            yard.top_up([bay], DEMANDING)
        else:
            yard.rest[chosen] -= 1
        return True

    def _put_in(self, sticks: Iterable[int] | None = None) -> bool:
        """Place what is out and has room after all, critical parts first, then short ones."""
        yard, kinds = self.yard, self.task.kinds
        before = sum(yard.rest)
        order = sorted(range(len(kinds)), key=lambda t: (not kinds[t].critical, yard.width[t]))
        best_fit(yard, yard.bays_in(range(len(self.task.bars)) if sticks is None else sticks), order)
        return sum(yard.rest) < before

    def _place_more(self) -> None:
        """Place one part more, whichever it is, as long as that is not known to be impossible."""
        yard = self.yard
        stop = self.total // 2
        while self.moves > stop:
            critical, out = yard.left()
            if not out or self._proved(critical, out):
                return
            best = yard.snapshot()
            if not self._one_more(critical, out, stop):
                yard.restore(best)
                return

    def _one_more(self, critical: int, out: int, stop: int) -> bool:
        """From the state that leaves out so many parts to one that leaves out fewer, or not."""
        yard = self.yard
        everything, best = range(len(self.task.bars)), yard.snapshot()
        pools = self._pools(out - critical - 1) if critical <= self.least_critical and out > critical else []
        for pool in [None, *pools]:
            if self.moves <= stop:
                break
            if pool is None:
                yard.restore(best)
                yard.open = set(everything)
                # Which of the others stay out is open, if only one fewer does.
                free = out - critical - (critical <= self.least_critical)
            else:
                self._packed(everything, pool, 5)
                free = 0
            goal = Goal(yard.cost, max(0, free))
            self._repair(goal, max(1, self.total // SLICES))
            yard.rest = self._missing()
            self._put_in()
            if yard.left() < (critical, out):
                return True
        return False

    def _close(self) -> None:
        """Tier 3: as many parts from fewer sticks."""
        yard, bounds = self.yard, self.bounds
        critical, out = yard.left()
        fewest = self._fewest(critical, out)
        pools = [[n - left for n, left in zip(self.counts, yard.rest, strict=True)]]
        if self.total and out > critical:
            pools += [pool for pool in self._pools(out - critical) if pool not in pools]
        best, sticks = yard.snapshot(), len(yard.opened())
        missing = yard.rest
        if packed := self._pack_into_fewer(pools, fewest, sticks):
            best, sticks, missing = packed
        stop, rounds, low, easy = min(LATER, self.moves // RESERVE), 0, fewest, True
        while pools and sticks > fewest and self.moves > stop:
            rounds += 1
            pool = pools[(rounds - 1) % len(pools)]
            target = sticks - 1
            if easy:  # one stick after the other, as long as that takes few moves
                yard.restore(best)
                yard.rest = [0] * len(missing)
                shut_lightest(yard)
                done = easy = self._repair(Goal(yard.cost), min(self.moves - stop, QUICK), True) == 0
                rounds = 0
            elif low < target:  # then a look half way down, as long as there is a way
                target = (low + target) // 2
                first_packing(yard, bounds.pick(target), pool, ways=3)
                done = self._repair(Goal(yard.cost), min(self.moves - stop, LOOK)) == 0
                low = low if done else target + 1
            else:
                verdict = self._close_one(target, pool, stop, len(pools))
                done = verdict == DONE
                if verdict == NONE:
                    pools.remove(pool)
                    fewest = self._fewest(critical, out)
            if done:
                best, sticks, missing = self._kept()
                rounds, easy = 0, True
        yard.restore(best)
        yard.rest = missing

    def _pack_into_fewer(self, pools: Sequence[Sequence[int]], fewest: int, sticks: int) -> Kept | None:
        """A quick packing into as few sticks as the bounds allow, or by halving what is between."""
        low, high = max(fewest, self.packed), sticks
        found: Kept | None = None
        count = low
        while low < high:
            chosen, ways = self.bounds.pick(count), 2 if self.total else 1
            lacking = self.bounds.lacking(self.bounds.offers_of(chosen))
            if not lacking and any(self._packed(chosen, pool, ways) == 0 for pool in pools):
                kept, high = self._kept(), count
                # More sticks may be asked for and fewer opened.
                found = kept if found is None or kept[1] < found[1] else found
            else:
                low = count + 1
            count = (low + high) // 2
        self.packed = low
        return found

    def _close_one(self, sticks: int, pool: list[int], stop: int, tries: int) -> int:
        """Repair with the sticks that promise most, then by shares, then with some sticks exchanged.

        Says whether all lies, cannot, or neither.
        """
        goal, budget = Goal(self.yard.cost), max(10, int(self.total / tries))
        self._packed(self.bounds.pick(sticks), pool)
        first = min(MOST_FIRST, FIRST + FEW // len(self.yard.bays_in(self.yard.open)))
        if self._repair(goal, min(self.moves - stop, first)) == 0:
            return DONE
        verdict = self._by_shares(pool, min(self.moves - stop, int(budget * SHARES)))
        if verdict == NONE and pool == self.counts:
            self.proved_fewest = sticks + 1
        if verdict != OPEN:
            return verdict
        left = min(self.moves - stop, budget)
        return DONE if left > 0 and self._repair(goal, left, True) == 0 else OPEN

    def _by_shares(self, pool: list[int], moves: int) -> int:
        """The pool into the sticks that are open, by shares; says whether all lies, cannot, or neither."""
        yard = self.yard
        if yard.ripped or len(pool) > KINDS or len(yard.room) > BAYS or moves <= 0:
            return OPEN
        rounding = self.shares.get(tuple(pool))
        if rounding is None:  # or on from the shares of the last number of sticks
            rounding = self.shares[tuple(pool)] = Rounding(yard, pool, self.pace, self._mend)
        verdict, made = rounding.run(moves)
        self.spent += made
        return verdict

    def _mend(self, moves: int) -> tuple[int, int]:
        """What a rounding has left, in the sticks that are open; returns the penalty and the moves made."""
        return repair(self.yard, self.bounds, Goal(self.yard.cost), moves, self.pace)

    def _fewest(self, critical: int, out: int) -> int:
        """The fewest sticks of any plan that leaves out so many parts, as far as it is proved."""
        fewest = self.bounds.fewest(critical, out - critical)
        return fewest if out else max(fewest, self.proved_fewest)

    def _missing(self) -> list[int]:
        """How many of each kind lie nowhere."""
        return [n - lying for n, lying in zip(self.counts, self.yard.lying(), strict=True)]

    def _kept(self) -> Kept:
        """The state reached."""
        return self.yard.snapshot(), len(self.yard.opened()), self._missing()

    def _pools(self, others_out: int) -> list[list[int]]:
        """What is to be placed when, besides the critical parts that are out, so many others are to be.

        One pool for each sort, without the longest of that sort. Sorts differ in the sticks that may become
        them and in the width they take; within a sort it never helps to leave out a shorter part.
        """
        yard, kinds = self.yard, self.task.kinds
        pools: list[list[int]] = []
        for sort in sorted({(row.sticks, row.across) for row in kinds if not row.critical}):
            pool = [n - (yard.rest[t] if kinds[t].critical else 0) for t, n in enumerate(self.counts)]
            wanted = others_out
            for t in sorted(
                range(len(kinds)), key=lambda t: ((kinds[t].sticks, kinds[t].across) != sort, -t)
            ):
                if not kinds[t].critical:
                    drop = min(wanted, pool[t])
                    pool[t] -= drop
                    wanted -= drop
            if pool not in pools:
                pools.append(pool)
        return pools
