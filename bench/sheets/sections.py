"""A section in words: its sizes as finished, what it gives away, and what must be said beside its figures."""

from collections.abc import Callable
from math import ceil
from typing import TYPE_CHECKING

from bench import units
from bench.core import laminated, strength
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.capacities import Part
from bench.core.frozen import replace
from bench.core.laminated import Laminated
from bench.core.records import SectionChoice
from bench.core.resizing import AS_DRAWN, Resized
from bench.core.sectioning import SectionView
from bench.core.strength import AIRCRAFT, Wood
from bench.sheets import wording

if TYPE_CHECKING:
    from bench.core.coupon_wood import CouponWood
    from bench.core.ranking import Ask

# Stiffness alone is compared in twist, and its name says so.
CAPACITY = {**wording.CAPACITY, "torsion": "twisting stiffness"}

SHAPE = {
    "rectangle": "solid rectangle",
    "round": "solid round",
    "box": "hollow box",
    "i": "I section",
    "laminated": "laminated",
}
BASIS_AIRCRAFT = (
    "aircraft design values at 15 % moisture, which allow for variation and for a load of short duration; "
    "never compared with handbook averages"
)
_SHORT = 14  # characters of names in a short line: one capacity
_HAIR = 1e-9  # binary noise, taken for nothing [1]


def share(name: str, value: float) -> str:
    """One row of the comparison: a weight is rounded up and a capacity down, never to the side that flatters.

    Args:
        name: "weight" or a capacity.
        value: replacement over plan [1].
    Returns:
        `142.5 %`.
    """
    return f"{ceil(value * 1000 * (1 - _HAIR)) / 10:.1f} %" if name == "weight" else units.ratio(value)


def cost(value: float) -> str:
    """What rounding adds to a weight, up in its last digit: `+3.8 %`.

    Args:
        value: weight after over before [1].
    """
    return f"{units.signed(ceil((value - 1) * 1000 - _HAIR * 1000) / 10, 1)} %"


def price(resized: Resized, caveat: str = "") -> str:
    """What is given away at the shop size, and what is not known.

    Args:
        resized: the match.
        caveat: what the claim is worth, of `of_stick` or `as_average`.
    Returns:
        One line.
    """
    parts = [f"{CAPACITY[name]} {units.ratio(resized.shop_ratios[name])}" for name in resized.weaker_shop]
    given = f"gives away: {', '.join(parts)}" if parts else ""
    unknown = f"; NOT KNOWN: {_names(resized.unknown)}" if resized.unknown else ""
    nothing = "weaker in nothing that is known" if unknown else "weaker in nothing known"
    return f"{given or nothing}{unknown}{caveat}"


def matched(asked: "SectionChoice | Ask") -> str:
    """What another wood is matched by: `by bending strength, width held`, `weaker in nothing`.

    Args:
        asked: the choice, or what woods are compared for.
    """
    said = f"by {CAPACITY.get(asked.match, asked.match)}"
    if asked.match == "all":
        said = CAPACITY["all"]
    if asked.match == "own":
        said = f"no weaker in {', '.join(CAPACITY.get(name, name) for name in asked.own)}"
    return f"{said}, {asked.hold} held" if asked.hold else said


def match_and_price(choice: SectionChoice, resized: Resized, caveat: str = "") -> tuple[str, ...]:
    """What was asked and what came of it, in one line where the one says the other.

    Args:
        choice: that the section was worked out for.
        resized: the match.
        caveat: what the claim is worth, as for `price`.
    """
    said = price(resized, caveat)
    if choice.match == "all" and not choice.hold and not resized.weaker_shop:
        return (f"match: {said}",)
    return f"match: {matched(choice)}", said


def in_brief(view: SectionView) -> str:
    """Wood, match and price for a line that is cut on its right: what takes from a claim stands before it.

    Args:
        view: a section that could be worked out.
    Returns:
        `white ash; weaker in nothing known`, `(NOT KNOWN bearing across) balsa; ...`.
    """
    resized = view.resized
    assert resized is not None
    wood = new_wood(view) if view.layers else new_wood(view).partition(" (")[0]
    by = "" if resized.match == "all" else f" by {CAPACITY[resized.match]}"
    said = price(replace(resized, unknown=())) if resized.unknown else price(resized)
    doubts = "; ".join(_doubts(view, resized))
    return f"{f'({doubts}) ' if doubts else ''}{wood}{by}; {said}"


