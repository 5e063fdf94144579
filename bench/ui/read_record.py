"""The record as far as it has been read: what each entry says and is about, and where things are noted."""

from collections.abc import Sequence

from bench.core.concerning import Concern, Turns, about
from bench.core.history import Entry
from bench.core.tracing import Noted, Notes
from bench.sheets.telling import told_entry


class ReadRecord:
    """Shared by all that look through the record: every entry is read once, then only the new ones."""

    def __init__(self, record: Sequence[tuple[str, Entry]]) -> None:
        """Take the record: every entry with its time, from the start of the job; only ever added to."""
        self._record, self._turns = record, Turns()
        self.at: list[str] = []  # time of each entry, ISO
        self.said: list[str] = []
        self.about: list[Concern] = []
        self.notes = Notes()

    def __len__(self) -> int:
        """How many entries are read."""
        return len(self.said)

    def read_on(self) -> int:
        """Read what was accepted since; how many entries there are.

        Raises a Refusal where one cannot be read: those before it stay read, and it is tried again next time.
        """
        for place in range(len(self), len(self._record)):
            at, entry = self._record[place]
            turned = self._turns.follow(entry)
            found = about(entry, [self.about[one] for one in turned])
            self.notes.add(Noted(place + 1, at), entry, found)
            self.at.append(at)
            self.about.append(found)
            self.said.append(told_entry(entry, self.said[turned[0]] if turned else ""))
        return len(self)
