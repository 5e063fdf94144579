"""The report of the coupon tests as text: every test, then what they say together."""

from collections.abc import Mapping, Sequence

from bench.core import break_groups, breaks
from bench.core.break_groups import Group
from bench.core.breaks import Result
from bench.core.errors import Refusal
from bench.core.records import Job
from bench.core.wood import Species
from bench.sheets import breaking, coupon_cells
from bench.sheets.cut_words import clean

LIMITS = (
    "The lower limit and the intervals take the coupons for a random sample of one lot, by a normal law. "
    "They say nothing of the species, nor of a part with knots, joints or another size."
)


def limit_of(group: Group) -> float | None:
    """The lower limit of a group in numbers, or None."""
    return None if isinstance(group.limit, Refusal) else group.limit.value


def together(
    found: Sequence[Result], figure: str, by: str, woods: Mapping[str, Species], system: str
) -> list[str]:
    """What the coupons say of one figure, put together by one thing: groups, comparisons, the book."""
    made = break_groups.groups(found, figure, by, woods)
    rows = [text for group in made for text in breaking.group_lines(group, system)]
    for pair in break_groups.comparisons(made):
        rows += breaking.comparison_lines(pair, system)
    beside = break_groups.beside_book(found, figure, woods)
    if beside:
        rows.append("beside the book, whose coupons are 2 x 2 in on 28 in:")
        rows += [breaking.book_line(one, system, figure) for one in beside]
    if figure == "height":
        rows += breaking.drops_of_book(found, woods, system)
    return rows


def report(job: Job, woods: Mapping[str, Species], by: str = "wood") -> str:
    """Everything about the coupons of a job.

    Args:
        job: the job.
        woods: the library.
        by: what coupons are put together by, one of break_groups.BY.
    Returns:
        Text in lines.
    """
    system = job.settings.units
    invented = " (INVENTED, nothing in it was measured)" if job.invented else ""
    rows = [f"BREAK TESTS  {clean(job.name)}{invented}", "", breaking.CAUTION, ""]
    found = breaks.results(job)
    for one in found:
        coupon = one.coupon
        wood = woods[one.species].name if one.species in woods else one.species or "wood not named"
        sides = f"{coupon.width.text} x {coupon.depth.text}"
        where = f", cut from {coupon.stick}" if coupon.stick else ""
        aside = f"  SET ASIDE: {coupon.aside}" if coupon.aside else ""
        rows.append(clean(f"{coupon.tag}  {coupon.test}, {wood}{where}, {sides}{aside}"))
        rows.append(clean(f"  set up: {coupon_cells.set_up(coupon)}"))
        rows += [f"  {clean(text)}" for text in (*breaking.lines(one, system), *breaking.doubts(one))]
        blows = ", ".join(f"{blow.height.text} {blow.seen}" for blow in coupon.blows)
        rows += [f"  blows: {clean(blows)}"] if blows else []
        points = ", ".join(f"{point.load.text} at {point.deflection.text}" for point in coupon.points)
        rows += [f"  readings: {clean(points)}"] if points else []
    for figure in breaks.GROUPED:
        said = together(found, figure, by, woods, system)
        if any(one.figure(figure) is not None for one in found):
            rows += [
                "",
                f"{breaking.FIGURE[figure]}, {breaking.BY[by]}",
                *(f"  {clean(text)}" for text in said),
            ]
    return "\n".join([*rows, "", LIMITS, ""])