def _doubts(view: SectionView, resized: Resized) -> list[str]:
    """What is not known, and the stick that the figures rest on, in a few words each."""
    doubts = []
    if resized.unknown:
        names = _names(resized.unknown)
        many = f"{len(resized.unknown)} capacities NOT KNOWN"
        doubts.append(f"NOT KNOWN {names}" if len(names) <= _SHORT else many)
    if view.coupons is not None:
        doubts.append(f"{view.coupons.group}: {view.coupons.figures[0].count} coupons")
    if view.measured and view.use is not None:
        word = f"{_word(view)} " if _word(view) else ""
        own = "estimated" if view.estimate is not None else "average strengths"
        doubts.append(f"{word}{view.measured} {units.gravity(view.use.gravity_12)}, {own}")
    return doubts


def _names(names: tuple[str, ...]) -> str:
    return ", ".join(CAPACITY[name] for name in names)


def _word(view: SectionView) -> str:
    """HOLD or REJECT, by gravity or for every use; empty of a stick that is accepted for one."""
    if view.owner is None:
        return ""
    words = set(view.owner.words.values())
    by_use = next((word for word in (ACCEPT, HOLD, REJECT) if word in words), ACCEPT)
    worst = max(view.owner.verdict.word, by_use, key=(ACCEPT, HOLD, REJECT).index)
    return "" if worst == ACCEPT else worst.upper()


def of_stick(view: SectionView) -> str:
    """What a claim is worth that rests on a stick; empty where it rests on none.

    Args:
        view: a section that could be worked out.
    """
    word = f", {_word(view)}" if _word(view) else ""
    if view.coupons is not None:
        return f"; as measured on {view.coupons.figures[0].count} coupons of {view.coupons.group}"
    if not view.measured or view.use is None:
        return ""
    if view.estimate is not None:
        return f"; as estimated of {view.measured}{word}"
    return as_average(view.use.gravity_12, view.average_12, f"{view.measured} has") + word


def coupons_in_brief(coupons: "CouponWood", system: str) -> str:
    """How many coupons a section rests on, and their lower limit, in one phrase."""
    bent = coupons.figures[0]
    limit = units.stress_down(bent.limit, system)
    rest = f"lowered to {units.ratio(coupons.lowered)}" if coupons.lowered < 1 else "by the book"
    return f"{bent.count} coupons of {coupons.group} bent, lower 5 % limit {limit}; the rest {rest}"


def of_coupons(view: SectionView, system: str) -> tuple[str, ...]:
    """What a section that rests on coupons rests on: every figure with its tests and its lower limit.

    Args:
        view: a section that could be worked out.
        system: "in" or "mm".
    Returns:
        Sentences; empty where it rests on none.
    """
    found = view.coupons
    if found is None:
        return ()
    said = []
    for figure in found.figures:
        value, mean, limit = (
            units.stress_down(one, system) for one in (figure.value, figure.mean, figure.limit)
        )
        why = "the low end of the 95 % interval of their mean"
        if figure.value < figure.low:
            why = "the book's average, as few coupons never raise it"
        size = ", size effect taken off in full" if figure.name == "bending" else ""
        said.append(
            f"{CAPACITY[figure.name]} rests on {figure.count} coupons of {found.group}: {value} taken, "
            f"{why}; their mean {mean}, lower 5 % limit {limit}; 12 % moisture{size}"
        )
    lowered = f"lowered to {units.ratio(found.lowered)} as bending is" if found.lowered < 1 else "as they are"
    sticks = f" cut from {', '.join(found.sticks)}" if found.sticks else ", their sticks not named"
    return (
        *said,
        f"the other strengths are the handbook's averages, {lowered}",
        f"coupons {', '.join(found.tags)}{sticks}: the part must be of their lot; no coupon approves a part",
    )


def as_average(gravity: float, average: float | None, whose: str) -> str:
    """What a claim is worth that takes a gravity from a stick and strengths from its species' average.

    Args:
        gravity: of the stick, on the volume at 12 percent [1].
        average: of the species, same basis; None: not known [1].
        whose: what comes before the gravity.
    """
    known = f" {units.gravity(average)}" if average is not None else ""
    return f": ONLY as clear wood of average gravity{known}; {whose} {units.gravity(gravity)} (12 % volume)"


def new_wood(view: SectionView) -> str:
    """The replacement's wood, or those of its layers from the compressed face on.

    Args:
        view: a section that could be worked out.
    """
    if view.layers:
        return " + ".join(ply.wood.name for ply in view.layers)
    return view.use.name if view.use is not None else ""


def parts_note(choice: SectionChoice) -> str:
    """How the parts of the list are sized where the section is no solid rectangle; empty where it is one.

    Args:
        choice: of the Section pane.
    """
    if choice.shape == "rectangle":
        return ""
    if choice.shape == "laminated":
        return "parts: those of this section take its layers, the others have no size"
    return "parts of the list are sized as solid rectangles"


