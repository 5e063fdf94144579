"""The river: a job and the stick in hand -> everything the bench screen shows.

Float -> Section -> Cuts. What did not change since the previous river is not computed again: records are
immutable, so the same object, or an equal key, is the same answer.
"""

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from bench.core import breaks, cutting, grading, laying, sectioning
from bench.core.errors import Refusal
from bench.core.glimpse import Glimpse, doubts_on
from bench.core.judging import Judged, judge
from bench.core.laying import SizedPart
from bench.core.records import (
    CutMade,
    Job,
    Part,
)
from bench.core.sectioning import SectionView, Woods

__all__ = ["River", "SizedPart", "flow"]

TRIED = 4  # layouts of tries that are kept beside the accepted one

# Finished width and depth, and whether they were resized; None: there is no size in the new wood.
Sizes = tuple[Fraction, Fraction, bool | None]


@dataclass(frozen=True, slots=True)
class River(Glimpse):
    """Everything the bench screen shows for one job and one stick in hand."""

    section: SectionView
    parts: tuple[SizedPart, ...]
    problem: cutting.CutProblem
    plan: cutting.CutPlan | None
    doubtful: tuple[CutMade, ...] = ()  # pieces sawn from sticks that are not accepted now
    plan_refusal: Refusal | None = None
    coupons: tuple[breaks.Result, ...] = ()  # what every coupon of the job says
    accepted: "River | None" = None  # the last one of the job as accepted, while something is tried
    tried: tuple["River", ...] = ()  # others that were laid out for the same accepted one, the latest first

    def outgrown(self) -> tuple[CutMade, ...]:
        """Pieces cut to another section than their part has now: they keep it."""
        now = {sized.part.name: (sized.width, sized.depth) for sized in self.parts}
        return tuple(
            cut
            for cut in self.job.cuts
            if cut.width is not None and (cut.width, cut.depth) != now.get(cut.part)
        )

    def judged(self, tag: str) -> Judged | None:
        """A stick of the rack by its tag, or None."""
        return next((judged for judged in self.rack if judged.stick.tag == tag), None)


def flow(job: Job, woods: Woods, tag: str = "", previous: River | None = None, settled: bool = True) -> River:
    """Work out everything the bench screen shows.

    Args:
        job: as accepted, or with a draft applied.
        woods: the library by species key.
        tag: the stick in hand; empty or unknown takes the first.
        previous: the last river, whose answers are kept where nothing they rest on changed.
        settled: False while something is only tried: then the cuts are not laid out anew for a change that
            moves nothing but the order of preference among the sticks.
    Returns:
        The river. Refusals are carried in it, never raised.
    """
    rack = _rack(job, woods, previous)
    hand = next((judged for judged in rack if judged.stick.tag == tag), rack[0] if rack else None)
    owner = sectioning.rests_on(job.section, rack, hand)
    coupons = _coupons(job, previous)
    section = _section(job, woods, owner, coupons, previous, settled)
    same = previous if previous is not None and _same_stock(job, section, rack, previous) else None
    parts = same.parts if same is not None else _parts(job, section, rack, woods, previous)
    problem = same.problem if same is not None and not settled else laying.problem(job, rack, parts)
    if previous is not None and not settled and problem is not previous.problem:
        unranked = laying.unranked
        problem = previous.problem if unranked(problem) == unranked(previous.problem) else problem
    accepted = previous.accepted or previous if previous is not None else None
    tried = () if previous is None or settled else previous.tried
    plan, refusal = _plan(problem, job, previous, accepted, tried, settled)
    found = River(
        job=job,
        tag=hand.stick.tag if hand else "",
        rack=rack,
        hand=hand,
        section=section,
        parts=parts,
        problem=problem,
        plan=plan,
        doubtful=_doubtful(job, rack),
        plan_refusal=refusal,
        coupons=coupons,
        accepted=None if settled else accepted,
        tried=tried,
    )
    if settled or previous is None or plan is previous.plan:
        return found
    # A step back over the same edge finds its layout again.
    return replace(found, tried=(replace(found, accepted=None, tried=()), *tried)[:TRIED])


def _rules(job: Job) -> tuple[object, ...]:
    """What of the settings a stick is judged by."""
    return job.settings.document, job.settings.house, job.settings.least_offcut


def _rack(job: Job, woods: Woods, previous: River | None) -> tuple[Judged, ...]:
    before = {known.stick.tag: known for known in previous.rack} if previous else {}
    rules = _rules(job)
    if previous is not None and _rules(previous.job) != rules:
        before = {}
    rack = []
    for stick in job.sticks:
        known = before.get(stick.tag)
        doubts = doubts_on(stick, job.sticks)
        if known is None or known.stick is not stick or known.doubts != doubts:
            known = judge(stick, woods.get(stick.species), job.settings, doubts, known)
        rack.append(known)
    return tuple(rack)


def _same_stock(job: Job, section: SectionView, rack: tuple[Judged, ...], previous: River) -> bool:
    """Whether the list and its stock are those of the previous river, but for how much a stick is preferred.

    So it is at almost every step on the Float pane: a waterline moves, and no verdict turns.
    """
    was = previous.job
    if section is not previous.section or len(rack) != len(previous.rack):
        return False
    if job.parts is not was.parts or job.cuts is not was.cuts or job.spoilt is not was.spoilt:
        return False
    if job.settings != was.settings:
        return False
    floors = {part.minimum_sg.si for part in job.parts if part.minimum_sg is not None}
    return all(
        now is before or _same_candidate(before, now, floors)
        for before, now in zip(previous.rack, rack, strict=True)
    )


