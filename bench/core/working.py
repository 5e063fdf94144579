"""How a figure came about: formula, numbers put in, result, basis and source, as data.

A builder follows it with a pencil; `sheets.working` writes it out in the user's units.
"""

from collections.abc import Sequence

from bench.core.cutting import CutPlan, CutProblem
from bench.core.records import CutMade
from bench.core.steps import Number, Step, place
from bench.core.working_evidence import of_found, of_standing
from bench.core.working_float import of_float, of_weigh
from bench.core.working_section import of_section

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
                f"stick {stick_plan.tag}{f', strip {stick_plan.strip}' if stick_plan.strip else ''}",
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
                Number("opened", plan.sticks_opened, "count", f"sticks, of {plan.sticks_used} used"),
                Number("fewest", plan.fewest_possible, "count", "sticks that any plan opens"),
            ),
            Number("lost", lost, "length", bound),
            basis="kerf between neighbours only; none at a flush end",
        )
    )
    return tuple(steps)
