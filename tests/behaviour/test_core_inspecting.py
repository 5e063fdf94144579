"""A stick judged for a use: every point, every kind of defect, and what must hold for all sticks.

Limits: anc19 and ac4313 as typed in tests/checks/test_acceptance_limits.py. What is cut round and what spoils
the whole stick: common practice, no source.
"""

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import ASH, SPRUCE, typed, with_figure
from hypothesis import given
from hypothesis import settings as effort
from hypothesis import strategies as st

from bench.core import acceptance, limits
from bench.core import inspecting as seen
from bench.core.acceptance import ACCEPT, HOLD, REJECT, Verdict
from bench.core.defects import SPOILS_STICK
from bench.core.edits import PutStick
from bench.core.errors import OutOfRange, UnknownName
from bench.core.holding import HOUSE, IF_NO_BREAKS, worst
from bench.core.inspecting import KEPT_IN, Judgement, Point, judge_use
from bench.core.limits import AC4313, ANC19, KINDS, SMALL_PART, SOLID_SPAR, SPAR_FLANGE, USES
from bench.core.records import Defect, House, Inspection, Job, Settings, Species, Stick, Typed, inches
from bench.sheets import inspecting as words
from bench.sheets import working

RANK = {ACCEPT: 0, HOLD: 1, REJECT: 2}


def per_inch(count: str) -> Typed:
    return Typed(Fraction(count) / Fraction("0.0254"), f"{count} per in")


def one_in(run: str) -> Typed:
    return Typed(1 / Fraction(run), f"1:{run}")


# Invented: a stick that nothing is wrong with, 96 x 3 x 1.5 in.
SOUND = Stick(
    "T",
    "sitka_spruce",
    inches("96"),
    inches("3/2"),
    inches("3"),
    typed("0.10"),
    inspection=Inspection(
        rings=per_inch("8"),
        slope_one=one_in("30"),
        slope_two=one_in("25"),
        edge_grain=typed(Fraction(3, 4)),
        bow=inches("1/100"),
        looked=True,
    ),
)
FIGURE = acceptance.limit(SPRUCE, "specific_gravity_minimum")
PLAIN = Settings()
GOOD = Verdict(ACCEPT, ("above_minimum",), 0.41, 0.39, 0.43, FIGURE)


def seen_as(stick: Stick = SOUND, **changes: object) -> Stick:
    return replace(stick, inspection=replace(stick.inspection, **changes))


def judged(
    stick: Stick = SOUND,
    use: str = SMALL_PART,
    settings: Settings = PLAIN,
    species: Species | None = SPRUCE,
    gravity: Verdict = GOOD,
) -> Judgement:
    return judge_use(stick, species, gravity, use, settings)


def point(judgement: Judgement, name: str) -> Point:
    return next(one for one in judgement.points if one.name == name)


def found(
    kind: str,
    start: str = "40",
    end: str = "41",
    size: str | None = None,
    depth: str | None = None,
    edge: str | None = None,
) -> Defect:
    """A defect, all in inches."""
    lengths = (None if text is None else inches(text) for text in (size, depth, edge))
    return Defect(inches(start), inches(end), kind, *lengths)


def of_defect(
    *defects: Defect, use: str = SMALL_PART, document: str = "stricter", stick: Stick = SOUND, **house: Typed
) -> Point:
    """The point of the first defect."""
    settings = Settings(document=document, house=House(**house))
    judgement = judged(replace(stick, defects=defects), use, settings)
    return next(one for one in judgement.points if one.defect is defects[0])


def says(point: Point, document: str) -> str:
    """The worst word of one document on a point; empty where it does not speak."""
    heard = [held.word for held in point.held if held.document == document]
    return worst(heard) if heard else ""


# --- the stick's own points ----------------------------------------------------------------------------


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


# --- defects -------------------------------------------------------------------------------------------

CLEAR_KNOT = found("knot", size="1/8", edge="3/2")

