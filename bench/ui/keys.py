"""Keys in the order in which they were pressed, however fast.

The framework lets a widget see a key first and runs what the key is bound to later, in another queue. A
burst (`6.85`, Enter, `*`, `6.75`, Enter) would then put the second figure over the first. Here each widget
runs what a key is bound to itself, before it looks at the next one, and hands on what was meant for the
widget that an earlier key has moved the focus to.
"""

from textual import events
from textual.widget import Widget


class KeyWidget(Widget, can_focus=True):
    """Base of everything that has the focus."""

    async def on_key(self, event: events.Key) -> None:
        """One key, done with before the next."""
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
                await self.app.run_action(active.binding.action, active.node)

    def take_key(self, event: events.Key) -> bool:
        """Take a key before any binding; False leaves it to them."""
        return False

    @staticmethod
    def _done(event: events.Key) -> None:
        event.stop()
        event.prevent_default()
