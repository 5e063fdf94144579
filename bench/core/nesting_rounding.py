"""Packing so many sticks by shares: the fractions are worked out, rounded, and what is then left is repaired.

Where the shares leave something out, the sticks are the wrong ones. The prices that the shares end with say
which sticks to take instead, or prove that no so many sticks are enough.

What a rounding leaves out is most often one part, and the room for it lies about in all bays. So a hole gets
a place among the shares as if it were a part: the bay where it lies has room for what is left in the end.
"""

from collections.abc import Callable, Sequence
from functools import partial
from math import exp, inf

from bench.core.nesting_pace import Pace
from bench.core.nesting_prices import Prices
from bench.core.nesting_relaxed import BEST, BROKEN, FINE, JUDGED, PLACED, Dearest, Judge, Relaxed
from bench.core.nesting_yard import DEMANDING, Yard

MENDING = 30  # moves after each rounding; those that help are most often few
ROUNDED = 6  # bays that are rounded in the time of a move
DRAWS = 6  # roundings of the same shares, all but the first by lot
HOLE = 0.5  # of the room that is not needed, the width of the hole; no wider than the longest part
ROOMY, SPARE = 150, 0.25  # moves to find the hole a place; what it is worth of its width then
ENOUGH = 0.02  # of the shortest part: to leave so little in shares is to leave nothing
TRUST = 0.2  # of what is left in shares: if so much must stay out, other sticks are taken
PROOF = 1000  # levels of worth for a proof
TURNS, ZEAL = 20, 10.0  # of the game between sticks and prices; how soon prices that want more gain weight

DONE, NONE, OPEN = range(3)  # all lies; proved that it cannot; neither


