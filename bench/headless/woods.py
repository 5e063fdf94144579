"""The verb `woods`: every species of the library in place of the plan's, lightest first."""

from typing import Any

from bench import units
from bench.core import ranking, working
from bench.core.errors import Refusal
from bench.core.quantities import INCH
from bench.core.ranking import COMPARED, FIGURES, REFUSED, UNKNOWN, Ask, Ranked, Ranking
from bench.core.resizing import CAPACITIES, MATCHES
from bench.core.sections import Rectangle
from bench.core.steps import Step
from bench.core.strength import AIRCRAFT, DESIGN_MOISTURE, HANDBOOK, STRENGTHS
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.section import moisture_of, shop_unit
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.sheets import ranking as sentences
from bench.sheets import sections, wording

OPTIONS = {
    "woods": (
        species_option("--plan", "the drawing's wood"),
        Option(
            "--size", "size", "width x depth of the plan, one value for a square; bare is inches", needed=True
        ),
        Option("--match", "choice", "what stays equal; all: weaker in nothing", needed=True, choices=MATCHES),
        Option("--own", "name", "with --match own: the capacities that matter, like bending,stiffness"),
        Option("--hold", "choice", "side that keeps the plan's size", choices=("width", "depth")),
        Option("--length", "length", "free length of a column; the Euler load if not given"),
        Option(
            "--figures", "choice", "handbook averages, or aircraft design values at 15 %", choices=FIGURES
        ),
        Option("--moisture", "moisture", "of all woods; 12 % if not given"),
        Option("--grid", "length", "finest step of the shop's sizes; 1/64 in if not given"),
    )
}


def _woods(given: Given) -> Answer:
    library = shelf()
    plan = pick(library, given, "--plan")
    ask = _ask(given)
    options = {
        **dict.fromkeys((*STRENGTHS, *CAPACITIES, "match"), "--match"),
        **dict.fromkeys(("size", "width", "depth"), "--size"),
        **dict.fromkeys(("figures", "weight", "specific gravity"), "--plan"),
        **{name: f"--{name}" for name in ("own", "hold", "grid", "moisture")},
        "free length": "--length",
    }
    with given.naming(options):
        found = ranking.rank(ask, plan, library.species)
    system, unit = given.text("--units", "in"), shop_unit(given)
    basis = _basis(found)
    return Answer(
        {
            "basis": basis,
            "ranking": [_row(row, unit) for row in found.of(COMPARED)],
            "not_compared": [_row(row, unit) for row in found.of(UNKNOWN)],
            "refused": [_row(row, unit) for row in found.of(REFUSED)],
        },
        _tables(found, basis, system),
        (wording.CAUTION_SHORT, *_warnings(found), *faults(library)),
        _working(found),
    )


def _working(found: Ranking) -> tuple[Step, ...]:
    """Of the best; `section --working` has that of any other."""
    best = next(iter(found.of(COMPARED)), None)
    if best is None or best.resized is None or best.wood is None:
        return ()
    return working.of_section(best.resized, found.plan, best.wood)


def _ask(given: Given) -> Ask:
    width, depth = given.size("--size", 2)
    figures = given.text("--figures", HANDBOOK)
    if figures == AIRCRAFT and given.has("--moisture"):
        why = f"aircraft design values are at {units.percent(DESIGN_MOISTURE)} and are not brought elsewhere"
        raise Refusal(f"--moisture: not possible with --figures {AIRCRAFT}; {why}", "--moisture")
    own = tuple(name.strip() for name in given.text("--own").split(",") if name.strip())
    match = given.text("--match")
    if match == "own" and not own:
        raise Refusal("--own: not given; what matters is wanted, like bending,stiffness", "own")
    if own and match != "own":
        raise Refusal(f"--own: belongs to --match own, not to --match {match}", "own")
    with given.naming({"width": "--size", "depth": "--size"}):
        section = Rectangle(width.si, depth.si)
    with given.naming({"moisture": "--moisture"}):
        moisture = moisture_of(given)
    return Ask(
        section,
        match,
        given.text("--hold"),
        given.value("--length").si if given.has("--length") else None,
        given.value("--grid", "1/64 in").exact,
        figures,
        moisture,
        own,
    )


def _basis(found: Ranking) -> str:
    moisture = f"all woods at {units.percent(found.plan.moisture)} moisture"
    if found.plan.basis == AIRCRAFT:
        return f"aircraft design values; {moisture}"
    return f"{wording.BASIS_OF_STRENGTH.replace(' at 12 % moisture', '')}; {moisture}"


def _warnings(found: Ranking) -> tuple[str, ...]:
    return tuple(
        f"some figures are {said}: {', '.join(names)}"
        for standing, said in sentences.DOUBTS.items()
        if (names := [sentences.name(row) for row in found.rows if standing in sentences.standings(row)])
    )


def _row(row: Ranked, unit: str) -> dict[str, Any]:
    """A wood as JSON, its shop size in a unit; sizes are left out where there are none."""
    told: dict[str, Any] = {"species": row.species, "name": sentences.name(row)}
    if row.standing != COMPARED:
        told["reason"] = sentences.why(row)
    if row.resized is None:
        return told
    exact, shop = row.resized.exact, row.resized.shop
    return {
        **told,
        "width_in": exact.width / float(INCH),
        "depth_in": exact.depth / float(INCH),
        "width_mm": exact.width * 1000,
        "depth_mm": exact.depth * 1000,
        "shop_size": units.sides(*shop, unit),
        "shop_unit": unit,
        "ratios": dict(row.resized.ratios),
        "shop_ratios": dict(row.resized.shop_ratios),
        "weaker": list(row.resized.weaker),
        "unknown": list(row.unknown),
        "governs": row.resized.governs,
    }


def _tables(found: Ranking, basis: str, system: str) -> tuple[Table, ...]:
    ask = found.ask
    names = tuple(name for name in sentences.SHORT if name != "weight")
    rows = tuple(
        (
            sentences.name(row),
            units.sides(*row.resized.shop, system),
            sections.share("weight", row.resized.ratios["weight"]),
            *(_share(row, name) for name in names),
        )
        for row in found.of(COMPARED)
        if row.resized is not None
    )
    title = f"Woods for {found.plan.name}, {sections.matched(ask)}: percent of the plan, exact size; {basis}"
    columns = ("wood", "shop size", "weight", *(sentences.SHORT[name] for name in names))
    tables = [Table(title, columns, rows)]
    for place in (UNKNOWN, REFUSED):
        if found.of(place):
            reasons = tuple((sentences.name(row), sentences.why(row)) for row in found.of(place))
            tables.append(Table(sentences.HEADINGS[place], ("wood", "why"), reasons))
    return tuple(tables)


def _share(row: Ranked, name: str) -> str:
    ratios = row.resized.ratios if row.resized is not None else {}
    return sentences.whole_percent(ratios[name]) if name in ratios else "?"


ANSWERS = {"woods": _woods}
