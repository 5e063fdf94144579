"""What to order, as JSON and as tables."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from bench.core.buying import Gives, Order, Purchase, Scarf
from bench.core.quantities import INCH
from bench.headless.answers import Table
from bench.sheets import buying as sentences


def data(order: Order) -> dict[str, Any]:
    """Keys and values of the order in the JSON object; a cost is null where a price is not known."""
    return {
        "woods": [_wood(bought) for bought in order.purchases],
        "offers": [_offer(row) for row in order.gives],
    }


def _wood(bought: Purchase) -> dict[str, Any]:
    found = bought.rejects
    return {
        "species": bought.species,
        "pieces": bought.pieces,
        "given": bought.given,
        "board_feet": float(bought.board_feet),
        "cost": _money(bought.cost),
        "judged": found.judged,
        "rejected": found.rejected,
        "missing": [{"name": row.name, "quantity": row.quantity} for row in bought.lacking],
        "lines": [
            {
                "offer": line.offer.name,
                "needed": line.needed,
                "ordered": line.ordered,
                "board_feet": float(line.board_feet),
                "cost": _money(line.cost),
            }
            for line in bought.lines
        ],
        "scarfed": [
            {"name": row.lacking.name, "quantity": row.lacking.quantity, **_scarf(row.scarf)}
            for row in bought.joined
        ],
        "not_given": [
            {
                "name": row.lacking.name,
                "quantity": row.lacking.quantity,
                "why": sentences.ungiven(row),
                "short_in": _inches(row.short),
            }
            for row in bought.ungiven
        ],
    }


def _scarf(found: Scarf) -> dict[str, Any]:
    return {"overlap_in": _inches(found.joint), "lengths_in": [_inches(length) for length in found.lengths]}


def _offer(row: Gives) -> dict[str, Any]:
    """What an offer alone would do."""
    line = row.line
    return {
        "offer": row.offer.name,
        "gives": row.pieces,
        "of": row.lacking,
        "strips": row.strips,
        "planks": line.ordered if line is not None else 0,
        "board_feet": float(line.board_feet) if line is not None else 0.0,
        "cost": _money(line.cost) if line is not None else None,
        "said": sentences.alone(row),
    }


def tables(order: Order, names: Mapping[str, str], system: str) -> list[Table]:
    """The order as tables: what to order, what none gives, and each offer by itself.

    Args:
        order: as worked out.
        names: of the woods by species key.
        system: "in" or "mm".
    Returns:
        Tables; one line alone where nothing is missing.
    """
    if not order.purchases:
        return [Table("What to order", ("",), ((sentences.NOTHING,),))]
    rows = [
        (
            sentences.wood(bought.species, names),
            line.offer.name,
            sentences.boards(line),
            sentences.feet(line.board_feet),
            sentences.money(line.cost),
        )
        for bought in order.purchases
        for line in bought.lines
    ]
    heads = ("wood", "offer", "planks + for rejects", "board ft", "cost")
    notes = [(sentences.summary(bought, names),) for bought in order.purchases]
    for bought in order.purchases:
        notes += [(sentences.joined(row, system),) for row in bought.joined]
        notes += [(f"NOT GIVEN: {sentences.ungiven(row, names, system)}",) for row in bought.ungiven]
    notes += [(sentences.CAUTION,), (sentences.AS_CLEAR,)]
    found = [Table("What to order", heads, tuple(rows))] if rows else []
    found.append(Table("Order in words", ("",), tuple(notes)))
    alone = tuple((row.offer.name, sentences.alone(row, system)) for row in order.gives)
    if alone:
        found.append(Table("Each offer by itself", ("offer", "what it gives"), alone))
    return found


def _money(amount: Fraction | None) -> float | None:
    return None if amount is None else float(amount)


def _inches(metres: Fraction) -> float:
    return float(metres / INCH)
