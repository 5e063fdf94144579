"""Text to an exact number: decimals, fractions and mixed numbers, with a reason for whatever is refused."""

import re
import unicodedata
from fractions import Fraction

LONGEST = 80  # characters of one value; keeps whole-number arithmetic small whatever is pasted

_SPELLED = str.maketrans(
    {
        "′": "'", "’": "'", "‘": "'", "ʹ": "'", "´": "'", "`": "'",
        "″": '"', "”": '"', "“": '"', "ʺ": '"',
        "⁄": "/", "∕": "/",
        "−": "-", "‐": "-", "‑": "-", "–": "-", "—": "-",
        "º": "°", "˚": "°", "℃": "°C", "℉": "°F", "％": "%",
    }
)  # fmt: skip
_VULGAR = {mark: unicodedata.normalize("NFKC", mark).replace("⁄", "/") for mark in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"}
_VULGAR_MARK = re.compile(f"[{''.join(_VULGAR)}]")

# The hyphen of a mixed number has no space beside it: with spaces it separates the ends of a span.
_MIXED = re.compile(r"(\d+)(?:-|\s+)(\d+)\s*/\s*(\d+)", re.ASCII)
_FRACTION = re.compile(r"(\d+)\s*/\s*(\d+)", re.ASCII)
_DECIMAL = re.compile(r"(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{1,2})?", re.ASCII)
_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d*)?", re.ASCII)
_NUMBER_THEN_UNIT = re.compile(r"((?:[\d.,/\s-]|(?<=[\d.])[eE][+-]?(?=\d))*)(.*)", re.ASCII)
_ENDLESS = re.compile(r"[+-]?\s*(?:nan|inf|infinity)\b", re.IGNORECASE)

_FAULTS = (
    (r"^\D*$", "has no number in it"),
    (r"[eE]", "has an exponent that cannot be read"),
    (r"/.*/", "has two fraction bars"),
    (r"\s-|-\s", "has a hyphen with a space beside it"),
    (r"-.*-", "has more than one hyphen"),
    (r"-", "has a hyphen that makes no mixed number"),
    (r"\.[^/\s]*\.", "has two decimal points"),
    (r",", "has a comma that is no decimal sign"),
    (r"/", "has a fraction that is not one whole number over another"),
    (r"\s", "has two numbers side by side"),
)


class Unread(Exception):
    """Why a text cannot be read, and what would be if not the usual; a `BadInput` once it is at the door."""

    def __init__(self, why: str, wanted: str = "") -> None:
        super().__init__(why)
        self.why, self.wanted = why, wanted


def tidy(text: str) -> str:
    """The same text with single spaces, its curly primes, dashes and fraction signs in plain characters."""
    text = _VULGAR_MARK.sub(_spell_fraction, text).translate(_SPELLED)
    return " ".join(text.replace("''", '"').split())


def _spell_fraction(match: re.Match[str]) -> str:
    """`2½` is 2 1/2, and a digit after the sign stays apart so that it cannot join the denominator."""
    before, after = match.string[: match.start()][-1:], match.string[match.end() :][:1]
    return (" " if before.isdigit() else "") + _VULGAR[match[0]] + (" " if after.isdigit() else "")


def split(text: str) -> tuple[str, str]:
    """A tidy text as the number before the unit and the unit, either of which may be empty.

    Raises:
        Unread: the text is empty, too long, or names something that is not finite.
    """
    if not text:
        raise Unread("is empty")
    if len(text) > LONGEST:
        raise Unread(f"is longer than {LONGEST} characters")
    if _ENDLESS.match(text):
        raise Unread("is not a finite number")
    match = _NUMBER_THEN_UNIT.fullmatch(text)
    return (match[1].strip(), match[2].strip()) if match else ("", text)


def number(text: str) -> Fraction:
    """The exact value of a number without sign or unit: `.407`, `10,3`, `3/4`, `1-1/8`, `1 1/8`.

    A comma is a decimal sign. Where it may as well part thousands (`1,200`) the text is refused; `0,125` and
    `12,5` cannot, and `1,200.5` and `1,200,000` can only be thousands.

    Raises:
        Unread: with the reason.
    """
    if match := _MIXED.fullmatch(text):
        whole, top, bottom = (int(digits) for digits in match.groups())
        if top >= bottom > 0:
            raise Unread(f"has {top}/{bottom} after a whole number, where the fraction must be less than 1")
        return whole + _over(top, bottom)
    if match := _FRACTION.fullmatch(text):
        return _over(int(match[1]), int(match[2]))
    if _THOUSANDS.fullmatch(text):
        joined, pointed = text.replace(",", ""), text.replace(",", ".")
        if text.count(",") == 1 and "." not in text:
            raise Unread(f"may mean {joined} or {pointed}", f"{joined} or {pointed}")
        return Fraction(joined)
    if _DECIMAL.fullmatch(text):
        return Fraction(text.replace(",", "."))
    raise Unread(next((why for pattern, why in _FAULTS if re.search(pattern, text)), "is not a number"))


def _over(top: int, bottom: int) -> Fraction:
    if bottom == 0:
        raise Unread("divides by zero")
    return Fraction(top, bottom)
