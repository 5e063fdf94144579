"""The verb `cuts`: its file read strictly, its plan checked against the file, its faults named by place."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.__main__ import main

KEYS = {
    *("placed", "unplaced", "unplaced_critical", "sticks_used", "fewest_possible", "optimal"),
    *("largest_offcut_in", "waste_percent", "sticks", "warnings"),
}
LIST = {
    "kerf": "1/8 in",
    "end_trim": "1/4 in",
    "margin": "1/2 in",
    "squaring": "1/16 in",
    "least_offcut": "6 in",
    "parts": [
        {"name": "spar", "length": "40 in", "quantity": 2, "section": "3/4 x 1-1/2", "critical": True},
        {"name": "rib", "length": "10 1/2", "quantity": 5, "section": "1-1/2 x 3/4"},
        {"name": "block", "length": 3, "quantity": "4"},
    ],
    "sticks": [
        {
            "tag": "A",
            "length": "96 in",
            "quantity": 2,
            "section": "3/4 x 1-1/2",
            "defects": [["30 in", "32 in"]],
        },
        {"tag": "B", "length": "5 ft", "sg": 0.41},
    ],
}


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path):
    """Exit status, standard output and standard error for a cut list, given as data or as text."""

    def command(listed: object, *words: str) -> tuple[int, str, str]:
        path = tmp_path / "plan.json"
        path.write_text(listed if isinstance(listed, str) else json.dumps(listed), encoding="utf-8")
        status = main(["cuts", str(path), *words])
        out, err = capsys.readouterr()
        return status, out, err.replace(str(path), "plan.json")

    return command


@pytest.fixture
def ask(run):
    """The JSON answer for a cut list."""

    def answer(listed: object) -> dict:
        status, out, err = run(listed, "--json")
        assert (status, err) == (0, "")
        return json.loads(out)

    return answer


@pytest.fixture
def refused(run):
    """The line that a cut list is refused with."""

    def line(listed: object) -> str:
        status, out, err = run(listed, "--json")
        assert (status, out) == (2, "")
        assert err.startswith("tenthmark: plan.json") and err.count("\n") == 1
        return err.removeprefix("tenthmark: plan.json").strip().removeprefix(",").strip()

    return line


def _listed(part: dict | None = None, stick: dict | None = None, **rules: object) -> dict:
    """One part and one stick, with keys changed."""
    return {
        **rules,
        "parts": [{"name": "rib", "length": "10 in", **(part or {})}],
        "sticks": [{"tag": "A", "length": "96 in", **(stick or {})}],
    }


# --- the plan ------------------------------------------------------------------------------------------


def test_json_has_every_key(ask) -> None:
    answer = ask(LIST)
    assert answer.keys() >= KEYS
    assert all(stick.keys() == {"tag", "cuts", "offcuts"} for stick in answer["sticks"])
    assert all(
        cut.keys() == {"part", "from_in", "to_in"} for stick in answer["sticks"] for cut in stick["cuts"]
    )


def test_the_plan_can_be_sawn(ask) -> None:
    # Derived: each piece has its length and squaring, keeps off trim, defect and margin; a blade between.
    answer = ask(LIST)
    assert answer["placed"] + sum(row["quantity"] for row in answer["unplaced"]) == 11
    lengths = {"A#1": 96, "A#2": 96, "B": 60}
    rough = {"spar": 40 + 1 / 16, "rib": 10.5 + 1 / 16, "block": 3 + 1 / 16}
    for stick in answer["sticks"]:
        lost = [(29.5, 32.5)] if stick["tag"].startswith("A") else []
        last = None
        for cut in sorted(stick["cuts"], key=lambda cut: cut["from_in"]):
            start, end = cut["from_in"], cut["to_in"]
            assert end - start == pytest.approx(rough[cut["part"]], abs=1e-9)
            assert start >= 0.25 and end <= lengths[stick["tag"]] - 0.25
            assert all(end <= a or start >= b for a, b in lost)
            assert last is None or start >= last + 1 / 8 - 1e-9
            last = end


def test_sticks_of_one_line_are_numbered(ask) -> None:
    listed = _listed({"quantity": 20}, {"quantity": 3})
    assert [stick["tag"] for stick in ask(listed)["sticks"]] == ["A#1", "A#2", "A#3"]
    assert [stick["tag"] for stick in ask(_listed())["sticks"]] == ["A"]


def test_a_part_longer_than_any_stick_is_left_out_with_its_reason(ask) -> None:
    answer = ask(_listed({"length": "200 in", "quantity": 2, "critical": True}))
    (out,) = answer["unplaced"]
    assert (out["name"], out["quantity"]) == ("rib", 2)
    assert "longer than any clear length" in out["why"] and "96 in" in out["why"]
    assert (answer["placed"], answer["unplaced_critical"], answer["sticks_used"]) == (0, 2, 0)
    assert answer["waste_percent"] == 0


@pytest.mark.parametrize(
    ("part", "stick", "why"),
    [
        ({"section": "1 x 2"}, {"section": "1 x 1"}, "no stick has its section"),
        ({"minimum_sg": 0.4}, {"sg": 0.39}, "least specific gravity"),
        ({"minimum_sg": 0.4}, {}, "least specific gravity"),
        ({"quantity": 12}, {}, "used up"),
    ],
)
def test_why_a_part_is_left_out(ask, part: dict, stick: dict, why: str) -> None:
    (out,) = ask(_listed(part, stick))["unplaced"]
    assert why in out["why"]


def test_no_stick_at_all(ask) -> None:
    (out,) = ask({"parts": [{"name": "rib", "length": 3}]})["unplaced"]
    assert "no stick" in out["why"]


@pytest.mark.parametrize(
    ("part", "stick"),
    [
        ({"section": "1 x 2"}, {"section": "2 x 1"}),
        ({"section": "25.4 mm x 50.8 mm"}, {"section": "2 x 1"}),
        ({"section": "1 sq"}, {"section": 1}),
        ({"section": "1 x 2"}, {}),
        ({}, {"section": "1 x 2"}),
        ({"minimum_sg": "0.40"}, {"sg": 0.4}),
        ({"length": 10.5}, {"length": "10 1/2 in", "defects": [["0", "0"]]}),
        ({"length": "10"}, {"length": "254 mm"}),
    ],
)
def test_parts_and_sticks_that_go_together(ask, part: dict, stick: dict) -> None:
    assert ask(_listed(part, stick))["placed"] == 1


def test_a_blade_is_an_eighth_unless_said(ask) -> None:
    # The cut list's own default; derived: two parts of 10 in need 20 1/8 in with it, and 20 in without.
    assert ask(_listed({"quantity": 2}, {"length": "20 1/8"}))["placed"] == 2
    assert ask(_listed({"quantity": 2}, {"length": 20}))["placed"] == 1
    assert ask(_listed({"quantity": 2}, {"length": 20}, kerf=0))["placed"] == 2


@pytest.mark.parametrize(
    "defect", [["30", "32"], ["32", "30"], ["30", "30"], [30, 32.0], ["96", "96"], ["0", "96"]]
)
def test_defects_on_the_stick_are_taken(ask, defect: list) -> None:
    answer = ask(_listed(stick={"defects": [defect]}))
    assert answer["placed"] == (0 if defect == ["0", "96"] else 1)


def test_an_empty_list_is_an_empty_plan(ask) -> None:
    answer = ask({})
    assert (answer["placed"], answer["unplaced"], answer["sticks"], answer["optimal"]) == (0, [], [], True)


def test_tables_and_working(run) -> None:
    status, out, err = run(
        {**LIST, "parts": [*LIST["parts"], {"name": "long", "length": "20 ft"}]}, "--working"
    )
    assert (status, err) == (0, "")
    assert "longer than any clear length" in out and "A#1" in out
    assert "length = sawn + pieces + leftovers" in out
    assert " mm" in run(LIST, "--units", "mm")[1]


def test_brackets_and_colour_codes_in_names_are_printed_as_they_are(run) -> None:
    out = run(_listed({"name": "[bold]rib[/bold] :smile: \x1b[31m"}))[1]
    assert "[bold]rib[/bold] :smile:" in out
    assert "\x1b" not in out


# --- refusals ------------------------------------------------------------------------------------------

PART_FAULTS = [
    ({"length": "abc"}, "parts[0].length", "a length like"),
    ({"length": None}, "parts[0].length", "null"),
    ({"length": True}, "parts[0].length", "true"),
    ({"length": [3, ["x"]]}, "parts[0].length", "[3, [...]]"),
    ({"length": 0}, "parts[0].length", "above zero"),
    ({"length": -3}, "parts[0].length", "negative"),
    ({"length": "101 m"}, "parts[0].length", "100 m"),
    ({"name": ""}, "parts[0].name", "text in quotes"),
    ({"name": 7}, "parts[0].name", "text in quotes"),
    ({"quantity": 1.5}, "parts[0].quantity", "a whole number"),
    ({"quantity": -1}, "parts[0].quantity", "negative"),
    ({"quantity": "many"}, "parts[0].quantity", "a whole number"),
    ({"quantity": 10**9}, "parts[0].quantity", "10000"),
    ({"section": [3]}, "parts[0].section", "[3] is not a size; a size like"),
    ({"section": "1 x 0"}, "parts[0].section", "zero"),
    ({"section": "1 x 2 x 3"}, "parts[0].section", "width x depth"),
    ({"minimum_sg": "dense"}, "parts[0].minimum_sg", "a specific gravity like"),
    ({"minimum_sg": 0}, "parts[0].minimum_sg", "zero"),
    ({"critical": "yes"}, "parts[0].critical", "true or false"),
    ({"lenght": 3}, "parts[0].lenght", "length, quantity"),
]
STICK_FAULTS = [
    ({"tag": None}, "sticks[0].tag", "text in quotes"),
    ({"length": ""}, "sticks[0].length", "empty"),
    ({"sg": "x"}, "sticks[0].sg", "a specific gravity like"),
    ({"quantity": 5000}, "sticks", "1000 are the most"),
    ({"critical": True}, "sticks[0].critical", "tag, length"),
    ({"defects": "30-32"}, "sticks[0].defects", "a list like"),
    ({"defects": ["30"]}, "sticks[0].defects[0]", "a pair"),
    ({"defects": [["30", "32"], ["1", "2", "3"]]}, "sticks[0].defects[1]", "a pair"),
    ({"defects": [["30", "knot"]]}, "sticks[0].defects[0][1]", "a length like"),
    ({"defects": [["90 in", "97 in"]]}, "sticks[0].defects[0]", "90 in to 97 in is outside its stick"),
    ({"defects": [["-1 in", "2 in"]]}, "sticks[0].defects[0][0]", "negative"),
    ({"defects": [["8.1 ft", "8.1 ft"]]}, "sticks[0].defects[0]", "outside its stick, which ends at 96 in"),
]
RULE_FAULTS = [
    ({"kerf": "wide"}, "kerf", "a length like"),
    ({"kerf": -1}, "kerf", "negative"),
    ({"margin": "200 m"}, "margin", "100 m"),
    ({"least_offcut": None}, "least_offcut", "null"),
    ({"blade": 1}, "blade", "kerf, end_trim, margin, squaring, least_offcut, parts, sticks"),
]


@pytest.mark.parametrize(
    ("listed", "place", "says"),
    [
        *((_listed(part=keys), place, says) for keys, place, says in PART_FAULTS),
        *((_listed(stick=keys), place, says) for keys, place, says in STICK_FAULTS),
        *((_listed(**keys), place, says) for keys, place, says in RULE_FAULTS),
        ({"parts": [{"name": "a"}]}, "parts[0].length", "missing"),
        ({"parts": [{"length": 3}]}, "parts[0].name", "missing"),
        ({"sticks": [{"length": 3}]}, "sticks[0].tag", "missing"),
        ({"parts": {}}, "parts", "not a list"),
        ({"parts": [3]}, "parts[0]", "not an object"),
        ({"parts": [{"name": "a", "length": 3}] * 2}, "parts", "'a' is used twice"),
        ({"sticks": [{"tag": "a", "length": 3}] * 2}, "sticks", "'a' is used twice"),
        (
            {"sticks": [{"tag": "a", "length": 3, "quantity": 2}, {"tag": "a#2", "length": 3}]},
            "sticks",
            "'a#2' is used twice",
        ),
    ],
)
def test_a_fault_is_named_with_its_place(refused, listed: dict, place: str, says: str) -> None:
    line = refused(listed)
    assert line.startswith(f"{place}: ")
    assert says in line


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "line 1: not readable as JSON at column 1"),
        ('{"parts": [\n  {"name": "a",}\n]}', "line 2: not readable as JSON at column"),
        ("[]", "not an object"),
        ("3", "3 is not an object"),
        ('"text"', '"text" is not an object'),
        ("null", "null is not an object"),
        ('{"kerf": NaN}', "finite"),
        ('{"kerf": -Infinity}', "finite"),
        ('{"kerf": 1e400}', "exponent"),
        ('{"kerf": ' + "9" * 5000 + "}", "longer than 80 characters"),
        ('{"kerf": 1, "kerf": 2}', "'kerf' is given twice"),
        ("[" * 100_000, "brackets within brackets"),
    ],
)
def test_a_file_that_is_no_cut_list(refused, text: str, says: str) -> None:
    assert says in refused(text)


def test_a_file_that_cannot_be_read(capsys, tmp_path: Path) -> None:
    binary = tmp_path / "binary.json"
    binary.write_bytes(b"\xff\xfe{\x00}\x00")
    for path, says in ((tmp_path / "no.json", "No such file"), (tmp_path, "directory"), (binary, "UTF-8")):
        status = main(["cuts", str(path)])
        out, err = capsys.readouterr()
        assert (status, out, err.count("\n")) == (2, "", 1)
        assert err.startswith(f"tenthmark: {path}: ") and says in err


def test_a_byte_order_mark_is_no_fault(capsys, tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(LIST).encode())
    assert main(["cuts", str(path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["placed"] > 0


JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 200) | st.floats(allow_nan=True) | st.text(max_size=6),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["name", "tag"]), inner, max_size=2)
    ),
    max_leaves=6,
)
PLACES = [
    *(("kerf",), ("parts",), ("sticks",), ("parts", 1), ("parts", 1, "name"), ("parts", 0, "length")),
    *(
        ("parts", 0, "quantity"),
        ("parts", 2, "section"),
        ("parts", 0, "minimum_sg"),
        ("parts", 1, "critical"),
    ),
    *(("sticks", 0, "tag"), ("sticks", 1, "sg"), ("sticks", 0, "defects"), ("sticks", 0, "defects", 0)),
]


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(PLACES), JSON)
def test_whatever_stands_in_the_file_is_planned_or_refused(run, place: tuple, value: object) -> None:
    listed = json.loads(json.dumps(LIST))
    inner = listed
    for step in place[:-1]:
        inner = inner[step]
    inner[place[-1]] = value
    status, out, err = run(listed, "--json")
    assert status in (0, 2), err
    if status == 0:
        assert json.loads(out).keys() >= KEYS
    else:
        assert out == ""
        assert err.startswith("tenthmark: plan.json") and err.count("\n") == 1


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.integers(100, 4000), min_size=1, max_size=6), st.integers(0, 40))
def test_inches_and_millimetres_give_the_same_plan(ask, sixty_fourths: list[int], kerf: int) -> None:
    def listed(write) -> dict:
        parts = [{"name": f"p{at}", "length": write(size)} for at, size in enumerate(sixty_fourths)]
        return {
            "kerf": write(kerf),
            "parts": parts,
            "sticks": [{"tag": "A", "length": write(6144), "quantity": 2}],
        }

    inches = ask(listed(lambda size: f"{Fraction(size, 64)} in"))
    metric = ask(listed(lambda size: f"{float(Fraction(size, 64) * Fraction(254, 10)):.12g} mm"))
    for key in ("placed", "sticks_used", "unplaced_critical", "fewest_possible"):
        assert inches[key] == metric[key]
    assert inches["largest_offcut_in"] == pytest.approx(metric["largest_offcut_in"], abs=1e-6)
