"""The verbs `float` and `weigh` in full: later waterlines, a second method, budget, advice, the table."""

from collections.abc import Callable
from typing import Any

import pytest

pytestmark = pytest.mark.usefixtures("home")
FLOAT = ("float", "--species", "sitka_spruce", "--side", "1/2", "--mark", "4.5", "--moisture", "12")
FIR = ("float", "--species", "douglas_fir_coast", "--side", "1/2", "--moisture", "12", "--variant", "class L")
Run = Callable[..., tuple[int, str, str]]
Ask = Callable[..., dict[str, Any]]


@pytest.mark.parametrize("faces", [1, 2, 3, 4])
def test_one_to_four_faces(ask: Ask, faces: int) -> None:
    found = ask(*FLOAT, *["--mark", "4.5"] * (faces - 1))
    assert found["fraction"] == found["fraction_zero"] == pytest.approx(0.45)
    assert (found["tilt_deg"] is None) == (faces == 1)


def test_three_faces_stand_on_the_first_and_the_third(ask: Ask) -> None:
    assert ask(*FLOAT, "--mark", "4.45", "--mark", "4.3")["fraction"] == pytest.approx(0.44)


def test_later_waterlines_lead_back(ask: Ask, run: Run) -> None:
    """Marks on 4.4 + 0.01 sqrt(t): roots of 100 s, 400 s and 15 min."""
    found = ask(*FLOAT, "--in-water", "100", "--later", "400=4.6; 15 min = 4.7")
    assert found["fraction"] == pytest.approx(0.45)
    assert found["fraction_zero"] == pytest.approx(0.44)
    assert found["drift"] == pytest.approx(0.01)
    assert "soaking" not in {each["cause"] for each in found["budget"]}
    table = run(*FLOAT, "--in-water", "100", "--later", "400=4.6; 15 min = 4.7")[1]
    assert "led back to no time in the water" in table and "0.4400" in table


@pytest.mark.parametrize(
    ("later", "says"),
    [
        ("60", "'60' is no pair; time=mark pairs like 60=6.9; 4 min=7.05 would be read"),
        ("60=11", "the stick has 10 marks"),
        ("30=4.6", "it must be later than the first, 30 s"),
        ("60=4.6; 60=4.7", "one mark for each time"),
        ("soon=4.6", "'soon'"),
        ("60=high", "'high'"),
        ("60=4.6;", "'' is no pair"),
        (";".join(f"{at}=4.6" for at in range(31, 52)), "20 of them is the most"),
    ],
)
def test_later_waterlines_that_cannot_be(run: Run, later: str, says: str) -> None:
    status, out, err = run(*FLOAT, "--later", later)
    assert (status, out) == (2, "")
    assert err.startswith("tenthmark: --later: ") and says in err and err.count("\n") == 1


def test_budget_and_advice(ask: Ask) -> None:
    found = ask(*FLOAT)
    shares = [each["share_of_variance"] for each in found["budget"]]
    assert sum(shares) == pytest.approx(1) and shares == sorted(shares, reverse=True)
    assert sum(each["standard_deviation"] ** 2 for each in found["budget"]) == pytest.approx(
        found["uncertainty"] ** 2
    )
    half = (found["high"] - found["low"]) / 2
    assert [each["half_width_before"] for each in found["advice"]] == pytest.approx(
        [half] * len(found["advice"])
    )
    four = next(each for each in found["advice"] if each["advice"] == "four_faces")
    read = ask(*FLOAT, *["--mark", "4.5"] * 3)
    assert four["half_width_after"] == pytest.approx((read["high"] - read["low"]) / 2)


def test_the_stick_on_the_balance(ask: Ask, run: Run) -> None:
    """Derived: a half-inch stick of 5 in that floats at R weighs R times its volume of water of 4 C."""
    assert ask(*FLOAT)["agreement"] is None
    grams = ask(*FLOAT)["as_floated"] * 1.27 * 1.27 * 12.7
    same = ask(*FLOAT, "--weigh", f"{grams:.9f} g")
    assert same["agreement"]["agree"] and same["agreement"]["difference"] == pytest.approx(0, abs=1e-9)
    assert same["verdict"] == "accept"
    other = ask(*FLOAT, "--weigh", f"{grams * 1.2:.9f} g")
    assert not other["agreement"]["agree"] and other["verdict"] == "hold"
    assert "differ by more than their errors" in other["reasons"][0]
    double = ask(*FLOAT, "--weigh", f"{grams * 2:.9f} g", "--weigh-size", "1/2 x 1/2 x 10")
    assert double["agreement"]["weighed_sg_oven_dry"] == pytest.approx(same["sg_oven_dry"])
    assert "by weight and size" in run(*FLOAT, "--weigh", f"{grams:.9f} g")[1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--weigh-size", "1/2 x 1/2 x 5"), "--weigh-size: only goes with --weigh"),
        (("--weigh", "9 kg"), "--weigh: 9 kg is not possible here; no wood is denser"),
        (("--weigh", "9 g", "--weigh-size", "1/2"), "--weigh-size"),
    ],
)
def test_a_weighing_that_cannot_be(run: Run, words: tuple[str, ...], says: str) -> None:
    status, out, err = run(*FLOAT, *words)
    assert (status, out) == (2, "") and err.startswith(f"tenthmark: {says}")


