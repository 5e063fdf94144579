"""What to order: planks by hand and by brute force, scarfed parts, and why no offer gives a part."""

from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import ceil, floor

import pytest
from core_cases import WOODS, typed
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import buying, working_buying
from bench.core.buying import Purchase
from bench.core.errors import OutOfRange
from bench.core.quantities import INCH
from bench.core.records import Job, Offer, Part, SectionChoice, Settings, Stretch, inches
from bench.core.river import flow
from bench.sheets import buying as sentences
from tests.tools.orders import ASH, NO_KERF, SPRUCE, bought, offer, part, river, text


def ordered(parts: list[Part], offers: list[Offer], rules: Settings = NO_KERF) -> Purchase:
    (found,) = buying.order(river(parts, offers, rules=rules)).purchases
    return found


# How many planks.


def test_nothing_is_missing() -> None:
    order = buying.order(river([part("cap", "20", 0)], [offer("8 ft", "96")]))
    assert order.purchases == ()
    assert [row.why for row in order.gives] == [buying.NOTHING_LACKING]
    assert text(order) == sentences.NOTHING
    assert working_buying.of_order(order) == ()


def test_kerfs_count_by_hand() -> None:
    """96 in hold three parts of 30 with kerfs of 1/8 (90.25), four of 24 do not (96.375): 2 planks for 4."""
    rules = Settings()
    assert bought(ordered([part("a", "30", 3)], [offer("8 ft", "96")], rules)) == {"8 ft": 1}
    assert bought(ordered([part("a", "24", 4)], [offer("8 ft", "96")], rules)) == {"8 ft": 2}
    assert bought(ordered([part("a", "24", 4)], [offer("8 ft", "96")])) == {"8 ft": 1}, "no kerf: flush"


def test_trims_and_squaring_count_by_hand() -> None:
    """96 less two trims of 1 in is 94: three parts of 31 and 1/3 for squaring are that, of 31.1 not."""
    rules = replace(NO_KERF, end_trim=inches("1"), squaring=inches("1/3"))
    assert bought(ordered([part("a", "31", 3)], [offer("8 ft", "96")], rules)) == {"8 ft": 1}
    assert bought(ordered([part("a", "311/10", 3)], [offer("8 ft", "96")], rules)) == {"8 ft": 2}


@pytest.mark.parametrize(("width", "strips"), [("7/2", 4), ("27/8", 3), ("1", 1)])
def test_a_plank_is_ripped_by_hand(width: str, strips: int) -> None:
    """Strips of 3/4 and rip kerfs of 1/8: 4 x 3/4 + 3 x 1/8 = 3 3/8 lies in 3 1/2; 3 3/8 less an edge of 1/8
    holds three only. Every strip is a whole length, so it is one part each."""
    edge = "1/8" if width == "27/8" else "0"
    rules = replace(NO_KERF, rip_kerf=inches("1/8"), edge=inches(edge))
    plank = offer("plank", "96", width)
    order = buying.order(river([part("spar", "96", strips)], [plank], rules=rules))
    assert bought(order.purchases[0]) == {"plank": 1}
    assert order.gives[0].strips == strips
    order = buying.order(river([part("spar", "96", strips + 1)], [plank], rules=rules))
    assert bought(order.purchases[0]) == {"plank": 2}


def fewest_planks(widths: tuple[int, ...], room: int) -> int:
    """The least number of equal planks that hold all, by trying every assignment."""
    for planks in range(1, len(widths) + 1):
        for places in product(range(planks), repeat=len(widths)):
            loads = [0] * planks
            for width, place in zip(widths, places, strict=True):
                loads[place] += width
            if max(loads) <= room:
                return planks
    raise AssertionError("a part longer than a plank")


