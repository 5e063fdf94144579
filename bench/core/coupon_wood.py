"""Figures of a wood measured on coupons, for a section: only bending tests, only with enough of them.

Each coupon is brought to what the handbook's figures are of, 12 percent moisture, a beam 2 in deep on a span
of 14 depths, so that both woods of a section are told alike. For the size the whole bound is taken off, for
shear nothing is added. What the section rests on is the low end of the mean's interval, and never more than
the average of the book unless many coupons of several sticks say so: a handful never makes a wood better.
"""

from collections.abc import Mapping, Sequence

from bench.core import break_groups, samples, strength
from bench.core.bending_test import SPAN_OVER_DEPTH, Bending, shear_share
from bench.core.breaks import Result, at_12
from bench.core.errors import Missing, OutOfRange, Refusal
from bench.core.frozen import record, replace
from bench.core.samples import LEAST_FOR_LIMIT
from bench.core.strength import Wood
from bench.core.wood import Species

MANY, STICKS = (
    10,
    3,
)  # coupons, and sticks they were cut from, that may raise a figure above the book: our rule
SHORTEST = 10  # depths of span; below it shear tells more than the wood's stiffness: our rule
SAMPLES = ("wood", "lot", "group")  # of break_groups.BY
UNSAID = ("wood not named", "no lot", "moisture not measured", "no group")  # are no sample of anything
# Figure of the section -> figure of a coupon.
FROM = {"bending": "rupture", "stiffness": "elasticity"}


@record
class Measured:
    """One figure of a group of coupons, as in the handbook's test."""

    name: str  # of strength.STRENGTHS
    values: tuple[float, ...]  # one a coupon [Pa]
    as_tested: tuple[float, ...]  # the same at 12 percent, neither size nor span taken in [Pa]
    mean: float  # [Pa]
    low: float  # low end of the 95 percent interval of the mean [Pa]
    value: float  # that, or the book's average where that is less and the coupons are few [Pa]
    limit: float  # 5th percentile at 75 percent confidence [Pa]

    @property
    def count(self) -> int:
        """Of coupons."""
        return len(self.values)


@record
class CouponWood:
    """What coupons say of a wood."""

    group: str  # as it is named
    tags: tuple[str, ...]
    sticks: tuple[str, ...]  # they were cut from; of those whose stick is not named none
    lowered: float  # share that every other strength is lowered to, as bending is below the book [1]
    figures: tuple[Measured, ...]  # bending, and stiffness where it was read


def of_group(
    results: Sequence[Result], species: Species, by: str, name: str, woods: Mapping[str, Species]
) -> CouponWood:
    """The figures of one group of bending tests.

    Args:
        results: of a job.
        species: the wood of the section; coupons of others are not counted.
        by: what coupons are put together by, one of break_groups.BY.
        name: of the group.
        woods: the library.
    Returns:
        Bending strength, and stiffness where as many coupons have it.
    Raises:
        Missing: fewer than three bending tests, or one whose moisture is not known.
        OutOfRange: so wide a spread that the lower limit or the mean's interval reaches zero.
    Valid for:
        clear straight-grained coupons that are a random sample of what the part is made of.
    Source:
        samples.lower_limit, samples.mean_interval; wh282 eq. 5-3, 9-17; shear: derived.
    """
    own = [
        found
        for found in results
        if isinstance(found.detail, Bending)
        and found.species == species.key
        and not found.coupon.aside
        and break_groups.name_of(found, by, woods) == name
    ]
    if len(own) < LEAST_FOR_LIMIT:
        raise Missing(
            "coupons", f"{name} has {len(own)} bending tests of {species.name}, {LEAST_FOR_LIMIT} are needed"
        )
    if by not in SAMPLES or name in UNSAID:
        raise Missing("coupons", f"{name!r} is no sample of a wood: put them together by wood, lot or word")
    sticks = tuple(dict.fromkeys(found.coupon.stick for found in own if found.coupon.stick))
    figures = [_measured("bending", own, species, woods)]
    read = [found for found in own if found.figure("elasticity") is not None]
    if len(read) >= LEAST_FOR_LIMIT:
        figures.append(_measured("stiffness", read, species, woods))
    book = strength.of(species).get("bending")
    return CouponWood(
        name,
        tuple(found.coupon.tag for found in own),
        sticks,
        min(1.0, figures[0].value / book),
        tuple(figures),
    )


def _measured(name: str, own: Sequence[Result], species: Species, woods: Mapping[str, Species]) -> Measured:
    figure = FROM[name]
    dry, standard = [], []
    for found in own:
        value, why = at_12(found, figure, woods)
        if value is None:
            raise Missing(
                "moisture", f"{found.coupon.tag} cannot be brought to 12 % ({why.replace('_', ' ')})"
            )
        dry.append(value)
        standard.append(value * _to_standard(name, found))
    try:
        limit = samples.lower_limit(standard).value
        low = samples.mean_interval(standard)[0]
    except Refusal as refusal:
        raise Missing("coupons", str(refusal)) from None
    if not samples.deviation(standard) > 0:
        raise OutOfRange(
            name, 0.0, "coupons that read alike to the last digit are no sample", "no spread at all"
        )
    if limit <= 0 or low <= 0:
        wanted = "the coupons differ too much to say anything: break more of them"
        raise OutOfRange(name, limit, wanted, "a lower limit or an interval down to zero")
    many = len(own) >= MANY and len({found.coupon.stick for found in own if found.coupon.stick}) >= STICKS
    value = low if many else min(low, strength.of(species).get(name))
    return Measured(name, tuple(standard), tuple(dry), samples.mean(standard), low, value, limit)


def _to_standard(name: str, found: Result) -> float:
    """From the coupon's size and span to the handbook's; never upward."""
    bent = found.detail
    assert isinstance(bent, Bending)
    if name == "bending":
        return 1 / max(1.0, bent.size_factor)
    if bent.span_over_depth < SHORTEST:
        wanted = f"a span of {SHORTEST} depths and more is wanted for stiffness"
        raise OutOfRange("span", bent.span_over_depth, wanted, f"{bent.span_over_depth:.1f} depths")
    share = (1 + shear_share(1.0, bent.span_over_depth)) / (1 + shear_share(1.0, SPAN_OVER_DEPTH))
    return min(1.0, share)  # how far shear goes differs from wood to wood: never upward for it


def with_coupons(wood: Wood, measured: CouponWood) -> Wood:
    """A wood with what was measured in the place of its averages.

    Args:
        wood: averages at 12 percent.
        measured: of `of_group`.
    Returns:
        Bending and stiffness as measured; tension never above the measured bending; every other strength, and
        stiffness that was not measured, lowered by the share that bending is below its average.
    Source:
        as of_group.
    """
    own = {figure.name: figure.value for figure in measured.figures}
    changed = [(name, own.get(name, value * measured.lowered)) for name, value in wood.strengths]
    return replace(wood, strengths=tuple(changed), coupons=tuple(own))
