"""What a few tests can say: spread, a lower limit, and one group against another.

All of it takes the coupons for a random sample of a normal law: of one lot, say, never of a species. The laws
themselves are in `student`.
"""

from collections.abc import Sequence
from functools import cache
from math import fsum, hypot, isfinite, sqrt
from statistics import NormalDist

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record
from bench.core.student import noncentral_t_quantile, t_outside, t_quantile

LEAST_FOR_LIMIT = 3  # our own bound: the factor for two is 11.8 and says nothing
MOST_COUPONS = 1000  # beyond it nobody breaks coupons to settle a difference
SHARE, CONFIDENCE = 0.95, 0.75  # of the lower limit: the 5th percentile, at 75 percent


@record
class Limit:
    """A value that a share of all pieces exceeds, with a stated confidence."""

    value: float  # may lie below zero: then the coupons say nothing about the weak ones
    factor: float  # k: standard deviations below the mean [1]
    count: int
    share: float  # of pieces above it [1]
    confidence: float  # [1]

    @property
    def below_zero(self) -> bool:
        """Whether the coupons are too few or too uneven for a limit that means anything."""
        return self.value < 0


@record
class Welch:
    """Two groups against each other, neither spread taken for the other's."""

    difference: float  # first mean less second
    error: float  # standard error of the difference
    t: float  # [1]
    df: float  # degrees of freedom, not whole [1]
    p: float  # chance of a difference as large where there is none, either way [1]
    low: float  # of the interval of the difference
    high: float
    confidence: float  # [1]

    @property
    def settled(self) -> bool:
        """Whether the interval leaves zero out."""
        return self.low > 0 or self.high < 0


def _finite(values: Sequence[float], least: int, why: str) -> None:
    if not values:
        raise Missing("coupons", why)
    if len(values) < least:
        raise OutOfRange("coupons", len(values), why)
    for value in values:
        if not isfinite(value):
            raise OutOfRange("value", value, "a finite number is wanted")


def mean(values: Sequence[float]) -> float:
    """The mean of a sample.

    Args:
        values: one and more, in any order [any unit].
    Returns:
        Mean [same unit].
    Raises:
        Missing: no value at all.
        OutOfRange: a value that is not finite.
    Source:
        definition.
    """
    _finite(values, 1, "one coupon or more is wanted")
    if min(values) == max(values):
        return values[0]  # a sum divided again may miss it by its last digit
    return fsum(values) / len(values)


def deviation(values: Sequence[float]) -> float:
    """Standard deviation of all pieces, estimated from a sample.

        s = sqrt(sum of (x - mean)^2 / (n - 1))

    Args:
        values: two and more, in any order [any unit].
    Returns:
        Sample standard deviation [same unit].
    Raises:
        Missing: no value at all.
        OutOfRange: a single value, or one that is not finite.
    Source:
        definition.
    """
    _finite(values, 2, "a spread needs two coupons or more")
    middle = mean(values)
    return hypot(*(value - middle for value in values)) / sqrt(len(values) - 1)


def variation(values: Sequence[float]) -> float:
    """Coefficient of variation: the standard deviation over the mean.

    Args:
        values: two and more, in any order [any unit].
    Returns:
        Coefficient of variation [1].
    Raises:
        Missing: no value at all.
        OutOfRange: a single value, one that is not finite, or a mean of zero or less.
    Source:
        definition.
    """
    spread, middle = deviation(values), mean(values)
    if not middle > 0:
        raise OutOfRange("mean", middle, "a spread is a share of a mean above zero only")
    return spread / middle


@cache
def tolerance_factor(count: int, share: float = SHARE, confidence: float = CONFIDENCE) -> float:
    """How many standard deviations below the mean of a sample its lower limit lies.

        k = t'_confidence(n - 1, z_share sqrt(n)) / sqrt(n),  t' of the noncentral law

    Args:
        count: of coupons, 3 and more.
        share: of all pieces that exceed the limit [1].
        confidence: that they do [1].
    Returns:
        k [1].
    Raises:
        OutOfRange: under 3 coupons, or a share or confidence outside 0.5 to 1.
    Valid for:
        coupons that are a random sample of a normal law.
    Source:
        derived from the noncentral t law; values as the standard tables, those from memory.
    """
    if count < LEAST_FOR_LIMIT:
        raise OutOfRange("coupons", count, f"a lower limit needs {LEAST_FOR_LIMIT} and more")
    for name, value in (("share", share), ("confidence", confidence)):
        if not 0.5 <= value < 1:
            raise OutOfRange(name, value, "0.5 and more, and less than 1, is wanted")
    root = sqrt(count)
    return noncentral_t_quantile(confidence, count - 1.0, NormalDist().inv_cdf(share) * root) / root


