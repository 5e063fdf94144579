"""Coupons broken by a dropped weight, and what all coupon tests share.

A drop test is compared with drop tests of the same set-up only: size, span, weight and striker. Its energy is
that of the blow that cracked the coupon; the blows before it are exposure, not strength.
"""

from collections.abc import Sequence
from math import isfinite

from bench.core.coupon import BROKEN, NOTHING, OUTCOMES
from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record
from bench.core.quantities import GRAVITY

G = float(GRAVITY)  # [m/s2]


@record
class Blow:
    """One blow in plain numbers, and what it did."""

    height_m: float
    outcome: str = NOTHING  # one of OUTCOMES


@record
class DropTest:
    """One coupon under a falling weight."""

    blow: int  # number of the blow that cracked it, from 1
    height_m: float  # of that blow
    energy: float  # of that blow [J]
    energy_per_volume: float  # over width x depth x span [J/m3]
    earlier: float  # energy of the blows before it, together [J]
    exposure: float  # of all blows, that one and later ones included [J]
    falls: tuple[int, ...]  # numbers of the blows that are lower than one before them
    repeats: tuple[int, ...]  # numbers of the blows at the height of the one before them
    half_step_m: float | None  # how much too high a rising series reads; None where no step led up to it

    @property
    def rises(self) -> bool:
        """Whether each blow was higher than all before it."""
        return not (self.falls or self.repeats)

    @property
    def corrected_m(self) -> float | None:
        """The height less half a step; None where no step led up to it [m]."""
        return None if self.half_step_m is None else self.height_m - self.half_step_m


def above_zero(quantity: str, *values: float) -> None:
    """Refuse what cannot be measured.

    Args:
        quantity: what the values are.
        values: any number of them [any unit].
    Raises:
        OutOfRange: a value of zero or less, or one that is not finite.
    """
    for value in values:
        if not (value > 0 and isfinite(value)):
            raise OutOfRange(quantity, value, "more than zero is wanted")


def drop_energy(mass_kg: float, height_m: float) -> float:
    """Energy of a falling weight.

        W H

    Args:
        mass_kg: of the weight [kg].
        height_m: it falls [m].
    Returns:
        Energy [N m].
    Raises:
        OutOfRange: a mass or height of zero or less.
    Source:
        derived; as Record, Mechanical Properties of Wood (1914).
    """
    above_zero("weight", mass_kg)
    above_zero("height", height_m)
    return G * mass_kg * height_m


def over_volume(energy: float, width_m: float, depth_m: float, span_m: float) -> float:
    """Energy over the volume of the coupon between its supports.

        W H / (b d L)

    Args:
        energy: of one blow, or under a curve of load [N m].
        width_m: b, across the blow [m].
        depth_m: d, along the blow [m].
        span_m: L, between the supports [m].
    Returns:
        Energy per volume [J/m3].
    Raises:
        OutOfRange: a size of zero or less.
    Valid for:
        comparison within one set-up; sizes and machines do not convert.
    Source:
        Record, Mechanical Properties of Wood (1914).
    """
    above_zero("size", width_m, depth_m)
    above_zero("span", span_m)
    return energy / (width_m * depth_m * span_m)


def drop_stress(
    mass_kg: float, height_m: float, deflection_m: float, width_m: float, depth_m: float, span_m: float
) -> float:
    """Bending stress at the elastic limit from the blow that just reached it.

        f = 3 W H L / (D b d^2),  from W H = P D / 2

    Args:
        mass_kg: of the weight [kg].
        height_m: H, of the drop, the deflection included [m].
        deflection_m: D, greatest under that blow [m].
        width_m: b [m].
        depth_m: d [m].
        span_m: L [m].
    Returns:
        Stress [Pa].
    Raises:
        OutOfRange: a size of zero or less, or a deflection above the height, which includes it.
    Valid for:
        blows after which the coupon springs back whole.
    Source:
        Record, Mechanical Properties of Wood (1914).
    """
    above_zero("deflection", deflection_m)
    energy = drop_energy(mass_kg, height_m)
    if deflection_m > height_m:
        raise OutOfRange("deflection", deflection_m, "the height includes it, so it cannot be more")
    return 3 * over_volume(energy, width_m, depth_m, span_m) * span_m**2 / (deflection_m * depth_m)


