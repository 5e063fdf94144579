"""The verb `breaks compare`: groups of a few coupons, their limits, units and moisture."""

import pytest

from bench.__main__ import main
from tests.tools import coupon_files
from tests.tools.coupon_files import written

bare_names = coupon_files.bare_names

# Invented strengths, 10^3 lbf/in2.
STRENGTHS = {"spruce": (9.8, 10.4, 9.1, 10.9, 10.1, 9.6), "ash": (14.2, 15.9, 13.8, 15.1, 16.0)}


def coupons(**groups: tuple[float, ...]) -> str:
    """A file of coupons."""
    rows = [f"{name},{value}" for name, values in groups.items() for value in values]
    return written("coupons.csv", "\n".join(["group,value", *rows]))


def test_compare_two_groups(ask) -> None:
    # Computed with scipy: k6 2.3356 -> 8.510; t -9.814, df 6.574, p 3.6e-5, band -6.241 to -3.792.
    found = ask("breaks", "compare", coupons(**STRENGTHS))
    spruce, ash = found["groups"]
    assert (spruce["group"], spruce["n"], ash["group"], ash["n"]) == ("spruce", 6, "ash", 5)
    assert spruce["mean"] == pytest.approx(9.983, abs=5e-4) and spruce["sd"] == pytest.approx(
        0.6306, abs=5e-5
    )
    assert spruce["cov"] == pytest.approx(0.06317, abs=5e-6)
    assert spruce["lower_limit"] == pytest.approx(8.510, abs=5e-4)
    assert found["difference"] == pytest.approx(-5.017, abs=5e-4)
    assert (found["t"], found["df"]) == (pytest.approx(-9.814, abs=5e-4), pytest.approx(6.574, abs=5e-4))
    assert found["p"] == pytest.approx(3.6e-5, abs=5e-7) and found["settled"] is True
    assert (found["low"], found["high"]) == (
        pytest.approx(-6.241, abs=5e-4),
        pytest.approx(-3.792, abs=5e-4),
    )
    assert any("--coupons" in said for said in found["warnings"])
    assert "equal weight" in ask("breaks", "compare", "coupons.csv", "--coupons", "weight")["basis"]


def test_a_single_coupon_has_no_limit_and_nothing_is_lost(ask) -> None:
    found = ask("breaks", "compare", coupons(ash=(14.2,), spruce=(9.8, 10.4)))
    ash, spruce = found["groups"]
    assert (ash["n"], ash["mean"], ash["sd"], ash["lower_limit"]) == (1, 14.2, None, None)
    assert spruce["sd"] is not None and spruce["lower_limit"] is None
    assert found["difference"] == pytest.approx(4.1) and found["p"] is None
    said = " ".join(found["warnings"])
    assert "ash: no lower limit, as one coupon was broken and 3 and more are needed" in said
    assert "no comparison: a comparison needs two and more in each group" in said


def test_coupons_all_alike_are_not_compared(ask) -> None:
    found = ask("breaks", "compare", coupons(one=(5, 5, 5), two=(6, 6, 6)))
    assert found["groups"][0]["lower_limit"] == 5 and found["t"] is None
    assert any("without spread" in said for said in found["warnings"])


def test_a_limit_below_zero_is_said(ask) -> None:
    found = ask("breaks", "compare", coupons(one=(1, 2, 3)))
    assert found["groups"][0]["lower_limit"] == pytest.approx(-1.1518, abs=5e-5)
    assert any("below zero" in said for said in found["warnings"]) and "difference" not in found


def test_more_groups_and_two_named(ask, refused) -> None:
    path = coupons(a=(1, 2, 3), b=(4, 5, 6), c=(7, 8, 9))
    assert "difference" not in ask("breaks", "compare", path)
    named = ask("breaks", "compare", path, "--between", "C, a")
    assert named["compared"] == ["c", "a"] and named["difference"] == pytest.approx(6)
    assert "two of a, b, c" in refused("breaks", "compare", path, "--between", "a, d")


def test_units_of_one_kind_are_brought_together_and_others_refused(ask, refused) -> None:
    mixed = "group,value\na,24 in\na,609.6 mm\na,2'\na,26\"\n"
    found = ask("breaks", "compare", written("u.csv", mixed))
    assert found["unit"] == "in" and found["groups"][0]["mean"] == pytest.approx(24.5)
    assert any("several units" in said for said in found["warnings"])
    stress = ask(
        "breaks", "compare", written("s.csv", "group,value\na,10080 psi\na,69.5 MPa\na,1e4 lbf/in2\n")
    )
    assert stress["unit"] == "psi" and stress["groups"][0]["n"] == 3
    # 69.5 MPa over 6,894.757 Pa is 10,080.1 lbf/in2.
    assert stress["groups"][0]["mean"] == pytest.approx((10_080 + 69.5e6 / 6894.757 + 10_000) / 3, rel=1e-7)
    for second, says in (("24 lbf", "is a load, and line 2 has a length"), ("24", "a number without a unit")):
        line = refused("breaks", "compare", written("w.csv", f"group,value\na,24 in\na,{second}\n"))
        assert "w.csv, line 3, value" in line and says in line


MOIST = "group,value,moisture\ndry,10200,12\ndry,11023,10\nwet,9079,15\nwet,9079,15\nwet,9079,15\n"


def test_moisture_is_brought_to_one_value(ask, refused) -> None:
    # wh282 eq. 5-3, Sitka spruce 10,200 at 12 percent: 11,023 at 10 and 9,079 at 15, to 2 lbf/in2.
    path = written("m.csv", MOIST)
    words = ("breaks", "compare", path, "--species", "sitka_spruce", "--property")
    found = ask(*words, "modulus_of_rupture")
    assert [group["mean"] for group in found["groups"]] == [pytest.approx(10_200, abs=2)] * 2
    assert "at 12.0 % moisture" in found["basis"]
    assert ask(*words, "modulus_of_rupture", "--to", "15")["groups"][1]["mean"] == pytest.approx(9079)
    left = ask("breaks", "compare", path)
    assert left["groups"][1]["mean"] == pytest.approx(9079)
    assert any("differ in moisture (11.0 %, 15.0 %)" in said for said in left["warnings"])
    for quantity in ("work_to_maximum_load", "impact_bending_drop"):
        assert "eq. 5-3 does not hold" in refused(*words, quantity)
    assert "--species: not given" in refused(*words[:3], "--property", "modulus_of_rupture")
    assert "sitka_spruce" in refused(
        *words[:3], "--property", "modulus_of_rupture", "--species", "sitka_spruse"
    )
    two = ask(*words[:3], "--property", "modulus_of_rupture", "--species", "sitka_spruce, white_ash")
    assert two["groups"][0]["mean"] == pytest.approx(10_200, abs=2) != two["groups"][1]["mean"]


def test_a_lower_limit_is_written_rounded_down(capsys) -> None:
    # Computed with scipy: the limit of the five is 12.5676.
    assert main(["breaks", "compare", coupons(**STRENGTHS), "--working"]) == 0
    out = capsys.readouterr().out
    assert "12.56" in out and "12.57 " not in out and "zero lies outside" in out
