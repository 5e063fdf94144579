"""What the Section pane shows: size and price first, then ratios, the two sections to one scale, or slips."""

from collections.abc import Mapping

from textual.content import Content

from bench import units
from bench.core import tolerance
from bench.core.capacities import Part
from bench.core.errors import Refusal
from bench.core.records import Species
from bench.core.resizing import Resized
from bench.core.sectioning import SectionView
from bench.core.strength import gravity_12
from bench.sheets import estimating, ranking, sections, wording
from bench.ui.drawing import DIM, HEAD, WRONG, large, line, wrapped

PAGES = ("ratios", "picture", "slips")
WEAK = "bold ansi_yellow"
SOLID, HOLLOW = "█", " "


def answer(view: SectionView, resized: Resized, width: int, system: str) -> list[Content]:
    """Size and price, before anything else."""
    weak = WEAK if resized.weaker_shop else ""
    shop, exact = sections.shop_size(resized, system), sections.exact_size(resized, system)
    if len(shop) + len(exact) + 27 <= width:
        rows = [line(("SECTION  ", HEAD), ("shop size ", DIM), (shop, "bold"), ("  exact ", DIM), exact)]
    else:
        rows = [line(("SECTION", HEAD))]
        rows += [line(("shop size ", DIM), (part, "bold")) for part in wrapped(shop, max(20, width - 10))]
        rows += [line(("exact     ", DIM), part) for part in wrapped(exact, max(20, width - 10))]
    cost = units.signed(resized.weight_cost * 100 - 100, 1)
    figures = f"{_figures(view)}; rounding costs {cost} % of weight"
    rows += [line((part, DIM)) for part in wrapped(figures, width)]
    governs = f"{wording.CAPACITY[resized.governs]} governs; " if resized.match in ("all", "own") else ""
    price = f"{governs}{wording.weaker(resized)}"
    return [*rows, *(line((text, weak)) for text in wrapped(price, width, "  "))]


def _figures(view: SectionView) -> str:
    """Which figures both woods are compared by."""
    if view.estimate is not None:
        return f"strengths ESTIMATED from gravity and grain of {view.measured}: e shows the band"
    if view.measured:
        return f"gravity of {view.measured} as measured, strengths of the handbook's average"
    if view.choice.gravity == "aircraft":
        return "aircraft design values, both woods at 15 % moisture"
    return "handbook gravities and strengths of clear wood"


def beneath(
    view: SectionView, woods: Mapping[str, Species], width: int
) -> tuple[list[Content], list[Content]]:
    """Warnings to stand under the price, and caution with basis to stand under the values."""
    assert view.resized is not None and view.plan is not None and view.use is not None
    average = gravity_12(woods[view.choice.use])[0]
    said = wording.section_warnings(view.resized, view.plan, view.use, average)
    said += sections.warnings(view.resized, view.plan, view.use)
    basis = sections.basis(view.use)
    if view.estimate is not None:
        said += estimating.doubts(view.use.doubt)
        basis = estimating.basis(view.estimate)
    if view.resized.unknown:
        unknown = ", ".join(wording.CAPACITY[name] for name in view.resized.unknown)
        said += (f"not known, so not compared: {unknown}",)
    under = [line((text, WRONG)) for warning in said for text in wrapped(warning, width)]
    after = [line((text, "bold")) for text in wrapped(wording.CAUTION_SHORT, width)]
    if basis == wording.BASIS_OF_STRENGTH:
        basis = wording.BASIS_SHORT  # the rest stands in the working and on the sheet
    return under, after + [line((text, DIM)) for text in wrapped("basis: " + basis, width)]


def ratios(resized: Resized) -> list[Content]:
    """Every capacity, replacement over drawing, at the exact and at the shop size."""
    rows = [line(("new over drawing       exact    shop", DIM))]
    for name, value in resized.ratios.items():
        shop = units.ratio(resized.shop_ratios[name])
        exact = units.ratio(value)
        if name == "weight":
            exact, shop = units.percent(value), units.percent(resized.shop_ratios[name])
        text = f"{wording.CAPACITY[name]:<18}{exact:>10}{shop:>9}"
        rows.append(line((text, WEAK if name in resized.weaker_shop else "")))
    return rows


def picture(resized: Resized, columns: int, room: int, system: str) -> list[Content]:
    """Both sections to one scale, side by side; a cell is twice as high as it is wide."""
    plan, new = resized.plan, resized.shop_section
    widest = plan.width + new.width
    deepest = max(plan.depth, new.depth)
    step = max(widest / max(4, columns - 4), 2 * deepest / max(4, 2 * (room - 3)))  # [m] a column is wide
    left, right = _drawn(plan, step), _drawn(new, step)
    wide = max(len(left[0]), 10)
    rows = [line((f"{'drawing':<{wide + 3}}new, to one scale", DIM))]
    for place in range(max(len(left), len(right))):
        one = left[place] if place < len(left) else ""
        other = right[place] if place < len(right) else ""
        rows.append(line(f"{one:<{wide + 3}}{other}"))
    sizes = (sections.plan_size(resized, system), sections.shop_size(resized, system))
    return [*rows, *(Content(text[:columns]) for text in sizes)]


def _drawn(section: Part, step: float) -> list[str]:
    """A section as rows of characters."""
    columns = max(1, round(section.width / step))
    rows = max(1, round(section.depth / step / 2))
    walls = section.sizes if section.walled else {}
    flange = max(1, round(walls["flange"] / step / 2)) if walls else 0
    web = max(1, round(walls["web"] / step)) if walls else 0
    drawn = []
    for row in range(rows):
        if section.name == "round":
            half = (2 * (row + 0.5) / rows - 1) ** 2
            filled = max(1, round(columns * (1 - half) ** 0.5))
            drawn.append((SOLID * filled).center(columns))
        elif walls and flange <= row < rows - flange:
            middle = SOLID * web
            open_ = columns - 2 * web
            box = middle + HOLLOW * max(0, open_) + middle
            drawn.append(box[:columns] if section.name == "box" else middle.center(columns))
        else:
            drawn.append(SOLID * columns)
    return drawn


def slips(view: SectionView, system: str, columns: int) -> list[Content]:
    """What a cut a little under the shop size does, both sides under by as much."""
    assert view.resized is not None and view.use is not None
    free = view.choice.free_length
    length = None if free is None else free.si
    rows = [line(("cut under by this on both sides", DIM))]
    try:
        table = tolerance.slips(view.resized.shop_section, view.use, length, system)
    except Refusal as refusal:
        return [*rows, *(Content(text) for text in wrapped(str(refusal), columns))]
    for by, changed in table:
        said = ranking.slip(float(by), changed, system, most=2).removeprefix("undersize by ")
        rows += [Content(text) for text in wrapped(said, columns, "  ")]
    return rows


def large_figure(resized: Resized, width: int, height: int, system: str) -> Content:
    """The size to set the saw to, alone: the drawing's depth in the new wood."""
    below = [
        Content(""),
        line((sections.shop_size(resized, system)[:width], "bold"), "  shop size"),
        *(line((text, WEAK)) for text in wrapped(wording.weaker(resized), width)),
    ]
    number = units.length_up(resized.shop[1], system, 3).split()[0]
    return large("SECTION  depth, shop size", number, below, width, height)
