"""The shapes of a section and their constants. Depth is the size in the plane of bending.

A shape cannot be built with a size of zero, walls that leave nothing hollow or a web as wide as its flange,
so every constant of a shape that exists is a real one.
"""

from collections.abc import Mapping
from math import inf, pi
from typing import Self

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record
from bench.core.shape import SIDES, Shape, form_factor, torsion_of_rectangle, written

__all__ = [
    "SHAPES",
    "SIDES",
    "WALLED",
    "Box",
    "IBeam",
    "Rectangle",
    "Round",
    "Shape",
    "form_factor",
    "made",
    "torsion_of_rectangle",
    "written",
]

SHAPES = ("rectangle", "round", "box", "i", "laminated")  # of SectionChoice.shape
WALLED = ("box", "i")  # those with flange and web


@record
class Rectangle(Shape):
    """A solid rectangle."""

    width: float  # [m]
    depth: float  # [m]

    name = "rectangle"

    def __post_init__(self) -> None:
        if not (0 < self.width < inf and 0 < self.depth < inf):
            _check_sizes(self)

    @property
    def sizes(self) -> Mapping[str, float]:
        return {"width": self.width, "depth": self.depth}

    @property
    def area(self) -> float:
        return self.width * self.depth

    @property
    def second_moment(self) -> float:
        return self.width * self.depth**3 / 12

    @property
    def second_moment_weak(self) -> float:
        return self.depth * self.width**3 / 12

    @property
    def section_modulus(self) -> float:
        return self.width * self.depth * self.depth / 6

    @property
    def first_moment(self) -> float:
        return self.width * self.depth * self.depth / 8

    @property
    def torsion_constant(self) -> float:
        return torsion_of_rectangle(self.width, self.depth)

    def scaled(self, factor: float, free: str = "") -> Self:
        return type(self)(
            self.width if free == "depth" else self.width * factor,
            self.depth if free == "width" else self.depth * factor,
        )


@record
class Round(Shape):
    """A solid round; it bears across the grain on its diameter."""

    diameter: float  # [m]

    name = "round"

    def __post_init__(self) -> None:
        _check_sizes(self)

    @property
    def sizes(self) -> Mapping[str, float]:
        return {"diameter": self.diameter}

    @property
    def width(self) -> float:  # type: ignore[override]
        """The diameter [m]."""
        return self.diameter

    @property
    def depth(self) -> float:  # type: ignore[override]
        """The diameter [m]."""
        return self.diameter

    @property
    def area(self) -> float:
        return pi * self.diameter**2 / 4

    @property
    def second_moment(self) -> float:
        return pi * self.diameter**4 / 64

    @property
    def second_moment_weak(self) -> float:
        return self.second_moment

    @property
    def first_moment(self) -> float:
        return self.diameter**3 / 12

    @property
    def torsion_constant(self) -> float:
        return pi * self.diameter**4 / 32

    def with_side(self, side: str, size_m: float) -> Self:
        raise OutOfRange(
            "hold", side, "width and depth of a round are one: hold neither side", f"holding the {side}"
        )


@record
class _Flanged(Shape):
    """Two flanges as wide as the section, and what stands between them."""

    width: float  # [m]
    depth: float  # [m]
    flange: float  # thickness of one flange [m]
    web: float  # thickness of one web [m]

    walled = True

    def __post_init__(self) -> None:
        _check_sizes(self)
        if self.flange * 2 >= self.depth:
            why = f"two flanges must leave room in the depth of {written(self.depth)}"
            raise OutOfRange("flange", self.flange, why, written(self.flange))
        if self.webs >= self.width:
            what = "the web must be narrower than" if self.webs == self.web else "two webs must leave room in"
            why = f"{what} the flange of {written(self.width)}"
            raise OutOfRange("web", self.web, why, written(self.web))

    @property
    def sizes(self) -> Mapping[str, float]:
        return {"width": self.width, "depth": self.depth, "flange": self.flange, "web": self.web}

    @property
    def webs(self) -> float:
        """Thickness of all webs together [m]."""
        raise NotImplementedError

    @property
    def between(self) -> float:
        """Depth between the flanges [m]."""
        return self.depth - 2 * self.flange

    @property
    def area(self) -> float:
        return self.width * self.depth - (self.width - self.webs) * self.between

    @property
    def second_moment(self) -> float:
        return (self.width * self.depth**3 - (self.width - self.webs) * self.between**3) / 12

    @property
    def first_moment(self) -> float:
        arm = self.depth / 2 - self.flange
        return self.width * self.flange * (self.depth - self.flange) / 2 + self.webs * arm * arm / 2

    @property
    def shear_width(self) -> float:
        return self.webs

    @property
    def form_factor(self) -> float:
        return form_factor(self.flange / self.depth, self.webs / self.width)

    def least_free(self, free: str) -> float:
        return self.webs if free == "width" else 2 * self.flange


