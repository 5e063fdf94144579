"""The verbs without a screen: what they answer, in which form, and how they refuse."""

import json
import sys
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from bench import __version__
from bench.__main__ import main

pytestmark = pytest.mark.usefixtures("home")
FLOAT = ("float", "--species", "sitka_spruce", "--side", "1/2", "--mark", "4.5", "--moisture", "12")
WEIGH = (
    *("weigh", "--species", "sitka_spruce", "--mass", "9 g", "--size", "1/2 x 1/2 x 5"),
    *("--moisture", "12"),
)
SECTION = ("section", "--plan", "sitka_spruce", "--use", "white_ash", "--size", "3/4", "--match", "weight")
AIR = ("moisture", "--temperature", "20 C", "--humidity", "50")
DRYING = ("moisture", "--wet", "48.3 g", "--dry", "43.1 g")
MOVEMENT = (
    *("moisture", "--species", "white_ash", "--size", "6 in", "--ring", "radial"),
    *("--from", "12", "--to", "7"),
)
ANSWERED = {
    "float": FLOAT,
    "weigh": WEIGH,
    "section": SECTION,
    "air": AIR,
    "drying": DRYING,
    "movement": MOVEMENT,
    "list": ("species",),
    "one species": ("species", "white_ash"),
}

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

INVENTED_WOOD = """\
key = "{key}"
name = "invented wood"
kind = "softwood"

[[figure]]
quantity = "specific_gravity"
value = "0.46"
unit = "-"
at = "12 %"
volume = "12 %"
source = "wh282"
page = "3"
"""


# --- answers -------------------------------------------------------------------------------------------


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
    _own_file(home, "bare_wood", INVENTED_WOOD)
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


# --- species -------------------------------------------------------------------------------------------


def test_species_lists_the_keys_of_the_handbook(ask) -> None:
    listed = {row["key"]: row for row in ask("species")["species"]}
    assert {"sitka_spruce", "douglas_fir_coast", "white_ash", "balsa"} <= listed.keys()
    assert listed["sitka_spruce"]["gravity_12"] == 0.40  # wh282 table 5-3b
    assert listed["sitka_spruce"]["minimum"] == 0.36  # ANC-19 table 2-13
    assert listed["balsa"]["minimum"] is None
    assert listed["balsa"]["gravity_12_from"] == "green"


def test_a_species_shows_each_figure_with_its_source(ask, run) -> None:
    answer = ask("species", "sitka_spruce")
    rupture = [
        row for row in answer["figures"] if (row["quantity"], row["at"]) == ("modulus_of_rupture", "12 %")
    ]
    used = [row for row in rupture if row["used"] and not row["variant"]]
    assert [(row["value"], row["unit"], row["source"]) for row in used] == [("10200", "lbf/in2", "wh282")]
    assert {"where", "standing", "note", "volume", "variant"} <= used[0].keys()
    assert "wh282" in run("species", "sitka_spruce")[1]


def _own_file(home: Path, key: str, text: str) -> None:
    (home / "species").mkdir(parents=True, exist_ok=True)
    (home / "species" / f"{key}.toml").write_text(text.replace("{key}", key))


def test_the_users_own_species_is_read(ask, home: Path) -> None:
    _own_file(home, "bare_wood", INVENTED_WOOD)
    assert ask("species", "bare_wood")["origin"].endswith("bare_wood.toml")


def test_a_faulty_file_of_the_user_is_a_warning(run, ask, home: Path) -> None:
    _own_file(home, "bare_wood", INVENTED_WOOD.replace("0.46", "much"))
    status, out, err = run("species")
    assert (status, err.count("\n")) == (0, 1)
    assert err.startswith("tenthmark: warning: ") and "bare_wood.toml, line 7" in err
    assert "sitka_spruce" in out and "bare_wood" not in out
    assert "bare_wood.toml" in ask(*FLOAT)["warnings"][-1]


def test_asking_for_the_faulty_species_tells_its_fault(refused, home: Path) -> None:
    _own_file(home, "bare_wood", INVENTED_WOOD.replace("0.46", "much"))
    assert "bare_wood.toml, line 7" in refused("species", "bare_wood")


