"""What is read off grown wood: the slope of its grain, and how many rings stand on a length."""

import re
from fractions import Fraction

from bench.core.quantities import INCH
from bench.core.records import Typed
from bench.units.digits import Unread, number
from bench.units.kinds import KINDS
from bench.units.measuring import measure

_STRAIGHT = frozenset({"0", "straight", "none", "1:0"})
_ONE_IN = re.compile(r"1\s*(?::|/|in)\s*(.+)")
_COUNTED = re.compile(r"(.+?)\s+(?:in|over|on)\s+(.+)")
_PER_INCH = re.compile(r"(.+?)\s*(?:per in|per inch|/ ?in|/ ?inch|rpi)\.?")


def slope(plain: str) -> Typed:
    """A slope of grain as rise over run: `15`, `1:15`, `1 in 15`; `0` and `straight` mean none.

    Args:
        plain: tidy text.
    Returns:
        Rise over run [1], kept as `1:15` or `straight`.
    Raises:
        Unread: no number, or steeper than 1:1.
    """
    lower = plain.lower()
    if lower in _STRAIGHT:
        return Typed(Fraction(0), "straight")
    match = _ONE_IN.fullmatch(lower)
    run_text = match[1].strip() if match else lower
    run = number(run_text)
    if run < 1:
        raise Unread("is steeper than 1:1")
    return Typed(1 / run, f"1:{run_text}")


def rings(plain: str) -> Typed:
    """A ring count: `8` or `8 per in`, or as counted on a length: `4 in 1/2`, `6 over 20 mm`.

    Args:
        plain: tidy text.
    Returns:
        Rings over radial length [1/m], the text as typed.
    Raises:
        Unread: no count, or a length of zero.
    """
    lower = plain.lower()
    if match := _PER_INCH.fullmatch(lower):
        return Typed(number(match[1]) / INCH, f"{match[1]} per in")
    if match := _COUNTED.fullmatch(lower):
        over = measure(KINDS["length"], match[2])
        if not over.exact:
            raise Unread("is counted on a length of zero")
        return Typed(number(match[1]) / over.exact, f"{match[1]} in {over.text}")
    return Typed(number(lower) / INCH, f"{lower} per in")
