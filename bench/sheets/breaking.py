"""Coupon tests in words: what one says, what a group says, and what comparing two groups means."""

from collections.abc import Mapping, Sequence

from bench import units
from bench.core import bending_test, break_groups, breaks
from bench.core.bending_test import Bending
from bench.core.break_groups import BesideBook, Comparison, Group
from bench.core.breaking import DropTest
from bench.core.breaks import FIGURES, Glued, Result
from bench.core.errors import Missing, Refusal
from bench.core.samples import LEAST_FOR_LIMIT
from bench.core.slide_out import SlideOut
from bench.core.up_and_down import UpAndDown
from bench.core.wood import Species
from bench.units import showing

# Recalled shop practice, of no document read.
CAUTION = (
    "CAUTION: eye protection; fingers and feet clear of weight and jaws; broken wood and weights fly. No "
    "coupon approves a part."
)
FIGURE = {
    "height": "height of the cracking blow",
    "energy": "energy of the cracking blow",
    "energy_density": "energy over volume",
    "rupture": "bending strength (modulus of rupture)",
    "elasticity": "stiffness (modulus of elasticity, shear left in)",
    "work": "work to the greatest load",
    "slide_stress": "stress at the clamp",
    "glue_stress": "stress on the glue line",
    "fibre": "torn wood on the worse face",
}
HALF_STEP = ("height", "energy", "energy_density")
USUAL = 2  # standard deviations: one piece in twenty lies farther out; common practice
DOUBT = {
    breaks.FALLS: "the heights do not only rise: a lower blow after a higher one tells less",
    breaks.REPEATS: "blows repeated at one height: exposure that the result does not count",
    breaks.FIRST_BLOW: "the first blow cracked it: no lower one tells how much less would have",
    breaks.NO_FIBRE: "torn wood not looked at on both faces: the published rule cannot be held",
    breaks.OWN_WEIGHT_UNKNOWN: "the coupon's own weight is left out: weigh it, and give its length",
    bending_test.SHORT_SPAN: "the span is below 14 times the depth, which is the standard test's: more of "
    "the deflection is shear, and the wood may crush at the supports",
    bending_test.SIZE_DRAWN_OUT: "below 1 in of depth the size effect is drawn out beyond its tests: it is "
    "at most so much",
    bending_test.LOADED_AT_START: "the first reading is under load already: the work before it is not "
    "counted",
    bending_test.ROSE_AGAIN: "the load fell to less than half and rose again: the coupon had failed before "
    "the last readings",
    bending_test.READ_SHORT: "the readings end before the greatest load: work is counted to the last of "
    "them only",
    bending_test.NOT_STRAIGHT: "no three readings lie on a straight line: no stiffness can be told",
}
MOIST = "TESTED AT DIFFERENT MOISTURES, or at ones not measured: part or all of the difference may be water"
NO_CRACK = "no crack yet: a key for each blow, whatever is seen"
RULE = "the broken joint must show wood fibre on both faces (AC 43.13-1B par. 1-29h)"
_BASIS = {
    break_groups.EQUAL_SIZE: "EQUAL SIZE: it compares the woods, piece for piece, not weight for weight",
    break_groups.EQUAL_WEIGHT: (
        "EQUAL WEIGHT: it compares what a pound of each does in these sizes; the lighter wood had the larger "
        "coupon, and strength and stiffness do not follow weight alike"
    ),
    break_groups.BOTH: "EQUAL SIZE AND WEIGHT: it compares the woods",
    break_groups.NEITHER: "neither size nor weight is the same: the difference says nothing about the woods",
    break_groups.UNKNOWN: "sizes differ and not all were weighed: what is compared is not known",
}
BY = {
    "wood": "by wood",
    "lot": "by lot",
    "size": "by size",
    "moisture": "by moisture",
    "group": "by your own word",
}


