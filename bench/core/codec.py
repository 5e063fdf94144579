"""Frozen records to plain values and back, by their annotations: what a job file and an export hold.

A Fraction is text ("127/40000"), a record is a mapping of its fields, a tuple is a list. Every field is
written, so that a default that changes later never changes what was recorded; a field missing from older
data takes its default.
"""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache, lru_cache
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from bench.core.errors import BadInput


def to_plain(value: object) -> Any:
    """A record, tuple, Fraction or plain value as mappings, lists, text and numbers.

    Args:
        value: what to write.
    Returns:
        Only what JSON can hold.
    Raises:
        TypeError: a value no record holds.
    """
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value) if field.init}
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, tuple):
        return [to_plain(item) for item in value]
    if value is None or isinstance(value, (str, int, float, bool)):
        return value
    raise TypeError(f"a {type(value).__name__} cannot be stored")


# Only what `to_plain` writes: an exponent in a tampered file could ask for a number that fills the memory.
FRACTION = re.compile(r"-?\d+(/0*[1-9]\d*)?")
LONGEST = 4000

# The same few lengths come up again and again when a job is read.
_fraction = lru_cache(maxsize=4096)(Fraction)


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _refuse(kind: object, data: object) -> BadInput:
    name = getattr(kind, "__name__", str(kind))
    return BadInput("record", str(data)[:40], f"is not a {name}", f"a {name} as written by this program")


def _record(kind: type, data: object) -> Any:
    if not isinstance(data, Mapping):
        raise _refuse(kind, data)
    hints = _hints(kind)
    unknown = set(data) - set(hints)
    if unknown:
        raise BadInput(
            "record",
            ", ".join(sorted(map(str, unknown))),
            f"is not a field of {kind.__name__}",
            "a file of this version or an earlier one",
        )
    try:
        return kind(**{name: from_plain(hints[name], item) for name, item in data.items()})
    except TypeError as problem:
        raise _refuse(kind, data) from problem


def _scalar(kind: Any, data: object) -> Any:
    if kind is Fraction and isinstance(data, str) and len(data) < LONGEST and FRACTION.fullmatch(data):
        return _fraction(data)
    if kind is float and isinstance(data, (int, float)) and not isinstance(data, bool):
        try:
            return float(data)
        except OverflowError as problem:
            raise _refuse(kind, data) from problem
    if kind in (str, int, bool) and type(data) is kind:
        return data
    raise _refuse(kind, data)


def from_plain(kind: Any, data: object) -> Any:
    """The reverse of `to_plain`.

    Args:
        kind: the annotation to read: a record, `tuple[X, ...]`, `X | None`, Fraction, str, int, float, bool.
        data: what `to_plain` wrote.
    Returns:
        The value.
    Raises:
        BadInput: the data is not of that kind.
    """
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        if data is None:
            return None
        (inner,) = (option for option in get_args(kind) if option is not type(None))
        return from_plain(inner, data)
    if origin is tuple:
        if not isinstance(data, list):
            raise _refuse(kind, data)
        return tuple(from_plain(get_args(kind)[0], item) for item in data)
    if isinstance(kind, type) and is_dataclass(kind):
        return _record(kind, data)
    return _scalar(kind, data)
