"""What is asked of a resizing, and what of it contradicts itself."""

from fractions import Fraction

from bench.core import capacities
from bench.core.capacities import Part
from bench.core.errors import Clash, Missing, OutOfRange
from bench.core.frozen import record
from bench.core.laminated import Ply
from bench.core.sections import SIDES, Shape, written
from bench.core.strength import Wood

CAPACITIES = tuple(name for name in capacities.NAMES if name != "weight")
MATCHES = ("weight", *CAPACITIES, "all", "own")
HOLDS = ("", *SIDES)


@record
class Asked:
    """One resizing; fields as of resizing.resize."""

    plan: Shape
    plan_wood: Wood
    use_wood: Wood
    match: str
    hold: str
    length_m: float | None
    grid: Fraction
    own: tuple[str, ...]
    held_at: float | None
    cap_side: str
    cap: float | None
    sizes: tuple[Fraction, ...]
    layers: tuple[Ply, ...]

    def check(self) -> None:
        """Raises OutOfRange, Clash or Missing for what contradicts itself."""
        if self.match not in MATCHES:
            raise OutOfRange("match", self.match, f"one of {', '.join(MATCHES)} is wanted")
        if self.hold not in HOLDS:
            raise OutOfRange("hold", self.hold, "width, depth or neither can be held")
        self._check_woods()
        if self.match == "own":
            self._check_own()
        if self.held_at is not None and not self.hold:
            raise Clash("held at", written(self.held_at), "no side is held: say which one was measured")
        if self.cap_side or self.cap is not None:
            self._check_cap()

    def _check_woods(self) -> None:
        layer = self.layers[0].wood if self.layers else self.use_wood
        if self.plan_wood.moisture != layer.moisture:
            raise OutOfRange("moisture", layer.moisture, "both woods must be at one moisture")
        if self.plan_wood.basis != layer.basis:
            said = f"{self.plan_wood.basis} for {self.plan_wood.name}"
            raise Clash("figures", layer.basis, f"{said}: both woods must be by figures of one kind")
        if self.layers and self.plan.name != "rectangle":
            raise Clash("shape", "laminated", "layers stand in for a solid rectangle alone")

    def _check_own(self) -> None:
        if not self.own:
            raise Missing("own", f"name what matters, of {', '.join(CAPACITIES)}")
        for name in self.own:
            if name not in CAPACITIES:
                raise OutOfRange("own", name, f"one or more of {', '.join(CAPACITIES)} are wanted")

    def _check_cap(self) -> None:
        if self.cap_side not in SIDES:
            raise OutOfRange("cap", self.cap_side or "no side", "width or depth can be capped")
        if self.cap is None or not 0 < self.cap < float("inf"):
            raise OutOfRange("cap", self.cap, f"the most that the {self.cap_side} may be is wanted")


@record
class Solved:
    """An exact size."""

    section: Part
    governs: str
    free: str
    capped: bool
