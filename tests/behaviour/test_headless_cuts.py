"""The verb `cuts`: its file read strictly, its plan checked against the file, its faults named by place."""

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.__main__ import main
from bench.core import cutting
from bench.core.cutting import CutPart, CutPlan, CutProblem, CutRules, CutStick
from bench.headless.cut_files import read_file
from bench.headless.cut_list import laid_out, problem_of
from tests.tools.cut_lists import random_problem
from tests.tools.plan_validator import faults

INCH = Fraction(254, 10_000)
KEYS = {
    *("sticks_opened", "pieces_made", "scarfed"),
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
def run(home: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path):
    """Exit status, standard output and standard error for a cut list, given as data or as text."""

    def command(listed: object, *words: str) -> tuple[int, str, str]:
        path = tmp_path / "plan.json"
        path.write_text(listed if isinstance(listed, str) else json.dumps(listed), encoding="utf-8")
        status = main(["cuts", str(path), *words])
        out, err = capsys.readouterr()
        return status, out, err.replace(str(path), "plan.json")

    return command


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


def _sawn(
    start: object = "0 in", end: object = "10 in", part: str = "rib", stick: str = "A", **more: str
) -> dict:
    """A stretch that is off its stick."""
    return {"part": part, "stick": stick, "from": start, "to": end, **more}


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
        ({}, {"verdict": "reject"}, "rejected or on hold"),
        ({}, {"verdict": "hold"}, "rejected or on hold"),
        ({"section": "2 x 2"}, {"width": "5 in", "thickness": "1 in"}, "no plank gives it"),
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


# --- what a list may say beside lengths ----------------------------------------------------------------


@pytest.fixture
def laid(ask, tmp_path: Path):
    """The JSON answer for a cut list, and the plan it was written from, compared with each other."""

    def answer(listed: dict) -> tuple[dict, CutPlan]:
        found = ask(listed)
        plan = laid_out(read_file(tmp_path / "plan.json"), cutting.MOVES).plan
        told = [
            (row["tag"], row.get("strip", 0), [(c["part"], c["from_in"], c["to_in"]) for c in row["cuts"]])
            for row in found["sticks"]
        ]
        assert told == [
            (
                row.tag,
                row.strip,
                [(p.part, float(p.start / INCH), float(p.end / INCH)) for p in row.pieces],
            )
            for row in plan.sticks
        ]
        assert (found["placed"], found["sticks_used"]) == (plan.placed, plan.sticks_used)
        assert (found["sticks_opened"], found["fewest_possible"]) == (
            plan.sticks_opened,
            plan.fewest_possible,
        )
        return found, plan

    return answer


def _inches(*numbers: object) -> list[Fraction]:
    return [Fraction(str(number)) * INCH for number in numbers]


PLANKS = {
    "kerf": "1/8",
    "rip_kerf": "3/16",
    "edge": "1/4",
    "planing": "1/16",
    "parts": [
        {"name": "cap", "length": 60, "quantity": 6, "section": "3/4 x 1", "critical": True},
        {"name": "rib", "length": "12.5", "quantity": 14, "section": "3/4 x 5/8", "best": True},
    ],
    "sticks": [
        {"tag": "P", "length": 72, "width": 5, "thickness": 1, "sg": 0.42, "defects": [[3, 2]]},
        {"tag": "Q", "length": 96, "width": 1, "thickness": 3, "sg": 0.38},
        {"tag": "S", "length": 40, "section": "5/8 x 3/4"},
    ],
}


def test_planks_are_ripped(laid) -> None:
    # The problem written out by hand: a stick with a section is never ripped, and gives its own section only.
    sizes = {"cap": _inches("0.75", 1), "rib": _inches("0.75", "0.625")}
    both, all_three = frozenset("PQ"), None
    parts = (
        CutPart("cap", 60 * INCH, 6, True, both, "", False, *sizes["cap"]),
        CutPart("rib", Fraction(25, 2) * INCH, 14, False, all_three, "", True, *sizes["rib"]),
    )
    sticks = (
        CutStick("P", 72 * INCH, (tuple(_inches(2, 3)),), 0.42, False, *_inches(5, 1)),
        CutStick("Q", 96 * INCH, (), 0.38, False, *_inches(1, 3)),
        CutStick("S", 40 * INCH),
    )
    rules = CutRules(*_inches("0.125", 0, 0, 0, 0, "0.1875", "0.25", "0.0625"))
    found, plan = laid(PLANKS)
    assert faults(CutProblem(parts, sticks, rules), plan) == []
    fences = {(row["tag"], row["strip"]): row["fence_in"] for row in found["sticks"] if "strip" in row}
    # By hand: 3/4 and a planing of 1/16 on both faces lie through the inch or across it; 5/8 needs 3/4.
    assert len(fences) >= 4 and set(fences.values()) <= {0.75, 0.875}
    assert not any("strip" in row for row in found["sticks"] if row["tag"] == "S")


def test_strips_stand_in_the_table(run) -> None:
    out = run(PLANKS)[1]
    assert "P strip 1, fence 7/8 in" in out


@pytest.mark.parametrize(("use", "placed", "tags"), [(False, 1, ["A"]), (True, 2, ["A", "H"])])
def test_sticks_on_hold_and_rejected(laid, run, use: bool, placed: int, tags: list[str]) -> None:
    listed = {
        "use_held": use,
        "parts": [{"name": "spar", "length": 90, "quantity": 3}],
        "sticks": [
            {"tag": "A", "length": 96, "verdict": "accept"},
            {"tag": "H", "length": 96, "verdict": "hold"},
            {"tag": "R", "length": 960, "verdict": "reject"},
        ],
    }
    status, out, err = run(listed, "--json")
    answer = json.loads(out)
    assert (status, answer["placed"], [row["tag"] for row in answer["sticks"]]) == (0, placed, tags)
    assert [row["tag"] for row in answer["sticks"] if row.get("on_hold") is True] == tags[1:]
    assert answer["warnings"] == (["cut from sticks on hold: H"] if use else [])
    # Wood that may not be used is no piece left either.
    assert answer["largest_offcut_in"] < 96
    status, out, err = run(listed)
    assert ("H (ON HOLD)" in out) == use and ("cut from sticks on hold: H" in err) == use


def test_a_part_too_long_is_scarfed(ask) -> None:
    # By hand: 1:12 across 3/4 in is 9 in; 130 in and one joint are 139 in of lengths.
    part = {"length": 130, "section": "3/4 x 1", "scarf": "1:12", "grain": "up", "group": "left"}
    listed = _listed(part, {"quantity": 2, "section": "3/4 x 1"}, least_piece="20 in")
    answer = ask(listed)
    (scarf,) = answer["scarfed"]
    assert (scarf["part"], scarf["overlap_in"]) == ("rib", 9)
    lengths = {row["name"]: row["length_in"] for row in scarf["lengths"]}
    assert sum(lengths.values()) == 139 and min(lengths.values()) >= 20
    cuts = [cut for row in answer["sticks"] for cut in row["cuts"]]
    assert {cut["part"]: cut["to_in"] - cut["from_in"] for cut in cuts} == lengths
    assert all((cut["grain"], cut["group"]) == ("up", "left") for cut in cuts)
    assert (answer["placed"], answer["unplaced"]) == (2, [])


@pytest.mark.parametrize(("side", "overlap"), [("width", 9), ("depth", 12)])
def test_the_side_of_a_scarf_is_that_of_the_section_as_written(ask, side: str, overlap: int) -> None:
    for section in ("3/4 x 1", "1 x 3/4"):
        part = {"length": 130, "section": section, "scarf": "1:12", "scarf_side": side}
        (scarf,) = ask(_listed(part, {"quantity": 2}))["scarfed"]
        assert scarf["overlap_in"] == (overlap if section == "3/4 x 1" else 21 - overlap)


def test_no_joint_lies_where_none_may(ask) -> None:
    barred = [[40, 62], [129, 100]]
    part = {"length": 130, "section": "3/4 x 1", "scarf": "1:12", "no_joint": barred}
    (scarf,) = ask(_listed(part, {"quantity": 2}))["scarfed"]
    first = scarf["lengths"][0]["length_in"]
    assert first - 9 >= 62 and first <= 100, "the joint is the last 9 in of the first length"
    assert ask(_listed({**part, "no_joint": [[0, 130]]}, {"quantity": 2}))["scarfed"] == []
    assert ask(_listed({**part, "scarf": "1:12"}, {"quantity": 2}, least_piece=80))["placed"] == 0


def test_scarfed_lengths_stand_in_a_table(run) -> None:
    part = {"length": 130, "section": "3/4 x 1", "scarf": "1:12"}
    out = run(_listed(part, {"quantity": 2}))[1]
    assert "Scarfed from lengths" in out and "rib a" in out and "9 in" in out


def test_group_and_grain_go_with_their_cuts(ask, run) -> None:
    listed = {
        "parts": [
            {"name": "a", "length": 3, "group": "left wing", "grain": "edge up"},
            {"name": "b", "length": 3},
        ],
        "sticks": [{"tag": "A", "length": 96}],
    }
    (row,) = ask(listed)["sticks"]
    assert {cut["part"]: (cut.get("group"), cut.get("grain")) for cut in row["cuts"]} == {
        "a": ("left wing", "edge up"),
        "b": (None, None),
    }
    assert "group left wing, grain edge up" in run(listed)[1]


def test_best_parts_come_from_the_densest_stick(ask) -> None:
    listed = {
        "parts": [{"name": "a", "length": 60}, {"name": "b", "length": 60, "best": True}],
        "sticks": [{"tag": "L", "length": 61, "sg": 0.36}, {"tag": "D", "length": 61, "sg": 0.44}],
    }
    assert {row["tag"]: row["cuts"][0]["part"] for row in ask(listed)["sticks"]} == {"L": "a", "D": "b"}


# --- what is sawn already ------------------------------------------------------------------------------


def test_pieces_made_are_wanted_no_more_and_their_wood_is_gone(laid) -> None:
    listed = _listed(
        {"quantity": 8},
        {"defects": [["60 in", "61 in"]], "quantity": 2},
        margin="1/2",
        made=[_sawn("0 in", "10 in", stick="A#2"), _sawn("30 in", "40 in", stick="A#2")],
        spoiled=[_sawn("12 in", "14 in", stick="A#2")],
    )
    found, plan = laid(listed)
    # By hand: six are left; the blade took its eighth on both sides, the margin stays with the defect.
    gone = [("0", "10.125"), ("29.875", "40.125"), ("11.875", "14.125"), ("59.5", "61.5")]
    begun = CutStick("A#2", 96 * INCH, tuple(tuple(_inches(*span)) for span in gone), started=True)
    fresh = CutStick("A#1", 96 * INCH, (tuple(_inches("59.5", "61.5")),))
    rules = CutRules(INCH / 8, *[Fraction(0)] * 4, rip_kerf=INCH / 8)
    problem = CutProblem((CutPart("rib", 10 * INCH, 6),), (fresh, begun), rules)
    assert faults(problem, plan) == []
    assert (found["pieces_made"], found["placed"]) == (2, 6)
    # Fourteen to thirty holds one, forty to sixty one, the rest three: one comes from the fresh stick.
    assert (found["sticks_used"], found["sticks_opened"], found["fewest_possible"]) == (2, 1, 1)


def test_a_stick_begun_costs_no_stick_more(ask) -> None:
    answer = ask(_listed({"quantity": 2}, {"quantity": 2}, made=[_sawn(stick="A#2")]))
    assert [row["tag"] for row in answer["sticks"]] == ["A#2"]
    assert (answer["sticks_used"], answer["sticks_opened"], answer["optimal"]) == (1, 0, True)


def test_made_pieces_are_no_waste_and_spoiled_ones_are(ask) -> None:
    listed = _listed({"quantity": 3}, {"length": 30}, kerf=0, made=[_sawn()])
    assert ask(listed)["waste_percent"] == 0
    listed = _listed({"quantity": 2}, {"length": 30}, kerf=0, spoiled=[_sawn()])
    assert ask(listed)["waste_percent"] == pytest.approx(100 / 3)


def test_pieces_made_of_wood_that_is_not_accepted_are_told(run) -> None:
    listed = _listed({"quantity": 1}, {"verdict": "reject"}, made=[_sawn()])
    out = run(listed, "--json")[1]
    assert json.loads(out)["warnings"] == ["sawn already from sticks that are rejected or on hold: A"]


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, 10_000), st.data())
def test_an_answer_given_back_as_made_leaves_the_rest_where_it_lay(ask, tmp_path, seed: int, data) -> None:
    """Places are floats in the answer; what was flush is flush again, to the last digit."""
    listed = _as_listed(random_problem(seed))
    found = ask(listed)
    plan = laid_out(read_file(tmp_path / "plan.json"), cutting.MOVES).plan
    made, left = [], []
    for row, told in zip(plan.sticks, found["sticks"], strict=True):
        kept = []
        for piece, cut in zip(row.pieces, told["cuts"], strict=True):
            if data.draw(st.booleans()):
                made.append(_sawn(cut["from_in"], cut["to_in"], cut["part"], row.tag))
            else:
                kept.append(piece)
        left.append(replace(row, pieces=tuple(kept)))
    (tmp_path / "rest.json").write_text(json.dumps({**listed, "made": made}), encoding="utf-8")
    problem = problem_of(read_file(tmp_path / "rest.json"))
    rest = replace(plan, sticks=tuple(row for row in left if row.pieces))
    again = cutting.adopt(problem, rest, complete=False)
    assert again is not None
    assert again.placed == plan.placed - len(made)
    begun = {cut["stick"] for cut in made}
    assert again.sticks_opened == len({row.tag for row in rest.sticks} - begun)
    assert again.unplaced or faults(problem, again) == []


