"""What every accepted change is about: which sticks, parts and coupons, and what kind of change it is."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from bench.core import edits
from bench.core.edits import Edit
from bench.core.frozen import record
from bench.core.history import EDIT, REDO, UNDO, Entry

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


@record
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
        _some("parcel", "section" if edit.section else ""),
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


class Turns:
    """Follows what is undone and made again, entry by entry, as history.History does.

    It keeps places of entries, not their edits: a long record is read once, and not held.
    """

    def __init__(self) -> None:
        self._past: list[tuple[int, ...]] = []
        self._future: list[tuple[int, ...]] = []
        self._count = 0

    def follow(self, entry: Entry) -> tuple[int, ...]:
        """One more entry of the record.

        Args:
            entry: the next one.
        Returns:
            Places, from 0, of the entries that it takes back or makes again: the change, then what belongs
            to it. None for an edit.
        """
        here = (self._count,)
        self._count += 1
        if entry.edit is not None:
            self._future.clear()
            belongs = entry.edit.belongs and bool(self._past)
            self._past.append((*self._past.pop(), *here) if belongs else here)
            return ()
        if entry.what == UNDO and self._past:
            self._future.append(self._past.pop())
            return self._future[-1]
        if entry.what == REDO and self._future:
            self._past.append(self._future.pop())
            return self._past[-1]
        return ()


def turned(record: Sequence[tuple[str, Entry]], place: int) -> tuple[int, ...]:
    """What an entry takes back or makes again, looked for from there back; as Turns finds it.

    Args:
        record: from the start of the job, each entry with its time.
        place: of the entry, from 0.
    Returns:
        Places, from 0: the change, then what belongs to it. None for an edit.
    Source:
        the record.
    """
    what = record[place][1].what
    if what == REDO:
        place = _undoing(record, place)
    undone, belonging = 0, list[int]()  # changes that were undone again, of those met on the way back
    while what != EDIT and place > 0:
        place -= 1
        entry = record[place][1]
        if entry.what == UNDO:
            undone += 1
        elif entry.what == REDO:
            place = _undoing(record, place)  # as if neither had been
        elif entry.edit is not None and entry.edit.belongs and place:
            belonging += [] if undone else [place]
        elif undone:
            undone -= 1
        else:
            return (place, *reversed(belonging))
    return ()


def _undoing(record: Sequence[tuple[str, Entry]], place: int) -> int:
    """Which undoing a redoing takes back: the last before it that no redoing took back already."""
    left = 1
    while left and place > 0:
        place -= 1
        what = record[place][1].what
        left += (what == REDO) - (what == UNDO)
    return place


def about(entry: Entry, turned: Iterable[Concern]) -> Concern:
    """What an entry is about.

    Args:
        entry: of the record.
        turned: what the entries are about that it takes back or makes again, as Turns finds them.
    Returns:
        Its kinds and the names it touches; undoing and redoing are of their own kind too.
    Source:
        the record.
    """
    if entry.edit is not None:
        return concern(entry.edit)
    found = list(turned)
    return Concern(
        _some(entry.what, *(kind for one in found for kind in one.kinds)),
        _some(*(tag for one in found for tag in one.sticks)),
        _some(*(name for one in found for name in one.parts)),
        _some(*(tag for one in found for tag in one.coupons)),
    )


def concerns(record: Iterable[Entry]) -> list[Concern]:
    """What every entry of a record is about.

    Args:
        record: from the start of the job, in order.
    Returns:
        As many, in order.
    Source:
        the record.
    """
    turns, found = Turns(), list[Concern]()
    for entry in record:
        found.append(about(entry, [found[place] for place in turns.follow(entry)]))
    return found