def show(figure: str, value: float, system: str) -> str:
    """A figure with its unit, never shown higher than it is."""
    quantity = FIGURES[figure][1]
    return showing.show(quantity, value, system) if figure == "fibre" else _down(quantity, value, system)


def _down(quantity: str, value: float, system: str) -> str:
    return showing.show_down(quantity, value, system) if value > 0 else showing.show(quantity, value, system)


def load(value: float, system: str) -> str:
    """A load with its unit [N]."""
    return showing.show("force", value, system)


def short(found: Result, system: str) -> str:
    """What came of a test, for a cell."""
    if found.refusal is not None:
        return _waiting(found)
    name, value = found.figures[0]
    joint = found.detail
    seen = isinstance(joint, Glued) and joint.faces
    word = f"; fibre {'on' if joint.passed else 'NOT on'} both" if isinstance(joint, Glued) and seen else ""
    energy = found.figure("energy")
    more = f"; {showing.show('energy', energy, system)}" if energy is not None else word
    return f"{show(name, value, system)}{more}"


def _waiting(found: Result) -> str:
    """Why there is no result, in a few words."""
    if _uncracked(found):
        blows = len(found.coupon.blows)
        return f"{blows} blow{'' if blows == 1 else 's'}, no crack yet"
    missing = isinstance(found.refusal, Missing) and found.refusal.quantity
    return f"{missing} missing" if missing else "cannot be worked out"


def _uncracked(found: Result) -> bool:
    """Whether all there is to a drop test is that it is not at an end."""
    return isinstance(found.refusal, Missing) and found.refusal.quantity == "blow"


def lines(found: Result, system: str) -> list[str]:
    """What a test says, the result first; without one, why."""
    if found.refusal is not None:
        return [NO_CRACK if _uncracked(found) else str(found.refusal)]
    said = [f"{FIGURE[name]} {show(name, value, system)}" for name, value in found.figures]
    detail = found.detail
    if isinstance(detail, DropTest):
        return ["; ".join(said), *_drop(detail, system), *_elastic(found, system)]
    if isinstance(detail, Bending):
        return ["; ".join(said), *_bend(detail, system)]
    if isinstance(detail, SlideOut):
        return ["; ".join(said), *_slide(detail, system)]
    assert isinstance(detail, Glued)
    return ["; ".join(said), *_glue(detail, system)]


def doubts(found: Result) -> list[str]:
    """What must be said beside the result."""
    return [DOUBT[code] for code in found.doubts]


def _drop(drop: DropTest, system: str) -> list[str]:
    said = [
        f"blow {drop.blow} cracked it; the blows before it {showing.show('energy', drop.earlier, system)} in "
        f"all, every blow {showing.show('energy', drop.exposure, system)}: exposure, not strength"
    ]
    if drop.corrected_m is not None and drop.half_step_m is not None:
        half, height = (
            showing.show_down("impact_bending_drop", value, system)
            for value in (drop.half_step_m, drop.corrected_m)
        )
        said.append(f"rising blows on one stick read half a step high on average: {half} less, {height}")
    return said


def _elastic(found: Result, system: str) -> list[str]:
    if found.elastic is None:
        return []
    stress, stiffness = (units.stress_down(value, system, 4) for value in found.elastic)
    return [
        f"by the deflection of the highest blow it took whole: bending stress {stress}, stiffness "
        f"{stiffness}, if it sprang back wholly"
    ]


def _bend(bent: Bending, system: str) -> list[str]:
    low, high = (
        units.stress_down(value, system, 4) for value in (bent.low_at_standard, bent.high_at_standard)
    )
    said = [
        f"greatest load {load(bent.load_n, system)}; span over depth {bent.span_over_depth:.1f}; in a beam "
        f"2 in deep between {low} and {high}: by the size effect as a bound, not applied"
    ]
    if bent.elasticity_corrected is not None:
        said.append(
            f"stiffness with the shear taken out {units.stress_down(bent.elasticity_corrected, system, 4)}"
        )
    if bent.straight is not None and bent.limit_stress is not None:
        said.append(
            f"straight for {bent.straight.count} readings, to {load(bent.straight.limit_n, system)}: "
            f"proportional limit {units.stress_down(bent.limit_stress, system, 4)}"
        )
    return said


