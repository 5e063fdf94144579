"""The working of one coupon test, and of coupons together."""

from collections.abc import Sequence

from bench.core.bending_test import Bending
from bench.core.break_groups import Comparison, Group
from bench.core.breaking import DropTest
from bench.core.breaks import FIGURES, Glued, Result
from bench.core.errors import Refusal
from bench.core.slide_out import SlideOut
from bench.core.steps import DOWN, Number, Step

RECORD = "record1914"
LIMIT = "5th percentile at 75 % confidence"
_LIMIT_FORMULA = "mean - k s;  k = t'(0.75; n - 1, 1.645 sqrt(n)) / sqrt(n), t' of the noncentral law"
_WELCH_FORMULA = "difference +- t(0.975; df) sqrt(s_1^2/n_1 + s_2^2/n_2)"
LIMIT_SOURCE = "derived; standard tables of k from memory"
WELCH_SOURCE = "Welch's approximation, from memory"


def of_drop(found: DropTest, mass: float, width: float, depth: float, span: float) -> tuple[Step, ...]:
    """Energy of the blow that cracked a coupon.

    Args:
        found: of breaking.drop_test.
        mass: of the weight [kg].
        width: of the coupon [m].
        depth: along the blow [m].
        span: between the supports [m].
    Returns:
        The energy, and over the volume.
    Source:
        as breaking.drop_test.
    """
    height, energy = Number("H", found.height_m, "length"), Number("U", found.energy, "energy")
    return (
        Step(
            "energy of the blow that cracked it",
            "U = W H",
            (Number("W", mass, "mass"), height),
            energy,
            source=RECORD,
        ),
        Step(
            "over the volume between the supports",
            "u = U / (b d L)",
            (energy, *_lengths(b=width, d=depth, L=span)),
            Number("u", found.energy_per_volume, "work_to_maximum_load"),
            basis="compared within one set-up only",
            source=RECORD,
        ),
    )


def of_bending(found: Bending, width: float, depth: float, span: float) -> tuple[Step, ...]:
    """Strength and stiffness of a bent coupon.

    Args:
        found: of bending_test.bending_test.
        width: of the coupon [m].
        depth: upright [m].
        span: between the supports [m].
    Returns:
        The strength; the stiffness as tested and without shear where it was read.
    Source:
        as bending_test.bending_test.
    """
    sizes = _lengths(b=width, d=depth, L=span)
    strength = Step(
        "modulus of rupture",
        "R = 1.5 P L / (b d^2)",
        (Number("P", found.load_n, "force"), *sizes),
        Number("R", found.rupture, "modulus_of_rupture"),
        source=RECORD,
    )
    if found.slope is None or found.elasticity is None or found.elasticity_corrected is None:
        return (strength,)
    elastic = Number("E", found.elasticity, "modulus_of_elasticity")
    return (
        strength,
        Step(
            "modulus of elasticity as tested",
            "E = (P / delta) L^3 / (4 b d^3)",
            (Number("P / delta", found.slope, "force_per_length"), *sizes),
            elastic,
            source=RECORD,
        ),
        Step(
            "with the deflection by shear taken out",
            "E_c = E (1 + 1.2 (E / G) (d / L)^2),  E / G = 16",
            (elastic, *sizes[1:]),
            Number("E_c", found.elasticity_corrected, "modulus_of_elasticity"),
            source="derived; E / G wh190 eq. 9-9 text",
        ),
    )


def of_slide(
    found: SlideOut, mass: float, reach: float, own: float, width: float, depth: float
) -> tuple[Step, ...]:
    """Stress at the clamp of a stick that broke under a weight slid out.

    Args:
        found: of slide_out.slide_out.
        mass: of the weight [kg].
        reach: from the clamp to it [m].
        own: mass of the stick over its length; 0 where it is left out [kg/m].
        width: of the stick [m].
        depth: upright [m].
    Returns:
        Moment and stress.
    Source:
        derived, as slide_out.slide_out.
    """
    moment = Number("M", found.moment, "moment")
    weights = (Number("W", mass, "mass"), Number("x", reach, "length"), Number("w", own, "weight_per_length"))
    return (
        Step("moment at the clamp", "M = W x + w x^2 / 2", weights, moment, source="derived"),
        Step(
            "stress at the clamp",
            "f = 6 M / (b d^2)",
            (moment, *_lengths(b=width, d=depth)),
            Number("f", found.stress, "modulus_of_rupture"),
            source="derived",
        ),
    )


def of_result(found: Result) -> tuple[Step, ...]:
    """The working of one coupon of a job.

    Args:
        found: of breaks.result.
    Returns:
        Its steps; empty where there is nothing with a number yet.
    Source:
        as of the tests.
    """
    coupon, detail = found.coupon, found.detail
    width, depth = coupon.width.si, coupon.depth.si
    span, mass = (0.0 if typed is None else typed.si for typed in (coupon.span, coupon.weight))
    if isinstance(detail, DropTest):
        return (*of_drop(detail, mass, width, depth, span), *_of_elastic(found, width, depth, span))
    if isinstance(detail, Bending):
        return of_bending(detail, width, depth, span)
    if isinstance(detail, SlideOut):
        reach = 0.0 if coupon.reach is None else coupon.reach.si
        return of_slide(detail, mass, reach, found.per_length or 0.0, width, depth)
    return _of_glue(found, detail) if isinstance(detail, Glued) else ()


