"""The totals of a cut list: counted, measured and weighed by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import ASH, SPRUCE, WOODS, ash_for_spruce, demo, part, stick, typed
from cut_cases import BAD, GOOD, inch, job, ripped, spoilt

from bench.core import totals as core
from bench.core.edits import ChangeSettings, ChooseSection, MarkCut, PutPart
from bench.core.quantities import POUND
from bench.core.records import CutMade, Layer, SectionChoice, Settings, inches
from bench.core.river import River, flow
from bench.core.stretches import KERF, LOST, MADE, OFFCUT, PIECE, SPOILT, TRIM, boards
from bench.core.totals import Totals, density, totals
from bench.sheets import totals as words

# Average gravity on the volume at 12 %, as printed: wh282 table 5-3b. Density with its water is
# 1000 G (1 + M): wh282 eq. 4-14.
SPRUCE_GRAVITY, ASH_GRAVITY = "0.40", "0.60"
CUBIC_INCH = 0.0254**3


def found(river: River) -> Totals:
    return totals(river, WOODS)


def lines(river: River, system: str = "in") -> dict[str, str]:
    settings = replace(river.job.settings, units=system)
    return dict(words.lines(found(river), settings, WOODS))


# --- pieces and sticks ---------------------------------------------------------------------------------


def test_every_piece_is_cut_laid_out_or_without_a_place() -> None:
    start = job(stick("A", GOOD), parts=[part("rib", "20", 5), replace(part("cap", "30"), critical=True)])
    first = flow(start, WOODS).plan.sticks[0].pieces[0]
    river = flow(MarkCut(CutMade(first.part, "A", first.start, first.end)).apply(start), WOODS)
    seen = found(river)
    # 72 in: a 30 and two of 20 with two kerfs of 1/8 in; the other three ribs stay out.
    assert (seen.pieces, seen.cut, seen.placed, seen.unplaced, seen.unplaced_critical) == (6, 1, 2, 3, 0)
    assert (seen.sticks, seen.fresh) == (1, 0)
    assert lines(river)["pieces"] == "6: 1 cut, 2 laid out, 3 without a place"


def test_a_critical_part_without_a_place_is_shouted() -> None:
    river = flow(job(stick("B", BAD), parts=[replace(part("cap"), critical=True)]), WOODS)
    assert found(river).unplaced_critical == 1
    assert "1 without a place (1 CRITICAL)" in lines(river)["pieces"]


def test_the_demonstration_adds_up() -> None:
    history = demo()
    river = flow(history.job, WOODS)
    seen = found(river)
    assert seen.pieces == sum(one.quantity for one in history.job.parts)
    assert seen.cut == len(history.job.cuts) and seen.placed == river.plan.placed
    assert seen.cut + seen.placed + seen.unplaced == seen.pieces
    tags = {cut.stick for cut in history.job.cuts} | {row.tag for row in river.plan.sticks}
    assert seen.sticks == len(tags)
    assert seen.opened == sum(history.job.stick(tag).length.exact for tag in tags)


def test_without_a_plan_all_that_is_left_has_no_place() -> None:
    river = replace(flow(job(stick("A", GOOD), parts=[part("rib", "20", 3)]), WOODS), plan=None)
    seen = found(river)
    assert (seen.pieces, seen.placed, seen.unplaced, seen.sticks, seen.waste_share) == (3, 0, 3, 0, 0.0)
    assert "waste" not in lines(river)


# --- waste ---------------------------------------------------------------------------------------------


def test_the_waste_by_hand() -> None:
    """72 in: two of 20 in with a kerf of 1/8 each leave 31 3/4 in, which is kept: 1/4 in is waste."""
    river = flow(job(stick("A", GOOD), parts=[part("rib", "20", 2)]), WOODS)
    seen = found(river)
    assert (seen.opened, seen.waste) == (inch(72), inch("1/4"))
    # 0.34722 % is shown as 0.4 %: what is lost is never shown as less.
    assert lines(river)["waste"].startswith("0.4 % of all")


def test_what_is_too_short_to_keep_is_waste() -> None:
    habits = replace(Settings(), least_offcut=inches("40"))
    river = flow(job(stick("A", GOOD), parts=[part("rib", "20", 2)], habits=habits), WOODS)
    assert found(river).waste == inch(32)
    assert "under 40 in" in lines(river)["waste"]


def test_a_piece_cut_already_is_no_waste_and_a_spoiled_one_is() -> None:
    before = flow(job(stick("A", GOOD), parts=[part("rib", "20", 2)]), WOODS)
    piece = before.plan.sticks[0].pieces[0]
    cut = flow(MarkCut(CutMade("rib", "A", piece.start, piece.end)).apply(before.job), WOODS)
    assert found(cut).waste == inch("1/4")
    lost = spoilt(before)
    # The two ribs now take 40 in and three kerfs, of which the last eats nothing that was kept.
    assert found(lost).waste == inch(20) + 3 * inch("1/8")
    kinds = [run.kind for run in boards(lost)[0].rows[0].runs]
    assert kinds == [SPOILT, KERF, PIECE, KERF, PIECE, KERF, OFFCUT]


def test_each_strip_of_a_plank_is_a_length_of_its_own() -> None:
    seen = found(ripped())
    assert seen.opened == 3 * inch(72)
    assert (seen.pieces, seen.placed, seen.sticks) == (10, 10, 2)


def test_the_stretches_of_every_stick_add_up_to_it() -> None:
    """Trims, margins, made and spoiled pieces among them; nothing lies on anything else."""
    habits = replace(Settings(), end_trim=inches("1/2"), margin=inches("1/4"), squaring=inches("1/16"))
    start = flow(demo().job, WOODS)
    rivers = [start, spoilt(start), ripped(), flow(ChangeSettings(habits).apply(start.job), WOODS)]
    kinds = set()
    for river in rivers:
        rows = [(board.stick, row) for board in boards(river) for row in board.rows]
        assert rows
        for held, row in rows:
            assert row.runs[0].start == 0 and row.runs[-1].end == held.length.exact
            assert all(one.end == other.start for one, other in zip(row.runs, row.runs[1:], strict=False))
            assert all(run.length > 0 for run in row.runs)
            kinds |= {run.kind for run in row.runs}
        kerf = river.job.settings.kerf.exact
        assert all(run.length <= kerf for _, row in rows for run in row.runs if run.kind == KERF)
    assert {PIECE, MADE, SPOILT, LOST, TRIM, OFFCUT, KERF} <= kinds


# --- weight --------------------------------------------------------------------------------------------


def test_the_density_is_the_handbooks() -> None:
    for wood, gravity in ((SPRUCE, SPRUCE_GRAVITY), (ASH, ASH_GRAVITY)):
        assert density(wood, 0.12) == pytest.approx(1000 * float(gravity) * 1.12, rel=1e-12)
    assert density(None, 0.12) is None


@pytest.mark.parametrize("moisture", [None, "3/20", "2/25"])
@pytest.mark.parametrize("gravity", ["handbook", "stick"])
def test_the_density_is_that_of_the_section(moisture: str | None, gravity: str) -> None:
    choice = ash_for_spruce(gravity=gravity, moisture=None if moisture is None else typed(moisture))
    river = flow(job(stick("A", GOOD), parts=[part("rib", "20")], choice=choice), WOODS)
    section, own = river.section, river.rack[0].found.measured.sg_12
    at = section.use.moisture
    assert density(SPRUCE, at) == pytest.approx(section.plan.density, rel=1e-12)
    used = density(ASH, at, own if gravity == "stick" else None)
    assert used == pytest.approx(section.use.density, rel=1e-12)
    # One part of the section on the pane: its weight over its length is what the pane shows.
    seen, length = found(river), float(inch(20))
    weighed = seen.as_placed if gravity == "stick" else seen.new
    assert weighed == pytest.approx(section.resized.shop_values["weight"] * length, rel=1e-12)
    assert seen.drawn == pytest.approx(section.resized.plan_values["weight"] * length, rel=1e-12)


def test_the_weights_by_hand() -> None:
    """Two of 1 x 1 x 12 in: 24 cubic inches, spruce as drawn and ash of the drawing's size, not resized."""
    parts = [part("rib", "12", 2, side="1")]
    habits = replace(Settings(), grid=inches("1"))
    held = stick("A", GOOD, side="5/4")
    river = flow(job(held, parts=parts, habits=habits), WOODS)
    assert (river.parts[0].width, river.parts[0].depth) == (inch(1), inch(1))
    seen = found(river)
    assert seen.drawn == pytest.approx(24 * CUBIC_INCH * 1000 * float(SPRUCE_GRAVITY) * 1.12)
    assert seen.new == pytest.approx(24 * CUBIC_INCH * 1000 * float(ASH_GRAVITY) * 1.12)
    # 0.388445... and 0.582667... lb: the drawing's goes down, what is made goes up; 3/2 of the drawing's.
    shown = lines(river)
    assert shown["drawing"].startswith("0.388 lb")
    assert shown["weight"] == "0.583 lb in the wood it is made of, 150.0 % of the drawing's"
    assert shown["basis"].endswith("handbook average gravity, 12.0 % moisture")
    metric = lines(river, "mm")
    assert metric["drawing"].startswith("0.176 kg") and metric["weight"].startswith("0.265 kg")


