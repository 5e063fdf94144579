"""Student's t law and the noncentral one, by the standard library alone."""

from collections.abc import Callable
from math import ceil, erfc, exp, isfinite, lgamma, log, log1p, sqrt

from bench.core.errors import OutOfRange

_SMALL = 1e-300  # stands in for zero in the continued fraction
_ROUNDS = 10_000  # far more than it takes for the degrees of freedom of any group of coupons
_LOG_NOTHING = 40.0  # e^-40 is below the last digit of a probability


def beta_share(x: float, a: float, b: float) -> float:
    """Regularised incomplete beta function I_x(a, b).

    Args:
        x: from 0 to 1 [1].
        a: above zero [1].
        b: above zero [1].
    Returns:
        Share of the beta law below x [1].
    Raises:
        OutOfRange: x outside 0 to 1, or a or b not above zero.
    Source:
        the continued fraction of the incomplete beta function: memory; checked against a reference library.
    """
    if not 0 <= x <= 1:
        raise OutOfRange("x", x, "0 to 1 is wanted")
    if not (a > 0 and b > 0 and isfinite(a + b)):
        raise OutOfRange("shape", (a, b), "shapes above zero are wanted")
    if x in (0, 1):
        return float(x)
    # The fraction converges fast on one side of the mean; the other follows by symmetry.
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta(1 - x, b, a)
    return _beta(x, a, b)


def _beta(x: float, a: float, b: float) -> float:
    """x^a (1 - x)^b / (a B(a, b)) over the continued fraction, worked out from its front."""
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x)) / a
    c, d = 1.0, 1 / _not_zero(1 - (a + b) * x / (a + 1))
    value = d
    for m in range(1, _ROUNDS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        factor = 1.0
        for term in (even, odd):
            d, c = 1 / _not_zero(1 + term * d), _not_zero(1 + term / c)
            value *= (factor := d * c)
        if abs(factor - 1) < 1e-16:
            break
    return front * value


def _not_zero(value: float) -> float:
    return value if abs(value) > _SMALL else _SMALL


def t_outside(t: float, df: float) -> float:
    """Chance that Student's t lies farther from zero than a value, on either side.

        I_(df / (df + t^2)) (df / 2, 1 / 2)

    Args:
        t: the value [1].
        df: degrees of freedom, above zero, whole or not [1].
    Returns:
        Two-sided chance, exact far out as well [1].
    Raises:
        OutOfRange: degrees of freedom of zero or less, or a value that is no number.
    Source:
        Student's t law by the incomplete beta function: derived.
    """
    _check(t, df)
    if abs(t) > 1e150:  # its square is beyond a float, and so is what lies outside
        return 0.0
    if t * t < df:  # near the middle the chance of lying inside keeps more digits
        return 1 - beta_share(t * t / (df + t * t), 0.5, df / 2)
    return beta_share(df / (df + t * t), df / 2, 0.5)


def t_below(t: float, df: float) -> float:
    """Chance that Student's t lies below a value.

    Args:
        t: the value [1].
        df: degrees of freedom, above zero, whole or not [1].
    Returns:
        Chance [1].
    Raises:
        OutOfRange: as `t_outside`.
    Source:
        as `t_outside`.
    """
    tail = t_outside(t, df) / 2
    return tail if t < 0 else 1 - tail


def t_quantile(share: float, df: float) -> float:
    """The value that Student's t lies below with a chance.

    Args:
        share: the chance, between 0 and 1 [1].
        df: degrees of freedom, above zero, whole or not [1].
    Returns:
        The value [1].
    Raises:
        OutOfRange: a share of 0 or less or 1 or more, or degrees of freedom of zero or less.
    Source:
        as `t_outside`.
    """
    _check_share(share)
    if share == 0.5:
        return 0.0
    if share < 0.5:
        return -t_quantile(1 - share, df)
    return _solved(lambda t: t_below(t, df) - share, 0.0)


def noncentral_t_below(t: float, df: float, shift: float) -> float:
    """Chance that a noncentral t lies below a value.

        mean of Phi(t u - shift) over u, where df u^2 is chi-squared of df

    With u = e^x both factors are smooth on the whole line, where plain equal steps converge fastest.

    Args:
        t: the value [1].
        df: degrees of freedom, 1 and more [1].
        shift: the noncentrality [1].
    Returns:
        Chance, to 1e-12 and better [1].
    Raises:
        OutOfRange: degrees of freedom under 1, or numbers that are not finite.
    Source:
        definition of the law; checked against a reference library.
    """
    _check(t, df)
    if not (df >= 1 and isfinite(shift) and isfinite(t)):
        raise OutOfRange("degrees of freedom", (t, df, shift), "1 and more, and finite numbers, are wanted")
    # Outside these ends the weight, exp(df (x - e^2x / 2 + 1/2)), is below e^-40.
    right = sqrt(_LOG_NOTHING / df)
    left = -sqrt(3 * _LOG_NOTHING / df) if df >= 3 * _LOG_NOTHING else -_LOG_NOTHING / df - 0.5
    # The weight is 1/sqrt(2 df) wide, the rise of Phi about 1/shift; the 8 is for the fewest degrees.
    steps = ceil((right - left) * sqrt(2 * df + shift * shift + 8) / 0.4)
    whole = part = 0.0
    for step in range(steps + 1):
        x = left + (right - left) * step / steps
        weight = exp(df * (x - exp(2 * x) / 2 + 0.5))
        whole += weight
        part += weight * erfc((shift - t * exp(x)) / sqrt(2)) / 2
    return part / whole


def noncentral_t_quantile(share: float, df: float, shift: float) -> float:
    """The value that a noncentral t lies below with a chance.

    Args:
        share: the chance, between 0 and 1 [1].
        df: degrees of freedom, 1 and more [1].
        shift: the noncentrality [1].
    Returns:
        The value [1].
    Raises:
        OutOfRange: a share of 0 or less or 1 or more, degrees of freedom under 1, or a shift not finite.
    Source:
        as `noncentral_t_below`.
    """
    _check_share(share)
    return _solved(lambda t: noncentral_t_below(t, df, shift) - share, shift)


def _check(t: float, df: float) -> None:
    if not (df > 0 and isfinite(df)):
        raise OutOfRange("degrees of freedom", df, "more than zero is wanted")
    if t != t:
        raise OutOfRange("t", t, "a number is wanted")


def _check_share(share: float) -> None:
    if not 0 < share < 1:
        raise OutOfRange("share", share, "a chance between 0 and 1 is wanted")


def _solved(over: Callable[[float], float], start: float) -> float:
    """Where a rising function crosses zero, by halving, to the last digit of a float."""
    reach = 1.0
    while over(start - reach) > 0 or over(start + reach) < 0:
        if reach > 1e100:  # farther out no chance differs from 0 or 1
            break
        reach *= 2
    low, high = start - reach, start + reach
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if over(middle) < 0 else (low, middle)
    return high
