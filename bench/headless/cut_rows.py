"""A layout as JSON and as tables: the same keys and columns for a list and for a job."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction
from typing import Any

from bench import units
from bench.core.cutting import CutPlan, CutProblem, StickPlan
from bench.core.frozen import record
from bench.core.quantities import INCH
from bench.core.records import CutMade
from bench.core.scarfing import Split
from bench.headless.answers import Table
from bench.sheets import wording

ON_HOLD = "ON HOLD"


@record
class Scarf:
    """A piece of a part as lengths to be scarfed together."""

    split: Split
    whole: Fraction  # finished length of the part [m]

    @property
    def overlap(self) -> Fraction:
        """Of each joint [m]."""
        return (sum(self.split.lengths) - self.whole) / (len(self.split.lengths) - 1)


@record
class Cuts:
    """A layout, and what is told beside it."""

    problem: CutProblem
    plan: CutPlan
    whys: tuple[str, ...]  # of the plan's unplaced, in order
    made: tuple[CutMade, ...] = ()  # sawn already
    scarfed: tuple[Scarf, ...] = ()
    held: frozenset[str] = frozenset()  # tags of sticks in the plan that are on hold
    notes: Mapping[str, Mapping[str, str]] = field(default_factory=dict)  # part -> group, grain
    name: str = ""  # of the job

    @property
    def waste(self) -> Fraction:
        """Share of the length of the sticks to be cut that is neither piece nor reusable offcut [1]."""
        if not self.plan.opened_length:
            return Fraction(0)
        rows = Counter(row.tag for row in self.plan.sticks)
        made = sum(((cut.end - cut.start) * rows[cut.stick] for cut in self.made), Fraction(0))
        return (self.plan.waste - made) / self.plan.opened_length

    def warnings(self) -> tuple[str, ...]:
        """What must be known before a cut is made."""
        return (f"cut from sticks on hold: {', '.join(sorted(self.held))}",) if self.held else ()


def data(cuts: Cuts) -> dict[str, Any]:
    """Keys and values of the JSON object."""
    plan = cuts.plan
    return {
        "placed": plan.placed,
        "unplaced": [
            {"name": out.part, "quantity": out.quantity, "why": why}
            for out, why in zip(plan.unplaced, cuts.whys, strict=True)
        ],
        "unplaced_critical": plan.unplaced_critical,
        "sticks_used": plan.sticks_used,
        "sticks_opened": plan.sticks_opened,
        "fewest_possible": plan.fewest_possible,
        "optimal": plan.optimal,
        "largest_offcut_in": _inches(plan.largest_offcut),
        "waste_percent": float(100 * cuts.waste),
        "pieces_made": len(cuts.made),
        "scarfed": [
            {
                "part": scarf.split.part,
                "overlap_in": _inches(scarf.overlap),
                "lengths": [
                    {"name": name, "length_in": _inches(length)}
                    for name, length in zip(scarf.split.names, scarf.split.lengths, strict=True)
                ],
            }
            for scarf in cuts.scarfed
        ],
        "sticks": [_stick(cuts, row) for row in plan.sticks],
    }


def _stick(cuts: Cuts, row: StickPlan) -> dict[str, Any]:
    ripped = {"strip": row.strip, "fence_in": _inches(row.width)} if row.width is not None else {}
    return {
        "tag": row.tag,
        **ripped,
        **({"on_hold": True} if row.tag in cuts.held else {}),
        "cuts": [
            {
                "part": piece.part,
                "from_in": _inches(piece.start),
                "to_in": _inches(piece.end),
                **cuts.notes.get(piece.part, {}),
            }
            for piece in row.pieces
        ],
        "offcuts": [_inches(end - start) for start, end in row.offcuts],
    }


def tables(cuts: Cuts, system: str) -> tuple[Table, ...]:
    """The layout as tables, in "in" or "mm"."""
    plan = cuts.plan
    found = [
        Table(
            f"Cut plan of {cuts.name}" if cuts.name else "Cut plan",
            ("", "value", "basis"),
            _whole(cuts, system),
        ),
        Table(
            "Cuts, from the marked end of each stick",
            ("stick", "part", "from", "to", *(("with it",) if _noted(cuts) else ())),
            tuple(row for stick in plan.sticks for row in _rows(cuts, stick, system)),
        ),
    ]
    if cuts.scarfed:
        found.append(
            Table("Scarfed from lengths", ("part", "length", "finished", "overlap"), _scarfs(cuts, system))
        )
    if plan.unplaced:
        rows = tuple(
            (out.part, str(out.quantity), "critical" if out.critical else "", why)
            for out, why in zip(plan.unplaced, cuts.whys, strict=True)
        )
        found.append(Table("Not placed", ("part", "pieces", "", "why"), rows))
    return tuple(found)


def _whole(cuts: Cuts, system: str) -> tuple[tuple[str, ...], ...]:
    plan = cuts.plan
    line = wording.plan_line(plan, plan.placed + plan.unplaced_count, len(cuts.made))
    return (
        ("parts", line, "kerf, end trim, margins and squaring taken off"),
        (
            "largest offcut",
            units.tape(plan.largest_offcut, system),
            "anywhere in the stock, whole sticks too",
        ),
        (
            "waste",
            units.percent(cuts.waste),
            "of the length of the sticks that pieces are still to come from",
        ),
    )


def _noted(cuts: Cuts) -> bool:
    return any(cuts.notes.get(piece.part) for row in cuts.plan.sticks for piece in row.pieces)


def _rows(cuts: Cuts, row: StickPlan, system: str) -> list[tuple[str, ...]]:
    """One stick or strip from its marked end."""
    noted = _noted(cuts)
    spans = [(piece.start, piece.end, piece.part, _note(cuts, piece.part)) for piece in row.pieces]
    spans += [(start, end, f"(offcut {units.place(end - start, system)})", "") for start, end in row.offcuts]
    head = row.tag
    if row.width is not None:
        head += f" strip {row.strip}, fence {units.place(row.width, system)}"
    if row.tag in cuts.held:
        head += f" ({ON_HOLD})"
    found: list[tuple[str, ...]] = []
    for count, (start, end, part, note) in enumerate(sorted(spans)):
        cells = ("" if count else head, part, units.place(start, system), units.place(end, system))
        found.append((*cells, note) if noted else cells)
    return found


def _note(cuts: Cuts, part: str) -> str:
    return ", ".join(f"{key} {text}" for key, text in cuts.notes.get(part, {}).items())


def _scarfs(cuts: Cuts, system: str) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            "" if count else scarf.split.part,
            name,
            units.place(length, system),
            "" if count else units.place(scarf.overlap, system),
        )
        for scarf in cuts.scarfed
        for count, (name, length) in enumerate(zip(scarf.split.names, scarf.split.lengths, strict=True))
    )


def _inches(metres: Fraction) -> float:
    return float(metres / INCH)
