"""A history as plain values that read back fast: only ever a shortcut beside the record, never instead of it.

Records are rows of their fields in order, under the names those fields have now: what was packed under other
names is not read. The same few typed numbers come up thousands of times, so they stand once and are pointed to.
"""

from collections.abc import Callable, Iterable
from dataclasses import is_dataclass
from functools import cache
from itertools import groupby
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from bench.core.codec import fraction, reader, to_plain, written
from bench.core.errors import BadInput
from bench.core.history import History
from bench.core.records import Job, Typed
from bench.core.stack import Stack, Step

FORM = 1  # goes up whenever what is packed would be understood otherwise

Pool = dict[tuple[str, str], int]
Packer = Callable[[Any, Pool], Any]
Unpacker = Callable[[Any, list[Typed]], Any]


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
        Field names by name of the record.
    """
    if _optional(kind):
        return layout(_inner(kind))
    if get_origin(kind) is tuple:
        return layout(get_args(kind)[0])
    found: dict[str, list[str]] = {}
    if isinstance(kind, type) and is_dataclass(kind):
        hints = get_type_hints(kind)
        found[kind.__name__] = [f"{name}: {hints[name]}" for name in written(kind)]
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
        parts = [(name, _packer(hints[name])) for name in written(kind)]
        return lambda value, pool: [pack(getattr(value, name), pool) for name, pack in parts]
    return lambda value, pool: to_plain(value)


@cache
def _unpacker(kind: Any) -> Unpacker:
    if kind is Typed:
        return _pointed
    if _optional(kind):
        inner = _unpacker(_inner(kind))
        return lambda data, pool: None if data is None else inner(data, pool)
    if get_origin(kind) is tuple:
        return _row(_unpacker(get_args(kind)[0]))
    if isinstance(kind, type) and is_dataclass(kind):
        return _record(kind)
    read = reader(kind)
    return lambda data, pool: read(data)


def _pointed(data: Any, pool: list[Typed]) -> Typed:
    if type(data) is not int or data < 0:
        raise _faulty("number")
    return pool[data]


def _row(each: Unpacker) -> Unpacker:
    def read(data: Any, pool: list[Typed]) -> Any:
        if type(data) is not list:
            raise _faulty("list")
        return tuple([each(item, pool) for item in data]) if data else ()

    return read


def _record(kind: type) -> Unpacker:
    hints = get_type_hints(kind)
    parts = [_unpacker(hints[name]) for name in written(kind)]

    def read(data: Any, pool: list[Typed]) -> Any:
        if type(data) is not list or len(data) != len(parts):
            raise _faulty(kind.__name__)
        return kind(*[part(item, pool) for part, item in zip(parts, data, strict=True)])

    return read


def _faulty(what: str) -> BadInput:
    return BadInput("snapshot", what, "is not as it was packed", "what this version packs")


def _runs(stack: Stack) -> list[list[int]]:
    """Steps as [first number, how many], and those that something belongs to as [number, 1, last]."""
    found: list[list[int]] = []
    plain = ((step.number - place, step) for place, step in enumerate(stack))
    for (_, alone), group in groupby(plain, key=lambda one: (one[0], one[1].number == one[1].last)):
        steps = [step for _, step in group]
        if alone:
            found.append([steps[0].number, len(steps)])
        else:
            found += [[step.number, 1, step.last] for step in steps]
    return found


def _steps(runs: Any, count: int) -> Iterable[Step]:
    for first, many, *last in runs:
        if not all(type(one) is int and 0 < one <= count for one in (first, many, *last)):
            raise _faulty("steps")
        if last:
            yield Step(first, last[0])
        else:
            for number in range(first, first + many):
                yield Step(number, number)


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
        "back": _runs(history.back),
        "forward": _runs(history.forward),
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
        job = _unpacker(Job)(data["job"], pool)
        job.places.update((stick.tag, place) for place, stick in enumerate(job.sticks))
        back, forward = Stack(_steps(data["back"], count)), Stack(_steps(data["forward"], count))
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
