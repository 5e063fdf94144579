"""The Woods screen: every wood and every own lot in place of the drawing's, as a chart made of text."""

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench import units
from bench.core import ranking, working
from bench.core.edits import ChooseSection
from bench.core.errors import Refusal, UnknownName
from bench.core.frozen import replace
from bench.core.ranking import COMPARED, Ask, Lot, Ranked, Ranking
from bench.core.records import SectionChoice, Species
from bench.core.river import River
from bench.core.steps import Step
from bench.core.strength import AIRCRAFT, HANDBOOK
from bench.sheets import ranking as sentences
from bench.sheets import sections
from bench.ui.drawing import DIM, HEAD, HERE, WRONG, fit, line, stack, wrapped
from bench.ui.keys import KeyWidget
from bench.ui.messages import Draft, Say
from bench.ui.moving_keys import row_keys

NARROW = 76  # columns; below it names and what is given away are shortened
Key = tuple[str, str | None]


class WoodsView(KeyWidget):
    """Compares the woods for the section on the Section pane, and makes one of them the new wood."""

    BINDINGS = [
        *row_keys("woods", "wood"),
        Binding(
            "enter",
            "take",
            "New wood",
            id="woods.take",
            tooltip="Try this wood on the Section pane; Enter there keeps it",
        ),
    ]

    river: var[River | None] = var(None, init=False, always_update=True)

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="woods")
        self.woods = woods
        self.here: Key | None = None  # the highlighted wood, wherever it comes to stand
        self.ranked_for: tuple[Ask, str, tuple[Lot, ...]] | None = None
        self.ranking: Ranking | Refusal | None = None

    def watch_river(self) -> None:
        # Ranked when it is drawn: out of sight nothing is worked out.
        self.redraw()

    # --- the list ------------------------------------------------------------------------------------

    def found(self) -> Ranking | Refusal | None:
        """The ranking for the section on the pane; worked out anew only where the question changed."""
        if self.river is None:
            return None
        choice, job = self.river.section.choice, self.river.job
        lots = ranking.own_lots(self.river.rack)
        try:
            ask = ranking.asked(choice, job.settings)
        except Refusal as refusal:
            return refusal
        question = (ask, choice.plan, lots)
        if question != self.ranked_for:
            self.ranked_for = question
            self.ranking = self._rank(*question)
        return self.ranking

    def _rank(self, ask: Ask, plan: str, lots: tuple[Lot, ...]) -> Ranking | Refusal:
        try:
            if plan not in self.woods:
                raise UnknownName("species", plan)
            return ranking.rank(ask, self.woods[plan], self.woods, lots)
        except Refusal as refusal:
            return refusal

    def place(self, rows: tuple[Ranked, ...]) -> int:
        """Where the highlighted wood stands; at first the new wood of the section."""
        assert self.river is not None
        wanted = self.here or (self.river.section.choice.use, None)
        return next((place for place, row in enumerate(rows) if row.key == wanted), 0)

    def action_row(self, amount: int) -> None:
        """Another wood."""
        found = self.found()
        if isinstance(found, Ranking) and found.rows:
            place = min(max(0, self.place(found.rows) + amount), len(found.rows) - 1)
            self.here = found.rows[place].key
            self.redraw()

    def action_take(self) -> None:
        """Make the highlighted wood the new wood, tried and not kept."""
        found = self.found()
        if not isinstance(found, Ranking) or not found.rows or self.river is None:
            return
        row = found.rows[self.place(found.rows)]
        if row.resized is None:
            self.post_message(Say(f"{sentences.name(row)}: {sentences.why(row)}", wrong=True))
            return
        choice = self._chosen(self.river.section.choice, row)
        by = f", by its stick {choice.stick}, the nearest to the lot's mean" if row.lot is not None else ""
        by += ", with the strengths of the average, not lowered" if row.lighter < 1 else ""
        self.post_message(Draft(ChooseSection(choice), elsewhere=True))
        self.post_message(
            Say(f"{row.name} is tried{by}: <go.section> and Enter there keeps it, Esc there drops it")
        )

    @staticmethod
    def _chosen(choice: SectionChoice, row: Ranked) -> SectionChoice:
        if row.lot is not None:
            return replace(choice, use=row.species, gravity="stick", stick=row.lot.nearest)
        kind = AIRCRAFT if choice.gravity == AIRCRAFT else HANDBOOK
        return replace(choice, use=row.species, gravity=kind, stick="")

    def steps(self) -> tuple[Step, ...]:
        """The working of the highlighted wood's size; empty where it has none."""
        found = self.found()
        if not isinstance(found, Ranking) or not found.rows:
            return ()
        row = found.rows[self.place(found.rows)]
        if row.resized is None or row.wood is None:
            return ()
        return working.of_section(row.resized, found.plan, row.wood)

    # --- the picture ---------------------------------------------------------------------------------

    @property
    def system(self) -> str:
        """Units of the job."""
        return self.river.job.settings.units if self.river else "in"

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        found = self.found()
        if found is None:
            return Content("")
        if isinstance(found, Refusal):
            said = [line((text, WRONG)) for text in wrapped(str(found), width)]
            return stack([line(("WOODS COMPARED", HEAD)), *said][:height])
        rows = self._title(found, width)
        place = self.place(found.rows)
        foot = self._foot(found.rows[place], width)[: max(1, height - len(rows) - 4)] if found.rows else []
        room = max(1, height - len(rows) - 1 - len(foot))
        top = max(0, min(place - room // 2, len(found.rows) - room))
        shown = found.rows[top : top + room]
        columns = _Columns(found, self.system, width)
        rows.append(line((columns.head(), DIM)))
        assert self.river is not None
        now = self._now(self.river.section.choice)
        for row in shown:
            text = columns.row(row, found.rows[place] is row, row.key == now)
            rows.append(line((text, HERE if found.rows[place] is row else "")))
        rows += [Content("")] * (height - len(rows) - len(foot))
        return stack([*rows, *foot][:height])

    def _now(self, choice: SectionChoice) -> Key:
        """The wood that the section is in now."""
        if self.river is not None and choice.gravity in ("stick", "estimate"):
            owner = self.river.section.owner
            if owner is not None:
                return choice.use, owner.stick.lot.strip()
        return choice.use, None

    def _title(self, found: Ranking, width: int) -> list[Content]:
        """What is compared, by what, and how many woods stand where."""
        ask = found.ask
        size = units.sides(ask.plan.width, ask.plan.depth, self.system)
        solid = " (one wood, not laminated)" if self._laminated() else ""
        asked = f"for {size} {found.plan.name}{solid}, {sections.matched(ask)}"
        told = f"{sentences.counted(found)}; * own lot, + in use"
        first = line(("WOODS  ", HEAD), fit(asked, max(0, width - 7)).rstrip())
        return [first, line((fit(told, width).rstrip(), DIM))]

    def _laminated(self) -> bool:
        return self.river is not None and self.river.section.choice.shape == "laminated"

    def _foot(self, row: Ranked, width: int) -> list[Content]:
        """Everything about the highlighted wood: what it rests on, and all capacities at both sizes."""
        head = ": ".join(text for text in (sentences.name(row), sentences.rests_on(row)) if text)
        rows = [line((text, "bold")) for text in wrapped(head, width)]
        why = [line((text, WRONG)) for text in wrapped(sentences.why(row), width)]
        if row.resized is None:
            return [*rows, *why]
        names = tuple(name for name in sentences.SHORT if name in row.resized.ratios or name in row.unknown)
        each = min(7, (width - 6) // max(1, len(names)))
        titles = "".join(sentences.SHORT[name][: each - 1].rjust(each) for name in names)
        return [
            *rows,
            *(why or [Content(f"exact {sentences.exact(row, self.system)}")]),
            line((f"{'%':<6}{titles}", DIM)),
            Content("exact " + sentences.figures_line(names, row.resized.ratios, each)),
            Content("shop  " + sentences.figures_line(names, row.resized.shop_ratios, each)),
        ]


class _Columns:
    """How wide each column of the chart is, and a row of it."""

    def __init__(self, found: Ranking, system: str, width: int) -> None:
        self.system, self.width, wide = system, width, width >= NARROW
        sizes = [sentences.size(row, system) for row in found.rows]
        self.size = max(8, *(len(text) for text in sizes)) if sizes else 8
        self.gives = 26 if wide else 18
        rest = width - 2 - self.size - 6 - self.gives - 4
        names = max((len(sentences.short_name(row)) for row in found.rows), default=8)
        self.name = min(names, max(8, rest - (14 if wide else 8)))
        self.bar = max(6, rest - self.name)
        heaviest = max((row.weight for row in found.of(COMPARED)), default=1.0)
        self.cells = sentences.cells_of_plan(heaviest, self.bar)

    def head(self) -> str:
        """The titles, with the scale of the bars."""
        cells = (
            "  " + "wood".ljust(self.name), f"size, {self.system}".rjust(self.size),
            sentences.scale(self.cells, self.bar), "weight", "gives away, exact %"[: self.gives],
        )  # fmt: skip
        return " ".join(cells)[: self.width]

    def row(self, row: Ranked, here: bool, now: bool) -> str:
        """One wood; what has no place in the ranking says why instead."""
        mark = ">" if here else "+" if now else " "
        own = "*" if row.lot is not None else " "
        name = fit(sentences.short_name(row), self.name)
        if row.resized is None or row.standing != COMPARED:
            said = f"{mark}{own}{name} {sentences.HEADINGS[row.standing]}: {sentences.why(row)}"
            return fit(said, self.width)
        cells = (
            f"{mark}{own}{name}", sentences.size(row, self.system).rjust(self.size),
            sentences.bar(row.weight, self.cells, self.bar),
            sections.share("weight", row.weight).removesuffix(" %").rjust(6),
            fit(sentences.gives(row), self.gives),
        )  # fmt: skip
        return fit(" ".join(cells), self.width)
