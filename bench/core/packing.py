"""A history as plain values that read back fast: only ever a shortcut beside the record, never instead of it.

Records are rows of their fields in order, under the names those fields have now: what was packed under other
names is not read. The same few typed numbers come up thousands of times: each stands once, and is pointed to.
"""

from collections.abc import Callable, Sequence
from dataclasses import MISSING, fields, is_dataclass
from functools import cache
from itertools import chain, islice, zip_longest
from types import UnionType
from typing import Any, Union, cast, get_args, get_origin, get_type_hints

from bench.core.codec import fraction, reader, to_plain, written
from bench.core.errors import BadInput
from bench.core.history import History
from bench.core.records import Job, Typed
from bench.core.stack import Stack

FORM = 1  # goes up where an edit comes to mean something else; `layout` tells fields that are others

Pool = dict[tuple[str, str], int]
Packer = Callable[[Any, Pool], Any]
Unpacker = Callable[[Sequence[Any], list[Typed]], Sequence[Any]]  # of a whole column

_LEFT_OUT = object()  # in a column: a field at the end of its record that is as it begins


def _inner(kind: Any) -> Any:
    (option,) = (option for option in get_args(kind) if option is not type(None))
    return option


def _optional(kind: Any) -> bool:
    return get_origin(kind) in (Union, UnionType)


@cache
def layout(kind: Any = Job) -> dict[str, list[str]]:
    """The records a kind is made of, each with its fields in order.

    Args:
        kind: an annotation.
    Returns:
        Fields by name of the record: each with its kind and what it begins as.
    """
    if _optional(kind):
        return layout(_inner(kind))
    if get_origin(kind) is tuple:
        return layout(get_args(kind)[0])
    found: dict[str, list[str]] = {}
    if isinstance(kind, type) and is_dataclass(kind):
        hints = get_type_hints(kind)
        found[kind.__name__] = [_told(kind, name, hints[name]) for name in written(kind)]
        for name in written(kind):
            found.update(layout(hints[name]))
    return found


def _typed(value: Typed, pool: Pool) -> int:
    return pool.setdefault((str(value.exact), value.text), len(pool))


@cache
def _packer(kind: Any) -> Packer:
    if kind is Typed:
        return _typed
    if _optional(kind):
        inner = _packer(_inner(kind))
        return lambda value, pool: None if value is None else inner(value, pool)
    if get_origin(kind) is tuple:
        each = _packer(get_args(kind)[0])
        return lambda value, pool: [each(item, pool) for item in value]
    if isinstance(kind, type) and is_dataclass(kind):
        hints = get_type_hints(kind)
        return _row_of([(name, _packer(hints[name]), _default(kind, name)) for name in written(kind)])
    return lambda value, pool: to_plain(value)


def _default(kind: type, name: str) -> object:
    return next(field.default for field in fields(cast(Any, kind)) if field.name == name)


def _told(kind: type, name: str, hint: Any) -> str:
    default = _default(kind, name)
    return f"{name}: {hint}" + ("" if default is MISSING else f" = {default!r}")


def _row_of(parts: list[tuple[str, Packer, object]]) -> Packer:
    def row(value: Any, pool: Pool) -> list[Any]:
        values = [getattr(value, name) for name, _, _ in parts]
        # Most of a record is as it begins: what is so at its end is left out.
        count = len(parts)
        while count and values[count - 1] == parts[count - 1][2]:
            count -= 1
        return [part[1](each, pool) for part, each in zip(parts[:count], values, strict=False)]

    return row


@cache
def _unpacker(kind: Any) -> Unpacker:
    """Reads a whole column of what was packed: of ten thousand sticks every field takes one call."""
    if kind is Typed:
        return _pointed
    if _optional(kind):
        return _if_any(_unpacker(_inner(kind)))
    if get_origin(kind) is tuple:
        return _rows(_unpacker(get_args(kind)[0]))
    if isinstance(kind, type) and is_dataclass(kind):
        return _records(kind)
    return _plain(kind)


def _all(data: Sequence[Any], kind: type) -> bool:
    return set(map(type, data)) <= {kind}


