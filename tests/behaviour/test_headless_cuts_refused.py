"""A cut list read strictly: every fault is named in one line with its place in the file."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.__main__ import main
from tests.tools import cut_list_files
from tests.tools.cut_list_files import KEYS, LIST, off_its_stick, one_part

run = cut_list_files.run


@pytest.fixture
def refused(run):
    """The line that a cut list is refused with."""

    def line(listed: object) -> str:
        status, out, err = run(listed, "--json")
        assert (status, out) == (2, "")
        assert err.startswith("tenthmark: plan.json") and err.count("\n") == 1
        return err.removeprefix("tenthmark: plan.json").strip().removeprefix(",").strip()

    return line


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
    ({"best": "yes"}, "parts[0].best", "true or false"),
    ({"scarf": "steep"}, "parts[0].scarf", 'a slope like "1:12"'),
    ({"scarf": True}, "parts[0].scarf", "true is not a slope"),
    ({"scarf": "1:2", "section": "1 x 2"}, "parts[0].scarf", "from 1:30 to 1:4"),
    ({"scarf": 0, "section": "1 x 2"}, "parts[0].scarf", "from 1:30 to 1:4"),
    ({"scarf": "1:12"}, "parts[0].scarf", 'needs the "section"'),
    ({"scarf_side": "across"}, "parts[0].scarf_side", "width or depth would be read"),
    ({"scarf_side": ["width"]}, "parts[0].scarf_side", "width or depth would be read"),
    ({"scarf_side": "width"}, "parts[0].scarf_side", 'goes with "scarf"'),
    ({"no_joint": "0-2"}, "parts[0].no_joint", "a list like"),
    ({"no_joint": [["0", "1"], ["2"]]}, "parts[0].no_joint[1]", "a pair"),
    ({"no_joint": [["0", "x"]]}, "parts[0].no_joint[0][1]", "a length like"),
    ({"no_joint": [["9 in", "11 in"]]}, "parts[0].no_joint[0]", "outside its part, which ends at 10 in"),
    ({"no_joint": [["2 in", "2 in"]]}, "parts[0].no_joint[0]", "no length"),
    ({"grain": 3}, "parts[0].grain", "text in quotes"),
    ({"grain": "x" * 201}, "parts[0].grain", "200 characters"),
    ({"group": ["left"]}, "parts[0].group", "text in quotes"),
    ({"group": "x" * 41}, "parts[0].group", "40 characters"),
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
    ({"width": "5 in"}, "sticks[0].thickness", "is missing"),
    ({"thickness": "1 in"}, "sticks[0].width", "is missing"),
    ({"width": "0 in", "thickness": "1 in"}, "sticks[0].width", "above zero"),
    ({"width": "5 in", "thickness": "thin"}, "sticks[0].thickness", "a length like"),
    ({"width": 5, "thickness": 1, "section": "1 x 5"}, "sticks[0].width", 'stands beside "section"'),
    ({"width": 5, "thickness": 1}, "parts[0].section", "'A' is a plank"),
    ({"verdict": "maybe"}, "sticks[0].verdict", "accept, hold or reject"),
    ({"verdict": None}, "sticks[0].verdict", "accept, hold or reject"),
]
RULE_FAULTS = [
    ({"kerf": "wide"}, "kerf", "a length like"),
    ({"kerf": -1}, "kerf", "negative"),
    ({"margin": "200 m"}, "margin", "100 m"),
    ({"least_offcut": None}, "least_offcut", "null"),
    ({"blade": 1}, "blade", "kerf, end_trim, margin, squaring, least_offcut, parts, sticks"),
    ({"rip_kerf": "wide"}, "rip_kerf", "a length like"),
    ({"edge": -1}, "edge", "negative"),
    ({"planing": "200 m"}, "planing", "100 m"),
    ({"least_piece": 0}, "least_piece", "above zero"),
    ({"use_held": 1}, "use_held", "true or false"),
    ({"made": {}}, "made", "not a list"),
    ({"spoiled": [3]}, "spoiled[0]", "not an object"),
    ({"made": [{"part": "rib"}]}, "made[0].stick", "is missing"),
    ({"made": [off_its_stick(why="x")]}, "made[0].why", "the keys are part, stick, from, to"),
    ({"made": [off_its_stick(part="ribs")]}, "made[0].part", "'ribs' is no part of the list; nearest: rib"),
    ({"spoiled": [off_its_stick(stick="B")]}, "spoiled[0].stick", "'B' is no stick of the list"),
    ({"made": [off_its_stick(start="x")]}, "made[0].from", "a length like"),
    ({"made": [off_its_stick("12 in", "2 in")]}, "made[0]", "has no length"),
    ({"made": [off_its_stick("90 in", "100 in")]}, "made[0]", "outside its stick, which ends at 96 in"),
    ({"made": [off_its_stick("0 in", "9 in")]}, "made[0]", "it is 9 in long, and 'rib' is 10 in"),
    (
        {"made": [off_its_stick(), off_its_stick("20 in", "30 in")]},
        "made[1]",
        "more of 'rib' are made than 1",
    ),
    (
        {"made": [off_its_stick()], "spoiled": [off_its_stick("9 in", "12 in")]},
        "spoiled[0]",
        "overlaps made[0] on 'A'",
    ),
    (
        {
            "spoiled": [
                off_its_stick("9 in", "12 in"),
                off_its_stick("40 in", "50 in"),
                off_its_stick("8 in", "10 in"),
            ]
        },
        "spoiled[2]",
        "overlaps spoiled[0]",
    ),
]


@pytest.mark.parametrize(
    ("listed", "place", "says"),
    [
        *((one_part(part=keys), place, says) for keys, place, says in PART_FAULTS),
        *((one_part(stick=keys), place, says) for keys, place, says in STICK_FAULTS),
        *((one_part(**keys), place, says) for keys, place, says in RULE_FAULTS),
        ({"parts": [{"name": "a"}]}, "parts[0].length", "missing"),
        ({"parts": [{"length": 3}]}, "parts[0].name", "missing"),
        ({"sticks": [{"length": 3}]}, "sticks[0].tag", "missing"),
        ({"parts": {}}, "parts", "not a list"),
        ({"parts": [3]}, "parts[0]", "not an object"),
        ({"parts": [{"name": "a", "length": 3}] * 2}, "parts", "'a' is used twice"),
        (
            {"parts": [{"name": name, "length": 3, "quantity": 6000} for name in "ab"]},
            "parts",
            "12,000 pieces are listed; 10,000 is the most",
        ),
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
    *(("made",), ("spoiled",), ("use_held",), ("rip_kerf",), ("planing",), ("least_piece",)),
    *(("parts", 0, "scarf"), ("parts", 0, "no_joint"), ("parts", 1, "best"), ("parts", 1, "grain")),
    *(("sticks", 1, "verdict"), ("sticks", 1, "width"), ("parts", 0, "scarf_side")),
]


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
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
