"""The Buy screen by keys, in an app of its own that accepts what the view asks for."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from core_cases import stick
from textual.app import App, ComposeResult

from bench.core import buying
from bench.core.demo import entries
from bench.core.edits import Edit
from bench.core.history import EMPTY
from bench.core.records import Job, Offer, Part, Settings, Species, Typed, inches
from bench.core.river import flow
from bench.sheets import buying as sentences
from bench.ui.buying_view import BuyingView
from bench.ui.messages import Accept, Say
from bench.ui.themes import DEFAULTS
from tests.tools.driving import feed, lines, picture, press, settled, shows, spell, until
from tests.tools.text_files import FakeFiles

ASH, SPRUCE = "white_ash", "sitka_spruce"
SIZES = [(80, 24), (60, 20)]


class Counter(App[None]):
    """One view on one job, with neither a record nor a file."""

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return DEFAULTS

    def __init__(self, job: Job, woods: dict[str, Species]) -> None:
        super().__init__()
        self.job, self.woods, self.said = job, woods, list[str]()
        self.files = FakeFiles()
        self.view = BuyingView(woods, self.files)

    def compose(self) -> ComposeResult:
        yield self.view

    def on_mount(self) -> None:
        self.show()
        self.view.focus()

    def show(self) -> None:
        """Hand the job down, as the bench screen does."""
        self.view.accepted = self.job
        self.view.river = flow(self.job, self.woods, previous=self.view.river)

    def accept(self, edit: Edit) -> None:
        """Make a change."""
        self.job = edit.apply(self.job)
        self.show()

    def on_accept(self, message: Accept) -> None:
        self.accept(message.make(self.job))
        message.answer()

    def on_say(self, message: Say) -> None:
        self.said.append(message.text)


def part(name: str, length: str, quantity: int, species: str = SPRUCE) -> Part:
    return Part(name, inches(length), inches("3/4"), inches("3/4"), quantity, species=species)


def price(text: str) -> Typed:
    return Typed(Fraction(text), text)


def shop(**changes: Any) -> Job:
    """Spruce for five caps of 40 in, offered in two lengths, and a rack without a stick."""
    job = Job(
        "Tansy",
        settings=Settings(kerf=inches("0")),
        parts=(part("cap", "40", 5),),
        offers=(
            Offer("spruce 8 ft", SPRUCE, inches("3/4"), inches("3/4"), inches("96"), price("6")),
            Offer("spruce 4 ft", SPRUCE, inches("3/4"), inches("3/4"), inches("48"), price("6")),
            Offer("ash 8 ft", ASH, inches("1"), inches("6"), inches("96")),
        ),
    )
    return replace(job, **changes)


def many() -> Job:
    """Several woods with everything that can be said at once."""
    long = part("longeron of the forward fuselage", "200", 4)
    sticks = [
        replace(stick(f"A-{n}", mark, length="30"), lot="K2") for n, mark in enumerate((6.6, 5.0, 6.6), 1)
    ]
    fir = part("diagonal", "30", 3, "douglas_fir_coast")
    parts = (part("cap", "40", 5), replace(long, critical=True), part("rib", "90", 4, ASH), fir)
    offers = (*shop().offers, Offer("ash 10 ft", ASH, inches("1/2"), inches("6"), inches("120"), price("9")))
    return shop(parts=parts, offers=offers, sticks=tuple(sticks))


def words(app: Any) -> str:
    return " ".join(picture(app).split())


@pytest.mark.parametrize("size", SIZES)
async def test_the_offers_and_the_order_in_words(woods: dict[str, Species], size: tuple[int, int]) -> None:
    """Two planks of 8 ft and one of 4 ft: 1 x 3/4 x 240 / 144 = 1.25 board feet, 7.50 at 6 (as by hand)."""
    app = Counter(shop(), woods)
    async with app.run_test(size=size) as pilot:
        await until(pilot, shows(app, "missing:"), "the order")
        assert lines(app)[0].startswith("BUY")
        said = words(app)
        assert "missing: 5 pieces of Sitka spruce" in said
        assert "order 2 planks of spruce 8 ft and 1 plank of spruce 4 ft" in said
        assert "1.3 board ft, cost 7.50" in said
        assert "spruce 8 ft alone: 5 of 5 missing pieces from 3 planks: 1.5 board ft, cost 9.00" in said
        assert sentences.CAUTION in said


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("page", [False, True])
async def test_nothing_overflows(woods: dict[str, Species], size: tuple[int, int], page: bool) -> None:
    """Whatever there is to say, the picture has the terminal's columns and lines, and the list is there."""
    app = Counter(many(), woods)
    async with app.run_test(size=size) as pilot:
        await until(pilot, shows(app, "missing:"), "the order")
        if page:
            await press(pilot, "v")
        view = app.view.render().plain.split("\n")
        assert len(view) <= size[1]
        assert max(map(len, view)) <= size[0]
        assert ("more below" if page else "spruce 4 ft") in picture(app)