def _same_candidate(before: Judged, now: Judged, floors: Collection[float]) -> bool:
    """Whether a stick is as good for every part as it was: only what was measured on it may differ."""
    old, low, was = before.stick, now.verdict.low, before.verdict.low
    measured = replace(
        now.stick,
        moisture=old.moisture,
        readings=old.readings,
        weighings=old.weighings,
        ovens=old.ovens,
        inspection=old.inspection,
    )
    return (
        measured == old
        and before.words == now.words
        and all((low is not None and low >= floor) == (was is not None and was >= floor) for floor in floors)
    )


def _doubtful(job: Job, rack: tuple[Judged, ...]) -> tuple[CutMade, ...]:
    if not job.cuts:
        return ()
    uses = {part.name: part.use for part in job.parts}
    words = {judged.stick.tag: judged.words for judged in rack}
    return tuple(
        cut for cut in job.cuts if not grading.usable(words[cut.stick][uses[cut.part]], job.settings.use_held)
    )


def _coupons(job: Job, previous: River | None) -> tuple[breaks.Result, ...]:
    """What every coupon says; those that did not change keep their answers."""
    if previous is not None and previous.job.coupons is job.coupons and previous.job.sticks is job.sticks:
        return previous.coupons
    known = {id(found.coupon): found for found in previous.coupons} if previous is not None else {}
    same = previous is not None and previous.job.sticks is job.sticks
    return tuple(
        known[id(coupon)] if same and id(coupon) in known else breaks.result(coupon, job)
        for coupon in job.coupons
    )


def _section(
    job: Job,
    woods: Woods,
    owner: Judged | None,
    coupons: tuple[breaks.Result, ...],
    previous: River | None,
    settled: bool,
) -> SectionView:
    """The section worked out; the previous one where nothing it rests on changed.

    While something is only tried, the last good one stays beside a refusal.
    """
    choice, settings = job.section, job.settings
    old = previous.section if previous else None
    if previous is not None and old is not None and old.asked == choice and owner is old.owner:
        was = previous.job.settings
        stale = settled and old.refusal is not None and old.resized is not None
        same = (was.grid, was.sizes) == (settings.grid, settings.sizes)
        broken = choice.gravity == "coupons" and previous.coupons != coupons
        if same and not stale and not broken:
            return old
    found = sectioning.view(choice, woods, owner, settings, coupons)
    if found.refusal is not None and not settled and old is not None and old.resized is not None:
        return replace(old, asked=choice, refusal=found.refusal, owner=owner)
    return found


def _parts(
    job: Job, section: SectionView, rack: tuple[Judged, ...], woods: Woods, previous: River | None
) -> tuple[SizedPart, ...]:
    made = Counter(cut.part for cut in job.cuts)
    sizes = _sizes(job, section, previous)
    held = [grading.Candidate(judged.stick, judged.verdict.low, judged.words) for judged in rack]
    found: dict[grading.Needs, tuple[frozenset[str], str]] = {}
    sized = []
    for part in job.parts:
        width, depth, resized = sizes[part]
        species = section.choice.use if part.species == section.choice.plan else part.species
        need = grading.needs(part, species, width, depth)
        if resized is None or (part.species == section.choice.plan and section.resized is None):
            # Nobody knows the part's size in the new wood: no stick may become it.
            sticks, why = frozenset[str](), grading.BY_SIZE
        else:
            if need not in found:
                found[need] = grading.eligible(need, held, job.settings.use_held, job.settings.planing.exact)
            sticks, why = found[need]
        sized.append(SizedPart(part, species, width, depth, bool(resized), made[part.name], sticks, why))
    return tuple(sized)


def _sizes(job: Job, section: SectionView, previous: River | None) -> dict[Part, Sizes]:
    """Finished section of each part: resized where it is drawn in the wood that is replaced."""
    before: dict[Part, Sizes] = {}
    if previous is not None and previous.section is section:
        before = {sized.part: (sized.width, sized.depth, sized.resized) for sized in previous.parts}
    choice = section.choice
    replaced = choice.use != choice.plan or bool(section.measured) or bool(section.layers)
    by_section: dict[tuple[Fraction, Fraction], Sizes] = {}
    sizes: dict[Part, Sizes] = {}
    for part in job.parts:
        drawn = (part.width.exact, part.depth.exact)
        if part.species != choice.plan or section.resized is None or not replaced:
            sizes[part] = (*drawn, False)
        elif part in before:
            sizes[part] = before[part]
        else:
            if drawn not in by_section:
                size = sectioning.part_size(section, job.settings, *drawn)
                by_section[drawn] = (*drawn, None) if size is None else (*size, True)
            sizes[part] = by_section[drawn]
    return sizes


def _plan(
    problem: cutting.CutProblem,
    job: Job,
    previous: River | None,
    accepted: River | None,
    before: Sequence[River],
    settled: bool,
) -> tuple[cutting.CutPlan | None, Refusal | None]:
    """The cuts, never worse than what is left of the plan accepted last and, on keeping, of the one tried."""
    tried = () if previous is accepted else (previous,)
    known = [river for river in (*tried, accepted) if river is not None]
    for river in (*known, *before):
        if river.problem == problem and river.job.laid == job.laid:
            return river.plan, river.plan_refusal
    # While trying, only the accepted plan counts: what is shown must not depend on the tries before.
    keep = [river.plan for river in (known if settled else known[-1:]) if river.plan is not None]
    try:
        return laying.arrange(problem, job.laid, keep, job.unlaid, quick=not settled), None
    except Refusal as refusal:
        return None, refusal
