"""A job in the middle of its work, and edits of it; every one invented."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from core_cases import after, part, stick, typed

from bench.core.coupon import BROKEN, NOTHING, Blow, Coupon
from bench.core.edits import MarkCut, PutCoupon, PutPart, PutStick, StartJob, Strike
from bench.core.records import CutMade, Defect, Weighing, inches

INCH = Fraction(254, 10_000)


def cut(name: str, tag: str, start: int, end: int) -> MarkCut:
    """A piece between two whole inches."""
    return MarkCut(CutMade(name, tag, start * INCH, end * INCH))


def with_defect(start: str, end: str, **more: Any) -> PutStick:
    """A new stick of 72 in with one defect [in]."""
    return PutStick(replace(stick("Z"), defects=(Defect(inches(start), inches(end), **more),)))


def weighing(mass: str, moisture: str = "0.1") -> Weighing:
    """Half an inch square and five long [kg]."""
    half = inches("1/2")
    return Weighing(typed(mass), half, half, inches("5"), typed(moisture))


def coupon(tag: str, test: str = "drop", **more) -> Coupon:
    return Coupon(tag, test, **{"width": inches("1/2"), "depth": inches("1/2"), **more})


JOB = after(
    [
        StartJob("invented", "2026-01-02"),
        PutStick(stick("A", 6.8)),
        PutStick(stick("B")),
        PutPart(part("rib", "20", 3)),
        PutPart(part("strut", "30", 1)),
        cut("rib", "A", 0, 20),
        cut("rib", "A", 21, 41),
        PutCoupon(coupon("D-1", stick="B")),
        Strike("D-1", Blow(inches("1"), NOTHING)),
        Strike("D-1", Blow(inches("2"), BROKEN)),
        PutCoupon(coupon("D-2")),
        PutCoupon(coupon("E-1", "bend")),
    ]
)