DEFECTS = [
    # defect, use, anc19, ac4313 (each alone; empty: does not speak)
    (found("knot", size="3/8", edge="1"), SOLID_SPAR, "", ACCEPT),
    (found("knot", size="0.376", edge="1"), SOLID_SPAR, "", REJECT),
    (found("knot", size="3/8", edge="0.99"), SOLID_SPAR, "", REJECT),
    (found("knot", edge="1"), SOLID_SPAR, "", HOLD),
    (found("knot", size="3/8"), SOLID_SPAR, "", HOLD),
    (found("knot", size="1/8", edge="1"), SPAR_FLANGE, "", REJECT),
    # sec. 2.4262: an eighth of the 1.5 in face, in its middle half
    (found("knot", size="0.1875", edge="1"), SMALL_PART, ACCEPT, ACCEPT),
    (found("knot", size="0.188", edge="1"), SMALL_PART, REJECT, ACCEPT),
    (found("knot", size="1/8", edge="0.8"), SMALL_PART, ACCEPT, REJECT),
    (found("knot", size="1/8", edge="0.7"), SMALL_PART, REJECT, REJECT),
    (found("spike_knot"), SMALL_PART, "", REJECT),
    (found("pin_knots"), SOLID_SPAR, "", ACCEPT),
    (found("check"), SPAR_FLANGE, "", REJECT),
    (found("shake"), SPAR_FLANGE, REJECT, REJECT),
    (found("split"), SMALL_PART, REJECT, REJECT),
    (found("compression_failure"), SMALL_PART, REJECT, REJECT),
    (found("decay"), SOLID_SPAR, REJECT, REJECT),
    (found("mineral_streak"), SMALL_PART, "", ACCEPT),
    (found("sapwood"), SMALL_PART, ACCEPT, ""),
    (found("indented_rings"), SPAR_FLANGE, ACCEPT, ""),
    (found("other"), SMALL_PART, "", ""),
    # note 1e: 1.5 by 1/8 in, centre portion; sec. 2.4213: 2 in and 4 edge distances
    (found("pitch_pocket", "40", "41.5", "1/8", "1/8", "1"), SOLID_SPAR, ACCEPT, ACCEPT),
    (found("pitch_pocket", "40", "41.6", "1/8", "1/8", "1"), SOLID_SPAR, ACCEPT, REJECT),
    (found("pitch_pocket", "40", "42.1", "1/8", "1/8", "1"), SOLID_SPAR, REJECT, REJECT),
    (found("pitch_pocket", "40", "41", "0.13", "1/8", "1"), SOLID_SPAR, ACCEPT, REJECT),
    (found("pitch_pocket", "40", "41", "1/8", "0.13", "1"), SOLID_SPAR, ACCEPT, REJECT),
    (found("pitch_pocket", "40", "41.5", "1/8", "1/8", "3/8"), SOLID_SPAR, ACCEPT, REJECT),
    (found("pitch_pocket", "40", "41.5", "1/8", "1/8", "0.37"), SOLID_SPAR, REJECT, REJECT),
    (found("pitch_pocket", "40", "41"), SOLID_SPAR, HOLD, HOLD),
    (found("bark_pocket", "40", "41", "1/8", "1/8", "1"), SOLID_SPAR, ACCEPT, ""),
    # sec. 2.4243: an eighth of the flange that way; the lesser side is taken
    (found("bark_pocket", depth="0.1875"), SPAR_FLANGE, ACCEPT, ""),
    (found("bark_pocket", depth="0.19"), SPAR_FLANGE, REJECT, ""),
    (found("pitch_pocket", depth="0.1", size="0.1", edge="1"), SPAR_FLANGE, ACCEPT, REJECT),
    (found("bark_pocket", "40", "41", "0.1875", "0.1875", "1"), SMALL_PART, ACCEPT, ""),
    (found("bark_pocket", "40", "41", "0.19", "0.1875", "1"), SMALL_PART, REJECT, ""),
    (found("bark_pocket", "40", "41", None, "0.1875", "1"), SMALL_PART, HOLD, ""),
    # sec. 2.4190: rejected anywhere with cross breaks, which nobody recorded: no better than a hold
    # sec. 2.4202: 1/4 in wide; in the outer quarter a sixth of the 1.5 in, else a tenth of the 3 in
    (found("compression_wood", size="0.25", edge="1/2"), SOLID_SPAR, HOLD, REJECT),
    (found("compression_wood", size="0.26", edge="1/2"), SOLID_SPAR, REJECT, REJECT),
    (found("compression_wood", size="0.3", edge="1"), SOLID_SPAR, HOLD, REJECT),
    (found("compression_wood", size="0.31", edge="1"), SOLID_SPAR, REJECT, REJECT),
    (found("compression_wood", size="0.1"), SOLID_SPAR, HOLD, REJECT),
    (found("compression_wood", edge="1"), SOLID_SPAR, HOLD, REJECT),
    (found("compression_wood", size="0.25"), SPAR_FLANGE, HOLD, REJECT),
    (found("compression_wood", size="0.26"), SPAR_FLANGE, REJECT, REJECT),
    # sec. 2.4264: a twentieth of the face
    (found("compression_wood", size="0.075"), SMALL_PART, HOLD, REJECT),
    (found("compression_wood", size="0.076"), SMALL_PART, REJECT, REJECT),
    # sec. 2.4101: by eighths and quarters of the 3 in depth
    (found("grain_wave", edge="0.37"), SOLID_SPAR, REJECT, ""),
    (found("grain_wave", edge="0.38"), SOLID_SPAR, HOLD, ""),
    (found("grain_wave", edge="0.75"), SOLID_SPAR, HOLD, ""),
    (found("grain_wave"), SOLID_SPAR, HOLD, ""),
    (found("grain_wave", edge="0.7"), SPAR_FLANGE, HOLD, ""),
    (found("grain_wave", edge="0.8"), SPAR_FLANGE, REJECT, ""),
    (found("grain_wave", edge="0.1"), SMALL_PART, "", ""),
]


