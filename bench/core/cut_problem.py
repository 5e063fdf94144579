"""What is still to be cut, and what is left of each stick it may come from."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from fractions import Fraction

from bench.core import cutting, shortlist
from bench.core.defects import KEPT_IN
from bench.core.frozen import replace
from bench.core.grading import Candidate
from bench.core.laying import SizedPart
from bench.core.rack import Rack
from bench.core.records import CutMade, Defect, Job, Spoilt, Stick

NOTHING = cutting.CutProblem((), (), cutting.CutRules(*[Fraction(0)] * 5))


def _spoilt(defect: Defect, margin: Fraction) -> tuple[Fraction, Fraction]:
    low, high = sorted((defect.start.exact, defect.end.exact))
    return low - margin, high + margin


def problem(
    job: Job,
    rack: Rack,
    parts: Sequence[SizedPart],
    looked_at: Collection[str],
    known: Mapping[str, cutting.CutStick],
    wanted: tuple[cutting.CutPart, ...] | None = None,
) -> cutting.CutProblem:
    """What is still to be cut, from what is left of each stick.

    Args:
        job: with what has been cut.
        rack: its sticks, graded.
        parts: its parts in the wood they will be made of.
        looked_at: tags of the sticks that are looked at, of `looked_at`.
        known: sticks of an earlier problem that are still as they were, by tag.
        wanted: the parts of an earlier problem, where parts and sticks looked at are the same.
    Returns:
        The problem; sticks that no part may come from are left out.
    Source:
        the job.
    """
    settings = job.settings
    sawn: dict[str, list[CutMade | Spoilt]] = {}
    for cut in job.sawn:
        sawn.setdefault(cut.stick, []).append(cut)
    places = sorted(place for tag in looked_at if (place := job.place(tag)) is not None)

    def stock(grade: Candidate) -> cutting.CutStick:
        found = known.get(grade.stick.tag)
        return found if found is not None and found.rank == _rank(grade) else _stock(job, grade, sawn)

    return cutting.CutProblem(
        parts=_all_wanted(parts, frozenset(looked_at)) if wanted is None else wanted,
        sticks=tuple(stock(rack.grade(place)) for place in places),
        rules=cutting.CutRules(
            kerf=settings.kerf.exact,
            end_trim=settings.end_trim.exact,
            margin=Fraction(0),  # in the defects already: a sawn piece asks for none beside it
            squaring=settings.squaring.exact,
            least_offcut=settings.least_offcut.exact,
            rip_kerf=(settings.rip_kerf or settings.kerf).exact,
            edge=settings.edge.exact,
            planing=settings.planing.exact,
        ),
    )


def looked_at(job: Job, rack: Rack, parts: Sequence[SizedPart], stay: Collection[str] = ()) -> frozenset[str]:
    """The sticks that the cuts are laid out on: all that some part may come from; of a large rack, some.

    Args:
        job: with what has been cut.
        rack: its sticks, graded.
        parts: its parts in the wood they will be made of.
        stay: tags of sticks that cuts lie on.
    Returns:
        Tags.
    Source:
        as shortlist.shortlist.
    """
    wanted: dict[frozenset[str], shortlist.Wanted] = {}
    for sized in parts:
        part, left = sized.part, max(0, sized.part.quantity - sized.made)
        wood = left * part.length.si * float(sized.width * sized.depth)
        before = wanted.get(sized.sticks, shortlist.Wanted(False, 0, 0.0))
        best = before.best or part.critical or part.best
        wanted[sized.sticks] = shortlist.Wanted(best, before.pieces + left, before.wood + wood)
    every = frozenset[str]().union(*wanted)
    if len(every) <= shortlist.MOST:
        return every
    return shortlist.shortlist(wanted, rack.ranked(every, job.place), {cut.stick for cut in job.sawn}, stay)


def _stock(job: Job, grade: Candidate, sawn: Mapping[str, Sequence[CutMade | Spoilt]]) -> cutting.CutStick:
    """A stick as the plan sees it; one that pieces were sawn from is never ripped any more."""
    stick, cuts = grade.stick, sawn.get(grade.stick.tag, ())
    return cutting.CutStick(
        tag=stick.tag,
        length=stick.length.exact,
        lost=_lost(job, stick, cuts),
        rank=_rank(grade),
        started=bool(cuts) or bool(stick.lineage),
        width=None if cuts else stick.width.exact,
        depth=None if cuts else stick.depth.exact,
        rough=stick.rough,
        origin=stick.origin,
    )


def _all_wanted(parts: Sequence[SizedPart], looked_at: frozenset[str]) -> tuple[cutting.CutPart, ...]:
    left = [sized for sized in parts if sized.part.quantity > sized.made]
    tags = {sized.sticks: sized.sticks & looked_at for sized in left}
    return tuple(_wanted(sized, tags[sized.sticks]) for sized in left)


def _wanted(sized: SizedPart, sticks: frozenset[str]) -> cutting.CutPart:
    return cutting.CutPart(
        name=sized.part.name,
        length=sized.part.length.exact,
        quantity=sized.part.quantity - sized.made,
        critical=sized.part.critical,
        sticks=sticks,
        barred_by=sized.barred_by,
        wish=sized.part.best,
        width=sized.width,
        depth=sized.depth,
    )


def _lost(job: Job, stick: Stick, sawn: Iterable[CutMade | Spoilt]) -> tuple[cutting.Span, ...]:
    """The stretches of a stick that may not go into a part: defects, and what has been sawn off."""
    kerf = job.settings.kerf.exact
    found = [
        _spoilt(defect, job.settings.margin.exact) for defect in stick.defects if defect.kind not in KEPT_IN
    ]
    # The saw took its kerf on both sides of a piece that is off the stick.
    return (*found, *((max(Fraction(0), cut.start - kerf), cut.end + kerf) for cut in sawn))


def alike(one: cutting.CutProblem, other: cutting.CutProblem) -> bool:
    """Whether two problems are the same but for the order of preference among their sticks.

    Args:
        one: a problem.
        other: another.
    Returns:
        True where they are.
    """
    if (one.parts, one.rules, len(one.sticks)) != (other.parts, other.rules, len(other.sticks)):
        return False
    pairs = zip(one.sticks, other.sticks, strict=True)
    return all(a is b or replace(a, rank=b.rank) == b for a, b in pairs)


def _rank(grade: Candidate) -> float:
    """Quality of a stick in steps of 0.01, so that a hair of a reading does not reshuffle the plan."""
    return round(grade.value, 2) if grade.value is not None else 0.0
