"""What the one bench screen does for the saw: the layout that stays, and the search for a better one."""

from collections.abc import Callable

from textual import on
from textual.reactive import var
from textual.screen import Screen

from bench.core.history import Entry
from bench.core.river import River
from bench.sheets import saw
from bench.ui.cuts_pane import CutsPane
from bench.ui.keys import keyed
from bench.ui.ledger import Ledger
from bench.ui.messages import GoTo, GoToSaw, GoToTest, Search
from bench.ui.saw_view import SawView
from bench.ui.searching import Searcher, SearchFound, SearchMoved
from bench.ui.trial_view import TrialView


class SawScreen(Screen[None]):
    """Base of the bench screen."""

    river: var[River | None] = var(None, init=False, always_update=True)

    ledger: Ledger
    searcher: Searcher
    now: Callable[[], str]

    def say(self, text: str, wrong: bool = False) -> None:
        """A line for the user."""
        raise NotImplementedError

    def action_view(self, name: str) -> None:
        """Show another screen."""
        raise NotImplementedError

    def _keep(self, entry: Entry, at: str) -> None:
        raise NotImplementedError

    def _lay_out(self, river: River) -> River:
        """Keep the layout that came of the last change while parts are being sawn; say what moved."""
        at = self.now()
        entry, moved = self.ledger.lay_out(at)
        if moved:
            self.query_one(SawView).changed = saw.changed(moved)
        if entry is not None:
            river, _ = self.ledger.flow()
            self._keep(entry, at)
        self.searcher.follow(river, self.ledger.trying)
        if not self.searcher.running:
            self.query_one(CutsPane).searching = ""
        return river

    def on_unmount(self) -> None:
        """Leaving waits for no search."""
        self.searcher.stop()

    @on(GoToSaw)
    def _go_to_saw(self, message: GoToSaw) -> None:
        self.query_one(SawView).show_cut(message.part, message.stick, message.start, message.strip)
        self.action_view("saw")

    @on(GoTo)
    def _go_to(self, message: GoTo) -> None:
        self.action_view(message.name)

    @on(GoToTest)
    def _go_to_test(self, message: GoToTest) -> None:
        self.query_one(TrialView).show_coupon(message.tag)
        self.action_view("trial")

    @on(Search)
    def _search(self) -> None:
        if self.searcher.stop():
            self.query_one(CutsPane).searching = ""
            self.say("stopped: the best layout found so far stays")
        elif self.river is not None:
            self.searcher.look(self.river)

    @on(SearchMoved)
    def _search_moved(self, message: SearchMoved) -> None:
        if message.problem is self.searcher.problem:
            said = f"looking for a better layout: {message.percent} %; <cuts.search> stops"
            self.query_one(CutsPane).searching = keyed(self, said)

    @on(SearchFound)
    def _search_found(self, message: SearchFound) -> None:
        self.query_one(CutsPane).searching = ""
        self.searcher.ended()
        better = self.ledger.better(message.problem, message.changed, message.plan, message.scarfed)
        if better is not None:
            self.river = better
