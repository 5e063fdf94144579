"""Names and values as people type them, with the field they belong to in every refusal."""

from collections.abc import Mapping

from bench import units
from bench.core import checking
from bench.core.errors import Refusal, UnknownName
from bench.core.naming import nearest
from bench.core.records import Species, Typed


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
    raise UnknownName("species", text, nearest(text, woods))


def read_percent(quantity: str, text: str, field: str = "") -> Typed:
    """A moisture or humidity in percent; a bare fraction of one percent is a share typed for a percentage.

    Raises Refusal.
    """
    value = read_as(field or quantity, quantity, text)
    checking.meant_percent(field or quantity, value.exact, text)
    return value


def read_as(field: str, quantity: str, text: str, default: str = "") -> Typed:
    """A typed value, refused in the name of the field it was typed into.

    Raises Refusal.
    """
    try:
        return units.read(quantity, text, default)
    except Refusal as refusal:
        raise Refusal(f"{field}{refusal.message.removeprefix(quantity)}", field, text) from None
