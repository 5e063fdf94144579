"""Changes to the coupons: what they are, and what is seen while they are tested."""

from bench.core import checking, checking_coupon
from bench.core.coupon import BEND, DROP, Blow, Coupon, LoadPoint
from bench.core.edit import Edit, the_stick
from bench.core.errors import Clash, UnknownName
from bench.core.frozen import record, replace
from bench.core.records import Job


@record
class PutCoupon(Edit):
    """A new coupon, or with `was` a changed one."""

    coupon: Coupon
    was: str = ""

    @property
    def subject(self) -> str:
        return f"coupon {self.was or self.coupon.tag}"

    def check(self, job: Job) -> None:
        checking_coupon.coupon(self.coupon)
        others = tuple(coupon.tag for coupon in job.coupons if coupon.tag != self.was)
        checking.unused("coupon", self.coupon.tag, others)
        if self.coupon.stick:
            the_stick(job, self.coupon.stick)
        before = the_coupon(job, self.was) if self.was else None
        if before is not None and (before.blows or before.points) and self.coupon.test != before.test:
            seen = "blows" if before.blows else "readings"
            raise Clash("test", self.was, f"it has {seen} of a {before.test} test; take them back first")

    def change(self, job: Job) -> Job:
        if not self.was:
            return replace(job, coupons=(*job.coupons, self.coupon))
        return _with(job, the_coupon(job, self.was), self.coupon)


@record
class RemoveCoupon(Edit):
    """A coupon is taken out; what was seen of it stays in the record."""

    tag: str

    @property
    def subject(self) -> str:
        return f"coupon {self.tag}"

    def check(self, job: Job) -> None:
        coupon = the_coupon(job, self.tag)
        if job.section.gravity == "coupons" and coupon.test == BEND and not coupon.aside:
            why = "the section rests on bending tests: set it aside, or take other figures there first"
            raise Clash("coupon", self.tag, why)

    def change(self, job: Job) -> Job:
        gone = the_coupon(job, self.tag)
        return replace(job, coupons=tuple(coupon for coupon in job.coupons if coupon is not gone))


@record
class Strike(Edit):
    """One more blow on a coupon."""

    tag: str
    blow: Blow

    @property
    def subject(self) -> str:
        return f"coupon {self.tag}"

    def check(self, job: Job) -> None:
        coupon = _tested(job, self.tag, DROP)
        checking_coupon.blow(self.tag, coupon.blows, self.blow)

    def change(self, job: Job) -> Job:
        coupon = the_coupon(job, self.tag)
        return _with(job, coupon, replace(coupon, blows=(*coupon.blows, self.blow)))


@record
class TakeLoad(Edit):
    """One more pair of load and deflection of a coupon being bent."""

    tag: str
    point: LoadPoint

    @property
    def subject(self) -> str:
        return f"coupon {self.tag}"

    def check(self, job: Job) -> None:
        coupon = _tested(job, self.tag, BEND)
        checking_coupon.next_point(self.tag, coupon.points, self.point)
        checking_coupon.coupon(replace(coupon, points=(*coupon.points, self.point)))

    def change(self, job: Job) -> Job:
        coupon = the_coupon(job, self.tag)
        return _with(job, coupon, replace(coupon, points=(*coupon.points, self.point)))


def the_coupon(job: Job, tag: str) -> Coupon:
    """A coupon by its tag; raises UnknownName."""
    coupon = job.coupon(tag)
    if coupon is None:
        raise UnknownName("coupon", tag, tuple(other.tag for other in job.coupons)[:4])
    return coupon


def _tested(job: Job, tag: str, test: str) -> Coupon:
    coupon = the_coupon(job, tag)
    if coupon.test != test:
        raise Clash("coupon", tag, f"it is for a {coupon.test} test, not a {test} test")
    return coupon


def _with(job: Job, before: Coupon, after: Coupon) -> Job:
    return replace(job, coupons=tuple(after if other is before else other for other in job.coupons))
