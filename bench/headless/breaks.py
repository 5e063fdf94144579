"""The verb `breaks`: one coupon dropped on, bent or slid out, and groups of coupons compared."""

from collections.abc import Callable
from pathlib import Path

from bench.core import bending_test, breaking, slide_out, working_breaks
from bench.core.bending_readings import check_ended, from_no_load
from bench.core.breaking import Blow
from bench.core.coupon import BROKEN, NOTHING
from bench.core.errors import OutOfRange, Refusal
from bench.headless import break_answers, break_compare, break_files
from bench.headless.answers import Answer
from bench.headless.arguments import SPECIES_WANTED, Given, Option
from bench.headless.section import GRAVITY_RANGE

TEST, FILE = "drop|bend|slide|compare", "FILE.csv"
_OF = {
    "drop": ("--weight", "--height", "--blows", "--size", "--span"),
    "bend": ("--load", "--slope", "--readings", "--size", "--span"),
    "slide": ("--weight", "--reach", "--size", "--sg", "--jaw"),
    "compare": (FILE, "--between", "--coupons", "--property", "--species", "--to"),
}
OPTIONS = {
    "breaks": (
        Option(TEST, "choice", "which test", needed=True, choices=tuple(_OF)),
        Option(FILE, "name", "of compare: a table with the columns group and value, and moisture if it was "
               "measured", needed=True, wanted="a table with the columns group and value"),
        Option("--size", "size", "width x depth of the coupon, one value for a square; bare is inches",
               needed=True),
        Option("--span", "length", "of drop and bend: between the supports", needed=True),
        Option("--weight", "mass", "of drop and slide: that falls, or hangs on the stick", needed=True),
        Option("--height", "length", "of drop: of each blow in order; the last one broke it", many=True),
        Option("--blows", "name", "of drop, instead of --height: with what each did",
               wanted="heights like '10, 12 x2, 14 crack, 15 broken'"),
        Option("--load", "force", "of bend: the greatest; that of the readings if not given"),
        Option("--slope", "name", "of bend: load over deflection, bare is lbf/in",
               wanted=break_files.SLOPE.wanted),
        Option("--readings", "file", "of bend: a table (CSV) with the columns load and deflection",
               wanted="a table with the columns load and deflection"),
        Option("--reach", "length", "of slide: from the jaw to the weight when it broke", needed=True),
        Option("--sg", "gravity", "of slide: of the stick with its water, as a float stick reads; its own "
               "weight is left out if not given"),
        Option("--jaw", "length", "of slide: how much of the stick the jaws hold; for the band"),
        Option("--between", "name", "of compare: the two groups, where there are more",
               wanted="two groups with a comma between"),
        Option("--coupons", "choice", "of compare: cut to equal size or to equal weight",
               choices=("size", "weight")),
        Option("--property", "choice", "of compare: what the values are, to bring them to one moisture",
               choices=break_compare.PROPERTIES),
        Option("--species", "name", "of compare, with --property: one wood, or one for each group",
               needed=True, wanted=f"{SPECIES_WANTED}, or several with a comma between"),
        Option("--to", "moisture", "of compare, with --property: the moisture; 12 % if not given"),
    )
}  # fmt: skip
_NAMED = {
    **{name: f"--{name}" for name in ("weight", "span", "size", "load", "slope", "readings", "reach", "jaw")},
    "gravity": "--sg",
}


def _breaks(given: Given) -> Answer:
    test = given.text(TEST)
    for option in dict.fromkeys(name for names in _OF.values() for name in names):
        if given.has(option) and option not in _OF[test]:
            tests = " and ".join(name for name, names in _OF.items() if option in names)
            said = f"{option} {given.text(option)}" if option == FILE else option
            raise Refusal(f"{said}: belongs to breaks {tests}, not to breaks {test}", option)
    return _TESTS[test](given)


def _drop(given: Given) -> Answer:
    mass, (width, depth), span = _coupon(given, "--weight")
    blows, named = _blows(given)
    with given.naming({**_NAMED, **dict.fromkeys(("height", "blow"), named)}):
        found = breaking.drop_test(mass, blows, width, depth, span)
    return break_answers.drop(
        found,
        len(blows),
        given.text("--units", "in"),
        working_breaks.of_drop(found, mass, width, depth, span),
    )


def _coupon(given: Given, name: str) -> tuple[float, tuple[float, float], float]:
    """One needed value, the section of the coupon [m] and its span [m]."""
    first = given.value(name).si
    return first, _size(given), given.value("--span").si


def _size(given: Given) -> tuple[float, float]:
    width, depth = given.size("--size", 2)
    return width.si, depth.si


def _blows(given: Given) -> tuple[list[Blow], str]:
    """The blows, and the option they were given by."""
    if given.has("--height") == given.has("--blows"):
        said = "both given" if given.has("--blows") else "not given"
        raise Refusal(
            f"--height: {said}; each blow with --height, or all of them with --blows, is wanted", "--height"
        )
    if given.has("--blows"):
        with given.naming({"blow": "--blows", "length": "--blows", "height": "--blows"}):
            read = break_files.blows(given.text("--blows"))
        return [Blow(height.si, outcome) for height, outcome in read], "--blows"
    heights = [typed.si for typed in given.values("--height")]
    with given.naming({"blow": "--height"}):
        if len(heights) > break_files.MOST_BLOWS:
            raise OutOfRange("blow", len(heights), f"{break_files.MOST_BLOWS} blows is the most")
    return [*(Blow(height, NOTHING) for height in heights[:-1]), Blow(heights[-1], BROKEN)], "--height"


def _bend(given: Given) -> Answer:
    width, depth = _size(given)
    span = given.value("--span").si
    load = given.value("--load").si if given.has("--load") else None
    readings = break_files.readings(Path(given.text("--readings"))) if given.has("--readings") else ()
    slope = None
    with given.naming(_NAMED):
        if given.has("--slope"):
            slope = break_files.slope(given.text("--slope"))
        if load is None and not readings:
            raise Refusal("--load: not given; the load at failure, or --readings, is wanted", "--load")
        if load is None:
            check_ended(readings)
        found = bending_test.bending_test(width, depth, span, load, slope, from_no_load(readings))
    steps = working_breaks.of_bending(found, width, depth, span)
    return break_answers.bend(found, given.text("--units", "in"), steps)


def _slide(given: Given) -> Answer:
    mass, (width, depth), reach = given.value("--weight").si, _size(given), given.value("--reach").si
    own, jaw = 0.0, given.value("--jaw").si if given.has("--jaw") else 0.0
    with given.naming(_NAMED):
        if given.has("--sg"):
            gravity, (least, most) = given.value("--sg").si, GRAVITY_RANGE
            if not least <= gravity <= most:
                raise OutOfRange("gravity", gravity, f"{least} to {most} is possible for wood")
            own = slide_out.own_weight(gravity, width, depth)
        found = slide_out.slide_out(mass, reach, width, depth, own, jaw)
    steps = working_breaks.of_slide(found, mass, reach, own, width, depth)
    return break_answers.slide(found, given.has("--sg"), given.text("--units", "in"), steps)


def _compare(given: Given) -> Answer:
    return break_compare.answer(given, Path(given.text(FILE)))


_TESTS: dict[str, Callable[[Given], Answer]] = {
    "drop": _drop,
    "bend": _bend,
    "slide": _slide,
    "compare": _compare,
}
ANSWERS = {"breaks": _breaks}
