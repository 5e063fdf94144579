"""Mechanics of the float stick, derived: buoyancy of a leaning prism, pull of the meniscus.

Derivations: a plane waterline makes the depth linear over the section, so the mean of opposite faces or edges
is the depth of the centreline (confirmed by sampling four million points of a leaning stick). The force of
the meniscus is tension times perimeter times cos(theta). The numbers were worked out apart from this
program with water of IAPWS-95 and R1-76.
"""

from math import atan, degrees, radians, sqrt, tan

import pytest
from methods_printed import INCH, LIBRARY, float_stick, printed

from bench.core import floating, water, waterline
from bench.core.errors import OutOfRange

SPRUCE = LIBRARY.get("sitka_spruce")


def fraction(*marks: float) -> float:
    """Submerged share as the program reads it."""
    return floating.read(float_stick(*marks), SPRUCE).fraction


# A stick of 1/2 in by 5 in, gravity 0.42: a mark is half an inch.


def test_two_faces_of_a_leaning_stick() -> None:
    """Leaning 10 deg, faces stand at 2.1441 and 2.0559 in; the mean is the centreline, 2.1000 in."""
    marks = (2.1441 / 0.5, 2.0559 / 0.5)
    assert fraction(*marks) * 5 == printed("2.1000")
    assert waterline.tilt(float_stick(*marks)) == printed("10.0")


def test_four_edges_of_a_stick_leaning_both_ways() -> None:
    """Leaning 10 and 15 deg, the edges stand at 1.9889, 2.1229, 2.2111, 2.0771 in, going round."""
    marks = tuple(inch / 0.5 for inch in (1.9889, 2.1229, 2.2111, 2.0771))
    assert fraction(*marks) * 5 == printed("2.1000")
    # By another way: an edge stands (w/2)(+-tan 10 +- tan 15) from the centreline.
    reach = [
        0.25 * (one * tan(radians(10)) + other * tan(radians(15))) for one in (1, -1) for other in (1, -1)
    ]
    assert sorted(2.1 + off for off in reach) == pytest.approx([1.9889, 2.0771, 2.1229, 2.2111], abs=5e-5)


def test_three_faces_of_a_stick_leaning_both_ways() -> None:
    """The plane by another way: points at the middles of the faces, solved for depth and both slopes."""
    one, other = tan(radians(10)), tan(radians(15))
    # Faces at (0, w/2), (w/2, 0), (0, -w/2), w = 1/2 in; depth 2.1 + x tan 15 + y tan 10.
    faces = tuple(2.1 + x * other + y * one for x, y in ((0, 0.25), (0.25, 0), (0, -0.25)))
    reading = float_stick(*(inch / 0.5 for inch in faces))
    assert fraction(*reading.marks) * 5 == pytest.approx(2.1, abs=1e-12)
    depth = (faces[0] + faces[2]) / 2
    slopes = ((faces[0] - faces[2]) / 0.5, (faces[1] - depth) / 0.25)
    assert slopes == pytest.approx((one, other))
    assert waterline.tilt(reading) == pytest.approx(degrees(atan(sqrt(one * one + other * other))), abs=1e-9)


def test_four_faces_of_a_stick_leaning_both_ways() -> None:
    # Derived: a face stands (w/2) tan(a) from the centreline; slopes at right angles add as vectors.
    one, other = 0.25 * tan(radians(10)) / 0.5, 0.25 * tan(radians(15)) / 0.5
    reading = float_stick(4.2 + one, 4.2 + other, 4.2 - one, 4.2 - other)
    assert fraction(*reading.marks) == pytest.approx(0.42, abs=1e-12)
    lean = degrees(atan(sqrt(tan(radians(10)) ** 2 + tan(radians(15)) ** 2)))
    assert waterline.tilt(reading) == pytest.approx(lean, abs=1e-9)


def test_one_face_cannot_show_a_lean() -> None:
    assert waterline.tilt(float_stick(4.2)) is None
    assert waterline.tilt(float_stick(4.2, 4.2, 4.2)) == 0
    assert waterline.tilt(float_stick(4.2, 4.2)) == 0
    assert waterline.tilt(float_stick(4.2, 4.2, 4.2, 4.2)) == 0


ONE_FACE = [("2", "0.0017"), ("5", "0.0044"), ("10", "0.0088"), ("15", "0.0134"), ("20", "0.0182")]


@pytest.mark.parametrize(("lean", "error"), ONE_FACE)
def test_error_of_one_face(lean: str, error: str) -> None:
    face = 0.25 * tan(radians(float(lean))) / 0.5
    assert fraction(4.2 + face) - fraction(4.2 + face, 4.2 - face) == printed(error)


def test_the_lean_that_one_face_hides_is_in_the_band() -> None:
    """The band takes 5 deg unseen; 0.0044 of the length is the error of one face at 5 deg."""
    dry = float_stick(4.2, moisture="0")
    share = dict(floating.read(dry, SPRUCE).shares)["tilt"]
    over = water.density(293.15) / 1000
    assert share * sqrt(3) / over == printed("0.0044")
    assert dict(floating.read(float_stick(4.2, 4.2, moisture="0"), SPRUCE).shares)["tilt"] == 0