def test_as_placed_takes_the_gravity_of_each_stick() -> None:
    river = flow(job(stick("A", GOOD), parts=[part("rib", "20", 2)]), WOODS)
    own = river.rack[0].found.measured.sg_12
    seen = found(river)
    assert seen.by_stick == 2
    assert seen.as_placed / seen.new == pytest.approx(own / float(ASH_GRAVITY))
    assert "2 of 2 pieces by their own stick's gravity" in lines(river)["as placed"]


def test_a_piece_without_a_stick_is_weighed_by_the_average() -> None:
    river = flow(job(stick("B", BAD), parts=[part("rib", "20", 2)]), WOODS)
    seen = found(river)
    assert (seen.by_stick, seen.placed) == (0, 0)
    assert seen.as_placed == seen.new and "as placed" not in lines(river)
    one = found(flow(job(stick("B", BAD), parts=[part("rib", "20")]), WOODS))
    assert seen.new == pytest.approx(2 * one.new) and seen.drawn == pytest.approx(2 * one.drawn)


def test_a_piece_cut_already_keeps_the_size_and_the_wood_it_was_cut_to() -> None:
    start = job(stick("A", GOOD), parts=[part("rib", "20")])
    made = CutMade("rib", "A", Fraction(0), inch(20), inch("7/8"), inch("7/8"))
    cut = MarkCut(made).apply(start)
    wanted = float(inch("7/8") ** 2 * inch(20)) * 1000 * float(ASH_GRAVITY) * 1.12
    assert found(flow(cut, WOODS)).new == pytest.approx(wanted)
    back = ChooseSection(SectionChoice()).apply(cut)  # spruce again: the piece stays ash
    assert found(flow(back, WOODS)).new == pytest.approx(wanted)


