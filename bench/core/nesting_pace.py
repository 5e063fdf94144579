"""Moves are counted here: so that a plan knows when it has had enough, and others how far it is.

Nothing here knows the time. Whoever does may ask a search to stop; it asks back every so many moves.
"""

from collections.abc import Callable

EVERY = 50  # moves between two questions


class Pace:
    """The moves of one plan, made in whatever group and tier."""

    def __init__(
        self, stop: Callable[[], bool] | None = None, progress: Callable[[int], None] | None = None
    ) -> None:
        """Take the one to ask and the one to tell; either may be missing."""
        self.stop, self.progress = stop, progress
        self.made, self.next = 0, 0
        self.stopped = False

    def move(self, many: int = 1) -> bool:
        """Count one move or more; True when it shall be the last."""
        self.made += many
        return self.stopped if self.made < self.next else self.ask()

    def ask(self) -> bool:
        """Tell how far it is and ask whether to stop."""
        self.next = self.made + EVERY
        if self.progress is not None:
            self.progress(self.made)
        if self.stop is not None and not self.stopped:
            self.stopped = self.stop()
        return self.stopped
