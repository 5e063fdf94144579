"""Which limit governs a point: the document chosen, the other one, the species' own source, the house."""

from dataclasses import replace

import pytest
from core_cases import SPRUCE, typed, with_figure

from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.holding import HOUSE
from bench.core.limits import AC4313, ANC19, SOLID_SPAR
from bench.core.records import House, Settings, inches
from tests.tools.inspected import found, judged, of_defect, one_in, per_inch, point, says, seen_as


def test_the_chosen_document_governs_and_the_other_stays_shown() -> None:
    streak = found("compression_wood", size="0.1", edge="1/2")
    assert of_defect(streak, use=SOLID_SPAR).word == REJECT
    assert of_defect(streak, use=SOLID_SPAR, document=AC4313).word == REJECT
    alone = of_defect(streak, use=SOLID_SPAR, document=ANC19)
    assert alone.word == HOLD and says(alone, AC4313) == REJECT
    assert alone.governing is not None and alone.governing.document == ANC19
    knot = found("knot", size="0.188", edge="1")
    assert of_defect(knot, document=AC4313).reason == "permitted"
    assert of_defect(knot, document=ANC19).reason == of_defect(knot).reason == "cut_round"


def test_where_the_chosen_document_is_silent_the_other_governs() -> None:
    knot = found("knot", size="1/2", edge="1")
    silent = of_defect(knot, use=SOLID_SPAR, document=ANC19)
    assert silent.reason == "cut_round" and silent.governing is not None
    assert silent.governing.document == AC4313
    rings = point(judged(seen_as(rings=per_inch("5")), settings=Settings(document=AC4313)), "rings")
    assert rings.word == REJECT


def test_the_house_is_stricter() -> None:
    own = House(
        gravity_over=typed("0.04"),
        rings=per_inch("9"),
        slope=one_in("20"),
        moisture_low=typed("0.09"),
        moisture_high=typed("0.095"),
    )
    for document in ("stricter", ANC19, AC4313):
        judgement = judged(settings=Settings(document=document, house=own))
        by_name = {one.name: one for one in judgement.points}
        assert by_name["gravity"].word == HOLD  # 0.36 + 0.04 lies within 0.39 to 0.43
        assert by_name["rings"].word == REJECT
        assert by_name["slope"].word == REJECT  # 1:30 and 1:25 are together 1:19.2
        assert by_name["moisture"].word == HOLD
        assert all(by_name[name].governing.document == HOUSE for name in by_name if name != "looked")


def test_the_house_measures_knots() -> None:
    knot = found("knot", size="0.15", edge="1")
    assert of_defect(knot).reason == "permitted"
    assert of_defect(knot, knot=inches("0.14")).reason == "cut_round"
    assert of_defect(knot, knot=inches("2")).reason == "permitted"
    assert of_defect(found("knot", size="1/2", edge="1"), knot=inches("2")).reason == "cut_round"


@pytest.mark.parametrize(
    ("over", "word"), [("0.02", ACCEPT), ("0.03", ACCEPT), ("0.031", HOLD), ("0.07", HOLD), ("0.071", REJECT)]
)
def test_the_house_margin_over_the_minimum_is_held_against_the_band(over: str, word: str) -> None:
    """Band 0.39 to 0.43, minimum 0.36 (anc19 table 2-13)."""
    gravity = point(judged(settings=Settings(house=House(gravity_over=typed(over)))), "gravity")
    assert gravity.word == word


def test_a_species_own_source_counts_whatever_document_is_chosen() -> None:
    """Invented: a stricter slope of a user's own specification."""
    figure = SPRUCE.find("grain_slope_limit")
    assert figure is not None
    own = replace(figure, value=1 / 40, source="own_specification")
    others = tuple(one for one in SPRUCE.figures if one.quantity != "grain_slope_limit")
    species = replace(SPRUCE, figures=(*others, own))
    for document in ("stricter", ANC19, AC4313):
        slope = point(judged(species=species, settings=Settings(document=document)), "slope")
        assert slope.word == REJECT and slope.governing.document == "own_specification"


def test_a_lower_minimum_of_rings_moves_the_limit() -> None:
    species = with_figure(SPRUCE, "rings_minimum", "", 4 / 0.0254)
    assert point(judged(seen_as(rings=per_inch("5"))), "rings").word == REJECT
    assert point(judged(seen_as(rings=per_inch("5")), species=species), "rings").word == ACCEPT
