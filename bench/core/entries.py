"""An entry of the record as plain values, and back: what a job file and JSON Lines hold alike."""

from typing import Any

from bench.core.codec import from_plain, to_plain
from bench.core.edits import EDITS, Edit
from bench.core.errors import BadInput
from bench.core.history import EDIT, REDO, UNDO, Entry


def to_parts(entry: Entry) -> tuple[str, Any]:
    """The name of an entry's edit and its fields; empty and None where it carries none.

    Args:
        entry: of the record.
    Returns:
        A name of edits.EDITS, and only what JSON can hold.
    Raises:
        TypeError: a value no record holds.
    Source:
        core.codec.
    """
    return ("", None) if entry.edit is None else (type(entry.edit).__name__, to_plain(entry.edit))


def from_parts(what: str, kind: str, data: object) -> Entry:
    """The reverse of `to_parts`.

    Args:
        what: history.EDIT, UNDO or REDO.
        kind: a name of edits.EDITS; empty for undo and redo.
        data: its fields; None for undo and redo.
    Returns:
        The entry.
    Raises:
        BadInput: it is not one that this version writes.
    Source:
        core.codec.
    """
    if what in (UNDO, REDO) and not kind and data is None:
        return Entry(what)
    if what != EDIT:
        raise damaged(what)
    wanted = EDITS.get(kind)
    if wanted is None:
        raise BadInput(
            "record",
            kind,
            "is a change this version does not know",
            "a job of this version or an earlier one",
        )
    try:
        edit: Edit = from_plain(wanted, data)
    except ArithmeticError:
        raise damaged(str(data)) from None
    return Entry(EDIT, edit)


def damaged(text: str) -> BadInput:
    """That something is no entry as this program writes it.

    Args:
        text: what stands there.
    Returns:
        The refusal.
    Source:
        core.codec.
    """
    return BadInput("record", text[:40], "is damaged", "a record as this program wrote it")