@pytest.mark.parametrize(("defect", "use", "anc19", "ac4313"), DEFECTS)
def test_what_each_document_says(defect: Defect, use: str, anc19: str, ac4313: str) -> None:
    heard = of_defect(defect, use=use)
    assert (says(heard, ANC19), says(heard, AC4313)) == (anc19, ac4313)
    said = [word for word in (anc19, ac4313) if word]
    governing = worst(said) if said else HOLD
    if defect.kind in SPOILS_STICK or governing == ACCEPT:
        assert heard.word == governing
    else:
        assert (heard.word, heard.reason) == (ACCEPT, "cut_round")


def test_thin_small_parts_have_no_pockets_and_no_compression_wood() -> None:
    """anc19 sec. 2.4263, 2.4264: under 1 in either way; for pockets 1 in is not over 1 in."""
    pocket = found("bark_pocket", "40", "41", "0.05", "0.05", "0.4")
    streak = found("compression_wood", size="0.01")
    for side, of_pocket, of_streak in (
        ("0.99", REJECT, REJECT),
        ("1", REJECT, HOLD),
        ("1.01", ACCEPT, HOLD),
    ):
        stick = replace(SOUND, width=inches(side))
        assert says(of_defect(pocket, stick=stick), ANC19) == of_pocket
        assert says(of_defect(streak, stick=stick), ANC19) == of_streak


@pytest.mark.parametrize(
    ("size", "start", "word"),
    # 20 in from a 3/8 in knot, in proportion for smaller; the knot ends at 41
    [("3/8", "61", ACCEPT), ("3/8", "60.9", REJECT), ("3/16", "51", ACCEPT), ("3/16", "50.9", REJECT)],
)
def test_spacing_of_knots(size: str, start: str, word: str) -> None:
    """ac4313 table 1-1 note 1c, between facing ends; what is no defect does not count."""
    knot = found("knot", size=size, edge="1")
    assert says(of_defect(knot, found("check", start, "70"), use=SOLID_SPAR), AC4313) == word
    for kind in KEPT_IN:
        assert says(of_defect(knot, found(kind, start, "70"), use=SOLID_SPAR), AC4313) == ACCEPT


