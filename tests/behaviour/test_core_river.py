"""The river: reading -> section -> sizes -> cut list; what bars a stick, and what is not worked out again."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import WOODS, after, ash_for_spruce, demo, part, reading, stick, typed

from bench.core import grading
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.edits import ChangeSettings, ChooseSection, MarkCut, PutPart, PutStick, SetAside, TakeReading
from bench.core.errors import Missing, UnknownName
from bench.core.placing import mark_on
from bench.core.records import CutMade, Defect, Job, Layer, SectionChoice, Settings, inches
from bench.core.river import River, flow

INCH = Fraction(254, 10_000)
GOOD, DOUBTFUL, BAD = 6.9, 6.0, 5.2  # marks of white ash at 10 %, half-inch stick, no meniscus


def job(*sticks, parts=(), choice=None, habits=None) -> Job:
    """A job of sticks and parts."""
    edits = [*map(PutStick, sticks), *map(PutPart, parts), ChooseSection(choice or ash_for_spruce())]
    if habits:
        edits.append(ChangeSettings(habits))
    return after(edits)


def used(river: River) -> set[str]:
    """Tags that the plan cuts from."""
    assert river.plan is not None
    return {found.tag for found in river.plan.sticks if found.pieces}


def test_the_marks_of_this_file_mean_what_they_say() -> None:
    rack = flow(job(stick("G", GOOD), stick("D", DOUBTFUL), stick("B", BAD), stick("U")), WOODS).rack
    assert [judged.verdict.word for judged in rack] == [ACCEPT, HOLD, REJECT, HOLD]


# --- down the river ------------------------------------------------------------------------------------


def test_a_reading_runs_down_to_the_cut_list() -> None:
    """Heavier ash of the same weight is smaller; the section, the parts and the plan all follow."""
    choice = ash_for_spruce(gravity="stick")
    start = job(stick("A"), parts=[part("rib", "20", 3)], choice=choice)
    light = flow(TakeReading("A", reading(7.2)).apply(start), WOODS, "A")
    heavy = flow(TakeReading("A", reading(8.4)).apply(start), WOODS, "A", light)
    for river in (light, heavy):
        section, hand = river.section, river.hand
        assert hand is not None and hand.result is not None and section.use is not None
        assert section.measured == "A"
        assert section.use.gravity == pytest.approx(hand.result.sg_12)  # both woods at 12 % moisture
        assert section.use.density == pytest.approx(1120 * hand.result.sg_12)
        assert section.resized is not None
        ratio = section.use.gravity / section.plan.gravity
        assert section.resized.area_factor == pytest.approx(1 / ratio)
        assert (river.parts[0].width, river.parts[0].depth) == section.resized.shop
        assert river.plan is not None and river.plan.placed == 3
    assert heavy.section.resized.exact.width < light.section.resized.exact.width
    assert heavy.parts[0].width < light.parts[0].width
    assert heavy.hand.verdict.value > light.hand.verdict.value


def test_a_size_that_no_longer_fits_the_stick_empties_the_plan() -> None:
    """A match that grows the part past the section of the stick bars the stick."""
    choice = ash_for_spruce(match="stiffness", width=inches("7/8"), depth=inches("7/8"))
    small = [stick("A", GOOD, side="7/8")]
    fits = flow(job(*small, parts=[part("rib", side="7/8")], choice=choice), WOODS)
    assert fits.plan is not None and fits.plan.placed == 1
    grown = replace(choice, plan="yellow_birch")  # stiffer than ash: more ash is needed
    barred = flow(job(*small, parts=[part("rib", side="7/8", species="yellow_birch")], choice=grown), WOODS)
    assert barred.parts[0].width > inches("7/8").exact
    assert barred.parts[0].barred_by == grading.BY_SECTION
    assert barred.plan is not None and barred.plan.placed == 0


def test_parts_drawn_in_another_wood_keep_their_size() -> None:
    river = flow(job(stick("A", GOOD), parts=[part("rib"), part("cap", species="douglas_fir_coast")]), WOODS)
    rib, cap = river.parts
    assert (rib.species, rib.resized) == ("white_ash", True)
    assert (cap.species, cap.resized, cap.width) == ("douglas_fir_coast", False, inches("3/4").exact)
    assert cap.barred_by == grading.BY_WOOD


def test_the_drawing_wood_for_itself_is_not_resized() -> None:
    choice = ash_for_spruce(use="sitka_spruce")
    river = flow(job(stick("S", 4.6, species="sitka_spruce"), parts=[part("rib")], choice=choice), WOODS)
    assert (river.parts[0].resized, river.parts[0].width) == (False, inches("3/4").exact)
    assert used(river) == {"S"}


def test_the_line_of_the_minimum_follows_wood_and_moisture() -> None:
    ash = mark_on(reading(6.8), 0.56, WOODS["white_ash"])
    dry = mark_on(reading(4.6), 0.36, WOODS["sitka_spruce"])
    damp = mark_on(reading(4.6, moisture="0.14"), 0.36, WOODS["sitka_spruce"])
    assert ash > 5.6 and dry > 3.6 and damp > dry
    assert mark_on(reading(4.6, moisture="0.5"), 0.36, WOODS["sitka_spruce"]) is None


def test_the_stick_in_hand() -> None:
    start = job(stick("A", GOOD), stick("B", BAD))
    assert flow(start, WOODS, "B").hand.stick.tag == "B"
    assert flow(start, WOODS).tag == flow(start, WOODS, "nobody").tag == "A"
    empty = flow(job(), WOODS, "A")
    assert (empty.hand, empty.tag, empty.plan.placed) == (None, "", 0)
    assert flow(start, WOODS).judged("B").verdict.word == REJECT
    assert flow(start, WOODS).judged("Z") is None


# --- what bars a stick ---------------------------------------------------------------------------------


@pytest.mark.parametrize("use_held", [False, True])
def test_a_rejected_stick_is_never_cut(use_held: bool) -> None:
    habits = replace(Settings(), use_held=use_held)
    river = flow(job(stick("B", BAD), parts=[part("rib")], habits=habits), WOODS)
    assert used(river) == set()
    assert (river.parts[0].sticks, river.parts[0].barred_by) == (frozenset(), grading.BY_VERDICT)
    assert river.plan.unplaced[0].part == "rib"
    assert river.problem.sticks == ()


@pytest.mark.parametrize("held", [stick("D", DOUBTFUL), stick("U")], ids=["doubtful", "not read"])
def test_a_held_stick_is_cut_only_when_asked(held) -> None:
    shy = flow(job(held, parts=[part("rib")]), WOODS)
    bold = flow(job(held, parts=[part("rib")], habits=replace(Settings(), use_held=True)), WOODS)
    assert used(shy) == set() and shy.parts[0].barred_by == grading.BY_VERDICT
    assert used(bold) == {held.tag} and bold.parts[0].barred_by == ""


def test_a_late_bad_reading_takes_the_stick_out_of_the_plan() -> None:
    start = job(stick("A", GOOD), stick("B", GOOD), parts=[part("rib", "60", 2)])
    before = flow(start, WOODS)
    assert used(before) == {"A", "B"}
    after_all = flow(TakeReading("A", reading(BAD)).apply(start), WOODS, "A", before)
    assert used(after_all) == {"B"}
    assert after_all.plan.unplaced_count == 1


def test_a_reading_of_the_same_day_that_says_something_else_takes_the_stick_out_of_the_plan() -> None:
    """Better or worse: nobody cuts until one of the two is set aside."""
    start = job(stick("A", GOOD), parts=[part("rib")])
    before = flow(start, WOODS)
    twice = TakeReading("A", reading(GOOD + 0.4)).apply(start)
    held = flow(twice, WOODS, "A", before)
    assert (used(before), used(held), held.hand.verdict.word) == ({"A"}, set(), HOLD)
    settled = flow(SetAside("A", 0, "slipped").apply(twice), WOODS, "A", held)
    assert used(settled) == {"A"} and settled.hand.verdict.low > before.hand.verdict.low


def test_a_least_gravity_is_held_against_the_lower_edge() -> None:
    start = job(stick("A", GOOD), parts=[part("rib")])
    verdict = flow(start, WOODS).rack[0].verdict
    for least, sticks in (
        (verdict.low - 0.0001, {"A"}),
        (verdict.low + 0.0001, set()),
        (verdict.value, set()),
    ):
        asked = PutPart(replace(part("rib"), minimum_sg=typed(least)), was="rib").apply(start)
        river = flow(asked, WOODS)
        assert used(river) == sticks
        assert river.parts[0].barred_by == ("" if sticks else grading.BY_GRAVITY)


def test_a_wood_without_a_size_bars_its_parts() -> None:
    """The stick in hand is not read, so its gravity is unknown, so the part has no size in ash."""
    choice = ash_for_spruce(gravity="stick")
    river = flow(job(stick("U"), stick("A", GOOD), parts=[part("rib")], choice=choice), WOODS, "U")
    assert isinstance(river.section.refusal, Missing) and river.section.resized is None
    rib = river.parts[0]
    assert (rib.species, rib.sticks, rib.barred_by) == ("white_ash", frozenset(), grading.BY_SIZE)
    assert used(river) == set()
    assert used(flow(river.job, WOODS, "A")) == {"A"}


def test_a_part_without_a_size_bars_no_other_part() -> None:
    """An ash part of the same section, drawn in ash, needs no new size and keeps its sticks."""
    choice = ash_for_spruce(gravity="stick")
    parts = [part("rib"), part("block", species="white_ash")]
    for order in (parts, parts[::-1]):
        river = flow(job(stick("U"), stick("A", GOOD), parts=order, choice=choice), WOODS, "U")
        barred = {sized.part.name: sized.barred_by for sized in river.parts}
        assert barred == {"rib": grading.BY_SIZE, "block": ""}


def test_a_part_without_a_size_gets_none_by_a_change_elsewhere() -> None:
    """How the layers lie was said of the section on the pane; a part of another size stays barred."""
    layers = (Layer("white_ash", inches("3/8")),) * 2
    parts = [part("rib"), part("strip", side="1/2"), part("block", species="white_ash")]
    choice = ash_for_spruce(shape="laminated", layers=layers)
    before = flow(job(stick("A", GOOD), parts=parts, choice=choice), WOODS)
    changed = PutPart(replace(before.job.parts[2], quantity=2), was="block").apply(before.job)
    for river in (before, flow(changed, WOODS, "", before)):
        barred = {sized.part.name: sized.barred_by for sized in river.parts}
        assert barred == {"rib": "", "strip": grading.BY_SIZE, "block": ""}


def test_a_part_of_the_drawings_wood_waits_for_the_gravity_it_rests_on() -> None:
    """Spruce for spruce by a stick's own gravity: unread, it could need a larger section than drawn."""
    choice = SectionChoice(gravity="stick")
    sticks = (stick("U", species="sitka_spruce"), stick("S", 4.4, species="sitka_spruce"))
    river = flow(job(*sticks, parts=[part("rib")], choice=choice), WOODS, "U")
    assert river.parts[0].barred_by == grading.BY_SIZE
    assert used(flow(river.job, WOODS, "S")) == {"S"}


