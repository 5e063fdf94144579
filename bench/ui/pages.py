"""What the reading screens say: the working of the pane on show, the record, the keys."""

from collections.abc import Mapping, Sequence

from textual.content import Content
from textual.widget import Widget

from bench.core import (
    tolerance,
    working,
    working_coupons,
    working_stick,
    working_strength,
    working_tolerance,
)
from bench.core.errors import Refusal
from bench.core.records import Species
from bench.core.river import River
from bench.core.sectioning import SectionView
from bench.core.steps import Step
from bench.sheets import wording
from bench.sheets.screens import HELP
from bench.sheets.telling import told
from bench.sheets.working import lines as working_lines
from bench.ui.actions import KeyTable
from bench.ui.drawing import DIM, HEAD, TRIED, line, wrapped

__all__ = ["bench_steps", "help_page", "missing", "told", "working_page"]


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
        return (*working.of_section(view.resized, view.plan, view.use), *own, *broken, *_slip(view, river))
    if pane == "cuts" and river.plan is not None:
        return working.of_cuts(river.problem, river.plan, river.job.cuts)
    return ()


def _slip(view: SectionView, river: River) -> tuple[Step, ...]:
    """What the smallest usual slip of the saw does to the shop size."""
    if view.resized is None or view.use is None:
        return ()
    by = float(tolerance.SLIPS[river.job.settings.units][0])
    length = None if view.choice.free_length is None else view.choice.free_length.si
    try:
        return working_tolerance.of_slip(view.resized.shop_section, by, by, view.use, length)
    except Refusal:
        return ()  # nothing is left of a section that thin


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
