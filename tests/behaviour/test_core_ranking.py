"""Woods compared: sorted, complete, nothing better for being unknown, own lots by their own gravity."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from core_cases import ASH, SPRUCE, WOODS, ash_for_spruce, stick
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import strength
from bench.core.errors import Clash, Missing, OutOfRange, Refusal
from bench.core.judging import judge
from bench.core.ranking import (
    COMPARED,
    REFUSED,
    STANDINGS,
    UNKNOWN,
    Ask,
    Lot,
    asked,
    own_lots,
    rank,
)
from bench.core.records import Settings, Species, inches
from bench.core.resizing import CAPACITIES, MATCHES, resize
from bench.core.sections import Box, Rectangle, Round
from bench.core.strength import AIRCRAFT, HANDBOOK
from bench.sheets import ranking as sentences

quick = settings(max_examples=60, deadline=None)
INCH = 0.0254
SQUARE = Rectangle(0.75 * INCH, 0.75 * INCH)

sides = st.integers(16, 128).map(lambda steps: steps / 64 * INCH)
plans = st.builds(Rectangle, sides, sides)
matches = st.sampled_from([match for match in MATCHES if match != "own"])
holds = st.sampled_from(["", "width", "depth"])
# A plan and the side that is held; a round has none to hold.
drawn = st.tuples(plans, holds) | st.tuples(st.builds(Round, sides), st.just(""))
lengths = st.none() | st.integers(4, 96).map(lambda inches: inches * INCH)
lots = st.lists(
    st.builds(
        Lot,
        st.text("ABC", min_size=1, max_size=3),
        st.sampled_from(sorted(WOODS)),
        st.just(2),
        st.lists(st.tuples(st.just("A-1"), st.floats(0.3, 0.7)), max_size=3).map(tuple),
    ),
    max_size=3,
    unique_by=lambda lot: (lot.name, lot.species),
)


def without(species: Species, *quantities: str) -> Species:
    """A species that lacks some figures."""
    return replace(species, figures=tuple(f for f in species.figures if f.quantity not in quantities))


@quick
@given(drawn, matches, lengths, st.sampled_from([HANDBOOK, AIRCRAFT]), lots)
def test_sorted_complete_and_the_best_is_lightest(drawn, match, length, figures, own) -> None:
    plan, hold = drawn
    found = rank(Ask(plan, match, hold, length, figures=figures), SPRUCE, WOODS, own)
    keys = [row.key for row in found.rows]
    assert sorted(keys, key=str) == sorted(
        [*((key, None) for key in WOODS), *((lot.species, lot.name) for lot in own)], key=str
    )
    places = [STANDINGS.index(row.standing) for row in found.rows]
    assert places == sorted(places)
    weights = [row.weight for row in found.of(COMPARED) if row.lighter == 1]
    assert weights == sorted(weights, key=lambda weight: round(weight, 9))
    light = [row.key for row in found.rows if row.lighter < 1]
    assert all(keys.index(key) > keys.index((key[0], None)) for key in light)
    assert all(weights[0] <= weight * (1 + 1e-8) for weight in weights)
    for row in found.rows:
        assert row.standing == COMPARED or sentences.why(row)
        assert row.standing != COMPARED or row.resized is not None


@quick
@given(drawn, matches, lengths)
def test_each_row_is_what_resizing_says(drawn, match, length) -> None:
    plan, hold = drawn
    found = rank(Ask(plan, match, hold, length), SPRUCE, WOODS)
    spruce = strength.of(SPRUCE)
    for row in found.of(COMPARED):
        alone = resize(plan, spruce, strength.of(WOODS[row.species]), match, hold, length)
        assert row.resized == alone


@quick
@given(drawn, lengths)
def test_equal_weight_is_ordered_by_what_is_given_away(drawn, length) -> None:
    plan, hold = drawn
    rows = rank(Ask(plan, "weight", hold, length), SPRUCE, WOODS).of(COMPARED)
    assert [row.weight for row in rows] == pytest.approx([1.0] * len(rows))
    lost = [len(row.resized.weaker) + len(row.unknown) for row in rows]
    assert lost == sorted(lost)
    assert rows[0].species == "sitka_spruce", "the drawing's own wood gives nothing away"


def test_what_is_unknown_never_helps_a_wood_up() -> None:
    before = [row.species for row in rank(Ask(SQUARE, "weight"), SPRUCE, WOODS).rows]
    poor = {**WOODS, "white_ash": without(ASH, "modulus_of_elasticity", "work_to_maximum_load")}
    after = rank(Ask(SQUARE, "weight"), SPRUCE, poor)
    row = next(row for row in after.rows if row.species == "white_ash")
    # Stiffness, and with it column and twist, were given away; energy to break was not.
    assert set(row.unknown) == {"stiffness", "column", "torsion", "toughness"}
    assert [row.species for row in after.rows].index("white_ash") >= before.index("white_ash")


@pytest.mark.parametrize("match", ["bending", "all"])
def test_a_figure_that_the_match_needs_puts_a_wood_last(match: str) -> None:
    poor = {**WOODS, "white_ash": without(ASH, "modulus_of_rupture")}
    found = rank(Ask(SQUARE, match), SPRUCE, poor)
    last = found.of(UNKNOWN)
    assert "white_ash" in [row.species for row in last]
    assert found.rows[-len(last) :] == last
    row = next(row for row in last if row.species == "white_ash")
    assert isinstance(row.refusal, Missing) and "modulus of rupture" in sentences.why(row)
    with pytest.raises(Missing):
        _ = row.weight


def test_weaker_in_nothing_is_not_said_of_what_is_not_known() -> None:
    poor = {**WOODS, "white_ash": without(ASH, "shear_parallel")}
    row = next(row for row in rank(Ask(SQUARE, "all"), SPRUCE, poor).rows if row.species == "white_ash")
    assert row.standing == UNKNOWN and row.unknown == ("shear",)
    assert row.resized is not None and row.refusal is None
    assert sentences.why(row) == "not known: shear, which the match promises"
    # What the drawing's own wood lacks, no wood is blamed for.
    bare = rank(Ask(SQUARE, "all"), without(SPRUCE, "shear_parallel"), poor)
    assert next(row for row in bare.rows if row.species == "white_ash").standing == COMPARED


def test_a_wood_that_no_shop_size_is_large_enough_for_is_refused() -> None:
    ask = Ask(SQUARE, "stiffness", sizes=(Fraction(254, 10_000) * Fraction(3, 4),))
    found = rank(ask, SPRUCE, WOODS)
    assert found.of(COMPARED) and found.of(REFUSED)
    for row in found.of(REFUSED):
        assert isinstance(row.refusal, OutOfRange) and "the largest is 0.75 in" in sentences.why(row)
    assert len(found.rows) == len(WOODS)


def test_a_slot_that_stays_too_narrow_is_refused_for_that_wood_alone() -> None:
    ask = Ask(SQUARE, "bearing", cap_side="width", cap=0.5 * INCH)
    found = rank(ask, SPRUCE, WOODS)
    assert {row.species for row in found.of(COMPARED)} >= {"white_ash", "sugar_maple"}
    assert all(isinstance(row.refusal, Clash) for row in found.of(REFUSED)) and found.of(REFUSED)


@pytest.mark.parametrize(
    ("field", "ask"),
    [
        ("match", Ask(SQUARE, "looks")),
        ("hold", Ask(SQUARE, hold="both")),
        ("own", Ask(SQUARE, "own")),
        ("figures", Ask(SQUARE, figures="rumour")),
        ("free length", Ask(SQUARE, length_m=0.0)),
        ("moisture", Ask(SQUARE, moisture=-0.1)),
    ],
)
def test_a_question_that_no_wood_can_answer(field: str, ask: Ask) -> None:
    with pytest.raises(Refusal) as refused:
        rank(ask, SPRUCE, WOODS)
    assert refused.value.quantity == field


def test_the_drawing_s_wood_lacks_the_figure() -> None:
    with pytest.raises(Missing) as refused:
        rank(Ask(SQUARE, "shear"), without(SPRUCE, "shear_parallel"), WOODS)
    assert refused.value.quantity == "shear"


def test_own_capacities_alone_are_promised() -> None:
    found = rank(Ask(SQUARE, "own", own=("bending", "shear")), SPRUCE, WOODS)
    for row in found.of(COMPARED):
        assert row.resized is not None
        assert min(row.resized.ratios["bending"], row.resized.ratios["shear"]) == pytest.approx(1)


def test_figures_are_of_one_kind_and_one_moisture() -> None:
    for ask in (Ask(SQUARE, "bending", moisture=0.10), Ask(SQUARE, "bending", figures=AIRCRAFT)):
        found = rank(ask, SPRUCE, WOODS)
        woods = [row.wood for row in found.rows if row.wood is not None]
        assert {wood.moisture for wood in woods} == {found.plan.moisture}
        assert {wood.basis for wood in woods} == {ask.figures}


# --- own lots ------------------------------------------------------------------------------------------


def rack(*pairs: tuple[str, str, tuple[float, ...]]) -> tuple[Lot, ...]:
    made = [replace(stick(tag, *marks), lot=lot) for tag, lot, marks in pairs]
    return own_lots(judge(one, ASH, Settings()) for one in made)


def test_lots_are_means_of_what_was_measured() -> None:
    found = rack(
        ("A-1", "K2", (6.9,)),
        ("A-2", " K2 ", (7.3,)),
        ("A-3", "K2", ()),
        ("B-1", "", (7.0,)),
        ("B-2", "Z", ()),
    )
    assert [(lot.name, lot.sticks, len(lot.gravities)) for lot in found] == [
        ("K2", 3, 2), ("", 1, 1), ("Z", 1, 0),
    ]  # fmt: skip
    first = found[0]
    assert first.mean == pytest.approx(sum(gravity for _, gravity in first.gravities) / 2)
    assert first.nearest == "A-1", "the first of equals"
    assert found[2].mean is None and found[2].nearest == ""


def test_a_lot_has_its_own_gravity_and_the_species_strengths() -> None:
    lot = Lot("K2", "white_ash", 2, (("A-1", 0.58), ("A-2", 0.66)))
    found = rank(Ask(SQUARE, "bending"), SPRUCE, WOODS, [lot])
    book, own = (next(row for row in found.rows if row.key == ("white_ash", name)) for name in (None, "K2"))
    assert book.resized is not None and own.resized is not None and own.wood is not None
    assert own.wood.gravity_12 == pytest.approx(0.62) and own.wood.measured
    assert own.resized.exact == book.resized.exact
    assert own.weight / book.weight == pytest.approx(0.62 / 0.60)  # wh282 table 5-3b: white ash 0.60
    assert sentences.name(own) == "lot K2, white ash"
    assert "OWN LOT, 2 of 2 sticks measured, mean G 0.620" in sentences.rests_on(own)


@pytest.mark.parametrize("share", [0.7, 0.85, 0.95])
@pytest.mark.parametrize("match", ["bending", "shear", "bearing", "toughness", "compression", "all"])
def test_a_light_lot_does_not_rank_up_for_being_light(match: str, share: float) -> None:
    """Weaker by anc18 (1944) table 2-1: 1.5 for rupture, 1.25 for crushing, 2 for work.

    At equal bending of a square the area goes with strength^(-2/3), so the weight with share^(1 - 1) = 1.
    """
    lot = Lot("L", "white_ash", 1, (("A-1", 0.60 * share),))  # wh282 table 5-3b: white ash 0.60
    found = rank(Ask(SQUARE, match), SPRUCE, WOODS, [lot])
    book, own = (next(row for row in found.rows if row.key == ("white_ash", name)) for name in (None, "L"))
    assert own.wood is not None and book.wood is not None
    assert own.wood.get("bending") / book.wood.get("bending") == pytest.approx(share**1.5)
    assert own.wood.get("compression") / book.wood.get("compression") == pytest.approx(share**1.25)
    assert all(own.wood.get(name) < book.wood.get(name) for name, _ in book.wood.strengths)
    assert found.rows.index(own) > found.rows.index(book)
    if match == "bending":
        assert own.weight == pytest.approx(book.weight)
    elif match != "all":
        assert own.weight > book.weight
    assert "lighter than its species, never ranked above it: strengths LOWERED" in sentences.rests_on(own)
    assert own.lighter == pytest.approx(share) and book.lighter == 1


def test_lots_that_cannot_be_compared_say_why() -> None:
    unread = Lot("Z", "white_ash", 3, ())
    strange = Lot("Q", "ironbark", 1, (("Q-1", 0.9),))
    found = rank(Ask(SQUARE, "bending"), SPRUCE, WOODS, [unread, strange])
    said = {row.key: sentences.why(row) for row in found.of(UNKNOWN)}
    assert "no stick of the lot was floated or weighed yet" in said["white_ash", "Z"]
    assert "the library has no ironbark" in said["ironbark", "Q"]
    design = rank(
        Ask(SQUARE, "bending", figures=AIRCRAFT), SPRUCE, WOODS, [Lot("K", "white_ash", 1, (("A", 0.6),))]
    )
    row = next(row for row in design.rows if row.lot is not None)
    assert row.standing == UNKNOWN and "of a species, not of sticks" in sentences.why(row)


# --- the question of the Section pane ------------------------------------------------------------------


def test_the_choice_is_asked_as_it_is() -> None:
    choice = ash_for_spruce(
        width=inches("2"), depth=inches("6"), match="own", own=("bending",), hold="depth",
        held_at=inches("5.9"), free_length=inches("40"), gravity="aircraft", shape="box",
        flange=inches("3/4"), web=inches("1/8"),
    )  # fmt: skip
    ask = asked(choice, Settings(sizes=(inches("1"), inches("2"))))
    assert isinstance(ask.plan, Box)
    assert ask.plan.sizes == pytest.approx(
        {"width": 2 * INCH, "depth": 6 * INCH, "flange": 0.75 * INCH, "web": 0.125 * INCH}
    )
    assert (ask.match, ask.own, ask.hold, ask.figures) == ("own", ("bending",), "depth", AIRCRAFT)
    assert (ask.held_at, ask.length_m) == pytest.approx((5.9 * INCH, 40 * INCH))
    assert ask.sizes == (inches("1").exact, inches("2").exact)
    assert asked(choice, Settings()) == asked(replace(choice, use="noble_fir", stick="A-1"), Settings())
    with pytest.raises(Missing):
        asked(replace(choice, web=None), Settings())


# --- the chart -----------------------------------------------------------------------------------------


@quick
@given(st.lists(st.floats(0.02, 4.0), min_size=1, max_size=20), st.integers(6, 40))
def test_bars_keep_the_order_of_the_weights_and_one_line(weights: list[float], width: int) -> None:
    cells = sentences.cells_of_plan(max(weights), width)
    bars = {weight: sentences.bar(weight, cells, width) for weight in (*weights, 1.0)}
    for weight, drawn in bars.items():
        assert len(drawn) == width and drawn[cells] == sentences.PLAN_LINE
        assert set(drawn) <= set(f"{sentences.BAR}{sentences.PLAN_LINE}{sentences.BEYOND} ")
        if weight < 1 - 1e-9:
            assert drawn[cells - 1] == " "
        elif weight > 1 + 1e-9 and cells + 1 < width:
            assert drawn[cells + 1] != " "
    lengths = [bars[weight].count(sentences.BAR) for weight in sorted(bars)]
    assert all(one <= other + 1 for one, other in pairwise(lengths))


def test_every_capacity_has_a_short_name() -> None:
    assert set(sentences.SHORT) == {"weight", *CAPACITIES}
    short = list(sentences.SHORT.values())
    assert len(set(short)) == len({text[:4] for text in short}) == len(short)


def test_a_capacity_is_never_shown_stronger_nor_a_weight_lighter() -> None:
    ratios = {"weight": 1.0001, "bending": 0.9999, "stiffness": 1 - 1e-12}
    assert sentences.figures_line(("weight", "bending", "stiffness", "shear"), ratios, 5) == (
        "  101   99  100    ?"
    )
