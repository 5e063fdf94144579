"""The verb `breaks`: drop, bend, slide and compare, what they say of a few coupons, and how they refuse."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.__main__ import main
from bench.headless import verbs

DROP = ("breaks", "drop", "--weight", "2 lb", "--size", "1/2 x 1/2", "--span", "7")
BEND = ("breaks", "bend", "--size", "1/2", "--span", "7")
SLIDE = ("breaks", "slide", "--weight", "2 lb", "--reach", "10", "--size", "1/2")
# Invented strengths, 10^3 lbf/in2.
STRENGTHS = {"spruce": (9.8, 10.4, 9.1, 10.9, 10.1, 9.6), "ash": (14.2, 15.9, 13.8, 15.1, 16.0)}
READINGS = "load,deflection\n0,0\n10,.02\n20,.04\n30,.06\n40,.08\n45,.11\n20,.12\n"


@pytest.fixture(autouse=True)
def bare_names(home: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A data folder of nobody, and files by their bare names."""
    monkeypatch.chdir(tmp_path)
    assert verbs.VERBS["breaks"][0] == "bench.headless.breaks"


def coupons(**groups: tuple[float, ...]) -> str:
    """A file of coupons."""
    rows = [f"{name},{value}" for name, values in groups.items() for value in values]
    return written("coupons.csv", "\n".join(["group,value", *rows]))


def written(name: str, text: str) -> str:
    Path(name).write_text(text, encoding="utf-8")
    return name


# --- drop ----------------------------------------------------------------------------------------------


def test_drop(ask) -> None:
    # By hand: 2 lb from 12 in on 1/2 x 1/2 over 7 in is 24 in-lb, 13.71 in-lb/in3; 10, 11 and 12 in make 66.
    found = ask(*DROP, "--height", "10", "--height", "11", "--height", "12")
    assert found["energy_in_lb"] == pytest.approx(24)
    assert found["energy_per_volume"] == pytest.approx(13.71, abs=0.005)
    assert (found["exposure_in_lb"], found["earlier_in_lb"]) == (pytest.approx(66), pytest.approx(42))
    assert found["rises"] is True and found["corrected_height_in"] == pytest.approx(11.5)
    assert found["warnings"] == [] and "one set-up" in found["basis"]


def test_any_unit_gives_the_same_drop(ask) -> None:
    metric = ("breaks", "drop", "--weight", "907.18474 g", "--size", "12.7 mm", "--span", "177.8 mm")
    found, other = ask(*DROP, "--height", "12"), ask(*metric, "--height", "304.8 mm")
    assert all(other[key] == pytest.approx(value) for key, value in found.items() if isinstance(value, float))


def test_heights_that_do_not_rise_are_said(ask) -> None:
    found = ask(*DROP, "--height", "10", "--height", "12", "--height", "12", "--height", "11")
    said = " ".join(found["warnings"])
    assert found["rises"] is False and found["half_step_in"] is None
    assert "blow 4 is lower" in said and "blow 3 is as high" in said and "no higher than those before" in said
    assert found["exposure_in_lb"] == pytest.approx(90)


def test_blows_with_what_each_did(ask, refused) -> None:
    found = ask(*DROP, "--blows", "10, 12 x2, 14 crack, 15 broken")
    # By hand: the crack at 14 in; 10 + 12 + 12 in before it, 63 in in all.
    assert (found["blow"], found["blows"]) == (4, 5)
    assert found["energy_in_lb"] == pytest.approx(28)
    assert (found["earlier_in_lb"], found["exposure_in_lb"]) == (pytest.approx(68), pytest.approx(126))
    assert ask(*DROP, "--blows", "25,4 cm; 30,5 cm crack")["height_in"] == pytest.approx(30.5 / 2.54)
    assert "no blow cracked it yet" in refused(*DROP, "--blows", "10, 12")
    assert "blow 2 broke the coupon" in refused(*DROP, "--blows", "10, 12 broken, 14")


# --- bend ----------------------------------------------------------------------------------------------