async def test_a_long_order_leaves_the_list_its_rows(woods: dict[str, Species]) -> None:
    """Six woods are missing and six offered: what has no room below the list is on the page."""
    keys = ("sitka_spruce", "white_ash", "balsa", "noble_fir", "yellow_birch", "white_spruce")
    parts = tuple(part(f"rib {key}", "40", 5, key) for key in keys)
    offers = tuple(
        Offer(f"no {n}", key, inches("1"), inches("1"), inches("96")) for n, key in enumerate(keys)
    )
    app = Counter(shop(parts=parts, offers=offers), woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await until(pilot, shows(app, " shows the whole order"), "a foot that was cut")
        shown = [row for row in lines(app)[2:] if row.startswith("no ")]
        assert len(shown) >= 4
        await press(pilot, *["down"] * 5)
        assert any(row.startswith("no 5") for row in lines(app)), "the highlighted row is among them"


async def test_columns_beyond_the_edge_are_reached_by_cells(woods: dict[str, Species]) -> None:
    app = Counter(shop(), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "5 of 5"), "what the offers give")
        assert "none missing" in picture(app), "of ash nothing is missing"
        assert "cost" not in lines(app)[1]
        await press(pilot, "left")
        assert "cost" in lines(app)[1] and lines(app)[2].endswith("9.00")


async def test_an_offer_is_entered_changed_copied_and_taken_out(woods: dict[str, Species]) -> None:
    app = Counter(shop(offers=()), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "adds what can be bought"), "an empty list")
        assert "no wood on offer gives any of it" in words(app), "what is missing is said all the same"
        await press(pilot, "a")
        for text in ("S 10", "sitka", "3/4", "3/4", "10'", "5.50"):
            feed(app, "ctrl+u")
            spell(app, text)
            feed(app, "enter")
        await until(pilot, lambda: app.job.offers, "the offer")
        (offer,) = app.job.offers
        assert (offer.name, offer.species, offer.length.exact) == ("S 10", SPRUCE, inches("120").exact)
        assert offer.price is not None and offer.price.exact == Fraction(11, 2)
        await until(pilot, shows(app, "order 2 planks of S 10"), "three of 40 lie in 120, so 5 in two")
        await press(pilot, "right", "right")
        feed(app, "enter", "ctrl+u")
        spell(app, "1/2")
        feed(app, "enter")
        await until(pilot, shows(app, "too thin 1/4 in"), "3/4 does not come out of 1/2")
        await press(pilot, "k")
        assert [offer.name for offer in app.job.offers] == ["S 10", "S 11"]
        await press(pilot, "d")
        assert [offer.name for offer in app.job.offers] == ["S 10"]


@pytest.mark.parametrize(
    ("cell", "typed", "said"),
    [
        (1, "oak of the moon", "species"),
        (2, "0", "thickness"),
        (4, "-3", "length"),
        (5, "-1", "price"),
        (0, "spruce 4 ft", "taken"),
    ],
)
async def test_what_cannot_be_is_refused(woods: dict[str, Species], cell: int, typed: str, said: str) -> None:
    app = Counter(shop(), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "BUY"), "the list")
        await press(pilot, *["right"] * cell, "enter")
        feed(app, "ctrl+u")
        spell(app, typed)
        feed(app, "enter")
        await settled(pilot)
        assert said in app.said[-1]
        assert app.job == shop()


