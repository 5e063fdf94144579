"""The river: a job and the stick in hand -> everything the bench screen shows.

Float -> Section -> Cuts. What did not change since the previous river is not computed again: records are
immutable, so the same object, or an equal key, is the same answer.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from bench.core import cutting, evidence, floating, grading, resizing, strength
from bench.core.errors import Missing, Refusal, UnknownName
from bench.core.estimating import Estimate
from bench.core.inspecting import KEPT_IN
from bench.core.judging import Judged, estimated, judge
from bench.core.records import (
    CutMade,
    Defect,
    FloatReading,
    Job,
    Part,
    SectionChoice,
    Species,
)
from bench.core.resizing import Resized, Section
from bench.core.strength import Wood

Woods = Mapping[str, Species]


@dataclass(frozen=True, slots=True)
class SectionView:
    """The section choice worked out, or why it cannot be."""

    choice: SectionChoice
    plan: Wood | None = None
    use: Wood | None = None
    resized: Resized | None = None
    measured: str = ""  # tag of the stick whose own gravity is used
    estimate: Estimate | None = None  # of its strengths, where they are used
    refusal: Refusal | None = None
    owner: Judged | None = None  # the stick it rests on, None for the handbook's average


@dataclass(frozen=True, slots=True)
class SizedPart:
    """A part in the wood it will be made of."""

    part: Part
    species: str
    width: Fraction  # finished, on the shop's grid where resized [m]
    depth: Fraction  # [m]
    resized: bool
    made: int  # pieces cut already
    sticks: frozenset[str]  # tags it may come from
    barred_by: str  # rule that barred the last stick


@dataclass(frozen=True, slots=True)
class River:
    """Everything the bench screen shows for one job and one stick in hand."""

    job: Job
    tag: str
    rack: tuple[Judged, ...]
    hand: Judged | None  # the stick on the Float pane
    section: SectionView
    parts: tuple[SizedPart, ...]
    problem: cutting.CutProblem
    plan: cutting.CutPlan | None
    doubtful: tuple[CutMade, ...] = ()  # pieces sawn from sticks that are not accepted now
    plan_refusal: Refusal | None = None
    accepted: "River | None" = None  # the last one of the job as accepted, while something is tried

    def judged(self, tag: str) -> Judged | None:
        """A stick of the rack by its tag, or None."""
        return next((judged for judged in self.rack if judged.stick.tag == tag), None)


def sure_on(reading: FloatReading, species: Species, variant: str = "") -> float | None:
    """From which mark on a reading like this is sure; None where it cannot be placed.

    Args:
        reading: stick, moisture, bath and faces.
        species: the wood.
        variant: growth region or class.
    Returns:
        Position from the lower end [marks].
    Source:
        as evidence.sure_mark.
    """
    try:
        return evidence.sure_mark(reading, species, variant)
    except Refusal:
        return None


def neighbour(river: River, amount: int) -> str:
    """The tag so many sticks on from the one in hand, round and round.

    Args:
        river: with its rack and the stick in hand.
        amount: how many on; negative goes back.
    Returns:
        A tag; empty where the rack is empty.
    Source:
        the job.
    """
    tags = [judged.stick.tag for judged in river.rack]
    place = tags.index(river.tag) if river.tag in tags else 0
    return tags[(place + amount) % len(tags)] if tags else ""


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
    owner = _rests_on(job.section, rack, hand)
    section = _section(job.section, woods, owner, job.settings.grid.exact, previous)
    parts = _parts(job, section, rack, woods, previous)
    problem = _problem(job, rack, parts)
    if previous is not None and not settled and _unranked(problem) == _unranked(previous.problem):
        problem = previous.problem
    accepted = previous.accepted or previous if previous is not None else None
    plan, refusal = _plan(problem, previous, accepted, settled)
    return River(
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
        accepted=None if settled else accepted,
    )


def _rack(job: Job, woods: Woods, previous: River | None) -> tuple[Judged, ...]:
    before = {known.stick.tag: known for known in previous.rack} if previous else {}
    rules = (job.settings.document, job.settings.house)
    if previous is not None and (previous.job.settings.document, previous.job.settings.house) != rules:
        before = {}
    rack = []
    for stick in job.sticks:
        known = before.get(stick.tag)
        if known is None or known.stick is not stick:
            known = judge(stick, woods.get(stick.species), job.settings)
        rack.append(known)
    return tuple(rack)


def _doubtful(job: Job, rack: tuple[Judged, ...]) -> tuple[CutMade, ...]:
    uses = {part.name: part.use for part in job.parts}
    words = {judged.stick.tag: judged.words for judged in rack}
    return tuple(
        cut for cut in job.cuts if not grading.usable(words[cut.stick][uses[cut.part]], job.settings.use_held)
    )


def mark_on(reading: FloatReading, gravity: float, species: Species, variant: str = "") -> float | None:
    """Where a gravity on the oven-dry basis stands on a float stick; None where it cannot be placed.

    Args:
        reading: stick, moisture and bath.
        gravity: oven-dry mass on oven-dry volume [1].
        species: the wood.
        variant: growth region or class.
    Returns:
        Position from the lower end [marks].
    Source:
        as floating.mark_of.
    """
    try:
        return floating.mark_of(gravity, reading, species, variant)
    except Refusal:
        return None


def _wood(woods: Woods, key: str) -> Species:
    if key not in woods:
        raise UnknownName("species", key)
    return woods[key]


def _rests_on(choice: SectionChoice, rack: tuple[Judged, ...], hand: Judged | None) -> Judged | None:
    """The stick whose gravity the section takes: the one named, else the one in hand; or None."""
    if choice.gravity == "handbook":
        return None
    return (
        next((judged for judged in rack if judged.stick.tag == choice.stick), None) if choice.stick else hand
    )


def _own(choice: SectionChoice, owner: Judged | None, species: Species) -> tuple[Wood, Estimate | None, str]:
    """The new wood as the choice asks for it, what was estimated for it, and whose gravity it has."""
    if choice.gravity == "handbook":
        return strength.of(species), None, ""
    if owner is None or owner.found.measured is None:
        name = owner.stick.tag if owner else choice.stick or "the stick in hand"
        raise Missing("gravity", f"{name} has no reading; read it, or use the handbook's")
    stick, measured = owner.stick, owner.found.measured
    if stick.species != choice.use:
        raise Missing("gravity", f"{stick.tag} is {stick.species}, the section is in {choice.use}")
    if choice.gravity == "stick":
        return strength.of(species, gravity=measured.sg_12), None, stick.tag
    guess = estimated(stick, measured, species, 0.12)
    if not guess.grain_measured:
        raise Missing("grain", f"{stick.tag} needs its slope of grain on two faces before it is estimated")
    return strength.of(species, gravity=measured.sg_12, estimate=guess), guess, stick.tag


def _section(
    choice: SectionChoice, woods: Woods, owner: Judged | None, grid: Fraction, previous: River | None
) -> SectionView:
    old = previous.section if previous else None
    same_grid = previous is not None and previous.job.settings.grid.exact == grid
    if old and old.choice == choice and same_grid and owner is old.owner:
        return old
    try:
        plan = strength.of(_wood(woods, choice.plan))
        use, guess, tag = _own(choice, owner, _wood(woods, choice.use))
        resized = _resize(Section(choice.width.si, choice.depth.si), plan, use, choice, grid)
    except Refusal as refusal:
        return SectionView(choice, refusal=refusal, owner=owner)
    return SectionView(choice, plan, use, resized, tag, guess, owner=owner)


def _resize(plan_section: Section, plan: Wood, use: Wood, choice: SectionChoice, grid: Fraction) -> Resized:
    length = None if choice.free_length is None else choice.free_length.si
    return resizing.resize(plan_section, plan, use, choice.match, choice.hold, length, grid)


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
        if part.species == section.choice.plan and section.resized is None:
            # While the section is refused nobody knows the part's size: no stick may become it.
            sticks, why = frozenset[str](), grading.BY_SIZE
        else:
            if need not in found:
                found[need] = grading.eligible(need, held, job.settings.use_held)
            sticks, why = found[need]
        sized.append(SizedPart(part, species, width, depth, resized, made[part.name], sticks, why))
    return tuple(sized)


def _sizes(
    job: Job, section: SectionView, previous: River | None
) -> dict[Part, tuple[Fraction, Fraction, bool]]:
    """Finished section of each part: resized where it is drawn in the wood that is replaced."""
    before: dict[Part, tuple[Fraction, Fraction, bool]] = {}
    if previous is not None and previous.section is section:
        before = {sized.part: (sized.width, sized.depth, sized.resized) for sized in previous.parts}
    by_section: dict[tuple[Fraction, Fraction], tuple[Fraction, Fraction, bool]] = {}
    sizes = {}
    for part in job.parts:
        plain = (part.width.exact, part.depth.exact, False)
        replaced = section.choice.use != section.choice.plan or bool(section.measured)
        if part.species != section.choice.plan or section.resized is None or not replaced:
            sizes[part] = plain
        elif part in before:
            sizes[part] = before[part]
        else:
            key = plain[:2]
            if key not in by_section:
                by_section[key] = _part_size(job, section, *key)
            sizes[part] = by_section[key]
    return sizes


def _part_size(
    job: Job, section: SectionView, width: Fraction, depth: Fraction
) -> tuple[Fraction, Fraction, bool]:
    assert section.plan is not None and section.use is not None
    plan_section = Section(float(width), float(depth))
    resized = _resize(plan_section, section.plan, section.use, section.choice, job.settings.grid.exact)
    # The held side keeps the drawing's size to the letter: it has to fit something.
    return (
        width if section.choice.hold == "width" else resized.shop[0],
        depth if section.choice.hold == "depth" else resized.shop[1],
        True,
    )


def _spoilt(defect: Defect, margin: Fraction) -> tuple[Fraction, Fraction]:
    low, high = sorted((defect.start.exact, defect.end.exact))
    return low - margin, high + margin


def _problem(job: Job, rack: tuple[Judged, ...], parts: tuple[SizedPart, ...]) -> cutting.CutProblem:
    """What is still to be cut, from what is left of each stick."""
    settings = job.settings
    kerf = settings.kerf.exact
    wanted = frozenset().union(*(sized.sticks for sized in parts)) if parts else frozenset()
    lost: dict[str, list[tuple[Fraction, Fraction]]] = {judged.stick.tag: [] for judged in rack}
    for judged in rack:
        lost[judged.stick.tag] += [
            _spoilt(defect, settings.margin.exact)
            for defect in judged.stick.defects
            if defect.kind not in KEPT_IN
        ]
    for cut in job.cuts:
        # The saw took its kerf on both sides of a piece that is off the stick.
        lost[cut.stick].append((max(Fraction(0), cut.start - kerf), cut.end + kerf))
    return cutting.CutProblem(
        parts=tuple(
            cutting.CutPart(
                name=sized.part.name,
                length=sized.part.length.exact,
                quantity=sized.part.quantity - sized.made,
                critical=sized.part.critical,
                sticks=sized.sticks,
                barred_by=sized.barred_by,
            )
            for sized in parts
            if sized.part.quantity > sized.made
        ),
        sticks=tuple(
            cutting.CutStick(
                tag=judged.stick.tag,
                length=judged.stick.length.exact,
                lost=tuple(lost[judged.stick.tag]),
                rank=_rank(judged),
            )
            for judged in rack
            if judged.stick.tag in wanted
        ),
        rules=cutting.CutRules(
            kerf=kerf,
            end_trim=settings.end_trim.exact,
            margin=Fraction(0),  # in the defects already: a sawn piece asks for none beside it
            squaring=settings.squaring.exact,
            least_offcut=settings.least_offcut.exact,
        ),
    )


def _unranked(problem: cutting.CutProblem) -> cutting.CutProblem:
    return replace(problem, sticks=tuple(replace(stick, rank=0.0) for stick in problem.sticks))


def _rank(judged: Judged) -> float:
    """Quality of a stick in steps of 0.01, so that a hair of a reading does not reshuffle the plan."""
    return round(judged.verdict.value, 2) if judged.verdict.value is not None else 0.0


def _plan(
    problem: cutting.CutProblem, previous: River | None, accepted: River | None, settled: bool
) -> tuple[cutting.CutPlan | None, Refusal | None]:
    """The cuts, never worse than what is left of the plan accepted last and, on keeping, of the one tried."""
    tried = () if previous is accepted else (previous,)
    known = [river for river in (*tried, accepted) if river is not None]
    for river in known:
        if river.problem == problem:
            return river.plan, river.plan_refusal
    # What was only tried is nothing to keep while something else is tried: no try may depend on the tries before.
    keep = [river.plan for river in (known if settled else known[-1:]) if river.plan is not None]
    try:
        return cutting.plan(problem, keep=keep), None
    except Refusal as refusal:
        return None, refusal