def test_spacing_of_pockets() -> None:
    """ac4313 note 1e: 14 in; anc19 sec. 2.4213: six of the shorter, of the longer in one growth layer."""
    one = found("pitch_pocket", "10", "11", "0.1", "0.1", "1")
    words = {}
    for start in ("16.9", "17", "22.9", "23", "24.9", "25"):
        other = found("bark_pocket", start, str(Fraction(start) + 2), "0.1", "0.1", "1")
        heard = of_defect(one, other, use=SOLID_SPAR)
        words[start] = (says(heard, ANC19), says(heard, AC4313))
    assert words == {
        "16.9": (REJECT, REJECT),
        "17": (HOLD, REJECT),
        "22.9": (HOLD, REJECT),
        "23": (ACCEPT, REJECT),
        "24.9": (ACCEPT, REJECT),
        "25": (ACCEPT, ACCEPT),
    }
    # A long pocket farther off does not hide a near one: 5.9 in is less than six times 1 in.
    near, far = (found("bark_pocket", *ends, "0.1", "0.1", "1") for ends in (("16.9", "19"), ("31", "41")))
    assert says(of_defect(one, near, far, use=SOLID_SPAR), ANC19) == REJECT
    assert says(of_defect(one, far, use=SOLID_SPAR), ANC19) == HOLD


def by_size(point: Point) -> str:
    """The word of anc19 on compression wood, but for its cross breaks."""
    return worst(held.word for held in point.held if held.document == ANC19 and held.rule != IF_NO_BREAKS)


def test_streaks_add_up_in_their_zone() -> None:
    """anc19 sec. 2.4202: together no more than a sixth of the thickness, 1.5 / 6 = 0.25 in."""
    one, two = (found("compression_wood", str(at), str(at + 1), "0.13", None, "1/2") for at in (10, 50))
    inner = found("compression_wood", "70", "71", "0.3", None, "1")
    assert by_size(of_defect(one, inner, use=SOLID_SPAR)) == ACCEPT
    assert by_size(of_defect(one, two, use=SOLID_SPAR)) == REJECT


STREAKS = [
    # size, edge, use, by its size alone
    ("0.25", "1/2", SOLID_SPAR, ACCEPT),
    ("0.1", None, SOLID_SPAR, HOLD),
    (None, "1", SOLID_SPAR, HOLD),
    ("0.26", "1/2", SOLID_SPAR, REJECT),
    ("0.25", None, SPAR_FLANGE, ACCEPT),
    (None, None, SPAR_FLANGE, HOLD),
    ("0.075", None, SMALL_PART, ACCEPT),
    (None, None, SMALL_PART, HOLD),
]


@pytest.mark.parametrize(("size", "edge", "use", "word"), STREAKS)
def test_compression_wood_waits_for_a_look_for_cross_breaks(
    size: str | None, edge: str | None, use: str, word: str
) -> None:
    """anc19 sec. 2.4190: with cross breaks it is rejected anywhere; whether there are any nobody recorded."""
    streak = of_defect(found("compression_wood", size=size, edge=edge), use=use, document=ANC19)
    (breaks,) = (held for held in streak.held if held.rule == IF_NO_BREAKS)
    assert (breaks.word, breaks.document, breaks.where) == (HOLD, ANC19, "sec. 2.4190")
    assert by_size(streak) == word
    assert streak.word == worst((HOLD, word))
    said = [words.held_line(held, streak) for held in streak.held]
    assert any("no cross breaks are found" in line and "2.4190" in line for line in said)


def test_what_spoils_the_stick_and_what_is_cut_round() -> None:
    """Common practice, no source."""
    for kind in KINDS:
        judgement = judged(replace(SOUND, defects=(found(kind),)))
        if kind in ("decay", "compression_failure", "compression_wood"):
            assert (judgement.word, judgement.cut_round) == (REJECT, ())
        elif kind in ("mineral_streak", "sapwood", "indented_rings", "pin_knots"):
            assert (judgement.word, judgement.cut_round) == (ACCEPT, ())
        else:
            assert judgement.word == ACCEPT and [one.kind for one in judgement.cut_round] == [kind]


