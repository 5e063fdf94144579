"""Where a part may be split into lengths that are scarfed together: the geometry, nothing of any plan.

Lengths lie one after the other from the start of the part, each reaching over the one before by the overlap.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice, permutations

from bench.core.cutting_records import Span
from bench.core.errors import OutOfRange
from bench.core.frozen import record, replace

FREE, CLEAR = 10, 4  # ways that end where a free stretch does, or any clear length

Lengths = tuple[Fraction, ...]


@record
class Joint:
    """What the joints of a part must be."""

    overlap: Fraction  # length of one [m]
    least: Fraction  # shortest length that is glued in [m]
    barred: tuple[Span, ...] = ()  # stretches of the finished part in which no joint may lie [m]


def overlap(slope: Fraction, width: Fraction, depth: Fraction, side: str) -> Fraction:
    """How long a scarf joint is: the run of its slope over the side that it is cut across.

    Args:
        slope: rise over run [1].
        width: finished section [m].
        depth: finished section [m].
        side: "width" or "depth"; empty: the smaller.
    Returns:
        Length along the stick [m].
    Raises:
        OutOfRange: a slope that is not above zero, another side.
    Source:
        geometry: derived.
    """
    if slope <= 0:
        raise OutOfRange("scarf", slope, "a slope above zero is wanted, say 1:12", str(slope))
    across = {"": min(width, depth), "width": width, "depth": depth}
    if side not in across:
        raise OutOfRange("scarf", side, "across the width or the depth")
    return across[side] / slope


def joins(length: Fraction, lengths: Lengths, joint: Joint) -> bool:
    """Whether lengths make a part with joints as they must be.

    Args:
        length: of the part, finished [m].
        lengths: finished, in order from the start of the part [m].
        joint: its joints.
    Returns:
        True where they reach, none is too short and no joint lies where it is barred.
    Source:
        geometry: derived.
    """
    if sum(lengths) != length + (len(lengths) - 1) * joint.overlap:
        return False
    inner = [each < 2 * joint.overlap for each in lengths[1:-1]]
    if any(inner) or min(lengths) < max(joint.least, joint.overlap):
        return False
    end = Fraction(0)
    for each in lengths[:-1]:
        end += each
        if _joint_end(end, joint) != end:
            return False
        end -= joint.overlap
    return True


def least_lengths(length: Fraction, joint: Joint, free: Sequence[Fraction]) -> int | None:
    """The fewest lengths a part can be made of, where no joint is barred from any place.

    Args:
        length: of the part, finished [m].
        joint: its joints.
        free: what there is, less the squaring of a length [m].
    Returns:
        1 where it fits whole; None where all of it is too short together.
    Source:
        geometry: derived.
    """
    shortest = max(joint.least, joint.overlap)
    reach = Fraction(0)
    for number, each in enumerate(sorted(free, reverse=True), 1):
        if number > 1 and (each < shortest or each <= joint.overlap):
            return None
        reach += each - (joint.overlap if number > 1 else 0)
        if reach >= length:
            return number
    return None


def splits(
    length: Fraction,
    joint: Joint,
    number: int,
    free: Sequence[Fraction],
    clear: Sequence[Fraction],
    beside: Sequence[Fraction],
) -> Iterator[Lengths]:
    """Ways to split a part, the likely ones first, alike ones once.

    In each, all but one length end flush with what there is, or are equal, or the last is as short as may be;
    a joint that would lie where it is barred moves to the nearest place before.

    Args:
        length: of the part, finished [m].
        joint: its joints.
        number: of lengths, 2 or more.
        free: stretches in which nothing lies, less the squaring of a length [m].
        clear: all clear lengths, one at least, less the same [m].
        beside: what of them is left beside some other parts, less the same [m].
    Returns:
        Of each way the lengths, in order from the start of the part [m].
    Source:
        geometry: derived.
    """
    seen = set()
    longest = max(clear)
    mirrored = replace(joint, barred=tuple((length - end, length - start) for start, end in joint.barred))
    for most in _reaches(length + (number - 1) * joint.overlap, number, free, clear, beside):
        for own, step in ((joint, 1), (mirrored, -1)):
            lengths = _laid(length, own, most)
            if lengths and max(lengths) <= longest and tuple(sorted(lengths)) not in seen:
                seen.add(tuple(sorted(lengths)))
                yield lengths[::step]


def _reaches(
    total: Fraction,
    number: int,
    free: Sequence[Fraction],
    clear: Sequence[Fraction],
    beside: Sequence[Fraction],
) -> Iterator[Lengths]:
    """How long each length but the last may be, way after way [m]; `total` is that of all lengths."""
    longest = sorted(clear, reverse=True)[: number - 2]
    rest = (*longest, *(longest[-1:] * (number - 2 - len(longest))))
    yield from _flush(free, number, FREE)
    yield (total / number,) * (number - 1)
    yield (*rest, total)
    yield from _flush(clear, number, CLEAR)
    # The last but one lies beside other parts, and the last comes out of another stretch with least loss.
    reach = sorted({*free, *clear, *beside})
    ends = []
    for each in beside:
        needed = total - sum(rest) - each
        place = bisect_left(reach, needed)
        if place < len(reach):
            ends.append((reach[place] - needed, each))
    yield from ((*rest, each) for _, each in sorted(ends))


def _flush(stock: Sequence[Fraction], number: int, count: int) -> Iterator[Lengths]:
    """Lengths that fill one stretch each, long ones first."""
    several = sorted(stock if number > 2 else set(stock), reverse=True)
    return islice(permutations(several[: count + number], number - 1), count)


def _laid(length: Fraction, joint: Joint, most: Lengths) -> Lengths | None:
    """Lengths of which each but the last is as long as it may be; None where one would be too short [m]."""
    end, middle = max(joint.least, joint.overlap), max(joint.least, 2 * joint.overlap)
    least = [end, *(middle for _ in most[1:]), end]
    start, lengths = Fraction(0), []
    for place, own in enumerate(most):
        after = sum(least[place + 1 :]) - (len(most) - place) * joint.overlap
        stop = _joint_end(min(start + own, length - after), joint)
        if stop - start < least[place]:
            return None
        lengths.append(stop - start)
        start = stop - joint.overlap
    return (*lengths, length - start)


def _joint_end(end: Fraction, joint: Joint) -> Fraction:
    """The last place at or before `end` where a joint may end [m]."""
    for one, other in sorted(map(sorted, joint.barred), reverse=True):
        if one < end and end - joint.overlap < other:
            end = one
    return end
