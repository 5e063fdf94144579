"""The verb `moisture`: by drying, in air of one temperature and humidity, and what it does to a size."""

from typing import Any

from bench import units
from bench.core import moisture, moving, working_strength
from bench.core.errors import OutOfRange, Refusal
from bench.core.quantities import INCH
from bench.core.records import Figure, Species
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.sheets import moving as sentences

# More water than the lightest wood can hold with its cavities full (wh282 eq. 4-3): a slip of the unit.
MOST_BY_OVEN = 12.0

_DRYING = ("--wet", "--dry")
_AIR = ("--temperature", "--humidity", "--stick-moisture")
_MOVING = ("--species", "--size", "--ring", "--from", "--to")
_FORMS = (_DRYING, _AIR, _MOVING)
_RINGS = ("tangential", "radial", "both")
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
        Option("--stick-moisture", "moisture", "of a stick in that air, for how far it is from it",
               wanted=_PERCENT),
        species_option("--species", "the wood, for movement of a size"),
        Option("--size", "length", "across the grain at the first moisture; bare is inches", needed=True),
        Option("--ring", "choice", "direction of the size; both: either way", needed=True, choices=_RINGS),
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
    rows = (("moisture", units.percent(result, 2), "weight of water over oven-dry weight"),)
    steps = working_strength.of_oven(wet, dry)
    return Answer({"moisture_percent": result * 100}, (_table("Moisture by drying", rows),), working=steps)


def _in_air(given: Given) -> Answer:
    temperature, humidity = given.value("--temperature").si, given.value("--humidity").si
    stick = given.value("--stick-moisture").si if given.has("--stick-moisture") else None
    with given.naming({"temperature": "--temperature", "humidity": "--humidity"}):
        result = moisture.equilibrium(temperature, humidity)
    air = f"{sentences.air(temperature, humidity)}; {moisture.MODEL_EMC}"
    rows = [("equilibrium moisture", units.percent(result, 2), air)]
    data: dict[str, Any] = {"equilibrium_percent": result * 100, "model": moisture.MODEL_EMC}
    if stick is not None:
        over = moisture.correct_for_air(stick, temperature, humidity)
        data["distance_percent"] = over * 100
        rows.append(("stick", units.percent(stick, 2), sentences.distance(over)))
    return Answer(
        data,
        (_table("Moisture that wood settles at", tuple(rows)),),
        () if moisture.fitted(temperature, humidity) else (sentences.OUTSIDE_FIT,),
        working_strength.of_air(temperature, humidity, stick),
    )


def _movement(given: Given) -> Answer:
    library = shelf()
    species = pick(library, given, "--species")
    ring = given.text("--ring")
    size, start, end = (given.value(name).si for name in ("--size", "--from", "--to"))
    figures = [_figure(species, one) for one in (_RINGS[:2] if ring == "both" else (ring,))]
    with given.naming({"size": "--size"}):
        changes = [moisture.movement(size, figure.value, start, end) for figure in figures]
    doubts = moving.movement_doubts(start, end)
    doubts = (moving.RECALLED,) * any(figure.memory for figure in figures) + doubts
    clamped = moving.CLAMPED in doubts
    steps = tuple(
        working_strength.of_movement(
            figure.quantity.replace("_", ", "), figure, size, start, end, clamped=clamped
        )
        for figure in figures
    )
    rows = tuple(
        row
        for figure, change in zip(figures, changes, strict=True)
        for row in _rows(given.text("--units", "in"), figure, size, change, start, end)
    )
    return Answer(
        _data(figures, changes, size),
        (_table(f"Movement: {species.name}", rows),),
        (*sentences.movement_warnings(doubts, species.name), *faults(library)),
        steps,
    )


def _figure(species: Species, ring: str) -> Figure:
    figure = species.find(f"movement_{ring}")
    if figure is None:
        raise Refusal(
            f"--species: {species.key!r} has no movement_{ring} in the library; "
            "put it with its source into your own species file",
            "species",
        )
    return figure


def _data(figures: list[Figure], changes: list[float], size: float) -> dict[str, Any]:
    """The greater change under the usual keys, and with both directions each under its own."""

    def inches(change: float) -> dict[str, Any]:
        return {"change_in": change / float(INCH), "size_in": (size + change) / float(INCH)}

    data = inches(max(changes, key=abs))
    if len(figures) > 1:
        for figure, change in zip(figures, changes, strict=True):
            data[_way(figure)] = inches(change)
    return data


def _rows(
    system: str, figure: Figure, size: float, change: float, start: float, end: float
) -> tuple[tuple[str, ...], ...]:
    moved = [moisture.to_saturation(each) for each in (start, end)]
    between = f"{units.percent(moved[0])} to {units.percent(moved[1])} moisture"
    if moved != [start, end]:
        between += f", counted for {units.percent(start)} to {units.percent(end)}"
    said = f"{between}; {sentences.coefficient(figure)}"
    at = f"{_way(figure)}, at {units.percent(end)} moisture"
    return (
        ("change", units.length(change, system, 4), said),
        ("size", units.length(size + change, system, 4), at),
    )


def _way(figure: Figure) -> str:
    return figure.quantity.removeprefix("movement_")


def _table(title: str, rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(title, ("", "value", "basis"), rows)


ANSWERS = {"moisture": _moisture}
