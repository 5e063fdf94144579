"""The verbs `float` and `weigh`: specific gravity on every basis, and the verdict on it."""

from fractions import Fraction
from typing import Any

from bench import units
from bench.core import acceptance, floating, weighing, working
from bench.core.acceptance import Verdict
from bench.core.errors import OutOfRange, Refusal
from bench.core.floating import FloatResult
from bench.core.records import Figure, FloatReading, Species, Typed
from bench.core.weighing import WeighResult
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.sheets import wording

SIDES_LONG = 10  # the float stick is ten times as long as wide: common practice, no source

_MOISTURE = Option(
    "--moisture", "moisture", "of the stick, over oven-dry weight; a bare number is percent", needed=True
)
_VARIANT = Option(
    "--variant", "name", "growth region or class of the species, where its file tells them apart"
)
OPTIONS = {
    "float": (
        species_option("--species", "the wood"),
        Option("--side", "length", "of the square stick; a bare number is inches", needed=True),
        Option("--length", "length", "of the stick; ten sides if not given"),
        Option("--marks", "count", "equal marks over the length; 10 if not given"),
        Option("--mark", "mark", "waterline from below; again for more faces", needed=True, many=True),
        _MOISTURE,
        Option("--water", "temperature", "of the bath; 20 C if not given"),
        Option(
            "--angle", "angle", "contact angle, or none for no correction; the species' own if not given",
            wanted="an angle like 60 or 60 deg, or none",
        ),
        Option("--in-water", "seconds", "time in the water before reading; 30 s if not given"),
        _VARIANT,
    ),
    "weigh": (
        species_option("--species", "the wood"),
        Option("--mass", "mass", "of the stick; a bare number is pounds", needed=True),
        Option(
            "--size", "size", "width x depth x length; bare numbers are inches", needed=True,
            wanted="a size like 1/2 x 1/2 x 5 or 12.7 x 12.7 x 127 mm",
        ),
        _MOISTURE,
        _VARIANT,
    ),
}  # fmt: skip
_FLOAT_NAMES = {
    "waterline": "--mark",
    "faces": "--mark",
    "side": "--side",
    "number of marks": "--marks",
    "moisture": "--moisture",
    "water temperature": "--water",
    "contact angle": "--angle",
    "time in the water": "--in-water",
    "species": "--species",
}
_WEIGH_NAMES = {"mass": "--mass", "size": "--size", "moisture": "--moisture", "species": "--species"}


def _float(given: Given) -> Answer:
    library = shelf()
    species = pick(library, given, "--species")
    variant = _variant(given, species)
    reading = _reading(given)
    with given.naming(_FLOAT_NAMES):
        result = floating.read(reading, species, variant)
        verdict = acceptance.judge(result, species, variant)
        minimum = verdict.minimum
        line = None if minimum is None else floating.mark_of(minimum.value, reading, species, variant)
    data = {
        "fraction": result.fraction,
        "meniscus_bias": result.meniscus_bias,
        **_gravities(result),
        **_limits(verdict),
        "minimum_mark": line,
        "tilt_deg": result.tilt_deg,
        **_verdict(verdict),
    }
    return Answer(
        data,
        (_table(f"Float test: {species.name}", _float_rows(reading, result, verdict, line)),),
        wording.float_warnings(result, verdict) + faults(library),
        working.of_float(reading, result, verdict),
    )


def _float_rows(
    reading: FloatReading, result: FloatResult, verdict: Verdict, line: float | None
) -> tuple[tuple[str, ...], ...]:
    return (
        ("submerged share, as read", f"{result.fraction:.4f}", "of the stick's length"),
        ("pull of the water surface", f"{result.meniscus_bias:.4f}", _angle_said(result)),
        *_rows(result, verdict),
        (
            "the minimum stands at",
            "unknown" if line is None else f"mark {units.mark_up(line)}",
            f"this stick at {units.percent(result.moisture)} moisture in water of "
            + units.temperature(reading.water.si),
        ),
        (
            "lean",
            "not read" if result.tilt_deg is None else f"{result.tilt_deg:.1f} degrees",
            "from opposite faces",
        ),
        *_verdict_rows(verdict),
    )


def _reading(given: Given) -> FloatReading:
    side = given.value("--side")
    length = given.value("--length") if given.has("--length") else _ten_sides(side)
    if length.exact <= side.exact:
        with given.naming({"length": "--length"}):
            raise OutOfRange("length", length.si, f"it must be more than the side, {side.text}")
    angle = given.text("--angle")
    if angle not in ("", "none"):
        angle = repr(given.value("--angle").si)
    return FloatReading(
        marks=tuple(mark.si for mark in given.values("--mark")),
        side=side,
        length=length,
        moisture=given.value("--moisture"),
        water=given.value("--water", "20 C"),
        count=int(given.value("--marks", "10").exact),
        angle=angle,
        seconds=given.value("--in-water", "30 s").si,
    )


