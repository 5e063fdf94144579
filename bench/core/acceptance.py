"""Is this stick good enough: a measured gravity against the published limits, as data.

The limits stand on oven-dry mass and oven-dry volume, so only sg_oven_dry is ever held against them. The
handbook's averages stand on other volumes and are never compared here.
"""

from collections.abc import Sequence
from dataclasses import field

from bench.core.errors import Refusal
from bench.core.floating import FloatResult, read
from bench.core.frozen import record, replace
from bench.core.records import Figure, FloatReading, Species, Stick
from bench.core.repeats import Agreement, Repeats, compare, flags, together
from bench.core.spread import Measured
from bench.core.weighing import WeighResult, weigh_stick

ACCEPT, HOLD, REJECT = "accept", "hold", "reject"

# Reason codes; `sheets.wording` turns them into sentences in the user's units.
ABOVE_MINIMUM = "above_minimum"
BELOW_MINIMUM = "below_minimum"
ABOVE_MAXIMUM = "above_maximum"
LIMIT_IN_BAND = "limit_in_band"
NO_LIMIT = "no_limit"
LIMIT_RECALLED = "limit_recalled"
LIMIT_OF_TRADE = "limit_of_trade"
SHRINKAGE_RECALLED = "shrinkage_recalled"
SHRINKAGE_ESTIMATED = "shrinkage_estimated"
NOT_READ = "not_read"
CANNOT_READ = "cannot_read"
HEAVY_TILT = "heavy_tilt"
FACES_DISAGREE = "faces_disagree"
STRANGE = "strange"
ANGLE_ODD = "angle_odd"
MOISTURE_OUTSIDE = "moisture_outside"
RISES = "rises"
FAR_LED_BACK = "far_led_back"
READINGS_DISAGREE = "readings_disagree"
DAY_DISAGREES = "day_disagrees"
METHODS_DISAGREE = "methods_disagree"
BY_WEIGHT = "by_weight"

# A difference of a tenth of a mark between faces is already 6 degrees on a stick of ten sides.
TILT_TO_MENTION_DEG = 10.0
TILT_TO_HOLD_DEG = 20.0
# Two pairs of opposite faces must give one centreline; each pair is read to about a tenth of a mark.
FACES_APART = 0.3  # [marks]
# The line through the later waterlines may be led back so far before it is said; our estimate, three times
# what a careful reader is off.
FAR_LED_BACK_MARKS = 0.3  # [marks]
# wh190 p. 4-9: the coefficient of variation of density within a species is about 10 percent. The limits stand
# about a tenth below the averages, so this is some six of them above: a wrong unit, species or reading.
STRANGE_TIMES = 1.75
# anc19 sec. 2.412: moisture at fabrication, average of the piece.
FABRICATION_MOISTURE = (0.08, 0.12)


@record
class Verdict:
    """Accept, hold or reject, with what it rests on. Gravities: oven-dry mass, oven-dry volume [1]."""

    word: str
    reasons: tuple[str, ...]  # reason codes, the deciding one first
    value: float | None = None
    low: float | None = None  # two-sided 95 percent band
    high: float | None = None
    minimum: Figure | None = None
    maximum: Figure | None = None
    average: Figure | None = None
    detail: str = ""  # of CANNOT_READ: what was refused

    @property
    def margin(self) -> float | None:
        """Measured value less the minimum, None where either is unknown [1]."""
        if self.value is None or self.minimum is None:
            return None
        return self.value - self.minimum.value

    @property
    def margin_maximum(self) -> float | None:
        """The maximum less the measured value, None where either is unknown [1]."""
        if self.value is None or self.maximum is None:
            return None
        return self.maximum.value - self.value


@record
class Found:
    """All that is known of a stick's gravity, and the verdict on it."""

    verdict: Verdict
    result: FloatResult | None = None  # of the latest reading that counts; None where it cannot be read
    measured: Measured | None = None  # what is judged: the readings combined, else the weighing
    repeats: Repeats | None = None  # every reading that counts and can be read
    weighed: WeighResult | None = None  # of the latest weighing
    agreement: Agreement | None = None  # of the two ways
    wood: Species | None = field(default=None, compare=False, repr=False)  # it was all read in
    read: tuple[tuple[FloatReading, FloatResult], ...] = field(
        default=(), compare=False, repr=False
    )  # all of it


@record
class Settling:
    """What would take a stick off hold where a limit lies in its band. Gravities: oven-dry basis [1]."""

    limit: Figure  # that the band holds
    half_width: float  # of the 95 percent band now
    needed: float  # half width at which this same value is decided
    word: str  # how it is decided then
    shift: float | None  # change of gravity that accepts it at this band; None where the band is too wide


