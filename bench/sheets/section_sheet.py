"""A section decision as a page of text: the choice, its price, the figures, and the working."""

from collections.abc import Mapping
from textwrap import wrap

from bench import __version__
from bench.core import capacities, working, working_coupons
from bench.core.records import Species
from bench.core.river import River
from bench.core.sectioning import SectionView
from bench.sheets import estimating, sections, wording
from bench.sheets.working import lines as working_lines
from bench.units.showing import show

WIDTH = 78
CAUTION = (
    "AC 43.13-1B keeps to the original species where possible and asks for approval of a substitute. With "
    "the size change fittings, glue areas, edge distances and slots: check each of them."
)


def sheet(view: SectionView, river: River, woods: Mapping[str, Species]) -> tuple[str, ...]:
    """The decision, to read and to print.

    Args:
        view: the choice worked out, or why it cannot be.
        river: it stands in.
        woods: the library by species key.
    Returns:
        Lines of at most 78 characters.
    """
    job, choice = river.job, view.choice
    system = job.settings.units
    lines = [f"{job.name}{'  (INVENTED: nothing here was measured)' if job.invented else ''}"]
    lines += [f"written by tenthmark {__version__}", ""]
    if view.resized is None or view.plan is None or view.use is None:
        return (*lines, *_wrapped(f"no section: {view.refusal}"))
    resized = view.resized
    lines += _wrapped(f"Section: {view.plan.name} drawn, {_place(view)} in its place", "")
    held = f", {choice.hold} held" if choice.hold else ""
    lines += _wrapped(
        f"matched by {sections.CAPACITY[choice.match]}{held}; shape {sections.SHAPE[choice.shape]}"
    )
    lines += _wrapped(f"drawn      {sections.plan_size(resized, system)}")
    lines += _wrapped(f"exact      {sections.exact_size(resized, system)}")
    lines += _wrapped(f"shop size  {sections.shop_size(resized, system)}")
    lines += _wrapped(sections.price(resized, sections.of_stick(view)))
    lines += ["", f"  {'capacity':<20}{'drawing':>18}{'new, shop size':>18}{'exact':>10}{'shop':>10}"]
    lines += [_row(view, name, system) for name in resized.ratios]
    lines += [f"  {sections.CAPACITY[name]:<20}{'NOT KNOWN':>18}" for name in resized.unknown]
    note = sections.parts_note(choice)
    said = (
        *((note,) if note else ()),
        *wording.section_warnings(resized, view.plan, view.use, _average(woods, choice.use)),
        *sections.warnings(resized, view.plan, view.use),
        *sections.of_coupons(view, system),
        *(estimating.doubts(view.use.doubt) if view.estimate is not None else ()),
    )
    lines += ["", *(part for text in said for part in _wrapped(text))]
    lines += _wrapped(f"basis: {sections.basis(view.use)}")
    if view.estimate is not None:
        lines += _wrapped(estimating.basis(view.estimate))
    lines += ["", "Working", *_steps(view, system)]
    return (*lines, "", *wrap(wording.CAUTION, WIDTH), *wrap(CAUTION, WIDTH))


def _place(view: SectionView) -> str:
    """What stands in the drawing's place; of layers every wood, of a stick its own."""
    by = f" by stick {view.measured}" if view.measured else ""
    return f"{'layers of ' if view.layers else ''}{sections.new_wood(view)}{by}"


def _average(woods: Mapping[str, Species], key: str) -> float:
    from bench.core.strength import gravity_12

    return gravity_12(woods[key])[0]


def _row(view: SectionView, name: str, system: str) -> str:
    resized = view.resized
    assert resized is not None
    quantity = capacities.ROWS[name].quantity
    if name == "column" and resized.euler:
        quantity = "bending_stiffness"
    old, new = (show(quantity, values[name], system) for values in (resized.plan_values, resized.shop_values))
    ratios = (sections.share(name, resized.ratios[name]), sections.share(name, resized.shop_ratios[name]))
    return f"  {sections.CAPACITY[name]:<20}{old:>18}{new:>18}{ratios[0]:>10}{ratios[1]:>10}"


def _steps(view: SectionView, system: str) -> list[str]:
    assert view.resized is not None and view.plan is not None and view.use is not None
    broken = working_coupons.of_coupons(view.coupons) if view.coupons is not None else ()
    steps = (*working.of_section(view.resized, view.plan, view.use), *broken)
    return [part for text in working_lines(steps, system) for part in _kept(text)]


def _kept(text: str) -> list[str]:
    indent = " " * (len(text) - len(text.lstrip()))
    return wrap(text, WIDTH, initial_indent="", subsequent_indent=f"{indent}  ") or [""]


def _wrapped(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ") or [""]
