"""Every entry of the record in one line of words."""

from collections.abc import Callable, Iterable
from dataclasses import fields
from typing import Any

from bench import units
from bench.core import edits
from bench.core.concerning import Turns
from bench.core.edits import Edit
from bench.core.history import REDO, UNDO, Entry
from bench.core.records import Coupon, Offer, Part, Stick, Typed
from bench.sheets import defects, inspecting, parts_cells


def stick_words(stick: Stick) -> str:
    """Wood, size and what was seen of a stick, as typed.

    Args:
        stick: whole.
    """
    wood = f"{stick.species} {stick.variant}".strip()
    what = f"{wood}, {stick.width.text} x {stick.depth.text} x {stick.length.text}"
    return what + "".join(f"; {said}" for said in _seen(stick))


def _stick(edit: edits.PutStick) -> str:
    tag, what = edit.stick.tag, stick_words(edit.stick)
    return f"stick {edit.was} changed: {tag}, {what}" if edit.was else f"stick {tag} added: {what}"


def _seen(stick: Stick) -> list[str]:
    seen = stick.inspection
    slopes = ", ".join(slope.text for slope in (seen.slope_one, seen.slope_two) if slope)
    return [
        *([f"rings {seen.rings.text}"] if seen.rings else []),
        *([f"grain {slopes}"] if slopes else []),
        *([f"edge grain {seen.edge_grain.text}"] if seen.edge_grain else []),
        *([f"bow {seen.bow.text}"] if seen.bow else []),
        *(["looked over"] if seen.looked else []),
        *([f"found {defects.write_all(stick.defects)}"] if stick.defects else []),
    ]


def _reading(edit: edits.TakeReading) -> str:
    reading = edit.reading
    marks = ", ".join(units.mark_read(mark) for mark in reading.marks)
    later = "".join(f", {units.mark_read(timed.mark)} after {timed.seconds:g} s" for timed in reading.timed)
    what = f"floats at {marks} of {reading.count} after {reading.seconds:g} s{later}"
    return f"{edit.tag} {what}, moisture {reading.moisture.text}, water {reading.water.text}"


def _sticks(edit: edits.PutSticks) -> str:
    return f"{_many(len(edit.sticks), 'stick')} off a list: {_first(stick.tag for stick in edit.sticks)}"


def _aside(edit: edits.SetAside) -> str:
    which = f"reading {edit.number + 1} of {edit.tag}"
    return f"{which} set aside: {edit.why}" if edit.why else f"{which} counts again"


def _weighing(edit: edits.TakeWeighing) -> str:
    weighing = edit.weighing
    size = f"{weighing.width.text} x {weighing.depth.text} x {weighing.length.text}"
    return f"{edit.tag}, a piece of {size} weighs {weighing.mass.text}, moisture {weighing.moisture.text}"


def _oven(edit: edits.TakeOvenTest) -> str:
    return f"{edit.tag} dried: {edit.test.wet.text} wet, {edit.test.dry.text} oven-dry"


def part_words(part: Part, wood: str = "") -> str:
    """Pieces, size, wood and what is asked of a part, as typed.

    Args:
        part: whole.
        wood: name of its wood; its key where the library is not at hand.
    """
    size = f"{part.width.text} x {part.depth.text}"
    what = f"{part.quantity} x {part.length.text}, {size} {wood or part.species}"
    what += f", becomes {inspecting.use_name(part.use)}"
    return what + "".join(f", {said}" for said in _asked(part))


def _part(edit: edits.PutPart) -> str:
    name, what = edit.part.name, part_words(edit.part)
    return f"part {edit.was} changed: {name}, {what}" if edit.was else f"part {name} added: {what}"


def _asked(part: Part) -> list[str]:
    """What is asked of a part beside its size."""
    return [
        *(["critical"] if part.critical else []),
        *(["best sticks first"] if part.best else []),
        *([f"least gravity {part.minimum_sg.text}"] if part.minimum_sg else []),
        *([f"scarf {parts_cells.write_scarf(part)}"] if part.scarf else []),
        *([f"no joint in {parts_cells.write_stretches(part.no_joint)}"] if part.no_joint else []),
        *([f"grain {part.grain}"] if part.grain else []),
        *([f"group {part.group}"] if part.group else []),
        *([f"one length of {part.piece_of}"] if part.piece_of else []),
    ]


def _parts(edit: edits.PutParts) -> str:
    pieces = sum(part.quantity for part in edit.parts)
    names = _first(part.name for part in edit.parts)
    return f"{_many(len(edit.parts), 'part')} off a list, {_many(pieces, 'piece')}: {names}"


def _first(names: Iterable[str], count: int = 4) -> str:
    """The first names of a list, and how many more."""
    first = list(names)
    more = f" and {len(first) - count} more" if len(first) > count else ""
    return ", ".join(first[:count]) + more


