"""What the reading screens say: the working of the pane on show, the record, the keys."""

from collections.abc import Mapping, Sequence

from textual.content import Content
from textual.widget import Widget

from bench.core import working, working_coupons, working_stick, working_strength
from bench.core.history import Entry
from bench.core.records import Species
from bench.core.river import River
from bench.core.steps import Step
from bench.sheets import wording
from bench.sheets.screens import HELP
from bench.sheets.telling import told, told_record
from bench.sheets.working import lines as working_lines
from bench.ui.actions import KeyTable
from bench.ui.drawing import DIM, HEAD, TRIED, line, wrapped

__all__ = ["bench_steps", "help_page", "missing", "record_page", "told", "working_page"]


def bench_steps(river: River | None, woods: Mapping[str, Species], pane: str) -> tuple[Step, ...]:
    """How the figures of a pane of the bench came about; nothing while there are none."""
    if river is None:
        return ()
    if pane == "float" and river.hand is not None:
        return working_stick.of_stick(river.hand, woods.get(river.hand.stick.species))
    view = river.section
    if pane == "section" and view.resized is not None and view.plan is not None and view.use is not None:
        own = working_strength.of_estimate(view.estimate) if view.estimate is not None else ()
        broken = working_coupons.of_coupons(view.coupons) if view.coupons is not None else ()
        return (*working.of_section(view.resized, view.plan, view.use), *own, *broken)
    if pane == "cuts" and river.plan is not None:
        return working.of_cuts(river.problem, river.plan, river.job.cuts)
    return ()


def missing(river: River | None, pane: str) -> str:
    """Why there is nothing to work out on a pane of the bench."""
    if river is not None and pane == "float" and river.hand is not None:
        return wording.reasons(river.hand.verdict)[0]
    if river is not None and pane == "section":
        return str(river.section.refusal)
    then = {"float": "<go.stock> goes to Stock, where sticks are added", "cuts": "<go.parts> goes to Parts"}
    return f"nothing has been worked out yet; {then.get(pane, '<go.float> goes to Float')}"


def working_page(steps: Sequence[Step], why: str, system: str, width: int) -> list[Content]:
    """Steps as text; where there are none, why."""
    if not steps:
        return [Content(text) for text in wrapped(why, width)]
    rows = []
    for text in working_lines(tuple(steps), system):
        indent = " " * (len(text) - len(text.lstrip()) + 2)
        rows += [Content(part) for part in _kept(text, width, indent)]
    return [*rows, Content(""), *(line((part, "bold")) for part in wrapped(wording.CAUTION_SHORT, width))]


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
    said = told_record(entry for _, entry in record)
    for (at, _), text in zip(reversed(record), reversed(said), strict=True):
        first, *rest = wrapped(text, max(20, width - 21)) or [""]
        rows.append(line((f"{at.replace('T', ' '):<20} ", DIM), first))
        rows += [Content(" " * 21 + more) for more in rest]
    return rows


def help_page(name: str, table: KeyTable, here: tuple[type[Widget], ...], width: int) -> list[Content]:
    """What the screen is for, its method in short, and every key: those that work here first."""
    about = HELP.get(name)
    rows: list[Content] = []
    if about is not None:
        rows += [line((part, "bold")) for part in wrapped(about.what, width)]
        rows += [Content(part) for text in about.method for part in ("", *wrapped(table.said(text), width))]
        if about.caution:
            rows += [Content(""), *(line((part, TRIED)) for part in wrapped(about.caution, width))]
    groups = dict.fromkeys(action.where for action in table.actions)
    mine = [where for where in groups if any(a.where == where and a.kind in here for a in table.actions)]
    everywhere = next(iter(groups))
    for where in (*mine, everywhere, *(other for other in groups if other not in (*mine, everywhere))):
        rows += [Content(""), line((where, HEAD), ("  here" if where in mine else "", DIM))]
        for action in table.actions:
            if action.where == where and (not action.twin or action.id in table.changed):
                key = line((f"  {table.name(action):<12}", "bold"))
                rows.append(line(key, (action.tells or action.does)[: max(0, width - 14)]))
    return [*rows, Content(""), *(line((part, DIM)) for part in wrapped(wording.CAUTION, width))]
