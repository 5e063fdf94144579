"""What each coupon of a job says: its figures, or why it has none yet."""

from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction

from bench.core import breaking, coupon_moisture, gluing
from bench.core.bending_readings import Reading, check, check_ended, from_no_load
from bench.core.bending_test import Bending, bending_test, rupture
from bench.core.breaking import DropTest, drop_test
from bench.core.coupon import BEND, BENDING, DROP, GLUE, SHEAR, SLIDE, Coupon
from bench.core.errors import Missing, OutOfRange, Refusal
from bench.core.frozen import record, replace
from bench.core.quantities import INCH
from bench.core.records import Job
from bench.core.slide_out import SlideOut, slide_out
from bench.core.typed import Typed, inches, millimetres
from bench.core.wood import Species

# Figure of a coupon -> the test it comes of, and the quantity it is.
FIGURES = {
    "height": (DROP, "impact_bending_drop"),
    "energy": (DROP, "energy"),
    "energy_density": (DROP, "work_to_maximum_load"),
    "rupture": (BEND, "modulus_of_rupture"),
    "elasticity": (BEND, "modulus_of_elasticity"),
    "work": (BEND, "work_to_maximum_load"),
    "slide_stress": (SLIDE, "modulus_of_rupture"),
    "glue_stress": (GLUE, "shear_parallel"),
    "fibre": (GLUE, "share"),
}
# One set-up has one weight, so that its energies go as the heights; torn wood is a rule, not a mean.
GROUPED = tuple(name for name in FIGURES if name not in ("energy", "fibre"))
# Those a species' averages can stand beside; the drop of the handbook is of another machine and size.
BOOK = {
    "rupture": "modulus_of_rupture",
    "elasticity": "modulus_of_elasticity",
    "work": "work_to_maximum_load",
}
MOISTURE_UNKNOWN, NO_WAY, FALLS, REPEATS = "moisture_unknown", "no_way", "falls", "repeats"
FIRST_BLOW, NO_FIBRE, OWN_WEIGHT_UNKNOWN = "first_blow", "no_fibre", "own_weight_unknown"
AT_12 = Fraction(12, 100)
FIRST_STEP = {"in": inches("1"), "mm": millimetres("25")}  # of a blow where no plan says it


@record
class Glued:
    """A glue line that was broken; what was not measured is None."""

    stress: float | None = None  # in the glue, or in the wood beside a scarf [Pa]
    along: float | None = None  # shear along the glue line [Pa]
    across: float | None = None  # tension across it [Pa]
    faces: str = ""  # gluing.ON_BOTH, ON_ONE or ON_NONE; empty: not looked at

    @property
    def passed(self) -> bool | None:
        """Whether the published rule is met; None: not looked at."""
        return self.faces == gluing.ON_BOTH if self.faces else None


Detail = DropTest | Bending | SlideOut | Glued


@record
class Result:
    """One coupon worked out."""

    coupon: Coupon
    species: str  # key, that of its stick where it has one; empty: not said
    lot: str
    figures: tuple[tuple[str, float], ...] = ()  # by the names of FIGURES, as tested [SI]
    detail: Detail | None = None
    doubts: tuple[str, ...] = ()
    elastic: tuple[float, float] | None = None  # stress and stiffness of the highest blow it took whole [Pa]
    refusal: Refusal | None = field(default=None, compare=False)  # why there are no figures

    def figure(self, name: str) -> float | None:
        """One figure as tested, or None."""
        return dict(self.figures).get(name)

    @property
    def per_length(self) -> float | None:
        """Mass over length, None where it was not weighed [kg/m]."""
        coupon = self.coupon
        if coupon.mass is None or coupon.length is None:
            return None
        return coupon.mass.si / coupon.length.si


def result(coupon: Coupon, job: Job) -> Result:
    """What one coupon says.

    Args:
        coupon: of this job.
        job: its sticks lend their wood and lot.
    Returns:
        Its figures, or why there are none yet.
    Source:
        as of the tests: breaking, bending_test, slide_out, gluing.
    """
    stick = job.stick(coupon.stick) if coupon.stick else None
    bare = Result(
        coupon,
        stick.species if stick else coupon.species,
        coupon.lot or (stick.lot if stick else ""),
    )
    work = {DROP: _drop, BEND: _bend, SLIDE: _slide, GLUE: _glue}[coupon.test]
    try:
        return work(bare)
    except Refusal as refusal:
        return replace(bare, refusal=refusal)


