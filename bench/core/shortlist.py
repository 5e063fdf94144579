"""Which sticks of a large rack the cuts are laid out on: a search among thousands would never end.

A rack of up to `MOST` sticks that some part may come from is looked at whole.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from itertools import chain, islice

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


@record
class Ranked:
    """Sticks in the order in which they are taken; kept up as single ones change."""

    tags: frozenset[str] = frozenset()
    # From the largest down: whether it came into the rack as it is, less its size [m3], tag.
    large: tuple[tuple[bool, float, str], ...] = ()
    good: tuple[tuple[float, str], ...] = ()  # from the densest down: less its gravity, tag

    def kept_up(
        self, tags: frozenset[str], changed: Collection[str], grade: Callable[[str], Candidate | None]
    ) -> "Ranked":
        """The same of these sticks.

        Args:
            tags: of the sticks wanted.
            changed: tags of those that may be others than they were.
            grade: a stick by its tag; None where it is gone.
        Returns:
            All of them that are there, in order.
        Source:
            none: bookkeeping.
        """
        changed = tags.intersection(changed)
        gone = (self.tags - tags) | changed
        come = [one for tag in (tags - self.tags) | changed if (one := grade(tag)) is not None]
        large = [row for row in self.large if row[-1] not in gone]
        large += [(not one.stick.parent, -one.size, one.stick.tag) for one in come]
        good = [row for row in self.good if row[-1] not in gone]
        good += [(-(one.value or 0.0), one.stick.tag) for one in come]
        return Ranked(tags, tuple(sorted(large)), tuple(sorted(good)))


def shortlist(
    wanted: Mapping[frozenset[str], Wanted], ranked: Ranked, begun: Collection[str], stay: Collection[str]
) -> frozenset[str]:
    """Tags of the sticks that are looked at.

    What the cuts lie on stays. For each need come first sticks that pieces were sawn from already, then the
    largest, until they are ample; where the best wood is asked for, as many of the best. As there may be as
    many as pieces, no part goes without for want of a stick in the list.

    Args:
        wanted: what is to come from the sticks that each need is met by.
        ranked: all of these sticks.
        begun: tags of sticks that pieces were sawn from.
        stay: tags of sticks that stay.
    Returns:
        Tags.
    Source:
        our rule: a search among thousands would never end.
    """
    found = set(ranked.tags.intersection(stay))
    first = [row for row in ranked.large if not row[0] or row[-1] in begun]
    opened = {tag for *_, tag in first}
    first = sorted([(False, less, tag) for _, less, tag in first])
    for tags, own in wanted.items():
        begun_ones = (row for row in first if row[-1] in tags)
        others = (row for row in ranked.large if row[-1] in tags and row[-1] not in opened)
        ample = _ample(chain(begun_ones, others), own)
        found.update(ample)
        if own.best:
            found.update(islice((tag for _, tag in ranked.good if tag in tags), len(ample)))
    return frozenset(found)


def _ample(rows: Iterable[tuple[bool, float, str]], wanted: Wanted) -> list[str]:
    """Tags of the first that are ample; of those begun nobody knows what is left, so all of them come in."""
    found, fresh, wood = list[str](), 0, 0.0
    for new, less, tag in rows:
        if fresh >= max(LEAST, wanted.pieces) or (fresh >= LEAST and wood >= AMPLE * wanted.wood):
            break
        found.append(tag)
        fresh += new
        wood -= less if new else 0.0
    return found
