"""What still comes in while the app is being left has nowhere to be shown, and breaks nothing."""

from textual import events

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


async def test_a_key_that_comes_once_the_last_screen_is_gone_is_dropped(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        screens, app._screen_stacks[app._current_mode] = app.screen_stack, []
        try:
            await app.on_event(events.Key("s", "s"))
        finally:
            app._screen_stacks[app._current_mode] = screens
