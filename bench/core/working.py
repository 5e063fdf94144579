"""How a figure came about: formula, numbers put in, result, basis and source, as data.

A builder follows it with a pencil; `sheets.working` writes it out in the user's units.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from bench.core.acceptance import Verdict
from bench.core.cutting import CutPlan, CutProblem
from bench.core.floating import FloatResult
from bench.core.records import CutMade, Figure, FloatReading
from bench.core.resizing import Resized
from bench.core.spread import Measured
from bench.core.strength import STRENGTHS, Wood
from bench.core.weighing import WeighResult


@dataclass(frozen=True, slots=True)
class Number:
    """A symbol with its value in SI and the quantity it is, so that it can be written in any unit."""

    symbol: str
    value: float
    quantity: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of arithmetic."""

    title: str
    formula: str
    numbers: tuple[Number, ...]
    result: Number
    basis: str = ""
    source: str = ""


def of_float(reading: FloatReading, result: FloatResult, verdict: Verdict) -> tuple[Step, ...]:
    """The way from the waterline to the verdict.

    Args:
        reading: as taken.
        result: of floating.read.
        verdict: of acceptance.judge.
    Returns:
        Steps in order.
    Source:
        named in each step.
    """
    mean = sum(reading.marks) / len(reading.marks)
    angle = result.angle_deg
    steps = [
        Step(
            "submerged share",
            "f = d / n",
            (
                Number("d", mean, "mark", f"mean of {len(reading.marks)} face(s)"),
                Number("n", reading.count, "mark"),
            ),
            Number("f", result.fraction, "fraction"),
        ),
        Step(
            "pull of the water surface",
            "p = 4 sigma cos(theta) / (rho_w g w L)"
            if angle is not None
            else "no correction asked for: p = 0",
            (
                Number("sigma", result.surface_tension, "surface_tension", "iapws1994"),
                Number("theta", angle, "angle"),
                Number("rho_w", result.water_density, "density", "tanaka2001"),
                Number("w", reading.side.si, "length"),
                Number("L", reading.length.si, "length"),
            )
            if angle is not None
            else (),
            Number("p", result.meniscus_bias, "fraction"),
            source="derived: vertical force of the meniscus on the stick's edges",
        ),
        Step(
            "density over water at 4 C, as it floats",
            "R = (f - p) rho_w / 1000",
            (
                Number("f", result.fraction, "fraction"),
                Number("p", result.meniscus_bias, "fraction"),
                Number("rho_w", result.water_density, "density"),
            ),
            Number("R", result.as_floated, "specific_gravity"),
            basis="mass with its water, volume as it is",
        ),
    ]
    return (*steps, *_bases(result), *_limits(verdict))


def of_weigh(
    mass_kg: float, size_m: tuple[float, float, float], result: WeighResult, verdict: Verdict
) -> tuple[Step, ...]:
    """The way from mass and size to the verdict.

    Args:
        mass_kg: of the stick [kg].
        size_m: width, depth, length [m].
        result: of weighing.weigh.
        verdict: of acceptance.judge.
    Returns:
        Steps in order.
    Source:
        named in each step.
    """
    first = Step(
        "density over water at 4 C, as it is",
        "R = m / (w d L) / 1000",
        (
            Number("m", mass_kg, "mass"),
            Number("w", size_m[0], "length"),
            Number("d", size_m[1], "length"),
            Number("L", size_m[2], "length"),
        ),
        Number("R", result.as_floated, "specific_gravity"),
        basis="mass with its water, volume as it is",
    )
    return (first, *_bases(result), *_limits(verdict))


def _bases(result: Measured) -> tuple[Step, ...]:
    moisture = Number("M", result.moisture, "moisture")
    shrinkage = Number("S_0", result.shrinkage, "moisture", f"green to oven-dry, {result.shrinkage_from}")
    at_moisture = Number("G_M", result.sg_at_moisture, "specific_gravity")
    return (
        Step(
            "without its water",
            "G_M = R / (1 + M)",
            (Number("R", result.as_floated, "specific_gravity"), moisture),
            at_moisture,
            basis="oven-dry mass, volume at its moisture",
            source="wh282 p. 4-10",
        ),
        Step(
            "on the basis of the aircraft limits",
            "G_0 = G_M (1 - S_M) / (1 - S_0),  S_M = S_0 (1 - M / 0.30)",
            (at_moisture, moisture, shrinkage),
            Number("G_0", result.sg_oven_dry, "specific_gravity"),
            basis="oven-dry mass, oven-dry volume",
            source="wh282 eq. 4-9, 4-10; anc19 sec. 2.20, 2.414",
        ),
        Step(
            "on the basis of the handbook's 12 % row",
            "G_12 = G_M (1 - S_M) / (1 - S_12),  S_12 = S_0 (1 - 0.12 / 0.30)",
            (at_moisture, moisture, shrinkage),
            Number("G_12", result.sg_12, "specific_gravity"),
            basis="oven-dry mass, volume at 12 %",
            source="wh282 eq. 4-9, 4-10",
        ),
        Step(
            "95 percent band of G_0",
            "G_0 +/- 1.96 u",
            (
                Number("G_0", result.sg_oven_dry, "specific_gravity"),
                Number("u", result.uncertainty, "specific_gravity", _shares(result)),
            ),
            Number("lowest", result.low, "specific_gravity"),
            basis="oven-dry mass, oven-dry volume",
            source="our estimates of reading, surface, lean, soaking, moisture and shrinkage",
        ),
    )


