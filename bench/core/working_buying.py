"""How an order came about: how many planks hold the parts, the allowance for rejects, board feet and cost.

Steps as data, as in `working`. Money is of no currency: prices are in the shop's own.
"""

from bench.core.buying import PROMISE, Group, Line, Order, Purchase
from bench.core.buying_allowance import chance
from bench.core.buying_layout import board_feet_of
from bench.core.quantities import INCH
from bench.core.steps import Number, Step

BINOMIAL = "P = sum over i from good to ordered of C(ordered, i) (1 - rate)^i rate^(ordered - i)"


def of_order(order: Order) -> tuple[Step, ...]:
    """Every wood that is ordered, step by step.

    Args:
        order: as worked out.
    Returns:
        Steps in order; none where nothing is ordered.
    Source:
        named in each step.
    """
    return tuple(step for purchase in order.purchases for step in _of_wood(purchase))


def _of_wood(bought: Purchase) -> tuple[Step, ...]:
    if not bought.groups:
        return ()
    wood = bought.species.replace("_", " ")
    steps = [_rejects(bought, wood)]
    for group in bought.groups:
        steps.append(_planks(group, wood))
        if bought.rejects.rate:
            steps.append(_allowance(bought, group))
    return (*steps, *(step for line in bought.lines for step in _of_line(line)))


def _rejects(bought: Purchase, wood: str) -> Step:
    found = bought.rejects
    numbers = [
        Number(what, count, "count", f"lot {lot.name}" if lot.name else "in no lot")
        for lot in found.lots
        for what, count in (("rejected", lot.rejected), ("accepted", lot.accepted))
        if count
    ]
    if found.rate is None:
        result = Number("rate", float("nan"), "share", "no stick was judged: no allowance is made")
    else:
        result = Number("rate", float(found.rate), "share", f"of {found.judged} judged: no more than a guess")
    numbers.append(Number("on hold", found.held, "count", "counted neither way"))
    return Step(f"{wood}: rejects", "rate = rejected / (rejected + accepted)", tuple(numbers), result)


def _planks(group: Group, wood: str) -> Step:
    replaced = group.needed - next((line.needed for line in group.lines if line.offer is group.base), 0)
    numbers = (
        Number(
            "of that size alone", group.alone, "count", "proved fewest" if group.fewest else "fewest found"
        ),
        Number("of them of another offer", replaced, "count", "cheaper, and hold what lies there"),
    )
    result = Number("good", group.needed, "count", "planks that must pass")
    basis = "planks clear from end to end; kerfs, trims, planing and squaring as in the cut list"
    return Step(
        f"{wood}: planks of {group.base.name}",
        "the cut list laid out on equal planks",
        numbers,
        result,
        basis,
    )


def _allowance(bought: Purchase, group: Group) -> Step:
    rate = bought.rejects.rate
    assert rate is not None
    if bought.hopeless:
        result = Number("ordered", group.ordered, "count", "every judged stick was rejected: none is added")
        return Step("allowance for rejects", BINOMIAL, (Number("rate", float(rate), "share"),), result)
    fewer = chance(group.needed, group.ordered - 1, rate)
    numbers = (
        Number("good", group.needed, "count", "planks that must pass"),
        Number("rate", float(rate), "share"),
        Number("P, one fewer ordered", float(fewer), "fraction", f"below {float(PROMISE):g}"),
        Number("P, as ordered", float(group.chance or 0), "fraction", f"{float(PROMISE):g} or more"),
    )
    result = Number("ordered", group.ordered, "count", "the fewest with P at the promise")
    return Step(
        "allowance for rejects",
        BINOMIAL,
        numbers,
        result,
        basis="each plank by itself, at the rate of the rack",
        source="binomial law: derived",
    )


def _of_line(line: Line) -> list[Step]:
    offer = line.offer
    thickness, width = sorted((offer.thickness.si, offer.width.si))
    feet, inch = float(board_feet_of(offer)), float(INCH)
    counted = f"{thickness / inch:g} in" if thickness >= inch else "below 1 in: counted as 1 in"
    steps = [
        Step(
            f"board feet of {offer.name}",
            "board feet = thickness [in] x width [in] x length [ft] / 12",
            (
                Number("thickness", thickness, "length", counted),
                Number("width", width, "length", f"{width / inch:g} in"),
                Number("length", offer.length.si, "length", f"{offer.length.si / (12 * inch):g} ft"),
                Number("of one plank", feet, "board_feet"),
                Number("planks", line.ordered, "count"),
            ),
            Number("board feet", float(line.board_feet), "board_feet"),
            basis="rough sizes",
            source="common practice, no source",
        )
    ]
    if line.cost is not None and offer.price is not None:
        numbers = (
            Number("board feet", float(line.board_feet), "board_feet"),
            Number("price", offer.price.si, "price", "of a board foot"),
        )
        cost = Number("cost", float(line.cost), "price", "rounded up to the hundredth where it is shown")
        steps.append(Step(f"cost of {offer.name}", "cost = board feet x price", numbers, cost))
    return steps
