"""The lines round the panes: head, river, message and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import var
from textual.screen import Screen

from bench import units
from bench.sheets import wording
from bench.ui.actions import KeyTable, printed
from bench.ui.drawing import DIM, TRIED, WORD_STYLE, WRONG, fit, line, stack, wrapped
from bench.ui.keys import keyed
from bench.ui.lined import Lined

if TYPE_CHECKING:
    from bench.core.river import River

LEAST = (60, 20)  # columns and lines that every screen can be used in


def too_small(width: int, height: int) -> Content:
    """What a terminal is told that is smaller."""
    needs = f"Tenthmark needs {LEAST[0]} x {LEAST[1]}; make it larger."
    return Content(f"This terminal is {width} x {height}. {needs}")


class Head(Lined):
    """Job, stick in hand, and whether everything accepted is on disk."""

    river: var[River | None] = var(None, init=False, always_update=True)
    drafting: var[bool] = var(False, init=False)
    saved: var[str] = var("", init=False)

    def watch_river(self, old: River | None, new: River | None) -> None:
        if old is None or new is None or _named(old) != _named(new):
            self.redraw()

    def watch_drafting(self) -> None:
        self.redraw()

    def watch_saved(self) -> None:
        self.redraw()

    def render(self) -> Content:
        if self.river is None:
            return Content("")
        width = self.size.width
        job, hand = self.river.job, self.river.hand
        name = job.name + (" (INVENTED)" if job.invented else "")
        stick = f"  in hand {hand.stick.tag}" if hand else ""
        state = self.saved[: max(0, width - 2)]
        style = WRONG if state.startswith(("NOT", "OPENED")) else DIM
        if self.drafting and style is DIM:
            state, style = "tried, not kept", TRIED
        left = fit(name + stick, max(0, width - len(state) - 1))
        return line((left, "bold"), " ", (state, style))


def _named(river: River) -> tuple[str, bool, str]:
    """What the head shows of a river."""
    return river.job.name, river.job.invented, river.hand.stick.tag if river.hand else ""


class RiverLines(Lined):
    """One live line for each pane that is not on show."""

    river: var[River | None] = var(None, init=False, always_update=True)
    hidden: var[tuple[str, ...]] = var((), init=False)

    def watch_river(self) -> None:
        if self.hidden:
            self.redraw()

    def watch_hidden(self) -> None:
        self.styles.height = len(self.hidden)
        self.redraw()

    def render(self) -> Content:
        river = self.river
        if river is None:
            return stack([line((name.upper(), DIM), "  ...") for name in self.hidden])
        lines = {"float": float_line, "section": section_line, "cuts": cuts_line}
        return stack([_cut(lines[name](river), self.size.width) for name in self.hidden])


def _cut(content: Content, width: int) -> Content:
    if content.cell_length <= width:
        return content
    return line(content[: max(0, width - 2)], "..")


def float_line(river: River) -> Content:
    """The Float pane in one line."""
    if river.hand is None:
        return line(("FLOAT    ", DIM), "no stick yet")
    verdict, word = river.hand.verdict, wording.word(river.hand.verdict)
    value = f"{wording.gravity(verdict)} dry " if verdict.value is not None else ""
    return line(
        ("FLOAT    ", DIM),
        f"{river.hand.stick.tag} {value}",
        (word, WORD_STYLE[word]),
        f"  {wording.reasons(verdict)[0]}",
    )


def section_line(river: River) -> Content:
    """The Section pane in one line."""
    from bench.sheets import sections

    view = river.section
    if view.refusal is not None or view.resized is None or view.use is None:
        return line(("SECTION  ", DIM), (str(view.refusal), WRONG))
    system = river.job.settings.units
    shop = units.sides(*view.resized.shop, system)
    plan = units.sides(view.choice.width.exact, view.choice.depth.exact, system)
    return line(
        ("SECTION  ", DIM),
        f"{plan} -> ",
        (shop, "bold"),
        f" {sections.in_brief(view)}",
    )


def cuts_line(river: River) -> Content:
    """The Cuts pane in one line."""
    if river.plan is None:
        return line(("CUTS     ", DIM), (str(river.plan_refusal), WRONG))
    pieces = sum(sized.part.quantity - sized.made for sized in river.parts)
    if river.doubtful:
        return line(("CUTS     ", DIM), (wording.doubtful(river.doubtful), WRONG))
    if not river.parts:
        return line(("CUTS     ", DIM), "no parts yet")
    return line(("CUTS     ", DIM), wording.plan_line(river.plan, pieces, len(river.job.cuts)))


DRAFTS = {"ChooseSection": "section", "ChangeSettings": "shop"}  # subjects that are no words


class MessageLine(Lined):
    """What went wrong or what was done, in as many lines as it needs, up to three."""

    said: var[tuple[str, bool]] = var(("", False), init=False)
    drafts: var[tuple[str, ...]] = var((), init=False)
    waiting: var[str] = var("", init=False)
    keeps: var[bool] = var(True, init=False)  # whether Enter keeps what is tried, here

    def watch_keeps(self) -> None:
        self.redraw()

    def watch_said(self) -> None:
        self.styles.height = min(3, max(1, len(wrapped(self.said[0], self.size.width))))
        self.redraw()

    def watch_drafts(self) -> None:
        self.redraw()

    def watch_waiting(self) -> None:
        self.redraw()

    def render(self) -> Content:
        text, wrong = self.said
        if text:
            style = WRONG if wrong else ""
            return stack([line((part, style)) for part in wrapped(text, self.size.width)[:3]])
        if self.waiting:
            return line((fit(f"TRIED, cannot be kept yet: {self.waiting}", self.size.width), TRIED))
        if self.drafts:
            what = ", ".join(DRAFTS.get(subject, subject) for subject in self.drafts)
            elsewhere = "<go.float> goes to Float, Enter keeps it there"
            how = "Enter keeps it, Esc drops it" if self.keeps else keyed(self, elsewhere)
            text = f"TRIED, not kept ({what}): {how}"
            return line((fit(text, self.size.width), TRIED))
        return Content("")


KEY = "bold"
MANY = 3  # lines of keys; more are set closer
LOW = 24  # lines; below it the keys of other screens take one line


class KeysLine(Lined):
    """The keys that work now; where it is low, those of other screens stand together in one line."""

    keys: var[tuple[tuple[str, str], ...]] = var((), init=False)
    here: var[int] = var(0, init=False)  # how many of them belong to the place on show

    def watch_keys(self) -> None:
        self.fit()

    def watch_here(self) -> None:
        self.fit()

    def on_resize(self) -> None:
        self.fit()

    def fit(self) -> None:
        """As many lines as the keys need."""
        if not self.is_attached:
            return  # the screen went while this was on its way
        self.styles.height = max(1, len(self._rows()))
        self.redraw()

    def _pieces(self) -> list[Content]:
        """Each key with what it does."""
        pieces = [line((key, KEY), " ", (does, DIM)) for key, does in self.keys]
        if self.screen.size.height >= LOW or len(self.keys) <= self.here:
            return pieces
        others = " ".join(key for key, _ in self.keys[self.here :])
        return [*pieces[: self.here], line((others, KEY), (keyed(self, ": <go.help> tells them"), DIM))]

    def _rows(self) -> list[Content]:
        rows = self._packed("  ")
        return rows if len(rows) <= MANY else self._packed(" ")

    def _packed(self, gap: str) -> list[Content]:
        """The keys in rows, with this gap between those that are not of this screen alone."""
        rows, row = [], Content("")
        for place, piece in enumerate(self._pieces()):
            between = gap if place > self.here else "  "
            if row.cell_length and row.cell_length + len(between) + piece.cell_length > self.size.width:
                rows.append(row)
                row = piece
            else:
                row = line(row, between, piece) if row.cell_length else piece
        return [*rows, row]

    def render(self) -> Content:
        return stack(self._rows())


def offered(screen: Screen[None], table: KeyTable, typing: bool) -> tuple[int, tuple[tuple[str, str], ...]]:
    """The keys that work now with what they do, those of the place on show first; how many those are."""
    if typing:
        keys = (("enter", "Take it"), ("esc", "Leave it"))
        return len(keys), keys
    letters = getattr(screen.focused, "takes_letters", False)  # they are typed there
    active = [
        item
        for item in screen.active_bindings.values()
        if item.binding.show
        and item.node is not screen.app
        and not (letters and len(printed(item.binding.key)) == 1)
    ]
    order = table.order()
    active.sort(key=lambda item: (item.node is screen, order.get(item.binding.id, 0)))
    shown: dict[str, str] = {}
    here = 0
    for item in active:
        if item.binding.description not in shown:
            shown[item.binding.description] = table.shown(item.binding)
            here += item.node is not screen
    return here, tuple((key, does) for does, key in shown.items())
