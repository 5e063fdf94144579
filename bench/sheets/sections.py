"""A section in words: its sizes as finished, and what must be said beside its figures."""

from collections.abc import Callable

from bench import units
from bench.core import laminated, strength
from bench.core.capacities import Part
from bench.core.laminated import Laminated
from bench.core.resizing import AS_DRAWN, Resized
from bench.core.strength import AIRCRAFT, Wood
from bench.sheets import wording

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
        said.append(
            "torsion of a box is 2 to 9 % under finite elements (wall of the plan and the new one alike)"
        )
    if isinstance(exact, Laminated):
        if "bending" in resized.ratios:
            first = laminated.bending_of(exact)[1]
            name = exact.plies[first].wood.name
            said.append(f"in bending layer {first + 1} ({name}) breaks first; what then holds is not counted")
        said.append("every glue line is taken to hold; torsion of layers is a lower bound")
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
    if wood.moisture == 0.12:
        return wording.BASIS_OF_STRENGTH
    return (
        f"{wording.BASIS_OF_STRENGTH}; strengths brought to {units.percent(wood.moisture)} by wh282 eq. 5-3, "
        "energy to break left at 12 %"
    )
