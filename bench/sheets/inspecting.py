"""Sentences about an inspection: a point in one line, what is wrong with it, and what would settle it."""

import math

from bench import units
from bench.core import acceptance as acc
from bench.core import holding, limits
from bench.core import inspecting as seen
from bench.core.holding import Held, Point
from bench.core.inspecting import Judgement
from bench.core.quantities import INCH
from bench.core.records import Defect
from bench.core.steps import Number, Step

_USES = {
    limits.SMALL_PART: "small part",
    limits.SPAR_FLANGE: "spar flange",
    limits.SOLID_SPAR: "solid spar",
}
# On a stick drawn along its length each kind has a letter; all differ, so that colour is not needed.
_LETTERS = {
    limits.KNOT: "K",
    limits.SPIKE_KNOT: "S",
    limits.PIN_KNOTS: "N",
    limits.PITCH_POCKET: "P",
    limits.BARK_POCKET: "B",
    limits.CHECK: "C",
    limits.SHAKE: "H",
    limits.SPLIT: "L",
    limits.COMPRESSION_WOOD: "W",
    limits.COMPRESSION_FAILURE: "F",
    limits.DECAY: "D",
    limits.GRAIN_WAVE: "G",
    limits.MINERAL_STREAK: "M",
    limits.SAPWOOD: "A",
    limits.INDENTED_RINGS: "I",
    limits.OTHER: "O",
}

_NAMES = {
    seen.GRAVITY: "gravity",
    seen.RINGS: "rings",
    seen.SLOPE: "slope",
    seen.MOISTURE: "moisture",
    seen.EDGE_GRAIN: "edge grain",
    seen.BOW: "bow",
    seen.LOOKED: "looked over",
    seen.CLEAR: "clear length",
    seen.CONDEMNED: "condemned",
    seen.SAWN_FROM: "parent stick",
}
_WHAT = {"gap": "clear length to the next", "sum": "all such streaks together"}
_NOT_YET = {
    seen.RINGS: "rings not counted yet: count them over an inch, radially, at both ends",
    seen.SLOPE: "slope of grain not measured yet: measure it on two faces side by side",
    seen.MOISTURE: "moisture not measured yet: read a meter, or dry a cut-off to constant weight",
    seen.EDGE_GRAIN: "edge grain not measured yet: see how much of the depth has rings at 45 degrees or more "
    "to the wide face",
    seen.BOW: "bow not measured yet: lay a straight edge along it and measure the widest gap",
}
_REMEDY = {
    seen.RINGS: "another stick for this use",
    seen.SLOPE: "resaw it along the grain and measure again, or take another stick",
    seen.EDGE_GRAIN: "use it for something else than a solid spar",
    seen.CLEAR: "too little is left between what must be cut round: take another stick",
    seen.BOW: "use it in shorter lengths, measured over each, or for small parts",
}
_GRAVITY = {
    acc.BELOW_MINIMUM: "the whole 95 % band is below the minimum: too light, take another stick",
    acc.ABOVE_MAXIMUM: "the whole 95 % band is above the maximum: take another stick",
    acc.LIMIT_IN_BAND: "the limit lies within the 95 % band: read more faces, a thicker stick, or dry it and "
    "repeat",
    acc.NO_LIMIT: "no published minimum: put one with its source into your own species file",
    acc.LIMIT_RECALLED: "the minimum is RECALLED, NOT READ: find it in print and put it with its source into "
    "your own species file",
    acc.NOT_READ: "not floated or weighed yet: read it on the Float pane",
    acc.CANNOT_READ: "cannot be worked out from what was entered: see the Float pane",
    seen.HOUSE_GRAVITY: "the 95 % band does not keep the shop's own margin over the minimum: read "
    "more faces, or take another stick",
}
# What the documents ask beside a number, and the job does not record.
_ASKS = {
    (limits.KNOT, limits.AC4313): "sound, hard, the grain beside it within its limit",
    (limits.KNOT, limits.ANC19): "in the middle half of a flat-sawn face",
    (limits.BARK_POCKET, limits.ANC19): "on an edge-grained face",
    (limits.PITCH_POCKET, limits.ANC19): "on an edge-grained face",
    (limits.PIN_KNOTS, limits.AC4313): "little effect on the grain",
}
_RULES = {
    holding.NOT_PERMITTED: "not permitted",
    holding.REJECTED: "not permitted anywhere",
    holding.TOLERABLE: "usually tolerable in a few growth layers: count them",
    holding.WHICH_EDGE: "only in the inner quarter of the flange: which edge that is, is not recorded",
    holding.SLOPE_OF_WAVE: "up to 1:10 in the middle half: its slope is not recorded",
    holding.IF_NO_DECAY: "permitted where no decay is found: look it over for decay",
    holding.IF_NO_BREAKS: "only where no cross breaks are found in it: look it over",
    holding.PERMITTED: "permitted",
    holding.CAUTION: "permitted, with caution",
}
# Rules that say nothing without the condition of their limit.
_CONDITIONAL = frozenset({holding.NOT_PERMITTED, holding.PERMITTED})


