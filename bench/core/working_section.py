"""The way from the plan's section to the replacement's: constants, capacities, match and rounding."""

from collections.abc import Iterable

from bench.core import laminated, strength
from bench.core.capacities import ROWS, Part
from bench.core.laminated import Laminated
from bench.core.resizing import Resized
from bench.core.sections import Shape
from bench.core.steps import Number, Step, place
from bench.core.strength import STRENGTHS, Wood

_SYMBOLS = {"width": "b", "depth": "d", "diameter": "d", "flange": "t", "web": "t_w"}
# Symbol, quantity and formula of each constant by the shape; the attribute of the shape is the key.
_FORMULAS = {
    "rectangle": {
        "area": "A = b d",
        "second_moment": "I = b d^3 / 12",
        "second_moment_weak": "I_w = d b^3 / 12",
        "section_modulus": "S = b d^2 / 6",
        "first_moment": "Q = b d^2 / 8",
        "torsion_constant": "J = (a c^3 / 3) [1 - (192 c / (pi^5 a)) sum of tanh(n pi a / 2c) / n^5], n odd",
    },
    "round": {
        "area": "A = pi d^2 / 4",
        "second_moment": "I = pi d^4 / 64",
        "second_moment_weak": "I_w = I",
        "section_modulus": "S = pi d^3 / 32",
        "first_moment": "Q = d^3 / 12",
        "torsion_constant": "J = pi d^4 / 32",
    },
    "box": {
        "area": "A = b d - (b - w) (d - 2t), w = 2 t_w",
        "second_moment": "I = [b d^3 - (b - w) (d - 2t)^3] / 12",
        "second_moment_weak": "I_w = [d b^3 - (d - 2t) (b - w)^3] / 12",
        "section_modulus": "S = 2 I / d",
        "first_moment": "Q = b t (d - t) / 2 + w (d/2 - t)^2 / 2",
        "torsion_constant": "J = 4 (b_m d_m)^2 / sum of (length / thickness) + J of each wall as a rectangle",
    },
    "i": {
        "area": "A = b d - (b - w) (d - 2t), w = t_w",
        "second_moment": "I = [b d^3 - (b - w) (d - 2t)^3] / 12",
        "second_moment_weak": "I_w = [2 t b^3 + (d - 2t) w^3] / 12",
        "section_modulus": "S = 2 I / d",
        "first_moment": "Q = b t (d - t) / 2 + w (d/2 - t)^2 / 2",
        "torsion_constant": "J = 2 J of a flange + J of the web + 2 a D^4; cut along the web where larger",
    },
}
_CONSTANTS = {
    "area": ("A", "area"),
    "second_moment": ("I", "second_moment"),
    "second_moment_weak": ("I_w", "second_moment"),
    "section_modulus": ("S", "section_modulus"),
    "first_moment": ("Q", "first_moment"),
    "torsion_constant": ("J", "torsion_constant"),
}
# How low or high J of a shape is held against finite elements.
_TORSION_ERROR = {
    "box": "J low by 2 to 9 %, by up to 17 % where hardly anything is hollow",
    "i": "J of web and flange as in spars 10 % low to 4 % high (1 x 4 in, flange 3/4, web 1/4: 3.4 % HIGH, "
    "0.1818 against 0.1759 in4 by finite elements); the junction a D^4 is RECALLED, NOT READ",
}
_STANDING = {
    "read": "",
    "second-hand": "second-hand",
    "trade": "common practice, no published source",
    "memory": "RECALLED, NOT READ",
}
# Titles of steps that are not the name of the capacity, and what is to be said of one.
TITLES = {"torsion": "twisting stiffness"}
_SAID = {
    "torsion": "stiffness alone: twisting STRENGTH is not compared, as the stress T / (alpha a b^2) is "
    "given of rectangles only and no strength in twist of any wood"
}
_MATCHED = {"all": "weaker in nothing", "own": "none of the own set weaker"}


def constants(section: Part) -> dict[str, float]:
    """The constants of a section, each by its name.

    Args:
        section: of one wood; of layers only what hangs on no wood.
    Returns:
        In SI: area, second moments, section modulus, first moment, torsion constant, least radius.
    Source:
        derived; shapes as in sections.
    """
    if isinstance(section, Laminated):
        return {"area": section.area}
    named = {name: float(getattr(section, name)) for name in _CONSTANTS}
    return {**named, "least_radius": section.least_radius, "form_factor": section.form_factor}