def test_a_defect_that_is_not_named_is_on_hold() -> None:
    judgement = judged(replace(SOUND, defects=(found(""),)))
    assert (judgement.word, judgement.deciding.reason) == (HOLD, "say_what")
    assert "say what it is" in words.reason(judgement.deciding)


def test_a_mineral_streak_waits_for_a_look_for_decay() -> None:
    """ac4313 table 1-1 note 1f: if inspection shows no decay."""
    streak = found("mineral_streak")
    assert of_defect(streak).word == ACCEPT
    assert of_defect(streak, stick=seen_as(looked=False)).word == HOLD
    assert of_defect(streak, found("decay")).word == HOLD


# --- what is left between what is cut round ------------------------------------------------------------


def splits(*ends: tuple[str, str]) -> Stick:
    """The sound stick of 96 in with splits, which are cut round."""
    return replace(SOUND, defects=tuple(found("split", *pair) for pair in ends))


CUT_ROUND = [
    # ends of splits [in], longest clear length [in], word against a least offcut of 6 in
    ([("0", "96")], "0", REJECT),
    ([("96", "0")], "0", REJECT),  # the other way round
    ([("5", "91")], "5", REJECT),
    ([("5", "40"), ("45", "92")], "5", REJECT),
    ([("5", "40"), ("46", "92")], "6", ACCEPT),
    ([("45.99", "92"), ("5", "40")], "5.99", REJECT),
    ([("5", "60"), ("10", "20"), ("50", "93")], "5", REJECT),  # one inside, one across another
    ([("30", "31")], "65", ACCEPT),
    ([("48", "48")], "48", ACCEPT),
]


@pytest.mark.parametrize("use", USES)
@pytest.mark.parametrize(("ends", "longest", "word"), CUT_ROUND)
def test_a_stick_of_which_nothing_is_left_is_rejected(
    ends: list[tuple[str, str]], longest: str, word: str, use: str
) -> None:
    """Common practice, no source: less than the least offcut worth keeping is nothing."""
    judgement = judged(splits(*ends), use, Settings(least_offcut=inches("6")))
    clear = point(judgement, "clear")
    assert clear.measured == pytest.approx(float(inches(longest).exact), abs=1e-12)
    assert (clear.word, judgement.word) == (word, word)
    assert judgement.deciding.name == ("clear" if word == REJECT else "gravity")
    assert clear.governing is not None
    assert (clear.governing.document, clear.governing.low) == (HOUSE, pytest.approx(6 * 0.0254))
    assert ("take another stick" in words.reason(clear)) == (word == REJECT)


def test_the_least_offcut_is_the_shops() -> None:
    five = splits(("5", "40"), ("45", "92"))
    for least, word in (("5", ACCEPT), ("5.01", REJECT), ("4", ACCEPT)):
        assert point(judged(five, settings=Settings(least_offcut=inches(least))), "clear").word == word


def test_what_stays_in_the_stick_takes_none_of_its_length() -> None:
    """What the cut list does not go round; everything else it does, permitted or not."""
    for kind in KEPT_IN:
        whole = judged(replace(SOUND, defects=(found(kind, "0", "96"),)))
        assert "clear" not in {one.name for one in whole.points}, kind
    assert "clear" not in {one.name for one in judged().points}


# --- a defect that cannot be ---------------------------------------------------------------------------


@pytest.mark.parametrize(("edge", "possible"), [("3/2", True), ("1.501", False), ("0", True), ("3", False)])
def test_the_nearer_edge_is_no_farther_than_the_middle(edge: str, possible: bool) -> None:
    """Derived: on a stick of 3 x 1.5 in no place is farther than 1.5 in from the nearer edge."""
    put = PutStick(replace(SOUND, defects=(found("knot", edge=edge),)))
    if possible:
        assert put.apply(Job("")).sticks == (put.stick,)
        return
    with pytest.raises(OutOfRange, match="half the larger side") as refused:
        put.apply(Job(""))
    assert refused.value.quantity == "edge of the defect" and "\n" not in refused.value.message