def test_the_table_of_the_minimum_line(ask: Ask, run: Run) -> None:
    assert "minimum_table" not in ask(*FLOAT)
    found = ask(*FLOAT, "--table")
    rows = found["minimum_table"]
    assert [row["moisture_percent"] for row in rows] == list(range(6, 17))
    at_12 = next(row for row in rows if row["moisture_percent"] == 12)
    for key in ("minimum_mark", "average_mark", "maximum_mark"):
        assert at_12[key] == found[key]
    page = run(*FLOAT, "--table")[1]
    assert "Where the limits stand" in page and "16.0 %" in page and "anc19 Table 2-13" in page


def test_a_class_with_a_maximum_end_to_end(ask: Ask) -> None:
    """0.38 to 0.47: anc19 table 2-13."""
    middle = ask(*FIR, *["--mark", "4.6"] * 4)
    assert middle["verdict"] == "accept"
    assert middle["margin"] == pytest.approx(middle["sg_oven_dry"] - 0.38)
    assert middle["margin_maximum"] == pytest.approx(0.47 - middle["sg_oven_dry"])
    at_most = f"{middle['maximum_mark']:.9f}"
    held = ask(*FIR, *["--mark", at_most] * 4)
    assert held["sg_oven_dry"] == pytest.approx(0.47)
    assert held["verdict"] == "hold" and "the limit 0.470 lies within" in held["reasons"][0]
    assert ask(*FIR, *["--mark", "5.6"] * 4)["verdict"] == "reject"
    assert ask(*FIR, *["--mark", "3.6"] * 4)["verdict"] == "reject"


def test_percentile_is_an_estimate_with_its_basis(ask: Ask) -> None:
    found = ask(*FLOAT)
    assert 50 < found["percentile"] < 100  # 0.413 against the average of 0.40
    assert "ESTIMATE" in found["percentile_basis"]
    size = ("--size", "1/2 x 1/2 x 5", "--moisture", "12")
    ash = ask("weigh", "--species", "white_ash", "--mass", "13 g", *size)
    assert 0 < ash["percentile"] < 100 and "of the trade" in ash["percentile_basis"]
    assert {each["cause"] for each in ash["budget"]} >= {"mass", "width", "length"}
    assert ask("weigh", "--species", "balsa", "--mass", "3 g", *size)["percentile"] is None


def test_a_recalled_or_missing_average_is_said(ask: Ask) -> None:
    hemlock = ask("float", "--species", "western_hemlock", *FLOAT[3:])
    assert hemlock["average"] is None and hemlock["average_mark_estimated"] is True
    assert hemlock["average_mark"] > hemlock["minimum_mark"]
    assert ask(*FLOAT)["average_mark_estimated"] is False


def test_a_hold_says_what_would_settle_it(ask: Ask) -> None:
    words = list(FLOAT)
    words[words.index("4.5")] = "4.05"
    found = ask(*words)
    assert found["verdict"] == "hold"
    half, margin = (found["high"] - found["low"]) / 2, found["margin"]
    said = found["reasons"][0]
    assert f"+/- must fall from {half + 0.0005:.3f} to {margin - 0.0005:.3f}" in said
    assert found["advice"][0]["text"] in said


def test_the_working_goes_from_waterline_to_percentile(run: Run) -> None:
    out = run(*FLOAT, "--mark", "4.4", "--mark", "4.4", "--later", "90=4.6", "--weigh", "9 g", "--working")[1]
    for title in (
        "centreline of the faces",
        "first face led back to no time in the water",
        "what the uncertainty is made of",
        "minimum line on this stick",
        "float test against weight and size",
        "place in the species, an ESTIMATE",
    ):
        assert f". {title}\n" in out, title
