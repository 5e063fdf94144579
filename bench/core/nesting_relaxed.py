"""The packing with fractions of patterns allowed: how full some sticks can be made at most, and how.

Each bay is given to patterns in shares that sum to one. The shares that place most are found by the simplex
method, patterns being made as they are wanted (Gilmore and Gomory, Operations Research 9, 1961, and 11,
1963). One pattern of each bay is its key, whose share follows from the others', so that the inverse that is
carried along has one row for each kind of part only (generalized upper bounds, Dantzig and Van Slyke, 1967;
tests hold the result against another solver). Most bays end with a single pattern, which is what makes the
shares worth having.

A part may lie in the place of a longer one. That places no more in the end, but it keeps the prices from
going astray (known as dual inequalities; no text on them was read, tests hold what is placed).
"""

from collections.abc import Callable, Sequence
from math import inf
from operator import add, itemgetter, mul, sub

from bench.core.nesting_pace import Pace
from bench.core.nesting_prices import Pattern, Prices, Table
from bench.core.nesting_yard import Yard

TINY = 1e-9
NIL = 1e-12  # less comes from rounding
SPREAD = 0.01  # by at most so much a kind is worth more than its width, by chance
COARSE, FINE = 80, 240  # levels of worth, at first and where few patterns gain anything
FINEST = 960  # where none gains anything
FEW = 3  # patterns that gain anything: time for finer levels
FAVOUR = 0.002  # by at most so much what lies in a bay is worth more, by chance
STALE = 0.7  # a pattern still enters if it gains so much of what it would have gained at first
SHUT = 2.0  # times its width, what a part in a bay that was taken out is worth less
SMALL = 1e-6  # a share that is none
WORTH = 1e-3  # gains below are none [units]
# What takes the time of one move of the search:
ASKED = 6  # bays whose patterns are asked for
PIVOT, ALWAYS = 830, 445  # kinds squared in one pivot, and as many more in every one

NOWHERE, LESSER = -1, -2  # no bays: for what lies nowhere, for a part in the place of a longer one

# How it ends: all lies; no pattern places more; the judge ended it; it was broken off.
PLACED, BEST, JUDGED, BROKEN = range(4)

Dearest = list[tuple[int, int, Table]]  # as `Prices.best` says
More = list[tuple[int, int]]  # kinds, and how many more of each
Fresh = list[tuple[float, int, Pattern, Pattern, More]]
Judge = Callable[[Sequence[int], Dearest], bool]


