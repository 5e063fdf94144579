"""The habits and the section that a new job begins with, in the shop's own unit.

Older jobs rest on the defaults of the records, which stay: what a new job begins with is in its first edit.
Grain runs out round a knot and a check goes further than is seen, so a new job keeps clear of a defect.
"""

from bench.core.records import SectionChoice, Settings, inches
from bench.core.typed import millimetres


def habits(units: str) -> Settings:
    """What a new job begins with; every habit can be changed in Shop.

    Args:
        units: "in" or "mm".
    Returns:
        Settings with sizes that are round in that unit.
    Source:
        common practice, no source.
    """
    if units != "mm":
        return Settings(margin=inches("1/2"))
    return Settings(
        units="mm",
        kerf=millimetres("3.2"),
        end_trim=millimetres("0"),
        margin=millimetres("12"),
        squaring=millimetres("0"),
        least_offcut=millimetres("150"),
        grid=millimetres("0.5"),
        edge=millimetres("0"),
        planing=millimetres("0"),
        least_piece=millimetres("300"),
    )


def section(units: str) -> SectionChoice:
    """The section that a new job looks at until the drawing's is typed.

    Args:
        units: "in" or "mm".
    Returns:
        A square that is round in that unit.
    Source:
        common practice, no source.
    """
    return (
        SectionChoice(width=millimetres("20"), depth=millimetres("20")) if units == "mm" else SectionChoice()
    )