def of_section(resized: Resized, plan: Wood, use: Wood) -> tuple[Step, ...]:
    """The way from the plan's section to the replacement's.

    Args:
        resized: of resizing.resize.
        plan: the drawing's wood.
        use: the replacement; of layers it counts for nothing.
    Returns:
        The match, constants of both sections, each capacity, the rounding.
    Source:
        geometry: derived; figures as listed by each wood.
    """
    return (
        _match(resized, plan, use),
        *_constants(resized.plan, "plan"),
        *_constants(resized.exact, "exact size"),
        *(_capacity(name, resized, plan, use) for name in resized.ratios),
        *_rounding(resized),
    )


def _sizes(section: Part, whose: str) -> tuple[Number, ...]:
    return tuple(
        Number(_SYMBOLS.get(name, name), size, "length", f"{name}, {whose}")
        for name, size in section.sizes.items()
    )


def _constants(section: Part, whose: str) -> tuple[Step, ...]:
    if isinstance(section, Laminated):
        return _layers(section, whose)
    sizes = _sizes(section, whose)
    steps = [
        Step(
            f"{name.replace('_', ' ')} of the {whose}",
            _FORMULAS[section.name][name],
            sizes,
            Number(symbol, getattr(section, name), quantity),
            basis=_TORSION_ERROR.get(section.name, "") if name == "torsion_constant" else "",
            source="derived",
        )
        for name, (symbol, quantity) in _CONSTANTS.items()
    ]
    least = Number("I_least", section.least_second_moment, "second_moment")
    radius = Number("r", section.least_radius, "length")
    area = Number("A", section.area, "area")
    title = f"least radius of gyration of the {whose}"
    steps.append(Step(title, "r = sqrt(I_least / A)", (least, area), radius, source="derived"))
    if section.walled:
        steps.append(_form_factor(section, whose))
    return tuple(steps)


def _form_factor(section: Shape, whose: str) -> Step:
    flange, webs = section.sizes["flange"], section.shear_width
    return Step(
        f"form factor in bending of the {whose}",
        "F = 0.50 + 0.50 [k (1 - q) + q], k = p^2 (6 - 8 p + 3 p^2), p = t / d, q = w / b",
        (
            Number("p", flange / section.depth, "fraction"),
            Number("q", webs / section.width, "fraction"),
        ),
        Number("F", section.form_factor, "fraction", "on the modulus of rupture alone, never on E or I"),
        source="RECALLED, NOT READ",
    )


def _layers(section: Laminated, whose: str) -> tuple[Step, ...]:
    whole = laminated.transformed(section)
    rows = tuple(
        Number(f"E{place_}", stiff, "modulus_of_elasticity", f"{ply.wood.name}, layer {place_}")
        for place_, (stiff, ply) in enumerate(zip(whole.elastic, section.plies, strict=True), 1)
    )
    sizes = _sizes(section, whose)
    moment, first = laminated.bending_of(section)
    breaks = f"layer {first + 1}, {section.plies[first].wood.name}, breaks first"
    return (
        Step(
            f"neutral axis of the {whose}",
            "y_n = sum of E A y / sum of E A, from the outer face of layer 1",
            (*sizes, *rows),
            Number("y_n", whole.neutral, "length"),
            source="derived: plane sections stay plane",
        ),
        Step(
            f"transformed section of the {whose}",
            "EI = sum of (E b t^3 / 12 + E A (y - y_n)^2)",
            (*sizes, *rows),
            Number("EI", whole.bending, "bending_stiffness"),
            source="derived: plane sections stay plane",
        ),
        Step(
            f"bending strength of the {whose}",
            ROWS["bending"].laminated,
            (Number("EI", whole.bending, "bending_stiffness"),),
            Number("M", moment, "moment", breaks),
            basis="up to the first failure; no size effect",
            source="derived",
        ),
    )


def _match(resized: Resized, plan: Wood, use: Wood) -> Step:
    free = {"": "all sizes", "width": "width", "depth": "depth"}[resized.free]
    held = f", {resized.hold} held" if resized.hold else ""
    capped = ", the other side at its cap" if resized.capped else ""
    what = f" ({_MATCHED[resized.match]})" if resized.match in _MATCHED else ""
    exact = resized.exact
    layered = isinstance(exact, Laminated)
    figures = () if layered else _figures(resized.governs, plan, use)
    woods = tuple(ply.wood for ply in exact.plies) if isinstance(exact, Laminated) else (use,)
    sources = dict.fromkeys(_wood_sources(wood) for wood in (plan, *woods))
    return Step(
        f"scale of {free} by {TITLES.get(resized.governs, resized.governs)}{what}{held}{capped}",
        "capacity of the replacement = capacity of the plan, solved for the scale k",
        (*_sizes(resized.plan, "plan"), *figures),
        Number("k", resized.side_factor, "fraction"),
        basis=f"both woods at {plan.moisture * 100:g} % moisture, {resized.basis} figures"
        f"{', but for coupons' if use.coupons else ''}",
        source="; ".join(sources),
    )