class Relaxed:
    """The shares of some bays, from the packing that lies there."""

    def __init__(self, yard: Yard, prices: Prices, bays: Sequence[int], pace: Pace) -> None:
        """Take the bays that are open, and the prices of what is to lie in them."""
        self.width, self.prices, self.random, self.pace = prices.width, prices, yard.random, pace
        counts, kinds = prices.counts, len(prices.counts)
        self.made = 0  # moves of the search that took as long
        self.owed = 0.0  # part of one more
        self.wanted, self.shut = [False] * len(yard.room), [False] * len(yard.room)
        for bay in bays:
            self.wanted[bay] = True
        self.key = {bay: _pattern(yard.fill[bay]) for bay in bays}
        self.share = dict.fromkeys(bays, 1.0)
        # The basis beside the keys: a pattern of a bay, a kind that lies nowhere, or one in place of another.
        self.basis: list[tuple[int, Pattern]] = [(NOWHERE, ((kind, 1),)) for kind in range(kinds)]
        self.lesser = _lesser(yard, counts)  # (kind, a shorter one that may take its place)
        lying = [0] * kinds
        for pattern in self.key.values():
            for kind, many in pattern:
                lying[kind] += many
        # A little more is wanted than there is, each kind another little: so the shares are never at a tie.
        self.level = [
            n - there + 1e-5 * (1 + yard.random.random()) for n, there in zip(counts, lying, strict=True)
        ]
        # By columns: one for each kind, with a value for each row of the basis.
        self.inverse = [[float(row == kind) for row in range(kinds)] for kind in range(kinds)]
        # Where in the basis the patterns of a bay are.
        self.places: dict[int, list[int]] = {bay: [] for bay in bays}
        self.favour = [0.0] * len(yard.room)
        self.draw(0.0)

    def draw(self, hole: float) -> None:
        """Draw anew what kinds and full bays are worth: varied a little, so that hardly two optima are equal.

        Args:
            hole: what the hole is worth of its width. At nothing it is not looked for.
        """
        chance = self.random.random
        self.worth = [width * (1 + SPREAD * chance()) for width in self.width]
        self.worth[self.prices.hole] = hole * self.width[self.prices.hole]
        self.favour = [FAVOUR * chance() for _ in self.favour]
        self.size = list(self.width)
        self.size[self.prices.hole] *= hole > 0  # as something that is left only where it is looked for
        self._value()

    def _value(self) -> None:
        """The prices at which each pattern in the basis is worth as much as the key of its bay."""
        self._priced([0.0] * len(self.worth))
        gains = [self._gain(bay, pattern) if bay != NOWHERE else 0.0 for bay, pattern in self.basis]
        self._priced([sum(map(mul, gains, column)) for column in self.inverse])

    def _priced(self, duals: list[float]) -> None:
        self.duals = duals
        self.price = [worth - dual for worth, dual in zip(self.worth, duals, strict=True)]

    def exchange(self, closed: Sequence[int], opened: Sequence[int]) -> None:
        """Take some bays out, whatever lies there, and others in, which are empty."""
        for bay in closed:
            self.wanted[bay], self.shut[bay] = False, True
        for bay in opened:
            self.wanted[bay], self.shut[bay] = True, False
            if bay not in self.key:
                self.key[bay], self.share[bay], self.places[bay] = (), 1.0, []
        self._value()

    def left(self) -> float:
        """What lies nowhere, or in a bay that was taken out [units of width]."""
        total = 0.0
        for (bay, pattern), level in zip(self.basis, self.level, strict=True):
            if bay == NOWHERE or (bay >= 0 and self.shut[bay]):
                total += level * _sum(self.size, pattern)
        for bay, pattern in self.key.items():
            if self.shut[bay]:
                total += self.share[bay] * _sum(self.size, pattern)
        return total

    def solve(self, enough: float, moves: int, judge: Judge) -> int:
        """Place as much as can be; returns how it ended.

        Args:
            enough: to leave so little is as nothing [units of width]; below nothing it does not end by that.
            moves: of the search, whose time it may take at most, counted in `made`.
            judge: told the prices in whole numbers and what all bays can hold at them; True ends it.
        """
        levels, until = COARSE, self.made + moves
        while self.left() > enough:
            if self.made >= until or self.pace.stopped:
                return BROKEN
            self._slacken()
            whole = self.prices.whole(self.price, levels)
            dearest = self.prices.best(whole, self.wanted)
            self.spend(self.prices.moves(levels))
            if judge(whole, dearest):
                return JUDGED
            fresh = self._fresh(whole, dearest)
            if not fresh and levels >= FINEST:
                return BEST
            if len(fresh) < FEW:
                levels = max(levels, min(FINE if fresh else FINEST, 2 * levels))
            while fresh:
                gain, bay, pattern, key, more = fresh.pop()
                if self.key[bay] is not key:  # what came in before took its place
                    more = self._against(bay, pattern)
                now = self._gained(bay, more)
                if now > STALE * gain and not self._enter(bay, pattern, more, now):
                    return BROKEN
        return PLACED

    def spend(self, moves: float) -> None:
        """Count what took the time of so many moves of the search."""
        self.owed += moves
        whole = int(self.owed)
        self.owed -= whole
        self.made += whole
        self.pace.move(whole)

    def _fresh(self, whole: Sequence[int], dearest: Dearest) -> Fresh:
        """Patterns that are worth more than the keys of their bays, the best last.

        (gain, bay, pattern, key of the bay, what more the pattern takes) of each.
        """
        asked: list[tuple[int, Pattern]] = []
        for bay, worth, table in dearest:
            if worth > sum([whole[kind] * many for kind, many in self.key[bay]]):
                asked.append((bay, table.pattern(worth)))
        asked += [(bay, ()) for bay in self.key if self.shut[bay]]
        self.spend(2 + len(asked) / ASKED)
        found: list[tuple[float, float, int, Pattern, Pattern, More]] = []
        for bay, pattern in asked:
            more = self._against(bay, pattern)
            gain = self._gained(bay, more)
            if gain > WORTH:
                # What changes much in a bay gains much, and yet has a small share in the end.
                promise = gain / (1 + sum([many * many for _, many in more]))
                found.append((promise, gain, bay, pattern, self.key[bay], more))
        return [row[1:] for row in sorted(found, key=itemgetter(0, 2))]

    def _gain(self, bay: int, pattern: Pattern) -> float:
        """What a pattern is worth more than the key of its bay."""
        return self._gained(bay, self._against(bay, pattern))

    def _gained(self, bay: int, more: More) -> float:
        """What more of each kind in a bay is worth."""
        price, width = self.price, self.width
        if bay < 0:
            return sum([price[kind] * many for kind, many in more])
        full = self.favour[bay] - SHUT if self.shut[bay] else self.favour[bay]
        return sum([(price[kind] + full * width[kind]) * many for kind, many in more])

    def _slacken(self) -> None:
        """Leave out what has a price below nothing; let what is worth more than a longer part replace it."""
        while True:
            least, price = min(self.duals), self.price
            kind = self.duals.index(least)
            gain, bay = -least, NOWHERE
            pattern: Pattern = ((kind, 1),)
            for long, short in self.lesser:
                if price[short] - price[long] > gain:
                    gain, bay, pattern = price[short] - price[long], LESSER, ((short, 1), (long, -1))
            if gain <= WORTH or not self._enter(bay, pattern, list(pattern), gain):
                return

    def _against(self, bay: int, pattern: Pattern) -> More:
        """A pattern less the key of its bay: what more of each kind it takes."""
        more = dict(pattern)
        for kind, many in self.key[bay] if bay >= 0 else ():
            more[kind] = more.get(kind, 0) - many
        return [(kind, many) for kind, many in more.items() if many]

    def _along(self, more: More) -> list[float]:
        """By how much the basis falls for a share of what takes so much more."""
        falls = [0.0] * len(self.basis)
        for kind, many in more:
            column = self.inverse[kind]
            if many == 1:
                falls = list(map(add, falls, column))
            elif many == -1:
                falls = list(map(sub, falls, column))
            else:
                falls = [fall + many * value for fall, value in zip(falls, column, strict=True)]
        return falls

    def _enter(self, bay: int, pattern: Pattern, more: More, gain: float) -> bool:
        """Give a pattern as great a share as can be; False where rounding errors do not let it.

        Args:
            bay: or `NOWHERE`, or `LESSER`.
            pattern: what it holds.
            more: what it takes more than the key of the bay.
            gain: what that is worth.
        """
        self.spend((ALWAYS + len(self.basis) ** 2) / PIVOT)
        falls, basis, level, share = self._along(more), self.basis, self.level, self.share
        falling = [(place, fall) for place, fall in enumerate(falls) if fall]
        keys = {bay: 1.0} if bay >= 0 else {}
        step, row, empty = inf, -1, -1
        for place, fall in falling:
            if -NIL < fall < NIL:
                continue
            other = basis[place][0]
            if other >= 0:
                keys[other] = keys.get(other, 0.0) - fall
            if fall > TINY and level[place] < step * fall:
                step, row = level[place] / fall, place
        for other, fall in keys.items():
            if fall > TINY and share[other] < step * fall:
                step, row, empty = share[other] / fall, -1, other
        if row < 0 and empty < 0:
            return False
        for place, fall in falling:
            level[place] -= step * fall
        for other, fall in keys.items():
            share[other] -= step * fall
        if empty < 0:
            self._pivot(row, falls[row], falling, gain)
        elif empty == bay and not self.places[bay]:  # the one pattern of the bay for another
            self.key[bay], share[bay] = pattern, step
            return True
        else:
            row = max(self.places[empty], key=lambda place: abs(falls[place]))
            self._exchange_key(empty, row)
            # Everything falls as it did; at the row that is now what was the key.
            self._pivot(row, keys[empty], falling, gain)
        self._replace(row, bay, pattern, step)
        return True

    def _exchange_key(self, bay: int, row: int) -> None:
        """Make a pattern in the basis the key of its bay, and the key part of the basis."""
        _, pattern = self.basis[row]
        self.basis[row], self.key[bay] = (bay, self.key[bay]), pattern
        self.level[row], self.share[bay] = self.share[bay], self.level[row]
        others = [place for place in self.places[bay] if place != row]
        for column in self.inverse:
            column[row] = -column[row] - sum([column[place] for place in others]) if others else -column[row]

    def _pivot(self, row: int, pivot: float, falling: list[tuple[int, float]], gain: float) -> None:
        """Change the inverse and the prices for what comes in at a row of the basis.

        Args:
            row: where it comes in.
            pivot: by how much that row falls for a share of it.
            falling: the same of the other rows that do; what it says of the row itself does not count.
            gain: what it is worth.
        """
        duals, price, worth = self.duals, self.price, self.worth
        for kind, column in enumerate(self.inverse):
            part = column[row] / pivot
            if not -NIL < part < NIL:
                for place, fall in falling:
                    column[place] -= part * fall
                column[row] = part
                duals[kind] += gain * part
                price[kind] = worth[kind] - duals[kind]

    def _replace(self, row: int, bay: int, pattern: Pattern, step: float) -> None:
        """Put a pattern that has such a share in the place of what is at a row of the basis."""
        gone = self.basis[row][0]
        if gone >= 0:
            self.places[gone].remove(row)
        if bay >= 0:
            self.places[bay].append(row)
        self.basis[row], self.level[row] = (bay, pattern), step

    def shares(self) -> list[tuple[float, int, Pattern]]:
        """(share, bay, pattern) of the bays that are wanted, the hole left out.

        What lies there in the place of a longer part is in the pattern instead of it.
        """
        every = [(self.share[bay], bay, pattern) for bay, pattern in self.key.items()]
        every += [(level, *row) for row, level in zip(self.basis, self.level, strict=True)]
        every = [row for row in every if row[0] > SMALL]
        shares = [row for row in every if row[1] >= 0 and self.wanted[row[1]]]
        # From the longest down: what came in the place of one may give way to a shorter one still.
        for level, _, (short, long) in sorted(
            [row for row in every if row[1] == LESSER], key=lambda row: row[2][1], reverse=True
        ):
            place = 0
            while place < len(shares) and level >= SMALL:
                share, bay, pattern = shares[place]
                if all(kind != long[0] for kind, _ in pattern):
                    place += 1  # else once more: the pattern may hold another
                    continue
                taken = min(share, level)
                level -= taken
                shares[place] = (taken, bay, _with(pattern, (short, long)))
                if share - taken > SMALL:
                    shares.append((share - taken, bay, pattern))
        return [(share, bay, _parts(pattern, self.prices.hole)) for share, bay, pattern in shares]

    def patterns(self, drawn: bool = False) -> list[tuple[int, list[Pattern]]]:
        """(bay, its patterns from the largest share down), the bay with the clearest first one first.

        Args:
            drawn: by lot instead, a pattern's chance to come first being its share.
        """
        chance = self.random.random
        rows = dict[int, list[tuple[float, float, Pattern]]]()
        for share, bay, pattern in self.shares():
            # The greatest of these powers falls to each in proportion to its share.
            lot = chance() ** (1 / share) if drawn else share
            rows.setdefault(bay, []).append((lot, share, pattern))
        for row in rows.values():
            row.sort(key=itemgetter(0), reverse=True)
        order = sorted(rows, key=lambda bay: (-rows[bay][0][1], bay))
        return [(bay, [pattern for _, _, pattern in rows[bay]]) for bay in order]


def _with(pattern: Pattern, change: Pattern) -> Pattern:
    many = dict(pattern)
    for kind, more in change:
        many[kind] = many.get(kind, 0) + more
    return tuple(sorted((kind, n) for kind, n in many.items() if n))


def _parts(pattern: Pattern, hole: int) -> Pattern:
    """A pattern without the hole, which is the last of the kinds."""
    return pattern[:-1] if pattern and pattern[-1][0] == hole else pattern


def _lesser(yard: Yard, counts: Sequence[int]) -> list[tuple[int, int]]:
    """(kind, the next shorter one that may lie wherever it may) of those that are wanted."""
    kinds, found = yard.task.kinds, list[tuple[int, int]]()
    for long, row in enumerate(kinds):
        for short in reversed(range(long)):
            if counts[long] and counts[short] and not row.sticks & ~kinds[short].sticks:
                found.append((long, short))
                break
    return found


def _pattern(kinds: Sequence[int]) -> Pattern:
    many = dict[int, int]()
    for kind in kinds:
        many[kind] = many.get(kind, 0) + 1
    return tuple(sorted(many.items()))


def _sum(values: Sequence[float], pattern: Pattern) -> float:
    return sum([values[kind] * many for kind, many in pattern])
