"""The check by weight and size: the same gravities as the float test, by another way."""

from math import isfinite

from bench.core import water
from bench.core.errors import OutOfRange
from bench.core.frozen import record_by_name
from bench.core.moisture import check_moisture, gravity_at, shrinkage_of
from bench.core.records import Species, Weighing
from bench.core.spread import (
    EVEN,
    MOISTURE_HALF_WIDTH,
    Measured,
    of_moisture,
    of_shrinkage,
    oven_dry,
    ranked,
    total,
)

# Our estimates of a shop balance and a steel rule or caliper; half widths of even bands.
MASS_SHARE = 0.005  # of the mass [1]
SIZE_HALF_WIDTH_M = 0.0001  # of each side of the section [m]
LENGTH_HALF_WIDTH_M = 0.0005  # [m]


@record_by_name
class WeighResult(Measured):
    """What weight and size say; no correction is made."""

    density: float  # with its water [kg/m3]


def weigh(
    mass_kg: float,
    size_m: tuple[float, float, float],
    moisture: float,
    species: Species,
    variant: str = "",
    moisture_half_width: float = MOISTURE_HALF_WIDTH,
) -> WeighResult:
    """Specific gravity from mass and measured size.

        R = m / (w d L) / rho_4;  G_M = R / (1 + M);  then the volume bases as in the float test

    Args:
        mass_kg: of the stick as it is [kg].
        size_m: width, depth and length as they are [m].
        moisture: mass of water over oven-dry mass [1].
        species: the wood, for shrinkage.
        variant: growth region or class.
        moisture_half_width: how far the moisture may be off [1].
    Returns:
        The gravities and their uncertainty.
    Raises:
        OutOfRange: mass or size of zero or less, moisture outside 0 to 30 %, a density no wood has.
    Source:
        wh282 eq. 4-9, 4-10, 4-14, p. 4-10 to 4-12.
    """
    if not (mass_kg > 0 and isfinite(mass_kg)):
        raise OutOfRange("mass", mass_kg, "a mass above zero is wanted")
    if not all(side > 0 and isfinite(side) for side in size_m):
        raise OutOfRange("size", size_m, "width, depth and length above zero are wanted")
    check_moisture(moisture)
    width, depth, length = size_m
    density = mass_kg / (width * depth * length)
    if density > 1540 * (1 + moisture):  # cell-wall substance; wh282 eq. 4-3
        raise OutOfRange("mass", mass_kg, "no wood is denser than 1540 kg/m3: look at the size and the unit")
    shrinkage, origin = shrinkage_of(species, variant)
    as_floated = density / water.DENSITY_4C
    at_moisture = as_floated / (1 + moisture)
    sg = oven_dry(as_floated, moisture, shrinkage)
    shares = ranked(
        {
            "mass": MASS_SHARE * sg / EVEN,
            "width": SIZE_HALF_WIDTH_M / width * sg / EVEN,
            "depth": SIZE_HALF_WIDTH_M / depth * sg / EVEN,
            "length": LENGTH_HALF_WIDTH_M / length * sg / EVEN,
            "moisture": of_moisture(as_floated, moisture, shrinkage, moisture_half_width),
            "shrinkage": of_shrinkage(as_floated, moisture, shrinkage, origin),
        }
    )
    return WeighResult(
        density=density,
        as_floated=as_floated,
        moisture=moisture,
        shrinkage=shrinkage,
        shrinkage_from=origin,
        sg_at_moisture=at_moisture,
        sg_12=gravity_at(at_moisture, moisture, 0.12, shrinkage),
        sg_oven_dry=sg,
        sg_green=gravity_at(at_moisture, moisture, 0.30, shrinkage),
        shares=shares,
        uncertainty=total(shares),
    )


def weigh_stick(weighing: Weighing, species: Species, variant: str = "") -> WeighResult:
    """A weighing of a stick worked out.

    Args:
        weighing: as kept in the job.
        species: the wood, for shrinkage.
        variant: growth region or class.
    Returns:
        As `weigh`.
    Source:
        as `weigh`.
    """
    size = (weighing.width.si, weighing.depth.si, weighing.length.si)
    return weigh(weighing.mass.si, size, weighing.moisture.si, species, variant)
