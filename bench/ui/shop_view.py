"""The Shop screen: the habits of the shop that every cut list and size rests on, and its own limits."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content

from bench.core.edits import ChangeSettings, Edit, NameJob
from bench.core.limits import AC4313, ANC19, STRICTER
from bench.core.records import Settings, with_field
from bench.ui.drawing import DIM, HEAD, line, stack, window, wrapped
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.messages import Draft, Say
from bench.ui.naming import read_as
from bench.ui.stepping import SIDE_STEP, next_step, turned

LABELS = {
    "kerf": ("kerf", "width of the saw cut"),
    "end_trim": ("end trim", "off each stick end, its cut included"),
    "margin": ("margin", "clear on each side of a defect"),
    "squaring": ("squaring", "added to a part, both ends together"),
    "least_offcut": ("offcut", "shorter leftovers are waste"),
    "rip_kerf": ("rip kerf", "of a cut along the grain; d: as the kerf"),
    "edge": ("edge", "off a plank's width before it is ripped"),
    "planing": ("planing", "off each face not at its finished size"),
    "least_piece": ("shortest", "length in a scarfed part"),
    "grid": ("size step", "resized sides go up to a multiple of it"),
}
DOCUMENTS = {STRICTER: "the stricter", ANC19: "ANC-19", AC4313: "AC 43.13-1B"}
# Own limit -> label, quantity it is read as, what it does, what may be typed. Each only ever makes stricter.
HOUSE = {
    "gravity_over": ("gravity +", "gravity", "least excess over the minimum", "say 0.02; d: none"),
    "rings": ("rings", "rings", "fewest per inch", "say 8; d: none"),
    "slope": ("grain", "slope", "steepest, both faces together", "say 1:18; d: none"),
    "moisture_low": ("driest", "moisture", "least moisture", "say 8.5; d: none"),
    "moisture_high": ("wettest", "moisture", "most moisture", "say 11; d: none"),
    "knot": ("knot", "length", "greatest diameter", "say 1/8; d: none"),
}
OF_DOCUMENT = "whose limits govern; both are shown"
TEXT = (
    "A stick on hold goes into the cut list only where you say so here, and is marked. A rejected one never "
    "does. Limits of your own count only where they are stricter than the published ones."
)


class ShopView(FieldPane):
    """Changes the settings."""

    BINDINGS = [
        Binding("d", "remove", "Remove", id="shop.remove", tooltip="Take a limit of your own out"),
    ]

    def __init__(self) -> None:
        super().__init__(id="shop")
        self.tried: Settings | None = None

    def forget(self, subjects: Iterable[str]) -> None:
        if "ChangeSettings" in subjects:
            self.tried = None
            self.redraw()

    def trying(self, subject: str) -> Edit | None:
        return None if self.tried is None else ChangeSettings(self.tried)

    @property
    def now(self) -> Settings:
        """The settings shown."""
        if self.tried is not None:
            return self.tried
        return self.accepted.settings

    def fields(self) -> Sequence[Field]:
        now = self.now
        lengths = (
            Field(name, label, value.text if value else "as the kerf", "1/8, .094 or 2.4 mm")
            for name, (label, _) in LABELS.items()
            for value in (getattr(now, name),)
        )
        own = (
            Field(f"house {name}", f"own {label}", value.text if value else "none", prompt)
            for name, (label, _, _, prompt) in HOUSE.items()
            for value in (getattr(now.house, name),)
        )
        sizes = ", ".join(size.text for size in now.sizes) or "any step"
        held = "use them, marked" if now.use_held else "leave them out"
        units_shown = "inches" if now.units == "in" else "millimetres"
        name = self.accepted.name
        return (
            Field("job", "job", name, "a name of your own"),
            *lengths,
            Field("sizes", "sizes", sizes, "that the tools can be set to: 1/2, 5/8, 3/4; d: any step"),
            Field("use_held", "on hold", held),
            Field("units", "units", units_shown),
            Field("document", "limits of", DOCUMENTS[now.document]),
            *own,
        )

    def _try_settings(self, changed: Settings) -> None:
        edit = ChangeSettings(changed)
        edit.check(self.accepted)
        self.tried = changed
        self.post_message(Draft(edit))

    def stepped(self, name: str, amount: int) -> None:
        now, sign = self.now, 1 if amount > 0 else -1
        if name == "job":
            self.post_message(Say("job: Enter types a new name"))
            return
        if name == "sizes":
            self.post_message(Say("sizes: Enter types the list, d takes it out"))
            return
        if name.startswith("house "):
            self.post_message(Say("a limit of your own: Enter types it, d takes it out"))
            return
        if name == "use_held":
            changed = replace(now, use_held=not now.use_held)
        elif name == "units":
            changed = replace(now, units="mm" if now.units == "in" else "in")
        elif name == "document":
            changed = replace(now, document=turned(tuple(DOCUMENTS), now.document, sign))
        else:
            step = SIDE_STEP[now.units]
            least = step if name in ("grid", "least_piece") else Fraction(0)
            size = next_step((getattr(now, name) or now.kerf).exact, amount, step, least, now.units)
            changed = with_field(now, name, size)
        self._try_settings(changed)

    def typed(self, name: str, text: str) -> None:
        if name == "job":
            self.accept(lambda job: NameJob(text))
            return
        if name.startswith("house "):
            own = name.removeprefix("house ")
            label, quantity, _, _ = HOUSE[own]
            default = self.now.units if quantity == "length" else ""
            limit = read_as(f"own {label}", quantity, text, default)
            self._change(lambda now: replace(now, house=with_field(now.house, own, limit)))
            return
        if name == "sizes":
            items = [item for item in text.split(",") if item.strip()]
            sizes = tuple(read_as("sizes", "length", item, self.now.units) for item in items)
            ordered = tuple(sorted(sizes, key=lambda size: size.exact))
            self._change(lambda now: replace(now, sizes=ordered))
            return
        value = read_as(LABELS[name][0], "length", text, self.now.units)
        self._change(lambda now: with_field(now, name, value))

    def action_remove(self) -> None:
        """Take the highlighted limit of one's own out."""
        field = self.field_here()
        if field is not None and field.name == "sizes":
            self._change(lambda now: replace(now, sizes=()))
            return
        if field is not None and field.name == "rip_kerf":
            self._change(lambda now: replace(now, rip_kerf=None))
            return
        if field is None or not field.name.startswith("house "):
            self.post_message(Say("only a limit of your own can be taken out"))
            return
        own = field.name.removeprefix("house ")
        self._change(lambda now: replace(now, house=with_field(now.house, own, None)))

    def _change(self, change: Callable[[Settings], Settings]) -> None:
        """Accept a change; while something is being tried, it belongs to that."""
        if self.tried is not None:
            self._try_settings(change(self.tried))
        else:
            self.accept(lambda job: ChangeSettings(change(job.settings)))

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        foot = [line((part, DIM)) for part in wrapped(TEXT, width)]
        rows = []
        for field, value in zip(self.fields(), self.field_lines(36, 13), strict=True):
            says = (
                HOUSE[field.name.removeprefix("house ")][2]
                if field.name.startswith("house ")
                else OF_DOCUMENT
                if field.name == "document"
                else "where they are few, a side goes up to the next"
                if field.name == "sizes"
                else LABELS.get(field.name, ("", ""))[1]
            )
            rows.append(line(value, "  ", (says[: max(0, width - 38)], DIM)))
        shown = window(rows, self.at, max(3, height - 1 - len(foot)))
        return stack([line(("SHOP", HEAD)), *shown, *foot][:height])
