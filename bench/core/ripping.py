"""Whether a section comes out of a plank, and how wide the strip is that it takes: rip first, then crosscut.

A plank's larger side is its width, the smaller its thickness. A side that is at its finished size already is
left alone; any other is planed on both faces. All lengths are exact [m].
"""

from fractions import Fraction


def rough(finished: Fraction, have: Fraction, planing: Fraction) -> Fraction | None:
    """What a finished side takes of a side of the stock.

    Args:
        finished: [m].
        have: the side of the stock [m].
        planing: off each face that is not at its finished size [m].
    Returns:
        Finished side and planing, the side itself where it is finished; None where there is not enough [m].
    Source:
        geometry: derived.
    """
    if have == finished:
        return finished
    needed = finished + 2 * planing
    return needed if needed <= have else None


def strip_width(
    stock: tuple[Fraction, Fraction], section: tuple[Fraction, Fraction], planing: Fraction
) -> Fraction | None:
    """The width of the strip to rip for a section, either way round, the narrower where both can be.

    Args:
        stock: both sides of the plank or stick [m].
        section: both finished sides [m].
        planing: off each face that is not at its finished size [m].
    Returns:
        The fence for the strip; None where the section does not come out of the stock [m].
    Source:
        geometry: derived.
    """
    thickness, width = sorted(stock)
    found = [
        across
        for through, other in (section, section[::-1])
        if rough(through, thickness, planing) is not None
        and (across := rough(other, width, planing)) is not None
    ]
    return min(found, default=None)


def strip_tag(tag: str, strip: int) -> str:
    """The tag of a strip ripped from a plank.

    Args:
        tag: of the plank.
        strip: its number, from 1.
    Returns:
        A tag of its own.
    """
    return f"{tag}.{strip}"