def _many(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def _section(edit: edits.ChooseSection) -> str:
    choice = edit.choice
    layers = ", ".join(f"{layer.thickness.text} {_words(layer.species)}" for layer in choice.layers)
    walls = [
        f"{name} {wall.text}" for name in ("flange", "web") if (wall := getattr(choice, name)) is not None
    ]
    shape = "" if choice.shape == "rectangle" else f", {' '.join((choice.shape, *walls))}"
    match = "own set of " + ", ".join(choice.own) if choice.match == "own" else choice.match
    asides = [
        *(
            [f"{choice.hold} held{f' at {choice.held_at.text}' if choice.held_at else ''}"]
            if choice.hold
            else []
        ),
        *([f"{choice.cap_side} at most {choice.cap.text}"] if choice.cap and choice.cap_side else []),
        *([f"column {choice.free_length.text}"] if choice.free_length else []),
        *([f"moisture {choice.moisture.text}"] if choice.moisture else []),
    ]
    owner = {
        "handbook": "the handbook",
        "aircraft": "aircraft design values",
        "coupons": f"coupons of {choice.coupons}",
    }.get(choice.gravity, "")
    owner = owner or choice.stick or "the stick in hand"
    guess = ", strengths estimated" if choice.gravity == "estimate" else ""
    what = (
        f"{choice.width.text} x {choice.depth.text} {_words(choice.plan)} in {layers or _words(choice.use)}"
    )
    return (
        f"section {what}{shape} by {match}{''.join(f', {one}' for one in asides)}, figures of {owner}{guess}"
    )


def _words(key: str) -> str:
    """A key of the library as words."""
    return key.replace("_", " ")


def _settings(edit: edits.ChangeSettings) -> str:
    now = edit.settings
    held = "used" if now.use_held else "left out"
    lengths = f"kerf {now.kerf.text}, trim {now.end_trim.text}, margin {now.margin.text}, "
    lengths += f"squaring {now.squaring.text}, offcut {now.least_offcut.text}, size step {now.grid.text}"
    own = [
        f"{name.replace('_', ' ')} {value.text}"
        for name in (field.name for field in fields(now.house))
        if (value := getattr(now.house, name)) is not None
    ]
    house = f", own limits {', '.join(own)}" if own else ""
    sizes = f", sizes {', '.join(size.text for size in now.sizes)}" if now.sizes else ""
    return f"shop: {lengths}{sizes}, on hold {held}, units {now.units}, limits of {now.document}{house}"


def _air(edit: edits.ReadAir) -> str:
    temperature, humidity = (read.text if read else "not read" for read in (edit.air.air, edit.air.humidity))
    return f"air of the shop: {temperature}, humidity {humidity}"


def _cut(edit: edits.MarkCut) -> str:
    cut = edit.cut
    return f"{cut.part} cut from {cut.stick}, {units.place(cut.start)} to {units.place(cut.end)}"


def _layout(edit: edits.LayOut) -> str:
    lengths = "".join(
        f"; one {one.whole} made of {_many(len(one.lengths), 'length')}" for one in edit.scarfed
    )
    if not edit.pieces:
        return f"no layout is kept for the saw{lengths}: it is laid out anew each time"
    sticks = len({piece.stick for piece in edit.pieces})
    again = "what is left laid out anew" if edit.follows else "laid out for the saw"
    return f"{again}: {_many(len(edit.pieces), 'piece')} on {_many(sticks, 'stick')}{lengths}"


def _spoilt(edit: edits.SpoilPiece) -> str:
    lost = edit.spoilt
    why = f": {lost.why}" if lost.why else ""
    return f"{lost.part} SPOILED on {lost.stick}, {units.place(lost.start)} to {units.place(lost.end)}{why}"


def _short(edit: edits.CutShort) -> str:
    where = f"from {edit.stick} at {units.place(edit.start)}"
    return f"{edit.part} {where} CAME OFF SHORT, {edit.length.text}; in the rack as {edit.tag}"


def _condemned(edit: edits.CondemnStick) -> str:
    if edit.why.strip():
        return f"stick {edit.tag} CONDEMNED: {edit.why.strip()}"
    return f"stick {edit.tag} no longer condemned, judged as before"


def _ripped(edit: edits.RipPlank) -> str:
    strips = ", ".join(width.text for width in edit.strips)
    rest = f"; {edit.rest.text} of the board is left" if edit.rest else ""
    return f"plank {edit.tag} ripped into {_many(len(edit.strips), 'strip')}, {strips}{rest}"


def offer_words(offer: Offer) -> str:
    """Wood, size and price of wood on offer, as typed.

    Args:
        offer: whole.
    """
    what = f"{offer.species}, {offer.thickness.text} x {offer.width.text} x {offer.length.text}"
    return what + (f", {offer.price.text} a board foot" if offer.price else "")


def _offer(edit: edits.PutOffer) -> str:
    was = f"wood on offer, {edit.was} changed: " if edit.was else "wood on offer: "
    return f"{was}{edit.offer.name}, {offer_words(edit.offer)}"


def coupon_words(coupon: Coupon) -> str:
    """Test, size, wood and what was measured of a coupon, as typed.

    Args:
        coupon: whole.
    """
    wood = f"cut from {coupon.stick}" if coupon.stick else _words(coupon.species) or "wood not named"
    what = f"{coupon.test} test, {coupon.width.text} x {coupon.depth.text}, {wood}"
    said = [
        *([f"lot {coupon.lot}"] if coupon.lot else []),
        *(
            f"{name.replace('_', ' ')} {typed.text}"
            for name in (field.name for field in fields(coupon))
            if name not in ("width", "depth") and isinstance(typed := getattr(coupon, name), Typed)
        ),
        *([f"group {coupon.group}"] if coupon.group else []),
        *([f"SET ASIDE: {coupon.aside}"] if coupon.aside else []),
    ]
    return what + "".join(f", {one}" for one in said)


def _coupon(edit: edits.PutCoupon) -> str:
    tag = edit.coupon.tag
    was = f"coupon {edit.was} changed: {tag}" if edit.was else f"coupon {tag} added"
    return f"{was}, {coupon_words(edit.coupon)}"


def _blow(edit: edits.Strike) -> str:
    seen = {"nothing": "nothing seen", "crack": "first CRACK", "broken": "BROKEN"}[edit.blow.seen]
    return f"coupon {edit.tag}, blow from {edit.blow.height.text}: {seen}"


def _load(edit: edits.TakeLoad) -> str:
    return f"coupon {edit.tag} bent: {edit.point.load.text} at {edit.point.deflection.text}"


def _brought(edit: edits.BringIn) -> str:
    lists = (
        (edit.sticks, "stick"),
        (edit.parts, "part"),
        (edit.coupons, "coupon"),
        (edit.offers, "offer"),
        (edit.cuts, "cut"),
        (edit.spoilt, "lost piece"),
    )
    counts = [_many(len(found), word) for found, word in lists if found]
    section = ["its section"] if edit.section else []
    over = f", in the place of ours: {', '.join(edit.over)}" if edit.over else ""
    return f"brought in from {edit.source}, packed {edit.written}: {', '.join([*counts, *section])}{over}"


_SAID: dict[type[Edit], Callable[[Any], str]] = {
    edits.StartJob: lambda edit: f"job {edit.name} started",
    edits.NameJob: lambda edit: f"job renamed to {edit.name}",
    edits.PutStick: _stick,
    edits.PutSticks: _sticks,
    edits.RemoveStick: lambda edit: f"stick {edit.tag} taken out",
    edits.TakeReading: _reading,
    edits.SetAside: _aside,
    edits.Inspect: lambda edit: f"{edit.subject}: {edit.value.text if edit.value else 'taken out'}",
    edits.LookOver: lambda edit: f"{edit.tag} {'looked over' if edit.looked else 'to be looked over again'}",
    edits.TakeWeighing: _weighing,
    edits.TakeOvenTest: _oven,
    edits.PutPart: _part,
    edits.PutParts: _parts,
    edits.RemovePart: lambda edit: f"part {edit.name} taken out",
    edits.ChooseSection: _section,
    edits.ChangeSettings: _settings,
    edits.ReadAir: _air,
    edits.MarkCut: _cut,
    edits.LayOut: _layout,
    edits.SpoilPiece: _spoilt,
    edits.CutShort: _short,
    edits.CondemnStick: _condemned,
    edits.RipPlank: _ripped,
    edits.PutOffer: _offer,
    edits.PutCoupon: _coupon,
    edits.RemoveCoupon: lambda edit: f"coupon {edit.tag} taken out",
    edits.Strike: _blow,
    edits.TakeLoad: _load,
    edits.BringIn: _brought,
    edits.RemoveOffer: lambda edit: f"wood on offer: {edit.name} taken out",
}


_TURNED = {UNDO: "undone", REDO: "made again"}


def told(edit: Edit) -> str:
    """An edit in one line.

    Args:
        edit: any edit.
    Returns:
        What it did, with the figures as typed.
    """
    for kind, say in _SAID.items():
        if isinstance(edit, kind):
            return say(edit)
    return edit.subject


def told_entry(entry: Entry, turned: str) -> str:
    """An entry of the record in one line.

    Args:
        entry: of the record.
        turned: the sentence of the change that it undoes or makes again; empty where there is none.
    Returns:
        What it did; undoing and redoing name what they are about.
    """
    if entry.edit is not None:
        return told(entry.edit)
    return f"{_TURNED[entry.what]}: {turned}" if turned else entry.what


def told_record(record: Iterable[Entry]) -> list[str]:
    """Every entry of a record in one line of words, in order; undoing and redoing name what they are about.

    Args:
        record: from the start of the job.
    Returns:
        As many lines.
    """
    turns, said = Turns(), list[str]()
    for entry in record:
        turned = turns.follow(entry)
        said.append(told_entry(entry, said[turned[0]] if turned else ""))
    return said