def use_name(use: str) -> str:
    """What the wood becomes, in words: `spar flange`."""
    return _USES[use]


def kind_name(kind: str) -> str:
    """A kind of defect in words: `pitch pocket`; `defect` where it was not said."""
    return kind.replace("_", " ") or "defect"


def point_name(point: Point) -> str:
    """A point in a word or two: `slope`, `pitch pocket`."""
    return _NAMES[point.name] if point.defect is None else kind_name(point.defect.kind)


def letter(kind: str) -> str:
    """The letter of a kind on a stick drawn along its length; `?` where it was not said."""
    return _LETTERS.get(kind, "?")


def _shown(quantity: str, value: float, system: str, beside: float | None = None) -> str:
    """A measurement, with the digits it takes to stand apart from a limit that it is not equal to."""
    if quantity == "slope":
        return units.slope(value)
    if quantity == "rings":
        return units.rings(value)
    places = 1 if quantity in ("moisture", "share") else 3

    def write(number: float, decimals: int) -> str:
        if quantity in ("moisture", "share"):
            return units.percent(number, decimals)
        if quantity == "specific_gravity":
            return units.gravity(number, decimals)
        return units.length(number, system, decimals + _finer(number, decimals))

    other = "" if beside is None or beside == value else write(beside, places)
    return units.told_apart(lambda decimals: write(value, decimals), places, other)


def _finer(metres: float, places: int) -> int:
    """One decimal more for a length that the customary ones would round: `0.1875 in`."""
    steps = metres / float(INCH) * 10**places
    return 1 if abs(steps - round(steps)) > 1e-6 else 0


def _measured(held: Held, quantity: str, system: str) -> str:
    """What a document's word is about."""
    if held.measured is None:
        return ""
    limits_ = [limit for limit in (held.low, held.high) if limit is not None]
    nearest = min(limits_, key=lambda limit: abs(limit - (held.measured or 0.0))) if limits_ else None
    return _shown(quantity, held.measured, system, nearest)


def _least(quantity: str, value: float, system: str) -> str:
    """A lower limit, never shown lower than it is."""
    if quantity == "length":
        return units.length_up(value, system)
    return units.gravity_up(value) if quantity == "specific_gravity" else _shown(quantity, value, system)


def _most(quantity: str, value: float, system: str) -> str:
    """An upper limit, never shown higher than it is."""
    if quantity == "specific_gravity":
        return units.gravity_down(value)
    if quantity != "length":
        return _shown(quantity, value, system)
    finer = _finer(value, 3)
    step = (0.0001 if system == "mm" else float(INCH) / 1000) / 10**finer
    return units.length(math.floor(value / step * (1 + holding.HAIR)) * step, system, 3 + finer)