def limit(species: Species, quantity: str, variant: str = "") -> Figure | None:
    """A limit or average on the aircraft basis: oven-dry mass, oven-dry volume.

    Args:
        species: the wood.
        quantity: a specific-gravity name of the quantities table.
        variant: growth region or class; falls back on the species at large.
    Returns:
        The figure in use, or None.
    Source:
        the species file.
    """
    return species.find(quantity, "", "oven-dry", variant) or species.find(quantity, "", "oven-dry")


def _word(low: float, high: float, minimum: Figure | None, maximum: Figure | None) -> tuple[str, str]:
    if minimum is None:
        return HOLD, NO_LIMIT
    if minimum.memory:
        return HOLD, LIMIT_RECALLED
    if maximum is not None and maximum.memory:
        return HOLD, LIMIT_RECALLED
    if high < minimum.value:
        return REJECT, BELOW_MINIMUM
    if maximum is not None and low > maximum.value:
        return REJECT, ABOVE_MAXIMUM
    if low < minimum.value or (maximum is not None and high > maximum.value):
        return HOLD, LIMIT_IN_BAND
    return ACCEPT, ABOVE_MINIMUM


def _doubts(results: Sequence[Measured], value: float, minimum: Figure | None) -> list[str]:
    """What keeps a measurement from accepting at all."""
    doubts = []
    if minimum is not None and value > minimum.value * STRANGE_TIMES:
        doubts.append(STRANGE)
    for result in results:
        if isinstance(result, FloatResult):
            if result.disagreement > FACES_APART:
                doubts.append(FACES_DISAGREE)
            if (result.tilt_deg or 0.0) > TILT_TO_HOLD_DEG:
                doubts.append(HEAVY_TILT)
            if result.rises:
                doubts.append(RISES)
    return doubts


def _remarks(results: Sequence[Measured], minimum: Figure | None) -> list[str]:
    """What is said beside a verdict and changes none."""
    remarks = []
    if minimum is not None and minimum.standing == "trade":
        remarks.append(LIMIT_OF_TRADE)
    if results[-1].shrinkage_from == "memory":
        remarks.append(SHRINKAGE_RECALLED)
    if results[-1].shrinkage_from == "estimate":
        remarks.append(SHRINKAGE_ESTIMATED)
    for result in results:
        if isinstance(result, FloatResult):
            if (result.tilt_deg or 0.0) > TILT_TO_MENTION_DEG:
                remarks.append(HEAVY_TILT)
            if (result.angle_deg or 0.0) > 90:
                remarks.append(ANGLE_ODD)
            if result.rises:
                remarks.append(RISES)
            if abs(result.centre - result.zero_mark) > FAR_LED_BACK_MARKS:
                remarks.append(FAR_LED_BACK)
    if not FABRICATION_MOISTURE[0] <= results[-1].moisture <= FABRICATION_MOISTURE[1]:
        remarks.append(MOISTURE_OUTSIDE)
    return remarks


def judge(
    result: Measured,
    species: Species,
    variant: str = "",
    behind: Sequence[Measured] = (),
    beside: Sequence[str] = (),
    detail: str = "",
) -> Verdict:
    """A measured gravity against the limits of its species.

    Accepted only when the whole 95 percent band lies on the right side; rejected only when it lies wholly
    on the wrong side; on hold otherwise. A limit recalled from memory never decides.

    Args:
        result: of the float test, of readings combined, or of the balance.
        species: the wood.
        variant: growth region or class.
        behind: the measurements it was combined from, in order; empty: itself.
        beside: codes of doubts from outside; may be empty.
        detail: the refusal that a code CANNOT_READ among them speaks of.
    Returns:
        The verdict with its reasons.
    Source:
        limits: the species file (anc19 table 2-13; basis sec. 2.20, 2.414).
    """
    behind = behind or (result,)
    minimum = limit(species, "specific_gravity_minimum", variant)
    maximum = species.find("specific_gravity_maximum", "", "oven-dry", variant)
    word, reason = _word(result.low, result.high, minimum, maximum)
    doubts = [*beside, *_doubts(behind, result.sg_oven_dry, minimum)]
    if word == ACCEPT and doubts:
        word = HOLD
        reasons = [*doubts, reason]
    else:
        reasons = [reason, *beside]
    reasons += _remarks(behind, minimum)
    return Verdict(
        word=word,
        reasons=tuple(dict.fromkeys(reasons)),
        value=result.sg_oven_dry,
        low=result.low,
        high=result.high,
        minimum=minimum,
        maximum=maximum,
        average=limit(species, "specific_gravity_average", variant),
        detail=detail,
    )


