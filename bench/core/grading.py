"""Which stick may become which part, and why the others may not."""

from collections.abc import Mapping
from fractions import Fraction

from bench.core import ripping
from bench.core.acceptance import ACCEPT, HOLD
from bench.core.frozen import record
from bench.core.records import Part, Stick

# Why no stick may become a part: the first rule that bars the last stick left.
BY_WOOD, BY_VERDICT, BY_SECTION, BY_GRAVITY = "wood", "verdict", "section", "gravity"
RULES = (BY_WOOD, BY_SECTION, BY_VERDICT, BY_GRAVITY)  # in the order in which they are looked at
BY_SIZE = "size"  # the part has no size in the new wood


@record
class Needs:
    """What a part asks of a stick once it has been resized."""

    species: str
    width: Fraction  # finished [m]
    depth: Fraction  # finished [m]
    minimum_sg: float | None  # oven-dry mass on oven-dry volume [1]
    use: str  # what it becomes, a name of limits.USES


@record
class Candidate:
    """What grading looks at in a stick."""

    stick: Stick
    low: float | None  # lower edge of the 95 percent band of its gravity, oven-dry basis [1]
    words: Mapping[str, str]  # by use: accept, hold or reject
    value: float | None = None  # its gravity, oven-dry basis [1]
    section: object = None  # one object for all sticks of one section and finish
    size: float = 0.0  # of the whole stick [m3]


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
    return Needs(species, width, depth, minimum, part.use)


def covers(stick: Stick, width: Fraction, depth: Fraction, planing: Fraction) -> bool:
    """Whether a section can be dressed out of a stick, either way round.

    Args:
        stick: the stock.
        width: finished [m].
        depth: finished [m].
        planing: off each face that is not at its finished size [m].
    Returns:
        True where both sides are large enough.
    Source:
        geometry: derived.
    """
    stock = (stick.width.exact, stick.depth.exact)
    return ripping.strip_width(stock, (width, depth), planing, stick.rough) is not None


def usable(word: str, use_held: bool) -> bool:
    """Whether a verdict lets a stick into the cut list; a rejected one never.

    Args:
        word: on the stick, for the use.
        use_held: whether sticks on hold may be used.
    Returns:
        True for accepted sticks, and for held ones when asked.
    Source:
        our rule.
    """
    return word == ACCEPT or (use_held and word == HOLD)


def level(
    need: Needs, candidate: Candidate, use_held: bool, planing: Fraction = Fraction(0), passed: int = 0
) -> int:
    """How many of the rules a stick passes before one bars it.

    Args:
        need: of the part.
        candidate: the stick.
        use_held: whether sticks on hold may be used.
        planing: off each face that is not at its finished size [m].
        passed: rules that it is known to pass.
    Returns:
        The number; all of RULES where it may become the part.
    Source:
        our rule.
    """
    for number in range(passed, len(RULES)):
        if not _passes(RULES[number], need, candidate, use_held, planing):
            return number
    return len(RULES)


def _passes(why: str, need: Needs, candidate: Candidate, use_held: bool, planing: Fraction) -> bool:
    if why == BY_WOOD:
        return candidate.stick.species == need.species
    if why == BY_SECTION:
        return covers(candidate.stick, need.width, need.depth, planing)
    if why == BY_VERDICT:
        return usable(candidate.words[need.use], use_held)
    return need.minimum_sg is None or (candidate.low is not None and candidate.low >= need.minimum_sg)
