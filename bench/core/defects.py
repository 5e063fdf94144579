"""What each document says about one defect of a stick, for a use.

Zones follow from the distance to the nearer edge and the stick's larger side, as the face is not recorded: on
a narrow face this is never lenient. A limit that hangs on a dimension not recorded takes the smaller side.
"""

from collections.abc import Callable, Iterator
from fractions import Fraction

from bench.core import limits
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.frozen import record
from bench.core.holding import (
    AT_MOST,
    CAUTION,
    HOUSE,
    IF_NO_BREAKS,
    IF_NO_DECAY,
    NOT_PERMITTED,
    PERMITTED,
    REJECTED,
    SLOPE_OF_WAVE,
    TOLERABLE,
    WHICH_EDGE,
    Held,
    at_least,
    at_most,
    in_words,
    within,
)
from bench.core.limits import AC4313, ANC19, SMALL_PART, SOLID_SPAR, SPAR_FLANGE, Limit
from bench.core.quantities import INCH
from bench.core.records import Defect, House, Stick, Typed

POCKETS = frozenset({limits.PITCH_POCKET, limits.BARK_POCKET})
# No defects by the documents; every other kind is always cut round in the cut list, permitted or not, as its
# place in the finished section is not known.
KEPT_IN = frozenset({limits.MINERAL_STREAK, limits.SAPWOOD, limits.INDENTED_RINGS})
# Common practice, no source: these spoil the whole stick, every other kind its own length only.
SPOILS_STICK = frozenset({limits.DECAY, limits.COMPRESSION_FAILURE, limits.COMPRESSION_WOOD})

_INCH = float(INCH)


def lying_in(stick: Stick, start: Fraction, end: Fraction) -> tuple[Defect, ...]:
    """The defects of a stick that reach into a stretch of it, but for those that may stay in a part.

    Args:
        stick: with all that was found on it.
        start: of the stretch, from the marked end [m].
        end: of the stretch [m].
    Returns:
        Defects; one that only touches the stretch is not among them.
    Source:
        our rule: what the cut list goes round.
    """
    return tuple(
        defect
        for defect in stick.defects
        if defect.kind not in KEPT_IN
        and min(defect.start.exact, defect.end.exact) < end
        and max(defect.start.exact, defect.end.exact) > start
    )


@record
class Case:
    """A defect in its stick, for a use."""

    defect: Defect
    stick: Stick
    use: str

    def limit(self, name: str, document: str) -> Limit:
        """A limit of a document for this use."""
        return limits.limit(name, document, self.use)

    @property
    def larger(self) -> float:
        """The stick's larger side [m]."""
        return max(self.stick.width.si, self.stick.depth.si)

    @property
    def smaller(self) -> float:
        """The stick's smaller side [m]."""
        return min(self.stick.width.si, self.stick.depth.si)

    @property
    def length(self) -> float:
        """Along the stick [m]."""
        return float(abs(self.defect.end.exact - self.defect.start.exact))

    @property
    def edge(self) -> float | None:
        """From the nearer edge [m]."""
        return _si(self.defect.edge)

    @property
    def size(self) -> float | None:
        """Across the grain [m]."""
        return _si(self.defect.size)

    @property
    def depth(self) -> float | None:
        """Into the wood [m]."""
        return _si(self.defect.depth)

    def others(self, *, pockets: bool = False) -> Iterator[Defect]:
        """Every other defect of the stick, or every other pocket."""
        for other in self.stick.defects:
            wanted = other.kind in POCKETS if pockets else other.kind not in KEPT_IN
            if other is not self.defect and wanted:
                yield other

    def gap(self, other: Defect) -> float:
        """Clear length to another defect, none where they overlap [m]."""
        first, last = sorted((self.defect.start.exact, self.defect.end.exact))
        start, end = sorted((other.start.exact, other.end.exact))
        return max(float(start - last), float(first - end), 0.0)


def _si(typed: Typed | None) -> float | None:
    return None if typed is None else typed.si


def _knot(case: Case) -> Iterator[Held]:
    if case.use == SPAR_FLANGE:  # a flange has no part in the centre third of its beam
        yield in_words(case.limit("knot_place", AC4313), NOT_PERMITTED, REJECT)
    else:
        most = float(case.limit("knot_diameter", AC4313).exact)
        yield at_most(case.limit("knot_diameter", AC4313), "size", case.size, most)
        place = case.limit("knot_place", AC4313)
        yield at_least(place, "edge", case.edge, case.larger * float(place.exact))
        spacing = case.limit("knot_spacing", AC4313)
        pro_rata = 1.0 if case.size is None else case.size / most
        gaps = [case.gap(other) for other in case.others()]
        if gaps:
            yield at_least(spacing, "gap", min(gaps), float(spacing.exact) * pro_rata)
        caution = case.limit("knot_caution", AC4313)
        if case.size is not None and within(case.size, None, float(caution.exact)) == REJECT:
            yield in_words(caution, CAUTION, ACCEPT, "size", case.size)
    if case.use == SMALL_PART:
        share = case.limit("knot_diameter", ANC19)
        yield at_most(share, "size", case.size, case.smaller * float(share.exact))
        yield at_least(share, "edge", case.edge, case.larger / 4)  # the middle half


