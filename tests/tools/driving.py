"""Driving the app as the terminal would: keys are queued, and the test waits for what must become true."""

import asyncio
import itertools
from collections.abc import Callable, Sequence
from typing import Any

from textual import events

from bench.core.edits import Edit
from bench.core.history import EDIT, EMPTY, Entry, History
from bench.core.records import Species
from bench.ui.app import BenchApp

CLOCK = "2026-03-14T10:05:00"
SIGNS = {
    ".": "full_stop", "/": "slash", "-": "minus", " ": "space", "'": "apostrophe", '"': "quotation_mark",
    "?": "question_mark", "%": "percent_sign", "_": "underscore", ",": "comma", "+": "plus", "*": "asterisk",
    ";": "semicolon", "#": "number_sign",
}  # fmt: skip


class Notebook:
    """Stands in for the job file: keeps what it is told, and can be made to fail."""

    def __init__(self, *edits: Edit) -> None:
        self.history: History = EMPTY
        self.entries: list[tuple[str, Entry]] = []
        for edit in edits:
            self.history = self.history.accept(edit)
            self.entries.append((CLOCK, Entry(EDIT, edit)))
        self.app: BenchApp | None = None
        self.problem: str | None = None
        self.written = len(self.entries)

    def save(self, entry: Entry, at: str) -> None:
        """Keep an entry and answer as the saving thread does."""
        self.entries.append((at, entry))
        if self.problem is None:
            self.written = len(self.entries)
        assert self.app is not None
        self.app.saved(self.written, self.problem)

    def start(self, name: str, units: str) -> tuple[History, Sequence[tuple[str, Entry]]]:
        """No first start in these tests."""
        raise AssertionError(name)

    def open(self, woods: dict[str, Species], **more: Any) -> BenchApp:
        """The app on this job."""
        self.app = BenchApp(
            (self.history, list(self.entries)), woods, self.save, self.start, now=lambda: CLOCK, **more
        )
        return self.app


_presses = itertools.count(1)


def stamped(event: events.Key) -> events.Key:
    """A key as if pressed a second after the one before, by its stamp; nobody waits."""
    event.time += next(_presses)
    return event


def feed(app: BenchApp, *keys: str) -> None:
    """Queue keys by name, a second apart by their stamps: feed(app, "up", "enter")."""
    for key in keys:
        app.post_message(stamped(events.Key(key, key if len(key) == 1 else None)))


def spell(app: BenchApp, text: str) -> None:
    """Queue a text key by key."""
    for char in text:
        app.post_message(stamped(events.Key(SIGNS.get(char, char), char)))


async def until(pilot: Any, condition: Callable[[], object], what: str, timeout: float = 10.0) -> None:
    """Let the app run until a condition is true; no guessed waits."""
    loop = asyncio.get_running_loop()
    end = loop.time() + timeout
    while not condition():
        if loop.time() > end:
            raise AssertionError(f"not true after {timeout} s: {what}\n" + "\n".join(lines(pilot.app)))
        await pilot.pause(0)


async def settled(pilot: Any) -> None:
    """All queued keys handled and drawn: a mark sent through the same queues has come back."""
    app: BenchApp = pilot.app
    for _ in range(3):
        seen: list[bool] = []
        focused = app.focused or app.screen
        focused.call_later(app.screen.call_later, app.call_later, seen.append, True)
        await until(pilot, lambda seen=seen: seen, "queues empty")
    await pilot.pause(0)


async def press(pilot: Any, *keys: str) -> None:
    """Keys one after the other, each with all it does; a key that opens another screen needs it."""
    for key in keys:
        feed(pilot.app, key)
        await settled(pilot)


async def ready(pilot: Any) -> None:
    """The bench is there, and all of the job is worked out."""
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    await settled(pilot)


async def type_line(pilot: Any, text: str) -> None:
    """Type what is asked, and take it."""
    spell(pilot.app, text)
    feed(pilot.app, "enter")
    await settled(pilot)


async def type_over(pilot: Any, text: str) -> None:
    """Type over whatever the line holds, and take it."""
    feed(pilot.app, "ctrl+u")
    await type_line(pilot, text)


def lines(app: BenchApp) -> list[str]:
    """The picture as plain lines."""
    return [strip.text.rstrip() for strip in app.screen._compositor.render_strips()]


def picture(app: BenchApp) -> str:
    """The picture as one text."""
    return "\n".join(lines(app))


def shows(app: BenchApp, text: str) -> Callable[[], bool]:
    """A condition: the picture holds this text."""
    return lambda: text in picture(app)
