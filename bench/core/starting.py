"""The habits that a new job begins with, in the shop's own unit."""

from fractions import Fraction

from bench.core.records import Settings, Typed


def _mm(text: str) -> Typed:
    return Typed(Fraction(text) / 1000, f"{text} mm")


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
        return Settings()
    return Settings(
        units="mm",
        kerf=_mm("3.2"),
        end_trim=_mm("0"),
        margin=_mm("0"),
        squaring=_mm("0"),
        least_offcut=_mm("150"),
        grid=_mm("0.5"),
        edge=_mm("0"),
        planing=_mm("0"),
        least_piece=_mm("300"),
    )
