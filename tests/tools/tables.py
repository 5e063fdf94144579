"""Tables of sticks and parts: cells as somebody types them, and faults as they are told."""

from typing import Protocol

from hypothesis import strategies as st

from bench import units
from bench.core.records import Typed


class Faulty(Protocol):
    """A table that was read, with the faults in it."""

    faults: tuple[object, ...]


def told(sheet: Faulty) -> list[str]:
    """The faults of a table, a line each."""
    return [str(fault) for fault in sheet.faults]


def typed(quantity: str, *texts: str) -> st.SearchStrategy[Typed]:
    """A value typed in one of these ways."""
    return st.sampled_from(texts).map(lambda text: units.read(quantity, text))


LENGTHS = typed("length", "60", "6'", "34 3/8", "1800 mm", "5' 2 1/2\"")
# With the signs that mean something to a table or a spreadsheet; white space as a cell keeps it.
WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=("C", "Z")) | st.sampled_from(" ,;\"'\t=")
).map(lambda text: " ".join(text.split()))
