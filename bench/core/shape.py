"""What every shape of a section has, and the constants that several shapes share.

Depth is the size in the plane of bending.
"""

from collections.abc import Mapping
from math import exp, pi, sqrt
from typing import Self

SIDES = ("width", "depth")

_FIFTH_POWERS = 1.004523762795139  # 1 + 1/3^5 + 1/5^5 + ...: 31/32 of the zeta function at 5


def written(size_m: float) -> str:
    """A size for a refusal, in both units, since the core does not know the user's.

    Args:
        size_m: any size [m].
    Returns:
        Text like `0.75 in (19.05 mm)`.
    """
    return f"{size_m / 0.0254:.4g} in ({size_m * 1000:.4g} mm)"


def torsion_of_rectangle(one: float, other: float) -> float:
    """Torsion constant of a solid rectangle, by the exact series.

        J = (a b^3 / 3) [1 - (192 b / (pi^5 a)) sum over odd n of tanh(n pi a / 2b) / n^5],  a >= b

    Args:
        one: a side [m].
        other: the other side [m].
    Returns:
        Torsion constant [m4].
    Valid for:
        any proportion; three terms and the sum of the rest, within 1e-13.
    Source:
        derived: Saint-Venant torsion of a rectangle; G of wood is taken the same across and along the depth.
    """
    short, long = (one, other) if one < other else (other, one)
    slender = long / short
    # Only 1 - tanh = 2 / (exp(2x) + 1) of the first terms is told from nothing.
    fall = exp(-pi * slender)
    ends = 2 * fall / (1 + fall)
    if slender < 4:
        ends += 2 / 243 / (exp(3 * pi * slender) + 1) + 2 / 3125 / (exp(5 * pi * slender) + 1)
    return long * short**3 / 3 * (1 - 192 / pi**5 / slender * (_FIFTH_POWERS - ends))


def form_factor(flange_share: float, web_share: float) -> float:
    """Share of the modulus of rupture that a box or I beam reaches in bending: RECALLED, NOT READ.

        F = 0.50 + 0.50 [k (1 - q) + q],  k = p^2 (6 - 8 p + 3 p^2)

    It belongs to the modulus of rupture alone, never to stiffness or a second moment.

    Args:
        flange_share: p, thickness of the compression flange over the whole depth [1].
        web_share: q, all webs together over the width of the flange [1].
    Returns:
        Factor, 0.5 to 1 [1].
    Source:
        recalled, in keeping with the floor of one half that the summary of NACA Report 181 states.
    """
    p = flange_share
    k = p * p * (6 - 8 * p + 3 * p * p)
    return 0.50 + 0.50 * (k * (1 - web_share) + web_share)


class Shape:
    """What every shape of one wood has; the sizes are its fields [m]."""

    __slots__ = ()

    name = ""  # one of SHAPES
    walled = False  # has a form factor, which is recalled
    width: float
    depth: float

    @property
    def sizes(self) -> Mapping[str, float]:
        """Every size that is set at the saw, by its name [m]."""
        raise NotImplementedError

    @property
    def area(self) -> float:
        """[m2]"""
        raise NotImplementedError

    @property
    def second_moment(self) -> float:
        """About the axis of bending in the depth [m4]."""
        raise NotImplementedError

    @property
    def second_moment_weak(self) -> float:
        """About the other axis, bending in the width [m4]; the larger one where the width is."""
        raise NotImplementedError

    @property
    def first_moment(self) -> float:
        """Of half the section about the axis of bending [m3]."""
        raise NotImplementedError

    @property
    def torsion_constant(self) -> float:
        """J of the twist T L / (G J) [m4]."""
        raise NotImplementedError

    @property
    def section_modulus(self) -> float:
        """Second moment over half the depth [m3]."""
        return 2 * self.second_moment / self.depth

    @property
    def least_second_moment(self) -> float:
        """About the weaker of the two axes [m4]."""
        strong, weak = self.second_moment, self.second_moment_weak
        return weak if weak < strong else strong

    @property
    def least_radius(self) -> float:
        """Of gyration, about the weaker axis [m]."""
        return sqrt(self.least_second_moment / self.area)

    @property
    def shear_width(self) -> float:
        """Width of wood at the axis of bending [m]."""
        return self.width

    @property
    def form_factor(self) -> float:
        """Share of the modulus of rupture reached in bending [1].

        It is 1 of solids: the 1.18 recalled for a round would cancel between two of them, and is not used.
        """
        return 1.0

    def least_free(self, free: str) -> float:
        """Size that a free side must stay above, the other sizes as they are [m]."""
        return 0.0

    def scaled(self, factor: float, free: str = "") -> Self:
        """Every size times a factor, or only the side that is free.

        Args:
            factor: new over old [1].
            free: "" for all sizes, else "width" or "depth".
        Returns:
            The section.
        Raises:
            OutOfRange: a side that cannot change alone, or a shape that there is not.
        """
        if free:
            return self.with_side(free, getattr(self, free) * factor)
        return self.with_sizes({name: size * factor for name, size in self.sizes.items()})

    def with_side(self, side: str, size_m: float) -> Self:
        """The section with one outer size set, the others as they are.

        Args:
            side: "width" or "depth".
            size_m: wanted [m].
        Returns:
            The section.
        Raises:
            OutOfRange: a side that cannot change alone, or a shape that there is not.
        """
        return self.with_sizes({**self.sizes, side: size_m})

    def with_sizes(self, sizes: Mapping[str, float]) -> Self:
        """The same shape of other sizes, all named as in `sizes`; refused as when it is built."""
        return type(self)(**sizes)
