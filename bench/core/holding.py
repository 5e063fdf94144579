"""One point of an inspection held against what each document says, and which word of them governs."""

from collections.abc import Iterable

from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.frozen import record, replace
from bench.core.limits import DOCUMENTS, STRICTER, Limit
from bench.core.records import Defect

HOUSE = "house"

# Rules that are words; a rule in numbers is AT_MOST, AT_LEAST or BETWEEN.
AT_MOST, AT_LEAST, BETWEEN = "at_most", "at_least", "between"
PERMITTED, NOT_PERMITTED, REJECTED = "permitted", "not_permitted", "reject"
CAUTION, TOLERABLE, IF_NO_DECAY, SAME_LAYER = "caution", "tolerable", "if_no_decay", "same_layer"
WHICH_EDGE, SLOPE_OF_WAVE, FUNGUS = "which_edge", "slope_of_wave", "fungus"
IF_NO_BREAKS = "if_no_breaks"

_RANK = {ACCEPT: 0, HOLD: 1, REJECT: 2}
HAIR = 1e-12  # a relative noise of floats; far below anything a rule can show


@record
class Held:
    """One document's word, or the house's, on one point."""

    document: str  # "anc19", "ac4313", "house", or the source of a species' figure
    low: float | None  # in SI, None where there is no such limit or the rule is words
    high: float | None
    rule: str  # a code of this module
    where: str  # section or table, and how far it can be trusted
    word: str  # accept, hold or reject by this document alone
    governs: bool = False  # it decides the point
    what: str = ""  # what of a defect it binds: "size", "length", "depth", "edge", "gap" or "sum"
    measured: float | None = None  # in SI; None: not measured, or nothing to measure
    condition: str = ""  # of the limit, as the document has it

    @property
    def margin(self) -> float | None:
        """How far inside the limits [SI unit of the quantity]; negative outside, None without numbers."""
        if self.measured is None:
            return None
        sides = [] if self.low is None else [self.measured - self.low]
        sides += [] if self.high is None else [self.high - self.measured]
        return min(sides) if sides else None

    @property
    def closeness(self) -> float:
        """The margin over the limit it is measured from; words lie outermost on their own side [1]."""
        margin = self.margin
        if margin is None:
            return float("inf") if self.word == ACCEPT else float("-inf")
        limits = [abs(value) for value in (self.low, self.high) if value is not None]
        return margin / (min(limits) or 1.0)


@record
class Point:
    """One thing that is looked at in a stick, with what every document says about it."""

    name: str  # of the stick's points, or the kind of the defect
    word: str
    reason: str  # a code of `inspecting`
    measured: float | None = None  # [SI unit of the quantity]
    quantity: str = ""  # a name of quantities.QUANTITIES
    held: tuple[Held, ...] = ()
    defect: Defect | None = None
    inputs: tuple[
        tuple[str, float, str], ...
    ] = ()  # symbol, value in SI, quantity: what `measured` came from
    said: tuple[str, ...] = ()  # by the user, where the reason rests on words

    @property
    def governing(self) -> Held | None:
        """What decides the point; None where nothing is said about it."""
        return next((held for held in self.held if held.governs), None)

    @property
    def margin(self) -> float | None:
        """How far inside the limit that governs [SI unit of the quantity]; negative outside."""
        governing = self.governing
        return None if governing is None else governing.margin


def worst(words: Iterable[str]) -> str:
    """The worst of some words; accept where there are none."""
    return max(words, key=_RANK.__getitem__, default=ACCEPT)


def within(measured: float | None, low: float | None, high: float | None) -> str:
    """Accept inside the limits, reject outside, hold where nothing is measured; all in SI.

    Args:
        measured: the value [SI unit of the quantity].
        low: the least [SI unit of the quantity].
        high: the most [SI unit of the quantity].
    Returns:
        The word.
    """
    if measured is None:
        return HOLD
    under = low is not None and measured < low - abs(low) * HAIR
    over = high is not None and measured > high + abs(high) * HAIR
    return REJECT if under or over else ACCEPT


def at_most(limit: Limit, what: str, measured: float | None, most: float | None) -> Held:
    """A measurement against the most that a limit permits; on hold where either is not known.

    Args:
        limit: for its source.
        what: the measurement is.
        measured: the value [SI unit of the quantity].
        most: the limit worked out for this stick [SI unit of the quantity].
    Returns:
        The word of the limit.
    """
    word = HOLD if most is None else within(measured, None, most)
    return _of(limit, AT_MOST, word, None, most, what, measured)


def at_least(limit: Limit, what: str, measured: float | None, least: float, failing: str = REJECT) -> Held:
    """A measurement against the least that a limit permits.

    Args:
        limit: for its source.
        what: the measurement is.
        measured: the value [SI unit of the quantity].
        least: the limit worked out for this stick [SI unit of the quantity].
        failing: the word where it is less.
    Returns:
        The word of the limit.
    """
    word = within(measured, least, None)
    rule = AT_LEAST if failing == REJECT else SAME_LAYER
    return _of(limit, rule, failing if word == REJECT else word, least, None, what, measured)


def in_words(limit: Limit, rule: str, word: str, what: str = "", measured: float | None = None) -> Held:
    """A rule of words.

    Args:
        limit: for its source.
        rule: its code.
        word: accept, hold or reject.
        what: the measurement is, where there is one.
        measured: the value [SI unit of the quantity].
    Returns:
        The word of the limit.
    """
    return _of(limit, rule, word, None, None, what, measured)


def _of(
    limit: Limit,
    rule: str,
    word: str,
    low: float | None,
    high: float | None,
    what: str,
    measured: float | None,
) -> Held:
    return Held(limit.document, low, high, rule, limit.where, word, False, what, measured, limit.condition)


def govern(held: tuple[Held, ...], document: str) -> tuple[Held, ...]:
    """The same words, the one that decides marked.

    The stricter of two documents, or the one chosen where it speaks; the house and a species' own source
    always count, so that they can only be stricter.

    Args:
        held: what each says.
        document: "stricter" or a name of DOCUMENTS.
    Returns:
        In the same order, exactly one marked; empty where nobody speaks.
    """
    speaking = {one.document for one in held}
    chosen = document if document != STRICTER and document in speaking else ""
    counted = [one for one in held if not chosen or one.document == chosen or one.document not in DOCUMENTS]
    if not counted:
        return held
    decides = min(counted, key=lambda one: (-_RANK[one.word], one.closeness))
    return tuple(replace(one, governs=True) if one is decides else one for one in held)


def word_of(held: tuple[Held, ...]) -> str:
    """The word of what governs; on hold where nobody speaks."""
    return next((one.word for one in held if one.governs), HOLD)
