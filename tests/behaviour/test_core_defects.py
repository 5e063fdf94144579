"""What each document says of every kind of defect, what is cut round, and what is left of the stick.

Limits: anc19 and ac4313 as typed in tests/checks/test_acceptance_limits.py. What is cut round and what spoils
the whole stick: common practice, no source.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.defects import KEPT_IN, SPOILS_STICK
from bench.core.edits import PutStick
from bench.core.errors import OutOfRange
from bench.core.holding import HOUSE, IF_NO_BREAKS, worst
from bench.core.inspecting import Point
from bench.core.limits import AC4313, ANC19, KINDS, SMALL_PART, SOLID_SPAR, SPAR_FLANGE, USES
from bench.core.records import Defect, Job, Settings, Stick, inches
from bench.sheets import inspecting as words
from tests.tools.inspected import SOUND, found, judged, of_defect, point, says, seen_as

# --- defects -------------------------------------------------------------------------------------------

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


def test_every_kind_of_defect_has_its_line_above() -> None:
    assert {defect.kind for defect, *_ in DEFECTS} == set(KINDS)


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