@settings(max_examples=25, deadline=None)
@given(
    lengths=st.lists(st.integers(6, 40), min_size=1, max_size=6),
    room=st.integers(40, 70),
    kerf=st.integers(0, 3),
)
def test_as_few_planks_as_every_assignment_tried(lengths: list[int], room: int, kerf: int) -> None:
    """Oracle: brute force. A part and a kerf in a plank and a kerf is the whole rule of sawing."""
    rules = replace(NO_KERF, kerf=inches(str(kerf)))
    parts = [part(f"p{number}", str(length)) for number, length in enumerate(lengths)]
    found = ordered(parts, [offer("plank", str(room))], rules)
    least = fewest_planks(tuple(length + kerf for length in lengths), room + kerf)
    assert bought(found) == {"plank": least}


# Which offers.


def test_the_last_plank_is_the_shortest_that_holds_what_is_left() -> None:
    """Five parts of 40: two planks of 96 and one of 48 are 240 in of 3/4 x 3/4, three of 96 are 288, five of
    48 are 240 as well and more planks."""
    found = ordered([part("a", "40", 5)], [offer("8 ft", "96"), offer("4 ft", "48")])
    assert bought(found) == {"8 ft": 2, "4 ft": 1}
    # 3/4 in counts as 1 in: 1 x 3/4 x 96 / 144 = 1/2 and half of that.
    assert found.board_feet == Fraction(5, 4)
    assert not found.by_cost and found.cost is None


def test_the_cheaper_of_two_by_cost_not_by_board_feet() -> None:
    """Two parts of 40: a plank of 96 has 1/2 board foot at 10, two of 48 have as much at 4."""
    offers = [offer("8 ft", "96", price="10"), offer("4 ft", "48", price="4")]
    found = ordered([part("a", "40", 2)], offers)
    assert (found.by_cost, bought(found), found.cost) == (True, {"4 ft": 2}, 2)
    offers = [offer("8 ft", "96", price="3"), offer("4 ft", "48", price="4")]
    assert ordered([part("a", "40", 2)], offers).cost == Fraction(3, 2)
    # With one price missing nobody can compare costs: least board feet, then fewest planks.
    offers = [offer("8 ft", "96", price="10"), offer("4 ft", "48")]
    found = ordered([part("a", "40", 2)], offers)
    assert (found.by_cost, bought(found), found.cost) == (False, {"8 ft": 1}, 5)


def test_what_one_offer_does_not_give_is_bought_of_another() -> None:
    """The thick part comes of the thick plank only; the thin one of either, and of the thin one for less."""
    offers = [offer("thin", "48", width="1", thickness="3/4"), offer("thick", "48", "3/2", "3/2")]
    found = ordered([part("a", "48", 2), part("b", "48", 1, side="3/2")], offers)
    assert bought(found) == {"thin": 2, "thick": 1}
    assert found.ungiven == ()
    assert found.given == found.pieces == 3


def test_planing_decides_what_an_offer_gives() -> None:
    """3/4 with 1/16 off each face needs 7/8; a side at its finished size is left as it is."""
    rules = replace(NO_KERF, planing=inches("1/16"))
    offers = [
        offer("rough", "48", "7/8", "7/8"),
        offer("short of it", "48", "13/16", "13/16"),
        offer("planed", "48"),
    ]
    gives = buying.order(river([part("a", "40")], offers, rules=rules)).gives
    assert [row.pieces for row in gives] == [1, 0, 1]
    assert (gives[1].why, gives[1].short) == (buying.TOO_THIN, INCH / 16)


def test_the_wood_is_the_one_the_part_will_be_made_of() -> None:
    """Drawn in spruce and made of ash, a part is bought in ash and in its size in ash."""
    job = Job(
        "Tansy",
        parts=(part("a", "40", 2),),
        offers=(offer("spruce", "96", "2", "2"), offer("ash", "96", "2", "2", species=ASH)),
        section=SectionChoice(use=ASH),
    )
    made = flow(job, WOODS)
    order = buying.order(made)
    assert [(row.species, bought(row)) for row in order.purchases] == [(ASH, {"ash": 1})]
    assert order.purchases[0].lacking[0].sized.width == made.parts[0].width != inches("3/4").exact
    assert [row.why for row in order.gives] == [buying.NOTHING_LACKING, ""]


