"""At the saw in words: a stop or a fence set as it is said brings every piece where the layout has it."""

import random
import re
from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import WOODS, after, part, stick

from bench import units
from bench.core import ripping, sawing
from bench.core.cutting import CutPlan, Proof, StickPlan
from bench.core.edits import ChangeSettings, MarkCut, PutPart, PutStick, PutSticks, RipPlank, StartJob
from bench.core.errors import OutOfRange
from bench.core.laying import SizedPart
from bench.core.records import CutMade, Defect, Job, Laid, Settings, inches
from bench.core.river import flow
from bench.core.totals import totals as add_up
from bench.sheets import saw, telling, totals, wording

INCH = Fraction(254, 10_000)
EIGHTH = Fraction(1, 8)
FIRST = re.compile(r"FIRST saw off ([\d /.]+) in of waste, blade .* side of the ([\d /.]+) in mark")


def inch(text: str) -> Fraction:
    """As typed, in inches: `29 7/16`."""
    return sum((Fraction(piece) for piece in text.split()), Fraction(0))


def job_of(length: str, parts: list[tuple[str, str, int]], defects: tuple[Defect, ...] = (), **habits) -> Job:
    """One sound stick and some parts; kerf 1/8 in."""
    one = replace(stick("S-9", 6.8, length=length, species="sitka_spruce"), defects=defects)
    return after(
        [
            StartJob("Tansy"),
            ChangeSettings(replace(Settings(), **habits)),
            PutStick(one),
            *(PutPart(part(name, size, count)) for name, size, count in parts),
        ]
    )


def laid(tag: str, *places: tuple[str, str]) -> CutPlan:
    """A layout of one stick: start and end of each piece [in]."""
    return sawing.plan_from([Laid("p", tag, inch(start) * INCH, inch(end) * INCH) for start, end in places])


def by_the_words(job: Job, plan: CutPlan) -> list[tuple[Fraction, Fraction]]:
    """What comes off a stick that is sawn from its marked end by what is said, blade by blade [in].

    Geometry: each cut takes what the stop is set at, and then the blade takes its kerf.
    """
    kerf, here, found = job.settings.kerf.exact / INCH, Fraction(0), []
    for _ in range(sum(len(row.pieces) for row in plan.sticks)):
        step = sawing.queue(job, plan)[0]
        said = saw.where(step, job.settings, "in")
        if met := FIRST.search(said):
            here += inch(met[1]) + kerf
            assert here == inch(met[2]), "the mark is where the blade has gone through"
        elif step.waste:
            assert f"FIRST square the end: {units.place(step.waste)} goes" in said
            here += step.waste / INCH
        length = inch(saw.stop(step, "in").removesuffix(" in"))
        found.append((here, here + length))
        here += length + kerf
        cut = CutMade("p", step.piece.stick, step.piece.start, step.piece.end)
        job = replace(job, cuts=(*job.cuts, cut))
        plan = replace(
            plan,
            sticks=tuple(
                replace(row, pieces=tuple(one for one in row.pieces if one.start != step.piece.start))
                for row in plan.sticks
            ),
        )
    return found


def test_a_stop_set_at_the_waste_piece_is_right() -> None:
    """60 in, trim 1/2, kerf 1/8, two pieces of 29 7/16: 1/2 + 29 7/16 + 1/8 + 29 7/16 ends at 59 1/2."""
    job = job_of("60", [("p", "29", 2)], end_trim=inches("1/2"))
    plan = laid("S-9", ("1/2", "29 15/16"), ("30 1/16", "59 1/2"))
    said = saw.where(sawing.queue(job, plan)[0], job.settings, "in")
    assert said == (
        "FIRST saw off 3/8 in of waste, blade (1/8 in) on the waste side of the 1/2 in mark; "
        "from 1/2 in to 29 15/16 in"
    )
    assert by_the_words(job, plan) == [
        (inch("1/2"), inch("29 15/16")),
        (inch("30 1/16"), inch("59 1/2")),
    ]