def _slide(slid: SlideOut, system: str) -> list[str]:
    low, high = units.stress_down(slid.low, system, 4), units.stress_down(slid.high, system, 4)
    moment = showing.show("moment", slid.moment, system)
    bare = units.stress_down(slid.stress_without_own, system, 4)
    return [
        f"moment at the clamp {moment}; between {low} and {high}, as the reach is read to 1/8 in and the jaw "
        "gives",
        f"without the stick's own weight {bare}",
    ]


def _glue(joint: Glued, system: str) -> list[str]:
    said = []
    if joint.across:
        assert joint.along is not None
        along, across = units.stress(joint.along, system), units.stress(joint.across, system)
        said.append(f"in the glue of the scarf {along} along it, {across} across it")
    if joint.passed is None:
        return [*said, f"{RULE}, and they were not looked at"]
    met = "met" if joint.passed else "NOT MET"
    share = "; how much of a face must be torn is not published" if joint.passed else ""
    return [*said, f"the published rule is {met}: {RULE}{share}"]


def group_lines(group: Group, system: str) -> list[str]:
    """What a group says: mean, spread, lower limit, and what is wrong with it."""
    series = group.up_and_down
    said = [f"{group.name}: {_many(len(group.values))}"]
    if isinstance(series, UpAndDown):
        said.append("struck up and down, so that a mean of the cracked ones says nothing")
    else:
        said += _of_values(group, system)
    said.append("brought to 12 % moisture (wh282 eq. 5-3)" if group.at_12 else _moist(group))
    if group.figure == "rupture":
        said.append("at the coupons' own size")
    if group.left_out:
        why = ", ".join(f"{one.coupon.tag} ({one.coupon.aside or 'no result'})" for one in group.left_out)
        said.append(f"left out: {why}")
    rows = ["; ".join(said)]
    if group.setup:
        rows.append(f"set-up: {group.setup}")
    if isinstance(series, UpAndDown):
        rows.append(_series(series, system))
    elif series is not None:
        rows.append(f"no series up and down: {series}")
    return rows


def _of_values(group: Group, system: str) -> list[str]:
    """Mean, spread and limit of a group."""
    figure, spread = group.figure, group.deviation
    said = [f"mean {show(figure, group.mean, system)}"]
    if group.half_step_off:
        said.append("half a step taken off each")
    elif figure in HALF_STEP:
        said.append("HALF A STEP HIGH on average: some had no blow below the crack")
    if spread is not None:
        share = f" ({units.percent(spread / group.mean)})" if group.mean > 0 else ""
        said.append(f"standard deviation {showing.show(FIGURES[figure][1], spread, system)}{share}")
    return [*said, _limit(group, system)]


def _many(count: int) -> str:
    return f"{count} coupon{'' if count == 1 else 's'}"


def _limit(group: Group, system: str) -> str:
    limit = group.limit
    if isinstance(limit, Refusal):
        return f"no lower limit: {LEAST_FOR_LIMIT} coupons at least are needed"
    if not group.deviation:
        return "no lower limit: coupons that read alike to the last digit are no sample"
    if limit.below_zero:
        return f"lower limit below zero ({limit.count} coupons say nothing about the weak ones)"
    value = showing.show_down(FIGURES[group.figure][1], limit.value, system)
    return f"lower 5 % limit {value} at 75 % confidence (mean - {limit.factor:.3f} s)"


def _moist(group: Group) -> str:
    if group.moist is None:
        return "moisture not measured on all"
    low, high = (units.percent(value) for value in group.moist)
    told = f"as tested, {low} moisture" if low == high else f"as tested, {low} to {high} moisture"
    return f"{told}: they differ, and nothing published brings this figure to one" if group.uneven else told


