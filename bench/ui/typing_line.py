"""One line of text being typed, kept by the pane that asked: every key in order, none lost.

A burst of keys from a number pad (`6.85`, Enter, Enter) is handled by one widget in one queue, so the second
Enter can never arrive before the number.
"""

from collections.abc import Callable

from textual import events

from bench.core.errors import Refusal
from bench.core.frozen import record, replace
from bench.ui.keys import KeyWidget
from bench.ui.messages import Say, Upward
from bench.ui.preferences import Preferences

TYPED = frozenset("0123456789.")
LONGEST = 200


@record
class Line:
    """Text with a cursor; `old` is a value that the first printable key replaces."""

    text: str
    cursor: int
    old: bool = False

    def insert(self, text: str) -> "Line":
        """With text put in at the cursor."""
        if self.old:
            return Line(text[:LONGEST], min(len(text), LONGEST))
        joined = (self.text[: self.cursor] + text + self.text[self.cursor :])[:LONGEST]
        return Line(joined, min(self.cursor + len(text), LONGEST))

    def pressed(self, key: str) -> "Line":
        """After a key that moves or deletes; other keys change nothing."""
        text, at = self.text, self.cursor
        if key in ("backspace", "ctrl+h"):
            if self.old:
                return Line("", 0)
            return Line(text[: max(0, at - 1)] + text[at:], max(0, at - 1))
        if key == "delete":
            return Line("", 0) if self.old else Line(text[:at] + text[at + 1 :], at)
        if key == "ctrl+u":
            return Line("", 0)
        places = {"left": max(0, at - 1), "right": min(len(text), at + 1), "home": 0, "end": len(text)}
        return replace(self, cursor=places[key], old=False) if key in places else self


class LineShown(Upward):
    """The line as it stands now; None when it has been put away."""

    def __init__(self, prompt: str, line: Line | None, hint: str = "") -> None:
        super().__init__()
        self.prompt, self.line, self.hint = prompt, line, hint


class TypingWidget(KeyWidget):
    """Base of everything that text can be typed into."""

    def __init__(self, id: str) -> None:
        super().__init__(id=id)
        self._line: Line | None = None
        self._prompt = ""
        self._take: Callable[[str], None] | None = None

    def begin_typing(self, character: str) -> None:
        """A figure was typed out of the blue: a subclass asks for the value it belongs to."""
        raise NotImplementedError

    def ask_line(
        self, prompt: str, hint: str, text: str, take: Callable[[str], None], typed: bool = False
    ) -> None:
        """Ask for a line; `take` may refuse it, then the text stays to be mended.

        Args:
            prompt: what is asked for.
            hint: what may be typed.
            text: an old value, or with `typed` the beginning of the new one.
            take: called with the text.
            typed: whether `text` is being typed.
        """
        self._prompt, self._take = prompt, take
        self._line = Line(text, len(text), old=not typed and bool(text))
        self.post_message(LineShown(prompt, self._line, hint))

    def take_key(self, event: events.Key) -> bool:
        """All keys while a line is open; otherwise only a figure that opens one."""
        character = self._meant(event)
        if self._line is None:
            if character and character in TYPED:
                self.begin_typing(character)
                return True
            return False
        if event.key == "escape":
            self._close()
            self.post_message(Say(""))
        elif event.key == "enter":
            self._enter()
        elif event.key == "tab":
            # Takes what was typed and goes on to the next value; an empty line is only put away.
            if self._line.text.strip():
                self._enter()
            else:
                self._close()
            return self._line is not None
        else:
            printable = character if event.is_printable and character else ""
            self._show(self._line.insert(printable) if printable else self._line.pressed(event.key))
        return True

    def _meant(self, event: events.Key) -> str:
        """The character typed, or what the user's settings say it is typed for."""
        preferences: Preferences = getattr(self.screen, "preferences", Preferences())
        character = event.character or ""
        return preferences.typing.get(character, character)

    def on_paste(self, event: events.Paste) -> None:
        """Text from the clipboard, its first line."""
        if self._line is not None and event.text:
            event.stop()
            self._show(self._line.insert(event.text.splitlines()[0]))

    def _show(self, line: Line) -> None:
        self._line = line
        self.post_message(LineShown(self._prompt, line))

    def _close(self) -> None:
        self._line, self._take = None, None
        self.post_message(LineShown("", None))

    def _enter(self) -> None:
        assert self._line is not None and self._take is not None
        take, line = self._take, self._line
        try:
            take(line.text)
        except Refusal as refusal:
            self._show(replace(line, old=False))
            self.post_message(Say(str(refusal), wrong=True))
            return
        if self._take is take:  # taking one line may have asked for the next
            self._close()
