"""The Stock screen: the sticks of the rack, one by one or by lots, and as a table from and to a file."""

from textual import events
from textual.binding import Binding
from textual.content import Content

from bench.core.edits import PutSticks
from bench.core.errors import Refusal
from bench.core.records import Species
from bench.sheets import stock_csv
from bench.sheets.stock_csv import Sheet
from bench.ui.drawing import HEAD, WRONG, line, stack, wrapped
from bench.ui.files import Files
from bench.ui.lots import lot_rows, lots
from bench.ui.messages import Say
from bench.ui.stock_rows import StockRows
from bench.ui.writing_out import WritingOut

LOTS, FAULTS = "lots", "faults"  # what may be shown in place of the sticks
OFFERED = "stock.csv"


class StockView(StockRows, WritingOut):
    """The rack; its lots and the faults of a file take the place of the sticks while they are looked at."""

    BINDINGS = [
        Binding("v", "lots", "Lots", id="stock.lots", tooltip="The rack by lots, or back to the sticks"),
        Binding("x", "to_file", "To file", id="stock.to-file", tooltip="Every stick into a table (CSV)"),
        Binding("j", "from_file", "From file", id="stock.from-file", tooltip="Sticks from a table (CSV)"),
    ]

    def __init__(self, woods: dict[str, Species], files: Files) -> None:
        super().__init__(woods)
        self.files = files
        self.page = ""  # LOTS or FAULTS while they are shown in place of the sticks
        self.faults: list[str] = []
        self.top = 0  # first line shown of the page

    # --- in place of the sticks ----------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        return not self.page or action in ("row", "lots")

    def take_key(self, event: events.Key) -> bool:
        amount = {"up": -1, "down": 1, "pageup": -10, "pagedown": 10}.get(event.key)
        if self.page and self._line is not None and amount is not None:
            self.action_row(amount)  # what is asked about can be read while it is asked
            return True
        if self.page and self._line is None and event.key == "escape":
            self._turn_to("")
            return True
        return super().take_key(event)

    def begin_typing(self, character: str) -> None:
        if not self.page:
            super().begin_typing(character)

    def _turn_to(self, page: str) -> None:
        self.page, self.top = page, 0
        self.refresh_bindings()
        self.redraw()

    def action_lots(self) -> None:
        """The rack by lots, or back to the sticks."""
        self._turn_to("" if self.page else LOTS)

    def action_row(self, amount: int) -> None:
        """Another row; a page is moved on."""
        if not self.page:
            super().action_row(amount)
            return
        last = len(self._page_lines(self.size.width)) - max(1, self.size.height - 1)
        self.top = min(max(0, self.top + amount), max(0, last))
        self.redraw()

    def _page_lines(self, width: int) -> list[Content]:
        if self.page == LOTS:
            cuts = self.river.job.sawn if self.river else ()
            return lot_rows(lots(self._rack, cuts), self.woods, self.system)
        return [line((part, WRONG)) for fault in self.faults for part in wrapped(fault, width, "  ")]

    def render(self) -> Content:
        if not self.page:
            return super().render()
        lines = self._page_lines(self.size.width)
        room = max(1, self.size.height - 1)
        self.top = min(self.top, max(0, len(lines) - room))
        title = "STOCK BY LOTS" if self.page == LOTS else "NOT READ FROM THE FILE"
        more = f"  {len(lines) - room - self.top} more below" if self.top + room < len(lines) else ""
        return stack(
            [line((title, HEAD), "  v back to the sticks", more), *lines[self.top : self.top + room]]
        )

    # --- files ---------------------------------------------------------------------------------------

    def action_to_file(self) -> None:
        """Ask for a path, and write every stick of the job there as a table."""
        sticks = self.accepted.sticks
        self.write_out(OFFERED, stock_csv.write(sticks), f"{_count(len(sticks))} written")

    def action_from_file(self) -> None:
        """Ask for a path, and take the sticks of the table there, all or on request those without a fault."""
        self.ask_line("sticks from file", "a path of a table of comma separated values", OFFERED, self._read)

    def _read(self, path: str) -> None:
        text = self.files.read(path)
        sheet = stock_csv.read(text, self.woods, self.taken(self.accepted), self.system)
        if not sheet.faults:
            self._import(sheet)
            return
        self.faults = [str(fault) for fault in sheet.faults]
        self._turn_to(FAULTS)
        told = (
            f"{len(self.faults)} fault{'' if len(self.faults) == 1 else 's'}, nothing taken: {self.faults[0]}"
        )
        if not sheet.sticks:
            self.post_message(Say(told, wrong=True))
            return

        def take(answer: str) -> None:
            if answer.strip().lower() != "rest":
                raise Refusal("type rest to take the sound ones, Esc takes none", "answer", answer)
            self._import(sheet)
            self._turn_to("")

        prompt = f"type rest to take the other {len(sheet.sticks)}, Esc takes none"
        self.ask_line(prompt, told, "", take)

    def _import(self, sheet: Sheet) -> None:
        sticks = sheet.sticks
        self.accept(lambda job: PutSticks(sticks))
        self.awaited = sticks[0].tag
        self.post_message(Say(f"{_count(len(sticks))} taken; u takes them out again"))


def _count(sticks: int) -> str:
    return f"{sticks} stick{'' if sticks == 1 else 's'}"
