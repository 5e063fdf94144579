"""The Working view written out: formula, numbers, result, basis and source, line by line."""

from bench.core.steps import DOWN, UP, Number, Step
from bench.units.showing import show, show_down, show_up

_WAYS = {"": show, DOWN: show_down, UP: show_up}


def _number(number: Number, system: str) -> str:
    note = f"  ({number.note})" if number.note else ""
    way = _WAYS[number.side] if number.value > 0 else show
    return f"{number.symbol} = {way(number.quantity, number.value, system)}{note}"


def lines(steps: tuple[Step, ...], system: str = "in") -> tuple[str, ...]:
    """Every step as lines of text.

    Args:
        steps: of core.working.
        system: "in" or "mm".
    Returns:
        Lines; an empty one between steps.
    """
    out: list[str] = []
    for count, step in enumerate(steps, 1):
        if out:
            out.append("")
        out.append(f"{count}. {step.title}")
        out.append(f"   {step.formula}")
        out.extend(f"     {_number(number, system)}" for number in step.numbers)
        out.append(f"   -> {_number(step.result, system)}")
        if step.basis:
            out.append(f"   basis: {step.basis}")
        if step.source:
            out.append(f"   source: {step.source}")
    return tuple(out)
