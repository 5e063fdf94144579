"""The river: a job and the stick in hand -> everything the bench screen shows.

Float -> Section -> Cuts. What did not change since the previous river is not computed again: records are
immutable, so the same object, or an equal key, is the same answer.
"""

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import field, fields
from fractions import Fraction
from functools import partial
from operator import attrgetter
from typing import TYPE_CHECKING

from bench.core import cut_problem, cutting, fitting, grading, laying, sectioning
from bench.core.defects import lying_in
from bench.core.errors import Missing, Refusal
from bench.core.fitting import Fits
from bench.core.frozen import record, replace
from bench.core.glimpse import Glimpse
from bench.core.grading import Candidate
from bench.core.judging import Judged
from bench.core.laying import SizedPart
from bench.core.rack import AT_ONCE, Rack
from bench.core.records import CutMade, Job, Stick
from bench.core.sectioning import SectionView, Woods

if TYPE_CHECKING:
    from bench.core import breaks

__all__ = ["River", "SizedPart", "flow"]

TRIED = 4  # layouts of tries that are kept beside the accepted one

# All of a stick but what is measured on it.
_MEASURED = {"moisture", "readings", "weighings", "ovens", "inspection"}
_UNMEASURED = attrgetter(*(value.name for value in fields(Stick) if value.name not in _MEASURED))

# Finished width and depth, and whether they were resized; None: there is no size in the new wood.
Sizes = tuple[Fraction, Fraction, bool | None]


@record
class River(Glimpse):
    """Everything the bench screen shows for one job and one stick in hand."""

    rack: Rack  # all of it, judged as it is looked at
    section: SectionView
    parts: tuple[SizedPart, ...]
    problem: cutting.CutProblem
    plan: cutting.CutPlan | None
    doubtful: tuple[CutMade, ...] = ()  # sawn from what is not accepted now, or with a defect in them
    plan_refusal: Refusal | None = None
    coupons: "tuple[breaks.Result, ...]" = ()  # what every coupon of the job says
    accepted: "River | None" = None  # the last one of the job as accepted, while something is tried
    fits: Fits = field(default_factory=dict)  # which sticks the needs of the parts are met by
    looked_at: frozenset[str] = frozenset()  # tags of the sticks that the cuts are laid out on
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
        place = self.job.place(tag)
        return None if place is None else self.rack[place]


def flow(
    job: Job,
    woods: Woods,
    tag: str = "",
    previous: River | None = None,
    settled: bool = True,
    patient: bool = True,
    anew: bool = False,
) -> River:
    """Work out everything the bench screen shows.

    Args:
        job: as accepted, or with a draft applied.
        woods: the library by species key.
        tag: the stick in hand; empty or unknown takes the first.
        previous: the last river, whose answers are kept where nothing they rest on changed.
        settled: False while something is only tried: then the cuts are not laid out anew for a change that
            moves nothing but the order of preference among the sticks.
        patient: False where somebody waits: then a rack of many sticks that are not judged yet is left so,
            and nothing is laid out until `Rack.look_on` has been through it.
        anew: the cuts are laid out as if there had been no river before.
    Returns:
        The river. Refusals are carried in it, never raised.
    """
    rack = _rack(job, woods, previous)
    if patient or rack.waiting <= AT_ONCE:
        rack.look_on(len(rack))
    place = job.place(tag)
    hand = rack[place or 0] if job.sticks else None
    owner = sectioning.rests_on(job.section, partial(_find, job, rack), hand)
    coupons = _coupons(job, previous)
    section = _section(job, woods, owner, coupons, previous, settled)
    before = None if anew else previous
    accepted = before.accepted or before if before is not None else None
    tried = () if before is None or settled else before.tried
    same = before if before is not None and _same_stock(job, section, rack, before) else None
    parts, fits = (same.parts, same.fits) if same is not None else _parts(job, section, rack, previous)
    looked_at, problem = frozenset[str](), cut_problem.NOTHING
    plan: cutting.CutPlan | None = None
    if rack.waiting:
        refusal: Refusal | None = Missing("cuts", _waiting(rack))
    else:
        looked_at, problem = _problem(job, rack, parts, before, same, settled)
        plan, refusal = _plan(problem, job, before, accepted, tried, settled)
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
        fits=fits,
        looked_at=looked_at,
        tried=tried,
    )
    if settled or before is None or plan is before.plan:
        return found
    # A step back over the same edge finds its layout again.
    return replace(found, tried=(replace(found, accepted=None, tried=()), *tried)[:TRIED])


