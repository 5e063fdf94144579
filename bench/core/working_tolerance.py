"""The working of a cut that ran off: sizes as cut, and each capacity before and after."""

from bench.core import capacities
from bench.core.capacities import ROWS, Part
from bench.core.laminated import Laminated
from bench.core.steps import Number, Step
from bench.core.strength import Wood
from bench.core.tolerance import as_cut, undersize
from bench.core.working_section import TITLES


def of_slip(
    section: Part, by_width: float, by_depth: float, wood: Wood, length_m: float | None = None
) -> tuple[Step, ...]:
    """What a cut under or over does, step by step.

    Args:
        section: as planned.
        by_width: the width is under by this, over where it is below zero [m].
        by_depth: the same of the depth [m].
        wood: of a section that is not laminated.
        length_m: free length of a column [m], None for the Euler load.
    Returns:
        The sizes as cut, then every known capacity as cut over as planned.
    Raises:
        OutOfRange: as tolerance.undersize.
    Source:
        as capacities.CAPACITIES says of each.
    """
    sections = as_cut(section, by_width, by_depth)
    sizes = tuple(
        Step(
            f"{name} as cut" + (f", off layer {face}" if len(sections) > 1 else ""),
            "as cut = planned - missing",
            (
                Number("planned", section.sizes[name], "length"),
                Number("missing", section.sizes[name] - size, "length"),
            ),
            Number("as cut", size, "length"),
        )
        for face, cut in zip((1, len(section.sizes) - 1), sections, strict=False)
        for name, size in cut.sizes.items()
        if size != section.sizes[name]
    )
    planned = capacities.values(section, wood, length_m)
    layered = isinstance(section, Laminated)
    return (
        *sizes,
        *(
            Step(
                TITLES.get(name, name),
                ROWS[name].laminated if layered else ROWS[name].formula,
                (
                    Number("planned", planned[name], _quantity(name, length_m)),
                    Number("as cut", planned[name] * share, _quantity(name, length_m)),
                ),
                Number(name, share, "fraction", "as cut over as planned"),
                basis="the worse of the two faces" if len(sections) > 1 else "",
                source=ROWS[name].source,
            )
            for name, share in undersize(section, by_width, by_depth, wood, length_m).items()
        ),
    )


def _quantity(name: str, length_m: float | None) -> str:
    # Without a length a column is compared by its Euler load times length squared.
    return "bending_stiffness" if name == "column" and length_m is None else ROWS[name].quantity
