"""A number as a user typed it, kept with the exact value it stands for."""

from fractions import Fraction

from bench.core.frozen import record


@record
class Typed:
    """A number as typed: `exact` in SI (moisture as a fraction of oven-dry mass), and the text."""

    exact: Fraction
    text: str

    @property
    def si(self) -> float:
        """The number in SI as a float."""
        # As float() has it, without the way round by the tower of numbers: it is asked for very often.
        return self.exact.numerator / self.exact.denominator


def inches(text: str) -> Typed:
    """A length written as plain decimal or fraction of an inch, for defaults and examples in code."""
    return Typed(Fraction(text) * Fraction(254, 10_000), f"{text} in")


def millimetres(text: str) -> Typed:
    """A length written as plain millimetres, for defaults and examples in code."""
    return Typed(Fraction(text) / 1000, f"{text} mm")
