"""How many planks to order so that enough of them pass: the rack's own rejects, and the binomial law."""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.frozen import record
from bench.core.judging import Judged

PROMISE = Fraction(9, 10)  # how likely enough of what is ordered pass


@record
class LotCount:
    """How the sticks of one lot were judged for what is wanted of the wood."""

    name: str  # empty: they stand in no lot
    accepted: int
    rejected: int
    held: int  # not decided: counted neither way


@record
class Rejects:
    """How the sticks of one wood were judged, lot by lot."""

    lots: tuple[LotCount, ...]

    @property
    def accepted(self) -> int:
        """Sticks."""
        return sum(lot.accepted for lot in self.lots)

    @property
    def rejected(self) -> int:
        """Sticks."""
        return sum(lot.rejected for lot in self.lots)

    @property
    def held(self) -> int:
        """Sticks."""
        return sum(lot.held for lot in self.lots)

    @property
    def judged(self) -> int:
        """Sticks that were accepted or rejected."""
        return self.accepted + self.rejected

    @property
    def rate(self) -> Fraction | None:
        """Rejected over judged [1]; None where none was judged."""
        return Fraction(self.rejected, self.judged) if self.judged else None


def rejects(rack: Iterable[Judged], species: str, uses: Iterable[str]) -> Rejects:
    """How the sticks of a wood were judged for all the uses that are wanted of it.

    What was sawn from a plank is no trial of its own: it counts with its plank, once, by the worst of them.

    Args:
        rack: the sticks of the job, those that are sawn up too; may be empty.
        species: the wood.
        uses: names of limits.USES.
    Returns:
        Counts by lot: accepted for every use, rejected for one of them, not decided.
    """
    sticks, wanted = tuple(rack), tuple(uses)
    parents = {judged.stick.tag: judged.stick.parent for judged in sticks}
    words: dict[tuple[str, str], set[str]] = {}
    for judged in sticks:
        if judged.stick.species == species:
            key = (judged.stick.lot.strip(), _origin(judged.stick.tag, parents))
            words.setdefault(key, set()).update(judged.words[use] for use in wanted)
    lots: dict[str, list[str]] = {}
    for (lot, _), said in words.items():
        lots.setdefault(lot, []).append(next(word for word in (REJECT, HOLD, ACCEPT) if word in said))
    return Rejects(
        tuple(
            LotCount(lot, said.count(ACCEPT), said.count(REJECT), said.count(HOLD))
            for lot, said in lots.items()
        )
    )


def _origin(tag: str, parents: Mapping[str, str]) -> str:
    """The plank or stick a stick was first sawn from."""
    seen = {tag}
    while (parent := parents.get(tag, "")) and parent not in seen:
        seen.add(parent)
        tag = parent
    return tag


def chance(needed: int, planks: int, rate: Fraction) -> Fraction:
    """How likely at least so many of the planks pass, each by itself (binomial law).

    Args:
        needed: that must pass [1].
        planks: ordered [1].
        rate: at which planks are rejected, 0 to 1 [1].
    Returns:
        The probability, exact [1].
    Source:
        binomial law: derived.
    """
    if needed <= 0 or not rate:
        return Fraction(planks >= needed)
    good, bad = rate.denominator - rate.numerator, rate.numerator
    term, too_few = bad**planks, 0  # whole numbers, over denominator ** planks
    for passed in range(min(needed, planks + 1)):
        too_few += term
        term = term * (planks - passed) * good // ((passed + 1) * bad)  # comes out even
    return 1 - Fraction(too_few, rate.denominator**planks)


def planks_for(needed: int, rate: Fraction | None, promise: Fraction = PROMISE) -> int | None:
    """The fewest planks of which enough pass with at least this likelihood.

    Args:
        needed: that must pass [1].
        rate: at which planks are rejected [1]; None: not known, and nothing is added.
        promise: below 1 [1].
    Returns:
        Planks to order; None where every plank is rejected and no number is enough.
    Source:
        binomial law: derived.
    """
    if not needed or not rate:
        return needed
    if rate >= 1:
        return None
    low, high = needed - 1, needed
    while chance(needed, high, rate) < promise:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if chance(needed, middle, rate) >= promise else (middle, high)
    return high
