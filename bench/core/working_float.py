"""How a gravity came about: from waterline or balance to the verdict, with what makes it uncertain.

Steps as data, in the order in which a builder follows them with a pencil.
"""

from math import sqrt

from bench.core.acceptance import Verdict
from bench.core.floating import FloatResult
from bench.core.records import FloatReading
from bench.core.spread import Measured
from bench.core.steps import DOWN, UP, Number, Step, place
from bench.core.water import DENSITY_4C
from bench.core.weighing import WeighResult
from bench.core.working_evidence import ON_OVEN_DRY, of_budget, of_verdict


def of_float(reading: FloatReading, result: FloatResult, verdict: Verdict) -> tuple[Step, ...]:
    """The way from the waterline to the verdict.

    Args:
        reading: as taken.
        result: of floating.read.
        verdict: of acceptance; left out where it stands on several readings, see `of_found`.
    Returns:
        Steps in order.
    Source:
        named in each step.
    """
    return (
        *_centreline(reading, result),
        *_uptake(reading, result),
        _share(reading, result),
        _pull(reading, result),
        Step(
            "density over water at 4 C, as it floats",
            "R = (f - p) rho_w / 1000",
            (
                Number("f", result.fraction_zero, "fraction"),
                Number("p", result.meniscus_bias, "fraction"),
                Number("rho_w", result.water_density, "density"),
            ),
            Number("R", result.as_floated, "specific_gravity"),
            basis="mass with its water, volume as it is",
        ),
        *_bases(result),
        *_lines(reading, result, verdict),
        *_judged(result, verdict),
    )


def _centreline(reading: FloatReading, result: FloatResult) -> tuple[Step, ...]:
    marks = reading.marks
    if len(marks) == 1:
        return ()
    formulas = {
        2: "d_0 = (d_1 + d_2) / 2",
        3: "d_0 = (d_1 + d_3) / 2; the face between them shows the lean the other way, 2 (d_2 - d_0)",
        4: "d_0 = (d_1 + d_2 + d_3 + d_4) / 4",
    }
    lean = {
        2: "a = atan(|d_1 - d_2| L / (n w))",
        3: "a = atan(sqrt((d_1 - d_3)^2 + (2 (d_2 - d_0))^2) L / (n w))",
        4: "a = atan(sqrt((d_1 - d_3)^2 + (d_2 - d_4)^2) L / (n w))",
    }
    faces = tuple(Number(f"d_{place}", mark, "mark") for place, mark in enumerate(marks, 1))
    source = "derived: the waterline is a plane, so the depth is linear over the section"
    return (
        Step(
            "centreline of the faces",
            formulas[len(marks)],
            faces,
            Number("d_0", result.centre, "mark"),
            source=source,
        ),
        Step(
            "lean",
            lean[len(marks)],
            (
                *faces,
                Number("L", reading.length.si, "length"),
                Number("n", reading.count, "mark"),
                Number("w", reading.side.si, "length"),
            ),
            Number("a", result.tilt_deg or 0.0, "angle"),
            source=source,
        ),
    )


def _uptake(reading: FloatReading, result: FloatResult) -> tuple[Step, ...]:
    if not reading.timed:
        return ()
    times = [(reading.seconds, reading.marks[0]), *((later.seconds, later.mark) for later in reading.timed)]
    numbers = tuple(
        number
        for place, (seconds, mark) in enumerate(times, 1)
        for number in (
            Number(f"r_{place}", sqrt(seconds), "number", f"root of {seconds:g} s"),
            Number(f"d_{place}", mark, "mark", "first face"),
        )
    )
    source = "derived: least squares; growth with the root of time is capillary flow, from memory"
    start = result.zero_mark - result.centre + reading.marks[0]
    formula = "k = sum (r - mean r)(d - mean d) / sum (r - mean r)^2;  a = mean d - k mean r"
    if result.rises:
        formula = "the stick rises with time, which no uptake of water does: k = 0, a = mean d"
    return (
        Step(
            "first face led back to no time in the water",
            formula,
            (*numbers, Number("k", result.drift, "number", "marks per root second")),
            Number("a", start, "mark"),
            source=source,
        ),
        Step(
            "centreline before any water was drawn in",
            "z = a + d_0 - d_1",
            (
                Number("a", start, "mark"),
                Number("d_0", result.centre, "mark", "as read"),
                Number("d_1", reading.marks[0], "mark"),
            ),
            Number("z", result.zero_mark, "mark"),
        ),
    )


def _share(reading: FloatReading, result: FloatResult) -> Step:
    said = (
        "led back to no time in the water" if reading.timed else f"centreline of {len(reading.marks)} face(s)"
    )
    return Step(
        "submerged share",
        "f = d / n",
        (Number("d", result.zero_mark, "mark", said), Number("n", reading.count, "mark")),
        Number("f", result.fraction_zero, "fraction"),
    )


