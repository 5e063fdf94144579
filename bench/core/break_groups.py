"""Coupons put together by lot, wood, size, moisture or a word of one's own, and two such groups compared.

Only coupons of one test and one set-up stand in one group. Two groups are compared at equal size or at equal
weight, never both: what either says is another thing.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

from bench.core import samples
from bench.core.bending_test import Bending
from bench.core.breaking import DropTest
from bench.core.breaks import BOOK, FIGURES, Result, at_12
from bench.core.coupon import BEND, DROP, GLUE, NOTHING
from bench.core.errors import Missing, Refusal
from bench.core.estimating import VARIATION
from bench.core.frozen import record
from bench.core.sampled import Sampled, needed
from bench.core.samples import Welch
from bench.core.up_and_down import UpAndDown, of_series
from bench.core.wood import Figure, Species

BY = ("wood", "lot", "size", "moisture", "group")
ALIKE = 0.03  # two sizes or weights nearer than this are one: our rule, about what a shop cuts to
EQUAL_SIZE, EQUAL_WEIGHT, BOTH, NEITHER, UNKNOWN = "size", "weight", "both", "neither", "unknown"
MOVED = ("rupture", "elasticity")  # figures that wh282 eq. 5-3 brings to another moisture
LEAST_SERIES = 3  # sticks with one blow each before they are taken for a series up and down: our rule
MOIST_SPREAD = 0.01  # moistures farther apart are said, where nothing brings them together: our rule
_SPREADS = {"rupture": "bending", "elasticity": "stiffness", "work": "toughness"}  # names of VARIATION


@record
class Group(Sampled):
    """Coupons of one test and set-up under one name."""

    name: str  # with the size behind it, where there are groups of several sizes
    base: str  # what they were put together by
    setup: str
    figure: str  # a name of breaks.FIGURES
    results: tuple[Result, ...]
    values: tuple[float, ...]  # one for each, at 12 percent where `at_12` [SI]
    at_12: bool
    half_step_off: bool  # of drop tests: half a step was taken off each
    row: tuple[Result, ...]  # those that were left out as well: set aside, or without this figure
    moist: tuple[float, float] | None  # least and most moisture; None: not all measured [1]

    @property
    def left_out(self) -> tuple[Result, ...]:
        """Set aside, or without this figure."""
        return tuple(found for found in self.row if found not in self.results)

    @property
    def up_and_down(self) -> UpAndDown | Refusal | None:
        """Of a drop series with one blow a stick, stepped down after a crack and up after none; else None."""
        blows = [
            (found.coupon.blows[0].height.si, found.coupon.blows[0].seen != NOTHING)
            for found in self.row
            if not found.coupon.aside and len(found.coupon.blows) == 1
        ]
        if FIGURES[self.figure][0] != DROP or len(blows) < LEAST_SERIES or len(blows) < len(self.results):
            return None
        steps = [abs(two - one) for (one, _), (two, _) in pairwise(blows) if two != one]
        if not steps:
            return None  # all from one height: no series of steps
        try:
            return of_series(blows, steps[0])
        except Refusal as refusal:
            return refusal

    @property
    def uneven(self) -> bool:
        """Whether the moistures differ and nothing brought them together."""
        if self.at_12:
            return False
        return self.moist is None or self.moist[1] - self.moist[0] > MOIST_SPREAD


@record
class Comparison:
    """One group against another."""

    first: Group
    second: Group
    welch: Welch
    basis: str  # EQUAL_SIZE, EQUAL_WEIGHT, BOTH, NEITHER or UNKNOWN
    needed: int | None  # coupons in each group that would settle it; None: more than can be asked for

    @property
    def moistures_differ(self) -> bool:
        """Whether their moistures lie too far apart, and nothing brought them together."""
        if self.first.at_12:
            return False
        one, two = self.first.moist, self.second.moist
        return one is None or two is None or abs(sum(one) - sum(two)) / 2 > MOIST_SPREAD


@record
class BesideBook:
    """One coupon beside its species' average."""

    result: Result
    value: float  # at 12 percent [SI]
    figure: Figure
    variation: float  # published, of clear wood of one species [1]
    size_factor: float  # by which a smaller coupon may read higher, as a bound; 1: not at all [1]

    @property
    def at_book_size(self) -> float:
        """The same in standard deviations if the size effect holds in full."""
        return (self.value / self.size_factor / self.figure.value - 1) / self.variation

    @property
    def deviations(self) -> float:
        """How many standard deviations of the species it lies from the average [1]."""
        return (self.value / self.figure.value - 1) / self.variation


