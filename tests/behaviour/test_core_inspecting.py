"""The points of a whole stick judged for a use: rings, slope, moisture, edge grain, bow, and what is lacking.

Limits: anc19 and ac4313 as typed in tests/checks/test_acceptance_limits.py.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import ASH, SPRUCE, typed

from bench.core import inspecting as seen
from bench.core.acceptance import ACCEPT, HOLD, REJECT, Verdict
from bench.core.errors import UnknownName
from bench.core.holding import worst
from bench.core.inspecting import judge_use
from bench.core.limits import AC4313, ANC19, SMALL_PART, SOLID_SPAR, SPAR_FLANGE, USES
from bench.core.records import House, Settings, Typed, inches
from bench.sheets import inspecting as words
from tests.tools.inspected import FIGURE, GOOD, PLAIN, SOUND, found, judged, one_in, per_inch, point, seen_as


@pytest.mark.parametrize("use", USES)
def test_a_sound_stick_is_accepted(use: str) -> None:
    judgement = judged(use=use)
    assert (judgement.word, judgement.cut_round) == (ACCEPT, ())
    names = {one.name for one in judgement.points}
    expected = {"gravity", "rings", "slope", "moisture", "looked"}
    expected |= {"bow"} if use != SMALL_PART else set()
    assert names == expected | ({"edge_grain"} if use == SOLID_SPAR else set())
    assert all((one.margin or 0) >= 0 for one in judgement.points)


BARE = {
    "rings": {"rings": None},
    "slope": {"slope_one": None, "slope_two": None},
    "edge_grain": {"edge_grain": None},
    "bow": {"bow": None},
    "looked": {"looked": False},
}


@pytest.mark.parametrize("name", BARE)
def test_what_is_not_measured_is_on_hold(name: str) -> None:
    judgement = judged(seen_as(**BARE[name]), SOLID_SPAR)
    assert judgement.word == HOLD == point(judgement, name).word
    assert judgement.deciding.name == name
    assert "yet" in words.reason(judgement.deciding)


def test_without_a_moisture_or_a_gravity_it_is_on_hold() -> None:
    assert judged(replace(SOUND, moisture=None)).deciding.name == "moisture"
    unread = Verdict(HOLD, ("not_read",), minimum=FIGURE)
    assert judged(gravity=unread).deciding.name == "gravity"
    assert judged(gravity=Verdict(HOLD, ("cannot_read",), detail="no species"), species=None).word == HOLD


def test_an_unknown_use_is_refused() -> None:
    with pytest.raises(UnknownName, match="use"):
        judged(use="wing")


@pytest.mark.parametrize(("rings", "word"), [("6", ACCEPT), ("5.9", REJECT), ("20", ACCEPT)])
def test_rings_of_spruce(rings: str, word: str) -> None:
    """anc19 table 2-13: 6 in any inch."""
    assert point(judged(seen_as(rings=per_inch(rings))), "rings").word == word


def test_no_rings_are_asked_of_a_wood_without_a_published_limit_but_the_house_may_ask() -> None:
    ring = point(judged(species=ASH), "rings")
    assert (ring.word, ring.reason, ring.held) == (ACCEPT, "no_limit", ())
    for rings, word in (("4", REJECT), ("6", ACCEPT), (None, HOLD)):
        seen = replace(SOUND.inspection, rings=None if rings is None else per_inch(rings))
        stick = replace(SOUND, inspection=seen)
        ring = point(judged(stick, species=ASH, settings=Settings(house=House(rings=per_inch("5")))), "rings")
        assert ring.word == word


def test_a_recalled_figure_never_decides() -> None:
    figures = tuple(
        replace(one, memory=True) if one.quantity == "rings_minimum" else one for one in SPRUCE.figures
    )
    for rings in ("3", "8"):
        ring = point(
            judged(seen_as(rings=per_inch(rings)), species=replace(SPRUCE, figures=figures)), "rings"
        )
        assert (ring.word, ring.reason) == (HOLD, "limit_recalled")
    recalled = replace(FIGURE, memory=True)
    unsure = Verdict(HOLD, ("limit_recalled",), 0.37, 0.36, 0.38, recalled)
    house = Settings(house=House(gravity_over=typed("0.1")))
    assert point(judged(gravity=unsure, settings=house), "gravity").word == HOLD


SLOPES = [
    # one face, the other, word: 1:15 by both documents, together; not combined to 1:21 (anc19 sec. 2.4102)
    ("15", "1000000", REJECT),
    ("15", None, HOLD),
    ("14.9", None, REJECT),
    ("15", "15", REJECT),
    ("21", "21", ACCEPT),
    ("20.9", "21", REJECT),
    ("22", "20.5", REJECT),  # 1:14.998
    ("22", "20.6", ACCEPT),  # 1:15.04
]


@pytest.mark.parametrize(("one", "two", "word"), SLOPES)
def test_slope(one: str, two: str | None, word: str) -> None:
    stick = seen_as(slope_one=one_in(one), slope_two=None if two is None else one_in(two))
    slope = point(judged(stick), "slope")
    assert slope.word == word
    assert {held.document for held in slope.held} == {ANC19, AC4313}


def test_at_the_limit_with_a_straight_face() -> None:
    straight = Typed(Fraction(0), "straight")
    assert point(judged(seen_as(slope_one=one_in("15"), slope_two=straight)), "slope").word == ACCEPT


def test_one_face_alone_says_so() -> None:
    slope = point(judged(seen_as(slope_two=None)), "slope")
    assert slope.reason == "second_face" and "face beside it" in words.reason(slope)


MOISTURES = [
    # percent, by anc19 (8 to 12), by ac4313 (8 to 16)
    ("8", ACCEPT, ACCEPT),
    ("12", ACCEPT, ACCEPT),
    ("12.1", HOLD, ACCEPT),
    ("16", HOLD, ACCEPT),
    ("16.1", HOLD, HOLD),
    ("7.9", HOLD, HOLD),
    ("20.1", HOLD, HOLD),
]


@pytest.mark.parametrize(("percent", "anc19", "ac4313"), MOISTURES)
def test_moisture(percent: str, anc19: str, ac4313: str) -> None:
    stick = replace(SOUND, moisture=typed(Fraction(percent) / 100))
    by = {
        document: point(judged(stick, settings=Settings(document=document)), "moisture")
        for document in ("stricter", ANC19, AC4313)
    }
    assert (by[ANC19].word, by[AC4313].word) == (anc19, ac4313)
    assert by["stricter"].word == worst((anc19, ac4313))


def test_above_20_percent_fungus_is_likely() -> None:
    """ac4313 par. 1-28 a and 1-29 g."""
    damp = [
        point(judged(replace(SOUND, moisture=typed(Fraction(percent) / 100))), "moisture")
        for percent in ("20", "20.1")
    ]
    assert [one.reason for one in damp] == ["condition", "fungus_likely"]
    assert "decay" in words.reason(damp[1])


def test_edge_grain_is_asked_of_a_solid_spar() -> None:
    """anc19 sec. 2.4211: two thirds."""
    assert point(judged(seen_as(edge_grain=typed(Fraction(2, 3))), SOLID_SPAR), "edge_grain").word == ACCEPT
    flat = seen_as(edge_grain=typed("0.66"))
    assert judged(flat, SOLID_SPAR).word == REJECT
    assert judged(flat, SPAR_FLANGE).word == ACCEPT


def test_bow() -> None:
    """0.93 in x (96/192)^2 / 3 = 0.0775 in over the whole stick; over 48 in a quarter of it."""
    assert judged(seen_as(bow=inches("0.077")), SPAR_FLANGE).word == ACCEPT
    assert judged(seen_as(bow=inches("0.078")), SPAR_FLANGE).word == REJECT
    assert judged(seen_as(bow=inches("0.02"), bow_over=inches("48")), SPAR_FLANGE).word == REJECT
    assert judged(seen_as(bow=inches("0.019"), bow_over=inches("48")), SPAR_FLANGE).word == ACCEPT
    assert judged(seen_as(bow=inches("0.078"), bow_over=inches("500")), SPAR_FLANGE).word == REJECT
    assert judged(seen_as(bow=inches("3")), SMALL_PART).word == ACCEPT


def test_points_have_the_names_that_are_exported() -> None:
    split = replace(SOUND, defects=(found("split"),), condemned="dropped")
    judgement = judge_use(split, SPRUCE, GOOD, SOLID_SPAR, PLAIN, ("S-3: rot",))
    names = {one.name for one in judgement.points if one.defect is None}
    assert names == set(seen.POINTS)


def test_what_is_condemned_is_rejected_for_everything_whatever_was_measured() -> None:
    for use in USES:
        assert judged(use=use).word == ACCEPT
        condemned = judged(replace(SOUND, condemned="dropped on the floor"), use)
        assert condemned.word == REJECT
        assert words.reason(condemned.deciding) == "condemned: nothing more is made of it"
