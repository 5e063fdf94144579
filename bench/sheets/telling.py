"""Every entry of the record in one line of words."""

from bench import units
from bench.core import edits
from bench.core.edits import Edit
from bench.core.history import REDO, UNDO, Entry


def _stick(edit: edits.PutStick) -> str:
    stick = edit.stick
    where = f"{stick.species}, {stick.width.text} x {stick.depth.text} x {stick.length.text}"
    return (
        f"stick {edit.was} changed: {stick.tag}, {where}" if edit.was else f"stick {stick.tag} added: {where}"
    )


def _reading(edit: edits.TakeReading) -> str:
    marks = ", ".join(units.mark(mark) for mark in edit.reading.marks)
    return f"{edit.tag} floats at {marks} of {edit.reading.count}, moisture {edit.reading.moisture.text}"


def _part(edit: edits.PutPart) -> str:
    part = edit.part
    what = f"{part.quantity} x {part.length.text}, {part.width.text} x {part.depth.text} {part.species}"
    return f"part {edit.was} changed: {part.name}, {what}" if edit.was else f"part {part.name} added: {what}"


def _section(edit: edits.ChooseSection) -> str:
    choice = edit.choice
    held = f", {choice.hold} held" if choice.hold else ""
    owner = choice.stick or ("the stick in hand" if choice.gravity == "stick" else "the handbook")
    what = f"{choice.width.text} x {choice.depth.text} {choice.plan} in {choice.use}"
    return f"section {what} by {choice.match}{held}, gravity of {owner}"


def _settings(edit: edits.ChangeSettings) -> str:
    now = edit.settings
    held = "used" if now.use_held else "left out"
    lengths = f"kerf {now.kerf.text}, trim {now.end_trim.text}, margin {now.margin.text}, "
    lengths += f"squaring {now.squaring.text}, offcut {now.least_offcut.text}, size step {now.grid.text}"
    return f"shop: {lengths}, on hold {held}, units {now.units}"


def _cut(edit: edits.MarkCut) -> str:
    cut = edit.cut
    return f"{cut.part} cut from {cut.stick}, {units.place(cut.start)} to {units.place(cut.end)}"


def told(edit: Edit) -> str:
    """An edit in one line.

    Args:
        edit: any edit.
    Returns:
        What it did, with the figures as typed.
    """
    if isinstance(edit, edits.StartJob):
        return f"job {edit.name} started"
    if isinstance(edit, edits.NameJob):
        return f"job renamed to {edit.name}"
    if isinstance(edit, edits.PutStick):
        return _stick(edit)
    if isinstance(edit, edits.RemoveStick):
        return f"stick {edit.tag} taken out"
    if isinstance(edit, edits.TakeReading):
        return _reading(edit)
    if isinstance(edit, edits.PutPart):
        return _part(edit)
    if isinstance(edit, edits.RemovePart):
        return f"part {edit.name} taken out"
    if isinstance(edit, edits.ChooseSection):
        return _section(edit)
    if isinstance(edit, edits.ChangeSettings):
        return _settings(edit)
    return _cut(edit) if isinstance(edit, edits.MarkCut) else edit.subject


def told_entry(entry: Entry) -> str:
    """A line of the record: the edit, or that one was undone or redone."""
    if entry.what == UNDO:
        return "the change before was undone"
    if entry.what == REDO:
        return "the undone change was made again"
    return told(entry.edit) if entry.edit is not None else entry.what
