"""SI number -> text, one function per kind, so that a pane and a sheet show the same characters.

Halves go away from zero, and a relative 1e-12 is granted first, so that an exact fraction and the float
computed from it print alike. What is not finite prints as `--`. Only ASCII and the degree sign are written.
"""

import math
from collections.abc import Callable
from fractions import Fraction

from bench.core.quantities import GRAVITY, INCH, POUND
from bench.core.rounding import AS_DRAWN, round_up

Number = float | Fraction

_NONE = "--"
_HAIR = 1e-12  # far above the noise of a float, far below any printed digit
_NOISE = Fraction(1, 10**9)  # what is taken for noise where rounding has a safe side
_MILLIMETRE = Fraction(1, 1000)
_PSI = POUND * GRAVITY / INCH**2
_MEGAPASCAL = 1e6
_INCH = float(INCH)
_FINEST_SHOP_FRACTION = 128
_LEAST_DECIMAL = -6  # power of ten of the smallest number written out in decimals


def length(metres: Number, system: str = "in", places: int = 3) -> str:
    """A length in decimals: `0.602 in`, or `15.3 mm` with two decimals fewer.

    Args:
        metres: the length [m].
        system: "in" or "mm".
        places: decimals of the inch [1].
    """
    if system == "mm":
        return _with_unit(_fixed(metres * 1000, max(places - 2, 0)), "mm")
    return _with_unit(_fixed(metres / _INCH, places), "in")


def length_up(metres: Number, system: str = "in", places: int = 3) -> str:
    """As `length`, with the last digit rounded up: a size that must not be under strength: `0.603 in`.

    Noise in a float is forgiven as in `round_up`.

    Args:
        metres: the length [m].
        system: "in" or "mm".
        places: decimals of the inch [1].
    """
    if system == "mm":
        return _with_unit(_fixed_up(metres * 1000, max(places - 2, 0)), "mm")
    return _with_unit(_fixed_up(metres / _INCH, places), "in")


def shop(metres: Number, grid: Fraction, system: str = "in") -> str:
    """A shop size, a multiple of the grid: `39/64 in`, `1-1/8 in`, or `15.5 mm`; what lies between goes up.

    A size that is no binary fraction of an inch is written in decimals; where those do not end, they are
    rounded up in the third place of the inch or the second of the millimetre.

    Args:
        metres: the length [m].
        grid: the step of the shop's sizes, above zero [m].
        system: "in" or "mm".
    Raises:
        OutOfRange: the grid is not above zero.
    """
    if not math.isfinite(metres):
        return _NONE
    exact = round_up(metres, grid)
    if system == "mm":
        return f"{_decimals_up(exact / _MILLIMETRE, 2)} mm"
    inches = exact / INCH
    if _FINEST_SHOP_FRACTION % inches.denominator:
        return f"{_decimals_up(inches, 3)} in"
    return f"{_mixed(inches, '-')} in"


def sides(width: Number, depth: Number, system: str = "in") -> str:
    """Both sides of a section as they stand, the unit once: `39/64 x 47/64 in`, or `15.5 x 19 mm`.

    Args:
        width: one side [m].
        depth: the other [m].
        system: "in" or "mm".
    """
    first, second = shop(width, AS_DRAWN, system), shop(depth, AS_DRAWN, system)
    return f"{first.rpartition(' ')[0] or first} x {second}"


def tape(metres: Number, system: str = "in") -> str:
    """A place along a stick as it is found with a tape: `34 3/8 in`, or `873.1 mm`.

    Rounded to the nearest 1/64 in (0.1 mm), halves up, so it is off by no more than 1/128 in (0.05 mm). For
    marking out and reading back only: plans are computed on the exact lengths.

    Args:
        metres: place or length, zero or more [m].
        system: "in" or "mm".
    """
    if system == "mm":
        return length(metres, "mm")
    if not math.isfinite(metres):
        return _NONE
    sixty_fourths = math.floor(float(metres) / _INCH * 64 * (1 + _HAIR) + 0.5)
    return f"{_mixed(Fraction(sixty_fourths, 64), ' ')} in"