def test_beside_a_knot_the_waste_is_less_its_blade() -> None:
    """A piece ends at 28 1/2, the blade at 28 5/8; the next begins at 41: 12 3/8 gone, a blade in it."""
    job = job_of("110", [("p", "17", 2)])
    job = replace(job, cuts=(CutMade("p", "S-9", inch("11") * INCH, inch("28 1/2") * INCH),))
    (step,) = sawing.queue(job, laid("S-9", ("41", "58")))
    assert step.waste == inch("12 3/8") * INCH
    said = saw.where(step, job.settings, "in")
    assert "FIRST saw off 12 1/4 in of waste, blade (1/8 in) on the waste side of the 41 in mark" in said


def test_every_piece_lies_where_the_layout_has_it_when_the_words_are_followed() -> None:
    """Random layouts in 64ths: gaps of nothing, of less than the blade, of the blade, and of more."""
    for seed in range(200):
        chance = random.Random(seed)
        job = job_of("200", [("p", "1", 9)])
        here = chance.choice([Fraction(0), Fraction(1, 16), EIGHTH, Fraction(chance.randint(9, 200), 64)])
        places = []
        for _ in range(chance.randint(1, 6)):
            length = Fraction(chance.randint(64, 64 * 20), 64)
            places.append((here, here + length))
            gap = chance.choice([Fraction(0), Fraction(1, 32), EIGHTH, Fraction(chance.randint(9, 500), 64)])
            here += length + EIGHTH + gap
        plan = sawing.plan_from([Laid("p", "S-9", low * INCH, high * INCH) for low, high in places])
        assert by_the_words(job, plan) == places, seed


def test_pieces_that_lie_before_it_uncut_are_told_and_not_sawn_off() -> None:
    job = job_of("200", [("p", "50", 3)], end_trim=inches("1/2"))
    plan = laid("S-9", ("1/2", "51"), ("51 1/8", "102"), ("102 1/4", "150"))
    first, second, third = sawing.queue(job, plan)
    assert (first.before, second.before, third.before) == (0, 1, 2)
    assert first.waste and not second.waste and not third.waste, "nothing of the wood before it is waste"
    said = saw.where(third, job.settings, "in")
    assert said.startswith("2 pieces lie before it, still uncut: FIRST saw at the 102 1/4 in mark")
    assert saw.where(second, job.settings, "in").startswith("1 piece lies before it")
    cut = MarkCut(CutMade("p", "S-9", third.piece.start, third.piece.end))
    job = cut.apply(job)
    first, second = sawing.queue(job, laid("S-9", ("1/2", "51"), ("51 1/8", "102")))
    assert (first.before, second.before) == (0, 1) and first.waste == inch("1/2") * INCH


def test_after_a_rip_its_strips_come_first_and_then_their_fellows() -> None:
    planks = [replace(stick(tag, 6.8, length="96"), width=inches("5")) for tag in ("P-1", "P-2")]
    job = after([PutStick(one) for one in (stick("A", 6.8), *planks, stick("B", 6.8))])
    for tag in ("P-1", "P-2"):
        job = RipPlank(tag, (inches("1"), inches("1"))).apply(job)
    rows = tuple(
        StickPlan(tag, laid(tag, ("0", "20"), ("21", "41")).sticks[0].pieces, ())
        for tag in ("A", "P-1.1", "P-1.2", "P-2.1", "P-2.2", "B")
    )
    plan = replace(laid("A", ("0", "20")), sticks=rows)

    def order(cut_from: str = "") -> str:
        cuts = (CutMade("p", cut_from, Fraction(0), INCH),) if cut_from else ()
        steps = sawing.queue(replace(job, cuts=cuts), plan)
        return " ".join(dict.fromkeys(step.piece.stick for step in steps))

    assert order() == "P-1.1 P-1.2 P-2.1 P-2.2 A B"
    assert order("P-2.2") == "P-2.2 P-2.1 P-1.1 P-1.2 A B"
    assert order("B") == "B P-1.1 P-1.2 P-2.1 P-2.2 A"


# --- stop and fence -------------------------------------------------------------------------------------


