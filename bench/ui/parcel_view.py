"""The Bring in screen: what is in a parcel of another job, and what is decided where something clashes."""

from collections.abc import Sequence

from textual.binding import Binding

from bench.core import differing, parcels
from bench.core.checking import unused
from bench.core.errors import Refusal
from bench.core.parcels import CLASH, NEW, OURS, RENAMED, SAME, THEIRS, Decision, Item, Parcel
from bench.core.records import Job
from bench.sheets.differing import line as difference_line
from bench.sheets.differing import title, value
from bench.ui.drawing import DIM, TRIED, WRONG
from bench.ui.listing import free_name
from bench.ui.messages import GoTo, Say
from bench.ui.picked import Picked

STATE = {NEW: "new", SAME: "here already", CLASH: "CLASHES"}
DECIDED = {OURS: "ours stays", THEIRS: "theirs comes", RENAMED: "both, as"}


class ParcelView(Picked):
    """Lists a parcel; brings it in when everything is decided, all at once."""

    BINDINGS = [
        Binding("k", "decide('ours')", "Ours", id="parcel.ours", tooltip="What clashes: keep ours"),
        Binding("g", "decide('theirs')", "Theirs", id="parcel.theirs", tooltip="Theirs in place of ours"),
        Binding("n", "rename", "Both", id="parcel.rename", tooltip="Both: theirs under another name"),
        Binding("enter", "bring", "Bring in", id="parcel.bring", tooltip="Bring in what was decided"),
    ]

    def __init__(self) -> None:
        super().__init__(id="parcel")
        self.parcel: Parcel | None = None
        self.decided: dict[tuple[str, str], Decision] = {}
        self._known: tuple[Job, Parcel, tuple[Item, ...]] | None = None

    def show_parcel(self, parcel: Parcel) -> None:
        """Another parcel, nothing decided yet; what clashes first."""
        self.parcel, self.decided, self._known = parcel, {}, None
        self.place = next((n for n, item in enumerate(self._items()) if item.state == CLASH), 0)
        self.redraw()

    def _items(self) -> tuple[Item, ...]:
        if self.parcel is None:
            return ()
        known = self._known
        if known is None or known[0] is not self.accepted or known[1] is not self.parcel:
            found = parcels.items(self.accepted, self.parcel)
            self._known = known = (self.accepted, self.parcel, found)
        return known[2]

    def _here(self) -> Item | None:
        items = self._items()
        return items[min(self.place, len(items) - 1)] if items else None

    def count(self) -> int:
        return len(self._items())

    # --- the picture ---------------------------------------------------------------------------------

    def head(self) -> str:
        if self.parcel is None:
            return "BRING IN"
        items = self._items()
        left = sum(self._undecided(item) for item in items)
        state = f"{left} to decide" if left else "all decided, Enter brings it in"
        parcel = self.parcel
        packed = f"{parcel.what} of {parcel.source}, packed {parcel.written}"
        return f"BRING IN  {state}; {len(items)} things: {packed}"

    def row(self, place: int, width: int) -> Sequence[tuple[str, str]]:
        item = self._items()[place]
        decision = self.decided.get((item.kind, item.name))
        state, style = STATE[item.state], WRONG if item.state == CLASH else DIM
        if item.state == CLASH and decision is not None:
            state, style = f"{DECIDED[decision.what]} {decision.name}".strip(), TRIED
        named = title(item.kind, item.name)
        return ((f"{state:<18} ", style), (named, "bold"), (f"  {value(item.theirs)}", ""))

    def foot(self, width: int) -> Sequence[tuple[str, str]]:
        item = self._here()
        if item is None or item.state == NEW:
            return ()
        found = differing.changed(item.kind, item.name, item.ours, item.theirs)
        said = [(f"ours -> theirs: {difference_line(one)}", "") for one in found[:8]]
        if item.state == CLASH and not said:
            said = [("not the same stretches are sawn off it", "")]
        return said or [("the same in both", DIM)]

    def empty(self) -> str:
        return "No parcel is open. <go.record> goes to the record, <record.bring> there reads one."

    # --- keys ----------------------------------------------------------------------------------------

    def _undecided(self, item: Item) -> bool:
        return item.state == CLASH and (item.kind, item.name) not in self.decided

    def _clash(self) -> Item | None:
        item = self._here()
        if item is None or item.state != CLASH:
            self.post_message(Say("nothing to decide here: it does not clash"))
            return None
        return item

    def action_decide(self, what: str) -> None:
        """Ours, or theirs in its place."""
        item = self._clash()
        if item is not None:
            self._decide(item, Decision(what))

    def action_rename(self) -> None:
        """Both: theirs under another name."""
        item = self._clash()
        if item is None or item.kind == "section":
            return
        taken = self._taken(item.kind)

        def take(text: str) -> None:
            unused(item.kind, text.strip(), taken)
            self._decide(item, Decision(RENAMED, text.strip()))

        self.ask_line(f"theirs, {item.name}, becomes", "a free name", free_name(item.name, taken), take)

    def _taken(self, kind: str) -> tuple[str, ...]:
        """Names that are taken: in this job, in the parcel, and by what was decided."""
        ours = [name for one, name, _ in differing.things(self.accepted) if one == kind]
        theirs = [item.name for item in self._items() if item.kind == kind]
        given = [one.name for (of, _), one in self.decided.items() if of == kind and one.name]
        return (*ours, *theirs, *given)

    def _decide(self, item: Item, decision: Decision) -> None:
        self.decided[item.kind, item.name] = decision
        self.post_message(Say(""))
        items = self._items()
        left = [n for n, one in enumerate(items) if self._undecided(one)]
        if left:
            self.place = next((n for n in left if n > self.place), left[0])
        self.redraw()

    def action_bring(self) -> None:
        """Bring in what was decided: one change, which one undo takes back."""
        parcel, decided = self.parcel, dict(self.decided)
        if parcel is None:
            return
        try:
            self.accept(lambda job: parcels.bring(job, parcel, decided))
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
            return
        self.parcel = None
        self.post_message(GoTo("record"))
        self.post_message(Say(f"{parcel.what} of {parcel.source} brought in; <job.undo> takes all of it out"))
