"""The Float pane: the stick with its waterline and its minimum line, the gravity and the verdict."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from textual.binding import Binding
from textual.content import Content

from bench import units
from bench.core import checking
from bench.core.edits import Edit, TakeReading, TakeWeighing
from bench.core.errors import Missing, OutOfRange
from bench.core.floating import angle_of
from bench.core.frozen import replace
from bench.core.placing import mark_on, sure_on
from bench.core.records import FloatReading, Species
from bench.ui import float_drawing, float_values
from bench.ui.drawing import beside, line, stack, window
from bench.ui.empty import NO_STICK, empty
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.float_draft import FloatDraft, start
from bench.ui.float_drawing import Scene
from bench.ui.keys import keyed
from bench.ui.messages import Draft, Waiting

if TYPE_CHECKING:
    from bench.core.river import River
FIRST = replace(
    NO_STICK, others=(("go.walk", "guides through a first reading on an invented stick, two minutes"),)
)


class FloatPane(FieldPane):
    """Reads one stick."""

    BINDINGS = [
        Binding("left", "other(-1)", "Stick", id="float.before", tooltip="The stick before"),
        Binding("right", "other(1)", "Stick", id="float.after", tooltip="The next stick", show=False),
    ]

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="float")
        self.woods = woods
        self.drafts: dict[str, FloatDraft] = {}
        self._tag = ""
        self._fields: tuple[tuple[FloatDraft, str] | None, Sequence[Field]] = (None, ())
        # Where a gravity stands, with the wood and the bath that it was worked out for.
        self._marks: dict[float | str, tuple[Species, str, FloatReading, float | None]] = {}

    # --- the draft -----------------------------------------------------------------------------------

    def draft(self) -> FloatDraft | None:
        """The values being tried for the stick in hand, or where its reading begins."""
        if self.hand is None:
            return None
        tag = self.hand.stick.tag
        stick = self.accepted.stick(tag) or self.hand.stick
        draft = self.drafts.get(tag) or start(stick, self.system)
        return draft if draft.moisture else replace(draft, moisture=stick.moisture)

    def forget(self, subjects: Iterable[str]) -> None:
        gone = set(subjects)
        for tag, draft in list(self.drafts.items()):
            if f"reading {tag}" in gone:
                del self.drafts[tag]
            elif f"weighing {tag}" in gone:  # a reading that is still being taken stays
                self.drafts[tag] = replace(draft, mass=None, size=())
        self.redraw()

    def _try_draft(self, draft: FloatDraft, name: str) -> None:
        """Show a draft; refused where it cannot be, kept waiting where something is still missing."""
        assert self.hand is not None and self.river is not None
        tag = self.hand.stick.tag
        checking.size("side", draft.side)
        checking.size("length", draft.length)
        # A typed mass is no new float reading.
        messages = [] if name in ("mass", "size") else [self._message("reading", tag, draft)]
        if draft.mass is not None or draft.size:
            messages.append(self._message("weighing", tag, draft))
        for message in messages:
            self.post_message(message)
        before = self.draft()
        self.drafts[tag] = draft
        if before is not None and len(before.marks) != len(draft.marks):
            # On to the first face that is still to be read.
            unread = [place for place, mark in enumerate(draft.marks) if mark is None]
            self.at = unread[0] if unread else 0
        # No refresh here: the river that follows draws this pane and the others in one frame.

    def _message(self, what: str, tag: str, draft: FloatDraft) -> Draft | Waiting:
        """What tells of a reading or a weighing being tried; raises a Refusal where it cannot be."""
        edit: Edit
        try:
            if what == "reading":
                edit = TakeReading(tag, draft.reading())
            else:
                edit = TakeWeighing(tag, draft.weighing())
        except Missing as missing:
            return Waiting(f"{what} {tag}", f"{tag}, {missing.message}")
        edit.check(self.accepted)
        return Draft(edit)

    def watch_river(self, old: River | None, new: River | None) -> None:
        if self.river is not None and self.river.tag != self._tag:
            self._tag = self.river.tag
            self.at = 0  # another stick begins at its waterline
        super().watch_river(old, new)

    def fields(self) -> Sequence[Field]:
        draft = self.draft()
        if draft is None:
            return ()
        asked = draft, self._angle(draft)
        if self._fields[0] != asked:  # a step asks for them three times
            self._fields = asked, float_values.fields(*asked)
        return self._fields[1]

    def _angle(self, draft: FloatDraft) -> str:
        if draft.angle == "" and self.hand is not None and self.hand.stick.species in self.woods:
            angle, least, most = angle_of(self.woods[self.hand.stick.species])
            return f"{angle:g} ({least:g}-{most:g}) deg"
        return "no correction" if draft.angle == "none" else f"{draft.angle} deg"

    def stepped(self, name: str, amount: int) -> None:
        draft = self.draft()
        if draft is not None:
            guess = self._minimum(draft)
            self._try_draft(float_values.stepped(draft, name, amount, self.system, guess), name)

    def typed(self, name: str, text: str) -> None:
        draft = self.draft()
        if draft is None:
            return
        if name == "timed":
            self._later(units.read("seconds", text).si)
            return
        changed = float_values.typed(draft, name, text, self.system)
        self._try_draft(changed, name)
        if name.startswith("mark") or name == "moisture":
            unread = [f"mark {face}" for face, mark in enumerate(changed.marks) if mark is None]
            self.on_to([*unread, "moisture"] if changed.moisture is None else unread)

    def _later(self, seconds: float) -> None:
        """Ask for the waterline after so many seconds; none drops the later ones."""
        draft = self.draft()
        assert draft is not None
        if not seconds:
            self._try_draft(replace(draft, timed=()), "timed")
            return
        if seconds <= draft.seconds:
            raise OutOfRange("later", seconds, f"more than the {draft.seconds:g} s of the first is wanted")

        def take(text: str) -> None:
            now = self.draft()
            if now is not None:
                self._try_draft(now.with_timed(seconds, units.read("mark", text).si), "timed")

        self.ask_line(f"waterline after {seconds:g} s", f"0 to {draft.count}, say 6.9", "", take)

    # --- the picture ---------------------------------------------------------------------------------

    def _mark_of(self, gravity: float, draft: FloatDraft) -> float | None:
        """Where an oven-dry gravity stands on this stick with the values shown [marks]."""
        return self._placed(
            gravity, draft.bath(), lambda bath, wood, kind: mark_on(bath, gravity, wood, kind)
        )

    def _sure(self, draft: FloatDraft) -> float | None:
        """From which mark on one reading of so many faces is sure [marks]."""
        bath = draft.bath()
        if bath is not None:
            bath = replace(bath, marks=bath.marks * len(draft.marks))
        return self._placed("sure", bath, sure_on)

    def _placed(
        self,
        what: float | str,
        bath: FloatReading | None,
        place: Callable[[FloatReading, Species, str], float | None],
    ) -> float | None:
        """A mark on this stick. A step of its waterline moves none of them: they are worked out once."""
        if bath is None or self.hand is None or self.hand.stick.species not in self.woods:
            return None
        wood, variant = self.woods[self.hand.stick.species], self.hand.stick.variant
        known = self._marks.get(what)
        if known is None or known[0] is not wood or known[1] != variant or known[2] != bath:
            known = self._marks[what] = (wood, variant, bath, place(bath, wood, variant))
        return known[3]

    def _minimum(self, draft: FloatDraft) -> float | None:
        figure = self.hand.verdict.minimum if self.hand else None
        return None if figure is None else self._mark_of(figure.value, draft)

    def render(self) -> Content:
        width, height = self.size.width, self.size.height
        draft = self.draft()
        if self.hand is None or draft is None:
            return stack(empty(self, "FLOAT", FIRST, width))
        species = self.woods.get(self.hand.stick.species)
        scene = Scene(self.hand, draft, species, self._mark_of, self._sure(draft), partial(keyed, self))
        if self.large:
            return float_drawing.large_figure(scene, width, height)
        rows = float_drawing.said(scene, width)
        first = len(rows)
        values = self.field_lines(min(width, 43) - 16, 10)
        shown = window(values, self.at, max(3, height - first))
        picture = float_drawing.float_stick(scene)
        for row in range(max(len(picture), len(shown))):
            left = picture[row] if row < len(picture) else Content(" " * 16)
            rows.append(line(left, " ", shown[row] if row < len(shown) else ""))
        if width >= 70:
            beside(rows, first, 44, float_drawing.side(scene, height - first), width)
        elif len(rows) < height:
            rows += float_drawing.notes(scene)
        return stack(rows[: max(height, 1)])
