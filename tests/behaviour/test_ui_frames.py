"""What is sent to the terminal, change by change, leaves there what the screen shows."""

import re
from typing import Any

import pytest
from rich.ansi import AnsiDecoder
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual._compositor import CompositorUpdate
from textual.strip import Strip

from bench.core.demo import entries
from bench.core.records import Species
from bench.ui.app import BenchApp
from bench.ui.frames import Stretches
from tests.speed.picture import Picture
from tests.tools.driving import Notebook, lines, press, until

WALK = (
    *("up", "up", "tab", "up", "escape", "down", "enter", "right", "left", "pageup", "escape"),
    *("s", "up", "tab", "down", "escape", "c", "down", "n", "right", "f", "1", "2", "escape"),
    *("t", "down", "down", "p", "down", "w", "escape", "m", "down", "up", "b", "h", "escape", "o", "f", "u"),
)


def cells(strip: Strip) -> list[tuple[str, Style | None]]:
    """Each character with its style."""
    return [(char, style) for text, style, _ in strip for char in text]


class Terminal:
    """Takes what an app sends, as a terminal would."""

    def __init__(self, app: BenchApp, size: tuple[int, int]) -> None:
        self.app, self.picture, self.partly = app, Picture(*size), 0
        app._display = self.take  # type: ignore[method-assign, assignment]

    def take(self, screen: Any, update: Any) -> None:
        """One frame."""
        if isinstance(update, CompositorUpdate) and not self.app._batch_count:
            if isinstance(update, Stretches):
                self.partly += 1
                shown = screen._compositor.render_strips()
                for row, column, strip in update.stretches:
                    assert cells(strip) == cells(shown[row].crop(column, column + strip.cell_length))
            self.picture.feed(update.render_segments(self.app.console).encode())
        self.app.post_display_hook()

    def as_shown(self) -> bool:
        """Whether it shows what the screen does."""
        return [row.rstrip() for row in self.picture.text.split("\n")] == lines(self.app)


@pytest.mark.parametrize("size", [(80, 24), (160, 45)])
async def test_the_terminal_shows_what_the_screen_does(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    app = Notebook(*entries(woods)).open(woods)
    terminal = Terminal(app, size)
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        for key in WALK:
            await press(pilot, key)
            await until(pilot, terminal.as_shown, f"after {key} the terminal shows\n{terminal.picture.text}")
    assert terminal.partly > len(WALK) / 2


def test_a_style_is_told_where_it_changes_and_none_is_left_on() -> None:
    bold, turned = Style(bold=True, color="color(1)"), Style(reverse=True)
    rows = [
        (1, 3, Strip([Segment("gh", turned), Segment("i", bold)])),
        (0, 0, Strip([Segment("ab", bold), Segment("cd"), Segment("ef", turned)])),
        (2, 0, Strip([Segment("jk", bold)])),
    ]
    sent = Stretches(rows).render_segments(Console(color_system="truecolor"))
    places = re.findall(r"\x1b\[(\d+);(\d+)H", sent)
    assert places == [("1", "1"), ("2", "4"), ("3", "1")]
    decoder = AnsiDecoder()
    texts = [decoder.decode_line(line) for line in re.split(r"\x1b\[\d+;\d+H", sent)[1:]]
    seen = [
        [(text.plain[span.start : span.end], span.style) for span in text.spans if span.style]
        for text in texts
    ]
    assert seen == [[("ab", bold), ("ef", turned)], [("gh", turned), ("i", bold)], [("jk", bold)]]
    assert "".join(text.plain for text in texts) == "abcdefghijk"
    assert decoder.style == Style.null()
    assert sent.count("m") == 5, "bold, off, reverse, bold, and off at the end"
