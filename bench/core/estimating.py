"""What one stick of a species is likely to carry: its gravity, moisture and grain, each counted once.

Each figure starts from the average of the species' clear straight-grained wood at 12 percent. Slope of grain
is reduced by one document: the handbook's table and that of ANC-18 are two statements of one effect.
"""

from collections.abc import Callable
from math import sqrt

from bench.core import grain, strength
from bench.core.errors import OutOfRange
from bench.core.moisture import NOT_BY_EQUATION_5_3, strength_of_property
from bench.core.records import Figure, Species
from bench.core.strength import Estimate, Estimated, within_species

__all__ = ["DESIGN", "DOCUMENTS", "GRAIN_TABLE", "HANDBOOK", "VARIATION", "Estimate", "Estimated", "estimate"]

HANDBOOK, DESIGN = "wh282", "anc18"  # keys of the bibliography
DOCUMENTS = (HANDBOOK, DESIGN)

# Coefficients of variation of clear wood within a species; wh282 table 5-6 (green, 12 percent taken as
# similar). How much of it the gravity already explains is not published in what we have, so all of it is
# counted: the band is wide on purpose. Tension is taken as bending throughout, as in strength.STRENGTHS.
VARIATION = {"bending": 0.16, "tension": 0.16, "stiffness": 0.22, "compression": 0.18, "toughness": 0.34}

# Figure of a stick -> row of the document's table of grain; a figure that is absent has no reduction there.
_GRAIN_ROWS = {
    HANDBOOK: {"bending": "bending", "tension": "bending", "compression": "compression"},
    DESIGN: {
        "bending": "bending",
        "tension": "tension",
        "stiffness": "stiffness",
        "compression": "compression",
    },
}
_RETAINED: dict[str, Callable[[float, str], float]] = {
    HANDBOOK: grain.retained,
    DESIGN: grain.retained_anc18,
}
GRAIN_TABLE = {HANDBOOK: "wh282 table 5-12", DESIGN: "anc18 (1944) table 2-4"}


def estimate(
    species: Species,
    variant: str,
    gravity_12: float,
    gravity_sd: float,
    slope_one: float | None,
    slope_two: float | None,
    moisture: float,
    document: str = HANDBOOK,
) -> Estimate:
    """What one stick of a species is likely to carry, with a 95 percent band.

        S = S_12 (G / G_avg)^n x moisture x grain;  u / S = sqrt(V^2 + (n u_G / G)^2)

    Args:
        species: the wood.
        variant: growth region or class.
        gravity_12: of the stick, oven-dry mass on the volume at 12 percent [1].
        gravity_sd: standard deviation of that gravity [1].
        slope_one: of the grain on one face, rise over run; None: not measured [1].
        slope_two: on the face beside it [1].
        moisture: of the stick, mass of water over oven-dry mass [1].
        document: whose reduction for slope of grain, one of DOCUMENTS.
    Returns:
        Each figure the library has an average of, with every factor. What cannot be brought to the moisture
        stays at 12 percent, and a slope not measured counts as straight: both are said.
    Raises:
        Missing: no average gravity of the wood.
        OutOfRange: a gravity of zero or less, a moisture below zero, an unknown document, or a slope that the
            document's table does not cover.
    Valid for:
        clear wood without defects, about 21 C.
    Source:
        anc18 (1944) table 2-1; wh282 eq. 5-3, tables 5-6 and 5-12; anc18 (1944) table 2-4.
    """
    if document not in DOCUMENTS:
        raise OutOfRange("document", document, f"one of {', '.join(DOCUMENTS)} is wanted")
    if not gravity_12 > 0 or not gravity_sd >= 0:
        raise OutOfRange("gravity", gravity_12, "a gravity above zero is wanted, and a spread not below it")
    if not moisture >= 0:
        raise OutOfRange("moisture", moisture, "0 % and more is possible")
    average, figure = strength.gravity_12(species, variant)
    measured = [slope for slope in (slope_one, slope_two) if slope is not None]
    slope = grain.combined(slope_one or 0.0, slope_two or 0.0)
    parts = tuple(
        _part(species, name, dry, gravity_12 / average, gravity_sd / gravity_12, slope, moisture, document)
        for name in strength.WITHIN_SPECIES
        if (dry := species.find(strength.STRENGTHS[name], "12 %", "", variant)) is not None
    )
    return Estimate(
        species=species.key,
        name=species.name,
        document=document,
        moisture=moisture,
        gravity_12=gravity_12,
        gravity_sd=gravity_sd,
        average_12=average,
        slope_one=slope_one,
        slope_two=slope_two,
        slope=slope,
        grain=(strength.NOT_MEASURED, strength.ONE_FACE, strength.MEASURED)[len(measured)],
        gravity_figure=figure,
        parts=parts,
        sources=_sources(document if measured else "", moisture),
        doubts=_doubts(len(measured), figure),
    )


