"""What the verb `section` answers: the JSON object, and the tables."""

from typing import Any

from bench import units
from bench.core import capacities
from bench.core.capacities import Carried, Part
from bench.core.laminated import Laminated, transformed
from bench.core.quantities import INCH
from bench.core.resizing import CAPACITIES, Resized
from bench.core.strength import AIRCRAFT, Wood
from bench.core.working_section import constants
from bench.headless.answers import Table
from bench.sheets import sections as sentences
from bench.sheets import wording
from bench.units.showing import show

_INCH = float(INCH)
# Constant -> power of the inch, and its name in the JSON object.
_POWERS = {
    "area": (2, "in2"),
    "second_moment": (4, "in4"),
    "second_moment_weak": (4, "in4"),
    "section_modulus": (3, "in3"),
    "first_moment": (3, "in3"),
    "torsion_constant": (4, "in4"),
    "least_radius": (1, "in"),
    "neutral_axis": (1, "in"),
}


def unknown(resized: Resized) -> tuple[str, ...]:
    """A warning that names what the library lacks."""
    if not resized.unknown:
        return ()
    names = ", ".join(f"{sentences.CAPACITY[name]} ({name})" for name in resized.unknown)
    return (f"not known, so not compared: {names}; the library lacks a figure",)


def data(resized: Resized, plan: Wood, use: Wood, system: str) -> dict[str, Any]:
    """The JSON object, floats unrounded.

    Args:
        resized: the match.
        plan: the drawing's wood.
        use: the replacement.
        system: "in" or "mm": the unit that the shop's sizes are steps of.
    """
    width, depth = resized.exact.width, resized.exact.depth
    return {
        "width_in": width / _INCH,
        "depth_in": depth / _INCH,
        "width_mm": width * 1000,
        "depth_mm": depth * 1000,
        "sizes_in": {name: size / _INCH for name, size in resized.exact.sizes.items()},
        "area_factor": resized.area_factor,
        "side_factor": resized.side_factor,
        "ratios": dict(resized.ratios),
        "weaker": list(resized.weaker),
        "governs": resized.governs,
        "basis": basis(resized, plan, use),
        "shop_size": sentences.shop_size(resized, system),
        "shop_unit": system,
        "shop_sizes_in": {name: float(size / INCH) for name, size in resized.shop_sizes.items()},
        "shop_sizes_mm": {name: float(size * 1000) for name, size in resized.shop_sizes.items()},
        "shop_ratios": dict(resized.shop_ratios),
        "weaker_shop": list(resized.weaker_shop),
        "weight_cost": resized.weight_cost,
        "weight_costs": dict(resized.weight_costs),
        "constants": {
            "plan": _constants(resized.plan),
            "exact": _constants(resized.exact),
            "shop": _constants(resized.shop_section),
        },
        "capacities": _capacities(resized, plan, use),
        "unknown": list(resized.unknown),
    }


def _constants(section: Part) -> dict[str, float]:
    found = constants(section)
    told = {
        f"{name}_{_POWERS[name][1]}": value / _INCH ** _POWERS[name][0]
        for name, value in found.items()
        if name in _POWERS
    }
    if isinstance(section, Laminated) and "stiffness" in section.known:
        told["neutral_axis_in"] = transformed(section).neutral / _INCH
    return {**told, "form_factor": section.form_factor}


def _capacities(resized: Resized, plan: Wood, use: Wood) -> list[dict[str, Any]]:
    """Each capacity of plan, exact and shop size in SI; standing and source of the plan first."""
    return [
        {
            "name": name,
            "unit": "N m2" if name == "column" and resized.euler else capacities.ROWS[name].unit,
            "plan": resized.plan_values[name],
            "exact": resized.values[name],
            "shop": resized.shop_values[name],
            "standing": [before.standing, after.standing],
            "source": [before.source, after.source],
        }
        for name, before, after in _told(resized, plan, use)
    ]


def _told(resized: Resized, plan: Wood, use: Wood) -> list[tuple[str, Carried, Carried]]:
    # Sources and standings hang on whether there is a length, not on which.
    length = None if resized.euler else 1.0
    before = {row.name: row for row in capacities.table(resized.plan, plan, length)}
    after = {row.name: row for row in capacities.table(resized.exact, use, length)}
    return [(name, before[name], after[name]) for name in resized.ratios]


