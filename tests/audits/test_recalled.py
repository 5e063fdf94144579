"""What was recalled and not read is listed in one place, whole and with what would confirm it."""

from pathlib import Path

from bench.core import lacking, recalled
from bench.library import load

BENCH = Path(__file__).resolve().parents[2] / "bench"
WOODS = load().species
# Modules that speak of figures recalled, whichever they are, and rest on none of their own.
SPEAK = {
    *(
        "acceptance",
        "estimating",
        "inspecting",
        "lacking",
        "limits",
        "moving",
        "recalled",
        "resizing",
        "steps",
    ),
    *(
        "strength",
        "wood",
        "capacities",
        "working_section",
        "working_float",
        "working_breaks",
        "matching",
        "spread",
    ),
    *("water",),  # its coefficients are recalled, and a reference library confirms them in the tests
}


def test_every_place_in_the_code_is_listed() -> None:
    listed = {place.strip() for one in recalled.METHODS for place in one.where.split(",")}
    for place in listed:
        text = (BENCH / place).read_text(encoding="utf-8")
        assert any(word in text.casefold() for word in ("recalled", "from memory")), place
    found = {
        path.stem
        for path in (BENCH / "core").glob("*.py")
        if any(word in path.read_text(encoding="utf-8").casefold() for word in ("recalled", "from memory"))
    }
    assert found - SPEAK == {Path(place).stem for place in listed if place.startswith("core/")}


def test_every_figure_is_listed_with_its_place() -> None:
    rows = recalled.figures(WOODS.values())
    marked = sum(figure.memory for species in WOODS.values() for figure in species.figures)
    assert len([row for row in rows if row.where in WOODS]) == marked > 0
    assert all(row.confirm and row.what for row in (*rows, *recalled.METHODS))


def test_what_a_wood_lacks_is_said() -> None:
    assert {lack.what for lack in lacking.lacks(WOODS["balsa"])} >= {
        "specific_gravity_minimum",
        "movement_radial",
    }
    assert lacking.lacks(WOODS["white_ash"]) == ()
    for species in WOODS.values():
        for lack in lacking.lacks(species):
            held = [
                one for one in species.figures if one.quantity == lack.what and one.used and not one.memory
            ]
            if lack.standing == "memory":
                assert all(one.variant or one.at or one.volume for one in held), (species.key, lack)
