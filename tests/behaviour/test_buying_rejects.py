"""What is ordered on top for planks that will be rejected, by what was rejected before."""

from dataclasses import replace
from fractions import Fraction

from core_cases import WOODS, stick
from scipy.stats import binom

from bench.core import buying
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.inspecting import Judgement
from bench.core.judging import Judged
from bench.core.records import Job
from bench.core.river import flow
from bench.sheets import buying as sentences
from tests.tools.orders import ASH, NO_KERF, SPRUCE, ash_job, bought, offer, part, text


def judged(tag: str, word: str, lot: str = "K2", parent: str = "", species: str = ASH) -> Judged:
    """A stick of the rack of which only the word counts here."""
    one = flow(Job("x", sticks=(stick(tag, 6.6, species=ASH),)), WOODS).rack[0]
    uses = {use: replace(judgement, word=word) for use, judgement in one.uses.items()}
    return replace(one, stick=replace(one.stick, lot=lot, parent=parent, species=species), uses=uses)


def test_rejects_are_counted_by_lot_and_holds_neither_way() -> None:
    rack = [
        judged("1", ACCEPT), judged("2", REJECT), judged("3", HOLD), judged("4", ACCEPT, "barn"),
        judged("5", REJECT, species=SPRUCE),
    ]  # fmt: skip
    found = buying.rejects(rack, ASH, ["small_part"])
    assert [(lot.name, lot.accepted, lot.rejected, lot.held) for lot in found.lots] == [
        ("K2", 1, 1, 1),
        ("barn", 1, 0, 0),
    ]
    assert (found.judged, found.held, found.rate) == (3, 1, Fraction(1, 3))


def test_a_stick_counts_for_all_that_is_wanted_of_it() -> None:
    one = judged("1", ACCEPT)
    spar: Judgement = replace(one.uses["solid_spar"], word=REJECT)
    one = replace(one, uses={**one.uses, "solid_spar": spar})
    assert buying.rejects([one], ASH, ["small_part"]).rate == 0
    assert buying.rejects([one], ASH, ["small_part", "solid_spar"]).rate == 1


def test_strips_of_a_plank_are_one_trial() -> None:
    strips = [judged("P.1", ACCEPT, parent="P"), judged("P.2", REJECT, parent="P")]
    short = judged("P.1s", ACCEPT, parent="P.1")
    found = buying.rejects([*strips, short, judged("Q", ACCEPT)], ASH, ["small_part"])
    assert (found.accepted, found.rejected) == (1, 1)
    half = [judged("P.1", HOLD, parent="P"), judged("P.2", REJECT, parent="P")]
    found = buying.rejects(half, ASH, ["small_part"])
    assert (found.held, found.rejected) == (0, 1), "what is rejected of a plank is settled"


def test_the_allowance_by_scipy() -> None:
    """Two of five rejected, ten planks needed: the fewest with scipy's P(10 or more pass) >= 0.9."""
    made = ash_job(6.6, 6.6, 6.6, 5.0, 5.0, quantity=10)
    words = [row.words["small_part"] for row in made.rack]
    assert words == [ACCEPT] * 3 + [REJECT] * 2
    (found,) = buying.order(made).purchases
    by_scipy = next(n for n in range(10, 100) if binom.sf(9, n, 0.6) >= 0.9)
    assert [(line.needed, line.ordered) for line in found.lines] == [(10, by_scipy)]
    # 1 x 3/4 x 96 / 144 is half a board foot a plank, at 6.
    assert (found.board_feet, found.cost) == (Fraction(by_scipy, 2), 3 * by_scipy)
    said = text(buying.order(made))
    assert "2 of 5 judged were rejected, 40.0 %: from 5 sticks that rate is a guess" in said
    assert "lot K2: 3 accepted, 2 rejected" in said
    assert sentences.CAUTION in said
    assert f"({by_scipy - 10}" not in said and f"{by_scipy - 10} for rejects" in said


def test_what_is_ordered_on_top_can_replace_any_plank() -> None:
    """Three planks of 96 and one of 48 are needed and a third is rejected: all that is added is of 96."""
    made = ash_job(6.6, 6.6, 5.0)
    job = replace(
        made.job,
        parts=(part("a", "90", 3, species=ASH), part("b", "40", species=ASH)),
        offers=(offer("8 ft", "96", species=ASH), offer("4 ft", "48", species=ASH)),
    )
    (found,) = buying.order(flow(job, WOODS)).purchases
    by_scipy = next(n for n in range(4, 100) if binom.sf(3, n, 2 / 3) >= 0.9)
    assert bought(found) == {"8 ft": by_scipy - 1, "4 ft": 1}
    assert [group.base.name for group in found.groups] == ["8 ft"]


def test_the_allowance_counts_where_offers_are_compared() -> None:
    """Five parts of 40. Alone, 2 planks of 96 and 1 of 48 are as much wood as 5 of 48, and fewer. Of a third
    rejected, scipy's binom says 7 for 3 and 10 for 5: 6 x 96 + 48 in against 10 x 48."""
    assert [next(n for n in range(k, 99) if binom.sf(k - 1, n, 2 / 3) >= 0.9) for k in (3, 5)] == [7, 10]
    for marks, wanted in (((), {"8 ft": 2, "4 ft": 1}), ((6.6, 6.6, 5.0), {"4 ft": 10})):
        job = replace(
            ash_job(*marks).job,
            parts=(part("a", "40", 5, species=ASH),),
            offers=(offer("8 ft", "96", species=ASH), offer("4 ft", "48", species=ASH)),
            settings=NO_KERF,
        )
        (found,) = buying.order(flow(job, WOODS)).purchases
        assert bought(found) == wanted


def test_without_a_judged_stick_no_allowance_is_made_and_that_is_said() -> None:
    made = ash_job()
    (found,) = buying.order(made).purchases
    assert (found.rejects.rate, bought(found)) == (None, {"ash 8 ft": 20})
    assert "No allowance for rejects: no stick of this wood has been accepted or rejected yet." in text(
        buying.order(made)
    )


def test_where_all_were_rejected_no_number_is_promised() -> None:
    made = ash_job(5.0, 5.0)
    (found,) = buying.order(made).purchases
    assert found.hopeless and bought(found) == {"ash 8 ft": 20}
    assert "ALL OF THEM WERE REJECTED" in text(buying.order(made))
    assert "NO ALLOWANCE HELPS" in sentences.summary(found)


def test_sticks_on_hold_are_said() -> None:
    made = ash_job(6.6, 6.6)
    job = replace(made.job, sticks=(*made.job.sticks, stick("A-9", length="30")))
    order = buying.order(flow(job, WOODS))
    assert order.purchases[0].rejects.held == 1
    assert "1 stick on hold: counted neither way" in text(order)