def test_cut_without_a_size_counts_with_the_size_of_its_part() -> None:
    start = job(stick("A", GOOD), parts=[part("rib", "20")])
    whole = found(flow(start, WOODS))
    cut = MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(start)
    assert found(flow(cut, WOODS)).new == pytest.approx(whole.new)


def test_a_wood_whose_gravity_nobody_knows_is_said() -> None:
    bare = {**WOODS, "white_ash": replace(ASH, figures=())}
    river = flow(job(stick("A", GOOD), parts=[part("rib", species="white_ash")]), WOODS)
    seen = totals(river, bare)
    assert (seen.new, seen.drawn, seen.unknown) == (None, None, ("white_ash",))
    shown = dict(words.lines(seen, river.job.settings, bare))
    assert shown["weight"] == "NOT KNOWN: no average gravity known of white ash"
    assert totals(river, {}).unknown == ("white_ash",)


def test_a_part_without_a_size_in_the_new_wood_is_said() -> None:
    river = flow(job(stick("U"), parts=[part("rib")], choice=ash_for_spruce(gravity="stick")), WOODS)
    seen = found(river)
    assert (seen.new, seen.unsized) == (None, ("rib",)) and seen.drawn is not None
    assert lines(river)["weight"] == "NOT KNOWN: no size in the new wood: rib"
    assert lines(river)["drawing"].endswith("as drawn, in its wood")


def test_layers_are_weighed_by_what_they_are_made_of() -> None:
    """A layer of ash and one of spruce, equally thick: the mean of the two densities."""
    choice = ash_for_spruce(
        shape="laminated",
        match="stiffness",
        layers=(Layer("white_ash", inches("3/8")), Layer("sitka_spruce", inches("3/8"))),
    )
    river = flow(job(stick("A", GOOD), parts=[part("rib", "20")], choice=choice), WOODS)
    resized = river.section.resized
    assert resized is not None and river.section.refusal is None
    assert found(river).new == pytest.approx(resized.shop_values["weight"] * float(inch(20)), rel=1e-9)
    assert found(river).by_stick == 0


def test_lengths_of_a_scarfed_part_say_what_they_count() -> None:
    length = replace(part("spar a", "40"), piece_of="spar")
    river = flow(job(stick("A", GOOD), parts=[length]), WOODS)
    assert found(river).scarfed and "what their joints overlap" in lines(river)["basis"]
    plain = flow(PutPart(replace(length, piece_of=""), was="spar a").apply(river.job), WOODS)
    assert "overlap" not in lines(plain)["basis"]


@pytest.mark.parametrize(
    ("pounds", "up", "down"),
    [
        (Fraction(1), "1.000 lb", "1.000 lb"),
        (Fraction(10_001, 10_000), "1.001 lb", "1.000 lb"),
        (Fraction(19_999, 10_000), "2.000 lb", "1.999 lb"),
        (Fraction(1, 10_000), "0.001 lb", "0.000 lb"),
    ],
)
def test_a_cost_goes_up_and_an_allowance_down(pounds: Fraction, up: str, down: str) -> None:
    mass = float(pounds * POUND)
    assert (words.weight_up(mass), words.weight_down(mass)) == (up, down)


def test_the_totals_know_nothing_of_the_shop_units() -> None:
    """One meaning inside: only the words change with the unit."""
    metric = replace(Settings(), units="mm")
    start = job(stick("A", GOOD), parts=[part("rib", "20", 2)])
    assert core.totals(flow(ChangeSettings(metric).apply(start), WOODS), WOODS) == found(flow(start, WOODS))
