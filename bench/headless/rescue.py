"""The verb `rescue`: a new job of what can be read of a damaged one, and a list of what cannot."""

from pathlib import Path

from bench.core.errors import Refusal
from bench.core.naming import one_line
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.sheets.telling import told
from bench.storage import TextFiles
from bench.storage.rescue import Lost, Rescue, rescue

OPTIONS = {
    "rescue": (
        Option("FILE", "name", "the damaged job; it is only read", needed=True, wanted="the file of a job"),
        Option("NEW", "name", "the new job; beside FILE, its name with -rescued, if not given"),
    )
}
_LOST = ("entry", "what", "why it is not kept", "what it said")


def _rescue(given: Given) -> Answer:
    new = given.text("NEW")
    made = rescue(Path(given.text("FILE")).expanduser(), Path(new).expanduser() if new else None)
    rows = tuple(_row(lost) for lost in made.lost)
    missing = sum(lost.last - lost.first + 1 for lost in made.lost)
    listed, warnings = _listed(made, rows), []
    if rows and not listed:
        warnings.append("the list of what is lost could not be written beside the new job: keep this one")
    if rows:
        warnings.append("look over what was changed after the first entry lost before anything is cut by it")
    facts = (
        ("new job", str(made.path)),
        ("entries kept", str(len(made.record))),
        ("entries lost", str(missing)),
        ("kept without a checksum", _numbers(made.unchecked)),
        ("list of what is lost", listed or "none"),
    )
    tables = (Table("Rescued", ("", ""), facts), *([Table("Not kept", _LOST, rows)] if rows else []))
    data = {
        "path": str(made.path),
        "kept": len(made.record),
        "lost": [
            {
                "first": one.first,
                "last": one.last,
                "kind": one.kind or None,
                "why": one.why,
                "said": _said(one),
            }
            for one in made.lost
        ],
        "unchecked": made.unchecked,
        "list": listed or None,
    }
    return Answer(data, tables, tuple(warnings))


def _numbers(entries: list[int]) -> str:
    """Numbers in words, those on end together: `3 entries: 4 to 5, 9`; look these over."""
    if not entries:
        return "none"
    ends = [(entries[0], entries[0])]
    for number in entries[1:]:
        first, last = ends[-1]
        if number == last + 1:
            ends[-1] = first, number
        else:
            ends.append((number, number))
    spans = ", ".join(f"{first} to {last}" if last > first else str(first) for first, last in ends)
    return f"{len(entries)} {'entry' if len(entries) == 1 else 'entries'}: {spans}"


def _row(lost: Lost) -> tuple[str, str, str, str]:
    return lost.numbers, lost.kind or "not known", lost.why, _said(lost)


def _said(lost: Lost) -> str:
    return told(lost.edit) if lost.edit is not None else lost.text


def _listed(made: Rescue, rows: tuple[tuple[str, ...], ...]) -> str:
    """The list as a text file beside the new job; its path, empty where there is none."""
    if not rows:
        return ""
    lines = (
        f"{numbers}: {what}: {why}" + (f"\n    {said}" if said else "") for numbers, what, why, said in rows
    )
    text = "\n".join(one_line(line) for whole in lines for line in whole.split("\n"))
    place = made.path.with_name(f"{made.path.stem}-lost.txt")
    try:
        return TextFiles().write(str(place), f"Not kept of the damaged job, in {made.path.name}:\n\n{text}\n")
    except Refusal:
        return ""


ANSWERS = {"rescue": _rescue}
