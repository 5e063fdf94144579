"""Keys in the order in which they were pressed, however fast.

The framework lets a widget see a key first and runs what the key is bound to later, in another queue. A
burst (`6.85`, Enter, `*`, `6.75`, Enter) would then put the second figure over the first. Here each widget
runs what a key is bound to itself, before it looks at the next one, and hands on what was meant for the
widget that an earlier key has moved the focus to.
"""

from textual import events
from textual.message import Message
from textual.widget import Widget

from bench.core.errors import Refusal
from bench.ui.actions import KeyTable
from bench.ui.lined import Lined
from bench.ui.messages import Say, Upward


def keyed(widget: Widget, text: str) -> str:
    """A text that names actions (`press <go.stock>`), with the keys that they have."""
    table: KeyTable | None = getattr(widget.screen, "key_table", None)
    return text if table is None else table.said(text)  # a widget may stand on a screen without actions


class KeyWidget(Lined, can_focus=True):
    """Base of everything that has the focus."""

    takes_letters = False  # whether a letter is typed here, and runs nothing
    _holding = False  # waiting for an answer that the next key depends on
    _kept_keys: tuple[events.Key, ...] = ()  # keys that came in the meantime

    def post_message(self, message: Message) -> bool:
        """What is meant for the screen goes there; every box in between would take its time."""
        if isinstance(message, Upward) and self.is_attached:
            return self.screen.post_message(message)
        return super().post_message(message)

    async def on_key(self, event: events.Key) -> None:
        """One key, done with before the next."""
        if self._holding or self._kept_keys:
            self._done(event)
            self._kept_keys = (*self._kept_keys, event)
        else:
            await self._one(event)

    async def _one(self, event: events.Key) -> None:
        here = self.screen.focused
        if here is not self and isinstance(here, KeyWidget):
            self._done(event)
            here.post_message(events.Key(event.key, event.character))
        elif self.take_key(event):
            self._done(event)
        else:
            active = self.screen.active_bindings.get(event.key)
            if active is not None and active.enabled and active.node is not self.app:
                self._done(event)
                try:
                    await self.app.run_action(active.binding.action, active.node)
                except Refusal as refusal:  # what it works on cannot be read any more
                    self.post_message(Say(str(refusal), wrong=True))

    def hold_keys(self) -> None:
        """Keep the next keys until `let_keys`: what they mean depends on an answer still to come."""
        self._holding = True

    def let_keys(self) -> None:
        """The answer is there: go on with the keys that came in the meantime, in their order."""
        self.call_later(self._go_on)

    async def _go_on(self) -> None:
        self._holding = False
        while self._kept_keys and not self._holding:
            event, *rest = self._kept_keys
            self._kept_keys = tuple(rest)
            await self._one(event)

    def take_key(self, event: events.Key) -> bool:
        """Take a key before any binding; False leaves it to them."""
        return False

    @staticmethod
    def _done(event: events.Key) -> None:
        event.stop()
        event.prevent_default()
