"""TOML text to plain tables, and the way back from a table to its line."""

import re
import tomllib
from typing import Any


class NotToml(Exception):
    """Text that is not TOML: `reason`, and the `line` where known."""

    def __init__(self, reason: str, line: int | None) -> None:
        super().__init__(reason)
        self.reason, self.line = reason, line


def parse(text: str) -> dict[str, Any]:
    """The tables of a TOML text, numbers with a decimal point left as the digits written.

    Args:
        text: the whole file.
    Returns:
        Tables as dictionaries and lists.
    Raises:
        NotToml: with the line where known.
    """
    try:
        return tomllib.loads(text, parse_float=str)
    except tomllib.TOMLDecodeError as error:
        said = str(error)
        reason, _, place = said.rpartition(" (at ")
        found = re.match(r"line (\d+)", place)
        line = int(found[1]) if found else text.count("\n") + 1
        raise NotToml(f"not readable as TOML: {reason or said}", line) from None
    except RecursionError:
        raise NotToml("not readable as TOML: brackets within brackets without end", None) from None
    except ValueError:  # a whole number of more digits than are ever read
        raise NotToml("not readable as TOML: it holds a number without end", None) from None


def line_of(text: str, kind: str = "", number: int = 0, key: str = "") -> int | None:
    """The line that holds a key, or else the heading of its table.

    Args:
        text: the whole file.
        kind: name of the array of tables; empty for the keys before the first table.
        number: which of its tables, from 0.
        key: in that table; empty for the heading.
    Returns:
        Line number from 1, or None if it cannot be told.
    """
    heading = re.compile(rf"\s*\[\[\s*{re.escape(kind)}\s*\]\]") if kind else None
    wanted = re.compile(rf"""\s*["']?{re.escape(key)}["']?\s*=""") if key else None
    start: int | None = None if heading else 1
    seen = -1
    for count, line in enumerate(text.splitlines(), 1):
        if heading and heading.match(line):
            seen += 1
            if seen == number:
                start = count
                continue
        inside = seen == number if heading else True
        if inside and start and line.lstrip().startswith("[") and count > start:
            break
        if inside and start and wanted and wanted.match(line):
            return count
    return start
