"""An earlier state of the job: looked at thing by thing, held against now; a single thing can be taken."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from textual.binding import Binding

from bench.core import differing, taking
from bench.core.errors import Refusal
from bench.core.frozen import record
from bench.core.records import Job, Species
from bench.core.river import River, flow
from bench.sheets.differing import line as difference_line
from bench.sheets.differing import title, value
from bench.sheets.tracing import PART, STICK
from bench.ui.between import Between
from bench.ui.drawing import DIM, TRIED
from bench.ui.frame import cuts_line, float_line, section_line
from bench.ui.looking_on import FEW
from bench.ui.messages import Say
from bench.ui.picked import Picked
from bench.ui.read_record import ReadRecord

if TYPE_CHECKING:
    from bench.ui.remembering import Remembering

SAME, OTHER, GONE, LATER = "as now", "DIFFERS", "NOT THERE NOW", "CAME LATER"


@record
class Held:
    """A thing as it was, held against now."""

    kind: str
    name: str
    then: Any  # None: it came later
    now: Any  # None: it is not there now
    state: str


class EarlierView(Picked):
    """Shows what was; taking a thing is an accepted change of today."""

    BINDINGS = [
        Binding("a", "take", "Take", id="earlier.take", tooltip="Take the highlighted thing as it was then"),
        Binding("v", "all", "All, or what differs", id="earlier.all", tooltip="All things, or what differs"),
        Binding("right", "step(1)", "Entry", id="earlier.after", tooltip="The entry after this one"),
        Binding("left", "step(-1)", "Entry", id="earlier.before", tooltip="The entry before", show=False),
    ]

    def __init__(
        self,
        woods: Mapping[str, Species],
        earlier: "Remembering",
        read: ReadRecord,
    ) -> None:
        """Args:
        woods: the library by species key.
        earlier: tells the job as it was.
        read: the record as far as it has been read.
        """
        super().__init__(id="earlier")
        self.woods, self.earlier, self.read = woods, earlier, read
        self.number = 1
        self.all = False
        self._known: tuple[tuple[int, bool], Job, tuple[Held, ...]] | None = None
        self._order = ""  # of which things the order is another one
        self._river: tuple[Job, River] | None = None
        self._judging = Between(self, self._judge, self.redraw)

    def show_after(self, number: int) -> None:
        """The job as it was after so many entries."""
        self.number, self.place, self._known = number, 0, None
        self.redraw()

    # --- the things ----------------------------------------------------------------------------------

    def _ready(self) -> bool:
        """Whether the job as it was is at hand; else it is worked out beside the keys, and then drawn."""
        ready = self.earlier.at_hand(self.number)
        if not ready:
            self.earlier.want(self.number, self.redraw)
        return ready

    def _listed(self) -> tuple[Held, ...]:
        """What there was, and how it stands to what is there now; the same things only if asked for."""
        if not self._ready():
            return ()
        now, known = self.accepted, self._known
        if known is None or known[0] != (self.number, self.all) or known[1] is not now:
            then = self.earlier.job(self.number)
            listed = _compared(then, now) if self.all else _compared(*differing.unlike(then, now))
            shown = tuple(one for one in listed if self.all or one.state != SAME)
            self._known = known = ((self.number, self.all), now, shown)
            self._order = ", ".join(f"{kind}s" for kind in differing.reordered(then, now))
        return known[2]

    def count(self) -> int:
        return len(self._listed())

    def traced(self) -> tuple[str, str] | None:
        listed = self._listed()
        held = listed[min(self.place, len(listed) - 1)] if listed else None
        return (held.kind, held.name) if held and held.kind in (PART, STICK) else super().traced()

    # --- the picture ---------------------------------------------------------------------------------

    def head(self) -> str:
        at = self.read.at(self.number - 1)
        if not self.earlier.at_hand(self.number):
            return f"AS IT WAS AFTER ENTRY {self.number}  {at.replace('T', ' ')}; it is being worked out"
        what = "everything" if self.all else "what is different now"
        return f"AS IT WAS AFTER ENTRY {self.number}  {at.replace('T', ' ')}; {what}, {self.count()} shown"

    def row(self, place: int, width: int) -> Sequence[tuple[str, str]]:
        held = self._listed()[place]
        said = value(held.now if held.then is None else held.then)
        style = DIM if held.state == SAME else TRIED
        return ((f"{held.state:<14}", style), (title(held.kind, held.name), "bold"), (f"  {said}", ""))

    def foot(self, width: int) -> Sequence[tuple[str, str]]:
        if not self._ready():
            return ()
        listed = self._listed()
        said: list[tuple[str, str]] = []
        if listed:
            held = listed[min(self.place, len(listed) - 1)]
            found = differing.changed(held.kind, held.name, held.then, held.now)
            said = [(f"since then: {difference_line(one)}", "") for one in found] or [(held.state, DIM)]
        if self._order:
            said.append((f"since then: another order of {self._order}", ""))
        return [*said, *((f"THEN  {text}", DIM) for text in self._lines())]

    def _lines(self) -> tuple[Any, ...]:
        """Float, Section and Cuts as they were."""
        then, known = self.earlier.job(self.number), self._river
        if known is None or known[0] is not then or (known[1].plan is None and not known[1].rack.waiting):
            # Most sticks are those of the last entry looked at, or of today, and known. Where many are not,
            # they are judged between the keys; until then nothing is laid out.
            before = known[1] if known is not None else self.river
            tag = self.river.tag if self.river is not None else ""
            river = flow(then, dict(self.woods), tag, before, patient=False, anew=True)
            self._river = known = (then, river)
        river = known[1]
        if river.rack.waiting:
            self._judging.go_on()
        return float_line(river), section_line(river), cuts_line(river)

    def _judge(self) -> bool:
        """A few more sticks of the rack as it was; whether any are left."""
        return self._river is not None and bool(self._river[1].rack.look_on(FEW))

    def empty(self) -> str:
        if not self._ready():
            return "What is different now is shown as soon as it is known. <earlier.after> is the next entry."
        but = f" but the order of {self._order}" if self._order else ""
        return (
            f"Nothing is different now{but}. <earlier.all> shows all as it was, left and right other entries."
        )

    # --- keys ----------------------------------------------------------------------------------------

    def action_all(self) -> None:
        """Everything, or only what is different now."""
        self.all = not self.all
        self.place = 0
        self.redraw()

    def action_step(self, amount: int) -> None:
        """An entry earlier or later."""
        number = min(max(1, self.number + amount), len(self.read))
        if number != self.number:
            self.show_after(number)
            self.post_message(Say(f"after entry {number}: {self.read.said(number - 1)}"))

    def action_take(self) -> None:
        """Take the highlighted thing as it was then."""
        listed = self._listed()
        if not listed:
            return
        held = listed[min(self.place, len(listed) - 1)]
        named = title(held.kind, held.name)
        if held.then is None:
            self.post_message(Say(f"{named} came later: there is nothing to take", wrong=True))
            return
        try:
            self.accept(lambda job: taking.take(job, held.kind, held.name, held.then))
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
            return
        self.post_message(Say(f"{named} is as it was after entry {self.number}; <job.undo> undoes it"))


def _compared(then: Job, now: Job) -> tuple[Held, ...]:
    found: list[Held] = []
    here, there = differing.standing(now), differing.standing(then)
    for kind, name, thing in differing.things(then):
        other = here(kind, name, thing)
        state = GONE if other is None else SAME if other is thing or other == thing else OTHER
        found.append(Held(kind, name, thing, other, state))
    for kind, name, thing in differing.things(now):
        if there(kind, name, thing) is None:
            found.append(Held(kind, name, None, thing, LATER))
    return tuple(found)
