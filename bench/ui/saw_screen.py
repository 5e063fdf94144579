"""What the one bench screen does for the saw: the layout that stays, and the search for a better one."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Any

from textual import on

from bench.core.errors import FileFault
from bench.core.history import Entry
from bench.sheets import wording
from bench.ui.keys import keyed
from bench.ui.messages import GoTo, GoToSaw, GoToTest, Search
from bench.ui.saved_screen import SavedScreen
from bench.ui.searching import Searcher, SearchFound, SearchMoved

if TYPE_CHECKING:
    from bench.core.river import River
    from bench.core.sawing import Change


class SawScreen(SavedScreen):
    """Base of the bench screen."""

    searcher: Searcher

    async def action_view(self, name: str) -> None:
        """Show another screen."""
        raise NotImplementedError

    def _keep(self, entry: Entry, at: str) -> None:
        raise NotImplementedError

    def following(self) -> tuple[str, ...]:
        """The saw keeps account of what was laid out anew."""
        return ("saw",)

    async def _lay_out(self, river: River) -> River:
        """Keep the layout that came of the last change while parts are being sawn; say what moved."""
        at = self.now()
        entry, moved = self.ledger.lay_out(at)
        await self._tell_moved(moved)
        if entry is not None:
            river, _ = self.ledger.flow()
            self._keep(entry, at)
        self.searcher.follow(river, self.ledger.trying)
        if not self.searcher.running:
            self.searching = ""
        return river

    async def _tell_moved(self, moved: tuple[Change, ...]) -> None:
        """The saw lists what was laid out anew."""
        if moved and not self.left:
            from bench.sheets import saw

            await self.have("saw")
            view: Any = self.made["saw"]
            view.changed = saw.changed(moved)

    async def _tell_moved_before(self) -> None:
        """What was laid out anew before the job was closed is told as then."""
        with suppress(FileFault):  # a record that cannot be read any more is told of elsewhere
            await self._tell_moved(self.ledger.laid_anew())
            self.hand_to("saw")  # the job that it tells of

    def on_unmount(self) -> None:
        """Leaving waits for no search."""
        self.searcher.stop()

    @on(GoToSaw)
    async def _go_to_saw(self, message: GoToSaw) -> None:
        if self.left:
            return
        await self.have("saw")
        view: Any = self.made["saw"]
        view.show_cut(message.part, message.stick, message.start, message.strip)
        await self.action_view("saw")

    @on(GoTo)
    async def _go_to(self, message: GoTo) -> None:
        if self.left:
            return
        await self.action_view(message.name)

    @on(GoToTest)
    async def _go_to_test(self, message: GoToTest) -> None:
        if self.left:
            return
        await self.have("trial")
        view: Any = self.made["trial"]
        view.show_coupon(message.tag)
        await self.action_view("trial")

    @on(Search)
    def _search(self) -> None:
        if self.searcher.stop():
            self.searching = ""
            self.say("stopped: the best layout found so far stays")
        elif self.river is not None:
            self.searcher.look(self.river, asked=True)

    @on(SearchMoved)
    def _search_moved(self, message: SearchMoved) -> None:
        if self.searcher.runs(message.search):
            said = f"looking for a better layout: {message.percent} %; <cuts.search> stops"
            self.searching = keyed(self, said)

    @on(SearchFound)
    def _search_found(self, message: SearchFound) -> None:
        asked = False
        if self.searcher.running:
            if not self.searcher.runs(message.search):
                return  # it was stopped, and another began with what was on show
            self.searching, asked = "", self.searcher.asked
            self.searcher.ended()
        before = self.river.plan if self.river is not None else None
        better = self.ledger.better(message.problem, message.changed, message.plan, message.scarfed)
        if better is not None:
            self.river = better
        if asked:
            self.say(wording.search_found(before, better.plan if better is not None else None))
