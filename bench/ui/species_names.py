"""A species as people type it."""

from collections.abc import Mapping

from bench.core.errors import UnknownName
from bench.core.records import Species


def species_key(text: str, woods: Mapping[str, Species]) -> str:
    """The key of a species typed by key or by name; a piece of it that fits only one is enough.

    Raises UnknownName with the nearest keys.
    """
    wanted = text.strip().lower().replace(" ", "_").replace("-", "_")
    if wanted in woods:
        return wanted
    near = tuple(key for key in woods if wanted and wanted in key)
    if len(near) == 1:
        return near[0]
    raise UnknownName("species", text, near or tuple(woods)[:4])
