"""Which panes and screens there are, each made and bound once, and the keys that each of them has."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from textual.widget import Widget

from bench.core.records import Source, Species
from bench.ui.actions import KeyTable
from bench.ui.actions_view import ActionsView
from bench.ui.breaks_view import BreaksView
from bench.ui.buying_view import BuyingView
from bench.ui.cuts_pane import CutsPane
from bench.ui.earlier_view import EarlierView
from bench.ui.evidence_view import EvidenceView
from bench.ui.fieldpane import FieldPane
from bench.ui.files import Files
from bench.ui.float_pane import FloatPane
from bench.ui.grid import Grid
from bench.ui.groups_view import GroupsView
from bench.ui.inspect_view import InspectView
from bench.ui.moisture_view import MoistureView
from bench.ui.parcel_view import ParcelView
from bench.ui.parts_view import PartsView
from bench.ui.picked import Picked
from bench.ui.reading_views import Lines, Reader, SpeciesView
from bench.ui.record_view import RecordView
from bench.ui.saw_view import SawView
from bench.ui.section_pane import SectionPane
from bench.ui.shop_view import ShopView
from bench.ui.stock_view import StockView
from bench.ui.trace_view import TraceView
from bench.ui.trial_view import TrialView
from bench.ui.woods_view import WoodsView
from bench.ui.writing_out import Papers


@dataclass(frozen=True, slots=True)
class Shelf:
    """What the app was handed beside the job, and the keys of everything."""

    woods: dict[str, Species]
    sources: Mapping[str, Source]
    faults: Sequence[str]
    files: Files
    keys: KeyTable
    papers: Papers = lambda: None  # what sheets are made from


PANES = ("float", "section", "cuts")

# Every class that binds keys, by where they work: for the Keys screen and the README.
KEY_GROUPS: tuple[tuple[str, type[Widget]], ...] = (
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
    ("Actions", ActionsView),
)


def panes(shelf: Shelf, river: Any, accepted: Any, drafting: Any) -> Iterator[Widget]:
    """The three panes of the bench, bound to the screen's values."""
    yield FloatPane(shelf.woods).data_bind(river, accepted, drafting)
    yield SectionPane(shelf.woods, shelf.files, shelf.papers).data_bind(river, accepted, drafting)
    yield CutsPane(shelf.woods, shelf.files, shelf.papers).data_bind(river, accepted, drafting)


def screens(
    shelf: Shelf,
    river: Any,
    accepted: Any,
    drafting: Any,
    pages: Mapping[str, Callable[[int], Lines]],
    preferences: Any,
) -> Iterator[Widget]:
    """The screens round the bench, bound to the screen's values; `pages` write those that are only read."""
    yield InspectView(shelf.woods).data_bind(river, accepted, drafting)
    yield SawView().data_bind(river, accepted, drafting)
    yield BuyingView(shelf.woods, shelf.files).data_bind(river, accepted)
    yield EvidenceView(shelf.woods, shelf.files, shelf.papers).data_bind(river, accepted, drafting)
    yield MoistureView(shelf.woods).data_bind(river, accepted, drafting)
    yield StockView(shelf.woods, shelf.files).data_bind(river, accepted)
    yield PartsView(shelf.woods, shelf.files).data_bind(river, accepted)
    yield BreaksView(shelf.woods, shelf.files, shelf.papers).data_bind(river, accepted)
    yield TrialView().data_bind(river, accepted)
    yield GroupsView(shelf.woods, shelf.files, shelf.papers).data_bind(river, accepted)
    yield WoodsView(shelf.woods).data_bind(river)
    yield SpeciesView(shelf.woods, shelf.sources, shelf.faults)
    yield ShopView().data_bind(river, accepted, drafting, preferences)
    yield ActionsView(shelf.keys)
    for name, write in pages.items():
        yield Reader(name, name.upper(), write).data_bind(river)
