"""The order in words and as a file: figures rounded up, the working, whose it is."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import WOODS, typed
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import buying, working_buying
from bench.core.river import flow
from bench.sheets import buying as sentences
from bench.sheets import working
from tests.tools.orders import ash_job, bought, offer, part


@pytest.mark.parametrize("width", [30, 58, 78])
@pytest.mark.parametrize("system", ["in", "mm"])
def test_no_line_is_wider_than_asked(width: int, system: str) -> None:
    rack = ash_job(6.6, 5.0).job
    job = replace(
        rack,
        parts=(
            *rack.parts,
            part("b", "200", 3),
            replace(part("c", "40"), minimum_sg=typed("0.40"), critical=True),
        ),
        offers=(*rack.offers, offer("8 ft", "96", "6", "1")),
    )
    found = sentences.lines(buying.order(flow(job, WOODS)), system, width)
    assert found and max(map(len, found)) <= width
    joined = " ".join(" ".join(found).split())
    for wanted in ("NOT GIVEN: 3 x b", "ORDER 1 plank of 8 ft", "critical", "least G 0.40", "Altogether"):
        assert wanted in joined


def test_figures_are_rounded_up_never_down() -> None:
    assert [sentences.feet(Fraction(amount)) for amount in ("5", "5001/1000", "5.1")] == ["5.0", "5.1", "5.1"]
    assert [sentences.money(Fraction(amount)) for amount in ("7", "7.0001", "1234.56")] == [
        "7.00", "7.01", "1,234.56",
    ]  # fmt: skip
    assert sentences.money(None) == "--"


@settings(max_examples=50, deadline=None)
@given(amount=st.fractions(0, 10_000))
def test_what_is_printed_is_never_less_and_never_a_step_more(amount: Fraction) -> None:
    feet, money = Fraction(sentences.feet(amount)), Fraction(sentences.money(amount).replace(",", ""))
    assert amount <= feet < amount + Fraction(1, 10)
    assert amount <= money < amount + Fraction(1, 100)


def test_the_working_can_be_followed() -> None:
    """Board feet and cost in the working are those of the order, and the allowance names both chances."""
    order = buying.order(ash_job(6.6, 6.6, 6.6, 5.0, quantity=4))
    (found,) = order.purchases
    steps = working_buying.of_order(order)
    by_title = {step.title: step for step in steps}
    assert by_title["board feet of ash 8 ft"].result.value == float(found.board_feet)
    assert by_title["cost of ash 8 ft"].result.value == float(found.cost or 0)
    allowance = by_title["allowance for rejects"]
    fewer, enough = (number.value for number in allowance.numbers[2:])
    assert fewer < 0.9 <= enough
    assert allowance.result.value == bought(found)["ash 8 ft"]
    assert "common practice, no source" in "\n".join(working.lines(steps))


def test_the_file_says_whose_it_is_and_that_it_is_invented() -> None:
    made = ash_job()
    written = sentences.sheet(buying.order(made), replace(made.job, invented=True))
    assert written.startswith("Tansy: what to order  (INVENTED: nothing here was measured)\n")
    assert max(map(len, written.splitlines())) <= sentences.WIDTH
    assert "\n\n\n" not in written and written.endswith("\n")
