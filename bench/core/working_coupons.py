"""The working of figures that were measured on coupons."""

from bench.core.coupon_wood import CouponWood, Measured
from bench.core.samples import CONFIDENCE, SHARE, deviation, tolerance_factor
from bench.core.steps import DOWN, Number, Step
from bench.core.strength import STRENGTHS

_BASIS = "12 % moisture; as in the handbook's test: 2 in deep, span of 14 depths"
_FORMULA = {
    "bending": "R = R_12 / size effect of the coupon where that is above 1",
    "stiffness": "E = E_12 (1 + 19.2 (d/L)^2) / (1 + 19.2 / 14^2), never above E_12",
}
_SOURCE = {
    "bending": "wh282 eq. 5-3, 9-17",
    "stiffness": "wh282 eq. 5-3; shear: derived, E/G 16 wh190 eq. 9-9 text",
}


def of_coupons(measured: CouponWood) -> tuple[Step, ...]:
    """How the figures of a group of coupons came about.

    Args:
        measured: of coupon_wood.of_group.
    Returns:
        For each figure the coupons, the mean's low end and the lower limit.
    Source:
        samples.mean_interval, samples.lower_limit.
    """
    return tuple(step for figure in measured.figures for step in _of_figure(measured, figure))


def _of_figure(measured: CouponWood, figure: Measured) -> tuple[Step, ...]:
    quantity, spread = STRENGTHS[figure.name], deviation(figure.values)
    each = tuple(
        Number(f"{figure.name[0].upper()}_{number}", value, quantity, f"{value / tested:.3f} of as tested")
        for number, (value, tested) in enumerate(zip(figure.values, figure.as_tested, strict=True), 1)
    )
    mean = Number("mean", figure.mean, quantity)
    factor = tolerance_factor(figure.count)
    told = f"{SHARE:.0%} of pieces lie above it, at {CONFIDENCE:.0%} confidence"
    return (
        Step(
            f"{figure.name} of the coupons of {measured.group}",
            _FORMULA[figure.name],
            each,
            mean,
            _BASIS,
            _SOURCE[figure.name],
        ),
        Step(
            f"{figure.name} the section rests on",
            "low end of mean +- t s / sqrt(n), 95 %; the book's average where that is less and n under 10",
            (
                mean,
                Number("s", spread, quantity),
                Number("n", figure.count, "count"),
                Number("low", figure.low, quantity, side=DOWN),
            ),
            Number("taken", figure.value, quantity, side=DOWN),
            _BASIS,
            "Student's t law",
        ),
        Step(
            f"{figure.name}: lower limit",
            "mean - k s",
            (mean, Number("k", factor, "fraction"), Number("s", spread, quantity)),
            Number("limit", figure.limit, quantity, told, DOWN),
            _BASIS,
            "noncentral t law",
        ),
    )
