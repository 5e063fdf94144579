"""The Shop screen: the habits of the shop that every cut list and size rests on."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from textual.content import Content

from bench.core.edits import ChangeSettings, Edit, NameJob
from bench.core.records import Job, Settings, with_field
from bench.ui.drawing import DIM, HEAD, line, stack, wrapped
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.messages import Accept, Draft, Say
from bench.ui.naming import read_as
from bench.ui.stepping import SIDE_STEP, next_step

LABELS = {
    "kerf": ("kerf", "width of the saw cut"),
    "end_trim": ("end trim", "off each stick end, its cut included"),
    "margin": ("margin", "clear on each side of a defect"),
    "squaring": ("squaring", "added to a part, both ends together"),
    "least_offcut": ("offcut", "shorter leftovers are waste"),
    "grid": ("size step", "resized sides go up to a multiple of it"),
}


class ShopView(FieldPane):
    """Changes the settings."""

    def __init__(self) -> None:
        super().__init__(id="shop")
        self.tried: Settings | None = None

    def forget(self, subjects: Iterable[str]) -> None:
        if "ChangeSettings" in subjects:
            self.tried = None
            self.refresh()

    @property
    def now(self) -> Settings:
        """The settings shown."""
        if self.tried is not None:
            return self.tried
        return self.accepted.settings

    def fields(self) -> Sequence[Field]:
        now = self.now
        lengths = (
            Field(name, label, getattr(now, name).text, "1/8, .094 or 2.4 mm")
            for name, (label, _) in LABELS.items()
        )
        held = "use them, marked" if now.use_held else "leave them out"
        units_shown = "inches" if now.units == "in" else "millimetres"
        name = self.accepted.name
        return (
            Field("job", "job", name, "a name of your own"),
            *lengths,
            Field("use_held", "on hold", held),
            Field("units", "units", units_shown),
        )

    def stepped(self, name: str, amount: int) -> None:
        now = self.now
        if name == "job":
            self.post_message(Say("job: Enter types a new name"))
            return
        if name == "use_held":
            changed = replace(now, use_held=not now.use_held)
        elif name == "units":
            changed = replace(now, units="mm" if now.units == "in" else "in")
        else:
            step = SIDE_STEP[now.units]
            least = step if name == "grid" else Fraction(0)
            size = next_step(getattr(now, name).exact, amount, step, least, now.units)
            changed = with_field(now, name, size)
        self.tried = changed
        self.post_message(Draft(ChangeSettings(changed)))

    def typed(self, name: str, text: str) -> None:
        if name == "job":
            self._accept(lambda job: NameJob(text))
            return
        value = read_as(LABELS[name][0], "length", text, self.now.units)
        if self.tried is not None:
            # Something is being tried already: this belongs to it.
            self.tried = with_field(self.tried, name, value)
            self.post_message(Draft(ChangeSettings(self.tried)))
        else:
            self._accept(lambda job: ChangeSettings(with_field(job.settings, name, value)))

    def _accept(self, make: Callable[[Job], Edit]) -> None:
        make(self.accepted).check(self.accepted)
        self.post_message(Accept(make))

    def render(self) -> Content:
        width = self.size.width
        rows = [line(("SHOP", HEAD))]
        for field in self.fields():
            says = LABELS.get(field.name, ("", ""))[1]
            rows.append(line(self.field_line(field, 34, 10), "  ", (says[: max(0, width - 36)], DIM)))
        rows.append(Content(""))
        text = "A stick on hold goes into the cut list only where you say so here, and is marked. "
        text += "A rejected one never does."
        return stack(
            [*rows, *(line((part, DIM)) for part in wrapped(text, width))][: max(1, self.size.height)]
        )
