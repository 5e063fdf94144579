"""Glue and scarf coupons: stress at failure, and what the faces of the broken joint must show."""

from dataclasses import dataclass
from math import isfinite

from bench.core.bending_test import rupture
from bench.core.breaking import above_zero
from bench.core.errors import OutOfRange

RULE = "ac4313 par. 1-29h"  # where the rule on the faces stands
ON_BOTH, ON_ONE, ON_NONE = "fibre_on_both", "fibre_on_one", "fibre_on_none"


@dataclass(frozen=True, slots=True)
class Joint:
    """One glued coupon. The stress is a figure; the rule asks for the faces."""

    stress: float  # in the glue, or in the wood beside a scarf [Pa]
    along: float  # shear along the glue line [Pa]
    across: float  # tension across the glue line [Pa]
    faces: str  # ON_BOTH, ON_ONE or ON_NONE

    @property
    def passed(self) -> bool:
        """Whether the published rule is met: wood fibre on both faces."""
        return self.faces == ON_BOTH


def glue_shear(load_n: float, area_m2: float) -> float:
    """Shear stress in a glued lap.

        P / A

    Args:
        load_n: P, at failure [N].
        area_m2: A, glued [m2].
    Returns:
        Mean stress; at the ends of a lap it is more [Pa].
    Raises:
        OutOfRange: a load or area of zero or less.
    Source:
        derived.
    """
    above_zero("load", load_n)
    above_zero("area", area_m2)
    return load_n / area_m2


def faces(first: float, second: float) -> str:
    """What the two faces of a broken joint show.

    Args:
        first: share of one face that is torn wood [1].
        second: the same of the other face [1].
    Returns:
        ON_BOTH, as the rule asks, ON_ONE or ON_NONE. How much of a face must be torn is not published.
    Raises:
        OutOfRange: a share outside 0 to 1.
    Source:
        ac4313 par. 1-29h.
    """
    for share in (first, second):
        if not 0 <= share <= 1:
            raise OutOfRange("wood failure", share, "0 to 100 % of a face is possible")
    return (ON_NONE, ON_ONE, ON_BOTH)[(first > 0) + (second > 0)]


def on_scarf(stress_pa: float, run: float) -> tuple[float, float]:
    """Stresses in the glue of a scarf under a stress along the stick.

        along f s / (1 + s^2),  across f / (1 + s^2)

    Args:
        stress_pa: f, along the stick [Pa].
        run: s, length of the scarf over the thickness [1].
    Returns:
        Shear along the glue line and tension across it [Pa].
    Raises:
        OutOfRange: a run of zero or less.
    Source:
        derived.
    """
    above_zero("scarf", run)
    return stress_pa * run / (1 + run * run), stress_pa / (1 + run * run)


def lap(load_n: float, area_m2: float, first: float, second: float) -> Joint:
    """A lap or block sheared along its glue.

    Args:
        load_n: at failure [N].
        area_m2: glued [m2].
        first: share of one face that is torn wood [1].
        second: the same of the other face [1].
    Returns:
        Stress, and whether the rule on the faces is met.
    Raises:
        OutOfRange: as `glue_shear` and `faces`.
    Source:
        derived; ac4313 par. 1-29h.
    """
    stress = glue_shear(load_n, area_m2)
    return Joint(stress, stress, 0.0, faces(first, second))


def scarf_pulled(
    load_n: float, width_m: float, depth_m: float, run: float, first: float, second: float
) -> Joint:
    """A scarfed coupon pulled apart.

        f = P / (b d)

    Args:
        load_n: P, at failure [N].
        width_m: b, of the section [m].
        depth_m: d, of the section [m].
        run: length of the scarf over the thickness [1].
        first: share of one face that is torn wood [1].
        second: the same of the other face [1].
    Returns:
        Stress beside the scarf and in its glue, and whether the rule on the faces is met.
    Raises:
        OutOfRange: a load, size or run of zero or less, or as `faces`.
    Source:
        derived; ac4313 par. 1-29h.
    """
    above_zero("load", load_n)
    above_zero("size", width_m, depth_m)
    stress = load_n / (width_m * depth_m)
    return Joint(stress, *on_scarf(stress, run), faces(first, second))


def scarf_bent(
    load_n: float, width_m: float, depth_m: float, span_m: float, run: float, first: float, second: float
) -> Joint:
    """A scarfed coupon bent, load and scarf in the middle; stresses at the outer fibre.

    Args:
        load_n: at failure, in the middle [N].
        width_m: of the section [m].
        depth_m: upright [m].
        span_m: between the supports [m].
        run: length of the scarf over the thickness [1].
        first: share of one face that is torn wood [1].
        second: the same of the other face [1].
    Returns:
        Stress in the outer fibre and in the glue there, and whether the rule on the faces is met.
    Raises:
        OutOfRange: a load, size or run of zero or less, or as `faces`.
    Source:
        as bending_test.rupture; ac4313 par. 1-29h.
    """
    stress = rupture(load_n, width_m, depth_m, span_m)
    return Joint(stress, *on_scarf(stress, run), faces(first, second))


def efficiency(joined_pa: float, solid_pa: float) -> float:
    """Strength of a joined coupon over that of a solid one of the same wood and size.

    Args:
        joined_pa: stress at failure of the joined coupon [Pa].
        solid_pa: of the solid one [Pa].
    Returns:
        Share [1].
    Raises:
        OutOfRange: a stress of zero or less, or one that is not finite.
    Valid for:
        one pair says little: compare groups.
    Source:
        definition.
    """
    above_zero("stress", joined_pa, solid_pa)
    share = joined_pa / solid_pa
    if not isfinite(share):
        raise OutOfRange("stress", solid_pa, "a stress that can be is wanted")
    return share
