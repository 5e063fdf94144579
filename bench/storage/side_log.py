"""Is the log beside a job whole? sqlite3 takes a damaged one for a shorter one, and says nothing.

A job that was not closed has its last changes in a log beside it (`-wal`). Each frame of it carries a page, a
checksum over everything before, and the two numbers of the log it belongs to; a frame that ends a transaction
says so. Written by a program that was killed, the log ends after a whole transaction or within the next one.
A frame that does not fit, with the end of a transaction at it or after it, is damage.

Source: sqlite.org/fileformat2.html, section 4.
"""

import struct
from pathlib import Path

_LOG, _FRAME = 32, 24  # bytes of the heads of the log and of a frame
_MAGIC = 0x377F0682  # the last bit says in which order the bytes of a word are summed
_WORD = 0xFFFFFFFF


def is_whole(path: Path) -> bool:
    """Whether sqlite3 will see every transaction that was finished in a log.

    Args:
        path: of the log; nobody may be writing to it.
    Returns:
        False where one would be left out. True where there is no log, or it cannot be read here.
    """
    try:
        log = path.read_bytes()
    except OSError:
        return True
    if len(log) < _LOG + _FRAME:
        return True
    magic, _, size, _, salt, pepper, first, second = struct.unpack(">8I", log[:_LOG])
    order = ">" if magic & 1 else "<"
    known = magic & ~1 == _MAGIC and size in {2**power for power in range(9, 17)}
    sums = _summed(log[: _LOG - 8], order, (0, 0))
    if not known or sums != (first, second):
        return False
    broken = False
    for start in range(_LOG, len(log) - _FRAME - size + 1, _FRAME + size):
        _, ends, *ours, one, two = struct.unpack(">6I", log[start : start + _FRAME])
        if ours != [salt, pepper]:
            broken = True  # left over from an earlier round of the log, or damage
            continue
        if not broken:
            page = log[start + _FRAME : start + _FRAME + size]
            sums = _summed(page, order, _summed(log[start : start + 8], order, sums))
            broken = sums != (one, two)
        if broken and ends:
            return False
    return True


def _summed(data: bytes, order: str, sums: tuple[int, int]) -> tuple[int, int]:
    """The two running sums over data of a multiple of eight bytes."""
    one, two = sums
    words = struct.unpack(f"{order}{len(data) // 4}I", data)
    for even, odd in zip(words[::2], words[1::2], strict=True):
        one = (one + even + two) & _WORD
        two = (two + odd + one) & _WORD
    return one, two
