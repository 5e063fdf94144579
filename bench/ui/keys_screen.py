"""What the one bench screen does with keys: the help, and the list of actions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from textual import on
from textual.content import Content
from textual.widget import Widget

from bench.core.errors import Refusal
from bench.ui import views
from bench.ui.actions import Action, KeyTable
from bench.ui.host_screen import PANES
from bench.ui.messages import DoAction
from bench.ui.record_screen import RecordScreen

SETTING = "setting "  # begins what the list of actions calls a value of Shop


class KeysScreen(RecordScreen):
    """Base of the bench screen."""

    asked_from = "float"  # the screen or pane that help or actions were asked for on

    @property
    def key_table(self) -> KeyTable:
        """Every action with its keys."""
        return self.shelf.keys

    async def action_pane(self, name: str) -> None:
        """Show a pane of the bench."""
        raise NotImplementedError

    async def _asked(self, name: str, here: str) -> None:
        """Help or the list of actions is about to be shown: about the screen it was asked for on."""
        if name not in ("help", "actions") or here in ("help", "actions"):
            return
        self.asked_from = self.pane if here == "bench" else here
        if name == "actions":
            await self.have("actions")
            shown: Any = self.made["actions"]
            shown.show_all(self._actions())

    def _kind_asked(self) -> tuple[type[Widget], ...]:
        """The classes whose keys work where one came from."""
        return type(self.made[self.asked_from]).__mro__

    def _help(self, width: int) -> Sequence[Content]:
        """The page about the screen that help was asked for on."""
        from bench.ui import pages

        return pages.help_page(self.asked_from, self.key_table, self._kind_asked(), width)

    def _actions(self) -> list[Action]:
        """What can be done: here, everywhere, elsewhere; once each, and nothing that would not work now."""
        from bench.ui.actions_view import ActionsView

        mine = self._kind_asked()
        everywhere = self.key_table.actions[0].kind
        rows: dict[tuple[str, str], Action] = {}
        for action in sorted(
            self.key_table.actions,
            key=lambda action: 0 if action.kind in mine else 1 if action.kind is everywhere else 2,
        ):
            name, _, rest = action.run.partition("(")
            works = action.kind is not everywhere or self.check_action(name, (rest.strip("')"),))
            if not (action.twin or action.kind is ActionsView or action.id == "go.back") and works:
                rows.setdefault((action.where, action.run), action)
        return [*rows.values(), *self._settings()]

    def _settings(self) -> Iterator[Action]:
        """Every setting of the shop, which is gone to and not done: it has the key of its screen."""
        from bench.ui.shop_view import ShopView, settings

        key = self.key_table.key("go.shop")
        for name, label, says in settings():
            yield Action(
                SETTING + name, "Shop", ShopView, "", label, f"Setting: {says}", (key,), False, False
            )

    @on(DoAction)
    async def _do(self, message: DoAction) -> None:
        """Do it where it works, say why not where it does not."""
        try:
            await self._done_where(message)
        except Refusal as refusal:
            self.say(str(refusal), wrong=True)

    async def _done_where(self, message: DoAction) -> None:
        """On a screen that was not on show only go there: it has not been seen."""
        if message.name.startswith(SETTING):
            await self._go("shop")
            shop: Any = self.made["shop"]
            shop.show_setting(message.name.removeprefix(SETTING))
            return
        action = next(action for action in self.key_table.actions if action.id == message.name)
        came_from = self.asked_from
        if action.kind in self._kind_asked():
            await self._go(came_from)
            await self.app.run_action(action.run, self.made[came_from])
        elif action.kind is self.key_table.actions[0].kind:
            await self._go(came_from)
            await self.app.run_action(action.run, self)
        else:
            place = action.id.partition(".")[0]
            if place in views.PLACES:
                await self._go(place)
            self.say(f"{action.where}: {self.key_table.name(action)}  {action.tells}")

    async def _go(self, name: str) -> None:
        """To a pane or a screen."""
        if name in PANES:
            await self.action_pane(name)
        elif self.view != name:
            await self.action_view(name)
