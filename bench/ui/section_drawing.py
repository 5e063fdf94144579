"""What the Section pane shows: size and price first, then ratios, the two sections to one scale, or slips.

Where a page has no room beside the values it stands alone, under one line of the size.
"""

from collections.abc import Mapping

from textual.content import Content

from bench import units
from bench.core import tolerance
from bench.core.capacities import Part
from bench.core.errors import Refusal
from bench.core.records import Species
from bench.core.resizing import AS_DRAWN, CAPACITIES, Resized
from bench.core.sectioning import SectionView
from bench.core.strength import gravity_12
from bench.sheets import estimating, ranking, sections, wording
from bench.ui.drawing import DIM, HEAD, WRONG, fit, line, stack, wrapped
from bench.ui.saw_drawing import big

PAGES = ("ratios", "table", "picture", "slips", "said")
WEAK = "bold $note"
SCALE = "new, to one scale"
SOLID, HOLLOW = "█", " "


def answer(view: SectionView, resized: Resized, width: int, system: str) -> list[Content]:
    """Size and price, before anything else."""
    shop, exact = sections.shop_size(resized, system), sections.exact_size(resized, system)
    if len(shop) + len(exact) + 27 <= width:
        rows = [line(("SECTION  ", HEAD), ("shop size ", DIM), (shop, "bold"), ("  exact ", DIM), exact)]
    else:
        rows = [line(("SECTION", HEAD))]
        rows += _labelled("shop size ", shop, width, "bold")
        rows += _labelled("exact     ", exact, width)
    cost = sections.cost(resized.weight_cost)
    figures = f"{_figures(view, system)}; rounding costs {cost} of weight"
    rows += [line((part, DIM)) for part in wrapped(figures, width)]
    return [*rows, *_price(view, resized, width)]


def _labelled(label: str, text: str, width: int, style: str = "") -> list[Content]:
    """A text under its own beginning, beside what it is."""
    parts = wrapped(text, max(20, width - len(label)))
    labels = (label, *(" " * len(label) for _ in parts[1:]))
    return [line((said, DIM), (part, style)) for said, part in zip(labels, parts, strict=True)]


def _price(view: SectionView, resized: Resized, width: int) -> list[Content]:
    caveat = sections.of_stick(view)
    weak = WEAK if resized.weaker_shop or resized.unknown or caveat else ""
    governs = f"{sections.CAPACITY[resized.governs]} governs; " if resized.match in ("all", "own") else ""
    return [
        line((text, weak)) for text in wrapped(f"{governs}{sections.price(resized, caveat)}", width, "  ")
    ]


def head(view: SectionView, resized: Resized, field: str, width: int, system: str) -> Content:
    """The size in one line, with the value that the arrow keys step."""
    title = ("LAST THAT COULD BE  ", WRONG) if view.refusal is not None else ("SECTION  ", HEAD)
    size = units.sides(*resized.shop, system)
    room = width - len(title[0]) - len(size) - 2
    return line(title, (size, "bold"), (f"  {fit(field, room).rstrip()}" if room >= 14 else "", DIM))


def alone(
    view: SectionView,
    woods: Mapping[str, Species],
    body: list[Content],
    width: int,
    height: int,
    system: str,
) -> list[Content]:
    """A page under its head, and what else is to be said where it has room as a whole."""
    assert view.resized is not None
    under, after = beneath(view, woods, width, system)
    refused = wrapped(str(view.refusal), width) if view.refusal is not None else []
    blocks = (
        [line((text, WRONG)) for text in refused],
        _price(view, view.resized, width),
        [line((part, DIM)) for part in wrapped(_figures(view, system), width)],
        after,
        under,
    )
    rows = list(body)
    for block in blocks:
        if len(rows) + len(block) <= height:
            rows += block
    return rows


def _figures(view: SectionView, system: str) -> str:
    """Which figures both woods are compared by."""
    if view.estimate is not None:
        return f"strengths ESTIMATED from gravity and grain of {view.measured}: Evidence has the band"
    if view.coupons is not None:
        return sections.coupons_in_brief(view.coupons, system)
    if view.measured:
        return f"gravity of {view.measured} as measured, strengths of the handbook's average"
    if view.choice.gravity == "aircraft":
        return "aircraft design values, both woods at 15 % moisture"
    return "handbook gravities and strengths of clear wood"


