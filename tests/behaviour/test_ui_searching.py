"""The search in the background by keys: it shows its progress, a key stops it, what it found is taken."""

import threading
from collections.abc import Callable
from dataclasses import replace

from textual.message import Message

from bench.core import cutting
from bench.core.demo import entries
from bench.core.edits import PutPart
from bench.core.records import Species
from bench.core.river import flow
from bench.sheets import wording
from bench.ui.searching import Searcher, SearchFound
from tests.tools.at_the_saw import ash_list, book
from tests.tools.driving import Notebook, picture, press, ready, settled, shows, until
from tests.tools.plan_validator import faults


async def test_the_search_in_the_background_shows_progress_and_is_stopped_by_a_key(
    woods: dict[str, Species],
) -> None:
    """Fourteen sticks take 47 of the 52 pieces, not proved best: k stops it, what is on show stays."""
    edits = ash_list()
    sticks = [edit for edit in edits if not isinstance(edit, PutPart)][:29]
    app = Notebook(*sticks, *[edit for edit in edits if isinstance(edit, PutPart)]).open(
        woods, moves=10_000_000
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        await until(pilot, shows(app, "looking for a better layout: "), "it is looking")
        plan = app.bench.river.plan
        assert not plan.optimal
        await press(pilot, "k")
        await until(pilot, lambda: "looking for" not in picture(app), "stopped")
        assert not app.bench.searcher.running
        kept = app.bench.river.plan
        assert (kept.unplaced_critical, kept.unplaced_count) <= (plan.unplaced_critical, plan.unplaced_count)
        await press(pilot, "k")
        await until(pilot, shows(app, "looking for a better layout: "), "looking again")
        searched = app.bench.searcher.problem
        await press(pilot, "p", "d", "c")  # a change of the job stops it
        assert app.bench.searcher.problem is not searched
        await until(pilot, lambda: app.bench.river.plan.optimal or app.bench.searcher.running, "the new list")


async def test_a_search_that_was_asked_for_says_what_it_came_to(woods: dict[str, Species]) -> None:
    """The layout of the invented job is proved best in pieces and sticks; there is more to better it in."""
    app = Notebook(*entries(woods)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        before = app.bench.river.plan
        await press(pilot, "k")
        await until(pilot, lambda: not app.bench.searcher.running, "at its end")
        await until(pilot, lambda: "looking for" not in picture(app), "no longer told how far it is")
        after = app.bench.river.plan
        found = wording.search_found(before, None if after == before else after)
        await until(pilot, lambda: found in " ".join(picture(app).split()), "said")


def test_in_what_a_layout_is_better_is_the_first_that_differs(woods: dict[str, Species]) -> None:
    plan = flow(book().history.job, woods).plan
    fewer = replace(plan, sticks_opened=plan.sticks_opened - 1, waste=plan.waste / 2)
    longer = replace(plan, largest_offcut=plan.largest_offcut * 2, waste=plan.waste / 2)
    said = [
        wording.search_found(plan, found) for found in (fewer, longer, replace(plan, waste=plan.waste / 2))
    ]
    assert ["fewer sticks" in said[0], "longer piece" in said[1], "less is wasted" in said[2]] == [True] * 3
    assert "more pieces" in wording.search_found(replace(plan, placed=plan.placed - 1), plan)
    assert wording.search_found(plan, None) == "no better layout was found: it stays as it is"


class Waiting:
    """Stands in for the screen: runs a search when it is told to, and keeps what it says."""

    def __init__(self) -> None:
        self.posted: list[Message] = []
        self.run: Callable[[], None] = lambda: None

    def run_worker(self, run: Callable[[], None], **how: object) -> None:
        self.run = run

    def post_message(self, message: Message) -> None:
        self.posted.append(message)


def test_a_search_that_is_stopped_hands_in_what_it_found(woods: dict[str, Species]) -> None:
    """Laid out worse than it could be: the first packings of the search are better already."""
    river = flow(book().history.job, woods)
    worse = replace(river, plan=cutting.plan(replace(river.problem, parts=river.problem.parts[:1]), 0))
    screen = Waiting()
    searcher = Searcher(screen, 10_000_000)  # type: ignore[arg-type]
    searcher.look(worse)
    searcher.stop()
    screen.run()
    found = screen.posted[-1]
    assert isinstance(found, SearchFound) and not searcher.runs(found.search)
    assert faults(found.problem, found.plan) == [] and found.plan.placed == 5 > worse.plan.placed


async def test_what_a_stopped_search_says_late_is_taken_and_ends_no_other(woods: dict[str, Species]) -> None:
    edits = ash_list()
    sticks = [edit for edit in edits if not isinstance(edit, PutPart)][:29]
    parts = [edit for edit in edits if isinstance(edit, PutPart)]
    app = Notebook(*sticks, *parts).open(woods, moves=10_000_000)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        await until(pilot, shows(app, "looking for a better layout: "), "it is looking")
        river, searcher = app.bench.river, app.bench.searcher
        other = replace(river.plan, proof=cutting.Proof.of(0, river.plan.optimal))

        def late() -> SearchFound:
            return SearchFound(threading.Event(), river.problem, river.problem, other, ())

        app.bench.post_message(late())
        await settled(pilot)
        assert searcher.running and app.bench.river.plan is river.plan
        assert shows(app, "looking for a better layout: ")()
        await press(pilot, "k")
        await until(pilot, lambda: not searcher.running, "stopped")
        app.bench.post_message(late())
        await until(pilot, lambda: app.bench.river.plan is other, "what it found is on show")
