"""The verb `cuts` on a list: its plan can be sawn, why a part is left out, and how long it searches."""

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.core import cutting
from tests.tools import cut_list_files
from tests.tools.cut_list_files import KEYS, LIST, one_part

run = cut_list_files.run


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
    listed = one_part({"quantity": 20}, {"quantity": 3})
    assert [stick["tag"] for stick in ask(listed)["sticks"]] == ["A#1", "A#2", "A#3"]
    assert [stick["tag"] for stick in ask(one_part())["sticks"]] == ["A"]


def test_a_part_longer_than_any_stick_is_left_out_with_its_reason(ask) -> None:
    answer = ask(one_part({"length": "200 in", "quantity": 2, "critical": True}))
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
        ({}, {"verdict": "reject"}, "rejected or on hold"),
        ({}, {"verdict": "hold"}, "rejected or on hold"),
        ({"section": "2 x 2"}, {"width": "5 in", "thickness": "1 in"}, "no plank gives it"),
    ],
)
def test_why_a_part_is_left_out(ask, part: dict, stick: dict, why: str) -> None:
    (out,) = ask(one_part(part, stick))["unplaced"]
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
    assert ask(one_part(part, stick))["placed"] == 1


def test_a_blade_is_an_eighth_unless_said(ask) -> None:
    # The cut list's own default; derived: two parts of 10 in need 20 1/8 in with it, and 20 in without.
    assert ask(one_part({"quantity": 2}, {"length": "20 1/8"}))["placed"] == 2
    assert ask(one_part({"quantity": 2}, {"length": 20}))["placed"] == 1
    assert ask(one_part({"quantity": 2}, {"length": 20}, kerf=0))["placed"] == 2


@pytest.mark.parametrize(
    "defect", [["30", "32"], ["32", "30"], ["30", "30"], [30, 32.0], ["96", "96"], ["0", "96"]]
)
def test_defects_on_the_stick_are_taken(ask, defect: list) -> None:
    answer = ask(one_part(stick={"defects": [defect]}))
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
    out = run(one_part({"name": "[bold]rib[/bold] :smile: \x1b[31m"}))[1]
    assert "[bold]rib[/bold] :smile:" in out
    assert "\x1b" not in out


# --- how long is searched ------------------------------------------------------------------------------


def test_moves_are_those_of_the_planner(run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    plan = cutting.plan
    monkeypatch.setattr(
        cutting, "plan", lambda problem, moves, *more, **keys: (asked.append(moves), plan(problem, 5))[1]
    )
    for words in ([], ["--moves", "0"], ["--moves", "1000000"]):
        assert run(one_part(), *words)[0] == 0
    assert asked == [None, 0, 1_000_000]


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ("1000001", "0 to 1,000,000"),
        ("-1", "negative"),
        ("many", "a whole number"),
        ("1.5", "a whole number"),
    ],
)
def test_moves_that_cannot_be(run, value: str, says: str) -> None:
    status, out, err = run(one_part(), "--moves", value)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert err.startswith("tenthmark: --moves: ") and says in err


def test_the_longest_list_is_answered(ask) -> None:
    listed = one_part({"quantity": 10_000}, {"quantity": 3})
    answer = ask(listed)
    # By hand: nine of 10 in and eight kerfs of 1/8 in are 91 in of the 96.
    assert (answer["placed"], answer["unplaced"][0]["quantity"]) == (27, 9_973)


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
