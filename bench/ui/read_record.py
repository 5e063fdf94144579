"""The record as the screens read it: an entry when it is looked at, never all of a long one at once."""

from collections.abc import Sequence

from bench.core.concerning import Concern, Turns, about, turned
from bench.core.history import Entry
from bench.core.tracing import Noted, Notes
from bench.sheets.telling import told_entry

AT_ONCE = 500  # entries that are read while somebody waits, some 20 ms
FEW = 20  # entries at a time, about a millisecond: what is typed comes in between


class ReadRecord:
    """Shared by all that look through the record.

    What an entry says is read when it is asked for. Where things are noted is known once the record has been
    gone through, which takes a long one seconds: `note` goes on with it some entries at a time.
    Whatever reads an entry raises a Refusal where it cannot be read, and it is tried again the next time.
    """

    def __init__(self, record: Sequence[tuple[str, Entry]]) -> None:
        """Take the record: every entry with its time, from the start of the job; only ever added to."""
        self._record, self._turns = record, Turns()
        self._turned: dict[int, tuple[int, ...]] = {}
        self.notes = Notes()
        self.noted = 0  # entries that the notes are of
        self._followed = 0  # of those that `_turns` knows

    def __len__(self) -> int:
        return len(self._record)

    def at(self, place: int) -> str:
        """The time of an entry by its place from 0, ISO."""
        return self._record[place][0]

    def said(self, place: int) -> str:
        """What an entry says, in a line."""
        found = self._turned_by(place)
        return told_entry(self._record[place][1], self.said(found[0]) if found else "")

    def about(self, place: int) -> Concern:
        """What an entry is about."""
        return about(self._record[place][1], [self.about(one) for one in self._turned_by(place)])

    def _turned_by(self, place: int) -> tuple[int, ...]:
        """The entries that one takes back or makes again."""
        if self._record[place][1].edit is not None:
            return ()
        if place not in self._turned:
            self._turned[place] = turned(self._record, place)
        return self._turned[place]

    def note(self, most: int = AT_ONCE) -> int:
        """Note where so many more entries put their things; how many are left."""
        for place in range(self.noted, min(self.noted + most, len(self))):
            at, entry = self._record[place]
            if place == self._followed:
                self._followed += 1
                found = self._turns.follow(entry)
                if found:
                    self._turned[place] = found
            self.notes.add(Noted(place + 1, at), entry, self.about(place))
            self.noted = place + 1
        return len(self) - self.noted
