"""The figures of a wood that a section is resized by, brought to one moisture, each with its source."""

from dataclasses import dataclass

from bench.core.errors import Missing
from bench.core.moisture import density_at, gravity_at, shrinkage_of, strength_at
from bench.core.records import Figure, Species

# Name of the capacity's figure -> quantity of the library. Tension along the grain is taken equal to the
# modulus of rupture, as the 1951 design table does (anc18_1951 table 2-6).
STRENGTHS = {
    "bending": "modulus_of_rupture",
    "stiffness": "modulus_of_elasticity",
    "compression": "compression_parallel",
    "shear": "shear_parallel",
    "tension": "modulus_of_rupture",
    "toughness": "work_to_maximum_load",
}
# wh282 eq. 5-3 does not hold for work to maximum load; it keeps its value at 12 percent.
NOT_ADJUSTED = frozenset({"toughness"})
INTERSECTION_OTHERWISE = 0.25  # wh282 p. 5-34, species not in table 5-13

# Between pieces of one species S / S' = (g / g')^n; anc18 (1944) table 2-1.
WITHIN_SPECIES = {"bending": 1.50, "tension": 1.50, "stiffness": 1.25, "compression": 1.25, "toughness": 2.00}


@dataclass(frozen=True, slots=True)
class Wood:
    """A species at one moisture: clear straight-grained averages, and what they came from."""

    species: str
    name: str
    moisture: float  # [1]
    gravity: float  # oven-dry mass on the volume at `moisture` [1]
    gravity_12: float  # the same on the volume at 12 percent [1]
    measured: bool  # gravity is a stick's own, not the species average
    strengths: tuple[tuple[str, float], ...]  # by the names of STRENGTHS [Pa or J/m3]; unknown ones absent
    figures: tuple[Figure, ...]

    def get(self, name: str) -> float:
        """One figure by its name in STRENGTHS [Pa or J/m3]; raises Missing where the library has none."""
        for known, value in self.strengths:
            if known == name:
                return value
        needs = "at 12 %" if self.moisture == 0.12 else "both green and at 12 %, which other moistures need,"
        raise Missing(name, f"the library has no {STRENGTHS[name]} {needs} for {self.name}")

    @property
    def density(self) -> float:
        """With its water [kg/m3]."""
        return density_at(self.gravity, self.moisture)


def gravity_12(species: Species, variant: str = "") -> tuple[float, Figure]:
    """Average specific gravity on the volume at 12 percent.

    Args:
        species: the wood.
        variant: growth region or class.
    Returns:
        The gravity [1] and the printed figure it is, or was brought from.
    Raises:
        Missing: the species has neither a 12 percent nor a green figure.
    Source:
        the species file; else wh282 eq. 4-10 from the green figure.
    """
    figure = species.find("specific_gravity", "12 %", "12 %", variant)
    if figure:
        return figure.value, figure
    green = species.find("specific_gravity", "green", "green", variant)
    if green:
        return gravity_at(green.value, 0.30, 0.12, shrinkage_of(species, variant)[0]), green
    raise Missing("specific gravity", f"the library has none for {species.name}")


def of(species: Species, moisture: float = 0.12, variant: str = "", gravity: float | None = None) -> Wood:
    """A wood's averages at one moisture.

    Args:
        species: the wood.
        moisture: mass of water over oven-dry mass [1].
        variant: growth region or class.
        gravity: a stick's own, on the volume at 12 percent [1]; None: the handbook average.
    Returns:
        The wood; strengths stay the species averages whatever `gravity` is.
    Raises:
        Missing: no specific gravity at all.
        OutOfRange: moisture below zero.
    Source:
        the species file (wh282 tables 5-3b, 5-4b, 5-5b); wh282 eq. 5-3 away from 12 percent.
    """
    average, figure = gravity_12(species, variant)
    base = average if gravity is None else gravity
    figures = [figure]
    at = [] if moisture == 0.12 else [species.find("intersection_moisture")]
    intersection = at[0].value if at and at[0] else INTERSECTION_OTHERWISE
    strengths: list[tuple[str, float]] = []
    for name, quantity in STRENGTHS.items():
        dry = species.find(quantity, "12 %", "", variant)
        if dry is None:
            continue
        value = dry.value
        if moisture != 0.12 and name not in NOT_ADJUSTED:
            green = species.find(quantity, "green", "", variant)
            if green is None:
                continue
            value = strength_at(dry.value, green.value, moisture, intersection)
            figures.append(green)
        strengths.append((name, value))
        figures.append(dry)
    there = base if moisture == 0.12 else gravity_at(base, 0.12, moisture, shrinkage_of(species, variant)[0])
    return Wood(
        species=species.key,
        name=species.name,
        moisture=moisture,
        gravity=there,
        gravity_12=base,
        measured=gravity is not None,
        strengths=tuple(strengths),
        figures=tuple(dict.fromkeys(figures)),
    )


def within_species(gravity: float, average: float, name: str) -> float:
    """How one piece of a species is likely to stand to the species average.

        S / S' = (g / g')^n

    Args:
        gravity: of the piece [1].
        average: of the species, same basis [1].
        name: of WITHIN_SPECIES.
    Returns:
        Estimated share of the average [1].
    Source:
        anc18 (1944) table 2-1.
    """
    return float((gravity / average) ** WITHIN_SPECIES[name])
