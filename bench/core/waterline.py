"""The waterline on a float stick: its centreline from the faces read, the lean, and the drift with time.

The water surface is a plane, so the depth is linear over the section and the mean of two opposite faces is
the depth of the centreline. Water drawn in grows with the root of time, so later waterlines on one face lead
back to the one before any was drawn in.
"""

from collections.abc import Sequence
from math import atan, degrees, hypot, sqrt

from bench.core.errors import OutOfRange
from bench.core.frozen import record
from bench.core.records import FloatReading

FACES = (1, 2, 3, 4)
MOST_TIMED = 20
ROUNDING = 1e-9  # below it a difference is what floats leave of none [marks]
MOST_SECONDS = 86_400.0
# Share of each face in the centreline, by how many were read. Of three, the middle one has no opposite: it
# shows the lean the other way and nothing about the depth.
_WEIGHTS = {1: (1.0,), 2: (0.5, 0.5), 3: (0.5, 0.0, 0.5), 4: (0.25, 0.25, 0.25, 0.25)}


def weights(faces: int) -> tuple[float, ...]:
    """Share of each face in the centreline.

    Args:
        faces: read, 1 to 4.
    Returns:
        Weights in the order of the faces; their sum is 1 [1].
    Source:
        the waterline is a plane: derived.
    """
    return _WEIGHTS[faces]


def centre(marks: Sequence[float]) -> float:
    """Waterline on the centreline.

        mean of the faces; of three, mean of the first and the third

    Args:
        marks: one face; two opposite ones; three or four going round the stick [marks].
    Returns:
        Depth of the centreline [marks].
    Source:
        the waterline is a plane: derived.
    """
    return sum(weight * mark for weight, mark in zip(weights(len(marks)), marks, strict=True))


def leans(marks: Sequence[float]) -> tuple[float, ...]:
    """How much opposite faces differ, one way and the other.

    Args:
        marks: as for `centre` [marks].
    Returns:
        Differences, as many as the faces can show; of three faces the second is twice the middle one's
        distance from the centreline [marks].
    Source:
        the waterline is a plane: derived.
    """
    if len(marks) == 1:
        return ()
    if len(marks) == 2:
        return (marks[0] - marks[1],)
    other = 2 * (marks[1] - centre(marks)) if len(marks) == 3 else marks[1] - marks[3]
    return (marks[0] - marks[2], other)


def apart(marks: Sequence[float]) -> float:
    """How far two pairs of opposite faces differ in the centreline they give.

    Args:
        marks: as read [marks]; four go round the stick.
    Returns:
        Difference of the two means; 0 where there is one pair or none [marks].
    Source:
        the waterline is a plane, so both means are the centreline: derived.
    """
    difference = abs(marks[0] + marks[2] - marks[1] - marks[3]) / 2 if len(marks) == 4 else 0.0
    return difference if difference > ROUNDING else 0.0


def tilt(reading: FloatReading) -> float | None:
    """Lean of the stick out of plumb, both ways combined.

    Args:
        reading: its marks as for `centre`.
    Returns:
        Lean [deg]; None for one face.
    Source:
        the waterline is a plane: derived.
    """
    found = leans(reading.marks)
    if not found:
        return None
    return degrees(atan(hypot(*found) * reading.length.si / reading.count / reading.side.si))


@record
class Uptake:
    """The centreline before any water was drawn in, from one face read over time."""

    zero_mark: float  # [marks]
    drift: float  # marks per root second; 0 where it was not read over time or rises
    rises: bool  # the later waterlines lie higher out of the water: no uptake can do that
    gain: float  # standard deviation of `zero_mark` over that of one reading [1]
    scatter: float | None  # of the readings about the line [marks]; None for fewer than three


def uptake(reading: FloatReading) -> Uptake:
    """The waterline led back to the moment the stick met the water.

        mark = a + k sqrt(t)  through the first face, least squares;  zero mark = a + centre - first mark

    A line that falls has no meaning: wood gives no water to the bath. Then the later waterlines are left out,
    and the reading is in doubt.

    Args:
        reading: its faces at `seconds`, later waterlines of the first face in `timed`.
    Returns:
        The zero-time centreline, the drift, and how the errors of the readings come through.
    Source:
        growth with the root of time: capillary flow, from memory; least squares: derived.
    """
    middle = centre(reading.marks)
    shares = list(weights(len(reading.marks)))
    if not reading.timed:
        return Uptake(middle, 0.0, False, hypot(*shares), None)
    roots = [sqrt(reading.seconds), *(sqrt(later.seconds) for later in reading.timed)]
    marks = [reading.marks[0], *(later.mark for later in reading.timed)]
    count = len(marks)
    root, mark = sum(roots) / count, sum(marks) / count
    spread = sum((each - root) ** 2 for each in roots)
    slope = sum((each - root) * (high - mark) for each, high in zip(roots, marks, strict=True)) / spread
    if slope < 0:
        return Uptake(middle, 0.0, True, hypot(*shares), None)
    start = mark - slope * root
    # Each reading's share in `start`; the first waterline is also one of the faces, and is taken off once.
    parts = [1 / count - root * (each - root) / spread for each in roots]
    left = sum((high - start - slope * each) ** 2 for each, high in zip(roots, marks, strict=True))
    return Uptake(
        zero_mark=start + middle - marks[0],
        drift=slope,
        rises=False,
        gain=hypot(parts[0] + shares[0] - 1, *parts[1:], *shares[1:]),
        scatter=sqrt(left / (count - 2)) if count > 2 else None,
    )


def check(reading: FloatReading) -> None:
    """Refuse waterlines that cannot be.

    Args:
        reading: as typed.
    Raises:
        OutOfRange: a mark outside the stick, five faces, a corner out of the water, later waterlines that are
            not later.
    """
    if len(reading.marks) not in FACES:
        raise OutOfRange("faces", len(reading.marks), "read one face, two opposite ones, three or four")
    for mark in reading.marks:
        _on_stick("waterline", mark, reading.count)
    _corners(reading)
    if not 0 <= reading.seconds <= MOST_SECONDS:
        raise OutOfRange("time in the water", reading.seconds, "0 to 86400 s is covered")
    _timed(reading)


def _on_stick(name: str, mark: float, count: int) -> None:
    if not 0 < mark <= count:
        raise OutOfRange(name, mark, f"the stick has {count} marks, counted from its lower end")


def _corners(reading: FloatReading) -> None:
    """Refuse a lean that lifts a corner out of the water or pushes one under."""
    depth = centre(reading.marks)
    reach = sum(abs(lean) for lean in leans(reading.marks)) / 2
    if not reach < min(depth, reading.count - depth) and reach > 0:
        limits = "a corner would be out of the water: hold it upright"
        raise OutOfRange("faces", reading.marks, limits, "such a lean")


def _timed(reading: FloatReading) -> None:
    name = "later waterline"
    if len(reading.timed) > MOST_TIMED:
        raise OutOfRange(name, len(reading.timed), f"{MOST_TIMED} of them is the most", "so many")
    seen: set[float] = set()
    for later in reading.timed:
        if not reading.seconds < later.seconds <= MOST_SECONDS:
            limits = f"it must be later than the first, {reading.seconds:g} s, and within 86400 s"
            raise OutOfRange(name, later.seconds, limits, f"{later.seconds:g} s")
        if later.seconds in seen:
            raise OutOfRange(name, later.seconds, "one mark for each time", f"{later.seconds:g} s twice")
        seen.add(later.seconds)
        _on_stick(name, later.mark, reading.count)
