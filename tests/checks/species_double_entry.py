"""Tables typed a second time, compared cell by cell with the species files.

A block is a printed table: one row a species or a group of them, cells as printed, "-" where the table has
none. The helper knows the columns; the test that owns the block names the source.
"""

from bench.core.quantities import DATA_UNITS
from bench.core.records import Figure
from bench.library import load

LIBRARY = load()

Entry = tuple[str, str, str, str, str, str, str]
# key, quantity, at, volume, variant, digits as printed, unit as printed

# The unit that the tables print over a column, unless the test says otherwise.
STRESS = "lbf/in2"
UNITS = {
    "modulus_of_rupture": STRESS,
    "modulus_of_elasticity": "10^6 lbf/in2",
    "work_to_maximum_load": "in-lbf/in3",
    "impact_bending_drop": "in",
    "bending_limit": STRESS,
    "compression_parallel": STRESS,
    "compression_parallel_limit": STRESS,
    "compression_perpendicular": STRESS,
    "shear_parallel": STRESS,
    "tension_parallel": STRESS,
    "tension_perpendicular": STRESS,
    "side_hardness": "lbf",
    "shrinkage_radial": "%",
    "shrinkage_tangential": "%",
    "shrinkage_volumetric": "%",
    "movement_radial": "1/%",
    "movement_tangential": "1/%",
    "intersection_moisture": "%",
    "weight_average": "lb/ft3",
    "weight_minimum": "lb/ft3",
    "weight_change": "lb/ft3 per 1 %",
    "rings_minimum": "rings/in",
    "grain_slope_limit": "ratio",
}


def unit_over(quantity: str) -> str:
    """The customary unit of a column."""
    if quantity.startswith("specific_gravity"):
        return "-"
    return "% per 1 %" if quantity.startswith("strength_change") else UNITS[quantity]


SPRUCES = ("red_spruce", "sitka_spruce", "white_spruce")
GROUPS = {
    "spruces": SPRUCES,
    "two_spruces": ("red_spruce", "sitka_spruce"),
    "two_birches": ("sweet_birch", "yellow_birch"),
    "commercial_ash": ("green_ash", "white_ash"),
}


def rows(block: str) -> list[list[str]]:
    """The cells of a typed table, row by row."""
    return [line.split() for line in block.splitlines() if line.strip()]


def members(row_name: str) -> tuple[str, ...]:
    """The species a row stands for."""
    return GROUPS.get(row_name, (row_name,))


def entries(
    block: str,
    columns: list[str],
    at: str = "",
    volume: str = "",
    variant: str = "",
    units: dict[str, str] | None = None,
) -> set[Entry]:
    """A typed table as a set of entries; moisture and volume are put where the quantity has them."""
    typed: set[Entry] = set()
    for name, *cells in rows(block):
        assert len(cells) == len(columns), f"{name}: {len(cells)} cells under {len(columns)} columns"
        for quantity, cell in zip(columns, cells, strict=True):
            if cell == "-":
                continue
            gravity = quantity.startswith("specific_gravity")
            when = "" if gravity and volume == "oven-dry" else at
            unit = (units or {}).get(quantity) or unit_over(quantity)
            for key in members(name):
                typed.add((key, quantity, when, volume if gravity else "", variant, cell, unit))
    assert typed
    return typed


def entry(key: str, figure: Figure) -> Entry:
    """A figure of the library in the form of a typed one."""
    return key, figure.quantity, figure.at, figure.volume, figure.variant, figure.printed, figure.unit


def figures(source: str, *places: str) -> list[tuple[str, Figure]]:
    """Every figure of the library from a source; only those at these tables or sections, if any are given."""
    return [
        (species.key, figure)
        for species in LIBRARY.species.values()
        for figure in species.figures
        if figure.source == source
        and (not places or any(f"{place}," in f"{figure.where}," for place in places))
    ]


def found(source: str, *places: str) -> set[Entry]:
    """As `figures`, in the form of typed entries."""
    return {entry(key, figure) for key, figure in figures(source, *places)}


def at_place(source: str, place: str, key: str, quantity: str, at: str) -> Figure:
    """The one figure a source prints for a species at one place."""
    (figure,) = [
        figure
        for name, figure in figures(source, place)
        if (name, figure.quantity, figure.at) == (key, quantity, at)
    ]
    return figure


def in_si(printed: str, unit: str) -> float:
    """Printed digits in SI, by the exact factor of the unit."""
    return float(printed) * float(DATA_UNITS[unit][1])
