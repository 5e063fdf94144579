"""Invented coupons, and a job with them."""

from dataclasses import replace
from fractions import Fraction

from bench.core.coupon import BEND, CRACK, DROP, NOTHING, Blow, Coupon
from bench.core.edits import PutCoupon, PutStick, StartJob
from bench.core.history import EMPTY
from bench.core.quantities import DATA_UNITS, GRAVITY, POUND
from bench.core.records import Job, Stick
from bench.core.typed import Typed, inches
from tests.tools.sticks import DRY

PSI = float(DATA_UNITS["lbf/in2"][1])
LBF = POUND * GRAVITY


def lbf(load: float) -> Typed:
    return Typed(Fraction(load) * LBF, f"{load} lbf")


def pounds(mass: str) -> Typed:
    return Typed(Fraction(mass) * POUND, f"{mass} lb")


def drop(tag: str, crack: int, side: str = "1/2", **more: object) -> Coupon:
    blows = tuple(Blow(inches(str(height)), NOTHING) for height in range(1, crack))
    blows += (Blow(inches(str(crack)), CRACK),)
    fields = {"span": inches("7"), "weight": pounds("2"), "moisture": DRY, "blows": blows, **more}
    return Coupon(tag, DROP, inches(side), inches(side), **fields)


def bend(tag: str, load: float, **more: object) -> Coupon:
    """Half an inch square on 7 in: R = 1.5 x load x 7 / (1/8) = 84 load, in lbf/in2."""
    fields = {"span": inches("7"), "load": lbf(load), "moisture": DRY, "species": "white_ash", **more}
    return Coupon(tag, BEND, inches("1/2"), inches("1/2"), **fields)


def job(*coupons: Coupon, **more: object) -> Job:
    history = EMPTY.accept(StartJob("Tansy", invented=True))
    history = history.accept(
        PutStick(Stick("A-1", "white_ash", inches("96"), inches("1"), inches("1"), DRY, lot="L7"))
    )
    for coupon in coupons:
        history = history.accept(PutCoupon(coupon))
    return replace(history.job, **more)


LOADS = (176.0, 184.0, 171.0, 190.0, 180.0)
