"""Things of a job packed to be brought into another, and what has to be decided before they are."""

from collections import Counter
from collections.abc import Callable, Mapping
from typing import Any

from bench.core.coupon import Coupon
from bench.core.edits_parcel import BringIn
from bench.core.errors import Clash, Missing, UnknownName
from bench.core.frozen import record, replace
from bench.core.records import CutMade, Job, Offer, Part, SectionChoice, Spoilt, Stick

NEW, SAME, CLASH = "new", "same", "clash"
WHOLE = "the whole job"
# What may be done with a thing that clashes.
OURS, THEIRS, RENAMED = "ours", "theirs", "renamed"

Called = Callable[[str, str], str]  # kind and name in the parcel -> name in this job


@record
class Parcel:
    """What is moved from one job to another: never the habits of the shop, nor its layout."""

    source: str  # name of the job
    written: str  # day, ISO
    what: str  # "the whole job", or which lot
    sticks: tuple[Stick, ...] = ()
    parts: tuple[Part, ...] = ()
    coupons: tuple[Coupon, ...] = ()
    offers: tuple[Offer, ...] = ()
    cuts: tuple[CutMade, ...] = ()
    spoilt: tuple[Spoilt, ...] = ()
    section: SectionChoice | None = None

    @property
    def sawn(self) -> tuple[CutMade | Spoilt, ...]:
        """Every stretch that is off its stick."""
        return (*self.cuts, *self.spoilt)


@record
class Decision:
    """What is done with one thing that clashes."""

    what: str  # OURS, THEIRS or RENAMED
    name: str = ""  # new name, where renamed


@record
class Item:
    """One thing of a parcel, held against the job it is to come into."""

    kind: str  # "stick", "part", "coupon", "offer" or "section"
    name: str
    theirs: Any
    ours: Any  # None: there is none of that name
    state: str  # NEW, SAME or CLASH


def pack(job: Job, written: str, lot: str = "") -> Parcel:
    """The whole job, or a lot of it.

    Args:
        job: as accepted.
        written: the day, ISO.
        lot: only its sticks, what was sawn off them, and its coupons; empty: everything.
    Returns:
        The parcel.
    Raises:
        UnknownName: no stick or coupon is of that lot.
    Source:
        the job.
    """
    if not lot.strip():
        return Parcel(
            job.name, written, WHOLE,
            job.sticks, job.parts, job.coupons, job.offers, job.cuts, job.spoilt, job.section,
        )  # fmt: skip
    wanted = lot.strip().casefold()
    sticks = tuple(stick for stick in job.sticks if stick.lot.casefold() == wanted)
    tags = {stick.tag for stick in sticks}
    coupons = tuple(one for one in job.coupons if one.stick in tags or one.lot.casefold() == wanted)
    if not sticks and not coupons:
        known = dict.fromkeys(stick.lot for stick in job.sticks if stick.lot)
        raise UnknownName("lot", lot.strip(), tuple(known)[:4])
    # A coupon of the lot may be cut from a stick that is not: it keeps the wood, and names no stick.
    coupons = tuple(one if not one.stick or one.stick in tags else _freed(one, job) for one in coupons)
    return Parcel(
        job.name,
        written,
        f"lot {lot.strip()}",
        sticks,
        coupons=coupons,
        cuts=tuple(cut for cut in job.cuts if cut.stick in tags),
        spoilt=tuple(lost for lost in job.spoilt if lost.stick in tags),
    )


def _freed(coupon: Coupon, job: Job) -> Coupon:
    stick = job.stick(coupon.stick)
    return replace(coupon, stick="", species=stick.species if stick is not None else coupon.species)


def items(job: Job, parcel: Parcel) -> tuple[Item, ...]:
    """What is in a parcel, each thing held against the job.

    Args:
        job: it is to come into.
        parcel: of another one.
    Returns:
        Items; names that differ in letter case only clash as well.
    Source:
        the job.
    """
    found: list[Item] = []
    lists: tuple[tuple[str, tuple[Any, ...], tuple[Any, ...], str], ...] = (
        ("stick", parcel.sticks, job.sticks, "tag"),
        ("part", parcel.parts, job.parts, "name"),
        ("coupon", parcel.coupons, job.coupons, "tag"),
        ("offer", parcel.offers, job.offers, "name"),
    )
    for kind, theirs, ours, naming in lists:
        known = {getattr(one, naming).strip().casefold(): one for one in ours}
        for thing in theirs:
            name = getattr(thing, naming)
            found.append(_item(kind, name, thing, known.get(name.strip().casefold()), parcel, job))
    if parcel.section is not None:
        found.append(_item("section", "", parcel.section, job.section, parcel, job))
    return tuple(found)


def _item(kind: str, name: str, theirs: Any, ours: Any, parcel: Parcel, job: Job) -> Item:
    if ours is None:
        return Item(kind, name, theirs, None, NEW)
    same = theirs == ours
    if kind == "stick":  # the same stick, but more of it is gone there or here
        same = same and _sawn(parcel, name) == _sawn(job, name)
    return Item(kind, name, theirs, ours, SAME if same else CLASH)


def _sawn(owner: Parcel | Job, tag: str) -> set[tuple[Any, Any]]:
    return {(one.start, one.end) for one in owner.sawn if one.stick == tag}


