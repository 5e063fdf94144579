"""Moisture, the bases of specific gravity, and movement.

A specific gravity always takes oven-dry mass; its basis is the moisture at which the *volume* is taken:
oven-dry (G_0), 12 percent (G_12) or green (G_b). Moistures are fractions of oven-dry mass.
"""

from functools import lru_cache
from math import exp, isfinite, log

from bench.core.errors import Missing, OutOfRange
from bench.core.records import Species

SATURATION = 0.30  # fibre saturation where the species' own is not known; wh190 p. 4-10
GREEN_VOLUME_SHRINKAGE = 0.265  # S_0 over G_b where shrinkage is not tabulated; wh282 eq. 4-12
MODEL_EMC = "Simpson (wh282 eq. 4-5)"
FITTED_K = (2 + 273.15, 82 + 273.15)  # where that equation is within half a percent; wh282 p. 4-4
FITTED_HUMIDITY = (0.20, 0.80)
# wh282 p. 5-34 names what its eq. 5-3 does not hold for.
NOT_BY_EQUATION_5_3 = frozenset({"work_to_maximum_load", "impact_bending_drop", "tension_perpendicular"})
_HAIR = 1e-9  # 82 C typed in F is not to fall outside by noise


def check_moisture(moisture: float, highest: float = SATURATION) -> float:
    """The moisture itself, if the float chain covers it.

    Args:
        moisture: mass of water over oven-dry mass [1].
        highest: greatest moisture covered [1].
    Returns:
        The moisture [1].
    Raises:
        OutOfRange: below zero, or above fibre saturation.
    """
    if not 0.0 <= moisture <= highest:
        raise OutOfRange(
            "moisture",
            moisture,
            f"0 to {highest * 100:.0f} % is covered: dry the stick",
            f"{moisture * 100:g} %",
        )
    return moisture


@lru_cache(maxsize=256)  # a reading asks the same few again and again
def shrinkage_at(moisture: float, oven_dry: float, saturation: float = SATURATION) -> float:
    """Volumetric shrinkage from green down to a moisture.

        S_x = S_0 (1 - x / M_fs);  none above fibre saturation

    Args:
        moisture: mass of water over oven-dry mass [1].
        oven_dry: shrinkage from green to oven-dry, share of the green volume [1].
        saturation: moisture at fibre saturation [1].
    Returns:
        Shrinkage from green, share of the green volume [1].
    Raises:
        OutOfRange: shrinkage outside 0 to 0.30, or moisture below zero.
    Source:
        wh282 eq. 4-9, p. 4-10; wh190 eq. 4-7.
    """
    if not 0.0 <= oven_dry <= 0.30:
        raise OutOfRange("shrinkage", oven_dry, "0 to 30 % of the green volume is covered")
    if moisture < 0:
        raise OutOfRange("moisture", moisture, "0 % and more is possible")
    return oven_dry * max(0.0, 1 - moisture / saturation)


def gravity_at(gravity: float, of: float, to: float, oven_dry_shrinkage: float) -> float:
    """A specific gravity brought from the volume at one moisture to the volume at another.

        G_2 = G_1 (1 - S_1) / (1 - S_2)

    Args:
        gravity: oven-dry mass on the volume at `of` [1].
        of: moisture of the volume it stands on [1].
        to: moisture of the volume wanted; fibre saturation and more means green [1].
        oven_dry_shrinkage: S_0, green to oven-dry, share of the green volume [1].
    Returns:
        Oven-dry mass on the volume at `to` [1].
    Raises:
        OutOfRange: as `shrinkage_at`.
    Source:
        wh282 eq. 4-10, p. 4-10.
    """
    return gravity * (1 - shrinkage_at(of, oven_dry_shrinkage)) / (1 - shrinkage_at(to, oven_dry_shrinkage))


def shrinkage_from_green_gravity(green_gravity: float) -> float:
    """Volumetric shrinkage estimated where no table has it: S_0 = 0.265 G_b.

    Args:
        green_gravity: oven-dry mass on green volume [1].
    Returns:
        Shrinkage from green to oven-dry, share of the green volume [1].
    Source:
        wh282 eq. 4-12, p. 4-10.
    """
    return GREEN_VOLUME_SHRINKAGE * green_gravity


