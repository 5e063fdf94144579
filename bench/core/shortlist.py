"""Which sticks of a large rack the cuts are laid out on: a search among thousands would never end.

A rack of up to `MOST` sticks that some part may come from is looked at whole.
"""

from collections.abc import Callable, Collection, Mapping

from bench.core.grading import Candidate

MOST = 300  # sticks that are all looked at
EACH = 40  # sticks for each need where there are more


def shortlist(
    wanted: Mapping[frozenset[str], bool],
    place: Callable[[str], int | None],
    grade: Callable[[int], Candidate],
    begun: Collection[str],
    stay: Collection[str],
) -> frozenset[str]:
    """Tags of the sticks that are looked at.

    What the cuts lie on stays. For each need come first sticks that pieces were sawn from already, then the
    largest; where the best wood is asked for, the best. So no part goes without for want of a stick in the
    list, unless more pieces than `EACH` ask for a stick each.

    Args:
        wanted: the sticks that each need is met by, and whether the best of them are asked for.
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
    for tags, best in wanted.items():
        rows = [(number, grade(number)) for tag in tags if (number := place(tag)) is not None]
        large = [
            (
                not one.stick.parent and one.stick.tag not in begun,
                -one.stick.length.si * one.stick.width.si * one.stick.depth.si,
                number,
                one.stick.tag,
            )
            for number, one in rows
        ]
        found.update(tag for *_, tag in sorted(large)[:EACH])
        if best:
            good = [(-(one.value or 0.0), number, one.stick.tag) for number, one in rows]
            found.update(tag for *_, tag in sorted(good)[:EACH])
    return frozenset(found)
