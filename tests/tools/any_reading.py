"""Any reading of a float test, and what is read from it."""

from core_cases import SPRUCE
from hypothesis import strategies as st

from bench.core import floating
from bench.core.floating import FloatResult
from bench.core.records import FloatReading, Species

faces = st.sampled_from([1, 2, 3, 4])
moistures = st.integers(0, 280).map(lambda steps: f"{steps}/1000")
angles = st.sampled_from(["", "none", "45", "60"])


def read(taken: FloatReading, wood: Species = SPRUCE) -> FloatResult:
    return floating.read(taken, wood)