@record
class Box(_Flanged):
    """A hollow box: flanges the whole width, a web at each side between them."""

    name = "box"

    @property
    def webs(self) -> float:
        return 2 * self.web

    @property
    def second_moment_weak(self) -> float:
        inner = self.width - self.webs
        return (self.depth * self.width**3 - self.between * inner**3) / 12

    @property
    def torsion_constant(self) -> float:
        """Closed thin wall (Bredt) and each wall's own, as a rectangle [m4].

        Against finite elements 2 to 9 percent low, up to 17 where hardly anything is hollow; never high.
        """
        across, along = self.width - self.web, self.depth - self.flange
        cell = 4 * (across * along) ** 2 / (2 * across / self.flange + 2 * along / self.web)
        flanges, webs = torsion_of_rectangle(across, self.flange), torsion_of_rectangle(along, self.web)
        return cell + 2 * flanges + 2 * webs


@record
class IBeam(_Flanged):
    """An I: two flanges and one web in the middle."""

    name = "i"

    @property
    def webs(self) -> float:
        return self.web

    @property
    def second_moment_weak(self) -> float:
        return (2 * self.flange * self.width**3 + self.between * self.web**3) / 12

    @property
    def torsion_constant(self) -> float:
        """Cut into rectangles, with what each junction of web and flange adds [m4].

        Cut apart an I is never stiffer in twist, so that part is never high. The junction is recalled: a D^4
        with a = -0.042 + 0.2204 q - 0.0725 q^2, q = web over flange up to 1, D the round that fits there; it
        fades out where the flange is thicker than 3/4 of its width. Against finite elements 10 percent low to
        4 high for web and flange as in spars, 40 low to 9 high where hardly anything is cut away. What keeps
        the ends from warping is not counted.
        """
        flanges = 2 * torsion_of_rectangle(self.width, self.flange)
        web = torsion_of_rectangle(self.web, self.between)
        lips = 4 * torsion_of_rectangle((self.width - self.web) / 2, self.flange)
        rise = self.web / self.flange
        share = min(1.0, 4 * (1 - self.flange / self.width))
        joined = 0.0
        if rise <= 1 and share > 0:
            fits = self.flange + self.web * rise / 4
            junction = max(0.0, -0.042 + 0.2204 * rise - 0.0725 * rise * rise) * fits**4
            joined = share * (2 * junction + self.between * self.web**3 / 3 - web)
        return max(flanges + web + joined, torsion_of_rectangle(self.web, self.depth) + lips)


def made(
    shape: str, width: float, depth: float, flange: float | None = None, web: float | None = None
) -> Rectangle | Round | Box | IBeam:
    """A solid shape by its name, from sizes as drawn.

    Args:
        shape: one of SHAPES but "laminated", which takes woods as well.
        width: [m].
        depth: [m].
        flange: thickness of one flange of a box or I [m].
        web: thickness of one web [m].
    Returns:
        The section; of a round, width and depth are both its diameter.
    Raises:
        Missing: a box or I without flange or web.
        OutOfRange: an unknown shape, a size of zero or less, a round that is not, walls that leave nothing.
    """
    if shape == "round":
        if width != depth:
            why = "a round has one diameter: width and depth must be the same"
            raise OutOfRange("width", width, why, f"{written(width)} on a depth of {written(depth)}")
        return Round(width)
    if shape in WALLED:
        if flange is None or web is None:
            name = "flange" if flange is None else "web"
            which = {"box": "a box", "i": "an I section"}[shape]
            raise Missing(name, f"{which} needs the thickness of its {name}")
        return Box(width, depth, flange, web) if shape == "box" else IBeam(width, depth, flange, web)
    if shape not in SHAPES:
        raise OutOfRange("shape", shape, f"one of {', '.join(SHAPES)} is wanted")
    # A laminated replacement stands in for a solid section of the drawing.
    return Rectangle(width, depth)


def _check_sizes(shape: Shape) -> None:
    for name, size in shape.sizes.items():
        if not 0 < size < inf:
            raise OutOfRange(name, size, "a size above zero is wanted", written(size))
