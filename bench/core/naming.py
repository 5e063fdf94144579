"""Names that look like one that is not known."""

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(name: str, names: Iterable[str]) -> tuple[str, ...]:
    """Up to four names that hold this one or look like it, the nearest first.

    Args:
        name: as typed; letter case, blanks and hyphens do not matter.
        names: what is known; may be empty.
    Returns:
        Names of the list.
    Source:
        our rule.
    """
    wanted, listed = name.strip().lower().replace(" ", "_").replace("-", "_"), list(names)
    holding = [other for other in listed if wanted and wanted in other.lower()]
    return tuple(dict.fromkeys([*holding, *get_close_matches(wanted, listed, n=4, cutoff=0.5)]))[:4]


def one_line(text: str) -> str:
    """Text without line breaks and control characters: no name out of a file steers a terminal.

    Args:
        text: of a message, whatever is in it.
    Returns:
        The text, a blank for each of them.
    Source:
        our rule.
    """
    return "".join(letter if letter.isprintable() else " " for letter in text)