def groups(
    results: Sequence[Result], figure: str, by: str, woods: Mapping[str, Species]
) -> tuple[Group, ...]:
    """Coupons put together.

    Args:
        results: of a job.
        figure: a name of breaks.FIGURES: only its test is looked at.
        by: one of BY.
        woods: the library, for names and for bringing moistures to 12 percent.
    Returns:
        A group for each name, set-up and size, in the order of their first coupons; only those with a value.
    Source:
        wh282 eq. 5-3 where every coupon of a group can be brought to 12 percent.
    """
    test = FIGURES[figure][0]
    rows: dict[tuple[object, ...], list[Result]] = {}
    for found in results:
        if found.coupon.test == test:
            rows.setdefault((name_of(found, by, woods), *_set_up(found)), []).append(found)
    made = []
    for (base, *_), row in rows.items():
        sizes = _by_size(row)
        for own in sizes:
            name = f"{base}, {name_of(own[0], 'size', woods)}" if len(sizes) > 1 else str(base)
            made.append(_group(name, str(base), figure, tuple(own), woods))
    return tuple(group for group in made if group.values)


def _by_size(row: Sequence[Result]) -> list[list[Result]]:
    """Coupons of one size together: results of other sizes do not convert."""
    sizes: list[list[Result]] = []
    for found in row:
        for own in sizes:
            if _same_size((own[0], found)):
                own.append(found)
                break
        else:
            sizes.append([found])
    return sizes


def _same_size(results: Sequence[Result]) -> bool:
    return all(_near([getattr(one.coupon, side).si for one in results]) for side in ("width", "depth"))


def _group(name: str, base: str, figure: str, row: tuple[Result, ...], woods: Mapping[str, Species]) -> Group:
    counted = tuple(found for found in row if not found.coupon.aside and found.figure(figure) is not None)
    brought = [at_12(found, figure, woods)[0] if figure in MOVED else None for found in counted]
    values = [value for value in brought if value is not None]
    all_brought = bool(counted) and len(values) == len(counted)
    if not all_brought:
        values = [value for found in counted if (value := found.figure(figure)) is not None]
    shares = [_half_step(found) for found in counted]
    stepped = FIGURES[figure][0] == DROP and all(share is not None for share in shares)
    if stepped:
        values = [value * (share or 1.0) for value, share in zip(values, shares, strict=True)]
    moist = [found.coupon.moisture.si for found in counted if found.coupon.moisture is not None]
    return Group(
        name,
        base,
        setup_of(row[0]),
        figure,
        counted,
        tuple(values),
        all_brought,
        stepped,
        row,
        (min(moist), max(moist)) if moist and len(moist) == len(counted) else None,
    )


def _half_step(found: Result) -> float | None:
    """Share that half the last step leaves of a height; None where no step led up to it."""
    drop = found.detail
    if not isinstance(drop, DropTest) or drop.corrected_m is None:
        return None
    return drop.corrected_m / drop.height_m


def name_of(found: Result, by: str, woods: Mapping[str, Species]) -> str:
    """What a coupon is put together by; what is not said of it has a name of its own."""
    coupon = found.coupon
    if by == "wood":
        species = woods.get(found.species)
        return species.name if species else found.species or "wood not named"
    if by == "lot":
        return found.lot or "no lot"
    if by == "size":
        return f"{coupon.width.text} x {coupon.depth.text}"
    if by == "moisture":
        return f"{round(coupon.moisture.si * 100)} %" if coupon.moisture else "moisture not measured"
    return coupon.group or "no group"


