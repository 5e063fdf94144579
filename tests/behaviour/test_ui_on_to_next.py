"""A typed value goes on to the next one that is missing, alike on every screen of values."""

from dataclasses import replace
from fractions import Fraction

from core_cases import SOUND

from bench.core.edits import PutStick, StartJob, TakeReading
from bench.core.records import FloatReading, Species, Stick, Typed, inches
from bench.ui.fieldpane import FieldPane
from tests.tools.driving import Notebook, feed, press, settled, spell, until

DRY = Typed(Fraction(3, 25), "12 %")
BATH = Typed(Fraction(29315, 100), "20 C")


def stick(tag: str, moisture: Typed | None = DRY) -> Stick:
    return Stick(tag, "sitka_spruce", inches("60"), inches("1"), inches("1"), moisture)


def book(*sticks: Stick) -> Notebook:
    return Notebook(StartJob("Tansy"), *(PutStick(one) for one in sticks))


async def ready(pilot) -> None:
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    await settled(pilot)


def here(app) -> str:
    pane = app.focused
    assert isinstance(pane, FieldPane)
    return pane.field_here().name


async def typed(pilot, *texts: str) -> list[str]:
    """Each text with Enter, and the value that is highlighted after it."""
    seen = []
    for text in texts:
        spell(pilot.app, text)
        await press(pilot, "enter")
        seen.append(here(pilot.app))
    return seen


async def test_inspect_goes_on_from_rings_to_looked_over(woods: dict[str, Species]) -> None:
    app = book(stick("S-1", None)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i")
        seen = await typed(pilot, "8", "1:25", "30", "70", "0", "9.5")
        assert seen == ["slope_one", "slope_two", "edge_grain", "bow", "moisture", "looked"]
        found = app.bench.job.stick("S-1")
        assert found.moisture.text == "9.5 %" and found.inspection.bow.exact == 0


async def test_only_a_bow_asks_over_what_length(woods: dict[str, Species]) -> None:
    app = book(stick("S-1")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", *["tab"] * 4)
        assert await typed(pilot, "1/16", "48") == ["bow_over", "looked"]


async def test_a_value_typed_again_stays_when_nothing_is_missing(woods: dict[str, Species]) -> None:
    app = book(replace(stick("S-1"), inspection=SOUND)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i", "tab")
        assert here(app) == "slope_one"
        assert await typed(pilot, "20") == ["slope_one"]
        assert app.bench.job.stick("S-1").inspection.slope_one.text == "1:20"


async def test_tab_in_a_line_goes_on_once(woods: dict[str, Species]) -> None:
    app = book(stick("S-1")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "i")
        spell(app, "8")
        await press(pilot, "tab")
        assert here(app) == "slope_one"
        spell(app, "15")
        await press(pilot, "tab", "tab")
        assert here(app) == "edge_grain"  # one Tab took the line, the other is a step of its own


async def test_moisture_goes_on_from_wet_to_dry_and_from_air_to_humidity(woods: dict[str, Species]) -> None:
    app = book(stick("S-1", None)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "m")
        assert await typed(pilot, "48.3", "43.1") == ["dry", "dry"]
        await press(pilot, "enter", "tab")
        assert await typed(pilot, "20") == ["humidity"]


async def test_float_goes_back_to_a_face_that_is_not_read(woods: dict[str, Species]) -> None:
    reading = FloatReading((4.2,), inches("1/2"), inches("5"), DRY, BATH, taken="2026-03-01")
    app = Notebook(StartJob("Tansy"), PutStick(stick("S-1", None)), PutStick(stick("S-2")),
                   TakeReading("S-2", reading)).open(woods)  # fmt: skip
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        feed(app, "tab")
        assert await typed(pilot, "9.5") == ["mark 0"]
        assert await typed(pilot, "4.1") == ["mark 0"]
        await press(pilot, "right")
        assert await typed(pilot, "4.3") == ["mark 0"]
