"""What the one bench screen does for its record: an earlier state, and the trace of a part or stick."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

from textual import on
from textual.widget import Widget

from bench.ui.job_widget import JobWidget
from bench.ui.messages import LookBack, OpenParcel
from bench.ui.saw_screen import SawScreen

if TYPE_CHECKING:
    from bench.sheets import kinds
    from bench.ui.read_record import ReadRecord
    from bench.ui.remembering import Remembering


class RecordScreen(SawScreen):
    """Base of the bench screen."""

    @cached_property
    def read(self) -> ReadRecord:
        """The record as far as somebody has looked at it."""
        from bench.ui.read_record import ReadRecord

        return ReadRecord(self.ledger.record)

    @cached_property
    def earlier(self) -> Remembering:
        """Tells earlier jobs."""
        from bench.ui.remembering import Remembering

        return Remembering(self, self.ledger)

    def _new(self, name: str) -> Widget:
        """The screens that read the record are handed the ledger's."""
        woods = self.shelf.woods
        if name == "record":
            from bench.ui.record_view import RecordView

            return RecordView(self.read, self.earlier, self.shelf.files, self.shelf.papers, self.now)
        if name == "parcel":
            from bench.ui.parcel_view import ParcelView

            return ParcelView()
        if name == "earlier":
            from bench.ui.earlier_view import EarlierView

            return EarlierView(woods, self.earlier, self.read)
        if name == "trace":
            from bench.ui.trace_view import TraceView

            return TraceView(woods, self.read)
        return super()._new(name)

    def papers(self) -> kinds.Shelf | None:
        """What sheets are made from; nothing while something is only tried."""
        if self.river is None or self.ledger.trying:
            return None
        from bench.sheets import kinds

        shelf = self.shelf
        return kinds.Shelf(self.river, self.ledger.record, shelf.woods, shelf.sources, self.now()[:10])

    @on(LookBack)
    async def _look_back(self, message: LookBack) -> None:
        if self.left:
            return
        await self.have("earlier")
        earlier: Any = self.made["earlier"]
        earlier.show_after(message.number)
        await self.action_view("earlier")

    @on(OpenParcel)
    async def _open_parcel(self, message: OpenParcel) -> None:
        if self.left:
            return
        await self.have("parcel")
        parcel: Any = self.made["parcel"]
        parcel.show_parcel(message.parcel)
        await self.action_view("parcel")

    async def action_trace(self) -> None:
        """From what is highlighted back to its wood, or on to its parts."""
        name = self.view
        self.hand_to(self.pane)
        for place in (self.pane if name == "bench" else name, self.pane):
            shown = self.made[place]
            begin = shown.traced() if isinstance(shown, JobWidget) else None
            if begin is not None:
                break
        if begin is not None and name != "trace":
            await self.have("trace")
            trace: Any = self.made["trace"]
            trace.show_trace(*begin)
        await self.action_view("trace")