def _of_elastic(found: Result, width: float, depth: float, span: float) -> tuple[Step, ...]:
    coupon, detail = found.coupon, found.detail
    if found.elastic is None or coupon.deflection is None or not isinstance(detail, DropTest):
        return ()
    stress, stiffness = found.elastic
    weight = 0.0 if coupon.weight is None else coupon.weight.si
    fall = max(blow.height.si for blow in coupon.blows[: detail.blow - 1])
    bent, reached = coupon.deflection.si, Number("f", stress, "modulus_of_rupture")
    return (
        Step(
            "bending stress under the highest blow it took whole",
            "f = 3 W (H + D) L / (D b d^2)",
            (Number("W", weight, "mass"), *_lengths(H=fall, D=bent, b=width, d=depth, L=span)),
            reached,
            basis="if it sprang back wholly",
            source=RECORD,
        ),
        Step(
            "stiffness by the same blow",
            "E = f L^2 / (6 D d)",
            (reached, *_lengths(D=bent, d=depth, L=span)),
            Number("E", stiffness, "modulus_of_elasticity"),
            basis="if it sprang back wholly",
            source=RECORD,
        ),
    )


def _of_glue(found: Result, joint: Glued) -> tuple[Step, ...]:
    coupon = found.coupon
    if joint.stress is None or joint.along is None or coupon.load is None:
        return ()
    load, stress = Number("P", coupon.load.si, "force"), Number("f", joint.stress, "shear_parallel")
    if coupon.pull == "shear":
        glued = 0.0 if coupon.glued is None else coupon.glued.si
        sizes = _lengths(b=coupon.width.si, l=glued)
        return (Step("stress on the glue line", "f = P / (b l)", (load, *sizes), stress, source="derived"),)
    sizes = _lengths(b=coupon.width.si, d=coupon.depth.si)
    formula = "f = P / (b d)"
    if coupon.pull == "bending":
        formula = "f = 1.5 P L / (b d^2)"
        sizes = (*sizes, *_lengths(L=0.0 if coupon.span is None else coupon.span.si))
    run = 0.0 if coupon.scarf is None else 1 / coupon.scarf.si
    return (
        Step("stress beside the scarf", formula, (load, *sizes), stress, source="derived"),
        Step(
            "shear along the glue of the scarf",
            "f s / (1 + s^2)",
            (stress, Number("s", run, "number")),
            Number("along", joint.along, "shear_parallel"),
            source="derived",
        ),
    )


def of_groups(
    groups: Sequence[Group], pairs: Sequence[Comparison | tuple[Group, Group, Refusal]]
) -> tuple[Step, ...]:
    """The working of groups of coupons and their comparisons.

    Args:
        groups: of break_groups.groups.
        pairs: of break_groups.comparisons.
    Returns:
        The lower limit of each group that has one, then each comparison.
    Source:
        as samples.lower_limit and samples.welch.
    """
    steps = []
    for group in groups:
        limit, quantity = group.limit, FIGURES[group.figure][1]
        if not isinstance(limit, Refusal):
            values = (group.mean, group.deviation or 0.0, limit.value)
            mean, spread, value = (Number("", number, quantity) for number in values)
            steps.append(limit_step(group.name, limit.count, limit.factor, mean, spread, value))
    for pair in pairs:
        if isinstance(pair, Comparison):
            quantity, welch = FIGURES[pair.first.figure][1], pair.welch
            numbers = (welch.error, welch.low, welch.high, welch.difference)
            error, low, high, difference = (Number("", number, quantity) for number in numbers)
            names = (pair.first.name, pair.second.name)
            steps.append(welch_step(*names, welch.t, welch.df, error, low, high, difference))
    return tuple(steps)


def limit_step(name: str, count: int, factor: float, mean: Number, spread: Number, value: Number) -> Step:
    """The step from mean and spread of a group to its lower limit.

    Args:
        name: of the group.
        count: of coupons.
        factor: k [1].
        mean: in any quantity.
        spread: standard deviation, the same quantity.
        value: the limit, the same quantity.
    Returns:
        The step; the symbols of the numbers are set here.
    Source:
        as samples.lower_limit.
    """
    return Step(
        f"lower limit of {name}",
        _LIMIT_FORMULA,
        (
            Number("n", float(count), "number"),
            Number("mean", mean.value, mean.quantity),
            Number("s", spread.value, spread.quantity),
            Number("k", factor, "number"),
        ),
        Number("limit", value.value, value.quantity, side=DOWN),
        basis=LIMIT,
        source=LIMIT_SOURCE,
    )


def welch_step(
    first: str,
    second: str,
    t: float,
    df: float,
    error: Number,
    low: Number,
    high: Number,
    difference: Number,
) -> Step:
    """The step from two groups to the interval of their difference.

    Args:
        first: name of one group.
        second: of the other.
        t: Welch's t [1].
        df: degrees of freedom [1].
        error: standard error of the difference, in any quantity.
        low: of the interval, the same quantity.
        high: the same.
        difference: first less second, the same.
    Returns:
        The step; the symbols of the numbers are set here.
    Source:
        as samples.welch.
    """
    named = (("standard error", error), ("low", low), ("high", high))
    return Step(
        f"{first} against {second}",
        _WELCH_FORMULA,
        (
            *(Number(symbol, number.value, number.quantity) for symbol, number in named),
            Number("t", t, "number"),
            Number("df", df, "number"),
        ),
        Number("difference", difference.value, difference.quantity),
        source=WELCH_SOURCE,
    )


def _lengths(**lengths: float) -> tuple[Number, ...]:
    return tuple(Number(symbol, value, "length") for symbol, value in lengths.items())
