"""The least scale of a section at which it carries what another does.

Where all sizes scale together every capacity is a power of the scale. Where one side is free most still are,
of a solid rectangle and of layers; what is no power is solved on its rising branch, and never ends low.
"""

from collections.abc import Callable
from math import exp, inf, log, sqrt

from bench.core import laminated
from bench.core.capacities import Carrier, Part
from bench.core.errors import Clash
from bench.core.laminated import Laminated
from bench.core.sections import Rectangle, written

HAIR = 1e-9  # binary noise: a capacity this close to the plan's is equal to it
NEVER = inf  # no scale is enough, up to 1100 times where it is solved
_FAR = 7.0  # natural logarithm of the greatest change of scale looked at, about 1100 times
_CLOSE = 1e-13  # logarithm of a ratio that is 1

# Powers of the scale: of all sizes, and of one side of a rectangle or of layers; what is absent is no power.
_SIMILAR = {
    "weight": 2,
    "bending": 3,
    "stiffness": 4,
    "compression": 2,
    "tension": 2,
    "shear": 2,
    "bearing": 1,
    "torsion": 4,
    "toughness": 2,
}
_WIDTH = dict.fromkeys(
    ("weight", "bending", "stiffness", "compression", "tension", "shear", "bearing", "toughness"), 1
)
_DEPTH = {**_WIDTH, "bending": 2, "stiffness": 3, "bearing": 0}
_POWERS = {"": _SIMILAR, "width": _WIDTH, "depth": _DEPTH}


def needed(name: str, carrier: Carrier, start: Part, free: str, target: float, euler: bool) -> float:
    """The least scale at which one capacity reaches a target.

    Args:
        name: of the capacity, known of the carrier.
        carrier: the wood.
        start: the section at scale 1.
        free: "" where all sizes scale, else the side that does.
        target: the plan's capacity [SI].
        euler: whether a column is compared by its Euler load.
    Returns:
        Scale [1]; 0 where every size is enough, NEVER where none is.
    Valid for:
        a wider flange can weaken a beam of thin flanges, by the recalled form factor: the answer is then the
        one from which on wider is stronger.
    Source:
        powers of a rectangle: derived; the rest solved to 1e-12 of the capacity.
    """
    solid = isinstance(start, Rectangle | Laminated)
    if name == "column" and euler and (solid or not free):
        return _buckling(carrier, start, free, target)
    power = _POWERS[free].get(name) if solid or not free else None
    if power is not None:
        share = target / carrier.value(name, start)
        if power:
            return float(share ** (1 / power))
        return 0.0 if share <= 1 + HAIR else NEVER
    least = start.least_free(free) / getattr(start, free) if free else 0.0
    if name == "bending" and free == "width":
        return _wider_flange(carrier, start, target, least)
    return solve(lambda scale: carrier.value(name, start.scaled(scale, free)) / target, least)


def _buckling(carrier: Carrier, start: Part, free: str, target: float) -> float:
    """Euler load: each axis by its own power, and the weaker of the two must reach the target."""
    share = target / carrier.value("column", start)
    if not free:
        return float(share**0.25)
    if isinstance(start, Laminated):
        whole = laminated.transformed(start)
        strong, weak = whole.bending, whole.bending_weak
    else:
        strong, weak = start.second_moment, start.second_moment_weak
    aim = share * min(strong, weak)
    powers = (1, 3) if free == "width" else (3, 1)
    return float(max((aim / strong) ** (1 / powers[0]), (aim / weak) ** (1 / powers[1])))


def _wider_flange(carrier: Carrier, start: Part, target: float, least: float) -> float:
    """Bending of a box or I by its width: (c1 + c2/k)(a k + b) times its value at 1, the greater root."""
    # Three points give the three terms of A k + B + C/k.
    one = carrier.value("bending", start)
    two, four = (carrier.value("bending", start.scaled(scale, "width")) for scale in (2.0, 4.0))
    falling = (four - 3 * two + 2 * one) / 0.75
    rising = two - one + falling / 2
    half = (one - rising - falling - target) / 2
    inside = half * half - rising * falling
    if inside < 0:
        return 0.0
    root = (sqrt(inside) - half) / rising
    return root if root > least else 0.0


def solve(rises: Callable[[float], float], least: float = 0.0) -> float:
    """The scale at which a rising function reaches 1; the upper end of the last bracket, never the weak side.

    Args:
        rises: of the scale; positive.
        least: the scale must stay above this [1].
    Returns:
        Scale [1]; 0 where the function is above 1 down to `least`, NEVER where it does not get there.
    Source:
        false position on the logarithms, the end that stays halved.
    """

    def at(place: float) -> float:
        return log(rises(exp(place)))

    floor = log(least) + HAIR if least > 0 else -_FAR
    high = value = at(0.0)
    if abs(value) <= _CLOSE:
        return 1.0
    step = abs(value)
    low_place = high_place = 0.0
    low = value
    while value < 0:
        if high_place >= _FAR:
            return NEVER
        low_place, low = high_place, value
        high_place = min(_FAR, high_place + step)
        value = high = at(high_place)
        step *= 2
    while low >= 0:
        if low_place <= floor:
            return 0.0
        high_place, high = low_place, low
        low_place = max(floor, low_place - step)
        low = at(low_place)
        step *= 2
    return exp(_closed_in(at, low_place, low, high_place, high))


def _closed_in(
    at: Callable[[float], float], low_place: float, low: float, high_place: float, high: float
) -> float:
    """Where a rising function crosses zero between two places: its upper side."""
    stayed = 0
    for _ in range(80):
        if high <= _CLOSE or high_place - low_place <= _CLOSE:
            break
        place = high_place - high * (high_place - low_place) / (high - low)
        if not low_place < place < high_place:
            place = (low_place + high_place) / 2
        value = at(place)
        if value >= 0:
            high_place, high = place, value
            low = low / 2 if stayed == 1 else low
            stayed = 1
        elif value > -_CLOSE:
            # So close that the noise of the function decides: a step up by as little ends on the strong side.
            return place + 2 * _CLOSE
        else:
            low_place, low = place, value
            high = high / 2 if stayed == -1 else high
            stayed = -1
    return high_place


def refuse(name: str, start: Part, free: str, scale: float) -> Clash:
    """Why a capacity cannot be matched with one side free, and what would do.

    Args:
        name: of the capacity.
        start: the section, its other side set.
        free: the side that is free, "" for all sizes.
        scale: what `needed` found: 0 or NEVER [1].
    Returns:
        The refusal, to be raised.
    """
    if not free:
        return Clash("match", name, "no size reaches it: another wood is wanted")
    other = "width" if free == "depth" else "depth"
    fixed = f"with the {other} at {written(getattr(start, other))}"
    if name == "bearing" and free == "depth":
        why = f"{fixed} no depth changes it, since bearing goes with the width"
        return Clash("hold", name, f"{why}: hold the depth or neither side, or match another capacity")
    if scale == NEVER:
        return Clash("hold", name, f"{fixed} no {free} reaches the plan's: hold the {free} or neither side")
    why = f"{fixed} it passes the plan's at every {free}"
    return Clash("hold", name, f"{why}: hold the {free} or neither side, or match another capacity")
