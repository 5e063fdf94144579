"""The verb `section`: shapes, layers, sets, caps, shop sizes and kinds of figures."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.__main__ import main
from bench.core.resizing import CAPACITIES, MATCHES
from bench.sheets import sections
from tests.tools.verb_examples import answered_or_refused

pytestmark = pytest.mark.usefixtures("home")
SPRUCE = ("section", "--plan", "sitka_spruce")
SQUARE = (*SPRUCE, "--use", "white_ash", "--size", "1")
BEAM = (*SPRUCE, "--use", "white_ash", "--size", "1 x 4", "--flange", "3/4", "--web", "1/4", "--shape", "i")
LAYERS = "1/8 white_ash, 1/2 sitka_spruce, 1/8 white_ash"
LAMINATED = (*SPRUCE, "--size", "3/4", "--shape", "laminated", "--layers", LAYERS)


def test_every_match_is_answered(ask) -> None:
    for match in MATCHES:
        own = ("--own", "bending") if match == "own" else ()
        answer = ask(*SQUARE, "--match", match, *own)
        if match not in ("all", "own"):
            assert answer["ratios"][match] == pytest.approx(1, abs=1e-9)
        assert set(answer["ratios"]) == {"weight", *CAPACITIES}


def test_constants_of_an_i_section(ask) -> None:
    # Derived and checked with sectionproperties: the I of 1 x 4 in, flange 3/4 in, web 1/4 in.
    answer = ask(*BEAM, "--match", "weight")
    plan = answer["constants"]["plan"]
    assert plan["area_in2"] == pytest.approx(2.125)
    assert plan["second_moment_in4"] == pytest.approx(4.35677, abs=5e-6)
    assert plan["section_modulus_in3"] == pytest.approx(2.17839, abs=5e-6)
    # From memory: the form factor.
    assert plan["form_factor"] == pytest.approx(0.686, abs=5e-4)
    assert any("form factor" in warning and "RECALLED" in warning for warning in answer["warnings"])
    standing = {row["name"]: row["standing"] for row in answer["capacities"]}
    assert standing["bending"] == ["memory", "memory"] and standing["stiffness"] == ["read", "read"]


def test_walls_stand_as_drawn_where_a_side_is_held(ask) -> None:
    held = ask(*BEAM, "--match", "all", "--hold", "depth")["sizes_in"]
    assert {name: held[name] for name in ("depth", "flange", "web")} == pytest.approx(
        {"depth": 4, "flange": 0.75, "web": 0.25}
    )
    free = ask(*BEAM, "--match", "all")["sizes_in"]
    assert free["flange"] / free["depth"] == pytest.approx(0.75 / 4)


def test_a_round_is_written_as_one(ask) -> None:
    # Derived: sqrt(0.40 / 0.60) = 0.81650 in lies between 52/64 and 53/64, of a round as of a square.
    answer = ask(*SQUARE, "--shape", "round", "--match", "weight")
    assert answer["shop_size"] == "53/64 in round"
    assert answer["sizes_in"].keys() == {"diameter"} == answer["shop_sizes_in"].keys()


def test_layers(ask, capsys) -> None:
    answer = ask(*LAMINATED, "--match", "stiffness", "--hold", "width")
    assert answer["sizes_in"].keys() == {"width", "layer 1", "layer 2", "layer 3"}
    assert answer["ratios"]["stiffness"] == pytest.approx(1, abs=1e-9)
    layers = [answer["sizes_in"][f"layer {place}"] for place in (1, 2, 3)]
    assert layers[0] == pytest.approx(layers[2]) and layers[1] == pytest.approx(4 * layers[0])
    assert answer["constants"]["exact"]["neutral_axis_in"] == pytest.approx(sum(layers) / 2)
    assert any("white ash" in warning and "breaks first" in warning for warning in answer["warnings"])
    assert main([*LAMINATED, "--match", "stiffness", "--working"]) == 0
    assert "y_n = sum of E A y / sum of E A" in capsys.readouterr().out


def test_one_wood_in_layers_is_the_solid_one(ask) -> None:
    words = (*SPRUCE, "--size", "3/4 x 1", "--match", "all")
    solid = ask(*words, "--use", "white_ash")
    layers = ask(*words, "--shape", "laminated", "--layers", "1/4 white_ash, 1/2 white_ash")
    assert layers["ratios"] == pytest.approx(solid["ratios"])
    assert layers["width_in"] == pytest.approx(solid["width_in"])


def test_a_cap_and_a_measured_side(ask) -> None:
    capped = ask(*SQUARE, "--match", "all", "--cap", "depth 3/4")
    assert capped["depth_in"] == pytest.approx(0.75) and capped["width_in"] > 0.9746
    assert min(value for name, value in capped["ratios"].items() if name != "weight") >= 1 - 1e-9
    wide = ask(*SQUARE, "--match", "all", "--cap", "depth 3")
    assert wide["depth_in"] == pytest.approx(0.9746, abs=5e-5)
    held = ask(*SQUARE, "--match", "bending", "--hold", "width", "--held-at", ".98")
    # Derived: depth^2 goes with 1 / (width x rupture).
    assert held["width_in"] == pytest.approx(0.98, abs=1e-12)
    assert held["depth_in"] == pytest.approx((10_200 / 15_000 / 0.98) ** 0.5)


def test_sizes_of_the_shop(ask) -> None:
    answer = ask(*SQUARE, "--match", "weight", "--sizes", "1/2, 3/4, 7/8, 1")
    assert answer["shop_size"] == "7/8 x 7/8 in"
    # Derived: area 0.875^2 over 2/3.
    assert answer["weight_cost"] == pytest.approx(0.875**2 / (0.4 / 0.6))
    each = answer["weight_costs"]
    assert each["width"] * each["depth"] == pytest.approx(answer["weight_cost"])


def test_aircraft_figures_are_never_mixed_and_marked(ask, refused) -> None:
    words = (*SPRUCE, "--size", "1", "--match", "bending", "--figures", "aircraft")
    answer = ask(*words, "--use", "douglas_fir_coast")
    # anc18_1951 table 2-6: 9,400 and 10,900 lbf/in2.
    assert answer["side_factor"] == pytest.approx((9400 / 10900) ** (1 / 3))
    assert "aircraft design values at 15 %" in answer["basis"]
    said = " ".join(answer["warnings"])
    assert "SECOND-HAND" in said and "RECALLED" in said
    assert "--use balsa: the library has no aircraft design values" in refused(*words, "--use", "balsa")
    assert "--moisture" in refused(*words, "--use", "white_ash", "--moisture", "12")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((*SQUARE, "--match", "own"), "--own"),
        ((*SQUARE, "--match", "own", "--own", "bending,looks"), "looks"),
        ((*SQUARE, "--match", "bending", "--own", "bending"), "--own: belongs to --match own"),
        ((*SQUARE, "--match", "bending", "--shape", "box"), "needs --flange"),
        ((*SQUARE, "--match", "bending", "--flange", "1/4"), "--flange: belongs to --shape box or i"),
        ((*BEAM[:-1], "box", "--match", "bending", "--web", "1/2"), "--web: given more than once"),
        ((*BEAM[:-5], "3/4", "--web", "1", "--shape", "i", "--match", "weight"), "--web: 1 is not possible"),
        (
            (*BEAM[:-5], "2", "--web", "1/4", "--shape", "i", "--match", "weight"),
            "--flange: 2 is not possible",
        ),
        ((*SPRUCE, "--size", "1", "--match", "weight"), "--use: not given"),
        ((*SPRUCE, "--size", "1", "--match", "weight", "--shape", "laminated"), "--layers: not given"),
        ((*LAMINATED, "--use", "white_ash", "--match", "weight"), "--use: not possible"),
        ((*LAMINATED[:-1], "1/8 white_ahs", "--match", "weight"), "white_ash"),
        ((*LAMINATED[:-1], "white_ash", "--match", "weight"), "has no thickness"),
        ((*LAMINATED[:-1], "0 white_ash", "--match", "weight"), "--layers"),
        ((*SQUARE, "--match", "weight", "--layers", LAYERS), "--layers: belongs to --shape laminated"),
        ((*SQUARE, "--match", "weight", "--held-at", "1"), "--held-at"),
        ((*SQUARE, "--match", "bearing", "--hold", "width"), "--hold: bearing"),
        ((*SQUARE, "--match", "weight", "--cap", "3/4"), "a side and the most it may be"),
        ((*SQUARE, "--match", "weight", "--cap", "depth big"), "--cap"),
        ((*SQUARE, "--match", "all", "--hold", "width", "--cap", "depth 1/2"), "--cap"),
        ((*SQUARE, "--match", "weight", "--sizes", "1/4, 1/2"), "the largest is 0.5 in"),
        ((*SQUARE, "--match", "weight", "--sizes", "1/4, x"), "--sizes"),
        (
            (*SPRUCE, "--use", "white_ash", "--size", "1 x 2", "--shape", "round", "--match", "weight"),
            "one diameter",
        ),
        ((*SQUARE, "--shape", "round", "--match", "weight", "--hold", "width"), "hold neither side"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_line(refused, words: tuple[str, ...], says: str) -> None:
    assert says in refused(*words)


@pytest.mark.parametrize("words", [SQUARE, BEAM, (*SQUARE, "--shape", "round"), LAMINATED], ids=len)
@pytest.mark.parametrize("system", ["in", "mm"])
def test_tables_and_working_are_printed_for_every_shape(capsys, words, system: str) -> None:
    assert main([*words, "--match", "all", "--working", "--units", system]) == 0
    out = capsys.readouterr().out
    for said in (
        "Replacement over plan",
        "Cost of rounding",
        "section modulus",
        "solved for the scale k",
    ):
        assert said in out
    assert " mm" in out if system == "mm" else " in" in out


TYPED = st.sampled_from(
    [
        *("0", "-1", "1/2", "1", "3/4", "1e99", "1e-99", "nan", "12.7 mm", "depth 1/2", "width 1e-9"),
        *(
            "bending",
            "bending,bending",
            "all",
            "1/8 white_ash",
            "1/8 white_ash,,1/8 balsa",
            "1/4,1",
            ",",
            "box",
        ),
        *("i", "round", "laminated", "aircraft", "handbook", "width", "depth", "own", "-h", "="),
    ]
) | st.text(max_size=8)
OPTIONS = (
    *(
        "--use",
        "--size",
        "--match",
        "--own",
        "--hold",
        "--held-at",
        "--cap",
        "--length",
        "--shape",
        "--flange",
    ),
    *("--web", "--layers", "--figures", "--moisture", "--grid", "--sizes"),
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from([SQUARE, BEAM, LAMINATED]), st.dictionaries(st.sampled_from(OPTIONS), TYPED, max_size=3)
)
def test_whatever_is_typed_is_answered_or_refused_in_one_line(capsys, words, changes) -> None:
    given_words = {"--match": "all"} | dict(zip(words[1::2], words[2::2], strict=True)) | changes
    line = ["section", *(text for pair in given_words.items() for text in pair)]
    if "-h" not in line:
        answered_or_refused(capsys, *line)


def test_a_weight_is_rounded_up_everywhere_and_a_capacity_down(
    capsys: pytest.CaptureFixture[str], ask
) -> None:
    """Ash for spruce by stiffness: 1.42484 of the weight; 0.600 / 0.400 over sqrt(1.74 / 1.57) by wh282."""
    assert ask(*SQUARE, "--match", "stiffness")["ratios"]["weight"] == pytest.approx(1.42484, abs=5e-6)
    assert main([*SQUARE, "--match", "stiffness"]) == 0
    assert "142.5 %" in capsys.readouterr().out
    assert main(["woods", "--plan", "sitka_spruce", "--size", "1", "--match", "stiffness"]) == 0
    assert "142.5 %" in capsys.readouterr().out
    assert sections.share("weight", 1.00001) == "100.1 %" and sections.share("bending", 1.0009) == "100.0 %"
    assert sections.share("weight", 1 + 1e-12) == sections.share("bending", 1 - 1e-12) == "100.0 %"
    assert sections.cost(1.00001) == "+0.1 %" and sections.cost(1.0) == "0.0 %"


@pytest.mark.parametrize("verb", [SQUARE, ("woods", "--plan", "sitka_spruce", "--size", "1")])
def test_a_moisture_is_possible_up_to_the_limit_of_the_pane(verb, refused) -> None:
    assert main([*verb, "--match", "bending", "--moisture", "30"]) == 0


@pytest.mark.parametrize("verb", [SQUARE, ("woods", "--plan", "sitka_spruce", "--size", "1")])
@pytest.mark.parametrize("moisture", ["35", "40"])
def test_a_moisture_beyond_the_limit_of_the_pane_is_refused(verb, moisture: str, refused) -> None:
    assert "--moisture" in (said := refused(*verb, "--match", "bending", "--moisture", moisture))
    assert "0 to 30 % is possible" in said


def test_what_is_not_known_and_a_gravity_that_is_given_take_from_the_claim(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main([*SPRUCE, "--use", "balsa", "--size", "1", "--match", "all"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "weaker in nothing that is known; NOT KNOWN: bearing across" in out
    assert "weaker in nothing known" not in out
    assert main([*SQUARE, "--match", "all", "--use-sg", "0.45"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "weaker in nothing known: ONLY as clear wood of average gravity 0.600; given is 0.450" in out


def test_a_missing_figure_says_what_is_possible(refused) -> None:
    said = refused(*SPRUCE, "--use", "balsa", "--size", "1", "--match", "bearing")
    assert "crushing strength across the grain" in said and "possible matches: weight, bending" in said
    assert "compression_perpendicular" not in said


def test_the_junction_of_an_i_is_recalled(ask, capsys: pytest.CaptureFixture[str]) -> None:
    standing = {row["name"]: row["standing"] for row in ask(*BEAM, "--match", "bending")["capacities"]}
    assert standing["torsion"] == ["memory", "memory"]
    assert main([*BEAM, "--match", "bending"]) == 0
    said = capsys.readouterr().err
    assert "junction term that is RECALLED, NOT READ: by finite elements 3.4 % HIGH" in said
