"""The Breaks, Test and Groups screens by keys alone."""

from fractions import Fraction

from bench.core.coupon import BEND, DROP, Coupon
from bench.core.edits import PutCoupon, StartJob
from bench.core.records import Species
from bench.core.typed import Typed, inches
from tests.tools.at_the_saw import stick
from tests.tools.coupons import LOADS, bend, drop
from tests.tools.driving import (
    Notebook,
    feed,
    lines,
    picture,
    press,
    ready,
    settled,
    shows,
    type_line,
    until,
)

SET_UP = {"span": inches("7"), "weight": Typed(Fraction(9, 10), "900 g")}


def book(*coupons: Coupon) -> Notebook:
    return Notebook(StartJob("Tansy"), *stick("S-1", "60"), *(PutCoupon(coupon) for coupon in coupons))


async def test_a_stepped_drop_test_is_logged_with_one_key_a_blow(woods: dict[str, Species]) -> None:
    app = book(Coupon("D-1", DROP, inches("1/2"), inches("1/2"), stick="S-1", **SET_UP)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "b", "v")
        assert "blow 1 from 1 in" in picture(app)
        keys = [*["space"] * 10, "k", "space", "j"]
        feed(app, *keys)
        await until(pilot, lambda: len(app.bench.job.coupon("D-1").blows) == len(keys), "a key a blow")
        await settled(pilot)
        coupon = app.bench.job.coupon("D-1")
        assert [blow.height.text for blow in coupon.blows] == [f"{n} in" for n in range(1, 14)]
        assert [blow.seen for blow in coupon.blows[-3:]] == ["crack", "nothing", "broken"]
        assert "height of the cracking blow 11.00 in" in picture(app)
        await press(pilot, "space")
        assert "it is broken" in picture(app) and len(app.bench.job.coupon("D-1").blows) == 13
        await press(pilot, "u")
        assert len(app.bench.job.coupon("D-1").blows) == 12, "the last blow is taken back"


async def test_a_blow_again_from_lower_and_from_a_height_typed(woods: dict[str, Species]) -> None:
    app = book(Coupon("D-1", DROP, inches("1/2"), inches("1/2"), **SET_UP)).open(woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        await press(pilot, "b", "v", "space", "down", "space")
        await press(pilot, "1", "2", "enter", "space", "asterisk", "slash")
        blows = app.bench.job.coupon("D-1").blows
        assert [blow.height.text for blow in blows] == ["1 in", "1 in", "12 in", "23 in", "34 in"]
        assert [blow.seen for blow in blows] == ["nothing"] * 3 + ["crack", "broken"]
        await press(pilot, "u", "0", "enter")
        assert "more than zero is wanted" in picture(app), "the line stays to be mended"


async def test_load_and_deflection_in_pairs_from_the_number_pad(woods: dict[str, Species]) -> None:
    app = book(Coupon("E-1", BEND, inches("1/2"), inches("1/2"), span=inches("7"))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "b", "v")
        loads = (25, 50, 75, 100, 115, 120)
        for load in loads:
            await type_line(pilot, str(load))
            await type_line(pilot, f".{load + (load > 100) * 10:03d}")
        points = app.bench.job.coupon("E-1").points
        assert [point.load.text for point in points] == [f"{load} lbf" for load in loads]
        assert "the load still rises" in picture(app), "it is no result before the end"
        await type_line(pilot, "0")
        await type_line(pilot, ".131")
        text = picture(app)
        # R = 84 x 120 lbf; the six readings and the greatest are on the curve.
        assert "10,080 lbf/in2" in text and "pair 7: " in text
        assert sum(row.count("o") for row in lines(app) if " |" in row) >= 4 and "M" in text
        await press(pilot, "minus", "5", "enter")
        assert "-5" in picture(app) and "load" in picture(app), "refused, and still there to be mended"
        await press(pilot, "escape")
        assert len(app.bench.job.coupon("E-1").points) == 7


async def test_a_coupon_is_entered_changed_and_taken_out(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "b", "a")
        for text in ("D-1", "dr", "S-1", "1/2", ".500"):
            await type_line(pilot, text)
        coupon = app.bench.job.coupon("D-1")
        assert (coupon.test, coupon.stick, coupon.depth.text) == ("drop", "S-1", ".500 in")
        await press(pilot, *["right"] * 6, "enter")
        await type_line(pilot, "0")
        assert "span" in lines(app)[-2] or "above zero" in picture(app)
        feed(app, "ctrl+u")
        await type_line(pilot, "7")
        await press(pilot, "right", "right", "enter")
        await type_line(pilot, "1 to 5, 8 to 12 by 2")
        coupon = app.bench.job.coupon("D-1")
        assert [height.text for height in coupon.steps][:6] == [
            "1 in",
            "2 in",
            "3 in",
            "4 in",
            "5 in",
            "8 in",
        ]
        await press(pilot, "k")
        assert app.bench.job.coupon("D-2").steps == coupon.steps
        await press(pilot, "d")
        assert app.bench.job.coupon("D-2") is None


async def test_what_is_worked_out_is_not_typed(woods: dict[str, Species]) -> None:
    app = book(bend("E-1", 150)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "b", *["right"] * 5, "enter")
        assert "it is worked out, not typed" in picture(app)


async def test_groups_are_compared_and_one_carries_the_section(woods: dict[str, Species]) -> None:
    drops = [drop(f"D-{n}", 9 + n % 3, species="white_ash") for n in range(3)]
    spruce = [drop(f"S-{n}", 6 + n % 2, species="sitka_spruce") for n in range(3)]
    app = book(*drops, *spruce, *(bend(f"E-{n}", load) for n, load in enumerate(LOADS))).open(woods)
    async with app.run_test(size=(160, 45)) as pilot:
        await ready(pilot)
        await press(pilot, "b", "v", "v")
        text = picture(app)
        assert "white ash less Sitka spruce" in text and "EQUAL SIZE" in text
        assert "not to be converted" in text, "the handbook's drop stands beside it"
        await press(pilot, "a")
        assert "only bending tests can carry a section" in picture(app)
        await press(pilot, "right", "right")
        assert "beside the book" in picture(app)
        await press(pilot, "a")
        await until(pilot, shows(app, "rests on coupons of white ash"), "said")
        assert app.bench.job.section.gravity == "coupons"
        await press(pilot, "s")
        await until(pilot, shows(app, "rests on 5 coupons of white ash"), "the limit is on the pane")
        assert "lower 5 %" in picture(app)


async def test_a_handful_of_coupons_is_refused_with_the_reason(woods: dict[str, Species]) -> None:
    app = book(*(bend(f"E-{n}", load) for n, load in enumerate(LOADS[:2]))).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "b", "v", "v", "a")
        assert "2 bending tests of white ash, 3 are needed" in picture(app)
        assert app.bench.job.section.gravity == "handbook"
        await press(pilot, "v")
        assert "BREAKS" in picture(app)
