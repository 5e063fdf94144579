"""A stick clamped at one end, and a weight moved out along it until it breaks."""

from math import isfinite

from bench.core.breaking import G, above_zero, bending_stress
from bench.core.errors import OutOfRange
from bench.core.frozen import record
from bench.core.quantities import INCH

REACH_ERROR_M = float(INCH) / 8  # as a reach is read in the shop: our estimate


@record
class SlideOut:
    """One stick, clamped at its end, under a weight that was moved out until it broke."""

    moment: float  # at the clamp, the stick's own weight counted [N m]
    stress: float  # [Pa]
    low: float  # of the band that the reach leaves [Pa]
    high: float  # the same, half the jaw counted [Pa]
    stress_without_own: float  # the stick's own weight left out [Pa]


def own_weight(gravity: float, width_m: float, depth_m: float) -> float:
    """Mass of a stick over its length.

    Args:
        gravity: with its water, over water, as a float stick reads [1].
        width_m: of the stick [m].
        depth_m: of the stick [m].
    Returns:
        Mass per length [kg/m].
    Raises:
        OutOfRange: a gravity or size of zero or less.
    Source:
        derived.
    """
    above_zero("gravity", gravity)
    above_zero("size", width_m, depth_m)
    return 1000 * gravity * width_m * depth_m


def slide_moment(mass_kg: float, reach_m: float, own_kg_per_m: float = 0.0) -> float:
    """Moment at the clamp under a weight slid out, the stick's own weight counted as far as the weight.

        M = W x + w x^2 / 2

    Args:
        mass_kg: of the weight [kg].
        reach_m: x, from the clamp to the weight [m].
        own_kg_per_m: w, mass of the stick over its length [kg/m].
    Returns:
        Moment [N m].
    Raises:
        OutOfRange: a weight or reach of zero or less, or an own weight below zero.
    Source:
        derived.
    """
    above_zero("weight", mass_kg)
    above_zero("reach", reach_m)
    if not (own_kg_per_m >= 0 and isfinite(own_kg_per_m)):
        raise OutOfRange("own weight", own_kg_per_m, "zero and more is wanted")
    return G * (mass_kg * reach_m + own_kg_per_m * reach_m**2 / 2)


def slide_out(
    mass_kg: float,
    reach_m: float,
    width_m: float,
    depth_m: float,
    own_kg_per_m: float = 0.0,
    jaw_m: float = 0.0,
) -> SlideOut:
    """Stress at the clamp when the stick broke, with the band that the reach leaves.

    The band runs from 1/8 in less than the reach to 1/8 in and half the jaw more: the stick bends a little
    within the jaws, so that it breaks as if the clamp began farther in.

    Args:
        mass_kg: of the weight [kg].
        reach_m: from the clamp to the weight [m].
        width_m: of the stick [m].
        depth_m: upright [m].
        own_kg_per_m: mass of the stick over its length [kg/m].
        jaw_m: how far the jaws hold it, 0 where not measured [m].
    Returns:
        Moment and stress with its band.
    Raises:
        OutOfRange: a weight, reach or size of zero or less, or a jaw below zero.
    Source:
        derived; reading of the reach our estimate.
    """
    if not (jaw_m >= 0 and isfinite(jaw_m)):
        raise OutOfRange("jaw", jaw_m, "zero and more is wanted")

    def stress(reach: float, own: float) -> float:
        return bending_stress(slide_moment(mass_kg, reach, own), width_m, depth_m) if reach > 0 else 0.0

    return SlideOut(
        moment=slide_moment(mass_kg, reach_m, own_kg_per_m),
        stress=stress(reach_m, own_kg_per_m),
        low=stress(reach_m - REACH_ERROR_M, own_kg_per_m),
        high=stress(reach_m + REACH_ERROR_M + jaw_m / 2, own_kg_per_m),
        stress_without_own=stress(reach_m, 0.0),
    )