def _plain(kind: Any) -> Unpacker:
    """Of text, a number, yes or no: these come most often, and stand as they are."""
    ready, read = {str: str, bool: bool, float: float, int: int}.get(kind), reader(kind)

    def column(data: Sequence[Any], pool: list[Typed]) -> Sequence[Any]:
        if ready is not None and _all(data, ready):
            return data
        return [item if type(item) is ready else read(item) for item in data]

    return column


def _pointed(data: Sequence[Any], pool: list[Typed]) -> Sequence[Any]:
    if not _all(data, int) or min(data, default=0) < 0:
        raise _faulty("number")
    return [pool[item] for item in data]


def _if_any(each: Unpacker) -> Unpacker:
    def column(data: Sequence[Any], pool: list[Typed]) -> Sequence[Any]:
        return _but(None, None, each, data, pool) if None in data else each(data, pool)

    return column


def _but(out: Any, instead: Any, each: Unpacker, data: Sequence[Any], pool: list[Typed]) -> Sequence[Any]:
    """A column of which some is left out: that is not read, and has something else instead."""
    row = iter(each([item for item in data if item is not out], pool))
    return [instead if item is out else next(row) for item in data]


def _rows(each: Unpacker) -> Unpacker:
    def column(data: Sequence[Any], pool: list[Typed]) -> Sequence[Any]:
        if not _all(data, list):
            raise _faulty("list")
        row = iter(each(list(chain.from_iterable(data)), pool))
        return [tuple(islice(row, len(items))) if items else () for items in data]

    return column


def _records(kind: type) -> Unpacker:
    hints = get_type_hints(kind)
    parts = [(_unpacker(hints[name]), _default(kind, name)) for name in written(kind)]

    needed = sum(default is MISSING for _, default in parts)  # those without a default come first

    def column(data: Sequence[Any], pool: list[Typed]) -> Sequence[Any]:
        if not _all(data, list):
            raise _faulty(kind.__name__)
        lengths = set(map(len, data)) or {needed}
        least, most = min(lengths), max(lengths)
        if least < needed or most > len(parts):
            raise _faulty(kind.__name__)
        values = [
            each(row, pool) if place < least else _but(_LEFT_OUT, default, each, row, pool)
            for place, ((each, default), row) in enumerate(
                zip(parts, zip_longest(*data, fillvalue=_LEFT_OUT), strict=False)
            )
        ]
        values += [[default] * len(data) for _, default in parts[most:]]
        return list(map(kind, *values)) if data else []

    return column


def _faulty(what: str) -> BadInput:
    return BadInput("snapshot", what, "is not as it was packed", "what this version packs")


def _stack(runs: Any, count: int) -> Stack:
    for run in runs:
        if len(run) != 3 or not all(type(one) is int and 0 < one <= count for one in run):
            raise _faulty("steps")
    return Stack.of_runs(runs)


def pack(history: History) -> dict[str, Any]:
    """A history as plain values; the jobs before it are left out.

    Args:
        history: the history.
    Returns:
        Only what JSON can hold.
    """
    pool: Pool = {}
    job = _packer(Job)(history.job, pool)
    return {
        "form": FORM,
        "layout": layout(),
        "count": history.count,
        "typed": [list(one) for one in pool],
        "job": job,
        "back": history.back.runs(),
        "forward": history.forward.runs(),
    }


def unpack(data: Any) -> History:
    """The reverse of `pack`.

    Args:
        data: what `pack` made.
    Returns:
        The history, without jobs before it and without a teller.
    Raises:
        BadInput: the data is not what this version packs.
    """
    try:
        if data["form"] != FORM or data["layout"] != layout():
            raise _faulty("form")
        count = data["count"]
        pool = [Typed(_exact(exact), _text(text)) for exact, text in data["typed"]]
        job: Job = _unpacker(Job)([data["job"]], pool)[0]
        back, forward = _stack(data["back"], count), _stack(data["forward"], count)
        return History(job, back, forward, count, ((job, None),))
    except (KeyError, IndexError, TypeError, ValueError, OverflowError) as problem:
        raise _faulty("data") from problem


def _exact(text: Any) -> Any:
    exact = fraction(text) if type(text) is str else None
    if exact is None:
        raise _faulty("number")
    return exact


def _text(text: Any) -> str:
    if type(text) is not str:
        raise _faulty("text")
    return text
