"""What the one bench screen does for its record: an earlier state, and the trace of a part or stick."""

from textual import on
from textual.widgets import ContentSwitcher

from bench.sheets import kinds
from bench.sheets.telling import told_record
from bench.ui.earlier_view import EarlierView
from bench.ui.job_widget import JobWidget
from bench.ui.messages import LookBack, OpenParcel
from bench.ui.parcel_view import ParcelView
from bench.ui.record_view import RecordView
from bench.ui.saw_screen import SawScreen
from bench.ui.trace_view import TraceView
from bench.ui.views import Shelf


class RecordScreen(SawScreen):
    """Base of the bench screen."""

    pane: str
    shelf: Shelf

    def looking_back(self, shelf: Shelf) -> tuple[JobWidget, ...]:
        """The screens that read the record."""
        ledger = self.ledger
        return (
            RecordView(lambda: ledger.record, ledger.after, shelf.files, shelf.papers, self.now),
            ParcelView(),
            EarlierView(shelf.woods, ledger.after, self._told, lambda: len(ledger.record)),
            TraceView(shelf.woods, lambda: ledger.record),
        )

    def papers(self) -> kinds.Shelf | None:
        """What sheets are made from; nothing while something is only tried."""
        if self.river is None or self.ledger.trying:
            return None
        shelf = self.shelf
        return kinds.Shelf(self.river, self.ledger.record, shelf.woods, shelf.sources, self.now()[:10])

    def _told(self, number: int) -> tuple[str, str]:
        """Time and sentence of an entry."""
        record = self.ledger.record
        said = told_record(entry for _, entry in record[:number])
        return record[number - 1][0], said[number - 1]

    @on(LookBack)
    def _look_back(self, message: LookBack) -> None:
        self.query_one(EarlierView).show_after(message.number)
        self.action_view("earlier")

    @on(OpenParcel)
    def _open_parcel(self, message: OpenParcel) -> None:
        self.query_one(ParcelView).show_parcel(message.parcel)
        self.action_view("parcel")

    def action_trace(self) -> None:
        """From what is highlighted back to its wood, or on to its parts."""
        name = self.query_one("#views", ContentSwitcher).current or "bench"
        shown = self.query_one(f"#{self.pane if name == 'bench' else name}")
        begin = shown.traced() if isinstance(shown, JobWidget) else None
        if begin is None:
            begin = self.query_one(f"#{self.pane}", JobWidget).traced()
        if begin is not None and name != "trace":
            self.query_one(TraceView).show_trace(*begin)
        self.action_view("trace")
