"""Sizes and stretches as people type them."""

import pytest

from bench import units
from bench.core.errors import BadInput
from bench.core.records import Typed


def texts(values: tuple[Typed, ...]) -> list[str]:
    return [value.text for value in values]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3/4 x 1-1/2", ["3/4 in", "1-1/2 in"]),
        ("3/4X1 1/2", ["3/4 in", "1 1/2 in"]),
        ("3/4 × 1.5", ["3/4 in", "1.5 in"]),
        ("3/4*1.5", ["3/4 in", "1.5 in"]),
        ("3/4 by 1.5", ["3/4 in", "1.5 in"]),
        ("3/4 x 3/4 x 12", ["3/4 in", "3/4 in", "12 in"]),
        ("3/4", ["3/4 in", "3/4 in"]),
        ("3/4 sq", ["3/4 in", "3/4 in"]),
        ("3/4 in square", ["3/4 in", "3/4 in"]),
        ("3/4 sq. x 12", ["3/4 in", "3/4 in", "12 in"]),
        ("19 x 38 mm", ["19 mm", "38 mm"]),
        ("19 mm x 38", ["19 mm", "38 mm"]),
        ("19 mm x 1 1/2 in", ["19 mm", "1 1/2 in"]),
        ("2 x 4 x 8 ft", ["2 in", "4 in", "8 ft"]),
        ("2 x 4 x 8' 6\"", ["2 in", "4 in", "8' 6\""]),
        ("1,9 x 3,8 cm", ["1,9 cm", "3,8 cm"]),
    ],
)
def test_sizes(text: str, expected: list[str]) -> None:
    values = units.size(text)
    assert texts(values) == expected
    assert [value.exact for value in values] == [units.read("length", part).exact for part in expected]


def test_a_size_in_a_metric_shop() -> None:
    assert texts(units.size("19 x 38", "mm")) == ["19 mm", "38 mm"]
    assert texts(units.size("19 x 38 x 2 m", "mm")) == ["19 mm", "38 mm", "2 m"]
    assert texts(units.size("3/4 x 1 in", "mm")) == ["3/4 in", "1 in"]


@pytest.mark.parametrize(
    ("text", "default", "why"),
    [
        ("", "", "is empty"),
        ("3 x", "", "nothing where a length should stand"),
        ("x 3", "", "nothing where a length should stand"),
        ("3 x 4 x 5 x 6", "", "more than three dimensions"),
        ("0 x 3", "", "side of zero"),
        ("-3", "", "is negative"),
        ("1/0 x 3", "", "has '1/0', which divides by zero"),
        ("3 x 5 lb", "", "has the unit lb, which measures a mass"),
        ("3 x 1,200 mm", "", "has '1,200 mm', which may mean 1200 or 1.200"),
        ("19 x 38 x 1 m", "in", "a number without a unit beside others"),
        ("2 x 4 x 8 ft", "mm", "a number without a unit beside others"),
        ("2 in x 3 x 4 mm", "", "a number without a unit beside others"),
    ],
)
def test_sizes_refused(text: str, default: str, why: str) -> None:
    with pytest.raises(BadInput, match="would be read") as caught:
        units.size(text, default)
    assert why in caught.value.message and caught.value.quantity == "size"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", []),
        ("30-32, 41 5/8 - 42; 100", [("30 in", "32 in"), ("41 5/8 in", "42 in"), ("100 in", "100 in")]),
        ("30-32,", [("30 in", "32 in")]),
        ("30 to 32", [("30 in", "32 in")]),
        ("30..32", [("30 in", "32 in")]),
        ("30–32", [("30 in", "32 in")]),
        ("30 1/2-32", [("30 1/2 in", "32 in")]),
        ("1/2-5/8", [("1/2 in", "5/8 in")]),
        (".5-3/4", [(".5 in", "3/4 in")]),
        ("30-32 mm", [("30 mm", "32 mm")]),
        ("30 mm - 32", [("30 mm", "32 mm")]),
        ("30 mm - 2 in", [("30 mm", "2 in")]),
        ("2 - 3 ft", [("2 ft", "3 ft")]),
        ("10-12 yards", [("10 yards", "12 yards")]),
        # The rule of the hyphen: a proper fraction right after a whole number belongs to it.
        ("1-1/8", [("1-1/8 in", "1-1/8 in")]),
        ("30-1/2", [("30-1/2 in", "30-1/2 in")]),
        ("1-1/8 to 2-1/4", [("1-1/8 in", "2-1/4 in")]),
        ("1-1/8-2", [("1-1/8 in", "2 in")]),
        ("1-1/8-2-1/4", [("1-1/8 in", "2-1/4 in")]),
        ("1-3/2", [("1 in", "3/2 in")]),
        # And inches right after feet belong to them.
        ("2'-6\"", [("2'-6\"", "2'-6\"")]),
        ("2'-3'", [("2'", "3'")]),
        ("2'-6\"-3'", [("2'-6\"", "3'")]),
        ("2'6 - 2'8", [("2'6", "2'8")]),
        ("30 - 2' 8\"", [("30 in", "2' 8\"")]),
    ],
)
def test_stretches(text: str, expected: list[tuple[str, str]]) -> None:
    pairs = units.spans(text)
    assert [(start.text, end.text) for start, end in pairs] == expected
    for (start, end), (first, last) in zip(pairs, expected, strict=True):
        assert (start, end) == (units.read("length", first), units.read("length", last))


def test_stretches_in_a_metric_shop() -> None:
    assert [texts(pair) for pair in units.spans("30-32, 4 in", "mm")] == [
        ["30 mm", "32 mm"],
        ["4 in", "4 in"],
    ]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("30-31-32", "has '30-31-32', which has more than two ends"),
        ("30 to 31 to 32", "which has more than two ends"),
        ("42-41", "has '42-41', which runs backwards"),
        ("30 1/2-5/8", "runs backwards"),
        ("30–1/2", "runs backwards"),
        ("30, , 32", "nothing where a length should stand"),
        ("30 to", "nothing where a length should stand"),
        ("-5", "has '-5', which is negative"),
        ("knot", "has 'knot', which has no number in it"),
        ("30-32, 1/0", "has '1/0', which divides by zero"),
        ("5 - 6 lb", "has the unit lb, which measures a mass"),
        ("2' - 6", "has '6' after feet, without a unit"),
    ],
)
def test_stretches_refused(text: str, why: str) -> None:
    with pytest.raises(BadInput, match="stretches like 30-32") as caught:
        units.spans(text)
    assert why in caught.value.message and caught.value.quantity == "stretch"