def _pocket(case: Case) -> Iterator[Held]:
    if case.defect.kind == limits.PITCH_POCKET:
        yield from _pitch_ac4313(case)
    if case.use == SPAR_FLANGE:
        share = case.limit("pocket_depth_share", ANC19)
        yield at_most(share, "depth", case.depth, case.smaller * float(share.exact))
        return
    if case.use == SMALL_PART:
        # Not permitted under 1 in, limits for faces over 1 in: exactly 1 in is taken with the former.
        if within(case.smaller, None, _INCH) == ACCEPT:
            yield in_words(case.limit("pocket_thin", ANC19), NOT_PERMITTED, REJECT)
            return
        for name, what, measured in (
            ("pocket_depth_share", "depth", case.depth),
            ("pocket_width_share", "size", case.size),
        ):
            share = case.limit(name, ANC19)
            yield at_most(share, what, measured, case.smaller * float(share.exact))
    longest, times = case.limit("pocket_length", ANC19), case.limit("pocket_length_edges", ANC19)
    yield at_most(longest, "length", case.length, float(longest.exact))
    by_edge = None if case.edge is None else case.edge * float(times.exact)
    yield at_most(times, "length", case.length, by_edge)
    if case.use == SOLID_SPAR:
        yield from _pocket_spacing(case)


def _pitch_ac4313(case: Case) -> Iterator[Held]:
    if case.use == SPAR_FLANGE:  # nor in the centre portion
        yield in_words(case.limit("pocket_length", AC4313), NOT_PERMITTED, REJECT)
        return
    measures = (("pocket_length", "length", case.length), ("pocket_width", "size", case.size))
    for name, what, measured in (*measures, ("pocket_depth", "depth", case.depth)):
        row = case.limit(name, AC4313)
        yield at_most(row, what, measured, float(row.exact))
    # "Centre portion" is not given in figures; the centre third of the knots is the stricter reading.
    third = case.limit("knot_place", AC4313)
    yield at_least(case.limit("pocket_length", AC4313), "edge", case.edge, case.larger * float(third.exact))
    # Growth rings are not recorded, so any two pockets count as in the same one.
    gaps = [case.gap(other) for other in case.others(pockets=True)]
    if gaps:
        row = case.limit("pocket_spacing", AC4313)
        yield at_least(row, "gap", min(gaps), float(row.exact))


def _pocket_spacing(case: Case) -> Iterator[Held]:
    """By the shorter of two pockets; on hold up to the longer, as the growth layer is not recorded."""
    row = case.limit("pocket_spacing_lengths", ANC19)
    times = float(row.exact)
    pairs = [
        (case.gap(other), Case(other, case.stick, case.use).length) for other in case.others(pockets=True)
    ]
    if pairs:
        gap, other = min(pairs, key=lambda pair: pair[0] - times * min(pair[1], case.length))
        yield at_least(row, "gap", gap, times * min(other, case.length))
        gap, other = min(pairs, key=lambda pair: pair[0] - times * max(pair[1], case.length))
        yield at_least(row, "gap", gap, times * max(other, case.length), HOLD)


def _compression_wood(case: Case) -> Iterator[Held]:
    yield in_words(case.limit(limits.COMPRESSION_WOOD, AC4313), REJECTED, REJECT)
    # Cross breaks reject it anywhere, and whether there are any is not recorded.
    yield in_words(case.limit("compression_wood_broken", ANC19), IF_NO_BREAKS, HOLD)
    streak = case.limit("streak_width", ANC19)
    if case.use == SMALL_PART:
        if within(case.smaller, _INCH, None) == REJECT:
            yield in_words(case.limit("compression_wood_thin", ANC19), NOT_PERMITTED, REJECT)
            return
        together = case.limit("streaks_together", ANC19)
        yield at_most(streak, "size", case.size, case.smaller * float(streak.exact))
        yield at_most(together, "sum", _streaks(case, None), case.smaller * float(together.exact))
        return
    outer = case.limit("streaks_outer", ANC19)
    outer_most = case.smaller * float(outer.exact)
    if case.use == SPAR_FLANGE:
        yield at_most(streak, "size", case.size, float(streak.exact))
        yield at_most(outer, "sum", _streaks(case, None), outer_most)
        return
    middle = _in_middle(case)
    if middle is None:
        yield at_most(outer, "edge", None, case.larger / 4)
    elif middle:
        row = case.limit("streaks_middle", ANC19)
        yield at_most(row, "sum", _streaks(case, True), case.larger * float(row.exact))
    else:
        yield at_most(streak, "size", case.size, float(streak.exact))
        yield at_most(outer, "sum", _streaks(case, False), outer_most)


