"""What people type, and what is refused with which words. Expected values by hand: 1 in = 25.4 mm."""

import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest

from bench import units
from bench.core.errors import BadInput, OutOfRange
from bench.core.records import Typed, inches

ROOT = Path(__file__).resolve().parents[2]


def mm(text: str) -> Fraction:
    return Fraction(text) / 1000


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3/4", mm("19.05")),
        ("1-1/8", mm("28.575")),
        ("1 1/8", mm("28.575")),
        ("1⅛", mm("28.575")),
        ("1 ⅛ in", mm("28.575")),
        ("1-⅛", mm("28.575")),
        ("1–1/8", mm("28.575")),
        ("1 1⁄8", mm("28.575")),
        ("½", mm("12.7")),
        ("¼ in", mm("6.35")),
        ("¾", mm("19.05")),
        (".407", mm("10.3378")),
        ("0.407in", mm("10.3378")),
        ("0.407 IN", mm("10.3378")),
        ("5.", mm("127")),
        ("+3", mm("76.2")),
        ("0", Fraction(0)),
        ("1/2 in", mm("12.7")),
        ("3 in.", mm("76.2")),
        ("3 inches", mm("76.2")),
        ('3/4"', mm("19.05")),
        ("3/4 ″", mm("19.05")),
        ("3/4''", mm("19.05")),
        ("34 3/8", mm("873.125")),
        ("  34   3 / 8  ", mm("873.125")),
        ("10.3 mm", mm("10.3")),
        ("10.3mm", mm("10.3")),
        ("10,3 mm", mm("10.3")),
        (",5", mm("12.7")),
        ("0,125", mm("3.175")),
        ("1234,567 mm", mm("1234.567")),
        ("1,200.5 mm", mm("1200.5")),
        ("1,200,000 mm", mm("1200000")),
        ("12cm", mm("120")),
        ("1 m", mm("1000")),
        ("1e-3 m", mm("1")),
        ("5'", mm("1524")),
        ("1/2 ft", mm("152.4")),
        ("2' 6\"", mm("762")),
        ("2'6", mm("762")),
        ("2' 6", mm("762")),
        ("2′ 6″", mm("762")),
        ("2’ 6”", mm("762")),
        ("2'-6\"", mm("762")),
        ("2 ft 6 in", mm("762")),
        ("2ft6in", mm("762")),
        ("2 ft. 6 in.", mm("762")),
        ("2 feet 6 inches", mm("762")),
        ("2' 6 1/2\"", mm("774.7")),
        ("2' 6½\"", mm("774.7")),
        ("2'-6-1/2\"", mm("774.7")),
        ("2' 1/2\"", mm("622.3")),
        ("0.5 yard", mm("457.2")),
        ("3 Yards", mm("2743.2")),
        ("3 centimetre", mm("30")),
        ("3 centimeters", mm("30")),
        ("20 thou", mm("0.508")),
    ],
)
def test_a_length_is_read_exactly(text: str, expected: Fraction) -> None:
    assert units.read("length", text).exact == expected


