"""The figures of a wood, or of one stick of it, that a section is resized by, each with its source."""

from dataclasses import dataclass, replace

from bench.core.errors import Missing, OutOfRange
from bench.core.moisture import (
    NOT_BY_EQUATION_5_3,
    density_at,
    gravity_at,
    shrinkage_of,
    strength_of_property,
)
from bench.core.records import Figure, Species
from bench.core.spread import TWO_SIDED_95

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
INTERSECTION_OTHERWISE = 0.25  # wh282 p. 5-34, species not in table 5-13

# Between pieces of one species S / S' = (g / g')^n; anc18 (1944) table 2-1.
WITHIN_SPECIES = {"bending": 1.50, "tension": 1.50, "stiffness": 1.25, "compression": 1.25, "toughness": 2.00}

MEASURED, ONE_FACE, NOT_MEASURED = "measured", "one face", "not measured"  # of Estimate.grain
# What is to be said of an estimate or of one of its figures.
TAKEN_STRAIGHT, ONE_FACE_ONLY = "taken_straight", "one_face_only"
NO_GRAIN_ROW, GRAIN_UNCLEAR = "no_grain_row", "grain_unclear"
LEFT_AT_12, NO_GREEN = "left_at_12", "no_green"
FIGURE_RECALLED, AS_BENDING, AVERAGE_KEPT = "figure_recalled", "as_bending", "average_kept"


@dataclass(frozen=True, slots=True)
class Estimated:
    """One figure of a stick, with every factor it came by: value = average x gravity x moisture x grain."""

    name: str  # of WITHIN_SPECIES
    quantity: str
    average: float  # of the species at 12 percent [Pa or J/m3]
    power: float  # of the ratio of gravities; anc18 (1944) table 2-1
    gravity_factor: float  # [1]
    moisture: float  # the value is at: the stick's, or 0.12 where it cannot be brought there [1]
    moisture_factor: float  # [1]
    grain_factor: float  # [1]
    variation: float  # coefficient of variation of clear pieces of one species; wh282 table 5-6 [1]
    spread: float  # standard deviation over the value, that of the gravity included [1]
    figures: tuple[Figure, ...]
    doubts: tuple[str, ...]

    @property
    def value(self) -> float:
        """[Pa or J/m3]"""
        return self.average * self.gravity_factor * self.moisture_factor * self.grain_factor

    @property
    def low(self) -> float:
        """Lower edge of the two-sided 95 percent band, not below zero [Pa or J/m3]."""
        return self.value * max(0.0, 1 - TWO_SIDED_95 * self.spread)

    @property
    def high(self) -> float:
        """Upper edge of the two-sided 95 percent band [Pa or J/m3]."""
        return self.value * (1 + TWO_SIDED_95 * self.spread)


@dataclass(frozen=True, slots=True)
class Estimate:
    """What one stick is likely to carry. Made by `estimating.estimate`."""

    species: str
    name: str
    document: str  # whose reduction for slope of grain: one of estimating.DOCUMENTS, never two
    moisture: float  # of the stick [1]
    gravity_12: float  # of the stick, on the volume at 12 percent [1]
    gravity_sd: float  # its standard deviation [1]
    average_12: float  # of the species, same basis [1]
    slope_one: float | None  # of the grain on one face, rise over run; None: not measured [1]
    slope_two: float | None  # on the face beside it [1]
    slope: float  # of the grain, both faces together; one that was not measured counts as straight [1]
    grain: str  # MEASURED, ONE_FACE or NOT_MEASURED
    gravity_figure: Figure  # the average came from
    parts: tuple[Estimated, ...]
    sources: tuple[str, ...]  # of the factors
    doubts: tuple[str, ...]  # of the whole

    @property
    def grain_measured(self) -> bool:
        """Whether the slope was measured on both faces; without it no section may rest on the estimate."""
        return self.grain == MEASURED

    def part(self, name: str) -> Estimated:
        """One figure by its name in WITHIN_SPECIES; raises Missing where none can be estimated."""
        for known in self.parts:
            if known.name == name:
                return known
        if name in WITHIN_SPECIES:
            raise Missing(name, f"the library has no {STRENGTHS[name]} at 12 % for {self.name}")
        raise Missing(name, f"only {', '.join(WITHIN_SPECIES)} can be estimated for one stick")

    def value(self, name: str) -> float:
        """One figure [Pa or J/m3]; raises Missing as `part`."""
        return self.part(name).value


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
    estimate: Estimate | None = None  # where the strengths are one stick's estimated ones

    @property
    def estimated(self) -> bool:
        """Whether the strengths are estimated for one stick, not averages."""
        return self.estimate is not None

    @property
    def doubt(self) -> tuple[str, ...]:
        """What is to be said of the estimate: a code, and the figure it is about where it is about one."""
        if self.estimate is None:
            return ()
        each = [f"{code} {part.name}" for part in self.estimate.parts for code in part.doubts]
        kept = {name for name, _ in self.strengths} - {part.name for part in self.estimate.parts}
        return (*self.estimate.doubts, *each, *(f"{AVERAGE_KEPT} {name}" for name in sorted(kept)))

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