def test_a_held_side_keeps_the_drawings_size_to_the_letter() -> None:
    """10.3 mm is no multiple of 1/64 in, and has to fit its slot."""
    slot = replace(part("rib"), width=typed(Fraction(103, 10_000), "10.3 mm"))
    river = flow(job(stick("A", GOOD), parts=[slot], choice=ash_for_spruce(hold="width")), WOODS)
    assert river.parts[0].width == Fraction(103, 10_000)
    assert river.parts[0].depth % Fraction(254, 640_000) == 0


@pytest.mark.parametrize("changes", [{"use": "mallorn"}, {"plan": "mallorn"}])
def test_a_wood_nobody_has_heard_of_is_said_in_the_section(changes: dict[str, str]) -> None:
    river = flow(job(stick("A", GOOD), parts=[part("rib")], choice=ash_for_spruce(**changes)), WOODS)
    assert isinstance(river.section.refusal, UnknownName)
    assert used(river) == set()


def test_a_stick_of_a_wood_nobody_has_heard_of_is_on_hold() -> None:
    river = flow(job(stick("M", GOOD, species="mallorn")), WOODS)
    assert river.hand.verdict.word == HOLD


# --- what has been cut ---------------------------------------------------------------------------------


def test_a_piece_that_is_cut_is_neither_planned_nor_cut_into_again() -> None:
    start = job(stick("A", GOOD), parts=[part("rib", "20", 3)])
    first = flow(start, WOODS).plan.sticks[0].pieces[0]
    done = MarkCut(CutMade("rib", "A", first.start, first.end)).apply(start)
    river = flow(done, WOODS)
    assert (river.parts[0].made, river.plan.placed) == (1, 2)
    kerf = start.settings.kerf.exact
    for piece in river.plan.sticks[0].pieces:
        assert piece.start >= first.end + kerf or piece.end <= first.start - kerf


