"""The verb `breaks`: drop, bend and slide, what they say, and how every form of it refuses."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.__main__ import main
from tests.tools import coupon_files
from tests.tools.coupon_files import written
from tests.tools.verb_examples import answered_or_refused

bare_names = coupon_files.bare_names

DROP = ("breaks", "drop", "--weight", "2 lb", "--size", "1/2 x 1/2", "--span", "7")
BEND = ("breaks", "bend", "--size", "1/2", "--span", "7")
SLIDE = ("breaks", "slide", "--weight", "2 lb", "--reach", "10", "--size", "1/2")
READINGS = "load,deflection\n0,0\n10,.02\n20,.04\n30,.06\n40,.08\n45,.11\n20,.12\n"


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
    if "-h" not in line:
        answered_or_refused(capsys, *line)


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
