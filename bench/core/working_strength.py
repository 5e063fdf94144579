"""How moisture, movement and the estimate of a stick came about, step by step, as in `working`."""

from bench.core import moisture as water
from bench.core.estimating import GRAIN_TABLE, HANDBOOK
from bench.core.moving import CLAMPED, SizeChange
from bench.core.records import Figure
from bench.core.spread import TWO_SIDED_95
from bench.core.steps import DOWN, UP, Number, Step, place
from bench.core.strength import (
    INTERSECTION_OTHERWISE,
    LEFT_AT_12,
    NO_GRAIN_ROW,
    NO_GREEN,
    NOT_MEASURED,
    Estimate,
    Estimated,
)

_BASIS_12 = "oven-dry mass, volume at 12 %"


def of_oven(wet_kg: float, dry_kg: float) -> tuple[Step, ...]:
    """Moisture by drying to constant mass.

    Args:
        wet_kg: mass as found [kg].
        dry_kg: mass when oven-dry [kg].
    Returns:
        One step.
    Source:
        fpl_moisture (1951).
    """
    return (
        Step(
            "moisture by drying",
            "M = (m - m_0) / m_0",
            (Number("m", wet_kg, "mass", "as found"), Number("m_0", dry_kg, "mass", "oven-dry")),
            Number("M", water.by_oven(wet_kg, dry_kg), "moisture"),
            basis="water over oven-dry mass",
            source="fpl_moisture (1951)",
        ),
    )


def of_air(temperature_k: float, humidity: float, moisture: float | None = None) -> tuple[Step, ...]:
    """Moisture that the air brings wood to, and how far a stick is from it.

    Args:
        temperature_k: of the air [K].
        humidity: relative humidity as a fraction [1].
        moisture: of the stick; None: there is none [1].
    Returns:
        One step, or two with a stick.
    Source:
        wh282 eq. 4-5, p. 4-4.
    """
    settled = water.equilibrium(temperature_k, humidity)
    first = Step(
        "moisture in constant air",
        "M_air = (18/W) [K h/(1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2)]",
        (Number("T", temperature_k, "temperature"), Number("h", humidity, "humidity")),
        Number("M_air", settled, "moisture"),
        basis="water over oven-dry mass; any wood; not told apart: wetting and drying",
        source=water.MODEL_EMC,
    )
    if moisture is None:
        return (first,)
    apart = water.correct_for_air(moisture, temperature_k, humidity)
    return (
        first,
        Step(
            "the stick against the air",
            "M - M_air; above zero it will dry",
            (Number("M", moisture, "moisture", "of the stick"), Number("M_air", settled, "moisture")),
            Number("apart", apart, "moisture"),
            basis="water over oven-dry mass",
        ),
    )


def of_movement(
    title: str, figure: Figure, size_m: float, start: float, end: float, clamped: bool = False
) -> Step:
    """A dimension at another moisture.

    Args:
        title: what is measured.
        figure: coefficient of movement.
        size_m: at the first moisture [m].
        start: first moisture [1].
        end: second moisture [1].
        clamped: one of the two was above saturation as typed.
    Returns:
        One step.
    Source:
        wh190 eq. 13-2, p. 13-15.
    """
    start, end = water.to_saturation(start), water.to_saturation(end)

    def note(value: float) -> str:
        return "above 30 % counts as 30 %" if clamped and value == water.SATURATION else ""

    return Step(
        title,
        "dD = D C (M_2 - M_1)",
        (
            Number("D", size_m, "length"),
            Number("C", figure.value, figure.quantity, "per unit of moisture"),
            Number("M_1", start, "moisture", note(start)),
            Number("M_2", end, "moisture", note(end)),
        ),
        Number("dD", water.movement(size_m, figure.value, start, end), "length"),
        basis="coefficient for 6 to 14 % moisture",
        source=f"wh190 eq. 13-2; {place(figure)}",
    )


def of_size_change(change: SizeChange) -> tuple[Step, ...]:
    """Both sides of a section at another moisture.

    Args:
        change: of moving.size_change.
    Returns:
        One step a side.
    Source:
        wh190 eq. 13-2, p. 13-15.
    """
    clamped = CLAMPED in change.doubts
    sides = (
        ("width", change.width_by, change.width_before),
        ("depth", change.depth_by, change.depth_before),
    )
    return tuple(
        of_movement(
            f"{side}, {figure.quantity.removeprefix('movement_')}",
            figure,
            size,
            change.start,
            change.end,
            clamped,
        )
        for side, figure, size in sides
    )