def fit(pieces: list[int], planks: list[int]) -> bool:
    """Whether pieces lie on planks of these lengths, kerf nought, by trying every assignment."""
    if not pieces:
        return True
    first, *rest = pieces
    for place in {planks.index(length) for length in planks if length >= first}:
        if fit(rest, [length - first * (place == i) for i, length in enumerate(planks)]):
            return True
    return False


@settings(max_examples=40, deadline=None)
@given(
    lengths=st.lists(st.integers(10, 60), min_size=1, max_size=6),
    planks=st.lists(st.sampled_from([30, 40, 48, 60, 72, 96]), min_size=1, max_size=4, unique=True),
)
def test_what_is_ordered_holds_the_parts_and_is_no_more_than_any_size_alone(
    lengths: list[int], planks: list[int]
) -> None:
    """Oracle: brute force, with board feet in proportion to the length, as all are of one section."""
    parts = [part(f"p{number}", str(length)) for number, length in enumerate(lengths)]
    found = ordered(parts, [offer(str(length), str(length)) for length in planks])
    held = [length for length in lengths if length <= max(planks)]
    assert found.given == len(held)
    lots = [int(line.offer.name) for line in found.lines for _ in range(line.ordered)]
    assert fit(sorted(held, reverse=True), lots)
    alone = [length * fewest_planks(tuple(held), length) for length in planks if held and length >= max(held)]
    assert not alone or sum(lots) <= min(alone)


# What no offer gives.


@pytest.mark.parametrize(
    ("made", "wood", "why", "short"),
    [
        (part("a", "100"), offer("8 ft", "96"), buying.TOO_LONG, "4"),
        (part("a", "96.5"), offer("8 ft", "96"), buying.TOO_LONG, "1/2"),
        (part("a", "40", side="1"), offer("8 ft", "96"), buying.TOO_THIN, "1/4"),
        (part("a", "40", side="1"), offer("8 ft", "96", "1", "3/4"), buying.TOO_THIN, "1/4"),
        (replace(part("a", "40"), depth=inches("2")), offer("8 ft", "96", "3/2"), buying.TOO_NARROW, "1/2"),
        (part("a", "40"), offer("8 ft", "96", species=ASH), buying.NO_OFFER, "0"),
    ],
)
def test_why_no_offer_gives_a_part(made: Part, wood: Offer, why: str, short: str) -> None:
    found = ordered([made], [wood])
    assert [(row.why, row.short) for row in found.ungiven] == [(why, inches(short).exact)]
    assert (found.lines, found.given, found.cost) == ((), 0, None)
    assert "no wood on offer gives any of it" in sentences.summary(found)


def test_trims_and_squaring_take_from_what_an_offer_gives() -> None:
    """96 less two trims of 1 in, and 1/4 for squaring: 93 3/4 comes out, 95 is 1 1/4 too long."""
    rules = replace(NO_KERF, end_trim=inches("1"), squaring=inches("1/4"))
    found = ordered([part("a", "375/4"), part("b", "95")], [offer("8 ft", "96")], rules)
    assert bought(found) == {"8 ft": 1}
    assert [(row.lacking.name, row.short) for row in found.ungiven] == [("b", INCH * 5 / 4)]


def test_the_offer_that_comes_nearest_is_named() -> None:
    offers = [offer("thin", "200", "1/2", "1/2"), offer("6 ft", "72"), offer("8 ft", "96")]
    (row,) = ordered([part("a", "100", 3)], offers).ungiven
    assert (row.offer, row.short) == ("8 ft", 4 * INCH)
    said = sentences.ungiven(row)
    assert said.startswith("3 x a: too long by 4 in for 8 ft; 2 lengths with 1 joint at 1:12 (9 in lost")
    assert "the part allows no joint" in said