def basis(resized: Resized, plan: Wood, use: Wood) -> str:
    """What all figures rest on, in one line."""
    moisture = f"both woods at {units.percent(plan.moisture)} moisture"
    exact = resized.exact
    if isinstance(exact, Laminated):
        names = dict.fromkeys(ply.wood.name for ply in exact.plies)
        return f"{moisture}; {sentences.basis(plan)}; layers of {', '.join(names)}, library averages"
    gravity = f"gravity of the plan {_gravity(plan)}, of the replacement {_gravity(use)}"
    return f"{moisture}; {sentences.basis(plan)}; {gravity}"


def _gravity(wood: Wood) -> str:
    if wood.basis == AIRCRAFT:
        return f"{units.gravity(wood.gravity_12)} (from the aircraft tables, {wording.BASIS_12})"
    # The first figure of a wood is its gravity.
    brought = f", brought from {wood.figures[0].volume} volume" if wood.figures[0].volume != "12 %" else ""
    origin = "given" if wood.measured else f"library average{brought}"
    return f"{units.gravity(wood.gravity_12)} ({origin}, {wording.BASIS_12})"


def tables(
    resized: Resized, plan: Wood, use: Wood, system: str, average: float | None = None
) -> tuple[Table, ...]:
    """Sizes, what is given away, and the constants of both sections.

    Args:
        resized: the match.
        plan: the drawing's wood.
        use: the replacement.
        system: "in" or "mm".
        average: gravity of the replacement's species, volume at 12 percent; None: of layers [1].
    """
    caveat = sentences.as_average(use.gravity_12, average, "given is") if use.measured else ""
    return (
        _sizes(resized, plan, use, system, caveat),
        _ratios(resized, system),
        _costs(resized),
        _constants_table(resized, system),
    )


def _name(resized: Resized, use: Wood) -> str:
    return "layers" if isinstance(resized.exact, Laminated) else use.name


def _sizes(resized: Resized, plan: Wood, use: Wood, system: str, caveat: str) -> Table:
    held = f", {resized.hold} held" if resized.hold else ""
    capped = ", at its cap" if resized.capped else ""
    new = _name(resized, use)
    match = sentences.CAPACITY[resized.match]
    return Table(
        f"{sentences.SHAPE[resized.exact.name]}: {plan.name} to {new}, by {match}{held}{capped}",
        ("", "value", "basis"),
        (
            ("plan", sentences.plan_size(resized, system), plan.name),
            (
                "exact size",
                sentences.exact_size(resized, system),
                f"{new}; {sentences.CAPACITY[resized.governs]} governs",
            ),
            ("shop size", sentences.shop_size(resized, system), "never to the weak side"),
            ("area", f"{resized.area_factor:.4f}", "replacement over plan, exact size"),
            ("side", f"{resized.side_factor:.4f}", "replacement over plan, exact size"),
            ("basis", "", basis(resized, plan, use)),
            ("", "", sentences.price(resized, caveat)),
        ),
    )


def _ratios(resized: Resized, system: str) -> Table:
    rows = []
    for name in ("weight", *CAPACITIES):
        if name not in resized.ratios:
            rows.append((sentences.CAPACITY[name], "not known", "not known", "", "", ""))
            continue
        euler = name == "column" and resized.euler
        quantity = "bending_stiffness" if euler else capacities.ROWS[name].quantity
        rows.append(
            (
                sentences.CAPACITY[name],
                sentences.share(name, resized.ratios[name]),
                sentences.share(name, resized.shop_ratios[name]),
                show(quantity, resized.plan_values[name], system),
                show(quantity, resized.values[name], system),
                "less than the plan" if name in resized.weaker else "",
            )
        )
    columns = ("", "exact size", "shop size", "plan carries", "exact size carries", "")
    return Table("Replacement over plan", columns, tuple(rows))


def _costs(resized: Resized) -> Table:
    rows = [(name, sentences.cost(cost)) for name, cost in resized.weight_costs.items()]
    rows.append(("all together", sentences.cost(resized.weight_cost)))
    return Table("Cost of rounding", ("size", "weight added"), tuple(rows))


def _constants_table(resized: Resized, system: str) -> Table:
    plan, exact = constants(resized.plan), constants(resized.exact)
    rows = []
    for name, value in plan.items():
        quantity = "fraction" if name == "form_factor" else _QUANTITY.get(name, name)
        new = show(quantity, exact[name], system) if name in exact else "of layers: see the working"
        rows.append((name.replace("_", " "), show(quantity, value, system), new))
    return Table("Constants of the sections", ("", "plan", "exact size"), tuple(rows))


_QUANTITY = {"second_moment_weak": "second_moment", "least_radius": "length"}