def _waiting(rack: Rack) -> str:
    return f"{rack.waiting:,} of {len(rack):,} sticks are not judged yet"


def _rack(job: Job, woods: Woods, previous: River | None) -> Rack:
    if previous is not None and previous.rack.serves(job):
        return previous.rack
    return Rack(job, woods, previous.rack if previous is not None else None)


def _find(job: Job, rack: Rack, tag: str) -> Judged | None:
    place = job.place(tag)
    return None if place is None else rack[place]


def _looked_at(
    job: Job, rack: Rack, parts: tuple[SizedPart, ...], previous: River | None, settled: bool
) -> frozenset[str]:
    """The sticks that the cuts are laid out on; as before where no more than gravities changed.

    While a layout is being sawn they follow from the job alone, so that it is the same after a power cut.
    """
    if job.laid:
        stay = frozenset(piece.stick for piece in job.laid)
    else:
        plan = previous.plan if previous is not None else None
        stay = frozenset(row.tag for row in plan.sticks) if plan is not None else frozenset()
    if previous is not None and _same_sticks(rack, previous.rack):
        # What was only tried may have kept more sticks than the job alone says.
        alone = rack is previous.rack and previous.accepted is None
        pairs = zip(parts, previous.parts, strict=False)
        same = len(parts) == len(previous.parts) and all(
            one.sticks is other.sticks and one.part is other.part for one, other in pairs
        )
        follows = alone or not (settled and job.laid)
        if same and follows and job.sawn == previous.job.sawn and job.laid is previous.job.laid:
            return previous.looked_at
    return cut_problem.looked_at(job, rack, parts, stay)


def _same_sticks(rack: Rack, before: Rack) -> bool:
    """Whether two racks hold the same sticks in the same sizes, whatever was measured on them."""
    if rack is before:
        return True
    if rack.changed is None or len(rack) != len(before):
        return False
    pairs = ((before.sticks[place], rack.sticks[place]) for place in rack.changed)
    return all(
        (old.tag, old.length, old.width, old.depth) == (new.tag, new.length, new.width, new.depth)
        for old, new in pairs
    )


def _known(job: Job, rack: Rack, previous: River | None) -> dict[str, cutting.CutStick]:
    """Sticks of the problem before that are as they were."""
    if previous is None or job.settings is not previous.job.settings or job.sawn != previous.job.sawn:
        return {}
    exchanged = ((), ()) if rack is previous.rack else rack.exchanged
    if exchanged is None:
        return {}
    gone = {previous.rack.sticks[place].tag for place in exchanged[0]}
    gone |= {rack.sticks[place].tag for place in exchanged[1]}
    return {stick.tag: stick for stick in previous.problem.sticks if stick.tag not in gone}


def _problem(
    job: Job,
    rack: Rack,
    parts: tuple[SizedPart, ...],
    previous: River | None,
    same: River | None,
    settled: bool,
) -> tuple[frozenset[str], cutting.CutProblem]:
    """The sticks that the cuts are laid out on, and the problem; while trying, as it was if alike."""
    if same is not None and not settled:
        return same.looked_at, same.problem
    tags = _looked_at(job, rack, parts, previous, settled)
    wanted = same.problem.parts if same is not None and tags is same.looked_at else None
    problem = cut_problem.problem(job, rack, parts, tags, _known(job, rack, previous), wanted)
    if previous is not None and not settled and cut_problem.alike(problem, previous.problem):
        problem = previous.problem
    return tags, problem


def _same_stock(job: Job, section: SectionView, rack: Rack, previous: River) -> bool:
    """Whether the list and its stock are those of the previous river, but for how much a stick is preferred.

    So it is at almost every step on the Float pane: a waterline moves, and no verdict turns.
    """
    was = previous.job
    # A river from while the rack was being judged had no stock, though its rack was gone through since.
    if section is not previous.section or rack.waiting or previous.problem is cut_problem.NOTHING:
        return False
    if job.parts is not was.parts or job.cuts is not was.cuts or job.spoilt is not was.spoilt:
        return False
    if job.settings != was.settings or (rack is not previous.rack and rack.changed is None):
        return False
    floors = {part.minimum_sg.si for part in job.parts if part.minimum_sg is not None}
    changed = () if rack is previous.rack else rack.changed or ()
    return all(_same_candidate(previous.rack.grade(n), rack.grade(n), floors) for n in changed)


