"""A test in lines of text: the ladder of heights of a drop test, the curve of a bending test."""

from collections.abc import Sequence
from fractions import Fraction

from textual.content import Content

from bench import units
from bench.core import breaks
from bench.core.coupon import BROKEN, CRACK, NOTHING, Blow, Coupon
from bench.sheets import breaking
from bench.ui.drawing import DIM, line

_SIGNS = {NOTHING: ".", CRACK: "c", BROKEN: "X"}
LADDER = ". nothing seen   c first crack   X broken"


def ladder(coupon: Coupon, height: int, system: str) -> list[Content]:
    """Each height struck, the highest on top, with a sign for each blow there; the lowest give way."""
    levels: dict[Fraction, list[Blow]] = {}
    for blow in coupon.blows:
        levels.setdefault(blow.height.exact, []).append(blow)
    rows = []
    for _, blows in sorted(levels.items(), reverse=True):
        signs = " ".join(_SIGNS[blow.seen] for blow in blows)
        style = "" if all(blow.seen == NOTHING for blow in blows) else "bold"
        rows.append(line((f"{units.place(blows[0].height.exact, system):>10} | {signs}", style)))
    room = max(1, height - 1)
    if len(rows) > room:
        left = len(rows) - room + 1
        rows = [*rows[: room - 1], line((f"{left} lower heights", DIM))]
    return [*rows, line((LADDER, DIM))] if rows else []


def curve(coupon: Coupon, straight: range, width: int, height: int, system: str) -> list[Content]:
    """Load against deflection; `straight` tells which readings lie on the straight part.

    Readings of the straight part are `o`, the others `x`, the greatest load `M`.
    """
    points = [(reading.deflection_m, reading.load_n) for reading in breaks.readings_of(coupon)]
    left = 10
    columns, rows = max(10, width - left - 2), max(3, height - 2)
    far, top = max((d for d, _ in points), default=0.0), max((p for _, p in points), default=0.0)
    if not far or not top:
        return []
    grid = [[" "] * columns for _ in range(rows)]
    peak = max(range(len(points)), key=lambda place: points[place][1])
    for place, (deflection, load) in enumerate(points):
        column = min(columns - 1, round(deflection / far * (columns - 1)))
        row = rows - 1 - min(rows - 1, round(load / top * (rows - 1)))
        grid[row][column] = "M" if place == peak else "o" if place in straight else "x"
    labels = {0: breaking.load(top, system), rows - 1: "0"}
    drawn = [
        line(f"{labels.get(number, ''):>{left}} |{''.join(cells).rstrip()}")
        for number, cells in enumerate(grid)
    ]
    end = units.length_up(far, system)
    axis = f"{'':>{left}} +{'-' * columns}"
    return [*drawn, line(axis), line((f"{'':>{left}}  0{end:>{columns - 1}}", DIM))]


def dots(groups: Sequence[tuple[str, Sequence[float], float, float | None]], width: int) -> list[Content]:
    """Every value of every group on one scale from zero: a row each, with the mean and the lower limit.

    Each group is a name, its values, their mean, and its lower limit where it has one.
    """
    name = min(16, max((len(group[0]) for group in groups), default=0))
    columns = max(10, width - name - 3)
    most = max((max(values) for _, values, _, _ in groups if values), default=0.0)
    if most <= 0:
        return []
    rows = []
    for title, values, mean, limit in groups:
        cells = [" "] * columns
        for value in values:
            place = _at(value, most, columns)
            cells[place] = "2" if cells[place] == "o" else "o" if cells[place] == " " else "+"
        place = _at(mean, most, columns)
        cells[place] = "M" if cells[place] == " " else "#"
        if limit is not None and limit > 0:
            place = _at(limit, most, columns)
            cells[place] = "[" if cells[place] == " " else cells[place]
        rows.append(line(f"{title[:name]:<{name}} |{''.join(cells).rstrip()}"))
    return rows


DOTS = "o one coupon   2, + more at one place   M mean (# on a coupon)   [ lower limit   scale from zero"


def _at(value: float, most: float, columns: int) -> int:
    return min(columns - 1, max(0, round(value / most * (columns - 1))))
