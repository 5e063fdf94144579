"""Names that look like one that is not known, and plain names for files."""

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


def file_stem(text: str, most: int = 60) -> str:
    """A plain file name of letters, figures and hyphens, without its ending: it names no folder.

    Args:
        text: whatever it is to be named after.
        most: characters that it may have.
    Returns:
        The name; empty where the text has no letter and no figure.
    Source:
        common practice.
    """
    kept = "".join(char if char.isalnum() else " " for char in text)
    return "-".join(kept.split())[:most]
