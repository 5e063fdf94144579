"""What stands beside a gravity: its error budget, the limits, readings together, the balance, the species.

Steps as data, as in `working_float`, which puts the way to the gravity before them.
"""

from math import sqrt

from bench.core.acceptance import Found, Verdict, settling
from bench.core.evidence import Standing, budget
from bench.core.repeats import Agreement, Repeats, random_part
from bench.core.spread import TWO_SIDED_95, Measured
from bench.core.steps import DOWN, UP, Number, Step, place

ON_OVEN_DRY = "oven-dry mass, oven-dry volume"


def of_found(found: Found, standing: Standing | None = None) -> tuple[Step, ...]:
    """What stands beside one reading: the readings together, the balance, the place in the species.

    Args:
        found: of acceptance.judge_stick.
        standing: of evidence.standing, None where the species has no average.
    Returns:
        Steps in order; the verdict at the end where several readings were combined.
    Source:
        named in each step.
    """
    steps: list[Step] = []
    several = found.repeats is not None and len(found.repeats.results) > 1
    if found.repeats is not None and several:
        steps += [*_repeats(found.repeats), *of_budget(found.repeats.combined)]
    if found.agreement is not None:
        steps.append(_agreement(found.agreement))
    if standing is not None:
        steps.append(of_standing(standing))
    return (*steps, *(of_verdict(found.verdict) if several else ()))


def of_budget(result: Measured) -> tuple[Step, ...]:
    """What the uncertainty of a gravity is made of, and the band it gives.

    Args:
        result: of a measurement, or of several combined.
    Returns:
        Two steps.
    Source:
        named in each step.
    """
    causes = budget(result)
    return (
        Step(
            "what the uncertainty is made of",
            "u = square root of the sum of the squares",
            tuple(
                Number(
                    cause.name, cause.sd, "specific_gravity", f"{cause.share_of_variance * 100:.1f} % of u^2"
                )
                for cause in causes
            ),
            Number("u", result.uncertainty, "specific_gravity", "one standard deviation"),
            basis=ON_OVEN_DRY,
            source="our estimates of each cause; derived: independent errors",
        ),
        Step(
            "95 percent band of G_0",
            "G_0 +/- 1.96 u",
            (
                Number("G_0", result.sg_oven_dry, "specific_gravity"),
                Number("u", result.uncertainty, "specific_gravity"),
            ),
            Number("lowest", result.low, "specific_gravity", side=DOWN),
            basis=ON_OVEN_DRY,
            source="derived: normal law",
        ),
    )


def of_verdict(verdict: Verdict) -> tuple[Step, ...]:
    """A gravity held against the limits, and what would settle a hold.

    Args:
        verdict: of acceptance.judge.
    Returns:
        A step for each limit; none where nothing was measured.
    Source:
        named in each step.
    """
    if verdict.value is None or verdict.low is None or verdict.high is None:
        return ()
    value = Number("G_0", verdict.value, "specific_gravity")
    band = (
        Number("lowest", verdict.low, "specific_gravity", side=DOWN),
        Number("highest", verdict.high, "specific_gravity", side=UP),
    )
    steps = []
    if verdict.minimum is not None and verdict.margin is not None:
        steps.append(
            Step(
                "against the minimum",
                "margin = G_0 - minimum; ACCEPT if the lowest is not below it, REJECT if the highest is",
                (value, *band, Number("minimum", verdict.minimum.value, "specific_gravity")),
                Number("margin", verdict.margin, "specific_gravity"),
                basis=ON_OVEN_DRY,
                source=place(verdict.minimum),
            )
        )
    if verdict.maximum is not None and verdict.margin_maximum is not None:
        steps.append(
            Step(
                "against the maximum",
                "margin = maximum - G_0; ACCEPT if the highest is not above it, REJECT if the lowest is",
                (value, *band, Number("maximum", verdict.maximum.value, "specific_gravity")),
                Number("margin", verdict.margin_maximum, "specific_gravity"),
                basis=ON_OVEN_DRY,
                source=place(verdict.maximum),
            )
        )
    return (*steps, *_settling(verdict))


def _settling(verdict: Verdict) -> tuple[Step, ...]:
    found = settling(verdict)
    if found is None or verdict.value is None:
        return ()
    return (
        Step(
            "what would settle it",
            f"{found.word.upper()} at a +/- of no more than |G_0 - limit|",
            (
                Number("G_0", verdict.value, "specific_gravity"),
                Number("limit", found.limit.value, "specific_gravity"),
                Number("+/- now", found.half_width, "specific_gravity", "1.96 u"),
            ),
            Number("+/- wanted", found.needed, "specific_gravity"),
            basis=ON_OVEN_DRY,
            source=place(found.limit),
        ),
    )


def _repeats(repeats: Repeats) -> tuple[Step, ...]:
    results, combined = repeats.results, repeats.combined
    values = tuple(
        Number(f"G_{place}", result.sg_oven_dry, "specific_gravity", "apart from the others" if odd else "")
        for place, (result, odd) in enumerate(zip(results, repeats.flagged, strict=True), 1)
    )
    random = random_part(combined)
    formula = "u = sqrt(random^2 + common^2); random = root of the sum of squares of the readings' own / n"
    if len(results) > 2:
        formula += ", no less than spread / sqrt(n)"
    return (
        Step(
            "readings together",
            "mean of the readings that count; none is dropped",
            values,
            Number("G_0", repeats.mean, "specific_gravity", f"n = {len(results)}"),
            basis=ON_OVEN_DRY,
        ),
        Step(
            "uncertainty of the readings together",
            formula,
            (
                Number("spread", repeats.spread or 0.0, "specific_gravity", "sample standard deviation"),
                Number("random", random, "specific_gravity", "reading, faces, lean or spread"),
                Number("common", sqrt(max(0.0, combined.uncertainty**2 - random**2)), "specific_gravity"),
            ),
            Number("u", combined.uncertainty, "specific_gravity"),
            basis=ON_OVEN_DRY,
            source="derived: independent errors average out, common ones do not",
        ),
    )


def _agreement(agreement: Agreement) -> Step:
    return Step(
        "float test against weight and size",
        "agree where |difference| <= 1.96 u, u from what the two do not share",
        (
            Number("float", agreement.floated, "specific_gravity"),
            Number("balance", agreement.weighed, "specific_gravity"),
            Number(
                "u", agreement.uncertainty, "specific_gravity", f"without {' and '.join(agreement.shared)}"
            ),
            Number("1.96 u", TWO_SIDED_95 * agreement.uncertainty, "specific_gravity"),
        ),
        Number(
            "difference", agreement.difference, "specific_gravity", "agree" if agreement.agree else "DISAGREE"
        ),
        basis=ON_OVEN_DRY,
        source="derived: independent errors",
    )


def of_standing(standing: Standing) -> Step:
    """The place of a gravity in its species.

    Args:
        standing: of evidence.standing.
    Returns:
        One step.
    Source:
        named in the step.
    """
    return Step(
        "place in the species, an ESTIMATE",
        "z = (G - average) / (cov average); percentile by the normal law",
        (
            Number("G", standing.value, "specific_gravity"),
            Number("average", standing.average.value, "specific_gravity"),
            Number("cov", standing.cov, "moisture", "coefficient of variation"),
            Number("z", standing.z, "number"),
        ),
        Number("percentile", standing.percentile, "number", "percent of the species is lighter"),
        basis=f"oven-dry mass on {standing.basis} volume, both",
        source=f"{place(standing.average)}; cov: wh282 table 5-6, wh190 p. 4-9",
    )