def drop_elasticity(stress_pa: float, deflection_m: float, depth_m: float, span_m: float) -> float:
    """Modulus of elasticity from the same blow.

        E = f L^2 / (6 D d)

    Args:
        stress_pa: f, of `drop_stress` [Pa].
        deflection_m: D, greatest under that blow [m].
        depth_m: d [m].
        span_m: L [m].
    Returns:
        Modulus of elasticity [Pa].
    Raises:
        OutOfRange: a size of zero or less.
    Valid for:
        as `drop_stress`.
    Source:
        Record, Mechanical Properties of Wood (1914).
    """
    above_zero("deflection", deflection_m)
    above_zero("size", depth_m)
    above_zero("span", span_m)
    return stress_pa * span_m**2 / (6 * deflection_m * depth_m)


def falls(heights_m: Sequence[float]) -> tuple[int, ...]:
    """Which blows of a series are lower than one before them.

    Args:
        heights_m: in the order they were struck; may be empty.
    Returns:
        Numbers of the blows, from 1; empty for a series that never goes down.
    """
    return tuple(
        number
        for number, height in enumerate(heights_m, 1)
        if height < max(heights_m[: number - 1], default=0)
    )


def half_step(heights_m: Sequence[float]) -> float:
    """How much too high the last of a rising series reads, on average: the stick gave way within the step.

        d / 2,  d the last height less the highest before it

    Args:
        heights_m: in the order they were struck, the last one cracked the coupon.
    Returns:
        Half the step [m].
    Raises:
        Missing: no blow before the last.
        OutOfRange: the last blow is not higher than all before it.
    Valid for:
        one stick under rising blows; not for a series up and down over many sticks.
    Source:
        derived.
    """
    if len(heights_m) < 2:
        raise Missing("height", "the first blow cracked it: no lower one tells how much less would have")
    step = heights_m[-1] - max(heights_m[:-1])
    if not step > 0:
        raise OutOfRange("height", heights_m[-1], "a blow as high or higher came before and did not crack it")
    return step / 2


def drop_test(
    mass_kg: float, blows: Sequence[Blow], width_m: float, depth_m: float, span_m: float
) -> DropTest:
    """One coupon under blows: the first that cracked or broke it is the result.

    Args:
        mass_kg: of the weight [kg].
        blows: in the order they were struck.
        width_m: across the blow [m].
        depth_m: along the blow [m].
        span_m: between the supports [m].
    Returns:
        Energy of the cracking blow, and the exposure of all.
    Raises:
        Missing: no blow cracked it.
        OutOfRange: a weight, height or size of zero or less, an unknown outcome, or a blow after it broke.
    Valid for:
        comparison within one set-up.
    Source:
        Record, Mechanical Properties of Wood (1914); derived.
    """
    for blow in blows:
        if blow.outcome not in OUTCOMES:
            raise OutOfRange("outcome", blow.outcome, f"one of {', '.join(OUTCOMES)} is wanted")
    broken = next((n for n, blow in enumerate(blows, 1) if blow.outcome == BROKEN), len(blows))
    if broken < len(blows):
        raise OutOfRange(
            "blow", broken + 1, f"blow {broken} broke the coupon: none can follow", f"blow {broken + 1}"
        )
    energies = [drop_energy(mass_kg, blow.height_m) for blow in blows]
    first = next((n for n, blow in enumerate(blows, 1) if blow.outcome != NOTHING), None)
    if first is None:
        raise Missing("blow", "no blow cracked it yet: one that cracked or broke it is wanted")
    heights = [blow.height_m for blow in blows]
    last = heights[first - 1]
    rose = first > 1 and last > max(heights[: first - 1])
    return DropTest(
        blow=first,
        height_m=last,
        energy=energies[first - 1],
        energy_per_volume=over_volume(energies[first - 1], width_m, depth_m, span_m),
        earlier=sum(energies[: first - 1]),
        exposure=sum(energies),
        falls=falls(heights),
        repeats=tuple(n for n, height in enumerate(heights[1:], 2) if height == heights[n - 2]),
        half_step_m=half_step(heights[:first]) if rose else None,
    )


def bending_stress(moment: float, width_m: float, depth_m: float) -> float:
    """Bending stress in the outer fibre of a rectangle.

        f = 6 M / (b d^2)

    Args:
        moment: M [N m].
        width_m: b [m].
        depth_m: d [m].
    Returns:
        Stress, as if the wood were elastic to the end [Pa].
    Raises:
        OutOfRange: a size of zero or less.
    Source:
        wh282 ch. 9; derived.
    """
    above_zero("size", width_m, depth_m)
    return 6 * moment / (width_m * depth_m**2)
