"""A guided first reading: the bench on a scratch job with an invented stick, and a guide above it.

Nothing of it reaches a file or the user's own job: the screen has a history of its own, saves nowhere, and is
gone when it is left.
"""

from collections.abc import Callable

from textual.app import ComposeResult
from textual.content import Content
from textual.reactive import var

from bench.core import demo_walk
from bench.core.demo_walk import MARK, MOISTURE, TAG
from bench.core.frozen import replace
from bench.core.history import EDIT, EMPTY, Entry
from bench.ui.bench_screen import BenchScreen
from bench.ui.drawing import HEAD, line, stack, wrapped
from bench.ui.files import NoFiles
from bench.ui.frame import LOW
from bench.ui.keys import keyed
from bench.ui.lined import Lined
from bench.ui.preferences import Preferences
from bench.ui.views import Shelf

# What the guide says, and when it goes on.
Step = tuple[str, Callable[["WalkScreen"], bool]]
STEPS: tuple[Step, ...] = (
    (
        f"The stick {TAG} is INVENTED. It floats upright, marked in tenths; the water stands halfway between "
        f"6.8 and 6.9. Type {MARK} and press Enter.",
        lambda walk: walk.ledger.trying,
    ),
    (
        f"Nothing is kept yet, the head says so. The moisture meter says {MOISTURE} %: type {MOISTURE} and "
        "press Enter.",
        lambda walk: f"reading {TAG}" in walk.ledger.drafts,
    ),
    (
        "Gravity, band, verdict, and where to draw the minimum on this stick. Up and down step a value, Tab "
        "takes the next. Enter keeps the reading.",
        lambda walk: any(stick.readings for stick in walk.job.sticks),
    ),
    (
        "Kept: in a job of your own it would be on disk now. Every figure can be followed with a pencil: "
        "press <go.working> for the working.",
        lambda walk: walk.view == "working",
    ),
    (
        "Formula, numbers, basis and source of each step; PgDn goes on. Esc goes back.",
        lambda walk: walk.view == "bench",
    ),
    (
        "That is a reading. <job.undo> would undo it, <go.help> explains every screen, <go.actions> finds "
        "any action. <job.leave> ends the walk: the invented stick is gone with it.",
        lambda walk: False,
    ),
)


class Guide(Lined):
    """What to do next, in a few lines."""

    at: var[int] = var(0, init=False)

    def watch_at(self) -> None:
        self.fit()

    def on_resize(self) -> None:
        self.fit()

    def fit(self) -> None:
        """As many lines as it needs."""
        self.styles.height = len(self._rows()) + (self.screen.size.height >= LOW)
        self.redraw()

    def _rows(self) -> list[Content]:
        lead = f"WALK {self.at + 1} of {len(STEPS)}"
        first, *rest = wrapped(f"{lead} {keyed(self, STEPS[self.at][0])}", max(20, self.size.width))
        return [line((lead, HEAD), first.removeprefix(lead)), *(Content(text) for text in rest)]

    def render(self) -> Content:
        return stack(self._rows())


class WalkScreen(BenchScreen):
    """The bench with a guide."""

    def __init__(self, shelf: Shelf, preferences: Preferences, now: Callable[[], str]) -> None:
        history, record = EMPTY, []
        for edit in demo_walk.entries():
            history = history.accept(edit)
            record.append((now(), Entry(EDIT, edit)))
        super().__init__(history, replace(shelf, files=NoFiles()), lambda entry, at: None, record, now=now)
        self.set_reactive(BenchScreen.preferences, preferences)

    def compose(self) -> ComposeResult:
        yield Guide()
        yield from super().compose()

    async def _flow_now(self) -> None:
        await super()._flow_now()
        self._guide_on()

    async def _arrange(self) -> None:
        await super()._arrange()
        self._guide_on()

    def _guide_on(self) -> None:
        """On to the first step that is still to be done."""
        guide = self.query_one(Guide)
        while STEPS[guide.at][1](self):
            guide.at += 1

    def _tell_saved(self) -> None:
        """There is no disk behind it."""
        self.head.saved = "a walk, never saved"

    def action_leave(self) -> None:
        """Back to where the walk was begun."""
        self.dismiss()