def _in_middle(case: Case) -> bool | None:
    """Whether it lies in the middle half of the depth; None where the place is not known."""
    return None if case.edge is None else within(case.edge, case.larger / 4, None) == ACCEPT


def _streaks(case: Case, middle: bool | None) -> float | None:
    """Compression wood of one zone along the whole stick, None where its own width is not known [m]."""
    if case.size is None:
        return None
    cases = [Case(other, case.stick, case.use) for other in case.stick.defects]
    return sum(
        one.size or 0.0
        for one in cases
        if one.defect.kind == limits.COMPRESSION_WOOD and (middle is None or _in_middle(one) is middle)
    )


def _grain_wave(case: Case) -> Iterator[Held]:
    if case.use == SMALL_PART:
        return
    quarter = None if case.edge is None else within(case.edge, case.larger / 4, None) == REJECT
    if case.use == SPAR_FLANGE:
        row = case.limit("wave_flange", ANC19)
        # Which of its edges is the inner one is not recorded.
        known = in_words(row, WHICH_EDGE, HOLD) if quarter else in_words(row, NOT_PERMITTED, REJECT)
        yield at_most(row, "edge", None, case.larger / 4) if quarter is None else known
        return
    outer = case.limit("wave_outer_eighth", ANC19)
    if quarter is None:
        yield at_least(outer, "edge", None, case.larger / 8)
    elif not quarter:
        yield in_words(case.limit("slope_middle_half", ANC19), SLOPE_OF_WAVE, HOLD, "edge", case.edge)
    elif within(case.edge, case.larger / 8, None) == REJECT:
        yield in_words(outer, NOT_PERMITTED, REJECT, "edge", case.edge)
    else:
        yield in_words(case.limit("wave_next_eighth", ANC19), TOLERABLE, HOLD, "edge", case.edge)


def _mineral_streak(case: Case) -> Iterator[Held]:
    decay = any(other.kind == limits.DECAY for other in case.stick.defects)
    sound = case.stick.inspection.looked and not decay
    yield in_words(
        case.limit(limits.MINERAL_STREAK, AC4313),
        PERMITTED if sound else IF_NO_DECAY,
        ACCEPT if sound else HOLD,
    )


def _pin_knots(case: Case) -> Iterator[Held]:
    yield in_words(case.limit(limits.PIN_KNOTS, AC4313), PERMITTED, ACCEPT)


def _no_defect(case: Case) -> Iterator[Held]:
    yield in_words(case.limit(case.defect.kind, ANC19), PERMITTED, ACCEPT)


def _rejected(*documents: str) -> Callable[[Case], Iterator[Held]]:
    def heard(case: Case) -> Iterator[Held]:
        for document in documents:
            yield in_words(case.limit(case.defect.kind, document), REJECTED, REJECT)

    return heard


_RULES: dict[str, Callable[[Case], Iterator[Held]]] = {
    limits.KNOT: _knot,
    limits.SPIKE_KNOT: _rejected(AC4313),
    limits.PIN_KNOTS: _pin_knots,
    limits.PITCH_POCKET: _pocket,
    limits.BARK_POCKET: _pocket,
    limits.CHECK: _rejected(AC4313),
    limits.SHAKE: _rejected(AC4313, ANC19),
    limits.SPLIT: _rejected(AC4313, ANC19),
    limits.COMPRESSION_WOOD: _compression_wood,
    limits.COMPRESSION_FAILURE: _rejected(AC4313, ANC19),
    limits.DECAY: _rejected(AC4313, ANC19),
    limits.GRAIN_WAVE: _grain_wave,
    limits.MINERAL_STREAK: _mineral_streak,
    limits.SAPWOOD: _no_defect,
    limits.INDENTED_RINGS: _no_defect,
}


def heard(defect: Defect, stick: Stick, use: str, house: House) -> tuple[Held, ...]:
    """What the documents and the house say about a defect.

    Args:
        defect: one of the stick's own, the same object.
        stick: it was found on.
        use: a name of limits.USES.
        house: the shop's own limits.
    Returns:
        Their words; empty where nobody speaks of such a kind.
    Source:
        ac4313 table 1-1 notes; anc19 sec. 2.4101, 2.415 to 2.4264.
    """
    rule = _RULES.get(defect.kind)
    held = () if rule is None else tuple(rule(Case(defect, stick, use)))
    if defect.kind == limits.KNOT and house.knot is not None:
        size = _si(defect.size)
        word = within(size, None, house.knot.si)
        own = Held(HOUSE, None, house.knot.si, AT_MOST, "", word, what="size", measured=size)
        held = (*held, own)
    return held
