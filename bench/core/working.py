"""How a figure came about: formula, numbers put in, result, basis and source, as data.

A builder follows it with a pencil; `sheets.working` writes it out in the user's units.
"""

from collections.abc import Sequence

from bench.core.cutting import CutPlan, CutProblem
from bench.core.records import CutMade
from bench.core.resizing import Resized
from bench.core.steps import Number, Step, place
from bench.core.strength import STRENGTHS, Wood
from bench.core.working_evidence import of_found, of_standing
from bench.core.working_float import of_float, of_weigh

__all__ = [
    "Number",
    "Step",
    "of_cuts",
    "of_float",
    "of_found",
    "of_section",
    "of_standing",
    "of_weigh",
    "place",
]


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
    own = f"{use.name}, estimated for the stick" if use.estimated and figure != "shear" else use.name
    return (
        Number("plan", plan.get(figure), quantity, plan.name),
        Number("new", use.get(figure), quantity, own),
    )


def _wood_sources(wood: Wood) -> str:
    places = dict.fromkeys(place(figure) for figure in wood.figures)
    own = "; gravity measured on the stick" if wood.measured else ""
    if wood.estimate is not None:
        own += f"; strengths ESTIMATED for the stick, not averages: {', '.join(wood.estimate.sources)}"
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
