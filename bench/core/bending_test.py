"""A coupon bent to failure by a load in the middle: strength, stiffness, and the work it took."""

from collections.abc import Sequence

from bench.core.bending_readings import (
    NOISE,
    Reading,
    Straight,
    greatest,
    rose_again,
    straight_part,
    work_to_maximum,
)
from bench.core.breaking import above_zero, bending_stress
from bench.core.capacities import SHEAR_SHARE, size_effect
from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record
from bench.core.quantities import INCH

SPAN_OVER_DEPTH = 14.0  # of the standard test; Record (1914): 2 x 2 in on 28 in
SHEAR_FORM = 1.2  # of a rectangle
# What is to be said of a test.
SHORT_SPAN, SIZE_DRAWN_OUT = "short_span", "size_drawn_out"
LOADED_AT_START, ROSE_AGAIN = "loaded_at_start", "rose_again"
READ_SHORT, NOT_STRAIGHT = "read_short", "not_straight"


@record
class Bending:
    """One coupon bent to failure; what was not read is None."""

    load_n: float  # the greatest
    rupture: float  # [Pa]
    low_at_standard: float  # the same in a beam 2 in deep on 28 in, if size matters as much as it may [Pa]
    high_at_standard: float
    size_factor: float  # over a beam 2 in deep on 28 in; below 1 in of depth at most so much [1]
    span_over_depth: float  # [1]
    slope: float | None  # [N/m]
    elasticity: float | None  # as tested, shear left in [Pa]
    elasticity_corrected: float | None  # shear taken out [Pa]
    straight: Straight | None
    limit_stress: float | None  # at the end of the straight part [Pa]
    work: float | None  # to the greatest load, over width x depth x span [J/m3]
    doubts: tuple[str, ...]


def rupture(load_n: float, width_m: float, depth_m: float, span_m: float) -> float:
    """Modulus of rupture, or the stress at any load, in the middle of a span.

        R = 1.5 P L / (b d^2)

    Args:
        load_n: P, in the middle [N].
        width_m: b [m].
        depth_m: d, upright [m].
        span_m: L, between the supports [m].
    Returns:
        Stress [Pa].
    Raises:
        OutOfRange: a load or size of zero or less.
    Source:
        Record, Mechanical Properties of Wood (1914).
    """
    above_zero("load", load_n)
    above_zero("span", span_m)
    return bending_stress(load_n * span_m / 4, width_m, depth_m)


def elasticity(slope: float, width_m: float, depth_m: float, span_m: float) -> float:
    """Modulus of elasticity as tested: the deflection that shear adds is left in.

        E = (P / delta) L^3 / (4 b d^3)

    Args:
        slope: load over deflection, of the straight part [N/m].
        width_m: b [m].
        depth_m: d, upright [m].
        span_m: L, between the supports [m].
    Returns:
        Modulus of elasticity [Pa].
    Raises:
        OutOfRange: a slope or size of zero or less.
    Source:
        Record, Mechanical Properties of Wood (1914).
    """
    above_zero("slope", slope)
    above_zero("size", width_m, depth_m)
    above_zero("span", span_m)
    return slope * (span_m / depth_m) ** 3 / (4 * width_m)


def shear_share(depth_m: float, span_m: float) -> float:
    """Deflection that shear adds, over that of bending alone.

        1.2 (E / G) (d / L)^2,  E / G = 16

    Args:
        depth_m: d, upright [m].
        span_m: L, between the supports [m].
    Returns:
        Share [1].
    Raises:
        OutOfRange: a size of zero or less.
    Valid for:
        rectangles, load in the middle; E over G of woods differs, 16 is a usual one.
    Source:
        derived; E / G wh190 eq. 9-9 text.
    """
    above_zero("size", depth_m)
    above_zero("span", span_m)
    return SHEAR_FORM * SHEAR_SHARE * (depth_m / span_m) ** 2