def place(metres: Fraction, system: str = "in", up: bool = False) -> str:
    """A place or length of a cut list: `34 3/8 in` where it stands on 1/64 in, else `5.701 in`; `144.80 mm`.

    Decimals are to the nearest 0.001 in or 0.01 mm, so that two places never look closer than they are by
    more than that. A stop or a fence goes up to the last digit shown: what is cut by it never comes short.

    Args:
        metres: place or length, zero or more [m].
        system: "in" or "mm".
        up: whether decimals are rounded up.
    """
    if system != "mm" and (metres / INCH * 64).denominator == 1:
        return tape(metres)
    unit, places = (_MILLIMETRE, 2) if system == "mm" else (INCH, 3)
    shown = metres / unit
    if up:
        shown = Fraction(math.ceil(shown * 10**places), 10**places)
    return _with_unit(_fixed(shown, places), "mm" if system == "mm" else "in")


def gravity(value: Number, places: int = 3) -> str:
    """A specific gravity: `0.612`.

    Args:
        value: the specific gravity [1].
        places: decimals [1].
    """
    return _fixed(value, places)


def gravity_up(value: Number, places: int = 3) -> str:
    """As `gravity`, rounded up: an uncertainty, never shown narrower than it is.

    Args:
        value: a difference of specific gravities [1].
        places: decimals [1].
    """
    return _fixed_up(value, places)


def gravity_down(value: Number, places: int = 3) -> str:
    """As `gravity`, rounded down: the lower edge of a band, never shown higher than it is.

    Args:
        value: the specific gravity [1].
        places: decimals [1].
    """
    steps = 10**places
    down = math.floor(float(value) * steps * (1 + _HAIR)) / steps if math.isfinite(value) else value
    return _fixed(down, places)


def told_apart(write: Callable[[int], str], places: int, other: str) -> str:
    """A number written with as many decimals as it takes to differ from another: `0.3604` beside `0.360`.

    Args:
        write: writes the number with so many decimals.
        places: the customary number of them [1].
        other: the other number as written; empty for none.
    Returns:
        The text; with the customary decimals where four more do not part the two.
    """
    for more in range(5):
        text = write(places + more)
        if not other or _NONE in (text, other) or float(text.split()[0]) != float(other.split()[0]):
            return text
    return write(places)


def percent(fraction: Number, places: int = 1) -> str:
    """A share or a moisture: 0.095 is `9.5 %`.

    Args:
        fraction: the share [1].
        places: decimals of the percentage [1].
    """
    return _with_unit(_fixed(fraction * 100, places), "%")


def ratio(value: Number) -> str:
    """A capacity over the plan's: 0.8005 is `80.0 %`, 0.9999 is `99.9 %`.

    The last digit is cut off, never rounded up, so nothing looks stronger than it is. A value below a printed
    step by no more than 1e-9 of itself is taken for noise, so that a ratio of one shows as `100.0 %`.

    Args:
        value: the ratio [1].
    """
    if not math.isfinite(value):
        return _NONE
    return f"{math.floor(float(value) * 1000 * (1 + float(_NOISE))) / 10:.1f} %"


def slope(rise_over_run: Number) -> str:
    """A slope of grain: `1:15`, `1:10.6`, `straight`; the run is rounded down, so it never looks straighter.

    Args:
        rise_over_run: the slope [1].
    """
    if not math.isfinite(rise_over_run):
        return _NONE
    if not rise_over_run:
        return "straight"
    run = math.floor(10 / float(rise_over_run) * (1 + _HAIR)) / 10
    return f"1:{run:g}" if run < 1000 else "straight"


def rings(per_metre: Number) -> str:
    """A ring count, rounded down: `8 per in`, `7.5 per in`.

    Args:
        per_metre: rings over radial length [1/m].
    """
    if not math.isfinite(per_metre):
        return _NONE
    return f"{math.floor(float(per_metre) * _INCH * 10 * (1 + _HAIR)) / 10:g} per in"


def temperature(kelvin: Number, scale: str = "C") -> str:
    """A temperature: `20.0 °C` or `68.0 °F`.

    Args:
        kelvin: the temperature [K].
        scale: "C" or "F".
    """
    celsius = float(kelvin) - 273.15
    return _with_unit(_fixed(celsius * 1.8 + 32 if scale == "F" else celsius, 1), f"°{scale}")


def mark(position: Number) -> str:
    """A place on the float stick: `6.85`.

    Args:
        position: counted from the lower end [marks].
    """
    return _fixed(position, 2)


