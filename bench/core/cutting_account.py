"""The figures of a cut plan, and why a part is not in it."""

import math
from fractions import Fraction

from bench.core.cutting_records import CutPart, CutPlan, CutProblem, Proof, Span, StickPlan, Unplaced
from bench.core.cutting_whole import Whole


def account(
    problem: CutProblem,
    whole: Whole,
    plans: dict[str, list[StickPlan]],
    missing: dict[str, int],
    proof: Proof,
) -> CutPlan:
    """The plan with its figures.

    Args:
        problem: as given.
        whole: the same in whole numbers.
        plans: rows of each stick with pieces, one for each strip.
        missing: of each line, how many are out.
        proof: what is proved about it.
    """
    zero, least = Fraction(0), problem.rules.least_offcut
    longest = _longest(whole)
    own: dict[int, Fraction] = {}  # by the sticks a part may come from, the longest clear length there [m]
    unplaced = tuple(
        _reason(problem, whole, part, longest, own, missing[part.name])
        for part in problem.parts
        if missing[part.name]
    )
    used = [stick for stick in problem.sticks if stick.tag in plans]
    rows = [row for stick in used for row in plans[stick.tag]]
    offcut, reusable = _offcuts([span for row in rows for span in row.offcuts], least)
    whole_pieces = [length for tag, length in longest.items() if tag not in plans or whole.board(plans[tag])]
    largest = max([offcut, *whole_pieces])
    length = sum((stick.length * len(plans[stick.tag]) for stick in used), zero)
    sawn = whole.metres(sum(whole.rough[piece.part] for row in rows for piece in row.pieces))
    return CutPlan(
        sticks=tuple(rows),
        unplaced=unplaced,
        placed=sum(len(row.pieces) for row in rows),
        unplaced_count=sum(row.quantity for row in unplaced),
        unplaced_critical=sum(row.quantity for row in unplaced if row.critical),
        sticks_used=len({stick.origin or stick.tag for stick in used}),
        sticks_opened=sum(not stick.started for stick in used),
        proof=proof,
        largest_offcut=largest if largest >= least else zero,
        waste=length - sawn - reusable,
        opened_length=length,
    )


def _offcuts(spans: list[Span], least: Fraction) -> tuple[Fraction, Fraction]:
    """The longest of some offcuts, and those of at least a length together; nothing where there are none [m].

    In whole numbers, as a plan has many of them, and sums of fractions take long.
    """
    scale = math.lcm(least.denominator, *{place.denominator for span in spans for place in span})
    units = [
        end.numerator * (scale // end.denominator) - start.numerator * (scale // start.denominator)
        for start, end in spans
    ]
    short = int(least * scale)
    together = sum([length for length in units if length >= short])
    return Fraction(max(units, default=0), scale), Fraction(together, scale)


def _longest(whole: Whole) -> dict[str, Fraction]:
    """Of each stick, its longest clear length [m]."""
    return {
        stick.tag: whole.metres(max((end - start for start, end in spans), default=0))
        for stick, spans in zip(whole.sticks, whole.clear, strict=True)
    }


def _reason(
    problem: CutProblem,
    whole: Whole,
    part: CutPart,
    longest: dict[str, Fraction],
    known: dict[int, Fraction],
    quantity: int,
) -> Unplaced:
    """Why parts of this line are left out; `longest` is the longest clear length of each stick [m].

    `known` keeps the longest by the sticks allowed, as many lines allow the same.
    """
    allowed = whole.able(part)
    if allowed not in known:
        known[allowed] = max(
            (longest[stick.tag] for i, stick in enumerate(whole.sticks) if allowed >> i & 1),
            default=Fraction(0),
        )
    own = known[allowed]
    rough = part.length + problem.rules.squaring
    if not problem.sticks:
        why = "no_sticks"
    elif own >= rough:
        why = "no_room"
    else:
        why = "barred" if max(longest.values()) >= rough else "too_long"
    return Unplaced(part.name, quantity, part.critical, why, own)
