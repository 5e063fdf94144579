"""The verbs `float` and `weigh`: specific gravity on every basis, and the verdict on it."""

from fractions import Fraction

from bench import units
from bench.core import acceptance, evidence, floating, weighing, working
from bench.core.acceptance import Found
from bench.core.errors import OutOfRange, Refusal
from bench.core.evidence import Advice, MarkRow, MarkTable, Standing
from bench.core.records import FloatReading, Species, Stick, TimedMark, Typed, Weighing
from bench.headless import gravity
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.sheets import evidence as page
from bench.sheets import wording

SIDES_LONG = 10  # the float stick is ten times as long as wide: common practice, no source
LATER_WANTED = "time=mark pairs like 60=6.9; 4 min=7.05"

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
        Option(
            "--mark", "mark",
            "waterline from below; once for one face, again for the opposite one, three or four times "
            "going round the stick", needed=True, many=True,
        ),
        Option(
            "--later", "pairs",
            "later waterlines on the first face, time=mark, parted by a semicolon; times count from the "
            "first touch of the water: '60=6.9; 4 min=7.05'", wanted=LATER_WANTED,
        ),
        _MOISTURE,
        Option("--water", "temperature", "of the bath; 20 C if not given"),
        Option(
            "--angle", "angle", "contact angle, or none for no correction; the species' own if not given",
            wanted="an angle like 60 or 60 deg, or none",
        ),
        Option("--in-water", "seconds", "time in the water before reading; 30 s if not given"),
        Option("--weigh", "mass", "what the float stick weighs, to compare; a bare number is pounds"),
        Option(
            "--weigh-size", "size", "of the piece weighed; the float stick if not given",
            wanted="a size like 1/2 x 1/2 x 5 or 12.7 x 12.7 x 127 mm",
        ),
        Option("--table", "flag", "print where the limits stand on this stick at 6 to 16 % as well"),
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
    "later waterline": "--later",
    "species": "--species",
}
_BESIDE_NAMES = {"mass": "--weigh", "size": "--weigh-size"}
_WEIGH_NAMES = {"mass": "--mass", "size": "--size", "moisture": "--moisture", "species": "--species"}


def _float(given: Given) -> Answer:
    library = shelf()
    species = pick(library, given, "--species")
    variant = _variant(given, species)
    reading = _reading(given)
    beside = _beside(given, reading)
    with given.naming(_FLOAT_NAMES):
        result = floating.read(reading, species, variant)
        table = evidence.minimum_table(reading, species, variant)
    with given.naming(_BESIDE_NAMES):
        for each in beside:
            weighing.weigh_stick(each, species, variant)
    found = acceptance.judge_stick(_as_stick(species, variant, reading, beside), species)
    standing = evidence.standing(result, species, variant)
    advice = evidence.advice(reading, species, variant, result)
    here = evidence.minimum_table(reading, species, variant, (reading.moisture.exact,)).rows[0]
    data = {
        "fraction": result.fraction,
        "fraction_zero": result.fraction_zero,
        "drift": result.drift,
        "meniscus_bias": result.meniscus_bias,
        **gravity.of(result),
        **gravity.limits(found.verdict),
        **{key: value for key, value in gravity.marks(here).items() if key != "moisture_percent"},
        "average_mark_estimated": table.average is not None and table.average.brought,
        "tilt_deg": result.tilt_deg,
        "budget": gravity.budget(result),
        "advice": [gravity.advised(each) for each in advice],
        **gravity.standing(standing),
        "agreement": gravity.agreement(found.agreement),
        **({"minimum_table": [gravity.marks(row) for row in table.rows]} if given.has("--table") else {}),
        **gravity.verdict(found.verdict, advice),
    }
    rows = _float_rows(reading, found, here, standing, advice)
    tables = [gravity.table(f"Float test: {species.name}", rows), gravity.budget_table(result)]
    if given.has("--table"):
        tables += _marks(table, reading, variant)
    return Answer(
        data,
        tuple(tables),
        wording.float_warnings(result, found.verdict) + faults(library),
        working.of_float(reading, result, found.verdict) + working.of_found(found, standing),
    )


