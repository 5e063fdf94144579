"""What is different between two states of a job: which thing, which of its fields, from what to what."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields
from operator import attrgetter
from typing import Any

from bench.core.frozen import record, replace
from bench.core.records import Job, Typed
from bench.core.rows import apart, shared

# The lists of a job whose things have a name, with the name of one and the field that holds it.
NAMED = (
    ("sticks", "stick", "tag"),
    ("parts", "part", "name"),
    ("coupons", "coupon", "tag"),
    ("offers", "offer", "name"),
)
# The things there is one of, or a list of without names.
SINGLE = ("section", "settings", "air")
# What a new name leaves as it was: a thing that differs in any of these is another one in its place.
IDENTITY = {
    "stick": ("species", "readings", "weighings", "ovens", "parent", "sawn_from"),
    "part": ("species", "width", "depth"),
    "coupon": ("test", "stick", "species", "blows", "points"),
    "offer": ("species",),
}
MOST_RENAMED = 2  # fields that may differ beside the name
ORDER = "order"  # the field of things that stand in another order
GATHERED = (("cuts", "cut"), ("spoilt", "lost piece"), ("laid", "place in the layout"))
SAWN = GATHERED[:2]  # what stays as it was made, named after its part


@record
class Difference:
    """One field of one thing; a whole thing that is new or gone has no field."""

    kind: str  # "stick", "part", "coupon", "offer", "section", "settings", "air", "job", "cut" ...
    name: str  # of the thing, as it is called after; empty where there is one only
    field: str  # empty: the whole thing
    before: Any  # None: it was not there
    after: Any  # None: it is gone


def differences(before: Job, after: Job) -> tuple[Difference, ...]:
    """Everything that is different.

    Args:
        before: a job.
        after: another state of it.
    Returns:
        Differences, the job's own fields first, then thing by thing in the order of the later job.
    Source:
        the job.
    """
    found = list(_fields("job", "", before, after, ("name", "started", "invented")))
    for single in SINGLE:
        found += _fields(single, "", getattr(before, single), getattr(after, single))
    for listed, kind, naming in NAMED:
        found += _named(kind, naming, getattr(before, listed), getattr(after, listed))
        found += _order_of(before, after, listed, kind, naming)
    for listed, kind in GATHERED:
        found += _gathered(kind, getattr(before, listed), getattr(after, listed))
        found += _order(kind, getattr(before, listed), getattr(after, listed))
    return tuple(found)


def reordered(before: Job, after: Job) -> tuple[str, ...]:
    """Kinds of named things that are in both states and stand in another order.

    Args:
        before: a job.
        after: another state of it.
    Returns:
        Kinds, as `things` names them.
    Source:
        the job.
    """
    return tuple(
        kind for listed, kind, naming in NAMED if any(_order_of(before, after, listed, kind, naming))
    )


def unlike(before: Job, after: Job) -> tuple[Job, Job]:
    """Both states with those things alone that are not the very same in the same place.

    Args:
        before: a job.
        after: another state of it.
    Returns:
        The two, their lists cut down; for `things` and `standing`, to no other end.
    Source:
        the job.
    """
    lists = [listed for listed, *_ in (*NAMED, *SAWN)]
    pairs = {listed: _others(getattr(before, listed), getattr(after, listed)) for listed in lists}
    was: dict[str, Any] = {listed: pair[0] for listed, pair in pairs.items()}
    now: dict[str, Any] = {listed: pair[1] for listed, pair in pairs.items()}
    return replace(before, **was), replace(after, **now)


def things(job: Job) -> tuple[tuple[str, str, Any], ...]:
    """Everything of a job that can be looked at and taken singly: kind, name, record.

    Args:
        job: any state.
    Returns:
        What there is one of, then what has a name, then what was sawn, in the job's order.
    Source:
        the job.
    """
    singles = [(single, "", getattr(job, single)) for single in SINGLE]
    named = [
        (kind, getattr(thing, naming), thing)
        for listed, kind, naming in NAMED
        for thing in getattr(job, listed)
    ]
    sawn = [(kind, piece.part, piece) for listed, kind in SAWN for piece in getattr(job, listed)]
    return (*singles, *named, *sawn)


def standing(job: Job) -> Callable[[str, str, Any], Any]:
    """Finds the thing of a job that stands where one of another state stood.

    Args:
        job: any state.
    Returns:
        For a kind and a name, as `things` tells them, and the record in the other state: its record here,
        None where there is none. What was sawn is the same or is not there.
    Source:
        the job.
    """
    pieces = {kind for _, kind in SAWN}
    here = things(job)
    named = {(kind, name): thing for kind, name, thing in here if kind not in pieces}
    sawn = {(kind, thing) for kind, _, thing in here if kind in pieces}

    def found(kind: str, name: str, other: Any) -> Any:
        if kind in pieces:
            return other if (kind, other) in sawn else None
        return named.get((kind, name))

    return found


def changed(kind: str, name: str, before: Any, after: Any) -> tuple[Difference, ...]:
    """What is different in one thing.

    Args:
        kind: as `things` names it.
        name: of it.
        before: its record, None where it was not there.
        after: the same, None where it is gone.
    Returns:
        Its differences.
    Source:
        the records.
    """
    if before is None or after is None:
        return () if before is after else (Difference(kind, name, "", before, after),)
    return tuple(_fields(kind, name, before, after))


def _fields(kind: str, name: str, before: Any, after: Any, only: Sequence[str] = ()) -> Iterator[Difference]:
    """The fields that differ; those of a record in a field by themselves."""
    if before is after:
        return
    for field in only or [field.name for field in fields(after)]:
        was, now = getattr(before, field), getattr(after, field)
        if was == now:
            continue
        if hasattr(now, "__dataclass_fields__") and type(was) is type(now) and not isinstance(now, Typed):
            yield from _fields(kind, name, was, now)
        elif isinstance(now, tuple) and isinstance(was, tuple):
            yield from _members(kind, name, field, was, now)
        else:
            yield Difference(kind, name, field, was, now)


def _members(
    kind: str, name: str, field: str, before: tuple[Any, ...], after: tuple[Any, ...]
) -> Iterator[Difference]:
    """What was added to a list in a field or taken out of it; place by place where as many are there."""
    if len(before) == len(after):
        pairs = [(was, now) for was, now in zip(before, after, strict=True) if was != now]
    else:
        gone = [(was, None) for was in before if was not in after]
        pairs = [*gone, *((None, now) for now in after if now not in before)]
    if not pairs:
        yield Difference(kind, name, field, before, after)  # the same in another order
    for was, now in pairs:
        yield Difference(kind, name, field, was, now)


def _named(kind: str, naming: str, before: tuple[Any, ...], after: tuple[Any, ...]) -> Iterator[Difference]:
    if before is after:
        return
    name_of: Callable[[Any], str] = attrgetter(naming)
    before, after = _others(before, after)
    was = {name_of(thing): thing for thing in before}
    now = {name_of(thing): thing for thing in after}
    renamed = _renamed(kind, before, after, name_of) if len(before) == len(after) else {}
    for name, thing in now.items():
        old = was.get(name) or was.get(renamed.get(name, ""))
        if old is None:
            yield Difference(kind, name, "", None, thing)
        elif old is not thing:
            yield from _fields(kind, name, old, thing)
    for name, thing in was.items():
        if name not in now and name not in renamed.values():
            yield Difference(kind, name, "", thing, None)


def _others(before: tuple[Any, ...], after: tuple[Any, ...]) -> tuple[tuple[Any, ...], tuple[Any, ...]]:
    """Both without what is the very same in the same place, from the front or from the back.

    Of ten thousand sticks one is another: the rest is not gone through name by name.
    """
    if len(before) == len(after):
        others = apart(before, after)
        return tuple(before[place] for place in others), tuple(after[place] for place in others)
    return _between(before, after)


def _between(before: tuple[Any, ...], after: tuple[Any, ...]) -> tuple[tuple[Any, ...], tuple[Any, ...]]:
    """Both without what is the very same at the front and at the back."""
    first, last = shared(before, after)
    return before[first : len(before) - last], after[first : len(after) - last]


def _renamed(
    kind: str, before: tuple[Any, ...], after: tuple[Any, ...], name_of: Callable[[Any], str]
) -> dict[str, str]:
    """New name -> old name, where the same thing stands in the same place under another name."""
    was, now = {name_of(thing) for thing in before}, {name_of(thing) for thing in after}
    return {
        name_of(new): name_of(old)
        for old, new in zip(before, after, strict=True)
        if name_of(old) not in now and name_of(new) not in was and _same_thing(kind, old, new)
    }


def _same_thing(kind: str, old: Any, new: Any) -> bool:
    """Whether it may be the same thing under another name; two that nothing tells apart are taken for one."""
    differ = [field.name for field in fields(new) if getattr(old, field.name) != getattr(new, field.name)]
    return len(differ) <= MOST_RENAMED + 1 and not set(differ).intersection(IDENTITY[kind])


def _order_of(before: Job, after: Job, listed: str, kind: str, naming: str) -> Iterator[Difference]:
    """The order of things with a name; what is the same at the front and at the back stands as it did."""
    name_of: Callable[[Any], str] = attrgetter(naming)
    was, now = _between(getattr(before, listed), getattr(after, listed))
    return _order(kind, tuple(map(name_of, was)), tuple(map(name_of, now)))


def _order(kind: str, before: tuple[Any, ...], after: tuple[Any, ...]) -> Iterator[Difference]:
    """What is in both and stands in another order, from the first place that differs to the last."""
    if before == after:
        return
    kept, still = set(before), set(after)
    was, now = [one for one in before if one in still], [one for one in after if one in kept]
    moved = [place for place, (old, new) in enumerate(zip(was, now, strict=False)) if old != new]
    if moved:
        stretch = slice(moved[0], moved[-1] + 1)
        yield Difference(kind, "", ORDER, tuple(was[stretch]), tuple(now[stretch]))


def _gathered(kind: str, before: tuple[Any, ...], after: tuple[Any, ...]) -> Iterator[Difference]:
    if before is after:
        return
    was, now = set(before), set(after)
    for gone in before:
        if gone not in now:
            yield Difference(kind, gone.part, "", gone, None)
    for new in after:
        if new not in was:
            yield Difference(kind, new.part, "", None, new)
