"""A cut that ran off: exact ratios, which pieces are sawn again, and what makes them good."""

from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import ASH, SPRUCE, WOODS
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.core import strength
from bench.core.errors import OutOfRange
from bench.core.laminated import Laminated, Ply
from bench.core.quantities import QUANTITIES
from bench.core.resizing import CAPACITIES, MATCHES, resize
from bench.core.sections import Box, IBeam, Rectangle, Round
from bench.core.tolerance import ACCEPT, RECUT, SLIPS, accept_or_recut, as_cut, slips, undersize
from bench.core.working_section import TITLES
from bench.core.working_tolerance import of_slip
from bench.sheets import ranking as sentences
from bench.sheets.working import lines

quick = settings(max_examples=60, deadline=None)
INCH = 0.0254
PLAN, USE = strength.of(SPRUCE), strength.of(ASH)
SQUARE = Rectangle(0.75 * INCH, 0.75 * INCH)
BOX, BEAM = (kind(2 * INCH, 6 * INCH, 0.75 * INCH, 0.125 * INCH) for kind in (Box, IBeam))

sides = st.integers(16, 128).map(lambda steps: steps / 64 * INCH)
small = st.floats(-0.03, 0.03).map(lambda inches: inches * INCH)
lengths = st.none() | st.integers(4, 96).map(lambda inches: inches * INCH)
matches = st.sampled_from([match for match in MATCHES if match != "own"])


@quick
@given(sides, sides, small, small, lengths)
def test_the_ratios_of_a_rectangle_are_its_powers(width, depth, by_width, by_depth, length) -> None:
    found = undersize(Rectangle(width, depth), by_width, by_depth, PLAN, length)
    across, along = 1 - by_width / width, 1 - by_depth / depth
    powers = {
        "weight": across * along, "bending": across * along**2, "stiffness": across * along**3,
        "compression": across * along, "tension": across * along, "shear": across * along,
        "bearing": across, "toughness": across * along,
    }  # fmt: skip
    for name, share in powers.items():
        assert found[name] == pytest.approx(share, rel=1e-12)
    assert set(found) == {"weight", *CAPACITIES}


@quick
@given(sides, sides, st.sampled_from(SLIPS["in"]), lengths, st.booleans())
def test_less_wood_carries_less_and_more_carries_more(width, depth, slip, length, over) -> None:
    by = -float(slip) if over else float(slip)
    for section in (Rectangle(width, depth), Round(width), BOX, BEAM):
        for name, share in undersize(section, by, by, PLAN, length).items():
            assert (share > 1) == over, name


def test_nothing_off_changes_nothing() -> None:
    layers = Laminated(INCH, (Ply(USE, 0.005), Ply(PLAN, 0.02)))
    for section in (SQUARE, Round(INCH), BOX, BEAM, layers):
        assert set(undersize(section, 0.0, 0.0, PLAN).values()) == {1.0}


def test_walls_keep_their_thickness() -> None:
    (cut,) = as_cut(BOX, 0.01 * INCH, 0.02 * INCH)
    assert cut.sizes == pytest.approx(
        {"width": 1.99 * INCH, "depth": 5.98 * INCH, "flange": 0.75 * INCH, "web": 0.125 * INCH}
    )


def test_of_layers_the_worse_face_counts() -> None:
    """A thin face of ash on spruce: planed off the ash it loses most of its stiffness."""
    layers = Laminated(INCH, (Ply(USE, 0.003), Ply(PLAN, 0.020)))
    by = 0.002
    sections = as_cut(layers, 0.0, by)
    assert [tuple(ply.thickness for ply in one.plies) for one in sections] == [
        pytest.approx((0.001, 0.020)), pytest.approx((0.003, 0.018)),
    ]  # fmt: skip
    found = undersize(layers, 0.0, by, PLAN)
    solid = undersize(Rectangle(INCH, 0.023), 0.0, by, PLAN)
    assert found["stiffness"] < solid["stiffness"]


