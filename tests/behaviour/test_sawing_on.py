"""While a job is sawn: the next step can always be made, what is laid out stays, nothing is lost silently.

No source outside: these are promises of the program itself; whether a layout can be sawn is said by the
independent validator.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from bench.core import grading, laying, totals
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.edits import (
    CondemnStick,
    CutShort,
    LayOut,
    LookOver,
    MarkCut,
    PutPart,
    PutStick,
    RemovePart,
    RipPlank,
    SpoilPiece,
)
from bench.core.history import EMPTY
from bench.core.records import Laid, Settings, Species, Spoilt, Typed
from bench.core.river import River
from bench.sheets import cut_words, inspecting
from bench.ui.ledger import Ledger
from tests.tools.plan_validator import faults
from tests.tools.saw_jobs import (
    AT,
    INCH,
    begun,
    inch,
    made,
    random_job,
    sound,
    square,
    steps,
    ticked,
    walk,
)

SCARF = Typed(Fraction(1, 12), "1:12")  # 9 in over a side of 3/4 in


def lying(river: River) -> Counter[tuple[str, str, int, Fraction]]:
    """Part, stick, strip and start of every piece still to come."""
    return Counter(
        (piece.part, row.tag, row.strip, piece.start) for row in river.plan.sticks for piece in row.pieces
    )


def along(river: River) -> Counter[tuple[str, Fraction]]:
    """The same whatever its stick is called by now."""
    return Counter((part, start) for part, _, _, start in lying(river).elements())


def reopened(ledger: Ledger) -> Ledger:
    """The same job, from its record alone."""
    history = EMPTY
    for _, entry in ledger.record:
        history = history.follow(entry)
    again = Ledger(history, ledger.woods, ledger.record)
    again.flow()
    return again


def judged(ledger: Ledger, tag: str) -> dict[str, str]:
    return ledger.river.judged(tag).words


# --- any job


@pytest.mark.parametrize("seed", range(20))
def test_the_step_on_show_can_always_be_ticked_off(seed: int, woods: dict[str, Species]) -> None:
    """Whatever went wrong before; ticking off moves nothing, and the record alone tells the same layout."""
    random = Random(seed)
    ledger = random_job(random, woods)
    for before, edit, after in walk(random, ledger, 12):
        assert faults(after.problem, after.plan) == []
        assert set(before.job.sawn) <= set(after.job.sawn)
        if isinstance(edit, (MarkCut, RipPlank)) and before.job.laid:
            gone = along(before) - along(after)
            expected = [(edit.cut.part, edit.cut.start)] if isinstance(edit, MarkCut) else []
            assert sorted(gone.elements()) == expected
        again = reopened(ledger)
        assert again.job == ledger.job
        if ledger.job.laid:
            assert lying(again.river) == lying(after)


def test_the_walks_go_somewhere(woods: dict[str, Species]) -> None:
    """Planks are ripped, pieces spoiled and cut short, sticks condemned, parts scarfed on the way."""
    seen: set[type] = set()
    for seed in range(8):
        random = Random(seed)
        ledger = random_job(random, woods)
        seen |= {type(edit) for _, edit, _ in walk(random, ledger, 12)}
    assert seen == {MarkCut, RipPlank, SpoilPiece, CutShort, CondemnStick, PutStick}


# --- planks


def test_a_plank_that_a_piece_was_spoiled_on_is_not_to_be_ripped(woods: dict[str, Species]) -> None:
    """Two parts lie on a plank in one row, one is ruined: two strips would have room, but no saw for them."""
    ledger = begun(woods, (sound("P-9", 60, "3", "7/8"),), (square("a", 20, 2),))
    river = ledger.river
    assert {row.strip for row in river.plan.sticks} == {0}, "one row does"
    piece = steps(river)[0].piece
    river = made(ledger, SpoilPiece(Spoilt("a", "P-9", piece.start, piece.end, "torn")))
    while steps(river):
        assert not steps(river)[0].piece.strip
        river = made(ledger, ticked(river, steps(river)[0]))
    assert len(river.job.cuts) + river.plan.unplaced_count == 2


def test_a_plank_is_ripped_where_its_strips_tags_are_taken(woods: dict[str, Species]) -> None:
    long = "P" * 40
    for plank, taken, first in (("P", "p.1", "P 2.1"), (long, "Q", f"{long[:38]}.1")):
        sticks = (sound(plank, 60, "3"), sound(taken, 10))
        ledger = begun(woods, sticks, (square("a", 50, 3),))
        edit = ticked(ledger.river, steps(ledger.river)[0])
        assert isinstance(edit, RipPlank)
        river = made(ledger, edit)
        assert river.plan.placed == 3 and lying(river)["a", first, 0, 0] == 1
        assert all(len(stick.tag) <= 40 for stick in river.job.sticks)
        made(ledger, ticked(river, steps(river)[0]))


def test_what_came_off_the_rip_saw_is_rough_though_its_width_happens_to_match(
    woods: dict[str, Species],
) -> None:
    """2 1/4 less 1/4 edge, two strips of 1/2 + 2 x 1/16 and their kerfs leave 1/2 in: not 1/2 in finished."""
    half = replace(square("half", 50, 2), width=inch("1/2"))
    more = replace(square("more", 30), width=inch("1/2"))
    habits = Settings(planing=inch("1/16"), edge=inch("1/4"), kerf=inch("1/8"))
    ledger = begun(woods, (sound("P", 52, "9/4"),), (half, more), habits)
    assert ledger.river.plan.unplaced_count == 1
    river = made(ledger, ticked(ledger.river, steps(ledger.river)[0]))
    assert [stick.width.exact / INCH for stick in river.job.sticks] == [
        Fraction(5, 8), Fraction(5, 8), Fraction(1, 2)
    ]  # fmt: skip
    assert river.plan.unplaced_count == 1, "the rest gives no part of its own width"
    assert {stick.tag: stick.rough for stick in river.problem.sticks} == {
        "P.1": (True, False), "P.2": (True, False)
    }  # fmt: skip
    strip, _, rest = river.job.sticks
    planing = inch("1/16").exact
    for stick, width, fits in ((strip, "1/2", True), (strip, "5/8", False), (rest, "1/2", False)):
        assert grading.covers(stick, inch(width).exact, inch("3/4").exact, planing) is fits
    planed = replace(strip, width=inch("1/2"))
    assert grading.covers(planed, inch("1/2").exact, inch("3/4").exact, planing), "planed since"
    flat = replace(rest, width=inch("3/4"), depth=rest.width, sawn_width=None, sawn_depth=rest.width.exact)
    assert not grading.covers(flat, inch("3/4").exact, inch("1/2").exact, planing), "whichever side it is"


def test_strips_of_one_plank_are_one_stick_that_is_opened(woods: dict[str, Species]) -> None:
    ledger = begun(woods, (sound("P", 60, "3"), sound("S", 60)), (square("a", 50, 3), square("b", 55)))
    river = ledger.river
    seen = totals.totals(river, woods)
    assert (seen.sticks, seen.fresh, river.plan.sticks_used, river.plan.sticks_opened) == (2, 2, 2, 2)
    rip = next(step for step in steps(river) if step.piece.strip)
    river = made(ledger, ticked(river, rip))
    seen = totals.totals(river, woods)
    assert (seen.sticks, seen.fresh, river.plan.sticks_used, river.plan.sticks_opened) == (2, 1, 2, 1)
    assert river.plan.fewest_possible <= 1
    assert faults(river.problem, river.plan) == []
    again = river.job.stick("P.1")
    assert (again.origin, again.lineage) == ("P", ("P",))


# --- what stays


def test_a_part_without_a_place_moves_nothing_that_is_laid_out(woods: dict[str, Species]) -> None:
    """Laid out anew the long one would fit; it is so only when more lacks a place than did."""
    ledger = begun(
        woods, (sound("S", 60), sound("T", 60)), (square("a", 20), square("b", 35), square("c", 50))
    )
    laid = (
        Laid("a", "S", 20 * INCH, 40 * INCH),
        Laid("c", "T", Fraction(0), 50 * INCH),
    )
    ledger.accept(LayOut(laid, out=("b",)), AT)
    river, _ = ledger.flow()
    assert lying(river) == Counter({("a", "S", 0, 20 * INCH): 1, ("c", "T", 0, Fraction(0)): 1})
    step = next(step for step in steps(river) if step.piece.part == "c")
    before = len(ledger.record)
    river = made(ledger, ticked(river, step))
    assert lying(river) == Counter({("a", "S", 0, 20 * INCH): 1}) and river.plan.unplaced_count == 1
    assert len(ledger.record) == before + 1, "nothing was laid out anew"
    river = made(ledger, PutStick(sound("U", 30)))
    assert lying(river)["a", "S", 0, 20 * INCH] == 1 and river.plan.unplaced_count == 1
    ledger.turn("undo", AT)
    river = made(ledger, PutStick(sound("U", 36)))
    assert lying(river)["a", "S", 0, 20 * INCH] == 1 and lying(river)["b", "U", 0, Fraction(0)] == 1


def test_a_loss_lays_all_out_anew_where_that_places_more(woods: dict[str, Species]) -> None:
    ledger = begun(woods, (sound("S", 60), sound("T", 40)), (square("a", 20), square("b", 35)))
    ledger.accept(LayOut((Laid("a", "S", 20 * INCH, 40 * INCH), Laid("b", "T", Fraction(0), 35 * INCH))), AT)
    ledger.flow()
    river = made(ledger, CondemnStick("T", "rot"))
    assert river.plan.unplaced_count == 0 and {row.tag for row in river.plan.sticks} == {"S"}


def test_of_a_plank_what_is_still_wanted_stays_when_a_strip_is_not(woods: dict[str, Species]) -> None:
    parts = (square("a", 50, 2), square("b", 49))
    ledger = begun(woods, (sound("P", 60, "3"), sound("S", 20)), (*parts, square("c", 15)))
    river = made(ledger, ticked(ledger.river, next(s for s in steps(ledger.river) if s.piece.part == "c")))
    before = along(river)
    assert {row.strip for row in river.plan.sticks} == {1, 2, 3}
    river = made(ledger, RemovePart("b"))
    assert along(river) == before - Counter({("b", Fraction(0)): 1})
    assert {row.strip for row in river.plan.sticks} == {1, 2} and faults(river.problem, river.plan) == []


# --- scarfed parts


def test_the_first_cut_makes_lengths_of_what_has_no_place(woods: dict[str, Species]) -> None:
    """100 in and a joint of 9 in from 60 and what is left of 60 in beside the cut on show."""
    ledger = begun(
        woods, (sound("S", 60), sound("T", 60)), (square("b", 10), square("spar", 100, scarf=SCARF))
    )
    river, step = ledger.river, steps(ledger.river)[0]
    assert [out.part for out in river.plan.unplaced] == ["spar"] and step.piece.part == "b"
    ledger.accept(ticked(river, step), AT)
    river, _ = ledger.flow()
    _, moved = ledger.lay_out(AT)
    assert river.plan.unplaced_count == 0 and faults(river.problem, river.plan) == []
    assert {"spar a", "spar b"} <= {change.part for change in moved}, "it is told"
    lengths = [part.length.exact / INCH for part in river.job.parts if part.piece_of == "spar"]
    assert sum(lengths) == 100 + 9
    while steps(river):
        river = made(ledger, ticked(river, steps(river)[0]))
    assert len(river.job.cuts) == 3


def test_a_condemned_stick_leaves_lengths_where_the_part_may_be_scarfed(woods: dict[str, Species]) -> None:
    sticks = (sound("S", 60), sound("T", 40), sound("U", 40))
    ledger = begun(woods, sticks, (square("b", 10), square("spar", 58, scarf=SCARF)))
    step = next(step for step in steps(ledger.river) if step.piece.part == "b")
    river = made(ledger, ticked(ledger.river, step))
    before, lost = river.job, next(row.tag for row in river.plan.sticks)
    assert lost == "S"
    river = made(ledger, CondemnStick("S", "rot"))
    assert river.plan.unplaced_count == 0 and faults(river.problem, river.plan) == []
    assert {"spar a", "spar b"} == {part for part, *_ in lying(river)}
    assert river.job == ledger.job and lying(reopened(ledger).river) == lying(river)
    river = made(ledger, ticked(river, steps(river)[0]))
    ledger.turn("undo", AT)
    ledger.turn("undo", AT)
    assert ledger.job == before, "the lengths go with the change they came of"


def test_a_power_cut_before_the_new_layout_was_kept(woods: dict[str, Species]) -> None:
    """The stick is condemned, and the layout that came of it not in the record yet."""
    sticks = (sound("S", 60), sound("T", 40), sound("U", 40))
    ledger = begun(woods, sticks, (square("b", 10), square("spar", 58, scarf=SCARF)))
    made(ledger, ticked(ledger.river, next(s for s in steps(ledger.river) if s.piece.part == "b")))
    ledger.accept(CondemnStick("S", "rot"), AT)
    shown, _ = ledger.flow()
    again = reopened(ledger)
    assert lying(again.river) == lying(shown) and again.river.plan.unplaced_count == 0
    river = made(again, ticked(again.river, steps(again.river)[0]))
    assert [cut.part[:4] for cut in river.job.cuts] == ["b", "spar"] and river.plan.placed == 1
    assert (
        lying(reopened(again).river)
        == lying(river)
        == lying(shown) - Counter([(cut.part, cut.stick, 0, cut.start) for cut in river.job.cuts])
    )


def searched(ledger: Ledger) -> River:
    """The river after a search in the background has found lengths."""
    river = ledger.river
    changed, plan, scarfed = laying.with_scarfs(river.problem, river.plan, river.parts, river.job)
    found = ledger.better(river.problem, changed, plan, scarfed)
    assert found is not None and scarfed
    return found


def test_lengths_stay_when_wood_comes_in_until_the_part_fits_whole(woods: dict[str, Species]) -> None:
    ledger = begun(
        woods, (sound("S", 60), sound("T", 60)), (square("b", 10), square("spar", 100, scarf=SCARF))
    )
    lengths = {("spar a"), ("spar b")}
    assert lengths < {part for part, *_ in lying(searched(ledger))}
    for edit in (PutStick(sound("U", 20)), PutStick(sound("U", 21), was="U")):
        ledger.accept(edit, AT)
        river, _ = ledger.flow()
        assert river.plan.unplaced_count == 0 and lengths < {part for part, *_ in lying(river)}
        assert ledger.flow()[0].plan is river.plan, "worked out once"
    ledger.accept(PutStick(sound("V", 100)), AT)
    river, _ = ledger.flow()
    assert {part for part, *_ in lying(river)} == {"b", "spar"} and ledger.scarfed == ()


def test_lengths_go_when_their_joint_is_another_one(woods: dict[str, Species]) -> None:
    """1:10 joins over 7 1/2 in: the lengths of 1:12 would come out 1 1/2 in too long."""
    ledger = begun(woods, (sound("S", 60), sound("T", 60)), (square("spar", 100, scarf=SCARF),))
    searched(ledger)
    part = ledger.job.part("spar")
    ledger.accept(PutPart(replace(part, scarf=Typed(Fraction(1, 10), "1:10")), was="spar"), AT)
    river, _ = ledger.flow()
    assert river.plan.placed == 0 and ledger.scarfed == ()


def test_a_second_search_adds_to_the_lengths_there_are(woods: dict[str, Species]) -> None:
    parts = (square("spar", 100, scarf=SCARF), square("mast", 130, scarf=SCARF))
    ledger = begun(woods, (sound("S", 60), sound("T", 60)), parts)
    searched(ledger)
    assert [one.whole for one in ledger.scarfed] == ["spar"]
    for tag in "UVW":
        ledger.accept(PutStick(sound(tag, 60)), AT)
    ledger.flow()
    river = searched(ledger)
    assert sorted(one.whole for one in ledger.scarfed) == ["mast", "spar"] and river.plan.unplaced_count == 0
    assert ledger.flow()[0].plan.unplaced_count == 0


# --- condemned


def test_what_was_sawn_from_a_condemned_stick_is_on_hold_until_it_is_looked_over(
    woods: dict[str, Species],
) -> None:
    ledger = begun(woods, (sound("P", 100),), (square("a", 30, 3), square("b", 15)))
    river = made(ledger, CutShort("a", "P", Fraction(0), inch(29), "P short"))
    assert judged(ledger, "P short")["small_part"] == ACCEPT
    river = made(ledger, CutShort("b", "P short", Fraction(0), inch(14), "P shorter"))
    river = made(ledger, CondemnStick("P", "decay"))
    assert river.plan.placed == 0, "nothing is laid on it"
    for tag in ("P short", "P shorter"):
        assert set(judged(ledger, tag).values()) == {HOLD}
        deciding = river.judged(tag).uses["small_part"].deciding
        assert "P: decay" in inspecting.reason(deciding) and "look it over" in inspecting.reason(deciding)
    river = made(ledger, LookOver("P short"))
    assert judged(ledger, "P short")["small_part"] == ACCEPT
    assert judged(ledger, "P shorter")["small_part"] == HOLD, "each by itself"
    assert judged(ledger, "P")["small_part"] == REJECT
    made(ledger, CondemnStick("P", ""))
    assert judged(ledger, "P shorter")["small_part"] == ACCEPT
    assert judged(reopened(ledger), "P short") == judged(ledger, "P short")


def test_strips_of_what_was_sawn_from_a_condemned_stick_are_on_hold_too(woods: dict[str, Species]) -> None:
    """The piece itself is gone from the rack by then: it was ripped."""
    ledger = begun(woods, (sound("P", 100, "3"),), (square("a", 30),))
    made(ledger, CutShort("a", "P", Fraction(0), inch(29), "Q"))
    made(ledger, RipPlank("Q", (inch("3/4"), inch("3/4")), inch(1)))
    assert judged(ledger, "Q.1")["small_part"] == ACCEPT
    made(ledger, CondemnStick("P", "decay"))
    assert {judged(ledger, tag)["small_part"] for tag in ("Q.1", "Q.2", "Q.3")} == {HOLD}


def test_what_is_typed_as_sawn_from_a_stick_follows_it(woods: dict[str, Species]) -> None:
    """A list that came in says of each stick only what it was sawn from last."""
    typed = (sound("P", 60), replace(sound("Q", 40), parent="P"), replace(sound("R", 20), parent="Q"))
    ledger = begun(woods, typed, (square("a", 10),))
    made(ledger, CondemnStick("P", "decay"))
    assert {tag: judged(ledger, tag)["small_part"] for tag in "QR"} == {"Q": HOLD, "R": HOLD}


# --- the sheet


def test_the_sheet_says_whether_its_layout_is_kept(woods: dict[str, Species]) -> None:
    ledger = begun(woods, (sound("S", 60),), (square("a", 20, 2),))
    assert cut_words.NOT_KEPT in cut_words.state(ledger.river)
    river = made(ledger, ticked(ledger.river, steps(ledger.river)[0]))
    assert cut_words.NOT_KEPT not in cut_words.state(river)
    river = made(ledger, ticked(river, steps(river)[0]))
    assert cut_words.NOT_KEPT not in cut_words.state(river), "there is nothing to keep"