def _series(series: UpAndDown, system: str) -> str:
    spread = "" if series.sd is None else f", standard deviation {units.length(series.sd, system, 2)}"
    kind = "cracks" if series.of_failures else "blows without"
    mean = units.length(series.mean, system, 2)
    told = f"half the sticks crack at {mean}{spread}"
    return f"series up and down: {told} ({series.counted} {kind}; method recalled)"


def comparison_lines(found: Comparison | tuple[Group, Group, Refusal], system: str) -> list[str]:
    """One group against another, and what comparing them means."""
    if isinstance(found, tuple):
        return [f"{found[0].name} against {found[1].name}: {found[2]}"]
    welch, figure = found.welch, found.first.figure
    low, high = _outward(figure, welch.low, system, False), _outward(figure, welch.high, system, True)
    said = (
        f"{found.first.name} less {found.second.name}: {_signed(figure, welch.difference, system)}, 95 % "
        f"between {low} and {high} (t {welch.t:.2f}, {welch.df:.1f} degrees of freedom, p {welch.p:.2g})"
    )
    if welch.settled:
        told = "they differ"
    elif found.needed is None:
        told = "NOT SETTLED, and no number of coupons that could be broken would settle a difference so small"
    else:
        told = f"NOT SETTLED: if mean and spread stay so, about {found.needed} in each group would settle it"
    moist = [MOIST] if found.moistures_differ else []
    return [said, told, *moist, _BASIS[found.basis]]


def _signed(figure: str, value: float, system: str) -> str:
    text = showing.show(FIGURES[figure][1], abs(value), system)
    return f"-{text}" if value < 0 else text


def _outward(figure: str, value: float, system: str, up: bool) -> str:
    """An end of a band of differences, rounded away from its middle: no band looks narrower than it is."""
    away = up == (value >= 0)  # from zero
    text = (showing.show_up if away else showing.show_down)(FIGURES[figure][1], abs(value), system)
    return f"-{text}" if value < 0 else text


def book_line(beside: BesideBook, system: str, figure: str) -> str:
    """One coupon beside the species' average, at its own size and at the book's."""
    quantity = FIGURES[figure][1]
    value, book = _down(quantity, beside.value, system), showing.show(quantity, beside.figure.value, system)
    farthest = max(beside.deviations, beside.at_book_size, key=abs)
    usual = "as pieces of one wood differ" if abs(farthest) <= USUAL else "UNUSUAL for one piece"
    away = _away(beside.deviations)
    if beside.size_factor > 1:
        away += f" as tested, {_away(beside.at_book_size)} if the size effect holds in full,"
    return (
        f"{beside.result.coupon.tag}: {value} at 12 %, {away} the average of {book} "
        f"({beside.figure.source}; spread {units.percent(beside.variation, 0)}): {usual}"
    )


def _away(deviations: float) -> str:
    return f"{abs(deviations):.1f} standard deviations {'below' if deviations < 0 else 'above'}"


def drop_of_book(species: Species, system: str) -> str:
    """The handbook's impact figure of a wood, which is never converted; empty where there is none."""
    figure = species.find("impact_bending_drop", "12 %")
    if figure is None:
        return ""
    height = units.length(figure.value, system, 1)
    return (
        f"{species.name} in the handbook: {height} drop of a 50 lb hammer on 2 x 2 in over 28 in "
        f"({figure.source}): another machine and size, not to be converted"
    )


def drops_of_book(results: Sequence[Result], woods: Mapping[str, Species], system: str) -> list[str]:
    """The same for every wood of some drop tests."""
    keys = dict.fromkeys(found.species for found in results if found.coupon.test == "drop")
    return [text for key in keys if key in woods and (text := drop_of_book(woods[key], system))]
