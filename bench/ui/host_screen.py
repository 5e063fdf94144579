"""The screen as a host: panes and screens are made when first shown, and only what is on show is told.

Whoever is not on show is handed the latest values when it is shown again; so a key costs nothing for what
nobody sees, and a start nothing for what nobody has asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from textual.reactive import var
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import ContentSwitcher

from bench.core.frozen import replace
from bench.core.records import Job
from bench.ui import views
from bench.ui.fieldpane import FieldPane
from bench.ui.frame import Head, MessageLine, RiverLines
from bench.ui.frames import Frames
from bench.ui.lined import Lined
from bench.ui.preferences import Preferences

if TYPE_CHECKING:
    from bench.core.river import River

PANES = ("float", "section", "cuts")
HANDED = (
    "preferences",
    "accepted",
    "drafting",
    "searching",
    "river",
)  # in this order: a river may change what the others are read for


class HostScreen(Screen[None]):
    """Base of the bench screen: what is handed down, and to whom."""

    river: var[River | None] = var(None, init=False, always_update=True)
    accepted: var[Job] = var(Job(""), init=False, always_update=True)
    drafting: var[bool] = var(False, init=False)
    preferences: var[Preferences] = var(Preferences(), init=False)
    searching: var[str] = var("", init=False)  # how far the search for a better layout has come

    shelf: views.Shelf
    rest: Callable[[], views.Rest] | None = None  # reads the library whole

    def __init__(self) -> None:
        super().__init__()
        self._compositor = Frames()
        self.head, self.river_lines, self.message = Head(), RiverLines(), MessageLine()
        self.switcher = ContentSwitcher(id="views", initial="bench")
        self.made: dict[str, Widget] = {}
        self.pane = "float"  # the one that has the keys on the bench
        self._whole = False  # whether more than the stick in hand has been worked out

    @property
    def view(self) -> str:
        """The screen on show: `bench`, or one round it."""
        return self.switcher.current or "bench"

    def pages(self) -> Mapping[str, Callable[[int], views.Lines]]:
        """What writes the screens that are only read."""
        raise NotImplementedError

    def say(self, text: str, wrong: bool = False) -> None:
        """A line for the user."""
        self.message.said = (self.shelf.keys.said(text), wrong)

    async def open_whole(self) -> None:
        """With the stick in hand on show: the whole job."""
        raise NotImplementedError

    def displayed(self) -> None:
        """A picture has gone out: behind the first one the whole job is worked out."""
        first = self.made.get(self.pane)
        drawn = first is not None and (first.size or self.has_class("small"))
        if drawn and self.is_current and not self._whole:
            self._whole = True
            self.call_later(self.open_whole)

    def _read_rest(self) -> None:
        """The rest of the library, which no first picture needs."""
        if self.rest is not None:
            woods, sources, faults = self.rest()
            self.rest = None
            self.shelf.woods.clear()
            self.shelf.woods.update(woods)
            self.shelf = replace(self.shelf, sources=sources, faults=faults)

    async def _arrange(self) -> None:
        """Which panes stand side by side, and which are a line each."""
        raise NotImplementedError

    def _focus(self) -> None:
        # At once: the next key may be waiting already.
        self.set_focus(self.made[self.pane if self.view == "bench" else self.view])

    async def _turn_to(self, view: str) -> None:
        """Show the bench or a screen round it; for a key that comes while the program is left, nothing."""
        if not self.switcher.is_attached:
            return
        if view != "bench":
            await self.have(view)
        self.switcher.current = view
        await self._arrange()
        self._focus()

    @property
    def left(self) -> bool:
        """Whether the app is being left: what still comes in has nowhere to be shown."""
        return not self.switcher.is_attached

    async def have(self, *names: str) -> None:
        """Make what is about to be shown and was never shown before."""
        for name in names:
            if name in self.made:
                self.hand_to(name)
                continue
            widget = self._make(name)
            if name in PANES:
                later = (other for other in PANES[PANES.index(name) + 1 :] if other in self.made)
                beside = self.query_one("#bench")
                before = next((self.made[other] for other in later if other != name), None)
                await beside.mount(widget, before=before)
            else:
                widget.display = False
                await self.switcher.mount(widget)

    def _make(self, name: str) -> Widget:
        self.made[name] = widget = self._new(name)
        self._hand(widget, *HANDED)
        return widget

    def _new(self, name: str) -> Widget:
        if name in views.PAGES:
            from bench.ui.reading_views import Reader

            return Reader(name, name.upper(), self.pages()[name])
        return views.made(name, self.shelf)

    # --- handing down --------------------------------------------------------------------------------

    def told(self) -> Iterator[Widget]:
        """Everything that is told at once: what is on show, and what keeps account while it is not."""
        yield self.head
        yield self.river_lines
        view = self.view
        for name, widget in self.made.items():
            shown = view == "bench" and widget.display if name in PANES else name == view
            if shown or name in self.following():
                yield widget

    def following(self) -> tuple[str, ...]:
        """Screens that are told though they are not on show."""
        return ()

    def _hand(self, widget: Widget, *names: str) -> None:
        for name in names:
            if hasattr(type(widget), name) and (name != "river" or self.river is not None):
                setattr(widget, name, getattr(self, name))

    def hand_to(self, name: str) -> None:
        """Hand the latest values to what is shown from now on."""
        if name in self.made:
            self._hand(self.made[name], *HANDED)

    def watch_river(self) -> None:
        self._hand_all("river")

    def watch_accepted(self) -> None:
        self._hand_all("accepted")

    def watch_drafting(self) -> None:
        self._hand_all("drafting")

    def watch_preferences(self) -> None:
        self._hand_all("preferences")

    def watch_searching(self) -> None:
        self._hand_all("searching")

    def _hand_all(self, name: str) -> None:
        for widget in self.told():
            self._hand(widget, name)

    def draw(self) -> None:
        """Draw all that may look otherwise in one go: one by one, each might wait for a frame of its own."""
        for widget in (*self.told(), self.message):
            if isinstance(widget, Lined):
                widget.redraw_due()

    def _field_panes(self) -> list[FieldPane]:
        return [widget for widget in self.made.values() if isinstance(widget, FieldPane)]

    def _panes_forget(self, subjects: Iterable[str]) -> None:
        for pane in self._field_panes():
            pane.forget(subjects)
