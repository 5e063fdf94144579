"""What panes say to the bench screen. Nothing else travels upward."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from textual.message import Message

from bench.core.edits import Edit
from bench.core.records import Job

if TYPE_CHECKING:
    from bench.core.parcels import Parcel


def nothing() -> None:
    """Where nobody waits for an answer."""


class Upward(Message):
    """Base of all: it goes to the screen at once, past the boxes in between, which have no ear for it."""


class Draft(Upward):
    """A change being tried: every pane shows it, nothing keeps it yet.

    `elsewhere` is said where the pane that the change belongs to does not know of it yet.
    """

    def __init__(self, edit: Edit, elsewhere: bool = False) -> None:
        super().__init__()
        self.edit, self.elsewhere = edit, elsewhere


class Accept(Upward):
    """A change accepted: applied, recorded, saved.

    `make` is called with the job as accepted by then, so that a change made a moment before is built upon,
    never overwritten, and nothing that is only tried is accepted with it. `answer` is called when every pane
    shows what came of it.
    """

    def __init__(self, make: Callable[[Job], Edit], answer: Callable[[], None] = nothing) -> None:
        super().__init__()
        self.make, self.answer = make, answer


class Waiting(Upward):
    """Something is being tried that cannot be kept yet, and why."""

    def __init__(self, subject: str, why: str) -> None:
        super().__init__()
        self.subject, self.why = subject, why


class Keep(Upward):
    """Enter on a value: keep what is being tried. `answer` is told whether it was kept."""

    def __init__(self, answer: Callable[[bool], None]) -> None:
        super().__init__()
        self.answer = answer


class Say(Upward):
    """A line for the user; `wrong` marks a refusal."""

    def __init__(self, text: str, wrong: bool = False) -> None:
        super().__init__()
        self.text = text
        self.wrong = wrong


class TakeInHand(Upward):
    """Another stick for the Float pane. `answer` is called when every pane shows it."""

    def __init__(self, tag: str, answer: Callable[[], None] = nothing) -> None:
        super().__init__()
        self.tag, self.answer = tag, answer


class GoToSaw(Upward):
    """Show the Saw screen, at this piece first."""

    def __init__(self, part: str, stick: str, start: Fraction, strip: int) -> None:
        super().__init__()
        self.part, self.stick, self.start, self.strip = part, stick, start, strip


class GoTo(Upward):
    """Show another screen."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name


class GoToTest(Upward):
    """Show the Test screen, with this coupon."""

    def __init__(self, tag: str) -> None:
        super().__init__()
        self.tag = tag


class LookBack(Upward):
    """Show the job as it was after so many entries of its record."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number


class OpenParcel(Upward):
    """Show what is in a parcel of another job."""

    def __init__(self, parcel: Parcel) -> None:
        super().__init__()
        self.parcel = parcel


class Search(Upward):
    """Look for a better layout in the background, or stop looking."""


class DoAction(Upward):
    """Do what an action says, by its id."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name


class ChangeLook(Upward):
    """A preference of the user's, changed at once and kept for every job."""

    def __init__(self, name: str, value: str) -> None:
        super().__init__()
        self.name, self.value = name, value


class WalkThrough(Upward):
    """Show the guided first reading."""
