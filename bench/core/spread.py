"""A measured gravity on every basis with its band, and what moisture and shrinkage leave uncertain in it.

The same for the float test and for weight and size: only the way to the density differs.
"""

from collections.abc import Iterable, Mapping
from math import sqrt

from bench.core.frozen import record_by_name
from bench.core.moisture import gravity_at

TWO_SIDED_95 = 1.96
EVEN = sqrt(3.0)  # half width of an even band over its standard deviation

# Our estimates, half widths of even bands.
MOISTURE_HALF_WIDTH = 0.01  # a meter or a small oven sample [1]
# Volumetric shrinkage of one piece about its species' figure, by where the figure comes from [1]. The
# estimate from green gravity misses the printed figures of our 21 woods that have both by up to 0.0732
# (American basswood); a test holds that. A figure from memory is trusted no more: it decides nothing.
SHRINKAGE_HALF_WIDTH = {"table": 0.01, "memory": 0.075, "estimate": 0.075}


@record_by_name
class Measured:
    """What a measurement says. All gravities are oven-dry mass on the volume named."""

    as_floated: float  # density with its water, over water at 4 C, corrected [1]
    moisture: float  # [1]
    shrinkage: float  # volumetric, green to oven-dry [1]
    shrinkage_from: str  # "table", "memory" or "estimate"
    sg_at_moisture: float  # volume at its moisture [1]
    sg_12: float  # volume at 12 percent [1]
    sg_oven_dry: float  # oven-dry volume: the basis of the aircraft limits [1]
    sg_green: float  # green volume [1]
    uncertainty: float  # standard deviation of sg_oven_dry [1]
    shares: tuple[tuple[str, float], ...] = ()  # standard deviations of sg_oven_dry by cause, largest first

    @property
    def half_width(self) -> float:
        """Half the two-sided 95 percent band of sg_oven_dry [1]."""
        return TWO_SIDED_95 * self.uncertainty

    @property
    def low(self) -> float:
        """Lower edge of the two-sided 95 percent band of sg_oven_dry [1]."""
        return self.sg_oven_dry - TWO_SIDED_95 * self.uncertainty

    @property
    def high(self) -> float:
        """Upper edge of the two-sided 95 percent band of sg_oven_dry [1]."""
        return self.sg_oven_dry + TWO_SIDED_95 * self.uncertainty


def ranked(shares: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    """Causes with the largest share first.

    Args:
        shares: standard deviation by cause.
    Returns:
        Pairs of cause and standard deviation [1].
    Source:
        our layout.
    """
    return tuple(sorted(shares.items(), key=lambda item: -item[1]))


def total(shares: Iterable[tuple[str, float]]) -> float:
    """Standard deviation of independent causes together: the root of the sum of squares.

    Args:
        shares: pairs of cause and standard deviation [1]; may be empty.
    Returns:
        Standard deviation [1].
    Source:
        propagation of independent errors: derived.
    """
    return sqrt(sum(share * share for _, share in shares))


def oven_dry(as_floated: float, moisture: float, shrinkage: float) -> float:
    """Oven-dry gravity of a density that still has its water.

    Args:
        as_floated: density over water at 4 C, with its water [1].
        moisture: mass of water over oven-dry mass [1].
        shrinkage: volumetric, green to oven-dry [1].
    Returns:
        Oven-dry mass on oven-dry volume [1].
    Source:
        wh282 eq. 4-9, 4-10, p. 4-10.
    """
    return gravity_at(as_floated / (1 + moisture), moisture, 0.0, shrinkage)


def of_moisture(
    as_floated: float, moisture: float, shrinkage: float, half_width: float = MOISTURE_HALF_WIDTH
) -> float:
    """Standard deviation that the moisture leaves.

    Args:
        as_floated: density over water at 4 C, with its water [1].
        moisture: mass of water over oven-dry mass [1].
        shrinkage: volumetric, green to oven-dry [1].
        half_width: how far the moisture may be off [1].
    Returns:
        Standard deviation of the oven-dry gravity [1].
    Source:
        our estimate of the half width.
    """
    here = oven_dry(as_floated, moisture, shrinkage)
    edges = (max(0.0, moisture - half_width), moisture + half_width)
    return max(abs(oven_dry(as_floated, edge, shrinkage) - here) for edge in edges) / EVEN


def of_shrinkage(as_floated: float, moisture: float, shrinkage: float, origin: str) -> float:
    """Standard deviation that the shrinkage leaves.

    Args:
        as_floated: density over water at 4 C, with its water [1].
        moisture: mass of water over oven-dry mass [1].
        shrinkage: volumetric, green to oven-dry [1].
        origin: a name of SHRINKAGE_HALF_WIDTH.
    Returns:
        Standard deviation of the oven-dry gravity [1].
    Source:
        our estimate of the half width.
    """
    half = SHRINKAGE_HALF_WIDTH[origin]
    more, less = min(0.30, shrinkage + half), max(0.0, shrinkage - half)
    return abs(oven_dry(as_floated, moisture, more) - oven_dry(as_floated, moisture, less)) / 2 / EVEN
