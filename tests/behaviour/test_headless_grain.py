"""The verb `grain`. Expected figures: METHODS by hand for two faces, wh282 table 5-12, anc18 table 2-4."""

import json
from pathlib import Path

import pytest

from bench.__main__ import main


@pytest.fixture
def run(home: Path, capsys: pytest.CaptureFixture[str]):
    """Run the verb: exit status, standard output, standard error."""

    def go(*words: str) -> tuple[int, str, str]:
        try:
            status = main(["grain", *words])
        except SystemExit as leaving:
            status = int(leaving.code or 0)
        return status, *capsys.readouterr()

    return go


def answer(run, *slopes: str) -> dict:
    words = [word for slope in slopes for word in ("--slope", slope)]
    status, out, err = run(*words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def test_two_faces(run) -> None:
    found = answer(run, "15", "20")
    assert found["combined"] == pytest.approx(12.0)  # 1/sqrt(1/225 + 1/400)
    assert found["judged"] == pytest.approx(12.0)
    assert found["limit"] == pytest.approx(15)  # anc19 sec. 2.4100
    assert (found["verdict"], found["warnings"]) == ("reject", [])
    assert found["reasons"] == ["1:12 is steeper than 1:15"]
    # anc18 table 2-4, row 1:12.
    design = {"bending": 88, "stiffness": 97, "compression": 100, "tension": 85}
    assert found["design_percent"] == pytest.approx(design)


def test_the_row_at_the_limit(run) -> None:
    found = answer(run, "1:15", "straight")
    assert found["verdict"] == "accept"
    # wh282 table 5-12, row 1:15.
    assert found["strength_percent"] == pytest.approx({"bending": 89, "impact": 81, "compression": 100})


def test_slight_slopes_are_not_combined(run) -> None:
    found = answer(run, "21", "21")
    assert found["judged"] == pytest.approx(21)
    assert found["combined"] == pytest.approx(14.849, abs=0.001)  # 21 / sqrt(2)
    assert found["verdict"] == "accept"


@pytest.mark.parametrize("text", ["18", "1:18", "1 in 18"])
def test_one_face_alone_is_on_hold_and_says_what_settles_it(run, text: str) -> None:
    found = answer(run, text)
    assert found["verdict"] == "hold" and found["combined"] == pytest.approx(18)
    assert "measure the face beside it" in found["reasons"][0]
    assert found["warnings"] == found["reasons"]


def test_one_face_too_steep_is_rejected(run) -> None:
    assert answer(run, "14")["verdict"] == "reject"


def test_straight_grain_has_no_run(run) -> None:
    found = answer(run, "0", "straight")
    assert found["combined"] is None and found["judged"] is None
    assert found["verdict"] == "accept"
    assert set(found["strength_percent"].values()) == {100.0}


def test_past_the_design_table_only_the_handbook_speaks(run) -> None:
    found = answer(run, "7", "straight")
    assert found["design_percent"] is None and set(found["strength_percent"]) == {
        *("bending", "impact", "compression"),
    }
    assert any("ends at 1:8" in warning for warning in found["warnings"])
    unclear = answer(run, "9", "straight")
    assert any("printed unclearly" in warning for warning in unclear["warnings"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--slope", "4"), "--slope: 4 is not possible here; at most 1:5"),
        (("--slope", "6", "--slope", "6"), "--slope: 6, 6 is not possible here"),
        (("--slope", "steep"), "--slope: 'steep'"),
        (("--slope", "-3"), "--slope: '-3'"),
        ((), "--slope: not given"),
        (("--slope", "15", "--slope", "15", "--slope", "15"), "--slope: given more than twice"),
    ],
)
def test_refusals_are_one_line(run, words: tuple[str, ...], said: str) -> None:
    status, out, err = run(*words)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"tenthmark: {said}")


def test_table_and_working(run) -> None:
    status, out, _ = run("--slope", "15", "--slope", "15", "--working")
    assert status == 0
    assert "1:10.6" in out and "REJECT" in out
    assert "s = sqrt(s_1^2 + s_2^2)" in out and "source: wh282 table 5-12" in out
    assert "never multiply" in out and "anc18 table 2-4" in out
