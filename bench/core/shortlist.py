"""Which sticks of a large rack the cuts are laid out on: a search among thousands would never end.

A rack of up to `MOST` sticks that some part may come from is looked at whole.
"""

from collections.abc import Collection, Mapping
from heapq import nsmallest

from bench.core.grading import Candidate

MOST = 300  # sticks that are all looked at
EACH = 40  # sticks for each need where there are more


def shortlist(
    wanted: Mapping[frozenset[str], bool],
    candidates: Mapping[str, tuple[int, Candidate]],
    begun: Collection[str],
    stay: Collection[str],
) -> frozenset[str]:
    """Tags of the sticks that are looked at.

    What the cuts lie on stays. For each need come first sticks that pieces were sawn from already, then the
    largest; where the best wood is asked for, the best. So no part goes without for want of a stick in the
    list, unless more pieces than `EACH` ask for a stick each.

    Args:
        wanted: the sticks that each need is met by, and whether the best of them are asked for.
        candidates: every stick by its tag, with its place in the rack.
        begun: tags of sticks that pieces were sawn from.
        stay: tags of sticks that stay.
    Returns:
        Tags; all that are wanted where they are few.
    """
    every = frozenset().union(*wanted)
    if len(every) <= MOST:
        return every
    found = set(every.intersection(stay))
    for tags, best in wanted.items():
        most = min(EACH, len(tags))
        rows = [candidates[tag] for tag in tags]
        found.update(row[1].stick.tag for row in nsmallest(most, rows, key=lambda row: _large(row, begun)))
        if best:
            found.update(row[1].stick.tag for row in nsmallest(most, rows, key=_good))
    return frozenset(found)


def _large(row: tuple[int, Candidate], begun: Collection[str]) -> tuple[bool, float, int]:
    place, candidate = row
    stick = candidate.stick
    sawn = stick.tag in begun or bool(stick.parent)
    return not sawn, -stick.length.si * stick.width.si * stick.depth.si, place


def _good(row: tuple[int, Candidate]) -> tuple[float, int]:
    place, candidate = row
    return -(candidate.value or 0.0), place