def settling(verdict: Verdict) -> Settling | None:
    """What would take a stick off hold: a narrower band, or another gravity.

    Args:
        verdict: of `judge`.
    Returns:
        The numbers; None unless a limit in the band is what holds it.
    Source:
        the rule of `judge`: derived.
    """
    value, low, high, minimum = verdict.value, verdict.low, verdict.high, verdict.minimum
    if LIMIT_IN_BAND not in verdict.reasons or None in (value, low, high, minimum):
        return None
    assert value is not None and low is not None and high is not None and minimum is not None
    half, top = (high - low) / 2, verdict.maximum
    under = value < minimum.value
    over = top is not None and value > top.value
    room = [(value - minimum.value, minimum), *([(top.value - value, top)] if top is not None else [])]
    # Inside the limits the nearer one must leave the band; outside, the one that is passed.
    gap, held = min(room, key=lambda each: each[0])
    shift = minimum.value - low if low < minimum.value else (top.value if top else high) - high
    fits = top is None or top.value - minimum.value >= 2 * half
    return Settling(held, half, abs(gap), REJECT if under or over else ACCEPT, shift if fits else None)


class _Reader:
    """Works readings of one stick out, each once; what an earlier judgement worked out is taken from it."""

    def __init__(self, stick: Stick, species: Species, before: Found | None) -> None:
        self.species, self.variant = species, stick.variant
        known = before.read if before is not None and before.wood is species else ()
        self.known = {id(reading): (reading, result) for reading, result in known}
        self.all: list[tuple[FloatReading, FloatResult]] = []

    def read(self, reading: FloatReading) -> FloatResult:
        """A reading worked out; raises a Refusal."""
        found = self.known.get(id(reading)) or (reading, read(reading, self.species, self.variant))
        self.all.append(found)
        return found[1]


def judge_stick(stick: Stick, species: Species | None, before: Found | None = None) -> Found:
    """The verdict on a stick of the rack from all its readings that count, and its latest weighing.

    Readings are judged combined; without one, the weighing is. On hold while there is neither.

    Args:
        stick: with its readings and weighings.
        species: its wood, None where the library does not know it.
        before: what was found on the same stick of the same variant: a reading that is the same object is not
            worked out again.
    Returns:
        Every measurement worked out, and the verdict.
    Source:
        as `judge`.
    """
    if species is None:
        detail = f"species {stick.species!r} is not in the library"
        return Found(Verdict(HOLD, (CANNOT_READ,), detail=detail))
    reader = _Reader(stick, species, before)
    readings, faults = _readings(stick, reader)
    weighed: WeighResult | None = None
    try:
        weighed = weigh_stick(stick.weighings[-1], species, stick.variant) if stick.weighings else None
    except Refusal as refusal:
        faults.append(str(refusal))
    repeats = together([result for _, result in readings]) if readings else None
    measured: Measured | None = repeats.combined if repeats else weighed
    if measured is None:
        return Found(_not_measured(stick, species, faults))
    agreement = compare(repeats.combined, weighed) if repeats and weighed else None
    checks = (
        (CANNOT_READ, bool(faults)),
        (READINGS_DISAGREE, repeats is not None and any(repeats.flagged)),
        (DAY_DISAGREES, _one_day_apart(stick, reader, readings)),
        (METHODS_DISAGREE, agreement is not None and not agreement.agree),
    )
    verdict = judge(
        measured,
        species,
        stick.variant,
        repeats.results if repeats else (),
        [code for code, holds in checks if holds],
        faults[-1] if faults else "",
    )
    if repeats is None:
        verdict = replace(verdict, reasons=(*verdict.reasons, BY_WEIGHT))
    latest = next((result for reading, result in readings if reading is stick.reading), None)
    return Found(verdict, latest, measured, repeats, weighed, agreement, species, tuple(reader.all))


def _readings(stick: Stick, reader: _Reader) -> tuple[list[tuple[FloatReading, FloatResult]], list[str]]:
    """Readings that count worked out, and what was refused of the others: an old job may hold such."""
    found, faults = [], []
    for reading in stick.counted:
        try:
            found.append((reading, reader.read(reading)))
        except Refusal as refusal:
            faults.append(str(refusal))
    return found, faults


def _one_day_apart(
    stick: Stick, reader: _Reader, counted: Sequence[tuple[FloatReading, FloatResult]]
) -> bool:
    """Whether a reading that a later one of its day replaced says something else than that one."""
    of_day = {reading.taken: result for reading, result in counted if reading.taken}
    kept = {id(reading) for reading, _ in counted}
    for reading in stick.readings:
        if reading.aside or id(reading) in kept or reading.taken not in of_day:
            continue
        try:
            earlier = reader.read(reading)
        except Refusal:
            continue
        if any(flags([earlier, of_day[reading.taken]])):
            return True
    return False


def _not_measured(stick: Stick, species: Species, faults: Sequence[str]) -> Verdict:
    return Verdict(
        HOLD,
        (CANNOT_READ if faults else NOT_READ,),
        minimum=limit(species, "specific_gravity_minimum", stick.variant),
        maximum=species.find("specific_gravity_maximum", "", "oven-dry", stick.variant),
        average=limit(species, "specific_gravity_average", stick.variant),
        detail=faults[-1] if faults else "",
    )
