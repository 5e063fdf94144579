"""The float test: from a waterline on a marked stick to specific gravity on each basis, with its uncertainty.

The stick floats with its moisture in its swollen volume. A published aircraft minimum is oven-dry mass on
oven-dry volume (anc19 sec. 2.20, 2.414), so the two are never compared before the reading has come down the
whole chain: fraction -> density over water -> G at its moisture -> G oven-dry.
"""

from functools import lru_cache
from math import cos, radians, sqrt
from typing import NamedTuple

from bench.core import water, waterline
from bench.core.errors import BadInput, OutOfRange
from bench.core.frozen import record_by_name
from bench.core.moisture import check_moisture, gravity_at, shrinkage_of
from bench.core.quantities import GRAVITY
from bench.core.records import FloatReading, Species
from bench.core.spread import (
    EVEN,
    MOISTURE_HALF_WIDTH,
    TWO_SIDED_95,
    Measured,
    of_moisture,
    of_shrinkage,
    oven_dry,
    ranked,
    total,
)
from bench.core.waterline import Uptake, apart, tilt, uptake

G = float(GRAVITY)

# Contact angle where nothing is known, and the band it may lie in: common practice, no source, for the
# 60 (Sitka spruce is published at 60); the band runs from freshly wetted wood to dry wood with resin.
ANGLE_UNKNOWN = 60.0
ANGLE_BAND = (0.0, 75.0)
# A typed angle is taken to be right within this much [deg]; our estimate.
ANGLE_TYPED_HALF_WIDTH = 15.0
# Our estimates of what a careful reader at the bench does; each is the half width of an even band.
LEAST_SIDE_M = 0.006  # below it the pull of the water surface is larger than the answer is sharp [m]
LEAST_SLENDERNESS, MOST_SLENDERNESS = 3, 30  # length over side
READING_HALF_WIDTH = 0.1  # [marks]; anc19 sec. 2.200 gives about 0.01 in specific gravity for ten marks
FINEST_READING_M = 0.0005  # half width that no finer marks better [m]
WATER_HALF_WIDTH = 2.0  # thermometer and stratification [K]
TILT_UNSEEN_DEG = 5.0  # a lean that one face cannot show
# Water drawn in through end and sides, as SG after 60 s for a half-inch stick floating at 0.42; grows with
# the root of time and the depth, and falls with the side. From the greater of the coefficients recalled, not
# read: it widens the band and corrects nothing. It can only make a reading too high, so the whole of it
# counts as one standard deviation.
SOAK_AT_60_S_HALF_INCH = 0.0052
SOAK_DEPTH = 0.42  # submerged share [1]
SOAK_SIDE_M = 0.0127


@record_by_name
class FloatResult(Measured):
    """What a reading says, each step kept."""

    fraction: float  # submerged share of the length, as read at the centreline [1]
    fraction_zero: float  # the same led back to no time in the water, where it was read over time [1]
    centre: float  # of the faces as read [marks]
    zero_mark: float  # led back to no time in the water [marks]
    drift: float  # marks per root second; 0 where it was not read over time, or rises
    rises: bool  # later waterlines lie higher out of the water, which no uptake can do
    meniscus_bias: float  # share of the length that the water surface pulls it down [1]
    water_density: float  # [kg/m3]
    surface_tension: float  # [N/m]
    angle_deg: float | None  # contact angle used; None: no correction
    tilt_deg: float | None  # from opposite faces; None where they were not read
    disagreement: float  # between the centrelines of two pairs of faces [marks]


@lru_cache(maxsize=64)  # of one float stick in one bath it is asked for very often
def pull_down(side_m: float, length_m: float, temperature_k: float, angle_deg: float) -> float:
    """Share of the length by which surface tension holds the stick too deep.

        4 sigma cos(theta) / (rho g w L)

    Args:
        side_m: of the square stick [m].
        length_m: of the stick [m].
        temperature_k: of the bath [K].
        angle_deg: contact angle [deg].
    Returns:
        Depth over length, positive when the stick is pulled down [1].
    Raises:
        OutOfRange: bath outside 0 to 40 C.
    Source:
        vertical force of a meniscus, sigma times perimeter times cos(theta): derived.
    """
    sigma = water.surface_tension(temperature_k)
    return 4 * sigma * cos(radians(angle_deg)) / (water.density(temperature_k) * G * side_m * length_m)


def angle_of(species: Species) -> tuple[float, float, float]:
    """Contact angle of a wood's fresh-cut surface, with its band.

    Args:
        species: the wood.
    Returns:
        Angle used, least and greatest it may be [deg].
    Source:
        the species file where it has one; else common practice, no source.
    """
    figure = species.find("contact_angle")
    return (figure.value if figure else ANGLE_UNKNOWN, *ANGLE_BAND)