class Rounding:
    """Works on a yard with some sticks open, in which some of the pool lies."""

    def __init__(
        self, yard: Yard, pool: Sequence[int], pace: Pace, mend: Callable[[int], tuple[int, int]]
    ) -> None:
        """Take the repair, which is told a number of moves and says the penalty and the moves made."""
        self.yard, self.pool, self.pace, self.mend = yard, list(pool), pace, mend
        self.prices = Prices(yard, pool, self._hole())
        self.enough = ENOUGH * min([width for width, n in zip(yard.width, pool, strict=True) if n])
        # Prices at which some sticks were not enough, all that is wanted worth one; what sticks offer then.
        self.met: list[tuple[list[float], list[float]]] = []
        self.tried: set[frozenset[int]] = set()
        self.relaxed: Relaxed | None = None  # the shares of the sticks before, in which all lay
        self.made = 0  # moves that all this took
        self.proved = False  # that no so many sticks are enough

    def run(self, moves: int) -> tuple[int, int]:
        """The whole pool into as many sticks as are open; returns what came of it and the moves that took.

        Once all lies, the next run, for fewer sticks, goes on from the shares that were found.
        """
        self.made, self.proved = 0, False
        relaxed, self.relaxed = self.relaxed, None
        self.prices.narrow(self._hole())
        if relaxed is None:
            relaxed = self._relaxed()
        elif self.met and self._choose() == NONE:
            return NONE, self.made
        else:
            relaxed.draw(0.0)
            self._take(relaxed)
        how, hasty = BROKEN, True
        while self.made < moves and not self.pace.stopped:
            how = self._solve(relaxed, moves - self.made, partial(self._wrong, relaxed, hasty), self.enough)
            if how not in (BEST, JUDGED):
                break
            verdict = NONE if self.proved else self._other_sticks(relaxed)
            if verdict == NONE:
                return NONE, self.made
            if verdict == OPEN:
                if not hasty:
                    break
                hasty = False  # now to the end: better prices may find other sticks, or a proof
                self.tried.clear()
        if self._rounded(relaxed, moves, how == PLACED):
            self.relaxed = relaxed
            return DONE, self.made
        return OPEN, self.made

    def _solve(self, relaxed: Relaxed, moves: int, judge: Judge, enough: float) -> int:
        """Place as much as can be in shares with so many moves, but for those to mend; says how it ended."""
        before = relaxed.made
        how = relaxed.solve(enough, moves - MENDING, judge)
        self.made += relaxed.made - before
        return how

    def _spend(self, moves: int) -> None:
        """Count what took the time of so many moves of the search."""
        self.made += moves
        self.pace.move(moves)

    def _hole(self) -> int:
        """The width of the hole in the sticks that are open."""
        yard = self.yard
        room = sum([yard.room[bay] for bay in yard.bays_in(yard.open)])
        need = sum([n * width for n, width in zip(self.pool, yard.width, strict=True)])
        longest = max([width for n, width in zip(self.pool, yard.width, strict=True) if n])
        return min(int(HOLE * (room - need)), longest)

    def _relaxed(self) -> Relaxed:
        """Shares of the sticks that are open, from what lies there."""
        yard = self.yard
        return Relaxed(yard, self.prices, yard.bays_in(sorted(yard.open)), self.pace)

    def _rounded(self, relaxed: Relaxed, moves: int, placed: bool) -> bool:
        """Round the shares and mend; where all lies in shares, others again and again. True once all lies."""
        for drawn in range(moves if placed else 1):
            if drawn and (self.made >= moves or self.pace.stopped):
                break
            if placed and drawn % DRAWS == 0:
                relaxed.draw(SPARE)
                # Where the hole has its place as well, other shares are the best for what was drawn anew.
                enough = self.enough if drawn == 0 else -1.0
                self._solve(relaxed, min(ROOMY + MENDING, moves - self.made), _never, enough)
            self._round(relaxed, drawn % DRAWS > 0)
            penalty, made = self.mend(MENDING)
            self.made += max(1, made)
            if penalty == 0:
                return True
        return False

    def _offers(self, dearest: Dearest) -> list[int]:
        """What each stick can hold in worth."""
        offers = [0] * len(self.yard.bays)
        for bay, worth, _ in dearest:
            offers[self.yard.home[bay]] += worth
        return offers

    def _worth(self, whole: Sequence[int]) -> int:
        """Of the pool."""
        return sum([n * price for n, price in zip(self.pool, whole[:-1], strict=True)])

    def _wrong(self, relaxed: Relaxed, hasty: bool, whole: Sequence[int], dearest: Dearest) -> bool:
        """Do the prices say that any so many sticks are too few, or that the ones that are open are wrong?

        They are wrong as soon as much of what is left must stay out: then no better prices are needed.

        Args:
            relaxed: the shares, of the sticks that are open.
            hasty: whether the second is asked at all.
        """
        if not hasty:
            self.proved = self._proves(whole, dearest)
            return self.proved
        wanted = self._worth(whole)
        short = wanted - sum([worth for _, worth, _ in dearest])
        need = sum([n * price for n, price in zip(self.pool, relaxed.price[:-1], strict=True)])
        if short <= 0 or short * need < TRUST * relaxed.left() * wanted:
            return False
        self.proved = self._proves(whole, dearest)
        return True

    def _proves(self, whole: Sequence[int], dearest: Dearest) -> bool:
        """Is what is wanted worth more than any so many sticks, and those started before, can hold?

        It is not where the sticks that are open can hold so much already: `dearest` is of them.
        """
        if self._worth(whole) <= sum([worth for _, worth, _ in dearest]):
            return False
        self._spend(self.prices.moves(FINE))
        offers, started = self._offers(self.prices.best(whole)), self.yard.started
        free = sorted([offer for i, offer in enumerate(offers) if i not in started], reverse=True)
        most = sum(free[: len(self.yard.open - started)]) + sum([offers[i] for i in started])
        return self._worth(whole) > most

    def _round(self, relaxed: Relaxed, drawn: bool) -> None:
        """Give each bay the pattern of most share, or one by lot, that can still be made; then fill up."""
        yard = self.yard
        bays = yard.bays_in(sorted(yard.open))
        self._spend(len(bays) // ROUNDED)
        yard.clear(self.pool)
        rest = yard.rest
        for bay, patterns in relaxed.patterns(drawn):
            able = (row for row in patterns if all(rest[kind] >= many for kind, many in row))
            for kind, many in reversed(next(able, ())):
                for _ in range(many):
                    yard.put(kind, bay)
        yard.top_up(bays, DEMANDING)

    def _other_sticks(self, relaxed: Relaxed) -> int:
        """Open sticks that are enough at all prices met so far; NONE if none are, OPEN if none are found."""
        yard = self.yard
        need = sum([n * price for n, price in zip(self.pool, relaxed.price[:-1], strict=True)])
        if need <= 0:
            return OPEN
        self._spend(self.prices.moves(FINE + PROOF))
        whole = self.prices.whole(relaxed.price, FINE)
        wanted, offers = self._worth(whole), self._offers(self.prices.best(whole))
        self.met.append(([price / need for price in relaxed.price], [offer / wanted for offer in offers]))
        self.tried.add(frozenset(yard.open))
        verdict = self._choose()
        if verdict == DONE:
            self._take(relaxed)
        return verdict

    def _take(self, relaxed: Relaxed) -> None:
        """Let the shares be of the sticks that are open."""
        yard = self.yard
        have = {yard.home[bay] for bay, wanted in enumerate(relaxed.wanted) if wanted}
        closed, opened = sorted(have - yard.open), sorted(yard.open - have)
        relaxed.exchange(yard.bays_in(closed), yard.bays_in(opened))

    def _choose(self) -> int:
        """Open other sticks that are enough at all prices met so far; NONE if there cannot be any."""
        yard = self.yard
        self._spend(len(yard.bays))  # the game takes about a move for each stick
        weights, chosen = self._weighed()
        means = [0.0] * len(self.prices.width)
        for weight, (prices, _) in zip(weights, self.met, strict=True):
            means = [mean + weight * price for mean, price in zip(means, prices, strict=True)]
        whole = self.prices.whole(means, PROOF)
        if self._proves(whole, []):
            return NONE
        if not chosen:
            return OPEN
        yard.open = set(chosen)
        return DONE

    def _weighed(self) -> tuple[list[float], frozenset[int]]:
        """Weights of the prices met at which most is wanting; of the sticks not tried those that want least.

        It is a game played over and over: sticks are taken that offer most at the prices as they are weighed,
        and then the prices gain weight at which these sticks are not enough.
        """
        yard, count = self.yard, len(self.yard.open - self.yard.started)
        free = [i for i in range(len(yard.bays)) if i not in yard.started]
        weights, total = [1.0] * len(self.met), [0.0] * len(self.met)
        chosen, least = frozenset[int](), inf
        for _ in range(TURNS):
            summed = self._summed(weights)
            best = sorted(free, key=lambda i: (-summed[i], i not in yard.open, i))[:count]
            sticks = frozenset(best) | yard.started
            wanting = [1 - sum([offers[i] for i in sticks]) for _, offers in self.met]
            if max(wanting) < least and sticks not in self.tried:
                chosen, least = sticks, max(wanting)
            weights = [weight * exp(ZEAL * want) for weight, want in zip(weights, wanting, strict=True)]
            weights = [weight / sum(weights) for weight in weights]
            total = [known + weight for known, weight in zip(total, weights, strict=True)]
        weights = [weight / TURNS for weight in total]
        return weights, self._nearest(weights) or chosen

    def _summed(self, weights: Sequence[float]) -> list[float]:
        """What each stick offers at the prices met, as they are weighed."""
        summed = [0.0] * len(self.yard.bays)
        for weight, (_, offers) in zip(weights, self.met, strict=True):
            summed = [known + weight * offer for known, offer in zip(summed, offers, strict=True)]
        return summed

    def _nearest(self, weights: Sequence[float]) -> frozenset[int]:
        """Sticks not tried that are enough at all prices met, from those that are open by few exchanges."""
        yard, sticks, summed = self.yard, set(self.yard.open), self._summed(weights)
        leaving = sorted(sticks - yard.started, key=lambda i: (summed[i], i))
        coming = sorted(set(range(len(summed))) - sticks - yard.started, key=lambda i: (-summed[i], i))
        for out, into in zip(leaving, coming, strict=False):
            if summed[into] <= summed[out]:
                break
            sticks = sticks - {out} | {into}
            enough = all(sum([offers[i] for i in sticks]) >= 1 for _, offers in self.met)
            if enough and frozenset(sticks) not in self.tried:
                return frozenset(sticks)
        return frozenset()


def _never(whole: Sequence[int], dearest: Dearest) -> bool:
    return False
