"""Everything that was recalled and not read, in one place, each with what would confirm it.

Figures of the species stand in their files with `memory = true`; what stands in the code is listed here. A
row is taken out when its source has been read, and the mark at its place with it.
"""

from collections.abc import Iterable

from bench.core import limits
from bench.core.frozen import record
from bench.core.wood import Figure, Species


@record
class Recalled:
    """One thing recalled."""

    what: str
    where: str  # a module of the core, a species or a limit
    bears_on: str  # what rests on it
    confirm: str  # what would have to be read


METHODS = (
    Recalled(
        "form factor of box and I beams in bending",
        "core/shape.py",
        "bending strength of boxes and I sections",
        "NACA Report 181, the formula and its chart",
    ),
    Recalled(
        "what the junction of web and flange adds in torsion",
        "core/sections.py",
        "twisting stiffness of an I section",
        "a table of torsion constants for rolled or fillet-less I sections",
    ),
    Recalled(
        "growth of a wet rim with the root of time, and its size after a minute",
        "core/waterline.py, core/floating.py",
        "the correction by later waterlines, and one cause of the band",
        "measurements of water drawn into softwood and hardwood through end and sides",
    ),
    Recalled(
        "heights that crack half of the coupons, from a series up and down",
        "core/up_and_down.py",
        "the result of such a series of drops",
        "the method's first publication, its formulas and conditions",
    ),
    Recalled(
        "degrees of freedom where two spreads differ",
        "core/samples.py",
        "comparing two groups of coupons",
        "a textbook of statistics, the unequal-variance t test",
    ),
    Recalled(
        "printed values of one-sided tolerance factors",
        "core/samples.py",
        "a check only: the factors are computed",
        "ISO 16269-6, tables of k",
    ),
    Recalled(
        "cautions at break tests",
        "headless/break_answers.py, sheets/breaking.py",
        "words, no figure",
        "a shop handbook or the maintenance manual that governs",
    ),
)


def figures(woods: Iterable[Species]) -> tuple[Recalled, ...]:
    """Every figure of the species and every limit that was recalled.

    Args:
        woods: species of the library.
    Returns:
        Rows, the limits first, then species by species; the place to read is the one the file names.
    Source:
        the species files and core.limits.
    """
    rules = [_of_limit(limit) for limit in limits.LIMITS if limit.memory]
    return (*rules, *(_of_figure(one, species) for species in woods for one in species.figures if one.memory))


def _of_limit(limit: limits.Limit) -> Recalled:
    what = f"{limit.name.replace('_', ' ')}, {limit.printed} {limit.unit}"
    return Recalled(what, "core/limits.py", "inspection of a stick", f"{limit.document} {limit.where}")


def _of_figure(figure: Figure, species: Species) -> Recalled:
    what = f"{figure.quantity.replace('_', ' ')}, {figure.printed} {figure.unit}"
    bears_on = "shown; decides nothing about a stick" if figure.used else "shown only"
    return Recalled(what, species.key, bears_on, f"{figure.source} {figure.where}")
