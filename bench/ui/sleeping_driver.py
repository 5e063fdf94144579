"""The terminal on Linux, waited for without waking: nothing runs while nobody touches a key.

The framework's own driver wakes ten times a second, to see whether it is to end and whether an Escape was a
key of its own. Here the thread that reads keys sleeps until there is one, or until it is woken to end; only
while an Escape may still be the beginning of a longer key does it wait for no more than that takes. A frame
goes to the terminal in one piece.

It leans on two insides of the framework, `run_input_thread` and the parser's `_timeout_time`; where they are
not as expected, the framework's own ways are used.
"""

import os
import select
import threading
from codecs import getincrementaldecoder
from typing import Any

from textual import constants
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

FRAME_BEGINS, FRAME_ENDS = "\x1b[?2026h", "\x1b[?2026l"


class _Waking(threading.Event):
    """An event that also wakes whoever waits for a key; its pipe stays as long as the program."""

    def __init__(self) -> None:
        super().__init__()
        self.reader, self._writer = os.pipe()
        os.set_blocking(self._writer, False)
        os.set_blocking(self.reader, False)

    def set(self) -> None:
        super().set()
        os.write(self._writer, b"x")

    def clear(self) -> None:
        super().clear()
        while select.select([self.reader], [], [], 0)[0]:
            os.read(self.reader, 64)


class SleepingDriver(LinuxDriver):
    """Reads keys without waking for anything else, and writes a frame at once."""

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self.exit_event: _Waking = _Waking()
        self._frame: list[str] | None = None  # what is gathered of one that has begun

    def write(self, data: str) -> None:
        """Queue what goes to the terminal; a frame is gathered first, so that the writer is woken once."""
        if data == FRAME_BEGINS:
            self._frame = [data]
        elif self._frame is not None:
            self._frame.append(data)
            if data == FRAME_ENDS:
                whole, self._frame = "".join(self._frame), None
                super().write(whole)
        else:
            super().write(data)

    def run_input_thread(self) -> None:
        """Read keys until told to end."""
        parser = XTermParser(self._debug)
        if not hasattr(parser, "_timeout_time"):
            super().run_input_thread()
            return
        decode = getincrementaldecoder("utf-8")("replace").decode
        sources = [self.fileno, self.exit_event.reader]
        while not self.exit_event.is_set():
            pending = parser._timeout_time is not None
            ready, _, _ = select.select(sources, [], [], constants.ESCAPE_DELAY if pending else None)
            if self.fileno in ready:
                read = os.read(self.fileno, 4096)
                if not read:
                    break  # the terminal has gone
                for event in parser.feed(decode(read)):
                    self.process_message(event)
            for event in parser.tick():
                self.process_message(event)
