"""The section choice of a job worked out: the two woods, the match, and the size of each part.

The shape, a side as sawn and a slot belong to the section on the pane; every other part drawn in the wood is
a solid rectangle and is resized by the same match, figures and held side.
"""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from bench.core import resizing, strength
from bench.core.errors import Missing, OutOfRange, Refusal, UnknownName
from bench.core.estimating import Estimate
from bench.core.frozen import record
from bench.core.judging import Judged, estimated
from bench.core.laminated import Ply
from bench.core.records import SectionChoice, Settings, Species, Typed
from bench.core.resizing import Resized
from bench.core.sections import Rectangle, Shape, made
from bench.core.strength import Wood

if TYPE_CHECKING:
    from bench.core.breaks import Result
    from bench.core.coupon_wood import CouponWood

Woods = Mapping[str, Species]
AT_12 = 0.12  # moisture of the handbook's figures [1]


@record
class SectionView:
    """The section choice worked out, or why it cannot be.

    While a choice is refused the last good one stays: `choice` and all that follows from it are of that one.
    """

    asked: SectionChoice  # as it stands in the job
    choice: SectionChoice  # that is worked out
    plan: Wood | None = None
    use: Wood | None = None
    resized: Resized | None = None
    measured: str = ""  # tag of the stick whose own gravity is used
    estimate: Estimate | None = None  # of its strengths, where they are used
    layers: tuple[Ply, ...] = ()  # of a laminated replacement
    refusal: Refusal | None = None
    owner: Judged | None = None  # the stick it rests on, None for the handbook's average
    average_12: float | None = None  # of the new wood's species, where it rests on a stick [1]
    coupons: "CouponWood | None" = None  # that the new wood rests on


def rests_on(
    choice: SectionChoice, rack: Callable[[str], Judged | None], hand: Judged | None
) -> Judged | None:
    """The stick whose gravity the section takes.

    Args:
        choice: of the job.
        rack: finds a stick by its tag.
        hand: the stick in hand.
    Returns:
        The one named, else the one in hand; None where no stick's gravity is taken.
    Source:
        the job.
    """
    if choice.gravity not in ("stick", "estimate"):
        return None
    if not choice.stick:
        return hand
    return rack(choice.stick)


def view(
    choice: SectionChoice,
    woods: Woods,
    owner: Judged | None,
    settings: Settings,
    results: "Sequence[Result]" = (),
) -> SectionView:
    """The section choice worked out.

    Args:
        choice: of the job.
        woods: the library by species key.
        owner: of rests_on.
        settings: for the sizes that the shop can make.
        results: of the coupons of the job, where the figures are theirs.
    Returns:
        The view; a refusal is carried in it, never raised.
    Source:
        as resizing.resize.
    """
    try:
        plan, use, guess, tag = _woods(choice, woods, owner)
        measured = _coupons(choice, woods, results)
        if measured is not None:
            from bench.core import coupon_wood  # most jobs have no coupons

            use = coupon_wood.with_coupons(use, measured)
        layers = tuple(
            Ply(_wood(choice, _known(woods, layer.species)), layer.thickness.si) for layer in choice.layers
        )
        layers = layers if choice.shape == "laminated" else ()
        if choice.shape == "laminated" and not layers:
            raise Missing("layers", "type them from the outer face on: 1/8 white ash, 1/2 sitka spruce")
        section = made(choice.shape, choice.width.si, choice.depth.si, _si(choice.flange), _si(choice.web))
        resized = _resize(section, choice, plan, use, settings, layers, own_sides=True)
    except Refusal as refusal:
        return SectionView(choice, choice, refusal=refusal, owner=owner)
    average = strength.gravity_12(woods[choice.use])[0] if tag else None
    return SectionView(choice, choice, plan, use, resized, tag, guess, layers, None, owner, average, measured)