def _shares(result: Measured) -> str:
    if not isinstance(result, FloatResult):
        return "balance, rule, moisture and shrinkage"
    return ", ".join(f"{name} {share:.4f}" for name, share in result.shares if share > 0)


def place(figure: Figure) -> str:
    """Where a figure stands, with its standing, for the source column.

    Args:
        figure: of the library.
    Returns:
        Bibliography key and place; says so where it was recalled or has no published source.
    """
    standing = {
        "read": "",
        "memory": " (RECALLED, NOT READ)",
        "trade": " (common practice, no published source)",
    }
    return f"{figure.source} {figure.where}{standing[figure.standing]}".strip()


def _limits(verdict: Verdict) -> tuple[Step, ...]:
    if verdict.minimum is None or verdict.value is None or verdict.low is None:
        return ()
    return (
        Step(
            "against the minimum",
            "margin = G_0 - minimum; ACCEPT if the lowest is not below it, REJECT if the highest is",
            (
                Number("G_0", verdict.value, "specific_gravity"),
                Number("lowest", verdict.low, "specific_gravity"),
                Number("minimum", verdict.minimum.value, "specific_gravity"),
            ),
            Number("margin", verdict.value - verdict.minimum.value, "specific_gravity"),
            basis="oven-dry mass, oven-dry volume",
            source=place(verdict.minimum),
        ),
    )


def of_section(resized: Resized, plan: Wood, use: Wood) -> tuple[Step, ...]:
    """The way from the plan's section to the replacement's.

    Args:
        resized: of resizing.resize.
        plan: the drawing's wood.
        use: the replacement.
    Returns:
        The match, then each capacity at the exact size.
    Source:
        geometry of a rectangle; figures as listed by each wood.
    """
    free = {"": "both sides", "width": "depth (width held)", "depth": "width (depth held)"}[resized.hold]
    first = Step(
        f"scale of {free} by {resized.governs}",
        "capacity of the replacement = capacity of the plan, solved for the scale k",
        (
            Number("w", resized.plan.width, "length", "plan"),
            Number("d", resized.plan.depth, "length", "plan"),
            *_wood_numbers(resized.governs, plan, use),
        ),
        Number("k", resized.side_factor, "fraction"),
        basis=f"both woods at {plan.moisture * 100:g} % moisture",
        source=_wood_sources(plan) + "; " + _wood_sources(use),
    )
    powers = {"bending": "width x depth^2", "stiffness": "width x depth^3", "column": "least second moment"}
    rest = tuple(
        Step(
            name,
            f"wood ratio x ratio of {powers.get(name, 'areas')}",
            _wood_numbers(name, plan, use),
            Number(name, value, "fraction", "replacement over plan"),
        )
        for name, value in resized.ratios.items()
    )
    return (first, *rest)


def _wood_numbers(name: str, plan: Wood, use: Wood) -> tuple[Number, ...]:
    if name == "weight":
        return (
            Number("G plan", plan.gravity, "specific_gravity", plan.name),
            Number("G new", use.gravity, "specific_gravity", "measured" if use.measured else use.name),
        )
    figure = "stiffness" if name == "column" else name
    quantity = STRENGTHS[figure]
    return (
        Number("plan", plan.get(figure), quantity, plan.name),
        Number("new", use.get(figure), quantity, use.name),
    )


def _wood_sources(wood: Wood) -> str:
    places = dict.fromkeys(place(figure) for figure in wood.figures)
    own = "; gravity measured on the stick" if wood.measured else ""
    return f"{wood.name}: {', '.join(places)}{own}"


def of_cuts(problem: CutProblem, plan: CutPlan, made: Sequence[CutMade] = ()) -> tuple[Step, ...]:
    """Where the length of each opened stick goes.

    Args:
        problem: handed to the planner.
        plan: its answer.
        made: pieces sawn already; may be empty.
    Returns:
        One step a stick, then the whole list.
    Source:
        sum of lengths: derived.
    """
    sticks = {stick.tag: stick for stick in problem.sticks}
    steps = []
    lost = 0.0
    for stick_plan in plan.sticks:
        length = float(sticks[stick_plan.tag].length)
        pieces = float(sum(piece.end - piece.start for piece in stick_plan.pieces))
        left = float(sum(end - start for start, end in stick_plan.offcuts))
        sawn = float(sum(cut.end - cut.start for cut in made if cut.stick == stick_plan.tag))
        lost += length - pieces - left - sawn
        steps.append(
            Step(
                f"stick {stick_plan.tag}",
                "length = sawn + pieces + leftovers + saw cuts, defects and trim",
                (
                    Number("length", length, "length"),
                    Number("sawn", sawn, "length", "off the stick already"),
                    Number("pieces", pieces, "length", f"{len(stick_plan.pieces)} to cut"),
                    Number("leftovers", left, "length", f"{len(stick_plan.offcuts)} of them"),
                ),
                Number("lost", length - pieces - left - sawn, "length"),
            )
        )
    bound = "proved: no plan does with fewer" if plan.optimal else "not proved to be the fewest"
    steps.append(
        Step(
            "the whole list",
            "sticks opened against the fewest that any plan could do with",
            (
                Number("placed", plan.placed, "count", "pieces"),
                Number("without a place", plan.unplaced_count, "count", "pieces"),
                Number("opened", plan.sticks_used, "count", "sticks"),
                Number("fewest", plan.fewest_possible, "count", "sticks"),
            ),
            Number("lost", lost, "length", bound),
            basis="kerf between neighbours only; none at a flush end",
        )
    )
    return tuple(steps)
