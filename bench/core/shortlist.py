"""Which sticks of a large rack the cuts are laid out on: a search among thousands would never end.

A rack of up to `MOST` sticks that some part may come from is looked at whole.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from itertools import islice

from bench.core.frozen import record
from bench.core.grading import Candidate

MOST = 300  # sticks that are all looked at
LEAST = 12  # sticks for each need where there are more, begun ones not counted
AMPLE = 4.0  # times the wood of the pieces that these sticks hold at least; no more sticks than pieces


@record
class Wanted:
    """What is to come from the sticks that one need is met by."""

    best: bool  # whether the best of them are asked for
    pieces: int
    wood: float  # of them all [m3]


def shortlist(
    wanted: Mapping[frozenset[str], Wanted],
    place: Callable[[str], int | None],
    grade: Callable[[int], Candidate],
    begun: Collection[str],
    stay: Collection[str],
) -> frozenset[str]:
    """Tags of the sticks that are looked at.

    What the cuts lie on stays. For each need come first sticks that pieces were sawn from already, then the
    largest, until they are ample; where the best wood is asked for, as many of the best. As there may be as
    many as pieces, no part goes without for want of a stick in the list.

    Args:
        wanted: what is to come from the sticks that each need is met by.
        place: where in the rack a stick stands, by its tag.
        grade: the stick at a place.
        begun: tags of sticks that pieces were sawn from.
        stay: tags of sticks that stay.
    Returns:
        Tags; all that are wanted where they are few.
    """
    every = frozenset().union(*wanted)
    if len(every) <= MOST:
        return every
    found = set(every.intersection(stay))
    rows = [(number, grade(number)) for tag in every if (number := place(tag)) is not None]
    large = sorted(
        [
            (not one.stick.parent and one.stick.tag not in begun, -one.size, number, one.stick.tag)
            for number, one in rows
        ]
    )
    good = sorted([(-(one.value or 0.0), number, one.stick.tag) for number, one in rows])
    for tags, own in wanted.items():
        ample = _ample((row for row in large if row[-1] in tags), own)
        found.update(ample)
        if own.best:
            found.update(islice((tag for *_, tag in good if tag in tags), len(ample)))
    return frozenset(found)


def _ample(rows: Iterable[tuple[bool, float, int, str]], wanted: Wanted) -> list[str]:
    """Tags of the first that are ample; of those begun nobody knows what is left, so all of them come in."""
    found, fresh, wood = list[str](), 0, 0.0
    for new, less, _, tag in rows:
        if fresh >= max(LEAST, wanted.pieces) or (fresh >= LEAST and wood >= AMPLE * wanted.wood):
            break
        found.append(tag)
        fresh += new
        wood -= less if new else 0.0
    return found
