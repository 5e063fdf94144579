"""Coupons together: mean, spread, lower limit, one group against another, and beside the book."""

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench.core import break_groups, breaks, coupon_wood, working_breaks
from bench.core.break_groups import BY, Group
from bench.core.edits import ChooseSection
from bench.core.errors import Clash, Refusal
from bench.core.frozen import replace
from bench.core.records import SectionChoice, Species
from bench.core.steps import Step
from bench.sheets import break_sheet, breaking, kinds
from bench.ui.drawing import DIM, HEAD, line, stack, wrapped
from bench.ui.empty import Empty, empty
from bench.ui.files import Files
from bench.ui.job_widget import JobWidget
from bench.ui.messages import GoTo, Say
from bench.ui.trial_drawing import DOTS, dots
from bench.ui.writing_out import Papers, WritingSheets

NONE = Empty("No test has a result yet.", ("go.breaks", "goes to Breaks, where coupons are tested"))


class GroupsView(JobWidget, WritingSheets):
    """Reads the coupons together; changes nothing of them."""

    BINDINGS = [
        Binding("right", "figure(1)", "Figure", id="groups.figure", tooltip="Another figure of the tests"),
        Binding("left", "figure(-1)", "Figure", id="groups.before", tooltip="The one before", show=False),
        Binding("n", "by", "Together by", id="groups.by", tooltip="By wood, lot, size, moisture, word"),
        Binding("down", "group(1)", "Group", id="groups.down", tooltip="The next group, marked >"),
        Binding("up", "group(-1)", "Group", id="groups.up", tooltip="The one before", show=False),
        Binding("pagedown", "move(10)", "Page", id="groups.page-down", tooltip="Further down"),
        Binding("pageup", "move(-10)", "Page", id="groups.page-up", tooltip="Back up", show=False),
        Binding("a", "use", "Into Section", id="groups.use", tooltip="Rest the section on the marked group"),
        Binding("v", "list", "Coupons", id="groups.list", tooltip="The list of coupons"),
        Binding("x", "to_file", "To file", id="groups.to-file", tooltip="The report of all tests, to a file"),
    ]

    figure: var[str] = var("", init=False)

    def __init__(self, woods: dict[str, Species], files: Files, papers: Papers) -> None:
        super().__init__(id="groups")
        self.woods, self.files, self.papers = woods, files, papers
        self.by = 0  # place in BY
        self.here = 0  # the marked group
        self.top = 0

    def watch_river(self) -> None:
        self.redraw()

    def begin_typing(self, character: str) -> None:
        """Nothing is typed here."""

    def results_here(self) -> tuple[breaks.Result, ...]:
        """What every coupon says."""
        return self.river.coupons if self.river is not None else ()

    def figures_here(self) -> list[str]:
        """The figures that any coupon has."""
        found = self.results_here()
        return [name for name in breaks.GROUPED if any(one.figure(name) is not None for one in found)]

    def figure_here(self) -> str:
        """The figure on show; empty where no coupon has any."""
        known = self.figures_here()
        return self.figure if self.figure in known else known[0] if known else ""

    def action_figure(self, amount: int) -> None:
        """Another figure."""
        known, here = self.figures_here(), self.figure_here()
        if known:
            self.figure, self.top = known[(known.index(here) + amount) % len(known)], 0
            self.redraw()

    def action_by(self) -> None:
        """Put together by something else."""
        self.by, self.top = (self.by + 1) % len(BY), 0
        self.redraw()

    def action_move(self, amount: int) -> None:
        """Further down, or back up."""
        self.top = max(0, self.top + amount)  # rendering keeps it within the page
        self.redraw()

    def groups_here(self) -> tuple[Group, ...]:
        """The groups of the figure on show."""
        figure = self.figure_here()
        if not figure:
            return ()
        return break_groups.groups(self.results_here(), figure, BY[self.by], self.woods)

    def action_group(self, amount: int) -> None:
        """Mark another group."""
        made = self.groups_here()
        if made:
            self.here = (min(self.here, len(made) - 1) + amount) % len(made)
            self.redraw()

    def action_use(self) -> None:
        """Rest the section on the marked group, in its wood; refused, with the reason, where it cannot."""
        made = self.groups_here()
        if not made:
            self.post_message(Say("no group to rest a section on"))
            return
        group = made[min(self.here, len(made) - 1)]
        if self.figure_here() not in coupon_wood.FROM.values():
            told = "only bending tests can carry a section: lt and rt go to bending strength"
            self.post_message(Say(told, wrong=True))
            return
        try:
            choice = self._choice(group, self.accepted.section)
            coupon_wood.of_group(
                breaks.results(self.accepted),
                self.woods[choice.use],
                choice.coupons_by,
                group.base,
                self.woods,
            )
            self.accept(lambda job: ChooseSection(self._choice(group, job.section)))
        except Refusal as refusal:
            self.post_message(Say(str(refusal), wrong=True))
            return
        told = f"the section is in {self._wood(group)} and rests on coupons of {group.base}"
        self.post_message(Say(f"{told}; <go.section> shows it, <job.undo> undoes it"))

    def _wood(self, group: Group) -> str:
        return self.woods[group.results[0].species].name

    def _choice(self, group: Group, section: SectionChoice) -> SectionChoice:
        """The section choice with the group's figures, in the one wood it is of."""
        keys = {found.species for found in group.results}
        if len(keys) != 1 or not keys <= set(self.woods):
            why = "its coupons are of more than one wood, or of none that is named"
            raise Clash("coupons", group.base, why)
        return replace(
            section,
            use=keys.pop(),
            gravity="coupons",
            coupons_by=BY[self.by],
            coupons=group.base,
            stick="",
            moisture=None,
        )

    def action_list(self) -> None:
        """The list of coupons."""
        self.post_message(GoTo("breaks"))

    def action_to_file(self) -> None:
        """Ask for a path, and write the report there."""
        self.write_sheet(kinds.BREAKS, done="report written")

    def steps(self) -> tuple[Step, ...]:
        """The working of the groups on show."""
        made = self.groups_here()
        return working_breaks.of_groups(made, break_groups.comparisons(made))

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        figure, by = self.figure_here(), BY[self.by]
        if not figure:
            return stack(empty(self, "GROUPS", NONE, width))
        made = self.groups_here()
        here = min(self.here, len(made) - 1)
        rows = dots(
            [
                (
                    f"{'>' if place == here else ' '}{group.name}",
                    group.values,
                    group.mean,
                    break_sheet.limit_of(group),
                )
                for place, group in enumerate(made)
            ],
            width,
        )
        rows.append(line((DOTS[:width], DIM)))
        for text in break_sheet.together(self.results_here(), figure, by, self.woods, self.system):
            rows += [line((part, "")) for part in wrapped(text, width, "  ")] or [Content("")]
        rows += [line((part, DIM)) for part in wrapped(breaking.CAUTION, width, "  ")]
        room = max(1, height - 1)
        self.top = min(self.top, max(0, len(rows) - room))
        left = len(rows) - room - self.top
        more = f"  {left} more below" if left > 0 else ""
        title = line(("GROUPS", HEAD), f"  {breaking.FIGURE[figure]}, {breaking.BY[by]}{more}"[: width - 6])
        return stack([title, *rows[self.top : self.top + room]])
