"""An INVENTED job for looking round: a two-seat parasol trainer that was never built.

Nothing here was measured. The figures are chosen so that most sticks pass, one fails, one is on hold, one is
not read, and the cut list is half done.
"""

from collections.abc import Iterator
from fractions import Fraction

from bench.core import demo_breaks, limits
from bench.core.edits import ChooseSection, Edit, MarkCut, PutPart, PutStick, StartJob, TakeReading
from bench.core.history import EMPTY
from bench.core.records import (
    CutMade,
    Defect,
    FloatReading,
    Inspection,
    Part,
    SectionChoice,
    Stick,
    TimedMark,
    Typed,
    inches,
)
from bench.core.river import flow
from bench.core.sectioning import Woods

NAME = "Tansy parasol trainer"
PERCENT = Fraction(1, 100)
BATH = Typed(Fraction(29315, 100), "20 C")

# tag, length, what was found (stretch:kind:size:from the edge), moisture, marks, rings per inch and the runs
# of the two slopes of grain; white ash, 7/8 square, invented lot.
_ASH = (
    ("A-01", "96", "", "9.5", "6.60 6.65", "9 20 24"),
    ("A-02", "96", "31-33:knot:1/8:5/16", "9.5", "6.75", "10 20 30"),
    ("A-03", "70 1/2", "", "9.0", "6.45 6.50", "8 25 40"),
    ("A-04", "68", "0-2 1/2:check", "9.5", "5.55 5.60", "12 22 22"),
    ("A-05", "96", "", "10", "6.80", "8 22 24"),
    ("A-06", "66", "20 1/4-21 1/2:pin_knots:1/16, 55-66:mineral_streak", "10", "6.55", "9 24 0"),
    ("A-07", "84", "", "9.5", "6.85 6.80 6.90 6.85", "10 30 30"),
    ("A-08", "72", "", "9.5", "6.00 6.05", "11 20 25"),
    ("A-09", "84", "12-13:split", "8.5", "6.40", "9 20 40"),
    ("A-10", "60", "", "9.0", "6.50 6.55", "10 15 15"),
    ("A-11", "96", "47-49 3/4:grain_wave", "9.5", "6.70", "8 22 0"),
    ("A-12", "96", "", "9.5", "6.65 6.60", "9 20"),
    ("A-13", "120", "112-120:check", "10.5", "6.90", "8 24 30"),
    ("A-14", "72", "", "9.0", "", ""),
    ("A-15", "120", "", "9.5", "6.60", "10 25 25"),
    ("A-16", "120", "71-72 1/2:bark_pocket:1/16:1/8", "9.5", "6.75", "9 20 30"),
    ("A-17", "120", "", "9.0", "6.50 6.50", "9 18 30"),
    ("A-18", "120", "15-16:knot:1/4:7/16", "10", "6.65", "8 25 0"),
    ("A-19", "108", "", "9.5", "6.70 6.75", "10 22 24"),
    ("A-20", "108", "104-108:check", "9.5", "6.60", "9 22 22"),
)
# The same for coast Douglas-fir, 1-1/8 by 1.
_FIR = (
    ("F-01", "120", "", "10", "5.35 5.40", "12 22 30"),
    ("F-02", "120", "60-61 1/4:pitch_pocket:1/16:1/2", "10", "5.50", "14 20 40"),
    ("F-03", "120", "", "10.5", "5.25 5.30", "11 25 25"),
    ("F-04", "108", "", "10", "5.60", "7 22 22"),
    ("F-05", "108", "0-4:split", "9.5", "5.45 5.45", "12 22 0"),
    ("F-06", "96", "", "10", "5.30", "10 24 30"),
    ("F-07", "96", "0-1 1/2:check", "10", "5.70", "16 18 28"),
    ("F-08", "96", "", "11", "5.40 5.35", "12 25 40"),
    ("F-09", "120", "94-96:knot:3/16:9/16", "10", "5.55", "13 20 26"),
    ("F-10", "96", "", "10", "5.45", "12 24 24"),
    ("F-11", "96", "", "10.5", "5.50", "11 22 30"),
)
# Fuselage stations: upright, upper and lower cross member, diagonal; finished lengths in inches.
_STATIONS = (
    ("1", "21 1/4", "24", "24", "27 3/8"),
    ("2", "22", "25 1/2", "25 1/2", "28 1/8"),
    ("3", "22 5/8", "26", "26", "28 3/4"),
    ("4", "22 1/2", "26", "25 3/4", "28 1/2"),
    ("5", "20 3/4", "24 1/4", "23 1/2", "26 7/8"),
    ("6", "18 1/4", "20 3/8", "19 1/4", "24 1/2"),
    ("7", "15 1/2", "15 5/8", "14 3/4", "21 3/4"),
    ("8", "12 3/8", "10 1/2", "9 7/8", "18 1/8"),
    ("9", "9 1/4", "5 3/4", "5 1/4", "14 3/8"),
)


def _spaced(text: str) -> Typed:
    """`34 3/8` as an exact length in inches."""
    total = sum((Fraction(piece) for piece in text.split()), Fraction(0))
    return Typed(total * Fraction(254, 10_000), f"{text} in")


def _defect(text: str) -> Defect:
    """`31-33:knot:1/8:5/16`: stretch, kind, size, distance from the edge."""
    span, kind, *sizes = text.split(":")
    low, high = span.split("-")
    size, edge = (_spaced(sizes[place]) if place < len(sizes) else None for place in (0, 1))
    return Defect(_spaced(low), _spaced(high), kind, size=size, edge=edge)


