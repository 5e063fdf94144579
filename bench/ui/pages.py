"""What the reading screens say: the working of the pane on show, the record, the keys."""

from collections.abc import Iterable, Sequence

from textual.content import Content
from textual.widget import Widget

from bench.core import working
from bench.core.history import Entry
from bench.core.river import River
from bench.sheets import wording
from bench.sheets.telling import told, told_entry
from bench.sheets.working import lines as working_lines
from bench.ui.drawing import DIM, HEAD, line, wrapped
from bench.ui.frame import key_name

__all__ = ["keys_page", "record_page", "told", "working_page"]


def working_page(river: River | None, pane: str, width: int) -> list[Content]:
    """Formula, numbers and sources of what the pane on show says."""
    if river is None:
        return []
    steps: tuple[working.Step, ...] = ()
    missing = "nothing has been worked out yet"
    if pane == "float" and river.hand is not None:
        missing = wording.reasons(river.hand.verdict)[0]
        if river.hand.result is not None and river.hand.stick.reading is not None:
            steps = working.of_float(river.hand.stick.reading, river.hand.result, river.hand.verdict)
    if pane == "section":
        view = river.section
        missing = str(view.refusal)
        if view.resized is not None and view.plan is not None and view.use is not None:
            steps = working.of_section(view.resized, view.plan, view.use)
    if pane == "cuts" and river.plan is not None:
        steps = working.of_cuts(river.problem, river.plan, river.job.cuts)
    if not steps:
        return [Content(text) for text in wrapped(missing, width)]
    rows = []
    for text in working_lines(steps, river.job.settings.units):
        indent = " " * (len(text) - len(text.lstrip()) + 2)
        rows += [Content(part) for part in _kept(text, width, indent)]
    if pane == "section":
        rows += [Content(""), *(line((part, "bold")) for part in wrapped(wording.CAUTION, width))]
    return rows


def _kept(text: str, width: int, indent: str) -> list[str]:
    """A line as it is where it fits, else broken with its indent kept."""
    if len(text) <= width:
        return [text]
    lead = text[: len(text) - len(text.lstrip())]
    return [
        lead + part if not part.startswith(indent) else part for part in wrapped(text.strip(), width, indent)
    ]


def record_page(record: Sequence[tuple[str, Entry]], width: int) -> list[Content]:
    """Everything accepted, the newest first."""
    rows: list[Content] = []
    for at, entry in reversed(record):
        first, *rest = wrapped(told_entry(entry), max(20, width - 21)) or [""]
        rows.append(line((f"{at.replace('T', ' '):<20} ", DIM), first))
        rows += [Content(" " * 21 + text) for text in rest]
    return rows


def keys_page(groups: Iterable[tuple[str, type[Widget]]], width: int) -> list[Content]:
    """Every key, by where it works."""
    rows: list[Content] = []
    for title, kind in groups:
        rows.append(line((title, HEAD)))
        for binding in kind.__dict__["BINDINGS"]:
            text = binding.tooltip or binding.description
            rows.append(line((f"  {key_name(binding):<12}", "bold ansi_yellow"), text[: max(0, width - 14)]))
    rows += [Content(""), *(line((part, DIM)) for part in wrapped(wording.CAUTION, width))]
    return rows