def bring(job: Job, parcel: Parcel, decided: Mapping[tuple[str, str], Decision]) -> BringIn:
    """The edit that brings a parcel in, as it was decided.

    Args:
        job: it comes into.
        parcel: of another job.
        decided: for every item that clashes, by kind and name.
    Returns:
        The edit; the job may still refuse it, as every edit.
    Raises:
        Missing: something clashes and is not decided, with the first of them.
        Clash: there is nothing to bring in.
    Source:
        the job.
    """
    found = items(job, parcel)
    for item in found:
        if item.state == CLASH and (item.kind, item.name) not in decided:
            left = sum(one.state == CLASH and (one.kind, one.name) not in decided for one in found)
            said = f"{item.kind} {item.name}".strip()
            raise Missing("decision", f"{left} to decide yet, first {said}: ours, theirs, or another name")
    wanted = [item for item in found if _wanted(item, decided)]
    if not wanted:
        raise Clash("parcel", parcel.what, "nothing of it is to be brought in: it is all here already")
    return _edit(job, parcel, wanted, _names(found, decided), decided)


def _wanted(item: Item, decided: Mapping[tuple[str, str], Decision]) -> bool:
    if item.state == CLASH:
        return decided[item.kind, item.name].what != OURS
    return item.state == NEW


def _names(
    found: tuple[Item, ...], decided: Mapping[tuple[str, str], Decision]
) -> dict[tuple[str, str], str]:
    """Kind and name in the parcel -> name in this job."""
    names = {}
    for item in found:
        choice = decided.get((item.kind, item.name))
        renamed = item.state == CLASH and choice is not None and choice.what == RENAMED
        names[item.kind, item.name] = choice.name.strip() if renamed and choice is not None else item.name
        if item.ours is not None and not renamed and item.kind != "section":
            names[item.kind, item.name] = getattr(item.ours, "tag", getattr(item.ours, "name", ""))
    return names


def _edit(
    job: Job,
    parcel: Parcel,
    wanted: list[Item],
    names: dict[tuple[str, str], str],
    decided: Mapping[tuple[str, str], Decision],
) -> BringIn:
    def called(kind: str, name: str) -> str:
        return names.get((kind, name), name)

    def of(kind: str) -> list[Any]:
        return [item.theirs for item in wanted if item.kind == kind]

    over = [
        f"{item.kind} {called(item.kind, item.name)}"
        for item in wanted
        if item.state == CLASH and decided[item.kind, item.name].what == THEIRS and item.kind != "section"
    ]
    sticks = [_stick(stick, called) for stick in of("stick")]
    parts = [_part(part, called) for part in of("part")]
    coupons = [
        replace(one, tag=called("coupon", one.tag), stick=called("stick", one.stick)) for one in of("coupon")
    ]
    offers = [replace(one, name=called("offer", one.name)) for one in of("offer")]
    cuts, spoilt = _sawn_off(job, parcel, wanted, called)
    section = next(iter(of("section")), None)
    if section is not None:
        section = replace(section, stick=called("stick", section.stick))
    return BringIn(
        parcel.source, parcel.written, tuple(sticks), tuple(parts), tuple(coupons), tuple(offers),
        tuple(cuts), tuple(spoilt), section, tuple(over),
    )  # fmt: skip


def _stick(stick: Stick, called: Called) -> Stick:
    return replace(
        stick,
        tag=called("stick", stick.tag),
        parent=called("stick", stick.parent),
        sawn_from=tuple(called("stick", tag) for tag in stick.sawn_from),
    )


def _part(part: Part, called: Called) -> Part:
    return replace(part, name=called("part", part.name), piece_of=called("part", part.piece_of))


def _sawn_off(
    job: Job, parcel: Parcel, wanted: list[Item], called: Called
) -> tuple[list[CutMade], list[Spoilt]]:
    """What is off the sticks that come: a cut of a part that is here then, else a stretch that is gone."""
    sticks = {item.name for item in wanted if item.kind == "stick"}
    here = {(one.stick, one.start, one.end) for one in job.sawn}
    room = _room(job, parcel, wanted, called)
    cuts: list[CutMade] = []
    spoilt: list[Spoilt] = []
    for one in parcel.sawn:
        tag = called("stick", one.stick)
        if one.stick not in sticks or (tag, one.start, one.end) in here:
            continue
        if isinstance(one, CutMade) and room[one.part] > 0:
            cuts.append(replace(one, stick=tag, part=called("part", one.part)))
            room[one.part] -= 1
        elif isinstance(one, CutMade):
            why = f"sawn in {parcel.source}"[:80]
            spoilt.append(Spoilt(one.part, tag, one.start, one.end, why))
        else:
            spoilt.append(replace(one, stick=tag))
    return cuts, spoilt


def _room(job: Job, parcel: Parcel, wanted: list[Item], called: Called) -> Counter[str]:
    """How many more pieces of each part of the parcel this job has a use for."""
    coming = {item.name for item in wanted if item.kind == "part"}
    made = Counter(cut.part for cut in job.cuts)
    room = Counter[str]()
    for part in parcel.parts:
        name = called("part", part.name)
        if part.name in coming or job.part(name) == part:
            room[part.name] = part.quantity - made[name]
    return room
