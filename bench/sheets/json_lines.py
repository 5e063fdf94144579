"""Lines of JSON, one object each: written in ASCII, and read with limits before anything is made of them."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NoReturn

from bench.core.errors import Refusal

LONGEST = 4_000_000  # characters of a line: a list of some thousand sticks
DEEPEST = 16  # brackets within one another; what this program writes has half as many


def write(rows: Iterable[Mapping[str, Any]]) -> str:
    """The text of a file.

    Args:
        rows: what each line holds, only what JSON can.
    """
    return "".join(f"{json.dumps(row, allow_nan=False)}\n" for row in rows)


def lines(text: str) -> Iterator[tuple[int, str]]:
    """Lines that hold something, with their numbers from 1, one at a time.

    Args:
        text: of a file.
    """
    text = text.removeprefix("\ufeff")
    start, number = 0, 0
    while start < len(text):
        end = text.find("\n", start)
        end = len(text) if end < 0 else end
        number += 1
        line = text[start:end].removesuffix("\r")
        if line.strip():
            yield number, line
        start = end + 1


def object_of(line: str) -> dict[str, Any]:
    """The object of a line.

    Args:
        line: without its end.
    Returns:
        Its keys with their values.
    Raises:
        Refusal: too long, too deep, no JSON, a number that is none, a key twice, or no object.
    """
    if len(line) > LONGEST:
        raise Refusal(f"it is longer than {LONGEST:,} characters")
    if _depth(line) > DEEPEST:
        raise Refusal(f"its brackets are more than {DEEPEST} deep")
    try:
        found = json.loads(line, parse_constant=_no_constant, object_pairs_hook=_once)
    except (ValueError, RecursionError) as problem:
        why = problem.msg if isinstance(problem, json.JSONDecodeError) else str(problem)
        raise Refusal(f"it is no JSON ({why})") from None
    if not isinstance(found, dict):
        raise Refusal(f"{short(found)} is no object; one in braces is wanted")
    return found


def short(value: object) -> str:
    """A value for a refusal, its beginning."""
    return repr(value)[:40]


def _depth(line: str) -> int:
    """How many brackets are open within one another at most, those within text left out."""
    if line.count("{") + line.count("[") <= DEEPEST:
        return 0
    deep = most = 0
    quoted = escaped = False
    for letter in line:
        if quoted:
            quoted = escaped or letter != '"'
            escaped = letter == "\\" and not escaped
        elif letter == '"':
            quoted = True
        elif letter in "{[":
            deep += 1
            most = max(most, deep)
        elif letter in "}]":
            deep -= 1
    return most


def _no_constant(text: str) -> NoReturn:
    raise ValueError(f"{text} is no number")


def _once(pairs: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice")
    return found