def test_defects_and_pieces_keep_clear_of_each_other() -> None:
    flawed = replace(stick("A", GOOD), defects=(Defect(inches("30"), inches("31"), "knot"),))
    river = flow(job(flawed, parts=[part("rib", "20", 3)]), WOODS)
    pieces = river.plan.sticks[0].pieces
    assert len(pieces) == 3
    assert all(piece.end <= 30 * INCH or piece.start >= 31 * INCH for piece in pieces)


def test_a_line_that_is_all_cut_leaves_the_problem() -> None:
    start = job(stick("A", GOOD), parts=[part("rib"), part("cap", "30")])
    done = MarkCut(CutMade("rib", "A", Fraction(0), 20 * INCH)).apply(start)
    assert [row.name for row in flow(done, WOODS).problem.parts] == ["cap"]


# --- what is kept --------------------------------------------------------------------------------------


def test_nothing_changed_nothing_worked_again() -> None:
    history = demo()
    first = flow(history.job, WOODS, "A-07")
    again = flow(history.job, WOODS, "A-07", first)
    assert again.section is first.section and again.plan is first.plan
    assert all(one is other for one, other in zip(again.rack, first.rack, strict=True))
    assert again == first


def test_another_stick_in_hand_keeps_section_and_plan() -> None:
    first = flow(demo().job, WOODS, "A-07")
    other = flow(demo().job, WOODS, "A-01", first)
    assert other.hand is first.judged("A-01")
    assert other.section is first.section and other.plan is first.plan


