"""The Cuts pane: the parts of the job laid out on the sticks at hand, and where that leads."""

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench import units
from bench.core import sawing
from bench.core.cutting import CutPlan
from bench.core.edits import LayOut
from bench.core.records import CutMade, Laid, Species
from bench.core.river import River
from bench.core.sawing import laid_from
from bench.core.totals import totals
from bench.sheets import kinds, wording
from bench.sheets import totals as sheet_totals
from bench.sheets.tracing import PART
from bench.ui.cuts_drawing import ZOOMS, body, cut_line, in_view, large_piece, no_place, stick_length
from bench.ui.drawing import DIM, HEAD, TRIED, WRONG, line, stack, wrapped
from bench.ui.empty import Empty, empty
from bench.ui.files import Files
from bench.ui.job_widget import JobWidget
from bench.ui.messages import GoTo, GoToSaw, Say, Search
from bench.ui.writing_out import Papers, WritingSheets

NO_PARTS = Empty("No parts yet, so nothing is laid out.", ("go.parts", "goes to Parts, the drawing's list"))
VIEWS = ("layout", "totals")


def same_picture(old: River | None, new: River | None) -> bool:
    """Whether the pane draws the same of two rivers. What did not change is the same object in both."""
    if old is None or new is None:
        return False
    return (
        old.plan is new.plan
        and old.plan_refusal is new.plan_refusal
        and old.section is new.section
        and old.job.parts is new.job.parts
        and old.job.cuts is new.job.cuts
        and old.job.laid is new.job.laid
        and old.problem == new.problem
        and old.job.settings is new.job.settings
        and old.doubtful == new.doubtful
        and (old.rack is new.rack or _same_sticks(old, new))
    )


def _same_sticks(old: River, new: River) -> bool:
    """Whether every stick of the layout is as good, and lost in the same places; no other is drawn."""
    rows = new.plan.sticks if new.plan is not None else ()
    return len(old.rack) == len(new.rack) and all(_same_stick(old, new, row.tag) for row in rows)


def _same_stick(old: River, new: River, tag: str) -> bool:
    before, after = old.job.place(tag), new.job.place(tag)
    if before is None or after is None:
        return before == after
    was, now = old.rack.grade(before), new.rack.grade(after)
    return was is now or (was.words == now.words and was.stick.defects == now.stick.defects)