def test_stops_and_fences_never_round_to_the_weak_side() -> None:
    """10.0004 in is no stop of 10.000 in. What stands on 1/64 in is exact; read back, nothing is less."""
    assert units.place(Fraction("10.0004") * INCH, up=True) == "10.001 in"
    assert units.place(Fraction("10.0004") * INCH) == "10.000 in"
    assert units.place(inch("10 1/64") * INCH, up=True) == "10 1/64 in"
    assert units.place(Fraction(1, 3000), "mm", up=True) == "0.34 mm"
    chance = random.Random(7)
    for _ in range(2000):
        metres = Fraction(chance.randint(1, 10**9), chance.randint(10**8, 10**9))
        for system, unit, digit in (
            ("in", INCH, Fraction(1, 1000)),
            ("mm", Fraction(1, 1000), Fraction(1, 100)),
        ):
            shown = inch(units.place(metres, system, up=True).split(" in")[0].split(" mm")[0]) * unit
            assert metres <= shown < metres + digit * unit


def sized(width: str, depth: str) -> SizedPart:
    one = replace(part("p"), width=inches(width), depth=inches(depth))
    return SizedPart(one, "sitka_spruce", one.width.exact, one.depth.exact, False, 0, frozenset(), "")


PLANED = replace(Settings(), planing=inches("1/16"))


@pytest.mark.parametrize(
    ("stock", "section", "fence", "dress"),
    [
        (
            ("3/4", "3/4"),
            ("3/4", "3/4"),
            "no rip",
            "finished size 3/4 in wide x 3/4 in deep: nothing to plane",
        ),
        (
            ("3/4", "2"),
            ("3/4", "5/8"),
            "fence 3/4 in for the depth",
            "dress to 3/4 in wide x 5/8 in deep: plane the depth only",
        ),
        (
            ("2", "1"),
            ("3/4", "5/8"),
            "fence 3/4 in for the depth, then 7/8 in for the width",
            "dress to 3/4 in wide x 5/8 in deep",
        ),
        (("7/8", "7/8"), ("3/4", "3/4"), "no rip", "dress to 3/4 in wide x 3/4 in deep"),
        (("1/2", "1/2"), ("3/4", "3/4"), "NO FENCE", "dress to 3/4 in wide x 3/4 in deep"),
    ],
)
def test_the_fence_looks_at_the_stick(
    stock: tuple[str, str], section: tuple[str, str], fence: str, dress: str
) -> None:
    """Planing 1/16 in a face. A side that is finished is left alone; the rest by hand."""
    one = replace(stick("S-1"), width=inches(stock[0]), depth=inches(stock[1]))
    found = saw.sides(one, sized(*section), PLANED)
    assert saw.fence(found, "in").startswith(fence)
    assert saw.dress(sized(*section), found, "in") == dress


def test_a_side_that_came_off_the_rip_saw_is_planed_though_its_size_is_right() -> None:
    """A strip of 5/8 x 7/8 in, 7/8 as ripped: 7/8 finished does not come out of it, 3/4 does, planed."""
    one = replace(stick("S-1"), width=inches("7/8"), depth=inches("5/8"), sawn_width=inches("7/8").exact)
    assert not saw.sides(one, sized("7/8", "5/8"), PLANED)
    found = saw.sides(one, sized("3/4", "5/8"), PLANED)
    assert not any(side.ripped for side in found)
    assert [side.planed for side in found] == [True, False]
    assert saw.dress(sized("3/4", "5/8"), found, "in").endswith("plane the width only")


def test_the_fence_is_the_one_that_the_layout_reckons_with() -> None:
    chance = random.Random(11)
    eighths = [f"{n}/8" for n in range(3, 20)]
    seen = 0
    for _ in range(2000):
        one = replace(
            stick("S-1"), width=inches(chance.choice(eighths)), depth=inches(chance.choice(eighths))
        )
        wanted = sized(chance.choice(eighths), chance.choice(eighths))
        strip = ripping.strip_width(
            (one.width.exact, one.depth.exact), (wanted.width, wanted.depth), PLANED.planing.exact
        )
        found = saw.sides(one, wanted, PLANED)
        assert (found[0].rough if found else None) == strip
        assert all(side.finished <= side.rough <= side.have for side in found)
        seen += bool(found)
    assert seen > 200


