"""Every change to a job, each a frozen record with one function: Job -> Job.

`check` refuses, `change` changes, `apply` does both. A record that is read back is only changed along, never
checked, so a rule that grows stricter keeps no old job from opening. `subject` says what an edit is about: a
draft is replaced by the next draft with the same subject.
"""

from collections import Counter
from dataclasses import dataclass, replace

from bench.core import checking, floating
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
        self.check(job)
        return self.change(job)

    def check(self, job: Job) -> None:
        """Refuse what cannot be. What was accepted once is never checked again: rules may grow stricter."""

    def change(self, job: Job) -> Job:
        """The job with this change, unchecked."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class StartJob(Edit):
    """The first edit of every job."""

    name: str
    started: str = ""
    invented: bool = False
    settings: Settings = Settings()

    def check(self, job: Job) -> None:
        if job.name:
            raise Clash("job", job.name, "it has been started already")
        checking.name("job", self.name)
        checking.settings(self.settings)

    def change(self, job: Job) -> Job:
        return replace(
            job, name=self.name.strip(), started=self.started, invented=self.invented, settings=self.settings
        )


@dataclass(frozen=True, slots=True)
class NameJob(Edit):
    """The job by another name; its file keeps its own."""

    name: str

    def check(self, job: Job) -> None:
        checking.name("job", self.name)

    def change(self, job: Job) -> Job:
        return replace(job, name=self.name.strip())


def _stick(job: Job, tag: str) -> Stick:
    stick = job.stick(tag)
    if stick is None:
        raise UnknownName("stick", tag, tuple(other.tag for other in job.sticks)[:4])
    return stick


def _part(job: Job, name: str) -> Part:
    part = job.part(name)
    if part is None:
        raise UnknownName("part", name, tuple(other.name for other in job.parts)[:4])
    return part


@dataclass(frozen=True, slots=True)
class PutStick(Edit):
    """A new stick, or with `was` a changed one."""

    stick: Stick
    was: str = ""

    @property
    def subject(self) -> str:
        return f"stick {self.was or self.stick.tag}"

    def check(self, job: Job) -> None:
        checking.stick(self.stick)
        others = tuple(stick.tag for stick in job.sticks if stick.tag != self.was)
        checking.unused("tag", self.stick.tag, others)
        if self.was:
            self._keep_cuts(job, _stick(job, self.was))

    def _renamed(self, job: Job) -> SectionChoice:
        """The section goes on resting on the stick under its new tag."""
        rests = self.was and job.section.stick == self.was
        return replace(job.section, stick=self.stick.tag) if rests else job.section

    def _keep_cuts(self, job: Job, before: Stick) -> None:
        """A stick that has been sawn keeps its tag and wood, and is never shorter than what came off it."""
        cuts = [cut for cut in job.cuts if cut.stick == before.tag]
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
        before = _stick(job, self.was)
        sticks = tuple(self.stick if other is before else other for other in job.sticks)
        return replace(job, sticks=sticks, section=self._renamed(job))


@dataclass(frozen=True, slots=True)
class RemoveStick(Edit):
    """A stick leaves the rack; its readings stay in the record."""

    tag: str

    @property
    def subject(self) -> str:
        return f"stick {self.tag}"

    def check(self, job: Job) -> None:
        _stick(job, self.tag)
        if any(cut.stick == self.tag for cut in job.cuts):
            raise Clash("stick", self.tag, "parts have been cut from it, so it stays in the list")
        if job.section.gravity == "stick" and job.section.stick == self.tag:
            raise Clash("stick", self.tag, "the section rests on its gravity; choose another there first")

    def change(self, job: Job) -> Job:
        gone = _stick(job, self.tag)
        return replace(job, sticks=tuple(stick for stick in job.sticks if stick is not gone))


@dataclass(frozen=True, slots=True)
class TakeReading(Edit):
    """A float reading of a stick; earlier ones are kept."""

    tag: str
    reading: FloatReading

    @property
    def subject(self) -> str:
        return f"reading {self.tag}"

    def check(self, job: Job) -> None:
        _stick(job, self.tag)
        floating.check(self.reading)

    def change(self, job: Job) -> Job:
        stick = _stick(job, self.tag)
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

    def check(self, job: Job) -> None:
        checking.part(self.part)
        others = tuple(part.name for part in job.parts if part.name != self.was)
        checking.unused("part", self.part.name, others)
        if not self.was:
            return
        _part(job, self.was)
        made = Counter(cut.part for cut in job.cuts)[self.was]
        if made and self.part.name != self.was:
            raise Clash("part", self.was, f"{made} cut already; its name stays")
        if self.part.quantity < made:
            raise Clash("quantity", self.part.quantity, f"{made} cut already")

    def change(self, job: Job) -> Job:
        if not self.was:
            return replace(job, parts=(*job.parts, self.part))
        before = _part(job, self.was)
        return replace(job, parts=tuple(self.part if other is before else other for other in job.parts))


@dataclass(frozen=True, slots=True)
class RemovePart(Edit):
    """A part leaves the list."""

    name: str

    @property
    def subject(self) -> str:
        return f"part {self.name}"

    def check(self, job: Job) -> None:
        _part(job, self.name)
        if any(cut.part == self.name for cut in job.cuts):
            raise Clash("part", self.name, "some are cut already, so it stays in the list")

    def change(self, job: Job) -> Job:
        gone = _part(job, self.name)
        return replace(job, parts=tuple(part for part in job.parts if part is not gone))


@dataclass(frozen=True, slots=True)
class ChooseSection(Edit):
    """Which wood stands in, matched by what, for which section."""

    choice: SectionChoice

    def check(self, job: Job) -> None:
        checking.section(self.choice)

    def change(self, job: Job) -> Job:
        return replace(job, section=self.choice)


@dataclass(frozen=True, slots=True)
class ChangeSettings(Edit):
    """The shop's habits."""

    settings: Settings

    def check(self, job: Job) -> None:
        checking.settings(self.settings)

    def change(self, job: Job) -> Job:
        return replace(job, settings=self.settings)


@dataclass(frozen=True, slots=True)
class MarkCut(Edit):
    """A piece has been sawn."""

    cut: CutMade

    @property
    def subject(self) -> str:
        return f"cut {self.cut.part} from {self.cut.stick}"

    def check(self, job: Job) -> None:
        part, stick = _part(job, self.cut.part), _stick(job, self.cut.stick)
        if not 0 <= self.cut.start < self.cut.end <= stick.length.exact:
            raise Clash("cut", self.cut.part, f"it does not lie on {stick.tag}")
        if any(
            other.stick == stick.tag and other.start < self.cut.end and self.cut.start < other.end
            for other in job.cuts
        ):
            raise Clash("cut", self.cut.part, f"that stretch of {stick.tag} is already cut")
        if Counter(cut.part for cut in job.cuts)[part.name] >= part.quantity:
            raise Clash("cut", part.name, "all of them are cut already")

    def change(self, job: Job) -> Job:
        return replace(job, cuts=(*job.cuts, self.cut))


EDITS: dict[str, type[Edit]] = {
    kind.__name__: kind
    for kind in (
        StartJob,
        NameJob,
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