# --- refusals ------------------------------------------------------------------------------------------


def _with(words: tuple[str, ...], option: str, value: str) -> list[str]:
    changed = list(words)
    if option in changed:
        changed[changed.index(option) + 1] = value
        return changed
    return [*changed, option, value]


REFUSED = [
    # command, option, value, what the line must say besides
    (FLOAT, "--mark", "-1", "negative"),
    (FLOAT, "--mark", "-.5", "negative"),
    (FLOAT, "--mark", "- 1", "negative"),
    (FLOAT, "--mark", "0", "10 marks"),
    (FLOAT, "--mark", "10.1", "10 marks"),
    (FLOAT, "--mark", "0.01", "water surface"),
    (FLOAT, "--mark", "abc", "a mark on the stick like"),
    (FLOAT, "--mark", "nan", "finite"),
    (FLOAT, "--mark", "", "empty"),
    (FLOAT, "--mark", "4.5 in", "no unit"),
    (FLOAT, "--marks", "1", "2 to 100"),
    (FLOAT, "--marks", "4.5", "a whole number like"),
    (FLOAT, "--side", "0", "above zero"),
    (FLOAT, "--side", "half", "a length like"),
    (FLOAT, "--side", "-1/2 in", "negative"),
    (FLOAT, "--side", "1 lb", "measures a mass"),
    (FLOAT, "--side", "1e9 m", "100 m"),
    (FLOAT, "--side", "1e-9 m", "0.01 mm"),
    (FLOAT, "--length", "0", "above zero"),
    (FLOAT, "--length", "0.25 in", "more than the side"),
    (FLOAT, "--moisture", "wet", "a moisture like"),
    (FLOAT, "--moisture", "31", "0 to 30 %"),
    (FLOAT, "--moisture", "-5", "negative"),
    (FLOAT, "--moisture", "300", "0 to 200 %"),
    (FLOAT, "--water", "-5C", "0 to 40 C"),
    (FLOAT, "--water", "-5", "0 to 40 C"),
    (FLOAT, "--water", "50 C", "0 to 40 C"),
    (FLOAT, "--water", "warm", "a temperature like"),
    (FLOAT, "--angle", "200", "0 to 180"),
    (FLOAT, "--angle", "steep", "or none"),
    (FLOAT, "--in-water", "-1", "negative"),
    (FLOAT, "--in-water", "1e6", "86400"),
    (FLOAT, "--species", "sitka_sprce", "sitka_spruce"),
    (FLOAT, "--species", "Sitka spruce", "sitka_spruce"),
    (FLOAT, "--species", "q", "`tenthmark species`"),
    (FLOAT, "--variant", "class Z", "canadian"),
    ((*FLOAT[:2], "balsa", *FLOAT[3:]), "--variant", "class Z", "its file has none"),
    (FLOAT, "--units", "ft", "in, mm"),
    (WEIGH, "--mass", "0 g", "zero"),
    (WEIGH, "--mass", "9 lb", "1540"),
    (WEIGH, "--mass", "heavy", "a mass like"),
    (WEIGH, "--size", "1 x 1", "length"),
    (WEIGH, "--size", "0 x 1 x 1", "zero"),
    (WEIGH, "--size", "1 x two x 1", "'two'"),
    (WEIGH, "--moisture", "35", "0 to 30 %"),
    (SECTION, "--size", "0 x 1", "zero"),
    (SECTION, "--size", "1 x 1 x 1", "width x depth"),
    (SECTION, "--size", "big", "a size like"),
    (SECTION, "--match", "strength", "bending"),
    (SECTION, "--hold", "both", "width"),
    (SECTION, "--shape", "box", "needs --flange"),
    (SECTION, "--shape", "pipe", "rectangle, round, box, i, laminated"),
    (SECTION, "--use-sg", "60", "0.05 to 1.5"),
    (SECTION, "--plan-sg", "0", "zero"),
    (SECTION, "--plan-sg", "-0.4", "negative"),
    (SECTION, "--plan", "spruce", "spruce"),
    (SECTION, "--use", "white_as", "white_ash"),
    (SECTION, "--length", "0", "above zero"),
    (SECTION, "--grid", "0", "above zero"),
    (SECTION, "--moisture", "-1", "negative"),
    (AIR, "--humidity", "120", "0 to 98 %"),
    (AIR, "--humidity", "damp", "a humidity like"),
    (AIR, "--temperature", "-40", "-1 to 130 C"),
    (AIR, "--temperature", "-500 C", "colder"),
    (DRYING, "--wet", "40 g", "less than the dry mass"),
    (DRYING, "--dry", "0", "zero"),
    (DRYING, "--wet", "48.3 lb", "look at the units"),
    (MOVEMENT, "--ring", "across", "tangential"),
    (MOVEMENT, "--to", "-3", "negative"),
    (MOVEMENT, "--size", "0", "above zero"),
    (MOVEMENT, "--species", "balsam", "balsa"),
]


