"""The shop's size in the JSON of `section` and `woods`: in the unit of its step, which is named."""

import json

import pytest

from bench.__main__ import main

# Derived: sqrt(0.40 / 0.60) of 20 mm is 16.33 mm, or 0.6429 in, which lies between 41/64 and 42/64.
ASKED = ("--plan", "sitka_spruce", "--size", "20mm x 20mm", "--match", "weight", "--json")


def answer(capsys, *words: str) -> dict:
    assert main(list(words)) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(
    ("step", "unit", "size"),
    [
        (("--grid", "0.5mm"), "mm", "16.5 x 16.5 mm"),
        (("--grid", "0.05 cm"), "mm", "16.5 x 16.5 mm"),
        (("--sizes", "16 mm, 18 mm, 20 mm"), "mm", "18 x 18 mm"),
        (("--sizes", "5/8, 11/16, 3/4"), "in", "11/16 x 11/16 in"),
        (("--grid", "1/16"), "in", "11/16 x 11/16 in"),
        ((), "in", "21/32 x 21/32 in"),
        (("--units", "mm"), "in", "21/32 x 21/32 in"),
    ],
)
def test_section_gives_the_shop_size_in_the_unit_of_its_step(capsys, step, unit: str, size: str) -> None:
    found = answer(capsys, "section", *ASKED, "--use", "white_ash", *step)
    assert (found["shop_size"], found["shop_unit"]) == (size, unit)
    for name, inches in found["shop_sizes_in"].items():
        assert found["shop_sizes_mm"][name] == pytest.approx(inches * 25.4)


def test_woods_gives_it_so_too(capsys) -> None:
    rows = answer(capsys, "woods", *ASKED, "--grid", "1 mm")["ranking"]
    assert rows and all(row["shop_unit"] == "mm" and row["shop_size"].endswith(" mm") for row in rows)
    assert all(row["shop_unit"] == "in" for row in answer(capsys, "woods", *ASKED)["ranking"])