def _float_rows(
    reading: FloatReading, found: Found, here: MarkRow, standing: Standing | None, advice: tuple[Advice, ...]
) -> tuple[tuple[str, ...], ...]:
    result = found.result
    assert result is not None
    led_back = (
        (
            "led back to no time in the water",
            f"{result.fraction_zero:.4f}",
            f"drift {result.drift:.4f} marks per root second, {len(reading.timed)} later waterline(s)",
        ),
    )
    today = f"this stick at {units.percent(result.moisture)} moisture in water of "
    today += units.temperature(reading.water.si)
    lines = (("minimum", here.minimum), ("average", here.average), ("maximum", here.maximum))
    return (
        ("submerged share, as read", f"{result.fraction:.4f}", "of the stick's length"),
        *(led_back if reading.timed else ()),
        ("pull of the water surface", f"{result.meniscus_bias:.4f}", gravity.angle_said(result)),
        *gravity.rows(result, found.verdict),
        *(
            (f"the {name} stands at", "unknown" if mark is None else f"mark {page.strict(mark, name)}", today)
            for name, mark in lines
            if mark is not None or name == "minimum"
        ),
        (
            "lean",
            "not read" if result.tilt_deg is None else f"{result.tilt_deg:.1f} degrees",
            "from opposite faces",
        ),
        *_beside_rows(found),
        *gravity.standing_rows(standing),
        *(("would narrow it", "", wording.advised(each)) for each in advice),
        *gravity.verdict_rows(found.verdict, advice),
    )


def _beside_rows(found: Found) -> tuple[tuple[str, ...], ...]:
    if found.weighed is None or found.agreement is None:
        return ()
    weighed = units.gravity(found.weighed.sg_oven_dry)
    band = f"{wording.BASIS}; standard deviation {found.weighed.uncertainty:.4f}"
    return (("by weight and size", weighed, band), ("", "", wording.agreement(found.agreement)))


def _marks(table: MarkTable, reading: FloatReading, variant: str) -> tuple[Table, Table]:
    head, *rows = page.mark_cells(table, reading.count)
    notes = tuple((note.name, note.text) for note in page.mark_notes(table, variant))
    return (
        Table(f"Where the limits stand [marks of {reading.count}]", head, tuple(rows)),
        Table("What they rest on", ("", "basis"), notes),
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
        timed=_later(given),
    )


def _later(given: Given) -> tuple[TimedMark, ...]:
    """The later waterlines: times and marks as they are read elsewhere."""
    pairs = [pair.strip() for pair in given.text("--later").split(";")]
    found = []
    for pair in pairs if given.has("--later") else ():
        time, equals, mark = pair.partition("=")
        if not equals:
            raise Refusal(
                f"--later: {pair!r} is no pair; {LATER_WANTED} would be read", "later waterline", pair
            )
        with given.naming({"seconds": "--later", "mark": "--later"}):
            found.append(TimedMark(units.read("seconds", time).si, units.read("mark", mark).si))
    return tuple(found)


def _beside(given: Given, reading: FloatReading) -> tuple[Weighing, ...]:
    """The weighing to compare with, of the float stick itself unless a size is given."""
    if not given.has("--weigh"):
        if given.has("--weigh-size"):
            raise Refusal("--weigh-size: only goes with --weigh, the mass of the piece", "size")
        return ()
    size = (reading.side, reading.side, reading.length)
    if given.has("--weigh-size"):
        width, depth, length = given.size("--weigh-size", 3)
        size = (width, depth, length)
    return (Weighing(given.value("--weigh"), *size, reading.moisture),)


def _as_stick(species: Species, variant: str, reading: FloatReading, beside: tuple[Weighing, ...]) -> Stick:
    """The float stick as a stick of the rack, so that the verdict is the very one of the Float pane."""
    return Stick(
        tag="",
        species=species.key,
        length=reading.length,
        width=reading.side,
        depth=reading.side,
        variant=variant,
        readings=(reading,),
        weighings=beside,
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
    standing = evidence.standing(result, species, variant)
    rows = (
        (
            "density",
            f"{result.density:.1f} kg/m3",
            f"with its water, at {units.percent(result.moisture)} moisture",
        ),
        *gravity.rows(result, verdict),
        *gravity.standing_rows(standing),
        *gravity.verdict_rows(verdict),
    )
    return Answer(
        {
            **gravity.of(result),
            **gravity.limits(verdict),
            "budget": gravity.budget(result),
            **gravity.standing(standing),
            **gravity.verdict(verdict),
        },
        (gravity.table(f"Weight and size: {species.name}", rows), gravity.budget_table(result)),
        wording.float_warnings(result, verdict) + faults(library),
        working.of_weigh(mass, (width, depth, length), result, verdict)
        + ((working.of_standing(standing),) if standing else ()),
    )


def _variant(given: Given, species: Species) -> str:
    variant = given.text("--variant")
    known = sorted({figure.variant for figure in species.figures if figure.variant})
    if variant and variant not in known:
        wanted = f"one of {', '.join(known)} would be read" if known else "its file has none"
        raise Refusal(f"--variant: {variant!r} is not known for {species.key}; {wanted}", "variant", variant)
    return variant


ANSWERS = {"float": _float, "weigh": _weigh}
