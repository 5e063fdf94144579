"""What panes say to the bench screen. Nothing else travels upward."""

from collections.abc import Callable

from textual.message import Message

from bench.core.edits import Edit


class Draft(Message):
    """A change being tried: every pane shows it, nothing keeps it yet."""

    def __init__(self, edit: Edit) -> None:
        super().__init__()
        self.edit = edit


class Accept(Message):
    """A change accepted: applied, recorded, saved."""

    def __init__(self, edit: Edit) -> None:
        super().__init__()
        self.edit = edit


class AcceptDrafts(Message):
    """Keep what is being tried."""


class Ask(Message):
    """A line of text wanted; `take` is called with it and may refuse, then the text stays to be mended.

    `typed` says that the text is the beginning of what is being typed; else it is an old value, and what is
    typed replaces it.
    """

    def __init__(self, prompt: str, text: str, take: Callable[[str], None], typed: bool = False) -> None:
        super().__init__()
        self.prompt = prompt
        self.text = text
        self.take = take
        self.typed = typed


class Say(Message):
    """A line for the user; `wrong` marks a refusal."""

    def __init__(self, text: str, wrong: bool = False) -> None:
        super().__init__()
        self.text = text
        self.wrong = wrong


class TakeInHand(Message):
    """Another stick for the Float pane."""

    def __init__(self, tag: str) -> None:
        super().__init__()
        self.tag = tag
