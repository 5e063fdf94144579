"""Frozen records to plain values and back, by their annotations: what a job file and an export hold.

A Fraction is text ("127/40000"), a record is a mapping of its fields, a tuple is a list. Every field is
written, so that a default that changes later never changes what was recorded; a field missing from older
data takes its default. What reads a kind is put together once and kept: a large job is thousands of records.
"""

import re
from collections.abc import Callable, Mapping
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
    if value is None or isinstance(value, (str, int, float, bool)):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        return {name: to_plain(getattr(value, name)) for name in written(type(value))}
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, tuple):
        return [to_plain(item) for item in value]
    raise TypeError(f"a {type(value).__name__} cannot be stored")


@cache
def written(kind: type) -> tuple[str, ...]:
    """The fields of a record that are written; what is only a hint, and does not count as equal, is not.

    Args:
        kind: a record.
    Returns:
        Their names, in order.
    """
    return tuple(field.name for field in fields(kind) if field.init and field.compare)


# Only what `to_plain` writes: an exponent in a tampered file could ask for a number that fills the memory.
FRACTION = re.compile(r"-?\d+(/0*[1-9]\d*)?")
LONGEST = 4000


@lru_cache(maxsize=4096)
def fraction(text: str) -> Fraction | None:
    """An exact number from its text, None where it is none; the same few lengths come up again and again.

    Args:
        text: as `str` writes a Fraction.
    Returns:
        The number.
    """
    return Fraction(text) if len(text) < LONGEST and FRACTION.fullmatch(text) else None


Reader = Callable[[object], Any]


def _refuse(kind: object, data: object) -> BadInput:
    name = getattr(kind, "__name__", str(kind))
    return BadInput("record", str(data)[:40], f"is not a {name}", f"a {name} as written by this program")


def _record(kind: type) -> Reader:
    hints = get_type_hints(kind)
    names = {name: reader(hints[name]) for name in written(kind)}

    def made(**data: object) -> Any:
        return kind(**{name: names[name](item) for name, item in data.items()})

    # The same few sizes come again and again: what is of texts alone is read once, and is one object.
    if all(hints[name] in (str, Fraction) for name in names):
        made = lru_cache(maxsize=4096)(made)

    def read(data: object) -> Any:
        if not isinstance(data, Mapping):
            raise _refuse(kind, data)
        try:
            return made(**data)
        except KeyError:
            unknown = ", ".join(sorted(str(name) for name in data if name not in names))
            raise BadInput(
                "record",
                unknown,
                f"is not a field of {kind.__name__}",
                "a file of this version or an earlier one",
            ) from None
        except TypeError as problem:
            raise _refuse(kind, data) from problem

    return read


def _fraction(data: object) -> Fraction:
    found = fraction(data) if isinstance(data, str) else None
    if found is None:
        raise _refuse(Fraction, data)
    return found


def _float(data: object) -> float:
    if not isinstance(data, (int, float)) or isinstance(data, bool):
        raise _refuse(float, data)
    try:
        return float(data)
    except OverflowError as problem:
        raise _refuse(float, data) from problem


def _of_type(kind: Any) -> Reader:
    wanted = kind if kind in (str, int, bool) else None

    def read(data: object) -> Any:
        if type(data) is not wanted:
            raise _refuse(kind, data)
        return data

    return read


@cache
def reader(kind: Any) -> Reader:
    """What reads values of a kind.

    Args:
        kind: the annotation: a record, `tuple[X, ...]`, `X | None`, Fraction, str, int, float, bool.
    Returns:
        A function from what `to_plain` wrote to the value; it raises BadInput for data not of that kind.
    """
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        (option,) = (option for option in get_args(kind) if option is not type(None))
        inner = reader(option)
        return lambda data: None if data is None else inner(data)
    if origin is tuple:
        each = reader(get_args(kind)[0])

        def read(data: object) -> Any:
            if not isinstance(data, list):
                raise _refuse(kind, data)
            return tuple([each(item) for item in data])

        return read
    if isinstance(kind, type) and is_dataclass(kind):
        return _record(kind)
    return {Fraction: _fraction, float: _float}.get(kind) or _of_type(kind)


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
    return reader(kind)(data)