def beneath(
    view: SectionView, woods: Mapping[str, Species], width: int, system: str
) -> tuple[list[Content], list[Content]]:
    """Warnings to stand under the price, and caution with basis to stand under the values."""
    assert view.resized is not None and view.plan is not None and view.use is not None
    average = gravity_12(woods[view.choice.use])[0]
    said = wording.section_warnings(view.plan, view.use, average)
    said += sections.warnings(view.resized, view.plan, view.use)
    said += sections.of_coupons(view, system)
    basis = sections.basis(view.use)
    if view.estimate is not None:
        said += estimating.doubts(view.use.doubt)
        basis = estimating.basis(view.estimate)
    note = sections.parts_note(view.choice)
    said += (note,) if note else ()
    under = [line((text, WRONG)) for warning in said for text in wrapped(warning, width)]
    after = [line((text, "bold")) for text in wrapped(wording.CAUTION_SHORT, width)]
    if basis == wording.BASIS_OF_STRENGTH:
        basis = wording.BASIS_SHORT  # the rest stands in the working and on the sheet
    return under, after + [line((text, DIM)) for text in wrapped("basis: " + basis, width)]


def ratios(resized: Resized, columns: int, titled: bool = True) -> list[Content]:
    """Every capacity, replacement over drawing, at the exact and at the shop size; unknown ones say so."""
    exact = 10 if columns >= 37 else 9
    rows = [line((f"{'new over drawing':<18}{'exact':>{exact}}{'shop':>9}", DIM))] if titled else []
    for name in ("weight", *CAPACITIES):
        if name not in resized.ratios:
            rows.append(line((f"{sections.CAPACITY[name]:<18}{'NOT KNOWN':>{exact + 9}}", WEAK)))
            continue
        both = (sections.share(name, of[name]) for of in (resized.ratios, resized.shop_ratios))
        text = f"{sections.CAPACITY[name]:<18}{next(both):>{exact}}{next(both):>9}"
        rows.append(line((text, WEAK if name in resized.weaker_shop else "")))
    return rows


def picture(resized: Resized, columns: int, room: int, system: str) -> list[Content]:
    """Both sections to one scale, side by side; a cell is twice as high as it is wide."""
    plan, new = resized.plan, resized.shop_section
    sizes = [
        *wrapped(sections.plan_size(resized, system), columns),
        *wrapped(sections.shop_size(resized, system), columns),
    ]
    widest = plan.width + new.width
    deepest = max(plan.depth, new.depth)
    high = max(2, room - 1 - len(sizes))
    # [m] a column is wide; the title stands over both.
    step = max(widest / max(4, columns - 4), deepest / high, plan.width / max(4, columns - 3 - len(SCALE)))
    left, right = _drawn(plan, step), _drawn(new, step)
    wide = max(len(left[0]), 10)
    rows = [line((f"{'drawing':<{wide + 3}}{SCALE}"[:columns], DIM))]
    for place in range(max(len(left), len(right))):
        one = left[place] if place < len(left) else ""
        other = right[place] if place < len(right) else ""
        rows.append(line(f"{one:<{wide + 3}}{other}"[:columns]))
    return [*rows, *(Content(text) for text in sizes)]


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
    said = "change in % when both sides come out under by"
    rows = [line((said if len(said) <= columns else "% if both sides come out under by", DIM))]
    try:
        table = tolerance.slips(view.resized.shop_section, view.use, length, system)
    except Refusal as refusal:
        return [*rows, *(Content(text) for text in wrapped(str(refusal), columns))]
    return [*rows, *(Content(text) for text in ranking.slip_table(table, system, columns))]


SIDES = ("WIDTH", "DEPTH")


def large_figure(view: SectionView, resized: Resized, width: int, height: int, system: str) -> Content:
    """The sizes to set the saw to, alone, as the saw and the cut list say them."""
    below = [Content(""), *_labelled("shop size ", sections.shop_size(resized, system), width, "bold")]
    below += _price(view, resized, width)
    sizes = resized.shop_sizes
    round_ = "diameter" in sizes
    named = {"DIAMETER": sizes["diameter"]} if round_ else dict(zip(SIDES, resized.shop, strict=True))
    found = [(name, units.shop(size, AS_DRAWN, system)) for name, size in named.items()]
    head = line(("SECTION", HEAD), f"  {sections.in_brief(view)}"[: max(0, width - 7)])
    return stack([head, *big(found, width, height - 2 - len(below)), *below][: max(1, height)])
