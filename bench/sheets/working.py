"""The Working view written out: formula, numbers, result, basis and source, line by line."""

from bench.core.working import Number, Step
from bench.units.showing import show


def _number(number: Number, system: str) -> str:
    note = f"  ({number.note})" if number.note else ""
    return f"{number.symbol} = {show(number.quantity, number.value, system)}{note}"


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
