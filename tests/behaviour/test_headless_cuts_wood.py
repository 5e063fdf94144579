"""The verb `cuts` on planks, sticks on hold, scarfed parts, groups and grain, and on pieces sawn already."""

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.core import cutting
from bench.core.cutting import CutPart, CutPlan, CutProblem, CutRules, CutStick
from bench.headless.cut_files import read_file
from bench.headless.cut_list import laid_out, problem_of
from tests.tools import cut_list_files
from tests.tools.cut_list_files import off_its_stick, one_part
from tests.tools.cut_lists import random_problem
from tests.tools.plan_validator import faults

run = cut_list_files.run

INCH = Fraction(254, 10_000)


# --- what a list may say beside lengths ----------------------------------------------------------------


@pytest.fixture
def laid(ask, tmp_path: Path):
    """The JSON answer for a cut list, and the plan it was written from, compared with each other."""

    def answer(listed: dict) -> tuple[dict, CutPlan]:
        found = ask(listed)
        plan = laid_out(read_file(tmp_path / "plan.json"), None).plan
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
    listed = one_part(part, {"quantity": 2, "section": "3/4 x 1"}, least_piece="20 in")
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
        (scarf,) = ask(one_part(part, {"quantity": 2}))["scarfed"]
        assert scarf["overlap_in"] == (overlap if section == "3/4 x 1" else 21 - overlap)


def test_no_joint_lies_where_none_may(ask) -> None:
    barred = [[40, 62], [129, 100]]
    part = {"length": 130, "section": "3/4 x 1", "scarf": "1:12", "no_joint": barred}
    (scarf,) = ask(one_part(part, {"quantity": 2}))["scarfed"]
    first = scarf["lengths"][0]["length_in"]
    assert first - 9 >= 62 and first <= 100, "the joint is the last 9 in of the first length"
    assert ask(one_part({**part, "no_joint": [[0, 130]]}, {"quantity": 2}))["scarfed"] == []
    assert ask(one_part({**part, "scarf": "1:12"}, {"quantity": 2}, least_piece=80))["placed"] == 0


def test_scarfed_lengths_stand_in_a_table(run) -> None:
    part = {"length": 130, "section": "3/4 x 1", "scarf": "1:12"}
    out = run(one_part(part, {"quantity": 2}))[1]
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
    listed = one_part(
        {"quantity": 8},
        {"defects": [["60 in", "61 in"]], "quantity": 2},
        margin="1/2",
        made=[off_its_stick("0 in", "10 in", stick="A#2"), off_its_stick("30 in", "40 in", stick="A#2")],
        spoiled=[off_its_stick("12 in", "14 in", stick="A#2")],
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
    answer = ask(one_part({"quantity": 2}, {"quantity": 2}, made=[off_its_stick(stick="A#2")]))
    assert [row["tag"] for row in answer["sticks"]] == ["A#2"]
    assert (answer["sticks_used"], answer["sticks_opened"], answer["optimal"]) == (1, 0, True)


def test_made_pieces_are_no_waste_and_spoiled_ones_are(ask) -> None:
    listed = one_part({"quantity": 3}, {"length": 30}, kerf=0, made=[off_its_stick()])
    assert ask(listed)["waste_percent"] == 0
    listed = one_part({"quantity": 2}, {"length": 30}, kerf=0, spoiled=[off_its_stick()])
    assert ask(listed)["waste_percent"] == pytest.approx(100 / 3)


def test_pieces_made_of_wood_that_is_not_accepted_are_told(run) -> None:
    listed = one_part({"quantity": 1}, {"verdict": "reject"}, made=[off_its_stick()])
    out = run(listed, "--json")[1]
    assert json.loads(out)["warnings"] == ["sawn already from sticks that are rejected or on hold: A"]


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, 10_000), st.data())
def test_an_answer_given_back_as_made_leaves_the_rest_where_it_lay(ask, tmp_path, seed: int, data) -> None:
    """Places are floats in the answer; what was flush is flush again, to the last digit."""
    listed = _as_listed(random_problem(seed))
    found = ask(listed)
    plan = laid_out(read_file(tmp_path / "plan.json"), None).plan
    made, left = [], []
    for row, told in zip(plan.sticks, found["sticks"], strict=True):
        kept = []
        for piece, cut in zip(row.pieces, told["cuts"], strict=True):
            if data.draw(st.booleans()):
                made.append(off_its_stick(cut["from_in"], cut["to_in"], cut["part"], row.tag))
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
