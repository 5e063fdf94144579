"""Why a part has no place: by how much it is too long, and what a scarf would make of it."""

from fractions import Fraction

from bench.core.edits import MarkCut, StartJob
from bench.core.records import CutMade, Species, Typed, inches
from bench.core.river import flow
from bench.sheets import left_out
from tests.tools.at_the_saw import part, stick
from tests.tools.driving import Notebook


def said(woods: dict[str, Species], *edits: object) -> list[str]:
    river = flow(Notebook(StartJob("Tansy"), *edits).history.job, woods)
    return [why for _, why in left_out.rows(river)]


def test_by_how_much_and_what_a_scarf_would_do(woods: dict[str, Species]) -> None:
    """By hand: 3/4 in at 1:12 is a joint of 9 in; 150 and one joint are 159, more than 96 and 60, so
    three lengths, 168 in; of 120 and a joint two will do."""
    rack = [*stick("S-1", "96"), *stick("S-2", "60"), *stick("S-3", "24")]
    (long,) = said(woods, *rack, part("spar", "150"))
    assert long == (
        "longer than any clear length by 54 in (96 in is the longest); scarfed 1:12 (each joint 9 in) "
        "it would be 3 lengths, 168 in of wood in all: allow a scarf in Parts"
    )
    (two,) = said(woods, *rack, part("spar", "7681/64"))
    assert "by 24 1/64 in (96 in is the longest); scarfed 1:12 (each joint 9 in) it would be 2 lengths" in two
    assert "129 1/64 in of wood in all" in two


def test_all_the_wood_together_is_too_short(woods: dict[str, Species]) -> None:
    (why,) = said(woods, *stick("S-1", "60"), part("spar", "150"))
    assert why.endswith("all that may become it is too short together, scarfed or not")


def test_a_part_that_may_be_scarfed_says_what_it_would_take(woods: dict[str, Species]) -> None:
    slope = Typed(Fraction(1, 10), "1:10")
    rack = [*stick("S-1", "96"), *stick("S-2", "60")]
    (why,) = said(woods, *rack, part("spar", "120", scarf=slope))
    assert "scarfed 1:10 it takes 2 lengths, 127 1/2 in of wood in all, and no place was found" in why


def test_where_only_other_wood_is_long_enough_it_says_by_how_much_its_own_is_short(
    woods: dict[str, Species],
) -> None:
    """By hand: 60 less 58 in; the 96 in stick lacks its reading, so nothing may come from it."""
    unread = stick("S-2", "96")[:1]
    (why,) = said(woods, *stick("S-1", "58"), *unread, part("spar", "60"))
    assert why.startswith("longer than any clear length by 2 in (58 in is the longest)")


def test_where_all_that_would_do_is_sawn_up_no_stick_is_said_to_be_forbidden(
    woods: dict[str, Species],
) -> None:
    """After 30 in of 30 nothing is left of the one stick that may become it; another wood lies beside it."""
    other = stick("S-2", "96")[:1]
    made = CutMade("spar", "S-1", Fraction(0), inches("30").exact)
    rack = [*stick("S-1", "30"), *other, part("spar", "30", 2), MarkCut(made)]
    (why,) = said(woods, *rack)
    assert why == "the sticks that would do are used up"
