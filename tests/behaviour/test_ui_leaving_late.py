"""What still comes in while the app is being left has nowhere to be shown, and breaks nothing."""

from bench.core.records import Species
from bench.ui.messages import GoTo, GoToTest, LookBack
from tests.tools.at_the_saw import book
from tests.tools.driving import ready


async def test_messages_that_come_in_while_the_app_is_left_are_dropped(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        screen = app.bench
        assert screen is not None and not screen.left
        made = set(screen.made)
        await screen.switcher.remove()
        assert screen.left
        await screen._look_back(LookBack(1))
        await screen._go_to(GoTo("record"))
        await screen._go_to_test(GoToTest("B-1"))
        assert set(screen.made) == made
