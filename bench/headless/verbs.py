"""Every verb by name. Its module is imported only when it is asked for, so that no verb waits for another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bench.headless.answers import Answer
    from bench.headless.arguments import Given, Option

# verb -> (module, what it does)
VERBS = {
    "float": ("bench.headless.floating", "Specific gravity and verdict from a float reading."),
    "weigh": ("bench.headless.floating", "The same from weight and size."),
    "moisture": ("bench.headless.moisture", "Moisture by drying, in air, or what it does to a size."),
    "grain": ("bench.headless.grain", "Slope of grain on two faces against the limit, and what it leaves."),
    "section": ("bench.headless.section", "The section of another wood that matches the plan's."),
    "woods": ("bench.headless.woods", "Every species in place of the plan's, lightest first."),
    "cuts": ("bench.headless.cuts", "A cut plan for a list in JSON, or a job's cuts, sheets and order."),
    "breaks": ("bench.headless.breaks", "Coupon tests: dropped on, bent, slid out, and groups compared."),
    "sheets": ("bench.headless.sheets", "A job's binder, or one of its sheets, to print or as a table."),
    "record": ("bench.headless.sheets", "A job's whole record as JSON Lines, or a job made of it again."),
    "pack": ("bench.headless.parcel", "A job or a lot of it into one file, a parcel for another job."),
    "bring": ("bench.headless.parcel", "A parcel of another job into a job; what clashes is decided."),
    "species": ("bench.headless.species", "The species, and each figure with its source."),
    "rescue": ("bench.headless.rescue", "A new job of what can be read of a damaged one."),
}


def run(verb: str, words: Sequence[str]) -> int:
    """Answer one verb.

    Each verb's module has `OPTIONS` and `ANSWERS`, both by verb.

    Args:
        verb: a key of VERBS.
        words: what was typed after it.
    Returns:
        The exit status.
    Raises:
        Refusal: what was typed cannot be answered.
        SystemExit: help was asked for.
    """
    from bench.headless.answers import show  # the screen is opened without them
    from bench.headless.arguments import COMMON, parse

    place, summary = VERBS[verb]
    module = import_module(place)
    options: tuple[Option, ...] = (*module.OPTIONS[verb], *COMMON)
    answer: Callable[[Given], Answer] = module.ANSWERS[verb]
    given = parse(verb, summary, options, words)
    system = given.text("--units", "in")
    show(answer(given), given.has("--json"), given.has("--working"), system)
    return 0
