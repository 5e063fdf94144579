"""A part that is longer than any clear length: by how much, and what scarfing would make of it."""

from fractions import Fraction

from bench.core import cutting, scarfing
from bench.core.cutting_records import CutProblem
from bench.core.frozen import record
from bench.core.laying import SizedPart
from bench.core.records import Part
from bench.core.splitting import Joint

# Taken where the part says none. The steepest for plywood (ac4313 1-52c); for solid wood common practice, no
# source.
CUSTOMARY = Fraction(1, 12)


@record
class Overlong:
    """What is to be said of one."""

    over: Fraction  # what it lacks in the longest clear length, squaring included [m]
    longest: Fraction  # that clear length [m]
    slope: Fraction  # of the scarf [1]
    allowed: bool  # the part allows it
    lengths: int | None  # the fewest, taken from empty sticks; None: all the wood together is too short
    joint: Fraction  # length that one joint takes twice [m]
    total: Fraction  # of all lengths together, finished [m]


def overlong(sized: SizedPart, problem: CutProblem, least: Fraction) -> Overlong | None:
    """What a part that fits nowhere lacks, and the fewest lengths that could be scarfed into it.

    Args:
        sized: the part.
        problem: sticks and rules [m].
        least: shortest length that is glued in [m].
    Returns:
        None where no stick may become it, or one is long enough.
    Source:
        geometry: derived, as scarfing.least_lengths.
    """
    rules = problem.rules
    clear = [
        end - start
        for stick in problem.sticks
        if stick.tag in sized.sticks
        for start, end in cutting.clear_lengths(stick, rules)
    ]
    part = sized.part
    over = part.length.exact + rules.squaring - max(clear, default=Fraction(0))
    if not clear or over <= 0:
        return None
    slope = CUSTOMARY if part.scarf is None else part.scarf.exact
    joint = _joint(part, sized, least)
    lengths = scarfing.least_lengths(part.length.exact, joint, [each - rules.squaring for each in clear])
    total = part.length.exact + ((lengths or 1) - 1) * joint.overlap
    return Overlong(over, max(clear), slope, part.scarf is not None, lengths, joint.overlap, total)


def _joint(part: Part, sized: SizedPart, least: Fraction) -> Joint:
    """Of the part, or the customary one."""
    own = scarfing.joint_of(part, sized.width, sized.depth, least)
    return own or Joint(scarfing.overlap(CUSTOMARY, sized.width, sized.depth, part.scarf_side), least)