class CutsPane(JobWidget, WritingSheets):
    """Shows the layout stick by stick, lights one piece, and leads to the saw."""

    BINDINGS = [
        Binding("down", "move(1)", "Next piece", id="cuts.next", tooltip="The next piece of the layout"),
        Binding("up", "move(-1)", "Next piece", id="cuts.back", tooltip="The piece before", show=False),
        Binding(
            "plus", "move(1)", "Next piece", id="cuts.next-pad", tooltip="The same, number pad", show=False
        ),
        Binding("minus", "move(-1)", "Next piece", id="cuts.back-pad", tooltip="Number pad", show=False),
        Binding("pagedown", "move(10)", "Ten on", id="cuts.leap", tooltip="Ten pieces on"),
        Binding("pageup", "move(-10)", "Ten on", id="cuts.leap-back", tooltip="Ten back", show=False),
        Binding("enter", "saw", "At the saw", id="cuts.saw", tooltip="The saw, with this piece first"),
        Binding("n", "zoom", "Nearer", id="cuts.zoom", tooltip="Draw it 1, 2, 4 or 8 times as large"),
        Binding("right", "along(1)", "Along", id="cuts.along", tooltip="Along the sticks, when nearer"),
        Binding("left", "along(-1)", "Along", id="cuts.along-back", tooltip="Back along them", show=False),
        Binding("v", "turn", "View", id="cuts.view", tooltip="The layout, or totals and what has no place"),
        Binding(
            "k", "search", "Better layout", id="cuts.search", tooltip="Look for a better layout; again: stop"
        ),
        Binding("a", "anew", "Lay out anew", id="cuts.anew", tooltip="Let go of the layout being sawn"),
        Binding("g", "buy", "Buy", id="cuts.buy", tooltip="What to order for what has no place"),
        Binding("x", "out", "To file", id="cuts.out", tooltip="The cut sheet or the labels into a file"),
    ]

    drafting: var[bool] = var(False, init=False)
    large: var[bool] = var(False, init=False)
    at: var[int] = var(0, init=False)
    nearer: var[int] = var(0, init=False)  # place in ZOOMS
    first: var[int] = var(0, init=False)  # how many half widths along the sticks
    view: var[str] = var(VIEWS[0], init=False)
    searching: var[str] = var("", init=False)  # how far the search for a better layout has come

    def __init__(self, woods: dict[str, Species], files: Files, papers: Papers) -> None:
        super().__init__(id="cuts")
        self.woods, self.files, self.papers = woods, files, papers
        # The layout and the cuts made that the piece to be sawn next was looked up for, and its place.
        self.next_of: tuple[CutPlan | None, tuple[CutMade, ...], int] = (None, (), 0)
        self.chosen = False  # whether another piece was taken since the saw was last shown

    def watch_river(self, old: River | None, new: River | None) -> None:
        # Totals weigh every stick; what is drawn of a layout is less.
        if self.view == "totals" or not same_picture(old, new):
            self.at = min(self.at if self.chosen else self._first(), max(0, len(self.pieces()) - 1))
            self.redraw()

    def watch_at(self) -> None:
        self.redraw()

    def watch_large(self) -> None:
        self.redraw()

    def watch_nearer(self) -> None:
        self.redraw()

    def watch_first(self) -> None:
        self.redraw()

    def watch_view(self) -> None:
        self.redraw()

    def watch_searching(self) -> None:
        self.redraw()

    def pieces(self) -> tuple[Laid, ...]:
        """The pieces of the layout in the order in which they are listed."""
        plan = self.river.plan if self.river else None
        return () if plan is None else laid_from(plan)

    def _first(self) -> int:
        """Which of the pieces is sawn next: the saw shows it unless it was led elsewhere."""
        river = self.river
        if river is None or river.plan is None:
            return 0
        plan, cuts = river.plan, river.job.cuts
        if self.next_of[0] is not plan or self.next_of[1] is not cuts:
            queue = sawing.queue(river.job, plan)
            self.next_of = (plan, cuts, self.pieces().index(queue[0].piece) if queue else 0)
        return self.next_of[2]

    def traced(self) -> tuple[str, str] | None:
        piece = self.piece_here()
        return (PART, piece.part) if piece is not None else super().traced()

    def piece_here(self) -> Laid | None:
        """The highlighted piece."""
        pieces = self.pieces()
        return pieces[min(self.at, len(pieces) - 1)] if pieces else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that would do nothing now are not offered."""
        if action == "along":
            return self.nearer > 0
        return bool(self.accepted.laid) if action == "anew" else True

    # --- keys ----------------------------------------------------------------------------------------

    def begin_typing(self, character: str) -> None:
        self.post_message(
            Say("nothing is typed here: <go.parts> changes parts, <go.stock> sticks, Enter goes to the saw")
        )

    def action_move(self, amount: int) -> None:
        """Another piece."""
        self.chosen = self.chosen or bool(amount)
        self.at = min(max(0, self.at + amount), max(0, len(self.pieces()) - 1))
        piece = self.piece_here()
        if piece is not None and self.river is not None and ZOOMS[self.nearer] > 1:
            self.first = in_view(self.river, piece, ZOOMS[self.nearer], self.first)

    def action_saw(self) -> None:
        """To the saw: the piece that was moved to first, else the cut that it was left at."""
        piece = self.piece_here()
        if piece is None:
            self._say_nothing()
        elif self.chosen:
            self.chosen = False
            self.post_message(GoToSaw(piece.part, piece.stick, piece.start, piece.strip))
        else:
            self.post_message(GoTo("saw"))

    def _say_nothing(self) -> None:
        done = len(self.accepted.cuts)
        left = sum(part.quantity for part in self.accepted.parts) - done
        self.post_message(Say("nothing is laid out to cut" if left or not done else wording.all_cut(done)))

    def action_zoom(self) -> None:
        """Nearer, and after the nearest the whole again."""
        self.nearer = (self.nearer + 1) % len(ZOOMS)
        self.first = 0
        self.action_move(0)
        self.refresh_bindings()

    def action_along(self, amount: int) -> None:
        """Half a width along the sticks."""
        self.first = min(max(0, self.first + amount), 2 * (ZOOMS[self.nearer] - 1))

    def action_turn(self) -> None:
        """Layout, totals."""
        self.view = VIEWS[(VIEWS.index(self.view) + 1) % len(VIEWS)]

    def action_search(self) -> None:
        """Look for a better layout, or stop looking."""
        if self.river is None or self.river.plan is None or not self.river.plan.placed:
            self._say_nothing()
        elif self.river.job.laid:
            self.post_message(Say("this layout is being sawn and stays; a lets go of it"))
        else:
            self.post_message(Search())

    def action_anew(self) -> None:
        """Let go of the layout that is being sawn."""
        if self.accepted.laid:
            self.accept(lambda job: LayOut(()))

    async def action_buy(self) -> None:
        """What to order."""
        await self.run_action("screen.view('buying')")

    def action_out(self) -> None:
        """The cut sheet, or the labels."""
        if self.river is None or self.river.plan is None:
            self.post_message(Say("nothing is laid out"))
        else:
            self.write_sheet(kinds.CUTS)

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        river, head = self.river, [line(("CUTS", HEAD))]
        if river is None or not river.job.parts:
            return stack(empty(self, "CUTS", NO_PARTS, width))
        if river.plan_refusal is not None or river.plan is None:
            return stack([*head, *(line((text, WRONG)) for text in wrapped(str(river.plan_refusal), width))])
        piece = self.piece_here()
        if self.large and piece is not None:
            return large_piece(river, piece, *self.size)
        head += self._summary(river, width)
        if self.view == "totals":
            return stack([*head, *no_place(river, width), *self._totals(river, width)][:height])
        foot = [] if piece is None else cut_line(river, piece, width)
        room = max(1, height - len(head) - len(foot))
        rows = body(river, piece, width, ZOOMS[self.nearer], self.first, room)
        return stack([*head, *rows, *foot][:height])

    def _totals(self, river: River, width: int) -> list[Content]:
        """Placed, opened, wasted, and what it weighs against the drawing."""
        rows = []
        for name, text in sheet_totals.lines(totals(river, self.woods), river.job.settings, self.woods):
            first, *rest = wrapped(text, max(20, width - 18)) or [""]
            rows.append(line((f"{name:<17} ", DIM), first))
            rows += [line(" " * 18 + more) for more in rest]
        return rows

    def _summary(self, river: River, width: int) -> list[Content]:
        assert river.plan is not None
        system = river.job.settings.units
        pieces = sum(sized.part.quantity - sized.made for sized in river.parts)
        said = [(wording.plan_line(river.plan, pieces, len(river.job.cuts)), "")]
        said.append((wording.outgrown(river.outgrown(), system), TRIED))
        if river.job.laid:
            said.append(("being sawn: it stays as it is", DIM))
        said.append((self.searching, TRIED))
        left = river.plan.largest_offcut
        offcut = f"longest piece left {units.place(left, system)}"
        if not left:
            offcut = f"no offcut of {river.job.settings.least_offcut.text} or more"
        zoom = ZOOMS[self.nearer]
        shown = f"; {zoom} x, from {stick_length(river, self.first, zoom, system)}" if zoom > 1 else ""
        said.append((f"{offcut}; kerf {river.job.settings.kerf.text}{shown}", DIM))
        return [line((row, style)) for text, style in said for row in wrapped(text, width, "  ")]