@pytest.mark.parametrize(
    ("kind", "text", "expected"),
    [
        ("mass", "48.3 g", "0.0483"),
        ("mass", "1.2 kg", "1.2"),
        ("mass", "3.5 lb", "1.587573295"),
        ("mass", "3.5", "1.587573295"),
        ("mass", "2 oz", "0.056699046250"),
        ("mass", "250 mg", "0.00025"),
        ("force", "10 N", "10"),
        ("force", "10 newton", "10"),
        ("force", "1.5 kN", "1500"),
        ("force", "2 kilonewton", "2000"),
        ("force", "1", "4.4482216152605"),
        ("force", "1 lb", "4.4482216152605"),
        ("force", "10 kgf", "98.0665"),
        ("temperature", "20C", "293.15"),
        ("temperature", "20", "293.15"),
        ("temperature", "20°", "293.15"),
        ("temperature", "20 °C", "293.15"),
        ("temperature", "20℃", "293.15"),
        ("temperature", "20 deg C", "293.15"),
        ("temperature", "68 F", "293.15"),
        ("temperature", "68°F", "293.15"),
        ("temperature", "293.15 K", "293.15"),
        ("temperature", "-40 C", "233.15"),
        ("temperature", "−40 F", "233.15"),
        ("moisture", "9.5", "0.095"),
        ("moisture", "9.5%", "0.095"),
        ("moisture", "9 1/2 %", "0.095"),
        ("moisture", "9,5 percent", "0.095"),
        ("moisture", "0", "0"),
        ("moisture", "200", "2"),
        ("angle", "60", "60"),
        ("angle", "60°", "60"),
        ("angle", "60 deg", "60"),
        ("seconds", "30", "30"),
        ("seconds", "2 min", "120"),
        ("seconds", "1 hour", "3600"),
        ("gravity", ".56", "0.56"),
        ("gravity", "0,560", "0.56"),
        ("mark", "6.85", "6.85"),
        ("mark", "6 3/4", "6.75"),
        ("number", "-1.5", "-1.5"),
        ("number", "15", "15"),
        ("number", "3/4", "0.75"),
        ("count", "12", "12"),
        ("count", "0", "0"),
    ],
)
def test_other_kinds_are_read_exactly(kind: str, text: str, expected: str) -> None:
    assert units.read(kind, text).exact == Fraction(expected)


@pytest.mark.parametrize(
    ("kind", "text", "default", "expected"),
    [
        ("length", "19", "mm", Typed(mm("19"), "19 mm")),
        ("length", "3/4 in", "mm", Typed(mm("19.05"), "3/4 in")),
        ("length", "2' 6\"", "mm", Typed(mm("762"), "2' 6\"")),
        ("length", "3/4", "in", inches("3/4")),
        ("length", "3/4", "", inches("3/4")),
        ("length", "2½", "", Typed(mm("63.5"), "2 1/2 in")),
        ("length", " 2′  6″ ", "", Typed(mm("762"), "2' 6\"")),
        ("mass", "48.3", "g", Typed(Fraction("0.0483"), "48.3 g")),
        ("temperature", "68", "F", Typed(Fraction("293.15"), "68 F")),
        ("temperature", "68°", "F", Typed(Fraction("293.15"), "68° F")),
        ("temperature", "-5", "C", Typed(Fraction("268.15"), "-5 C")),
        ("moisture", "12", "", Typed(Fraction("0.12"), "12 %")),
        ("mark", "6,85", "", Typed(Fraction("6.85"), "6,85")),
        ("count", "7", "", Typed(Fraction(7), "7")),
    ],
)
def test_the_text_keeps_what_was_typed_with_the_unit_it_took(
    kind: str, text: str, default: str, expected: Typed
) -> None:
    typed = units.read(kind, text, default)
    assert typed == expected
    assert units.read(kind, typed.text) == expected, (
        "the text kept must mean the same whatever the shop's units"
    )


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "is empty"),
        ("   ", "is empty"),
        ("-3", "is negative"),
        ("−1/2 in", "is negative"),
        ("nan", "is not a finite number"),
        ("1nan", "nan"),
        ("12 nan", "nan"),
        ("inf", "is not a finite number"),
        ("-inf", "is not a finite number"),
        ("Infinity mm", "is not a finite number"),
        ("1/0", "divides by zero"),
        ("1-1/0", "divides by zero"),
        ("1-1/8-2", "has more than one hyphen"),
        ("30-32", "has a hyphen that makes no mixed number"),
        ("1 - 1/8", "has a hyphen with a space beside it"),
        ("2' - 6\"", "has a hyphen with a space beside it"),
        ("1-9/8", "has 9/8 after a whole number"),
        ("3/4/5", "has two fraction bars"),
        ("½½", "has two fraction bars"),
        ("1.5/2", "has a fraction that is not one whole number over another"),
        ("1/", "has a fraction that is not one whole number over another"),
        ("1 2", "has two numbers side by side"),
        ("1.2.3", "has two decimal points"),
        ("1,5,5", "has a comma that is no decimal sign"),
        ("1e999", "has an exponent that cannot be read"),
        ("9" * 81, "is longer than 80 characters"),
        ("1,200 mm", "may mean 1200 or 1.200; 1200 or 1.200 would be read"),
        ("abc", "has no number in it"),
        ("٣", "has no number in it"),
        ("in", "has no number in it"),
        ("3x4", "has 'x4' after the number, which is not a unit"),
        ("5 in 3", "has 'in 3' after the number, which is not a unit"),
        ("3 cubits", "has 'cubits' after the number, which is not a unit known here"),
        ("3 m**9", "has 'm**9' after the number, which is not a unit"),
        ("3 lb", "has the unit lb, which measures a mass"),
        ("3 N", "has the unit N, which measures a load"),
        ("3 C", "has the unit C, which measures a temperature"),
        ("9 %", "has the unit %, which measures a moisture"),
        ("3 tonne", "has the unit tonne, which measures a mass"),
        ("2' 14\"", "has 12 inches or more after the feet"),
        ("2.5' 3\"", "has inches after feet that are not whole"),
        ("2' 60 mm", "has '60 mm' after the feet, where only inches can stand"),
        ("2' 3 ft", "has '3 ft' after the feet, where only inches can stand"),
        ("3 cin", "has 'cin' after the number, which is not a unit known here"),
    ],
)
def test_a_length_that_cannot_be_read_says_why_and_what_would_be(text: str, why: str) -> None:
    with pytest.raises(BadInput) as caught:
        units.read("length", text)
    message = caught.value.message
    assert why in message and "would be read" in message and "\n" not in message
    if "1.200" not in why:
        assert "a length like 3/4, 1-1/8, .407, 10.3 mm or 2' 6\"" in message