def test_bend(ask) -> None:
    # By hand: 120 lb on 1/2 x 1/2 over 7 in is 10,080 lbf/in2; 400 lbf/in is 548,800, by shear 9.8 % more.
    found = ask(*BEND, "--load", "120", "--slope", "400")
    assert found["rupture_psi"] == pytest.approx(10_080)
    assert found["elasticity_psi"] == pytest.approx(548_800)
    assert found["elasticity_shear_corrected_psi"] == pytest.approx(548_800 * (1 + 1.2 * 16 / 14**2))
    assert found["work_to_maximum_load"] is None and found["span_over_depth"] == pytest.approx(14)
    # wh282 eq. 9-17: 1.1665 of a beam 2 in deep, as a bound.
    assert found["at_standard_size_low_psi"] == pytest.approx(10_080 / 1.1665, rel=1e-4)
    assert found["at_standard_size_high_psi"] == pytest.approx(10_080)
    metric = ask(*BEND, "--load", "533.78659 N", "--slope", "70.050734 N/mm")
    assert metric["elasticity_psi"] == pytest.approx(548_800) and metric["rupture_psi"] == pytest.approx(
        10_080
    )


def test_bend_from_readings(ask) -> None:
    found = ask(*BEND, "--readings", written("r.csv", READINGS))
    assert found["load_lbf"] == pytest.approx(45) and found["limit_load_lbf"] == pytest.approx(40)
    assert found["slope_lbf_per_in"] == pytest.approx(500) and found["straight_readings"] == 5
    # By hand: area 0.1 + 0.3 + 0.5 + 0.7 + 1.275 in-lb over 1.75 in3.
    assert found["work_to_maximum_load"] == pytest.approx(2.875 / 1.75)
    millimetres = "load;deflection\n0;0\n44.482 N;0,508 mm\n88.964 N;1.016 mm\n133.447 N;1.524 mm\n0;2 mm\n"
    assert ask(*BEND, "--readings", written("m.csv", millimetres))["slope_lbf_per_in"] == pytest.approx(
        500, rel=1e-4
    )


def test_readings_that_still_rise_are_no_result(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "rise.csv"
    path.write_text("load,deflection\n25,.01\n50,.02\n75,.03\n", encoding="utf-8")
    assert main([*BEND, "--readings", str(path)]) == 2
    assert "the load still rises" in capsys.readouterr().err


def test_a_short_span_is_said(ask) -> None:
    found = ask("breaks", "bend", "--size", "1", "--span", "10", "--load", "100")
    assert any("below 14 times the depth" in said for said in found["warnings"])


# --- slide ---------------------------------------------------------------------------------------------


def test_slide(ask) -> None:
    # By hand: 2 lb at 10 in, 1/2 x 1/2 in of gravity 0.448: 20.202 in-lb, 969.7 lbf/in2; 960.0 without.
    found = ask(*SLIDE, "--sg", ".448", "--jaw", "1")
    assert found["moment_in_lb"] == pytest.approx(20.202, abs=5e-4)
    assert found["stress_psi"] == pytest.approx(969.7, abs=0.05)
    assert found["stress_without_own_psi"] == pytest.approx(960)
    assert found["stress_low_psi"] < found["stress_psi"] < found["stress_high_psi"]
    bare = ask(*SLIDE)
    assert bare["stress_psi"] == pytest.approx(960) and "own weight is left out" in bare["warnings"][0]


# --- compare -------------------------------------------------------------------------------------------


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


# --- the text form -------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", ["in", "mm"])
@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((*DROP, "--height", "11", "--height", "12"), "eyes covered, fingers"),
        ((*BEND, "--load", "120", "--slope", "400"), "its ends fly"),
        ((*SLIDE, "--sg", ".448"), "feet away from under the weight"),
    ],
    ids=["drop", "bend", "slide"],
)
def test_tables_carry_their_caution(capsys, words, said: str, system: str) -> None:
    assert main([*words, "--working", "--units", system]) == 0
    out = capsys.readouterr().out
    assert said in out and "from memory" in out and "source: " in out


def test_a_lower_limit_is_written_rounded_down(capsys) -> None:
    # Computed with scipy: the limit of the five is 12.5676.
    assert main(["breaks", "compare", coupons(**STRENGTHS), "--working"]) == 0
    out = capsys.readouterr().out
    assert "12.56" in out and "12.57 " not in out and "zero lies outside" in out


