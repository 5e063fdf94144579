"""What every accepted change is about: which sticks, parts and coupons, and what kind of change it is."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from bench.core import edits
from bench.core.edits import Edit
from bench.core.history import REDO, UNDO, Entry

# The kinds, by which the record is searched; undoing is of the kind of what it undoes, and of its own.
KINDS = (
    "job",
    "stick",
    "inspection",
    "reading",
    "moisture",
    "part",
    "section",
    "shop",
    "saw",
    "layout",
    "offer",
    "coupon",
    "parcel",
    UNDO,
    REDO,
)


@dataclass(frozen=True, slots=True)
class Concern:
    """What one entry of the record is about."""

    kinds: tuple[str, ...]
    sticks: tuple[str, ...] = ()  # tags
    parts: tuple[str, ...] = ()  # names
    coupons: tuple[str, ...] = ()  # tags


def _some(*names: str) -> tuple[str, ...]:
    """The names that are any, each once."""
    return tuple(dict.fromkeys(name for name in names if name))


def _stick(kind: str) -> Callable[[Any], Concern]:
    return lambda edit: Concern((kind,), sticks=(edit.tag,))


def _piece(made: Any) -> Concern:
    return Concern(("saw",), sticks=(made.stick,), parts=(made.part,))


def _layout(edit: edits.LayOut) -> Concern:
    made = [name for one in edit.scarfed for name in (one.whole, *(part.name for part in one.lengths))]
    return Concern(("layout",), parts=_some(*made))


def _coupon(edit: edits.PutCoupon) -> Concern:
    tags = _some(edit.was, edit.coupon.tag)
    return Concern(("coupon",), sticks=_some(edit.coupon.stick), coupons=tags)


def _coupon_tag(edit: Any) -> Concern:
    return Concern(("coupon",), coupons=(edit.tag,))


def _parcel(edit: edits.BringIn) -> Concern:
    return Concern(
        ("parcel",),
        tuple(stick.tag for stick in edit.sticks),
        tuple(part.name for part in edit.parts),
        tuple(coupon.tag for coupon in edit.coupons),
    )


ABOUT: dict[type[Edit], Callable[[Any], Concern]] = {
    edits.StartJob: lambda edit: Concern(("job",)),
    edits.NameJob: lambda edit: Concern(("job",)),
    edits.PutStick: lambda edit: Concern(("stick",), sticks=_some(edit.was, edit.stick.tag)),
    edits.PutSticks: lambda edit: Concern(("stick",), sticks=tuple(stick.tag for stick in edit.sticks)),
    edits.RemoveStick: _stick("stick"),
    edits.TakeReading: _stick("reading"),
    edits.SetAside: _stick("reading"),
    edits.TakeWeighing: _stick("reading"),
    edits.TakeOvenTest: _stick("moisture"),
    edits.Inspect: _stick("inspection"),
    edits.LookOver: _stick("inspection"),
    edits.PutPart: lambda edit: Concern(("part",), parts=_some(edit.was, edit.part.name)),
    edits.PutParts: lambda edit: Concern(("part",), parts=tuple(part.name for part in edit.parts)),
    edits.RemovePart: lambda edit: Concern(("part",), parts=(edit.name,)),
    edits.ChooseSection: lambda edit: Concern(("section",), sticks=_some(edit.choice.stick)),
    edits.ChangeSettings: lambda edit: Concern(("shop",)),
    edits.ReadAir: lambda edit: Concern(("moisture",)),
    edits.MarkCut: lambda edit: _piece(edit.cut),
    edits.SpoilPiece: lambda edit: _piece(edit.spoilt),
    edits.CutShort: lambda edit: Concern(("saw",), sticks=_some(edit.stick, edit.tag), parts=(edit.part,)),
    edits.CondemnStick: _stick("saw"),
    edits.RipPlank: _stick("saw"),
    edits.LayOut: _layout,
    edits.PutOffer: lambda edit: Concern(("offer",)),
    edits.RemoveOffer: lambda edit: Concern(("offer",)),
    edits.PutCoupon: _coupon,
    edits.RemoveCoupon: _coupon_tag,
    edits.Strike: _coupon_tag,
    edits.TakeLoad: _coupon_tag,
    edits.BringIn: _parcel,
}


def concern(edit: Edit) -> Concern:
    """What a change is about.

    Args:
        edit: any edit.
    Returns:
        Its kind, and the names it touches.
    Source:
        the record.
    """
    return ABOUT[type(edit)](edit)


def turned(record: Iterable[Entry]) -> list[tuple[Edit, ...]]:
    """The changes that every entry makes, or takes back, with those that belong to them.

    Args:
        record: from the start of the job, in order.
    Returns:
        As many tuples; an undoing or redoing has the changes it turns, in the order they were made.
    Source:
        the record, as history.History follows it.
    """
    found: list[tuple[Edit, ...]] = []
    past: list[tuple[Edit, ...]] = []
    future: list[tuple[Edit, ...]] = []
    for entry in record:
        if entry.edit is not None:
            found.append((entry.edit,))
            future.clear()
            if entry.edit.belongs and past:
                past[-1] = (*past[-1], entry.edit)
            else:
                past.append((entry.edit,))
        elif entry.what == UNDO and past:
            future.append(past.pop())
            found.append(future[-1])
        elif entry.what == REDO and future:
            past.append(future.pop())
            found.append(past[-1])
        else:
            found.append(())
    return found


def concerns(record: Iterable[Entry]) -> list[Concern]:
    """What every entry of a record is about.

    Args:
        record: from the start of the job, in order.
    Returns:
        As many, in order.
    Source:
        the record.
    """
    entries = list(record)
    found = []
    for entry, made in zip(entries, turned(entries), strict=True):
        about = [concern(edit) for edit in made]
        own = (entry.what,) if entry.edit is None else ()
        found.append(
            Concern(
                _some(*own, *(kind for one in about for kind in one.kinds)),
                _some(*(tag for one in about for tag in one.sticks)),
                _some(*(name for one in about for name in one.parts)),
                _some(*(tag for one in about for tag in one.coupons)),
            )
        )
    return found
