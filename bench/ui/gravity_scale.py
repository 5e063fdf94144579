"""A stick's gravity beside the limits of its wood, drawn on one line of characters.

The minimum and the average of every wood stand in the same columns, so that a whole rack is read downwards.
"""

from math import floor

WIDTH = 13
_MINIMUM, _AVERAGE = 3, 7  # columns
_STEP = 0.03  # of the one limit that is known, a column; where both are, they set it [1]
BARE, BAND, LEAST, MEAN, OWN = "─", "=", "┼", "┴", "█"
LEGEND = f"{LEAST} minimum {MEAN} average {OWN} stick {BAND} 95 % band"


def scale(
    value: float | None, low: float | None, high: float | None, minimum: float | None, average: float | None
) -> str:
    """A scale of `WIDTH` columns; blank where no limit is known, without a mark where nothing was read.

    A column holds the gravities from its own up to the next one's: what lies below the minimum is always
    drawn before it. `<` and `>` stand at the end that a stick lies beyond.

    Args:
        value: of the stick, oven-dry mass on oven-dry volume [1].
        low: lower edge of its band [1].
        high: upper edge [1].
        minimum: of the wood, same basis [1].
        average: of the wood, same basis [1].
    """
    if minimum is None and average is None:
        return " " * WIDTH
    both = minimum is not None and average is not None and average > minimum
    if both:
        assert minimum is not None and average is not None
        zero, step = minimum, (average - minimum) / (_AVERAGE - _MINIMUM)
        start = _MINIMUM
    else:
        zero = minimum if minimum is not None else average or 1.0
        step, start = zero * _STEP, _AVERAGE if minimum is None else _MINIMUM

    def column(gravity: float) -> int:
        return start + floor((gravity - zero) / step + 1e-9)

    cells = [BARE] * WIDTH
    if low is not None and high is not None:
        for place in range(max(0, column(low)), min(WIDTH, column(high) + 1)):
            cells[place] = BAND
    if minimum is not None:
        cells[_MINIMUM] = LEAST
    if both or minimum is None:
        cells[_AVERAGE] = MEAN
    if value is not None:
        place = column(value)
        cells[min(max(place, 0), WIDTH - 1)] = "<" if place < 0 else ">" if place >= WIDTH else OWN
    return "".join(cells)
