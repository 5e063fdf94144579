"""A long piece of work done a little at a time between any two keys, without a thread or a timer."""

from collections.abc import Callable

from textual.dom import DOMNode

from bench.core.errors import Refusal

TOLD = 50  # steps after which it is shown how far it is


class Between:
    """Goes on with one piece of work until it is done; what is typed comes in between its steps."""

    def __init__(self, node: DOMNode, step: Callable[[], bool], tell: Callable[[], None]) -> None:
        """Args:
        node: whose work it is; it ends with it, and goes on when it is drawn again and asks for it.
        step: does some milliseconds of it; whether more is to be done. A Refusal ends it: whoever asks for
            what it was to find meets it in `go_on`.
        tell: called now and then, and at its end.
        """
        self._node, self._step, self._tell = node, step, tell
        self.running = False
        self._refusal: Refusal | None = None  # that ended it

    def go_on(self) -> None:
        """Go on until it is done, or its node is not on show any more: keys elsewhere do not wait for it.

        Raises a Refusal that ended it, once; the next time it is tried again.
        """
        refusal, self._refusal = self._refusal, None
        if refusal is not None:
            raise refusal
        if not self.running:
            self.running = True
            self._node.run_worker(self._run())

    async def _run(self) -> None:
        steps = 0
        try:
            while self._node.display and self._step():
                steps += 1
                if not steps % TOLD:
                    self._tell()
                # What was pressed meanwhile is answered and drawn first.
                await self._node.wait_for_refresh()
        except Refusal as refusal:
            self._refusal = refusal
        finally:
            self.running = False
        self._tell()
