"""Changes to the job itself: its name and settings, its parts and section, and the pieces sawn."""

from collections import Counter

from bench.core import checking
from bench.core.edit import Edit, free_stretch, the_part, the_stick
from bench.core.errors import Clash
from bench.core.frozen import record, replace
from bench.core.rack_places import Places
from bench.core.records import CutMade, Job, Part, SectionChoice, Settings, ShopAir
from bench.core.sawing import taken_off


@record
class StartJob(Edit):
    """The first edit of every job."""

    name: str
    started: str = ""
    invented: bool = False
    settings: Settings = Settings()
    section: SectionChoice = SectionChoice()

    def check(self, job: Job) -> None:
        if job.name:
            raise Clash("job", job.name, "it has been started already")
        checking.name("job", self.name)
        checking.settings(self.settings)
        checking.section(self.section)

    def change(self, job: Job) -> Job:
        return replace(
            job,
            name=self.name.strip(),
            started=self.started,
            invented=self.invented,
            settings=self.settings,
            section=self.section,
            places=Places(),  # this job's own
        )


@record
class NameJob(Edit):
    """The job by another name; its file keeps its own."""

    name: str

    def check(self, job: Job) -> None:
        checking.name("job", self.name)

    def change(self, job: Job) -> Job:
        return replace(job, name=self.name.strip())


@record
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
        the_part(job, self.was)
        made = Counter(cut.part for cut in job.cuts)[self.was]
        if made and self.part.name != self.was:
            raise Clash("part", self.was, f"{made} cut already; its name stays")
        if self.part.quantity < made:
            raise Clash("quantity", self.part.quantity, f"{made} cut already")

    def change(self, job: Job) -> Job:
        if not self.was:
            return replace(job, parts=(*job.parts, self.part))
        before = the_part(job, self.was)
        return replace(job, parts=tuple(self.part if other is before else other for other in job.parts))


@record
class PutParts(Edit):
    """New parts off a list, all of them or none."""

    parts: tuple[Part, ...]

    def check(self, job: Job) -> None:
        taken = tuple(part.name for part in job.parts)
        for part in self.parts:
            checking.part(part)
            checking.unused("part", part.name, taken)
            taken = (*taken, part.name)

    def change(self, job: Job) -> Job:
        return replace(job, parts=(*job.parts, *self.parts))


@record
class RemovePart(Edit):
    """A part leaves the list."""

    name: str

    @property
    def subject(self) -> str:
        return f"part {self.name}"

    def check(self, job: Job) -> None:
        the_part(job, self.name)
        if any(cut.part == self.name for cut in job.cuts):
            raise Clash("part", self.name, "some are cut already, so it stays in the list")

    def change(self, job: Job) -> Job:
        gone = the_part(job, self.name)
        return replace(job, parts=tuple(part for part in job.parts if part is not gone))


@record
class ChooseSection(Edit):
    """Which wood stands in, matched by what, for which section."""

    choice: SectionChoice

    def check(self, job: Job) -> None:
        checking.section(self.choice)
        if self.choice.gravity != "handbook" and self.choice.stick:
            the_stick(job, self.choice.stick)

    def change(self, job: Job) -> Job:
        return replace(job, section=self.choice)


@record
class ChangeSettings(Edit):
    """The shop's habits."""

    settings: Settings

    def check(self, job: Job) -> None:
        checking.settings(self.settings)

    def change(self, job: Job) -> Job:
        return replace(job, settings=self.settings)


@record
class ReadAir(Edit):
    """Temperature and humidity of the shop."""

    air: ShopAir

    @property
    def subject(self) -> str:
        return "air"

    def check(self, job: Job) -> None:
        checking.air(self.air)

    def change(self, job: Job) -> Job:
        return replace(job, air=self.air)


@record
class MarkCut(Edit):
    """A piece has been sawn."""

    cut: CutMade

    @property
    def subject(self) -> str:
        return f"cut {self.cut.part} from {self.cut.stick}"

    def check(self, job: Job) -> None:
        part, stick = the_part(job, self.cut.part), the_stick(job, self.cut.stick)
        free_stretch(job, stick, self.cut.start, self.cut.end, self.cut.part)
        if Counter(cut.part for cut in job.cuts)[part.name] >= part.quantity:
            raise Clash("cut", part.name, "all of them are cut already")

    def change(self, job: Job) -> Job:
        cut = self.cut
        laid = taken_off(job.laid, cut.part, cut.stick, cut.start)
        return replace(job, cuts=(*job.cuts, cut), laid=laid)