def shop_size(resized: Resized, system: str = "in") -> str:
    """Every size to set the saw to: `53/64 x 3/4 in`, `3/4 in round`, `1 x 4 in, flange 3/4 in, web 1/4 in`.

    Args:
        resized: the match.
        system: "in" or "mm".
    """
    sizes = resized.shop_sizes
    if "diameter" in sizes:
        return f"{units.shop(sizes['diameter'], AS_DRAWN, system)} round"
    said = units.sides(*resized.shop, system)
    walls = [name for name in ("flange", "web") if name in sizes]
    said += "".join(f", {name} {units.shop(sizes[name], AS_DRAWN, system)}" for name in walls)
    if isinstance(resized.shop_section, Laminated):
        names = [ply.wood.name for ply in resized.shop_section.plies]
        layers = [size for name, size in sizes.items() if name != "width"]
        each = [
            f"{units.shop(size, AS_DRAWN, system)} {name}" for size, name in zip(layers, names, strict=True)
        ]
        said += f": {' + '.join(each)}"
    return said


def exact_size(resized: Resized, system: str = "in") -> str:
    """The exact size, each length rounded up in its last digit, as `shop_size`.

    Args:
        resized: the match.
        system: "in" or "mm".
    """
    return _written(resized.exact, lambda size: units.length_up(size, system, 4))


def plan_size(resized: Resized, system: str = "in") -> str:
    """The drawing's size, in decimals.

    Args:
        resized: the match.
        system: "in" or "mm".
    """
    return _written(resized.plan, lambda size: units.length(size, system, 4))


def _written(section: Part, write: Callable[[float], str]) -> str:
    if section.name == "round":
        return f"{write(section.depth)} round"
    said = " x ".join(write(side) for side in (section.width, section.depth))
    others = [name for name in section.sizes if name not in ("width", "depth")]
    return said + "".join(f", {name} {write(section.sizes[name])}" for name in others)


def warnings(resized: Resized, plan: Wood, use: Wood) -> tuple[str, ...]:
    """What must be said beside a section of any shape: what is recalled, second-hand or only a bound.

    Args:
        resized: the match.
        plan: the drawing's wood.
        use: the replacement.
    Returns:
        Sentences, empty where nothing is to be said.
    """
    said: list[str] = []
    exact = resized.exact
    woods = [plan, *(ply.wood for ply in exact.plies)] if isinstance(exact, Laminated) else [plan, use]
    if resized.recalled and "bending" in resized.ratios:
        before, after, _ = resized.form_factors
        said.append(
            f"bending of a box or I rests on a form factor of the modulus of rupture ({before:.3f} plan, "
            f"{after:.3f} new) that is RECALLED, NOT READ"
        )
    if not resized.euler and "column" in resized.ratios:
        said.append(
            "columns are of clear wood (wh282 eq. 9-27): tests of sawn timber lie up to a quarter lower "
            "between short and long"
        )
    if resized.plan.name == "box" and "torsion" in resized.ratios:
        said.append("twisting stiffness of a box is 2 to 9 % under finite elements (plan and new one alike)")
    if resized.plan.name == "i" and "torsion" in resized.ratios:
        said.append(
            "twisting stiffness of an I rests on a junction term that is RECALLED, NOT READ: by finite "
            "elements 3.4 % HIGH of 1 x 4 in, 10 low to 4 high in spars"
        )
    if isinstance(exact, Laminated):
        if "bending" in resized.ratios:
            first = laminated.bending_of(exact)[1]
            name = exact.plies[first].wood.name
            said.append(f"in bending layer {first + 1} ({name}) breaks first; what then holds is not counted")
        said.append("every glue line is taken to hold; twisting stiffness of layers is a lower bound")
    for name in dict.fromkeys(wood.name for wood in woods):
        wood = next(wood for wood in woods if wood.name == name)
        if any(strength.standing_of(figure) == "second-hand" for figure in wood.figures):
            said.append(f"some figures of {name} are SECOND-HAND: not read in their source")
    if resized.basis == AIRCRAFT:
        said.append("design values of several editions stand side by side: the working shows each source")
    return tuple(said)


def basis(wood: Wood) -> str:
    """What the strengths of a wood are, in one phrase."""
    if wood.basis == AIRCRAFT:
        return BASIS_AIRCRAFT
    if wood.coupons:
        names = " and ".join(CAPACITY[name] for name in wood.coupons)
        return f"{names} by coupons, the rest {wording.BASIS_OF_STRENGTH}"
    if wood.moisture == 0.12:
        return wording.BASIS_OF_STRENGTH
    return (
        f"{wording.BASIS_OF_STRENGTH}; strengths brought to {units.percent(wood.moisture)} by wh282 eq. 5-3, "
        "energy to break left at 12 %"
    )
