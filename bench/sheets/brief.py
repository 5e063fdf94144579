"""The evidence of a gravity in a few short lines, for the side of the Float pane."""

from bench import units
from bench.core import evidence
from bench.core.errors import Refusal
from bench.core.evidence import advice, standing
from bench.core.judging import Judged
from bench.core.limits import USES
from bench.core.records import Species
from bench.sheets import inspecting

# Each as short as a side of 36 columns asks.
_CAUSE = {"reading": "reading", "meniscus": "water's pull", "soaking": "soaking"}
_ADVICE = {
    evidence.THICKER: "a stick half as thick again",
    evidence.OPPOSITE_FACE: "the opposite face",
    evidence.FOUR_FACES: "all four faces",
    evidence.SOONER: "reading within 30 s",
    evidence.TIMED: "two later readings",
    evidence.OVEN: "moisture by the oven",
    evidence.ANGLE: "the contact angle, measured",
    evidence.DRY: "dried to 10 %, repeated",
}


def uses(judged: Judged) -> tuple[str, ...]:
    """What the stick is good for, and the first thing that keeps it from a use."""
    words = {use: judged.uses[use].word.upper() for use in USES}
    if len(set(words.values())) == 1:
        use, word = next(iter(words.items()))
        why = "" if word == "ACCEPT" else f", {_why(judged, use)}"
        return (f"every use {word}{why}",)
    return tuple(
        f"{inspecting.use_name(use)} {word}{'' if word == 'ACCEPT' else f', {_why(judged, use)}'}"
        for use, word in words.items()
    )


def _why(judged: Judged, use: str) -> str:
    return inspecting.point_name(judged.uses[use].deciding)


def gravity(judged: Judged, species: Species | None) -> tuple[str, ...]:
    """What a gravity rests on: readings together, the balance, place in the species, what would narrow it.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
    Returns:
        Short lines; none where nothing was measured.
    """
    found, stick = judged.found, judged.stick
    if species is None or found.measured is None:
        return ()
    rows = []
    if found.repeats is not None and len(found.repeats.results) > 1 and found.repeats.spread is not None:
        days = len(found.repeats.results)
        rows.append(f"mean of {days} days, spread {units.gravity_up(found.repeats.spread)}")
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
        rows += [f"+/- {units.gravity_up(best.after)} by {_ADVICE[best.code]}" for best in better[:1]]
    return tuple(rows)