def _pull(reading: FloatReading, result: FloatResult) -> Step:
    if result.angle_deg is None:
        bias = Number("p", result.meniscus_bias, "fraction", "the whole pull stands in the band")
        return Step("pull of the water surface", "no correction asked for: p = 0", (), bias)
    return Step(
        "pull of the water surface",
        "p = 4 sigma cos(theta) / (rho_w g w L)",
        (
            Number("sigma", result.surface_tension, "surface_tension", "iapws1994"),
            Number("theta", result.angle_deg, "angle"),
            Number("rho_w", result.water_density, "density", "tanaka2001"),
            Number("w", reading.side.si, "length"),
            Number("L", reading.length.si, "length"),
        ),
        Number("p", result.meniscus_bias, "fraction"),
        source="derived: vertical force of the meniscus on the stick's edges",
    )


def of_weigh(
    mass_kg: float, size_m: tuple[float, float, float], result: WeighResult, verdict: Verdict
) -> tuple[Step, ...]:
    """The way from mass and size to the verdict.

    Args:
        mass_kg: of the stick [kg].
        size_m: width, depth, length [m].
        result: of weighing.weigh.
        verdict: of acceptance; left out where it stands on float readings.
    Returns:
        Steps in order.
    Source:
        named in each step.
    """
    first = Step(
        "density over water at 4 C, as it is",
        "R = m / (w d L) / 1000",
        (
            Number("m", mass_kg, "mass"),
            Number("w", size_m[0], "length"),
            Number("d", size_m[1], "length"),
            Number("L", size_m[2], "length"),
        ),
        Number("R", result.as_floated, "specific_gravity"),
        basis="mass with its water, volume as it is",
    )
    return (first, *_bases(result), *_judged(result, verdict))


def _judged(result: Measured, verdict: Verdict) -> tuple[Step, ...]:
    """The verdict where it is on this very gravity; on several readings see working_evidence.of_found."""
    return of_verdict(verdict) if verdict.value == result.sg_oven_dry else ()


def _bases(result: Measured) -> tuple[Step, ...]:
    moisture = Number("M", result.moisture, "moisture")
    shrinkage = Number("S_0", result.shrinkage, "moisture", f"green to oven-dry, {result.shrinkage_from}")
    at_moisture = Number("G_M", result.sg_at_moisture, "specific_gravity")
    return (
        Step(
            "without its water",
            "G_M = R / (1 + M)",
            (Number("R", result.as_floated, "specific_gravity"), moisture),
            at_moisture,
            basis="oven-dry mass, volume at its moisture",
            source="wh282 p. 4-10",
        ),
        Step(
            "on the basis of the aircraft limits",
            "G_0 = G_M (1 - S_M) / (1 - S_0),  S_M = S_0 (1 - M / 0.30)",
            (at_moisture, moisture, shrinkage),
            Number("G_0", result.sg_oven_dry, "specific_gravity"),
            basis=ON_OVEN_DRY,
            source="wh282 eq. 4-9, 4-10; anc19 sec. 2.20, 2.414",
        ),
        Step(
            "on the basis of the handbook's 12 % row",
            "G_12 = G_M (1 - S_M) / (1 - S_12),  S_12 = S_0 (1 - 0.12 / 0.30)",
            (at_moisture, moisture, shrinkage),
            Number("G_12", result.sg_12, "specific_gravity"),
            basis="oven-dry mass, volume at 12 %",
            source="wh282 eq. 4-9, 4-10",
        ),
        *of_budget(result),
    )


def _lines(reading: FloatReading, result: FloatResult, verdict: Verdict) -> tuple[Step, ...]:
    """Where the limits stand on this stick, today."""
    to_moisture = (1 - result.shrinkage) / (1 - result.shrinkage * max(0.0, 1 - result.moisture / 0.30))
    steps = []
    for name, figure, side in (("minimum", verdict.minimum, UP), ("maximum", verdict.maximum, DOWN)):
        if figure is None:
            continue
        floats = figure.value * to_moisture * (1 + result.moisture) * DENSITY_4C / result.water_density
        steps.append(
            Step(
                f"{name} line on this stick",
                "line = n (G (1 - S_0) / (1 - S_M) (1 + M) 1000 / rho_w + p),  S_M = S_0 (1 - M / 0.30)",
                (
                    Number("n", reading.count, "mark"),
                    Number("G", figure.value, "specific_gravity", name),
                    Number("S_0", result.shrinkage, "moisture", result.shrinkage_from),
                    Number("M", result.moisture, "moisture"),
                    Number("rho_w", result.water_density, "density"),
                    Number("p", result.meniscus_bias, "fraction"),
                ),
                Number("line", reading.count * (floats + result.meniscus_bias), "mark", side=side),
                basis=f"limit: {ON_OVEN_DRY}; line: this stick, its moisture and bath",
                source=f"{place(figure)}; wh282 eq. 4-9, 4-10",
            )
        )
    return tuple(steps)
