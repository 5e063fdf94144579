"""One defect as people type it, and back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench import units
from bench.core.errors import Refusal, UnknownName
from bench.core.limits import KINDS
from bench.core.records import Defect
from bench.sheets import defects

INCH = Fraction(254, 10_000)
MM = Fraction(1, 1000)


def numbers(defect: Defect) -> tuple[Fraction | None, ...]:
    sizes = (defect.size, defect.depth, defect.edge)
    return (defect.start.exact, defect.end.exact, *(size.exact if size else None for size in sizes))


@pytest.mark.parametrize(
    ("text", "unit", "kind", "wanted"),
    [
        # Places counted by hand off a tape.
        ("30-32 knot 1/4 deep 1/8 edge 3/8", "in", "knot", (30, 32, "1/4", "1/8", "3/8")),
        ("41 5/8 - 42 knot 1/4", "in", "knot", ("333/8", 42, "1/4", None, None)),
        ("41-5/8 to 42 knot 1-1/8", "in", "knot", ("333/8", 42, "9/8", None, None)),
        ("1-1/8-2 pitch", "in", "pitch_pocket", ("9/8", 2, None, None, None)),
        ("30-1/2 check", "in", "check", ("61/2", "61/2", None, None, None)),
        ("12 Pitch Pocket .06 edge 0", "in", "pitch_pocket", (12, 12, "3/50", None, 0)),
        ("30-32", "in", "", (30, 32, None, None, None)),
        ("100 in", "in", "", (100, 100, None, None, None)),
        ("2 ft 6 in to 3 ft compression failure", "in", "compression_failure", (30, 36, None, None, None)),
        ("0 in - 2 in in", "in", None, None),
        ("5 edge 1/4 deep 1/8", "in", "", (5, 5, None, "1/8", "1/4")),
        ("30–32 knot ½", "in", "knot", (30, 32, "1/2", None, None)),
        ("  7 MINERAL-STREAK  ", "in", "mineral_streak", (7, 7, None, None, None)),
        ("3' spike 3/8\"", "in", "spike_knot", (36, 36, "3/8", None, None)),
    ],
)
def test_it_is_read_as_typed(text: str, unit: str, kind: str | None, wanted: tuple | None) -> None:
    if wanted is None:
        with pytest.raises(Refusal):
            defects.read(text, unit)
        return
    read = defects.read(text, unit)
    assert read.kind == kind
    assert numbers(read) == tuple(None if value is None else Fraction(value) * INCH for value in wanted)


def test_bare_numbers_take_the_unit_of_the_shop_and_written_units_stay() -> None:
    read = defects.read("300-320 knot 6 deep 1/8 in", "mm")
    assert numbers(read) == (300 * MM, 320 * MM, 6 * MM, INCH / 8, None)
    assert defects.write(read) == "300 mm to 320 mm knot 6 mm deep 1/8 in"


def test_every_kind_is_known_by_its_name_and_by_a_beginning_of_its_own() -> None:
    for kind in KINDS:
        assert defects.kind_of(defects.kind_words(kind)) == kind
        alone = [size for size in range(1, len(kind)) if sum(k.startswith(kind[:size]) for k in KINDS) == 1]
        assert all(defects.kind_of(kind[:size]) == kind for size in alone)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("30-32 knit 1/4", "'knit' is not known; nearest: knot"),
        ("30-32 compression", "nearest: compression wood, compression failure"),
        ("30-32 sp", "nearest: spike knot, split"),
        ("knot 1/4", "no stretch before its kind"),
        ("30-32-34 knot", "more than two ends"),
        ("32-30 knot", "runs backwards"),
        ("30-32 knot 1/0", "size of the defect at 30-32: '1/0' divides by zero"),
        ("30-32 knot 1/4 deep", "says deep without a length"),
        ("30-32 knot deep 1/8 deep 1/4", "says deep twice"),
        ("30-32 knot edge x", "edge of the defect at 30-32: 'x' has no number"),
        ("30-32 knot 0", "has a size of zero"),
        ("30-32 knot 1/4 1/8", "size of the defect at 30-32"),
        ("30-32 knot 6 kg", "measures a mass"),
        ("30-32knot", "which is not a unit"),
        ("30-32 knot 6,5 mm", "may part two defects or be a decimal sign"),
    ],
)
def test_what_cannot_be_read_says_what_where_and_what_would_be(text: str, said: str) -> None:
    with pytest.raises(Refusal) as caught:
        defects.read_all(text, "in")
    assert said in caught.value.message
    assert "would be read" in caught.value.message or "nearest" in caught.value.message


def test_an_unknown_kind_carries_the_nearest() -> None:
    with pytest.raises(UnknownName) as caught:
        defects.read("3 bark pockit", "in")
    assert caught.value.near[0] == "bark pocket"


@pytest.mark.parametrize(
    "text", ["30-32 knot; 41 5/8 - 42, 50", "30-32 knot, 41 5/8 - 42; 50;", "30-32 knot\n41-42;;50"]
)
def test_items_are_parted_by_comma_semicolon_or_line(text: str) -> None:
    assert [defect.kind for defect in defects.read_all(text, "in")] == ["knot", "", ""]


@pytest.mark.parametrize("text", ["", "  ", ";"])
def test_nothing_typed_is_none(text: str) -> None:
    assert defects.read_all(text, "in") == ()


LENGTHS = st.sampled_from(
    ("3/8", "1-1/8", "2 1/4", ".407", "10.3 mm", "2' 6\"", "2'-6 1/2\"", "1 ft", "½", "12 cm", "0.25in", "7")
)


@given(
    st.sampled_from(
        ("30-32", "41 5/8 - 42", "1-1/8-2", "30-1/2", "100", "19 - 38 mm", "2' 6\" to 3'", "1 ft to 12 in")
    ),
    st.sampled_from(("", *KINDS)),
    st.tuples(*[st.none() | LENGTHS] * 3),
    st.sampled_from(("in", "mm")),
)
def test_what_is_written_is_read_back_to_the_letter(
    stretch: str, kind: str, lengths: tuple[str | None, ...], unit: str
) -> None:
    size, depth, edge = (None if text is None else units.read("length", text, unit) for text in lengths)
    (ends,) = units.spans(stretch, unit)
    defect = Defect(*ends, kind, size if kind else None, depth, edge)
    assert defects.read(defects.write(defect), "mm" if unit == "in" else "in") == defect
    assert defects.read_all(defects.write_all((defect, defect)), "in") == (defect, defect)


def test_the_short_form_says_how_many_where_and_what() -> None:
    read = defects.read_all("30-32 knot 1/4; 41 5/8 - 42 pitch; 50", "in")
    assert defects.short(read) == "3: 30-32 knot, 41 5/8-42 pitch pocket, 50"
    assert defects.short(()) == "none"
