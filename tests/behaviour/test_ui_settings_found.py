"""The list of actions finds every setting of Shop by its own name, and goes to it."""

import pytest

from bench.core.edits import StartJob
from bench.core.records import Settings, Species
from bench.ui import shop_view
from bench.ui.shop_view import ShopView
from tests.tools.driving import Notebook, feed, lines, picture, press, settled, spell, until


async def ready(pilot) -> None:
    await until(pilot, lambda: pilot.app.bench is not None and pilot.app.bench.river is not None, "the bench")
    await settled(pilot)


@pytest.mark.parametrize(
    ("letters", "label"),
    [
        ("setting margin", "margin"),
        ("width of the saw", "kerf"),
        ("own knot", "own knot"),
        ("theme", "screen"),
        ("inches", "units"),
    ],
)
async def test_a_setting_is_found_and_gone_to(woods: dict[str, Species], letters: str, label: str) -> None:
    app = Notebook(StartJob("Tansy")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "f2")
        spell(app, letters)
        await settled(pilot)
        assert "ACTIONS  1 of " in picture(app)
        assert any(row.startswith("> o ") and label in row and "Setting: " in row for row in lines(app))
        feed(app, "enter")
        await settled(pilot)
        assert app.bench.view == "shop" and app.focused.field_here().label == label
        assert app.bench.job.settings == Settings(), "it was gone to, and not changed"


async def test_every_value_of_shop_is_in_the_list(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy")).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "o")
        view = app.focused
        assert isinstance(view, ShopView)
        listed = {(name, label) for name, label, _ in shop_view.settings()}
        assert listed == {(field.name, field.label) for field in view.fields()}
        assert all(says for _, _, says in shop_view.settings())
