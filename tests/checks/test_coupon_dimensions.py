"""Every formula of the coupon tests, carried through in quantities that refuse a wrong dimension."""

import pint
import pytest

from bench.core import bending_readings, bending_test, breaking, gluing, slide_out
from bench.core.bending_readings import Reading

UNITS = pint.UnitRegistry()
Q = UNITS.Quantity


B, D, L = Q(0.5, "inch"), Q(0.5, "inch"), Q(7, "inch")
WEIGHT, DROP, LOAD, BEND = Q(2, "pound_force"), Q(12, "inch"), Q(120, "pound_force"), Q(0.2, "inch")
SLOPE, OWN = Q(50, "pound_force / inch"), Q(0.004046, "pound_force / inch")
STRESS, REACH = Q(10_200, "psi"), Q(10, "inch")


def si(quantity, unit: str) -> float:
    """A quantity as a plain number of a unit; refused where the dimension is another."""
    return float(quantity.to(unit).magnitude)


def plain(*sizes) -> tuple[float, ...]:
    return tuple(si(size, "m") for size in sizes)


MASS = si(WEIGHT, "N") / breaking.G
OWN_MASS = si(OWN, "N/m") / breaking.G
DIMENSIONS = [
    # name, the formula in quantities, its unit, what the program says
    ("energy", WEIGHT * DROP, "J", breaking.drop_energy(MASS, si(DROP, "m"))),
    (
        "energy per volume",
        WEIGHT * DROP / (B * D * L),
        "J/m**3",
        breaking.over_volume(si(WEIGHT * DROP, "J"), *plain(B, D, L)),
    ),
    (
        "stress of a drop",
        3 * WEIGHT * DROP * L / (BEND * B * D**2),
        "Pa",
        breaking.drop_stress(MASS, *plain(DROP, BEND, B, D, L)),
    ),
    (
        "stiffness by a drop",
        STRESS * L**2 / (6 * BEND * D),
        "Pa",
        breaking.drop_elasticity(si(STRESS, "Pa"), *plain(BEND, D, L)),
    ),
    ("rupture", 1.5 * LOAD * L / (B * D**2), "Pa", bending_test.rupture(si(LOAD, "N"), *plain(B, D, L))),
    (
        "stiffness",
        SLOPE * L**3 / (4 * B * D**3),
        "Pa",
        bending_test.elasticity(si(SLOPE, "N/m"), *plain(B, D, L)),
    ),
    ("shear", 1.2 * 16 * (D / L) ** 2, "", bending_test.shear_share(*plain(D, L))),
    (
        "moment",
        WEIGHT * REACH + OWN * REACH**2 / 2,
        "N m",
        slide_out.slide_moment(MASS, si(REACH, "m"), OWN_MASS),
    ),
    (
        "stress at the clamp",
        6 * (WEIGHT * REACH + OWN * REACH**2 / 2) / (B * D**2),
        "Pa",
        slide_out.slide_out(MASS, *plain(REACH, B, D), OWN_MASS).stress,
    ),
    ("glue", LOAD / (B * L), "Pa", gluing.glue_shear(si(LOAD, "N"), si(B * L, "m**2"))),
    (
        "scarf",
        LOAD / (B * D) * 12 / (1 + 12**2),
        "Pa",
        gluing.on_scarf(si(LOAD / (B * D), "Pa"), 12)[0],
    ),
]


@pytest.mark.parametrize(("name", "formula", "unit", "ours"), DIMENSIONS, ids=[row[0] for row in DIMENSIONS])
def test_dimensions(name: str, formula, unit: str, ours: float) -> None:
    assert si(formula, unit) == pytest.approx(ours, rel=1e-9)


def test_work_has_the_dimension_of_energy_over_volume() -> None:
    load, away = Q([0.0, 50.0, 120.0], "pound_force"), Q([0.0, 0.1, 0.3], "inch")
    loads, deflections = load.to("N").magnitude, away.to("m").magnitude
    readings = [Reading(float(one), float(two)) for one, two in zip(loads, deflections, strict=True)]
    area = sum((load[n] + load[n + 1]) / 2 * (away[n + 1] - away[n]) for n in range(2))
    ours = bending_readings.work_to_maximum(readings, *plain(B, D, L))
    assert si(area / (B * D * L), "J/m**3") == pytest.approx(ours, rel=1e-9)