def lower_limit(values: Sequence[float], share: float = SHARE, confidence: float = CONFIDENCE) -> Limit:
    """The value that a share of all pieces exceeds.

        mean - k s

    Args:
        values: three and more, in any order [any unit].
        share: of all pieces [1].
        confidence: that they exceed it [1].
    Returns:
        The limit as it comes out: one below zero is not cut off, and says so.
    Raises:
        Missing: no value at all.
        OutOfRange: under three values, one that is not finite, or as `tolerance_factor`.
    Valid for:
        as `tolerance_factor`; of the pieces that the coupons were drawn from at random.
    Source:
        as `tolerance_factor`.
    """
    _finite(values, LEAST_FOR_LIMIT, f"a lower limit needs {LEAST_FOR_LIMIT} coupons and more")
    factor = tolerance_factor(len(values), share, confidence)
    return Limit(mean(values) - factor * deviation(values), factor, len(values), share, confidence)


def mean_interval(values: Sequence[float], confidence: float = 0.95) -> tuple[float, float]:
    """Where the mean of all pieces lies, two-sided.

        mean +- t s / sqrt(n)

    Args:
        values: two and more, in any order [any unit].
        confidence: of the interval [1].
    Returns:
        Low and high [same unit].
    Raises:
        Missing: no value at all.
        OutOfRange: a single value, one that is not finite, or a confidence outside 0 to 1.
    Valid for:
        as `tolerance_factor`.
    Source:
        Student's t law: derived.
    """
    half = deviation(values) / sqrt(len(values)) * t_quantile(_upper(confidence), len(values) - 1.0)
    return mean(values) - half, mean(values) + half


def _upper(confidence: float) -> float:
    if not 0 < confidence < 1:
        raise OutOfRange("confidence", confidence, "a share between 0 and 1 is wanted")
    return (1 + confidence) / 2


def _freedom(one: float, two: float, first: int, second: int) -> float:
    """Welch's degrees of freedom from the two variances of the means, their ratio alone counting."""
    ratio = min(one, two) / max(one, two)
    less, more = (second, first) if one >= two else (first, second)
    return (1 + ratio) ** 2 / (1 / (more - 1) + ratio * ratio / (less - 1))


def welch(first: Sequence[float], second: Sequence[float], confidence: float = 0.95) -> Welch:
    """Two groups against each other, without taking their spreads for equal.

        t = (m_1 - m_2) / sqrt(v_1 + v_2),  v = s^2 / n
        df = (v_1 + v_2)^2 / (v_1^2 / (n_1 - 1) + v_2^2 / (n_2 - 1))

    Args:
        first: two and more, in any order [any unit].
        second: two and more, in any order [same unit].
        confidence: of the interval of the difference [1].
    Returns:
        The difference of the means, first less second, with its interval.
    Raises:
        Missing: a group is empty.
        OutOfRange: under two in a group, values that are not finite, both spreads zero, or a confidence
            outside 0 to 1.
    Valid for:
        two random samples of normal laws that have nothing to do with each other.
    Source:
        Welch's approximation: memory; checked against a reference library.
    """
    for values in (first, second):
        _finite(values, 2, "a comparison needs two and more in each group")
    counts = len(first), len(second)
    one, two = (deviation(values) / sqrt(len(values)) for values in (first, second))
    error = hypot(one, two)
    if not error > 0:
        raise OutOfRange("spread", error, "both groups are without spread: no test tells how sure that is")
    # Variances of the means, over the greater of them so that nothing overflows.
    top = max(one, two)
    df = _freedom((one / top) ** 2, (two / top) ** 2, *counts)
    difference = mean(first) - mean(second)
    t = difference / error
    half = t_quantile(_upper(confidence), df) * error
    return Welch(difference, error, t, df, t_outside(t, df), difference - half, difference + half, confidence)


def coupons_to_settle(
    difference: float, first_sd: float, second_sd: float, confidence: float = 0.95
) -> int | None:
    """How many coupons in each group would tell two groups apart, if means and spreads stay as they are.

        the least n with |difference| > t(df(n)) sqrt((s_1^2 + s_2^2) / n)

    The means will not stay: with just so many the chances are about even that the interval leaves zero out.

    Args:
        difference: of the two means [any unit].
        first_sd: standard deviation of one group [same unit].
        second_sd: of the other [same unit].
        confidence: of the interval [1].
    Returns:
        Coupons in each group, 2 and more; None where even MOST_COUPONS would not do.
    Raises:
        OutOfRange: a spread below zero, both zero, a value that is not finite, or a confidence outside 0
            to 1.
    Valid for:
        as `welch`.
    Source:
        as `welch`.
    """
    if not all(isfinite(value) for value in (difference, first_sd, second_sd)):
        raise OutOfRange("spread", (difference, first_sd, second_sd), "finite numbers are wanted")
    spread, top = hypot(first_sd, second_sd), max(first_sd, second_sd)
    if min(first_sd, second_sd) < 0 or not spread > 0:
        raise OutOfRange(
            "spread", (first_sd, second_sd), "spreads of zero and more, not both zero, are wanted"
        )
    upper, one, two = _upper(confidence), (first_sd / top) ** 2, (second_sd / top) ** 2

    def settles(count: int) -> bool:
        df = _freedom(one, two, count, count)
        return abs(difference) > t_quantile(upper, df) * spread / sqrt(count)

    if not settles(MOST_COUPONS):
        return None
    # More coupons only narrow the interval, so the least number is found by halving.
    low, high = 1, MOST_COUPONS
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if settles(middle) else (middle, high)
    return high