def results(job: Job) -> tuple[Result, ...]:
    """What every coupon of a job says, in its order.

    Args:
        job: the job.
    Returns:
        One for each coupon, those set aside included.
    Source:
        as `result`.
    """
    return tuple(result(coupon, job) for coupon in job.coupons)


def _needed(coupon: Coupon, *names: str) -> tuple[float, ...]:
    """Some measured fields in SI; raises Missing for the first that is not there."""
    values = []
    for name in names:
        typed: Typed | None = getattr(coupon, name)
        if typed is None:
            raise Missing(name.replace("_", " "), f"it is wanted for {coupon.tag}")
        values.append(typed.si)
    return tuple(values)


def _drop(bare: Result) -> Result:
    coupon = bare.coupon
    mass, span = _needed(coupon, "weight", "span")
    blows = [breaking.Blow(blow.height.si, blow.seen) for blow in coupon.blows]
    found = drop_test(mass, blows, coupon.width.si, coupon.depth.si, span)
    doubts = (
        *((FALLS,) if found.falls else ()),
        *((REPEATS,) if found.repeats else ()),
        *((FIRST_BLOW,) if found.blow == 1 else ()),
    )
    figures = (
        ("height", found.height_m),
        ("energy", found.energy),
        ("energy_density", found.energy_per_volume),
    )
    return replace(bare, figures=figures, detail=found, doubts=doubts, elastic=_elastic(coupon, found.blow))


def _elastic(coupon: Coupon, cracked: int) -> tuple[float, float] | None:
    """Stress and stiffness by the highest blow before the crack, where its deflection was seen."""
    if coupon.deflection is None or coupon.span is None or coupon.weight is None or cracked == 1:
        return None
    depth, span, bent = coupon.depth.si, coupon.span.si, coupon.deflection.si
    # The weight falls to the face it strikes and on with it: the forms count both.
    height = max(blow.height.si for blow in coupon.blows[: cracked - 1]) + bent
    stress = breaking.drop_stress(coupon.weight.si, height, bent, coupon.width.si, depth, span)
    return stress, breaking.drop_elasticity(stress, bent, depth, span)


def _bend(bare: Result) -> Result:
    coupon = bare.coupon
    (span,) = _needed(coupon, "span")
    taken = [Reading(point.load.si, point.deflection.si) for point in coupon.points]
    if coupon.load is None:
        check_ended(taken)
    if taken:
        check(taken)
    found = bending_test(
        coupon.width.si,
        coupon.depth.si,
        span,
        None if coupon.load is None else coupon.load.si,
        readings=readings_of(coupon),
    )
    figures = [("rupture", found.rupture)]
    if found.elasticity is not None:
        figures.append(("elasticity", found.elasticity))
    if found.work is not None:
        figures.append(("work", found.work))
    return replace(bare, figures=tuple(figures), detail=found, doubts=found.doubts)


def readings_of(coupon: Coupon) -> tuple[Reading, ...]:
    """The readings of a bending test, from no load on.

    Args:
        coupon: with its pairs.
    Returns:
        As bending_readings.from_no_load.
    Source:
        common practice, no source.
    """
    return from_no_load([Reading(point.load.si, point.deflection.si) for point in coupon.points])


def _slide(bare: Result) -> Result:
    coupon = bare.coupon
    mass, reach = _needed(coupon, "weight", "reach")
    own = bare.per_length
    jaw = coupon.jaw.si if coupon.jaw is not None else 0.0
    found = slide_out(mass, reach, coupon.width.si, coupon.depth.si, own or 0.0, jaw)
    doubts = () if own is not None else (OWN_WEIGHT_UNKNOWN,)
    return replace(bare, figures=(("slide_stress", found.stress),), detail=found, doubts=doubts)


