"""The verbs without a screen: what they answer and in which form, on one example of each."""

from pathlib import Path

import pytest

from tests.tools.verb_examples import ANSWERED, FLOAT, INVENTED_WOOD, MOVEMENT, SECTION, WEIGH, own_file

pytestmark = pytest.mark.usefixtures("home")

GRAVITY_KEYS = {
    *("as_floated", "sg_at_moisture", "sg_12", "sg_oven_dry", "sg_green", "uncertainty", "low", "high"),
    *("minimum", "average", "basis", "verdict", "reasons", "warnings", "minimum_standing", "minimum_source"),
}
KEYS = {
    "float": {"fraction", "meniscus_bias", "minimum_mark", "tilt_deg", *GRAVITY_KEYS},
    "weigh": GRAVITY_KEYS,
    "section": {
        *("width_in", "depth_in", "width_mm", "depth_mm", "area_factor", "side_factor", "ratios", "weaker"),
        *("governs", "basis", "shop_size", "warnings"),
    },
    "air": {"equilibrium_percent", "model", "warnings"},
    "drying": {"moisture_percent", "warnings"},
    "movement": {"change_in", "size_in", "warnings"},
    "list": {"species", "warnings"},
    "one species": {"key", "name", "kind", "figures", "statements", "warnings"},
}


@pytest.mark.parametrize("name", KEYS)
def test_json_has_every_key(ask, name: str) -> None:
    assert ask(*ANSWERED[name]).keys() >= KEYS[name]


@pytest.mark.parametrize("name", ANSWERED)
def test_a_table_is_printed_without_colour(run, name: str) -> None:
    status, out, _ = run(*ANSWERED[name])
    assert status == 0
    assert len(out.splitlines()) > 2
    assert "\x1b" not in out


@pytest.mark.parametrize("name", ["float", "weigh", "section", "air", "drying", "movement"])
def test_working_adds_formula_numbers_and_source(run, ask, name: str) -> None:
    plain, worked = run(*ANSWERED[name])[1], run(*ANSWERED[name], "--working")[1]
    assert worked.startswith(plain)
    added = worked.removeprefix(plain)
    assert "->" in added and "source:" in added and "=" in added
    assert ask(*ANSWERED[name], "--working")["working"] == added.strip("\n").split("\n")


def test_every_figure_of_a_float_table_names_its_basis(run) -> None:
    rows = [
        line for line in run(*FLOAT)[1].splitlines() if line.startswith(("specific", "minimum", "average"))
    ]
    assert len(rows) == 6
    assert all("oven-dry weight on" in row for row in rows)


@pytest.mark.parametrize("words", [FLOAT, WEIGH])
def test_floats_are_not_rounded(ask, words) -> None:
    assert len(repr(ask(*words)["sg_oven_dry"])) > 12


def test_one_face_has_no_lean_and_two_have(ask) -> None:
    assert ask(*FLOAT)["tilt_deg"] is None
    assert ask(*FLOAT, "--mark", "4.6")["tilt_deg"] > 0
    assert ask(*FLOAT, "--mark", "4.6", "--mark", "4.4", "--mark", "4.5")["tilt_deg"] > 0


def test_a_wood_without_limits_is_held_with_nulls(ask) -> None:
    answer = ask("float", "--species", "balsa", "--side", "1/2", "--mark", "2", "--moisture", "10")
    assert [answer[key] for key in ("minimum", "average", "minimum_mark")] == [None, None, None]
    assert answer["verdict"] == "hold"
    assert any("no published minimum" in warning for warning in answer["warnings"])


def test_the_standing_of_a_minimum_is_told(ask) -> None:
    standing = {
        key: ask("float", "--species", key, "--side", "1/2", "--mark", "8", "--moisture", "10")[
            "minimum_standing"
        ]
        for key in ("sitka_spruce", "white_ash", "sweet_birch")
    }
    assert standing == {"sitka_spruce": "read", "white_ash": "trade", "sweet_birch": "memory"}


def test_a_recalled_minimum_never_decides(ask) -> None:
    answer = ask("float", "--species", "sweet_birch", "--side", "1/2", "--mark", "9.5", "--moisture", "10")
    assert answer["low"] > answer["minimum"]
    assert answer["verdict"] == "hold"
    assert any("RECALLED" in warning for warning in answer["warnings"])


@pytest.mark.parametrize(("mark", "verdict"), [("4.9", "accept"), ("4.0", "hold"), ("3.2", "reject")])
def test_the_three_verdicts(ask, mark: str, verdict: str) -> None:
    words = list(FLOAT)
    words[words.index("4.5")] = mark
    answer = ask(*words)
    assert answer["verdict"] == verdict
    assert answer["low"] < answer["sg_oven_dry"] < answer["high"]
    assert (answer["low"] >= answer["minimum"]) == (verdict == "accept")
    assert (answer["high"] < answer["minimum"]) == (verdict == "reject")


def test_a_stick_exactly_at_the_minimum_mark_reads_the_minimum(ask) -> None:
    mark = ask(*FLOAT)["minimum_mark"]
    words = list(FLOAT)
    words[words.index("4.5")] = f"{mark:.12f}"
    answer = ask(*words)
    assert answer["sg_oven_dry"] == pytest.approx(answer["minimum"], abs=1e-9)


def test_length_is_ten_sides_unless_given(ask) -> None:
    assert ask(*FLOAT) == ask(*FLOAT, "--length", "5 in")
    assert ask(*FLOAT)["meniscus_bias"] == pytest.approx(
        2 * ask(*FLOAT, "--length", "10 in")["meniscus_bias"]
    )


