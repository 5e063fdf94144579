"""A section glued up of flat layers, each of a wood: the transformed section.

Layers lie across the depth, the first at the face that is compressed; every glue line holds, so plane
sections stay plane. Layers of one wood give what the solid rectangle gives.
"""

from collections.abc import Mapping
from math import pi
from typing import Self

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record, replace
from bench.core.sections import torsion_of_rectangle, written
from bench.core.strength import Wood


@record
class Ply:
    """One layer."""

    wood: Wood
    thickness: float  # [m]


@record
class Laminated:
    """Layers of one width."""

    width: float  # [m]
    plies: tuple[Ply, ...]

    name = "laminated"
    walled = False

    def __post_init__(self) -> None:
        if not self.plies:
            raise Missing("layers", "a laminated section needs at least one layer")
        if not 0 < self.width < float("inf"):
            raise OutOfRange("width", self.width, "a size above zero is wanted", written(self.width))
        for ply in self.plies:
            if not 0 < ply.thickness < float("inf"):
                raise OutOfRange(
                    "layers", ply.thickness, "every layer needs a thickness above 0", written(ply.thickness)
                )
            if ply.wood.moisture != self.plies[0].wood.moisture:
                raise OutOfRange("moisture", ply.wood.moisture, "all layers must be at one moisture")
            if ply.wood.basis != self.plies[0].wood.basis:
                raise OutOfRange("figures", ply.wood.basis, "all layers must be by figures of one kind")

    @property
    def depth(self) -> float:
        """All layers together [m]."""
        return sum(ply.thickness for ply in self.plies)

    @property
    def sizes(self) -> Mapping[str, float]:
        """Every size that is set at the saw, by its name [m]."""
        layers = {f"layer {place}": ply.thickness for place, ply in enumerate(self.plies, 1)}
        return {"width": self.width, **layers}

    @property
    def area(self) -> float:
        """[m2]"""
        return self.width * self.depth

    @property
    def moisture(self) -> float:
        """Of all layers [1]."""
        return self.plies[0].wood.moisture

    @property
    def basis(self) -> str:
        """Kind of figures of all layers."""
        return self.plies[0].wood.basis

    @property
    def form_factor(self) -> float:
        """None is known for layers [1]."""
        return 1.0

    @property
    def known(self) -> frozenset[str]:
        """Figures that the library has for every layer."""
        have = [{name for name, _ in ply.wood.strengths} for ply in self.plies]
        return frozenset(set.intersection(*have))

    def least_free(self, free: str) -> float:
        """Size that a free side must stay above [m]."""
        return 0.0

    def scaled(self, factor: float, free: str = "") -> Self:
        """Width and all layers times a factor, or only one of them.

        Args:
            factor: new over old [1].
            free: "" for both, "width", or "depth" for all layers together.
        Returns:
            The section.
        Raises:
            OutOfRange: a factor of zero or less.
        """
        width = self.width if free == "depth" else self.width * factor
        if free == "width":
            return replace(self, width=width)
        return replace(
            self, width=width, plies=tuple(Ply(ply.wood, ply.thickness * factor) for ply in self.plies)
        )

    def with_side(self, side: str, size_m: float) -> Self:
        """The section with its width set, or all layers in proportion so that they make up a depth.

        Args:
            side: "width" or "depth".
            size_m: wanted [m].
        Returns:
            The section.
        Raises:
            OutOfRange: a size of zero or less.
        """
        if side == "width":
            return replace(self, width=size_m)
        return self.scaled(size_m / self.depth, "depth")

    def with_sizes(self, sizes: Mapping[str, float]) -> Self:
        """The same woods in other sizes, all named as in `sizes`; refused as when it is built."""
        plies = tuple(Ply(ply.wood, sizes[f"layer {place}"]) for place, ply in enumerate(self.plies, 1))
        return replace(self, width=sizes["width"], plies=plies)


@record
class Transformed:
    """What the layers come to together; each layer counted as stiff as its wood."""

    neutral: float  # axis of bending, from the outer face of the first layer [m]
    extension: float  # EA [N]
    bending: float  # EI about that axis [N m2]
    bending_weak: float  # EI about the other [N m2]
    elastic: tuple[float, ...]  # E of each layer [Pa]
    edges: tuple[float, ...]  # faces of the layers from the neutral axis, one more than layers [m]


