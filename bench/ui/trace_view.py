"""The Trace screen: from a part back to the wood, and from a stick on to every part."""

from collections.abc import Mapping, Sequence

from textual.binding import Binding

from bench.core import tracing
from bench.core.frozen import replace
from bench.core.records import Species
from bench.core.river import River
from bench.sheets import tracing as words
from bench.sheets.tracing import PART, STICK, Row
from bench.ui.between import Between
from bench.ui.drawing import HEAD, fit, wrapped
from bench.ui.picked import Picked
from bench.ui.read_record import AT_ONCE, FEW, ReadRecord

Target = tuple[str, str]  # PART or STICK, and its name


class TraceView(Picked):
    """Reads the job and its record; Enter follows a line to what it names."""

    BINDINGS = [
        Binding(
            "enter", "follow", "Follow", id="trace.follow", tooltip="On to the stick or part named there"
        ),
        Binding(
            "left",
            "last",
            "Go back",
            id="trace.last",
            key_display="lt",
            tooltip="Back to what was followed from",
        ),
        Binding(
            "right",
            "next",
            "Next named",
            id="trace.next",
            key_display="rt",
            tooltip="To the next line that can be followed",
        ),
    ]

    def __init__(self, woods: Mapping[str, Species], read: ReadRecord) -> None:
        super().__init__(id="trace")
        self.woods, self.read = woods, read
        self.targets: tuple[tuple[Target, int], ...] = ()  # what was followed, each with its row
        self._known: tuple[tuple[River, int, Target, int], list[Row]] | None = None
        self._noting = Between(self, lambda: bool(self.read.note(FEW)), self.redraw)

    def show_trace(self, kind: str, name: str) -> None:
        """The trace of a part or a stick."""
        self.targets, self.place = (((kind, name), 0),), 0
        self.redraw()

    # --- the rows ------------------------------------------------------------------------------------

    def _rows(self) -> list[Row]:
        if self.river is None or not self.targets:
            return []
        target, width = self.targets[-1][0], max(20, self.size.width)
        self._note()
        of, known = (self.river, self.read.noted, target, width), self._known
        if known is None or known[0] != of:
            self._known = known = (of, self._broken(target, self.river, width))
        return known[1]

    def _note(self) -> None:
        """Where things are noted in what was accepted since; in a long record between the keys."""
        left = len(self.read) - self.read.noted
        if left > AT_ONCE:
            self._noting.go_on()
        elif left and not self._noting.running:
            self.read.note(left)

    def _broken(self, target: Target, river: River, width: int) -> list[Row]:
        """The rows broken into lines; only the first line of a row can be followed."""
        lines = []
        for row in self._honest(self._written(target, river)):
            lead = 0 if row.heading else 2 + len(row.text) - len(row.text.lstrip())
            first, *rest = wrapped(row.text, width - lead - 4) or [""]
            lines.append(Row(" " * lead + first, row.heading, row.target))
            lines += [Row(" " * (lead + 4) + text) for text in rest]
        return lines

    def _honest(self, rows: Sequence[Row]) -> Sequence[Row]:
        """What was not found in the record is not missing there before all of it has been read."""
        if self.read.noted == len(self.read):
            return rows
        return [replace(row, text=row.text.replace(words.NOT_ENTERED, "not found yet")) for row in rows]

    def _written(self, target: Target, river: River) -> Sequence[Row]:
        kind, name = target
        if kind == STICK:
            return words.of_stick(tracing.of_stick(name, river, self.read.notes), river, self.woods)
        trace = tracing.of_part(name, river, self.read.notes)
        return words.of_part(trace, river, self.woods) if trace is not None else ()

    def count(self) -> int:
        return len(self._rows())

    # --- the picture ---------------------------------------------------------------------------------

    def head(self) -> str:
        path = " > ".join(f"{kind} {name}" for (kind, name), _ in self.targets)
        noted, count = self.read.noted, len(self.read)
        still = f"{noted:,} of {count:,} entries read;  " if noted < count else ""
        return f"TRACE  {still}{path}"

    def row(self, place: int, width: int) -> Sequence[tuple[str, str]]:
        row = self._rows()[place]
        style = HEAD if row.heading else ""
        if row.target is None or row.target == self.targets[-1][0]:
            return ((row.text, style),)
        return ((fit(row.text, max(0, width - 2)), style), (" >", HEAD))

    def empty(self) -> str:
        there = "<go.parts> shows the parts, <go.stock> the sticks"
        return f"Nothing to trace yet: a part or a stick is wanted. {there}."

    # --- keys ----------------------------------------------------------------------------------------

    def _followed(self, place: int) -> Target | None:
        """What a row names, but what is on show."""
        target = self._rows()[place].target
        return target if target != self.targets[-1][0] else None

    def action_follow(self) -> None:
        """On to what the highlighted row names."""
        rows = self._rows()
        target = self._followed(min(self.place, len(rows) - 1)) if rows else None
        if target is None:
            self.action_next()
            return
        kept = (*self.targets[:-1], (self.targets[-1][0], self.place))
        self.targets, self.place = (*kept[-8:], (target, 0)), 0
        self.redraw()

    def action_next(self) -> None:
        """To the next row that names something, round and round."""
        count = self.count()
        for step in range(1, count + 1):
            place = (self.place + step) % count
            if self._followed(place) is not None:
                self.place = place
                return

    def action_last(self) -> None:
        """Back to what was followed from."""
        if len(self.targets) > 1:
            self.targets = self.targets[:-1]
            self.place = self.targets[-1][1]
            self.redraw()


__all__ = ["PART", "STICK", "TraceView"]
