"""A coupon's figure brought to another moisture, where the handbook's equation allows it."""

from bench.core.errors import Missing, OutOfRange
from bench.core.moisture import NOT_BY_EQUATION_5_3, check_moisture, strength_of_property
from bench.core.records import Species
from bench.core.strength import INTERSECTION_OTHERWISE


def at_moisture(
    value: float, species: Species, quantity: str, of: float, to: float, variant: str = ""
) -> float:
    """A coupon's figure as it would be at another moisture, by how its species' own changes.

        x P(to) / P(of),  P by wh282 eq. 5-3

    Args:
        value: as tested [any unit].
        species: the wood.
        quantity: a name of the library.
        of: moisture of the coupon [1].
        to: moisture wanted [1].
        variant: growth region or class.
    Returns:
        The figure [same unit].
    Raises:
        Missing: the library lacks the figure green or at 12 percent.
        OutOfRange: work to maximum load, impact bending, tension across the grain; a moisture outside
            0 to 30 percent.
    Valid for:
        about 21 C.
    Source:
        wh282 eq. 5-3, p. 5-34.
    """
    if quantity in NOT_BY_EQUATION_5_3:
        why = "wh282 eq. 5-3 does not hold for it: compare coupons of one moisture, as tested"
        raise OutOfRange(quantity, value, why, "bringing it to another moisture")
    dry, green = (_figure(species, quantity, at, variant) for at in ("12 %", "green"))
    found = species.find("intersection_moisture")
    intersection = found.value if found else INTERSECTION_OTHERWISE
    there, here = (
        strength_of_property(quantity, dry, green, check_moisture(moisture), intersection)
        for moisture in (to, of)
    )
    return value * there / here


def _figure(species: Species, quantity: str, at: str, variant: str) -> float:
    found = species.find(quantity, at, "", variant)
    if found is None:
        raise Missing(quantity, f"the library has no {quantity} of {species.name}, {at}")
    return found.value
