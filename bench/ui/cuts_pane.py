"""The Cuts pane: the parts of the job laid out on the sticks at hand; one key ticks a cut off."""

from dataclasses import dataclass
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content
from textual.reactive import var

from bench import units
from bench.core.acceptance import HOLD
from bench.core.cutting import StickPlan
from bench.core.edits import MarkCut
from bench.core.judging import Judged
from bench.core.records import CutMade, Stick
from bench.core.river import River, SizedPart
from bench.sheets import wording
from bench.ui.drawing import DIM, HEAD, HERE, WRONG, large, line, stack, wrapped
from bench.ui.keys import KeyWidget
from bench.ui.messages import Accept, Say


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece still to be cut, as the pane lists it."""

    part: str
    stick: str
    start: Fraction
    end: Fraction


def _same_picture(old: River | None, new: River | None) -> bool:
    """Whether the pane draws the same of two rivers. What did not change is the same object in both."""
    if old is None or new is None:
        return False
    return (
        old.plan is new.plan
        and old.plan_refusal is new.plan_refusal
        and old.section is new.section
        and old.job.parts is new.job.parts
        and old.job.cuts is new.job.cuts
        and old.job.settings is new.job.settings
        and [judged.words for judged in old.rack] == [judged.words for judged in new.rack]
    )


class CutsPane(KeyWidget):
    """Shows the plan stick by stick and walks through the pieces."""

    BINDINGS = [
        Binding("down", "move(1)", "Next cut", id="cuts.next", tooltip="The next piece of the plan"),
        Binding("up", "move(-1)", "Back", id="cuts.back", tooltip="The piece before", show=False),
        Binding(
            "plus", "move(1)", "Next cut", id="cuts.next-pad", tooltip="The same, number pad", show=False
        ),
        Binding("minus", "move(-1)", "Back", id="cuts.back-pad", tooltip="The same, number pad", show=False),
        Binding("pagedown", "move(10)", "Ten on", id="cuts.leap", tooltip="Ten pieces on"),
        Binding("pageup", "move(-10)", "Ten back", id="cuts.leap-back", tooltip="Ten back", show=False),
        Binding("enter", "made", "Cut made", id="cuts.made", tooltip="Tick the piece off: it is sawn"),
    ]

    river: var[River | None] = var(None, init=False, always_update=True)
    drafting: var[bool] = var(False, init=False)
    large: var[bool] = var(False, init=False)
    at: var[int] = var(0, init=False)

    def __init__(self) -> None:
        super().__init__(id="cuts")

    def watch_river(self, old: River | None, new: River | None) -> None:
        self.at = min(self.at, max(0, len(self.pieces()) - 1))
        if not _same_picture(old, new):
            self.refresh()

    def watch_at(self) -> None:
        self.refresh()

    def watch_large(self) -> None:
        self.refresh()

    def pieces(self) -> tuple[Piece, ...]:
        """The pieces of the plan in the order in which they are listed."""
        if self.river is None or self.river.plan is None:
            return ()
        return tuple(
            Piece(piece.part, plan.tag, piece.start, piece.end)
            for plan in self.river.plan.sticks
            for piece in plan.pieces
        )

    def piece_here(self) -> Piece | None:
        """The highlighted piece."""
        pieces = self.pieces()
        return pieces[min(self.at, len(pieces) - 1)] if pieces else None

    def action_move(self, amount: int) -> None:
        """Another piece."""
        self.at = min(max(0, self.at + amount), max(0, len(self.pieces()) - 1))

    def action_made(self) -> None:
        """Tick the highlighted piece off."""
        piece = self.piece_here()
        if piece is None:
            self.post_message(Say("nothing is laid out to cut"))
        elif self.drafting:
            self.post_message(
                Say("a change is being tried: Enter on its pane keeps it, Esc drops it", wrong=True)
            )
        else:
            sized = self._sized(piece.part)
            size = (sized.width, sized.depth) if sized else (None, None)
            made = MarkCut(CutMade(piece.part, piece.stick, piece.start, piece.end, *size))
            self.post_message(Accept(lambda job: made))

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, self.size.height
        river = self.river
        head = [line(("CUTS", HEAD))]
        if river is None or not river.job.parts:
            return stack(
                [
                    *head,
                    *(
                        Content(text)
                        for text in wrapped("No parts yet. Press p for Parts, then a to add one.", width)
                    ),
                ]
            )
        if river.plan_refusal is not None or river.plan is None:
            return stack([*head, *(line((text, WRONG)) for text in wrapped(str(river.plan_refusal), width))])
        if self.large and self.piece_here() is not None:
            return self._large()
        head += self._summary(river, width)
        body, here = self._body(river, width)
        foot = self._foot(width)
        room = max(1, height - len(head) - len(foot))
        top = max(0, min(here - room // 2, len(body) - room))
        return stack([*head, *body[top : top + room], *foot])

    def _summary(self, river: River, width: int) -> list[Content]:
        assert river.plan is not None
        pieces = sum(sized.part.quantity - sized.made for sized in river.parts)
        text = wording.plan_line(river.plan, pieces, len(river.job.cuts))
        offcut = units.place(river.plan.largest_offcut, river.job.settings.units)
        rows = [Content(part) for part in wrapped(text, width, "  ")]
        kept = wording.outgrown(river.outgrown(), river.job.settings.units)
        rows += [line((part, "ansi_yellow")) for part in wrapped(kept, width, "  ")]
        return [
            *rows,
            line((f"longest piece left {offcut}; kerf {river.job.settings.kerf.text}"[:width], DIM)),
        ]

    def _body(self, river: River, width: int) -> tuple[list[Content], int]:
        assert river.plan is not None
        doubtful = wording.doubtful(river.doubtful)
        rows = [line((text, WRONG)) for text in wrapped(doubtful, width, "  ")]
        here, count = 0, 0
        current = self.piece_here()
        for out in river.plan.unplaced:
            barred = next((sized.barred_by for sized in river.parts if sized.part.name == out.part), "")
            why = wording.unplaced(out, barred, river.job.settings.units)
            text = f"no place: {out.quantity} x {out.part}: {why}"
            style = WRONG if out.critical else "ansi_yellow"
            rows += [line((part, style)) for part in wrapped(text, width, "  ")]
        for plan in river.plan.sticks:
            judged = river.judged(plan.tag)
            assert judged is not None
            if current is not None and current.stick == plan.tag:
                here = len(rows)
            held = "  ON HOLD" if self._held(plan, judged) else ""
            head = f"{plan.tag}  {units.place(judged.stick.length.exact, river.job.settings.units)}{held}"
            rows.append(line((head[:width], "bold")))
            rows.append(self._bar(plan, judged.stick, width, count))
            count += len(plan.pieces)
        return rows, here

    def _held(self, plan: StickPlan, judged: Judged) -> bool:
        """Whether the stick is on hold for what any piece of it becomes."""
        assert self.river is not None
        uses = {part.name: part.use for part in self.river.job.parts}
        return any(judged.words[uses[piece.part]] == HOLD for piece in plan.pieces)

    def _bar(self, plan: StickPlan, stick: Stick, width: int, count: int) -> Content:
        """A stick drawn to scale: pieces with their names, x for lost wood, = for pieces already cut."""
        assert self.river is not None
        columns = max(10, width)
        length = stick.length.exact
        cells: list[tuple[str, str]] = [(".", DIM)] * columns

        def fill(start: Fraction, end: Fraction, text: str, style: str) -> None:
            first = int(start * columns / length)
            last = max(first + 1, min(columns, int(end * columns / length)))
            drawn = text[: last - first].ljust(last - first, text[-1] if len(text) == 1 else " ")
            for place, char in enumerate(drawn, first):
                if place < columns:
                    cells[place] = (char, style)

        for defect in stick.defects:
            low, high = sorted((defect.start.exact, defect.end.exact))
            fill(low, high, "x", "ansi_red")
        for cut in self.river.job.cuts:
            if cut.stick == stick.tag:
                fill(cut.start, cut.end, "=", DIM)
        for number, piece in enumerate(plan.pieces, count):
            style = HERE if number == self.at else ""
            fill(piece.start, piece.end, "|" + piece.part, style)
        return line(*cells)

    def _sized(self, part: str) -> SizedPart | None:
        parts = self.river.parts if self.river else ()
        return next((sized for sized in parts if sized.part.name == part), None)

    def _next(self) -> tuple[str, str]:
        """Where the highlighted piece is cut, and what it is dressed to."""
        piece = self.piece_here()
        assert piece is not None and self.river is not None
        system = self.river.job.settings.units
        where = (
            f"on {piece.stick} from {units.place(piece.start, system)} to {units.place(piece.end, system)}"
        )
        sized = self._sized(piece.part)
        if sized is None:
            return where, ""
        return where, f"dress to {units.sides(sized.width, sized.depth, system)}"

    def _foot(self, width: int) -> list[Content]:
        piece = self.piece_here()
        if piece is None or self.river is None:
            return []
        where, dress = self._next()
        rough = units.place(piece.end - piece.start, self.river.job.settings.units)
        text = f"cut: {piece.part}, {rough}, {where}; {dress}"
        return [line((part, "bold")) for part in wrapped(text, width, "  ")]

    def _large(self) -> Content:
        """The next cut alone."""
        piece = self.piece_here()
        assert piece is not None and self.river is not None
        system = self.river.job.settings.units
        number, *unit = units.place(piece.end - piece.start, system).split()
        below = [
            Content(""),
            *(line((text, "bold")) for text in (" ".join([number, *unit]), *self._next())),
            line((f"{len(self.river.job.cuts)} cut, {len(self.pieces())} to go", DIM)),
        ]
        shown = units.place(piece.end - piece.start, system).rsplit(" ", 1)[0]
        return large(f"CUT {self.at + 1}  {piece.part}", shown, below, *self.size)