def _limit(held: Held, quantity: str, system: str) -> str:
    """What a document asks, in few words."""
    low = "" if held.low is None else _least(quantity, held.low, system)
    high = "" if held.high is None else _most(quantity, held.high, system)
    if low and high:
        return f"{low} to {high}"
    if low:
        return f"least {low}"
    if high:
        return f"limit {high}"
    said = _RULES.get(held.rule, "")
    return f"{said}: {held.condition}" if held.rule in _CONDITIONAL and held.condition else said


def _source(held: Held) -> str:
    """Who says so and where: `(ac4313 table 1-1 note 1c)`."""
    if held.document == holding.HOUSE:
        return "(the shop's own limit)"
    return f"({held.document} {held.where[:1].lower()}{held.where[1:]})".replace(" )", ")")


def _subject(point: Point, system: str) -> str:
    return _NAMES[point.name] if point.defect is None else _defect(point.defect, system)


def _defect(defect: Defect, system: str) -> str:
    return f"{kind_name(defect.kind)} at {units.tape(defect.start.si, system)}"


def held_line(held: Held, point: Point, system: str = "in") -> str:
    """What one document says about a point: `size 0.5 in, limit 0.375 in (ac4313 table 1-1 note 1c)`.

    Args:
        held: the document's word.
        point: it belongs to.
        system: "in" or "mm".
    Returns:
        One line.
    """
    what = _WHAT.get(held.what, held.what)
    numbers = held.low is not None or held.high is not None
    unknown = f"{what or 'not measured'}{' not measured' if what else ''}" if numbers or what else ""
    known = _measured(held, point.quantity, system)
    measured = f"{what} {known}".strip() if known else unknown
    parts = [part for part in (measured, _limit(held, point.quantity, system)) if part]
    # What a rule asks beside its number and nobody recorded is said with it.
    kind = point.defect.kind if point.defect is not None else ""
    asks = _ASKS.get((kind, held.document), "") if held.word == acc.ACCEPT else ""
    return f"{', '.join(parts)} {_source(held)}{f'; asks: {asks}' if asks else ''}"


def point_line(point: Point, system: str = "in") -> str:
    """A point in one line: `slope 1:10.6, limit 1:15 (ac4313 table 1-1)`.

    Args:
        point: of a judgement.
        system: "in" or "mm".
    Returns:
        What was measured, the limit that governs, and who says so.
    """
    subject = _subject(point, system)
    if point.name == seen.CONDEMNED:
        return "condemned: nothing more is made of it"
    if point.name == seen.SAWN_FROM:
        return f"sawn from what is condemned now, {'; '.join(point.said)}"
    if point.name == seen.LOOKED:
        return "looked over, all faces and both ends" if point.word == acc.ACCEPT else "not looked over yet"
    if point.defect is not None and point.reason == seen.CUT_ROUND:
        return f"{subject}: cut round"
    governing = point.governing
    if point.reason == seen.NO_LIMIT and point.name == seen.RINGS:
        return f"{subject}: no document here asks a number of this wood"
    if governing is None:
        measured = "" if point.measured is None else f" {_shown(point.quantity, point.measured, system)}"
        return f"{subject}{measured}, no limit"
    joint = ": " if point.defect is not None else " "
    return f"{subject}{joint}{held_line(governing, point, system)}"


def short_line(point: Point, system: str = "in") -> str:
    """A point in as few words as can be: `slope 1:30, limit 1:15`; who says so stands elsewhere.

    Args:
        point: of a judgement.
        system: "in" or "mm".
    Returns:
        One line.
    """
    governing = point.governing
    if governing is None or point.defect is not None or point.name == seen.LOOKED:
        return point_line(point, system)
    known = f" {_measured(governing, point.quantity, system)}".rstrip()
    return f"{_subject(point, system)}{known}, {_limit(governing, point.quantity, system)}"


