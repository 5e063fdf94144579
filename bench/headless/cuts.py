"""The verb `cuts`: a cut plan for the parts and sticks of a file."""

from fractions import Fraction
from pathlib import Path
from typing import Any

from bench import units
from bench.core import cutting, working
from bench.core.cutting import CutPart, CutPlan, CutProblem, CutStick, StickPlan, Unplaced
from bench.core.quantities import INCH
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.cut_files import CutList, ListedPart, ListedStick, read_file
from bench.sheets import wording

OPTIONS = {
    "cuts": (
        Option("PLAN.json", "name", "parts, sticks and the habits of the saw", needed=True,
               wanted="the JSON file of a cut list"),
    )
}  # fmt: skip
_NO_SECTION = "no stick has its section"
_NO_GRAVITY = "no stick of its section is known to have its least specific gravity"


def _cuts(given: Given) -> Answer:
    listed = read_file(Path(given.text("PLAN.json")))
    problem = _problem(listed)
    plan = cutting.plan(problem)
    system = given.text("--units", "in")
    whys = [_why(problem, out) for out in plan.unplaced]
    return Answer(
        _data(plan, whys), _tables(problem, plan, whys, system), working=working.of_cuts(problem, plan)
    )


def _problem(listed: CutList) -> CutProblem:
    sticks = tuple(
        CutStick(stick.tag, stick.length, stick.defects, 0.0 if stick.sg is None else float(stick.sg))
        for stick in listed.sticks
    )
    return CutProblem(tuple(_part(part, listed.sticks) for part in listed.parts), sticks, listed.rules)


def _part(part: ListedPart, sticks: tuple[ListedStick, ...]) -> CutPart:
    """A part with the sticks it may come from, and what bars it from all where none is left."""
    alike = [
        stick for stick in sticks if not (part.section and stick.section) or part.section == stick.section
    ]
    dense = [
        stick
        for stick in alike
        if part.minimum_sg is None or (stick.sg is not None and stick.sg >= part.minimum_sg)
    ]
    barred = _NO_SECTION if not alike else _NO_GRAVITY
    tags = None if len(dense) == len(sticks) else frozenset(stick.tag for stick in dense)
    return CutPart(part.name, part.length, part.quantity, part.critical, tags, barred)


def _why(problem: CutProblem, out: Unplaced) -> str:
    part = next(part for part in problem.parts if part.name == out.part)
    if problem.sticks and part.sticks is not None and not part.sticks:
        return part.barred_by
    if out.why == "barred":
        return f"longer than any clear length it may be cut from ({units.tape(out.longest)} is the longest)"
    return wording.unplaced(out, part.barred_by)


def _inches(metres: Fraction) -> float:
    return float(metres / INCH)


def _data(plan: CutPlan, whys: list[str]) -> dict[str, Any]:
    return {
        "placed": plan.placed,
        "unplaced": [
            {"name": out.part, "quantity": out.quantity, "why": why}
            for out, why in zip(plan.unplaced, whys, strict=True)
        ],
        "unplaced_critical": plan.unplaced_critical,
        "sticks_used": plan.sticks_used,
        "fewest_possible": plan.fewest_possible,
        "optimal": plan.optimal,
        "largest_offcut_in": _inches(plan.largest_offcut),
        "waste_percent": float(100 * plan.waste / plan.opened_length) if plan.opened_length else 0.0,
        "sticks": [
            {
                "tag": stick.tag,
                "cuts": [
                    {"part": piece.part, "from_in": _inches(piece.start), "to_in": _inches(piece.end)}
                    for piece in stick.pieces
                ],
                "offcuts": [_inches(end - start) for start, end in stick.offcuts],
            }
            for stick in plan.sticks
        ],
    }


def _tables(problem: CutProblem, plan: CutPlan, whys: list[str], system: str) -> tuple[Table, ...]:
    pieces = plan.placed + plan.unplaced_count
    share = units.percent(plan.waste / plan.opened_length) if plan.opened_length else units.percent(0)
    tables = [
        Table(
            "Cut plan",
            ("", "value", "basis"),
            (
                ("parts", wording.plan_line(plan, pieces), "kerf, end trim, margins and squaring taken off"),
                (
                    "largest offcut",
                    units.tape(plan.largest_offcut, system),
                    "anywhere in the stock, whole sticks too",
                ),
                ("waste", share, "of the length of the opened sticks"),
            ),
        ),
        Table(
            "Cuts, from the marked end of each stick",
            ("stick", "part", "from", "to"),
            tuple(row for stick in plan.sticks for row in _stick_rows(stick, system)),
        ),
    ]
    if plan.unplaced:
        rows = tuple(
            (out.part, str(out.quantity), "critical" if out.critical else "", why)
            for out, why in zip(plan.unplaced, whys, strict=True)
        )
        tables.append(Table("Not placed", ("part", "pieces", "", "why"), rows))
    return tuple(tables)


def _stick_rows(stick: StickPlan, system: str) -> list[tuple[str, ...]]:
    spans = [(piece.start, piece.end, piece.part) for piece in stick.pieces]
    spans += [(start, end, f"(offcut {units.place(end - start, system)})") for start, end in stick.offcuts]
    return [
        (stick.tag if not count else "", part, units.place(start, system), units.place(end, system))
        for count, (start, end, part) in enumerate(sorted(spans))
    ]


ANSWERS = {"cuts": _cuts}
