"""Which stick may become which part, and why the others may not."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from bench.core.acceptance import ACCEPT, HOLD, Verdict
from bench.core.records import Part, Stick

# Why no stick may become a part: the first rule that bars the last stick left.
BY_WOOD, BY_VERDICT, BY_SECTION, BY_GRAVITY = "wood", "verdict", "section", "gravity"
BY_SIZE = "size"  # the part has no size in the new wood


@dataclass(frozen=True, slots=True)
class Needs:
    """What a part asks of a stick once it has been resized."""

    species: str
    width: Fraction  # finished [m]
    depth: Fraction  # finished [m]
    minimum_sg: float | None  # oven-dry mass on oven-dry volume [1]


def needs(part: Part, species: str, width: Fraction, depth: Fraction) -> Needs:
    """What a part asks of a stick.

    Args:
        part: the line of the list.
        species: the wood it is made of.
        width: finished width in that wood [m].
        depth: finished depth in that wood [m].
    Returns:
        The needs.
    Source:
        the job.
    """
    minimum = None if part.minimum_sg is None else part.minimum_sg.si
    return Needs(species, width, depth, minimum)


def covers(stick: Stick, width: Fraction, depth: Fraction) -> bool:
    """Whether a section can be dressed out of a stick, either way round.

    Args:
        stick: the stock.
        width: finished [m].
        depth: finished [m].
    Returns:
        True where both sides are large enough.
    Source:
        geometry: derived.
    """
    have = sorted((stick.width.exact, stick.depth.exact))
    want = sorted((width, depth))
    return have[0] >= want[0] and have[1] >= want[1]


def usable(verdict: Verdict, use_held: bool) -> bool:
    """Whether a verdict lets a stick into the cut list; a rejected one never.

    Args:
        verdict: of the stick.
        use_held: whether sticks on hold may be used.
    Returns:
        True for accepted sticks, and for held ones when asked.
    Source:
        our rule.
    """
    return verdict.word == ACCEPT or (use_held and verdict.word == HOLD)


def eligible(
    need: Needs, rack: Iterable[tuple[Stick, Verdict]], use_held: bool
) -> tuple[frozenset[str], str]:
    """The sticks a part may come from.

    A least gravity is held against the lower edge of the stick's band, so that uncertainty never passes it.

    Args:
        need: of the part.
        rack: each stick with its verdict; may be empty.
        use_held: whether sticks on hold may be used.
    Returns:
        Tags, and the rule that barred the last stick, empty where some are left.
    Source:
        our rule.
    """
    left = list(rack)
    for why in (BY_WOOD, BY_SECTION, BY_VERDICT, BY_GRAVITY):
        left = [(stick, verdict) for stick, verdict in left if _passes(why, need, stick, verdict, use_held)]
        if not left:
            return frozenset(), why
    return frozenset(stick.tag for stick, _ in left), ""


def _passes(why: str, need: Needs, stick: Stick, verdict: Verdict, use_held: bool) -> bool:
    if why == BY_WOOD:
        return stick.species == need.species
    if why == BY_SECTION:
        return covers(stick, need.width, need.depth)
    if why == BY_VERDICT:
        return usable(verdict, use_held)
    return need.minimum_sg is None or (verdict.low is not None and verdict.low >= need.minimum_sg)
