"""What `breaks drop`, `bend` and `slide` say of one coupon."""

from typing import Any

from bench import units
from bench.core.bending_test import Bending
from bench.core.breaking import DropTest
from bench.core.quantities import DATA_UNITS, GRAVITY, INCH, POUND
from bench.core.slide_out import SlideOut
from bench.core.steps import Step
from bench.headless.answers import Answer, Table
from bench.sheets.breaking import DOUBT
from bench.units.showing import show

CAUTION = {
    "drop": "eyes covered, fingers and feet from under the weight, which falls on when the coupon breaks; "
    "from memory",
    "bend": "eyes covered, nobody in line with the coupon: its ends fly when it breaks; from memory",
    "slide": "eyes covered, feet away from under the weight, which falls when the stick breaks; from memory",
}
SET_UP = "compared within one set-up only: size, span, weight, striker"
_LBF, _PSI = float(POUND * GRAVITY), float(DATA_UNITS["lbf/in2"][1])
_IN_LB, _IN, _PER_IN3 = _LBF * float(INCH), float(INCH), float(DATA_UNITS["in-lbf/in3"][1])

Data = dict[str, Any]
Rows = tuple[tuple[str, str, str], ...]


def _table(title: str, test: str, rows: Rows) -> tuple[Table, ...]:
    return (Table(title, ("", "value", "basis"), (*rows, ("caution", "", CAUTION[test]))),)


def drop(found: DropTest, count: int, system: str, steps: tuple[Step, ...]) -> Answer:
    """A drop test."""
    half, corrected = found.half_step_m, found.corrected_m
    data: Data = {
        "height_in": found.height_m / _IN,
        "energy_in_lb": found.energy / _IN_LB,
        "energy_per_volume": found.energy_per_volume / _PER_IN3,
        "energy_per_volume_unit": "in-lb/in3",
        "exposure_in_lb": found.exposure / _IN_LB,
        "earlier_in_lb": found.earlier / _IN_LB,
        "blow": found.blow,
        "blows": count,
        "rises": found.rises,
        "half_step_in": None if half is None else half / _IN,
        "corrected_height_in": None if corrected is None else corrected / _IN,
        "basis": SET_UP,
    }
    less = "--" if corrected is None else units.length(corrected, system)
    rows: Rows = (
        ("cracked at", units.length(found.height_m, system), f"blow {found.blow} of {count}"),
        ("less half a step", less, "a rising series on one stick reads half its last step too high"),
        ("energy of that blow", show("moment", found.energy, system), "weight x height"),
        (
            "over the volume",
            show("work_to_maximum_load", found.energy_per_volume, system),
            f"b d L; {SET_UP}",
        ),
        ("blows before it", show("moment", found.earlier, system), "exposure, not strength"),
        ("all blows", show("moment", found.exposure, system), "exposure, not strength"),
    )
    return Answer(data, _table("Drop test", "drop", rows), _of_series(found), steps)


def _of_series(found: DropTest) -> tuple[str, ...]:
    """What is to be said of the heights."""
    said = []
    if found.falls:
        said.append(
            f"the heights do not rise: {_blows(found.falls)} lower than one before; it counts as exposure"
        )
    if found.repeats:
        said.append(f"{_blows(found.repeats)} as high as the one before; it counts as exposure")
    if found.half_step_m is None:
        why = "the first blow" if found.blow == 1 else "a blow no higher than those before"
        said.append(f"{why} cracked it: no step tells within what height it gave way")
    return tuple(said)


def _blows(numbers: tuple[int, ...]) -> str:
    first, *others = (str(number) for number in numbers)
    return f"blow {first} is" if not others else f"blows {', '.join((first, *others))} are"


def bend(found: Bending, system: str, steps: tuple[Step, ...]) -> Answer:
    """A bending test."""

    def over(value: float | None, unit: float) -> float | None:
        return None if value is None else value / unit

    straight = found.straight
    data: Data = {
        "load_lbf": found.load_n / _LBF,
        "rupture_psi": found.rupture / _PSI,
        "elasticity_psi": over(found.elasticity, _PSI),
        "elasticity_shear_corrected_psi": over(found.elasticity_corrected, _PSI),
        "slope_lbf_per_in": over(found.slope, _LBF / _IN),
        "limit_load_lbf": straight.limit_n / _LBF if straight else None,
        "limit_stress_psi": over(found.limit_stress, _PSI),
        "straight_readings": straight.count if straight else None,
        "work_to_maximum_load": over(found.work, _PER_IN3),
        "work_to_maximum_load_unit": "in-lb/in3",
        "span_over_depth": found.span_over_depth,
        "size_factor": found.size_factor,
        "at_standard_size_low_psi": found.low_at_standard / _PSI,
        "at_standard_size_high_psi": found.high_at_standard / _PSI,
        "basis": "load in the middle; as tested, at the coupon's own size, span and moisture",
    }
    low, high = (_stress(value, system) for value in (found.low_at_standard, found.high_at_standard))
    work = "--" if found.work is None else show("work_to_maximum_load", found.work, system)
    rows: Rows = (
        ("modulus of rupture", _stress(found.rupture, system), "at the coupon's own size"),
        ("2 in deep on 28 in", f"{low} to {high}", f"with the size effect ({found.size_factor:.3f}) and "
         "without: bounds, wh282 eq. 9-17; the handbook's figures are of that size"),
        ("modulus of elasticity", _stress(found.elasticity, system), "as tested, shear left in"),
        ("shear taken out", _stress(found.elasticity_corrected, system), "E over G taken as 16"),
        ("proportional limit", _stress(found.limit_stress, system), _of_straight(found)),
        ("work to greatest load", work,
         "area under the readings over b d L"),
        ("span over depth", f"{found.span_over_depth:.1f}", "14 in the standard test"),
    )  # fmt: skip
    doubts = tuple(DOUBT[doubt] for doubt in found.doubts)
    return Answer(data, _table("Bending test", "bend", rows), doubts, steps)


def _stress(value: float | None, system: str) -> str:
    """To four digits, rounded down, as the screen shows it."""
    return "--" if value is None else units.stress_down(value, system, 4)


def _of_straight(found: Bending) -> str:
    straight = found.straight
    if straight is None:
        return "needs --readings"
    return f"{straight.count} readings from reading {straight.first + 1} on lie within 2 % of one line"


def slide(found: SlideOut, own: bool, system: str, steps: tuple[Step, ...]) -> Answer:
    """A slide-out test; `own`: whether the stick's weight is counted."""
    counted = "the stick's own weight counted" if own else "the stick's own weight left out"
    data: Data = {
        "moment_in_lb": found.moment / _IN_LB,
        "stress_psi": found.stress / _PSI,
        "stress_low_psi": found.low / _PSI,
        "stress_high_psi": found.high / _PSI,
        "stress_without_own_psi": found.stress_without_own / _PSI,
        "basis": f"at the clamp, {counted}",
    }
    low, high = (_stress(value, system) for value in (found.low, found.high))
    rows: Rows = (
        ("moment", show("moment", found.moment, system), f"at the clamp, {counted}"),
        ("stress", _stress(found.stress, system), "at the clamp, outer fibre"),
        ("band", f"{low} to {high}", "reach 1/8 in less, and 1/8 in and half the jaw more"),
    )
    warnings = () if own else ("the stick's own weight is left out (--sg): the stress is somewhat more",)
    return Answer(data, _table("Slide-out test", "slide", rows), warnings, steps)