def _as_listed(problem: CutProblem) -> dict:
    """A problem of the generator as a list; what may come from what is left out."""
    rules = problem.rules

    def mm(length: Fraction) -> str:
        return f"{float(length * 1000):.9g} mm"

    return {
        **{
            key: mm(getattr(rules, key)) for key in ("kerf", "end_trim", "squaring", "least_offcut", "margin")
        },
        "parts": [
            {"name": p.name, "length": mm(p.length), "quantity": p.quantity, "critical": p.critical}
            for p in problem.parts
        ],
        "sticks": [{"tag": s.tag, "length": mm(s.length)} for s in problem.sticks],
    }


# --- how long is searched ------------------------------------------------------------------------------


def test_moves_are_those_of_the_planner(run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    plan = cutting.plan
    monkeypatch.setattr(
        cutting, "plan", lambda problem, moves, *more, **keys: (asked.append(moves), plan(problem, 5))[1]
    )
    for words in ([], ["--moves", "0"], ["--moves", "1000000"]):
        assert run(_listed(), *words)[0] == 0
    assert asked == [cutting.MOVES, 0, 1_000_000]


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
    status, out, err = run(_listed(), "--moves", value)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert err.startswith("tenthmark: --moves: ") and says in err


def test_the_longest_list_is_answered(ask) -> None:
    listed = _listed({"quantity": 10_000}, {"quantity": 3})
    answer = ask(listed)
    # By hand: nine of 10 in and eight kerfs of 1/8 in are 91 in of the 96.
    assert (answer["placed"], answer["unplaced"][0]["quantity"]) == (27, 9_973)


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
    ({"made": [_sawn(why="x")]}, "made[0].why", "the keys are part, stick, from, to"),
    ({"made": [_sawn(part="ribs")]}, "made[0].part", "'ribs' is no part of the list; nearest: rib"),
    ({"spoiled": [_sawn(stick="B")]}, "spoiled[0].stick", "'B' is no stick of the list"),
    ({"made": [_sawn(start="x")]}, "made[0].from", "a length like"),
    ({"made": [_sawn("12 in", "2 in")]}, "made[0]", "has no length"),
    ({"made": [_sawn("90 in", "100 in")]}, "made[0]", "outside its stick, which ends at 96 in"),
    ({"made": [_sawn("0 in", "9 in")]}, "made[0]", "it is 9 in long, and 'rib' is 10 in"),
    ({"made": [_sawn(), _sawn("20 in", "30 in")]}, "made[1]", "more of 'rib' are made than 1"),
    ({"made": [_sawn()], "spoiled": [_sawn("9 in", "12 in")]}, "spoiled[0]", "overlaps made[0] on 'A'"),
    (
        {"spoiled": [_sawn("9 in", "12 in"), _sawn("40 in", "50 in"), _sawn("8 in", "10 in")]},
        "spoiled[2]",
        "overlaps spoiled[0]",
    ),
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
