"""The verb `section`: the size in another wood that matches the plan's, and what the match gives away."""

from fractions import Fraction

from bench import units
from bench.core import resizing, sections, strength, working
from bench.core.errors import BadInput, OutOfRange, Refusal
from bench.core.laminated import Ply
from bench.core.records import Species, Typed
from bench.core.resizing import CAPACITIES, MATCHES
from bench.core.sections import SHAPES, SIDES, WALLED
from bench.core.strength import AIRCRAFT, HANDBOOK, STRENGTHS, Wood
from bench.headless import section_answers
from bench.headless.answers import Answer
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.library import Library
from bench.sheets import sections as sentences
from bench.sheets import wording

# Between the lightest wood and cell-wall substance; the same bounds as in a species file.
GRAVITY_RANGE = (0.05, 1.5)
MOST_MOISTURE = 0.3  # about where all cell walls are full of water, as for the sections of a job
FIGURES = (HANDBOOK, AIRCRAFT)
LAYERS_WANTED = "layers like '1/8 white_ash, 1/2 sitka_spruce, 1/8 white_ash'"
CAP_WANTED = "a side and the most it may be, like 'depth 3/4'"
SIZES_WANTED = "sizes with a comma between, like '1/4, 3/8, 1/2'"
OWN_WANTED = f"one or more of {', '.join(CAPACITIES)}, with a comma between"

OPTIONS = {
    "section": (
        species_option("--plan", "the drawing's wood"),
        species_option("--use", "the replacement; of a laminated one --layers says it", needed=False),
        Option(
            "--size", "size", "width x depth of the plan, one value for a square; bare is inches", needed=True
        ),
        Option("--match", "choice", "what stays equal; all: weaker in nothing", needed=True, choices=MATCHES),
        Option("--own", "name", "with --match own: the capacities that matter", wanted=OWN_WANTED),
        Option("--hold", "choice", "side that is not solved; as drawn, or --held-at", choices=SIDES),
        Option(
            "--held-at", "length", "the held side as measured on the replacement; the plan's if not given"
        ),
        Option("--cap", "name", "side that must fit a slot: there the other is solved", wanted=CAP_WANTED),
        Option("--length", "length", "free length of a column; the Euler load if not given"),
        Option("--shape", "choice", "of the section; a rectangle if not given", choices=SHAPES),
        Option("--flange", "length", "thickness of one flange of a box or I"),
        Option("--web", "length", "thickness of one web of a box or I"),
        Option("--layers", "name", "of a laminated replacement, compressed face first", wanted=LAYERS_WANTED),
        Option("--figures", "choice", "handbook averages, or aircraft design values", choices=FIGURES),
        Option(
            "--plan-sg", "gravity", "of the plan's wood, on the volume at 12 %; the handbook's if not given"
        ),
        Option(
            "--use-sg", "gravity", "of the replacement, on the volume at 12 %; the handbook's if not given"
        ),
        Option("--moisture", "moisture", "of both woods; 12 % if not given"),
        Option("--grid", "length", "finest step of the shop's sizes; 1/64 in if not given"),
        Option("--sizes", "name", "the only sizes the shop can set", wanted=SIZES_WANTED),
    )
}
# The core's name of a quantity -> the option it was given by.
NAMES = {
    **dict.fromkeys((*STRENGTHS, *CAPACITIES, "match"), "--match"),
    **dict.fromkeys(("size", "width", "depth"), "--size"),
    **{
        name: f"--{name}"
        for name in ("own", "hold", "cap", "flange", "web", "grid", "sizes", "layers", "shape")
    },
    "held at": "--held-at",
    "free length": "--length",
}


def _section(given: Given) -> Answer:
    library = shelf()
    _refuse_apart(given)
    plan = _wood(given, "--plan", pick(library, given, "--plan"))
    layers = _layers(given, library)
    use_species = _use(given, library)
    use = layers[0].wood if use_species is None else _wood(given, "--use", use_species)
    width, depth = given.size("--size", 2)
    match = given.text("--match")
    with given.naming(NAMES):
        _refuse_unknown(match, plan, (use, *(ply.wood for ply in layers)))
        cap_side, cap = _cap(given)
        flange, web = (given.value(name).si if given.has(name) else None for name in ("--flange", "--web"))
        resized = resizing.resize(
            sections.made(given.text("--shape", SHAPES[0]), width.si, depth.si, flange, web),
            plan,
            use,
            match,
            given.text("--hold"),
            given.value("--length").si if given.has("--length") else None,
            given.value("--grid", "1/64 in").exact,
            own=_listed(given, "--own"),
            held_at=given.value("--held-at").si if given.has("--held-at") else None,
            cap_side=cap_side,
            cap=cap,
            sizes=_sizes(given),
            layers=layers,
        )
    said = (*section_answers.unknown(resized), *sentences.warnings(resized, plan, use))
    average = use.gravity_12 if use_species is None else strength.gravity_12(use_species)[0]
    recalled = wording.section_warnings(plan, use, average)
    system = given.text("--units", "in")
    return Answer(
        section_answers.data(resized, plan, use, shop_unit(given)),
        section_answers.tables(resized, plan, use, system, None if use_species is None else average),
        (wording.CAUTION_SHORT, *said, *recalled, *faults(library)),
        working.of_section(resized, plan, use),
    )


