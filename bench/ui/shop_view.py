"""The Shop screen: the habits of the shop that every cut list and size rests on, and its own limits."""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core.edits import ChangeSettings, Edit, NameJob
from bench.core.frozen import replace
from bench.core.limits import AC4313, ANC19, STRICTER
from bench.core.records import Settings, with_field
from bench.ui.drawing import DIM, HEAD, fit, line, stack, window, wrapped
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.messages import ChangeLook, Draft, Say
from bench.ui.naming import read_as
from bench.ui.preferences import CHARACTERS, Preferences
from bench.ui.stepping import SIDE_STEP, next_step, turned
from bench.ui.themes import LOOKS

LABELS = {
    "kerf": ("kerf", "width of the saw cut"),
    "end_trim": ("end trim", "off each stick end, its cut included"),
    "margin": ("margin", "clear on each side of a defect; no source"),
    "squaring": ("squaring", "added to a part, both ends together"),
    "least_offcut": ("offcut", "shorter leftovers are waste"),
    "rip_kerf": ("rip kerf", "of a cut along the grain"),
    "edge": ("edge", "off a plank's width before it is ripped"),
    "planing": ("planing", "off each face not at its finished size"),
    "least_piece": ("shortest", "length in a scarfed part"),
    "grid": ("size step", "resized sides go up to a multiple of it"),
}
DOCUMENTS = {STRICTER: "the stricter", ANC19: "ANC-19", AC4313: "AC 43.13-1B"}
# Own limit -> label, quantity it is read as, what it does, what may be typed. Each only ever makes stricter.
HOUSE = {
    "gravity_over": (
        "gravity +",
        "gravity",
        "least excess over the minimum",
        "say 0.02; <shop.remove>: none",
    ),
    "rings": ("rings", "rings", "fewest per inch", "say 8; <shop.remove>: none"),
    "slope": ("grain", "slope", "steepest, both faces together", "say 1:18; <shop.remove>: none"),
    "moisture_low": ("driest", "moisture", "least moisture", "say 8.5; <shop.remove>: none"),
    "moisture_high": ("wettest", "moisture", "most moisture", "say 11; <shop.remove>: none"),
    "knot": ("knot", "length", "greatest diameter", "say 1/8; <shop.remove>: none"),
}
# Preference -> label, what it is.
LOOK = {
    "theme": ("screen", "dark, light or contrast; for every job"),
    "characters": ("characters", "how lines are drawn; for every job"),
}
SAYS, NEARER = 36, 28  # column in which it stands what a setting is
OTHER = {
    "sizes": ("sizes", "where few, a side goes up to the next"),
    "use_held": ("on hold", "whether the cut list uses sticks on hold"),
    "units": ("units", "inches or millimetres"),
    "document": ("limits of", "whose limits govern; both are shown"),
    "job": ("job", "the name of this job"),
}
TEXT = (
    "A stick on hold goes into the cut list only where you say so here, and is marked. A rejected one never "
    "does. Limits of your own count only where they are stricter than the published ones."
)


class ShopView(FieldPane):
    """Changes the settings."""

    BINDINGS = [
        Binding("d", "remove", "Remove", id="shop.remove", tooltip="Take a limit of your own out"),
    ]

    preferences: var[Preferences] = var(Preferences(), init=False)

    def __init__(self) -> None:
        super().__init__(id="shop")
        self.tried: Settings | None = None

    def watch_preferences(self) -> None:
        self.redraw()

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
            Field("job", OTHER["job"][0], name, "a name of your own"),
            *lengths,
            Field(
                "sizes",
                OTHER["sizes"][0],
                sizes,
                "that the tools can be set to: 1/2, 5/8, 3/4; <shop.remove>: any step",
            ),
            Field("use_held", OTHER["use_held"][0], held),
            Field("units", OTHER["units"][0], units_shown),
            Field("document", OTHER["document"][0], DOCUMENTS[now.document]),
            *own,
            Field("theme", LOOK["theme"][0], self.preferences.theme),
            Field("characters", LOOK["characters"][0], CHARACTERS[self.preferences.characters]),
        )

    def show_setting(self, name: str) -> None:
        """Highlight this one."""
        names = [field.name for field in self.fields()]
        self.at = names.index(name) if name in names else self.at

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
            self.post_message(Say("sizes: Enter types the list, <shop.remove> takes it out"))
            return
        if name.startswith("house "):
            self.post_message(Say("a limit of your own: Enter types it, <shop.remove> takes it out"))
            return
        if name in LOOK:
            offered = LOOKS if name == "theme" else tuple(CHARACTERS)
            self.post_message(ChangeLook(name, turned(offered, getattr(self.preferences, name), sign)))
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
        fields = self.fields()
        column = SAYS if width >= 70 else NEARER
        values = self.field_lines(column - 2, 13)
        rows = [_row(field, value, column, width) for field, value in zip(fields, values, strict=True)]
        foot = [Content(""), *(line((part, DIM)) for part in wrapped(TEXT, width))]
        if len(rows) + len(foot) + 1 > height:
            foot = []  # the help says it too
        room = max(3, height - 1 - len(foot))
        more = f"  {self.at + 1} of {len(fields)}" if len(rows) > room else ""
        return stack([line(("SHOP", HEAD), (more, DIM)), *window(rows, self.at, room), *foot][:height])


def _row(field: Field, value: Content, column: int, width: int) -> Content:
    """A setting, with what it is in a column of its own."""
    gap = " " * max(2, column - value.cell_length)
    return line(value, gap, (fit(_says(field.name), width - column).rstrip(), DIM))


def _says(name: str) -> str:
    """What a setting is."""
    if name.startswith("house "):
        return HOUSE[name.removeprefix("house ")][2]
    return (OTHER.get(name) or LOOK.get(name) or LABELS.get(name) or ("", ""))[1]


def settings() -> tuple[tuple[str, str, str], ...]:
    """Every setting of this screen, for the list of actions: name of its value, label, and what it is."""
    own = {f"house {name}": (f"own {label}", says) for name, (label, _, says, _) in HOUSE.items()}
    return tuple((name, *said) for name, said in {**LABELS, **OTHER, **own, **LOOK}.items())
