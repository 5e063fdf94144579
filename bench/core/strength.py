"""The figures of a wood, or of one stick of it, that a section is resized by, each with its source."""

from collections.abc import Iterable

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record, replace
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
    "bearing": "compression_perpendicular",
}
HANDBOOK, AIRCRAFT = "handbook", "aircraft"  # of Wood.basis; one section never rests on both
STANDINGS = ("read", "second-hand", "trade", "memory")  # how far a figure can be trusted, best first
# The design tables are for wood at 15 percent moisture.
DESIGN_MOISTURE, _AT_DESIGN = 0.15, "15 %"
# Figures of the design tables, the first that there is: the 1951 table prints tension, which it takes equal
# to the modulus of rupture, and the rupture of the other tables is of an older edition.
DESIGN = {
    "bending": ("tension_parallel", "modulus_of_rupture"),
    "stiffness": ("modulus_of_elasticity",),
    "compression": ("compression_parallel",),
    "shear": ("shear_parallel",),
    "tension": ("tension_parallel", "modulus_of_rupture"),
    "toughness": ("work_to_maximum_load",),
    "bearing": ("compression_perpendicular",),
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


@record
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


@record
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


@record
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
    basis: str = HANDBOOK  # or AIRCRAFT: design values
    coupons: tuple[str, ...] = ()  # names of the strengths that were measured on coupons

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
        if self.basis == AIRCRAFT:
            wanted = " or ".join(DESIGN[name])
            raise Missing(name, f"no {wanted} among the aircraft design values (15 %) of {self.name}")
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


def aircraft(species: Species) -> Wood:
    """A wood by the design values of the aircraft tables, at 15 percent moisture.

    They allow for variation and duration of load, and for slope of grain up to 1 in 15: they are compared
    with design values of another wood, never with its handbook averages. Figures recalled or second-hand are
    taken where no other is there, and keep that standing.

    Args:
        species: the wood.
    Returns:
        The wood; what the tables lack is absent.
    Raises:
        Missing: the library has no weight or no strength at all of the wood for aircraft at 15 percent.
    Source:
        the species file: anc18_1951 table 2-6 where there, else anc18_quoted, else naca354 as recalled;
        weight anc19 or as these; wh282 eq. 4-10 to the volume at 12 percent.
    """
    found = {
        name: figure
        for name, quantities in DESIGN.items()
        if (figure := _first(species, quantities)) is not None
    }
    if not found:
        raise Missing("figures", f"the library has no aircraft design values (15 %) of {species.name}")
    there, weight = _design_gravity(species)
    return Wood(
        species=species.key,
        name=species.name,
        moisture=DESIGN_MOISTURE,
        gravity=there,
        gravity_12=gravity_at(there, DESIGN_MOISTURE, 0.12, shrinkage_of(species)[0]),
        measured=False,
        strengths=tuple((name, figure.value) for name, figure in found.items()),
        figures=tuple(dict.fromkeys((weight, *found.values()))),
        basis=AIRCRAFT,
    )


def _first(species: Species, quantities: tuple[str, ...]) -> Figure | None:
    return next((figure for name in quantities if (figure := species.find(name, _AT_DESIGN))), None)


def _design_gravity(species: Species) -> tuple[float, Figure]:
    """Gravity on the volume at 15 percent, from the weight there or the average on oven-dry volume.

    The one that stands better is taken, of equals the weight; raises Missing where there is neither.
    """
    weight = species.find("weight_average", _AT_DESIGN)
    average = species.find("specific_gravity_average", "", "oven-dry")
    both = [figure for figure in (weight, average) if figure is not None]
    if not both:
        raise Missing("weight", f"the library has no aircraft weight or average gravity of {species.name}")
    best = min(both, key=lambda figure: STANDINGS.index(standing_of(figure)))
    if best is weight:
        return best.value / (1000 * (1 + DESIGN_MOISTURE)), best
    return gravity_at(best.value, 0.0, DESIGN_MOISTURE, shrinkage_of(species)[0]), best


def standing_of(figure: Figure) -> str:
    """One of STANDINGS: as the figure says, or second-hand where its note does."""
    if figure.standing == "read" and ("second-hand" in figure.note or figure.note.startswith("secondary")):
        return "second-hand"
    return figure.standing


def figures_of(wood: Wood, names: Iterable[str]) -> tuple[Figure, ...]:
    """The printed figures that some strengths of a wood rest on.

    Args:
        wood: the wood.
        names: of STRENGTHS; none: the gravity alone.
    Returns:
        In the order in which the wood lists them.
    """
    rows = DESIGN if wood.basis == AIRCRAFT else {name: (quantity,) for name, quantity in STRENGTHS.items()}
    wanted = {quantity for name in names for quantity in rows[name]}
    if not wanted:
        return wood.figures[:1]
    return tuple(figure for figure in wood.figures if figure.quantity in wanted)


def worst_standing(woods: Iterable[Wood], names: Iterable[str]) -> str:
    """The least standing of the figures that some strengths rest on.

    Args:
        woods: every wood of the section; may be empty.
        names: of STRENGTHS; none: the gravities alone.
    Returns:
        One of STANDINGS.
    """
    wanted = tuple(names)
    found = [standing_of(figure) for wood in woods for figure in figures_of(wood, wanted)]
    return max(found, key=STANDINGS.index, default=STANDINGS[0])


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
