"""What every change to a job is: a frozen record with one function, Job -> Job.

`check` refuses, `change` changes, `apply` does both. A record that is read back is only changed along, never
checked, so a rule that grows stricter keeps no old job from opening. `subject` says what an edit is about: a
draft is replaced by the next draft with the same subject.
"""

from fractions import Fraction

from bench.core.errors import Clash, UnknownName
from bench.core.frozen import record, replace
from bench.core.records import Job, Part, Stick


@record
class Edit:
    """Base of all edits."""

    @property
    def subject(self) -> str:
        """What this edit is about, for drafts and the record."""
        return type(self).__name__

    @property
    def belongs(self) -> bool:
        """Whether it came of the edit before, and is undone and made again with it."""
        return False

    def apply(self, job: Job) -> Job:
        """The job with this change; raises a Refusal where it does not allow it."""
        self.check(job)
        return self.change(job)

    def check(self, job: Job) -> None:
        """Refuse what cannot be. What was accepted once is never checked again: rules may grow stricter."""

    def change(self, job: Job) -> Job:
        """The job with this change, unchecked."""
        raise NotImplementedError


def the_stick(job: Job, tag: str) -> Stick:
    """A stick by its tag; raises UnknownName."""
    stick = job.stick(tag)
    if stick is None:
        raise UnknownName("stick", tag, tuple(other.tag for other in job.sticks)[:4])
    return stick


def with_stick(job: Job, before: Stick, after: Stick) -> Job:
    """The job with one stick in the place of another."""
    place = job.place(before.tag)
    if place is None or job.sticks[place] is not before:
        return replace(job, sticks=tuple(after if stick is before else stick for stick in job.sticks))
    sticks = list(job.sticks)
    sticks[place] = after
    return replace(job, sticks=tuple(sticks))


def the_part(job: Job, name: str) -> Part:
    """A part by its name; raises UnknownName."""
    part = job.part(name)
    if part is None:
        raise UnknownName("part", name, tuple(other.name for other in job.parts)[:4])
    return part


def free_stretch(job: Job, stick: Stick, start: Fraction, end: Fraction, part: str) -> None:
    """Refuse a piece that is not on its stick, or where something was sawn off already; raises Clash."""
    if not 0 <= start < end <= stick.length.exact:
        raise Clash("cut", part, f"it does not lie on {stick.tag}")
    if any(other.stick == stick.tag and other.start < end and start < other.end for other in job.sawn):
        raise Clash("cut", part, f"that stretch of {stick.tag} is already cut")