def transformed(section: Laminated) -> Transformed:
    """The transformed section.

        y_n = sum E A y / sum E A;  EI = sum (E b t^3 / 12 + E A (y - y_n)^2)

    Args:
        section: the layers.
    Returns:
        Neutral axis and stiffnesses.
    Raises:
        Missing: a layer of unknown stiffness.
    Source:
        derived: plane sections stay plane.
    """
    width = section.width
    elastic = tuple(ply.wood.get("stiffness") for ply in section.plies)
    faces = [0.0]
    axial = moment = 0.0
    for stiff, ply in zip(elastic, section.plies, strict=True):
        faces.append(faces[-1] + ply.thickness)
        axial += stiff * ply.thickness
        moment += stiff * ply.thickness * (faces[-1] + faces[-2]) / 2
    neutral = moment / axial
    edges = tuple(face - neutral for face in faces)
    bent = sum(
        stiff * (low * low + low * high + high * high) * (high - low) / 3
        for stiff, low, high in zip(elastic, edges, edges[1:], strict=False)
    )
    return Transformed(neutral, axial * width, bent * width, axial * width**3 / 12, elastic, edges)


def bending_of(section: Laminated) -> tuple[float, int]:
    """Moment at which the first layer reaches its modulus of rupture, and which layer that is.

        M = least of R EI / (E y),  y the farther face of the layer from the neutral axis

    Args:
        section: the layers.
    Returns:
        Moment [N m], and the place of the layer, 0 for the first.
    Raises:
        Missing: a layer of unknown stiffness or rupture.
    Valid for:
        up to the first failure; what the other layers then carry on is not counted.
    Source:
        derived.
    """
    whole = transformed(section)
    moments = [
        ply.wood.get("bending") * whole.bending / (stiff * max(abs(low), abs(high)))
        for ply, stiff, low, high in zip(
            section.plies, whole.elastic, whole.edges, whole.edges[1:], strict=False
        )
    ]
    least = min(moments)
    return least, moments.index(least)


def axial_of(section: Laminated, figure: str) -> tuple[float, int]:
    """Load along the grain at which the first layer reaches a strength: all layers strain alike.

        P = EA least of (F / E)

    Args:
        section: the layers.
        figure: "compression" or "tension".
    Returns:
        Load [N], and the place of the layer, 0 for the first.
    Raises:
        Missing: a layer of unknown stiffness or strength.
    Valid for:
        a load in the neutral axis; wood taken as elastic up to its strength.
    Source:
        derived: strain compatibility.
    """
    whole = transformed(section)
    strains = [ply.wood.get(figure) / stiff for ply, stiff in zip(section.plies, whole.elastic, strict=True)]
    least = min(strains)
    return whole.extension * least, strains.index(least)


def shear_of(section: Laminated) -> tuple[float, int]:
    """Shear force at which the first layer reaches its shearing strength.

        V = least of F_s EI b / ES,  ES the stiffness moment of all outside the place

    Args:
        section: the layers.
    Returns:
        Force [N], and the place of the layer, 0 for the first.
    Raises:
        Missing: a layer of unknown stiffness or shearing strength.
    Source:
        derived: V Q / (I b) of the transformed section.
    """
    whole = transformed(section)
    forces = []
    outside = 0.0  # ES over the width, at the upper face of the layer
    for ply, stiff, low, high in zip(
        section.plies, whole.elastic, whole.edges, whole.edges[1:], strict=False
    ):
        next_outside = outside + stiff * (low * low - high * high) / 2
        # It is greatest at the neutral axis where that runs through the layer, else at one of its faces.
        most = outside + stiff * low * low / 2 if low < 0 < high else max(outside, next_outside)
        forces.append(ply.wood.get("shear") * whole.bending / most)
        outside = next_outside
    least = min(forces)
    return least, forces.index(least)


def torsion_of(section: Laminated) -> float:
    """Stiffness in twist: the solid rectangle with the least G of its layers, a lower bound.

    Args:
        section: the layers.
    Returns:
        G J [N m2].
    Raises:
        Missing: a layer of unknown stiffness.
    Source:
        derived; G = E / 16, wh190 eq. 9-9 text.
    """
    least = min(ply.wood.get("stiffness") for ply in section.plies)
    return least / 16 * torsion_of_rectangle(section.width, section.depth)


def buckling_of(section: Laminated) -> float:
    """Euler load times length squared, about the weaker axis.

    Args:
        section: the layers.
    Returns:
        pi^2 EI [N m2].
    Raises:
        Missing: a layer of unknown stiffness.
    Source:
        wh282 eq. 9-25, p. 9-9, on the transformed section.
    """
    whole = transformed(section)
    return pi * pi * min(whole.bending, whole.bending_weak)