def setup_of(found: Result) -> str:
    """What must be the same for two tests to be compared, as typed; empty where nothing must."""
    coupon = found.coupon
    if coupon.test == DROP:
        said = [
            f"{name} {typed.text if typed else '--'}"
            for name, typed in (("weight", coupon.weight), ("span", coupon.span), ("striker", coupon.striker))
        ]
        return ", ".join(said)
    if coupon.test == BEND:
        return f"span {coupon.span.text if coupon.span else '--'}"
    return coupon.pull if coupon.test == GLUE else ""


def _set_up(found: Result) -> tuple[object, ...]:
    """The same by its exact values: 2 lb is 32 oz."""
    coupon = found.coupon
    if coupon.test == DROP:
        return tuple(typed and typed.exact for typed in (coupon.weight, coupon.span, coupon.striker))
    if coupon.test == BEND:
        return (coupon.span and coupon.span.exact,)
    return (coupon.pull,) if coupon.test == GLUE else ()


def basis_of(first: Group, second: Group) -> str:
    """At what two groups are equal: size, weight, both, neither; or unknown where weights were not taken."""
    same_size = _same_size(first.results + second.results)
    weights = [found.per_length for found in first.results + second.results]
    known = [weight for weight in weights if weight is not None]
    if len(known) < len(weights):
        return EQUAL_SIZE if same_size else UNKNOWN
    same_weight = _near(known)
    if same_size:
        return BOTH if same_weight else EQUAL_SIZE
    return EQUAL_WEIGHT if same_weight else NEITHER


def _near(values: Sequence[float]) -> bool:
    return max(values) - min(values) <= ALIKE * max(values)


def compare(first: Group, second: Group) -> Comparison:
    """Two groups against each other.

    Args:
        first: one group.
        second: another, of the same figure and set-up.
    Returns:
        The difference of the means with its interval, and at what the coupons are equal.
    Raises:
        Missing: another figure or set-up, or only one of them at 12 percent.
        OutOfRange: as samples.welch.
    Source:
        as samples.welch.
    """
    if first.figure != second.figure or _set_up(first.results[0]) != _set_up(second.results[0]):
        raise Missing("comparison", f"set-ups differ ({first.setup}; {second.setup}): they do not convert")
    if first.half_step_off != second.half_step_off:
        raise Missing(
            "half step", "only one of the groups has a blow below each crack: they read differently"
        )
    if first.at_12 != second.at_12:
        raise Missing("moisture", "only one of the groups is at 12 %: measure the other's")
    welch = samples.welch(first.values, second.values)
    return Comparison(first, second, welch, basis_of(first, second), needed(first, second, welch))


def comparisons(made: Sequence[Group]) -> tuple[Comparison | tuple[Group, Group, Refusal], ...]:
    """Every pair of groups of one set-up.

    Args:
        made: of `groups`.
    Returns:
        The comparison, or the two groups and why they cannot be compared.
    Source:
        as `compare`.
    """
    found: list[Comparison | tuple[Group, Group, Refusal]] = []
    for first, second in combinations(made, 2):
        if _set_up(first.results[0]) != _set_up(second.results[0]):
            continue
        try:
            found.append(compare(first, second))
        except Refusal as refusal:
            found.append((first, second, refusal))
    return tuple(found)


def beside_book(
    results: Sequence[Result], figure: str, woods: Mapping[str, Species]
) -> tuple[BesideBook, ...]:
    """Each coupon beside its species' average at 12 percent.

    Args:
        results: of a job.
        figure: a name of breaks.FIGURES.
        woods: the library.
    Returns:
        Those that can be brought to 12 percent and have an average; empty for figures that no book has.
    Valid for:
        coupons of the handbook's size and span; of a smaller one the size effect is told as a bound.
    Source:
        the species file; wh282 table 5-6 (green, 12 percent taken as similar); as coupon_moisture.
    """
    quantity, found = BOOK.get(figure), []
    for one in results:
        species = woods.get(one.species)
        book = species.find(quantity, "12 %") if species and quantity else None
        value, _ = at_12(one, figure, woods)
        if book is not None and value is not None and not one.coupon.aside:
            bent = one.detail
            size = max(1.0, bent.size_factor) if figure == "rupture" and isinstance(bent, Bending) else 1.0
            found.append(BesideBook(one, value, book, VARIATION[_SPREADS[figure]], size))
    return tuple(found)