def of_estimate(estimate: Estimate) -> tuple[Step, ...]:
    """Every factor of an estimate, figure by figure.

    Args:
        estimate: of estimating.estimate.
    Returns:
        The gravities, then for each figure the power, moisture, grain and band.
    Source:
        anc18 (1944) tables 2-1 and 2-4; wh282 eq. 5-3, tables 5-6 and 5-12.
    """
    steps = [
        Step(
            "the stick's gravity over the species'",
            "r = G / G_avg",
            (
                Number("G", estimate.gravity_12, "specific_gravity", "of the stick"),
                Number("G_avg", estimate.average_12, "specific_gravity", estimate.name),
            ),
            Number("r", estimate.gravity_12 / estimate.average_12, "fraction"),
            basis=_BASIS_12,
            source=place(estimate.gravity_figure),
        )
    ]
    if estimate.slope_one is not None and estimate.slope_two is not None:
        steps.append(
            Step(
                "slope of grain of both faces together",
                "s = sqrt(s_1^2 + s_2^2)",
                (Number("s_1", estimate.slope_one, "slope"), Number("s_2", estimate.slope_two, "slope")),
                Number("s", estimate.slope, "slope"),
                source="wh282 ch. 5, sec. Slope of Grain",
            )
        )
    for part in estimate.parts:
        steps += _of_part(part, estimate)
    return tuple(steps)


def _of_part(part: Estimated, estimate: Estimate) -> tuple[Step, ...]:
    by_gravity = part.average * part.gravity_factor
    by_moisture = by_gravity * part.moisture_factor
    return (
        Step(
            f"{part.name}: by gravity",
            "S_1 = S_avg r^n",
            (
                Number("S_avg", part.average, part.quantity, f"average at 12 %, {place(part.figures[0])}"),
                Number("r", estimate.gravity_12 / estimate.average_12, "fraction"),
                Number("n", part.power, "number"),
            ),
            Number("S_1", by_gravity, part.quantity),
            basis="clear straight-grained wood at 12 %",
            source="anc18 (1944) table 2-1",
        ),
        _moisture_step(part, estimate, by_gravity),
        _grain_step(part, estimate, by_moisture),
        Step(
            f"{part.name}: 95 percent band",
            f"S (1 +/- {TWO_SIDED_95} u),  u = sqrt(V^2 + (n u_G / G)^2)",
            (
                Number("S", part.value, part.quantity),
                Number("V", part.variation, "share", "within a species, wh282 table 5-6"),
                Number("n", part.power, "number"),
                Number("u_G", estimate.gravity_sd, "specific_gravity"),
                Number("G", estimate.gravity_12, "specific_gravity"),
                Number("highest", part.high, part.quantity, side=UP),
            ),
            Number("lowest", part.low, part.quantity, side=DOWN),
            basis="wide on purpose: what gravity already explains of V is not published in what we have",
            source="wh282 table 5-6",
        ),
    )


def _moisture_step(part: Estimated, estimate: Estimate, before: float) -> Step:
    unmoved = next((code for code in part.doubts if code in (LEFT_AT_12, NO_GREEN)), "")
    said = {
        LEFT_AT_12: "left at 12 %: wh282 eq. 5-3 does not hold for it",
        NO_GREEN: "left at 12 %: the library has no green figure to bring it from",
        "": "S_2 = S_1 (P_12 / P_g)^((0.12 - M) / (M_p - 0.12))",
    }[unmoved]
    brought = not unmoved and estimate.moisture != 0.12
    names = {"green": "P_g", "12 %": "P_12"}
    strengths = [figure for figure in part.figures if figure.quantity == part.quantity]
    at = next((figure for figure in part.figures if figure.quantity != part.quantity), None)
    figures = (
        *(Number(names[figure.at], figure.value, figure.quantity, place(figure)) for figure in strengths),
        Number("M_p", at.value, "moisture", place(at))
        if at
        else Number("M_p", INTERSECTION_OTHERWISE, "moisture", "not in wh282 table 5-13, so p. 5-34"),
    )
    return Step(
        f"{part.name}: to its moisture",
        said if unmoved or brought else "S_2 = S_1: it is at 12 %",
        (
            Number("S_1", before, part.quantity),
            Number("M", estimate.moisture, "moisture", "of the stick"),
            *(figures if brought else ()),
        ),
        Number("S_2", before * part.moisture_factor, part.quantity),
        basis=f"at {part.moisture * 100:g} % moisture",
        source="wh282 eq. 5-3, p. 5-34" if brought or unmoved == LEFT_AT_12 else "",
    )


def _grain_step(part: Estimated, estimate: Estimate, before: float) -> Step:
    table = GRAIN_TABLE[estimate.document]
    if estimate.grain == NOT_MEASURED:
        formula = "S = S_2: grain not measured, taken straight"
    elif NO_GRAIN_ROW in part.doubts:
        formula = f"S = S_2: {table} has no reduction of it"
    else:
        formula = "S = S_2 q"
    faces = "" if estimate.grain_measured else estimate.grain
    whole = "straight-grained wood" if estimate.document == HANDBOOK else "the design value"
    return Step(
        f"{part.name}: for slope of grain",
        formula,
        (
            Number("S_2", before, part.quantity),
            Number("slope", estimate.slope, "slope", faces or "both faces together"),
            Number("q", part.grain_factor, "share", f"of {whole}"),
        ),
        Number("S", part.value, part.quantity),
        source=f"{table} alone: one reduction, never two",
    )
