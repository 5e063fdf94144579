"""The stick in hand alone: what can be shown before the rest of the job is worked out."""

from collections.abc import Mapping, Sequence

from bench.core.frozen import record
from bench.core.judging import Judged, judge
from bench.core.records import Job, Species, Stick
from bench.core.sawing import condemned_before


@record
class Glimpse:
    """A job, and of its rack what has been judged so far."""

    job: Job
    tag: str
    rack: Sequence[Judged]
    hand: Judged | None  # the stick on the Float pane


def doubts_on(stick: Stick, job: Job) -> tuple[str, ...]:
    """What a stick was sawn from that is condemned by now, and it was not looked over for since.

    Args:
        stick: of the rack.
        job: with the rack.
    Returns:
        Tags, each with the reason.
    Source:
        the job.
    """
    return tuple(one for one in condemned_before(stick, job.stick) if one not in stick.cleared)


def glimpse(job: Job, woods: Mapping[str, Species], tag: str = "") -> Glimpse:
    """Judge the stick in hand and nothing else.

    Args:
        job: as accepted.
        woods: the library by species key; that of the stick is enough.
        tag: the stick in hand; empty or unknown takes the first.
    Returns:
        The glimpse.
    Source:
        as judging.judge.
    """
    stick = job.stick(tag) or (job.sticks[0] if job.sticks else None)
    if stick is None:
        return Glimpse(job, "", (), None)
    hand = judge(stick, woods.get(stick.species), job.settings, doubts_on(stick, job))
    return Glimpse(job, stick.tag, (hand,), hand)


def neighbour(seen: Glimpse, amount: int) -> str:
    """The tag so many sticks on from the one in hand, round and round.

    Args:
        seen: the rack and the stick in hand.
        amount: how many on; negative goes back.
    Returns:
        A tag; empty where the rack is empty.
    Source:
        the job.
    """
    sticks = seen.job.sticks
    place = seen.job.place(seen.tag) or 0
    return sticks[(place + amount) % len(sticks)].tag if sticks else ""
