"""The Section pane: the drawing's section in another wood, and the price of the match."""

from collections.abc import Iterable, Sequence

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench import units
from bench.core import tolerance
from bench.core.edits import ChooseSection, Edit
from bench.core.errors import BadInput
from bench.core.frozen import replace
from bench.core.records import Job, SectionChoice, Species, with_field
from bench.core.resizing import Resized
from bench.core.river import River
from bench.core.sectioning import SectionView
from bench.sheets import kinds, ranking
from bench.ui import section_drawing, section_values
from bench.ui.drawing import DIM, HEAD, WRONG, beside, line, stack, window, wrapped
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.files import Files
from bench.ui.keys import keyed
from bench.ui.messages import Draft, Say
from bench.ui.stepping import turned
from bench.ui.writing_out import Papers, WritingSheets

PICTURE = 8  # lines, below which the picture stands alone
WIDE = 70  # columns, from which on a page stands beside the values
AS_SAWN = "the side as measured: width .740, or depth 18.9 mm; a bare number is the depth"


class SectionPane(FieldPane, WritingSheets):
    """Resizes one section, and with it every part drawn in the same wood."""

    BINDINGS = [
        Binding("left", "plan(-1)", "Section", id="section.before", tooltip="The plan section before"),
        Binding(
            "right", "plan(1)", "Section", id="section.after", tooltip="The next plan section", show=False
        ),
        Binding("n", "as_sawn", "As sawn", id="section.as-sawn", tooltip="A side came out otherwise: resize"),
        Binding("g", "this_stick", "This stick", id="section.stick", tooltip="By the stick in hand"),
        Binding(
            "v", "page", "View", id="section.page", tooltip="Values, capacities, picture, slips, or notes"
        ),
        Binding("x", "out", "To file", id="section.out", tooltip="The decision as a file, to print"),
    ]

    page: var[str] = var(section_drawing.PAGES[0], init=False)

    def __init__(self, woods: dict[str, Species], files: Files, papers: Papers) -> None:
        super().__init__(id="section")
        self.woods, self.files, self.papers = woods, files, papers
        self.choice: SectionChoice | None = None  # the latest tried, ahead of the river while keys queue up

    # --- the draft -----------------------------------------------------------------------------------

    def forget(self, subjects: Iterable[str]) -> None:
        if "ChooseSection" in subjects:
            self.choice = None
            self.redraw()

    def trying(self, subject: str) -> Edit | None:
        return None if self.choice is None else ChooseSection(self.choice)

    def take_up(self, edit: Edit) -> None:
        if isinstance(edit, ChooseSection):
            self.choice = edit.choice
            self.redraw()

    def watch_river(self, old: River | None, new: River | None) -> None:
        unchanged = (
            old is not None
            and new is not None
            and old.section is new.section
            and old.job.section == new.job.section
            and old.job.settings == new.job.settings
        )
        if not unchanged:
            super().watch_river(old, new)

    def watch_page(self) -> None:
        self.redraw()

    @property
    def now(self) -> SectionChoice:
        """The choice shown."""
        return self.choice if self.choice is not None else self.accepted.section

    @property
    def found(self) -> SectionView | None:
        """The choice worked out."""
        return self.river.section if self.river else None

    def fields(self) -> Sequence[Field]:
        return section_values.fields(self.now, self.woods)

    def stepped(self, name: str, amount: int) -> None:
        tag = self.river.tag if self.river else ""
        self._try_choice(section_values.stepped(self.now, name, amount, self.woods, self.system, tag))

    def typed(self, name: str, text: str) -> None:
        changes = section_values.value(name, text, self.woods, self.system)

        def changed(choice: SectionChoice) -> SectionChoice:
            for field, value in changes.items():
                choice = with_field(choice, field, value)
            return choice

        if self.choice is not None:
            # Something is being tried already: this belongs to it.
            self._try_choice(changed(self.choice))
            return

        def make(job: Job) -> ChooseSection:
            return ChooseSection(changed(job.section))

        self.accept(make)

    def _ask(self, text: str) -> None:
        field = self.field_here()
        old = section_values.shown_text(self.now, field.name) if field is not None and not text else ""
        if field is not None and old:
            name = field.name
            self.ask_line(field.label, field.prompt, old, lambda new: self.typed(name, new))
        else:
            super()._ask(text)

    def _try_choice(self, choice: SectionChoice) -> None:
        edit = ChooseSection(choice)
        edit.check(self.accepted)
        self.choice = choice
        self.post_message(Draft(edit))

    # --- keys ----------------------------------------------------------------------------------------

    def action_plan(self, amount: int) -> None:
        """Take another section off the drawing's list."""
        if self.river is None:
            return
        sections = list(dict.fromkeys((part.width, part.depth) for part in self.river.job.parts))
        if not sections:
            self.post_message(Say("no parts yet: <go.parts> goes to Parts, where they are added"))
            return
        here = (self.now.width.exact, self.now.depth.exact)
        place = next((i for i, (w, d) in enumerate(sections) if (w.exact, d.exact) == here), -1)
        width, depth = sections[(place + amount) % len(sections)]
        self._try(lambda: self._try_choice(replace(self.now, width=width, depth=depth, held_at=None)))

    def action_this_stick(self) -> None:
        """Rest the section on the stick in hand: its wood, its own gravity."""
        if self.hand is None:
            self.post_message(Say("there is no stick in hand"))
            return
        stick = self.hand.stick
        kind = "estimate" if self.now.gravity == "estimate" else "stick"
        choice = replace(self.now, use=stick.species, gravity=kind, stick=stick.tag)
        self._try(lambda: self._try_choice(choice))

    def action_as_sawn(self) -> None:
        """Ask for a side as it came off the saw; it is held, and the other side is resized."""
        self.ask_line("as sawn", AS_SAWN, "", self._sawn)

    def _sawn(self, text: str) -> None:
        side, _, size = text.strip().partition(" ")
        if side.lower() not in ("width", "depth"):
            side, size = "depth", text
        if not size.strip():
            raise BadInput("as sawn", text, "has no size", AS_SAWN)
        typed = units.read("length", size, self.system)
        said = self._accept_or_recut(side.lower(), typed.si)
        self._try_choice(replace(self.now, hold=side.lower(), held_at=typed))
        self.post_message(Say(said))

    def _accept_or_recut(self, side: str, size: float) -> str:
        """What the side as it came out does to the section that was aimed at."""
        view = self.found
        if view is None or view.resized is None or view.use is None:
            return ""
        free = view.choice.free_length
        width, depth = (size, None) if side == "width" else (None, size)
        cut = tolerance.accept_or_recut(
            view.resized, width, depth, view.use, None if free is None else free.si
        )
        return "; ".join(ranking.verdict(cut, self.system))

    def action_page(self) -> None:
        """Values, all capacities, both sections drawn, slips of the saw, or all that is to be said."""
        self.page = turned(section_drawing.PAGES, self.page, 1)

    def action_out(self) -> None:
        """Write the decision to a file; never one that is only tried."""
        self.write_sheet(kinds.SECTION)

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        view = self.found
        resized = view.resized if view else None
        if view is not None and resized is not None:
            if self.large:
                return section_drawing.large_figure(view, resized, width, height, self.system)
            if self.page != "ratios" and (self.page != "picture" or width < WIDE):
                return stack(self._alone(view, resized, width, height))
        rows, after = self._above(view, resized, width, height)
        first = len(rows)
        if self.page == "picture" and view is not None and resized is not None and height - first < PICTURE:
            return stack(self._alone(view, resized, width, height))
        values = self.field_lines(min(width, 40), 12)
        room = max(6 if width >= WIDE else 3, height - first - len(after))
        rows += window(values, self.at, min(room, max(3, height - first)))
        if resized is None:
            return stack([*rows, *after][:height])
        if width >= WIDE:
            room = max(0, height - first - len(after))
            beside(rows, first, 40, self._side(resized, width - 40, room), width)
            return stack([*rows, *after][:height])
        table = section_drawing.ratios(resized, width)
        fits = len(rows) + len(after) + len(table) <= height
        return stack([*rows, *after, *(table if fits else [])][:height])

    def _above(
        self, view: SectionView | None, resized: Resized | None, width: int, height: int
    ) -> tuple[list[Content], list[Content]]:
        """What stands above the values, and what stands under them."""
        shown = view is not None and resized is not None and view.refusal is None
        rows, after = ([] if shown else [line(("SECTION", HEAD))]), list[Content]()
        if view is not None and view.refusal is not None:
            rows += [line((text, WRONG)) for text in wrapped(str(view.refusal), width)]
            rows += [line(("the last section that could be:"[:width], DIM))] if resized is not None else []
        if view is not None and resized is not None:
            rows += section_drawing.answer(view, resized, width, self.system)
            under, after = section_drawing.beneath(view, self.woods, width, self.system)
            room = height - len(rows) - 4  # some of the values must be seen
            if len(under) > room:
                under = [
                    *under[: max(0, room - 1)],
                    line((keyed(self, "<section.page> shows all that is to be said")[:width], WRONG)),
                ]
            rows += under
        return rows, after

    def _side(self, resized: Resized, columns: int, room: int) -> list[Content]:
        """The page beside the values; a table that has no room there says how all of it is seen."""
        if self.page == "picture":
            return section_drawing.picture(resized, columns, max(8, room), self.system)[:room]
        table = section_drawing.ratios(resized, columns)
        if len(table) <= room:
            return table
        return [
            *table[: max(0, room - 1)],
            line((keyed(self, "<section.page> shows all capacities")[:columns], DIM)),
        ][:room]

    def _alone(self, view: SectionView, resized: Resized, width: int, height: int) -> list[Content]:
        """A page without the values, so that all of it is seen."""
        field = self.field_here()
        stepped = f"{field.label}: {field.shown}" if field is not None else ""
        rows = [section_drawing.head(view, resized, stepped, width, self.system)]
        if self.page == "table":
            # Ten rows and the head come before the title.
            rows += section_drawing.ratios(resized, width, titled=height >= 12)
        elif self.page == "said":
            pass  # what is said follows every page
        elif self.page == "picture":
            rows += section_drawing.picture(resized, width, height - 1, self.system)
        else:
            rows += section_drawing.slips(view, self.system, width)
        return section_drawing.alone(view, self.woods, rows, width, height, self.system)[:height]
