"""What a section measures at another moisture, by the lie of its growth rings."""

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record
from bench.core.moisture import SATURATION, movement, to_saturation, within
from bench.core.records import Figure, Species

COEFFICIENT_RANGE = (0.06, 0.14)  # where the coefficients of movement hold; wh190 p. 13-15

# How the growth rings lie in a section: which side runs along them.
RINGS_UNKNOWN, RINGS_45 = "unknown", "45 deg"
WIDTH_TANGENTIAL, DEPTH_TANGENTIAL = "width tangential", "depth tangential"
LIES = (RINGS_UNKNOWN, RINGS_45, WIDTH_TANGENTIAL, DEPTH_TANGENTIAL)

# What a reader of a movement must be told.
CLAMPED, STRETCHED, RECALLED, LARGER = "clamped", "stretched", "recalled", "larger"


@record
class SizeChange:
    """A section at another moisture."""

    width_before: float  # [m]
    depth_before: float  # [m]
    start: float  # moisture counted from, no more than saturation [1]
    end: float  # moisture counted to [1]
    width: float  # at the end [m]
    depth: float  # [m]
    width_by: Figure  # coefficient of the width
    depth_by: Figure  # coefficient of the depth
    doubts: tuple[str, ...]  # of CLAMPED, STRETCHED, RECALLED, LARGER


def movement_doubts(start: float, end: float) -> tuple[str, ...]:
    """What is to be said of a movement by a coefficient between two moistures.

    Args:
        start: first moisture, as typed [1].
        end: second moisture [1].
    Returns:
        CLAMPED above saturation, STRETCHED outside 6 to 14 percent.
    Source:
        wh190 p. 4-10, 13-15.
    """
    clamped = max(start, end) > SATURATION
    stretched = not (within(start, COEFFICIENT_RANGE) and within(end, COEFFICIENT_RANGE))
    return (CLAMPED,) * clamped + (STRETCHED,) * stretched


def _coefficients(species: Species, lie: str) -> tuple[Figure, Figure]:
    """Of width and depth; the larger for both where it is not known how the rings lie."""
    found = {way: species.find(f"movement_{way}") for way in ("tangential", "radial")}
    for way, figure in found.items():
        if figure is None:
            why = f"the library has none {way} for {species.name}; put it into your own species file"
            raise Missing("coefficient of movement", why)
    tangential, radial = (figure for figure in found.values() if figure is not None)
    if lie == WIDTH_TANGENTIAL:
        return tangential, radial
    if lie == DEPTH_TANGENTIAL:
        return radial, tangential
    larger = max(tangential, radial, key=lambda figure: figure.value)
    return larger, larger


def size_change(
    width_m: float, depth_m: float, rings_across: str, species: Species, start: float, end: float
) -> SizeChange:
    """What a section measures at another moisture.

        D_end = D [1 + C (M_end - M_start)], each side with its own coefficient

    Args:
        width_m: at the first moisture [m].
        depth_m: at the first moisture [m].
        rings_across: one of LIES; where it is not known, or at 45 degrees, both sides take the larger.
        species: the wood.
        start: first moisture [1].
        end: second moisture [1].
    Returns:
        Both sides with their coefficients, and what is to be said.
    Raises:
        Missing: the library has no coefficient of this wood.
        OutOfRange: a moisture below zero, a size of zero or less, or an unknown lie.
    Valid for:
        6 to 14 percent; outside it says so.
    Source:
        wh190 eq. 13-2 and table 13-5, p. 13-15; the larger coefficient: never too little, our rule.
    """
    if rings_across not in LIES:
        raise OutOfRange("rings", rings_across, f"one of {', '.join(LIES)} is wanted")
    width_by, depth_by = _coefficients(species, rings_across)
    doubts = list(movement_doubts(start, end))
    doubts += [RECALLED] * (width_by.memory or depth_by.memory)
    doubts += [LARGER] * (rings_across not in (WIDTH_TANGENTIAL, DEPTH_TANGENTIAL))
    return SizeChange(
        width_before=width_m,
        depth_before=depth_m,
        start=to_saturation(start),
        end=to_saturation(end),
        width=width_m + movement(width_m, width_by.value, start, end),
        depth=depth_m + movement(depth_m, depth_by.value, start, end),
        width_by=width_by,
        depth_by=depth_by,
        doubts=tuple(doubts),
    )