@pytest.mark.parametrize(("words", "option", "value", "says"), REFUSED)
def test_a_bad_value_is_refused_in_one_line(refused, words, option: str, value: str, says: str) -> None:
    for form in ((), ("--json",)):
        line = refused(*_with(words, option, value), *form)
        assert option in line
        assert value in line
        assert says in line


@pytest.mark.parametrize(
    ("words", "option"),
    [
        *((FLOAT, option) for option in ("--species", "--side", "--mark", "--moisture")),
        *((WEIGH, option) for option in ("--species", "--mass", "--size", "--moisture")),
        *((SECTION, option) for option in ("--plan", "--use", "--size", "--match")),
        *((MOVEMENT, option) for option in ("--species", "--size", "--ring", "--from", "--to")),
        *(((*AIR, "--json"), option) for option in ("--temperature", "--humidity")),
        *((DRYING, option) for option in ("--wet", "--dry")),
        (("cuts", "PLAN.json", ""), "PLAN.json"),
    ],
)
def test_what_is_missing_is_named(refused, words, option: str) -> None:
    at = words.index(option)
    line = refused(*words[:at], *words[at + 2 :])
    assert line.startswith(f"{option}: not given; ")
    assert line.endswith(" is wanted")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("moisture",), "--humidity"),
        ((*AIR, "--wet", "3"), "--wet, --temperature"),
        ((*MOVEMENT, "--dry", "3"), "--dry, --species"),
        ((*FLOAT, *("--mark", "4") * 4), "read one face, two opposite ones, three or four"),
        ((*FLOAT, "--side", "1"), "--side: given more than once (1/2, 1)"),
        ((*FLOAT, "--slope", "3"), "--slope: not an option of 'float'"),
        ((*FLOAT, "--moist", "9"), "--moist: not an option"),
        ((*FLOAT, "9"), "'9': not expected here"),
        ((*FLOAT, "--water"), "--water: has no value; a temperature like"),
        ((*FLOAT, "--json=yes"), "--json: takes no value"),
        (("species", "balsa", "balsa"), "'balsa': not expected here"),
        (("flaot",), "'flaot' is no file and no verb; float, weigh"),
        (("--verbose",), "'--verbose' is not known"),
        (("demo", "twice"), "'twice' is not expected after 'demo'"),
        (("x" * 300,), "is no file and no verb"),
    ],
)
def test_a_command_that_makes_no_sense_is_refused(refused, words, says: str) -> None:
    assert says in refused(*words)


def test_a_match_without_its_figure_is_refused(refused, home: Path) -> None:
    _own_file(home, "bare_wood", INVENTED_WOOD)
    words = ("section", "--plan", "sitka_spruce", "--use", "bare_wood", "--size", "1", "--match")
    assert "--match toughness: the library has no energy to break" in refused(*words, "toughness")
    assert "--match: all" in refused(*words, "all")


def test_control_characters_never_reach_the_terminal(refused) -> None:
    line = refused(*_with(FLOAT, "--mark", "\x1b[2J\n7"))
    assert "\x1b" not in line


# --- the command itself --------------------------------------------------------------------------------


