"""The evidence of a gravity in a few short lines, for the side of the Float pane."""

from bench import units
from bench.core import evidence
from bench.core.acceptance import ACCEPT
from bench.core.errors import Refusal
from bench.core.evidence import advice, standing
from bench.core.inspecting import Judgement
from bench.core.judging import Judged
from bench.core.limits import USES
from bench.core.records import Species
from bench.core.repeats import SPREAD
from bench.sheets import inspecting

WIDTH = 34  # of every line: the side of the pane cuts what is longer, and half a line may say the opposite
_CAUSE = {"meniscus": "water's pull", SPREAD: "spread"}
_ADVICE = {
    evidence.THICKER: "stick 1.5 x as thick",
    evidence.OPPOSITE_FACE: "opposite face as well",
    evidence.FOUR_FACES: "all four faces",
    evidence.SOONER: "read within 30 s",
    evidence.TIMED: "two later readings",
    evidence.OVEN: "moisture by the oven",
    evidence.ANGLE: "measure contact angle",
    evidence.DRY: "dried to 10 %, again",
}


def uses(judged: Judged) -> tuple[str, ...]:
    """What the stick is good for, the first thing that keeps it from a use, and how much is cut round.

    Args:
        judged: the stick with what was found on it.
    Returns:
        Lines of at most 34 characters; one where all uses say the same. What is cut round of a stick that is
        not accepted is left out where it has no room.
    """
    tails = {use: _tail(judged, use) for use in USES}
    words = {judged.uses[use].word for use in USES}
    if len(words) == 1 and (ACCEPT not in words or len(set(tails.values())) == 1):
        return (_line("every use", tails[USES[0]]),)
    return tuple(_line(inspecting.use_name(use), tail) for use, tail in tails.items())


def cut_round(judgement: Judgement) -> str:
    """How many stretches are cut round, `2 cut round`; empty for none."""
    count = len(judgement.cut_round)
    return f"{count} cut round" if count else ""


def _tail(judged: Judged, use: str) -> tuple[str, str]:
    judgement = judged.uses[use]
    name = inspecting.point_name(judgement.deciding).replace("compression", "compr.")
    why = "" if judgement.word == ACCEPT else f", {name}"
    return f"{judgement.word.upper()}{why}", cut_round(judgement)


def _line(name: str, tail: tuple[str, str]) -> str:
    said, around = f"{name} {tail[0]}", tail[1]
    whole = f"{said}, {around}" if around else said
    return whole if len(whole) <= WIDTH else said


def gravity(judged: Judged, species: Species | None) -> tuple[str, ...]:
    """What a gravity rests on: readings together, the balance, place in the species, what would narrow it.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
    Returns:
        Lines of at most 34 characters; none where nothing was measured.
    """
    found, stick = judged.found, judged.stick
    if species is None or found.measured is None:
        return ()
    rows = []
    if found.repeats is not None and len(found.repeats.results) > 1 and found.repeats.spread is not None:
        count = len(found.repeats.results)
        rows.append(f"mean of {count} readings, spread {units.gravity_up(found.repeats.spread)}")
    if found.agreement is not None:
        word = "agrees" if found.agreement.agree else "DISAGREES"
        rows.append(f"by weight {units.gravity(found.agreement.weighed)}: {word}")
    place = standing(found.measured, species, stick.variant)
    if place is not None:
        rows.append(f"above {place.percentile:.0f} % of its wood (estimate)")
    first = evidence.budget(found.measured)[0]
    rows.append(f"most unsure: {_CAUSE.get(first.name, first.name)}, {first.share_of_variance * 100:.0f} %")
    if found.result is not None and stick.reading is not None:
        try:
            better = advice(stick.reading, species, stick.variant, found.result)
        except Refusal:
            better = ()
        rows += [f"+/- {units.gravity_up(best.after)}: {_ADVICE[best.code]}" for best in better[:1]]
    return tuple(rows)