# --- refusals ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("breaks",), "one of drop, bend, slide, compare"),
        (("breaks", "bite"), "'bite' is not known"),
        (("breaks", "drop", "--size", "1", "--span", "7", "--height", "1"), "--weight: not given"),
        ((*DROP[:2], "--weight", "0", *DROP[4:], "--height", "12"), "--weight"),
        ((*DROP[:2], "--weight", "-2 lb", *DROP[4:], "--height", "12"), "--weight: '-2 lb' is negative"),
        ((*DROP[:2], "--weight", "2 in", *DROP[4:], "--height", "12"), "which measures a length"),
        (DROP, "--height: not given"),
        ((*DROP, "--height", "12", "--blows", "12"), "--height: both given"),
        ((*DROP, "--height", "-1"), "--height"),
        ((*DROP, "--height", "12", "--height", "0"), "--height"),
        ((*DROP, "--blows", "12 bang"), "--blows"),
        ((*DROP, "--blows", "12, , 13 crack"), "--blows"),
        ((*DROP, "--height", "12", "--reach", "3"), "--reach: belongs to breaks slide, not to breaks drop"),
        ((*DROP, "--height", "12", "--load", "3"), "--load: belongs to breaks bend"),
        (("breaks", "drop", "coupons.csv"), "belongs to breaks compare"),
        (BEND, "--load: not given"),
        ((*BEND, "--load", "-5"), "--load: '-5' is negative"),
        ((*BEND, "--load", "0"), "--load: 0 is not possible"),
        ((*BEND, "--load", "5", "--slope", "0"), "--slope: 0 is not possible"),
        ((*BEND, "--load", "5", "--slope", "-3"), "--slope: '-3' is negative"),
        ((*BEND, "--load", "5", "--slope", "3 psi"), "--slope"),
        ((*BEND[:4], "--span", "1/4", "--load", "5"), "--span: 1/4 is not possible"),
        ((*BEND, "--readings", "none.csv"), "none.csv: cannot be opened"),
        ((*SLIDE[:4], "--reach", "0", "--size", "1"), "--reach"),
        ((*SLIDE, "--sg", "7"), "--sg: 7 is not possible"),
        (("breaks", "compare"), "FILE.csv: not given"),
        (("breaks", "compare", "none.csv"), "none.csv: cannot be opened"),
        (("breaks", "compare", "."), "cannot be opened"),
        (("breaks", "compare", "none.csv", "--to", "12"), "none.csv"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_line(refused, words: tuple[str, ...], says: str) -> None:
    assert says in refused(*words)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0,0\n10,1\n20,2", "column"),
        ("load,deflection\n0,0\n10,1", "3 to 200 pairs"),
        ("load,deflection\n0,0\n10,1\n20,1/2", "reading 3 is less than the one before"),
        ("load,deflection\n0,0\n10,1\n0,2\n5,3", "reading 4 follows failure"),
        ("load,deflection\n0,0\n-10,1\n20,2", "line 3, load"),
        ("load,deflection\n0,0\n10 in,1\n20,2", "line 3, load"),
        ("load,deflection\n0,0\n10,1 lbf\n20,2", "line 3, deflection"),
        ("load,deflection\n0,0\n10,\n20,2", "line 3, deflection"),
        ("load,deflection\n0,0\n0,1\n0,2", "more than zero"),
    ],
)
def test_readings_that_cannot_be_are_refused(refused, text: str, says: str) -> None:
    assert says in refused(*BEND, "--readings", written("r.csv", text))


def test_a_reading_above_the_load_at_failure_is_refused(refused) -> None:
    assert "--load: 40 is not possible" in refused(
        *BEND, "--load", "40", "--readings", written("r.csv", READINGS)
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "there is nothing"),
        ("group,value", "no coupon stands below"),
        ("group,strength\na,1", "strength"),
        ("group,value\na,1\na,x", "line 3, value"),
        ("group,value\na,1\na,0", "line 3, value: '0' is not possible here; a value above zero"),
        ("group,value\na,1\na,-2", "line 3, value"),
        ("group,value\na,1\na,", "line 3, value"),
        ("group,value\na,1\n,2", "line 3, group"),
        ("group,value\na,1\na,5 smoots", "line 3, value"),
        ('group,value\na,1\n"a,2', "line 3"),
        ("group,value,moisture\na,1,12\na,2,250", "line 3, moisture"),
    ],
)
def test_a_table_with_a_fault_is_refused_with_its_line(refused, text: str, says: str) -> None:
    line = refused("breaks", "compare", written("c.csv", text))
    assert "c.csv" in line and says in line