# --- who governs ---------------------------------------------------------------------------------------


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


# --- for every stick -----------------------------------------------------------------------------------

maybe = st.none()
hundredths = st.integers(0, 500).map(lambda count: inches(str(Fraction(count, 100))))
KIND = st.sampled_from(("", *KINDS))


@st.composite
def defects(draw: st.DrawFn) -> Defect:
    start = draw(st.integers(0, 950))
    end = start + draw(st.integers(0, 60))
    lengths = [draw(maybe | hundredths) for _ in range(3)]
    return Defect(inches(str(Fraction(start, 10))), inches(str(Fraction(end, 10))), draw(KIND), *lengths)


slopes = st.just(Typed(Fraction(0), "straight")) | st.integers(1, 60).map(lambda run: one_in(str(run)))
shares = st.integers(0, 100).map(lambda part: typed(Fraction(part, 100)))
inspections = st.builds(
    Inspection,
    rings=maybe | st.integers(0, 30).map(lambda count: per_inch(str(count))),
    slope_one=maybe | slopes,
    slope_two=maybe | slopes,
    edge_grain=maybe | shares,
    bow=maybe | hundredths,
    bow_over=maybe | st.integers(1, 120).map(lambda length: inches(str(length))),
    looked=st.booleans(),
)
sides = st.integers(10, 60).map(lambda tenths: inches(str(Fraction(tenths, 10))))
sticks = st.builds(
    Stick,
    tag=st.just("T"),
    species=st.just("sitka_spruce"),
    length=st.just(inches("96")),
    width=sides,
    depth=sides,
    moisture=maybe | st.integers(0, 30).map(lambda percent: typed(Fraction(percent, 100))),
    defects=st.lists(defects(), max_size=4).map(tuple),
    inspection=inspections,
)
bands = st.tuples(st.floats(0.3, 0.5), st.floats(0, 0.05)).map(
    lambda pair: Verdict(
        *acceptance._word(pair[0] - pair[1], pair[0] + pair[1], FIGURE, None)[:1],
        ("of a band",),
        pair[0],
        pair[0] - pair[1],
        pair[0] + pair[1],
        FIGURE,
    )
)
verdicts = st.just(GOOD) | st.just(Verdict(HOLD, ("not_read",), minimum=FIGURE)) | bands
houses = st.builds(
    House,
    gravity_over=maybe | shares,
    rings=maybe | st.integers(0, 30).map(lambda count: per_inch(str(count))),
    slope=maybe | slopes,
    moisture_low=maybe | shares,
    moisture_high=maybe | shares,
    knot=maybe | hundredths,
)
DOCUMENT = st.sampled_from(("stricter", ANC19, AC4313))
USE = st.sampled_from(USES)
WOOD = st.sampled_from((SPRUCE, ASH, None))


@effort(max_examples=80, deadline=None)
@given(sticks, WOOD, verdicts, USE, DOCUMENT, houses, st.sampled_from(("in", "mm")))
def test_every_stick_is_judged_and_told(stick, wood, verdict, use, document, house, system) -> None:
    judgement = judge_use(stick, wood, verdict, use, Settings(document=document, house=house))
    assert judgement.word == worst(one.word for one in judgement.points) == judgement.deciding.word
    assert [one.defect for one in judgement.points if one.defect] == list(stick.defects)
    for one in judgement.points:
        assert sum(held.governs for held in one.held) == (1 if one.held else 0)
        for text in (words.point_line(one, system), words.reason(one, system)):
            assert text.isascii() and "\n" not in text and "None" not in text and "  " not in text
        if one.margin is not None and one.margin < -1e-9:
            assert one.word != ACCEPT or one.reason == "cut_round"
    assert "nan" not in "\n".join(working.lines(words.steps(judgement), system))


