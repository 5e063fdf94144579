"""Sentences for the codes of the core. Panes, sheets and the headless face use these and no others."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from bench import units
from bench.core import acceptance as acc
from bench.core import evidence, grading
from bench.core.acceptance import Verdict
from bench.core.evidence import Advice, Standing
from bench.core.floating import FloatResult
from bench.core.records import CutMade
from bench.core.repeats import SPREAD, Agreement
from bench.core.spread import Measured

if TYPE_CHECKING:
    from bench.core.cutting import CutPlan, Unplaced
    from bench.core.strength import Wood

CAUTION = (
    "Resizing or replacing a structural member changes the design. Tenthmark computes and records; approval "
    "belongs to the designer or manufacturer, the airworthiness authority and licensed practice. A figure "
    "here is not an approval. Wood dust, saws and breaking coupons hurt: guard, push stick, eyes, lungs."
)
CAUTION_SHORT = "A changed section is a changed design: designer and authority approve it."

NOT_MEASURED = "--"
BASIS = "oven-dry weight on oven-dry volume"
BASIS_12 = "oven-dry weight on volume at 12 % moisture"

CAPACITY = {
    "weight": "weight",
    "bending": "bending strength",
    "stiffness": "stiffness",
    "column": "column load",
    "compression": "short column",
    "tension": "tension",
    "shear": "shear",
    "bearing": "bearing across",
    "torsion": "twisting stiffness",
    "toughness": "energy to break",
    "all": "weaker in nothing",
    "own": "own set",
}
BASIS_SHORT = "clear straight-grained wood, handbook averages at 12 % moisture"
BASIS_OF_STRENGTH = f"{BASIS_SHORT}; tension taken as modulus of rupture"


def word(verdict: Verdict) -> str:
    """ACCEPT, HOLD or REJECT."""
    return verdict.word.upper()


def reason(code: str, verdict: Verdict, best: Advice | None = None) -> str:
    """One reason of a verdict as a sentence, with its figures.

    Args:
        code: a reason code of acceptance.
        verdict: it belongs to.
        best: the first of evidence.advice, to go with a hold.
    Returns:
        One sentence; says what would settle a hold.
    """
    minimum = units.gravity(verdict.minimum.value) if verdict.minimum else ""
    maximum = units.gravity(verdict.maximum.value) if verdict.maximum else ""
    low = _edge(units.gravity_down, verdict.low, maximum if code == acc.ABOVE_MAXIMUM else minimum)
    high = _edge(units.gravity_up, verdict.high, minimum)
    sentences = {
        acc.ABOVE_MINIMUM: f"by gravity alone: lowest likely {low} (95 %), minimum {minimum}",
        acc.BELOW_MINIMUM: f"highest likely {high} (95 %), below the minimum {minimum}",
        acc.ABOVE_MAXIMUM: f"lowest likely {low} (95 %), above the maximum {maximum}",
        acc.LIMIT_IN_BAND: settle(verdict, best),
        acc.NO_LIMIT: "no published minimum on this basis: "
        "put one with its source into your own species file",
        acc.LIMIT_RECALLED: f"the minimum {minimum} is RECALLED, NOT READ: "
        "find it in print and put it with its source into your own species file",
        acc.LIMIT_OF_TRADE: f"the minimum {minimum} is common practice WITHOUT A PUBLISHED SOURCE",
        acc.SHRINKAGE_RECALLED: "the shrinkage used is RECALLED, NOT READ",
        acc.SHRINKAGE_ESTIMATED: "the shrinkage used is estimated from green gravity (wh282 eq. 4-12)",
        acc.NOT_READ: "not floated yet: read it on the Float pane",
        acc.CANNOT_READ: verdict.detail,
        acc.FACES_DISAGREE: "opposite faces give two different centrelines: read all faces again",
        acc.STRANGE: "far from the species' average: look at species, unit, moisture and reading",
        acc.ANGLE_ODD: "a contact angle above 90 degrees lifts the stick: rare on wood, look again",
        acc.HEAVY_TILT: "it leaned by more than 10 degrees: the faces average it out, but hold it upright",
        acc.RISES: "the later waterlines lie higher out of the water, which no uptake does: "
        "they are left out, read again",
        acc.FAR_LED_BACK: "the line through the later waterlines moves the reading by more than 0.3 marks: "
        "read sooner",
        acc.READINGS_DISAGREE: "a reading of this stick lies apart from its others: float it again, or "
        "set one aside and say why",
        acc.DAY_DISAGREES: "two readings of one day say different things and the later stands: set the wrong "
        "one aside and say why",
        acc.METHODS_DISAGREE: "float test and weight and size differ by more than their errors: "
        "do both again",
        acc.BY_WEIGHT: "judged by weight and size: not floated",
        acc.MOISTURE_OUTSIDE: "moisture is outside 8 to 12 % (anc19 sec. 2.412): "
        "condition the wood before it is made up",
    }
    return sentences[code]


def reasons(verdict: Verdict, best: Advice | None = None) -> tuple[str, ...]:
    """All reasons of a verdict, the deciding one first; the best advice goes with a hold."""
    return tuple(reason(code, verdict, best) for code in verdict.reasons)


def _edge(write: Callable[[float, int], str], value: float | None, limit: str) -> str:
    """An edge of the band, with the digits it takes to stand apart from a limit."""
    return "" if value is None else units.told_apart(lambda places: write(value, places), 3, limit)


def gravity(verdict: Verdict) -> str:
    """The gravity of a verdict, with the digits it takes to stand apart from a limit that it does not equal.

    Args:
        verdict: with a value.
    Returns:
        `0.3598` beside a minimum of 0.360; `--` where nothing was measured.
    """
    return NOT_MEASURED if verdict.value is None else _beside_limits(units.gravity, verdict.value, verdict)


def gravity_short(verdict: Verdict) -> str:
    """The same in three decimals, for a narrow column: on its own side of a limit, `0.359` below 0.360."""
    value, text = verdict.value, gravity(verdict)
    if value is None or len(text) <= len(units.gravity(value)):
        return text
    below = verdict.minimum is not None and value < verdict.minimum.value
    above = verdict.maximum is not None and value > verdict.maximum.value
    return units.gravity_down(value) if below else units.gravity_up(value) if above else units.gravity(value)


def band(verdict: Verdict) -> str:
    """The 95 % band of a verdict, rounded outward, each edge apart from a limit that it does not equal.

    Args:
        verdict: with a band.
    Returns:
        `0.343 to 0.379`; `--` where nothing was measured.
    """
    if verdict.low is None or verdict.high is None:
        return NOT_MEASURED
    low = _beside_limits(units.gravity_down, verdict.low, verdict)
    return f"{low} to {_beside_limits(units.gravity_up, verdict.high, verdict)}"


def _beside_limits(write: Callable[[float, int], str], value: float, verdict: Verdict) -> str:
    usual = write(value, 3)
    for limit in (verdict.minimum, verdict.maximum):
        if limit is not None and limit.value != value and units.gravity(limit.value) == usual:
            return units.told_apart(lambda places: write(value, places), 3, usual)
    return usual


def settle(verdict: Verdict, best: Advice | None = None) -> str:
    """What would take a stick off hold where a limit lies in its band, in numbers.

    Args:
        verdict: of acceptance; its reasons name LIMIT_IN_BAND.
        best: the first of evidence.advice, if there is one.
    Returns:
        One sentence; empty where something else holds the stick.
    """
    found = acc.settling(verdict)
    if found is None or verdict.low is None or verdict.high is None:
        return ""
    said = f"the limit {units.gravity(found.limit.value)} lies within {band(verdict)}: "
    needed = units.told_apart(lambda places: units.gravity_down(found.needed, places), 3, "0")
    said += (
        f"+/- must fall from {units.gravity_up(found.half_width)} to {needed}"
        if float(needed) > 0
        else "no narrower band settles a gravity at the limit itself"
    )
    if found.word == acc.REJECT and float(needed) > 0:
        said += ", which rejects it"
    if found.shift is not None:
        way = "higher" if found.shift > 0 else "lower"
        said += f", or the gravity be {units.gravity_up(abs(found.shift))} {way}"
    return f"{said}; {advised(best)}" if best is not None else said


ADVICE = {
    evidence.THICKER: "float a stick half again as thick and long",
    evidence.OPPOSITE_FACE: "read the opposite face as well",
    evidence.FOUR_FACES: "read all four faces",
    evidence.SOONER: "read it within 30 s",
    evidence.TIMED: "read the first face again after 9 and 36 times as long",
    evidence.OVEN: "find the moisture by drying a cut-off to constant mass",
    evidence.ANGLE: "measure the contact angle and state it",
    evidence.DRY: "bring it to 10 % moisture and repeat",
}


def advised(advice: Advice) -> str:
    """One advice with what it does to the band of one reading."""
    before = units.gravity_up(advice.before)
    after = units.told_apart(lambda places: units.gravity_up(advice.after, places), 3, before)
    return f"{ADVICE[advice.code]}: +/- {before} becomes {after}"


def agreement(found: Agreement) -> str:
    """How the float test and weight and size compare, in one line."""
    word = "agree" if found.agree else "DISAGREE"
    off = units.signed(found.difference, 3)
    beyond = units.told_apart(lambda places: units.gravity_up(found.half_width, places), 3, off.lstrip("+-"))
    return f"float less balance {off}; up to +/- {beyond} is within their errors: they {word}"


def standing(found: Standing, variant: str = "") -> str:
    """Where a gravity lies among sticks of its species, or of its class, marked as the estimate it is."""
    at_large = " of the species at large" if variant and found.average.variant != variant else ""
    average = units.gravity(found.average.value)
    said = f"heavier than about {found.percentile:.0f} % of the species (ESTIMATE: average {average}"
    recalled = {"memory": " RECALLED, NOT READ", "trade": " of the trade", "read": ""}[found.average.standing]
    spread = units.percent(found.cov, 0)
    return f"{said}{recalled}{at_large} on {found.basis} volume, normal law, variation {spread})"


CAUSES = {
    "reading": "reading the waterline",
    "faces": "faces that differ",
    "meniscus": "pull of the water surface",
    "tilt": "lean one face cannot show",
    "soaking": "water drawn in",
    "moisture": "moisture",
    "shrinkage": "shrinkage",
    "water": "temperature of the bath",
    SPREAD: "spread of the readings",
    "mass": "mass on the balance",
    "width": "width",
    "depth": "depth",
    "length": "length",
}


def float_warnings(result: Measured, verdict: Verdict) -> tuple[str, ...]:
    """What a reader of a float or weighing result must be told beside the verdict."""
    said = [reason(code, verdict) for code in verdict.reasons[1:]]
    if verdict.reasons[0] in (acc.LIMIT_RECALLED, acc.NO_LIMIT):
        said.insert(0, reason(verdict.reasons[0], verdict))
    if isinstance(result, FloatResult) and result.angle_deg is None:
        said.append("no correction for the pull of the water surface: the reading stands too high")
    return tuple(said)


BARRED = {
    grading.BY_WOOD: "no stick of its wood",
    grading.BY_SECTION: "no stick of its wood is large enough in section",
    grading.BY_VERDICT: "every stick that would do is rejected or on hold for this use: Inspect says why",
    grading.BY_GRAVITY: "no accepted stick surely reaches its least gravity",
    grading.BY_SIZE: "it has no size in the new wood: see the Section pane",
}


def unplaced(out: Unplaced, barred_by: str, system: str = "in") -> str:
    """Why pieces of a part have no place in the plan."""
    if barred_by in BARRED:
        return BARRED[barred_by]
    if out.why == "no_sticks":
        return "there is no stick in the rack"
    if out.why in ("too_long", "barred") and out.longest:
        own = " it may be cut from" if out.why == "barred" else ""
        return f"longer than any clear length{own} ({units.tape(out.longest, system)} is the longest)"
    return "the sticks that would do are used up"


def all_cut(made: int) -> str:
    """That nothing is left to be cut: `all 59 pieces are cut`."""
    if not made:
        return "no pieces are wanted"
    return "the one piece is cut" if made == 1 else f"all {made} pieces are cut"


def plan_line(plan: CutPlan, pieces: int, made: int = 0) -> str:
    """A cut plan in one line: how much fits, sticks opened against the proved least, and the offcut."""
    if not pieces:
        return all_cut(made)
    done = f"{made} cut, " if made else ""
    if not plan.placed:
        return f"{done}0 of {pieces} fit"
    best = "the least possible" if plan.optimal else f"at least {plan.fewest_possible} needed"
    sticks = f"{plan.sticks_used} stick{'' if plan.sticks_used == 1 else 's'}"
    if not plan.sticks_opened:
        best = f"begun already, {best}"
    elif plan.sticks_opened != plan.sticks_used:  # what is proved is said of the new ones alone
        return f"{done}{plan.placed} of {pieces} fit; {sticks} ({plan.sticks_opened} new, {best})"
    return f"{done}{plan.placed} of {pieces} fit; {sticks}, {best}"


def search_found(before: CutPlan | None, after: CutPlan | None) -> str:
    """What a search that was asked for came to: in what its layout is better, the first that differs."""
    if before is None or after is None:
        return "no better layout was found: it stays as it is"
    better = (
        (after.unplaced_critical < before.unplaced_critical, "more critical pieces have a place"),
        (after.placed > before.placed, "more pieces have a place"),
        (after.sticks_opened < before.sticks_opened, "fewer sticks are opened"),
        (after.largest_offcut > before.largest_offcut, "a longer piece is left"),
        (after.waste < before.waste, "less is wasted"),
    )
    said = next(
        (text for holds, text in better if holds), "denser sticks for critical parts, lesser ones for others"
    )
    return f"a better layout is on show: {said}"


def doubtful(cuts: tuple[CutMade, ...]) -> str:
    """Pieces sawn from what is not accepted now, or with a defect in them; empty where there are none."""
    by_stick: dict[str, list[str]] = {}
    for cut in cuts:
        by_stick.setdefault(cut.stick, []).append(cut.part)
    said = [f"{', '.join(parts)} sawn from {tag}" for tag, parts in by_stick.items()]
    return f"NOT ACCEPTED NOW: {'; '.join(said)}" if said else ""


def outgrown(cuts: tuple[CutMade, ...], system: str = "in") -> str:
    """Pieces that were cut before their part was resized; empty where there are none."""
    sizes = [units.sides(cut.width, cut.depth, system) for cut in cuts if cut.width and cut.depth]
    if not sizes:
        return ""
    one = len(cuts) == 1
    which = "1 piece was" if one else f"{len(cuts)} pieces were"
    return f"{which} cut before the resizing and {'keeps its' if one else 'keep their'} size: " + ", ".join(
        dict.fromkeys(sizes)
    )


def section_warnings(plan: Wood, use: Wood, average_12: float) -> tuple[str, ...]:
    """What must be said beside a section: figures recalled, a stick below its species' average.

    Args:
        plan: the drawing's wood.
        use: the replacement.
        average_12: the replacement species' average on volume at 12 percent [1].
    Returns:
        Sentences, empty where nothing is to be said.
    """
    from bench.core.strength import WITHIN_SPECIES, within_species

    said = []
    for wood in (plan, use):
        if any(figure.memory for figure in wood.figures):
            said.append(f"some figures of {wood.name} are RECALLED, NOT READ")
    if use.measured and not use.estimated and use.gravity_12 < average_12:
        shares = {name: within_species(use.gravity_12, average_12, name) for name in WITHIN_SPECIES}
        said.append(
            f"the stick is lighter than its species' {units.gravity(average_12)} (12 % volume): "
            f"by anc18 table 2-1 about {units.ratio(shares['bending'])} of the bending strength "
            f"and {units.ratio(shares['stiffness'])} of the stiffness shown"
        )
    return tuple(said)