def test_moisture_that_is_missing_or_beyond_the_equation_is_refused_with_its_line(refused) -> None:
    words = ("breaks", "compare", "m.csv", "--property", "modulus_of_rupture", "--species", "sitka_spruce")
    written("m.csv", "group,value,moisture\na,1,12\na,2,\n")
    assert "m.csv, line 3, moisture" in refused(*words)
    written("m.csv", "group,value,moisture\na,1,12\na,2,45\n")
    assert "m.csv, line 3, moisture" in refused(*words)
    written("m.csv", "group,value\na,1\na,2\n")
    assert "no column moisture" in refused(*words)
    assert "belongs to --property" in refused(*words[:3], "--to", "12")


# --- whatever is typed ---------------------------------------------------------------------------------

TYPED = st.sampled_from(
    [
        *(
            "0",
            "-1",
            "1/2",
            "7",
            "12",
            "1e99",
            "1e-99",
            "nan",
            "12.7 mm",
            "3 lb",
            "5 N",
            "2 psi",
            "1/2 x 3/4",
        ),
        *("10, 12 x2, 14 crack", "10 broken, 11", "12 x0", ",", ";", "c.csv", "r.csv", "none.csv", ".", "\0"),
        *("a,b", "a, c", "size", "weight", "modulus_of_rupture", "impact_bending_drop", "sitka_spruce", "-h"),
        *("compare", "drop", "=", "--"),
    ]
) | st.text(max_size=8)
OPTIONS = (
    *("--weight", "--height", "--blows", "--size", "--span", "--load", "--slope", "--readings", "--reach"),
    *("--sg", "--jaw", "--between", "--coupons", "--property", "--species", "--to"),
)
CELLS = st.sampled_from(["a", "b", "1", "2.5", "1e99", "1e-99", "3 in", "4 psi", "", "-1", '"', "x", "12"])
STARTS = [
    (*DROP, "--height", "12"),
    (*BEND, "--load", "120"),
    (*BEND, "--readings", "r.csv"),
    SLIDE,
    ("breaks", "compare", "c.csv"),
]


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(STARTS),
    st.dictionaries(st.sampled_from(OPTIONS), TYPED, max_size=2),
    st.lists(st.tuples(CELLS, CELLS, CELLS), max_size=4),
)
def test_whatever_is_typed_is_answered_or_refused_in_one_line(capsys, words, changes, rows) -> None:
    table = "\n".join(",".join(row) for row in [("group", "value", "moisture"), *rows])
    written("c.csv", table)
    written("r.csv", "load,deflection\n0,0\n" + "\n".join(",".join(row[:2]) for row in rows))
    line = [*words, *(text for pair in changes.items() for text in pair)]
    if "-h" in line:
        return
    status = main([*line, "--json"])
    out, err = capsys.readouterr()
    assert status in (0, 2), err
    if status == 0:
        json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
    else:
        assert out == "" and err.startswith("tenthmark: ") and err.count("\n") == 1


VALUES = st.floats(1e-3, 1e6).map(lambda value: f"{value:.6g}")


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(VALUES, min_size=1, max_size=6), st.lists(VALUES, min_size=1, max_size=6))
def test_whatever_was_measured_is_answered(capsys, one, two) -> None:
    rows = [*(f"a,{value}" for value in one), *(f"b,{value}" for value in two)]
    written("c.csv", "\n".join(["group,value", *rows]))
    assert main(["breaks", "compare", "c.csv", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [group["n"] for group in found["groups"]] == [len(one), len(two)]
    for group in found["groups"]:
        assert (group["lower_limit"] is None) == (group["n"] < 3)
        assert group["lower_limit"] is None or group["lower_limit"] <= group["mean"] * (1 + 1e-12)