MENISCUS = [
    # side in, depth mm at 0 deg, then the share of the length at 0, 45, 60, 75, 90 deg; water of 20 C
    ("1/4", "4.681", "0.0737", "0.0521", "0.0369", "0.0191", "0.0000"),
    ("3/8", "3.120", "0.0328", "0.0232", "0.0164", "0.0085", "0.0000"),
    ("1/2", "2.340", "0.0184", "0.0130", "0.0092", "0.0048", "0.0000"),
    ("3/4", "1.560", "0.0082", "0.0058", "0.0041", "0.0021", "0.0000"),
    ("1", "1.170", "0.0046", "0.0033", "0.0023", "0.0012", "0.0000"),
]


@pytest.mark.parametrize("row", MENISCUS, ids=lambda row: row[0])
def test_pull_of_the_meniscus(row: tuple[str, ...]) -> None:
    side = float_stick(1, side=row[0]).side.si
    length = 10 * side
    deep = floating.pull_down(side, length, 293.15, 0) * length * 1000
    assert deep == printed(row[1], 0.001)  # the third place hangs on the last digit of the tension
    for angle, share in zip((0, 45, 60, 75, 90), row[2:], strict=True):
        assert floating.pull_down(side, length, 293.15, angle) == printed(share, 0.0001)


@pytest.mark.parametrize("row", MENISCUS, ids=lambda row: row[0])
def test_the_pull_is_taken_off_the_reading(row: tuple[str, ...]) -> None:
    plain = floating.read(float_stick(4.5, side=row[0]), SPRUCE).as_floated
    for angle, share in zip(("0", "45", "60", "75", "90"), row[2:], strict=True):
        mended = floating.read(float_stick(4.5, side=row[0], angle=angle), SPRUCE).as_floated
        assert (plain - mended) / 0.998207 == printed(share, 0.0001)


@pytest.mark.parametrize("row", MENISCUS, ids=lambda row: row[0])
def test_the_band_of_the_pull_reaches_to_its_farther_edge(row: tuple[str, ...]) -> None:
    """The angle used lies in no middle: 60 deg of 0 to 75 where it is taken for granted, 45 to 75 where it is
    typed; uncorrected, the whole pull may be in the reading. Bands: common practice, no source.
    """
    at = dict(zip((0, 45, 60, 75, 90), map(float, row[2:]), strict=True))
    reaches = {
        "": max(at[0] - at[60], at[60] - at[75]),
        "60": max(at[45] - at[60], at[60] - at[75]),
        "none": at[0],
    }
    assert reaches[""] > 1.3 * (at[0] - at[75]) / 2, "more than half of the band"
    for angle, reach in reaches.items():
        found = floating.read(float_stick(4.5, side=row[0], moisture="0", angle=angle), SPRUCE)
        half = dict(found.shares)["meniscus"] * sqrt(3) / 0.998207
        assert half == pytest.approx(reach, abs=0.0002), angle  # two printed shares of four places each


def test_wood_that_sheds_water_is_lifted() -> None:
    # Derived: cos(theta) is below zero past 90 deg.
    assert floating.pull_down(INCH / 2, 5 * INCH, 293.15, 120) < 0


def test_spruce_is_read_with_its_published_angle() -> None:
    """60 deg for Sitka spruce ("Wetting of wood", abstract)."""
    assert floating.read(float_stick(4.5, angle=""), SPRUCE).angle_deg == printed("60")


# L/w at which a free prism would float upright: 1/sqrt(6 s (1 - s)).
UPRIGHT = [("0.30", "0.891"), ("0.40", "0.833"), ("0.50", "0.816"), ("0.60", "0.833")]


@pytest.mark.parametrize(("gravity", "limit"), UPRIGHT)
def test_no_stick_that_is_read_would_stand_by_itself(gravity: str, limit: str) -> None:
    """Derived: buoyancy of a prism, metacentre above the middle; so every stick must be held upright."""
    share = float(gravity)
    assert 1 / sqrt(6 * share * (1 - share)) == printed(limit)
    assert printed(limit).expected < floating.LEAST_SLENDERNESS


def test_a_lean_that_takes_a_corner_out_of_the_water_is_refused() -> None:
    """Valid while depth and what stands out both exceed (w/2)(|tan a| + |tan b|): derived."""
    reach = 0.5 * (tan(radians(20)) + tan(radians(10)))  # half a side [sides], a mark is a side
    for depth, sound in ((reach + 0.01, True), (reach - 0.01, False), (10 - reach + 0.01, False)):
        one, other = 0.5 * tan(radians(20)), 0.5 * tan(radians(10))
        for marks in (
            (depth + one, depth + other, depth - one),
            (depth + one, depth + other, depth - one, depth - other),
        ):
            if sound:
                floating.check(float_stick(*marks))
            else:
                with pytest.raises(OutOfRange, match=r"waterline|corner"):
                    floating.check(float_stick(*marks))
