"""One number of the Working view, written in the unit its quantity is read in."""

from math import ceil, floor, isfinite, log10

from bench.core.quantities import DATA_UNITS, GRAVITY, INCH, POUND
from bench.units import writing

_INCH_POUND_WORK = float(DATA_UNITS["in-lbf/in3"][1])  # [J/m3]
_HAIR = 1e-12
_HAIR_GRAMS = 1e-9  # far above the noise of a float, far below any printed digit
_IN, _LBF = float(INCH), float(POUND * GRAVITY)
# Of sections: SI over the unit shown, and that unit; in inches and pounds, and in millimetres.
_OF_SECTIONS = {
    "area": ((_IN**2, "in2"), (1e-6, "mm2")),
    "first_moment": ((_IN**3, "in3"), (1e-9, "mm3")),
    "section_modulus": ((_IN**3, "in3"), (1e-9, "mm3")),
    "second_moment": ((_IN**4, "in4"), (1e-12, "mm4")),
    "torsion_constant": ((_IN**4, "in4"), (1e-12, "mm4")),
    "weight_per_length": ((float(POUND) / (12 * _IN), "lb/ft"), (1.0, "kg/m")),
    "force_per_length": ((_LBF / _IN, "lbf/in"), (1000.0, "N/mm")),
    "force": ((_LBF, "lbf"), (1.0, "N")),
    "moment": ((_LBF * _IN, "in-lbf"), (1.0, "N m")),
    "bending_stiffness": ((_LBF * _IN**2, "lbf in2"), (1.0, "N m2")),
    "twist_stiffness": ((_LBF * _IN**2, "lbf in2"), (1.0, "N m2")),
    "energy": ((_LBF * _IN, "in-lbf"), (1.0, "J")),
    "energy_per_length": ((_LBF, "in-lbf/in"), (1.0, "J/m")),
}
# The last digit shown, in SI, where a figure is rounded to one side.
_STEPS = {
    "impact_bending_drop": (_IN / 100, 1e-3),
    "energy": (_LBF * _IN / 1000, 1e-3),
    "work_to_maximum_load": (_INCH_POUND_WORK / 10, 100.0),
    "specific_gravity": (1e-4, 1e-4),
    "mark": (1e-3, 1e-3),
    "share": (1e-3, 1e-3),
}
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
    if quantity in _OF_SECTIONS:
        factor, unit = _OF_SECTIONS[quantity][system == "mm"]
        return f"{writing.number(value / factor, 5)} {unit}"
    simple = {
        "length": lambda: writing.length(value, system, 4),
        "impact_bending_drop": lambda: writing.length(value, system, 2),
        "specific_gravity": lambda: f"{value:.4f}",
        "fraction": lambda: f"{value:.4f}",
        "moisture": lambda: writing.percent(value, 2),
        "mark": lambda: f"{value:.3f} marks",
        "density": lambda: f"{value:.1f} kg/m3",
        "surface_tension": lambda: f"{value * 1000:.2f} mN/m",
        "angle": lambda: f"{value:g} deg",
        "slope": lambda: writing.slope(value),
        "rings": lambda: writing.rings(value),
        "share": lambda: writing.ratio(value),  # never more than there is
        "humidity": lambda: writing.percent(value, 1),
        "temperature": lambda: writing.temperature(value),
        "seconds": lambda: f"{value:g} s",
        "mass": lambda: _mass(value, system),
        "work_to_maximum_load": lambda: (
            f"{value / 1000:.1f} kJ/m3" if system == "mm" else f"{value / _INCH_POUND_WORK:.1f} in-lbf/in3"
        ),
    }
    writer = simple.get(quantity)
    return writer() if writer else f"{value:g}"


def show_down(quantity: str, value: float, system: str = "in") -> str:
    """As `show`, with the last digit rounded down: a limit, never shown higher than it is.

    Args:
        quantity: a stress, a drop, an energy, an energy over volume, a gravity, a mark, a share, or a number.
        value: above zero, in the SI unit of the table.
        system: "in" or "mm".
    """
    if quantity in _STRESSES or quantity == "modulus_of_elasticity":
        return writing.stress_down(value, system, 4)
    step = _step(quantity, value, system)
    return show(quantity, floor(value / step * (1 + _HAIR)) * step, system)


def show_up(quantity: str, value: float, system: str = "in") -> str:
    """As `show_down`, with the last digit rounded up: the far end of a band, never shown nearer than it is.

    Args:
        quantity: a stress, a drop, an energy, an energy over volume, a gravity, a mark, a share, or a number.
        value: above zero, in the SI unit of the table.
        system: "in" or "mm".
    """
    if quantity in _STRESSES or quantity == "modulus_of_elasticity":
        return writing.stress_up(value, system, 4)
    step = _step(quantity, value, system)
    return show(quantity, ceil(value / step * (1 - _HAIR)) * step, system)


def _step(quantity: str, value: float, system: str) -> float:
    """The last digit shown, in SI; of a plain number the sixth."""
    steps = _STEPS.get(quantity)
    return steps[system == "mm"] if steps else 10.0 ** (floor(log10(value)) - 5)


def _mass(value: float, system: str) -> str:
    """Grams below a kilogram, with two decimals and more where the mass has them, as a balance shows it."""
    if system != "mm" and value >= 1:
        return f"{value / float(POUND):.4f} lb"
    grams = value * 1000
    places = next((places for places in (2, 3) if abs(round(grams, places) - grams) < _HAIR_GRAMS), 4)
    return f"{grams:.{places}f} g"