def _ten_sides(side: Typed) -> Typed:
    return Typed(side.exact * Fraction(SIDES_LONG), f"{SIDES_LONG} sides")


def _weigh(given: Given) -> Answer:
    library = shelf()
    species = pick(library, given, "--species")
    variant = _variant(given, species)
    mass = given.value("--mass").si
    width, depth, length = (side.si for side in given.size("--size", 3))
    with given.naming(_WEIGH_NAMES):
        result = weighing.weigh(mass, (width, depth, length), given.value("--moisture").si, species, variant)
        verdict = acceptance.judge(result, species, variant)
    rows = (
        (
            "density",
            f"{result.density:.1f} kg/m3",
            f"with its water, at {units.percent(result.moisture)} moisture",
        ),
        *_rows(result, verdict),
        *_verdict_rows(verdict),
    )
    return Answer(
        {**_gravities(result), **_limits(verdict), **_verdict(verdict)},
        (_table(f"Weight and size: {species.name}", rows),),
        wording.float_warnings(result, verdict) + faults(library),
        working.of_weigh(mass, (width, depth, length), result, verdict),
    )


def _variant(given: Given, species: Species) -> str:
    variant = given.text("--variant")
    known = sorted({figure.variant for figure in species.figures if figure.variant})
    if variant and variant not in known:
        wanted = f"one of {', '.join(known)} would be read" if known else "its file has none"
        raise Refusal(f"--variant: {variant!r} is not known for {species.key}; {wanted}", "variant", variant)
    return variant


def _gravities(result: FloatResult | WeighResult) -> dict[str, Any]:
    return {
        "as_floated": result.as_floated,
        "sg_at_moisture": result.sg_at_moisture,
        "sg_12": result.sg_12,
        "sg_oven_dry": result.sg_oven_dry,
        "sg_green": result.sg_green,
        "uncertainty": result.uncertainty,
        "low": result.low,
        "high": result.high,
    }


def _limits(verdict: Verdict) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, figure in (
        ("minimum", verdict.minimum),
        ("average", verdict.average),
        ("maximum", verdict.maximum),
    ):
        found[name] = figure.value if figure else None
        found[f"{name}_standing"] = figure.standing if figure else None
        found[f"{name}_source"] = working.place(figure) if figure else None
    return {**found, "basis": wording.BASIS}


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {"verdict": verdict.word, "reasons": list(wording.reasons(verdict))}


def _angle_said(result: FloatResult) -> str:
    if result.angle_deg is None:
        return "no correction asked for"
    return f"of the stick's length, contact angle {result.angle_deg:g} degrees"


def _rows(result: FloatResult | WeighResult, verdict: Verdict) -> tuple[tuple[str, ...], ...]:
    band = f"{units.gravity_down(result.low)} to {units.gravity_up(result.high)}"
    shrinkage = f"S_0 {units.percent(result.shrinkage)}, {result.shrinkage_from}"
    return (
        (
            "density over water at 4 C",
            units.gravity(result.as_floated),
            "weight with its water, volume as it is",
        ),
        (
            "specific gravity",
            units.gravity(result.sg_at_moisture),
            f"oven-dry weight on volume at {units.percent(result.moisture)} moisture",
        ),
        ("specific gravity at 12 %", units.gravity(result.sg_12), wording.BASIS_12),
        ("specific gravity green", units.gravity(result.sg_green), "oven-dry weight on green volume"),
        ("specific gravity oven-dry", units.gravity(result.sg_oven_dry), f"{wording.BASIS}; {shrinkage}"),
        ("95 % band", band, f"{wording.BASIS}; standard deviation {result.uncertainty:.4f}"),
        ("minimum", *_limit(verdict.minimum)),
        ("average", *_limit(verdict.average)),
        *((("maximum", *_limit(verdict.maximum)),) if verdict.maximum else ()),
    )


def _limit(figure: Figure | None) -> tuple[str, str]:
    if figure is None:
        return "unknown", "the library has none on this basis"
    return units.gravity(figure.value), f"{wording.BASIS}; {working.place(figure)}"


def _verdict_rows(verdict: Verdict) -> tuple[tuple[str, ...], ...]:
    first, *others = wording.reasons(verdict)
    return (("verdict", wording.word(verdict), first), *(("", "", other) for other in others))


def _table(title: str, rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(title, ("", "value", "basis"), rows)


ANSWERS = {"float": _float, "weigh": _weigh}
