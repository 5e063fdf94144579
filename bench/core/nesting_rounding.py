"""Packing so many sticks by shares: the fractions are worked out, rounded, and what is then left is repaired.

Where the shares leave something out, the sticks are the wrong ones. The prices that the shares end with say
which stick to take for which, or prove that no so many sticks are enough.
"""

from collections.abc import Callable, Sequence
from math import exp, inf

from bench.core.nesting_pace import Pace
from bench.core.nesting_prices import Pattern, Prices
from bench.core.nesting_relaxed import BEST, FINE, JUDGED, Relaxed
from bench.core.nesting_yard import DEMANDING, Yard

MENDING = 100  # moves after each rounding
AGAIN = 3  # rounds of making patterns after the worths were varied
GAME, GREED, PROOF = 20, 10.0, 1000
ENOUGH = 0.02  # of the shortest part: to leave so little in shares is to leave nothing

DONE, NONE, OPEN = range(3)  # all lies; proved that it cannot; neither


class Rounding:
    """Works on a yard with some sticks open, in which some of the pool lies."""

    def __init__(
        self, yard: Yard, pool: Sequence[int], pace: Pace, mend: Callable[[int], tuple[int, int]]
    ) -> None:
        """Take the repair that is called with a number of moves and returns the penalty and the moves made."""
        self.yard, self.pool, self.pace, self.mend = yard, list(pool), pace, mend
        self.prices = Prices(yard, pool)
        # Prices at which some sticks were not enough, all that is wanted being worth one, and what sticks offer.
        self.met: list[tuple[list[float], list[float]]] = []
        self.tried: set[frozenset[int]] = set()
        self.enough = ENOUGH * min([width for width, n in zip(yard.width, pool, strict=True) if n])

    def run(self, moves: int) -> tuple[int, int]:
        """All of the pool into as many sticks as are open, if it can be; returns what came of it and the moves."""
        yard, made, rounds, stuck = self.yard, 0, 0, False
        relaxed = Relaxed(yard, self.prices, yard.bays_in(sorted(yard.open)), self.pool, yard.random)
        while made < moves and not self.pace.stopped:
            how, spent = relaxed.solve(self.enough, rounds, moves - made, self.pace, self._proves)
            made += spent
            if how == JUDGED:
                return NONE, made
            if how == BEST and stuck:
                break
            if how == BEST:
                made += self.prices.moves(FINE + PROOF)
                verdict = self._other_sticks(relaxed)
                if verdict == NONE:
                    return NONE, made
                if verdict == DONE:
                    rounds = 0
                    continue
                stuck = True
            self._round(relaxed)
            penalty, spent = self.mend(min(MENDING, max(1, moves - made)))
            made += spent
            if penalty == 0:
                return DONE, made
            relaxed.shake()
            rounds = AGAIN
        return OPEN, made

    def _offers(self, dearest: list[tuple[int, int, Pattern]]) -> list[int]:
        offers = [0] * len(self.yard.bays)
        for bay, worth, _ in dearest:
            offers[self.yard.home[bay]] += worth
        return offers

    def _proves(self, whole: Sequence[int], dearest: list[tuple[int, int, Pattern]]) -> bool:
        """Is what is wanted worth more than any so many sticks?"""
        offers, started = self._offers(dearest), self.yard.started
        free = sorted([offer for i, offer in enumerate(offers) if i not in started], reverse=True)
        most = sum(free[: len(self.yard.open - started)]) + sum([offers[i] for i in started])
        return sum([n * price for n, price in zip(self.pool, whole, strict=True)]) > most

    def _round(self, relaxed: Relaxed) -> None:
        """Give each bay the pattern of which it has most, as far as the parts go; then what else has room."""
        yard = self.yard
        yard.clear(self.pool)
        for _, bay, pattern in relaxed.largest():
            for kind, many in reversed(pattern):
                for _ in range(min(many, yard.rest[kind])):
                    yard.put(kind, bay)
        yard.top_up(yard.bays_in(sorted(yard.open)), DEMANDING)

    def _other_sticks(self, relaxed: Relaxed) -> int:
        """Open sticks that are enough at all prices met so far; NONE if none are, OPEN if none are found."""
        yard = self.yard
        need = sum([n * price for n, price in zip(self.pool, relaxed.price, strict=True)])
        if need <= 0:
            return OPEN
        whole = self.prices.whole(relaxed.price, FINE)
        wanted = sum([n * price for n, price in zip(self.pool, whole, strict=True)])
        offers = self._offers(self.prices.best(whole))
        self.met.append(([price / need for price in relaxed.price], [offer / wanted for offer in offers]))
        self.tried.add(frozenset(yard.open))
        weights, chosen = self._weighed()
        means = [
            sum([weight * prices[kind] for weight, (prices, _) in zip(weights, self.met, strict=True)])
            for kind in range(len(self.pool))
        ]
        whole = self.prices.whole(means, PROOF)
        if self._proves(whole, self.prices.best(whole)):
            return NONE
        if not chosen:
            return OPEN
        relaxed.exchange(yard.bays_in(sorted(yard.open - chosen)), yard.bays_in(sorted(chosen - yard.open)))
        yard.open = set(chosen)
        return DONE

    def _weighed(self) -> tuple[list[float], frozenset[int]]:
        """Weights of the prices met at which most is wanting, and of the sticks not tried those that want least.

        Prices at which the sticks taken are not enough gain weight, as in a game played over and over.
        """
        yard, count = self.yard, len(self.yard.open - self.yard.started)
        started = sorted(yard.started)
        free = sorted(set(range(len(yard.bays))) - yard.started)
        weights, total, chosen, least = [1.0] * len(self.met), [0.0] * len(self.met), frozenset[int](), inf
        for _ in range(GAME):
            summed = [sum([w * offers[i] for w, (_, offers) in zip(weights, self.met, strict=True)]) for i in range(len(yard.bays))]
            best = sorted(free, key=lambda i: (-summed[i], i not in yard.open, i))[:count] + started
            wanting = [1 - sum([offers[i] for i in best]) for _, offers in self.met]
            sticks = frozenset(best)
            if max(wanting) < least and sticks not in self.tried:
                chosen, least = sticks, max(wanting)
            weights = [weight * exp(GREED * want) for weight, want in zip(weights, wanting, strict=True)]
            whole = sum(weights)
            weights = [weight / whole for weight in weights]
            total = [a + b for a, b in zip(total, weights, strict=True)]
        return [value / GAME for value in total], chosen
