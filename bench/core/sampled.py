"""What the values of a group of coupons say, and of two groups: for coupons of a job and of a file alike."""

from bench.core import samples
from bench.core.errors import Refusal
from bench.core.samples import Limit, Welch


class Sampled:
    """Base of a group with values, in whatever unit they are."""

    __slots__ = ()
    values: tuple[float, ...]

    @property
    def mean(self) -> float:
        """In the unit of the values."""
        return samples.mean(self.values)

    @property
    def deviation(self) -> float | None:
        """Standard deviation; None for a single coupon [the same unit]."""
        return samples.deviation(self.values) if len(self.values) > 1 else None

    @property
    def limit(self) -> Limit | Refusal:
        """Lower 5th percentile at 75 percent confidence, or why there is none."""
        try:
            return samples.lower_limit(self.values)
        except Refusal as refusal:
            return refusal


def needed(first: Sampled, second: Sampled, welch: Welch) -> int | None:
    """How many coupons in each of two groups would settle it, if means and spreads stay as they are.

    Args:
        first: one group.
        second: the other.
        welch: the one against the other.
    Returns:
        Coupons in each [1]; None where no number that can be asked for would.
    Raises:
        OutOfRange: as samples.coupons_to_settle.
    Source:
        as samples.coupons_to_settle.
    """
    spreads = (group.deviation or 0.0 for group in (first, second))
    return samples.coupons_to_settle(welch.difference, *spreads)
