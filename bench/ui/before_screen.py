"""What is said on the terminal before there is a screen, and whether a screen can be had."""

import os
import sys


def fault() -> str:
    """Why no screen can be drawn here; empty where one can."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return "the screen needs a terminal; the verbs answer without one: tenthmark --help"
    if os.environ.get("TERM") == "dumb":
        return (
            "TERM is 'dumb': this terminal cannot draw a screen; use another, or the verbs: tenthmark --help"
        )
    return ""


class Reading:
    """How far a long job has been read, in one line that goes again: there is no screen yet."""

    said = ""

    def tell(self, count: int, read: int) -> None:
        """Of so many entries so many are read."""
        self._say(f"tenthmark: reading {read:,} of {count:,} entries")

    def end(self) -> None:
        """Nothing is left of it."""
        if self.said:
            self._say("")
            print(end="\r", file=sys.stderr, flush=True)

    def _say(self, text: str) -> None:
        print(f"\r{text:<{len(self.said)}}", end="", file=sys.stderr, flush=True)
        self.said = text