def mark_read(position: Number) -> str:
    """As `mark`, with every digit it was read to: a waterline as typed, `6.625`.

    Args:
        position: counted from the lower end [marks].
    """
    text = mark(position)
    return text if float(text) == position else f"{float(position):g}"


def mark_up(position: Number) -> str:
    """As `mark`, rounded up: a minimum line, never drawn lower than it stands.

    Args:
        position: counted from the lower end [marks].
    """
    return _fixed_up(position, 2)


def stress(pascals: Number, system: str = "in") -> str:
    """A stress or a modulus to three digits: `10,200 lbf/in2` or `70.3 MPa`.

    Args:
        pascals: the stress [Pa].
        system: "in" or "mm".
    """
    unit, word = (_MEGAPASCAL, "MPa") if system == "mm" else (float(_PSI), "lbf/in2")
    return _with_unit(number(float(pascals) / unit), word)


def stress_down(pascals: Number, system: str = "in", digits: int = 3) -> str:
    """As `stress`, rounded down: a limit, never shown higher than it is.

    Args:
        pascals: the stress, above zero [Pa].
        system: "in" or "mm".
        digits: significant digits, one or more [1].
    """
    return _stress_to(math.floor, 1 + _HAIR, pascals, system, digits)


def stress_up(pascals: Number, system: str = "in", digits: int = 3) -> str:
    """As `stress`, rounded up: the far end of a band, never shown nearer than it is.

    Args:
        pascals: the stress, above zero [Pa].
        system: "in" or "mm".
        digits: significant digits, one or more [1].
    """
    return _stress_to(math.ceil, 1 - _HAIR, pascals, system, digits)


def _stress_to(whole: Callable[[float], int], hair: float, pascals: Number, system: str, digits: int) -> str:
    unit, word = (_MEGAPASCAL, "MPa") if system == "mm" else (float(_PSI), "lbf/in2")
    value = float(pascals) / unit * hair
    if not (value > 0 and math.isfinite(value)):
        return stress(pascals, system)
    step = 10.0 ** (math.floor(math.log10(value)) + 1 - digits)
    return _with_unit(number(whole(value / step) * step, digits), word)


def number(value: Number, digits: int = 3) -> str:
    """A number to so many significant digits, thousands parted by a comma: `10,200`, `0.602`, `1.00e-07`.

    Args:
        value: the number [1].
        digits: significant digits, one or more [1].
    """
    if not value or not math.isfinite(value):
        return _NONE if value else "0"
    text = f"{float(value) * (1 + _HAIR):.{digits - 1}e}"
    power = int(text.partition("e")[2])
    return text if power < _LEAST_DECIMAL else f"{float(text):,.{max(digits - 1 - power, 0)}f}"


def signed(value: Number, places: int) -> str:
    """A difference with its sign: `+0.052`, `-0.008`; one that rounds to zero has none.

    Args:
        value: the difference [1].
        places: decimals [1].
    """
    text = _fixed(value, places)
    return f"+{text}" if text != _NONE and value > 0 and text.strip("0.") else text


def _fixed(value: Number, places: int) -> str:
    """A number with a fixed count of decimals; never "-0.0"."""
    if not math.isfinite(value):
        return _NONE
    text = f"{float(value) * (1 + _HAIR):.{places}f}"
    return text if text.strip("-0.") else text.removeprefix("-")


def _fixed_up(value: Number, places: int) -> str:
    """As `_fixed`, upwards; a value above a printed step by 1e-9 of itself or less is taken for that step."""
    if not math.isfinite(value):
        return _NONE
    steps = float(value) * 10**places
    return _fixed(Fraction(math.ceil(steps - abs(steps) * float(_NOISE)), 10**places), places)


def _decimals_up(value: Fraction, places: int) -> str:
    """As few decimals as are exact, up to four; else so many places, rounded up."""
    for exact_places in range(5):
        if (value * 10**exact_places).denominator == 1:
            return _fixed(value, exact_places)
    return _fixed(Fraction(math.ceil(value * 10**places), 10**places), places)


def _mixed(value: Fraction, joint: str) -> str:
    """`1-1/8` or `34 3/8`, in lowest terms."""
    whole, rest = divmod(value, 1)
    if not rest:
        return f"{whole}"
    return f"{whole}{joint}{rest}" if whole else f"{rest}"


def _with_unit(text: str, unit: str) -> str:
    return text if text == _NONE else f"{text} {unit}"