def _inspection(text: str) -> Inspection:
    """`9 18 24`: rings per inch, then the runs of the slopes of grain; looked over where both are there."""
    figures = text.split()
    if not figures:
        return Inspection()
    rings = Typed(Fraction(figures[0]) / Fraction(254, 10_000), f"{figures[0]} per in")
    slopes = [
        Typed(1 / Fraction(run), f"1:{run}") if run != "0" else Typed(Fraction(0), "straight")
        for run in figures[1:]
    ]
    return Inspection(
        rings=rings,
        slope_one=slopes[0],
        slope_two=slopes[1] if len(slopes) > 1 else None,
        bow=inches("1/16"),
        looked=len(slopes) > 1,
    )


def _stick(row: tuple[str, str, str, str, str, str], species: str, width: str, depth: str, lot: str) -> Stick:
    tag, length, found, moisture, _, seen = row
    return Stick(
        tag,
        species,
        _spaced(length),
        inches(width),
        _spaced(depth),
        Typed(Fraction(moisture) * PERCENT, f"{moisture} %"),
        lot=lot,
        defects=tuple(_defect(text) for text in found.split(", ") if text),
        note="invented",
        inspection=_inspection(seen),
    )


def _sticks() -> Iterator[Edit]:
    racks = (
        (_ASH, "white_ash", "7/8", "7/8", "invented lot 1"),
        (_FIR, "douglas_fir_coast", "1", "1 1/8", "lot 2"),
    )
    for rows, species, width, depth, lot in racks:
        for row in rows:
            stick = _stick(row, species, width, depth, lot)
            yield PutStick(stick)
            if row[4]:
                marks = tuple(float(mark) for mark in row[4].split())
                assert stick.moisture is not None
                first = FloatReading(
                    marks, inches("1/2"), inches("5"), stick.moisture, BATH, taken="2026-03-14"
                )
                yield TakeReading(stick.tag, first)
    # Floated again on other days: one in agreement, one not.
    again = {"A-07": ("2026-03-21", (6.80, 6.80, 6.85, 6.85)), "F-06": ("2026-03-21", (5.75,))}
    for tag, (day, marks) in again.items():
        moisture = Typed(Fraction(95 if tag == "A-07" else 100, 1000), "9.5 %" if tag == "A-07" else "10 %")
        timed = (TimedMark(120.0, marks[0] + 0.05),)
        reading = FloatReading(marks, inches("1/2"), inches("5"), moisture, BATH, taken=day, timed=timed)
        yield TakeReading(tag, reading)


def _parts() -> Iterator[Edit]:
    side = inches("3/4")
    small = inches("1/2")
    fir = "douglas_fir_coast"
    for station, upright, upper, lower, diagonal in _STATIONS:
        critical = station in "123"
        group = f"station {station}"
        for name, length, section, count, first in (
            ("upright", upright, side, 2, critical),
            ("upper cross", upper, side, 1, critical),
            ("lower cross", lower, side, 1, False),
            ("diagonal", diagonal, small, 2, False),
        ):
            yield PutPart(
                Part(
                    f"{name} {station}", _spaced(length), section, section, count, critical=first, group=group
                )
            )
    for name, length in (("nose", "9 1/8"), ("bay 1", "14 1/4"), ("bay 2", "15 3/8"), ("tail", "18 5/8")):
        yield PutPart(Part(f"rib stiffener {name}", _spaced(length), small, small, 2, group="ribs"))
    for place in ("upper L", "upper R", "lower L", "lower R"):
        yield PutPart(
            Part(
                f"longeron fwd {place}",
                _spaced("58"),
                side,
                side,
                1,
                critical=True,
                group="left side" if place.endswith("L") else "right side",
                grain="edge grain outboard",
            )
        )
    for place in ("front L", "front R", "rear L", "rear R"):
        for edge in ("top", "low"):
            yield PutPart(
                Part(
                    f"cap {place} {edge}",
                    _spaced("91 1/2"),
                    inches("1"),
                    side,
                    1,
                    species=fir,
                    critical=True,
                    use=limits.SPAR_FLANGE,
                    group=f"{place.split()[0]} spar {place.split()[1]}",
                    grain="edge grain to the web",
                )
            )


def entries(woods: Woods) -> tuple[Edit, ...]:
    """The edits of the invented job.

    Args:
        woods: the library, to lay the parts out; half of the pieces are then marked as cut.
    Returns:
        Edits from the start of the job.
    """
    choice = SectionChoice(
        plan="sitka_spruce", use="white_ash", width=inches("3/4"), depth=inches("3/4"), match="all"
    )
    edits: list[Edit] = [
        StartJob(NAME, started="2026-03-12", invented=True),
        *_sticks(),
        *_parts(),
        ChooseSection(choice),
        *demo_breaks.coupons(),
    ]
    history = EMPTY
    for edit in edits:
        history = history.accept(edit)
    river = flow(history.job, woods)
    plan, sizes = river.plan, {sized.part.name: (sized.width, sized.depth) for sized in river.parts}
    pieces = [(stick.tag, piece) for stick in plan.sticks for piece in stick.pieces] if plan else []
    half = len(pieces) // 2
    while 0 < half < len(pieces) and pieces[half - 1][0] != pieces[half][0]:
        half += 1  # one stick is to lie half sawn
    edits += [
        MarkCut(CutMade(piece.part, tag, piece.start, piece.end, *sizes[piece.part]))
        for tag, piece in pieces[:half]
    ]
    return tuple(edits)