@effort(max_examples=60, deadline=None)
@given(sticks, WOOD, verdicts, USE, DOCUMENT)
def test_what_is_not_measured_is_never_accepted(stick, wood, verdict, use, document) -> None:
    judgement = judge_use(stick, wood, verdict, use, Settings(document=document))
    seen_there = stick.inspection
    needed = [seen_there.slope_one, seen_there.slope_two, stick.moisture, verdict.value]
    # No document asks a number of rings of white ash.
    needed += [] if wood is ASH else [seen_there.rings]
    needed += [seen_there.bow] if use != SMALL_PART else []
    needed += [seen_there.edge_grain] if use == SOLID_SPAR else []
    if None in needed or not seen_there.looked or any(one.kind == "" for one in stick.defects):
        assert judgement.word != ACCEPT


@effort(max_examples=60, deadline=None)
@given(sticks, defects(), verdicts, USE, DOCUMENT, houses)
def test_another_defect_never_improves_the_word(stick, defect, verdict, use, document, house) -> None:
    settings = Settings(document=document, house=house)
    before = judge_use(stick, SPRUCE, verdict, use, settings)
    after = judge_use(replace(stick, defects=(*stick.defects, defect)), SPRUCE, verdict, use, settings)
    assert RANK[after.word] >= RANK[before.word]


def longest_clear(defects: tuple[Defect, ...], length: int) -> int:
    """Longest run of tenths of an inch that no defect touches, counted one by one."""
    tenth = Fraction(254, 100_000)
    spans = [sorted((one.start.exact / tenth, one.end.exact / tenth)) for one in defects]
    longest = run = 0
    for at in range(length):
        taken = any(low <= at and at + 1 <= high for low, high in spans)
        parted = any(low <= at <= high for low, high in spans)  # even where it has no length
        run = 0 if taken else 1 if parted else run + 1
        longest = max(longest, run)
    return longest


@effort(max_examples=50, deadline=None)
@given(sticks, st.lists(defects(), max_size=12).map(tuple), USE, DOCUMENT, st.integers(0, 960))
def test_the_clear_length_is_the_longest_run_between_what_is_cut_round(
    stick, defects, use, document, least
) -> None:
    settings = Settings(document=document, least_offcut=inches(str(Fraction(least, 10))))
    judgement = judge_use(replace(stick, defects=defects), SPRUCE, GOOD, use, settings)
    clear = [one for one in judgement.points if one.name == "clear"]
    around = [one for one in defects if one.kind not in KEPT_IN]
    assert bool(clear) == bool(around)
    if clear:
        longest = longest_clear(around, 960)
        assert clear[0].measured == pytest.approx(longest * 0.00254, abs=1e-12)
        assert clear[0].word == (ACCEPT if longest and longest >= least else REJECT)


MEASURED = ("rings", "slope_one", "slope_two", "edge_grain", "bow")


@effort(max_examples=60, deadline=None)
@given(
    sticks, verdicts, USE, DOCUMENT, houses, st.sampled_from((*MEASURED, "moisture", "size", "depth", "edge"))
)
def test_a_measurement_taken_away_never_makes_an_accept(stick, verdict, use, document, house, name) -> None:
    """Taking away what rejects leaves a hold. Without `bow_over` the bow is over the whole stick."""
    settings = Settings(document=document, house=house)
    before = judge_use(stick, SPRUCE, verdict, use, settings)
    if name == "moisture":
        less = replace(stick, moisture=None)
    elif name in MEASURED:
        less = seen_as(stick, **{name: None})
    else:
        less = replace(stick, defects=tuple(replace(one, **{name: None}) for one in stick.defects))
    after = judge_use(less, SPRUCE, verdict, use, settings)
    assert after.word != ACCEPT or before.word == ACCEPT
    assert len(after.cut_round) >= len(before.cut_round)


@effort(max_examples=60, deadline=None)
@given(sticks, WOOD, verdicts, USE, DOCUMENT, houses)
def test_the_house_never_rescues(stick, wood, verdict, use, document, house) -> None:
    plain = judge_use(stick, wood, verdict, use, Settings(document=document))
    own = judge_use(stick, wood, verdict, use, Settings(document=document, house=house))
    assert RANK[own.word] >= RANK[plain.word]
    assert len(own.cut_round) >= len(plain.cut_round)


