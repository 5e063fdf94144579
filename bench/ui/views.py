"""Which panes and screens there are, each made when it is first shown, and the keys that each of them has."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widget import Widget

from bench.core.frozen import record
from bench.core.records import Source, Species
from bench.ui.actions import KeyTable
from bench.ui.files import Files

if TYPE_CHECKING:
    from bench.ui.writing_out import Papers

Lines = Sequence[Content]
Pages = Mapping[str, Callable[[int], Lines]]  # what writes the screens that are only read, by name
PAGES = ("working", "help")  # those screens


Rest = tuple[dict[str, Species], Mapping[str, Source], Sequence[str]]  # woods, sources, faults


@record
class Shelf:
    """What the app was handed beside the job."""

    woods: dict[str, Species]
    sources: Mapping[str, Source]
    faults: Sequence[str]
    files: Files
    keys: KeyTable
    papers: Papers = lambda: None  # what sheets are made from


def key_groups() -> tuple[tuple[str, type[Widget]], ...]:
    """Every class that binds keys, by where they work: for the help and the README."""
    from bench.ui.breaks_view import BreaksView
    from bench.ui.buying_view import BuyingView
    from bench.ui.cuts_pane import CutsPane
    from bench.ui.earlier_view import EarlierView
    from bench.ui.evidence_view import EvidenceView
    from bench.ui.fieldpane import FieldPane
    from bench.ui.float_pane import FloatPane
    from bench.ui.grid import Grid
    from bench.ui.groups_view import GroupsView
    from bench.ui.inspect_view import InspectView
    from bench.ui.parcel_view import ParcelView
    from bench.ui.parts_view import PartsView
    from bench.ui.picked import Picked
    from bench.ui.reading_views import Reader, SpeciesView
    from bench.ui.record_view import RecordView
    from bench.ui.saw_view import SawView
    from bench.ui.section_pane import SectionPane
    from bench.ui.shop_view import ShopView
    from bench.ui.stock_view import StockView
    from bench.ui.trace_view import TraceView
    from bench.ui.trial_view import TrialView
    from bench.ui.woods_view import WoodsView

    return (
        ("a value on Float, Section, Inspect, Moisture, Shop", FieldPane),
        ("Float", FloatPane),
        ("Section", SectionPane),
        ("Cuts", CutsPane),
        ("Saw", SawView),
        ("Shop", ShopView),
        ("Inspect", InspectView),
        ("Evidence", EvidenceView),
        ("Stock, Parts, Buy, Breaks", Grid),
        ("Stock", StockView),
        ("Parts", PartsView),
        ("Buy", BuyingView),
        ("Breaks", BreaksView),
        ("Test", TrialView),
        ("Groups", GroupsView),
        ("Record, As it was, Bring in, Trace", Picked),
        ("Record", RecordView),
        ("As it was", EarlierView),
        ("Bring in", ParcelView),
        ("Trace", TraceView),
        ("Woods", WoodsView),
        ("Species", SpeciesView),
        ("Working, Help", Reader),
    )


def made(name: str, shelf: Shelf) -> Widget:
    """A pane or a screen by its name. Its module is read only now: most are never asked for in a day."""
    return _MAKERS[name](shelf)


def _float(shelf: Shelf) -> Widget:
    from bench.ui.float_pane import FloatPane

    return FloatPane(shelf.woods)


def _section(shelf: Shelf) -> Widget:
    from bench.ui.section_pane import SectionPane

    return SectionPane(shelf.woods, shelf.files, shelf.papers)


def _cuts(shelf: Shelf) -> Widget:
    from bench.ui.cuts_pane import CutsPane

    return CutsPane(shelf.woods, shelf.files, shelf.papers)


def _inspect(shelf: Shelf) -> Widget:
    from bench.ui.inspect_view import InspectView

    return InspectView(shelf.woods)


def _saw(shelf: Shelf) -> Widget:
    from bench.ui.saw_view import SawView

    return SawView()


def _buying(shelf: Shelf) -> Widget:
    from bench.ui.buying_view import BuyingView

    return BuyingView(shelf.woods, shelf.files)


def _evidence(shelf: Shelf) -> Widget:
    from bench.ui.evidence_view import EvidenceView

    return EvidenceView(shelf.woods, shelf.files, shelf.papers)


def _moisture(shelf: Shelf) -> Widget:
    from bench.ui.moisture_view import MoistureView

    return MoistureView(shelf.woods)


def _stock(shelf: Shelf) -> Widget:
    from bench.ui.stock_view import StockView

    return StockView(shelf.woods, shelf.files)


def _parts(shelf: Shelf) -> Widget:
    from bench.ui.parts_view import PartsView

    return PartsView(shelf.woods, shelf.files)


def _breaks(shelf: Shelf) -> Widget:
    from bench.ui.breaks_view import BreaksView

    return BreaksView(shelf.woods, shelf.files, shelf.papers)


def _trial(shelf: Shelf) -> Widget:
    from bench.ui.trial_view import TrialView

    return TrialView()


def _groups(shelf: Shelf) -> Widget:
    from bench.ui.groups_view import GroupsView

    return GroupsView(shelf.woods, shelf.files, shelf.papers)


def _woods(shelf: Shelf) -> Widget:
    from bench.ui.woods_view import WoodsView

    return WoodsView(shelf.woods)


def _species(shelf: Shelf) -> Widget:
    from bench.ui.reading_views import SpeciesView

    return SpeciesView(shelf.woods, shelf.sources, shelf.faults)


def _shop(shelf: Shelf) -> Widget:
    from bench.ui.shop_view import ShopView

    return ShopView()


def _actions(shelf: Shelf) -> Widget:
    from bench.ui.actions_view import ActionsView

    return ActionsView(shelf.keys)


_MAKERS: dict[str, Callable[[Shelf], Widget]] = {
    "float": _float,
    "section": _section,
    "cuts": _cuts,
    "inspect": _inspect,
    "saw": _saw,
    "buying": _buying,
    "evidence": _evidence,
    "moisture": _moisture,
    "stock": _stock,
    "parts": _parts,
    "breaks": _breaks,
    "trial": _trial,
    "groups": _groups,
    "woods": _woods,
    "species": _species,
    "shop": _shop,
    "actions": _actions,
}
# Where an action can be looked for that is not done unseen.
PLACES = frozenset((*_MAKERS, "record", "trace", "earlier", "parcel")) - {"actions"}
