"""Every entry of the record in one line of words."""

from collections.abc import Callable
from dataclasses import fields
from typing import Any

from bench import units
from bench.core import edits
from bench.core.edits import Edit
from bench.core.history import REDO, UNDO, Entry
from bench.core.records import Stick
from bench.sheets import defects, inspecting


def _stick(edit: edits.PutStick) -> str:
    stick = edit.stick
    wood = f"{stick.species} {stick.variant}".strip()
    where = f"{wood}, {stick.width.text} x {stick.depth.text} x {stick.length.text}"
    where += "".join(f"; {said}" for said in _seen(stick))
    return (
        f"stick {edit.was} changed: {stick.tag}, {where}" if edit.was else f"stick {stick.tag} added: {where}"
    )


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
    marks = ", ".join(units.mark(mark) for mark in reading.marks)
    later = "".join(f", {units.mark(timed.mark)} after {timed.seconds:g} s" for timed in reading.timed)
    what = f"floats at {marks} of {reading.count} after {reading.seconds:g} s{later}"
    return f"{edit.tag} {what}, moisture {reading.moisture.text}, water {reading.water.text}"


def _sticks(edit: edits.PutSticks) -> str:
    tags = ", ".join(stick.tag for stick in edit.sticks[:4])
    more = f" and {len(edit.sticks) - 4} more" if len(edit.sticks) > 4 else ""
    return f"{len(edit.sticks)} sticks off a list: {tags}{more}"


def _aside(edit: edits.SetAside) -> str:
    which = f"reading {edit.number + 1} of {edit.tag}"
    return f"{which} set aside: {edit.why}" if edit.why else f"{which} counts again"


def _weighing(edit: edits.TakeWeighing) -> str:
    weighing = edit.weighing
    size = f"{weighing.width.text} x {weighing.depth.text} x {weighing.length.text}"
    return f"{edit.tag}, a piece of {size} weighs {weighing.mass.text}, moisture {weighing.moisture.text}"


def _oven(edit: edits.TakeOvenTest) -> str:
    return f"{edit.tag} dried: {edit.test.wet.text} wet, {edit.test.dry.text} oven-dry"


def _part(edit: edits.PutPart) -> str:
    part = edit.part
    what = f"{part.quantity} x {part.length.text}, {part.width.text} x {part.depth.text} {part.species}"
    what += f", becomes {inspecting.use_name(part.use)}{', critical' if part.critical else ''}"
    return f"part {edit.was} changed: {part.name}, {what}" if edit.was else f"part {part.name} added: {what}"


def _section(edit: edits.ChooseSection) -> str:
    choice = edit.choice
    held = f", {choice.hold} held" if choice.hold else ""
    owner = choice.stick or ("the handbook" if choice.gravity == "handbook" else "the stick in hand")
    guess = ", strengths estimated" if choice.gravity == "estimate" else ""
    what = f"{choice.width.text} x {choice.depth.text} {choice.plan} in {choice.use}"
    return f"section {what} by {choice.match}{held}, gravity of {owner}{guess}"


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
    edits.RemovePart: lambda edit: f"part {edit.name} taken out",
    edits.ChooseSection: _section,
    edits.ChangeSettings: _settings,
    edits.ReadAir: _air,
    edits.MarkCut: _cut,
}


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


def told_entry(entry: Entry) -> str:
    """A line of the record: the edit, or that one was undone or redone."""
    if entry.what == UNDO:
        return "the change before was undone"
    if entry.what == REDO:
        return "the undone change was made again"
    return told(entry.edit) if entry.edit is not None else entry.what
