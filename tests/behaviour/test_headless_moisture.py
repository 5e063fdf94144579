"""The verb `moisture` beyond one direction and one stick: both directions, a stick in the air, wet wood."""

import pytest

from bench.__main__ import main

pytestmark = pytest.mark.usefixtures("home")
ASH = ("moisture", "--species", "white_ash", "--size", "6 in")
AIR = ("moisture", "--temperature", "70 F", "--humidity", "65")


def test_both_directions_the_greater_first(ask) -> None:
    # wh190 table 13-5: white ash 0.00274 tangential, 0.00169 radial; 6 in from 12 to 7 %.
    both = ask(*ASH, "--ring", "both", "--from", "12", "--to", "7")
    for ring in ("tangential", "radial"):
        one = ask(*ASH, "--ring", ring, "--from", "12", "--to", "7")
        assert both[ring] == {key: one[key] for key in ("change_in", "size_in")}
    assert both["tangential"]["change_in"] == pytest.approx(-0.0822, abs=5e-5)
    assert both["radial"]["change_in"] == pytest.approx(-0.0507, abs=5e-5)
    assert (both["change_in"], both["size_in"]) == tuple(both["tangential"].values())


def test_a_stick_in_that_air(ask, capsys: pytest.CaptureFixture[str]) -> None:
    bare = ask(*AIR)
    assert set(bare) == {"equilibrium_percent", "model", "warnings"}
    wet, dry = (ask(*AIR, "--stick-moisture", moisture) for moisture in ("14", "9"))
    assert wet["distance_percent"] == pytest.approx(14 - bare["equilibrium_percent"])
    assert dry["distance_percent"] == pytest.approx(9 - bare["equilibrium_percent"])
    for moisture, way in (("14", "it will dry"), ("9", "it will take up water")):
        assert main([*AIR, "--stick-moisture", moisture]) == 0
        assert way in capsys.readouterr().out
    assert main(["moisture", "--stick-moisture", "9"]) == 2
    assert "--temperature" in capsys.readouterr().err


def test_above_saturation_is_clamped_and_said(ask, capsys: pytest.CaptureFixture[str]) -> None:
    words = (*ASH, "--ring", "tangential", "--to", "8")
    wet, green = (ask(*words, "--from", moisture) for moisture in ("35", "30"))
    assert wet["change_in"] == green["change_in"]
    said = [[text for text in found["warnings"] if "clamped to 30 %" in text] for found in (wet, green)]
    assert [len(texts) for texts in said] == [1, 0]
    assert main([*words, "--from", "35", "--working"]) == 0
    out, err = capsys.readouterr()
    assert "above 30 % counts as 30 %" in out and "clamped to 30 %" in err
