"""A coupon that does not reach over its span, or from the jaw to the weight, is refused; older jobs open."""

import pytest
from core_cases import after

from bench.core.coupon import BEND, BENDING, DROP, GLUE, SLIDE, Coupon
from bench.core.edits import PutCoupon, StartJob
from bench.core.errors import OutOfRange
from bench.core.history import EDIT, EMPTY, Entry
from bench.core.records import Species, inches
from tests.tools.driving import Notebook, feed, picture, press, settled, spell, until

JOB = after([StartJob("Tansy")])


def coupon(test: str, **more: object) -> Coupon:
    side = inches("1/2")
    return Coupon("C-1", test, side, side, species="white_ash", length=inches("8"), **more)


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        (coupon(BEND, span=inches("8.1")), "span"),
        (coupon(DROP, span=inches("9")), "span"),
        (coupon(GLUE, pull=BENDING, span=inches("9")), "span"),
        (coupon(SLIDE, reach=inches("9")), "reach"),
        (coupon(SLIDE, reach=inches("7"), jaw=inches("2")), "reach"),
    ],
)
def test_a_coupon_that_is_too_short_for_its_test_is_refused(bad: Coupon, field: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        PutCoupon(bad).apply(JOB)
    said = str(refused.value)
    assert said.startswith(f"{field}: ") and "8 in long" in said and f"look at {field} and length" in said


@pytest.mark.parametrize(
    "good",
    [
        coupon(BEND, span=inches("8")),
        coupon(SLIDE, reach=inches("6"), jaw=inches("2")),
        coupon(GLUE, span=inches("9")),  # a lap in shear has no span to speak of
        coupon(SLIDE, span=inches("9")),
        Coupon("C-1", BEND, inches("1/2"), inches("1/2"), span=inches("28")),  # never weighed
    ],
)
def test_one_that_is_long_enough_is_taken(good: Coupon) -> None:
    assert PutCoupon(good).apply(JOB).coupon("C-1") == good


def test_a_job_of_before_with_such_a_coupon_is_read() -> None:
    bad = coupon(BEND, span=inches("9"))
    history = EMPTY.accept(StartJob("Tansy")).follow(Entry(EDIT, PutCoupon(bad)))
    assert history.job.coupons == (bad,)


async def test_the_list_of_coupons_says_why(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), PutCoupon(coupon(BEND, span=inches("7")))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.bench is not None and app.bench.river is not None, "the bench")
        await settled(pilot)
        await press(pilot, "b")
        grid = app.focused
        names = [column.name for column in grid.columns()]
        await press(pilot, *["right"] * names.index("span"))
        spell(app, "10")
        feed(app, "enter")
        await settled(pilot)
        assert "span: 10 in is not possible here; the coupon is 8 in long" in " ".join(picture(app).split())
        assert app.bench.job.coupon("C-1").span.text == "7 in"