def _glue(bare: Result) -> Result:
    coupon = bare.coupon
    found = Glued()
    if coupon.load is not None:
        found = _joint(coupon, coupon.load.si)
    figures = [] if found.stress is None else [("glue_stress", found.stress)]
    if coupon.fibre_one is None or coupon.fibre_two is None:
        if not figures:
            raise Missing("load", f"type the load at failure of {coupon.tag}, or the torn wood of both faces")
        return replace(bare, figures=tuple(figures), detail=found, doubts=(NO_FIBRE,))
    torn = coupon.fibre_one.si, coupon.fibre_two.si
    figures.append(("fibre", min(torn)))
    return replace(bare, figures=tuple(figures), detail=replace(found, faces=gluing.faces(*torn)))


def _joint(coupon: Coupon, load_n: float) -> Glued:
    """The stresses of a glue line in shear, or of a scarf that is pulled or bent."""
    width, depth = coupon.width.si, coupon.depth.si
    if coupon.pull == SHEAR:
        (glued,) = _needed(coupon, "glued")
        stress = gluing.glue_shear(load_n, width * glued)
        return Glued(stress, stress, 0.0)
    (slope,) = _needed(coupon, "scarf")
    if coupon.pull == BENDING:
        stress = rupture(load_n, width, depth, *_needed(coupon, "span"))
    else:
        stress = load_n / (width * depth)
    return Glued(stress, *gluing.on_scarf(stress, 1 / slope))


def at_12(found: Result, figure: str, woods: Mapping[str, Species]) -> tuple[float | None, str]:
    """A figure brought to 12 percent moisture as the species' averages go.

    Args:
        found: of the coupon.
        figure: a name of FIGURES.
        woods: the library.
    Returns:
        The figure at 12 percent and nothing; else None and why not: MOISTURE_UNKNOWN, or NO_WAY where no
        equation or no figure of the library brings it there.
    Source:
        as coupon_moisture.at_moisture.
    """
    value, moisture = found.figure(figure), found.coupon.moisture
    if value is None:
        return None, NO_WAY
    if moisture is None:
        return None, MOISTURE_UNKNOWN
    if moisture.exact == AT_12:
        return value, ""
    quantity, species = BOOK.get(figure), woods.get(found.species)
    if quantity is None or species is None:
        return None, NO_WAY
    try:
        return coupon_moisture.at_moisture(value, species, quantity, moisture.si, float(AT_12)), ""
    except Refusal:
        return None, NO_WAY


def next_height(coupon: Coupon, system: str = "in") -> Typed:
    """From where the next blow falls: the plan goes on, else the last step again, else 1 in or 25 mm more.

    Args:
        coupon: of a drop test.
        system: "in" or "mm", that the first steps are round in.
    Returns:
        Height [m].
    Raises:
        OutOfRange: the heights planned are all struck.
    Source:
        common practice, no source: 1 in steps.
    """
    step = FIRST_STEP[system]
    struck = coupon.blows
    if coupon.steps:
        place = _planned(coupon)
        if place < len(coupon.steps):
            return coupon.steps[place]
        last = struck[-1].height
        raise OutOfRange("height", last.si, "the plan ends here: type the next one", f"after {last.text}")
    if not struck:
        return step
    exact = step.exact
    if len(struck) > 1 and struck[-1].height.exact > struck[-2].height.exact:
        exact = struck[-1].height.exact - struck[-2].height.exact
    height = struck[-1].height.exact + exact
    return Typed(height, _height(height, system))


def _planned(coupon: Coupon) -> int:
    """How many heights of the plan are behind: a blow off it, or once more, does not move it on."""
    place, steps = 0, [step.exact for step in coupon.steps]
    for blow in coupon.blows:
        height = blow.height.exact
        if place < len(steps) and height == steps[place]:
            place += 1
        elif not (place and height == steps[place - 1]) and height in steps[place:]:
            place += steps[place:].index(height) + 1
    return place


def _height(height: Fraction, system: str) -> str:
    if system == "mm":
        return f"{float(height * 1000):.6g} mm"
    inch = height / INCH
    return f"{inch} in" if inch.denominator == 1 else f"{float(inch):.6g} in"
