"""The verb `species`: the list, or every figure of one wood with its basis, source and standing."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from bench import units
from bench.core import acceptance, lacking, recalled, strength, working
from bench.core.errors import Missing
from bench.core.quantities import QUANTITIES
from bench.core.records import Figure, Species
from bench.headless.answers import Answer, Table
from bench.headless.arguments import Given, Option
from bench.headless.shelf import faults, pick, shelf, species_option
from bench.library import Library
from bench.sheets import wording

OPTIONS: dict[str, tuple[Option, ...]] = {
    "species": (
        species_option("SPECIES", "a key, for all its figures", needed=False),
        Option("--lacking", "flag", "what the panes ask of each wood and the library does not hold"),
        Option("--recalled", "flag", "all that was recalled and not read, and what would confirm it"),
    )
}
_LACK = {
    "absent": "not held: put it into your own species file",
    "memory": "RECALLED, NOT READ",
    "estimate": "estimated from green gravity",
}
_STANDING = {
    "read": "read",
    "trade": "common practice, no published source",
    "memory": "RECALLED, NOT READ",
}


def _species(given: Given) -> Answer:
    library = shelf()
    woods = [pick(library, given, "SPECIES")] if given.has("SPECIES") else list(library.species.values())
    if given.has("--lacking"):
        return _lacking(woods, library)
    if given.has("--recalled"):
        return _recalled(woods, library)
    if given.has("SPECIES"):
        return _one(pick(library, given, "SPECIES"), library)
    return _all(library)


def _lacking(woods: Sequence[Species], library: Library) -> Answer:
    rows = [
        (species.key, lack.pane, lack.what.replace("_", " "), _LACK[lack.standing])
        for species in woods
        for lack in lacking.lacks(species)
    ]
    data = [dict(zip(("species", "pane", "quantity", "standing"), row, strict=True)) for row in rows]
    table = Table("What is lacking", ("species", "pane", "quantity", "standing"), tuple(rows))
    return Answer({"lacking": data}, (table,), faults(library))


def _recalled(woods: Sequence[Species], library: Library) -> Answer:
    found = (*recalled.METHODS, *recalled.figures(woods))
    columns = ("what", "where", "bears on", "what would confirm it")
    rows = tuple((one.what, one.where, one.bears_on, one.confirm) for one in found)
    data = [asdict(one) for one in found]
    return Answer({"recalled": data}, (Table("Recalled, not read", columns, rows),), faults(library))


def _gravity(species: Species) -> tuple[float | None, str]:
    """Average on the volume at 12 percent and the volume it was read on; None where there is none."""
    try:
        value, figure = strength.gravity_12(species)
    except Missing:
        return None, ""
    return value, figure.volume


def _all(library: Library) -> Answer:
    rows, data = [], []
    for species in library.species.values():
        gravity, volume = _gravity(species)
        minimum = acceptance.limit(species, "specific_gravity_minimum")
        data.append(
            {
                "key": species.key,
                "name": species.name,
                "kind": species.kind,
                "gravity_12": gravity,
                "gravity_12_from": volume or None,
                "minimum": minimum.value if minimum else None,
                "minimum_standing": minimum.standing if minimum else None,
                "minimum_source": working.place(minimum) if minimum else None,
                "origin": species.origin,
            }
        )
        derived = f" (from {volume})" if gravity is not None and volume != "12 %" else ""
        rows.append(
            (
                species.key,
                species.name,
                species.kind,
                "--" if gravity is None else units.gravity(gravity) + derived,
                units.gravity(minimum.value) if minimum else "--",
                _STANDING[minimum.standing] if minimum else "no published minimum on this basis",
            )
        )
    title = f"Species. Gravity: {wording.BASIS_12}. Minimum: {wording.BASIS}."
    columns = ("key", "name", "kind", "gravity", "minimum", "standing of the minimum")
    return Answer({"species": data}, (Table(title, columns, tuple(rows)),), faults(library))


def _one(species: Species, library: Library) -> Answer:
    data = {
        "key": species.key,
        "name": species.name,
        "kind": species.kind,
        "origin": species.origin,
        "figures": [_figure(figure) for figure in species.figures],
        "statements": [
            {"text": said.text, "source": said.source, "where": said.where} for said in species.statements
        ],
    }
    figures = Table(
        f"{species.name} ({species.key}), {species.kind}",
        ("quantity", "value", "unit", "at", "volume", "source", "standing", "note"),
        tuple(_row(figure) for figure in species.figures),
    )
    statements = Table(
        "What the sources say",
        ("source", "statement"),
        tuple((f"{said.source} {said.where}", said.text) for said in species.statements),
    )
    return Answer(data, (figures, statements) if species.statements else (figures,), faults(library))


def _figure(figure: Figure) -> dict[str, Any]:
    return {
        "quantity": figure.quantity,
        "value": figure.printed,
        "unit": figure.unit,
        "at": figure.at,
        "volume": figure.volume,
        "variant": figure.variant,
        "source": figure.source,
        "where": figure.where,
        "standing": figure.standing,
        "used": figure.used,
        "note": figure.note,
        "si": figure.value,
        "si_unit": QUANTITIES[figure.quantity].unit,
    }


def _row(figure: Figure) -> tuple[str, ...]:
    name = figure.quantity.replace("_", " ") + (f" ({figure.variant})" if figure.variant else "")
    unused = "" if figure.used else "not used"
    return (
        name,
        figure.printed,
        figure.unit,
        figure.at,
        figure.volume,
        f"{figure.source} {figure.where}",
        _STANDING[figure.standing],
        "; ".join(filter(None, (unused, figure.note))),
    )


ANSWERS = {"species": _species}
