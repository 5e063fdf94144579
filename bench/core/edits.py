"""Every change to a job, each a frozen record with one function: Job -> Job.

`subject` says what an edit is about: a draft is replaced by the next draft with the same subject.
Refused edits raise and leave the job as it was.
"""

from collections import Counter
from dataclasses import dataclass, replace

from bench.core import checking
from bench.core.errors import Clash, UnknownName
from bench.core.records import CutMade, FloatReading, Job, Part, SectionChoice, Settings, Stick


@dataclass(frozen=True, slots=True)
class Edit:
    """Base of all edits."""

    @property
    def subject(self) -> str:
        """What this edit is about, for drafts and the record."""
        return type(self).__name__

    def apply(self, job: Job) -> Job:
        """The job with this change; raises a Refusal where it does not allow it."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class StartJob(Edit):
    """The first edit of every job."""

    name: str
    started: str = ""
    invented: bool = False
    settings: Settings = Settings()

    def apply(self, job: Job) -> Job:
        checking.name("job", self.name)
        checking.settings(self.settings)
        return replace(
            job, name=self.name.strip(), started=self.started, invented=self.invented, settings=self.settings
        )


@dataclass(frozen=True, slots=True)
class PutStick(Edit):
    """A new stick, or with `was` a changed one."""

    stick: Stick
    was: str = ""

    @property
    def subject(self) -> str:
        return f"stick {self.was or self.stick.tag}"

    def apply(self, job: Job) -> Job:
        checking.stick(self.stick)
        others = tuple(stick.tag for stick in job.sticks if stick.tag != self.was)
        checking.unused("tag", self.stick.tag, others)
        if not self.was:
            return replace(job, sticks=(*job.sticks, self.stick))
        before = job.stick(self.was)
        if before is None:
            raise UnknownName("stick", self.was)
        _keep_cuts(job, self.was, self.stick, before)
        return replace(
            job, sticks=tuple(self.stick if stick.tag == self.was else stick for stick in job.sticks)
        )


def _keep_cuts(job: Job, was: str, stick: Stick, before: Stick) -> None:
    """A stick that has been sawn keeps its tag and is never shorter than what was cut from it."""
    cuts = [cut for cut in job.cuts if cut.stick == was]
    if cuts and stick.tag != was:
        raise Clash("tag", was, "parts have been cut from it; its tag stays")
    if cuts and stick.length.exact < max(cut.end for cut in cuts):
        raise Clash("length", stick.length.text, f"parts have been cut from {was} beyond this length")
    if cuts and stick.species != before.species:
        raise Clash("species", stick.species, f"parts have been cut from {was}; undo the cuts first")


@dataclass(frozen=True, slots=True)
class RemoveStick(Edit):
    """A stick leaves the rack; its readings stay in the record."""

    tag: str

    @property
    def subject(self) -> str:
        return f"stick {self.tag}"

    def apply(self, job: Job) -> Job:
        if job.stick(self.tag) is None:
            raise UnknownName("stick", self.tag)
        if any(cut.stick == self.tag for cut in job.cuts):
            raise Clash("stick", self.tag, "parts have been cut from it, so it stays in the list")
        return replace(job, sticks=tuple(stick for stick in job.sticks if stick.tag != self.tag))


@dataclass(frozen=True, slots=True)
class TakeReading(Edit):
    """A float reading of a stick; earlier ones are kept."""

    tag: str
    reading: FloatReading

    @property
    def subject(self) -> str:
        return f"reading {self.tag}"

    def apply(self, job: Job) -> Job:
        stick = job.stick(self.tag)
        if stick is None:
            raise UnknownName("stick", self.tag)
        read = replace(stick, readings=(*stick.readings, self.reading), moisture=self.reading.moisture)
        return replace(job, sticks=tuple(read if other is stick else other for other in job.sticks))


@dataclass(frozen=True, slots=True)
class PutPart(Edit):
    """A new part, or with `was` a changed one."""

    part: Part
    was: str = ""

    @property
    def subject(self) -> str:
        return f"part {self.was or self.part.name}"

    def apply(self, job: Job) -> Job:
        checking.part(self.part)
        others = tuple(part.name for part in job.parts if part.name != self.was)
        checking.unused("part", self.part.name, others)
        if not self.was:
            return replace(job, parts=(*job.parts, self.part))
        before = job.part(self.was)
        if before is None:
            raise UnknownName("part", self.was)
        made = Counter(cut.part for cut in job.cuts)[self.was]
        if made and self.part.name != self.was:
            raise Clash("part", self.was, f"{made} cut already; its name stays")
        if self.part.quantity < made:
            raise Clash("quantity", self.part.quantity, f"{made} cut already")
        return replace(job, parts=tuple(self.part if part.name == self.was else part for part in job.parts))


@dataclass(frozen=True, slots=True)
class RemovePart(Edit):
    """A part leaves the list."""

    name: str

    @property
    def subject(self) -> str:
        return f"part {self.name}"

    def apply(self, job: Job) -> Job:
        if job.part(self.name) is None:
            raise UnknownName("part", self.name)
        if any(cut.part == self.name for cut in job.cuts):
            raise Clash("part", self.name, "some are cut already, so it stays in the list")
        return replace(job, parts=tuple(part for part in job.parts if part.name != self.name))


@dataclass(frozen=True, slots=True)
class ChooseSection(Edit):
    """Which wood stands in, matched by what, for which section."""

    choice: SectionChoice

    def apply(self, job: Job) -> Job:
        checking.section(self.choice)
        return replace(job, section=self.choice)


@dataclass(frozen=True, slots=True)
class ChangeSettings(Edit):
    """The shop's habits."""

    settings: Settings

    def apply(self, job: Job) -> Job:
        checking.settings(self.settings)
        return replace(job, settings=self.settings)


@dataclass(frozen=True, slots=True)
class MarkCut(Edit):
    """A piece has been sawn."""

    cut: CutMade

    @property
    def subject(self) -> str:
        return f"cut {self.cut.part} from {self.cut.stick}"

    def apply(self, job: Job) -> Job:
        part, stick = job.part(self.cut.part), job.stick(self.cut.stick)
        if part is None:
            raise UnknownName("part", self.cut.part)
        if stick is None:
            raise UnknownName("stick", self.cut.stick)
        if not 0 <= self.cut.start < self.cut.end <= stick.length.exact:
            raise Clash("cut", self.cut.part, f"it does not lie on {stick.tag}")
        if any(
            other.stick == stick.tag and other.start < self.cut.end and self.cut.start < other.end
            for other in job.cuts
        ):
            raise Clash("cut", self.cut.part, f"that stretch of {stick.tag} is already cut")
        if Counter(cut.part for cut in job.cuts)[part.name] >= part.quantity:
            raise Clash("cut", part.name, "all of them are cut already")
        return replace(job, cuts=(*job.cuts, self.cut))


EDITS: dict[str, type[Edit]] = {
    kind.__name__: kind
    for kind in (
        StartJob,
        PutStick,
        RemoveStick,
        TakeReading,
        PutPart,
        RemovePart,
        ChooseSection,
        ChangeSettings,
        MarkCut,
    )
}