def without_shear(elasticity_pa: float, depth_m: float, span_m: float) -> float:
    """Modulus of elasticity with the deflection by shear taken out.

        E (1 + 1.2 (E / G) (d / L)^2)

    Args:
        elasticity_pa: as tested [Pa].
        depth_m: d, upright [m].
        span_m: L, between the supports [m].
    Returns:
        Modulus of elasticity, above the tested one [Pa].
    Raises:
        OutOfRange: a size of zero or less.
    Valid for:
        as `shear_share`. The handbook's figures have the shear left in, at a span of 14 depths.
    Source:
        as `shear_share`.
    """
    return elasticity_pa * (1 + shear_share(depth_m, span_m))


def at_standard_size(rupture_pa: float, depth_m: float, span_m: float) -> tuple[float, float]:
    """Between which bounds the strength lies in a beam 2 in deep on 28 in: with the size effect, and without.

    Args:
        rupture_pa: of the coupon [Pa].
        depth_m: upright [m].
        span_m: between the supports [m].
    Returns:
        Low and high [Pa].
    Raises:
        OutOfRange: a size of zero or less.
    Valid for:
        as capacities.size_effect: below 1 in of depth that effect is drawn out, and the most there may be.
    Source:
        wh282 eq. 9-17, 9-18.
    """
    other = rupture_pa / size_effect(depth_m, span_m)
    return min(rupture_pa, other), max(rupture_pa, other)


def bending_test(
    width_m: float,
    depth_m: float,
    span_m: float,
    load_n: float | None = None,
    slope: float | None = None,
    readings: Sequence[Reading] = (),
) -> Bending:
    """Everything a bending test says.

    Args:
        width_m: of the coupon [m].
        depth_m: upright [m].
        span_m: between the supports [m].
        load_n: greatest load; None: that of the readings [N].
        slope: load over deflection, where read off by hand; None: of the readings [N/m].
        readings: in the order they were taken; may be empty.
    Returns:
        Strength, and where they can be known stiffness, the limit of the straight part and work.
    Raises:
        Missing: neither load nor readings.
        OutOfRange: as `check`; sizes, load or slope of zero or less; a span not above the depth; a reading
            above the greatest load.
    Source:
        as of the parts.
    """
    above_zero("size", width_m, depth_m)
    above_zero("span", span_m)
    if not span_m > depth_m:
        raise OutOfRange("span", span_m, "a span above the depth is wanted: look at the size")
    straight = straight_part(readings) if readings else None
    read = max((reading.load_n for reading in readings), default=0.0)
    if load_n is None and not readings:
        raise Missing("load", "the greatest load, or readings, are wanted")
    load = read if load_n is None else load_n
    if read > load * (1 + NOISE):
        raise OutOfRange("load", load, "a reading is above it: the load at failure is the greatest")
    stress = rupture(load, width_m, depth_m, span_m)
    low, high = at_standard_size(stress, depth_m, span_m)
    steepness = straight.slope if slope is None and straight else slope
    tested = None if steepness is None else elasticity(steepness, width_m, depth_m, span_m)
    return Bending(
        load_n=load,
        rupture=stress,
        low_at_standard=low,
        high_at_standard=high,
        size_factor=size_effect(depth_m, span_m),
        span_over_depth=span_m / depth_m,
        slope=steepness,
        elasticity=tested,
        elasticity_corrected=None if tested is None else without_shear(tested, depth_m, span_m),
        straight=straight,
        limit_stress=rupture(straight.limit_n, width_m, depth_m, span_m) if straight else None,
        work=work_to_maximum(readings, width_m, depth_m, span_m) if readings else None,
        doubts=(
            *_doubts(depth_m, span_m, load, readings),
            *((NOT_STRAIGHT,) if readings and straight is None else ()),
        ),
    )


def _doubts(depth_m: float, span_m: float, load_n: float, readings: Sequence[Reading]) -> list[str]:
    found = []
    if span_m / depth_m < SPAN_OVER_DEPTH * (1 - NOISE):
        found.append(SHORT_SPAN)
    if depth_m < float(INCH) * (1 - NOISE):
        found.append(SIZE_DRAWN_OUT)
    if readings and readings[0].load_n > 0:
        found.append(LOADED_AT_START)
    if rose_again(readings):
        found.append(ROSE_AGAIN)
    if readings and readings[greatest(readings)].load_n < load_n * (1 - NOISE):
        found.append(READ_SHORT)
    return found