def shrinkage_of(species: Species, variant: str = "") -> tuple[float, str]:
    """Volumetric shrinkage of a wood, green to oven-dry, and where it comes from.

    Args:
        species: the wood.
        variant: growth region or class.
    Returns:
        Share of the green volume [1], and "table", "memory" or "estimate".
    Raises:
        Missing: neither shrinkage nor green gravity is known.
    Source:
        the species file; else wh282 eq. 4-12.
    """
    figure = species.find("shrinkage_volumetric")
    if figure:
        return figure.value, "memory" if figure.memory else "table"
    green = species.find("specific_gravity", "green", "green", variant) or species.find(
        "specific_gravity", "green", "green"
    )
    if green is None:
        raise Missing("shrinkage", f"the file of {species.key} needs shrinkage_volumetric or a green gravity")
    return shrinkage_from_green_gravity(green.value), "estimate"


def density_at(gravity: float, moisture: float) -> float:
    """Density with the water in it, from the gravity on the volume at the same moisture.

        rho = 1000 G_x (1 + x)

    Args:
        gravity: oven-dry mass on the volume at `moisture` [1].
        moisture: mass of water over oven-dry mass [1].
    Returns:
        Density [kg/m3].
    Source:
        wh282 eq. 4-14, p. 4-12.
    """
    return 1000.0 * gravity * (1 + moisture)


def by_oven(wet_kg: float, dry_kg: float) -> float:
    """Moisture by drying to constant mass.

        M = (m - m_0) / m_0

    Args:
        wet_kg: mass as found [kg].
        dry_kg: mass when oven-dry [kg].
    Returns:
        Mass of water over oven-dry mass [1].
    Raises:
        OutOfRange: a mass of zero or less, or a dry mass above the wet one.
    Source:
        fpl_moisture (1951).
    """
    if not (dry_kg > 0 and isfinite(dry_kg)):
        raise OutOfRange("dry mass", dry_kg, "a mass above zero is wanted")
    if wet_kg < dry_kg:
        raise OutOfRange("wet mass", wet_kg, "it cannot be less than the dry mass")
    return (wet_kg - dry_kg) / dry_kg


def equilibrium(temperature_k: float, humidity: float) -> float:
    """Moisture that wood settles at in air of constant temperature and humidity.

        M = (18/W) [K h/(1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2)]

    Args:
        temperature_k: of the air [K].
        humidity: relative humidity as a fraction [1].
    Returns:
        Equilibrium moisture [1].
    Raises:
        OutOfRange: humidity outside 0 to 0.98, or temperature outside -1 to 130 C.
    Valid for:
        within 0.005 for 2 to 82 C and 20 to 80 percent humidity; no hysteresis, no species.
    Source:
        wh282 eq. 4-5, p. 4-4.
    """
    t = temperature_k - 273.15
    if not 0.0 <= humidity <= 0.98:
        raise OutOfRange("humidity", humidity, "0 to 98 % is covered", f"{humidity * 100:g} %")
    if not -1.2 <= t <= 130.0:
        raise OutOfRange("temperature", temperature_k, "-1 to 130 C is covered", f"{t:.1f} C")
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * humidity
    return 18 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh))


def fitted(temperature_k: float, humidity: float) -> bool:
    """Whether the equation of `equilibrium` is within half a percent in this air.

    Args:
        temperature_k: of the air [K].
        humidity: relative humidity as a fraction [1].
    Returns:
        True for 2 to 82 C and 20 to 80 percent.
    Source:
        wh282 p. 4-4.
    """
    return within(temperature_k, FITTED_K) and within(humidity, FITTED_HUMIDITY)


def within(value: float, limits: tuple[float, float]) -> bool:
    """Whether a value lies between two limits, a hair of noise granted.

    Args:
        value: any number [any unit].
        limits: least and greatest [same unit].
    Returns:
        True where it does.
    """
    return limits[0] - _HAIR <= value <= limits[1] + _HAIR