def test_another_stick_in_hand_changes_a_section_that_rests_on_it() -> None:
    asked = ChooseSection(replace(demo().job.section, gravity="stick")).apply(demo().job)
    first = flow(asked, WOODS, "A-07")
    other = flow(asked, WOODS, "A-01", first)
    assert (first.section.measured, other.section.measured) == ("A-07", "A-01")
    assert other.section.resized != first.section.resized


def test_one_reading_judges_one_stick_again() -> None:
    first = flow(demo().job, WOODS, "A-07")
    again = flow(TakeReading("A-07", reading(6.9)).apply(demo().job), WOODS, "A-07", first)
    changed = [new.stick.tag for new, old in zip(again.rack, first.rack, strict=True) if new is not old]
    assert changed == ["A-07"]
    assert again.section is first.section


def test_a_waterline_step_that_changes_no_verdict_and_no_rank_keeps_the_plan() -> None:
    first = flow(demo().job, WOODS, "A-14")
    # A rejected stick, still rejected: the plan never saw it.
    again = flow(TakeReading("A-04", reading(5.0)).apply(demo().job), WOODS, "A-04", first)
    assert again.judged("A-04").verdict != first.judged("A-04").verdict
    assert again.plan is first.plan


def test_a_step_that_only_changes_a_preference_waits_until_it_is_kept() -> None:
    """While it is tried the plan stands; kept, it is laid out for the new order of the sticks."""
    start = job(stick("A", GOOD), stick("B", GOOD), parts=[part("rib", quantity=4)])
    before = flow(start, WOODS)
    heavier = TakeReading("A", reading(GOOD + 0.1)).apply(start)
    tried = flow(heavier, WOODS, previous=before, settled=False)
    assert tried.plan is before.plan
    kept = flow(heavier, WOODS, previous=tried)
    assert kept.problem == flow(heavier, WOODS).problem != before.problem
    assert kept.plan == flow(heavier, WOODS).plan


def test_a_new_grid_sizes_again() -> None:
    first = flow(demo().job, WOODS)
    coarse = ChangeSettings(replace(demo().job.settings, grid=inches("1/8"))).apply(demo().job)
    again = flow(coarse, WOODS, "", first)
    assert again.section.resized.shop != first.section.resized.shop
    assert all(sized.width % inches("1/8").exact == 0 for sized in again.parts if sized.resized)


def test_the_demonstration_shows_every_verdict_and_a_list_half_cut() -> None:
    """It shows sticks that pass, some that fail, some on hold, a cut list half done."""
    river = flow(demo().job, WOODS)
    words = [judged.verdict.word for judged in river.rack]
    assert words.count(REJECT) == 1 and words.count(HOLD) == 3 and words.count(ACCEPT) > 20
    small = [judged.words["small_part"] for judged in river.rack]
    assert small.count(REJECT) == 3 and small.count(HOLD) == 4 and small.count(ACCEPT) > 20
    made, left = len(river.job.cuts), river.plan.placed
    assert 0 <= made - left <= 4 and river.plan.unplaced_count == 0
    sawn = {cut.stick for cut in river.job.cuts}
    assert sawn & {row.tag for row in river.plan.sticks if row.pieces}, "one stick lies half sawn"
    assert river.job.invented and all("invented" in judged.stick.note for judged in river.rack)


def test_the_margin_is_kept_beside_defects_and_not_beside_sawn_pieces() -> None:
    wide = Settings(margin=inches("2"))
    start = job(stick("A", GOOD, length="120"), parts=[part("post", "20", 2)], habits=wide)
    first = flow(start, WOODS).plan.sticks[0].pieces[0]
    sawn = MarkCut(CutMade("post", "A", first.start, first.end)).apply(start)
    second = flow(sawn, WOODS).plan.sticks[0].pieces[0]
    assert second.start - first.end == wide.kerf.exact
