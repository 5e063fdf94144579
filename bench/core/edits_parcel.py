"""Things of another job brought into this one, all of them or none."""

from collections.abc import Iterator

from bench.core import checking
from bench.core.coupon import Coupon
from bench.core.edit import Edit, free_stretch, the_stick
from bench.core.edits_break import PutCoupon
from bench.core.edits_job import ChooseSection, MarkCut, PutPart, PutParts
from bench.core.edits_saw import PutOffer, SpoilPiece
from bench.core.edits_stock import PutStick, PutSticks
from bench.core.frozen import record
from bench.core.records import CutMade, Job, Offer, Part, SectionChoice, Spoilt, Stick


@record
class BringIn(Edit):
    """What was decided on of a parcel; what is named in `over` stands in the place of ours."""

    source: str  # name of the job it comes from
    written: str  # day the parcel was written, ISO
    sticks: tuple[Stick, ...] = ()
    parts: tuple[Part, ...] = ()
    coupons: tuple[Coupon, ...] = ()
    offers: tuple[Offer, ...] = ()
    cuts: tuple[CutMade, ...] = ()  # of parts that are in this job
    spoilt: tuple[Spoilt, ...] = ()  # stretches that are off the sticks: lost, or sawn in the other job
    section: SectionChoice | None = None  # None: ours stays
    over: tuple[str, ...] = ()  # such as "stick A-01"

    @property
    def subject(self) -> str:
        return f"parcel of {self.source}"

    def check(self, job: Job) -> None:
        for edit in self._edits():
            job = edit.apply(job)
        for lost in self.spoilt:  # the part it was sawn for may be in the other job only
            free_stretch(job, the_stick(job, lost.stick), lost.start, lost.end, lost.part)
            checking.length_of_text("why", lost.why)
            job = SpoilPiece(lost).change(job)

    def change(self, job: Job) -> Job:
        for edit in (*self._edits(), *(SpoilPiece(lost) for lost in self.spoilt)):
            job = edit.change(job)
        return job

    def _edits(self) -> Iterator[Edit]:
        """The same as single changes, each built upon the ones before."""
        yield PutSticks(tuple(one for one in self.sticks if not self._over("stick", one.tag)))
        yield PutParts(tuple(one for one in self.parts if not self._over("part", one.name)))
        for stick in self.sticks:
            if self._over("stick", stick.tag):
                yield PutStick(stick, was=stick.tag)
        for part in self.parts:
            if self._over("part", part.name):
                yield PutPart(part, was=part.name)
        for coupon in self.coupons:
            yield PutCoupon(coupon, was=coupon.tag if self._over("coupon", coupon.tag) else "")
        for offer in self.offers:
            yield PutOffer(offer, was=offer.name if self._over("offer", offer.name) else "")
        yield from (MarkCut(cut) for cut in self.cuts)
        if self.section is not None:
            yield ChooseSection(self.section)

    def _over(self, kind: str, name: str) -> bool:
        return f"{kind} {name}" in self.over