def _check_stick(reading: FloatReading) -> None:
    side, length = reading.side.si, reading.length.si
    if not side >= LEAST_SIDE_M:
        raise OutOfRange("side", side, "6 mm (1/4 in) and more is covered", reading.side.text)
    if not LEAST_SLENDERNESS <= length / side <= MOST_SLENDERNESS:
        limits = f"{LEAST_SLENDERNESS} to {MOST_SLENDERNESS} sides is covered, ten is customary"
        raise OutOfRange("length", length, limits, f"{reading.length.text} on a side of {reading.side.text}")


def _check_angle(text: str) -> None:
    try:
        angle = float(text)
    except ValueError:
        raise BadInput("contact angle", text, "is not a number", "degrees, or none") from None
    if not 0 <= angle <= 180:
        raise OutOfRange("contact angle", angle, "0 to 180 degrees is possible")


def check(reading: FloatReading) -> None:
    """Refuse a reading that cannot be.

    Args:
        reading: as typed.
    Raises:
        OutOfRange: a mark outside the stick, zero sizes, moisture outside 0 to 30 %, bath outside 0 to 40 C,
            later waterlines that are not later.
        BadInput: an angle that is no number.
    """
    _check_stick(reading)
    if not 2 <= reading.count <= 100:
        raise OutOfRange("number of marks", reading.count, "2 to 100 is covered")
    waterline.check(reading)
    if reading.angle not in ("", "none"):
        _check_angle(reading.angle)
    check_moisture(reading.moisture.si)
    water.density(reading.water.si)


def _angle(reading: FloatReading, species: Species) -> tuple[float | None, float, float]:
    if reading.angle == "none":
        return (None, *ANGLE_BAND)
    if reading.angle == "":
        return angle_of(species)
    angle = float(reading.angle)
    return angle, max(0.0, angle - ANGLE_TYPED_HALF_WIDTH), min(180.0, angle + ANGLE_TYPED_HALF_WIDTH)


def _soaked(reading: FloatReading, fraction: float) -> float:
    """The most that water drawn in before reading may add, in gravity as floated [1]."""
    deeper = max(1.0, fraction / SOAK_DEPTH)
    return SOAK_AT_60_S_HALF_INCH * deeper * sqrt(reading.seconds / 60) * SOAK_SIDE_M / reading.side.si


def _shares(
    reading: FloatReading,
    drawn: Uptake,
    as_floated: float,
    shrunk: tuple[float, str],
    moisture_half_width: float,
    band: tuple[float | None, float, float],
) -> tuple[tuple[str, float], ...]:
    """Standard deviation of the oven-dry gravity by cause, largest first [1]."""
    moisture, side, length, bath = reading.moisture.si, reading.side.si, reading.length.si, reading.water.si
    shrinkage, origin = shrunk
    rho = water.density(bath)
    to_dry = oven_dry(1.0, moisture, shrinkage)
    over = rho / water.DENSITY_4C * to_dry
    used, *edges = (0.0 if angle is None else pull_down(side, length, bath, angle) for angle in band)
    # The angle used need not lie in the middle of its band; uncorrected, the whole pull may be there.
    pull = max(abs(edge - used) for edge in edges)
    warm, cool = min(313.15, bath + WATER_HALF_WIDTH), max(273.15, bath - WATER_HALF_WIDTH)
    by_water = abs(water.density(warm) - water.density(cool)) / 2 / rho * as_floated * to_dry
    lean = side / 2 / length * radians(TILT_UNSEEN_DEG)
    finest = max(READING_HALF_WIDTH, FINEST_READING_M * reading.count / length)
    one_reading = max(finest / EVEN, drawn.scatter or 0.0)
    led_back = bool(reading.timed) and not drawn.rises
    return ranked(
        {
            "reading": one_reading * drawn.gain / reading.count * over,
            "faces": apart(reading.marks) / 2 / reading.count * over / EVEN,
            "meniscus": pull * over / EVEN,
            "tilt": lean * over / EVEN if len(reading.marks) == 1 else 0.0,
            "soaking": 0.0 if led_back else _soaked(reading, drawn.zero_mark / reading.count) * to_dry,
            "moisture": of_moisture(as_floated, moisture, shrinkage, moisture_half_width),
            "shrinkage": of_shrinkage(as_floated, moisture, shrinkage, origin),
            "water": by_water / EVEN,
        }
    )


class _Down(NamedTuple):
    """A reading brought down to the density of the stick with its water."""

    drawn: Uptake
    angle: float | None  # contact angle [deg]
    bias: float  # what the water surface pulls it down by, share of the length [1]
    as_floated: float  # density over water at 4 C [1]
    shrunk: tuple[float, str]  # shrinkage, and where it comes from
    shares: tuple[tuple[str, float], ...]  # standard deviations of the oven-dry gravity, by cause [1]


