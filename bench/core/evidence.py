"""How sure a gravity is, what would make it surer, and how it stands in its species.

Everything here is worked out again with the change made; nothing is looked up from a table of advice.
"""

from collections.abc import Sequence
from fractions import Fraction
from math import erf, sqrt

from bench.core.acceptance import limit
from bench.core.errors import Refusal
from bench.core.floating import FloatResult, angle_of, half_width, mark_of
from bench.core.frozen import record, replace
from bench.core.moisture import gravity_at, shrinkage_of
from bench.core.records import Figure, FloatReading, Species, TimedMark, Typed
from bench.core.spread import MOISTURE_HALF_WIDTH, Measured
from bench.core.waterline import centre

# Codes of advice; `sheets.wording` turns them into sentences.
THICKER = "thicker_stick"
OPPOSITE_FACE = "opposite_face"
FOUR_FACES = "four_faces"
SOONER = "read_sooner"
TIMED = "timed_readings"
OVEN = "moisture_by_oven"
ANGLE = "contact_angle_measured"
DRY = "dry_and_repeat"

LEAST_GAIN = 0.05  # share of the band below which nobody should be sent back to the bath; our choice
THICKER_TIMES = Fraction(3, 2)
SOON_SECONDS = 30.0  # within which a stick can be read; common practice, no source
# Drying a cut-off to constant mass on a balance that shows a thousandth of it twice: our estimate.
OVEN_HALF_WIDTH = 0.003  # [1]
# Later waterlines at these multiples of the first time: root of time one, three and six times as long.
LATER_TIMES = (9, 36)
DRY_MOISTURE = Fraction(1, 10)  # the middle of 8 to 12 percent, anc19 sec. 2.412
DRY_BAND = (0.06, 0.14)  # where moisture meters are used with confidence; common practice, no source
# Coefficient of variation of specific gravity: wh282 table 5-6; wh190 p. 4-9: about 10 percent of density.
VARIATION = 0.10
MOISTURES = tuple(Fraction(percent, 100) for percent in range(6, 17))


@record
class Cause:
    """One line of the error budget."""

    name: str
    sd: float  # standard deviation of sg_oven_dry [1]
    share_of_variance: float  # [1]


@record
class Advice:
    """One thing that would narrow the band."""

    code: str
    before: float  # half width of the 95 percent band of one reading [1]
    after: float  # [1]


@record
class Average:
    """The species' average on the oven-dry basis, and how it was come by."""

    gravity: float  # oven-dry mass on oven-dry volume [1]
    figure: Figure  # it is, or was brought from
    brought: bool  # from the volume at 12 percent, by the shrinkage


@record
class MarkRow:
    """Where the limits stand on one float stick at one moisture."""

    moisture: float  # [1]
    minimum: float | None  # [marks]
    average: float | None  # [marks]
    maximum: float | None  # [marks]


@record
class MarkTable:
    """The limits on one float stick over moisture, with the figures they are made of."""

    rows: tuple[MarkRow, ...]
    minimum: Figure | None
    average: Average | None
    maximum: Figure | None


@record
class Standing:
    """Where a gravity lies among sticks of its species: an estimate by the normal law."""

    percentile: float  # percent of the species that is lighter
    z: float  # standard deviations above the average [1]
    value: float  # the gravity on the basis named [1]
    average: Figure
    basis: str  # "oven-dry" or "12 %": the volume
    cov: float  # standard deviation over the average [1]


def budget(result: Measured) -> tuple[Cause, ...]:
    """What the uncertainty is made of.

    Args:
        result: of a measurement, or of several combined.
    Returns:
        Every cause above zero, largest first; the shares of variance sum to 1.
    Source:
        propagation of independent errors: derived.
    """
    variance = sum(sd * sd for _, sd in result.shares)
    return tuple(Cause(name, sd, sd * sd / variance) for name, sd in result.shares if sd > 0)


def advice(reading: FloatReading, species: Species, variant: str, result: FloatResult) -> tuple[Advice, ...]:
    """What would narrow the band of a reading by a twentieth and more, best first.

    Each is the same gravity read again with one thing changed.

    Args:
        reading: as taken.
        species: the wood.
        variant: growth region or class.
        result: of floating.read.
    Returns:
        Codes with the half width of the 95 percent band before and after.
    Source:
        the error budget of floating.read: derived.
    """
    found = []
    for code, changed, half in _changes(reading, species, result):
        after = _half_width(changed, species, variant, result, half)
        if after is not None and after <= (1 - LEAST_GAIN) * result.half_width:
            found.append(Advice(code, result.half_width, after))
    return tuple(sorted(found, key=lambda each: each.after))


def _changes(
    reading: FloatReading, species: Species, result: FloatResult
) -> Sequence[tuple[str, FloatReading, float]]:
    """What can be done otherwise, each as the reading it would be, with the moisture's half width."""
    faces, half = len(reading.marks), MOISTURE_HALF_WIDTH
    changes = [(THICKER, replace(reading, side=_times(reading.side), length=_times(reading.length)), half)]
    if faces == 1:
        changes.append((OPPOSITE_FACE, _faces(reading, 2), half))
    if faces < 4:
        changes.append((FOUR_FACES, _faces(reading, 4), half))
    if not reading.timed and reading.seconds > SOON_SECONDS:
        changes.append((SOONER, replace(reading, seconds=SOON_SECONDS), half))
    if not reading.timed and reading.seconds > 0:
        later = tuple(TimedMark(reading.seconds * times, reading.marks[0]) for times in LATER_TIMES)
        changes.append((TIMED, replace(reading, timed=later), half))
    changes.append((OVEN, reading, OVEN_HALF_WIDTH))
    if reading.angle in ("", "none"):
        changes.append((ANGLE, replace(reading, angle=f"{angle_of(species)[0]:g}"), half))
    largest = next(iter(result.shares), ("", 0.0))[0]
    if not DRY_BAND[0] <= reading.moisture.si <= DRY_BAND[1] or largest == "moisture":
        changes.append((DRY, replace(reading, moisture=Typed(DRY_MOISTURE, "10 %")), half))
    return changes


