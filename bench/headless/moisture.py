"""The verb `moisture`: by drying, in air of one temperature and humidity, and what it does to a size."""

from bench import units
from bench.core import moisture
from bench.core.errors import OutOfRange, Refusal
from bench.core.quantities import INCH
from bench.core.records import Figure
from bench.core.working import Number, Step, place
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option

# More water than the lightest wood can hold with its cavities full (wh282 eq. 4-3): a slip of the unit.
MOST_BY_OVEN = 12.0
MOVEMENT_RANGE = (0.06, 0.14)  # wh190 p. 13-15: where the coefficients hold
FITTED_K = (2 + 273.15, 82 + 273.15)  # wh282 p. 4-4: where the equation is within half a percent
FITTED_HUMIDITY = (0.20, 0.80)

_DRYING = ("--wet", "--dry")
_AIR = ("--temperature", "--humidity")
_MOVING = ("--species", "--size", "--ring", "--from", "--to")
_FORMS = (_DRYING, _AIR, _MOVING)
_PERCENT = "a moisture like 9.5 or 9.5 %"
OPTIONS = {
    "moisture": (
        Option("--wet", "mass", "as found, for moisture by drying; a bare number is pounds", needed=True),
        Option("--dry", "mass", "when oven-dry", needed=True),
        Option("--temperature", "temperature", "of the air, for the moisture in it; bare is C", needed=True),
        Option(
            "--humidity", "moisture", "of the air, relative; a bare number is percent", needed=True,
            wanted="a humidity like 65 or 65 %",
        ),
        species_option("--species", "the wood, for movement of a size"),
        Option("--size", "length", "across the grain at the first moisture; bare is inches", needed=True),
        Option("--ring", "choice", "direction of the size", needed=True, choices=("tangential", "radial")),
        Option("--from", "moisture", "first moisture; bare is percent", needed=True, wanted=_PERCENT),
        Option("--to", "moisture", "second moisture", needed=True, wanted=_PERCENT),
    )
}  # fmt: skip


def _moisture(given: Given) -> Answer:
    chosen = [form for form in _FORMS if any(given.has(name) for name in form)]
    if len(chosen) != 1:
        forms = "; or ".join(", ".join(form) for form in _FORMS)
        mixed = ", ".join(next(name for name in form if given.has(name)) for form in chosen)
        said = f"{mixed}: these do not belong together" if chosen else "moisture: nothing to work out"
        raise Refusal(f"{said}; give {forms}", "moisture")
    if chosen[0] is _DRYING:
        return _by_drying(given)
    return _in_air(given) if chosen[0] is _AIR else _movement(given)


def _by_drying(given: Given) -> Answer:
    wet, dry = given.value("--wet").si, given.value("--dry").si
    with given.naming({"wet mass": "--wet", "dry mass": "--dry"}):
        result = moisture.by_oven(wet, dry)
        if result > MOST_BY_OVEN:
            raise OutOfRange(
                "wet mass", wet, "no wood holds more than 12 times its dry mass of water: look at the units"
            )
    step = Step(
        "moisture by drying",
        "M = (m - m_0) / m_0",
        (Number("m", wet, "mass", "as found"), Number("m_0", dry, "mass", "oven-dry")),
        Number("M", result, "moisture"),
        basis="water over oven-dry mass",
        source="fpl_moisture (1951)",
    )
    rows = (("moisture", units.percent(result, 2), "weight of water over oven-dry weight"),)
    return Answer({"moisture_percent": result * 100}, (_table("Moisture by drying", rows),), working=(step,))


def _in_air(given: Given) -> Answer:
    temperature, humidity = given.value("--temperature").si, given.value("--humidity").si
    with given.naming({"temperature": "--temperature", "humidity": "--humidity"}):
        result = moisture.equilibrium(temperature, humidity)
    warnings = []
    if not (_within(temperature, FITTED_K) and _within(humidity, FITTED_HUMIDITY)):
        warnings.append(
            "outside 2 to 82 C and 20 to 80 % humidity the equation may be off by more than 0.5 %"
        )
    step = Step(
        "moisture in constant air",
        "M = (18/W) [K h/(1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2)]",
        (Number("T", temperature, "temperature", "kelvin"), Number("h", humidity, "moisture")),
        Number("M", result, "moisture"),
        basis="water over oven-dry mass; any wood; not told apart: wetting and drying",
        source=moisture.MODEL_EMC,
    )
    air = f"{units.temperature(temperature)}, {units.percent(humidity)} humidity"
    rows = (("equilibrium moisture", units.percent(result, 2), f"{air}; {moisture.MODEL_EMC}"),)
    data = {"equilibrium_percent": result * 100, "model": moisture.MODEL_EMC}
    return Answer(data, (_table("Moisture that wood settles at", rows),), tuple(warnings), (step,))


def _movement(given: Given) -> Answer:
    library = shelf()
    species = pick(library, given, "--species")
    ring = given.text("--ring")
    size, start, end = (given.value(name).si for name in ("--size", "--from", "--to"))
    figure = species.find(f"movement_{ring}")
    if figure is None:
        raise Refusal(
            f"--species: {species.key!r} has no movement_{ring} in the library; "
            "put it with its source into your own species file",
            "species",
        )
    with given.naming({"size": "--size"}):
        change = _change(given, size, figure.value, start, end)
    warnings = list(faults(library))
    if figure.memory:
        warnings.insert(0, f"the coefficient of {species.name} is RECALLED, NOT READ")
    if not (_within(start, MOVEMENT_RANGE) and _within(end, MOVEMENT_RANGE)):
        warnings.append("the coefficient holds for 6 to 14 % moisture")
    step = _movement_step(figure, size, start, end, change)
    data = {"change_in": change / float(INCH), "size_in": (size + change) / float(INCH)}
    system = given.text("--units", "in")
    rows = (
        ("change", units.length(change, system, 4), _said(figure, start, end)),
        ("size", units.length(size + change, system, 4), f"{ring}, at {units.percent(end)} moisture"),
    )
    return Answer(data, (_table(f"Movement: {species.name}", rows),), tuple(warnings), (step,))


def _movement_step(figure: Figure, size: float, start: float, end: float, change: float) -> Step:
    return Step(
        figure.quantity.replace("_", ", "),
        "dD = D C (M_2 - M_1)",
        (
            Number("D", size, "length"),
            Number("C", figure.value, figure.quantity, "per unit of moisture"),
            Number("M_1", start, "moisture"),
            Number("M_2", end, "moisture"),
        ),
        Number("dD", change, "length"),
        basis="coefficient for 6 to 14 % moisture",
        source=f"wh190 eq. 13-2; {place(figure)}",
    )


def _change(given: Given, size: float, coefficient: float, start: float, end: float) -> float:
    # One at a time, so that a refusal names the right option.
    for name, value in (("--from", start), ("--to", end)):
        with given.naming({"moisture": name}):
            moisture.check_moisture(value)
    return moisture.movement(size, coefficient, start, end)


def _said(figure: Figure, start: float, end: float) -> str:
    return (
        f"{units.percent(start)} to {units.percent(end)} moisture; {figure.printed} per 1 %, {place(figure)}"
    )


def _within(value: float, limits: tuple[float, float]) -> bool:
    hair = 1e-9  # 82 C typed in F is not to fall outside by noise
    return limits[0] - hair <= value <= limits[1] + hair


def _table(title: str, rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(title, ("", "value", "basis"), rows)


ANSWERS = {"moisture": _moisture}