async def test_the_whole_order_and_back(woods: dict[str, Species]) -> None:
    app = Counter(many(), woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await until(pilot, shows(app, "BUY"), "the list")
        await press(pilot, "v")
        assert lines(app)[0].startswith("THE ORDER")
        river = app.view.river
        names = {key: species.name for key, species in woods.items()}
        wanted = [text for text in sentences.lines(buying.order(river), "in", 60, names) if text]
        seen = set(lines(app))
        for _ in range(20):
            await press(pilot, "pagedown")
            seen |= set(lines(app))
        assert set(wanted) <= seen, "every line of the sheet can be brought on show"
        assert lines(app)[-1] == wanted[-1], "and the page ends where the sheet does"
        await press(pilot, "pageup", "pageup", "pageup", "pageup", "pageup", "pageup", "up")
        assert lines(app)[1] == wanted[0]
        feed(app, "7")
        await settled(pilot)
        assert lines(app)[0].startswith("THE ORDER"), "nothing is typed into the page"
        await press(pilot, "escape")
        assert lines(app)[0].startswith("BUY")


@pytest.mark.parametrize("page", [False, True])
async def test_the_order_goes_into_a_file(woods: dict[str, Species], page: bool) -> None:
    app = Counter(shop(), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "BUY"), "the list")
        await press(pilot, *["v"] * page, "x", "enter")
        assert app.said[-1] == "order written to /shop/order.txt"
        assert "ORDER 2 planks of spruce 8 ft" in app.files.texts["order.txt"]
        await press(pilot, "x", "enter")
        assert app.files.texts["order.txt"].count("ORDER") == 2, "not written over without a word"


async def test_nothing_is_missing(woods: dict[str, Species]) -> None:
    app = Counter(shop(parts=()), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, sentences.NOTHING), "that it says so")
        assert app.view.steps() == ()


async def test_the_working_is_of_the_order(woods: dict[str, Species]) -> None:
    app = Counter(shop(), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "BUY"), "the list")
        titles = [step.title for step in app.view.steps()]
        assert "board feet of spruce 8 ft" in titles and "cost of spruce 4 ft" in titles


async def test_it_is_worked_out_when_shown_and_once(
    woods: dict[str, Species], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Out of sight the river costs nothing here; on show the same question is not worked out again."""
    asked = []
    work = buying.order

    def counted(river: Any) -> Any:
        asked.append(river)
        return work(river)

    monkeypatch.setattr(buying, "order", counted)
    app = Counter(shop(), woods)
    app.view.display = False
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        app.show()
        await settled(pilot)
        assert asked == []
        app.view.display = True
        await until(pilot, shows(app, "missing:"), "the order")
        assert len(asked) == 1
        app.view.focus()
        await press(pilot, "down", "down", "right", "v", "v")
        app.show()
        await settled(pilot)
        assert len(asked) == 1
        app.accept(app.view.removed("spruce 4 ft"))
        await until(pilot, shows(app, "order 3 planks of spruce 8 ft"), "the new order")
        assert len(asked) == 2


async def test_a_job_that_cannot_be_planned_says_why(woods: dict[str, Species]) -> None:
    app = Counter(shop(), woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, shows(app, "BUY"), "the list")
        app.job = shop(parts=(part("cap", "40", 1001),))
        app.show()
        await until(pilot, shows(app, "look at the quantities"), "the refusal")
        await press(pilot, "v")
        assert "look at the quantities" in picture(app)


async def test_the_invented_job(woods: dict[str, Species]) -> None:
    """The demonstration lacks what it lacks: the view says no more and no less than its plan."""
    history = EMPTY
    for edit in entries(woods):
        history = history.accept(edit)
    app = Counter(history.job, woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        missing = app.view.river.plan.unplaced_count
        assert missing == sum(row.pieces for row in app.view.found().purchases)
        assert (sentences.NOTHING in words(app)) == (missing == 0)