def test_version_and_help(run) -> None:
    assert run("--version") == (0, f"tenthmark {__version__}\n", "")
    status, out, err = run("--help")
    assert (status, err) == (0, "")
    assert all(verb in out for verb in ("float", "weigh", "moisture", "section", "cuts", "species", "demo"))


@pytest.mark.parametrize("verb", ["float", "weigh", "moisture", "section", "cuts", "species"])
def test_help_of_a_verb_names_its_options(run, verb: str) -> None:
    status, out, err = run(verb, "--help")
    assert (status, err) == (0, "")
    assert "--json" in out and "--working" in out and "--units" in out


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """What the app was opened with, the screen left out."""
    calls: list[object] = []

    def run(path: Path | None) -> int:
        calls.append(path)
        return 0

    def run_demo() -> int:
        calls.append("demo")
        return 7

    screen = ModuleType("bench.launch")
    screen.run, screen.run_demo = run, run_demo  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "bench.launch", screen)
    monkeypatch.setattr("bench.launch", screen, raising=False)
    return calls


def test_no_verb_opens_the_app(opened, tmp_path: Path) -> None:
    there = tmp_path / "kestrel"
    there.write_text("")
    new = tmp_path / "new.tenthmark"
    assert [main([]), main([str(there)]), main([str(new)]), main(["new.tenthmark"])] == [0, 0, 0, 0]
    assert opened == [None, there, new, Path("new.tenthmark")]
    assert main(["demo"]) == 7
    assert opened[-1] == "demo"


def test_a_fault_of_our_own_is_no_traceback(run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("bench.core.moisture.by_oven", broken)
    status, out, err = run(*DRYING)
    assert (status, out) == (70, "")
    assert err.startswith("tenthmark: a fault of the program") and err.count("\n") == 1


def test_interrupt_is_no_traceback(run, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("bench.core.moisture.by_oven", interrupted)
    assert run(*DRYING) == (130, "", "")


# --- whatever is typed ---------------------------------------------------------------------------------

TYPED = st.one_of(
    st.sampled_from(
        [
            "0",
            "-1",
            "1/2",
            "1-1/8",
            "1e99",
            "1e-99",
            "9" * 70 + "e99",
            ".000000001",
            "12.7 mm",
            "100 m",
            "nan",
            "-inf",
        ]
    ),
    st.sampled_from(
        ["20 C", "-5F", "1 x 1", "1e-4 mm x 99 m", "1 x 2 x 3", "none", "all", "--json", "-h", "--", "="]
    ),
    st.floats(0, 200).map(str),
    st.text(max_size=12),
)
OPTIONS = {
    "float": [
        *FLOAT[1::2],
        "--length",
        "--marks",
        "--water",
        "--angle",
        "--in-water",
        "--variant",
        "--later",
        "--weigh",
        "--weigh-size",
    ],
    "weigh": WEIGH[1::2],
    "section": [
        *SECTION[1::2],
        "--hold",
        "--length",
        "--plan-sg",
        "--use-sg",
        "--moisture",
        "--grid",
        "--shape",
    ],
    "air": AIR[1::2],
    "drying": DRYING[1::2],
    "movement": MOVEMENT[1::2],
}


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(sorted(OPTIONS)).flatmap(
        lambda name: st.tuples(
            st.just(name), st.lists(st.tuples(st.sampled_from(OPTIONS[name]), TYPED), min_size=1, max_size=3)
        )
    )
)
@example(("section", [("--size", "1e-4 mm x 99 m")]))
@example(("drying", [("--wet", "9" * 70 + "e99"), ("--dry", "1e-99")]))
def test_whatever_is_typed_is_answered_or_refused_in_one_line(capsys, typed) -> None:
    name, changes = typed
    words = list(ANSWERED[name])
    for option, value in changes:
        words = _with(tuple(words), option, value)
    status = main([*words, "--json"])
    out, err = capsys.readouterr()
    if "-h" in words:
        return
    assert status in (0, 2), err
    if status == 0:
        json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
        assert err == ""
    else:
        assert out == ""
        assert err.startswith("tenthmark: ") and err.count("\n") == 1