def _capacity(name: str, resized: Resized, plan: Wood, use: Wood) -> Step:
    row = ROWS[name]
    layered = isinstance(resized.exact, Laminated)
    euler = name == "column" and resized.euler
    quantity = "bending_stiffness" if euler else row.quantity
    formula = "pi^2 E I_least, the Euler load times length squared" if euler else row.formula
    if layered:
        formula = f"plan: {formula}; replacement: {row.laminated}"
    numbers = () if layered else _figures(name, plan, use)
    if name == "bending" and resized.recalled:
        before, after, _ = resized.form_factors
        numbers += (
            Number("F plan", before, "fraction", "RECALLED, NOT READ"),
            Number("F new", after, "fraction", "RECALLED, NOT READ"),
        )
    return Step(
        TITLES.get(name, name),
        formula,
        (
            *numbers,
            Number("plan", resized.plan_values[name], quantity),
            Number("new", resized.values[name], quantity, "exact size"),
        ),
        Number(name, resized.ratios[name], "fraction", "replacement over plan"),
        basis=_SAID.get(name, ""),
        source=row.source,
    )


def _rounding(resized: Resized) -> tuple[Step, ...]:
    exact = resized.exact.sizes
    steps = [
        Step(
            f"{name} as finished",
            "the next setting of the shop that is not below; a held side stays as it is",
            (
                Number("exact", exact[name], "length"),
                Number("weight", resized.weight_costs[name], "fraction", "after this rounding over before"),
            ),
            Number(_SYMBOLS.get(name, name), float(size), "length", "shop size"),
        )
        for name, size in resized.shop_sizes.items()
    ]
    weights = (
        Number("exact", resized.values["weight"], "weight_per_length"),
        Number("shop", resized.shop_values["weight"], "weight_per_length"),
    )
    cost = Number("cost", resized.weight_cost, "fraction", "shop size over exact size")
    return (*steps, Step("weight that rounding costs", "w shop / w exact", weights, cost))


def _figures(name: str, plan: Wood, use: Wood) -> tuple[Number, ...]:
    if name == "weight":
        return (
            Number("G plan", plan.gravity, "specific_gravity", plan.name),
            Number("G new", use.gravity, "specific_gravity", "measured" if use.measured else use.name),
        )
    figures = [figure for figure in ROWS[name].figures if _has(plan, figure) and _has(use, figure)]
    return tuple(number for figure in figures for number in _pair(figure, plan, use))


def _has(wood: Wood, figure: str) -> bool:
    return any(name == figure for name, _ in wood.strengths)


def _pair(figure: str, plan: Wood, use: Wood) -> Iterable[Number]:
    quantity = STRENGTHS[figure]
    averaged = figure not in strength.WITHIN_SPECIES
    own = f"{use.name}, estimated for the stick" if use.estimated and not averaged else use.name
    own = f"{use.name}, measured on coupons" if figure in use.coupons else own
    yield Number("plan", plan.get(figure), quantity, _said(plan, figure, plan.name))
    yield Number("new", use.get(figure), quantity, _said(use, figure, own))


def _said(wood: Wood, figure: str, name: str) -> str:
    said = _STANDING[strength.worst_standing((wood,), (figure,))]
    return f"{name}, {said}" if said else name


def _wood_sources(wood: Wood) -> str:
    places = dict.fromkeys(place(figure) for figure in wood.figures)
    own = "; gravity measured on the stick" if wood.measured else ""
    if wood.coupons:
        own += f"; {' and '.join(wood.coupons)} MEASURED ON COUPONS, not averages"
    if wood.estimate is not None:
        own += f"; strengths ESTIMATED for the stick, not averages: {', '.join(wood.estimate.sources)}"
    kind = "aircraft design values: " if wood.basis == strength.AIRCRAFT else ""
    return f"{wood.name}: {kind}{', '.join(places)}{own}"
