"""The Section pane: the drawing's section in another wood, and the price of the match."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content

from bench import units
from bench.core.edits import ChooseSection, Edit
from bench.core.records import Job, SectionChoice, Species, Typed, with_field
from bench.core.resizing import GRAVITIES, HOLDS, MATCHES, Resized
from bench.core.river import River, SectionView
from bench.core.strength import gravity_12
from bench.sheets import estimating, wording
from bench.ui.drawing import DIM, HEAD, WRONG, beside, large, line, stack, window, wrapped
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.messages import Draft, Say
from bench.ui.naming import read_as, species_key
from bench.ui.stepping import SIDE_STEP, next_step, turned

FIELDS = {"free": "free_length"}  # a value of the pane -> its field, where the names differ
COLUMN_STEP = {"in": Fraction(254, 10_000), "mm": Fraction(1, 100)}  # [m]


class SectionPane(FieldPane):
    """Resizes one section, and with it every part drawn in the same wood."""

    BINDINGS = [
        Binding("left", "other(-1)", "Section", id="section.before", tooltip="The plan section before"),
        Binding(
            "right", "other(1)", "Section", id="section.after", tooltip="The next plan section", show=False
        ),
    ]

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="section")
        self.woods = woods
        self.choice: SectionChoice | None = None  # the latest tried, ahead of the river while keys queue up

    def forget(self, subjects: Iterable[str]) -> None:
        if "ChooseSection" in subjects:
            self.choice = None
            self.refresh()

    def trying(self, subject: str) -> Edit | None:
        return None if self.choice is None else ChooseSection(self.choice)

    def watch_river(self, old: River | None, new: River | None) -> None:
        unchanged = (
            old is not None
            and new is not None
            and old.section is new.section
            and old.job.section == new.job.section
            and old.job.settings == new.job.settings
        )
        if not unchanged:
            self.refresh()

    @property
    def now(self) -> SectionChoice:
        """The choice shown."""
        if self.choice is not None:
            return self.choice
        return self.accepted.section

    def fields(self) -> Sequence[Field]:
        choice = self.now
        length = choice.free_length
        own = f"stick {choice.stick or 'in hand'}"
        figures = {
            "handbook": "handbook average",
            "stick": f"gravity of {own}",
            "estimate": f"estimate from {own}",
        }
        return (
            Field(
                "plan",
                "drawing",
                self._named(choice.plan),
                "species by key or name, as in Species: sitka_spruce, white ash",
            ),
            Field(
                "use",
                "new wood",
                self._named(choice.use),
                "species by key or name, as in Species: sitka_spruce, white ash",
            ),
            Field("width", "width", choice.width.text, "of the plan section, 3/4 or 19 mm"),
            Field("depth", "depth", choice.depth.text, "of the plan section, 3/4 or 19 mm"),
            Field("match", "match", wording.CAPACITY[choice.match]),
            Field("hold", "hold", choice.hold or "neither side"),
            Field("gravity", "figures", figures[choice.gravity]),
            Field(
                "free", "column", length.text if length else "Euler load", "free length, 24 in; 0 for Euler"
            ),
        )

    def _named(self, key: str) -> str:
        return self.woods[key].name if key in self.woods else key

    def stepped(self, name: str, amount: int) -> None:
        choice, sign = self.now, 1 if amount > 0 else -1
        changed = choice
        if name in ("plan", "use"):
            keys = list(self.woods)
            now = getattr(choice, name)
            place = keys.index(now) if now in keys else 0
            changed = with_field(choice, name, keys[(place + sign) % len(keys)])
        elif name in ("width", "depth"):
            changed = with_field(choice, name, self._stepped_side(getattr(choice, name), amount))
        elif name == "match":
            changed = replace(choice, match=turned(MATCHES, choice.match, sign))
        elif name == "hold":
            changed = replace(choice, hold=turned(HOLDS, choice.hold, sign))
        elif name == "gravity":
            changed = replace(choice, gravity=turned(GRAVITIES, choice.gravity, sign))
            own = choice.stick or (self.river.tag if self.river else "")
            changed = replace(changed, stick="" if changed.gravity == "handbook" else own)
        elif name == "free":
            changed = replace(choice, free_length=self._stepped_column(choice.free_length, amount))
        self._try_choice(changed)

    def _stepped_side(self, typed: Typed, amount: int) -> Typed:
        step = SIDE_STEP[self.system]
        return next_step(typed.exact, amount, step, step, self.system)

    def _stepped_column(self, typed: Typed | None, amount: int) -> Typed | None:
        step = COLUMN_STEP[self.system]
        stepped = next_step(typed.exact if typed else Fraction(0), amount, step, Fraction(0), self.system)
        return stepped if stepped.exact else None

    def typed(self, name: str, text: str) -> None:
        value = self._value(name, text)
        if self.choice is not None:
            # Something is being tried already: this belongs to it.
            self._try_choice(with_field(self.choice, FIELDS.get(name, name), value))
            return

        def make(job: Job) -> ChooseSection:
            return ChooseSection(with_field(job.section, FIELDS.get(name, name), value))

        self.accept(make)

    def _value(self, name: str, text: str) -> object:
        if name in ("plan", "use"):
            return species_key(text, self.woods)
        if name == "free" and text.strip() in ("", "0"):
            return None
        return read_as("column" if name == "free" else name, "length", text, self.system)

    def _try_choice(self, choice: SectionChoice) -> None:
        edit = ChooseSection(choice)
        edit.check(self.accepted)
        self.choice = choice
        self.post_message(Draft(edit))

    def action_other(self, amount: int) -> None:
        """Take another section off the drawing's list."""
        if self.river is None:
            return
        sections = list(dict.fromkeys((part.width, part.depth) for part in self.river.job.parts))
        if not sections:
            self.post_message(Say("no parts yet: press p for Parts, then a to add one"))
            return
        here = (self.now.width.exact, self.now.depth.exact)
        place = next((i for i, (w, d) in enumerate(sections) if (w.exact, d.exact) == here), -1)
        width, depth = sections[(place + amount) % len(sections)]
        self._try_choice(replace(self.now, width=width, depth=depth))

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        view = self.river.section if self.river else None
        if self.large and view is not None and view.resized is not None:
            return self._large(view.resized)
        rows, after = [line(("SECTION", HEAD))], list[Content]()
        table: list[Content] = []
        if view is not None and view.refusal is not None:
            rows += [line((text, WRONG)) for text in wrapped(str(view.refusal), width)]
        elif view is not None and view.resized and view.plan and view.use:
            average = gravity_12(self.woods[view.choice.use])[0]
            warnings = wording.section_warnings(view.resized, view.plan, view.use, average)
            basis = wording.BASIS_OF_STRENGTH
            if view.estimate is not None:
                warnings += estimating.doubts(view.use.doubt)
                basis = estimating.basis(view.estimate)
            rows += self._answer(view, view.resized, width)
            rows += [line((text, WRONG)) for warning in warnings for text in wrapped(warning, width)]
            table = self._table(view.resized)
            after += [line((text, "bold")) for text in wrapped(wording.CAUTION_SHORT, width)]
            after += [line((text, DIM)) for text in wrapped("basis: " + basis, width)]
        first = len(rows)
        values = [self.field_line(field, min(width, 40), 10) for field in self.fields()]
        rows += window(values, self.at, max(3, height - first))
        if width >= 70:
            beside(rows, first, 40, table, width)
            table = []
        return stack([*rows, *after, *table][:height])

    def _answer(self, view: SectionView, resized: Resized, width: int) -> list[Content]:
        """Size and price, before anything else."""
        system = self.system
        exact = " x ".join(
            units.length_up(side, system, 4) for side in (resized.exact.width, resized.exact.depth)
        )
        gravity = f"gravity of {view.measured} as measured, strengths of the handbook's average"
        if view.estimate is not None:
            gravity = f"strengths ESTIMATED from gravity and grain of {view.measured}: e shows the band"
        elif not view.measured:
            gravity = "handbook gravities, volume at 12 %"
        weak = "bold ansi_yellow" if resized.weaker_shop else ""
        shop = line(("shop size ", DIM), (units.sides(*resized.shop, system), "bold"))
        if width >= 70:
            rows = [line(shop, ("   exact ", DIM), exact)]
        else:
            rows = [shop, line(("exact     ", DIM), exact)]
        rows.append(line((gravity[:width], DIM)))
        return [*rows, *(line((text, weak)) for text in wrapped(wording.weaker(resized), width, "  "))]

    def _table(self, resized: Resized) -> list[Content]:
        """Every capacity, replacement over drawing, at the exact and at the shop size."""
        rows = [line(("new over drawing       exact    shop", DIM))]
        for name, value in resized.ratios.items():
            shop = units.ratio(resized.shop_ratios[name])
            exact = units.ratio(value)
            if name == "weight":
                exact, shop = units.percent(value), units.percent(resized.shop_ratios[name])
            text = f"{wording.CAPACITY[name]:<18}{exact:>10}{shop:>9}"
            rows.append(line((text, "bold ansi_yellow" if name in resized.weaker_shop else "")))
        return rows

    def _large(self, resized: Resized) -> Content:
        """The size to set the saw to, alone: the drawing's depth in the new wood."""
        width, height = self.size
        below = [
            Content(""),
            line((units.sides(*resized.shop, self.system), "bold"), "  shop size"),
            *(line((text, "bold ansi_yellow")) for text in wrapped(wording.weaker(resized), width)),
        ]
        number = units.length_up(resized.shop[1], self.system, 3).split()[0]
        return large("SECTION  depth, shop size", number, below, width, height)
