"""What is the user's own and not the job's, as the screens see it; they know no file."""

from collections.abc import Callable, Mapping
from dataclasses import field

from bench.core.frozen import record, replace

CHARACTERS = {"auto": "automatic", "boxes": "lines and blocks", "plain": "plain, - | + #"}


def _forget(name: str, value: str) -> None:
    """Where nothing keeps it."""


@record
class Preferences:
    """How the screen looks and what is typed for what."""

    theme: str = "dark"
    characters: str = "auto"  # a key of CHARACTERS
    shows_boxes: bool = True  # what "auto" comes to on this terminal
    typing: Mapping[str, str] = field(default_factory=dict)  # character -> what it is typed for
    place: str = ""  # where they are kept, to be told
    keep: Callable[[str, str], None] = _forget  # keeps one by name; raises a Refusal

    def changed(self, name: str, value: str) -> "Preferences":
        """With one of them changed."""
        return replace(self, theme=value) if name == "theme" else replace(self, characters=value)

    @property
    def plain(self) -> bool:
        """Whether only plain characters are drawn."""
        return self.characters == "plain" or (self.characters == "auto" and not self.shows_boxes)