def test_more_marks_are_finer(ask) -> None:
    words = list(FLOAT)
    words[words.index("4.5")] = "9"
    assert ask(*words, "--marks", "20")["fraction"] == ask(*FLOAT)["fraction"]


def test_longer_in_the_water_is_less_certain(ask) -> None:
    assert ask(*FLOAT, "--in-water", "10 min")["uncertainty"] > ask(*FLOAT, "--in-water", "10")["uncertainty"]


def test_a_class_has_its_own_limits(ask) -> None:
    fir = ("float", "--species", "douglas_fir_coast", "--side", "1/2", "--mark", "4.6", "--moisture", "12")
    # ANC-19 (1943) table 2-13: class N 0.45 and more; class L 0.38 to 0.47.
    assert ask(*fir)["minimum"] == 0.45
    lighter = ask(*fir, "--variant", "class L")
    assert (lighter["minimum"], lighter["maximum"]) == (0.38, 0.47)


def test_float_and_balance_agree(ask) -> None:
    floated = ask(*FLOAT, "--angle", "none", "--water", "4 C")
    # Derived: a half-inch stick of 5 in that floats at 0.45 weighs 0.45 times its volume of water of 4 C.
    grams = 0.45 * 0.999975 * 1.27 * 1.27 * 12.7
    words = list(WEIGH)
    words[words.index("9 g")] = f"{grams:.9f} g"
    assert ask(*words)["sg_oven_dry"] == pytest.approx(floated["sg_oven_dry"], rel=1e-6)


@pytest.mark.parametrize(
    ("inches", "metric"),
    [
        (("--side", "1/2"), ("--side", "12.7 mm")),
        (("--side", "½ in", "--water", "68 F"), ("--side", "1.27 cm", "--water", "20C")),
        (("--side", ".5", "--in-water", "1 min"), ("--side", "12,7 mm", "--in-water", "60")),
    ],
)
def test_same_answer_in_any_unit(ask, inches, metric) -> None:
    rest = ("float", "--species", "white_ash", "--mark", "7", "--moisture", "9 %")
    one, other = ask(*rest, *inches), ask(*rest, *metric)
    assert one.keys() == other.keys()
    for key, value in one.items():
        assert other[key] == (pytest.approx(value, rel=1e-12) if isinstance(value, float) else value), key


def test_units_of_tables(run) -> None:
    assert "19.05 mm" in run(*SECTION, "--units", "mm")[1]
    assert "0.7500 in" in run(*SECTION)[1]
    assert "-2.15 mm" not in run(*MOVEMENT)[1]
    assert " mm" in run(*MOVEMENT, "--units", "mm")[1]


def test_section_always_carries_the_caution(ask, run) -> None:
    assert any("changed design" in warning for warning in ask(*SECTION)["warnings"])
    err = run(*SECTION)[2]
    assert err.startswith("tenthmark: warning: ") and "changed design" in err


def test_shop_size_is_text_on_the_safe_side(ask) -> None:
    words = list(SECTION)
    words[words.index("3/4")] = "1 x 1"
    # Derived: sqrt(0.40 / 0.60) = 0.81650 in lies between 52/64 and 53/64.
    assert ask(*words)["shop_size"] == "53/64 x 53/64 in"
    assert ask(*words, "--grid", "1/16")["shop_size"] == "7/8 x 7/8 in"


def test_basis_of_a_section_tells_where_its_gravity_is_from(ask) -> None:
    assert "library average" in ask(*SECTION)["basis"]
    given = ask(*SECTION, "--use-sg", "0.55")["basis"]
    assert "0.550 (given" in given and "12 %" in given
    green = ask(*SECTION[:4], "balsa", *SECTION[5:])["basis"]
    assert "brought from green volume" in green


def test_section_at_another_moisture(ask) -> None:
    dry, usual = ask(*SECTION, "--moisture", "8"), ask(*SECTION)
    assert ask(*SECTION, "--moisture", "12")["ratios"] == usual["ratios"]
    assert dry["ratios"]["bending"] != usual["ratios"]["bending"]
    assert "8.0 %" in dry["basis"] and "5-3" in dry["basis"]


def test_what_the_library_lacks_is_absent_and_said(ask, home: Path) -> None:
    own_file(home, "bare_wood", INVENTED_WOOD)
    words = ("section", "--plan", "sitka_spruce", "--use", "bare_wood", "--size", "1", "--match", "weight")
    answer = ask(*words)
    assert answer["ratios"].keys() == {"weight"}
    said = " ".join(answer["warnings"])
    assert all(name in said for name in ("bending", "stiffness", "column", "toughness"))


def test_movement_there_and_back(ask) -> None:
    out = ask(*MOVEMENT)
    back = ask(
        *("moisture", "--species", "white_ash", "--size", "6 in", "--ring", "radial"),
        *("--from", "7", "--to", "12"),
    )
    assert out["change_in"] == pytest.approx(-back["change_in"])
    assert out["size_in"] == pytest.approx(6 + out["change_in"])


def test_movement_outside_its_range_warns(ask) -> None:
    assert ask(*MOVEMENT)["warnings"] == []
    wet = ask(*MOVEMENT[:-3], "18", "--to", "7")
    assert any("6 to 14 %" in warning for warning in wet["warnings"])


def test_warnings_go_to_standard_error_without_json(run) -> None:
    wet = (*MOVEMENT[:-3], "18", "--to", "7")
    status, out, err = run(*wet)
    assert (status, err.count("\n")) == (0, 1)
    assert err.startswith("tenthmark: warning: ") and "6 to 14 %" in err
    assert "6 to 14 %" not in out
