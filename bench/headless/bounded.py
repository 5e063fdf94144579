"""Text of a file that a verb is given, up to a size that no list of a shop reaches."""

from pathlib import Path

from bench.core.errors import FileFault
from bench.storage.text_files import LARGEST


def text_of(path: Path) -> str:
    """The text of a file or pipe in UTF-8.

    Args:
        path: as given.
    Returns:
        The text, without a mark of byte order.
    Raises:
        FileFault: it is larger than 5 MB. OSError, ValueError, UnicodeDecodeError: it cannot be read.
    """
    with path.open("rb") as file:
        data = file.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise FileFault(str(path), f"is larger than {LARGEST // 1_000_000} MB; a list is wanted")
    return data.decode("utf-8-sig")
