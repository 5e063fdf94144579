"""A section decision as a sheet: the choice, its price, the figures, and the working."""

from collections.abc import Mapping

from bench.core import capacities, working, working_coupons
from bench.core.frozen import replace
from bench.core.records import Species
from bench.core.river import River
from bench.core.sectioning import SectionView
from bench.core.steps import Step
from bench.core.strength import gravity_12
from bench.sheets import drawings, estimating, heading, sections, wording
from bench.sheets.paper import MARK, Block, Drawing, Fixed, Section, Sheet, Text, table
from bench.sheets.working import lines as working_lines
from bench.units.showing import show

CAUTION = (
    "AC 43.13-1B keeps to the original species where possible and asks for approval of a substitute. With "
    "the size change fittings, glue areas, edge distances and slots: check each of them."
)


def sheet(
    view: SectionView,
    river: River,
    woods: Mapping[str, Species],
    printed: str = "",
    sources: heading.Sources = heading.NO_SOURCES,
) -> Sheet:
    """The decision, to read and to print.

    Args:
        view: the choice worked out, or why it cannot be.
        river: it stands in.
        woods: the library by species key.
        printed: the day it is printed; empty for none.
        sources: the bibliography; may be empty.
    Returns:
        The sheet.
    """
    begun = heading.begun("section decision", river.job, printed)
    made = replace(begun, sections=decision(view, river, woods), foot=(heading.SIGNATURE,))
    return heading.ended(made, sources, CAUTION)


def decision(view: SectionView, river: River, woods: Mapping[str, Species]) -> tuple[Section, ...]:
    """The choice and its price, what must be said beside it, and the working."""
    if view.resized is None or view.plan is None or view.use is None or view.refusal is not None:
        return (Section("Section", (Text(f"no section: {view.refusal}", MARK),)),)
    system = river.job.settings.units
    return (
        Section(f"Section: {view.plan.name} drawn, {_place(view)} in its place", _choice(view, system)),
        Section("To be known beside it", tuple(map(Text, _said(view, woods, system)))),
        Section("Working", (Fixed(working_lines(_steps(view), system)),)),
    )


def _choice(view: SectionView, system: str) -> tuple[Block, ...]:
    resized, choice = view.resized, view.choice
    assert resized is not None
    plan, shop = sections.plan_size(resized, system), sections.shop_size(resized, system)
    rows = [_row(view, name, system) for name in resized.ratios]
    rows += [(sections.CAPACITY[name], "NOT KNOWN", "", "", "") for name in resized.unknown]
    return (
        Text(f"match: {sections.matched(choice)}; shape {sections.SHAPE[choice.shape]}"),
        table(
            ("", "size"),
            (("drawn", plan), ("exact", sections.exact_size(resized, system)), ("shop size", shop)),
        ),
        Drawing(drawings.sections(resized, f"drawn {plan}", f"new {shop}")),
        Text(sections.price(resized, sections.of_stick(view)), MARK),
        table(("capacity", ">drawing", ">new, shop size", ">exact", ">shop"), tuple(rows)),
    )


def _said(view: SectionView, woods: Mapping[str, Species], system: str) -> tuple[str, ...]:
    """Warnings, doubts and the basis of the figures."""
    assert view.resized is not None and view.plan is not None and view.use is not None
    note = sections.parts_note(view.choice)
    average = gravity_12(woods[view.choice.use])[0]
    return (
        *((note,) if note else ()),
        *wording.section_warnings(view.plan, view.use, average),
        *sections.warnings(view.resized, view.plan, view.use),
        *sections.of_coupons(view, system),
        *(estimating.doubts(view.use.doubt) if view.estimate is not None else ()),
        f"basis: {sections.basis(view.use)}",
        *((estimating.basis(view.estimate),) if view.estimate is not None else ()),
    )


def _place(view: SectionView) -> str:
    """What stands in the drawing's place; of layers every wood, of a stick its own."""
    by = f" by stick {view.measured}" if view.measured else ""
    return f"{'layers of ' if view.layers else ''}{sections.new_wood(view)}{by}"


def _row(view: SectionView, name: str, system: str) -> tuple[str, ...]:
    resized = view.resized
    assert resized is not None
    quantity = capacities.ROWS[name].quantity
    if name == "column" and resized.euler:
        quantity = "bending_stiffness"
    old, new = (show(quantity, values[name], system) for values in (resized.plan_values, resized.shop_values))
    ratios = (sections.share(name, resized.ratios[name]), sections.share(name, resized.shop_ratios[name]))
    return sections.CAPACITY[name], old, new, *ratios


def _steps(view: SectionView) -> tuple[Step, ...]:
    assert view.resized is not None and view.plan is not None and view.use is not None
    broken = working_coupons.of_coupons(view.coupons) if view.coupons is not None else ()
    return (*working.of_section(view.resized, view.plan, view.use), *broken)
