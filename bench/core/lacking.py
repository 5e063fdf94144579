"""What the library does not hold of a wood, and what can therefore not be said of it."""

from bench.core import acceptance, moisture, strength
from bench.core.errors import Missing
from bench.core.frozen import record
from bench.core.wood import Species

FLOAT, SECTION, MOISTURE = "float", "section", "moisture"


@record
class Lack:
    """One thing that is not known, the pane that goes without it, and what stands in for it."""

    pane: str  # FLOAT, SECTION or MOISTURE
    what: str  # a name of quantities.QUANTITIES
    standing: str  # "absent"; "memory", "estimate": there is a figure that is no better


def lacks(species: Species) -> tuple[Lack, ...]:
    """Everything that the panes ask of a wood and the library does not hold, or holds from memory only.

    Args:
        species: the wood at large, without class or region.
    Returns:
        Lacks, pane by pane; none where every figure was read or is a trade's.
    Source:
        the species file.
    """
    return (*_float(species), *_section(species), *_moisture(species))


def _float(species: Species) -> list[Lack]:
    found = []
    for quantity in ("specific_gravity_minimum", "specific_gravity_average"):
        figure = acceptance.limit(species, quantity)
        if figure is None or figure.memory:
            found.append(Lack(FLOAT, quantity, "absent" if figure is None else "memory"))
    try:
        standing = moisture.shrinkage_of(species)[1]
    except Missing:
        standing = "absent"
    return found if standing == "table" else [*found, Lack(FLOAT, "shrinkage_volumetric", standing)]


def _section(species: Species) -> list[Lack]:
    found = []
    try:
        gravity = strength.gravity_12(species)[1]
        if gravity.memory:
            found.append(Lack(SECTION, "specific_gravity", "memory"))
    except Missing:
        found.append(Lack(SECTION, "specific_gravity", "absent"))
    for quantity in dict.fromkeys(strength.STRENGTHS.values()):
        figure = species.find(quantity, "12 %")
        if figure is None or figure.memory:
            found.append(Lack(SECTION, quantity, "absent" if figure is None else "memory"))
    return found


def _moisture(species: Species) -> list[Lack]:
    found = []
    for quantity in ("movement_tangential", "movement_radial"):
        figure = species.find(quantity)
        if figure is None or figure.memory:
            found.append(Lack(MOISTURE, quantity, "absent" if figure is None else "memory"))
    return found
