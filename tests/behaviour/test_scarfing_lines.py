"""The lengths of a scarfed part as lines of the drawing, and what a part says of its joints."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.core import checking
from bench.core.errors import OutOfRange
from bench.core.records import Part, Stretch, Typed, inches
from bench.core.scarfing import Joint, Split, exact_inches, joint_of, lengths_of, overlap
from bench.units.reading import read
from tests.tools.cut_lists import INCH, MM

SPAR = Part(
    "cap rear L",
    inches("96"),
    inches("1"),
    inches("3/4"),
    2,
    critical=True,
    note="clear of the root",
    group="left",
    scarf=Typed(Fraction(1, 12), "1:12"),
    no_joint=(Stretch(inches("0"), inches("24")),),
)


def test_the_lengths_as_lines_of_the_drawing() -> None:
    split = Split(
        SPAR.name, ("cap rear L a", "cap rear L b"), (Fraction(105, 2) * INCH, Fraction(105, 2) * INCH)
    )
    made = lengths_of(SPAR, split)
    assert made.whole == "cap rear L"
    first, second = made.lengths
    assert (first.name, second.name) == split.names
    assert first.length.exact == Fraction(105, 2) * INCH
    assert first.length.text == second.length.text == "52 1/2 in"
    assert first.note == "clear of the root; scarf 1:12, 9 in overlap, to cap rear L b"
    assert second.note == "clear of the root; scarf 1:12, 9 in overlap, to cap rear L a"
    for line in made.lengths:
        checking.part(line)
        assert (line.piece_of, line.scarf, line.no_joint, line.quantity) == ("cap rear L", None, (), 1)
        same = ("width", "depth", "species", "critical", "minimum_sg", "use", "group", "grain", "best")
        assert all(getattr(line, field) == getattr(SPAR, field) for field in same)
        assert joint_of(line, *(2 * [INCH]), INCH) is None


def test_a_length_in_the_middle_names_both_its_neighbours_in_the_unit_of_the_part() -> None:
    """Three lengths of 700 with two joints of 96 mm make 1908 mm."""
    part = replace(SPAR, length=Typed(1908 * MM, "1908 mm"), note="", scarf=Typed(Fraction(1, 12), "1:12"))
    made = lengths_of(part, Split(part.name, ("x a", "x b", "x c"), (700 * MM,) * 3))
    assert made.lengths[1].note == "scarf 1:12, 96 mm overlap, to x a and x c"


@given(st.fractions(Fraction(1, 1000), 100, max_denominator=10**6))
def test_a_length_in_inches_reads_back_exactly(length: Fraction) -> None:
    assert read("length", exact_inches(length).text).exact == length == exact_inches(length).exact


def test_what_a_part_says_of_its_joints() -> None:
    """1:12 over the smaller side of the finished section, 3/4 in, is 9 in; over 1 in it is 12."""
    width, depth = INCH, Fraction(3, 4) * INCH
    joint = joint_of(SPAR, width, depth, 12 * INCH)
    assert joint == Joint(9 * INCH, 12 * INCH, ((Fraction(0), 24 * INCH),))
    assert joint_of(replace(SPAR, scarf_side="width"), width, depth, MM) == Joint(12 * INCH, MM, joint.barred)
    assert joint_of(replace(SPAR, scarf=None), width, depth, MM) is None


@pytest.mark.parametrize(
    ("slope", "side"), [(Fraction(0), ""), (Fraction(-1, 12), "width"), (Fraction(1, 12), "up")]
)
def test_a_joint_that_cannot_be(slope: Fraction, side: str) -> None:
    with pytest.raises(OutOfRange):
        overlap(slope, INCH, INCH, side)
