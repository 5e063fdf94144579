"""Moisture, air and movement in sentences: the same on screen, paper and in the verbs."""

from bench import units
from bench.core import moisture, moving
from bench.core.moving import SizeChange
from bench.core.records import Figure
from bench.core.working import place

SAY = {
    moving.CLAMPED: "above fibre saturation nothing moves: clamped to 30 %",
    moving.STRETCHED: "the coefficient holds for 6 to 14 % moisture",
    moving.LARGER: "the larger coefficient for both sides: no side lies wholly one way or the other",
}
OUTSIDE_FIT = "outside 2 to 82 C and 20 to 80 % humidity the equation may be off by more than 0.5 %"
OVER = 0.0005  # nearer than this to the air's moisture nothing is said to move [1]


def recalled(species: str) -> str:
    """That a coefficient was not read in its source."""
    return f"the coefficient of {species} is RECALLED, NOT READ"


def movement_warnings(doubts: tuple[str, ...], species: str) -> tuple[str, ...]:
    """What must be said beside a movement.

    Args:
        doubts: codes of moving.
        species: name of the wood.
    Returns:
        Sentences, those about recalled figures first.
    """
    said = [recalled(species)] if moving.RECALLED in doubts else []
    return (*said, *(SAY[code] for code in doubts if code in SAY))


def air(temperature_k: float, humidity: float) -> str:
    """The shop's air: `20.0 °C, 50.0 % humidity`.

    Args:
        temperature_k: of the air [K].
        humidity: relative humidity as a fraction [1].
    """
    return f"{units.temperature(temperature_k)}, {units.percent(humidity)} humidity"


def distance(over: float) -> str:
    """How far a stick is from what the air brings it to, and which way it goes.

    Args:
        over: of moisture.correct_for_air: moisture over the equilibrium [1].
    """
    if abs(over) < OVER:
        return "at the moisture of this air: it will stay"
    way = "above it: it will dry and shrink" if over > 0 else "below it: it will take up water and swell"
    return f"{units.percent(abs(over), 2)} {way}"


def settles(temperature_k: float, humidity: float) -> str:
    """The moisture that the air brings wood to, by which equation.

    Args:
        temperature_k: of the air [K].
        humidity: relative humidity as a fraction [1].
    """
    settled = moisture.equilibrium(temperature_k, humidity)
    return f"this air brings wood to {units.percent(settled, 2)} moisture, {moisture.MODEL_EMC}"


def side(before: float, after: float, system: str = "in") -> str:
    """A side at the second moisture and what it changed by: `0.7471 in, -2.9 thousandths`.

    Args:
        before: the side at the first moisture [m].
        after: the side at the second [m].
        system: "in" or "mm".
    """
    moved = units.signed((after - before) / 0.0254 * 1000, 1) + " thousandths"
    if system == "mm":
        moved = units.signed((after - before) * 1000, 3) + " mm"
    # Two decimals fewer in millimetres than in inches, so six of the inch are four of the millimetre.
    return f"{units.length(after, system, 6 if system == 'mm' else 4)}, {moved}"


def coefficient(figure: Figure) -> str:
    """A coefficient of movement with its source: `tangential 0.00263 per 1 %, wh190 Table 13-5`.

    Args:
        figure: of the library.
    """
    way = figure.quantity.removeprefix("movement_")
    return f"{way} {figure.printed} per 1 %, {place(figure)}"


def change(found: SizeChange, system: str = "in") -> tuple[str, ...]:
    """A section at another moisture: both sides, then their coefficients.

    Args:
        found: of moving.size_change.
        system: "in" or "mm".
    Returns:
        Two lines of sizes, then the coefficients: one line where both stand in one place.
    """
    sides = (
        f"width {side(found.width_before, found.width, system)}",
        f"depth {side(found.depth_before, found.depth, system)}",
    )
    first, *more = dict.fromkeys((found.width_by, found.depth_by))
    if more and place(first) == place(more[0]):
        way = first.quantity.removeprefix("movement_")
        return (*sides, f"{way} {first.printed}, {coefficient(more[0])}")
    return (*sides, *(coefficient(figure) for figure in (first, *more)))