def test_a_rip_says_joint_blade_every_fence_and_what_the_strips_become() -> None:
    widths = [inches("5/4").exact, inches("7/8").exact, inches("7/8").exact]
    fences = saw.fences(widths, "in")
    assert fences == (("1 1/4 in", 1), ("7/8 in", 2))
    assert saw.rip("P-1", fences, "1/2 in") == (
        "P-1: rip 1 strip at fence 1 1/4 in, then 2 strips at fence 7/8 in; a board 1/2 in wide is left over"
    )
    edged = replace(Settings(), edge=inches("1/8"), rip_kerf=inches("3/32"))
    assert saw.joint(edged, "in").startswith("FIRST joint one edge straight, 1/8 in goes")
    assert saw.joint(Settings(), "in") == ""
    assert "3/32 in" in saw.rip_kerf(edged, "in") and "1/8 in" in saw.rip_kerf(Settings(), "in")
    square, flat = saw.section(sized("3/4", "3/4"), "in"), saw.section(sized("3/4", "9/8"), "in")
    assert saw.strips([(1, [flat]), (2, [square, square]), (3, [square])]) == (
        "strip 1 dressed to 3/4 in wide x 1 1/8 in deep; strips 2, 3 dressed to 3/4 in wide x 3/4 in deep"
    )


# --- other words ----------------------------------------------------------------------------------------


def test_a_job_cut_to_the_end_is_told_as_that() -> None:
    plan = replace(laid("S-9", ("0", "1")), sticks=())
    assert wording.plan_line(plan, 0, 59) == "all 59 pieces are cut"
    assert wording.plan_line(plan, 0, 1) == "the one piece is cut"
    assert wording.plan_line(plan, 2, 1) == "1 cut, 0 of 2 fit"
    begun = replace(
        plan, placed=2, sticks_used=1, sticks_opened=0, proof=Proof.of(plan.fewest_possible, True)
    )
    assert wording.plan_line(begun, 2, 1) == "1 cut, 2 of 2 fit; 1 stick, begun already, the least possible"


def test_what_is_proved_is_said_of_the_sticks_that_are_opened() -> None:
    """A plan that cuts one piece more from a stick begun has a stick more, and opens none."""
    plan = replace(
        laid("S-9", ("0", "1")), placed=2, sticks_used=3, sticks_opened=2, proof=Proof.of(2, False)
    )
    proved = replace(plan, proof=Proof.of(2, True))
    assert wording.plan_line(proved, 2) == "2 of 2 fit; 3 sticks (2 new, the least possible)"
    assert wording.plan_line(replace(plan, proof=Proof.of(1, False)), 2) == (
        "2 of 2 fit; 3 sticks (2 new, at least 1 needed)"
    )
    assert (
        wording.plan_line(replace(proved, sticks_opened=3), 2) == "2 of 2 fit; 3 sticks, the least possible"
    )


def test_limits_are_told_in_the_units_of_the_job() -> None:
    """25 mm is 0.984 in: rounded down, so that what is said is possible."""
    for system, most in (("in", "0 to 0.98 in is possible"), ("mm", "0 to 25 mm is possible")):
        with pytest.raises(OutOfRange) as refused:
            ChangeSettings(replace(Settings(), kerf=inches("5"), units=system)).apply(Job("x"))
        assert most in str(refused.value) and "0.025" not in str(refused.value)
    with pytest.raises(OutOfRange, match="0 to 3937 in is possible"):
        ChangeSettings(replace(Settings(), margin=inches("5000"))).apply(Job("x"))
    ChangeSettings(replace(Settings(), kerf=inches("98/100"))).apply(Job("x"))


def test_one_stick_is_no_sticks() -> None:
    assert telling.told(PutSticks((stick("A"),))).startswith("1 stick off a list")
    assert telling.told(PutSticks((stick("A"), stick("B")))).startswith("2 sticks off a list")


def test_equal_weights_are_not_shown_as_two() -> None:
    """The same wood at the same size: rounded up and rounded down, one weight would show as two figures."""
    river = flow(job_of("60", [("p", "29", 2)]), WOODS)
    found = add_up(river, WOODS)
    shown = dict(totals.lines(found, Settings(), WOODS))
    assert found.new == pytest.approx(found.drawn, rel=1e-12)
    assert shown["drawing"] == "the same, as drawn, in its wood"
    lighter = replace(found, drawn=found.drawn * 0.9)
    assert re.match(r"\d+\.\d{3} lb as drawn", dict(totals.lines(lighter, Settings(), WOODS))["drawing"])
