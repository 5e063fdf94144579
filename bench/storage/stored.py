"""The entries of a job file as a row that is read when it is looked at, a page at a time."""

from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path
from threading import Lock
from typing import overload

from bench.core.errors import FileFault, Refusal
from bench.core.record import Line
from bench.storage import faults
from bench.storage.connecting import reader
from bench.storage.rows import RecordLine, to_entry

PAGE = 256  # entries read together
PAGES = 64  # pages kept

_PAGE = "select id, at, what, kind, body from entry where id > ? and id <= ? order by id"


class StoredLines(Sequence[Line]):
    """The first entries of a file, each with its time. The last of them may be at hand already."""

    def __init__(self, path: Path, count: int, last: Sequence[Line] = ()) -> None:
        """A row of entries.

        Args:
            path: of the file; a connection is made for each page, so that none is in the way of closing it.
            count: how many entries.
            last: those of them that need not be read.
        """
        self._path, self._count, self._last = path, count, last
        self._pages: dict[int, list[RecordLine | Line]] = {}  # entries as they are once they are read
        self._reading = Lock()  # an earlier job may be worked out in a thread of its own

    def __len__(self) -> int:
        return self._count

    @overload
    def __getitem__(self, place: int) -> Line: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[Line]: ...

    def __getitem__(self, place: int | slice) -> Line | Sequence[Line]:
        """By place from 0. Raises FileFault where the file cannot be read, or the entry not any more."""
        if isinstance(place, slice):
            return [self[number] for number in range(*place.indices(self._count))]
        if place < 0:
            place += self._count
        if not 0 <= place < self._count:
            raise IndexError(place)
        at_hand = place - self._count + len(self._last)
        if at_hand >= 0:
            return self._last[at_hand]
        page = self._page(place // PAGE)
        line = page[place % PAGE] if place % PAGE < len(page) else None
        if line is None or isinstance(line, RecordLine):
            line = page[place % PAGE] = self._entry(line, place + 1)
        return line

    def __iter__(self) -> Iterator[Line]:
        return (self[place] for place in range(self._count))

    def _page(self, page: int) -> list[RecordLine | Line]:
        with self._reading:
            known = self._pages.get(page)
            if known is None:
                if len(self._pages) >= PAGES:
                    del self._pages[next(iter(self._pages))]
                known = self._pages[page] = self._read(page)
            return known

    def _read(self, page: int) -> list[RecordLine | Line]:
        first = page * PAGE
        with faults.reading(self._path), closing(reader(self._path, False)) as db:
            rows = db.execute(_PAGE, (first, min(first + PAGE, self._count))).fetchall()
        return [RecordLine(*row) for row in rows]

    def _entry(self, line: RecordLine | None, number: int) -> Line:
        where = f"entry {number}"
        if line is None or line.number != number or not all(isinstance(cell, str) for cell in line[1:]):
            raise FileFault(str(self._path), faults.DAMAGED, key=where)
        try:
            return line.at, to_entry(line)
        except Refusal as refusal:
            raise FileFault(str(self._path), refusal.message, key=where) from refusal