@pytest.mark.parametrize("length", [None, 0.5])
def test_the_working_ends_in_the_same_ratios(length: float | None) -> None:
    layers = Laminated(INCH, (Ply(USE, 0.003), Ply(PLAN, 0.020)))
    for section in (SQUARE, BOX, layers):
        steps = of_slip(section, 0.0, 0.001, PLAN, length)
        found = {step.title: step.result.value for step in steps}
        cut = [title for title in found if "as cut" in title]
        assert cut == (
            ["layer 1 as cut, off layer 1", "layer 2 as cut, off layer 2"]
            if section is layers
            else ["depth as cut"]
        )
        ratios = {title: value for title, value in found.items() if title not in cut}
        worked = undersize(section, 0.0, 0.001, PLAN, length)
        assert ratios == {TITLES.get(name, name): share for name, share in worked.items()}
        for step in steps[len(cut) :]:
            planned, after = step.numbers
            assert after.value / planned.value == pytest.approx(step.result.value)
            assert planned.quantity in QUANTITIES
        assert lines(steps)


def test_what_the_library_lacks_is_absent() -> None:
    poor = replace(PLAN, strengths=tuple(row for row in PLAN.strengths if row[0] != "shear"))
    found = undersize(SQUARE, 0.0001, 0.0001, poor)
    assert "shear" not in found and "bending" in found


@pytest.mark.parametrize(
    ("section", "by_width", "by_depth"),
    [
        (SQUARE, 0.75 * INCH, 0.0),
        (SQUARE, 0.0, INCH),
        (Round(INCH), 0.001, 0.0),
        (BOX, 1.9 * INCH, 0.0),
        (BOX, 0.0, 4.6 * INCH),
        (Laminated(INCH, (Ply(USE, 0.003), Ply(PLAN, 0.020))), 0.0, 0.004),
    ],
)
def test_what_cannot_be_left_is_refused(section, by_width: float, by_depth: float) -> None:
    with pytest.raises(OutOfRange):
        undersize(section, by_width, by_depth, PLAN)


@pytest.mark.parametrize("system", ["in", "mm"])
def test_the_table_of_slips(system: str) -> None:
    table = slips(SQUARE, PLAN, system=system)
    assert [slip for slip, _ in table] == list(SLIPS[system])
    assert [ratios["stiffness"] for _, ratios in table] == sorted(
        (ratios["stiffness"] for _, ratios in table), reverse=True
    )
    for slip, ratios in table:
        assert ratios == undersize(SQUARE, float(slip), float(slip), PLAN)
    over = slips(SQUARE, PLAN, system=system, over=True)
    assert all(ratios["bending"] > 1 for _, ratios in over)
    thin = slips(Rectangle(0.0003, 0.02), PLAN, system=system)
    assert [slip for slip, _ in thin] == [slip for slip in SLIPS[system] if slip < Fraction(3, 10_000)]


# --- accept or recut -----------------------------------------------------------------------------------


@quick
@given(sides, sides, matches, lengths)
def test_the_shop_size_and_the_exact_size_are_accepted(width, depth, match, length) -> None:
    resized = resize(Rectangle(width, depth), PLAN, USE, match, "", length)
    for cut in ((None, None), (resized.exact.width, resized.exact.depth)):
        found = accept_or_recut(resized, *cut, USE, length)
        assert found.word == ACCEPT and found.short == ()
        assert found.width is None and found.depth is None
    aimed = accept_or_recut(resized, None, None, USE, length)
    assert aimed.ratios == pytest.approx(dict(resized.shop_ratios))
    assert aimed.below == resized.weaker_shop and aimed.lost == ()


@quick
@given(sides, sides, matches, lengths, st.sampled_from(["width", "depth"]), st.floats(0.005, 0.1))
def test_under_the_exact_size_is_recut_or_made_good(width, depth, match, length, side, share) -> None:
    resized = resize(Rectangle(width, depth), PLAN, USE, match, "", length)
    small_one = getattr(resized.exact, side) * (1 - share)
    found = accept_or_recut(
        resized, **{"width": None, "depth": None, side: small_one}, wood=USE, length_m=length
    )
    for name in found.short:
        assert found.ratios[name] < min(1, resized.ratios[name])
    assert (found.word == RECUT) == bool(found.short)
    other = "depth" if side == "width" else "width"
    needed = getattr(found, other)
    if needed is None:
        assert not found.short or "bearing" in found.short
        return
    sizes = {side: small_one, other: needed}
    mended = accept_or_recut(resized, sizes["width"], sizes["depth"], USE, length)
    assert mended.word == ACCEPT
    sizes[other] = needed * (1 - 1e-6)
    assert accept_or_recut(resized, sizes["width"], sizes["depth"], USE, length).word == RECUT