@pytest.mark.parametrize(
    ("length", "lengths"),
    # Planks of 1200, 8 thick, 1:10: S = 80. By hand: two give 2400 - 80 = 2320, three give 3600 - 160 = 3440.
    [("2100", 2), ("2320", 2), ("2321", 3), ("3440", 3), ("3441", 4)],
)
def test_a_part_that_may_be_scarfed_is_ordered_as_lengths(length: str, lengths: int) -> None:
    thick, wide = typed("0.008"), typed("0.02")
    long = Part("spar", typed(Fraction(length) / 1000), wide, thick, 2, scarf=typed("1/10"), species=SPRUCE)
    plank = Offer("short", SPRUCE, thick, wide, typed("1.2"))
    order = buying.order(river([long], [plank], rules=replace(NO_KERF, least_piece=typed("0.1"))))
    (found,) = order.purchases
    assert (found.ungiven, found.given) == ((), 2)
    (row,) = found.joined
    assert len(row.scarf.lengths) == lengths and row.scarf.joint == Fraction(8, 100)
    assert sum(row.scarf.lengths) == Fraction(length) / 1000 + (lengths - 1) * Fraction(8, 100)
    assert max(row.scarf.lengths) <= Fraction(12, 10)
    volume = ceil(2 * sum(row.scarf.lengths) / Fraction(12, 10))
    assert volume <= bought(found)["short"] <= 2 * lengths
    assert (order.gives[0].pieces, order.gives[0].lacking) == (2, 2)
    joints = (
        f"{lengths} lengths with {lengths - 1} joint{'s' if lengths > 2 else ''} at 1:10 (80 mm lost to each)"
    )
    assert joints in sentences.joined(row, "mm")


def test_a_part_that_an_offer_gives_whole_is_not_scarfed() -> None:
    long = replace(part("a", "100"), scarf=typed("1/12"))
    found = ordered([long], [offer("8 ft", "96", price="1"), offer("10 ft", "120", price="9")])
    assert (found.joined, bought(found)) == ((), {"10 ft": 1})


def test_a_scarf_that_would_not_do() -> None:
    """The shortest length a shop joins, a plank shorter than a joint, and no place where a joint may lie."""
    rules = replace(NO_KERF, least_piece=inches("60"))
    (row,) = ordered([part("a", "100")], [offer("8 ft", "96")], rules).ungiven
    assert row.scarf is None, "two lengths of 54 1/2 are shorter than the 60 asked for"
    (row,) = ordered([part("a", "100")], [offer("short", "8")]).ungiven
    assert row.scarf is None, "3/4 at 1:12 is 9 in"
    assert sentences.ungiven(row).endswith("no scarf would do")
    barred = replace(part("a", "100"), scarf=typed("1/12"), no_joint=(Stretch(inches("0"), inches("100")),))
    found = ordered([barred], [offer("8 ft", "96")])
    assert found.joined == () and [row.scarf for row in found.ungiven] == [None]


def test_a_list_by_mistake_is_refused_in_one_line() -> None:
    with pytest.raises(OutOfRange, match="look at the quantities"):
        buying.order(river([part("a", "40", 1001)], [offer("8 ft", "96")]))


def test_the_area_is_a_floor_of_the_planks() -> None:
    """No order takes less wood than its parts: an independent lower bound for a longer list."""
    lengths = [11 + 7 * number % 43 for number in range(25)]
    parts = [part(f"p{number}", str(length), 2) for number, length in enumerate(lengths)]
    rules = replace(NO_KERF, kerf=inches("1/8"), rip_kerf=inches("1/8"))
    found = ordered(parts, [offer("plank", "96", "4")], rules)
    strips = floor(Fraction(4 * 8 + 1, 7))  # 3/4 and 1/8 in 4 and 1/8
    least = ceil(Fraction(2 * sum(8 * length + 1 for length in lengths), 8 * 96 + 1) / strips)
    (line,) = found.lines
    assert least <= line.ordered <= least + 1
    assert found.groups[0].alone == line.ordered
