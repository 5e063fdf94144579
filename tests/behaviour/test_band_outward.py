"""No band is shown narrower and no limit better than it is: of groups on sheet and verb, in the working."""

import re
from fractions import Fraction

import pytest
from core_cases import WOODS, demo

from bench import units
from bench.core import break_groups, breaks, working_stick
from bench.core.coupon import BEND, Coupon, LoadPoint
from bench.core.quantities import GRAVITY, INCH, POUND
from bench.core.records import Job, Species, Typed, inches
from bench.core.river import flow
from bench.core.steps import DOWN, UP, Number, Step
from bench.sheets import breaking, working
from bench.units import showing

PSI = float(POUND * GRAVITY / INCH**2)


def newtons(pounds: str) -> Typed:
    return Typed(Fraction(pounds) * POUND * GRAVITY, f"{pounds} lbf")


def coupon(tag: str, species: str, load: str) -> Coupon:
    loads = (("20", "1/32"), ("40", "1/16"), ("60", "3/32"), (load, "1/4"), ("50", "3/8"))
    points = tuple(LoadPoint(newtons(at), inches(bent)) for at, bent in loads)
    return Coupon(tag, BEND, inches("1/2"), inches("1/2"), species=species, span=inches("7"), points=points)


def shown(text: str) -> float:
    return float(text.split()[0].replace(",", ""))


@pytest.mark.parametrize("system", ["in", "mm"])
@pytest.mark.parametrize(
    "loads", [("120", "131.7", "126.3"), ("90", "91.3", "99.1"), ("104", "107", "110.3")]
)
def test_a_sheet_never_shows_a_band_narrower_than_it_is(
    woods: dict[str, Species], loads: tuple[str, ...], system: str
) -> None:
    ash = (coupon(f"A-{n}", "white_ash", load) for n, load in enumerate(loads))
    spruce = (coupon(f"S-{n}", "sitka_spruce", load) for n, load in enumerate(("97", "103.3", "108.9")))
    made = breaks.results(Job("Tansy", coupons=(*ash, *spruce)))
    (found,) = break_groups.comparisons(break_groups.groups(made, "rupture", "wood", woods))
    assert isinstance(found, break_groups.Comparison)
    said = breaking.comparison_lines(found, system)[0]
    low, high = re.search(r"95 % between (.*?) and (.*?) \(t", said).groups()
    unit = PSI if system == "in" else 1e6
    assert shown(low) <= found.welch.low / unit and found.welch.high / unit <= shown(high)


def test_up_and_down_stand_on_both_sides_and_a_round_figure_stays() -> None:
    for value in (1234.56, 0.98765, 16_430.4):
        low, high = (
            units.stress_down(value * PSI, "in", 4),
            showing.show_up("modulus_of_rupture", value * PSI),
        )
        assert shown(low) < value < shown(high)
    assert showing.show_up("modulus_of_rupture", 1250 * PSI) == "1,250 lbf/in2"
    assert showing.show_up("impact_bending_drop", 9.001 * float(INCH)) == "9.01 in"
    assert showing.show_up("impact_bending_drop", 9 * float(INCH)) == "9.00 in"


@pytest.mark.parametrize(
    ("side", "quantity", "value", "shown"),
    [
        (DOWN, "specific_gravity", 0.55996, "0.5599"),
        (UP, "specific_gravity", 0.55992, "0.5600"),
        (DOWN, "modulus_of_rupture", 14_878 * PSI, "14,870 lbf/in2"),
        (UP, "mark", 5.9512, "5.952 marks"),
        (DOWN, "mark", 5.9519, "5.951 marks"),
        (DOWN, "number", 14.878657, "14.8786"),
        (DOWN, "specific_gravity", -0.00012, "-0.0001"),
        ("", "specific_gravity", 0.55996, "0.5600"),
    ],
)
def test_an_edge_in_the_working_is_never_shown_nearer_than_it_is(
    side: str, quantity: str, value: float, shown: str
) -> None:
    step = Step("band", "S", (), Number("edge", value, quantity, side=side))
    assert working.lines((step,))[-1] == f"   -> edge = {shown}"


def test_the_working_of_a_stick_shows_its_edges_outward() -> None:
    """What is written of each edge, read back, lies on its own side of the figure."""
    seen = set()
    for judged in flow(demo().job, WOODS).rack:
        for step in working_stick.of_stick(judged, WOODS[judged.stick.species]):
            for edge in (one for one in (*step.numbers, step.result) if one.side):
                line = working.lines((Step("", "", (), edge),))[-1]
                read = shown(line.partition(" = ")[2])
                value = edge.value / {"mark": 1, "specific_gravity": 1}.get(edge.quantity, PSI)
                if edge.quantity != "work_to_maximum_load":
                    assert read <= value if edge.side == DOWN else read >= value
                    seen.add((edge.symbol, edge.quantity, edge.side))
    assert {("lowest", "specific_gravity", DOWN), ("line", "mark", UP)} <= seen
    assert {("lowest", "modulus_of_rupture", DOWN), ("highest", "modulus_of_rupture", UP)} <= seen