def _refuse_apart(given: Given) -> None:
    """Refuse options that say nothing together."""
    shape, aircraft = given.text("--shape", SHAPES[0]), given.text("--figures") == AIRCRAFT
    for name in ("--moisture", "--plan-sg", "--use-sg"):
        if aircraft and given.has(name):
            why = "aircraft design values are of the species, at 15 %, and are not brought elsewhere"
            raise Refusal(f"{name}: not possible with --figures {AIRCRAFT}; {why}", name)
    for name in ("--flange", "--web"):
        if shape in WALLED and not given.has(name):
            which = {"box": "a box", "i": "an I section"}[shape]
            raise Refusal(f"--shape: {which} needs {name}, the thickness of one {name[2:]}", "shape", shape)
        if given.has(name) and shape not in WALLED:
            raise Refusal(f"{name}: belongs to --shape {' or '.join(WALLED)}, not to {shape}", name)
    if shape == "laminated":
        if not _listed(given, "--layers"):
            raise Refusal(f"--layers: not given; {LAYERS_WANTED} are wanted", "layers")
        for name in ("--use", "--use-sg"):
            if given.has(name):
                raise Refusal(f"{name}: not possible with --shape laminated; --layers says the woods", name)
    elif given.has("--layers"):
        raise Refusal(f"--layers: belongs to --shape laminated, not to {shape}", "layers")
    if given.has("--own") and given.text("--match") != "own":
        raise Refusal(f"--own: belongs to --match own, not to --match {given.text('--match')}", "own")


def _use(given: Given, library: Library) -> Species | None:
    if given.text("--shape", SHAPES[0]) == "laminated":
        return None
    if not given.has("--use"):
        raise Refusal("--use: not given; a species key like white_ash is wanted", "--use")
    return pick(library, given, "--use")


def _layers(given: Given, library: Library) -> tuple[Ply, ...]:
    layers = []
    for text in _listed(given, "--layers"):
        thickness, _, key = text.rpartition(" ")
        with given.naming(dict.fromkeys(("length", "species", "layers"), "--layers")):
            if not thickness.strip():
                raise BadInput("layers", text, "has no thickness before its wood", LAYERS_WANTED)
            ply = units.read("length", thickness)
            if not ply.exact > 0:
                raise OutOfRange("layers", ply.si, "every layer needs a thickness above zero")
            species = library.get(key)
        layers.append(Ply(_wood(given, "--layers", species), ply.si))
    return tuple(layers)


def _listed(given: Given, name: str) -> tuple[str, ...]:
    return tuple(text.strip() for text in given.text(name).split(",") if text.strip())


def _sizes(given: Given) -> tuple[Fraction, ...]:
    with given.naming({"length": "--sizes"}):
        return tuple(units.read("length", text).exact for text in _listed(given, "--sizes"))


def shop_unit(given: Given) -> str:
    """The unit of the shop's sizes, "in" or "mm": as the list of them or their step was typed."""
    typed = given.text("--sizes") if given.has("--sizes") else given.text("--grid")
    first = typed.split(",")[0].strip().lower()
    return "mm" if first.endswith("m") else "in"


def _cap(given: Given) -> tuple[str, float | None]:
    if not given.has("--cap"):
        return "", None
    text = given.text("--cap")
    side, _, most = text.strip().partition(" ")
    if side not in SIDES or not most.strip():
        raise BadInput("cap", text, "is no side with a size", CAP_WANTED)
    with given.naming({"length": "--cap"}):
        return side, units.read("length", most).si


def _wood(given: Given, name: str, species: Species) -> Wood:
    own = f"{name}-sg"
    gravity = None
    if name in ("--plan", "--use") and given.has(own):
        gravity = given.value(own).si
        least, most = GRAVITY_RANGE
        if not least <= gravity <= most:
            with given.naming({"gravity": own}):
                raise OutOfRange("gravity", gravity, f"{least} to {most} is possible for wood")
    lacks = dict.fromkeys(("specific gravity", "weight", "figures", "shrinkage"), name)
    with given.naming({**lacks, "moisture": "--moisture"}):
        if given.text("--figures", HANDBOOK) == AIRCRAFT:
            return strength.aircraft(species)
        return strength.of(species, moisture_of(given), gravity=gravity)


def moisture_of(given: Given) -> float:
    """Moisture of all woods, within the limits of the Section pane [1]; raises OutOfRange."""
    moisture: Typed = given.value("--moisture", "12 %")
    if not 0 <= moisture.si <= MOST_MOISTURE:
        raise OutOfRange("moisture", moisture.si, "0 to 30 % is possible", moisture.text)
    return moisture.si


def _refuse_unknown(match: str, plan: Wood, others: tuple[Wood, ...]) -> None:
    """Refuse a match of all where nothing is known of one of the woods."""
    common = {name for name, _ in plan.strengths}.intersection(*({n for n, _ in w.strengths} for w in others))
    if match == "all" and not common:
        why = "weight is the only match, as the library has no strength of one of these woods"
        raise OutOfRange("match", match, why)


ANSWERS = {"section": _section}
