"""The INVENTED coupons of the invented job: none was ever broken."""

from collections.abc import Iterator
from fractions import Fraction

from bench.core.coupon import BEND, BROKEN, CRACK, DROP, GLUE, NOTHING, SLIDE, Blow, Coupon, LoadPoint
from bench.core.edits import Edit, PutCoupon
from bench.core.quantities import GRAVITY, POUND
from bench.core.typed import Typed, inches

_DAY = "2026-04-02"
_MOIST = Typed(Fraction(95, 1000), "9.5 %")
# tag, stick or species, side, mass [g] of 8 in, height of the first crack [in], did one blow more break it
_DROPS = (
    ("D-01", "A-01", ".410", "14.1", 14, True),
    ("D-02", "A-03", ".410", "13.9", 12, False),
    ("D-03", "A-07", ".410", "14.2", 15, True),
    ("D-04", "A-15", ".410", "14.0", 13, False),
    ("D-05", "sitka_spruce", ".500", "14.1", 9, True),
    ("D-06", "sitka_spruce", ".500", "13.9", 8, True),
    ("D-07", "sitka_spruce", ".500", "14.0", 10, False),
    ("D-08", "sitka_spruce", ".500", "14.2", 9, False),
)
# tag, stick, greatest load [lbf], deflection there [in], share of the load to which it is straight
_BENDS = (
    ("E-01", "A-01", 214, 0.27, 0.55),
    ("E-02", "A-03", 206, 0.25, 0.60),
    ("E-03", "A-05", 221, 0.28, 0.55),
    ("E-04", "A-07", 226, 0.27, 0.60),
    ("E-05", "A-15", 209, 0.26, 0.50),
)


def coupons() -> Iterator[Edit]:
    """The edits that put the invented coupons into the job.

    Returns:
        One for each, its blows and readings in it.
    """
    for tag, wood, side, grams, crack, broke in _DROPS:
        blows = [Blow(inches(str(height)), NOTHING) for height in range(1, crack)]
        blows.append(Blow(inches(str(crack)), CRACK))
        if broke:
            blows.append(Blow(inches(str(crack + 1)), BROKEN))
        yield PutCoupon(
            _coupon(tag, DROP, wood, side, grams, span=inches("7"), weight=_pounds("2"), blows=tuple(blows))
        )
    yield PutCoupon(_coupon("D-09", DROP, "A-16", ".410", "14.0", span=inches("7"), weight=_pounds("2")))
    for tag, stick, load, bend, straight in _BENDS:
        yield PutCoupon(
            _coupon(tag, BEND, stick, ".500", "21.0", span=inches("7"), points=_curve(load, bend, straight))
        )
    for tag, stick, reach in (("S-01", "A-01", "14 1/2"), ("S-02", "A-03", "13 3/4")):
        yield PutCoupon(
            _coupon(
                *(tag, SLIDE, stick, ".410", "35.0"),
                length=inches("20"),
                weight=_pounds("10"),
                reach=_spaced(reach),
                jaw=inches("2"),
            )
        )
    for tag, load, one, two in (("G-01", 1650, 85, 80), ("G-02", 1580, 70, 0)):
        yield PutCoupon(
            _coupon(
                *(tag, GLUE, "white_ash", "1", "40.0"),
                load=_lbf(load),
                glued=inches("1"),
                fibre_one=_percent(one),
                fibre_two=_percent(two),
            )
        )


def _coupon(tag: str, test: str, wood: str, side: str, grams: str, **more: object) -> Coupon:
    stick, species = (wood, "") if wood[1] == "-" else ("", wood)
    mass = Typed(Fraction(grams) / 1000, f"{grams} g")
    fields: dict[str, object] = {
        "moisture": _MOIST,
        "mass": mass,
        "length": inches("8"),
        "taken": _DAY,
        **more,
    }
    return Coupon(tag, test, inches(side), inches(side), stick=stick, species=species, **fields)  # type: ignore[arg-type]


def _curve(load: int, bend: float, straight: float) -> tuple[LoadPoint, ...]:
    """Twelve readings: straight at first, then bent over to the greatest load, one after it."""
    points = []
    steep = 1.35 * load / bend  # of the straight part [lbf/in]
    for number in range(1, 12):
        at = bend * number / 11
        line = steep * at
        limit = straight * load
        if line > limit:
            far = (at - limit / steep) / (bend - limit / steep)
            line = limit + (load - limit) * (1 - (1 - far) ** 2)
        points.append(LoadPoint(_lbf(round(line)), _bend(at)))
    return (*points, LoadPoint(_lbf(round(load * 0.7)), _bend(bend * 1.08)))


def _bend(at: float) -> Typed:
    return inches(f"{at:.3f}")


def _spaced(text: str) -> Typed:
    whole, part = text.split()
    return Typed(inches(whole).exact + inches(part).exact, f"{text} in")


def _pounds(text: str) -> Typed:
    return Typed(Fraction(text) * POUND, f"{text} lb")


def _lbf(load: int) -> Typed:
    return Typed(load * POUND * GRAVITY, f"{load} lbf")


def _percent(share: int) -> Typed:
    return Typed(Fraction(share, 100), f"{share} %")
