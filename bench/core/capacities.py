"""What a section of a wood carries: every capacity with its unit, its formula, its source and its standing.

All are of clear wood: what the figures of the wood are of. What the library lacks is absent, and named.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from math import pi

from bench.core import laminated, strength
from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record
from bench.core.laminated import Laminated
from bench.core.sections import Shape
from bench.core.steps import place
from bench.core.strength import Wood

SHEAR_SHARE = 16  # E over G; wh190 eq. 9-9 text

Part = Shape | Laminated


@record
class Capacity:
    """One row of the table."""

    name: str
    unit: str  # SI
    quantity: str  # a name of quantities.QUANTITIES
    figures: tuple[str, ...]  # of the wood, by the names of strength.STRENGTHS
    formula: str
    laminated: str  # the same for layers
    source: str


_GEOMETRY = "derived"
CAPACITIES = (
    Capacity("weight", "kg/m", "weight_per_length", (), "w = rho A", "w = sum of rho A", "wh282 eq. 4-14"),
    Capacity(
        *("bending", "N m", "moment", ("bending",), "M = F R S, F the form factor of a box or I"),
        *("M = least of R EI / (E y) over the layers", _GEOMETRY),
    ),
    Capacity(
        *("stiffness", "N m2", "bending_stiffness", ("stiffness",), "EI = E I"),
        *("EI about the neutral axis of the transformed section", _GEOMETRY),
    ),
    Capacity(
        *("column", "N", "force", ("stiffness", "compression")),
        "P_c [1 - (4/27) (P_c / P_e)^2] where P_e > 2/3 P_c, else P_e;  P_c = F_c A, P_e = pi^2 E I / L^2",
        *("the same with P_c and EI of the layers", "wh282 eq. 9-25, 9-27, p. 9-9"),
    ),
    Capacity(
        *("compression", "N", "force", ("compression",), "P_c = F_c A"),
        *("P_c = EA least of (F_c / E) over the layers", _GEOMETRY),
    ),
    Capacity(
        *("tension", "N", "force", ("tension",), "P_t = F_t A"),
        *("P_t = EA least of (F_t / E) over the layers", _GEOMETRY),
    ),
    Capacity(
        *("shear", "N", "force", ("shear",), "V = F_s I b / Q at the axis of bending"),
        *("V = least of F_s EI b / ES over the layers", "derived; wh282 eq. 9-14"),
    ),
    Capacity(
        *("bearing", "N/m", "force_per_length", ("bearing",), "p = F_cq w across the grain, w the width"),
        *("p = least F_cq of the layers times the width", _GEOMETRY),
    ),
    Capacity(
        *("torsion", "N m2", "twist_stiffness", ("stiffness",), "GJ = E J / 16"),
        *("GJ = least E J / 16, J of the solid: a lower bound", "wh190 eq. 9-9 text"),
    ),
    Capacity(
        *("toughness", "J/m", "energy_per_length", ("toughness",), "U = W A"),
        *("U = sum of W A", _GEOMETRY),
    ),
)
NAMES = tuple(row.name for row in CAPACITIES)
ROWS = {row.name: row for row in CAPACITIES}
_EULER = ("stiffness",)  # all that a column needs where no length is given

Figures = Mapping[str, float]


def column_of(crushing: float, buckling: float) -> float:
    """Load of a pin-ended column from what crushes it and what buckles it.

        P = P_c [1 - (4/27) (P_c / P_e)^2] where P_e > 2/3 P_c, else P_e

    Args:
        crushing: F_c A, or of layers [N].
        buckling: Euler load at its free length [N].
    Returns:
        Load [N].
    Valid for:
        clear wood of the figure's quality; unconservative against tests of sawn timber near L/r of 60.
    Source:
        wh282 eq. 9-25, 9-27, p. 9-9, written with loads for stresses; both give 2/3 P_c where they join.
    """
    if 3 * buckling > 2 * crushing:
        share = crushing / buckling
        return crushing * (1 - share * share * 4 / 27)
    return buckling


def size_effect(depth_m: float, span_m: float, apart_m: float = 0.0) -> float:
    """Modulus of rupture of a beam over that of the standard test: 2 in deep, span 28 in, load in the middle.

        R / R_2 = [56 / (h L (1 + m a / L))]^(1/m),  inches, m = 18

    It is not part of any capacity here, which compares beams of nearly one size.

    Args:
        depth_m: of the beam [m].
        span_m: between the supports [m].
        apart_m: distance between two equal loads, 0 for one in the middle [m].
    Returns:
        Share [1].
    Raises:
        OutOfRange: a size of zero or less.
    Valid for:
        clear straight-grained Douglas-fir; below 1 in of depth it is drawn out, an upper bound.
    Source:
        wh282 eq. 9-17, 9-18.
    """
    if not (depth_m > 0 and span_m > 0 and apart_m >= 0):
        raise OutOfRange("size", (depth_m, span_m, apart_m), "sizes above zero are wanted")
    inch = 0.0254
    loaded = depth_m * span_m / inch**2 * (1 + 18 * apart_m / span_m)
    return float((56 / loaded) ** (1 / 18))


def _column(section: Shape, figures: Figures, length_m: float | None) -> float:
    buckling = pi * pi * figures["stiffness"] * section.least_second_moment
    if length_m is None:
        return buckling
    return column_of(figures["compression"] * section.area, buckling / (length_m * length_m))


def _bending(section: Shape, figures: Figures, _: float | None) -> float:
    whole = figures["bending"] * section.section_modulus
    return whole * section.form_factor if section.walled else whole


def _shear(section: Shape, figures: Figures, _: float | None) -> float:
    if section.walled or section.name == "round":
        return figures["shear"] * section.second_moment * section.shear_width / section.first_moment
    return figures["shear"] * section.area * 2 / 3


_SOLID: dict[str, Callable[[Shape, Figures, float | None], float]] = {
    "weight": lambda section, figures, _: figures["density"] * section.area,
    "bending": _bending,
    "stiffness": lambda section, figures, _: figures["stiffness"] * section.second_moment,
    "column": _column,
    "compression": lambda section, figures, _: figures["compression"] * section.area,
    "tension": lambda section, figures, _: figures["tension"] * section.area,
    "shear": _shear,
    "bearing": lambda section, figures, _: figures["bearing"] * section.width,
    "torsion": lambda section, figures, _: figures["stiffness"] / SHEAR_SHARE * section.torsion_constant,
    "toughness": lambda section, figures, _: figures["toughness"] * section.area,
}


def _laminated_column(section: Laminated, length_m: float | None) -> float:
    buckling = laminated.buckling_of(section)
    if length_m is None:
        return buckling
    return column_of(laminated.axial_of(section, "compression")[0], buckling / (length_m * length_m))


_LAYERS: dict[str, Callable[[Laminated, float | None], float]] = {
    "weight": lambda section, _: section.width * sum(p.wood.density * p.thickness for p in section.plies),
    "bending": lambda section, _: laminated.bending_of(section)[0],
    "stiffness": lambda section, _: laminated.transformed(section).bending,
    "column": _laminated_column,
    "compression": lambda section, _: laminated.axial_of(section, "compression")[0],
    "tension": lambda section, _: laminated.axial_of(section, "tension")[0],
    "shear": lambda section, _: laminated.shear_of(section)[0],
    "bearing": lambda section, _: section.width * min(p.wood.get("bearing") for p in section.plies),
    "torsion": lambda section, _: laminated.torsion_of(section),
    "toughness": lambda section, _: (
        section.width * sum(p.wood.get("toughness") * p.thickness for p in section.plies)
    ),
}
# Axial, bending and shear strength of layers also need their stiffness: it shares the load out.
_SHARED = frozenset({"bending", "compression", "tension", "shear"})


def needs(name: str, length_m: float | None = None, layered: bool = False) -> frozenset[str]:
    """The figures of a wood that a capacity needs, by the names of strength.STRENGTHS.

    Args:
        name: of a capacity.
        length_m: free length of a column [m], None for the Euler load.
        layered: whether the section is of layers.
    Returns:
        Names; empty for weight.
    """
    return _needs(name, length_m is None, layered)


@cache
def _needs(name: str, euler: bool, layered: bool) -> frozenset[str]:
    figures = _EULER if name == "column" and euler else ROWS[name].figures
    shared = ("stiffness",) if layered and name in _SHARED else ()
    return frozenset((*figures, *shared))


class Carrier:
    """One wood, or the layers of a section, made ready for many sections of it."""

    __slots__ = ("_figures", "_length", "known")

    def __init__(self, wood: Wood, length_m: float | None = None, layers: Laminated | None = None) -> None:
        if length_m is not None and not length_m > 0:
            raise OutOfRange("free length", length_m, "a length above zero is wanted")
        self._length = length_m
        self._figures = {**dict(wood.strengths), "density": wood.density}
        have = self._figures.keys() if layers is None else layers.known
        layered = layers is not None
        self.known = tuple(name for name in NAMES if needs(name, length_m, layered) <= have)

    def value(self, name: str, section: Part) -> float:
        """One known capacity of a section [SI unit of its row]."""
        if isinstance(section, Laminated):
            return _LAYERS[name](section, self._length)
        return _SOLID[name](section, self._figures, self._length)

    def values(self, section: Part, names: Iterable[str] = ()) -> dict[str, float]:
        """Several capacities of a section, all known ones if none is named [SI unit of each row]."""
        return {name: self.value(name, section) for name in names or self.known}


def values(section: Part, wood: Wood, length_m: float | None = None) -> dict[str, float]:
    """Everything that is known of what a section carries, weight first.

    Args:
        section: the section; of layers it has woods of its own.
        wood: of a section that is not laminated.
        length_m: free length of a column [m], None for pi^2 EI, the Euler load times length squared.
    Returns:
        Capacity by name, in the SI unit of its row in CAPACITIES; unknown ones absent.
    Raises:
        OutOfRange: a length of zero or less.
    Source:
        as CAPACITIES says of each.
    """
    layers = section if isinstance(section, Laminated) else None
    return Carrier(wood, length_m, layers).values(section)


def capacity(name: str, section: Part, wood: Wood, length_m: float | None = None) -> float:
    """One capacity of a section.

    Args:
        name: one of NAMES.
        section: the section; of layers it has woods of its own.
        wood: of a section that is not laminated.
        length_m: free length of a column [m], None for the Euler load times length squared.
    Returns:
        In the SI unit of its row in CAPACITIES.
    Raises:
        Missing: the library lacks a figure for it.
        OutOfRange: a length of zero or less, or an unknown name.
    Source:
        as CAPACITIES says of it.
    """
    if name not in ROWS:
        raise OutOfRange("capacity", name, f"one of {', '.join(NAMES)} is wanted")
    layers = section if isinstance(section, Laminated) else None
    carrier = Carrier(wood, length_m, layers)
    if name not in carrier.known:
        woods = (wood,) if layers is None else tuple(ply.wood for ply in layers.plies)
        require(name, woods, length_m, layers is not None)
    return carrier.value(name, section)


# What the figures of a wood are called in the trade, by the names of strength.STRENGTHS.
_CALLED = {
    "bending": "bending strength (modulus of rupture)",
    "stiffness": "stiffness (modulus of elasticity)",
    "compression": "crushing strength along the grain",
    "shear": "shearing strength along the grain",
    "tension": "tension along the grain",
    "toughness": "energy to break",
    "bearing": "crushing strength across the grain",
}
POSSIBLE = "; possible matches: "  # between what is missing and what can be asked instead


def require(
    name: str,
    woods: Iterable[Wood],
    length_m: float | None = None,
    layered: bool = False,
    known: Iterable[str] = (),
) -> None:
    """Refuse a capacity that a wood lacks a figure for, saying which, and what can be asked instead.

    Args:
        name: of a capacity.
        woods: every wood it rests on; may be empty.
        length_m: free length of a column [m], None for the Euler load.
        layered: whether the section is of layers.
        known: capacities that can be compared; may be empty.
    Raises:
        Missing: the first wood and figure that is lacking.
    """
    for wood in woods:
        have = {figure for figure, _ in wood.strengths}
        for figure in sorted(needs(name, length_m, layered) - have):
            said = f"{_lacks(figure, wood)}{POSSIBLE * bool(known)}{', '.join(known)}"
            raise Missing(figure, said)


def _lacks(figure: str, wood: Wood) -> str:
    called = _CALLED[figure]
    if wood.basis == strength.AIRCRAFT:
        return f"the aircraft design values (15 %) of {wood.name} have no {called}"
    if wood.moisture == 0.12:
        return f"the library has no {called} of {wood.name} at 12 %"
    return f"the library has no {called} of {wood.name} both green and at 12 %, which other moistures need"


@record
class Carried:
    """One capacity of a section, with everything it rests on."""

    name: str
    value: float  # [SI unit]
    unit: str
    formula: str
    source: str
    standing: str  # the least of what it rests on: one of strength.STANDINGS
    form_factor: float = 1.0  # recalled; applied in bending alone [1]


def table(section: Part, wood: Wood, length_m: float | None = None) -> tuple[Carried, ...]:
    """Every known capacity with unit, source and standing.

    Args:
        section: the section; of layers it has woods of its own.
        wood: of a section that is not laminated.
        length_m: free length of a column [m], None for the Euler load times length squared.
    Returns:
        In the order of CAPACITIES; unknown ones absent, `lacking` names them.
    Raises:
        OutOfRange: a length of zero or less.
    Source:
        as CAPACITIES says of each.
    """
    layered = isinstance(section, Laminated)
    woods = tuple(ply.wood for ply in section.plies) if isinstance(section, Laminated) else (wood,)
    found = []
    for name, value in values(section, wood, length_m).items():
        row, figures = ROWS[name], needs(name, length_m, layered)
        recalled = (section.walled and name == "bending") or (section.name == "i" and name == "torsion")
        places = dict.fromkeys(place(one) for wood_ in woods for one in strength.figures_of(wood_, figures))
        found.append(
            Carried(
                name,
                value,
                "N m2" if name == "column" and length_m is None else row.unit,
                row.laminated if layered else row.formula,
                "; ".join((row.source, *places)),
                "memory" if recalled else strength.worst_standing(woods, figures),
                section.form_factor if name == "bending" else 1.0,
            )
        )
    return tuple(found)


def lacking(known: Iterable[str]) -> tuple[str, ...]:
    """The capacities that are not among the known ones, in their order."""
    have = frozenset(known)
    return tuple(name for name in NAMES if name not in have)
