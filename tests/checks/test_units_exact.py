"""The units against their definitions and against two printed lists.

Sources:
    nist811: NIST Special Publication 811, 2008 edition, Guide for the Use of the SI, appendix B.8 and B.9
        (from memory).
    fr1959: agreement of the national laboratories on the international yard and pound, Federal Register 24 FR
        5348, 1 July 1959 (from memory).
    cgpm3: 3rd General Conference on Weights and Measures, 1901, declaration on weight (from memory).
    si: SI brochure, 9th edition, sec. 2.3.1, definition of the degree Celsius (from memory).
    pint: the unit list that pint ships, kept by other people; read here, never by the program.
"""

from decimal import Decimal
from fractions import Fraction
from functools import cache

import pint
import pytest

from bench import units
from bench.core.quantities import GRAVITY, INCH, POUND
from bench.units.kinds import KINDS
from bench.units.registry import look_up


def test_the_inch_and_the_pound() -> None:
    """fr1959: the yard is 0.9144 metre, the avoirdupois pound 0.453 592 37 kilogram."""
    assert 36 * INCH == Fraction("0.9144") == units.read("length", "1 yard").exact
    assert POUND == Fraction("0.45359237") == units.read("mass", "1 lb").exact


def test_standard_gravity() -> None:
    """cgpm3: 980.665 cm/s2; the pound-force is the weight of a pound there."""
    assert Fraction("980.665") / 100 == GRAVITY
    assert units.read("force", "1 kgf").exact == Fraction("9.80665")
    assert units.read("force", "1 lbf").exact == Fraction("4.4482216152605")


@pytest.mark.parametrize(
    ("kind", "unit", "printed", "exact"),
    [
        ("length", "ft", "3.048E-01", True),
        ("length", "in", "2.54E-02", True),
        ("length", "mil", "2.54E-05", True),
        ("length", "yd", "9.144E-01", True),
        ("mass", "oz", "2.834952E-02", False),
        ("mass", "lb", "4.535924E-01", False),
        ("mass", "grain", "6.479891E-05", True),
        ("mass", "stone", "6.350293E+00", False),
        ("mass", "tonne", "1.0E+03", True),
        ("force", "kgf", "9.80665E+00", True),
        ("force", "kip", "4.448222E+03", False),
        ("force", "lbf", "4.448222E+00", False),
        ("force", "ozf", "2.780139E-01", False),
        ("seconds", "min", "6.0E+01", True),
        ("seconds", "hour", "3.6E+03", True),
    ],
)
def test_the_printed_factors(kind: str, unit: str, printed: str, exact: bool) -> None:
    """nist811 app. B.8: bold factors are exact, the others are rounded in their last digit."""
    value = units.read(kind, f"1 {unit}").exact
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    tolerance = Fraction(0) if exact else Fraction(10) ** exponent / 2
    assert abs(value - Fraction(printed)) <= tolerance


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [("32", "0"), ("212", "100"), ("-40", "-40"), ("68", "20"), ("98.6", "37"), ("50", "10")],
)
def test_fahrenheit_and_celsius(fahrenheit: str, celsius: str) -> None:
    """nist811 app. B.8: T/K = (t/F + 459.67)/1.8; si: t/C = T/K - 273.15. Fixed points and round pairs."""
    by_formula = (Fraction(fahrenheit) + Fraction("459.67")) / Fraction("1.8")
    read = {
        units.read("temperature", f"{fahrenheit} F").exact,
        units.read("temperature", f"{celsius} C").exact,
    }
    assert read == {by_formula} == {Fraction(celsius) + Fraction("273.15")}


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("1/64", ".015625"), ("3/64", ".046875"), ("5/32", ".15625"), ("13/32", ".40625"),
        ("39/64", ".609375"), ("3/4", ".75"), ("63/64", ".984375"),
    ],
)  # fmt: skip
def test_decimal_equivalents_of_the_inch(text: str, printed: str) -> None:
    """The chart on every shop wall (trade, no source): exact to its last digit, both ways."""
    assert units.read("length", text).exact == units.read("length", printed).exact == Fraction(printed) * INCH
    assert units.shop(Fraction(printed) * INCH, INCH / 64) == f"{text} in"


@cache
def _stock() -> "pint.UnitRegistry[Fraction]":
    return pint.UnitRegistry(non_int_type=Fraction)


_SI = {"length": "meter", "mass": "kilogram", "force": "newton", "seconds": "second"}
_MARKS = ("'", '"')
# For us a pound on a loading rig is a load; elsewhere it is a mass.
_OURS = {("force", word) for word in ("lb", "lbs", "pound", "pounds")}


def test_every_unit_word_agrees_with_the_stock_list_of_pint() -> None:
    """pint: the same exact factor under the same name."""
    stock = _stock()
    checked = 0
    for kind, si in _SI.items():
        for word, scale in KINDS[kind].units.items():
            if word in _MARKS or (kind, word) in _OURS:
                continue
            spelled = {"n": "N", "kn": "kN"}.get(word, word)
            assert stock.Quantity(Fraction(1), spelled).to(si).magnitude == scale.factor, word
            checked += 1
    assert checked >= 25


_FURTHER = (
    *("yard", "yd", "thou", "feet", "inches", "metre", "millimeter", "decimeter", "centimetre"),
    *("milligram", "kilogram", "stone", "grain", "tonne", "pound", "ounce"),
    *("ozf", "kip", "kgf", "lbf", "newton", "kilonewton", "hour", "minute", "second"),
)


@pytest.mark.parametrize("word", _FURTHER)
def test_every_further_unit_agrees_with_the_stock_list_of_pint(word: str) -> None:
    """pint: the same exact factor and the same kind of quantity."""
    ours = look_up(word)
    assert ours is not None
    kind, factor = ours
    assert _stock().Quantity(Fraction(1), word).to(_SI[kind]).magnitude == factor


def test_the_two_tables_of_ours_agree() -> None:
    """A word in both the fast table and the registry means the same unit."""
    both = 0
    for kind in ("length", "mass", "force"):
        for word, scale in KINDS[kind].units.items():
            found = look_up(word) if word.isalpha() and (kind, word) not in _OURS else None
            if found:
                assert found == (kind, scale.factor), word
                both += 1
    assert both >= 15
