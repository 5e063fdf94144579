"""What can be read: each kind of value with its units, the unit of a bare number, and its limits.

Factors are exact and come from `core.quantities`. The thermometer scales: 0 C is 273.15 K and 0 F is
459.67 x 5/9 K (NIST SP 811, app. B.8), so a value in SI is (typed + offset) x factor.
"""

from fractions import Fraction

from bench.core.frozen import record
from bench.core.quantities import GRAVITY, INCH, POUND


@record
class Scale:
    """SI value = (typed + offset) x factor."""

    factor: Fraction
    offset: Fraction = Fraction(0)


@record
class Kind:
    """One kind of value that people type."""

    name: str
    called: str  # "a length"
    wanted: str  # examples of what would be read
    units: dict[str, Scale]  # by the word in lower case, without a full stop
    default: str = ""  # unit of a bare number
    signed: bool = False  # may the typed number be negative
    zero: bool = True  # may it be zero
    least: Fraction | None = None  # [SI]
    most: Fraction | None = None  # [SI]
    limits: str = ""  # the two above in words
    whole: bool = False


def _scales(*rows: tuple[str, Fraction | int]) -> dict[str, Scale]:
    return {word: Scale(Fraction(factor)) for words, factor in rows for word in words.split()}


_THOUSANDTH = Fraction(1, 1000)
FOOT_WORDS = "' ft foot feet"
INCH_WORDS = '" in inch inches'
_CELSIUS = Scale(Fraction(1), Fraction(27_315, 100))
_FAHRENHEIT = Scale(Fraction(5, 9), Fraction(45_967, 100))
_TEMPERATURES = {
    **dict.fromkeys(("c", "°c", "degc", "celsius"), _CELSIUS),
    **dict.fromkeys(("f", "°f", "degf", "fahrenheit"), _FAHRENHEIT),
    **dict.fromkeys(("k", "kelvin"), Scale(Fraction(1))),
}

_ROWS = (
    Kind(
        "length", "a length", "a length like 3/4, 1-1/8, .407, 10.3 mm or 2' 6\"",
        _scales(
            (INCH_WORDS, INCH), (FOOT_WORDS, 12 * INCH),
            ("mm", _THOUSANDTH), ("cm", 10 * _THOUSANDTH), ("m", 1),
        ),
        default="in",
    ),
    Kind(
        "mass", "a mass", "a mass like 48.3 g, 1.2 kg, 2 oz or 3.5 lb",
        _scales(
            ("g", _THOUSANDTH), ("kg", 1), ("lb lbs pound pounds", POUND), ("oz ounce ounces", POUND / 16),
        ),
        default="lb", zero=False,
    ),
    Kind(
        "force", "a load", "a load like 55 lbf, 245 N or 25 kgf",
        # On a loading rig "lb" can only mean the load that a pound hangs on it.
        _scales(
            ("lbf lb lbs pound pounds", POUND * GRAVITY), ("kgf", GRAVITY),
            ("n newton newtons", 1), ("kn", 1000),
        ),
        default="lbf",
    ),
    Kind(
        "temperature", "a temperature", "a temperature like 20 C, 68 F or 293.15 K",
        _TEMPERATURES, default="C", signed=True, least=Fraction(0), limits="nothing is colder than -273.15 C",
    ),
    Kind(
        "moisture", "a moisture", "a moisture like 9.5 or 9.5 %",
        _scales(("% percent pct", Fraction(1, 100))),
        default="%", most=Fraction(2), limits="0 to 200 % can be read",
    ),
    Kind(
        "angle", "an angle", "an angle like 60 or 60 deg", _scales(("deg ° degree degrees", 1)),
        default="deg", most=Fraction(180), limits="0 to 180 degrees can be read",
    ),
    Kind(
        "seconds", "a time", "a time like 30, 30 s or 2 min",
        _scales(("s sec second seconds", 1), ("min minute minutes", 60)), default="s",
    ),
    Kind(
        "humidity", "a humidity", "a humidity like 65 or 65 %",
        _scales(("% percent pct rh", Fraction(1, 100))),
        default="%", most=Fraction(1), limits="0 to 100 % can be read",
    ),
    Kind(
        "share", "a share", "a share like 67 or 67 %", _scales(("% percent pct", Fraction(1, 100))),
        default="%", most=Fraction(1), limits="0 to 100 % can be read",
    ),
    Kind("slope", "a slope of grain", "a slope of grain like 15, 1:15 or 1 in 15; 0 if straight", {}),
    Kind(
        "scarf", "a slope of a scarf",
        "a slope of a scarf like 12 or 1:12, with its side behind it where it matters: 1:12 width", {},
    ),
    Kind("rings", "a ring count", "growth rings per inch like 8, or counted: 4 in 1/2", {}),
    Kind("gravity", "a specific gravity", "a specific gravity like 0.56", {}, zero=False),
    Kind("mark", "a mark", "a mark on the stick like 6.85 or 6 3/4", {}),
    Kind("number", "a number", "a number like 15, 1.25 or 3/4", {}, signed=True),
    Kind("count", "a count", "a whole number like 0, 1 or 12", {}, whole=True),
)  # fmt: skip

KINDS: dict[str, Kind] = {kind.name: kind for kind in _ROWS}


def known(kind: Kind, word: str) -> Scale | None:
    """The scale of a unit as people write it, from the fast table; None when it is not there."""
    return kind.units.get(word.replace(" ", "").removesuffix(".").lower())
