"""Glue and scarf coupons: stress at failure, and what the faces of the broken joint must show."""

from bench.core.breaking import above_zero
from bench.core.errors import OutOfRange

RULE = "ac4313 par. 1-29h"  # where the rule on the faces stands
ON_BOTH, ON_ONE, ON_NONE = "fibre_on_both", "fibre_on_one", "fibre_on_none"


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