def _same_candidate(before: Candidate, now: Candidate, floors: Collection[float]) -> bool:
    """Whether a stick is as good for every part as it was: only what was measured on it may differ."""
    low, was = now.low, before.low
    return (
        _UNMEASURED(now.stick) == _UNMEASURED(before.stick)
        and before.words == now.words
        and all((low is not None and low >= floor) == (was is not None and was >= floor) for floor in floors)
    )


def _doubtful(job: Job, rack: Rack) -> tuple[CutMade, ...]:
    if not job.cuts:
        return ()
    uses = {part.name: part.use for part in job.parts}

    def usable(cut: CutMade) -> bool:
        place = job.place(cut.stick)
        assert place is not None, "a stick that was sawn stays in the rack"
        grade = rack.grade(place)
        sound = not lying_in(grade.stick, cut.start, cut.end)
        return sound and grading.usable(grade.words[uses[cut.part]], job.settings.use_held)

    return tuple(cut for cut in job.cuts if not usable(cut))


def _coupons(job: Job, previous: River | None) -> "tuple[breaks.Result, ...]":
    """What every coupon says; those that did not change keep their answers."""
    if not job.coupons:
        return ()
    from bench.core import breaks  # most jobs have none

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
    coupons: "tuple[breaks.Result, ...]",
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
    job: Job, section: SectionView, rack: Rack, previous: River | None
) -> tuple[tuple[SizedPart, ...], Fits]:
    made = Counter(cut.part for cut in job.cuts)
    sizes = _sizes(job, section, previous)
    choice, needs = section.choice, list[grading.Needs | None]()
    alike: dict[tuple[int, str, str, object], grading.Needs] = {}  # one object for parts that need the same
    for part, size in zip(job.parts, sizes, strict=True):
        width, depth, resized = size
        # Where nobody knows a part's size in the new wood no stick may become it.
        known = resized is not None and (part.species != choice.plan or section.resized is not None)
        species = choice.use if part.species == choice.plan else part.species
        key = (id(size), species, part.use, part.minimum_sg)
        if known and key not in alike:
            alike[key] = grading.needs(part, species, width, depth)
        needs.append(alike[key] if known else None)
    asked = _asked(job)
    fits: Fits = {}
    if not rack.waiting:
        same = previous if previous is not None and _asked(previous.job) == asked else None
        before, was = (same.fits, same.rack) if same is not None else (None, None)
        fits = fitting.fits(alike.values(), rack, asked, before, was)
    by_need = {id(need): fits.get(need) for need in alike.values()}  # an exact size is dear to look up
    sized = []
    for part, need, (width, depth, resized) in zip(job.parts, needs, sizes, strict=True):
        fit = by_need[id(need)] if need is not None else None
        sticks, why = (fit.tags, fit.why) if fit is not None else (frozenset[str](), "")
        why = grading.BY_SIZE if need is None else why
        species = choice.use if part.species == choice.plan else part.species
        sized.append(SizedPart(part, species, width, depth, bool(resized), made[part.name], sticks, why))
    return tuple(sized), fits


def _asked(job: Job) -> fitting.Asked:
    return fitting.Asked(job.settings.use_held, job.settings.planing.exact)


def _sizes(job: Job, section: SectionView, previous: River | None) -> list[Sizes]:
    """Finished section of each part: resized where it is drawn in the wood that is replaced."""
    before: dict[int, Sizes] = {}
    if previous is not None and previous.section is section:
        for sized in previous.parts:
            resized = None if sized.barred_by == grading.BY_SIZE else sized.resized
            before[id(sized.part)] = (sized.width, sized.depth, resized)
    choice = section.choice
    replaced = choice.use != choice.plan or bool(section.measured) or bool(section.layers)
    by_section: dict[tuple[int, ...], Sizes] = {}
    sizes: list[Sizes] = []
    for part in job.parts:
        drawn = (part.width.exact, part.depth.exact)
        as_drawn = part.species != choice.plan or section.resized is None or not replaced
        key = (*drawn[0].as_integer_ratio(), *drawn[1].as_integer_ratio(), as_drawn)
        if key not in by_section:
            if as_drawn:
                by_section[key] = (*drawn, False)
            elif id(part) in before:
                by_section[key] = before[id(part)]
            else:
                size = sectioning.part_size(section, job.settings, *drawn)
                by_section[key] = (*drawn, None) if size is None else (*size, True)
        sizes.append(by_section[key])
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
