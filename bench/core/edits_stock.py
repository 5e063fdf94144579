"""Changes to the sticks of the rack: what they are, and what was measured on them."""

from dataclasses import fields

from bench.core import checking, floating, moisture
from bench.core.edit import Edit, the_stick, with_stick
from bench.core.errors import Clash, OutOfRange, UnknownName
from bench.core.frozen import record, replace
from bench.core.rack_places import plain
from bench.core.records import (
    FloatReading,
    Inspection,
    Job,
    OvenTest,
    SectionChoice,
    Stick,
    Typed,
    Weighing,
    with_field,
)
from bench.core.sawing import condemned_before

MEASURED = tuple(field.name for field in fields(Inspection) if field.name != "looked")


@record
class PutStick(Edit):
    """A new stick, or with `was` a changed one."""

    stick: Stick
    was: str = ""

    @property
    def subject(self) -> str:
        return f"stick {self.was or self.stick.tag}"

    def check(self, job: Job) -> None:
        checking.stick(self.stick)
        checking.new_tag(job, self.stick.tag, self.was)
        if self.was:
            self._keep_cuts(job, the_stick(job, self.was))

    def _renamed(self, job: Job) -> SectionChoice:
        """The section goes on resting on the stick under its new tag."""
        rests = self.was and job.section.stick == self.was
        return replace(job.section, stick=self.stick.tag) if rests else job.section

    def _keep_cuts(self, job: Job, before: Stick) -> None:
        """A stick that has been sawn keeps its tag and wood, and is never shorter than what came off it."""
        cuts = [cut for cut in job.sawn if cut.stick == before.tag]
        if not cuts:
            return
        if self.stick.tag != before.tag:
            raise Clash("tag", before.tag, "parts have been cut from it; its tag stays")
        if self.stick.length.exact < max(cut.end for cut in cuts):
            raise Clash("length", self.stick.length.text, f"parts have been cut from {before.tag} beyond it")
        if self.stick.species != before.species:
            raise Clash("species", self.stick.species, f"parts have been cut from {before.tag} as it is")

    def change(self, job: Job) -> Job:
        if not self.was:
            return replace(job, sticks=(*job.sticks, self.stick))
        before = the_stick(job, self.was)
        coupons = tuple(
            replace(coupon, stick=self.stick.tag) if coupon.stick == self.was else coupon
            for coupon in job.coupons
        )
        return replace(with_stick(job, before, self.stick), section=self._renamed(job), coupons=coupons)


@record
class PutSticks(Edit):
    """New sticks off a list, all of them or none."""

    sticks: tuple[Stick, ...]

    def check(self, job: Job) -> None:
        known = set[str]()
        for stick in self.sticks:
            checking.stick(stick)
            checking.new_tag(job, stick.tag, among=known)
            known.add(plain(stick.tag))

    def change(self, job: Job) -> Job:
        return replace(job, sticks=(*job.sticks, *self.sticks))


@record
class RemoveStick(Edit):
    """A stick leaves the rack; its readings stay in the record."""

    tag: str

    @property
    def subject(self) -> str:
        return f"stick {self.tag}"

    def check(self, job: Job) -> None:
        the_stick(job, self.tag)
        if any(cut.stick == self.tag for cut in job.sawn):
            raise Clash("stick", self.tag, "parts have been cut from it, so it stays in the list")
        if job.section.gravity != "handbook" and job.section.stick == self.tag:
            raise Clash("stick", self.tag, "the section rests on its gravity; choose another there first")
        if any(coupon.stick == self.tag for coupon in job.coupons):
            raise Clash("stick", self.tag, "coupons were cut from it, so it stays in the list")

    def change(self, job: Job) -> Job:
        gone = the_stick(job, self.tag)
        return replace(job, sticks=tuple(stick for stick in job.sticks if stick is not gone))


