"""The report of the coupon tests: what they say together, and every test."""

from collections.abc import Mapping, Sequence

from bench.core import break_groups, breaks
from bench.core.break_groups import Group
from bench.core.breaks import Result
from bench.core.errors import Refusal
from bench.core.frozen import replace
from bench.core.records import Job
from bench.core.wood import Species
from bench.sheets import breaking, coupon_cells, drawings, heading
from bench.sheets.paper import MARK, Block, Drawing, Section, Sheet, Table, Text, table

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


def sheet(
    job: Job,
    woods: Mapping[str, Species],
    by: str = "wood",
    printed: str = "",
    sources: heading.Sources = heading.NO_SOURCES,
) -> Sheet:
    """The report of all coupon tests of a job.

    Args:
        job: the job.
        woods: the library.
        by: what coupons are put together by, one of break_groups.BY.
        printed: the day it is printed; empty for none.
        sources: the bibliography; may be empty.
    Returns:
        The sheet.
    """
    begun = heading.begun("break tests", job, printed)
    head = (Text(breaking.CAUTION, MARK),)
    made = replace(begun, head=head, sections=sections(job, woods, by), foot=(heading.SIGNATURE,))
    return heading.ended(made, sources)


def sections(job: Job, woods: Mapping[str, Species], by: str = "wood") -> tuple[Section, ...]:
    """All results in one table, what coupons say together, and each test with its readings."""
    system = job.settings.units
    found = breaks.results(job)
    if not found:
        return (Section("Coupons", (Text("no coupons yet"),)),)
    heads = (":coupon", "test", "wood", ":moisture", "result, as tested")
    rows = tuple(_row(one, woods, system) for one in found)
    grouped = [
        Section(
            f"{breaking.FIGURE[figure]}, {breaking.BY[by]}",
            tuple(map(Text, together(found, figure, by, woods, system))),
        )
        for figure in breaks.GROUPED
        if any(one.figure(figure) is not None for one in found)
    ]
    return (
        Section("Results", (table(heads, rows),)),
        Section("Coupons together", (Text(LIMITS),), tuple(grouped)),
        Section("Each test", sections=tuple(_test(one, woods, system) for one in found)),
    )


def _row(found: Result, woods: Mapping[str, Species], system: str) -> tuple[str, ...]:
    coupon = found.coupon
    moisture = coupon.moisture.text if coupon.moisture is not None else "not measured"
    return (coupon.tag, coupon.test, _wood(found, woods), moisture, breaking.short(found, system))


def _wood(found: Result, woods: Mapping[str, Species]) -> str:
    wood = woods[found.species].name if found.species in woods else found.species or "wood not named"
    return f"{wood}{f', cut from {found.coupon.stick}' if found.coupon.stick else ''}"


def _test(found: Result, woods: Mapping[str, Species], system: str) -> Section:
    """One coupon: its figures, doubts, blows and readings."""
    coupon = found.coupon
    blocks: list[Block] = [Text(f"set up: {coupon_cells.set_up(coupon)}")]
    blocks += map(Text, (*breaking.lines(found, system), *breaking.doubts(found)))
    blows = tuple((str(n), blow.height.text, blow.seen) for n, blow in enumerate(coupon.blows, 1))
    blocks += [_beside(("blow", "from", "seen"), blows)] if blows else []
    drawn = drawings.bending(found)
    blocks += [Drawing(drawn)] if drawn else []
    points = tuple((point.load.text, point.deflection.text) for point in coupon.points)
    blocks += [_beside(("load", "deflection"), points)] if points else []
    title = f"{coupon.tag}: {coupon.test}, {_wood(found, woods)}, {coupon.width.text} x {coupon.depth.text}"
    mark = f"SET ASIDE: {coupon.aside}" if coupon.aside else ""
    return Section(title, tuple(blocks), mark=mark, whole=True)


def _beside(heads: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> Table:
    return replace(table(heads, rows), across=True)
