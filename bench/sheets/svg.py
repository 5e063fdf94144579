"""Pictures that stand alone in a page: thin black lines, no fill that costs ink, no colour."""

from collections.abc import Iterable
from html import escape

FONT, LETTER = 11.0, 6.4  # height of the text and width of one of its letters, taken large


def number(value: float) -> str:
    """A coordinate, exact to a ten-millionth of a unit.

    Args:
        value: of the picture.
    """
    return f"{value:.7f}".rstrip("0").rstrip(".")


def text(x: float, y: float, said: str, anchor: str = "start") -> str:
    """Words at a place."""
    return f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}">{escape(said)}</text>'


def path(drawn: str, width: float = 0.8, more: str = "") -> str:
    """A line.

    Args:
        drawn: as SVG's `d`.
        width: of the pen.
        more: attributes.
    """
    return f'<path d="{drawn}" fill="none" stroke="#000" stroke-width="{number(width)}"{more}/>'


def picture(wide: float, high: float, said: str, shown: Iterable[str]) -> str:
    """A picture of its own.

    Args:
        wide: in its own units.
        high: the same.
        said: what it shows, for those who cannot see it.
        shown: its elements.
    Returns:
        An svg element that stands alone.
    """
    box = f'viewBox="0 0 {number(wide)} {number(high)}" width="{number(wide)}" height="{number(high)}"'
    font = f'font-family="sans-serif" font-size="{number(FONT)}" fill="#000"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {box} {font}>'
        f"<title>{escape(said)}</title>{''.join(shown)}</svg>"
    )
