"""One step of arithmetic as data, and where a figure stands: what every working is made of."""

from bench.core.frozen import record
from bench.core.records import Figure

DOWN, UP = "down", "up"


@record
class Number:
    """A symbol with its value in SI and the quantity it is, so that it can be written in any unit."""

    symbol: str
    value: float
    quantity: str
    note: str = ""
    side: str = ""  # DOWN or UP: of the edge of a band and of a limit, to which the last digit is rounded


@record
class Step:
    """One line of arithmetic."""

    title: str
    formula: str
    numbers: tuple[Number, ...]
    result: Number
    basis: str = ""
    source: str = ""


def place(figure: Figure) -> str:
    """Where a figure stands, with its standing, for the source column.

    Args:
        figure: of the library.
    Returns:
        Bibliography key and place; says so where it was recalled or has no published source.
    """
    standing = {
        "read": "",
        "memory": " (RECALLED, NOT READ)",
        "trade": " (common practice, no published source)",
    }
    return f"{figure.source} {figure.where}{standing[figure.standing]}".strip()
