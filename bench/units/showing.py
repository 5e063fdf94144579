"""One number of the Working view, written in the unit its quantity is read in."""

from math import isfinite

from bench.core.quantities import DATA_UNITS, POUND
from bench.units import writing

_INCH_POUND_WORK = float(DATA_UNITS["in-lbf/in3"][1])  # [J/m3]
_STRESSES = frozenset(
    {
        "modulus_of_rupture",
        "compression_parallel",
        "compression_parallel_limit",
        "shear_parallel",
        "tension_parallel",
        "tension_perpendicular",
        "compression_perpendicular",
        "bending_limit",
    }
)


def show(quantity: str, value: float, system: str = "in") -> str:
    """A number with its unit, by the name of its quantity.

    Args:
        quantity: a name of the quantities table.
        value: in the SI unit of that table.
        system: "in" or "mm".
    Returns:
        Text; digits enough to follow the arithmetic with a pencil.
    """
    if not isfinite(value):
        return "--"
    if quantity in _STRESSES or quantity == "modulus_of_elasticity":
        return writing.stress(value, system)
    simple = {
        "length": lambda: writing.length(value, system, 4),
        "specific_gravity": lambda: f"{value:.4f}",
        "fraction": lambda: f"{value:.4f}",
        "moisture": lambda: writing.percent(value, 2),
        "mark": lambda: f"{value:.3f} marks",
        "density": lambda: f"{value:.1f} kg/m3",
        "surface_tension": lambda: f"{value * 1000:.2f} mN/m",
        "angle": lambda: f"{value:g} deg",
        "slope": lambda: writing.slope(value),
        "rings": lambda: writing.rings(value),
        "share": lambda: writing.percent(value, 1),
        "humidity": lambda: writing.percent(value, 1),
        "temperature": lambda: writing.temperature(value),
        "seconds": lambda: f"{value:g} s",
        "mass": lambda: f"{value * 1000:.2f} g" if system == "mm" else f"{value / float(POUND):.4f} lb",
        "work_to_maximum_load": lambda: (
            f"{value / 1000:.1f} kJ/m3" if system == "mm" else f"{value / _INCH_POUND_WORK:.1f} in-lbf/in3"
        ),
    }
    writer = simple.get(quantity)
    return writer() if writer else f"{value:g}"