def _part(
    species: Species,
    name: str,
    dry: Figure,
    ratio: float,
    doubt_of_gravity: float,
    slope: float,
    moisture: float,
    document: str,
) -> Estimated:
    """One figure: its average `dry` by the ratio of gravities, then to the moisture, then for the grain."""
    power = strength.WITHIN_SPECIES[name]
    moved, factor, figures, unmoved = _moisture(species, dry, moisture)
    retained, unreduced = _grain(document, name, slope)
    recalled = (strength.FIGURE_RECALLED,) * any(figure.memory for figure in figures)
    as_bending = (strength.AS_BENDING,) * (name == "tension")
    return Estimated(
        name=name,
        quantity=dry.quantity,
        average=dry.value,
        power=power,
        gravity_factor=within_species(ratio, 1.0, name),
        moisture=moved,
        moisture_factor=factor,
        grain_factor=retained,
        variation=VARIATION[name],
        spread=sqrt(VARIATION[name] ** 2 + (power * doubt_of_gravity) ** 2),
        figures=figures,
        doubts=(*unmoved, *unreduced, *recalled, *as_bending),
    )


def _moisture(
    species: Species, dry: Figure, moisture: float
) -> tuple[float, float, tuple[Figure, ...], tuple[str, ...]]:
    """Moisture the figure is brought to, its factor, the figures behind it, and what is to be said."""
    if moisture == 0.12:
        return moisture, 1.0, (dry,), ()
    if dry.quantity in NOT_BY_EQUATION_5_3:
        return 0.12, 1.0, (dry,), (strength.LEFT_AT_12,)
    green = species.find(dry.quantity, "green", "", dry.variant)
    if green is None:
        return 0.12, 1.0, (dry,), (strength.NO_GREEN,)
    at = species.find("intersection_moisture")
    intersection = at.value if at else strength.INTERSECTION_OTHERWISE
    moved = strength_of_property(dry.quantity, dry.value, green.value, moisture, intersection)
    return moisture, moved / dry.value, (dry, green, *((at,) if at else ())), ()


def _grain(document: str, name: str, slope: float) -> tuple[float, tuple[str, ...]]:
    """Share that the grain leaves, by one document alone, and what is to be said."""
    row = _GRAIN_ROWS[document].get(name)
    if row is None:
        return 1.0, ((strength.NO_GRAIN_ROW,) if slope else ())
    unclear = document == DESIGN and row == "bending" and slope > grain.UNCLEAR_ANC18
    return _RETAINED[document](slope, row), (strength.GRAIN_UNCLEAR,) * unclear


def _doubts(measured: int, gravity: Figure) -> tuple[str, ...]:
    by_faces = ((strength.TAKEN_STRAIGHT,), (strength.ONE_FACE_ONLY,), ())[measured]
    return (*by_faces, strength.FIGURE_RECALLED) if gravity.memory else by_faces


def _sources(document: str, moisture: float) -> tuple[str, ...]:
    by_moisture = () if moisture == 0.12 else ("wh282 eq. 5-3",)
    by_grain = (GRAIN_TABLE[document],) if document else ()
    return ("anc18 (1944) table 2-1", *by_moisture, *by_grain, "wh282 table 5-6")
