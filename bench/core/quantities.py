"""The one table of quantities: name, symbol, SI unit, meaning; and the units that data files may use.

Docstrings, species files, column headings and `units` all take their names from here.
"""

from fractions import Fraction

from bench.core.frozen import record


@record
class Quantity:
    """What one name stands for."""

    name: str
    symbol: str
    unit: str
    meaning: str


_ROWS = (
    # name, symbol, SI unit, meaning
    ("length", "L", "m", "a length along or across the stick"),
    ("mass", "m", "kg", "what the balance shows"),
    ("force", "P", "N", "a load"),
    ("temperature", "T", "K", "temperature of water, air or wood"),
    ("mark", "d", "marks", "position on the float stick, counted from its lower end"),
    ("angle", "theta", "deg", "contact angle of water on wood"),
    ("moisture", "M", "1", "mass of water over oven-dry mass"),
    ("density", "rho", "kg/m3", "mass over volume"),
    ("surface_tension", "sigma", "N/m", "pull of the water surface per length of edge"),
    ("fraction", "f", "1", "submerged share of the stick's length"),
    ("specific_gravity", "G", "1", "oven-dry mass over the mass of water in the volume named"),
    ("specific_gravity_minimum", "G_min", "1", "least specific gravity permitted"),
    ("specific_gravity_maximum", "G_max", "1", "greatest specific gravity permitted"),
    ("specific_gravity_average", "G_avg", "1", "average specific gravity of the species"),
    ("specific_gravity_observed_least", "G", "1", "least observed in a sample; not a limit"),
    ("specific_gravity_observed_most", "G", "1", "greatest observed in a sample; not a limit"),
    ("modulus_of_rupture", "R", "Pa", "bending stress at the greatest load"),
    ("modulus_of_elasticity", "E", "Pa", "stiffness in static bending, span 14 times the depth"),
    ("work_to_maximum_load", "W", "J/m3", "energy to the greatest load over volume"),
    ("impact_bending_drop", "H", "m", "drop of the hammer that broke the beam"),
    ("compression_parallel", "F_c", "Pa", "greatest crushing strength along the grain"),
    ("compression_parallel_limit", "F_cp", "Pa", "crushing stress at the proportional limit"),
    ("compression_perpendicular", "F_cq", "Pa", "stress across the grain at the proportional limit"),
    ("shear_parallel", "F_s", "Pa", "shearing strength along the grain"),
    ("tension_parallel", "F_t", "Pa", "tensile strength along the grain"),
    ("tension_perpendicular", "F_tq", "Pa", "tensile strength across the grain"),
    ("side_hardness", "N_s", "N", "force that presses a ball of 11.3 mm half its diameter into a side"),
    ("bending_limit", "F_bp", "Pa", "bending stress at the proportional limit"),
    ("shrinkage_radial", "S_R", "1", "green to oven-dry, share of the green dimension"),
    ("shrinkage_tangential", "S_T", "1", "green to oven-dry, share of the green dimension"),
    ("shrinkage_volumetric", "S_0", "1", "green to oven-dry, share of the green volume"),
    ("movement_radial", "C_R", "1", "change of dimension per unit of moisture, 6 to 14 percent"),
    ("movement_tangential", "C_T", "1", "change of dimension per unit of moisture, 6 to 14 percent"),
    ("intersection_moisture", "M_p", "1", "moisture below which drying changes strength"),
    ("weight_average", "w", "kg/m3", "average weight at the moisture named"),
    ("weight_minimum", "w_min", "kg/m3", "least weight permitted at the moisture named"),
    ("weight_change", "k", "kg/m3", "change of weight per unit of moisture"),
    ("rings_minimum", "n", "1/m", "least number of growth rings per length, measured radially"),
    ("grain_slope_limit", "s", "1", "steepest slope of grain, rise over run"),
    ("slope", "s", "1", "slope of grain, rise over run"),
    ("rings", "n", "1/m", "growth rings over a length, measured radially"),
    ("share", "q", "1", "share of a whole"),
    ("seconds", "t", "s", "time in the water"),
    ("humidity", "h", "1", "relative humidity of the air"),
    ("contact_angle", "theta", "deg", "advancing contact angle of water"),
    ("area", "A", "m2", "of a section"),
    ("first_moment", "Q", "m3", "of half a section about the axis of bending"),
    ("section_modulus", "S", "m3", "second moment over half the depth"),
    ("second_moment", "I", "m4", "of a section about an axis through its middle"),
    ("torsion_constant", "J", "m4", "of a section in twist"),
    ("weight_per_length", "w", "kg/m", "mass of a stick over its length"),
    ("force_per_length", "p", "N/m", "a load over the length it bears on"),
    ("moment", "M", "N m", "a bending moment"),
    ("bending_stiffness", "EI", "N m2", "resistance to being bent"),
    ("twist_stiffness", "GJ", "N m2", "resistance to being twisted"),
    ("energy", "U", "N m", "of a blow, or taken up by a coupon"),
    ("energy_per_length", "U", "J/m", "energy over the length of a stick"),
    ("strength_change_bending_limit", "q", "1", "increase per unit decrease of moisture, compounded by 0.01"),
    ("strength_change_modulus_of_rupture", "q", "1", "as above"),
    ("strength_change_modulus_of_elasticity", "q", "1", "as above"),
    ("strength_change_work_to_maximum_load", "q", "1", "as above"),
    ("strength_change_compression_parallel", "q", "1", "as above"),
    ("strength_change_compression_perpendicular", "q", "1", "as above"),
    ("strength_change_shear_parallel", "q", "1", "as above"),
    ("strength_change_side_hardness", "q", "1", "as above"),
)

QUANTITIES: dict[str, Quantity] = {row[0]: Quantity(*row) for row in _ROWS}

# Exact by definition: 1 in = 25.4 mm and 1 lb = 0.45359237 kg (international yard and pound, 1959);
# g = 9.80665 m/s2 (3rd CGPM, 1901).
INCH = Fraction(254, 10_000)
POUND = Fraction(45_359_237, 100_000_000)
GRAVITY = Fraction(980_665, 100_000)
_LBF = POUND * GRAVITY
_PSI = _LBF / INCH**2

# Unit as a data file writes it -> (SI unit, factor).
DATA_UNITS: dict[str, tuple[str, Fraction]] = {
    "-": ("1", Fraction(1)),
    "%": ("1", Fraction(1, 100)),
    "1/%": ("1", Fraction(100)),
    "% per 1 %": ("1", Fraction(1)),
    "ratio": ("1", Fraction(1)),
    "deg": ("deg", Fraction(1)),
    "in": ("m", INCH),
    "mm": ("m", Fraction(1, 1000)),
    "lbf": ("N", _LBF),
    "N": ("N", Fraction(1)),
    "lbf/in2": ("Pa", _PSI),
    "10^3 lbf/in2": ("Pa", 1000 * _PSI),
    "10^6 lbf/in2": ("Pa", 1_000_000 * _PSI),
    "kPa": ("Pa", Fraction(1000)),
    "MPa": ("Pa", Fraction(1_000_000)),
    "in-lbf/in3": ("J/m3", _LBF * INCH / INCH**3),
    "kJ/m3": ("J/m3", Fraction(1000)),
    "lb/ft3": ("kg/m3", POUND / (12 * INCH) ** 3),
    "lb/ft3 per 1 %": ("kg/m3", 100 * POUND / (12 * INCH) ** 3),
    "g/cm3": ("kg/m3", Fraction(1000)),
    "g/cm3 per 1 %": ("kg/m3", Fraction(100_000)),
    "rings/in": ("1/m", 1 / INCH),
}
