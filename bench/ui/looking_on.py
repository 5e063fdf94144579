"""Judging a large rack after the first picture, a few sticks between any two keys."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.screen import Screen

from bench.ui.settling import spare

if TYPE_CHECKING:
    from bench.core.rack import Rack
    from bench.core.river import River

FEW = 2  # sticks at a time, about a millisecond: what is typed comes in between
TOLD = 1000  # sticks after which it is shown how far it is


class LookingOn:
    """Goes through the rack on show until every stick is judged, then asks for the river again."""

    def __init__(self, screen: Screen[None], flow: Callable[[], None]) -> None:
        self.screen, self.flow = screen, flow
        self.rack: Rack | None = None  # on show
        self.running = False

    def follow(self, river: River) -> None:
        """A new river is on show."""
        self.rack = river.rack
        if river.rack.waiting and not self.running:
            self.running = True
            self.screen.run_worker(self._run(), group="looking on")

    async def _run(self) -> None:
        told = 0
        try:
            while self.rack is not None and self.rack.look_on(FEW):
                told += FEW
                if told % TOLD < FEW:
                    spare()
                    self.flow()
                # What was pressed meanwhile is answered and drawn first.
                await self.screen.wait_for_refresh()
        finally:
            self.running = False
            if told > TOLD:
                spare()
        self.flow()
