"""Clear lengths, kerfs and exact units on examples worked by hand from their definitions.

Source of the figures: worked with pencil from the rules themselves (a zone is a defect with its margin, the
trim at each end, at least one kerf wide between clear lengths; n parts take n - 1 kerfs). No published
source. The inch is exactly 25.4 mm by the international yard and pound agreement of 1959.
"""

from fractions import Fraction

import pytest

from bench.core.cutting import CutPart, CutProblem, CutRules, CutStick, clear_lengths, plan

MM = Fraction(1, 1000)
INCH = Fraction(254, 10_000)


def _mm(value: object) -> Fraction:
    return Fraction(str(value)) * MM


def _rules(kerf: object, trim: object = 0, margin: object = 0) -> CutRules:
    return CutRules(_mm(kerf), _mm(trim), _mm(margin), _mm(0), _mm(0))


ZONES = [
    # length, trim, kerf, margin, defects, clear lengths, all [mm]
    (2400, 8, "2.2", 0, [(700, 745), (730, 790), (790, 800), (2310, 2450)], [692, 1510]),
    (1500, 0, "2.4", 0, [(640, "640.8")], [640, "857.6"]),
    (1500, 0, "2.4", 5, [(640, 652)], [635, 843]),
    (1500, 10, "2.4", 0, [(0, 6), (1420, 1500)], [1410]),
    (900, 0, 2, 0, [(450, 450)], [450, 448]),
    (1000, 0, 3, 0, [(0, 1000)], []),
]


@pytest.mark.parametrize(("length", "trim", "kerf", "margin", "defects", "clear"), ZONES)
def test_clear_lengths(length, trim, kerf, margin, defects, clear) -> None:
    stick = CutStick("a", _mm(length), tuple((_mm(a), _mm(b)) for a, b in defects))
    found = clear_lengths(stick, _rules(kerf, trim, margin))
    assert [end - start for start, end in found] == [_mm(length) for length in clear]


def test_where_the_clear_lengths_stand() -> None:
    """The first row above: lost are 0-8, 700-800 and 2310-2400 mm, so clear are 8-700 and 800-2310."""
    length, trim, kerf, margin, defects, _ = ZONES[0]
    stick = CutStick("a", _mm(length), tuple((_mm(b), _mm(a)) for a, b in reversed(defects)))
    assert clear_lengths(stick, _rules(kerf, trim, margin)) == (
        (_mm(8), _mm(700)),
        (_mm(800), _mm(2310)),
    )


@pytest.mark.parametrize(
    ("clear", "kerf", "pieces", "left"),
    [  # all [mm]; left None: the pieces do not fit together
        (1000, "2.5", ["331.6", "331.6", "331.8"], 0),  # 995 + two kerfs = 1000: flush
        (1000, "2.5", ["331.6", "331.7", "331.8"], None),  # 1000.1
        (1000, "2.5", [331, 331, 331], 0),  # remainder 2 is less than the blade
        (1000, "2.5", [300, 300, 300], "92.5"),  # remainder 95 less the last cut
        (1000, "2.5", [1000], 0),  # no cut at all
        (1000, 0, [500, 500], 0),  # a blade without width
    ],
)
def test_kerf_inside_one_clear_length(clear, kerf, pieces, left) -> None:
    parts = tuple(CutPart(f"p{n}", _mm(length), 1) for n, length in enumerate(pieces))
    made = plan(CutProblem(parts, (CutStick("a", _mm(clear)),), _rules(kerf)))
    if left is None:
        assert made.placed == len(pieces) - 1
    else:
        assert made.placed == len(pieces)
        assert sum((end - start for start, end in made.sticks[0].offcuts), Fraction(0)) == _mm(left)


def test_a_part_as_long_as_the_stick_in_sixty_fourths_and_millimetres() -> None:
    """16 5/32 in = 410.36875 mm exactly; rounded to 0.01 mm the fit would be lost."""
    part = CutPart("rib", (16 + Fraction(5, 32)) * INCH, 1)
    assert part.length == _mm("410.36875")
    made = plan(CutProblem((part,), (CutStick("a", _mm("410.36875")),), _rules("3.175")))
    assert (made.placed, made.waste, made.largest_offcut) == (1, 0, 0)


def test_three_metric_parts_flush_in_an_inch_stick() -> None:
    """3 x 300 mm and two cuts of 1/8 in are 906.35 mm; a hundredth of a millimetre less is too short."""
    parts = (CutPart("p", _mm(300), 3),)
    flush = _mm("906.35")
    assert plan(CutProblem(parts, (CutStick("a", flush),), _rules("3.175"))).placed == 3
    assert plan(CutProblem(parts, (CutStick("a", flush - _mm("0.01")),), _rules("3.175"))).placed == 2


@pytest.mark.parametrize(
    ("kerf", "length", "clear"), [("2.4", 300, 1000), ("3.2", "96.8", 1000), (0, 250, 1000)]
)
def test_equal_parts_fill_a_clear_length_as_often_as_the_quotient_says(kerf, length, clear) -> None:
    """floor((U + k) / (l + k)) pieces: 1002.4 / 302.4 is 3, 1003.2 / 100 is 10, 1000 / 250 is 4."""
    most = (_mm(clear) + _mm(kerf)) // (_mm(length) + _mm(kerf))
    made = plan(CutProblem((CutPart("p", _mm(length), 20),), (CutStick("a", _mm(clear)),), _rules(kerf)))
    assert made.placed == most == {300: 3, "96.8": 10, 250: 4}[length]
    assert made.optimal
