"""The Buy screen: wood on offer, what each offer would give of what is missing, and the order in words."""

from collections.abc import Sequence

from textual import events
from textual.binding import Binding
from textual.content import Content

from bench.core import buying, checking, working_buying
from bench.core.buying import Gives, Order
from bench.core.buying_layout import board_feet_of
from bench.core.edits import Edit, PutOffer, RemoveOffer
from bench.core.errors import Refusal, UnknownName
from bench.core.frozen import replace
from bench.core.records import Job, Offer, Species, inches, with_field
from bench.core.steps import Step
from bench.sheets import buying as sentences
from bench.ui.drawing import DIM, HEAD, WRONG, line, stack, wrapped
from bench.ui.empty import Empty, empty
from bench.ui.files import Files
from bench.ui.grid import Column, Grid
from bench.ui.keys import keyed
from bench.ui.listing import SortKey
from bench.ui.naming import read_as, species_key
from bench.ui.writing_out import WritingOut

NOTHING = inches("0")  # no size yet; an offer with it is refused
OFFERED = "order.txt"
LEAST_ROWS = 6  # of the list with its title, before the lines below it give way


class BuyingView(Grid[Offer], WritingOut):
    """Enter, change and remove offers; what is worked out follows the parts that have no place."""

    TITLE = "BUY"
    KIND = "offer"
    EMPTY = Empty("No wood on offer yet.", ("list.add", "adds what can be bought, in planks of one size"))

    BINDINGS = [
        Binding(
            "v",
            "order_page",
            "Whole order",
            id="buying.order",
            tooltip="The whole order, or back to the offers",
        ),
        Binding("x", "to_file", "To file", id="buying.to-file", tooltip="The whole order into a text file"),
    ]

    def __init__(self, woods: dict[str, Species], files: Files) -> None:
        super().__init__(id="buying")
        self.woods, self.files = woods, files
        self.names_of_woods = {key: species.name for key, species in woods.items()}
        self.reading = False  # the whole order is shown in place of the offers
        self.top = 0  # first line shown of it
        self._asked: tuple[object, ...] | None = None
        self._found: Order | Refusal | None = None

    # --- what is worked out --------------------------------------------------------------------------

    def found(self) -> Order | Refusal | None:
        """The order, worked out anew only where something it rests on changed, and only when asked for."""
        river = self.river
        if river is None:
            return None
        job = river.job
        asked = (river.plan, river.plan_refusal, river.parts, river.rack, job.settings, job.offers)
        before, self._asked = self._asked, asked
        if asked != before:
            try:
                self._found = buying.order(river)
            except Refusal as refusal:
                self._found = refusal
        return self._found

    def steps(self) -> tuple[Step, ...]:
        """The working of the order; empty where nothing is ordered."""
        found = self.found()
        return working_buying.of_order(found) if isinstance(found, Order) else ()

    def _gives(self, row: int) -> Gives | None:
        found = self.found()
        return found.gives[row] if isinstance(found, Order) else None

    # --- the list ------------------------------------------------------------------------------------

    def columns(self) -> Sequence[Column]:
        return (
            Column("name", "offer", 12, "a name of your own, like spruce 8 ft", asked=True),
            Column("species", "wood", 11, "species by key or name, as in Species: sitka spruce", asked=True),
            Column("thickness", "thick", 7, "rough: 1, 1-1/4, 25 mm", asked=True),
            Column("width", "width", 7, "rough: 6, 5-1/2, 150 mm", asked=True),
            Column("length", "length", 8, "96, 8', 2.4 m", asked=True),
            Column("price", "price", 6, "of one board foot, a number; empty: none", asked=True, figure=True),
            Column("gives", "gives", 19),
            Column("boards", "boards", 6),
            Column("feet", "board ft", 8),
            Column("cost", "cost", 9),
        )

    @property
    def _offers(self) -> tuple[Offer, ...]:
        return self.river.job.offers if self.river else ()

    def names(self) -> tuple[str, ...]:
        return tuple(offer.name for offer in self._offers)

    def taken(self, job: Job) -> tuple[str, ...]:
        return tuple(offer.name for offer in job.offers)

    def texts(self, row: int) -> dict[str, tuple[str, str]]:
        offer, gives = self._offers[row], self._gives(row)
        bought = gives.line if gives else None
        return {
            "name": (offer.name, ""),
            "species": (sentences.wood(offer.species, self.names_of_woods), ""),
            "thickness": (offer.thickness.text, ""),
            "width": (offer.width.text, ""),
            "length": (offer.length.text, ""),
            "price": (offer.price.text if offer.price else "--", ""),
            "gives": (sentences.gives(gives, self.system) if gives else "--", "" if bought else DIM),
            "boards": (sentences.boards(bought), ""),
            "feet": (sentences.feet(bought.board_feet) if bought else "--", ""),
            "cost": (sentences.money(bought.cost) if bought else "--", ""),
        }

    def cell_text(self, row: int, column: Column) -> str:
        offer = self._offers[row]
        plain = {"species": offer.species, "price": offer.price.text if offer.price else ""}
        return plain[column.name] if column.name in plain else super().cell_text(row, column)

    def sort_key(self, row: int, column: Column) -> SortKey:
        offer, gives = self._offers[row], self._gives(row)
        bought = gives.line if gives else None
        keys: dict[str, SortKey] = {
            "thickness": offer.thickness.si,
            "width": offer.width.si,
            "length": offer.length.si,
            "price": offer.price.si if offer.price else None,
            "gives": float(gives.pieces) if gives and bought else None,
            "boards": float(bought.ordered) if bought else None,
            "feet": float(bought.board_feet) if bought else None,
            "cost": float(bought.cost) if bought and bought.cost is not None else None,
        }
        return keys[column.name] if column.name in keys else super().sort_key(row, column)

    def record(self, job: Job, name: str) -> Offer:
        offer = next((offer for offer in job.offers if offer.name == name), None)
        if offer is None:
            raise UnknownName("offer", name)
        return offer

    def template(self) -> Offer:
        if self.listed:
            return self._offers[self.row]
        lacking = next((row.species for row in self._purchases()), "")
        return Offer(
            "", lacking or (self.river.job.section.use if self.river else ""), NOTHING, NOTHING, NOTHING
        )

    def _purchases(self) -> tuple[buying.Purchase, ...]:
        found = self.found()
        return found.purchases if isinstance(found, Order) else ()

    def copied(self, record: Offer, name: str) -> Offer:
        return replace(record, name=name)

    def with_cell(self, record: Offer, column: Column, text: str) -> Offer:
        name = column.name
        if name in ("thickness", "width", "length"):
            return with_field(record, name, read_as(name, "length", text, self.system))
        if name == "species":
            return replace(record, species=species_key(text, self.woods))
        if name == "price":
            return replace(record, price=read_as(name, "number", text) if text.strip() else None)
        return with_field(record, name, text.strip())

    def checked(self, record: Offer, column: Column) -> None:
        if column.name == "name":
            checking.name("offer", record.name)
            checking.unused("offer", record.name, self.names())
        elif column.name in ("thickness", "width", "length"):
            checking.size(column.name, getattr(record, column.name))

    def put(self, record: Offer, was: str) -> Edit:
        return PutOffer(record, was=was)

    def removed(self, name: str) -> Edit:
        return RemoveOffer(name)

    # --- the whole order in place of the offers ------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        return not self.reading or action in ("row", "order_page", "to_file")

    def take_key(self, event: events.Key) -> bool:
        if self.reading and self._line is None and event.key == "escape":
            self.action_order_page()
            return True
        return super().take_key(event)

    def begin_typing(self, character: str) -> None:
        if not self.reading:
            super().begin_typing(character)

    def action_order_page(self) -> None:
        """The whole order, or back to the offers."""
        self.reading, self.top = not self.reading, 0
        self.refresh_bindings()
        self.redraw()

    def action_row(self, amount: int) -> None:
        """Another row; the order is moved on."""
        if not self.reading:
            super().action_row(amount)
            return
        self.top = max(0, self.top + amount)  # rendering keeps it within the page
        self.redraw()

    def action_to_file(self) -> None:
        """Ask for a path, and write the order there."""
        found = self.found()
        if isinstance(found, Order) and self.river is not None:
            text = sentences.sheet(found, self.river.job, self.names_of_woods)
            self.write_out(OFFERED, text, "order written")

    # --- the picture ---------------------------------------------------------------------------------

    def render(self) -> Content:
        width, height = self.size.width, max(1, self.size.height)
        if self.reading:
            return self._page(width, height)
        if self.listed:
            return super().render()
        rows = empty(self, self.TITLE, self.EMPTY, width)
        return stack([*rows, Content(""), *self._order_lines(width)][:height])

    def _page(self, width: int, height: int) -> Content:
        found = self.found()
        if isinstance(found, Order):
            texts = sentences.lines(found, self.system, max(30, width), self.names_of_woods)
            rows = [Content(text) for text in texts]
        else:
            rows = self._order_lines(width)
        room = max(1, height - 1)
        self.top = min(self.top, max(0, len(rows) - room))
        left = len(rows) - room - self.top
        more = f"  {left} more below" if left > 0 else ""
        return stack(
            [line(("THE ORDER", HEAD), "  v back to the offers", more), *rows[self.top : self.top + room]]
        )

    def _order_lines(self, width: int) -> list[Content]:
        """What is missing and what to order, or why that is not known."""
        found = self.found()
        if found is None:
            return []
        if isinstance(found, Refusal):
            return [line((text, WRONG)) for text in wrapped(str(found), width)]
        said = [(sentences.missing(found, self.names_of_woods), "")]
        for bought in found.purchases:
            style = WRONG if bought.ungiven or bought.hopeless else "bold"
            said.append((sentences.summary(bought, self.names_of_woods), style))
        if found.purchases:
            said.append((sentences.CAUTION, DIM))
        return [line((text, style)) for whole, style in said for text in wrapped(whole, width, "  ")]

    def foot(self, width: int) -> list[Content]:
        offer, gives = self._offers[self.row], self._gives(self.row)
        about = f"one plank {sentences.feet(board_feet_of(offer))} board ft"
        if gives is not None:
            about = sentences.alone(gives, self.system)
        rows = [line((text, DIM)) for text in wrapped(about, width, "  ")]
        rows += self._order_lines(width)
        room = max(1, self.size.height - LEAST_ROWS)
        if len(rows) > room:
            rows = [*rows[: room - 1], line((keyed(self, "<buying.order> shows the whole order"), DIM))]
        return rows