def correct_for_air(moisture: float, temperature_k: float, humidity: float) -> float:
    """How far a stick is from what the air will bring it to.

        M - M_air

    Args:
        moisture: of the stick [1].
        temperature_k: of the air [K].
        humidity: relative humidity as a fraction [1].
    Returns:
        Moisture over the equilibrium: above zero it will dry, below it will take up water [1].
    Raises:
        OutOfRange: moisture below zero, or as `equilibrium`.
    Valid for:
        as `equilibrium`; how long it takes is not said.
    Source:
        wh282 eq. 4-5, p. 4-4.
    """
    if not moisture >= 0:
        raise OutOfRange("moisture", moisture, "0 % and more is possible")
    return moisture - equilibrium(temperature_k, humidity)


def to_saturation(moisture: float) -> float:
    """The moisture that wood moves by: water above fibre saturation fills cavities and moves nothing.

    Args:
        moisture: mass of water over oven-dry mass [1].
    Returns:
        The moisture, no more than 0.30 [1].
    Raises:
        OutOfRange: moisture below zero.
    Source:
        wh190 p. 4-10.
    """
    if not moisture >= 0:
        raise OutOfRange("moisture", moisture, "0 % and more is possible", f"{moisture * 100:g} %")
    return min(moisture, SATURATION)


def movement(size_m: float, coefficient: float, start: float, end: float) -> float:
    """Change of a dimension across the grain between two moistures.

        dD = D C (M_end - M_start);  moisture above saturation counts as saturation

    Args:
        size_m: dimension at the first moisture [m].
        coefficient: C_R or C_T, change per unit of moisture [1].
        start: first moisture [1].
        end: second moisture [1].
    Returns:
        Change, negative when it shrinks [m].
    Raises:
        OutOfRange: a moisture below zero, or a size of zero or less.
    Valid for:
        6 to 14 percent; `moving.movement_doubts` says what is outside.
    Source:
        wh190 eq. 13-2 and table 13-5, p. 13-15.
    """
    if not size_m > 0:
        raise OutOfRange("size", size_m, "a size above zero is wanted")
    return size_m * coefficient * (to_saturation(end) - to_saturation(start))


def strength_at(at_12: float, green: float, moisture: float, intersection: float) -> float:
    """A strength or stiffness brought from 12 percent to another moisture.

        P = P_12 (P_12 / P_g)^((0.12 - M) / (M_p - 0.12)),  M below M_p, else P_g

    Args:
        at_12: the property at 12 percent [any unit].
        green: the property when green [same unit].
        moisture: wanted [1].
        intersection: M_p, where drying begins to matter [1].
    Returns:
        The property at `moisture` [same unit].
    Raises:
        OutOfRange: moisture below zero, or a property of zero or less.
    Valid for:
        about 21 C; not for work to maximum load, impact bending or tension across the grain.
    Source:
        wh282 eq. 5-3, p. 5-34.
    """
    if moisture < 0:
        raise OutOfRange("moisture", moisture, "0 % and more is possible")
    if at_12 <= 0 or green <= 0:
        raise OutOfRange("strength", min(at_12, green), "a strength above zero is wanted")
    if moisture >= intersection:
        return green
    return at_12 * exp(log(at_12 / green) * (0.12 - moisture) / (intersection - 0.12))


def strength_of_property(
    quantity: str, at_12: float, green: float, moisture: float, intersection: float
) -> float:
    """As `strength_at`, for a property by its name: refused where the equation does not hold.

    Args:
        quantity: its name in the library.
        at_12: the property at 12 percent [any unit].
        green: the property when green [same unit].
        moisture: wanted [1].
        intersection: M_p, where drying begins to matter [1].
    Returns:
        The property at `moisture` [same unit].
    Raises:
        OutOfRange: work to maximum load, impact bending, tension across the grain; else as `strength_at`.
    Source:
        wh282 eq. 5-3, p. 5-34.
    """
    if quantity in NOT_BY_EQUATION_5_3:
        raise OutOfRange(
            quantity,
            moisture,
            "wh282 eq. 5-3 does not hold for it; it stays as tested",
            "bringing it to another moisture",
        )
    return strength_at(at_12, green, moisture, intersection)