def reason(point: Point, system: str = "in") -> str:
    """What is wrong with a point and what would settle it; where nothing is wrong, that it is within.

    Args:
        point: of a judgement.
        system: "in" or "mm".
    Returns:
        One sentence.
    """
    line = point_line(point, system)
    if point.defect is not None:
        return _of_defect(point, line, system)
    if point.name == seen.GRAVITY:
        if point.word == acc.ACCEPT:
            return f"{line}: the whole 95 % band is on the right side"
        why = _GRAVITY.get(point.reason, "on hold: see what its gravity rests on")
        return f"gravity: {why}" if point.governing is None else f"{line}: {why}"
    limit = "" if point.governing is None else f" {_source(point.governing)}"
    sentences = {
        seen.NOT_MEASURED: f"{_NOT_YET.get(point.name, line)}{limit}",
        seen.OUTSIDE: f"{line}: {_REMEDY.get(point.name, 'outside')}",
        seen.SECOND_FACE: f"{line}: one face only, measure the face beside it as well",
        seen.NO_LIMIT: line,
        seen.LIMIT_RECALLED: f"{line}: the limit is RECALLED, NOT READ, and decides nothing: find it in "
        "print and put it with its source into your own species file",
        seen.CONDITION: f"{line}: condition it, then measure again",
        seen.FUNGUS_LIKELY: f"moisture {_shown('moisture', point.measured or 0.0, system)}: above 20 % "
        "fungus is likely (ac4313 par. 1-28 a and 1-29 g): look for decay, dry it, then measure again",
        seen.NOT_LOOKED: "not looked over yet: look at all faces and both ends, enter what is found, "
        "then say yes",
        seen.WITHIN: line,
        seen.LOOKED_OVER: line,
        seen.CONDEMNED: line,
        seen.SAWN_FROM: f"{line}: look it over for the same, then say in Inspect that it is looked over",
    }
    return sentences[point.reason]


def _of_defect(point: Point, line: str, system: str) -> str:
    governing = point.governing
    said = "" if governing is None else held_line(governing, point, system)
    if point.reason == seen.CUT_ROUND:
        return f"{line}: {said or 'no document permits it'}"
    if point.reason == seen.SAY_WHAT:
        return f"{line.removesuffix(', no limit')}: say what it is, as some kinds spoil the whole stick"
    if point.reason == seen.NOT_PERMITTED:
        return f"{line}: it spoils the whole stick, take another"
    if point.reason == seen.UNDECIDED and governing is not None and governing.measured is None:
        return f"{line}: measure it, as it may spoil the whole stick" if governing.what else line
    return line


def steps(judgement: Judgement) -> tuple[Step, ...]:
    """How each point with a number came about, for the Working view.

    Args:
        judgement: of a stick for a use.
    Returns:
        One step a point that was measured and has a limit, in order.
    """
    out = []
    for point in judgement.points:
        held = point.governing
        if held is None or held.measured is None or (held.low is None and held.high is None):
            continue
        quantity = point.quantity
        sides = (("least", held.low), ("most", held.high))
        bounds = tuple(
            Number(symbol, value, quantity, held.document) for symbol, value in sides if value is not None
        )
        inputs = tuple(Number(*row) for row in point.inputs)
        word = "CUT ROUND" if point.reason == seen.CUT_ROUND else point.word.upper()
        measured = Number(held.what or quantity.replace("_", " "), held.measured, quantity, word)
        source = f"{held.document} {held.where}".strip()
        title = f"{_subject(point, 'in')}, for a {use_name(judgement.use)}"
        out.append(Step(title, _formula(point), (*inputs, *bounds), measured, held.condition, source))
    return tuple(out)


def _formula(point: Point) -> str:
    if point.name == seen.SLOPE:
        return "s = sqrt(s_1^2 + s_2^2), against 1:15 the steeper alone where neither is over 1:21; s <= most"
    if point.name == seen.BOW:
        return "most = the lesser of L^2 / (20000 h) and 0.93 in (L / 192 in)^2 (1 in / h)"
    if point.name == seen.GRAVITY:
        return "the whole 95 % band on the right side: ACCEPT; on the wrong side: REJECT; else HOLD"
    return "least <= measured <= most"
