"""The verb `section`: the size in another wood that matches the plan's, and what the match gives away."""

from typing import Any

from bench import units
from bench.core import resizing, strength, working
from bench.core.errors import OutOfRange, Refusal
from bench.core.quantities import INCH
from bench.core.records import Species, Typed
from bench.core.resizing import CAPACITIES, MATCHES, Resized, Section
from bench.core.strength import STRENGTHS, Wood
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.sheets import wording

# Between the lightest wood and cell-wall substance; the same bounds as in a species file.
GRAVITY_RANGE = (0.05, 1.5)

OPTIONS = {
    "section": (
        species_option("--plan", "the drawing's wood"),
        species_option("--use", "the replacement"),
        Option(
            "--size", "size", "width x depth of the plan, one value for a square; bare is inches", needed=True
        ),
        Option("--match", "choice", "what stays equal; all: weaker in nothing", needed=True, choices=MATCHES),
        Option("--hold", "choice", "side that keeps the plan's size", choices=("width", "depth")),
        Option("--length", "length", "free length of a column; the Euler load if not given"),
        Option("--shape", "name", "rectangle, the only one computed by this version"),
        Option(
            "--plan-sg", "gravity", "of the plan's wood, on the volume at 12 %; the handbook's if not given"
        ),
        Option(
            "--use-sg", "gravity", "of the replacement, on the volume at 12 %; the handbook's if not given"
        ),
        Option("--moisture", "moisture", "of both woods; 12 % if not given"),
        Option("--grid", "length", "finest step of the shop's sizes; 1/64 in if not given"),
    )
}


def _section(given: Given) -> Answer:
    library = shelf()
    plan_species, use_species = pick(library, given, "--plan"), pick(library, given, "--use")
    _refuse_shape(given.text("--shape", "rectangle"))
    width, depth = given.size("--size", 2)
    match, hold = given.text("--match"), given.text("--hold")
    free = given.value("--length").si if given.has("--length") else None
    grid = given.value("--grid", "1/64 in")
    moisture = given.value("--moisture", "12 %")
    plan = _wood(given, "--plan", plan_species, moisture)
    use = _wood(given, "--use", use_species, moisture)
    with given.naming(dict.fromkeys((*STRENGTHS, "match"), "--match")):
        _refuse_unknown(match, plan, use)
        section = Section(width.si, depth.si)
        resized = resizing.resize(section, plan, use, match, hold, free, grid.exact)
    system = given.text("--units", "in")
    shop = units.sides(*resized.shop, system)
    basis = _basis(plan, use)
    average = strength.gravity_12(use_species)[0]
    said = (*_warnings(resized), *wording.section_warnings(resized, plan, use, average), *faults(library))
    return Answer(
        _data(resized, shop, basis),
        _tables(resized, plan, use, shop, basis, system),
        (wording.CAUTION_SHORT, *said),
        working.of_section(resized, plan, use),
    )


def _refuse_shape(shape: str) -> None:
    if shape != "rectangle":
        why = "only rectangle is computed by this version"
        raise Refusal(f"--shape: {shape!r} cannot be computed; {why}", "shape", shape)


def _wood(given: Given, name: str, species: Species, moisture: Typed) -> Wood:
    own = f"{name}-sg"
    gravity = None
    if given.has(own):
        gravity = given.value(own).si
        least, most = GRAVITY_RANGE
        if not least <= gravity <= most:
            with given.naming({"gravity": own}):
                raise OutOfRange("gravity", gravity, f"{least} to {most} is possible for wood")
    with given.naming({"specific gravity": name, "moisture": "--moisture"}):
        return strength.of(species, moisture.si, gravity=gravity)


def _refuse_unknown(match: str, plan: Wood, use: Wood) -> None:
    """Refuse a match of all where nothing is known of one of the woods."""
    if match == "all" and not {name for name, _ in plan.strengths} & {name for name, _ in use.strengths}:
        why = "weight is the only match, as the library has no strength of one of these woods"
        raise OutOfRange("match", match, why)


def _basis(plan: Wood, use: Wood) -> str:
    moisture = f"both woods at {units.percent(plan.moisture)} moisture"
    gravity = f"gravity of the plan {_gravity(plan)}, of the replacement {_gravity(use)}"
    return f"{moisture}; {_strengths(plan)}; {gravity}"


def _strengths(wood: Wood) -> str:
    if wood.moisture == 0.12:
        return wording.BASIS_OF_STRENGTH
    return (
        f"{wording.BASIS_OF_STRENGTH}; strengths brought to {units.percent(wood.moisture)} by wh282 eq. 5-3, "
        "energy to break left at 12 %"
    )


def _gravity(wood: Wood) -> str:
    # The first figure of a wood is its gravity.
    brought = f", brought from {wood.figures[0].volume} volume" if wood.figures[0].volume != "12 %" else ""
    origin = "given" if wood.measured else f"library average{brought}"
    return f"{units.gravity(wood.gravity_12)} ({origin}, {wording.BASIS_12})"


def _warnings(resized: Resized) -> tuple[str, ...]:
    if not resized.unknown:
        return ()
    names = ", ".join(f"{wording.CAPACITY[name]} ({name})" for name in resized.unknown)
    return (f"not known, so not compared: {names}; the library lacks a figure",)


def _data(resized: Resized, shop: str, basis: str) -> dict[str, Any]:
    width, depth = resized.exact.width, resized.exact.depth
    return {
        "width_in": width / float(INCH),
        "depth_in": depth / float(INCH),
        "width_mm": width * 1000,
        "depth_mm": depth * 1000,
        "area_factor": resized.area_factor,
        "side_factor": resized.side_factor,
        "ratios": dict(resized.ratios),
        "weaker": list(resized.weaker),
        "governs": resized.governs,
        "basis": basis,
        "shop_size": shop,
        "shop_ratios": dict(resized.shop_ratios),
    }


def _tables(resized: Resized, plan: Wood, use: Wood, shop: str, basis: str, system: str) -> tuple[Table, ...]:
    def sides(section: Section) -> str:
        return f"{units.length(section.width, system, 4)} x {units.length(section.depth, system, 4)}"

    held = f", {resized.hold} held" if resized.hold else ""
    sizes = Table(
        f"Section: {plan.name} to {use.name}, by {wording.CAPACITY[resized.match]}{held}",
        ("", "value", "basis"),
        (
            ("plan", sides(resized.plan), plan.name),
            ("exact size", sides(resized.exact), f"{use.name}; {wording.CAPACITY[resized.governs]} governs"),
            ("shop size", shop, "never to the weak side"),
            ("area", f"{resized.area_factor:.4f}", "replacement over plan, exact size"),
            ("side", f"{resized.side_factor:.4f}", "replacement over plan, exact size"),
            ("basis", "", basis),
            ("", "", wording.weaker(resized)),
        ),
    )
    names = ("weight", *CAPACITIES)
    rows = tuple(
        (
            wording.CAPACITY[name],
            units.ratio(resized.ratios[name]) if name in resized.ratios else "not known",
            units.ratio(resized.shop_ratios[name]) if name in resized.shop_ratios else "not known",
            "less than the plan" if name in resized.weaker else "",
        )
        for name in names
    )
    return sizes, Table("Replacement over plan", ("", "exact size", "shop size", ""), rows)


ANSWERS = {"section": _section}