def _down(reading: FloatReading, species: Species, variant: str, moisture_half_width: float) -> _Down:
    check(reading)
    bath = reading.water.si
    drawn = uptake(reading)
    fraction = drawn.zero_mark / reading.count
    angle, least, greatest = _angle(reading, species)
    bias = 0.0 if angle is None else pull_down(reading.side.si, reading.length.si, bath, angle)
    if fraction <= max(bias, 0.0):
        raise OutOfRange("waterline", drawn.zero_mark, "the pull of the water surface alone holds it deeper")
    as_floated = (fraction - bias) * water.density(bath) / water.DENSITY_4C
    shrunk = shrinkage_of(species, variant)
    band = (angle, least, greatest)
    shares = _shares(reading, drawn, as_floated, shrunk, moisture_half_width, band)
    return _Down(drawn, angle, bias, as_floated, shrunk, shares)


def read(
    reading: FloatReading,
    species: Species,
    variant: str = "",
    moisture_half_width: float = MOISTURE_HALF_WIDTH,
) -> FloatResult:
    """Specific gravity from a float reading, on every basis, with its uncertainty.

        f = d / L;  R = (f - pull) rho_w / rho_4;  G_M = R / (1 + M);  G_0 = G_M (1 - S_M) / (1 - S_0)

    Where the first face was read again later, f is led back to no time in the water.

    Args:
        reading: marks [marks], side and length [m], moisture [1], bath [K].
        species: the wood, for shrinkage and contact angle.
        variant: growth region or class.
        moisture_half_width: how far the moisture may be off [1].
    Returns:
        The result with each step.
    Raises:
        OutOfRange: a mark outside the stick, moisture outside 0 to 30 %, bath outside 0 to 40 C, zero sizes.
    Valid for:
        sticks of 6 mm and more a side.
    Source:
        wh282 eq. 4-9, 4-10, p. 4-10; anc19 sec. 2.20, 2.200.
    """
    drawn, angle, bias, as_floated, (shrinkage, origin), shares = _down(
        reading, species, variant, moisture_half_width
    )
    bath, moisture, middle = reading.water.si, reading.moisture.si, waterline.centre(reading.marks)
    at_moisture = as_floated / (1 + moisture)
    return FloatResult(
        fraction=middle / reading.count,
        fraction_zero=drawn.zero_mark / reading.count,
        centre=middle,
        zero_mark=drawn.zero_mark,
        drift=drawn.drift,
        rises=drawn.rises,
        meniscus_bias=bias,
        water_density=water.density(bath),
        surface_tension=water.surface_tension(bath),
        angle_deg=angle,
        as_floated=as_floated,
        moisture=moisture,
        shrinkage=shrinkage,
        shrinkage_from=origin,
        sg_at_moisture=at_moisture,
        sg_12=gravity_at(at_moisture, moisture, 0.12, shrinkage),
        sg_oven_dry=gravity_at(at_moisture, moisture, 0.0, shrinkage),
        sg_green=gravity_at(at_moisture, moisture, 0.30, shrinkage),
        tilt_deg=tilt(reading),
        disagreement=apart(reading.marks),
        shares=shares,
        uncertainty=total(shares),
    )


def half_width(
    reading: FloatReading,
    species: Species,
    variant: str = "",
    moisture_half_width: float = MOISTURE_HALF_WIDTH,
) -> float:
    """How sure a reading is, and nothing else of it.

    Args:
        reading: as for `read`.
        species: the wood, for shrinkage and contact angle.
        variant: growth region or class.
        moisture_half_width: how far the moisture may be off [1].
    Returns:
        Half the two-sided 95 percent band of the oven-dry gravity that `read` gives [1].
    Raises:
        OutOfRange: as `read`.
    Source:
        as `read`.
    """
    return TWO_SIDED_95 * total(_down(reading, species, variant, moisture_half_width).shares)


def mark_of(gravity_oven_dry: float, reading: FloatReading, species: Species, variant: str = "") -> float:
    """Where a limit on the oven-dry basis stands on this float stick, today.

        mark = marks { G_0 (1 - S_0)/(1 - S_M) (1 + M) rho_4 / rho_w  +  pull }

    Args:
        gravity_oven_dry: limit, oven-dry mass on oven-dry volume [1].
        reading: the stick, its moisture and the bath; its marks are not looked at.
        species: the wood.
        variant: growth region or class.
    Returns:
        Position of the waterline of a stick exactly at the limit, from the lower end [marks].
    Raises:
        OutOfRange: moisture outside 0 to 30 %, bath outside 0 to 40 C.
    Source:
        wh282 eq. 4-9, 4-10, p. 4-10; anc19 sec. 2.20, 2.414.
    """
    _check_stick(reading)
    moisture = check_moisture(reading.moisture.si)
    shrinkage, _ = shrinkage_of(species, variant)
    density = gravity_at(gravity_oven_dry, 0.0, moisture, shrinkage) * (1 + moisture)
    angle, _, _ = _angle(reading, species)
    bias = 0.0 if angle is None else pull_down(reading.side.si, reading.length.si, reading.water.si, angle)
    return reading.count * (density * water.DENSITY_4C / water.density(reading.water.si) + bias)
