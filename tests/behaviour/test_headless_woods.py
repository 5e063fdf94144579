"""The verb `woods`: every species in place of the plan's, best first, none left out."""

from typing import Any

import pytest

from bench.__main__ import main
from bench.core.resizing import CAPACITIES
from bench.library import load

pytestmark = pytest.mark.usefixtures("home")
SPRUCE = ("woods", "--plan", "sitka_spruce", "--size", "1")


def row(found: dict[str, Any], species: str) -> dict[str, Any]:
    rows = [one for one in found["ranking"] if one["species"] == species]
    assert len(rows) == 1
    return rows[0]


@pytest.mark.parametrize(
    ("match", "side", "weight", "bending", "stiffness"),
    [
        # METHODS 7-A: ash side in, then ash over spruce.
        ("weight", 0.8165, 1.000, 0.8005, 0.4926),
        ("bending", 0.8794, 1.160, 1.000, 0.6627),
        ("stiffness", 0.9746, 1.425, 1.3615, 1.000),
    ],
)
def test_ash_for_spruce_stands_among_them(
    ask,
    match: str,
    side: float,
    weight: float,
    bending: float,
    stiffness: float,
) -> None:
    ash = row(ask(*SPRUCE, "--match", match), "white_ash")
    assert ash["width_in"] == ash["depth_in"] == pytest.approx(side, abs=5e-5)
    assert ash["width_mm"] == pytest.approx(side * 25.4, abs=2e-3)
    assert ash["ratios"]["weight"] == pytest.approx(weight, abs=5e-4)
    assert ash["ratios"]["bending"] == pytest.approx(bending, abs=5e-5)
    assert ash["ratios"]["stiffness"] == pytest.approx(stiffness, abs=5e-5)


@pytest.mark.parametrize("match", ["bending", "all", "bearing"])
@pytest.mark.parametrize("figures", ["handbook", "aircraft"])
def test_best_first_and_none_left_out(ask, match: str, figures: str) -> None:
    found = ask(*SPRUCE, "--match", match, "--figures", figures)
    weights = [one["ratios"]["weight"] for one in found["ranking"]]
    assert weights == sorted(weights) and len(weights) > 3
    species = [one["species"] for place in ("ranking", "not_compared", "refused") for one in found[place]]
    assert sorted(species) == sorted(load().species)
    assert all(one["reason"] for place in ("not_compared", "refused") for one in found[place])
    for one in found["ranking"]:
        assert set(one["weaker"]) == {name for name in CAPACITIES if one["ratios"].get(name, 1) < 1 - 1e-9}
    assert figures == "handbook" or "aircraft design values" in found["basis"]


def test_the_same_as_section_says(ask) -> None:
    more = ("--match", "stiffness", "--hold", "width", "--length", "18", "--grid", "1/32")
    ash = row(ask(*SPRUCE, *more), "white_ash")
    alone = ask("section", "--use", "white_ash", *SPRUCE[1:], *more)
    for key in (
        "width_in",
        "depth_in",
        "width_mm",
        "depth_mm",
        "ratios",
        "shop_ratios",
        "weaker",
        "shop_size",
    ):
        assert ash[key] == alone[key], key


def test_the_working_is_that_of_the_best(ask) -> None:
    found = ask(*SPRUCE, "--match", "bending", "--working")
    best = found["ranking"][0]["name"]
    assert any(best in line for line in found["working"])
    assert not any("white ash" in line for line in found["working"])


def test_own_capacities(ask) -> None:
    found = ask(*SPRUCE, "--match", "own", "--own", "bending, shear")
    for one in found["ranking"]:
        assert min(one["ratios"]["bending"], one["ratios"]["shear"]) == pytest.approx(1)


def test_the_table_reads_without_colour(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*SPRUCE, "--match", "all", "--units", "mm"]) == 0
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert any(line.startswith("Sitka spruce") and "25.4 x 25.4 mm" in line for line in lines)
    assert "NOT COMPARED" in out and "not known" in out
    assert "designer" in err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--match", "looks"), "--match"),
        (("--match", "own"), "--own: not given"),
        (("--match", "own", "--own", "beauty"), "--own"),
        (("--match", "bending", "--own", "bending"), "--own: belongs to --match own"),
        (("--match", "bending", "--length", "0"), "--length"),
        (("--match", "bending", "--figures", "aircraft", "--moisture", "12"), "--moisture"),
        (("--match", "bending", "--figures", "guess"), "--figures"),
        (("--match", "bending", "--grid", "0"), "--grid"),
        ((), "--match"),
    ],
)
def test_what_cannot_be_answered(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    assert main([*SPRUCE, *words]) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err and len(err.splitlines()) == 1


def test_an_unknown_wood(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["woods", "--plan", "sitka", "--size", "1", "--match", "weight"]) == 2
    assert "sitka_spruce" in capsys.readouterr().err


def test_a_plan_whose_wood_lacks_the_figure(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["woods", "--plan", "balsa", "--size", "1", "--match", "bearing"]) == 2
    said = capsys.readouterr().err
    assert "crushing strength across the grain" in said and "_" not in said
    assert "possible matches: weight, bending, stiffness, column" in said and "bearing," not in said
