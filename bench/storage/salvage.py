"""Rows of the record out of the bytes of a damaged file, whatever is left of its tables.

A row of `entry` is found by how every such row begins, wherever it stands: the page it is on, the index above
it and the head of the file may all be gone. Both the file and the log beside it are looked through, and rows
that were left behind when a page was split are found too: an entry never changes, so an older page says the
same.

    payload size | number | head size, 0, text, text of 4, text, text | at | what | kind | body

Sizes and numbers are variable-length integers; a payload that is too large for its page goes on in a chain of
pages. Source: sqlite.org/fileformat2.html, sections 1.6, 2 and 4.
"""

import re
import struct
from collections.abc import Iterator

from bench.core.frozen import record
from bench.storage.rows import RecordLine

_ROW = re.compile(rb"[\x06-\x09]\x00[\x0d-\x7f]\x15[\x0d-\x7f]", re.DOTALL)
_SEAL = re.compile(rb"\x03\x00[\x01-\x05]", re.DOTALL)
_INTEGER_BYTES = (0, 1, 2, 3, 4, 6)  # of an integer, by its type
_USUAL_PAGE = 4096
_LOG, _FRAME = 32, 24  # bytes of the heads of the log and of one of its frames
_LONGEST = 50_000_000  # bytes of one row; beyond it a size is damage


@record
class Found:
    """What was found of a record: every row that looks like one, the likeliest first, and checksums."""

    rows: dict[int, list[RecordLine]]
    sums: dict[int, set[int]]


def search(file: bytes, log: bytes) -> Found:
    """Every row that can be made out.

    Args:
        file: bytes of the job, whatever they are.
        log: bytes of the log beside it; empty where there is none.
    Returns:
        Rows by number; a text that cannot be read has marks of replacement in it.
    """
    size = _page_size(file)
    pages = _Pages(file, log, size)
    found = Found({}, {})
    for page in pages.all():
        for line in _rows(page, pages):
            known = found.rows.setdefault(line.number, [])
            if line not in known:
                known.append(line)
        for number, value in _seals(page):
            found.sums.setdefault(number, set()).add(value)
    return found


def _page_size(file: bytes) -> int:
    size = int.from_bytes(file[16:18], "big")
    size = 65536 if size == 1 else size
    return size if size in {2**power for power in range(9, 17)} else _USUAL_PAGE


class _Pages:
    """Pages of the file and of its log, the newest first."""

    def __init__(self, file: bytes, log: bytes, size: int) -> None:
        self.file, self.size = file, size
        salts, ours, others = log[16:24], list[tuple[int, bytes]](), list[tuple[int, bytes]]()
        for start in range(_LOG, len(log), _FRAME + size):
            head, page = log[start : start + _FRAME], log[start + _FRAME : start + _FRAME + size]
            frames = ours if head[8:16] == salts else others
            frames.append((int.from_bytes(head[:4], "big"), page))
        self.frames, self.others = ours, others
        self.newest = dict(ours)

    def all(self) -> Iterator[bytes]:
        """Every page there is, whole or not."""
        yield from (page for _, page in reversed(self.frames))
        for start in range(0, len(self.file), self.size):
            yield self.file[start : start + self.size]
        yield from (page for _, page in reversed(self.others))

    def chain(self, number: int, length: int) -> bytes:
        """What goes on in a chain of pages; shorter where the chain breaks off."""
        parts: list[bytes] = []
        met: set[int] = set()
        while length > 0 and number > 0 and number not in met:
            met.add(number)
            page = self.newest.get(number) or self.file[(number - 1) * self.size : number * self.size]
            if len(page) < 4:
                break
            part = page[4 : 4 + min(length, self.size - 4)]
            parts.append(part)
            number, length = int.from_bytes(page[:4], "big"), length - len(part)
        return b"".join(parts)


def _rows(page: bytes, pages: _Pages) -> Iterator[RecordLine]:
    for match in _ROW.finditer(page):
        head = match.start()
        types, place = list[int](), head + 1
        while place < head + page[head] and len(types) < 6:
            value, place = _integer(page, place)
            types.append(value)
        sizes = [(kind - 13) // 2 for kind in types[1:]]
        if len(types) != 5 or place != head + page[head] or any(kind % 2 == 0 for kind in types[1:]):
            continue
        payload = page[head] + sum(sizes)
        number = _number_before(page, head, payload)
        if number is None or payload > _LONGEST:
            continue
        texts, start = [], page[head]
        record = _payload(page, head, payload, pages)
        for size in sizes:
            texts.append(record[start : start + size].decode(errors="replace"))
            start += size
        yield RecordLine(number, *texts)


def _seals(page: bytes) -> Iterator[tuple[int, int]]:
    for match in _SEAL.finditer(page):
        head = match.start()
        size = _INTEGER_BYTES[page[head + 2]]
        number = _number_before(page, head, 3 + size)
        value = page[head + 3 : head + 3 + size]
        if number is not None and len(value) == size:
            yield number, int.from_bytes(value, "big", signed=True)


def _payload(page: bytes, head: int, length: int, pages: _Pages) -> bytes:
    """A row from its head on, with what is not on its page."""
    usable = pages.size
    if length <= usable - 35:
        return page[head : head + length]
    least = (usable - 12) * 32 // 255 - 23
    here = least + (length - least) % (usable - 4)
    here = here if here <= usable - 35 else least
    (after,) = struct.unpack(">I", page[head + here : head + here + 4].rjust(4, b"\0"))
    return page[head : head + here] + pages.chain(after, length - here)


def _number_before(page: bytes, head: int, payload: int) -> int | None:
    """The number of a row, if the size of its payload and a number are what stands before its head."""
    size = _written(payload)
    for length in range(1, 6):
        start = head - length
        if start - len(size) < 0:
            return None
        number, end = _integer(page, start)
        if end == head and number > 0 and page[start - len(size) : start] == size:
            return number
    return None


def _integer(data: bytes, place: int) -> tuple[int, int]:
    """A variable-length integer and the place after it; as far as the data go."""
    value = 0
    for count, byte in enumerate(data[place : place + 8], start=1):
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, place + count
    return value, place + 9


def _written(value: int) -> bytes:
    """A variable-length integer as bytes."""
    out = [value & 0x7F]
    while value := value >> 7:
        out.append(value & 0x7F | 0x80)
    return bytes(reversed(out))
