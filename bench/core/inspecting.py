"""The verdict on a stick for a use: everything measured and seen, held against the documents and the house.

What is not yet measured is on hold, never accepted. A defect that a document does not permit is cut round
where it spoils only its own length.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from bench.core import grain, limits
from bench.core.acceptance import ACCEPT, HOLD, REJECT, Verdict
from bench.core.defects import KEPT_IN, SPOILS_STICK, heard
from bench.core.errors import UnknownName
from bench.core.frozen import record, replace
from bench.core.holding import (
    AT_LEAST,
    AT_MOST,
    BETWEEN,
    FUNGUS,
    HOUSE,
    Held,
    Point,
    at_least,
    at_most,
    govern,
    in_words,
    within,
    word_of,
    worst,
)
from bench.core.limits import AC4313, ANC19, SOLID_SPAR, SPAR_FLANGE, USES, limit
from bench.core.quantities import INCH
from bench.core.records import Defect, Figure, House, Settings, Species, Stick, Typed

__all__ = ["Held", "Judgement", "Point", "bow_limit", "judge_use", "judge_uses"]

GRAVITY, RINGS, SLOPE, MOISTURE = "gravity", "rings", "slope", "moisture"
EDGE_GRAIN, BOW, LOOKED, CLEAR = "edge_grain", "bow", "looked", "clear"
CONDEMNED, SAWN_FROM = "condemned", "sawn_from"
POINTS = (GRAVITY, RINGS, SLOPE, MOISTURE, EDGE_GRAIN, BOW, LOOKED, CLEAR, CONDEMNED, SAWN_FROM)

# Reason codes of points; that of gravity is acceptance's, but for HOUSE_GRAVITY.
WITHIN, OUTSIDE, NOT_MEASURED = "within", "outside", "not_measured"
NO_LIMIT, LIMIT_RECALLED, HOUSE_GRAVITY = "no_limit", "limit_recalled", "house_gravity"
SECOND_FACE, CONDITION, FUNGUS_LIKELY = "second_face", "condition", "fungus_likely"
LOOKED_OVER, NOT_LOOKED, SAY_WHAT = "looked_over", "not_looked", "say_what"
PERMITTED, NOT_PERMITTED, UNDECIDED, CUT_ROUND = "permitted", "not_permitted", "undecided", "cut_round"

_BASIS = "oven-dry mass, oven-dry volume"
_STANDING = {
    "read": "",
    "memory": " (RECALLED, NOT READ)",
    "trade": " (common practice, no published source)",
}


@record
class Judgement:
    """The word on a stick for one use: the worst of its points."""

    use: str
    word: str
    points: tuple[Point, ...]
    deciding: Point  # the first of the worst
    cut_round: tuple[Defect, ...]  # not permitted or not measured, and spoiling only their own length


def _si(typed: Typed | None) -> float | None:
    return None if typed is None else typed.si


def _where(figure: Figure) -> str:
    return f"{figure.where}{_STANDING[figure.standing]}".strip()


def _plain(word: str, measured: float | None) -> str:
    """The reason for a word that a number has."""
    if measured is None:
        return NOT_MEASURED
    return WITHIN if word == ACCEPT else OUTSIDE


def _house(rule: str, measured: float | None, low: float | None, high: float | None) -> Held:
    return Held(HOUSE, low, high, rule, "", within(measured, low, high), measured=measured)


def _point(
    name: str, measured: float | None, quantity: str, held: tuple[Held, ...], settings: Settings
) -> Point:
    held = govern(held, settings.document)
    word = word_of(held)
    return Point(name, word, _plain(word, measured), measured, quantity, held)


def _gravity(verdict: Verdict, settings: Settings) -> Point:
    minimum, maximum = verdict.minimum, verdict.maximum
    word, reason = verdict.word, verdict.reasons[0] if verdict.reasons else ""
    held: tuple[Held, ...] = ()
    if minimum is not None:
        most = None if maximum is None else maximum.value
        rule = AT_LEAST if maximum is None else BETWEEN
        source = minimum.source
        held = (
            Held(
                source,
                minimum.value,
                most,
                rule,
                _where(minimum),
                word,
                measured=verdict.value,
                condition=_BASIS,
            ),
        )
    over = settings.house.gravity_over
    # A minimum from memory decides nothing, so nothing is built on it.
    if minimum is not None and not minimum.memory and over is not None and over.exact > 0:
        least = minimum.value + over.si
        own = _band(verdict, least)
        if worst((word, own)) != word:
            word, reason = own, HOUSE_GRAVITY
        house = Held(HOUSE, least, None, AT_LEAST, "", own, measured=verdict.value, condition=_BASIS)
        held = (*held, house)
    # The least margin decides between equal words, and the house's minimum is the higher.
    return Point(GRAVITY, word, reason, verdict.value, "specific_gravity", govern(held, limits.STRICTER))


def _band(verdict: Verdict, least: float) -> str:
    """A least gravity against the whole 95 percent band."""
    if verdict.low is None or verdict.high is None:
        return HOLD
    if within(verdict.low, least, None) == ACCEPT:
        return ACCEPT
    return REJECT if verdict.high < least else HOLD


def _rings(stick: Stick, species: Species | None, settings: Settings) -> Point:
    measured, house = _si(stick.inspection.rings), settings.house.rings
    figure = None
    if species is not None:
        of_variant = species.find("rings_minimum", variant=stick.variant)
        figure = of_variant or species.find("rings_minimum")
    held: tuple[Held, ...] = ()
    if house is not None:
        held = (_house(AT_LEAST, measured, house.si, None),)
    if figure is None:
        # No document asks for a number of rings in this wood: there is nothing to hold a stick against.
        if held:
            return _point(RINGS, measured, "rings", held, settings)
        return Point(RINGS, ACCEPT, NO_LIMIT, measured, "rings")
    if figure.memory:
        word = worst((HOLD, *(one.word for one in held)))
        known = Held(figure.source, figure.value, None, AT_LEAST, _where(figure), HOLD, measured=measured)
        why = OUTSIDE if word == REJECT else LIMIT_RECALLED
        return Point(RINGS, word, why, measured, "rings", govern((known, *held), settings.document))
    word = within(measured, figure.value, None)
    own = Held(figure.source, figure.value, None, AT_LEAST, _where(figure), word, measured=measured)
    return _point(RINGS, measured, "rings", (own, *held), settings)


def _slope_limits(species: Species | None, use: str, house: House) -> list[tuple[str, float, str, str]]:
    """Document, limit, place and condition of each limit of slope."""
    general = limit("slope", ANC19, use)
    rows = [(ANC19, float(general.exact), general.where, general.condition)]
    # First the table that names the wood.
    figure = species.find("grain_slope_limit") if species is not None else None
    own = figure is not None and (figure.source, figure.value) != rows[0][:2]
    if figure is not None and own and not figure.memory:
        rows.insert(0, (figure.source, figure.value, _where(figure), figure.note))
    if house.slope is not None:
        rows.append((HOUSE, house.slope.si, "", ""))
    return rows


def _slope(stick: Stick, species: Species | None, use: str, settings: Settings) -> Point:
    faces = (_si(stick.inspection.slope_one), _si(stick.inspection.slope_two))
    known = [face for face in faces if face is not None]
    one, two = (*known, 0.0, 0.0)[:2]
    general = float(limit("slope", ANC19, use).exact)
    held = []
    for document, most, where, condition in _slope_limits(species, use, settings.house):
        # Leave not to combine slight slopes was given for 1:15; stricter limits are on both together.
        slope = grain.combined(one, two) if most < general else grain.judged(one, two)
        measured = slope if known else None
        word = within(measured, None, most)
        if word == ACCEPT and len(known) < 2:  # a second face can only make it steeper
            word = HOLD
        held.append(Held(document, None, most, AT_MOST, where, word, measured=measured, condition=condition))
    point = _point(SLOPE, held[0].measured, "slope", tuple(held), settings)
    governing = point.governing or held[0]
    inputs = tuple((f"s_{count}", face, "slope") for count, face in enumerate(faces, 1) if face is not None)
    second = point.word == HOLD and len(known) == 1
    why = SECOND_FACE if second else point.reason
    return replace(point, reason=why, measured=governing.measured, inputs=inputs)


def _moisture(stick: Stick, use: str, settings: Settings) -> Point:
    measured, house = _si(stick.moisture), settings.house
    held = []
    for document in limits.DOCUMENTS:
        low, high = limit("moisture_low", document, use), limit("moisture_high", document, use)
        word = _damp(within(measured, float(low.exact), float(high.exact)))
        held.append(
            Held(
                document,
                float(low.exact),
                float(high.exact),
                BETWEEN,
                low.where,
                word,
                measured=measured,
                condition=low.condition,
            )
        )
    if house.moisture_low is not None or house.moisture_high is not None:
        low_own, high_own = _si(house.moisture_low), _si(house.moisture_high)
        own = _house(BETWEEN, measured, low_own, high_own)
        held.append(replace(own, word=_damp(own.word)))
    fungus = limit("moisture_fungus", AC4313, use)
    if measured is not None and measured > float(fungus.exact):
        held.append(in_words(fungus, FUNGUS, HOLD, measured=measured))
        point = _point(MOISTURE, measured, "moisture", tuple(held), settings)
        return replace(point, reason=FUNGUS_LIKELY)
    point = _point(MOISTURE, measured, "moisture", tuple(held), settings)
    return replace(point, reason=CONDITION) if point.reason == OUTSIDE else point


def _damp(word: str) -> str:
    """Wood outside its moisture can be brought there: on hold, not rejected."""
    return HOLD if word == REJECT else word


def bow_limit(over: float, depth: float) -> float:
    """The greatest bow of a finished spar or flange, by the formula or the worked example.

        L^2 / (20000 h), or 0.93 in x (L / 192 in)^2 x 1 in / h: the lesser

    The printed example (192 in, 1 in deep: 0.93 in) is about half of what the printed formula gives (1.84
    in), and nothing read so far says which is the slip, so the stricter governs.

    Args:
        over: length over which it bows [m].
        depth: in the direction of bow [m].
    Returns:
        The greatest gap under a straight edge [m].
    Source:
        anc19 sec. 2.42001, 2.42002.
    """
    inch = float(INCH)
    formula = float(limit("bow", ANC19, SOLID_SPAR).exact) * over**2 / depth
    example = float(limit("bow_example", ANC19, SOLID_SPAR).exact)
    return min(formula, example * (over / (192 * inch)) ** 2 * inch / depth)


def _bow(stick: Stick, use: str, settings: Settings) -> Point:
    seen = stick.inspection
    over = min(stick.length.si if seen.bow_over is None else seen.bow_over.si, stick.length.si)
    # The direction is not recorded: across the larger side the limit is the stricter.
    depth = max(stick.width.si, stick.depth.si)
    measured = _si(seen.bow)
    held = at_most(limit("bow_example", ANC19, use), "", measured, bow_limit(over, depth))
    inputs = (("L", over, "length"), ("h", depth, "length"))
    return replace(_point(BOW, measured, "length", (held,), settings), inputs=inputs)


def _edge_grain(stick: Stick, use: str, settings: Settings) -> Point:
    least = limit("edge_grain", ANC19, use)
    measured = _si(stick.inspection.edge_grain)
    held = at_least(least, "", measured, float(least.exact))
    return _point(EDGE_GRAIN, measured, "share", (held,), settings)


def _looked(stick: Stick) -> Point:
    looked = stick.inspection.looked
    return Point(LOOKED, ACCEPT if looked else HOLD, LOOKED_OVER if looked else NOT_LOOKED)


def _defect(defect: Defect, stick: Stick, use: str, settings: Settings) -> Point:
    held = govern(heard(defect, stick, use, settings.house), settings.document)
    if defect.kind not in limits.KINDS:
        return Point(defect.kind, HOLD, SAY_WHAT, defect=defect)
    word = word_of(held)
    governing = next((one for one in held if one.governs), None)
    if word == ACCEPT:
        reason = PERMITTED
    elif defect.kind in SPOILS_STICK or defect.kind in KEPT_IN:
        reason = NOT_PERMITTED if word == REJECT else UNDECIDED
    else:
        word, reason = ACCEPT, CUT_ROUND
    measured = None if governing is None else governing.measured
    return Point(defect.kind, word, reason, measured, "length", held, defect)


def _clear(stick: Stick, settings: Settings) -> list[Point]:
    """The longest stretch left between what the cut list goes round, held against the least of any use."""
    around = [defect for defect in stick.defects if defect.kind not in KEPT_IN]
    if not around:
        return []
    ends = [tuple(sorted((one.start.exact, one.end.exact))) for one in around]
    longest, here = Fraction(0), Fraction(0)
    for low, high in sorted([*ends, (stick.length.exact, stick.length.exact)]):
        longest, here = max(longest, low - here), max(here, high)
    least = settings.least_offcut.si
    held = _house(AT_LEAST, float(longest), least, None)
    if not longest:
        held = replace(held, word=REJECT)
    reason = WITHIN if held.word == ACCEPT else OUTSIDE
    return [Point(CLEAR, held.word, reason, float(longest), "length", govern((held,), settings.document))]


def _condemned(stick: Stick) -> list[Point]:
    """Condemned at the saw or the bench: no figure brings it back."""
    return [Point(CONDEMNED, REJECT, CONDEMNED)] if stick.condemned else []


def _sawn_from(doubts: tuple[str, ...]) -> list[Point]:
    """What it came off is condemned: the same may be in it, until somebody has looked."""
    return [Point(SAWN_FROM, HOLD, SAWN_FROM, said=doubts)] if doubts else []


def judge_use(
    stick: Stick,
    species: Species | None,
    gravity: Verdict,
    use: str,
    settings: Settings,
    doubts: tuple[str, ...] = (),
    seen: Judgement | None = None,
) -> Judgement:
    """A stick for a use, point by point.

    Args:
        stick: with its inspection and defects.
        species: its wood, None where the library does not know it.
        gravity: the verdict by gravity alone, of acceptance.
        use: a name of limits.USES.
        settings: which document governs, and the shop's own limits.
        doubts: what it was sawn from that is condemned, and it was not looked over for since.
        seen: a judgement of the same stick for the same use, in which nothing but its gravity was another.
    Returns:
        The worst word of all points, with each of them.
    Raises:
        UnknownName: a use that is none.
    Source:
        ac4313 table 1-1, par. 1-28, 1-29; anc19 sec. 2.41, 2.42, table 2-13. What spoils the whole stick and
        what is cut round: common practice, no source.
    """
    if use not in USES:
        raise UnknownName("use", use, USES)
    known = None if seen is None else {use: seen}
    return judge_uses(stick, species, gravity, settings, doubts, known, (use,))[use]


def judge_uses(
    stick: Stick,
    species: Species | None,
    gravity: Verdict,
    settings: Settings,
    doubts: tuple[str, ...] = (),
    seen: Mapping[str, Judgement] | None = None,
    uses: Sequence[str] = USES,
) -> dict[str, Judgement]:
    """A stick for several uses, by use, each as `judge_use` has it. What is alike in them is one object."""
    point = _gravity(gravity, settings)
    if seen is not None:
        return {use: _judgement(use, (point, *seen[use].points[1:])) for use in uses}
    rings, looked = _rings(stick, species, settings), _looked(stick)
    whole = [*_clear(stick, settings), *_condemned(stick), *_sawn_from(doubts)]
    found, known = dict[str, Judgement](), dict[str, Point]()
    for use in uses:
        defects = [_defect(defect, stick, use, settings) for defect in stick.defects]
        points = [point, rings, *_measured(stick, species, use, settings), looked, *defects, *whole]
        for place, one in enumerate(points):
            first = known.setdefault(one.name, one)
            points[place] = first if first == one else one
        found[use] = _judgement(use, tuple(points))
    return found


def _judgement(use: str, points: tuple[Point, ...]) -> Judgement:
    """The word of the worst of some points."""
    word = worst(point.word for point in points)
    return Judgement(
        use,
        word,
        points,
        next(point for point in points if point.word == word),
        tuple(point.defect for point in points if point.reason == CUT_ROUND and point.defect is not None),
    )


def _measured(stick: Stick, species: Species | None, use: str, settings: Settings) -> list[Point]:
    """What the use asks to be measured."""
    points = [_slope(stick, species, use, settings), _moisture(stick, use, settings)]
    if use == SOLID_SPAR:
        points.append(_edge_grain(stick, use, settings))
    if use in (SOLID_SPAR, SPAR_FLANGE):
        points.append(_bow(stick, use, settings))
    return points