@pytest.mark.parametrize(
    ("kind", "text", "why"),
    [
        ("mass", "0", "is zero"),
        ("mass", "3 in", "has the unit in, which measures a length"),
        ("mass", "3 lbf", "has the unit lbf, which measures a load"),
        ("force", "2 kg", "has the unit kg, which measures a mass"),
        ("moisture", "-1", "is negative"),
        ("moisture", "12 C", "has the unit C, which measures a temperature"),
        ("gravity", "0", "is zero"),
        ("gravity", ".56 lb", "measures a mass; a specific gravity has no unit"),
        ("mark", "-1", "is negative"),
        ("count", "2.0", "is not a whole number"),
        ("count", "1/2", "is not a whole number"),
        ("count", "-1", "is negative"),
        ("count", "", "is empty"),
        ("number", "3 %", "a number has no unit"),
        ("seconds", "-3", "is negative"),
        ("angle", "none", "has no number in it"),
        ("temperature", "warm", "has no number in it"),
    ],
)
def test_other_kinds_say_why(kind: str, text: str, why: str) -> None:
    with pytest.raises(BadInput, match="would be read") as caught:
        units.read(kind, text)
    assert why in caught.value.message
    assert (caught.value.quantity, caught.value.value) == (kind, text)


@pytest.mark.parametrize(
    ("kind", "text"),
    [("moisture", "200.1"), ("temperature", "-273.16 C"), ("temperature", "-459.68 F"), ("angle", "181")],
)
def test_what_cannot_be_true_is_out_of_range(kind: str, text: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        units.read(kind, text)
    assert caught.value.quantity == kind and text in caught.value.message


def test_absolute_zero_itself_is_read() -> None:
    assert units.read("temperature", "-459.67 F").exact == 0


def _pint_loaded_after(*calls: str) -> str:
    code = f"import sys; from bench import units; {'; '.join(calls)}; print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.strip()


def test_simple_texts_never_load_pint() -> None:
    texts = ("3/4", "1-1/8", "10.3 mm", "1 m", "12cm", "2 ft 6 in")
    calls = [f"units.read('length', {text!r})" for text in texts]
    calls += [
        "units.read('mass', '48.3 g')",
        "units.read('temperature', '68 F')",
        "units.read('moisture', '9 %')",
    ]
    calls += ["units.read('force', '20 lbf')", "units.size('19 x 38 mm')", "units.spans('30-32, 41')"]
    calls += ["units.length(0.01)", "units.stress(7e7)"]
    assert _pint_loaded_after(*calls) == "False"


def test_a_further_unit_loads_pint() -> None:
    assert _pint_loaded_after("units.read('length', '0.5 yard')") == "True"
