"""Whether a section comes out of a plank, and how wide the strip is that it takes: rip first, then crosscut.

A plank's larger side is its width, the smaller its thickness. A side that is at its finished size already is
left alone; any other is planed on both faces, and so is every side that came off the rip saw: it only looks
finished where its size happens to match. All lengths are exact [m].
"""

from fractions import Fraction


def rough(finished: Fraction, have: Fraction, planing: Fraction, sawn: bool = False) -> Fraction | None:
    """What a finished side takes of a side of the stock.

    Args:
        finished: [m].
        have: the side of the stock [m].
        planing: off each face that is not at its finished size [m].
        sawn: whether the side is as it came off the rip saw: then it is planed whatever its size.
    Returns:
        Finished side and planing, the side itself where it is finished; None where there is not enough [m].
    Source:
        geometry: derived.
    """
    if have == finished and not sawn:
        return finished
    needed = finished + 2 * planing
    return needed if needed <= have else None


def strip_width(
    stock: tuple[Fraction, Fraction],
    section: tuple[Fraction, Fraction],
    planing: Fraction,
    sawn: tuple[bool, bool] = (False, False),
) -> Fraction | None:
    """The width of the strip to rip for a section, either way round, the narrower where both can be.

    Args:
        stock: both sides of the plank or stick [m].
        section: both finished sides [m].
        planing: off each face that is not at its finished size [m].
        sawn: of both sides of the stock, whether it is as it came off the rip saw.
    Returns:
        The fence for the strip; None where the section does not come out of the stock [m].
    Source:
        geometry: derived.
    """
    (thickness, thick), (width, wide) = sorted(zip(stock, sawn, strict=True))
    found = [
        across
        for through, other in (section, section[::-1])
        if rough(through, thickness, planing, thick) is not None
        and (across := rough(other, width, planing, wide)) is not None
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
