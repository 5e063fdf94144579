"""The section by coupons: few of them never raise a figure above the book, and each is in the report.

Sizes and loads are invented; the arithmetic beside each is by hand, the laws are those of scipy.
"""

from dataclasses import replace
from statistics import mean, stdev

import pytest
from scipy import stats

from bench.core import breaks, coupon_wood, strength
from bench.core.coupon import LoadPoint
from bench.core.edits import ChooseSection, PutCoupon, PutStick, RemoveCoupon
from bench.core.errors import Clash, Missing, OutOfRange
from bench.core.records import SectionChoice, Species, Stick
from bench.core.river import flow
from bench.core.typed import inches
from bench.sheets import break_sheet, sections, writing_text
from tests.tools.coupons import LOADS, PSI, bend, drop, job, lbf


def test_figures_of_coupons_by_hand(woods: dict[str, Species]) -> None:
    """84 x load, over the size effect 1.1667 of 1/2 on 7 in, then the low end of Student's interval."""
    coupons = [bend(f"E-{n}", load) for n, load in enumerate(LOADS)]
    found = coupon_wood.of_group(
        breaks.results(job(*coupons)), woods["white_ash"], "wood", "white ash", woods
    )
    values = [84 * load / (56 / 3.5) ** (1 / 18) * PSI for load in LOADS]
    (figure,) = found.figures
    assert figure.values == pytest.approx(values)
    low, _ = stats.t.interval(0.95, 4, mean(values), stdev(values) / 5**0.5)
    assert figure.value == pytest.approx(low)
    factor = stats.nct.ppf(0.75, 4, stats.norm.ppf(0.95) * 5**0.5) / 5**0.5
    assert figure.limit == pytest.approx(mean(values) - factor * stdev(values))
    wood = coupon_wood.with_coupons(strength.of(woods["white_ash"]), found)
    assert wood.get("bending") == figure.value and wood.get("tension") <= figure.value
    # Bending is taken below the book, and every strength that was not measured is lowered with it.
    book = strength.of(woods["white_ash"])
    assert found.lowered == pytest.approx(figure.value / book.get("bending")) and found.lowered < 1
    assert wood.get("compression") == pytest.approx(book.get("compression") * found.lowered)


def test_few_coupons_never_raise_a_figure_above_the_book(woods: dict[str, Species]) -> None:
    ash, book = woods["white_ash"], strength.of(woods["white_ash"]).get("bending")
    strong = [bend(f"E-{n}", 1.5 * load) for n, load in enumerate(LOADS)]
    few = coupon_wood.of_group(breaks.results(job(*strong)), ash, "wood", "white ash", woods)
    assert few.figures[0].value == book < few.figures[0].low and few.lowered == 1
    sticks = [PutStick(Stick(f"A-{n}", "white_ash", *[inches("20")] * 3)) for n in (2, 3)]
    many = job()
    for edit in sticks:
        many = edit.apply(many)
    for n in range(10):
        one = bend(f"E-{n}", 1.5 * LOADS[n % 5] + n, species="", stick=f"A-{n % 3 + 1}")
        many = PutCoupon(one).apply(many)
    found = coupon_wood.of_group(breaks.results(many), ash, "wood", "white ash", woods)
    assert found.figures[0].value == found.figures[0].low > book


def test_each_figure_needs_coupons_of_its_own_to_rise_above_the_book(woods: dict[str, Species]) -> None:
    """Ten bent of three sticks, but the stiffness read on three of one stick alone."""
    history = job()
    for n in (2, 3):
        history = PutStick(Stick(f"A-{n}", "white_ash", *[inches("20")] * 3)).apply(history)
    for n in range(10):
        one = bend(f"E-{n}", 1.5 * LOADS[n % 5] + n, species="", stick=f"A-{n % 3 + 1}")
        if n % 3 == 0 and n < 9:
            steep = 2000 + 10 * n
            points = tuple(LoadPoint(lbf(load), inches(f"{load / steep:.6f}")) for load in (25, 50, 75, 100))
            one = replace(one, points=points)
        history = PutCoupon(one).apply(history)
    ash = woods["white_ash"]
    found = coupon_wood.of_group(breaks.results(history), ash, "wood", "white ash", woods)
    bent, stiff = found.figures
    book = strength.of(ash)
    assert bent.value > book.get("bending") and stiff.count == 3
    assert stiff.value == book.get("stiffness") < stiff.low


def test_what_is_no_sample_carries_no_section(woods: dict[str, Species]) -> None:
    ash = woods["white_ash"]
    alike = breaks.results(job(*(bend(f"E-{n}", 180) for n in range(4))))
    with pytest.raises(OutOfRange, match="no sample"):
        coupon_wood.of_group(alike, ash, "wood", "white ash", woods)
    coupons = breaks.results(job(*(bend(f"E-{n}", load) for n, load in enumerate(LOADS))))
    for by, name in (
        ("lot", "no lot"),
        ("group", "no group"),
        ("moisture", "12 %"),
        ("size", "1/2 in x 1/2 in"),
    ):
        with pytest.raises(Missing, match="no sample of a wood"):
            coupon_wood.of_group(coupons, ash, by, name, woods)


def test_a_coupon_the_section_rests_on_is_set_aside_not_taken_out() -> None:
    choice = SectionChoice(use="white_ash", gravity="coupons", coupons="white ash")
    resting = job(bend("E-1", 180), section=choice)
    with pytest.raises(Clash, match="set it aside"):
        RemoveCoupon("E-1").apply(resting)


def test_too_few_coupons_carry_no_section(woods: dict[str, Species]) -> None:
    choice = SectionChoice(use="white_ash", gravity="coupons", coupons_by="wood", coupons="white ash")
    few = job(*(bend(f"E-{n}", 180 + n) for n in range(2)), section=choice)
    river = flow(few, woods)
    assert isinstance(river.section.refusal, Missing) and "2 bending tests" in str(river.section.refusal)
    enough = job(*(bend(f"E-{n}", load) for n, load in enumerate(LOADS)), section=choice)
    view = flow(enough, woods).section
    assert view.refusal is None and view.coupons is not None
    said = " ".join(sections.of_coupons(view, "in"))
    assert "5 coupons" in said and "lower 5 % limit" in said
    assert "5 coupons" in sections.in_brief(view)


def test_another_coupon_moves_the_section_at_once(woods: dict[str, Species]) -> None:
    choice = SectionChoice(
        use="white_ash", gravity="coupons", coupons_by="wood", coupons="white ash", match="bending"
    )
    now = job(*(bend(f"E-{n}", load) for n, load in enumerate(LOADS)), section=choice)
    first = flow(now, woods)
    weaker = PutCoupon(bend("E-9", 90)).apply(now)
    second = flow(weaker, woods, previous=first)
    assert second.section.resized.shop[0] > first.section.resized.shop[0]
    assert second.section.resized == flow(weaker, woods).section.resized


def test_a_section_that_rests_on_coupons_is_recorded(woods: dict[str, Species]) -> None:
    choice = SectionChoice(use="white_ash", gravity="coupons", coupons="lot 1", coupons_by="lot")
    assert ChooseSection(choice).apply(job()).section == choice


def test_the_report_holds_every_coupon(woods: dict[str, Species]) -> None:
    coupons = [*(drop(f"D-{n}", 9 + n) for n in range(3)), *(bend(f"E-{n}", x) for n, x in enumerate(LOADS))]
    text = writing_text.write(break_sheet.sheet(job(*coupons), woods))
    assert all(coupon.tag in text for coupon in coupons)
    assert "INVENTED" in text and "CAUTION" in text and "beside the book" in text
