"""Is this stick good enough: a measured gravity against the published limits, as data.

The limits stand on oven-dry mass and oven-dry volume, so only sg_oven_dry is ever held against them. The
handbook's averages stand on other volumes and are never compared here.
"""

from dataclasses import dataclass

from bench.core.errors import Refusal
from bench.core.floating import FloatResult, read
from bench.core.records import Figure, Species, Stick
from bench.core.spread import Measured

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

# A difference of a tenth of a mark between faces is already 6 degrees on a stick of ten sides.
TILT_TO_MENTION_DEG = 10.0
TILT_TO_HOLD_DEG = 20.0
# Two pairs of opposite faces must give one centreline; each pair is read to about a tenth of a mark.
FACES_APART = 0.3  # [marks]
# wh190 p. 4-9: the coefficient of variation of density within a species is about 10 percent. The limits stand
# about a tenth below the averages, so this is some six of them above: a wrong unit, species or reading.
STRANGE_TIMES = 1.75
# anc19 sec. 2.412: moisture at fabrication, average of the piece.
FABRICATION_MOISTURE = (0.08, 0.12)


@dataclass(frozen=True, slots=True)
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


def _doubts(result: Measured, minimum: Figure | None) -> list[str]:
    """What keeps a measurement from accepting at all."""
    doubts = []
    if minimum is not None and result.sg_oven_dry > minimum.value * STRANGE_TIMES:
        doubts.append(STRANGE)
    if isinstance(result, FloatResult):
        if result.disagreement > FACES_APART:
            doubts.append(FACES_DISAGREE)
        if (result.tilt_deg or 0.0) > TILT_TO_HOLD_DEG:
            doubts.append(HEAVY_TILT)
    return doubts


def judge(result: Measured, species: Species, variant: str = "") -> Verdict:
    """A measured gravity against the limits of its species.

    Accepted only when the whole 95 percent band lies on the right side; rejected only when it lies wholly
    on the wrong side; on hold otherwise. A limit recalled from memory never decides.

    Args:
        result: of the float test or of the balance.
        species: the wood.
        variant: growth region or class.
    Returns:
        The verdict with its reasons.
    Source:
        limits: the species file (anc19 table 2-13; basis sec. 2.20, 2.414).
    """
    minimum = limit(species, "specific_gravity_minimum", variant)
    maximum = species.find("specific_gravity_maximum", "", "oven-dry", variant)
    word, reason = _word(result.low, result.high, minimum, maximum)
    doubts = _doubts(result, minimum)
    if word == ACCEPT and doubts:
        word = HOLD
        reasons = [*doubts, reason]
    else:
        reasons = [reason]
    if minimum is not None and minimum.standing == "trade":
        reasons.append(LIMIT_OF_TRADE)
    if result.shrinkage_from == "memory":
        reasons.append(SHRINKAGE_RECALLED)
    if result.shrinkage_from == "estimate":
        reasons.append(SHRINKAGE_ESTIMATED)
    if isinstance(result, FloatResult):
        if (result.tilt_deg or 0.0) > TILT_TO_MENTION_DEG:
            reasons.append(HEAVY_TILT)
        if (result.angle_deg or 0.0) > 90:
            reasons.append(ANGLE_ODD)
    if not FABRICATION_MOISTURE[0] <= result.moisture <= FABRICATION_MOISTURE[1]:
        reasons.append(MOISTURE_OUTSIDE)
    return Verdict(
        word=word,
        reasons=tuple(dict.fromkeys(reasons)),
        value=result.sg_oven_dry,
        low=result.low,
        high=result.high,
        minimum=minimum,
        maximum=maximum,
        average=limit(species, "specific_gravity_average", variant),
    )


def judge_stick(stick: Stick, species: Species | None) -> tuple[FloatResult | None, Verdict]:
    """The verdict on a stick of the rack from its latest reading; on hold while there is none.

    Args:
        stick: with its readings.
        species: its wood, None where the library does not know it.
    Returns:
        The float result, None where there is none, and the verdict.
    Source:
        as `judge`.
    """
    if species is None:
        return None, Verdict(HOLD, (CANNOT_READ,), detail=f"species {stick.species!r} is not in the library")
    if stick.reading is None:
        return None, Verdict(
            HOLD,
            (NOT_READ,),
            minimum=limit(species, "specific_gravity_minimum", stick.variant),
            average=limit(species, "specific_gravity_average", stick.variant),
        )
    try:
        result = read(stick.reading, species, stick.variant)
    except Refusal as refusal:
        return None, Verdict(HOLD, (CANNOT_READ,), detail=str(refusal))
    return result, judge(result, species, stick.variant)
