"""Any section of any shape, with woods that have every figure, for properties of sections."""

from core_cases import SPRUCE, WOODS
from hypothesis import strategies as st

from bench.core import strength
from bench.core.errors import Clash
from bench.core.laminated import Ply
from bench.core.resizing import MATCHES, resize
from bench.core.sections import Box, IBeam, Rectangle, Round

INCH = 0.0254
PLAN, ASH = strength.of(SPRUCE), strength.of(WOODS["white_ash"])
KEYS = ("sitka_spruce", "white_ash", "douglas_fir_coast", "yellow_birch", "yellow_poplar")
COMPLETE = [strength.of(WOODS[key]) for key in KEYS]

woods = st.sampled_from(COMPLETE)
sides = st.integers(16, 256).map(lambda steps: steps / 64 * INCH)
lengths = st.none() | st.integers(2, 120).map(lambda inches: inches * INCH)
several = st.sampled_from([match for match in MATCHES if match != "own"])
shares = st.floats(0.05, 0.4)


def box(width: float, depth: float, flange: float, web: float) -> Box:
    return Box(width, depth, flange * depth, web * width)


def beam(width: float, depth: float, flange: float, web: float) -> IBeam:
    return IBeam(width, depth, flange * depth, web * width)


boxes = st.builds(box, sides, sides, shares, shares)
beams = st.builds(beam, sides, sides, shares, shares)
shapes = st.one_of(st.builds(Rectangle, sides, sides), st.builds(Round, sides), boxes, beams)
plies = st.lists(st.builds(Ply, woods, sides), min_size=1, max_size=5).map(tuple)


def tried(plan, one, other, match, hold, length, **more):
    """The match, or None where it is refused with the reason that the held side gives."""
    try:
        return resize(plan, one, other, match, hold, length, **more)
    except Clash as clash:
        assert clash.quantity in ("hold", "grid")
        return None
