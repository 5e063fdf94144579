"""What a stick is likely to carry, in lines of text: the same on screen, paper and in the verbs."""

from collections.abc import Callable
from math import ceil, floor, log10

from bench import units
from bench.core import strength
from bench.core.estimating import GRAIN_TABLE
from bench.core.quantities import DATA_UNITS
from bench.core.strength import Estimate, Estimated
from bench.sheets.wording import CAPACITY

_NAMES = {**CAPACITY, "compression": "crushing strength"}
_GRAIN_UNKNOWN = "grain not measured, taken straight"
_SENTENCES = {
    strength.TAKEN_STRAIGHT: f"{_GRAIN_UNKNOWN}: measure it on two faces before a section rests on this",
    strength.ONE_FACE_ONLY: "grain measured on one face only, the other taken straight: measure it too",
    strength.NO_GRAIN_ROW: "no reduction for slope of grain known for {names} and none taken off: impact, "
    "its nearest kin, keeps 81 % at 1:15 and 62 % at 1:10 (wh282 table 5-12)",
    strength.GRAIN_UNCLEAR: "the reduction of {names} leans on a figure that is printed unclearly",
    strength.LEFT_AT_12: "{names} left at 12 % moisture: wh282 eq. 5-3 does not hold for it",
    strength.NO_GREEN: "{names} left at 12 % moisture: the library has no green figure",
    strength.FIGURE_RECALLED: "some figures of {names} are RECALLED, NOT READ",
    strength.AS_BENDING: "{names} taken as bending strength (anc18_1951 table 2-6)",
    strength.AVERAGE_KEPT: "{names} is the species' average, not estimated",
}
BAND = (
    "the band holds 95 % of clear pieces: all of the variation within a species (wh282 table 5-6) and what "
    "is uncertain in the gravity"
)
_STRESS, _WORK = {"in": "lbf/in2", "mm": "MPa"}, {"in": "in-lbf/in3", "mm": "kJ/m3"}


def name(figure: str) -> str:
    """A figure of an estimate in words."""
    return _NAMES[figure]


def line(part: Estimated, system: str = "in") -> str:
    """One figure with its band and basis.

    Args:
        part: of an estimate.
        system: "in" or "mm".
    Returns:
        `bending strength 9,120 lbf/in2, 6,200 to 12,000 (95 %), at 12.0 % moisture`.
    """
    unit = (_WORK if part.quantity == "work_to_maximum_load" else _STRESS)[system]
    scale = float(DATA_UNITS[unit][1])
    value = units.number(part.value / scale)
    band = f"{_outward(part.low / scale, floor)} to {_outward(part.high / scale, ceil)} (95 %)"
    return f"{name(part.name)} {value} {unit}, {band}, at {units.percent(part.moisture)} moisture"


def _outward(edge: float, rounded: Callable[[float], int]) -> str:
    """An edge of a band to three digits, so that the band is never shown narrower than it is."""
    if not edge > 0:
        return "0"
    step = 10.0 ** (floor(log10(edge)) - 2)
    steps = edge / step
    noise = 1e-9 if rounded is floor else -1e-9
    return units.number(rounded(steps * (1 + noise)) * step)


def doubts(codes: tuple[str, ...]) -> tuple[str, ...]:
    """Sentences for the codes of an estimate, those about several figures in one.

    Args:
        codes: of `Wood.doubt`: a code of strength, and after a blank the figure it is about.
    Returns:
        Sentences; empty where nothing is to be said.
    """
    about: dict[str, list[str]] = {}
    for code in codes:
        kind, _, figure = code.partition(" ")
        about.setdefault(kind, []).append(name(figure) if figure else "the gravity")
    return tuple(_SENTENCES[kind].format(names=", ".join(names)) for kind, names in about.items())


def basis(estimate: Estimate) -> str:
    """What an estimate rests on, in one sentence.

    Args:
        estimate: of estimating.estimate.
    Returns:
        Gravity, grain and the sources of the factors.
    """
    grain = _GRAIN_UNKNOWN
    if estimate.grain != strength.NOT_MEASURED:
        faces = "both faces" if estimate.grain_measured else "one face"
        grain = f"grain {units.slope(estimate.slope)} from {faces} by {GRAIN_TABLE[estimate.document]} alone"
    gravity = f"gravity {units.gravity(estimate.gravity_12)} against {units.gravity(estimate.average_12)}"
    return f"estimated, not tested: {gravity} (volume at 12 %); {grain}; {', '.join(estimate.sources)}"


def lines(estimate: Estimate, system: str = "in") -> tuple[str, ...]:
    """Everything that is said of an estimate.

    Args:
        estimate: of estimating.estimate.
        system: "in" or "mm".
    Returns:
        A line a figure, the basis, the band, then what is to be doubted.
    """
    codes = estimate.doubts + tuple(f"{code} {part.name}" for part in estimate.parts for code in part.doubts)
    return (*(line(part, system) for part in estimate.parts), basis(estimate), BAND, *doubts(codes))
