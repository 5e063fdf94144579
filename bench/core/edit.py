"""What every change to a job is: a frozen record with one function, Job -> Job.

`check` refuses, `change` changes, `apply` does both. A record that is read back is only changed along, never
checked, so a rule that grows stricter keeps no old job from opening. `subject` says what an edit is about: a
draft is replaced by the next draft with the same subject.
"""

from dataclasses import dataclass, replace

from bench.core.errors import UnknownName
from bench.core.records import Job, Part, Stick


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


def the_stick(job: Job, tag: str) -> Stick:
    """A stick by its tag; raises UnknownName."""
    stick = job.stick(tag)
    if stick is None:
        raise UnknownName("stick", tag, tuple(other.tag for other in job.sticks)[:4])
    return stick


def with_stick(job: Job, before: Stick, after: Stick) -> Job:
    """The job with one stick in the place of another."""
    return replace(job, sticks=tuple(after if stick is before else stick for stick in job.sticks))


def the_part(job: Job, name: str) -> Part:
    """A part by its name; raises UnknownName."""
    part = job.part(name)
    if part is None:
        raise UnknownName("part", name, tuple(other.name for other in job.parts)[:4])
    return part