def of(
    species: Species,
    moisture: float = 0.12,
    variant: str = "",
    gravity: float | None = None,
    estimate: Estimate | None = None,
) -> Wood:
    """A wood's averages at one moisture, or with an estimate one stick's likely strengths at 12 percent.

    Args:
        species: the wood.
        moisture: mass of water over oven-dry mass [1].
        variant: growth region or class.
        gravity: a stick's own, on the volume at 12 percent; None: the estimate's, else the average [1].
        estimate: of the stick, made at 12 percent; None: strengths stay the averages whatever `gravity` is.
    Returns:
        The wood; shear stays the average.
    Raises:
        Missing: no specific gravity at all, or an estimate of a stick whose grain was not measured.
        OutOfRange: moisture below zero, or an estimate of another wood, gravity or moisture.
    Source:
        the species file (wh282 tables 5-3b, 5-4b, 5-5b); wh282 eq. 5-3 away from 12 percent.
    """
    if estimate is not None:
        _check_estimate(estimate, species, moisture, gravity)
        gravity = estimate.gravity_12
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
        if moisture != 0.12 and quantity not in NOT_BY_EQUATION_5_3:
            green = species.find(quantity, "green", "", variant)
            if green is None:
                continue
            value = strength_of_property(quantity, dry.value, green.value, moisture, intersection)
            figures.append(green)
        strengths.append((name, value))
        figures.append(dry)
    there = base if moisture == 0.12 else gravity_at(base, 0.12, moisture, shrinkage_of(species, variant)[0])
    wood = Wood(
        species=species.key,
        name=species.name,
        moisture=moisture,
        gravity=there,
        gravity_12=base,
        measured=gravity is not None,
        strengths=tuple(strengths),
        figures=tuple(dict.fromkeys(figures)),
    )
    return wood if estimate is None else _with_estimate(wood, estimate)


def _check_estimate(estimate: Estimate, species: Species, moisture: float, gravity: float | None) -> None:
    if estimate.species != species.key:
        raise OutOfRange("species", species.key, f"the estimate is of {estimate.name}")
    if estimate.moisture != 0.12 or moisture != 0.12:
        raise OutOfRange("moisture", estimate.moisture, "a section is compared at 12 %: estimate at 12 %")
    if gravity is not None and gravity != estimate.gravity_12:
        raise OutOfRange("gravity", gravity, f"the estimate is for {estimate.gravity_12:.3f}")
    if not estimate.grain_measured:
        why = "measure it on two faces beside each other; no stick is taken for straight here"
        raise Missing("slope of grain", why)


def _with_estimate(wood: Wood, estimate: Estimate) -> Wood:
    likely = {part.name: part.value for part in estimate.parts}
    figures = (*wood.figures, estimate.gravity_figure, *(f for part in estimate.parts for f in part.figures))
    return replace(
        wood,
        strengths=tuple((name, likely.get(name, value)) for name, value in wood.strengths),
        figures=tuple(dict.fromkeys(figures)),
        estimate=estimate,
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