def part_size(
    found: SectionView, settings: Settings, width: Fraction, depth: Fraction
) -> tuple[Fraction, Fraction] | None:
    """The finished section of a part drawn in the plan's wood.

    Args:
        found: of `view`, with no refusal in it.
        settings: for the sizes that the shop can make.
        width: as drawn [m].
        depth: as drawn [m].
    Returns:
        Width and depth [m]; None where this part has no size in the new wood.
    Source:
        as resizing.resize.
    """
    choice = found.choice
    assert found.plan is not None and found.use is not None
    the_one = (width, depth) == (choice.width.exact, choice.depth.exact)
    layers = found.layers if the_one else ()
    if choice.shape == "laminated" and not layers:
        return None  # how its layers lie was said of the section on the pane alone
    try:
        section = Rectangle(float(width), float(depth))
        resized = _resize(section, choice, found.plan, found.use, settings, layers, own_sides=the_one)
    except Refusal:
        return None
    # A held side keeps the drawing's size to the letter, unless it was measured: it has to fit something.
    measured = the_one and choice.held_at is not None
    return (
        width if choice.hold == "width" and not measured else resized.shop[0],
        depth if choice.hold == "depth" and not measured else resized.shop[1],
    )


def _resize(
    section: Shape,
    choice: SectionChoice,
    plan: Wood,
    use: Wood,
    settings: Settings,
    layers: tuple[Ply, ...],
    own_sides: bool,
) -> Resized:
    """The match; `own_sides` says whether a side as sawn and a slot are about this section."""
    return resizing.resize(
        section,
        plan,
        use,
        choice.match,
        choice.hold,
        _si(choice.free_length),
        settings.grid.exact,
        own=choice.own,
        held_at=_si(choice.held_at) if own_sides and choice.hold else None,
        cap_side=choice.cap_side if own_sides else "",
        cap=_si(choice.cap) if own_sides and choice.cap_side else None,
        sizes=tuple(size.exact for size in settings.sizes),
        layers=layers,
    )


def _si(typed: Typed | None) -> float | None:
    return None if typed is None else typed.si


def _known(woods: Woods, key: str) -> Species:
    if key not in woods:
        raise UnknownName("species", key)
    return woods[key]


def _wood(choice: SectionChoice, species: Species) -> Wood:
    """A species by the figures of the choice, without any stick's own."""
    if choice.gravity == "aircraft":
        return strength.aircraft(species)
    return strength.of(species, AT_12 if choice.moisture is None else choice.moisture.si)


def _coupons(choice: SectionChoice, woods: Woods, results: "Sequence[Result]") -> "CouponWood | None":
    """What coupons say of the new wood; None where none are asked."""
    if choice.gravity != "coupons":
        return None
    if not choice.coupons:
        raise Missing("coupons", "choose a group on the Groups screen: b, v, v there, then a")
    if choice.moisture is not None and choice.moisture.si != AT_12:
        wanted = "figures of coupons are at 12 %: empty the moisture"
        raise OutOfRange("moisture", choice.moisture.si, wanted, choice.moisture.text)
    if choice.shape == "laminated":
        raise Missing("coupons", "layers take the handbook's figures: choose another shape or other figures")
    from bench.core import coupon_wood

    species = _known(woods, choice.use)
    return coupon_wood.of_group(results, species, choice.coupons_by, choice.coupons, woods)


def _woods(
    choice: SectionChoice, woods: Woods, owner: Judged | None
) -> tuple[Wood, Wood, Estimate | None, str]:
    """Both woods, what was estimated for the new one, and whose gravity it has."""
    species = _known(woods, choice.use)
    plan = _wood(choice, _known(woods, choice.plan))
    if choice.gravity not in ("stick", "estimate"):
        return plan, _wood(choice, species), None, ""
    if owner is None or owner.found.measured is None:
        name = owner.stick.tag if owner else choice.stick or "the stick in hand"
        raise Missing("gravity", f"{name} has no reading; read it, or use the handbook's")
    stick, measured = owner.stick, owner.found.measured
    if stick.species != choice.use:
        raise Missing("gravity", f"{stick.tag} is {stick.species}, the section is in {choice.use}")
    moisture = AT_12 if choice.moisture is None else choice.moisture.si
    if choice.gravity == "stick":
        return plan, strength.of(species, moisture, gravity=measured.sg_12), None, stick.tag
    guess = estimated(stick, measured, species, moisture)
    if not guess.grain_measured:
        raise Missing("grain", f"{stick.tag} needs its slope of grain on two faces before it is estimated")
    use = strength.of(species, moisture, gravity=measured.sg_12, estimate=guess)
    return plan, use, guess, stick.tag