def _times(size: Typed) -> Typed:
    return Typed(size.exact * THICKER_TIMES, f"1.5 x {size.text}")


def _faces(reading: FloatReading, count: int) -> FloatReading:
    return replace(reading, marks=(reading.marks[0],) * count)


def _half_width(
    changed: FloatReading, species: Species, variant: str, result: FloatResult, moisture_half_width: float
) -> float | None:
    """Half width of the band of a changed reading of the same gravity; None where it cannot be taken."""
    try:
        mark = mark_of(result.sg_oven_dry, changed, species, variant)
        # The centreline at the mark of this gravity; what the faces differ by stays, a lean stays a lean.
        shift = mark - centre(changed.marks)
        timed = tuple(TimedMark(each.seconds, each.mark + shift) for each in changed.timed)
        level = replace(changed, marks=tuple(each + shift for each in changed.marks), timed=timed)
        return half_width(level, species, variant, moisture_half_width)
    except Refusal:
        return None


def average_of(species: Species, variant: str = "") -> Average | None:
    """The species' average on the oven-dry basis.

    Args:
        species: the wood.
        variant: growth region or class; falls back on the species at large.
    Returns:
        The oven-dry average where the file has one, else the one at 12 percent brought to oven-dry by the
        shrinkage; None where there is neither.
    Source:
        the species file; wh282 eq. 4-10.
    """
    figure = limit(species, "specific_gravity_average", variant)
    if figure is not None:
        return Average(figure.value, figure, False)
    figure = _handbook(species, variant)
    if figure is None:
        return None
    try:
        shrinkage, _ = shrinkage_of(species, variant)
    except Refusal:
        return None
    return Average(gravity_at(figure.value, 0.12, 0.0, shrinkage), figure, True)


def _handbook(species: Species, variant: str) -> Figure | None:
    return species.find("specific_gravity", "12 %", "12 %", variant) or species.find(
        "specific_gravity", "12 %", "12 %"
    )


def minimum_table(
    reading: FloatReading, species: Species, variant: str = "", moistures: Sequence[Fraction] = MOISTURES
) -> MarkTable:
    """Where minimum, average and maximum stand on a float stick over moisture.

    Args:
        reading: the stick and the bath; its marks and moisture are not looked at.
        species: the wood.
        variant: growth region or class.
        moistures: in the order wanted; may be empty [1].
    Returns:
        A row for each moisture [marks], and the figures used.
    Raises:
        OutOfRange: moisture outside 0 to 30 %, bath outside 0 to 40 C.
    Source:
        as floating.mark_of.
    """
    minimum = limit(species, "specific_gravity_minimum", variant)
    maximum = species.find("specific_gravity_maximum", "", "oven-dry", variant)
    average = average_of(species, variant)

    def mark(gravity: float | None, moisture: Fraction) -> float | None:
        stick = replace(reading, moisture=Typed(moisture, f"{float(moisture) * 100:g} %"))
        return None if gravity is None else mark_of(gravity, stick, species, variant)

    rows = tuple(
        MarkRow(
            float(moisture),
            mark(minimum.value if minimum else None, moisture),
            mark(average.gravity if average else None, moisture),
            mark(maximum.value if maximum else None, moisture),
        )
        for moisture in moistures
    )
    return MarkTable(rows, minimum, average, maximum)


def sure_mark(reading: FloatReading, species: Species, variant: str = "") -> float | None:
    """From where on one reading like this is sure: its whole 95 percent band lies above the minimum.

    Args:
        reading: stick, moisture, bath, time and number of faces; where its marks stand is not looked at, and
            later ones are left out.
        species: the wood.
        variant: growth region or class.
    Returns:
        Waterline at the centreline [marks]; None where there is no minimum or no such mark on the stick.
    Raises:
        OutOfRange: as floating.mark_of.
    Source:
        the band of floating.read, solved for its lower edge: derived.
    """
    minimum = limit(species, "specific_gravity_minimum", variant)
    if minimum is None or minimum.memory:
        return None
    mark = mark_of(minimum.value, reading, species, variant)
    for _ in range(6):  # the band grows slowly with the gravity
        if not 0 < mark < reading.count:
            return None
        level = replace(reading, marks=(mark,) * len(reading.marks), timed=())
        mark = mark_of(minimum.value + half_width(level, species, variant), reading, species, variant)
    return mark


def standing(result: Measured, species: Species, variant: str = "") -> Standing | None:
    """Where a gravity lies among sticks of its species: an estimate.

        z = (G - G_avg) / (0.10 G_avg);  percentile by the normal law

    Both on one volume: oven-dry where the file has such an average, else the volume at 12 percent.

    Args:
        result: of a measurement.
        species: the wood.
        variant: growth region or class; falls back on the species at large.
    Returns:
        Percentile, and what it rests on; None where the file has no average.
    Source:
        wh282 table 5-6; wh190 p. 4-9; the average: the species file.
    """
    figure, basis, value = limit(species, "specific_gravity_average", variant), "oven-dry", result.sg_oven_dry
    if figure is None:
        figure, basis, value = _handbook(species, variant), "12 %", result.sg_12
    if figure is None:
        return None
    z = (value - figure.value) / (VARIATION * figure.value)
    return Standing(50 * (1 + erf(z / sqrt(2))), z, value, figure, basis, VARIATION)