@effort(max_examples=50, deadline=None)
@given(sticks, verdicts, USE, houses)
def test_the_stricter_is_as_strict_as_either(stick, verdict, use, house) -> None:
    by = {
        document: judge_use(stick, SPRUCE, verdict, use, Settings(document=document, house=house))
        for document in ("stricter", ANC19, AC4313)
    }
    for document in limits.DOCUMENTS:
        assert RANK[by["stricter"].word] >= RANK[by[document].word]
        assert len(by["stricter"].cut_round) >= len(by[document].cut_round)


# --- sentences -----------------------------------------------------------------------------------------


def test_names() -> None:
    assert [words.use_name(use) for use in USES] == ["small part", "spar flange", "solid spar"]
    assert words.kind_name("pitch_pocket") == "pitch pocket" and words.kind_name("") == "defect"
    letters = [words.letter(kind) for kind in (*KINDS, "")]
    assert len(set(letters)) == len(letters) and all(len(one) == 1 for one in letters)


def test_a_point_in_one_line() -> None:
    stick = seen_as(slope_one=one_in("15"), slope_two=one_in("15"))
    slope = point(judged(stick), "slope")
    assert words.point_line(slope) == "slope 1:10.6, limit 1:15 (ac4313 table 1-1, column 3 and note 1a)"
    assert words.reason(slope).endswith("resaw it along the grain and measure again, or take another stick")
    knot = of_defect(found("knot", size="1/2", edge="1"), use=SOLID_SPAR)
    said = words.reason(knot, "in")
    assert said == "knot at 40 in: cut round: size 0.500 in, limit 0.375 in (ac4313 table 1-1 note 1c)"
    # What the note asks beside its number and no field records: that the knot is sound and turns no grain.
    sound = of_defect(found("knot", size="1/4", edge="1"), use=SOLID_SPAR)
    assert words.point_line(sound).endswith("asks: sound, hard, the grain beside it within its limit")
    assert "12.7 mm, limit 9.5 mm" in words.reason(knot, "mm")
    assert "asks" not in words.point_line(slope), "of a defect only"


@effort(max_examples=50, deadline=None)
@given(st.integers(1, 3000), st.sampled_from(("in", "mm")))
def test_a_size_that_fails_never_reads_like_its_limit(step: int, system: str) -> None:
    """ac4313 table 1-1 note 1c: 3/8 in. A knot a few ten-thousandths over it is written with more digits."""
    size = Fraction(3, 8) + Fraction(step, 100_000)
    knot = of_defect(found("knot", size=str(size), edge="3/2"), use=SOLID_SPAR)
    shown, most = re.search(r"size ([\d.]+) \w+, limit ([\d.]+) ", words.reason(knot, system)).groups()
    assert float(shown) > float(most)
    assert float(shown) == pytest.approx(float(size) * (1 if system == "in" else 25.4), rel=0.006)


def test_a_share_that_fails_has_the_digits_for_it() -> None:
    """anc19 sec. 2.4211: two thirds, 66.7 % in three digits."""
    for share, shown in (("0.6665", "66.65 %"), ("0.664", "66.4 %"), ("0.70", "70.0 %")):
        edge_grain = point(judged(seen_as(edge_grain=typed(share)), SOLID_SPAR), "edge_grain")
        assert words.short_line(edge_grain) == f"edge grain {shown}, least 66.7 %"


def test_a_limit_is_never_shown_weaker_than_it_is() -> None:
    """0.93 in x (96/192)^2 / 3 = 0.0775 in: shown in full, never rounded up; mm: 1.9685 as 1.96."""
    bow = point(judged(seen_as(bow=inches("0.2")), SPAR_FLANGE), "bow")
    assert "limit 0.0775 in" in words.point_line(bow)
    assert "limit 1.96 mm" in words.point_line(bow, "mm")
    assert len([one for one in words.steps(judged(use=SOLID_SPAR)) if one.source]) == 6


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
