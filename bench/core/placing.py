"""Where a gravity stands on a float stick as it is being read; nothing where it cannot be placed."""

from bench.core import evidence, floating
from bench.core.errors import Refusal
from bench.core.records import FloatReading, Species


def mark_on(reading: FloatReading, gravity: float, species: Species, variant: str = "") -> float | None:
    """Where a gravity on the oven-dry basis stands on a float stick; None where it cannot be placed.

    Args:
        reading: stick, moisture and bath.
        gravity: oven-dry mass on oven-dry volume [1].
        species: the wood.
        variant: growth region or class.
    Returns:
        Position from the lower end [marks].
    Source:
        as floating.mark_of.
    """
    try:
        return floating.mark_of(gravity, reading, species, variant)
    except Refusal:
        return None


def sure_on(reading: FloatReading, species: Species, variant: str = "") -> float | None:
    """From which mark on a reading like this is sure; None where it cannot be placed.

    Args:
        reading: stick, moisture, bath and faces.
        species: the wood.
        variant: growth region or class.
    Returns:
        Position from the lower end [marks].
    Source:
        as evidence.sure_mark.
    """
    try:
        return evidence.sure_mark(reading, species, variant)
    except Refusal:
        return None