@record
class Inspect(Edit):
    """One thing measured on a stick beside its gravity; nothing else of the stick is touched."""

    tag: str
    what: str  # a field of Inspection
    value: Typed | None  # None: not measured after all

    @property
    def subject(self) -> str:
        return f"{self.what.replace('_', ' ')} of {self.tag}"

    def check(self, job: Job) -> None:
        if self.what not in MEASURED:
            raise UnknownName("measurement", self.what, MEASURED)
        checking.stick(self._inspected(the_stick(job, self.tag)))

    def _inspected(self, stick: Stick) -> Stick:
        return replace(stick, inspection=with_field(stick.inspection, self.what, self.value))

    def change(self, job: Job) -> Job:
        stick = the_stick(job, self.tag)
        return with_stick(job, stick, self._inspected(stick))


@record
class LookOver(Edit):
    """All faces and both ends looked over, everything found is among the defects; or not after all."""

    tag: str
    looked: bool = True

    @property
    def subject(self) -> str:
        return f"look over {self.tag}"

    def check(self, job: Job) -> None:
        the_stick(job, self.tag)

    def change(self, job: Job) -> Job:
        stick = the_stick(job, self.tag)
        inspection = replace(stick.inspection, looked=self.looked)
        # What was sawn from a stick that is condemned by now is on hold until it is looked over for that.
        cleared = condemned_before(stick, job.stick) if self.looked else ()
        return with_stick(job, stick, replace(stick, inspection=inspection, cleared=cleared))


@record
class TakeReading(Edit):
    """A float reading of a stick; earlier ones are kept."""

    tag: str
    reading: FloatReading

    @property
    def subject(self) -> str:
        return f"reading {self.tag}"

    def check(self, job: Job) -> None:
        the_stick(job, self.tag)
        floating.check(self.reading)

    def change(self, job: Job) -> Job:
        stick = the_stick(job, self.tag)
        readings = (*stick.readings, self.reading)
        return with_stick(job, stick, replace(stick, readings=readings, moisture=self.reading.moisture))


@record
class SetAside(Edit):
    """A reading that does not count any more, and why; it stays in the record. Without a reason it counts."""

    tag: str
    number: int  # of the reading, from 0 in the order taken
    why: str

    @property
    def subject(self) -> str:
        return f"reading {self.number + 1} of {self.tag}"

    def check(self, job: Job) -> None:
        stick = the_stick(job, self.tag)
        if not 0 <= self.number < len(stick.readings):
            raise Clash("reading", self.number + 1, f"{self.tag} has {len(stick.readings)}")
        if bool(stick.readings[self.number].aside) == bool(self.why.strip()):
            state = "set aside already" if self.why.strip() else "counted already"
            raise Clash("reading", self.number + 1, f"it is {state}")
        checking.length_of_text("why", self.why)

    def change(self, job: Job) -> Job:
        stick = the_stick(job, self.tag)
        readings = tuple(
            replace(reading, aside=self.why.strip()) if place == self.number else reading
            for place, reading in enumerate(stick.readings)
        )
        return with_stick(job, stick, replace(stick, readings=readings))


@record
class TakeWeighing(Edit):
    """The check of a stick by weight and size; earlier ones are kept."""

    tag: str
    weighing: Weighing

    @property
    def subject(self) -> str:
        return f"weighing {self.tag}"

    def check(self, job: Job) -> None:
        the_stick(job, self.tag)
        checking.weighing(self.weighing)

    def change(self, job: Job) -> Job:
        stick = the_stick(job, self.tag)
        return with_stick(job, stick, replace(stick, weighings=(*stick.weighings, self.weighing)))


@record
class TakeOvenTest(Edit):
    """Moisture of a stick by drying a cut-off; it becomes the stick's moisture."""

    tag: str
    test: OvenTest

    @property
    def subject(self) -> str:
        return f"moisture {self.tag}"

    def check(self, job: Job) -> None:
        the_stick(job, self.tag)
        wet, dry = self.test.wet, self.test.dry
        if moisture.by_oven(wet.si, dry.si) > 2:
            raise OutOfRange("wet mass", wet.si, "0 to 200 % of moisture is possible", wet.text)

    def change(self, job: Job) -> Job:
        stick = the_stick(job, self.tag)
        wet, dry = self.test.wet, self.test.dry
        share = (wet.exact - dry.exact) / dry.exact
        found = Typed(share, f"{float(share) * 100:.2f} %")
        return with_stick(job, stick, replace(stick, ovens=(*stick.ovens, self.test), moisture=found))
