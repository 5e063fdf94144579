"""Steps of a value: lengths on multiples of the step, choices in a ring."""

from collections.abc import Sequence
from fractions import Fraction
from typing import TypeVar

from bench import units
from bench.core.records import Typed

SIDE_STEP = {"in": Fraction(254, 640_000), "mm": Fraction(1, 10_000)}  # 1/64 in, 0.1 mm [m]

Choice = TypeVar("Choice")


def next_step(size: Fraction, amount: int, step: Fraction, least: Fraction, system: str) -> Typed:
    """A length so many steps further, on a multiple of the step whatever was typed before [m]."""
    stepped = max(least, (round(size / step) + amount) * step)
    return Typed(stepped, units.shop(stepped, step, system))


def turned(choices: Sequence[Choice], now: Choice, sign: int) -> Choice:
    """The choice after or before this one, round and round."""
    return choices[(choices.index(now) + sign) % len(choices)]