def test_lost_is_what_the_shop_size_would_have_kept() -> None:
    resized = resize(SQUARE, PLAN, USE, "bending")
    found = accept_or_recut(resized, None, resized.exact.depth * 0.95, USE)
    assert "bending" in found.lost and "bending" in found.short
    assert "stiffness" in found.below and "stiffness" not in found.lost, "the match gave it away already"
    said = sentences.verdict(found)
    assert said[0].startswith("RECUT: less than the match promised") and "bending strength" in said[0]
    assert any(line.startswith("or depth ") and "makes it good" in line for line in said)


def test_what_a_match_by_weight_gives_away_is_no_reason_to_recut() -> None:
    resized = resize(SQUARE, PLAN, USE, "weight")
    found = accept_or_recut(resized, resized.exact.width, None, USE)
    assert found.word == ACCEPT and "stiffness" in found.below
    assert sentences.verdict(found)[0].startswith("ACCEPT") and "stiffness" in sentences.verdict(found)[0]


def test_no_depth_makes_good_for_a_bearing_that_is_too_narrow() -> None:
    resized = resize(SQUARE, PLAN, strength.of(WOODS["western_white_pine"]), "bearing")
    wood = strength.of(WOODS["western_white_pine"])
    found = accept_or_recut(resized, resized.exact.width * 0.98, None, wood)
    assert "bearing" in found.short and found.depth is None
    assert found.width == pytest.approx(resized.exact.width)


def test_a_round_is_turned_again() -> None:
    plan = Round(INCH)
    resized = resize(plan, PLAN, USE, "stiffness")
    found = accept_or_recut(resized, resized.exact.width * 0.98, None, USE)
    assert found.word == RECUT and found.width is None and found.depth is None
    assert sentences.verdict(found)[-1] == "no more of one side makes it good"


def test_the_table_of_slips_says_every_loss_the_worst_first() -> None:
    """Half an inch square, .010 under: 0.98 to the 3rd power 0.9412, to the 4th 0.9224 (worked by hand)."""
    table = slips(Rectangle(0.5 * INCH, 0.5 * INCH), PLAN)
    rows = sentences.slip_table(table)
    assert rows[0].split() == ["in", ".0050", ".0100", ".0150", ".0156", ".0313"]
    told = {row[:18].strip(): row[18:].split() for row in rows[1:]}
    assert next(iter(told)) in ("stiffness", "column load", "twisting stiffness")
    assert told["stiffness"][1] == told["twisting stiffness"][1] == "-7.8"
    assert told["bending strength"][1] == "-5.9" and told["shear"][1] == "-4.0"
    assert len(told) == len(CAPACITIES), "each loses more than half a percent by a thirty-second"
    assert [float(found[-1]) for found in told.values()] == sorted(
        float(found[-1]) for found in told.values()
    )


@pytest.mark.parametrize("room", [36, 60, 80])
@pytest.mark.parametrize("section", [SQUARE, BEAM, Round(INCH)])
def test_the_table_of_slips_fits_and_keeps_bending_and_stiffness(section, room: int) -> None:
    rows = sentences.slip_table(slips(section, PLAN), "in", room)
    assert max(len(row) for row in rows) <= room
    # Of a slip that costs hardly anything only the two that always stand there are left.
    least = ((Fraction(1, 10**7), {"weight": 0.99, "bending": 0.999, "stiffness": 0.996, "shear": 0.9951}),)
    assert [row.split()[0][:4] for row in sentences.slip_table(least, "mm", room)[1:]] == ["stif", "bend"]
    assert sentences.slip_table(()) == ("nothing is left of it by the smallest slip",)
